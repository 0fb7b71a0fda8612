//! Predicted gaps on mitres, bends and two mains at once against an independent solid modeller:
//! `tests/reference/README.md` says how the data was made.

use copewright::cope::Cope;
use copewright::joint::{Bend, Joint, Main, RoundTube};
use serde::Deserialize;

use crate::reference::Told;
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
    #[serde(flatten)]
    told: Told,
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
    Cope::new(&joint, case.told.method(), mm(0.0)).unwrap()
}

#[test]
fn gaps_on_mitres_bends_and_two_mains_are_those_of_the_solid_modeller() {
    let text = include_str!("../reference/fit_mains.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert!(reference.cases.len() >= 100);
    let mut widest = [0.0_f64; 3];
    let mut worst = 0.0_f64;
    for case in &reference.cases {
        let (off, gap) = case.told.assert_same(&cope(case), WITHIN, &case);
        worst = worst.max(off);
        let widest = &mut widest[case.mains[0].family()];
        *widest = widest.max(gap);
    }
    println!("largest difference {worst:e} mm, of gaps up to {widest:?} mm");
    assert!(widest.iter().all(|gap| *gap > 0.5), "{widest:?}");
}
