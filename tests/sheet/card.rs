//! The bank card's corners: on the first sheet of every template, in their standard size, on free
//! paper.

use crate::common::*;

/// ISO/IEC 7810, ID-1, mm.
const CARD: (f64, f64) = (85.60, 53.98);

/// The four corners of the card on a page, from its upper left clockwise as it is read.
fn corners(page: &Drawing) -> Vec<Point> {
    strokes(page, Layer::Check)
        .iter()
        .filter(|(_, points)| points.len() == 3)
        .map(|(_, points)| points[1])
        .collect()
}

/// Whether any part of a segment is inside a box, by halving.
fn crosses(a: Point, b: Point, area: (f64, f64, f64, f64)) -> bool {
    let (x0, y0, x1, y1) = area;
    if a.x.max(b.x) <= x0 || a.x.min(b.x) >= x1 || a.y.max(b.y) <= y0 || a.y.min(b.y) >= y1 {
        return false;
    }
    let middle = Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
    let inside = |p: Point| x0 < p.x && p.x < x1 && y0 < p.y && p.y < y1;
    if inside(a) || inside(b) || inside(middle) {
        return true;
    }
    (a.x - b.x).hypot(a.y - b.y) > 0.01 && (crosses(a, middle, area) || crosses(middle, b, area))
}

/// The card is on the first sheet, where and as it has to be; `printer` says how it is corrected.
fn assert_card(what: &str, packet: &Packet, printer: &Printer) {
    let page = &packet.pages[0];
    let corners = corners(page);
    assert_eq!(corners.len(), 4, "{what}: corners");
    let low = |pick: fn(&Point) -> f64| corners.iter().map(pick).fold(f64::MAX, f64::min);
    let high = |pick: fn(&Point) -> f64| corners.iter().map(pick).fold(f64::MIN, f64::max);
    let card = (low(|p| p.x), low(|p| p.y), high(|p| p.x), high(|p| p.y));
    let is = (
        (card.2 - card.0) / printer.across(),
        (card.3 - card.1) / printer.along(),
    );
    let near = |(w, h): (f64, f64)| (is.0 - w).abs() < 1e-9 && (is.1 - h).abs() < 1e-9;
    assert!(
        near(CARD) || near((CARD.1, CARD.0)),
        "{what}: the card is {is:?}"
    );
    // The pen is 0.25 mm wide and may lie on the edge of the printable area.
    let margin = printer.margin().mm() - 0.13;
    assert!(
        card.0 >= margin
            && card.1 >= margin
            && card.2 <= page.width - margin
            && card.3 <= page.height + 0.5 - margin,
        "{what}: {card:?} is outside the printable area"
    );
    // A millimetre of white all round: laid on, it hides nothing that is needed to see.
    let room = (card.0 - 1.0, card.1 - 1.0, card.2 + 1.0, card.3 + 1.0);
    for item in &page.items {
        match item {
            Item::Stroke { layer, points, .. } => {
                if *layer == Layer::Check && points.len() == 3 {
                    continue;
                }
                for pair in points.windows(2) {
                    assert!(
                        !crosses(pair[0], pair[1], room),
                        "{what}: the {} line crosses the card",
                        layer.name()
                    );
                }
            }
            Item::Text { text, .. } => {
                let (x0, y0, x1, y1) = text_box(item).unwrap();
                let over = x0 < room.2 && room.0 < x1 && y0 < room.3 && room.1 < y1;
                let own = [
                    "bank card",
                    "corners",
                    "ruler at hand",
                    "Lay one on",
                    "85.60",
                    "7810",
                ];
                assert!(
                    !over || own.iter().any(|own| text.contains(own)),
                    "{what}: {text:?} is under the card"
                );
            }
        }
    }
    let all = words(page);
    assert!(all.contains("A bank card fits") && all.contains("ISO/IEC 7810 ID-1"));
}

/// Lays out every case of a grid on a paper and checks the card.
fn assert_grid(paper: Paper) {
    let mut laid = 0;
    for branch in [10.0, 20.0, 42.4, 60.3, 76.1, 114.3, 168.3, 300.0] {
        for angle in [90.0, 60.0, 45.0, 25.0, 10.0] {
            let case = Case {
                branch,
                wall: branch * 0.06,
                main: branch,
                angle,
                ..USUAL
            };
            let template = case.template();
            for margin in [4.0, 10.0, 25.0] {
                for way in [Orientation::Upright, Orientation::Sideways] {
                    let printer = printer()
                        .with_margin(mm(margin))
                        .unwrap()
                        .with_orientation(way);
                    let order = Order {
                        template: &template,
                        unit: Unit::Millimetre,
                        label: "Drawbar to axle beam",
                        link: LINK,
                        date: "14 May 2026",
                        paper,
                        printer: &printer,
                        saw: &[],
                    };
                    let packet = lay_out(&order).unwrap();
                    let what = format!(
                        "{branch} at {angle}° on {}, {way:?}, margin {margin}",
                        paper.name()
                    );
                    assert_card(&what, &packet, &printer);
                    laid += 1;
                }
            }
        }
    }
    assert_eq!(laid, 240);
}

#[test]
fn a4_has_the_card_on_the_first_sheet_of_every_template() {
    assert_grid(Paper::A4);
}

#[test]
fn letter_has_the_card_on_the_first_sheet_of_every_template() {
    assert_grid(Paper::Letter);
}

#[test]
fn larger_paper_has_the_card_on_the_first_sheet_of_every_template() {
    for paper in [Paper::A3, Paper::Legal, Paper::Tabloid] {
        assert_grid(paper);
    }
}

#[test]
fn a_corrected_printer_gets_a_corrected_card_and_long_words_leave_it_its_room() {
    let long = "Left upright brace of the launching trolley, lower end, second from the bow, cut \
                four and mark them with a punch";
    let link = format!("{LINK}&label={}", "x".repeat(1000));
    for (across, along) in [(100.0, 100.0), (91.0, 109.0), (109.0, 91.0)] {
        for margin in [10.0, 25.0] {
            for paper in [Paper::A4, Paper::Letter] {
                for way in [
                    Orientation::Auto,
                    Orientation::Upright,
                    Orientation::Sideways,
                ] {
                    let printer = printer()
                        .with_margin(mm(margin))
                        .unwrap()
                        .with_orientation(way)
                        .measured(Ruler::Millimetres, mm(across), mm(along))
                        .unwrap();
                    for case in [cases()[0], cases()[3], cases()[9], cases()[12], cases()[13]] {
                        let template = case.template();
                        let packet = lay_out(&Order {
                            template: &template,
                            unit: Unit::Fraction(Denominator::SixtyFourth),
                            label: long,
                            link: &link,
                            date: "14 May 2026",
                            paper,
                            printer: &printer,
                            saw: &[],
                        })
                        .unwrap();
                        let what = format!("{} on {}, {way:?}", case.branch, paper.name());
                        assert_card(&what, &packet, &printer);
                        let all: Vec<&str> = packet.pages.iter().flat_map(texts).collect();
                        assert!(all.concat().contains(&link), "{what}: the link is whole");
                        assert!(all.join(" ").contains("Mark line to joint centre"));
                    }
                }
            }
        }
    }
}

#[test]
fn words_on_the_waste_make_room_for_a_card_laid_over_it() {
    for (branch, angle, margin) in [(38.0, 20.0, 10.0), (238.0, 90.0, 4.0), (282.0, 90.0, 10.0)] {
        let case = Case {
            branch,
            wall: branch * 0.06,
            main: branch,
            angle,
            ..USUAL
        };
        let printer = printer().with_margin(mm(margin)).unwrap();
        let packet = packet_on(case, Paper::A4, &printer, "", Unit::Millimetre);
        assert_card(&format!("{branch} at {angle}°"), &packet, &printer);
        let all: String = packet.pages.iter().map(words).collect();
        assert!(all.contains("waste"), "{branch} at {angle}°");
    }
}

#[test]
fn the_card_costs_a_sheet_only_where_strip_and_words_fill_one() {
    let pages = |branch: f64, angle: f64, paper, margin: f64| {
        let case = Case {
            branch,
            main: branch,
            angle,
            ..USUAL
        };
        let printer = printer().with_margin(mm(margin)).unwrap();
        packet_on(case, paper, &printer, "Axle", Unit::Millimetre)
            .pages
            .len()
    };
    for (branch, angle, paper, margin, sheets) in [
        (60.3, 60.0, Paper::A4, 10.0, 1),
        (42.4, 30.0, Paper::A4, 10.0, 1),
        (42.4, 25.0, Paper::A4, 10.0, 1),
        (20.0, 90.0, Paper::A4, 25.0, 1),
        (42.4, 90.0, Paper::Letter, 25.0, 1),
        (114.3, 45.0, Paper::A4, 10.0, 3),
        // The strip is nearly as wide as the sheet is long: its words and the card stand on a
        // sheet before it.
        (60.3, 60.0, Paper::Letter, 10.0, 2),
    ] {
        assert_eq!(
            pages(branch, angle, paper, margin),
            sheets,
            "{branch} at {angle}° on {}",
            paper.name()
        );
    }
    assert!(packet(USUAL).notes.is_empty());
}
