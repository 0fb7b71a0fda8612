//! How a round main is bent, and where on it the branch lands: what is typed, checked.

use crate::joint::error::JointError;
use crate::joint::limits::{BEND_MIN, BEND_RADIUS, STATION_MAX};
use crate::joint::{BentTube, Dimension, Main, Range};
use crate::units::{Angle, Length};

/// How a round tube is bent, and where on it the branch lands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    clr: Length,
    angle: Angle,
    station: Length,
    facing: Angle,
}

impl Bend {
    /// A bend of centre-line radius `clr` by `angle`. The branch lands `station` along the centre
    /// line from the middle of the arc, growing to the heel side. `facing` turns the inside of the
    /// bend about the main: 0 faces the branch, 90° the +side, 180° lies away from the branch.
    ///
    /// # Errors
    /// A radius or a station out of range, an angle outside 0.1–180°.
    pub fn new(
        clr: Length,
        angle: Angle,
        station: Length,
        facing: Angle,
    ) -> Result<Self, JointError> {
        if !BEND_RADIUS.holds(clr) {
            return Err(JointError::Size {
                of: Dimension::BendRadius,
                is: clr,
                range: BEND_RADIUS,
            });
        }
        if !(angle >= BEND_MIN && angle <= Angle::HALF + Angle::from_rad(1e-12)) {
            return Err(JointError::BendAngle { is: angle });
        }
        let range = Range {
            min: -STATION_MAX,
            max: STATION_MAX,
        };
        if !range.holds(station) {
            return Err(JointError::Size {
                of: Dimension::Station,
                is: station,
                range,
            });
        }
        Ok(Self {
            clr,
            angle,
            station,
            facing,
        })
    }

    /// Centre-line radius.
    #[must_use]
    pub const fn clr(&self) -> Length {
        self.clr
    }

    /// By how much the centre line turns.
    #[must_use]
    pub const fn angle(&self) -> Angle {
        self.angle
    }

    /// Where the branch lands, along the centre line from the middle of the arc.
    #[must_use]
    pub const fn station(&self) -> Length {
        self.station
    }

    /// Turn of the inside of the bend about the main, from facing the branch.
    #[must_use]
    pub const fn facing(&self) -> Angle {
        self.facing
    }

    /// The bend in a mirror that holds the branch and the main's axis at the landing.
    #[must_use]
    pub(super) fn mirrored(self) -> Self {
        Self {
            facing: Angle::ZERO - self.facing,
            ..self
        }
    }

    /// The bend as it lies in the frame turned half about the branch: along and across the main
    /// the other way.
    #[must_use]
    pub(crate) fn behind(self) -> Self {
        Self {
            station: Length::ZERO - self.station,
            ..self.mirrored()
        }
    }

    /// Half the length of the arc.
    #[must_use]
    pub fn half_arc(&self) -> Length {
        self.clr * (self.angle.rad() / 2.0)
    }
}

/// Refuses a bent main with a leg that runs up along a branch of radius `radius`, mm, so closely
/// that one lies in the other, with the nearest bend and the nearest landing that would do.
pub(super) fn clear_of_legs(main: &Main, bend: &Bend, radius: f64) -> Result<(), JointError> {
    let met = |bend: &Bend| BentTube::new(main.half_breadth(), bend).along_branch(main, radius);
    let Some(between) = met(bend) else {
        return Ok(());
    };
    let angles = nearest(bend.angle.deg(), (BEND_MIN.deg(), 180.0), |degrees| {
        let angle = Angle::from_deg(degrees);
        met(&Bend { angle, ..*bend }).is_none()
    });
    let most = STATION_MAX.mm();
    let stations = nearest(bend.station.mm(), (-most, most), |mm| {
        // A little either way: a sentence in inches rounds.
        [-0.02, 0.02].iter().all(|more| {
            let station = Length::from_mm(mm + more);
            met(&Bend { station, ..*bend }).is_none()
        })
    });
    Err(JointError::LegAlongBranch {
        between,
        bend: angles.map(Angle::from_deg),
        station: stations.map(Length::from_mm),
    })
}

/// The number nearest to `from`, to a tenth, that will do; `None` within a thousand steps either
/// way.
fn nearest(from: f64, (low, high): (f64, f64), will_do: impl Fn(f64) -> bool) -> Option<f64> {
    const STEPS: u32 = 1000;
    let tenth = (from * 10.0).round();
    (1..=STEPS)
        .flat_map(|step| [tenth + f64::from(step), tenth - f64::from(step)])
        .map(|tenths| tenths / 10.0)
        .find(|number| (low..=high).contains(number) && will_do(*number))
}
