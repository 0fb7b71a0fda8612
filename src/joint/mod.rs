//! What sits on what: the branch, its mains, and where a generator of the branch first meets one.
//!
//! # Frame of one end
//! Origin at the joint centre. **z** runs along the branch axis from the joint into the tube's
//! body, **x** points to the heel (acute) side, **y** completes a right-handed frame. The first
//! main's axis has the direction (sin θ, 0, cos θ) and passes through (0, e, 0), so a positive
//! offset e puts the main on the +y side. Seen along the branch from its body towards the joint,
//! turns grow counter-clockwise from the heel.

mod bend;
mod bent_tube;
mod develop;
mod error;
mod limits;
mod main;
mod nearest;
mod outline;
mod quartic;
mod section;
mod tube;

pub use bend::Bend;
pub use bent_tube::{BendSurface, BentTube, Leg};
pub use develop::{Developed, MainZero};
pub use error::{Dimension, JointError};
pub use limits::{
    ANGLE_CAUTION, ANGLE_MIN, BEND_MIN, BEND_RADIUS, DIAMETER_MAX, DIAMETER_MIN, GAP_MAX,
    MAINS_MAX, Range,
};
pub use main::{Main, Shape, Surface, check_angle, check_mitre_angle};
pub use nearest::Nearest;
pub use outline::{Outline, Part, Stretch};
pub use section::{RectangularSection, usual_corner};
pub use tube::RoundTube;

use crate::units::{Angle, Length};

/// A branch on its mains, before anything is said about how the end is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    branch: RoundTube,
    first: Main,
    others: Vec<Main>,
}

impl Joint {
    /// A branch on a main; more can be [added](Self::and).
    ///
    /// # Errors
    /// A branch that passes beside the main altogether, or that lies along a leg of it.
    pub fn new(branch: RoundTube, main: Main) -> Result<Self, JointError> {
        let main = reached(&branch, main)?;
        Ok(Self {
            branch,
            first: main,
            others: Vec::new(),
        })
    }

    /// The same joint with one more main.
    ///
    /// # Errors
    /// As in [`Self::new`], and more than [`MAINS_MAX`] mains.
    pub fn and(mut self, main: Main) -> Result<Self, JointError> {
        let count = self.others.len() + 2;
        if count > MAINS_MAX {
            return Err(JointError::Mains { count });
        }
        self.others.push(reached(&self.branch, main)?);
        Ok(self)
    }

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
        Self::new(branch, Main::round(main_diameter, angle, offset)?)
    }

    /// The same joint seen in a mirror that holds the branch's axis and the heel: the left one of
    /// a pair for a right one. The cut has at every turn the height this one has at minus it.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            branch: self.branch,
            first: self.first.mirrored(),
            others: self.others.iter().map(Main::mirrored).collect(),
        }
    }

    /// The tube whose end is cut.
    #[must_use]
    pub const fn branch(&self) -> &RoundTube {
        &self.branch
    }

    /// What the branch sits on; of several mains the first, which makes the frame.
    #[must_use]
    pub const fn main(&self) -> &Main {
        &self.first
    }

    /// All mains, the first one first.
    pub fn mains(&self) -> impl Iterator<Item = &Main> + Clone {
        std::iter::once(&self.first).chain(&self.others)
    }

    /// All mains with their surfaces moved out by a root gap, the first one first.
    ///
    /// # Errors
    /// A bend that the gap would close, or a leg that the gap would lay along the branch.
    pub fn grown(&self, gap: Length) -> Result<Vec<Main>, JointError> {
        self.mains()
            .map(|main| reached(&self.branch, main.grown(gap)?))
            .collect()
    }

    /// How far the joint is off square: 90° − angle, what a notching machine's scale shows.
    #[must_use]
    pub fn off_square(&self) -> Angle {
        Angle::QUARTER - self.first.angle()
    }
}

/// A main that the branch can reach and does not lie along.
fn reached(branch: &RoundTube, main: Main) -> Result<Main, JointError> {
    let radius = branch.outside_radius();
    if let Surface::Straight(_) = main.surface() {
        let reach = main.half_breadth() + radius;
        let offset = main.offset();
        if offset.abs() >= reach {
            return Err(JointError::Misses { offset, reach });
        }
    }
    if let Shape::Bent { bend, .. } = main.shape() {
        bend::clear_of_legs(&main, bend, radius.mm())?;
    }
    Ok(main)
}
