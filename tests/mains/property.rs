//! The whole range of inputs: no panic, no NaN, a closed line within its tolerance, true extremes.

use std::f64::consts::{PI, TAU};

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube};
use copewright::units::Angle;
use proptest::prelude::*;

use crate::{TOLERANCE, deg, mm};

fn any_angle() -> impl Strategy<Value = f64> {
    prop_oneof![5.0..90.0_f64, Just(90.0), Just(45.0), 89.99..90.0_f64]
}

fn any_turn() -> impl Strategy<Value = f64> {
    prop_oneof![
        -360.0..360.0_f64,
        prop::sample::select(vec![0.0, 45.0, 90.0, 180.0, 270.0])
    ]
}

/// An offset as a part of what still touches.
fn any_shift() -> impl Strategy<Value = f64> {
    prop_oneof![-0.98..0.98_f64, Just(0.0), -1e-7..1e-7_f64, Just(0.5)]
}

prop_compose! {
    fn rectangular(branch: f64)(
        width in 0.2..3.0_f64,
        height in 0.2..3.0_f64,
        corner in prop_oneof![Just(0.0), Just(1.0), 0.0..1.0_f64],
        roll in any_turn(),
        angle in any_angle(),
        shift in any_shift(),
    ) -> Option<Main> {
        let (width, height) = ((branch * width).max(4.0), (branch * height).max(4.0));
        let corner = corner * width.min(height) / 2.0;
        let section = RectangularSection::new(mm(width), mm(height), mm(corner), deg(roll)).ok()?;
        let centred = Main::rectangular(section, deg(angle), mm(0.0)).ok()?;
        let reach = centred.half_breadth().mm() + branch / 2.0;
        Main::rectangular(section, deg(angle), mm(shift * reach)).ok()
    }
}

prop_compose! {
    fn bent(branch: f64)(
        ratio in prop_oneof![0.5..3.0_f64, Just(1.0)],
        tight in prop_oneof![1.01..12.0_f64, Just(3.0), 12.0..1e3_f64],
        bend in prop_oneof![1.0..180.0_f64, Just(90.0), Just(180.0)],
        station in prop_oneof![-1.5..1.5_f64, Just(0.0), Just(1.0)],
        facing in any_turn(),
        angle in any_angle(),
        shift in any_shift(),
    ) -> Option<Main> {
        let main = (branch * ratio).max(4.0);
        let clr = tight * main / 2.0 + 3.0;
        let bend = deg(bend);
        let station = station * clr * bend.rad() / 2.0;
        let offset = shift * (main + branch) / 2.0;
        let bend = Bend::new(mm(clr), bend, mm(station), deg(facing)).ok()?;
        Main::bent(mm(main), bend, deg(angle), mm(offset)).ok()
    }
}

prop_compose! {
    fn plane()(angle in any_angle(), mitre in any::<bool>()) -> Option<Main> {
        if mitre {
            Main::mitre(mm(40.0), deg(2.0 * angle)).ok()
        } else {
            Main::plate(deg(angle)).ok()
        }
    }
}

prop_compose! {
    fn round(branch: f64)(
        ratio in prop_oneof![0.3..3.0_f64, Just(1.0)],
        angle in any_angle(),
        shift in any_shift(),
    ) -> Option<Main> {
        let main = (branch * ratio).max(4.0);
        Main::round(mm(main), deg(angle), mm(shift * (main + branch) / 2.0)).ok()
    }
}

fn any_main(branch: f64) -> impl Strategy<Value = Option<Main>> {
    prop_oneof![
        3 => rectangular(branch),
        2 => bent(branch),
        1 => plane(),
        1 => round(branch),
    ]
}

fn any_method() -> impl Strategy<Value = CutMethod> {
    prop::sample::select(CutMethod::ALL.to_vec())
}

prop_compose! {
    fn placed(branch: f64)(
        main in any_main(branch),
        turn in any_turn(),
        shift in -1.0..1.0_f64,
    ) -> Option<Main> {
        Some(main?.turned(deg(turn)).shifted(mm(shift * branch)))
    }
}

/// A branch on one to four mains; `None` where they make no joint.
fn any_cope() -> impl Strategy<Value = Option<(f64, Cope)>> {
    (8.0..120.0_f64, 0.02..0.48_f64)
        .prop_flat_map(|(branch, wall)| {
            let more = prop_oneof![
                3 => prop::collection::vec(placed(branch), 0),
                1 => prop::collection::vec(placed(branch), 1..4),
            ];
            let gap = prop_oneof![Just(0.0), 0.0..3.0_f64];
            (
                Just((branch, wall)),
                any_main(branch),
                more,
                any_method(),
                gap,
            )
        })
        .prop_map(|((branch, wall), first, more, method, gap)| {
            let tube = RoundTube::new(mm(branch), mm(wall * branch)).ok()?;
            let mut joint = Joint::new(tube, first?).ok()?;
            for main in more.into_iter().flatten() {
                joint = joint.and(main).ok()?;
            }
            Cope::new(&joint, method, mm(gap))
                .ok()
                .map(|cope| (branch, cope))
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_line_is_closed_ordered_finite_and_within_tolerance(
        made in any_cope(),
        seam in 0.0..360.0_f64,
    ) {
        let Some((branch, cope)) = made else { return Ok(()) };
        let width = branch * PI + 0.3;
        let scale = width / TAU;
        let runs = cope.line(deg(seam), mm(width), mm(TOLERANCE));
        let points: Vec<_> = runs.iter().flat_map(|run| run.points.iter().copied()).collect();
        let (first, last) = (points[0], points[points.len() - 1]);
        prop_assert_eq!(first.height, last.height);
        prop_assert!((last.turn.rad() - first.turn.rad() - TAU).abs() < 1e-12);
        prop_assert!(points.len() < 4000, "{} points", points.len());
        for pair in runs.windows(2) {
            prop_assert_eq!(pair[0].points[pair[0].points.len() - 1], pair[1].points[0]);
            prop_assert!(pair[0].beside != pair[1].beside);
        }
        for run in &runs {
            for pair in run.points.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                prop_assert!(a.height.is_finite() && b.height.is_finite());
                prop_assert!(b.turn >= a.turn);
                let step = (b.turn - a.turn).rad();
                if step < 1e-12 {
                    continue;
                }
                let slope = (b.height - a.height).mm() / (step * scale);
                for part in 1..12 {
                    let share = f64::from(part) / 12.0;
                    let turn = a.turn + (b.turn - a.turn) * share;
                    let chord = a.height + (b.height - a.height) * share;
                    let off = (cope.at(turn).height() - chord).mm() / (1.0 + slope * slope).sqrt();
                    prop_assert!(off.abs() <= TOLERANCE * 1.01, "{} off by {}", turn.deg(), off);
                }
            }
        }
    }

    #[test]
    fn no_sample_beats_the_extremes(made in any_cope()) {
        let Some((_, cope)) = made else { return Ok(()) };
        let (long, short) = (cope.long_point(), cope.short_point());
        for step in 0..1000 {
            let here = cope.at(Angle::from_rad(TAU * f64::from(step) / 1000.0)).height();
            prop_assert!(here.is_finite());
            prop_assert!(here >= long.height - mm(1e-5), "{:?} under {:?}", here, long);
            prop_assert!(here <= short.height + mm(1e-5), "{:?} over {:?}", here, short);
        }
    }

    #[test]
    fn the_line_is_the_highest_hit_of_the_wall(made in any_cope()) {
        let Some((_, cope)) = made else { return Ok(()) };
        let tube = *cope.joint().branch();
        let (bore, outside) = (tube.bore_radius(), tube.outside_radius());
        let radii = |share: f64| match cope.method() {
            CutMethod::Saw => outside,
            CutMethod::Bore => bore,
            CutMethod::Square => bore + (outside - bore) * share,
        };
        for step in 0..180 {
            let turn = Angle::from_rad(TAU * (f64::from(step) + 0.3) / 180.0);
            // The best of 25 wall radii, and then of 25 closer ones around it, five times.
            let (mut from, mut to, mut best) = (0.0, 1.0, f64::NEG_INFINITY);
            for _ in 0..5 {
                let step = (to - from) / 24.0;
                let mut place = from;
                for part in 0..=24 {
                    let share = (from + step * f64::from(part)).min(1.0);
                    if let Some(hit) = cope.trace(radii(share), turn)
                        && hit.mm() > best
                    {
                        (best, place) = (hit.mm(), share);
                    }
                }
                (from, to) = ((place - step).max(0.0), (place + step).min(1.0));
            }
            let line = cope.at(turn);
            match line {
                copewright::cope::Meeting::Seated(height) => {
                    prop_assert!(best <= height.mm() + 1e-9, "{best} over {height:?}");
                    // The highest of the samples need not be next to the highest of all.
                    prop_assert!(
                        best > height.mm() - 0.02 * outside.mm() || best == f64::NEG_INFINITY,
                        "{best} under {height:?}"
                    );
                }
                copewright::cope::Meeting::Beside(_) => {
                    prop_assert!(best == f64::NEG_INFINITY, "{best} beside");
                }
            }
        }
    }
}
