//! Found wrong after the cut: planted slips are found again, clean cuts are called clean.

use copewright::cope::CutMethod;
use copewright::cope::fit::{
    Fit, READABLE, Seen, Slip, SlipKind, Usual, Verdict, diagnose, sensitivity,
};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

use crate::{deg, mm, round};

/// The four gaps of a fit, as one would read them exactly.
fn seen(fit: &Fit) -> Seen {
    let at = |turn: f64| fit.at(deg(turn)).unwrap_or(Length::ZERO);
    Seen {
        heel: at(0.0),
        plus: at(90.0),
        toe: at(180.0),
        minus: at(270.0),
    }
}

fn planted() -> impl Strategy<Value = (SlipKind, f64)> {
    let sign = prop::sample::select(vec![-1.0, 1.0]);
    let kind = prop::sample::select(vec![
        SlipKind::Angle,
        SlipKind::Size,
        SlipKind::Turn,
        SlipKind::Offset,
    ]);
    (kind, 0.2..1.0_f64, sign).prop_map(|(kind, part, sign)| {
        let most = match kind {
            SlipKind::Angle => deg(4.0).rad(),
            SlipKind::Turn => deg(12.0).rad(),
            _ => 3.0,
        };
        (kind, sign * part * most)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_planted_slip_is_found_again(
        branch in 20.0..60.0_f64,
        ratio in 0.5..0.92_f64,
        angle in 35.0..90.0_f64,
        offset in -0.05..0.05_f64,
        (kind, amount) in planted(),
        noise in prop::array::uniform4(-0.05..0.05_f64),
    ) {
        let main = branch / ratio;
        let cope = round((branch, 2.0), main, angle, offset * branch, CutMethod::Saw);
        let Ok(fit) = Fit::new(&cope, &kind.slip(0, amount), Angle::ZERO) else { return Ok(()) };
        let exact = seen(&fit);
        let found = diagnose(&cope, &exact, 0, None, Angle::ZERO).unwrap();
        let widest = exact.in_turn().into_iter().fold(Length::ZERO, Length::max);
        if widest <= READABLE {
            prop_assert_eq!(found.verdict, Verdict::Clean);
            return Ok(());
        }
        prop_assert_eq!(found.verdict, Verdict::Explained);
        let own = found.explanations().iter().find(|cause| cause.kind == kind);
        prop_assert!(own.is_some(), "{kind:?} {amount} {found:?}");
        let own = own.unwrap();
        prop_assert!(own.off.mm() < 0.02, "{kind:?} {amount} {own:?}");
        // Another way round may make the same four gaps only where the joint is its own mirror
        // image that way.
        if kind == SlipKind::Size || kind == SlipKind::Angle {
            prop_assert!((own.amount / amount - 1.0).abs() < 0.05, "{kind:?} {amount} {own:?}");
        }
        // Read to a twentieth, it is still explained.
        let read = |gap: Length, noise: f64| (gap + mm(noise)).max(Length::ZERO);
        let rough = Seen {
            heel: read(exact.heel, noise[0]),
            plus: read(exact.plus, noise[1]),
            toe: read(exact.toe, noise[2]),
            minus: read(exact.minus, noise[3]),
        };
        let found = diagnose(&cope, &rough, 0, None, Angle::ZERO).unwrap();
        prop_assert!(found.verdict != Verdict::Unexplained);
    }

    #[test]
    fn a_clean_cut_is_called_clean(
        branch in 20.0..60.0_f64,
        ratio in 0.4..1.0_f64,
        angle in 30.0..90.0_f64,
        noise in prop::array::uniform4(-0.2..0.2_f64),
        method in prop::sample::select(CutMethod::ALL.to_vec()),
    ) {
        let cope = round((branch, 3.0), branch / ratio, angle, 0.0, method);
        let fit = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
        let exact = seen(&fit);
        let read = |gap: Length, noise: f64| (gap + mm(noise)).max(Length::ZERO);
        let rough = Seen {
            heel: read(exact.heel, noise[0]),
            plus: read(exact.plus, noise[1]),
            toe: read(exact.toe, noise[2]),
            minus: read(exact.minus, noise[3]),
        };
        let found = diagnose(&cope, &rough, 0, None, Angle::ZERO).unwrap();
        prop_assert_eq!(found.verdict, Verdict::Clean);
        prop_assert!(found.explanations().is_empty());
    }

    #[test]
    fn after_grinding_no_gap_is_above_what_was_asked(
        branch in 20.0..60.0_f64,
        ratio in 0.5..0.92_f64,
        angle in 35.0..90.0_f64,
        (kind, amount) in planted(),
        most in 0.05..1.0_f64,
    ) {
        let cope = round((branch, 2.0), branch / ratio, angle, 0.0, CutMethod::Square);
        let Ok(fit) = Fit::new(&cope, &kind.slip(0, amount), Angle::ZERO) else { return Ok(()) };
        let groove = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
        let grind = fit.grind(mm(most));
        prop_assert!(grind.shorter >= Length::ZERO);
        for (turn, off) in &grind.at {
            prop_assert!(*off >= Length::ZERO && *off <= grind.most.gap);
            // Pushed in by so much more, what was taken off lies on the main and the rest is
            // open by no more than asked.
            let radius = cope.joint().branch().outside_radius();
            let push = fit.advance() + grind.shorter;
            let height = fit.cut_height(radius, *turn) + *off - push;
            let (sin, cos) = turn.rad().sin_cos();
            let place = [radius.mm() * cos, radius.mm() * sin, height.mm()];
            let gap = cope.mains()[0].nearest(place).distance.mm();
            let left = if *off > Length::ZERO { 0.0 } else { most };
            let allowed = groove.at(*turn).unwrap().mm() + left + 1e-6;
            prop_assert!(gap >= -1e-6 && gap <= allowed, "{gap} {allowed} at {}", turn.deg());
        }
    }
}

/// Four gaps that no single slip makes: open by the same at heel, toe and sides, as a burr between
/// them leaves it.
#[test]
fn what_nothing_explains_is_said_to_be_so() {
    let cope = round((38.1, 1.65), 44.45, 60.0, 0.0, CutMethod::Saw);
    let odd = Seen {
        heel: mm(3.0),
        plus: mm(3.0),
        toe: mm(3.0),
        minus: mm(3.0),
    };
    let found = diagnose(&cope, &odd, 0, None, Angle::ZERO).unwrap();
    assert_eq!(found.verdict, Verdict::Unexplained, "{found:?}");
    assert!(found.explanations().is_empty());
}

/// The wedge of an angle error on a plate opens by its angle times the cut's length; there the
/// angle must cost that, and neither offset nor diameter anything, for a plate has none.
#[test]
fn sensitivity_tells_what_a_degree_costs() {
    use copewright::cope::Cope;
    use copewright::joint::{Joint, Main, RoundTube};
    let tube = RoundTube::new(mm(42.4), mm(2.6)).unwrap();
    let joint = Joint::new(tube, Main::plate(deg(90.0)).unwrap()).unwrap();
    let cope = Cope::new(&joint, CutMethod::Saw, Length::ZERO).unwrap();
    let costs = sensitivity(&cope, &Usual::default(), 0, Angle::ZERO);
    let angle = costs
        .iter()
        .find(|cost| cost.kind == SlipKind::Angle)
        .unwrap();
    let degree = 42.4 * deg(0.5).rad().sin() / deg(89.5).rad().sin() / 0.5;
    assert!((angle.per_unit() - degree).abs() < 1e-6, "{angle:?}");
    assert_eq!(costs[0].kind, SlipKind::Angle);
    assert!(
        costs
            .iter()
            .all(|cost| !matches!(cost.kind, SlipKind::Offset | SlipKind::Size))
    );
    for pair in costs.windows(2) {
        assert!(pair[0].opens >= pair[1].opens);
    }
    // A tube that turns on a square plate does not open.
    let turn = costs
        .iter()
        .find(|cost| cost.kind == SlipKind::Turn)
        .unwrap();
    assert!(turn.opens.mm() < 1e-9);
}
