//! The straight cut before the saw never touches the finished line, whatever the joint.

use std::f64::consts::{PI, TAU};

use copewright::cope::saw::{Blank, PRE_CUT_STEEPEST, PreCut, PreCutter, reach};
use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube};
use copewright::units::Angle;
use proptest::prelude::*;

use crate::{deg, mm, round};

/// Chords of the printed line stay within this of it, mm.
const TOLERANCE: f64 = 0.01;

/// The kinds of main by number, with sizes as parts of the branch.
fn main_of(kind: u8, branch: f64, size: [f64; 4], angle: f64, shift: f64) -> Option<Main> {
    let [ratio, height, corner, turn] = size;
    let main = (branch * ratio).max(4.0);
    match kind {
        0 => Main::round(mm(main), deg(angle), mm(shift * (main + branch) / 2.0)).ok(),
        1 => Main::plate(deg(angle)).ok(),
        2 => Main::mitre(mm(main), deg(2.0 * angle)).ok(),
        3 => {
            let height = (branch * height).max(4.0);
            let corner = corner * main.min(height) / 2.0;
            let section =
                RectangularSection::new(mm(main), mm(height), mm(corner), deg(turn)).ok()?;
            let reach = main.min(height) / 2.0 + branch / 2.0;
            Main::rectangular(section, deg(angle), mm(shift * reach)).ok()
        }
        _ => {
            let clr = main * (0.6 + 3.0 * corner);
            let bend = Bend::new(mm(clr), deg(30.0 + 100.0 * corner), mm(0.0), deg(turn)).ok()?;
            Main::bent(
                mm(main),
                bend,
                deg(angle),
                mm(shift * (main + branch) / 2.0),
            )
            .ok()
        }
    }
}

prop_compose! {
    fn any_cope()(
        branch in 8.0..90.0_f64,
        wall in 0.02..0.45_f64,
        kinds in prop::collection::vec(0_u8..5, 1..4),
        sizes in prop::array::uniform3([0.4..3.0_f64, 0.4..3.0_f64, 0.0..1.0_f64, -180.0..180.0_f64]),
        angles in prop::array::uniform3(prop_oneof![10.0..90.0_f64, Just(90.0)]),
        shifts in prop::array::uniform3(prop_oneof![-0.9..0.9_f64, Just(0.0)]),
        method in prop::sample::select(CutMethod::ALL.to_vec()),
        gap in prop_oneof![Just(0.0), 0.0..3.0_f64],
        about in 0.0..360.0_f64,
    ) -> Option<Cope> {
        let tube = RoundTube::new(mm(branch), mm(branch * wall)).ok()?;
        let mut joint: Option<Joint> = None;
        for (number, kind) in kinds.into_iter().enumerate() {
            let main = main_of(kind, branch, sizes[number], angles[number], shifts[number])?;
            joint = Some(match joint {
                None => Joint::new(tube, main).ok()?,
                Some(joint) => joint.and(main.turned(deg(about * number as f64))).ok()?,
            });
        }
        Cope::new(&joint?, method, mm(gap)).ok()
    }
}

/// How far a cut stays below the finished line, along the tube: at the corners of the printed
/// line and at turns of our own.
fn clear_by(cope: &Cope, cut: &PreCut) -> f64 {
    let outside = cope.joint().branch().outside();
    let radius = outside.mm() / 2.0;
    let runs = cope.line(Angle::ZERO, outside * PI, mm(TOLERANCE));
    let corners = runs
        .iter()
        .flat_map(|run| &run.points)
        .map(|point| (point.height - cut.height(radius, point.turn)).mm());
    let between = (0..997).map(|step| {
        let turn = Angle::from_rad(TAU * (f64::from(step) + 0.29) / 997.0);
        (cope.at(turn).height() - cut.height(radius, turn)).mm()
    });
    corners.chain(between).fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    #[test]
    fn a_pre_cut_never_crosses_the_line(
        cope in any_cope(),
        clearance in prop_oneof![Just(0.0), Just(3.0), 0.0..10.0_f64],
        grip in prop_oneof![Just(0.0), 0.0..60.0_f64],
        tilt in 0.0..60.0_f64,
        towards in 0.0..360.0_f64,
    ) {
        let Some(cope) = cope else { return Ok(()) };
        let cutter = PreCutter::new(&cope, mm(clearance));
        let blank = Blank::square(&cope, mm(grip));
        let best = cutter.most_bulk(&blank);
        let any = Some(cutter.deepest(deg(tilt), deg(towards)));
        for cut in best.into_iter().chain(any) {
            let clear = clear_by(&cope, &cut);
            prop_assert!(clear >= clearance - TOLERANCE, "{clear} of {clearance}: {cut:?}");
            prop_assert!(cut.off_square <= PRE_CUT_STEEPEST);
            // Behind the line too. A cut square to the wall has its height at the bore as well.
            if cope.method() != CutMethod::Saw {
                let bore = cope.joint().branch().bore_radius().mm();
                for step in 0..400 {
                    let turn = Angle::from_rad(TAU * (f64::from(step) + 0.43) / 400.0);
                    let over = (cope.at(turn).height() - cut.height(bore, turn)).mm();
                    prop_assert!(over >= clearance - TOLERANCE, "{over} of {clearance}: {cut:?}");
                }
            }
            // Where the saw follows the main: the wall that stays.
            if cope.method() == CutMethod::Saw {
                let tube = cope.joint().branch();
                for step in 0..400 {
                    let turn = Angle::from_rad(TAU * (f64::from(step) + 0.43) / 400.0);
                    let part = f64::from(step % 5) / 4.0;
                    let rho = tube.bore_radius() + tube.wall() * part;
                    let Some(height) = cope.trace(rho, turn) else { continue };
                    let over = (height - cut.height(rho.mm(), turn)).mm();
                    prop_assert!(over >= clearance - 0.05, "{over} of {clearance}: {cut:?}");
                }
            }
        }
        if let Some(cut) = best {
            prop_assert!(cutter.removed_mm3(&cut, &blank) > 0.0);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn a_pre_cut_never_makes_the_saw_go_deeper_and_the_least_one_is_just_enough(
        branch in 15.0..60.0_f64,
        ratio in 1.0..2.0_f64,
        angle in 25.0..90.0_f64,
        grip in prop_oneof![Just(0.0), 5.0..60.0_f64],
        part in 0.0..1.0_f64,
    ) {
        let cope = round([branch, 2.0, branch * ratio], angle, 0.0, 0.0);
        let saw = mm(branch * ratio);
        let cutter = PreCutter::new(&cope, mm(1.0));
        let blank = Blank::square(&cope, mm(grip));
        let square = reach(cope.joint(), saw, &blank).unwrap();
        let best = cutter.most_bulk(&blank);
        let after = best.map_or(square, |cut| reach(cope.joint(), saw, &blank.after(cut)).unwrap());
        prop_assert!(after.cup() <= square.cup() + mm(1e-6));
        prop_assert!(after.travel() <= square.travel() + mm(1e-6));
        // No straight cut that spares the line shortens the way along the line itself.
        let line = reach(cope.joint(), saw, &Blank::square(&cope, mm(0.0))).unwrap();
        prop_assert!(after.travel() >= line.travel() - mm(1e-6));
        // A depth between what is needed before and after any cut.
        let depth = line.travel() + (square.cup() - line.travel()) * part;
        if let Some(least) = cutter.least_for(saw, depth, &blank) {
            let enough = reach(cope.joint(), saw, &blank.after(least)).unwrap();
            prop_assert!(enough.cup() <= depth);
            prop_assert!(clear_by(&cope, &least) >= 1.0 - TOLERANCE);
            let lower = PreCut { centre: least.centre - mm(0.01), ..least };
            let short = reach(cope.joint(), saw, &blank.after(lower)).unwrap();
            prop_assert!(short.cup() > depth - mm(1e-6), "{least:?} {short:?}");
        }
    }
}

#[test]
fn the_line_of_a_cut_is_a_cosine_and_closes() {
    let cut = PreCut {
        off_square: deg(50.0),
        towards: deg(40.0),
        centre: mm(7.0),
    };
    let points = cut.line(mm(42.4), mm(0.01));
    let (first, last) = (points[0], points[points.len() - 1]);
    assert!((last.turn.deg() - 400.0).abs() < 1e-9);
    assert_eq!(first.height, last.height);
    for pair in points.windows(2) {
        let middle = (pair[0].turn + pair[1].turn) * 0.5;
        let chord = (pair[0].height + pair[1].height) / 2.0;
        let off = (chord - cut.height(21.2, middle)).abs();
        assert!(off <= mm(0.01), "{off:?}");
    }
}
