//! Why there is no run list, in words.

use super::run_list::CUTS_MAX;
use super::setting::Dial;
use crate::piece::Side;

/// A run list that cannot be made.
#[derive(Debug, Clone, PartialEq)]
pub enum RunListError {
    /// A saw or a dial that is no number or out of any reach.
    Dial {
        /// Which cut, by its place in the list given.
        cut: usize,
        /// What the piece is called.
        piece: String,
        /// Which end of it.
        end: Side,
        /// Which dial.
        dial: Dial,
    },
    /// More cuts than are taken.
    Cuts {
        /// How many.
        are: usize,
    },
}

impl RunListError {
    /// The refusal as a sentence or two.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::Dial {
                piece, end, dial, ..
            } => {
                let end = end.name();
                format!(
                    "For {end} of “{}” the {} cannot be set on any machine. Check the numbers \
                     of that end.",
                    piece.trim(),
                    dial.words()
                )
            }
            Self::Cuts { are } => format!(
                "{are} cuts are too many for one run list, which takes {CUTS_MAX}. Leave out {} \
                 of them.",
                are - CUTS_MAX
            ),
        }
    }
}
