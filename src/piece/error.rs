//! Why a piece is refused, in words: what is wrong, by how much, and what to do.

use crate::joint::{BEND_MIN, BEND_RADIUS, JointError};
use crate::piece::Side;
use crate::units::{Angle, LENGTH_LIMIT, Length, Unit, write_angle, write_length};

/// A piece that cannot be made as typed. Bends and straights are counted from 0 here and from 1
/// in the sentences.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PieceError {
    /// An end that cannot be cut.
    Joint(JointError),
    /// An end whose cut line is for another tube.
    OtherTube {
        /// Which end.
        side: Side,
        /// Outside diameter of the piece.
        piece: Length,
        /// Outside diameter that the end is cut for.
        end: Length,
    },
    /// A length beyond what is taken, or no number.
    Length {
        /// What was asked for.
        is: Length,
    },
    /// A turn that is no number.
    Turn {
        /// What was asked for.
        is: Angle,
    },
    /// Grip stock of less than nothing, or beyond what is taken.
    Grip {
        /// Which end.
        side: Side,
        /// What was asked for.
        is: Length,
    },
    /// A centre-line radius out of range.
    BendRadius {
        /// What was asked for.
        is: Length,
    },
    /// A bend tighter than the tube.
    BendTight {
        /// Which bend.
        bend: usize,
        /// Centre-line radius asked for.
        is: Length,
        /// It must be more than this.
        least: Length,
    },
    /// A bend angle outside its range.
    BendAngle {
        /// What was asked for.
        is: Angle,
    },
    /// A bend of 180°, whose straights never meet, where a vertex is asked for.
    NoVertex {
        /// Which bend.
        bend: usize,
    },
    /// A leg, measured to vertices, shorter than the tangent lengths of its bends.
    Leg {
        /// Which leg.
        number: usize,
        /// What was asked for.
        is: Length,
        /// What the bends at its ends take.
        least: Length,
    },
    /// A straight that ends before it begins.
    Straight {
        /// Which straight.
        number: usize,
        /// By how much.
        short_by: Length,
    },
    /// A straight piece whose two cuts meet or all but meet.
    Body {
        /// Overall length, long point to long point.
        overall: Length,
        /// By how much it is too short.
        short_by: Length,
    },
    /// A straight that the piece does not have.
    NoStraight {
        /// Which one was asked for.
        number: usize,
        /// How many there are.
        count: usize,
    },
    /// A piece shortened by more than it has.
    Shortened {
        /// The straight that it is taken from, if there is more than one.
        number: Option<usize>,
        /// By how much.
        by: Length,
        /// By how much it can be shortened there.
        most: Length,
    },
    /// Too few check distances to say anything.
    Checks {
        /// How many there are.
        count: usize,
    },
    /// Check distances that no piece can have together.
    Contradiction {
        /// How far mark A to far end, plus mark B to far end, less mark to mark, is from the
        /// overall length.
        by: Length,
    },
}

impl From<JointError> for PieceError {
    fn from(error: JointError) -> Self {
        Self::Joint(error)
    }
}

impl PieceError {
    /// The refusal as one or two sentences, lengths in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match *self {
            Self::Joint(ref error) => error.sentence(unit),
            Self::OtherTube { side, piece, end } if piece == end => format!(
                "{} is cut for a tube of another wall than the piece has. Both ends are of one tube.",
                side.at_start()
            ),
            Self::OtherTube { side, piece, end } => format!(
                "{} is cut for a tube of {}, but the piece is {}. Both ends are of one tube.",
                side.at_start(),
                length(end),
                length(piece)
            ),
            Self::Length { is } => format!(
                "A length of {} is not taken. Check the number and its unit; {} is the most.",
                length(is),
                length(LENGTH_LIMIT)
            ),
            Self::Turn { is } => format!(
                "A turn of {} cannot be right. Type degrees, 0 to 360°.",
                write_angle(is)
            ),
            Self::Grip { side, is } if is < Length::ZERO => format!(
                "Grip stock of {} at {} cannot be. Type 0 for none.",
                length(is),
                side.name()
            ),
            Self::Grip { side, is } => format!(
                "Grip stock of {} at {} is not taken. Check the number and its unit.",
                length(is),
                side.name()
            ),
            Self::BendRadius { is } => format!(
                "A centre-line radius of {} is outside {} to {}. Check the number and its unit.",
                length(is),
                length(BEND_RADIUS.min),
                length(BEND_RADIUS.max)
            ),
            Self::BendTight { bend, is, least } => format!(
                "Bend {} has a centre-line radius of {}, tighter than the tube itself. It must be \
                 over {}, the tube’s radius.",
                bend + 1,
                length(is),
                length(least)
            ),
            Self::BendAngle { is } => format!(
                "A bend of {} is outside {} to 180°. Type by how much the tube is bent, 0 being \
                 straight on.",
                write_angle(is),
                write_angle(BEND_MIN)
            ),
            Self::NoVertex { bend } => format!(
                "Bend {} is a half turn: its straights run side by side and never meet, so nothing \
                 can be measured to where they would. Measure to the tangent points instead.",
                bend + 1
            ),
            Self::Leg { number, is, least } => format!(
                "Leg {} is {}, but its bends take {} of it: {} is missing. Make it longer, or bend \
                 on a smaller radius.",
                number + 1,
                length(is),
                length(least),
                length(least - is)
            ),
            Self::Straight { number, short_by } => format!(
                "Straight {} ends {} before it begins. Make it longer by at least that.",
                number + 1,
                length(short_by)
            ),
            Self::Body { overall, short_by } => format!(
                "With {} overall the cuts of both ends meet and nothing is left between them. The \
                 piece must be longer by {} or more.",
                length(overall),
                length(short_by)
            ),
            Self::NoStraight { number, count } => format!(
                "There is no straight {}: the piece has {count}. Choose one of these.",
                number + 1
            ),
            Self::Shortened { number, by, most } => {
                let place = number.map_or_else(
                    || String::from("The piece"),
                    |number| format!("Straight {}", number + 1),
                );
                if most > Length::ZERO {
                    format!(
                        "{place} cannot be shortened by {}. {} is the most that leaves something \
                         to cut.",
                        length(by),
                        length(most)
                    )
                } else {
                    format!(
                        "{place} cannot be shortened by {}: there is nothing to spare. Lengthen it \
                         by {} to make room.",
                        length(by),
                        length(-most)
                    )
                }
            }
            Self::Checks { count } => format!(
                "{} cannot tell what is wrong. Measure two at least of: overall, mark A to the far \
                 end, mark B to the far end, mark to mark.",
                match count {
                    0 => "No check distance",
                    _ => "One check distance",
                }
            ),
            Self::Contradiction { by } => format!(
                "These distances contradict each other by {}: mark A to far end plus mark B to far \
                 end less mark to mark must be the overall length. Measure all of them again.",
                length(by.abs())
            ),
        }
    }
}
