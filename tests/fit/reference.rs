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
    #[serde(flatten)]
    told: Told,
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

/// What the modeller says of an end, and how it was cut.
#[derive(Deserialize, Debug)]
pub struct Told {
    method: String,
    slip: Off,
    turns_deg: Vec<f64>,
    advance: f64,
    gaps: Vec<f64>,
}

#[derive(Deserialize, Debug)]
struct Off {
    #[serde(default)]
    main: usize,
    angle: f64,
    offset: f64,
    turn: f64,
    size: f64,
}

impl Told {
    pub fn method(&self) -> CutMethod {
        match self.method.as_str() {
            "Saw" => CutMethod::Saw,
            "Square" => CutMethod::Square,
            "Bore" => CutMethod::Bore,
            other => panic!("no method: {other}"),
        }
    }

    /// Holds the fit of a cope against what is told; the largest difference, and the widest gap.
    pub fn assert_same(&self, cope: &Cope, within: f64, case: &impl std::fmt::Debug) -> (f64, f64) {
        let slip = Slip {
            main: self.slip.main,
            angle: deg(self.slip.angle),
            offset: mm(self.slip.offset),
            turn: deg(self.slip.turn),
            size: mm(self.slip.size),
            ..Slip::NONE
        };
        let fit = Fit::new(cope, &slip, Angle::ZERO).unwrap();
        let mut worst = (fit.advance().mm() - self.advance).abs();
        assert!(worst <= within, "goes in {:?}: {case:?}", fit.advance());
        let mut widest = 0.0_f64;
        for (turn, expected) in self.turns_deg.iter().zip(&self.gaps) {
            let gap = fit.at(deg(*turn)).unwrap().mm();
            let off = (gap - expected).abs();
            assert!(off <= within, "{gap} at {turn}, not {expected}: {case:?}");
            worst = worst.max(off);
            widest = widest.max(gap);
        }
        assert!(fit.widest().gap.mm() >= widest - within);
        (worst, widest)
    }
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
    let joint = Joint::new(tube, main.unwrap()).unwrap();
    Cope::new(&joint, case.told.method(), mm(0.0)).unwrap()
}

#[test]
fn gaps_are_those_of_the_solid_modeller() {
    let text = include_str!("../reference/fit.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert!(reference.cases.len() >= 100);
    let (mut worst, mut widest) = (0.0_f64, 0.0_f64);
    for case in &reference.cases {
        let (off, gap) = case.told.assert_same(&cope(case), WITHIN, &case);
        worst = worst.max(off);
        widest = widest.max(gap);
    }
    println!("largest difference {worst:e} mm of gaps up to {widest} mm");
    assert!(widest > 1.0, "gaps worth the name: {widest}");
}
