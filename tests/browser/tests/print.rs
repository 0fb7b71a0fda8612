//! What the `pdf` module reads from a page that Chromium printed, against the page's own lengths.
//!
//! 0.02 mm is more than ten times what Chromium itself is off: it makes A4 a whole number of CSS
//! pixels, which shortens 150 mm by 0.002 mm.
#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "tests fail by panicking"
)]

use std::sync::LazyLock;

use browser_tests::pdf::{Page as Sheet, Pdf, Point, distance};
use browser_tests::{Device, Page, Site};

const CLOSE_MM: f64 = 0.02;

const SHEETS: &str = r##"<!doctype html><html lang=en><title>Lines</title>
<style>
  html, body { margin: 0 }
  @page { size: 210mm 297mm; margin: 0 }
  svg { display: block; overflow: hidden }
  svg + svg { break-before: page }
  path, circle, rect { fill: none; stroke: #000; stroke-width: 0.2px }
</style>
<svg width="210mm" height="296.5mm" viewBox="0 0 210 296.5">
  <path d="M30 40H180"/>
  <path d="M30 40V190" style="stroke: #f00; stroke-width: .5px"/>
  <path d="M30 50H180" stroke-dasharray="6 2 1 2"/>
  <path d="M60 60L150 150" stroke-dasharray="4 3"/>
  <circle cx="120" cy="100" r="25"/>
  <path d="M30 200C60 230 90 170 120 200" id="curve"/>
  <g transform="translate(180 200) rotate(90)"><path d="M0 0H80L80 40Z"/></g>
  <svg x="20" y="250" width="40" height="20"><path d="M-10 10H100"/></svg>
  <text x="30" y="240" font-size="5">Heel 10 5/8″ − 0.004</text>
  <text transform="translate(190 150) rotate(90)" font-size="4">turned</text>
</svg>
<svg width="210mm" height="296.5mm" viewBox="0 0 210 296.5"><rect x="10" y="20" width="100" height="50"/></svg>"##;

/// Printed once, for all tests to read.
static PRINTED: LazyLock<Pdf> =
    LazyLock::new(|| Page::open_site(Site::of_page(SHEETS), Device::DESKTOP).print());

fn assert_close(what: &str, got: &[Point], wanted: &[Point]) {
    assert_eq!(got.len(), wanted.len(), "{what}: {got:?}");
    for (got, wanted) in got.iter().zip(wanted) {
        let off = distance(*got, *wanted);
        assert!(
            off <= CLOSE_MM,
            "{what}: {got:?} is {off} mm from {wanted:?}"
        );
    }
}

fn assert_mm(what: &str, got: f64, wanted: f64) {
    assert!(
        (got - wanted).abs() <= CLOSE_MM,
        "{what}: {got} mm, not {wanted} mm"
    );
}

#[test]
fn sheets_have_their_number_and_size() {
    let pdf = &*PRINTED;
    assert_eq!(pdf.pages.len(), 2);
    for sheet in &pdf.pages {
        // Chromium rounds the sheet to whole CSS pixels of 0.26 mm.
        assert!((sheet.width_mm - 210.0).abs() < 0.27, "{}", sheet.width_mm);
        assert!(
            (sheet.height_mm - 297.0).abs() < 0.27,
            "{}",
            sheet.height_mm
        );
    }
    let [second] = pdf.pages[1].strokes.as_slice() else {
        panic!("{:?}", pdf.pages[1].strokes);
    };
    assert!(second.closed);
    assert_close(
        "box",
        &second.points,
        &[[10.0, 20.0], [110.0, 20.0], [110.0, 70.0], [10.0, 70.0]],
    );
    assert_mm("around the box", second.length_mm(), 300.0);
}

#[test]
fn straight_lines_are_where_they_were_drawn() {
    let sheet = &PRINTED.pages[0];
    assert_close(
        "across",
        &sheet.strokes[0].points,
        &[[30.0, 40.0], [180.0, 40.0]],
    );
    assert_close(
        "down",
        &sheet.strokes[1].points,
        &[[30.0, 40.0], [30.0, 190.0]],
    );
    assert_mm("thin", sheet.strokes[0].width_mm, 0.2);
    assert_eq!(sheet.strokes[0].dash_mm, [0.0; 0]);
    assert_eq!(sheet.strokes[0].colour, [0.0; 3]);
    assert_eq!(sheet.strokes[1].colour, [1.0, 0.0, 0.0]);
    let thick: Vec<_> = sheet.strokes_of_width(0.5).collect();
    assert_eq!(thick, [&sheet.strokes[1]]);

    let turned = stroke_with_corner(sheet, [140.0, 280.0]);
    assert!(turned.closed);
    assert_close(
        "turned",
        &turned.points,
        &[[180.0, 200.0], [180.0, 280.0], [140.0, 280.0]],
    );
}

#[test]
fn curves_keep_their_shape() {
    let sheet = &PRINTED.pages[0];
    let circle = stroke_with_corner(sheet, [145.0, 100.0]);
    for point in &circle.points {
        assert_mm("radius", distance(*point, [120.0, 100.0]), 25.0);
    }
    assert_mm("around", circle.length_mm(), 50.0 * std::f64::consts::PI);

    // Bernstein form of the curve as it stands in the page.
    let control = [[30.0, 200.0], [60.0, 230.0], [90.0, 170.0], [120.0, 200.0]];
    let curve = stroke_with_corner(sheet, control[0]);
    for step in 0..=100 {
        let (t, u) = (f64::from(step) / 100.0, 1.0 - f64::from(step) / 100.0);
        let weights = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
        let on = [0, 1].map(|axis| (0..4).map(|i| weights[i] * control[i][axis]).sum());
        let off = distance_to_line(on, &curve.points);
        assert!(off <= CLOSE_MM, "{on:?} is {off} mm from the printed curve");
    }
}

#[test]
fn dashed_lines_are_recovered_from_their_filled_dashes() {
    let sheet = &PRINTED.pages[0];
    let lines = sheet.dashed_lines();
    let [level, slanted] = lines.as_slice() else {
        panic!("{} dashed lines", lines.len());
    };
    // 13 whole repeats of 11 mm make 143 mm, then 6 mm of dash; a gap fills the last millimetre.
    assert_close(
        "level",
        &[level.start(), level.end()],
        &[[30.0, 50.0], [179.0, 50.0]],
    );
    assert_mm("pen", level.width_mm, 0.2);
    for (got, wanted) in level
        .pattern_mm()
        .iter()
        .zip([6.0, 2.0, 1.0, 2.0].iter().cycle())
    {
        assert_mm("level pattern", *got, *wanted);
    }
    assert_eq!(level.dashes.len(), 27);

    assert_close("slanted", &[slanted.start()], &[[60.0, 60.0]]);
    assert_mm("pen", slanted.width_mm, 0.2);
    // 18 whole repeats of 7 mm leave a dash of what remains of 90√2 mm.
    let pattern = slanted.pattern_mm();
    let (rest, whole) = pattern.split_last().unwrap();
    for (got, wanted) in whole.iter().zip([4.0, 3.0].iter().cycle()) {
        assert_mm("slanted pattern", *got, *wanted);
    }
    assert_mm("last dash", *rest, 90.0 * 2.0_f64.sqrt() - 126.0);
}

#[test]
fn clip_tells_what_of_a_line_can_show() {
    let sheet = &PRINTED.pages[0];
    let clipped = stroke_with_corner(sheet, [120.0, 260.0]);
    assert_close(
        "clip",
        &[clipped.clip.min, clipped.clip.max],
        &[[20.0, 250.0], [60.0, 270.0]],
    );
    assert!(sheet.strokes[0].clip.contains([1.0, 1.0]));
}

#[test]
fn words_have_their_place_size_and_direction() {
    let sheet = &PRINTED.pages[0];
    assert!(sheet.says("10 5/8″ − 0.004"));
    let find = |words| {
        sheet
            .texts
            .iter()
            .find(|text| text.words.contains(words))
            .unwrap()
    };
    let level = find("Heel");
    assert_close("level", &[level.at], &[[30.0, 240.0]]);
    // Chromium lays text out in steps of its own, so the size is a little off.
    assert!((level.size_mm - 5.0).abs() < 0.05, "{}", level.size_mm);
    assert!(level.turned_deg.abs() < 0.01);
    let turned = find("turned");
    assert_close("turned", &[turned.at], &[[190.0, 150.0]]);
    assert!((turned.turned_deg - 90.0).abs() < 0.01);
}

/// The stroke that passes through a corner or end at this point.
fn stroke_with_corner(sheet: &Sheet, at: Point) -> &browser_tests::pdf::Stroke {
    let near = |point: &Point| distance(*point, at) < 0.1;
    let found = sheet
        .strokes
        .iter()
        .find(|stroke| stroke.points.iter().any(near));
    found.unwrap_or_else(|| panic!("no stroke at {at:?}: {:#?}", sheet.strokes))
}

fn distance_to_line(p: Point, line: &[Point]) -> f64 {
    let to_segment = |a: Point, b: Point| {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy);
        let t = t.clamp(0.0, 1.0);
        distance(p, [a[0] + t * dx, a[1] + t * dy])
    };
    let distances = line.windows(2).map(|ab| to_segment(ab[0], ab[1]));
    distances.fold(f64::INFINITY, f64::min)
}
