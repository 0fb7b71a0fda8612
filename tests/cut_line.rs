//! The cut line against closed forms, its own definition checked densely, and its limits.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::f64::consts::{PI, TAU};

use copewright::cope::{Cope, CutMethod, Meeting};
use copewright::joint::{Joint, RoundTube};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

/// Chord error promised for a printed line, mm.
const TOLERANCE: f64 = 0.01;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

fn cope(branch: f64, wall: f64, main: f64, angle: f64, offset: f64, method: CutMethod) -> Cope {
    let tube = RoundTube::new(mm(branch), mm(wall)).unwrap();
    let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).unwrap();
    Cope::new(&joint, method, Length::ZERO).unwrap()
}

/// design: the formula written out once more, straight from the two cylinders.
fn height(rho: f64, main: f64, angle: f64, offset: f64, phi: f64) -> Option<f64> {
    let (sin, cos) = angle.to_radians().sin_cos();
    let square = main * main - (rho * phi.sin() - offset).powi(2);
    (square >= 0.0).then(|| (rho * phi.cos() * cos + square.sqrt()) / sin)
}

#[test]
fn equal_tubes_at_right_angles_are_the_rectified_cosine() {
    // Apostol & Mnatsakanian, "Unwrapping Curves from Cylinders and Cones", Amer. Math. Monthly
    // 114 (2007), Example 8: u = ± a |cos x| for a cylinder cut by one of equal radius a.
    let cope = cope(50.0, 2.0, 50.0, 90.0, 0.0, CutMethod::Saw);
    for step in 0..=720 {
        let turn = deg(f64::from(step) / 2.0);
        let expected = 25.0 * turn.rad().cos().abs();
        assert!(
            (cope.at(turn).height().mm() - expected).abs() < 1e-6,
            "{}",
            turn.deg()
        );
    }
    assert!(cope.long_point().height.mm().abs() < 1e-9);
    let sides: Vec<f64> = cope
        .long_point()
        .turns
        .iter()
        .map(|turn| turn.deg())
        .collect();
    assert_eq!(sides.len(), 2);
    assert!(
        (sides[0] - 90.0).abs() < 1e-6 && (sides[1] - 270.0).abs() < 1e-6,
        "{sides:?}"
    );
    assert!((cope.short_point().height.mm() - 25.0).abs() < 1e-9);
}

#[test]
fn equal_tubes_at_an_angle_reach_the_half_angle_depths() {
    // Two mitre planes meet at the sides (the construction of E. A. Atkins, Practical Sheet and
    // Plate Metal Work, ch. III Fig. 11): acute depth R cot(θ/2), obtuse depth R tan(θ/2), 0 at the sides.
    for angle in [80.0_f64, 60.0, 45.0, 30.0, 12.0] {
        let cope = cope(44.45, 1.65, 44.45, angle, 0.0, CutMethod::Saw);
        let half = angle.to_radians() / 2.0;
        assert!((cope.at(deg(0.0)).height().mm() - 22.225 / half.tan()).abs() < 1e-9);
        assert!((cope.at(deg(180.0)).height().mm() - 22.225 * half.tan()).abs() < 1e-9);
        assert!(cope.at(deg(90.0)).height().mm().abs() < 1e-9);
        assert_eq!(cope.short_point().turns.len(), 1);
        assert!(
            cope.short_point().turns[0].rad().abs() < 1e-9,
            "the heel is the short point"
        );
    }
}

#[test]
fn square_tee_of_unequal_tubes_follows_the_root() {
    // x = √(D² − d² cos² t) with D, d as radii: common derivation, as in W. V. Graves' layout.
    let cope = cope(38.1, 1.5, 44.45, 90.0, 0.0, CutMethod::Saw);
    for step in 0..360 {
        let turn = deg(f64::from(step));
        let expected = (22.225_f64.powi(2) - (19.05 * turn.rad().sin()).powi(2)).sqrt();
        assert!((cope.at(turn).height().mm() - expected).abs() < 1e-9);
    }
}

#[test]
fn a_huge_main_is_a_plane_and_unrolls_to_the_mitre_sine() {
    // Apostol & Mnatsakanian §2: a plane cut unrolls to r tan β · sin, here with β = 90° − θ.
    // Against a main of radius R the sagitta r²/2R is left; the largest main taken is used, and
    // the rest is compared with that sagitta exactly.
    let (r, big) = (5.0, 1000.0);
    let cope = cope(2.0 * r, 0.5, 2.0 * big, 60.0, 0.0, CutMethod::Saw);
    let (sin, cos) = 60.0_f64.to_radians().sin_cos();
    for step in 0..360 {
        let turn = deg(f64::from(step));
        let plane = (r * turn.rad().cos() * cos + big) / sin;
        let sagitta = (r * turn.rad().sin()).powi(2) / (2.0 * big) / sin;
        let off = cope.at(turn).height().mm() - (plane - sagitta);
        assert!(off.abs() < 1e-6, "{off} at {step}");
    }
}

#[test]
fn the_area_under_the_template_is_the_elliptic_integral() {
    // ∮ s r dφ = 4 r R E(k) / sin θ, k = r/R (from MathWorld's Steinmetz solid surface, S = 16 r²
    // for equal tubes, a quarter of it on one end). E by the arithmetic-geometric mean.
    let elliptic = |k: f64| {
        let (mut a, mut b, mut c, mut sum, mut power) = (1.0, (1.0 - k * k).sqrt(), k, 0.0, 0.5);
        for _ in 0..40 {
            sum += power * c * c;
            (a, b, c) = ((a + b) / 2.0, f64::sqrt(a * b), (a - b) / 2.0);
            power *= 2.0;
        }
        PI / (2.0 * a) * (1.0 - sum)
    };
    for (r, big, angle) in [
        (0.75, 0.875, 90.0),
        (0.75, 0.875, 60.0),
        (0.75, 0.875, 45.0),
    ] {
        let (r, big) = (r * 25.4, big * 25.4);
        let cope = cope(2.0 * r, 1.0, 2.0 * big, angle, 0.0, CutMethod::Saw);
        let steps = 3600;
        let sum: f64 = (0..steps)
            .map(|i| {
                cope.at(Angle::from_rad(TAU * f64::from(i) / f64::from(steps)))
                    .height()
                    .mm()
            })
            .sum();
        let area = sum * TAU / f64::from(steps) * r;
        let expected = 4.0 * r * big * elliptic(r / big) / angle.to_radians().sin();
        assert!(
            (area - expected).abs() < 1e-6 * expected,
            "{area} {expected}"
        );
    }
}

#[test]
fn square_to_wall_can_peak_inside_the_wall() {
    // Thick wall, 45°: on the way from heel (outside decides) to side (bore decides) the highest
    // radius wanders through the wall.
    let cope = cope(60.0, 15.0, 60.0, 45.0, 0.0, CutMethod::Square);
    let inside = (0..360)
        .filter(|step| {
            let phi = f64::from(*step).to_radians();
            let here = cope.at(Angle::from_rad(phi)).height().mm();
            let edges =
                [15.0, 30.0].map(|rho| height(rho, 30.0, 45.0, 0.0, phi).unwrap_or(f64::MIN));
            here > edges[0].max(edges[1]) + 0.01
        })
        .count();
    assert!(inside > 20, "only {inside} turns peak inside the wall");
}

#[test]
fn a_branch_wider_than_the_main_names_its_uncovered_turns() {
    let cope = cope(60.0, 2.0, 48.0, 70.0, 0.0, CutMethod::Saw);
    let arcs = cope.beside();
    assert_eq!(arcs.len(), 2);
    let half = (24.0_f64 / 30.0).acos().to_degrees();
    assert!((arcs[0].from.deg() - (90.0 - half)).abs() < 1e-9);
    assert!((arcs[1].to.deg() - (270.0 + half)).abs() < 1e-9);
    assert!(matches!(cope.at(deg(90.0)), Meeting::Beside(_)));
    assert!(matches!(
        cope.at(deg(90.0 - half - 0.01)),
        Meeting::Seated(_)
    ));
    let runs = cope.line(Angle::ZERO, mm(60.0 * PI), mm(TOLERANCE));
    assert_eq!(runs.iter().filter(|run| run.beside).count(), 2);
}

#[test]
fn offsets_of_a_whole_radius_stay_finite_and_true() {
    // The highest wall radius changes hands within a millionth of a turn of the heel and the toe
    // here, where the crest's own formula has its poles.
    let cases = [
        (25.0, 2.0, 50.0, -25.0),
        (20.0, 3.0, 30.0, -15.0),
        (25.4, 2.108, 50.8, -25.4),
        (25.0, 2.0, 50.0, 25.0),
        (10.0, 4.99, 10.0, 1e-7),
        (10.0, 4.99, 10.0, -1e-7),
        (30.0, 10.0, 30.0, 15.0),
    ];
    for (branch, wall, main, offset) in cases {
        for angle in [90.0, 89.999_999, 89.9, 89.0, 60.0, 5.0] {
            for gap in [0.0, 0.5] {
                let tube = RoundTube::new(mm(branch), mm(wall)).unwrap();
                let shift = offset + gap * f64::signum(offset);
                let joint = Joint::round(tube, mm(main), deg(angle), mm(shift)).unwrap();
                let cope = Cope::new(&joint, CutMethod::Square, mm(gap)).unwrap();
                let reach = (branch + main) / deg(angle).rad().sin();
                for extreme in [cope.long_point(), cope.short_point()] {
                    assert!(
                        extreme.height.abs().mm() < reach,
                        "{branch} {offset} {angle}: {extreme:?}"
                    );
                }
                for step in 0..=3600 {
                    let phi = deg(f64::from(step) / 10.0);
                    let line = cope.at(phi).height();
                    assert!(
                        line.abs().mm() < reach,
                        "{branch} {offset} {angle} at {}",
                        phi.deg()
                    );
                    for share in [0.0, 0.3, 0.7, 1.0] {
                        let rho = mm(branch / 2.0 - wall * share);
                        let hit = cope.trace(rho, phi);
                        let seated = matches!(cope.at(phi), Meeting::Seated(_));
                        assert!(
                            !seated || hit.is_none_or(|hit| hit <= line + mm(1e-6)),
                            "{}",
                            phi.deg()
                        );
                    }
                }
                for run in cope.line(deg(33.0), mm(branch * PI), mm(TOLERANCE)) {
                    assert!(
                        run.points
                            .iter()
                            .all(|point| point.height.abs().mm() < reach)
                    );
                }
            }
        }
    }
}

#[test]
fn a_bend_that_stays_at_zero_is_walked_finely_enough() {
    // Found by the property below: with the offset equal to the main's radius the crest's bend
    // cannot be told from zero over a quarter turn.
    let cope = cope(
        6.0,
        2.810_572_754_526_997,
        6.0,
        16.393_174_798_779_98,
        -3.0,
        CutMethod::Square,
    );
    let scale = (6.0 * PI) / TAU;
    let mut count = 0;
    for run in cope.line(Angle::ZERO, mm(6.0 * PI), mm(TOLERANCE)) {
        count += run.points.len();
        for pair in run.points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let slope = (b.height - a.height).mm() / ((b.turn - a.turn).rad() * scale);
            for part in 1..64 {
                let share = f64::from(part) / 64.0;
                let turn = a.turn + (b.turn - a.turn) * share;
                let chord = a.height + (b.height - a.height) * share;
                let off = (cope.at(turn).height() - chord).mm() / (1.0 + slope * slope).sqrt();
                assert!(off.abs() <= TOLERANCE, "{} off by {off}", turn.deg());
            }
        }
    }
    assert!(count < 200, "{count} points");
}

#[test]
fn a_flush_side_does_not_hide_the_short_point() {
    // Found by the property below: the slope at a grazing turn is 0/0, and its noise once hid the
    // one hill of this line.
    let cope = cope(
        131.772_317_863_854_4,
        2.6,
        393.833_346_399_969_7,
        50.437,
        131.030_514_268_057_63,
        CutMethod::Saw,
    );
    let best = (0..72_000)
        .map(|i| cope.at(deg(f64::from(i) / 200.0)).height().mm())
        .fold(f64::NEG_INFINITY, f64::max);
    let short = cope.short_point();
    assert!(
        short.height.mm() >= best && short.height.mm() < best + 1e-3,
        "{short:?} {best}"
    );
}

#[test]
fn grazing_and_hanging_branches_stay_finite() {
    for (branch, main, offset) in [
        (60.0, 60.0, 0.0),
        (40.0, 60.0, 10.0),
        (40.0, 60.0, -10.0),
        (40.0, 60.0, 49.9),
        (6.0, 600.0, 302.9),
    ] {
        for method in CutMethod::ALL {
            for angle in [90.0, 89.999_999, 60.0, 5.0] {
                let tube = RoundTube::new(mm(branch), mm(branch / 10.0)).unwrap();
                let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).unwrap();
                let Ok(cope) = Cope::new(&joint, method, Length::ZERO) else {
                    continue;
                };
                for run in cope.line(deg(33.0), mm(branch * PI), mm(TOLERANCE)) {
                    assert!(run.points.len() >= 2);
                    assert!(
                        run.points
                            .iter()
                            .all(|p| p.height.is_finite() && p.turn.is_finite())
                    );
                }
            }
        }
    }
}

#[test]
fn few_points_suffice_for_a_usual_joint() {
    // A chord of a curve with second derivative s″ (in paper mm) may be √(8 · 0.01 / κ) long, so
    // the count cannot be under ∫ √(κ / 0.08) along the paper. The line may use a tenth more, and
    // a point for every place where a hill meets a valley.
    for (angle, offset) in [(90.0, 0.0), (60.0, 0.0), (45.0, 5.0), (30.0, -8.0)] {
        let cope = cope(38.1, 1.65, 44.45, angle, offset, CutMethod::Saw);
        let width = 38.1 * PI;
        let runs = cope.line(Angle::ZERO, mm(width), mm(TOLERANCE));
        let count: usize = runs.iter().map(|run| run.points.len()).sum();
        let scale = width / TAU;
        let steps = 200_000;
        let least: f64 = (0..steps)
            .map(|i| {
                let h = TAU / f64::from(steps);
                let at = |k: f64| {
                    cope.at(Angle::from_rad((f64::from(i) + k) * h))
                        .height()
                        .mm()
                };
                let (a, b, c) = (at(-1.0), at(0.0), at(1.0));
                let (slope, bend) = (
                    (c - a) / (2.0 * h * scale),
                    (c - 2.0 * b + a) / (h * scale).powi(2),
                );
                let curvature = bend.abs() / (1.0 + slope * slope).powf(1.5);
                (curvature / (8.0 * TOLERANCE)).sqrt() * (1.0 + slope * slope).sqrt() * h * scale
            })
            .sum();
        println!("{angle} {offset}: {count} points, least {least:.1}");
        assert!(
            (count as f64) < 1.1 * least + 12.0,
            "{count} points, {least:.1} would do"
        );
        assert!(
            (count as f64) > least,
            "fewer points than the curvature allows"
        );
    }
}

prop_compose! {
    fn any_joint()(
        branch in 6.0..300.0_f64,
        wall in 0.02..0.48_f64,
        ratio in prop_oneof![0.3..3.0_f64, Just(1.0), 0.999..1.001_f64],
        angle in prop_oneof![5.0..90.0_f64, Just(90.0), Just(89.9), 89.99..90.0_f64],
        shift in prop_oneof![-0.98..0.98_f64, Just(0.0), -0.01..0.01_f64, -1e-7..1e-7_f64],
        touch in prop_oneof![3 => Just(0), 1 => Just(1), 1 => Just(2)],
        gap in prop_oneof![Just(0.0), 0.0..3.0_f64],
        method in prop_oneof![Just(CutMethod::Saw), Just(CutMethod::Square), Just(CutMethod::Bore)],
    ) -> (f64, f64, f64, f64, f64, f64, CutMethod) {
        let main = (branch * ratio).max(6.0);
        // `touch` puts the branch's side flush with the main's side, or its axis on it: the hardest
        // tangencies.
        let offset = match touch {
            1 => (main - branch) / 2.0,
            2 => (main / 2.0 + gap) * shift.signum(),
            _ => shift * (main + branch) / 2.0,
        };
        (branch, wall * branch, main, angle, offset, gap, method)
    }
}

fn built(
    (branch, wall, main, angle, offset, gap, method): (f64, f64, f64, f64, f64, f64, CutMethod),
) -> Option<Cope> {
    let tube = RoundTube::new(mm(branch), mm(wall)).ok()?;
    let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).ok()?;
    Cope::new(&joint, method, mm(gap)).ok()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_line_is_closed_ordered_and_within_tolerance(joint in any_joint(), seam in 0.0..360.0_f64) {
        let Some(cope) = built(joint) else { return Ok(()) };
        let width = joint.0 * PI + 0.3;
        let scale = width / TAU;
        let runs = cope.line(deg(seam), mm(width), mm(TOLERANCE));
        let points: Vec<_> = runs.iter().flat_map(|run| run.points.iter().copied()).collect();
        let (first, last) = (points[0], points[points.len() - 1]);
        prop_assert_eq!(first.height, last.height);
        prop_assert!((last.turn.rad() - first.turn.rad() - TAU).abs() < 1e-12);
        for pair in runs.windows(2) {
            prop_assert_eq!(pair[0].points[pair[0].points.len() - 1], pair[1].points[0]);
            prop_assert!(pair[0].beside != pair[1].beside);
        }
        for run in &runs {
            for pair in run.points.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                prop_assert!(b.turn >= a.turn);
                    if b.turn == a.turn {
                        // A step, where the whole wall grazes the main at one turn.
                        prop_assert!(runs.len() > 1);
                        continue;
                    }
                let slope = (b.height.mm() - a.height.mm()) / ((b.turn.rad() - a.turn.rad()) * scale);
                for part in 1..16 {
                    let share = f64::from(part) / 16.0;
                    let turn = a.turn + (b.turn - a.turn) * share;
                    let chord = a.height + (b.height - a.height) * share;
                    let off = (cope.at(turn).height() - chord).mm() / (1.0 + slope * slope).sqrt();
                    prop_assert!(off.abs() <= TOLERANCE * (1.0 + 1e-6), "{} off by {}", turn.deg(), off);
                }
            }
        }
    }

    #[test]
    fn no_sample_beats_the_extremes_and_both_are_reached(joint in any_joint()) {
        let Some(cope) = built(joint) else { return Ok(()) };
        let (long, short) = (cope.long_point(), cope.short_point());
        for step in 0..2000 {
            let here = cope.at(Angle::from_rad(TAU * f64::from(step) / 2000.0)).height();
            prop_assert!(here >= long.height - mm(1e-9) && here <= short.height + mm(1e-9));
        }
        for extreme in [long, short] {
            prop_assert!(!extreme.turns.is_empty());
            for turn in &extreme.turns {
                prop_assert!((cope.at(*turn).height() - extreme.height).abs() < mm(1e-4), "{:?} {:?}", turn.deg(), extreme);
            }
        }
    }

    #[test]
    fn the_line_is_the_highest_over_the_wall_and_touches(joint in any_joint()) {
        let (branch, wall, main, angle, offset, gap, method) = joint;
        let Some(cope) = built(joint) else { return Ok(()) };
        let (outside, bore) = (branch / 2.0, branch / 2.0 - wall);
        let mut nearest = f64::INFINITY;
        for step in 0..360 {
            let phi = TAU * (f64::from(step) + 0.37) / 360.0;
            let over = match method {
                CutMethod::Saw => (outside, outside),
                CutMethod::Bore => (bore, bore),
                CutMethod::Square => (bore, outside),
            };
            let samples = 400;
            let best = (0..=samples)
                .filter_map(|i| {
                    let rho = over.0 + (over.1 - over.0) * f64::from(i) / f64::from(samples);
                    height(rho, main / 2.0 + gap, angle, offset, phi)
                })
                .fold(f64::NEG_INFINITY, f64::max);
            match cope.at(Angle::from_rad(phi)) {
                Meeting::Seated(line) => {
                    prop_assert!(line.mm() >= best - 1e-9, "wall stands {} proud at {phi}", best - line.mm());
                    // Samples miss the very top by less than a step of the wall allows.
                    let sagged = line.mm() - best;
                    prop_assert!(sagged < 1e-2 * branch, "{sagged} above the main at {phi}");
                    nearest = nearest.min(sagged);
                }
                Meeting::Beside(_) => prop_assert!(best == f64::NEG_INFINITY, "{phi} hits at {best}"),
            }
        }
        prop_assert!(nearest < 1e-9 || nearest == f64::INFINITY, "nowhere nearer than {nearest}");
    }

    #[test]
    fn no_offset_is_symmetric_and_a_changed_sign_is_the_mirror_image(joint in any_joint()) {
        let Some(cope) = built(joint) else { return Ok(()) };
        let mut mirrored = joint;
        mirrored.4 = -joint.4;
        let mirror = built(mirrored).unwrap();
        let mut centred = joint;
        centred.4 = 0.0;
        let centred = built(centred).unwrap();
        for step in 0..180 {
            let turn = deg(f64::from(step) + 0.21);
            prop_assert!((cope.at(turn).height() - mirror.at(-turn).height()).abs() < mm(1e-7));
            prop_assert!((centred.at(turn).height() - centred.at(-turn).height()).abs() < mm(1e-7));
        }
    }
}
