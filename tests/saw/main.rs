//! Setting up the saw for an end: depths and straight cuts against an independent solid modeller,
//! closed forms and properties; what is typed about saws; the plan in words; cuts for the run list.
#![cfg(not(target_arch = "wasm32"))]
#![allow(
    clippy::disallowed_methods,
    reason = "a test may panic on crossed limits"
)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod closed_form;
mod plan;
mod pre_cut;
mod reference;
mod tools;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, Main, RoundTube};
use copewright::units::{Angle, Length};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// A round branch on a round main: outside diameter, wall, the main's diameter.
pub fn round(sizes: [f64; 3], angle: f64, offset: f64, gap: f64) -> Cope {
    let [outside, wall, main] = sizes;
    let tube = RoundTube::new(mm(outside), mm(wall)).unwrap();
    let main = Main::round(mm(main), deg(angle), mm(offset)).unwrap();
    let joint = Joint::new(tube, main).unwrap();
    Cope::new(&joint, CutMethod::Saw, mm(gap)).unwrap()
}
