//! Where an end first touches, and with which edge of its wall.

use copewright::cope::CutMethod;
use copewright::cope::fit::{Fit, Slip, SlipKind, Touch};
use copewright::job::fit::{FitField, FitTyped, fit_report, read_fit};
use copewright::job::{Draft, Field, MainField, read};
use copewright::units::{Angle, Unit};

use crate::said::{asked, form};
use crate::{deg, mm, round};

fn at_angle(method: CutMethod, angle: &str) -> Draft {
    let typed = form(Unit::Millimetre, method);
    read(&typed.with_text(Field::OfMain(0, MainField::Angle), angle)).unwrap()
}

fn first_touches(draft: &Draft, typed: &FitTyped) -> [String; 2] {
    let report = fit_report(draft, &read_fit(typed, draft).unwrap()).unwrap();
    let row = report.gaps.iter().find(|fact| fact.name == "First touches");
    let row = row.unwrap();
    [row.value.clone(), row.remark.clone()]
}

/// Cut square, each turn ends at the height of the wall radius that is highest there, so that every
/// turn touches, and with that radius: the closed form s(ρ, φ) says which.
#[test]
fn a_cut_square_to_the_wall_touches_at_every_turn() {
    let (outside, bore, main) = (19.05_f64, 19.05 - 1.65, 22.225_f64);
    for angle in [40.0, 60.0, 75.0, 90.0_f64] {
        let cope = round((38.1, 1.65), 44.45, angle, 0.0, CutMethod::Square);
        let fit = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
        let all = fit.touching();
        assert_eq!(all.len(), 1);
        assert!((all[0].1 - all[0].0).deg() > 359.9);
        let (sin, cos) = angle.to_radians().sin_cos();
        for degrees in 0..360 {
            let phi = f64::from(degrees).to_radians();
            let height = |rho: f64| {
                let across = rho * phi.sin();
                (rho * phi.cos() * cos + (main * main - across * across).sqrt()) / sin
            };
            let radii = (0..=100).map(|step| bore + (outside - bore) * f64::from(step) / 100.0);
            let top = radii.map(height).fold(f64::NEG_INFINITY, f64::max);
            let touch = fit.touch(Angle::from_rad(phi)).unwrap();
            // Within 1e-4 mm of the tolerance either answer is right.
            for (rho, touches) in [(outside, touch.outside), (bore, touch.bore)] {
                let open = top - height(rho);
                assert!(
                    (open - 0.005).abs() < 1e-4 || touches == (open <= 0.005),
                    "{angle} {degrees} {rho}: {open}"
                );
            }
        }
    }
    // At the heel s grows with ρ by cot θ, at the toe it falls by it, at the sides the main falls away.
    let draft = at_angle(CutMethod::Square, "60");
    assert_eq!(
        first_touches(&draft, &FitTyped::default()),
        [
            "all round",
            "outside edge at the heel; bore edge at the sides and at the toe"
        ]
    );
    let tee = at_angle(CutMethod::Square, "90");
    assert_eq!(
        first_touches(&tee, &FitTyped::default()),
        [
            "all round",
            "whole wall at the heel and at the toe; bore edge at the sides"
        ]
    );
    // What is to be ground away is what is said to touch.
    let narrow = asked(&[(FitField::Tight, "0.05"), (FitField::Most, "0.1")]);
    let report = fit_report(&draft, &read_fit(&narrow, &draft).unwrap()).unwrap();
    assert!(
        report.verdict.ends_with(
            "grind the inner edge away where it touches (bore edge at the sides and at the toe) until the \
             gap closes, or choose another way of cutting."
        ),
        "{}",
        report.verdict
    );
}

/// A saw of another diameter on a tee: √(S² − u²) − √(R² − u²) is least at u = 0 for S > R, which is
/// heel and toe at every radius, and at the outside of both sides for S < R.
#[test]
fn places_that_touch_at_once_are_all_named() {
    let tee = at_angle(CutMethod::Saw, "90");
    let of = |size: &str| first_touches(&tee, &asked(&[(FitField::Size, size)]));
    assert_eq!(
        of("48"),
        [
            "at the heel (turn 0°) and at the toe (turn 180°)",
            "whole wall"
        ]
    );
    assert_eq!(
        of("42"),
        [
            "at the side (turn 90°) and at the side (turn 270°)",
            "outside edge of the wall"
        ]
    );
    // A plane cut too steep stands on one edge: the bore's edge where that alone is cut.
    let cope = round((38.1, 1.65), 44.45, 90.0, 0.0, CutMethod::Bore);
    let fit = Fit::new(&cope, &SlipKind::Angle.slip(0, deg(3.0).rad()), Angle::ZERO).unwrap();
    let touch = fit.touch(fit.contact().turn);
    assert_eq!(
        touch,
        Some(Touch {
            outside: false,
            bore: true
        })
    );
    let open = fit.touch(fit.widest().turn);
    assert!(open.is_none() && fit.widest().gap > mm(0.5));
}
