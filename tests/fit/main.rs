//! How an end will fit: closed forms, the whole range of inputs, an independent solid modeller, and what is said.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod access;
mod closed_form;
mod drawn;
mod found;
mod grid;
mod limits;
mod mains_reference;
mod property;
mod reference;
mod said;
mod seen;
mod touching;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, RoundTube};
use copewright::units::{Angle, Length};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// A round branch of outside diameter and wall on a round main.
pub fn round(
    (branch, wall): (f64, f64),
    main: f64,
    angle: f64,
    offset: f64,
    method: CutMethod,
) -> Cope {
    let tube = RoundTube::new(mm(branch), mm(wall)).unwrap();
    let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).unwrap();
    Cope::new(&joint, method, Length::ZERO).unwrap()
}
