//! Rulers and printers: true scale on both axes, corrected when measured wrong.

use crate::common::*;

#[test]
fn every_sheet_has_both_rulers_both_ways_at_true_scale() {
    // 4 in = 101.6 mm by definition of the inch (ISO 80000-3).
    for paper in Paper::ALL {
        for way in [Orientation::Upright, Orientation::Sideways] {
            let printer = printer().with_orientation(way);
            for case in cases() {
                let sheets = packet_on(case, paper, &printer, "", Unit::Millimetre);
                let table = table_on(case, paper, &printer, Unit::Inch, 16);
                for page in sheets.pages.iter().chain(&table.pages) {
                    let (across, along) = rulers(page);
                    assert_close(&across, &[100.0, 101.6]);
                    assert_close(&along, &[100.0, 101.6]);
                }
            }
        }
    }
}

#[test]
fn ruler_ticks_stand_at_every_millimetre_and_sixteenth() {
    let packet = packet(USUAL);
    let page = &packet.pages[0];
    let level: Vec<&[Point]> = strokes(page, Layer::Ruler)
        .into_iter()
        .map(|(_, points)| points)
        .filter(|p| (p[0].x - p[1].x).abs() < 1e-9 && (p[0].y - p[1].y).abs() < 6.0)
        .collect();
    let zero = level.iter().map(|p| p[0].x).fold(f64::MAX, f64::min);
    let has = |at: f64| level.iter().any(|p| (p[0].x - zero - at).abs() < 1e-9);
    assert!((0..=100).all(|tick| has(f64::from(tick))));
    assert!((0..=64).all(|tick| has(f64::from(tick) * 25.4 / 16.0)));
    assert_eq!(level.len(), 101 + 65);
}

#[test]
fn a_calibrated_printer_gets_exactly_the_correction_on_either_axis() {
    // A printer whose rulers measured 100/1.01 and 100/0.99 needs 1.01 × 0.99.
    for way in [Orientation::Upright, Orientation::Sideways] {
        let printer = printer()
            .with_orientation(way)
            .measured(Ruler::Millimetres, mm(100.0 / 1.01), mm(100.0 / 0.99))
            .unwrap();
        for case in cases() {
            let packet = packet_on(case, Paper::A4, &printer, "Axle", Unit::Millimetre);
            assert!(packet.corrected);
            for page in &packet.pages {
                let (across, along) = rulers(page);
                assert_close(&across, &[101.0, 101.6 * 1.01]);
                assert_close(&along, &[99.0, 101.6 * 0.99]);
                assert!(words(page).contains("across × 1.0100, along × 0.9900"));
            }
        }
    }
}

#[test]
fn a_correction_is_refined_by_measuring_the_corrected_print() {
    let inches = |inches: f64| Length::from_inches(inches);
    let first = printer()
        .measured(Ruler::Inches, inches(3.96), inches(4.0))
        .unwrap();
    assert!((first.across() - 4.0 / 3.96).abs() < 1e-12);
    assert!((first.along() - 1.0).abs() < 1e-12);
    let true_now = first
        .clone()
        .measured(Ruler::Millimetres, mm(100.0), mm(100.0))
        .unwrap();
    assert_eq!(first, true_now);
    let second = first
        .measured(Ruler::Millimetres, mm(99.5), mm(100.0))
        .unwrap();
    assert!((second.across() - 4.0 / 3.96 / 0.995).abs() < 1e-12);
    assert!(!second.uncorrected().is_corrected());
}

#[test]
fn the_other_rulers_length_is_recognised() {
    let fits = |ruler: Ruler, across: f64| {
        Printer::default()
            .measured(ruler, mm(across), ruler.length())
            .unwrap_err()
    };
    let told = fits(Ruler::Millimetres, 101.6).sentence(Unit::Millimetre);
    assert!(told.contains("what the 4 in ruler measures"), "{told}");
    let told = fits(Ruler::Inches, 100.1).sentence(Unit::Millimetre);
    assert!(told.contains("what the 100 mm ruler measures"), "{told}");
}

#[test]
fn a_rescaled_page_is_refused_with_what_to_do() {
    // WebKit's enlargement and the fit-to-page reductions are under 10 %; half a page is not.
    let error = printer()
        .measured(Ruler::Millimetres, mm(66.7), mm(100.0))
        .unwrap_err();
    let sentence = error.sentence(Unit::Millimetre);
    assert!(sentence.contains("66.7 mm"), "{sentence}");
    assert!(sentence.contains("33.3 %"), "{sentence}");
    assert!(sentence.contains("100 %"), "{sentence}");
    for nonsense in [0.0, -3.0, f64::NAN, f64::INFINITY] {
        let error = printer()
            .measured(Ruler::Inches, mm(nonsense), mm(101.6))
            .unwrap_err();
        assert!(!error.sentence(Unit::Inch).contains("NaN"));
    }
    assert_eq!(
        printer().with_margin(mm(3.0)),
        Err(PrinterError::Margin { is: mm(3.0) })
    );
    assert!(printer().with_margin(mm(f64::NAN)).is_err());
}

#[test]
fn a_printer_survives_its_store_and_a_damaged_one_is_refused() {
    let printer = printer()
        .with_margin(mm(6.0))
        .unwrap()
        .with_orientation(Orientation::Sideways)
        .measured(Ruler::Millimetres, mm(99.2), mm(100.6))
        .unwrap();
    let kept = serde_json::to_string(&printer).unwrap();
    let read: Printer = serde_json::from_str(&kept).unwrap();
    // The JSON reader rounds the last bit of a decimal its own way.
    assert!((read.across() - printer.across()).abs() < 1e-15);
    assert!((read.along() - printer.along()).abs() < 1e-15);
    assert_eq!(read.clone().uncorrected(), printer.clone().uncorrected());
    for damaged in [
        r#"{"name":"a","margin_mm":400}"#,
        r#"{"name":"a","margin_mm":10,"across":0}"#,
        r#"{"name":"a","margin_mm":10,"along":-1}"#,
        r#"{"name":"a","margin_mm":10,"along":1e300}"#,
        r#"{"margin_mm":10}"#,
    ] {
        assert!(
            serde_json::from_str::<Printer>(damaged).is_err(),
            "{damaged}"
        );
    }
}
