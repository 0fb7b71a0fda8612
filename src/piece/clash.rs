//! What reaches a bend that must not: a cut, a template's mark line, a machine's clamp.
//!
//! A cut line is computed, and a template wrapped, for a straight tube.

use crate::piece::centre_line::NOTHING;
use crate::piece::{Between, Piece, Side};
use crate::units::{Length, Unit, write_length};

/// What the machines need to hold on to; 0 for a machine that is not used.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Clamps {
    /// Straight tube that the clamp for coping holds, next behind the short point.
    pub coping: Length,
    /// Straight tube that the bender's clamp holds, next before the start of each bend counted
    /// from end A. Grip stock at end A counts.
    pub bending: Length,
}

/// Something that reaches a bend, or too far. Bends are counted from 0 here and from 1 in words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clash {
    /// The short point of a cut lies beyond the beginning of the bend.
    Cut {
        /// Which end.
        side: Side,
        /// Which bend.
        bend: usize,
        /// How much straight is missing.
        missing: Length,
    },
    /// The mark line of a template lies beyond the beginning of the bend.
    Mark {
        /// Which end.
        side: Side,
        /// Which bend.
        bend: usize,
        /// How much straight is missing.
        missing: Length,
    },
    /// The clamp for coping would hold on the bend.
    Coping {
        /// Which end.
        side: Side,
        /// Which bend.
        bend: usize,
        /// How much straight is missing.
        missing: Length,
    },
    /// The bender's clamp has too little straight before a bend.
    Bending {
        /// Which bend.
        bend: usize,
        /// How much straight is missing.
        missing: Length,
    },
    /// On a straight piece the mark lines have passed each other: the templates overlap.
    Marks {
        /// By how much.
        by: Length,
    },
}

impl Piece {
    /// Everything that reaches where it must not, ends first.
    #[must_use]
    pub fn clashes(&self, clamps: &Clamps) -> Vec<Clash> {
        let mut found = Vec::new();
        if !self.is_bent() {
            let [a, b] = self.ends();
            let by = a.long_to_mark() + b.long_to_mark() - self.lengths().overall;
            if by > NOTHING {
                found.push(Clash::Marks { by });
            }
            return found;
        }
        let bends = self.line().straight_count() - 1;
        for (side, number, bend) in [(Side::A, 0, 0), (Side::B, bends, bends - 1)] {
            found.extend(self.clash_at(side, number, bend, clamps.coping));
        }
        let before_bends = self.straights(Between::LongPoints).into_iter().take(bends);
        for (bend, straight) in before_bends.enumerate() {
            let grip = if bend == 0 {
                self.grip(Side::A)
            } else {
                Length::ZERO
            };
            let missing = clamps.bending - grip - straight;
            if missing > NOTHING {
                found.push(Clash::Bending { bend, missing });
            }
        }
        found
    }

    /// What reaches the bend nearest to a coped end: the worst, since it contains the others.
    fn clash_at(
        &self,
        side: Side,
        number: usize,
        bend: usize,
        clamp: Length,
    ) -> impl Iterator<Item = Clash> + use<> {
        let end = self.end(side);
        let room = self.room_at_end(side, number);
        let coped = end.template().is_some();
        let to_mark = self.line().straight_at(number) - end.centre_to_long() - end.long_to_mark();
        let on_tube = if !coped {
            None
        } else if room < -NOTHING {
            let missing = -room;
            Some(Clash::Cut {
                side,
                bend,
                missing,
            })
        } else {
            let missing = -to_mark;
            (missing > NOTHING).then_some(Clash::Mark {
                side,
                bend,
                missing,
            })
        };
        let missing = clamp - room;
        let held = (coped && clamp > Length::ZERO && missing > NOTHING).then_some(Clash::Coping {
            side,
            bend,
            missing,
        });
        on_tube.into_iter().chain(held)
    }
}

impl Clash {
    /// The clash in words, with its number in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match *self {
            Self::Cut {
                side,
                bend,
                missing,
            } => format!(
                "The cut of {} reaches {} into bend {}, where its line is not that of a straight \
                 tube. Lengthen the straight there by {} or more.",
                side.name(),
                length(missing),
                bend + 1,
                length(missing)
            ),
            Self::Mark {
                side,
                bend,
                missing,
            } => format!(
                "The mark line of {} lies {} beyond the beginning of bend {}. Mark, wrap and draw \
                 the cut before bending, or lengthen the straight there by that much.",
                side.name(),
                length(missing),
                bend + 1
            ),
            Self::Coping {
                side,
                bend,
                missing,
            } => format!(
                "The clamp for coping {} would hold on bend {}: {} of straight is missing. Cope \
                 before bending, or lengthen the straight there by that much.",
                side.name(),
                bend + 1,
                length(missing)
            ),
            Self::Bending { bend: 0, missing } => format!(
                "The bender has {} too little straight to hold before bend 1. Leave that much more \
                 grip stock at end A and cut it off afterwards.",
                length(missing)
            ),
            Self::Bending { bend, missing } => format!(
                "The bender has {} too little straight to hold between bend {bend} and bend {}. \
                 Lengthen that straight by as much, or bend on a smaller radius.",
                length(missing),
                bend + 1
            ),
            Self::Marks { by } => format!(
                "The piece is so short that the templates of its ends overlap: their mark lines \
                 have passed each other by {}. Wrap and draw one end after the other.",
                length(by)
            ),
        }
    }
}
