//! A straight round main as a solid that a generator of the branch can hit.

use crate::joint::error::{Dimension, JointError};
use crate::joint::limits::{ANGLE_MIN, ANGLE_SLACK, DIAMETER};
use crate::units::{Angle, Length};

/// Below this the cosine of the included angle is rounding noise of exactly 90°.
const SQUARE_COSINE: f64 = 1e-12;

/// A round main of given radius, angle and offset, in the frame of [`crate::joint`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundMain {
    radius: Length,
    angle: Angle,
    offset: Length,
}

/// Checks an included angle by itself.
///
/// # Errors
/// An angle outside 5–90°.
pub fn check_angle(angle: Angle) -> Result<(), JointError> {
    let range = (ANGLE_MIN - ANGLE_SLACK)..=(Angle::QUARTER + ANGLE_SLACK);
    if range.contains(&angle) {
        Ok(())
    } else {
        Err(JointError::Angle { is: angle })
    }
}

impl RoundMain {
    /// A main of outside diameter `diameter`.
    ///
    /// # Errors
    /// A diameter out of range, an angle outside 5–90°.
    pub fn new(diameter: Length, angle: Angle, offset: Length) -> Result<Self, JointError> {
        if !DIAMETER.holds(diameter) {
            return Err(JointError::Diameter {
                of: Dimension::Main,
                is: diameter,
            });
        }
        check_angle(angle)?;
        Ok(Self {
            radius: diameter / 2.0,
            angle,
            offset,
        })
    }

    /// The same main with its surface moved out by `gap` along its normal: a uniform root gap.
    #[must_use]
    pub fn grown(&self, gap: Length) -> Self {
        Self {
            radius: self.radius + gap,
            ..*self
        }
    }

    /// Outside radius.
    #[must_use]
    pub const fn radius(&self) -> Length {
        self.radius
    }

    /// Included angle between branch and main axes.
    #[must_use]
    pub const fn angle(&self) -> Angle {
        self.angle
    }

    /// Distance between the axes, positive when the main lies on the +y side.
    #[must_use]
    pub const fn offset(&self) -> Length {
        self.offset
    }

    /// Sine and cosine of the included angle; the cosine of a right angle is exactly 0.
    #[must_use]
    pub fn sin_cos(&self) -> (f64, f64) {
        let (sin, cos) = self.angle.rad().sin_cos();
        if cos.abs() < SQUARE_COSINE {
            (1.0, 0.0)
        } else {
            (sin, cos)
        }
    }

    /// Where the generator through (`x`, `y`), coming down the branch, first meets the main.
    ///
    /// A point (x, y, z) is at the distance √((x cos θ − z sin θ)² + (y − e)²) from the main's
    /// axis. Setting it to the radius gives z = (x cos θ ± √(R² − (y − e)²)) / sin θ; coming from
    /// large z, the first hit has the plus sign. `None` where the generator passes beside.
    #[must_use]
    pub fn first_hit(&self, x: Length, y: Length) -> Option<Length> {
        let (sin, cos) = self.sin_cos();
        let aside = (y - self.offset).mm();
        let depth_squared = self.radius.mm().powi(2) - aside * aside;
        (depth_squared >= 0.0).then(|| Length::from_mm((x.mm() * cos + depth_squared.sqrt()) / sin))
    }
}
