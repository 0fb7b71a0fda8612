//! The printed sheet: true scale, nothing lost, nothing over anything else.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use copewright::cope::{Cope, CutMethod};
use copewright::job::{Orientation, Printer, PrinterError, Ruler};
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{Template, Wrap, ordinates};
use copewright::sheet::{
    Anchor, Drawing, Item, Layer, Order, Packet, Pen, Point, SheetError, lay_out, lay_out_table,
};
use copewright::stock::Paper;
use copewright::units::{Angle, Denominator, Length, Unit, write_length};
use copewright::write::{Ink, NotFinite, SvgName, csv, svg_document, svg_inline};

const LINK: &str =
    "https://copewright.example/#v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60";

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// A joint of the launching trolley, or of something much larger or smaller.
#[derive(Clone, Copy)]
struct Case {
    branch: f64,
    wall: f64,
    main: f64,
    angle: f64,
    offset: f64,
    method: CutMethod,
    heel: f64,
}

const USUAL: Case = Case {
    branch: 42.4,
    wall: 2.6,
    main: 48.3,
    angle: 60.0,
    offset: 0.0,
    method: CutMethod::Saw,
    heel: 0.0,
};

impl Case {
    fn template(&self) -> Template {
        let tube = RoundTube::new(mm(self.branch), mm(self.wall)).unwrap();
        let angle = Angle::from_deg(self.angle);
        let joint = Joint::round(tube, mm(self.main), angle, mm(self.offset)).unwrap();
        let cope = Cope::new(&joint, self.method, Length::ZERO).unwrap();
        let wrap = Wrap::computed(mm(self.branch), mm(0.1));
        Template::new(cope, wrap, Angle::from_deg(self.heel), mm(10.0))
    }
}

/// Ordinary, tiny, huge, shallow, hanging past, wider than the main, turned.
fn cases() -> Vec<Case> {
    vec![
        USUAL,
        Case {
            offset: 5.0,
            heel: 30.0,
            method: CutMethod::Square,
            ..USUAL
        },
        Case {
            offset: -7.0,
            heel: 211.0,
            angle: 47.0,
            ..USUAL
        },
        Case {
            branch: 3.0,
            wall: 0.5,
            main: 3.2,
            ..USUAL
        },
        Case {
            branch: 6.0,
            wall: 1.0,
            main: 8.0,
            offset: 1.0,
            ..USUAL
        },
        Case {
            branch: 12.0,
            wall: 1.0,
            main: 10.0,
            angle: 45.0,
            ..USUAL
        },
        Case {
            branch: 20.0,
            wall: 1.5,
            main: 25.0,
            angle: 30.0,
            heel: 90.0,
            ..USUAL
        },
        Case {
            branch: 42.4,
            main: 42.4,
            angle: 90.0,
            ..USUAL
        },
        Case {
            branch: 60.3,
            wall: 3.0,
            angle: 75.0,
            ..USUAL
        },
        Case {
            offset: 20.0,
            angle: 70.0,
            ..USUAL
        },
        Case {
            angle: 15.0,
            ..USUAL
        },
        Case {
            angle: 5.0,
            method: CutMethod::Square,
            ..USUAL
        },
        Case {
            branch: 76.1,
            wall: 3.2,
            main: 76.1,
            angle: 45.0,
            offset: -12.0,
            ..USUAL
        },
        Case {
            branch: 219.1,
            wall: 6.3,
            main: 273.0,
            ..USUAL
        },
        Case {
            branch: 219.1,
            wall: 6.3,
            main: 219.1,
            angle: 30.0,
            offset: 40.0,
            heel: 77.0,
            ..USUAL
        },
    ]
}

fn printer() -> Printer {
    Printer::new("by the window")
}

fn packet_on(case: Case, paper: Paper, printer: &Printer, label: &str, unit: Unit) -> Packet {
    let template = case.template();
    lay_out(&Order {
        template: &template,
        unit,
        label,
        link: LINK,
        date: "14 May 2026",
        paper,
        printer,
    })
    .unwrap()
}

fn packet(case: Case) -> Packet {
    packet_on(
        case,
        Paper::A4,
        &printer(),
        "Drawbar to axle beam",
        Unit::Millimetre,
    )
}

fn table_on(case: Case, paper: Paper, printer: &Printer, unit: Unit, divisions: u32) -> Packet {
    let template = case.template();
    let order = Order {
        template: &template,
        unit,
        label: "Drawbar to axle beam",
        link: LINK,
        date: "14 May 2026",
        paper,
        printer,
    };
    lay_out_table(&order, divisions)
}

/// Strokes of a layer: pen and points.
fn strokes(page: &Drawing, wanted: Layer) -> Vec<(Pen, &[Point])> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Stroke {
                layer,
                pen,
                points,
                filled: false,
                ..
            } if *layer == wanted => Some((*pen, points.as_slice())),
            _ => None,
        })
        .collect()
}

/// Room of a line of text at 0.6 em a letter, a capital's height up and a descender down.
fn text_box(item: &Item) -> Option<(f64, f64, f64, f64)> {
    let Item::Text {
        at,
        size,
        anchor,
        turn,
        text,
        ..
    } = item
    else {
        return None;
    };
    let width = 0.6 * size * text.chars().count() as f64;
    let start = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (sin, cos) = turn.rad().sin_cos();
    let corners = [
        (start, -0.75 * size),
        (start + width, -0.75 * size),
        (start, 0.2 * size),
        (start + width, 0.2 * size),
    ]
    .map(|(x, y)| (at.x + x * cos - y * sin, at.y + x * sin + y * cos));
    let low = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::MAX, f64::min);
    let high = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::MIN, f64::max);
    Some((low(|c| c.0), low(|c| c.1), high(|c| c.0), high(|c| c.1)))
}

fn texts(page: &Drawing) -> Vec<&str> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.as_str()),
            Item::Stroke { .. } => None,
        })
        .collect()
}

/// All words of a page as one text, lines joined.
fn words(page: &Drawing) -> String {
    texts(page).join(" ")
}

/// Lengths of the long straight strokes of the rulers: across (x) and along (y).
fn rulers(page: &Drawing) -> (Vec<f64>, Vec<f64>) {
    let (mut across, mut along) = (Vec::new(), Vec::new());
    for (_, points) in strokes(page, Layer::Ruler) {
        let (dx, dy) = (
            (points[1].x - points[0].x).abs(),
            (points[1].y - points[0].y).abs(),
        );
        if dx > 50.0 && dy < 1e-9 {
            across.push(dx);
        }
        if dy > 50.0 && dx < 1e-9 {
            along.push(dy);
        }
    }
    across.sort_by(f64::total_cmp);
    along.sort_by(f64::total_cmp);
    (across, along)
}

fn assert_close(is: &[f64], expected: &[f64]) {
    assert_eq!(is.len(), expected.len(), "{is:?}");
    for (a, b) in is.iter().zip(expected) {
        assert!((a - b).abs() < 1e-9, "{is:?} instead of {expected:?}");
    }
}

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

#[test]
fn page_boxes_are_upright_and_half_a_millimetre_lower_than_the_sheet() {
    // ISO 216 and the North American sizes, mm.
    let sizes = [
        (Paper::A4, 210.0, 297.0),
        (Paper::A3, 297.0, 420.0),
        (Paper::Letter, 215.9, 279.4),
        (Paper::Legal, 215.9, 355.6),
        (Paper::Tabloid, 279.4, 431.8),
    ];
    for (paper, width, height) in sizes {
        for way in [Orientation::Upright, Orientation::Sideways] {
            let printer = printer().with_orientation(way);
            for page in packet_on(USUAL, paper, &printer, "", Unit::Inch).pages {
                assert!((page.width - width).abs() < 1e-9);
                assert!((page.height - (height - 0.5)).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn nothing_is_outside_the_printer_margin() {
    for margin in [4.0, 10.0, 25.0] {
        for (across, along) in [(100.0, 100.0), (91.0, 109.0), (109.0, 91.0)] {
            for paper in Paper::ALL {
                for way in [Orientation::Upright, Orientation::Sideways] {
                    let printer = printer()
                        .with_margin(mm(margin))
                        .unwrap()
                        .with_orientation(way)
                        .measured(Ruler::Millimetres, mm(across), mm(along))
                        .unwrap();
                    let label = "Left upright, lower end";
                    for case in [cases()[1], cases()[4], cases()[9], cases()[12], cases()[13]] {
                        let sheets = packet_on(case, paper, &printer, label, Unit::Inch);
                        let table = table_on(case, paper, &printer, Unit::Inch, 32);
                        for page in sheets.pages.iter().chain(&table.pages) {
                            assert_within(page, margin);
                        }
                    }
                }
            }
        }
    }
}

fn assert_within(page: &Drawing, margin: f64) {
    // A pen on the very edge of the printable area hangs over it by half its width.
    let slack = 0.13;
    let (right, bottom) = (page.width - margin, page.height + 0.5 - margin);
    let inside = |x: f64, y: f64| {
        x >= margin - slack && x <= right + slack && y >= margin - slack && y <= bottom + slack
    };
    for item in &page.items {
        if let Item::Stroke { points, .. } = item {
            assert!(points.iter().all(|p| inside(p.x, p.y)), "{item:?}");
        }
        if let Some((x0, y0, x1, y1)) = text_box(item) {
            assert!(inside(x0, y0) && inside(x1, y1), "{item:?}");
        }
    }
}

#[test]
fn words_stand_clear_of_words_and_of_the_cut() {
    let long = "Left upright brace of the launching trolley, lower end, second from the bow, cut \
                four and mark them with a punch";
    let units = [Unit::Millimetre, Unit::Fraction(Denominator::SixtyFourth)];
    for paper in [Paper::A4, Paper::Letter, Paper::Tabloid] {
        for (label, unit) in ["", "Axle", long]
            .into_iter()
            .zip(units.into_iter().cycle())
        {
            for case in cases() {
                let sheets = packet_on(case, paper, &printer(), label, unit);
                let table = table_on(case, paper, &printer(), unit, 32);
                for page in sheets.pages.iter().chain(&table.pages) {
                    assert_apart(page);
                }
            }
        }
    }
}

fn assert_apart(page: &Drawing) {
    let boxes: Vec<_> = page
        .items
        .iter()
        .filter_map(|item| text_box(item).map(|area| (area, item)))
        .collect();
    for (i, (a, first)) in boxes.iter().enumerate() {
        for (b, second) in &boxes[i + 1..] {
            let overlap = a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3;
            assert!(!overlap, "{first:?} over {second:?}");
        }
    }
    for layer in [
        Layer::Cut,
        Layer::Trim,
        Layer::Tab,
        Layer::Mark,
        Layer::Zero,
        Layer::Quarter,
    ] {
        for (_, points) in strokes(page, layer) {
            for pair in points.windows(2) {
                for step in 0..=20 {
                    let part = f64::from(step) / 20.0;
                    let x = pair[0].x + (pair[1].x - pair[0].x) * part;
                    let y = pair[0].y + (pair[1].y - pair[0].y) * part;
                    for (area, item) in &boxes {
                        let inside = area.0 < x && x < area.2 && area.1 < y && y < area.3;
                        assert!(!inside, "{item:?} on the {} line", layer.name());
                    }
                }
            }
        }
    }
}

/// Zero line, mark line and the cut line of a packet of one upright sheet, in paper coordinates.
struct OnPaper {
    zero_x: f64,
    full_x: f64,
    mark_y: f64,
    cut: Vec<Point>,
}

fn on_paper(page: &Drawing) -> OnPaper {
    let zeros: Vec<f64> = strokes(page, Layer::Zero)
        .iter()
        .map(|(_, p)| p[0].x)
        .collect();
    let mark = strokes(page, Layer::Mark);
    OnPaper {
        zero_x: zeros.iter().copied().fold(f64::MIN, f64::max),
        full_x: zeros.iter().copied().fold(f64::MAX, f64::min),
        mark_y: mark[0].1[0].y,
        cut: strokes(page, Layer::Cut)
            .iter()
            .chain(&strokes(page, Layer::Trim))
            .flat_map(|(_, points)| points.iter().copied())
            .collect(),
    }
}

#[test]
fn a_larger_turn_is_further_left_and_the_cut_is_at_the_top() {
    for case in [USUAL, cases()[1], cases()[9]] {
        let template = case.template();
        let packet = packet(case);
        assert_eq!(packet.pages.len(), 1);
        let paper = on_paper(&packet.pages[0]);
        let width = template.wrap().width().mm();
        assert!((paper.zero_x - paper.full_x - width).abs() < 1e-9);
        for point in &paper.cut {
            let turn = Angle::FULL * ((paper.zero_x - point.x) / width);
            let height = template.station(turn).point.above_mark.mm();
            assert!((paper.mark_y - point.y - height).abs() < 1e-6);
        }
        let labels: Vec<f64> = ["0°", "90°", "180°", "270°", "360°"]
            .map(|wanted| {
                let found = packet.pages[0].items.iter().find_map(|item| match item {
                    Item::Text { at, text, .. } if text == wanted => Some(at.x),
                    _ => None,
                });
                found.unwrap()
            })
            .to_vec();
        assert!(
            labels.windows(2).all(|pair| pair[0] > pair[1]),
            "{labels:?}"
        );
    }
}

#[test]
fn the_offset_is_told_by_the_line_on_whose_side_the_main_lies() {
    // The main reaches further up the branch on the side where its axis lies.
    for (offset, heel, side, other) in [
        (5.0, 0.0, 90.0, 270.0),
        (-5.0, 0.0, 270.0, 90.0),
        (5.0, 30.0, 120.0, 300.0),
        (-5.0, 300.0, 210.0, 30.0),
    ] {
        let case = Case {
            offset,
            heel,
            ..USUAL
        };
        let template = case.template();
        let height = |deg: f64| template.station(Angle::from_deg(deg)).point.above_mark;
        assert!(height(side) < height(other));
        let text = words(&packet(case).pages[0]);
        let told = format!("5 mm, main towards the {side}° line");
        assert!(text.contains(&told), "{told} not in {text}");
    }
}

#[test]
fn the_tab_repeats_the_first_lines() {
    for case in [USUAL, cases()[1], cases()[2], cases()[4], cases()[9]] {
        let template = case.template();
        let packet = packet(case);
        let page = &packet.pages[0];
        let paper = on_paper(page);
        let width = template.wrap().width().mm();
        let repeated: Vec<Point> = strokes(page, Layer::Tab)
            .iter()
            .flat_map(|(_, points)| points.iter().copied())
            .collect();
        let end = repeated.iter().map(|p| p.x).fold(f64::MAX, f64::min);
        let tab = paper.full_x - end;
        assert!((3.0..=12.0).contains(&tab) || tab <= width * 0.5, "{tab}");
        for point in &repeated {
            let turn = Angle::FULL * ((paper.full_x - point.x) / width);
            let height = template.station(turn).point.above_mark.mm();
            // The last point is on a chord of the first line, not on the curve.
            assert!((paper.mark_y - point.y - height).abs() < 0.02);
        }
        let firsts = paper.cut.iter().filter(|p| paper.zero_x - p.x < tab - 1e-6);
        for first in firsts {
            let again = Point::new(first.x - width, first.y);
            assert!(
                repeated
                    .iter()
                    .any(|p| (p.x - again.x).hypot(p.y - again.y) < 1e-9),
                "{first:?}"
            );
        }
    }
}

/// Centres of the registration crosses on a page.
fn crosses(page: &Drawing) -> Vec<Point> {
    strokes(page, Layer::Check)
        .iter()
        .filter(|(pen, p)| *pen == Pen::THIN && p.len() == 2 && (p[0].y - p[1].y).abs() < 1e-9)
        .map(|(_, p)| Point::new((p[0].x + p[1].x) / 2.0, p[0].y))
        .collect()
}

/// Lays tiles cross on cross and checks the whole cut line; `beside` says whether the next tile
/// lies to the right, else below.
fn assert_joins(template: &Template, pages: &[Drawing], beside: bool) {
    let along = |p: &Point| if beside { p.x } else { p.y };
    let edge = |crosses: &[Point], last: bool| -> Vec<Point> {
        let extreme = crosses.iter().map(along).fold(
            if last { f64::MIN } else { f64::MAX },
            if last { f64::max } else { f64::min },
        );
        let mut found: Vec<Point> = crosses
            .iter()
            .copied()
            .filter(|p| (along(p) - extreme).abs() < 1e-6)
            .collect();
        found.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        found
    };
    // Shift of every page into the frame of the first.
    let mut shift = Point::new(0.0, 0.0);
    let mut shifts = vec![shift];
    for pair in pages.windows(2) {
        let here = edge(&crosses(&pair[0]), true);
        let there = edge(&crosses(&pair[1]), false);
        assert!(here.len() >= 2, "two crosses at every join");
        assert_eq!(here.len(), there.len());
        let step = Point::new(here[0].x - there[0].x, here[0].y - there[0].y);
        for (a, b) in here.iter().zip(&there) {
            assert!((a.x - b.x - step.x).abs() < 1e-9 && (a.y - b.y - step.y).abs() < 1e-9);
        }
        shift = Point::new(shift.x + step.x, shift.y + step.y);
        shifts.push(shift);
    }
    let moved = |wanted: Layer| -> Vec<Vec<Point>> {
        pages
            .iter()
            .zip(&shifts)
            .flat_map(|(page, shift)| {
                strokes(page, wanted)
                    .into_iter()
                    .map(|(_, points)| {
                        points
                            .iter()
                            .map(|p| Point::new(p.x + shift.x, p.y + shift.y))
                            .collect()
                    })
                    .collect::<Vec<_>>()
            })
            .collect()
    };
    let zero_x = moved(Layer::Zero)
        .iter()
        .map(|p| p[0].x)
        .fold(f64::MIN, f64::max);
    let mark_y = moved(Layer::Mark)[0][0].y;
    let mut pieces = moved(Layer::Cut);
    pieces.extend(moved(Layer::Trim));
    let whole: Vec<Vec<Point>> = template
        .line()
        .iter()
        .map(|run| {
            run.points
                .iter()
                .map(|p| Point::new(zero_x - p.around.mm(), mark_y - p.above_mark.mm()))
                .collect()
        })
        .collect();
    let near = |p: &Point, lines: &[Vec<Point>]| {
        lines
            .iter()
            .flat_map(|line| line.windows(2))
            .map(|pair| distance(p, &pair[0], &pair[1]))
            .fold(f64::MAX, f64::min)
    };
    for piece in &pieces {
        for point in piece {
            assert!(near(point, &whole) < 1e-9, "{point:?} is not on the line");
        }
    }
    for line in &whole {
        for pair in line.windows(2) {
            for part in [0.0, 0.37, 1.0] {
                let p = Point::new(
                    pair[0].x + (pair[1].x - pair[0].x) * part,
                    pair[0].y + (pair[1].y - pair[0].y) * part,
                );
                assert!(near(&p, &pieces) < 1e-9, "{p:?} is on no tile");
            }
        }
    }
}

/// Distance of a point from a segment.
fn distance(p: &Point, a: &Point, b: &Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 {
        (((p.x - a.x) * dx + (p.y - a.y) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.x - a.x - dx * t).hypot(p.y - a.y - dy * t)
}

#[test]
fn tiles_laid_cross_on_cross_give_the_whole_cut_line() {
    let upright = printer().with_orientation(Orientation::Upright);
    for (case, paper, columns, rows) in [
        (cases()[13], Paper::A4, 5, 1),
        (cases()[13], Paper::Letter, 5, 1),
        (cases()[12], Paper::Letter, 2, 1),
        (
            Case {
                angle: 5.0,
                ..USUAL
            },
            Paper::A4,
            1,
            3,
        ),
    ] {
        let packet = packet_on(case, paper, &upright, "Axle", Unit::Millimetre);
        assert_eq!((packet.columns, packet.rows), (columns, rows));
        let tiles = (columns * rows) as usize;
        let first = packet.pages.len() - tiles;
        assert_joins(&case.template(), &packet.pages[first..], columns > 1);
    }
}

#[test]
fn tiles_overlap_by_a_centimetre_and_say_where_they_lie() {
    let packet = packet(cases()[13]);
    for (i, page) in packet.pages.iter().enumerate() {
        let text = words(page);
        assert!(
            text.contains(&format!("column {} of 5, row 1 of 1", i + 1)),
            "{text}"
        );
        assert!(text.contains(&format!("sheet {} of 5", i + 1)));
        let names: Vec<&str> = texts(page);
        for neighbour in 1..=5 {
            let named = names.contains(&format!("column {neighbour}").as_str());
            assert_eq!(named, neighbour == i || neighbour == i + 2, "{names:?}");
        }
    }
    // Two tiles show the same crosses, and the cut line for at least 5 mm past them.
    let reach = |page: &Drawing| {
        let xs = strokes(page, Layer::Cut);
        let xs = xs.iter().flat_map(|(_, points)| points.iter().map(|p| p.x));
        xs.fold(f64::MIN, f64::max)
    };
    let join = crosses(&packet.pages[0])
        .iter()
        .map(|p| p.x)
        .fold(f64::MIN, f64::max);
    assert!(reach(&packet.pages[0]) - join >= 5.0);
}

#[test]
fn sheets_are_saved() {
    let count = |case: Case, paper, way| {
        let printer = printer().with_orientation(way);
        packet_on(case, paper, &printer, "Axle", Unit::Millimetre)
            .pages
            .len()
    };
    assert_eq!(count(USUAL, Paper::A4, Orientation::Auto), 1);
    for case in cases() {
        for paper in Paper::ALL {
            let both = count(case, paper, Orientation::Upright).min(count(
                case,
                paper,
                Orientation::Sideways,
            ));
            assert_eq!(count(case, paper, Orientation::Auto), both);
        }
    }
    let wide = packet(cases()[8]);
    assert!(
        wide.turned && wide.notes[0].contains("instead of"),
        "{:?}",
        wide.notes
    );
    assert!(!packet(USUAL).turned, "upright when both take as many");
    let larger = packet_on(cases()[13], Paper::A3, &printer(), "", Unit::Millimetre);
    assert!(larger.pages.len() < packet(cases()[13]).pages.len());
}

#[test]
fn the_largest_tube_is_laid_out_or_refused_in_words() {
    let huge = Case {
        branch: 2000.0,
        wall: 10.0,
        main: 2000.0,
        angle: 90.0,
        ..USUAL
    };
    let packet = packet_on(huge, Paper::A3, &printer(), "Tank", Unit::Millimetre);
    assert!(packet.pages.len() > 20);
    let template = Case { angle: 5.0, ..huge }.template();
    let printer = printer();
    let order = Order {
        template: &template,
        unit: Unit::Millimetre,
        label: "",
        link: "",
        date: "",
        paper: Paper::A4,
        printer: &printer,
    };
    let error = lay_out(&order).unwrap_err();
    assert!(matches!(
        error,
        SheetError::TooManySheets {
            paper: Paper::A4,
            ..
        }
    ));
    assert!(error.sentence().contains("larger paper"));
}

#[test]
fn the_first_sheet_says_all_that_is_needed() {
    for case in cases() {
        for unit in Unit::ALL {
            let template = case.template();
            let packet = packet_on(case, Paper::A4, &printer(), "Drawbar to axle beam", unit);
            let text = words(&packet.pages[0]).replace('\u{a0}', " ");
            for needed in [
                "Drawbar to axle beam".to_owned(),
                "Included angle".to_owned(),
                "Off square".to_owned(),
                "Root gap".to_owned(),
                "14 May 2026".to_owned(),
                "A4, print at 100 %".to_owned(),
                "Geometry only.".to_owned(),
                "no gloves".to_owned(),
                "toxic fume".to_owned(),
                write_length(template.mark_to_long(), unit),
                write_length(template.mark_to_short(), unit),
                write_length(template.mark_to_centre(), unit),
                write_length(template.wrap().width(), unit),
            ] {
                assert!(text.contains(&needed), "{needed:?} not in {text}");
            }
            let glued: String = texts(&packet.pages[0]).concat();
            assert!(glued.contains(LINK));
            let all: String = packet.pages.iter().map(words).collect::<Vec<_>>().join(" ");
            for needed in [
                "heel",
                "toe",
                "long point",
                "short point",
                "mark line",
                "tube",
                "waste",
            ] {
                assert!(all.contains(needed), "{needed:?} is on no sheet: {all}");
            }
            for page in &packet.pages {
                let text = words(page);
                assert!(text.contains("A4, print at 100 %"));
                assert!(text.contains("Measure before cutting"));
                assert!(text.contains("100 % (actual"), "{text}");
            }
            let beside = !template.cope().beside().is_empty();
            assert_eq!(all.contains("Beside the main"), beside);
        }
    }
}

#[test]
fn the_card_has_its_standard_size() {
    // ISO/IEC 7810, ID-1: 85.60 × 53.98 mm.
    for case in cases() {
        let packet = packet(case);
        let corners: Vec<Point> = strokes(&packet.pages[0], Layer::Check)
            .iter()
            .filter(|(_, points)| points.len() == 3)
            .map(|(_, points)| points[1])
            .collect();
        if corners.is_empty() {
            assert!(packet.notes.iter().any(|note| note.contains("bank-card")));
            continue;
        }
        assert_eq!(corners.len(), 4);
        let (mut wide, mut high) = (
            (corners[1].x - corners[0].x).abs(),
            (corners[2].y - corners[1].y).abs(),
        );
        if packet.turned {
            wide = (corners[1].y - corners[0].y).abs();
            high = (corners[2].x - corners[1].x).abs();
        }
        assert!((wide - 85.60).abs() < 1e-9 && (high - 53.98).abs() < 1e-9);
    }
    assert!(packet(USUAL).notes.is_empty());
}

#[test]
fn only_the_cut_line_has_its_width() {
    for case in cases() {
        for page in packet(case).pages {
            for item in &page.items {
                if let Item::Stroke {
                    layer,
                    pen,
                    filled: false,
                    ..
                } = item
                {
                    assert_eq!(pen.width == Pen::CUT.width, *layer == Layer::Cut);
                }
            }
        }
    }
}

#[test]
fn the_table_page_holds_every_ordinate() {
    for divisions in [8, 16, 32] {
        let packet = table_on(
            USUAL,
            Paper::Letter,
            &printer(),
            Unit::Millimetre,
            divisions,
        );
        let template = USUAL.template();
        let all: Vec<String> = packet
            .pages
            .iter()
            .flat_map(|page| texts(page).into_iter().map(str::to_owned))
            .collect();
        for line in ordinates(&template, divisions) {
            for length in [Some(line.around), line.from_mark, line.from_centre] {
                let text = write_length(length.unwrap(), Unit::Millimetre);
                assert!(all.contains(&text), "{text}");
            }
        }
    }
}

#[test]
fn a_hostile_label_stays_a_label() {
    let label =
        "</text><script>alert(1)</script>\"' onload=\"x\" & ]]> \u{0}\u{8}\u{202e}gpj\u{fffe}";
    for case in [USUAL, cases()[4], cases()[13]] {
        let packet = packet_on(case, Paper::A4, &printer(), label, Unit::Millimetre);
        for page in &packet.pages {
            for text in [
                svg_document(page, label).unwrap(),
                svg_inline(page, Ink::Inherited, SvgName::Picture(label)).unwrap(),
            ] {
                assert!(!text.contains("<script"), "{text}");
                assert!(!text.contains(['\u{0}', '\u{8}', '\u{fffe}']));
                let mut open = 0_i32;
                for event in svg::read(&text).unwrap() {
                    use svg::node::element::tag::Type;
                    use svg::parser::Event;
                    match event {
                        Event::Error(error) => panic!("{error:?}"),
                        Event::Tag(name, kind, attributes) => {
                            assert!(
                                ["svg", "title", "g", "path", "text"].contains(&name),
                                "{name}"
                            );
                            assert!(attributes.keys().all(|key| !key.starts_with("on")));
                            open += match kind {
                                Type::Start => 1,
                                Type::End => -1,
                                Type::Empty => 0,
                            };
                        }
                        _ => {}
                    }
                }
                assert_eq!(open, 0);
            }
        }
    }
}

#[test]
fn svg_is_in_millimetres_and_always_the_same() {
    let first = packet(USUAL);
    let text = svg_document(&first.pages[0], "Template").unwrap();
    assert_eq!(first, packet(USUAL));
    assert_eq!(
        text,
        svg_document(&packet(USUAL).pages[0], "Template").unwrap()
    );
    assert!(text.contains(r#"width="210mm""#) && text.contains(r#"height="296.5mm""#));
    assert!(text.contains(r#"viewBox="0 0 210 296.5""#));
    assert!(text.contains("<title>Template</title>"));
    assert!(text.contains(r#"<g class="cut">"#) && text.contains(r#"stroke-width="0.35""#));
    assert!(!text.contains("NaN") && !text.contains("inf"));
    // No minus zero, no exponent, no more than 1 µm.
    for number in text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '.' || c == '-')) {
        assert_ne!(number, "-0");
    }
    let inline = svg_inline(&first.pages[0], Ink::Black, SvgName::Hidden).unwrap();
    assert!(inline.starts_with("<svg") && inline.contains(r#"aria-hidden="true""#));
    let named = svg_inline(&first.pages[0], Ink::Black, SvgName::Picture("a & b")).unwrap();
    assert!(named.contains(r#"role="img""#) && named.contains(r#"aria-label="a &amp; b""#));
}

#[test]
fn small_drawings_are_written_letter_for_letter() {
    let mut page = Drawing::new(20.0, 10.5);
    let points = [
        (0.0, 0.0),
        (10.0, 0.0),
        (10.0, 2.00049),
        (-0.0002, 1.0 / 3.0),
    ];
    let points = points.map(|(x, y)| Point::new(x, y));
    page.line(Layer::Cut, Pen::CUT, points);
    page.text(Point::new(1.0, 2.0), 2.5, Anchor::End, "a < b");
    let text = svg_inline(&page, Ink::Inherited, SvgName::Hidden).unwrap();
    assert!(text.contains(r#"d="M0 0H10V2L0 0.333""#), "{text}");
    assert!(text.contains(r##"stroke="currentColor""##), "{text}");
    assert!(text.contains("a &lt; b"), "{text}");
}

#[test]
fn what_is_no_number_is_refused() {
    for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        let mut page = Drawing::new(10.0, 10.0);
        page.line(
            Layer::Cut,
            Pen::CUT,
            [Point::new(0.0, 0.0), Point::new(1.0, wrong)],
        );
        let error = svg_document(&page, "").unwrap_err();
        assert!(error.to_string().contains("nothing was written"));
        let mut page = Drawing::new(10.0, 10.0);
        page.text(Point::new(wrong, 0.0), 3.0, Anchor::Start, "x");
        assert!(matches!(
            svg_inline(&page, Ink::Black, SvgName::Hidden),
            Err(NotFinite(_))
        ));
    }
}

#[test]
fn the_table_as_csv_has_its_header_and_empty_cells_beside_the_main() {
    let template = cases()[9].template();
    let table = ordinates(&template, 16);
    let text = csv(&table).unwrap();
    let mut lines = text.lines();
    assert_eq!(
        lines.next().unwrap(),
        "turn_deg,around_mm,from_centre_mm,from_mark_mm"
    );
    let mut beside = 0;
    for (line, ordinate) in lines.zip(&table) {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), 4);
        let number = |cell: &str| cell.parse::<f64>().unwrap();
        assert!((number(cells[0]) - ordinate.turn.deg()).abs() <= 5e-10);
        assert!((number(cells[1]) - ordinate.around.mm()).abs() <= 5e-10);
        match (ordinate.from_centre, ordinate.from_mark) {
            (Some(centre), Some(mark)) => {
                assert!((number(cells[2]) - centre.mm()).abs() <= 5e-10);
                assert!((number(cells[3]) - mark.mm()).abs() <= 5e-10);
            }
            _ => {
                assert!(cells[2].is_empty() && cells[3].is_empty());
                beside += 1;
            }
        }
    }
    assert!(beside > 0);
    assert_eq!(text.lines().count(), 17);
    assert!(
        text.contains("\n22.5,"),
        "trailing zeros are trimmed: {text}"
    );
}

#[test]
fn a_packet_can_be_kept_and_sent() {
    fn assert_kept<T: Clone + PartialEq + Send + Sync + 'static>() {}
    assert_kept::<Packet>();
    assert_kept::<SheetError>();
    assert_kept::<Printer>();
}
