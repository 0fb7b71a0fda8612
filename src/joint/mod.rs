//! What sits on what: the branch, the main, and where a generator of the branch first meets the main.
//!
//! # Frame of one end
//! Origin at the joint centre. **z** runs along the branch axis from the joint into the tube's
//! body, **x** points to the heel (acute) side, **y** completes a right-handed frame. A round
//! main's axis has the direction (sin θ, 0, cos θ) and passes through (0, e, 0), so a positive
//! offset e puts the main on the +y side. Seen along the branch from its body towards the joint,
//! turns grow counter-clockwise from the heel.

mod error;
mod limits;
mod round;
mod tube;

pub use error::{Dimension, JointError};
pub use limits::{ANGLE_CAUTION, ANGLE_MIN, DIAMETER_MAX, DIAMETER_MIN, GAP_MAX, Range};
pub use round::{RoundMain, check_angle};
pub use tube::RoundTube;

use crate::units::{Angle, Length};

/// A branch on a main, before anything is said about how the end is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    branch: RoundTube,
    main: RoundMain,
}

impl Joint {
    /// A round branch on a round main of outside diameter `main_diameter`.
    ///
    /// `angle` is the included angle of the two axes and `offset` the distance between them along
    /// their common perpendicular, positive when the main lies on the +y side.
    ///
    /// # Errors
    /// Whatever is out of range, and a branch that passes beside the main altogether.
    pub fn round(
        branch: RoundTube,
        main_diameter: Length,
        angle: Angle,
        offset: Length,
    ) -> Result<Self, JointError> {
        let main = RoundMain::new(main_diameter, angle, offset)?;
        let reach = main.radius() + branch.outside_radius();
        if offset.abs() >= reach {
            return Err(JointError::Misses { offset, reach });
        }
        Ok(Self { branch, main })
    }

    /// The tube whose end is cut.
    #[must_use]
    pub const fn branch(&self) -> &RoundTube {
        &self.branch
    }

    /// What the branch sits on.
    #[must_use]
    pub const fn main(&self) -> &RoundMain {
        &self.main
    }

    /// How far the joint is off square: 90° − angle, what a notching machine's scale shows.
    #[must_use]
    pub fn off_square(&self) -> Angle {
        Angle::QUARTER - self.main.angle()
    }
}
