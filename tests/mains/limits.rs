//! One kind of main as the limit of another, and several mains against one.

use copewright::cope::CutMethod;
use copewright::joint::{Bend, Main, RectangularSection};
use copewright::units::Length;

use crate::{apart, cope, deg, mm, seated, turns};

#[test]
fn a_bend_of_a_huge_radius_is_a_straight_tube() {
    for (facing, station) in [(0.0, 0.0), (180.0, 0.0), (90.0, 300.0), (217.0, -50.0)] {
        for (angle, offset) in [(90.0, 0.0), (60.0, 4.0), (45.0, -9.0)] {
            for method in CutMethod::ALL {
                let straight = Main::round(mm(48.3), deg(angle), mm(offset)).unwrap();
                let straight = cope(&[straight], method, 0.0);
                let mut before = f64::INFINITY;
                for clr in [1e3, 1e4, 1e5, 1e6] {
                    let bend = Bend::new(mm(clr), deg(40.0), mm(station), deg(facing)).unwrap();
                    let bent = Main::bent(mm(48.3), bend, deg(angle), mm(offset)).unwrap();
                    let bent = cope(&[bent], method, 0.0);
                    // Where the branch begins to pass beside, both need not do so yet.
                    let off = turns(1440)
                        .filter_map(|phi| {
                            Some((seated(&bent, phi)? - seated(&straight, phi)?).abs())
                        })
                        .filter(|off| off.is_finite())
                        .fold(0.0, f64::max);
                    let seats = |cope| {
                        turns(1440)
                            .filter(|phi| seated(cope, *phi).is_some())
                            .count()
                    };
                    assert!(seats(&bent).abs_diff(seats(&straight)) < 40);
                    // The main's axis strays by x² / 2 CLR within the reach x of the joint; where the
                    // branch grazes the main, heights go with the root of that.
                    assert!(
                        off < before && off < 2e5 / clr,
                        "{clr} {facing} {angle}: {off}"
                    );
                    before = off;
                }
            }
        }
    }
}

/// How far a bent main of radius R may stray from the straight one. The branch reaches
/// X = (ρ + R cos θ) / sin θ along the main (the hit of the generator at the heel or the toe; 1 mm
/// more covers what the bend itself adds). Up to there the centre line lies within δ = X² / 2 CLR of
/// the straight axis, so the bent main holds the straight one of radius R − δ and lies within that
/// of R + δ, whichever way it bends. Their hits s = (ρ cos φ cos θ + √(R² − y²)) / sin θ are no
/// farther from that of R than (q − √((R − δ)² − y²)) / sin θ, with y at most ρ + |e| and
/// q² = R² − y². To the first order that is R δ / (q sin θ) = k R² / CLR with
/// k = (X / R)² · R / (2 q sin θ).
fn stray(angle: f64, offset: f64, clr: f64) -> (f64, f64) {
    let (sin, cos) = deg(angle).rad().sin_cos();
    let (radius, rho) = (24.15, 21.2);
    let reach = (rho + radius * cos) / sin + 1.0;
    let delta = reach * reach / (2.0 * clr);
    let aside: f64 = rho + f64::abs(offset);
    let depth = |radius: f64| ((radius - aside) * (radius + aside)).sqrt();
    let multiple = (reach / radius).powi(2) * radius / (2.0 * depth(radius) * sin);
    let exact = (depth(radius) - depth(radius - delta)) / sin;
    (multiple, exact)
}

#[test]
fn a_gentle_bend_strays_from_a_straight_tube_no_farther_than_its_centre_line() {
    const RADIUS_SQUARED: f64 = 24.15 * 24.15;
    for (facing, station) in [(0.0, 0.0), (180.0, 0.0), (90.0, 300.0), (217.0, -50.0)] {
        for angle in [90.0, 60.0, 45.0] {
            for offset in [0.0, 2.0, -2.5] {
                for method in CutMethod::ALL {
                    let straight = Main::round(mm(48.3), deg(angle), mm(offset)).unwrap();
                    let straight = cope(&[straight], method, 0.0);
                    for clr in [1e4, 1e5, 1e6] {
                        let bend = Bend::new(mm(clr), deg(40.0), mm(station), deg(facing)).unwrap();
                        let bent = Main::bent(mm(48.3), bend, deg(angle), mm(offset)).unwrap();
                        // Nowhere does the branch pass beside: `apart` would panic.
                        let off = apart(&cope(&[bent], method, 0.0), &straight);
                        let (multiple, stray) = stray(angle, offset, clr);
                        assert!(multiple < 25.0, "{multiple} is no small multiple");
                        assert!(stray < 1.1 * multiple * RADIUS_SQUARED / clr);
                        assert!(
                            off <= stray + 1e-9,
                            "{clr} {facing} {angle} {offset} {method:?}: {off} over {stray}"
                        );
                        // And it does stray: a bend that is not there would pass the above.
                        assert!(off > 0.05 * RADIUS_SQUARED / clr, "{off}");
                    }
                }
            }
        }
    }
}

#[test]
fn far_from_the_bend_a_bent_main_is_a_straight_one() {
    for method in CutMethod::ALL {
        let bend = Bend::new(mm(150.0), deg(60.0), mm(900.0), deg(200.0)).unwrap();
        let bent = Main::bent(mm(48.3), bend, deg(50.0), mm(3.0)).unwrap();
        let straight = Main::round(mm(48.3), deg(50.0), mm(3.0)).unwrap();
        let off = apart(&cope(&[bent], method, 0.5), &cope(&[straight], method, 0.5));
        assert!(off < 1e-9, "{off}");
    }
}

#[test]
fn a_square_tube_with_corners_of_half_its_side_is_round() {
    for roll in [0.0, 13.0, 45.0] {
        for (angle, offset) in [(90.0, 0.0), (55.0, 6.0), (30.0, -11.0)] {
            for method in CutMethod::ALL {
                let section = RectangularSection::new(mm(50.0), mm(50.0), mm(25.0), deg(roll));
                let square = Main::rectangular(section.unwrap(), deg(angle), mm(offset)).unwrap();
                let round = Main::round(mm(50.0), deg(angle), mm(offset)).unwrap();
                let off = apart(&cope(&[square], method, 0.0), &cope(&[round], method, 0.0));
                assert!(off < 1e-7, "{roll} {angle} {method:?}: {off}");
            }
        }
    }
}

#[test]
fn a_wide_flat_face_is_a_plate_and_a_mitre_is_a_plate_at_half_the_angle() {
    for (angle, method) in [90.0, 60.0, 35.0]
        .into_iter()
        .flat_map(|angle| CutMethod::ALL.map(|method| (angle, method)))
    {
        let plate = cope(&[Main::plate(deg(angle)).unwrap()], method, 0.0);
        let section = RectangularSection::new(mm(400.0), mm(80.0), mm(6.0), deg(0.0)).unwrap();
        let face = Main::rectangular(section, deg(angle), Length::ZERO).unwrap();
        let face = cope(&[face], method, 0.0);
        let mitre = Main::mitre(mm(42.4), deg(2.0 * angle)).unwrap();
        assert!(apart(&plate, &cope(&[mitre], method, 0.0)) < 1e-12);
        // The face stands half the height above the axis: further up the branch by 40 / sin θ.
        let up = 40.0 / deg(angle).rad().sin();
        for phi in turns(360) {
            let off = seated(&face, phi).unwrap() - seated(&plate, phi).unwrap() - up;
            assert!(off.abs() < 1e-9, "{angle} {method:?} at {phi}: {off}");
        }
    }
}

#[test]
fn a_plate_cut_is_the_mitre_sinusoid() {
    // A plane cuts a cylinder in an ellipse that unrolls to a sinusoid: Apostol & Mnatsakanian,
    // "Unwrapping Curves from Cylinders and Cones", Amer. Math. Monthly 114 (2007): height
    // r cot θ cos φ. Square to the wall the higher of bore and outside stands in.
    for angle in [90.0, 72.0, 45.0, 10.0] {
        let cot = deg(angle).rad().cos() / deg(angle).rad().sin();
        for method in CutMethod::ALL {
            let plate = cope(&[Main::plate(deg(angle)).unwrap()], method, 0.0);
            for phi in turns(720) {
                let (outside, bore) = (21.2 * cot * phi.cos(), 18.6 * cot * phi.cos());
                let expected = match method {
                    CutMethod::Saw => outside,
                    CutMethod::Bore => bore,
                    CutMethod::Square => outside.max(bore),
                };
                let off = seated(&plate, phi).unwrap() - expected;
                assert!(off.abs() < 1e-9, "{angle} {method:?} {phi}: {off}");
            }
        }
    }
}

/// Mains of every kind, turned about the branch and shifted along it.
fn several() -> Vec<Main> {
    let section = RectangularSection::new(mm(40.0), mm(60.0), mm(6.0), deg(30.0)).unwrap();
    let bend = Bend::new(mm(120.0), deg(90.0), mm(20.0), deg(150.0)).unwrap();
    vec![
        Main::round(mm(48.3), deg(60.0), mm(3.0)).unwrap(),
        Main::round(mm(33.7), deg(45.0), mm(0.0))
            .unwrap()
            .turned(deg(160.0))
            .shifted(mm(6.0)),
        Main::plate(deg(50.0)).unwrap().turned(deg(95.0)),
        Main::rectangular(section, deg(75.0), mm(-8.0))
            .unwrap()
            .turned(deg(250.0))
            .shifted(mm(-14.0)),
        Main::bent(mm(42.4), bend, deg(70.0), mm(4.0))
            .unwrap()
            .turned(deg(300.0))
            .shifted(mm(3.0)),
        Main::mitre(mm(42.4), deg(120.0)).unwrap().turned(deg(20.0)),
    ]
}

#[test]
fn several_mains_are_the_highest_of_each_and_their_order_does_not_matter() {
    let mains = several();
    for method in CutMethod::ALL {
        for count in 2..=6 {
            let set = &mains[..count];
            let together = cope(set, method, 0.0);
            let alone: Vec<_> = set
                .iter()
                .map(|main| cope(std::slice::from_ref(main), method, 0.0))
                .collect();
            for phi in turns(1440) {
                let expected = alone
                    .iter()
                    .filter_map(|one| seated(one, phi))
                    .fold(None, |a, b| Some(a.map_or(b, |a: f64| a.max(b))));
                match (seated(&together, phi), expected) {
                    (Some(together), Some(expected)) => {
                        assert!((together - expected).abs() < 1e-9, "{count} {phi}");
                    }
                    (together, expected) => assert_eq!(together, expected, "{count} {phi}"),
                }
            }
            let mut other = set.to_vec();
            other.rotate_left(1);
            other.reverse();
            assert!(apart(&together, &cope(&other, method, 0.0)) < 1e-12);
            let ridges = cope(&other, method, 0.0).ridges();
            assert_eq!(ridges.len(), together.ridges().len());
        }
    }
}

#[test]
fn at_a_ridge_both_mains_are_met_or_the_line_steps() {
    let mains = several();
    for method in CutMethod::ALL {
        let together = cope(&mains, method, 0.0);
        let ridges = together.ridges();
        assert!(ridges.len() >= 3, "{ridges:?}");
        for ridge in ridges {
            let alone = [ridge.before, ridge.after]
                .map(|main| cope(std::slice::from_ref(&mains[main]), method, 0.0));
            let heights = alone.each_ref().map(|one| seated(one, ridge.turn.rad()));
            if (ridge.from - ridge.to).abs() < mm(1e-4) {
                let off = heights[0].unwrap() - heights[1].unwrap();
                assert!(off.abs() < 1e-4, "{ridge:?}: {off}");
            } else {
                let lower = if ridge.from < ridge.to { 0 } else { 1 };
                let before = ridge.turn.rad() - 1e-6;
                let after = ridge.turn.rad() + 1e-6;
                let higher = &alone[1 - lower];
                assert_ne!(
                    seated(higher, before).is_some(),
                    seated(higher, after).is_some()
                );
            }
        }
    }
}

#[test]
fn the_same_main_twice_is_that_main_once() {
    let main = Main::round(mm(48.3), deg(60.0), mm(3.0)).unwrap();
    for method in CutMethod::ALL {
        let once = cope(std::slice::from_ref(&main), method, 0.0);
        let twice = cope(&[main.clone(), main.clone()], method, 0.0);
        assert!(apart(&once, &twice) < 1e-12);
        assert!(twice.ridges().is_empty());
    }
}
