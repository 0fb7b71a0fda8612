//! Why there is no cut list, in words: what is wrong, by how much, and what to do.

use super::cut_list::{BLANK_MIN, PIECES_MAX, STOCK_MAX, STOCK_MIN};
use crate::units::{Length, Unit, write_length};

/// Widest saw cut taken: three times that of an abrasive chop saw (common practice, no source).
pub const KERF_MAX: Length = Length::from_mm(10.0);
/// Longest end trim taken.
pub const TRIM_MAX: Length = Length::from_mm(500.0);

/// A cut list that cannot be made. Blanks and stocks are places in the lists given, counted from 0
/// here; sentences call blanks by name and count stocks from 1.
#[derive(Debug, Clone, PartialEq)]
pub enum CutListError {
    /// A saw cut out of range.
    Kerf {
        /// What was asked for.
        is: Length,
    },
    /// An end trim out of range.
    Trim {
        /// What was asked for.
        is: Length,
    },
    /// A stock length out of range.
    Stock {
        /// Which stock.
        stock: usize,
        /// What was asked for.
        is: Length,
    },
    /// A blank too short to be one, or no number.
    Blank {
        /// Which blank.
        blank: usize,
        /// What it is called.
        name: String,
        /// What was asked for.
        is: Length,
    },
    /// More pieces than are taken.
    Pieces {
        /// How many.
        are: usize,
    },
    /// Pieces, but no bar to cut them from.
    NoStock {
        /// How many pieces.
        pieces: usize,
    },
    /// A blank longer than any bar.
    TooLong {
        /// Which blank.
        blank: usize,
        /// What it is called.
        name: String,
        /// How long it is.
        is: Length,
        /// The longest piece that comes from the longest bar.
        takes: Length,
        /// The end trim, which that bar has lost.
        trim: Length,
    },
    /// Less length in stock than the pieces take, their saw cuts included.
    NotEnough {
        /// How many pieces.
        pieces: usize,
        /// What is missing.
        missing: Length,
    },
    /// Length enough in stock, but not in bars that take all the pieces.
    NoPlace {
        /// How many pieces found no place.
        left: usize,
        /// Of how many.
        pieces: usize,
        /// The longest of those that found none.
        longest: Length,
        /// Whether it is certain that they cannot all be cut.
        certain: bool,
    },
}

impl CutListError {
    /// The refusal as one or two sentences, lengths in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match self {
            Self::Kerf { is } => format!(
                "A saw cut of {} is outside 0 to {}. Measure the slot that the saw leaves.",
                length(*is),
                length(KERF_MAX)
            ),
            Self::Trim { is } => format!(
                "An end trim of {} is outside 0 to {}. Type what is cut off each new bar.",
                length(*is),
                length(TRIM_MAX)
            ),
            Self::Stock { stock, is } => format!(
                "Stock {} of {} is outside {} to {}. Check the number and its unit.",
                stock + 1,
                length(*is),
                length(STOCK_MIN),
                length(STOCK_MAX)
            ),
            Self::Blank { name, is, .. } => format!(
                "{}, of {}, is no length to cut. It must be at least {}.",
                called(name),
                length(*is),
                length(BLANK_MIN)
            ),
            Self::Pieces { are } => format!(
                "{are} pieces are too many for one cut list, which takes {PIECES_MAX}. Leave out \
                 {} of them.",
                are - PIECES_MAX
            ),
            Self::NoStock { pieces } => format!(
                "There is no stock to cut {} from. Type a stock length and how many bars \
                 there are.",
                pieces_in_words(*pieces)
            ),
            Self::TooLong {
                name,
                is,
                takes,
                trim,
                ..
            } => {
                let after = if *trim > Length::ZERO {
                    format!(" after {} of end trim", length(*trim))
                } else {
                    String::new()
                };
                let longer = if *takes > Length::ZERO {
                    format!(
                        "is {} longer than what the longest bar gives, {}{after}",
                        length(*is - *takes),
                        length(*takes)
                    )
                } else {
                    format!("comes from no bar, of which nothing is left{after}")
                };
                format!(
                    "{}, of {}, {longer}. Take stock of at least {}, or make the piece of two.",
                    called(name),
                    length(*is),
                    length(*is + *trim)
                )
            }
            Self::NotEnough { pieces, missing } => format!(
                "The stock there is falls {} short of {} with their saw cuts. Get more bars, or \
                 cut fewer pieces.",
                length(*missing),
                pieces_in_words(*pieces)
            ),
            Self::NoPlace {
                left,
                pieces,
                longest,
                certain,
            } => {
                let how = if *certain {
                    "There is no way to cut"
                } else {
                    "No way was found to cut"
                };
                format!(
                    "{how} {} from the stock there is: {left} of them, the longest {}, \
                     found no place. Get another bar that takes {}.",
                    pieces_in_words(*pieces),
                    length(*longest),
                    if *left == 1 { "it" } else { "them" }
                )
            }
        }
    }
}

/// A piece at the start of a sentence.
fn called(name: &str) -> String {
    if name.trim().is_empty() {
        String::from("A piece without a name")
    } else {
        format!("“{}”", name.trim())
    }
}

fn pieces_in_words(pieces: usize) -> String {
    if pieces == 1 {
        String::from("the piece")
    } else {
        format!("all {pieces} pieces")
    }
}
