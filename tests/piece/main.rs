//! Whole pieces: lengths, bends, marks, what follows when they are stretched, mirrored or made
//! again, and pieces built in space from nothing but what is printed.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod bends;
mod demo;
mod design;
mod fabrication;
mod identities;
mod mass;
mod pair;
mod places;
mod random;
mod refusals;
mod remake;
mod vector;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, Main, RoundTube};
use copewright::piece::{Between, CentreLine, End, Piece, Side, TubeBend, Wrap};
use copewright::units::{Angle, Length};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

pub fn tube(outside: f64, wall: f64) -> RoundTube {
    RoundTube::new(mm(outside), mm(wall)).unwrap()
}

/// The tube of most examples: 42.4 × 2.6 mm.
pub fn usual() -> RoundTube {
    tube(42.4, 2.6)
}

/// An end of the usual tube, coped with a saw to a main, its heel at a turn of the piece.
pub fn coped(side: Side, main: Main, heel: f64) -> End {
    let joint = Joint::new(usual(), main).unwrap();
    let cope = Cope::new(&joint, CutMethod::Saw, mm(0.0)).unwrap();
    End::coped(
        side,
        cope,
        Wrap::computed(mm(42.4), mm(0.1)),
        deg(heel),
        mm(10.0),
    )
}

pub fn round(diameter: f64, angle: f64, offset: f64) -> Main {
    Main::round(mm(diameter), deg(angle), mm(offset)).unwrap()
}

/// A brace between two mains of 48.3 mm, 600 mm between joint centres, end B turned by 90°.
pub fn brace() -> Piece {
    let ends = [
        coped(Side::A, round(48.3, 60.0, 0.0), 0.0),
        coped(Side::B, round(48.3, 45.0, 5.0), 90.0),
    ];
    let line = CentreLine::straight(mm(600.0));
    Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2]).unwrap()
}

/// A handle with two bends in planes at 30°, between joint centres, with 40 mm of grip at end A.
pub fn handle() -> Piece {
    let ends = [
        coped(Side::A, round(48.3, 70.0, -4.0), 25.0),
        coped(Side::B, round(60.3, 50.0, 6.0), 200.0),
    ];
    let bend = |angle, outside| TubeBend::new(mm(125.0), deg(angle), deg(outside)).unwrap();
    let line = CentreLine::straight(mm(250.0))
        .bent(bend(90.0, 0.0), mm(180.0))
        .bent(bend(60.0, 30.0), mm(300.0));
    Piece::new(usual(), ends, line, Between::Centres, [mm(40.0), mm(0.0)]).unwrap()
}

/// Lengths that differ by rounding noise at most.
pub fn same(a: Length, b: Length) -> bool {
    (a - b).abs() < mm(1e-9)
}
