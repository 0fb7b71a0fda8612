//! Every kind of main as it is drawn: solids in space, and sketches whose boxes stay apart.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod boxes;
mod solids;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, JointError, Main, RectangularSection, RoundTube};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// A main in numbers, sizes in diameters of the branch.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    Round(f64),
    Plate,
    Mitre(f64),
    /// Width, height, corner as a part of half the shorter side, roll in degrees.
    Rectangular(f64, f64, f64, f64),
    /// Diameter, radius of the centre line in radii of the tube, angle, station as a part of half
    /// the arc, facing.
    Bent(f64, f64, f64, f64, f64),
}

/// A main with its included angle (degrees), its offset (part of what reaches it), its turn
/// (degrees) and its shift (diameters of the branch).
#[derive(Debug, Clone, Copy)]
pub struct Place {
    pub kind: Kind,
    pub angle: f64,
    pub offset: f64,
    pub turn: f64,
    pub shift: f64,
}

impl Place {
    pub fn main(&self, branch: f64) -> Result<Main, JointError> {
        let (angle, part) = (deg(self.angle), self.offset);
        let aside = |half: f64| mm(part * (half * branch + branch / 2.0));
        let main = match self.kind {
            Kind::Round(d) => Main::round(mm(d * branch), angle, aside(d / 2.0)),
            Kind::Plate => Main::plate(angle),
            Kind::Mitre(d) => Main::mitre(mm(d * branch), angle * 2.0),
            Kind::Rectangular(w, h, corner, roll) => {
                let corner = corner * w.min(h) / 2.0;
                let size = |part: f64| mm(part * branch);
                let section = RectangularSection::new(size(w), size(h), size(corner), deg(roll))?;
                Main::rectangular(section, angle, aside(w.min(h) / 2.0))
            }
            Kind::Bent(d, radii, bend, station, facing) => {
                let clr = radii * d * branch / 2.0;
                let half = clr * bend.to_radians() / 2.0;
                let bend = Bend::new(mm(clr), deg(bend), mm(station * half), deg(facing))?;
                Main::bent(mm(d * branch), bend, angle, aside(d / 2.0))
            }
        }?;
        Ok(main.turned(deg(self.turn)).shifted(mm(self.shift * branch)))
    }
}

pub fn joint(branch: f64, wall: f64, places: &[Place]) -> Option<Joint> {
    let tube = RoundTube::new(mm(branch), mm(wall * branch)).ok()?;
    let (first, others) = places.split_first()?;
    let first = Place {
        turn: 0.0,
        shift: 0.0,
        ..*first
    };
    let mut joint = Joint::new(tube, first.main(branch).ok()?).ok()?;
    for other in others {
        joint = joint.and(other.main(branch).ok()?).ok()?;
    }
    Some(joint)
}

pub fn cope(branch: f64, wall: f64, places: &[Place], method: CutMethod) -> Option<Cope> {
    Cope::new(&joint(branch, wall, places)?, method, Length::ZERO).ok()
}

fn ratio() -> impl Strategy<Value = f64> {
    prop_oneof![0.3..3.0_f64, Just(1.0), 3.0..30.0_f64]
}

fn kind() -> impl Strategy<Value = Kind> {
    let corner = prop_oneof![Just(0.0), Just(1.0), 0.0..1.0_f64];
    let roll = prop_oneof![Just(0.0), Just(45.0), Just(90.0), -180.0..180.0_f64];
    let facing = prop_oneof![Just(0.0), Just(90.0), Just(180.0), -180.0..180.0_f64];
    let bend = prop_oneof![Just(90.0), Just(180.0), 0.2..180.0_f64];
    let radii = prop_oneof![1.05..12.0_f64, 12.0..1000.0_f64];
    let station = prop_oneof![Just(0.0), -1.0..1.0_f64, -6.0..6.0_f64];
    prop_oneof![
        ratio().prop_map(Kind::Round),
        Just(Kind::Plate),
        ratio().prop_map(Kind::Mitre),
        (ratio(), ratio(), corner, roll)
            .prop_map(|(w, h, corner, roll)| Kind::Rectangular(w, h, corner, roll)),
        (ratio(), radii, bend, station, facing).prop_map(|(d, radii, bend, station, facing)| {
            Kind::Bent(d, radii, bend, station, facing)
        }),
    ]
}

/// A main of any kind and proportion in any place.
pub fn place() -> impl Strategy<Value = Place> {
    let angle = prop_oneof![5.0..90.0_f64, Just(90.0), Just(5.0)];
    let offset = prop_oneof![Just(0.0), -0.95..0.95_f64];
    let turn = prop_oneof![Just(0.0), Just(180.0), 0.0..360.0_f64];
    let shift = prop_oneof![Just(0.0), -2.0..2.0_f64, -30.0..30.0_f64];
    (kind(), angle, offset, turn, shift).prop_map(|(kind, angle, offset, turn, shift)| Place {
        kind,
        angle,
        offset,
        turn,
        shift,
    })
}
