//! Predicted gaps against an independent solid modeller: `tests/reference/README.md` says how the data was made.

use copewright::cope::fit::{Fit, Slip};
use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, Main, RectangularSection, RoundTube};
use copewright::units::Angle;
use serde::Deserialize;

use crate::{deg, mm};

/// Allowed for a gap and for how far the end goes in, mm: the kernel's hits and distances are good
/// to 1e-9 mm, its search for the first contact stops at 0.618^36 of 5°, and where a wall comes
/// near to grazing (the data keeps clear of it) a turn that is off by that is off by less than this.
const WITHIN: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize, Debug)]
struct Case {
    kind: String,
    outside: f64,
    wall: f64,
    size: Size,
    angle: f64,
    offset: f64,
    method: String,
    slip: Off,
    turns_deg: Vec<f64>,
    advance: f64,
    gaps: Vec<f64>,
}

#[derive(Deserialize, Debug)]
struct Size {
    #[serde(default)]
    diameter: f64,
    #[serde(default)]
    width: f64,
    #[serde(default)]
    height: f64,
    #[serde(default)]
    corner: f64,
}

#[derive(Deserialize, Debug)]
struct Off {
    angle: f64,
    offset: f64,
    turn: f64,
    size: f64,
}

fn cope(case: &Case) -> Cope {
    let tube = RoundTube::new(mm(case.outside), mm(case.wall)).unwrap();
    let (angle, offset, size) = (deg(case.angle), mm(case.offset), &case.size);
    let main = match case.kind.as_str() {
        "round" => Main::round(mm(size.diameter), angle, offset),
        "plate" => Main::plate(angle),
        _ => RectangularSection::new(
            mm(size.width),
            mm(size.height),
            mm(size.corner),
            Angle::ZERO,
        )
        .and_then(|section| Main::rectangular(section, angle, offset)),
    };
    let method = match case.method.as_str() {
        "Saw" => CutMethod::Saw,
        "Square" => CutMethod::Square,
        _ => CutMethod::Bore,
    };
    let joint = Joint::new(tube, main.unwrap()).unwrap();
    Cope::new(&joint, method, mm(0.0)).unwrap()
}

#[test]
fn gaps_are_those_of_the_solid_modeller() {
    let text = include_str!("../reference/fit.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert!(reference.cases.len() >= 100);
    let (mut worst, mut widest) = (0.0_f64, 0.0_f64);
    for case in &reference.cases {
        let slip = Slip {
            angle: deg(case.slip.angle),
            offset: mm(case.slip.offset),
            turn: deg(case.slip.turn),
            size: mm(case.slip.size),
            ..Slip::NONE
        };
        let fit = Fit::new(&cope(case), &slip, Angle::ZERO).unwrap();
        let off = (fit.advance().mm() - case.advance).abs();
        assert!(off <= WITHIN, "goes in {:?}: {case:?}", fit.advance());
        for (turn, expected) in case.turns_deg.iter().zip(&case.gaps) {
            let gap = fit.at(deg(*turn)).unwrap().mm();
            let off = (gap - expected).abs();
            assert!(off <= WITHIN, "{gap} at {turn}, not {expected}: {case:?}");
            worst = worst.max(off);
            widest = widest.max(gap);
        }
        assert!(fit.widest().gap.mm() >= case.gaps.iter().fold(0.0, |a, b| b.max(a)) - WITHIN);
    }
    println!("largest difference {worst:e} mm of gaps up to {widest} mm");
    assert!(widest > 1.0, "gaps worth the name: {widest}");
}
