//! The whole range of inputs: no panic, no NaN, nothing below zero, and contact somewhere.

use std::f64::consts::TAU;

use copewright::cope::fit::{Fit, Slip, access, dihedral};
use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube, Surface};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

use crate::{deg, mm};

fn any_angle() -> impl Strategy<Value = f64> {
    prop_oneof![10.0..90.0_f64, Just(90.0), Just(45.0), 89.9..90.0_f64]
}

fn any_turn() -> impl Strategy<Value = f64> {
    prop_oneof![-180.0..180.0_f64, Just(0.0), Just(90.0)]
}

prop_compose! {
    /// A main for a branch of an outside diameter; `None` where it makes none.
    fn any_main(branch: f64)(
        kind in 0..5_u8,
        ratio in prop_oneof![0.5..3.0_f64, Just(1.0)],
        other in 0.3..2.0_f64,
        angle in any_angle(),
        shift in prop_oneof![Just(0.0), -0.9..0.9_f64, -0.2..0.2_f64],
        turn in any_turn(),
    ) -> Option<Main> {
        let main = (branch * ratio).max(5.0);
        let offset = mm(shift * (main + branch) / 2.0);
        let angle = deg(angle);
        match kind {
            0 | 1 => Main::round(mm(main), angle, offset),
            2 => Main::plate(angle),
            3 => RectangularSection::new(mm(main), mm(main * other), mm(0.1 * main.min(main * other)), deg(turn))
                .and_then(|section| Main::rectangular(section, angle, offset)),
            _ => Bend::new(mm(2.0 * main), deg(90.0), mm(turn / 4.0), deg(turn * 2.0))
                .and_then(|bend| Main::bent(mm(main), bend, angle, offset)),
        }
        .ok()
    }
}

prop_compose! {
    pub fn any_slip()(
        angle in prop_oneof![Just(0.0), -2.0..2.0_f64],
        offset in prop_oneof![Just(0.0), -2.0..2.0_f64],
        turn in prop_oneof![Just(0.0), -8.0..8.0_f64],
        size in prop_oneof![Just(0.0), -2.0..2.0_f64],
        scale in prop_oneof![3 => Just(1.0), 1 => 0.95..1.05_f64],
    ) -> Slip {
        Slip {
            main: 0,
            angle: deg(angle),
            offset: mm(offset),
            turn: deg(turn),
            size: mm(size),
            scale,
        }
    }
}

pub fn any_cope() -> impl Strategy<Value = Option<Cope>> {
    (10.0..90.0_f64, 0.03..0.3_f64)
        .prop_flat_map(|(branch, wall)| {
            (
                Just((branch, wall)),
                any_main(branch),
                prop_oneof![3 => Just(None), 1 => any_main(branch)],
                any_turn(),
                prop::sample::select(CutMethod::ALL.to_vec()),
                prop_oneof![Just(0.0), 0.0..2.0_f64],
            )
        })
        .prop_map(|((branch, wall), first, second, turn, method, gap)| {
            let tube = RoundTube::new(mm(branch), mm(wall * branch)).ok()?;
            let mut joint = Joint::new(tube, first?).ok()?;
            if let Some(second) = second {
                joint = joint.and(second.turned(deg(turn))).ok()?;
            }
            Cope::new(&joint, method, mm(gap)).ok()
        })
}

/// A branch on a mitre's plane, or on that and another main.
pub fn mitred_cope() -> impl Strategy<Value = Option<Cope>> {
    (10.0..90.0_f64, 0.03..0.3_f64)
        .prop_flat_map(|(branch, wall)| {
            (
                Just((branch, wall)),
                20.0..178.0_f64,
                prop_oneof![Just(None), any_main(branch)],
                any_turn(),
                prop::sample::select(CutMethod::ALL.to_vec()),
            )
        })
        .prop_map(|((branch, wall), included, other, turn, method)| {
            let tube = RoundTube::new(mm(branch), mm(wall * branch)).ok()?;
            let mut joint = Joint::new(tube, Main::mitre(mm(branch), deg(included)).ok()?).ok()?;
            if let Some(other) = other {
                joint = joint.and(other.turned(deg(turn))).ok()?;
            }
            Cope::new(&joint, method, mm(0.0)).ok()
        })
}

/// A branch on one straight main, at any angle and offset.
fn straight_cope() -> impl Strategy<Value = Option<Cope>> {
    any_cope().prop_map(|cope| cope.filter(is_straight))
}

fn is_straight(cope: &Cope) -> bool {
    let straight = |main: &Main| matches!(main.surface(), Surface::Straight(_));
    cope.mains().len() == 1 && cope.mains().iter().all(straight)
}

/// How deep anything of the end that can touch lies in a main, at turns of no round number, mm.
fn deepest(cope: &Cope, slip: &Slip, fit: &Fit) -> f64 {
    let branch = cope.joint().branch();
    let (bore, outside) = (branch.bore_radius().mm(), branch.outside_radius().mm());
    let radii: Vec<f64> = match cope.method() {
        CutMethod::Bore => vec![bore],
        CutMethod::Saw if slip.scale != 1.0 => vec![outside],
        _ => (0..=6)
            .map(|step| bore + (outside - bore) * f64::from(step) / 6.0)
            .collect(),
    };
    let mut deepest = 0.0_f64;
    for step in 0..431 {
        let turn = Angle::from_rad(TAU * (f64::from(step) + 0.317) / 431.0);
        for rho in &radii {
            if let Some(hit) = cope.trace(mm(*rho), turn) {
                let off = (fit.cut_height(mm(*rho), turn) - fit.advance() - hit).mm();
                deepest = deepest.max(-off);
            }
        }
    }
    deepest
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn gaps_are_numbers_and_never_below_zero(
        cope in any_cope(),
        slip in any_slip(),
        zero in 0.0..360.0_f64,
    ) {
        let Some(cope) = cope else { return Ok(()) };
        let Ok(fit) = Fit::new(&cope, &slip, deg(zero)) else { return Ok(()) };
        let mut widest = Length::ZERO;
        for at in fit.gaps() {
            for gap in [at.gap, at.bore].into_iter().flatten() {
                prop_assert!(gap.is_finite() && gap >= Length::ZERO);
            }
            widest = widest.max(at.gap.unwrap_or(Length::ZERO));
        }
        prop_assert!(fit.widest().gap >= widest - mm(1e-9));
        prop_assert!(fit.advance().is_finite());
    }

    #[test]
    fn the_end_touches_somewhere_and_lies_nowhere_in_a_main(
        cope in straight_cope(),
        slip in any_slip(),
        zero in 0.0..360.0_f64,
    ) {
        let Some(cope) = cope else { return Ok(()) };
        let Ok(fit) = Fit::new(&cope, &slip, deg(zero)) else { return Ok(()) };
        let contact = fit.contact();
        // A square cut's place within the wall is told by its middle alone, and the end of an
        // untrue print is a step.
        let branch = cope.joint().branch();
        let edges = [branch.outside_radius(), branch.bore_radius()];
        if edges.contains(&contact.radius) || cope.method() != CutMethod::Square {
            let near = [-2e-7, 0.0, 2e-7].map(|beside| {
                fit.over_wall(contact.radius, contact.turn + Angle::from_rad(beside))
            });
            let least = near.into_iter().flatten().reduce(Length::min);
            prop_assert!(least.is_some_and(|gap| gap.mm() <= 1e-4), "{contact:?} {near:?}");
            if slip.scale == 1.0 && fit.trimmed().is_empty() {
                let gap = fit.over_wall(contact.radius, contact.turn);
                prop_assert!(gap.is_some_and(|gap| gap.mm() <= 1e-6), "{contact:?} {gap:?}");
            }
        }
        let deep = deepest(&cope, &slip, &fit);
        prop_assert!(deep <= 1e-6, "{deep}");
    }

    /// Where a bend is grazed the place first touched is looked for among turns; for joints as they
    /// are built it is found.
    #[test]
    fn an_end_on_a_bend_touches_it_and_lies_nowhere_in_it(
        branch in 15.0..60.0_f64,
        ratio in 0.4..0.85_f64,
        tight in 1.5..6.0_f64,
        station in -0.5..0.5_f64,
        facing in any_turn(),
        angle in 35.0..90.0_f64,
        method in prop::sample::select(CutMethod::ALL.to_vec()),
        slip in any_slip(),
    ) {
        let main = branch / ratio;
        let slip = Slip { scale: 1.0, ..slip };
        let made = Bend::new(mm(tight * main), deg(90.0), mm(station * tight * main), deg(facing))
            .and_then(|bend| Main::bent(mm(main), bend, deg(angle), mm(0.0)))
            .and_then(|main| Joint::new(RoundTube::new(mm(branch), mm(2.0))?, main))
            .and_then(|joint| Cope::new(&joint, method, mm(0.0)));
        let Ok(cope) = made else { return Ok(()) };
        let Ok(fit) = Fit::new(&cope, &slip, Angle::ZERO) else { return Ok(()) };
        let deep = deepest(&cope, &slip, &fit);
        prop_assert!(deep <= 1e-3, "{deep}");
    }

    #[test]
    fn a_saw_of_exactly_the_size_leaves_nothing(cope in any_cope()) {
        let Some(cope) = cope else { return Ok(()) };
        let fit = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
        prop_assert!(fit.advance().abs().mm() <= 1e-6, "{:?}", fit.advance());
        if cope.method() != CutMethod::Square {
            prop_assert!(fit.widest().gap.mm() <= 1e-6);
        }
    }

    #[test]
    fn a_joint_in_the_mirror_fits_as_the_joint_does(
        cope in straight_cope(),
        slip in any_slip(),
    ) {
        let Some(cope) = cope else { return Ok(()) };
        let slip = Slip { scale: 1.0, ..slip };
        let Ok(fit) = Fit::new(&cope, &slip, Angle::ZERO) else { return Ok(()) };
        let other = Slip {
            offset: Length::ZERO - slip.offset,
            turn: Angle::ZERO - slip.turn,
            ..slip
        };
        let mirrored = Fit::new(&cope.mirrored().unwrap(), &other, Angle::ZERO).unwrap();
        let apart = (fit.advance() - mirrored.advance()).abs();
        prop_assert!(apart.mm() < 2e-6, "{apart:?}");
        for step in 0..97 {
            let turn = Angle::from_rad(TAU * (f64::from(step) + 0.317) / 97.0);
            if let (Some(a), Some(b)) = (fit.at(turn), mirrored.at(Angle::ZERO - turn)) {
                prop_assert!((a - b).abs().mm() < 1e-4, "{} {a:?} {b:?}", turn.deg());
            }
        }
    }

    #[test]
    fn access_goes_once_round_and_tells_the_dihedral_angle(cope in any_cope()) {
        let Some(cope) = cope else { return Ok(()) };
        let arcs = access(&cope);
        for arc in &arcs {
            prop_assert!(arc.from <= arc.to && arc.to <= Angle::FULL && arc.from > Angle::ZERO - Angle::FULL);
            prop_assert!(arc.least <= arc.most);
            prop_assert!(arc.least >= Angle::ZERO && arc.most <= Angle::HALF);
        }
        for step in 0..180 {
            let turn = deg(2.0 * f64::from(step) + 0.71);
            let Some(psi) = dihedral(&cope, turn) else { continue };
            let kind = copewright::cope::fit::Access::of(psi);
            let within = |arc: &&copewright::cope::fit::AccessArc| {
                (turn >= arc.from && turn <= arc.to)
                    || (turn - Angle::FULL >= arc.from && turn - Angle::FULL <= arc.to)
            };
            let found = arcs.iter().filter(within).any(|arc| arc.access == kind);
            prop_assert!(found, "{} {psi:?} {arcs:?}", turn.deg());
        }
    }
}
