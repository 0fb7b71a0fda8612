//! Published worked examples and tables, each with its source.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::f64::consts::PI;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{Template, Wrap, ordinates};
use copewright::units::{Angle, Length};

fn template(
    branch: f64,
    wall: f64,
    main: f64,
    angle: f64,
    offset: f64,
    method: CutMethod,
) -> Template {
    let tube = RoundTube::new(Length::from_mm(branch), Length::from_mm(wall)).unwrap();
    let joint = Joint::round(
        tube,
        Length::from_mm(main),
        Angle::from_deg(angle),
        Length::from_mm(offset),
    )
    .unwrap();
    let cope = Cope::new(&joint, method, Length::ZERO).unwrap();
    let wrap = Wrap::computed(Length::from_mm(branch), Length::ZERO);
    Template::new(cope, wrap, Angle::ZERO, Length::from_mm(10.0))
}

/// E. A. Atkins, "Practical Sheet and Plate Metal Work", ch. III: the girth is divided into 12
/// equal parts and each height is run up from the base line to the main's circle. This carries the
/// drawing-board construction out in numbers: chords of the quarter circle, then the main's
/// height above that chord, by Pythagoras only.
fn square_tee_heights(branch: f64, main: f64, shift: f64) -> Vec<f64> {
    let quarter = [0.0, 0.5, 3.0_f64.sqrt() / 2.0, 1.0];
    let index = [0, 1, 2, 3, 2, 1, 0, 1, 2, 3, 2, 1];
    index
        .iter()
        .enumerate()
        .map(|(part, step)| {
            let side = if part > 6 { -1.0 } else { 1.0 };
            let from_middle: f64 = side * branch / 2.0 * quarter[*step] - shift;
            ((main / 2.0).powi(2) - from_middle.powi(2)).max(0.0).sqrt()
        })
        .collect()
}

#[test]
fn square_tees_follow_the_twelve_part_construction() {
    // Equal tubes (Fig. 8, 9), a smaller branch, and one flush with the back of the main (Fig. 13).
    for (branch, main, shift) in [
        (44.45, 44.45, 0.0),
        (38.1, 44.45, 0.0),
        (38.1, 44.45, 3.175),
    ] {
        let template = template(branch, 1.5, main, 90.0, shift, CutMethod::Saw);
        let drawn = square_tee_heights(branch, main, shift);
        for (row, drawn) in ordinates(&template, 12).iter().zip(drawn) {
            let height = row.from_centre.unwrap().mm();
            assert!(
                (height - drawn).abs() < 2e-7,
                "{}: {height} drawn {drawn}",
                row.turn.deg()
            );
        }
    }
}

#[test]
fn divisions_are_equal_and_the_first_is_the_zero_line() {
    // "Layout for Metals" (Open Oregon), ch. 3: 16 equal spaces; 6 in outside diameter is 18.85 in round.
    let template = template(152.4, 3.0, 168.3, 90.0, 0.0, CutMethod::Saw);
    assert!((template.wrap().width().inches() - 18.85).abs() < 0.005);
    let rows = ordinates(&template, 16);
    assert_eq!(rows.len(), 16);
    for (part, row) in rows.iter().enumerate() {
        let share = f64::from(u32::try_from(part).unwrap()) / 16.0;
        assert!((row.around.mm() - template.wrap().width().mm() * share).abs() < 1e-9);
        assert!((row.turn.deg() - 360.0 * share).abs() < 1e-9);
        let (centre, mark) = (row.from_centre.unwrap(), row.from_mark.unwrap());
        assert!((centre + mark - template.mark_to_centre()).abs().mm() < 1e-9);
    }
}

#[test]
fn equal_oblique_tees_have_the_mitres_of_the_half_angle_table() {
    // FAA AC 43.13-1B, Table 4-7 (tangent of half the angle, 4 figures, truncated). An equal oblique
    // tee is two mitre planes (Atkins Fig. 11): the obtuse side is R tan(θ/2) deep, the acute side
    // R / tan(θ/2).
    for (angle, half_tangent) in [
        (30.0, 0.2679),
        (36.0, 0.3249),
        (45.0, 0.4142),
        (60.0, 0.5773),
        (72.0, 0.7265),
        (90.0, 1.000),
    ] {
        let template = template(50.0, 2.0, 50.0, angle, 0.0, CutMethod::Saw);
        let toe = template.cope().at(Angle::HALF).height().mm();
        let heel = template.cope().at(Angle::ZERO).height().mm();
        assert!((toe / 25.0 - half_tangent).abs() < 1.5e-4, "{angle}: {toe}");
        assert!(
            (25.0 / heel - half_tangent).abs() < 1.5e-4,
            "{angle}: {heel}"
        );
    }
}

#[test]
fn saddles_figured_on_the_bore_are_the_bore_trace() {
    // W. V. Graves, "The Pipe Fitters Blue Book" (1973), preface: saddle cuts are figured on the
    // branch's inside diameter against the header's outside diameter and cut radially. With equal
    // NPS 2 pipes (60.3 × 3.91 mm, ASME B36.10M) at 90° the side is √(30.15² − 26.24²) high.
    let bore = template(60.3, 3.91, 60.3, 90.0, 0.0, CutMethod::Bore);
    let side = bore.cope().at(Angle::QUARTER).height().mm();
    assert!(
        (side - (30.15_f64.powi(2) - 26.24_f64.powi(2)).sqrt()).abs() < 1e-9,
        "{side}"
    );
    // Cutting square to the wall at 90° without offset leaves the very same line: the bore is
    // everywhere the highest radius, so nothing else may stand proud of it.
    let square = template(60.3, 3.91, 60.3, 90.0, 0.0, CutMethod::Square);
    for step in 0..360 {
        let turn = Angle::from_deg(f64::from(step));
        assert!(
            (bore.cope().at(turn).height() - square.cope().at(turn).height())
                .abs()
                .mm()
                < 1e-9
        );
    }
}

#[test]
fn paper_adds_its_own_thickness_to_the_girth() {
    // 500 sheets of 75 g/m² measured 51.5 mm, 0.103 mm each (hypertextbook.com, J. Sherlis 2001);
    // the middle of the sheet keeps its length, so the girth grows by π t on any tube.
    for outside in [12.0, 60.3, 219.1] {
        let bare = Wrap::computed(Length::from_mm(outside), Length::ZERO).width();
        let papered = Wrap::computed(Length::from_mm(outside), Length::from_mm(0.103)).width();
        assert!((papered - bare).abs().mm() - PI * 0.103 < 1e-12);
        assert!(((papered - bare).mm() - 0.3236).abs() < 1e-4);
    }
}
