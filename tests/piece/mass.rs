//! Mass against published tables.

use std::f64::consts::PI;

use copewright::cope::CutMethod;
use copewright::piece::{Between, CentreLine, End, Piece, Side, kg_per_metre};
use copewright::stock::{Density, MATERIALS};

use crate::{brace, coped, handle, mm, round, tube, usual};

#[test]
fn steel_tube_weighs_what_tables_say() {
    // kg/m. 75 × 1 and 10 × 0.5: a weight sheet for steel tube (scribd.com, document 358775155).
    // The others: ASTM A53 plain-end pipe as a supplier lists it (sjsenersol.ae, "NPS 2, NPS 3").
    for (outside, wall, mass, last) in [
        (75.0, 1.0, 1.825, 0.0005),
        (10.0, 0.5, 0.117, 0.0005),
        (60.3, 3.91, 5.44, 0.006),
        (60.3, 5.54, 7.48, 0.006),
        (60.3, 8.74, 11.11, 0.006),
        (88.9, 5.49, 11.29, 0.006),
        (88.9, 7.62, 15.27, 0.006),
        (101.6, 5.74, 13.57, 0.006),
    ] {
        let is = kg_per_metre(&tube(outside, wall), Density::STEEL);
        assert!((is - mass).abs() <= last, "{outside} × {wall}: {is}");
    }
}

#[test]
fn inch_tube_weighs_what_the_rule_says() {
    // lb/ft = 10.68 (D − t) t, inches (piping-designer.com, "Weight for carbon and stainless steel
    // bars, pipe and tubing"), with 0.2833 lb/in³, a thousandth less than 7.85 g/cm³. 1 lb is
    // 0.45359237 kg exactly.
    for (outside, wall) in [(1.5, 0.095), (1.75, 0.12), (2.375, 0.154)] {
        let rule = 10.68 * (outside - wall) * wall;
        let tube = tube(outside * 25.4, wall * 25.4);
        let is = kg_per_metre(&tube, Density::STEEL) * 0.3048 / 0.453_592_37;
        assert!((is / rule - 1.001).abs() < 5e-4, "{is} {rule}");
    }
}

#[test]
fn lighter_materials_weigh_in_proportion() {
    let by_name = |name: &str| {
        let material = MATERIALS.iter().find(|material| material.name == name);
        kg_per_metre(&usual(), material.unwrap().density)
    };
    assert!((by_name("aluminium") / by_name("steel") - 2700.0 / 7850.0).abs() < 1e-12);
    assert!(by_name("stainless steel") > by_name("steel"));
}

#[test]
fn bent_and_square_pieces_weigh_as_much_as_their_centre_line() {
    let piece = handle();
    let per_mm = kg_per_metre(piece.tube(), Density::STEEL) / 1000.0;
    let blank = piece.blank_mass_kg(Density::STEEL);
    assert!((blank - per_mm * piece.lengths().blank.mm()).abs() < 1e-12);
    let ends = [End::Square, End::AsItIs];
    let line = CentreLine::straight(mm(1000.0));
    let square = Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    assert!((square.mass_kg(Density::STEEL) - per_mm * 1000.0).abs() < 1e-12);
}

#[test]
fn coped_ends_take_what_the_elliptic_integral_says() {
    // The area under the line of a centred round cope is 4 r R E(r/R) / sin θ; for equal tubes at
    // 90° it is 4 r² (a quarter of the surface 16 r² of the Steinmetz solid on one end; MathWorld,
    // "Steinmetz Solid"), so the mean height is 2 r / π. A saw follows the main: outside trace.
    let ends = [
        coped(Side::A, round(42.4, 90.0, 0.0), 0.0),
        coped(Side::B, round(42.4, 90.0, 0.0), 123.0),
    ];
    let line = CentreLine::straight(mm(500.0));
    let piece = Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    let template = piece.end(Side::A).template().unwrap();
    assert_eq!(template.cope().method(), CutMethod::Saw);
    let per_mm = kg_per_metre(piece.tube(), Density::STEEL) / 1000.0;
    let mean = 2.0 * 21.2 / PI;
    let expected = per_mm * (500.0 - 2.0 * mean);
    let is = piece.mass_kg(Density::STEEL);
    assert!((is - expected).abs() < per_mm * 0.02, "{is} {expected}");
    assert!(brace().mass_kg(Density::STEEL) < brace().blank_mass_kg(Density::STEEL));
}

#[test]
fn ends_at_an_angle_take_what_the_elliptic_integral_says() {
    // As above: a mean height of 2 R E(k) / (π sin θ), k = r / R, here 42.4 on 60.3 mm. E by its
    // definition, the mean of √(1 − k² sin² t) times π / 2 (the midpoint rule is exact to the last
    // digits for a periodic function).
    let k: f64 = 42.4 / 60.3;
    let steps = 2000;
    let mean_root = (0..steps)
        .map(|step| {
            let t = PI * (f64::from(step) + 0.5) / f64::from(steps);
            (1.0 - (k * t.sin()).powi(2)).sqrt()
        })
        .sum::<f64>()
        / f64::from(steps);
    let mean = |angle: f64| 30.15 * mean_root / angle.to_radians().sin();
    let ends = [
        coped(Side::A, round(60.3, 50.0, 0.0), 77.0),
        coped(Side::B, round(60.3, 70.0, 0.0), 0.0),
    ];
    let line = CentreLine::straight(mm(500.0));
    let piece = Piece::new(usual(), ends, line, Between::Centres, [mm(30.0); 2]).unwrap();
    let per_mm = kg_per_metre(piece.tube(), Density::STEEL) / 1000.0;
    let left = piece.mass_kg(Density::STEEL) / per_mm;
    assert!(
        (left - (500.0 - mean(50.0) - mean(70.0))).abs() < 0.02,
        "{left}"
    );
}
