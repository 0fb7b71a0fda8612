//! A straight round tube: outside diameter and wall.

use crate::joint::error::{Dimension, JointError};
use crate::joint::limits::{DIAMETER, WALL_MIN};
use crate::units::Length;

/// A round tube whose wall leaves a bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundTube {
    outside: Length,
    wall: Length,
}

impl RoundTube {
    /// A tube of outside diameter `outside` and wall thickness `wall`.
    ///
    /// # Errors
    /// A diameter out of range, or a wall that leaves no bore.
    pub fn new(outside: Length, wall: Length) -> Result<Self, JointError> {
        if !DIAMETER.holds(outside) {
            return Err(JointError::Size {
                of: Dimension::Branch,
                is: outside,
                range: DIAMETER,
            });
        }
        if !(wall >= WALL_MIN && wall < outside / 2.0) {
            return Err(JointError::Wall { is: wall, outside });
        }
        Ok(Self { outside, wall })
    }

    /// Outside diameter.
    #[must_use]
    pub const fn outside(&self) -> Length {
        self.outside
    }

    /// Wall thickness.
    #[must_use]
    pub const fn wall(&self) -> Length {
        self.wall
    }

    /// Outside radius.
    #[must_use]
    pub fn outside_radius(&self) -> Length {
        self.outside / 2.0
    }

    /// Bore radius.
    #[must_use]
    pub fn bore_radius(&self) -> Length {
        self.outside / 2.0 - self.wall
    }
}
