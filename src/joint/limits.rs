//! What sizes and angles are taken, one row a quantity: checks and messages read them here.

use crate::units::{Angle, Length};

/// A closed range of lengths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Smallest length taken.
    pub min: Length,
    /// Largest length taken.
    pub max: Length,
}

impl Range {
    /// Whether a length lies inside; never true for a NaN.
    #[must_use]
    pub fn holds(&self, length: Length) -> bool {
        length >= self.min && length <= self.max
    }
}

/// Smallest tube taken: below it paper no longer wraps.
pub const DIAMETER_MIN: Length = Length::from_mm(3.0);
/// Largest tube taken: a template of over six metres round.
pub const DIAMETER_MAX: Length = Length::from_mm(2000.0);
/// Diameters of branch and main.
pub const DIAMETER: Range = Range {
    min: DIAMETER_MIN,
    max: DIAMETER_MAX,
};
/// Sides of rectangular mains.
pub const SIDE: Range = DIAMETER;
/// Centre-line radii of bends.
pub const BEND_RADIUS: Range = Range {
    min: Length::from_mm(1.5),
    max: Length::from_mm(1e6),
};
/// How far from the middle of a bend a branch may land, along the centre line.
pub const STATION_MAX: Length = Length::from_mm(1e5);
/// Smallest bend; less is a straight tube.
pub const BEND_MIN: Angle = Angle::from_deg(0.1);
/// Usual outside corner radius of a rectangular tube, in walls, for walls up to a thickness.
pub(super) const CORNER_WALLS: [(Length, f64); 2] =
    [(Length::from_mm(6.0), 2.0), (Length::from_mm(10.0), 2.5)];
/// Smallest included angle of a mitre: each end is then cut at [`ANGLE_MIN`].
pub const MITRE_MIN: Angle = Angle::from_deg(10.0);
/// Most mains of one end.
pub const MAINS_MAX: usize = 6;
/// Thinnest wall taken.
pub const WALL_MIN: Length = Length::from_mm(0.05);
/// Widest root gap taken.
pub const GAP_MAX: Length = Length::from_mm(20.0);
/// Smallest included angle computed; below it the cut is longer than 23 branch radii.
pub const ANGLE_MIN: Angle = Angle::from_deg(5.0);
/// Included angles below this are outside ordinary practice (AWS D1.1, tubular joints).
pub const ANGLE_CAUTION: Angle = Angle::from_deg(30.0);
/// How far an angle may overshoot its range through rounding of the typed degrees.
pub(super) const ANGLE_SLACK: Angle = Angle::from_rad(1e-12);
