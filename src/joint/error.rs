//! Why a joint is refused, in words: what is wrong, by how much, and what to do.

use crate::joint::limits::{ANGLE_MIN, BEND_MIN, GAP_MAX, MAINS_MAX, MITRE_MIN, Range, WALL_MIN};
use crate::units::{Angle, Length, Unit, write_angle, write_length};

/// The dimension that a refusal is about, so that the page can put the sentence beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// Outside diameter of the branch.
    Branch,
    /// Wall thickness of the branch.
    Wall,
    /// Outside diameter of the main.
    Main,
    /// Width of a rectangular main.
    Width,
    /// Height of a rectangular main.
    Height,
    /// Corner radius of a rectangular main.
    Corner,
    /// Turn of a rectangular main about its own axis.
    Roll,
    /// Centre-line radius of a bent main.
    BendRadius,
    /// Bend angle of a bent main.
    BendAngle,
    /// Landing along a bent main, from the middle of its bend.
    Station,
    /// Which way a bent main bends.
    Facing,
    /// Turn of a further main about the branch.
    About,
    /// Shift of a further main along the branch.
    Shift,
    /// Included angle between the axes.
    Angle,
    /// Distance between the axes.
    Offset,
    /// Root gap.
    Gap,
}

/// A joint that cannot be cut as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JointError {
    /// A size outside the range taken.
    Size {
        /// Which one.
        of: Dimension,
        /// What was asked for.
        is: Length,
        /// What is taken.
        range: Range,
    },
    /// A corner radius below 0 or too large for the section.
    Corner {
        /// What was asked for.
        is: Length,
        /// Half the shorter side.
        largest: Length,
    },
    /// A bend tighter than the tube that is bent.
    BendTight {
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
    /// An included angle of a mitre outside its range.
    MitreAngle {
        /// What was asked for.
        is: Angle,
    },
    /// A leg of a bent main that runs along the branch, inside it or around it.
    LegAlongBranch {
        /// Angle between the leg and the branch.
        between: Angle,
        /// The nearest bend angle at which it does not, if there is one within reach.
        bend: Option<Angle>,
        /// The nearest landing, from the middle of the bend, likewise.
        station: Option<Length>,
    },
    /// An end on no main, or on more than are taken.
    Mains {
        /// How many.
        count: usize,
    },
    /// A wall that leaves no bore, or next to no metal.
    Wall {
        /// What was asked for.
        is: Length,
        /// Outside diameter of the branch.
        outside: Length,
    },
    /// An included angle outside 5–90°.
    Angle {
        /// What was asked for.
        is: Angle,
    },
    /// A root gap that is negative or too wide.
    Gap {
        /// What was asked for.
        is: Length,
    },
    /// The branch passes beside the main.
    Misses {
        /// What was asked for.
        offset: Length,
        /// Sum of the radii: from here on nothing touches.
        reach: Length,
    },
    /// The outside of the branch touches the main but its bore does not.
    BoreMisses {
        /// What was asked for.
        offset: Length,
        /// Radius of the main and the bore together: from here on the bore passes beside it.
        reach: Length,
    },
}

/// An angle below a limit in words, also where rounding would write it as the limit.
fn below(angle: Angle, limit: Angle) -> String {
    let (angle, limit) = (write_angle(angle), write_angle(limit));
    if angle == limit {
        format!("just under {limit}")
    } else {
        angle
    }
}

/// What a size is called, with its article, at the start of a sentence.
const fn name(of: Dimension) -> &'static str {
    match of {
        Dimension::Main => "A main diameter",
        Dimension::Width => "A width",
        Dimension::Height => "A height",
        Dimension::BendRadius => "A centre-line radius",
        Dimension::Station => "A landing",
        _ => "A branch diameter",
    }
}

impl JointError {
    /// The dimension at fault.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        match self {
            Self::Size { of, .. } => *of,
            Self::Corner { .. } => Dimension::Corner,
            Self::BendTight { .. } => Dimension::BendRadius,
            Self::BendAngle { .. } | Self::LegAlongBranch { .. } => Dimension::BendAngle,
            Self::MitreAngle { .. } => Dimension::Angle,
            Self::Mains { .. } => Dimension::Main,
            Self::Wall { .. } => Dimension::Wall,
            Self::Angle { .. } => Dimension::Angle,
            Self::Gap { .. } => Dimension::Gap,
            Self::Misses { .. } | Self::BoreMisses { .. } => Dimension::Offset,
        }
    }

    /// The refusal as one or two sentences, lengths in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match *self {
            Self::Size { of, is, range } => format!(
                "{} of {} is outside {} to {}. Check the number and its unit.",
                name(of),
                length(is),
                length(range.min),
                length(range.max)
            ),
            Self::Corner { is, largest } if is > largest => format!(
                "A corner radius of {} is more than half the shorter side. It can be {} at most.",
                length(is),
                length(largest)
            ),
            Self::Corner { is, .. } => format!(
                "A corner radius of {} cannot be. Type 0 for a sharp corner.",
                length(is)
            ),
            Self::BendTight { is, least } => format!(
                "A bend with a centre-line radius of {} is tighter than the tube itself. It must \
                 be over {}, the tube’s radius and the root gap.",
                length(is),
                length(least)
            ),
            Self::BendAngle { is } => format!(
                "A bend of {} is outside {} to 180°. For a straight main choose a round tube.",
                write_angle(is),
                write_angle(BEND_MIN)
            ),
            Self::MitreAngle { is } => format!(
                "Two tubes cannot be mitred at {}. Type the angle between them, {} to 180°.",
                write_angle(is),
                write_angle(MITRE_MIN)
            ),
            Self::LegAlongBranch {
                between,
                bend,
                station,
            } => {
                let remedy = match (bend, station) {
                    (Some(bend), Some(station)) => format!(
                        "A bend of {} would clear it, or a landing {} from the middle of the bend.",
                        write_angle(bend),
                        length(station)
                    ),
                    (Some(bend), None) => {
                        format!("A bend of {} would clear it.", write_angle(bend))
                    }
                    (None, Some(station)) => format!(
                        "A landing {} from the middle of the bend would clear it.",
                        length(station)
                    ),
                    (None, None) => String::from("Turn the bend another way."),
                };
                format!(
                    "With this bend a leg of the main runs along the branch, {} apart, and the two \
                     lie in each other, root gap included. {remedy}",
                    write_angle(between)
                )
            }
            Self::Mains { count } => {
                format!("An end cannot sit on {count} mains. Take 1 to {MAINS_MAX}.")
            }
            Self::Wall { is, outside } if is < WALL_MIN => format!(
                "A wall of {} is too thin to be a tube of {}. Type at least {}.",
                length(is),
                length(outside),
                length(WALL_MIN)
            ),
            Self::Wall { is, outside } => format!(
                "A wall of {} leaves no bore in a tube of {}. It must be under {}, half the \
                 diameter.",
                length(is),
                length(outside),
                length(outside / 2.0)
            ),
            Self::Angle { is }
                if is.rad() > Angle::QUARTER.rad() && is.rad() < Angle::HALF.rad() =>
            {
                let other = Angle::HALF - is;
                format!(
                    "The included angle is the smaller one, 90° at most. Instead of {} type {} \
                     and turn the tube so that the heel lies on the other side.",
                    write_angle(is),
                    write_angle(other)
                )
            }
            Self::Angle { is } if is.rad() >= 0.0 && is < ANGLE_MIN => format!(
                "At {} the tubes lie nearly side by side and the cut would be over 23 times as \
                 long as the tube is thick. The smallest angle computed is {}.",
                below(is, ANGLE_MIN),
                write_angle(ANGLE_MIN)
            ),
            Self::Angle { is } => format!(
                "An angle of {} cannot be right. Type the included angle of the two tubes, {} to 90°.",
                write_angle(is),
                write_angle(ANGLE_MIN)
            ),
            Self::Gap { is } if is.mm() < 0.0 => format!(
                "A root gap of {} would push the branch into the main. Type 0 for a tight fit.",
                length(is)
            ),
            Self::Gap { is } => format!(
                "A root gap of {} is wider than any weld bridges. The widest taken is {}.",
                length(is),
                length(GAP_MAX)
            ),
            Self::Misses { offset, reach } => format!(
                "With an offset of {} the branch passes beside the main with {} to spare. Anything \
                 under {} touches.",
                length(offset),
                length(offset.abs() - reach),
                length(reach)
            ),
            Self::BoreMisses { offset, reach } => format!(
                "With an offset of {} the bore edge passes beside the main with {} to spare. Stay \
                 under {}, or choose another way of cutting.",
                length(offset),
                length(offset.abs() - reach),
                length(reach)
            ),
        }
    }
}
