//! Gaps and dihedral angles that can be written down.

use copewright::cope::CutMethod;
use copewright::cope::fit::{Fit, Slip, SlipKind, dihedral};
use copewright::units::Angle;

use crate::{deg, mm, round};

/// A 90° tee without offset, cut with a saw of radius S for a main of radius R. In the section of
/// the main the saw's circle stands at z = √(S² − u²) over the place u = r sin φ across, the main's
/// at √(R² − u²), whatever the place along. Their difference has the derivative
/// −u / √(S² − u²) + u / √(R² − u²), which has the sign of S − R for u > 0: with a saw too large it
/// is least at u = 0, where S − R is left; with one too small at the widest place, u = r. Pushed
/// home by that least difference d, a place of the outside edge is √(u² + (√(S² − u²) − d)²) − R
/// from the main.
fn tee_gap(saw: f64, main: f64, branch: f64, turn: f64) -> f64 {
    let height = |radius: f64, u: f64| (radius * radius - u * u).sqrt();
    let push = if saw >= main {
        saw - main
    } else {
        height(saw, branch) - height(main, branch)
    };
    let u = branch * turn.sin();
    u.hypot(height(saw, u) - push) - main
}

#[test]
fn a_saw_too_large_or_too_small_leaves_at_a_square_tee_what_two_circles_leave() {
    for (branch, wall, main) in [(38.1, 1.65, 44.45), (42.4, 3.2, 48.3), (25.4, 2.1, 60.3)] {
        for saw in [-1.5, -0.6, -0.1, 0.1, 0.8, 2.0, 6.0] {
            let cope = round((branch, wall), main, 90.0, 0.0, CutMethod::Saw);
            let fit = Fit::new(&cope, &SlipKind::Size.slip(0, saw), Angle::ZERO).unwrap();
            let mut widest = 0.0_f64;
            for step in 0..360 {
                let turn = deg(f64::from(step));
                let expected = tee_gap((main + saw) / 2.0, main / 2.0, branch / 2.0, turn.rad());
                let gap = fit.at(turn).unwrap().mm();
                assert!(
                    (gap - expected).abs() < 1e-8,
                    "{saw} at {step}: {gap} {expected}"
                );
                widest = widest.max(gap);
            }
            assert!((fit.widest().gap.mm() - widest).abs() < 1e-6);
            // Too large: open at the sides, and touching at heel and toe. Too small: the reverse.
            let sideways = fit.widest().turn.rad().sin().abs();
            assert!(
                if saw > 0.0 {
                    sideways > 0.999
                } else {
                    sideways < 0.001
                },
                "{sideways}"
            );
        }
    }
}

/// Cut square to the wall at a 90° tee without offset the line is the main at the bore radius b,
/// which at every turn comes highest: z = √(R² − b² sin² φ). The outside edge then is
/// √(r² sin² φ + z²) − R away.
#[test]
fn a_square_cut_leaves_a_groove_at_the_sides_of_a_tee() {
    for (branch, wall, main) in [(38.1, 1.65, 44.45), (42.4, 5.0, 48.3), (44.45, 3.0, 44.45)] {
        let cope = round((branch, wall), main, 90.0, 0.0, CutMethod::Square);
        let fit = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
        let (r, b, m) = (branch / 2.0, branch / 2.0 - wall, main / 2.0);
        for step in 0..360 {
            let turn = deg(f64::from(step));
            let Some(gap) = fit.at(turn) else { continue };
            let sin = turn.rad().sin();
            let expected = (m * m + (r * r - b * b) * sin * sin).sqrt() - m;
            assert!((gap.mm() - expected).abs() < 1e-8, "{step}");
        }
        let side = (m * m + r * r - b * b).sqrt() - m;
        assert!((fit.widest().gap.mm() - side).abs() < 1e-6);
    }
}

/// A side flush with the main's only just comes down on it: rounding alone would say that it passes
/// beside, at that one turn.
#[test]
fn a_flush_side_has_a_gap_like_its_neighbours() {
    for (branch, main, offset) in [(33.7, 48.3, 7.3), (33.7, 48.3, -7.3), (44.45, 44.45, 0.0)] {
        for angle in [60.0, 90.0] {
            for method in CutMethod::ALL {
                let cope = round((branch, 2.6), main, angle, offset, method);
                let fit = Fit::new(&cope, &Slip::NONE, Angle::ZERO).unwrap();
                let side = deg(if offset < 0.0 { 270.0 } else { 90.0 });
                if method != CutMethod::Bore {
                    let at = |beside: f64| fit.at(side + deg(beside)).unwrap().mm();
                    let [before, here, after] = [-0.01, 0.0, 0.01].map(at);
                    assert!((here - before).abs() < 0.01, "{before} {here} {after}");
                    assert!((here - after).abs() < 0.01, "{before} {here} {after}");
                }
                assert!(fit.trimmed().is_empty(), "{:?}", fit.trimmed());
            }
        }
    }
}

/// On a plate the end is a plane, and so is one cut for an angle off by δ. They touch at one point
/// of the outside edge, at heel or toe, and open by sin δ times the way across the cut: 2 r / sin of
/// the angle cut for.
#[test]
fn an_angle_error_on_a_plate_opens_like_a_wedge() {
    use copewright::cope::Cope;
    use copewright::joint::{Joint, Main, RoundTube};
    use copewright::units::Length;
    for angle in [90.0, 60.0, 35.0] {
        for off in [-1.0, -0.5, 0.5, 1.0] {
            let tube = RoundTube::new(mm(42.4), mm(2.6)).unwrap();
            let joint = Joint::new(tube, Main::plate(deg(angle)).unwrap()).unwrap();
            let cope = Cope::new(&joint, CutMethod::Saw, Length::ZERO).unwrap();
            let slip = SlipKind::Angle.slip(0, deg(off).rad());
            let fit = Fit::new(&cope, &slip, Angle::ZERO).unwrap();
            let expected = 42.4 / deg(angle + off).rad().sin() * deg(off.abs()).rad().sin();
            let widest = fit.widest();
            assert!((widest.gap.mm() - expected).abs() < 1e-8, "{angle} {off}");
            // Cut for too large an angle it is too square: the heel touches and the toe is open.
            let at_heel = widest.turn.rad().cos() > 0.999;
            assert_eq!(at_heel, off < 0.0, "{angle} {off} {:?}", widest.turn.deg());
        }
    }
}

/// The formula for the local dihedral angle of a T- or Y-connection without offset as W. H. Luyties
/// and A. J. Post give it (Local Dihedral Angle Equations for Tubular Joints and Related
/// Applications, Welding Journal 67, 1988; from memory), with β = r / R:
/// cos ψ = cos θ cos φ √(1 − β² sin² φ) − β sin² φ. AWS D1.1 takes from it ψ = θ at the heel,
/// 180° − θ at the toe (from memory).
#[test]
fn the_dihedral_angle_is_the_published_one() {
    for (branch, main) in [(38.1, 44.45), (30.0, 60.0), (44.45, 44.45)] {
        for angle in [90.0, 60.0, 45.0, 30.0] {
            let cope = round((branch, 2.0), main, angle, 0.0, CutMethod::Saw);
            let beta: f64 = branch / main;
            for step in 0..720 {
                let phi = deg(f64::from(step) / 2.0).rad();
                let cosine = deg(angle).rad().cos()
                    * phi.cos()
                    * (1.0 - (beta * phi.sin()).powi(2)).max(0.0).sqrt()
                    - beta * phi.sin().powi(2);
                let psi = dihedral(&cope, Angle::from_rad(phi)).unwrap();
                assert!((psi.rad().cos() - cosine).abs() < 1e-7, "{angle} {step}");
            }
            let at = |turn: f64| dihedral(&cope, deg(turn)).unwrap().deg();
            assert!((at(0.0) - angle).abs() < 1e-9);
            assert!((at(180.0) - (180.0 - angle)).abs() < 1e-9);
            // At the side of a tee: 90° + arcsin β, with 120° for half and 180° for equal tubes.
            if angle == 90.0 {
                let side = 90.0 + beta.asin().to_degrees();
                assert!((at(90.0) - side).abs() < 1e-5, "{side}");
            }
        }
    }
}
