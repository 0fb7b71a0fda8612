//! The section of a square or rectangular tube, with its corner radius and its roll.

use std::f64::consts::FRAC_PI_2;

use crate::joint::error::{Dimension, JointError};
use crate::joint::limits::{CORNER_WALLS, SIDE};
use crate::units::{Angle, Length};

/// A rounded rectangle, turned about the tube's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RectangularSection {
    width: Length,
    height: Length,
    corner: Length,
    roll: Angle,
}

impl RectangularSection {
    /// A section `width` across and `height` towards the branch while `roll` is 0, with rounded
    /// corners of radius `corner`; `roll` turns it counter-clockwise as seen in the end view.
    ///
    /// # Errors
    /// A side out of range, and a corner radius below 0 or above half the shorter side.
    pub fn new(
        width: Length,
        height: Length,
        corner: Length,
        roll: Angle,
    ) -> Result<Self, JointError> {
        for (of, is) in [(Dimension::Width, width), (Dimension::Height, height)] {
            if !SIDE.holds(is) {
                return Err(JointError::Size {
                    of,
                    is,
                    range: SIDE,
                });
            }
        }
        let largest = width.min(height) / 2.0;
        if !(corner >= Length::ZERO && corner <= largest) {
            return Err(JointError::Corner {
                is: corner,
                largest,
            });
        }
        Ok(Self {
            width,
            height,
            corner,
            roll,
        })
    }

    /// Width, across the main while the roll is 0.
    #[must_use]
    pub const fn width(&self) -> Length {
        self.width
    }

    /// Height, towards the branch while the roll is 0.
    #[must_use]
    pub const fn height(&self) -> Length {
        self.height
    }

    /// Outside corner radius.
    #[must_use]
    pub const fn corner(&self) -> Length {
        self.corner
    }

    /// Turn about the tube's axis; 0 has a flat face towards the branch.
    #[must_use]
    pub const fn roll(&self) -> Angle {
        self.roll
    }

    /// The middle of the face that looks towards the branch most: across and up from the axis. Of
    /// two that look as much, with a corner up, the one on the −side.
    #[must_use]
    pub fn facing_middle(&self) -> (Length, Length) {
        // Quarter turns that bring the roll to within 45° of none; a hair below a half stays.
        let quarters = (self.roll.rad() / FRAC_PI_2 - 0.5 - 1e-12).ceil();
        let apart = if quarters.rem_euclid(2.0) == 0.0 {
            self.height
        } else {
            self.width
        };
        let (sin, cos) = (self.roll.rad() - quarters * FRAC_PI_2).sin_cos();
        (apart * (-sin / 2.0), apart * (cos / 2.0))
    }

    /// The section with its surface moved out by `gap` along its normal.
    #[must_use]
    pub(super) fn grown(self, gap: Length) -> Self {
        Self {
            width: self.width + gap * 2.0,
            height: self.height + gap * 2.0,
            corner: self.corner + gap,
            roll: self.roll,
        }
    }

    /// The section in a mirror that holds the tube's axis and its height.
    #[must_use]
    pub(crate) fn mirrored(self) -> Self {
        Self {
            roll: Angle::ZERO - self.roll,
            ..self
        }
    }
}

/// The outside corner radius usual for a tube of wall `wall`: the nominal one of EN 10219-2
/// (cold-formed sections; 2.0 T up to 6 mm, 2.5 T up to 10 mm, 3.0 T above; from memory). Other
/// standards differ: EN 10210-2 (hot finished) has 1.5 T, ASTM A500 allows up to 3 T.
#[must_use]
pub fn usual_corner(wall: Length) -> Length {
    let times = CORNER_WALLS
        .iter()
        .find(|(up_to, _)| wall <= *up_to)
        .map_or(3.0, |(_, times)| *times);
    wall * times
}
