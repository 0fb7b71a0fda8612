//! Where the depth of a saw has a closed form.

use copewright::cope::fit::{Fit, Slip};
use copewright::cope::saw::{Blank, ears, gap_of_saw, reach};
use proptest::prelude::*;

use crate::{deg, mm, round};

proptest! {
    /// At 90° the saw's axis is square to the tube and depth is x. A slice at y across the tube is
    /// cut from x = −√(r² − y²) to +√(r² − y²) at the height ±√(S² − (y − e)²). With the axis
    /// within the saw's radius of the tube's, |e| ≤ S, the slice y = 0 is among them and is the
    /// widest: travel 2 r, wherever the blank ends below the cut. Beyond it the slice nearest to
    /// the tube's axis is |y| = |e| − S: travel 2 √(r² − (|e| − S)²); the saw only grazes there, at
    /// height 0, and the blank must reach down to it.
    #[test]
    fn a_saw_at_a_right_angle_travels_one_tube(
        radius in 5.0..60.0_f64,
        wall in 0.05..0.9_f64,
        ratio in 0.5..3.0_f64,
        shift in -0.95..0.95_f64,
    ) {
        let main = radius * ratio;
        let offset = shift * (radius + main);
        let cope = round([2.0 * radius, wall * radius, 2.0 * main], 90.0, offset, 0.0);
        let blank = Blank { end: mm(-3.0 * (radius + main)), pre_cut: None };
        let reach = reach(cope.joint(), mm(2.0 * main), &blank).unwrap();
        let past = (offset.abs() - main).max(0.0);
        let expected = 2.0 * ((radius - past) * (radius + past)).sqrt();
        prop_assert!((reach.travel().mm() - expected).abs() < 1e-6, "{reach:?} {expected}");
        // Nothing reaches into the cup before the teeth: at 90° depth is x alone.
        prop_assert!((reach.cup().mm() - expected).abs() < 1e-6, "{reach:?} {expected}");
    }

    /// Equal tubes without offset: the upper half of the saw's cylinder meets the outside in two
    /// planes, and there the depth along the axis is (x + |x| cos θ) / sin θ: from −r tan(θ/2) at
    /// the toe to r cot(θ/2) at the heel, together 2 r / sin θ, the figure of the trade. The long
    /// point is at z = 0, at the sides, where the blank ends; its corner at the toe is at the depth
    /// −r sin θ, inside the cup before the teeth touch.
    #[test]
    fn equal_tubes_take_an_outside_diameter_over_the_sine(
        radius in 5.0..60.0_f64,
        wall in 0.05..0.9_f64,
        angle in 10.0..90.0_f64,
    ) {
        let cope = round([2.0 * radius, wall * radius, 2.0 * radius], angle, 0.0, 0.0);
        let blank = Blank::square(&cope, mm(0.0));
        let reach = reach(cope.joint(), mm(2.0 * radius), &blank).unwrap();
        let (sin, half) = (angle.to_radians().sin(), (angle / 2.0).to_radians().tan());
        let close = |is: f64, expected: f64| (is - expected).abs() < 1e-6 * radius;
        prop_assert!(close(reach.first.mm(), -radius * half), "{reach:?}");
        prop_assert!(close(reach.clear.mm(), radius / half), "{reach:?}");
        prop_assert!(close(reach.travel().mm(), 2.0 * radius / sin), "{reach:?}");
        prop_assert!(close(reach.nearest.mm(), -radius * sin), "{reach:?}");
    }
}

#[test]
fn a_saw_beside_the_tube_has_no_depth() {
    let cope = round([40.0, 2.0, 60.0], 90.0, 45.0, 0.0);
    let blank = Blank::square(&cope, mm(0.0));
    assert!(reach(cope.joint(), mm(20.0), &blank).is_none());
    assert!(reach(cope.joint(), mm(0.0), &blank).is_none());
    assert!(reach(cope.joint(), mm(f64::NAN), &blank).is_none());
}

#[test]
fn ears_are_what_a_narrow_saw_passes_beside() {
    // At 90° without offset the line is √(R² − r² sin² φ); with R = r it is r |cos φ|, from the
    // long point 0. A saw of radius S leaves the turns with r |sin φ| > S standing: two ears, each
    // of area 2 r² (1 − S / r) = 2 r (r − S).
    let cope = round([40.0, 2.0, 40.0], 90.0, 0.0, 0.0);
    let blank = Blank::square(&cope, mm(0.0));
    let found = ears(&cope, mm(30.0), &blank).unwrap();
    assert_eq!(found.count, 2);
    let expected = 2.0 * 2.0 * 20.0 * (20.0 - 15.0);
    assert!((found.area_mm2 / expected - 1.0).abs() < 2e-3, "{found:?}");
    let tallest = (20.0_f64.powi(2) - 15.0_f64.powi(2)).sqrt();
    assert!((found.tallest.mm() - tallest).abs() < 0.05, "{found:?}");
    let none = ears(&cope, mm(40.0), &blank).unwrap();
    assert_eq!((none.count, none.area_mm2), (0, 0.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// In closed form and by pushing the cut end home in space.
    #[test]
    fn the_gap_of_another_saw_is_that_of_the_predicted_fit(
        main in 25.0..120.0_f64,
        part in 0.3..1.0_f64,
        aside in 0.0..0.9_f64,
        angle in 25.0..90.0_f64,
        larger in -0.03..0.03_f64,
        gap in prop_oneof![Just(0.0), 0.5..2.0_f64],
    ) {
        let branch = main * part;
        let offset = aside * (main + branch) / 2.0 * 0.8;
        let cope = round([branch, branch * 0.05, main], angle, offset, gap);
        let larger = mm(main * larger);
        let slip = Slip { size: larger, ..Slip::NONE };
        let fit = Fit::new(&cope, &slip, deg(0.0)).unwrap();
        let own = gap_of_saw(&cope, mm(main + 2.0 * gap) + larger).unwrap();
        let apart = (own - fit.widest().gap).mm().abs();
        prop_assert!(apart < 1e-4, "{own:?} {:?}", fit.widest());
    }
}
