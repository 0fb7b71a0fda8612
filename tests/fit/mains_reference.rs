//! Predicted gaps on mitres, bends and two mains at once against an independent solid modeller:
//! `tests/reference/README.md` says how the data was made.

use copewright::cope::fit::{Fit, Slip};
use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RoundTube};
use copewright::units::Angle;
use serde::Deserialize;

use crate::{deg, mm};

/// Allowed for a gap and for how far the end goes in, mm: what is recorded is rounded to 1e-10 mm,
/// and both sides look for the place of first contact until the height changes no more.
const WITHIN: f64 = 1e-8;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize, Debug)]
struct Case {
    outside: f64,
    wall: f64,
    mains: Vec<Of>,
    method: String,
    slip: Off,
    turns_deg: Vec<f64>,
    advance: f64,
    gaps: Vec<f64>,
}

#[derive(Deserialize, Debug)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum Of {
    Mitre {
        diameter: f64,
        included: f64,
        about: f64,
    },
    Plate {
        angle: f64,
        about: f64,
    },
    Round {
        diameter: f64,
        angle: f64,
        offset: f64,
        about: f64,
    },
    Bent {
        diameter: f64,
        angle: f64,
        offset: f64,
        about: f64,
        bend: f64,
        clr: f64,
        station: f64,
        facing: f64,
    },
}

#[derive(Deserialize, Debug)]
struct Off {
    main: usize,
    angle: f64,
    offset: f64,
    turn: f64,
    size: f64,
}

impl Of {
    fn main(&self) -> Main {
        let (main, about) = match *self {
            Self::Mitre {
                diameter,
                included,
                about,
            } => (Main::mitre(mm(diameter), deg(included)), about),
            Self::Plate { angle, about } => (Main::plate(deg(angle)), about),
            Self::Round {
                diameter,
                angle,
                offset,
                about,
            } => (Main::round(mm(diameter), deg(angle), mm(offset)), about),
            Self::Bent {
                diameter,
                angle,
                offset,
                about,
                bend,
                clr,
                station,
                facing,
            } => {
                let bend = Bend::new(mm(clr), deg(bend), mm(station), deg(facing)).unwrap();
                (
                    Main::bent(mm(diameter), bend, deg(angle), mm(offset)),
                    about,
                )
            }
        };
        main.unwrap().turned(deg(about))
    }

    const fn family(&self) -> usize {
        match self {
            Self::Mitre { .. } => 0,
            Self::Bent { .. } => 1,
            Self::Round { .. } | Self::Plate { .. } => 2,
        }
    }
}

fn cope(case: &Case) -> Cope {
    let tube = RoundTube::new(mm(case.outside), mm(case.wall)).unwrap();
    let mut joint = Joint::new(tube, case.mains[0].main()).unwrap();
    for of in &case.mains[1..] {
        joint = joint.and(of.main()).unwrap();
    }
    let method = match case.method.as_str() {
        "Saw" => CutMethod::Saw,
        "Square" => CutMethod::Square,
        "Bore" => CutMethod::Bore,
        other => panic!("{other}"),
    };
    Cope::new(&joint, method, mm(0.0)).unwrap()
}

#[test]
fn gaps_on_mitres_bends_and_two_mains_are_those_of_the_solid_modeller() {
    let text = include_str!("../reference/fit_mains.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert!(reference.cases.len() >= 100);
    let mut widest = [0.0_f64; 3];
    let (mut off_advance, mut off_gap) = (0.0_f64, 0.0_f64);
    for case in &reference.cases {
        let slip = Slip {
            main: case.slip.main,
            angle: deg(case.slip.angle),
            offset: mm(case.slip.offset),
            turn: deg(case.slip.turn),
            size: mm(case.slip.size),
            ..Slip::NONE
        };
        let fit = Fit::new(&cope(case), &slip, Angle::ZERO).unwrap();
        let off = (fit.advance().mm() - case.advance).abs();
        assert!(off <= WITHIN, "goes in {:?}: {case:?}", fit.advance());
        off_advance = off_advance.max(off);
        for (turn, expected) in case.turns_deg.iter().zip(&case.gaps) {
            let gap = fit.at(deg(*turn)).unwrap().mm();
            let off = (gap - expected).abs();
            assert!(off <= WITHIN, "{gap} at {turn}, not {expected}: {case:?}");
            off_gap = off_gap.max(off);
            let widest = &mut widest[case.mains[0].family()];
            *widest = widest.max(gap);
        }
        assert!(fit.widest().gap.mm() >= case.gaps.iter().fold(0.0, |a, b| b.max(a)) - WITHIN);
    }
    println!("advance {off_advance:e}, gap {off_gap:e} mm off, of gaps up to {widest:?} mm");
    assert!(widest.iter().all(|gap| *gap > 0.5), "{widest:?}");
}
