//! The cut line against an independent solid modeller: rays, wall sections and volumes computed by
//! the Open CASCADE kernel. `tests/reference/README.md` says how the data was made.
#![cfg(not(target_arch = "wasm32"))]
#![allow(
    clippy::disallowed_methods,
    reason = "a test may panic on crossed limits"
)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::f64::consts::FRAC_PI_2;

use copewright::cope::{Cope, CutMethod, Meeting};
use copewright::joint::{Joint, RoundTube};
use copewright::units::{Angle, Length};
use serde::Deserialize;

/// Allowed for one hit, mm: the data is rounded to 12 digits and its two kernel methods agree to
/// 1.2e-9 mm.
const HIT: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    joints: Vec<Case>,
    volumes: Vec<Volume>,
}

#[derive(Deserialize)]
struct Case {
    family: String,
    outside: f64,
    between: f64,
    bore: f64,
    main: f64,
    angle_rad: f64,
    offset: f64,
    gap: f64,
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

#[derive(Deserialize)]
struct Volume {
    outside: f64,
    bore: f64,
    main: f64,
    angle_rad: f64,
    offset: f64,
    gap: f64,
    length: f64,
    volume: f64,
}

fn reference() -> Reference {
    serde_json::from_str(include_str!("reference/round.json")).unwrap()
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// `None` where the branch reaches the main only through the root gap: that is no joint.
fn joint(outside: f64, bore: f64, main: f64, angle_rad: f64, offset: f64) -> Option<Joint> {
    let tube = RoundTube::new(mm(2.0 * outside), mm(outside - bore)).unwrap();
    let joint = Joint::round(tube, mm(2.0 * main), Angle::from_rad(angle_rad), mm(offset));
    assert_eq!(joint.is_err(), offset.abs() >= main + outside, "{joint:?}");
    joint.ok()
}

fn seated(meeting: Meeting) -> Option<f64> {
    match meeting {
        Meeting::Seated(height) => Some(height.mm()),
        Meeting::Beside(_) => None,
    }
}

fn compare(
    family: &str,
    what: &str,
    turn: f64,
    ours: Option<f64>,
    kernel: Option<f64>,
    worst: &mut f64,
) {
    match (ours, kernel) {
        (Some(ours), Some(kernel)) => {
            let off = (ours - kernel).abs();
            *worst = worst.max(off);
            assert!(
                off <= HIT,
                "{family}, {what} at {turn}°: {ours} against {kernel}"
            );
        }
        (None, None) => {}
        _ => panic!("{family}, {what} at {turn}°: {ours:?} against {kernel:?}"),
    }
}

#[test]
fn every_ray_hits_where_the_kernel_says() {
    let reference = reference();
    assert!(reference.joints.len() >= 200);
    let mut worst = 0.0_f64;
    let mut rays = 0;
    for case in &reference.joints {
        let Some(joint) = joint(
            case.outside,
            case.bore,
            case.main,
            case.angle_rad,
            case.offset,
        ) else {
            continue;
        };
        let saw = Cope::new(&joint, CutMethod::Saw, mm(case.gap)).unwrap();
        let bore = Cope::new(&joint, CutMethod::Bore, mm(case.gap)).ok();
        for (i, turn) in case.turns_deg.iter().enumerate() {
            let at = Angle::from_deg(*turn);
            compare(
                &case.family,
                "outside",
                *turn,
                seated(saw.at(at)),
                case.hits.outside[i],
                &mut worst,
            );
            let through = saw.trace(mm(case.between), at).map(Length::mm);
            compare(
                &case.family,
                "between",
                *turn,
                through,
                case.hits.between[i],
                &mut worst,
            );
            let inner = bore.as_ref().and_then(|bore| seated(bore.at(at)));
            compare(
                &case.family,
                "bore",
                *turn,
                inner,
                case.hits.bore[i],
                &mut worst,
            );
            rays += 3;
        }
    }
    println!("{rays} rays, largest difference {worst:e} mm");
    assert!(rays > 20_000);
}

#[test]
fn square_to_the_wall_is_the_highest_point_of_the_wall_section() {
    let mut worst = 0.0_f64;
    let mut inside_the_wall = 0;
    for case in reference().joints {
        let Some(square) = &case.square else { continue };
        let Some(joint) = joint(
            case.outside,
            case.bore,
            case.main,
            case.angle_rad,
            case.offset,
        ) else {
            continue;
        };
        let cope = Cope::new(&joint, CutMethod::Square, mm(case.gap)).unwrap();
        for (i, turn) in case.turns_deg.iter().enumerate() {
            let ours = seated(cope.at(Angle::from_deg(*turn)));
            compare(&case.family, "wall", *turn, ours, square[i], &mut worst);
            let edges = [case.hits.outside[i], case.hits.bore[i]];
            let edge = edges
                .into_iter()
                .flatten()
                .fold(f64::NEG_INFINITY, f64::max);
            inside_the_wall += i32::from(square[i].is_some_and(|height| height > edge + 1e-6));
        }
    }
    println!("largest difference {worst:e} mm, {inside_the_wall} turns peak inside the wall");
    assert!(
        inside_the_wall > 100,
        "the data must exercise peaks inside the wall"
    );
}

#[test]
fn the_coped_tube_has_the_volume_of_the_kernels_solid() {
    // V = ∫∫ (length − s) ρ dρ dφ. By parts between the turns where a wall radius
    // grazes the main, where s has a root's corner; beside the main the whole length stays.
    for case in reference().volumes {
        let Some(joint) = joint(
            case.outside,
            case.bore,
            case.main,
            case.angle_rad,
            case.offset,
        ) else {
            continue;
        };
        let cope = Cope::new(&joint, CutMethod::Saw, mm(case.gap)).unwrap();
        let slice = |rho: f64| {
            let graze = |limit: f64| (limit / rho).clamp(-1.0, 1.0).asin();
            let (high, low) = (
                graze(case.offset + case.main + case.gap),
                graze(case.offset - case.main - case.gap),
            );
            let mut cuts = [
                -FRAC_PI_2,
                low,
                high,
                FRAC_PI_2,
                2.0 * FRAC_PI_2 - high,
                2.0 * FRAC_PI_2 - low,
                3.0 * FRAC_PI_2,
            ];
            cuts.sort_by(f64::total_cmp);
            cuts.windows(2)
                .map(|part| {
                    smooth_integral(part[0], part[1], |phi| {
                        let hit = cope.trace(mm(rho), Angle::from_rad(phi));
                        (case.length - hit.map_or(0.0, Length::mm)) * rho
                    })
                })
                .sum::<f64>()
        };
        // The first wall radius that grazes the main makes a corner across the wall as well.
        let first = (case.main + case.gap - case.offset.abs()).clamp(case.bore, case.outside);
        let volume =
            smooth_integral(case.bore, first, slice) + smooth_integral(first, case.outside, slice);
        let off = (volume / case.volume - 1.0).abs();
        assert!(off < 1e-8, "{volume} against {}: {off:e}", case.volume);
    }
}

/// ∫ f over a..b for f with square-root corners at its ends: x = a + (b − a) t³ (10 − 15 t + 6 t²)
/// flattens them, and the midpoint rule then converges with the fourth power of the step.
fn smooth_integral(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    const STEPS: i32 = 300;
    if b - a < 1e-14 {
        return 0.0;
    }
    let h = 1.0 / f64::from(STEPS);
    (0..STEPS)
        .map(|i| {
            let t = (f64::from(i) + 0.5) * h;
            let x = a + (b - a) * t.powi(3) * (10.0 - 15.0 * t + 6.0 * t * t);
            f(x) * 30.0 * (t * (1.0 - t)).powi(2)
        })
        .sum::<f64>()
        * h
        * (b - a)
}
