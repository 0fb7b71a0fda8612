//! A piece made longer or shorter in one of its straights, with everything that follows.

use crate::piece::centre_line::NOTHING;
use crate::piece::whole::LEAST_BODY;
use crate::piece::{Between, Piece, PieceError, Side};
use crate::units::Length;

/// A piece before and after, to be shown side by side until it is accepted.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// The straight that changes, counted from 0.
    pub straight: usize,
    /// How much longer it becomes; below 0 shorter.
    pub by: Length,
    /// The piece as it was.
    pub before: Piece,
    /// The piece as it would be.
    pub after: Piece,
}

impl Piece {
    /// The piece with a straight (counted from 0; a straight piece has only that one) longer by an
    /// amount, shorter where it is below 0.
    ///
    /// # Errors
    /// A straight that is not there, more taken than there is to take, and a length out of range.
    pub fn stretched(&self, straight: usize, by: Length) -> Result<Stretch, PieceError> {
        let most = self.room(straight)?;
        if !by.is_finite() {
            return Err(PieceError::Length { is: by });
        }
        if by < Length::ZERO && by < -most - NOTHING {
            return Err(PieceError::Shortened {
                number: self.is_bent().then_some(straight),
                by: -by,
                most,
            });
        }
        let mut line = self.line().clone();
        line.lengthen(straight, by);
        if let Some(is) = line.out_of_range() {
            return Err(PieceError::Length { is });
        }
        let after = self.with(self.ends().clone(), line).checked()?;
        Ok(Stretch {
            straight,
            by,
            before: self.clone(),
            after,
        })
    }

    /// By how much a straight can be shortened: until the cuts of a straight piece all but meet,
    /// until a cut reaches the bend, or until two bends do. Below 0 it is too short as it is.
    ///
    /// # Errors
    /// A straight that is not there.
    pub fn room(&self, straight: usize) -> Result<Length, PieceError> {
        let count = self.line().straight_count();
        if straight >= count {
            return Err(PieceError::NoStraight {
                number: straight,
                count,
            });
        }
        Ok(if !self.is_bent() {
            self.body() - LEAST_BODY
        } else if straight == 0 {
            self.room_at_end(Side::A, 0)
        } else if straight + 1 == count {
            self.room_at_end(Side::B, straight)
        } else {
            self.straights(Between::Centres)[straight]
        })
    }
}
