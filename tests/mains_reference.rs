//! The cut line on every kind of main against an independent solid modeller: first hits and tops of the wall
//! computed by the Open CASCADE kernel. `tests/reference/README.md` says how the data was made.
#![cfg(not(target_arch = "wasm32"))]
#![allow(
    clippy::disallowed_methods,
    reason = "a test may panic on crossed limits"
)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::f64::consts::PI;

use copewright::cope::{Cope, CutMethod, Meeting};
use copewright::joint::{
    Bend, BendSurface, BentTube, Joint, JointError, Leg, Main, RectangularSection, RoundTube,
};
use copewright::units::{Angle, Length};
use serde::Deserialize;

/// Allowed for one hit, mm: the data is rounded to 12 digits and its kernel methods agree to 2e-9 mm.
const HIT: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    joints: Vec<Case>,
    #[serde(default)]
    torus_rays: Vec<TorusRay>,
}

/// A line and a whole torus in the main's frame, with every parameter at which they meet.
#[derive(Deserialize)]
struct TorusRay {
    radius: f64,
    clr: f64,
    facing_rad: f64,
    origin: [f64; 3],
    direction: [f64; 3],
    roots: Vec<f64>,
}

#[derive(Deserialize)]
struct Case {
    family: String,
    outside: f64,
    between: f64,
    bore: f64,
    gap: f64,
    mains: Vec<Seat>,
    turns_deg: Vec<f64>,
    hits: Hits,
    #[serde(default)]
    square: Option<Vec<Option<f64>>>,
}

#[derive(Deserialize)]
struct Hits {
    outside: Vec<Option<f64>>,
    between: Vec<Option<f64>>,
    bore: Vec<Option<f64>>,
}

#[derive(Deserialize, Debug, Clone)]
struct Seat {
    #[serde(flatten)]
    shape: Shape,
    angle_rad: f64,
    offset: f64,
    #[serde(default)]
    about_deg: f64,
    #[serde(default)]
    shift: f64,
}

#[derive(Deserialize, Debug, Clone)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum Shape {
    Round {
        radius: f64,
    },
    Plate {},
    Mitre {
        radius: f64,
        included_rad: f64,
    },
    Rectangular {
        width: f64,
        height: f64,
        corner: f64,
        roll_rad: f64,
    },
    Bent {
        radius: f64,
        clr: f64,
        bend_rad: f64,
        station: f64,
        facing_rad: f64,
    },
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn rad(rad: f64) -> Angle {
    Angle::from_rad(rad)
}

impl Seat {
    fn main(&self) -> Result<Main, JointError> {
        let (angle, offset) = (rad(self.angle_rad), mm(self.offset));
        let main = match self.shape {
            Shape::Round { radius } => Main::round(mm(2.0 * radius), angle, offset),
            Shape::Plate {} => Main::plate(angle),
            Shape::Mitre {
                radius,
                included_rad,
            } => Main::mitre(mm(2.0 * radius), rad(included_rad)),
            Shape::Rectangular {
                width,
                height,
                corner,
                roll_rad,
            } => {
                let section =
                    RectangularSection::new(mm(width), mm(height), mm(corner), rad(roll_rad))?;
                Main::rectangular(section, angle, offset)
            }
            Shape::Bent {
                radius,
                clr,
                bend_rad,
                station,
                facing_rad,
            } => {
                let bend = Bend::new(mm(clr), rad(bend_rad), mm(station), rad(facing_rad))?;
                Main::bent(mm(2.0 * radius), bend, angle, offset)
            }
        }?;
        Ok(main
            .turned(Angle::from_deg(self.about_deg))
            .shifted(mm(self.shift)))
    }
}

impl Case {
    fn joint(&self) -> Result<Joint, JointError> {
        let tube = RoundTube::new(mm(2.0 * self.outside), mm(self.outside - self.bore))?;
        let (first, others) = self.mains.split_first().unwrap();
        others
            .iter()
            .try_fold(Joint::new(tube, first.main()?)?, |joint, seat| {
                joint.and(seat.main()?)
            })
    }
}

fn seated(meeting: Meeting) -> Option<f64> {
    match meeting {
        Meeting::Seated(height) => Some(height.mm()),
        Meeting::Beside(_) => None,
    }
}

/// What one file shows: every difference over the allowed one is kept, so that a failure names them all.
#[derive(Default)]
struct Comparison {
    compared: usize,
    worst: f64,
    wrong: Vec<String>,
    refused: Vec<String>,
}

impl Comparison {
    fn note(&mut self, case: &Case, what: &str, turn: f64, ours: Option<f64>, kernel: Option<f64>) {
        self.compared += 1;
        let off = match (ours, kernel) {
            (Some(ours), Some(kernel)) => (ours - kernel).abs(),
            (None, None) => 0.0,
            _ => f64::INFINITY,
        };
        if off <= HIT {
            self.worst = self.worst.max(off);
        } else {
            self.wrong.push(format!(
                "{} {what} at {turn}°: {ours:?} against {kernel:?}; outside {} between {} bore {} gap {}, {:?}",
                case.family, case.outside, case.between, case.bore, case.gap, case.mains
            ));
        }
    }

    fn case(&mut self, case: &Case) {
        let joint = match case.joint() {
            Ok(joint) => joint,
            Err(refusal) => {
                self.refused
                    .push(format!("{}: {refusal:?}; {:?}", case.family, case.mains));
                return;
            }
        };
        let cope = |method| Cope::new(&joint, method, mm(case.gap));
        let saw = cope(CutMethod::Saw).unwrap();
        let (bore, square) = (cope(CutMethod::Bore).ok(), cope(CutMethod::Square).unwrap());
        for (i, turn) in case.turns_deg.iter().copied().enumerate() {
            let at = Angle::from_deg(turn);
            self.note(
                case,
                "outside",
                turn,
                seated(saw.at(at)),
                case.hits.outside[i],
            );
            let through = saw.trace(mm(case.between), at).map(Length::mm);
            self.note(case, "between", turn, through, case.hits.between[i]);
            let inner = bore.as_ref().and_then(|bore| seated(bore.at(at)));
            self.note(case, "bore", turn, inner, case.hits.bore[i]);
            if let Some(tops) = &case.square {
                self.note(case, "wall", turn, seated(square.at(at)), tops[i]);
            }
        }
    }
}

fn compare(name: &str, json: &str, at_least: usize) {
    let reference: Reference = serde_json::from_str(json).unwrap();
    let mut seen = Comparison::default();
    for case in &reference.joints {
        seen.case(case);
    }
    let Comparison {
        compared,
        worst,
        wrong,
        refused,
    } = seen;
    println!(
        "{name}: {compared} compared, largest difference allowed {worst:e} mm, {} refused",
        refused.len()
    );
    for refusal in &refused {
        println!("refused: {refusal}");
    }
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(compared >= at_least, "only {compared} compared");
}

#[test]
fn plates_cut_where_the_kernel_says() {
    compare("plate", include_str!("reference/plate.json"), 3_000);
}

#[test]
fn mitres_cut_where_the_kernel_says() {
    compare("mitre", include_str!("reference/mitre.json"), 3_000);
}

#[test]
fn rectangular_mains_cut_where_the_kernel_says() {
    compare(
        "rectangular",
        include_str!("reference/rectangular.json"),
        10_000,
    );
}

#[test]
fn bent_mains_cut_where_the_kernel_says() {
    compare("bent", include_str!("reference/bent.json"), 12_000);
}

#[test]
fn several_mains_cut_where_the_kernel_says() {
    compare("several", include_str!("reference/several.json"), 8_000);
}

/// From either end of a line the outermost root: the ring is whole, and its legs are too far off to be met.
#[test]
fn the_outermost_roots_on_a_whole_torus_are_the_kernels() {
    const FAR: f64 = 1e9;
    let reference: Reference = serde_json::from_str(include_str!("reference/bent.json")).unwrap();
    assert_eq!(reference.torus_rays.len(), 200);
    let away = Leg {
        along: [0.0, 0.0, -FAR],
        towards: [0.0, 0.0, FAR],
    };
    let mut worst = 0.0_f64;
    let mut wrong = Vec::new();
    for ray in &reference.torus_rays {
        let ring = BentTube {
            radius: ray.radius,
            curvature: 1.0 / ray.clr,
            origin: 0.0,
            facing: ray.facing_rad.sin_cos(),
            arc: (-PI, PI),
            legs: [away; 2],
        };
        let back = ray.direction.map(|it| -it);
        let ends = [
            (ray.direction, ray.roots.last().copied()),
            (back, ray.roots.first().map(|root| -root)),
        ];
        for (towards, kernel) in ends {
            let ours = ring.first_hit(ray.origin, towards);
            assert!(ours.is_none_or(|(_, surface)| surface == BendSurface::Arc));
            let off = match (ours, kernel) {
                (Some((ours, _)), Some(kernel)) => (ours - kernel).abs(),
                (None, None) => 0.0,
                _ => f64::INFINITY,
            };
            if off <= HIT {
                worst = worst.max(off);
            } else {
                wrong.push(format!(
                    "{ours:?} against {kernel:?}: radius {} clr {} facing {} from {:?} towards {towards:?}",
                    ray.radius, ray.clr, ray.facing_rad, ray.origin
                ));
            }
        }
    }
    println!("largest difference {worst:e} mm");
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
