//! Cut lines on mains of every kind: against each other, against their own definition, and over
//! the whole range of what can be typed.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod legs;
mod limits;
mod past_trouble;
mod property;

use std::f64::consts::TAU;

use copewright::cope::{Cope, CutMethod, Meeting};
use copewright::joint::{Joint, Main, RoundTube};
use copewright::units::{Angle, Length};

/// Chord error promised for a printed line, mm.
pub const TOLERANCE: f64 = 0.01;

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// The cope of a 42.4 × 2.6 mm branch on some mains.
pub fn cope(mains: &[Main], method: CutMethod, gap: f64) -> Cope {
    let tube = RoundTube::new(mm(42.4), mm(2.6)).unwrap();
    let mut all = mains.iter().cloned();
    let mut joint = Joint::new(tube, all.next().unwrap()).unwrap();
    for main in all {
        joint = joint.and(main).unwrap();
    }
    Cope::new(&joint, method, mm(gap)).unwrap()
}

pub fn seated(cope: &Cope, phi: f64) -> Option<f64> {
    match cope.at(Angle::from_rad(phi)) {
        Meeting::Seated(height) => Some(height.mm()),
        Meeting::Beside(_) => None,
    }
}

/// Turns all round, none of them a round number.
pub fn turns(count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |step| TAU * (f64::from(step) + 0.317) / f64::from(count))
}

/// Largest difference of two cuts where both sit on something; a panic where only one does.
pub fn apart(a: &Cope, b: &Cope) -> f64 {
    let mut worst = 0.0_f64;
    for phi in turns(1440) {
        match (seated(a, phi), seated(b, phi)) {
            (Some(a), Some(b)) => worst = worst.max((a - b).abs()),
            (None, None) => {}
            (a, b) => panic!("at {phi}: {a:?} against {b:?}"),
        }
    }
    worst
}
