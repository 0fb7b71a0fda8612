//! The template as DXF, read back by another library and laid on the drawing.

use copewright::sheet::{Code, landing_figure, template_figure};
use copewright::write::dxf;
use dxf::entities::EntityType;
use dxf::{Drawing as Read, enums::AcadVersion};

use crate::common::*;

/// Half of the last decimal written, mm and in.
const CLOSE: f64 = 6e-7;

fn read(text: &str) -> Read {
    Read::load(&mut std::io::Cursor::new(text)).unwrap()
}

fn order<'a>(template: &'a Template, printer: &'a Printer, unit: Unit) -> Order<'a> {
    Order {
        template,
        unit,
        label: "Drawbar – “bow end”, 60° ½",
        link: LINK,
        date: "",
        paper: Paper::A4,
        printer,
        saw: &[],
    }
}

/// Layer, corners and whether they close, of every line and area.
type Line = (String, Vec<(f64, f64)>, bool);

fn lines(read: &Read) -> Vec<Line> {
    let place = |p: &dxf::Point| (p.x, p.y);
    read.entities()
        .filter_map(|entity| {
            let (corners, closed) = match &entity.specific {
                EntityType::Line(line) => (vec![place(&line.p1), place(&line.p2)], false),
                EntityType::Polyline(line) => (
                    line.vertices().map(|v| place(&v.location)).collect(),
                    line.is_closed(),
                ),
                EntityType::Solid(area) => {
                    let [a, b, c, d] = [
                        &area.first_corner,
                        &area.second_corner,
                        &area.third_corner,
                        &area.fourth_corner,
                    ]
                    .map(place);
                    let corners = if c == d {
                        vec![a, b, c]
                    } else {
                        vec![a, b, d, c]
                    };
                    (corners, true)
                }
                EntityType::Text(_) => return None,
                other => panic!("{other:?}"),
            };
            Some((entity.common.layer.clone(), corners, closed))
        })
        .collect()
}

#[test]
fn every_line_is_there_at_true_size_on_its_layer() {
    for case in cases() {
        let template = case.template();
        for (unit, in_unit) in [
            (Unit::Millimetre, 1.0),
            (Unit::Fraction(Denominator::Sixteenth), 25.4),
        ] {
            let figure = template_figure(&order(&template, &printer(), unit));
            let text = dxf(&figure, "Template", unit).unwrap();
            assert!(text.is_ascii());
            let read = read(&text);
            let lines = lines(&read);
            let mut lines = lines.iter();
            for item in &figure.items {
                let Item::Stroke {
                    layer,
                    points,
                    closed,
                    ..
                } = item
                else {
                    continue;
                };
                let (on, corners, closes) = lines.next().unwrap();
                assert_eq!(closes, closed);
                let named = match layer {
                    Layer::Cut => "CUT_LINE",
                    Layer::Trim => "TRIM_LINE",
                    Layer::Mark => "MARK_LINE",
                    Layer::Zero => "ZERO_LINE",
                    Layer::Quarter => "QUARTER_LINES",
                    Layer::Tab => "OVERLAP_TAB",
                    Layer::Edge => "EDGE",
                    Layer::Note => "TEXT",
                    other => panic!("{other:?} on a template"),
                };
                assert_eq!(on, named);
                assert_eq!(corners.len(), points.len());
                for ((x, y), p) in corners.iter().zip(points) {
                    assert!((x - p.x / in_unit).abs() <= CLOSE);
                    assert!((y - (figure.height - p.y) / in_unit).abs() <= CLOSE);
                }
            }
            assert!(lines.next().is_none());
            // Once round, from 0° to 360°, is π times the middle of the paper, from its definition.
            let cut: Vec<f64> = self::lines(&read)
                .iter()
                .filter(|(on, ..)| on == "CUT_LINE" || on == "TRIM_LINE")
                .flat_map(|(_, corners, _)| corners.iter().map(|(x, _)| *x))
                .collect();
            let wide = cut.iter().copied().fold(f64::MIN, f64::max)
                - cut.iter().copied().fold(f64::MAX, f64::min);
            let girth = std::f64::consts::PI * (case.branch + 0.1) / in_unit;
            assert!(
                (wide - girth).abs() < 2.0 * CLOSE,
                "{wide} instead of {girth}"
            );
        }
    }
}

#[test]
fn words_hang_where_they_hung_and_the_unit_is_said() {
    let template = USUAL.template();
    for (unit, in_unit, says, insert) in [
        (
            Unit::Millimetre,
            1.0,
            "millimetres",
            dxf::enums::Units::Millimeters,
        ),
        (Unit::Inch, 25.4, "inches", dxf::enums::Units::Inches),
    ] {
        let figure = template_figure(&order(&template, &printer(), unit));
        let text = dxf(&figure, "Template, Drawbar", unit).unwrap();
        assert!(text.starts_with("999\n") && text.ends_with("0\nENDSEC\n0\nEOF\n"));
        let read = read(&text);
        assert_eq!(read.header.version, AcadVersion::R12);
        assert_eq!(read.header.default_drawing_units, insert);
        let written: Vec<_> = read
            .entities()
            .filter_map(|entity| match &entity.specific {
                EntityType::Text(text) => Some(text),
                _ => None,
            })
            .collect();
        let drawn = figure.items.iter().filter_map(|item| match item {
            Item::Text {
                at,
                size,
                anchor,
                turn,
                text,
                ..
            } => Some((at, size, anchor, turn, text)),
            Item::Stroke { .. } => None,
        });
        let mut count = 0;
        for (written, (at, size, anchor, turn, text)) in written.iter().zip(drawn) {
            count += 1;
            use dxf::enums::HorizontalTextJustification::{Center, Left, Right};
            let (hung, place) = match anchor {
                Anchor::Start => (Left, &written.location),
                Anchor::Middle => (Center, &written.second_alignment_point),
                Anchor::End => (Right, &written.second_alignment_point),
            };
            assert_eq!(written.horizontal_text_justification, hung);
            assert!((place.x - at.x / in_unit).abs() <= CLOSE, "{text}");
            assert!((place.y - (figure.height - at.y) / in_unit).abs() <= CLOSE);
            assert!((written.rotation + turn.deg()).abs() <= CLOSE);
            // Capitals of Helvetica are 0.718 of the font size high.
            assert!((written.text_height - 0.718 * size / in_unit).abs() <= CLOSE);
            assert!(!written.value.contains('?'), "{text}");
        }
        assert_eq!(written.len(), count + 2);
        assert_eq!(written[count].value, "Template, Drawbar");
        assert!(written[count + 1].value.contains(says));
        let layers: Vec<&str> = read.layers().map(|layer| layer.name.as_str()).collect();
        assert!(layers.contains(&"CUT_LINE") && layers.contains(&"TEXT"));
        assert!(!layers.contains(&"RULERS"));
    }
}

#[test]
fn a_figure_is_the_strip_of_the_sheets_in_one_piece() {
    // The largest takes many sheets; as a figure it is one.
    for case in cases() {
        let template = case.template();
        let figure = template_figure(&order(&template, &printer(), Unit::Millimetre));
        let cut: Vec<&[Point]> = strokes(&figure, Layer::Cut)
            .into_iter()
            .chain(strokes(&figure, Layer::Trim))
            .map(|(_, points)| points)
            .collect();
        let printed: usize = template.line().iter().map(|run| run.points.len()).sum();
        assert_eq!(
            cut.iter().map(|points| points.len()).sum::<usize>(),
            printed
        );
        for p in cut.iter().copied().flatten() {
            assert!(p.x >= -1e-9 && p.x <= figure.width && p.y >= 0.0 && p.y <= figure.height);
        }
        assert!(strokes(&figure, Layer::Ruler).is_empty());
    }
}

#[test]
fn a_template_for_a_main_and_a_code_are_drawn_too() {
    let printer = printer();
    let mut compared = 0;
    for (landing, packet) in crate::landing::packets(Paper::A4, &printer, "", Unit::Millimetre) {
        let template = USUAL.template();
        let figure = landing_figure(&order(&template, &printer, Unit::Millimetre), &landing);
        let read = read(&dxf(&figure, "", Unit::Millimetre).unwrap());
        let drawn: Vec<(f64, f64)> = lines(&read)
            .into_iter()
            .filter(|(on, ..)| on == "LANDING_LINE" || on == "HOLE_LINE")
            .flat_map(|(_, corners, _)| corners)
            .collect();
        assert!(drawn.len() > 20);
        let [page] = packet.pages.as_slice() else {
            continue;
        };
        if packet.turned {
            continue;
        }
        // The same line stands somewhere on the one sheet that was printed, upside down from here.
        let printed: Vec<Point> = [Layer::Hole, Layer::Landing]
            .into_iter()
            .flat_map(|layer| strokes(page, layer))
            .flat_map(|(_, points)| points.to_vec())
            .collect();
        assert_eq!(printed.len(), drawn.len());
        for (p, (x, y)) in printed.iter().zip(&drawn) {
            let right = (p.x - printed[0].x) - (x - drawn[0].0);
            let down = (p.y - printed[0].y) + (y - drawn[0].1);
            assert!(right.abs() < 3.0 * CLOSE && down.abs() < 3.0 * CLOSE);
        }
        compared += 1;
    }
    assert!(compared >= 5, "{compared}");
    let mut page = Drawing::new(60.0, 60.0);
    Code::new("copewright")
        .unwrap()
        .draw(&mut page, Point::default(), 0.6);
    let read = read(&dxf(&page, "", Unit::Millimetre).unwrap());
    let area = |(_, c, _): &Line| (c[2].0 - c[0].0).abs() * (c[2].1 - c[0].1).abs();
    let cornered = |(_, c, _): &Line| c.len() == 4 && (c[0].0, c[2].1) == (c[3].0, c[3].1);
    assert!(
        lines(&read)
            .iter()
            .all(|line| cornered(line) && area(line) > 0.35)
    );
}

#[test]
fn what_is_no_number_is_refused_and_hostile_words_stay_words() {
    let mut page = Drawing::new(10.0, 10.0);
    page.line(
        Layer::Cut,
        Pen::CUT,
        [Point::default(), Point::new(f64::NAN, 0.0)],
    );
    assert!(dxf(&page, "", Unit::Inch).is_err());
    let mut page = Drawing::new(10.0, 10.0);
    page.text(Point::default(), 3.0, Anchor::Start, "x\n0\nEOF\r\n%%u 横");
    let title = "0\nENDSEC\n0\nEOF";
    let text = dxf(&page, title, Unit::Millimetre).unwrap();
    assert_eq!(text.matches("\nEOF\n").count(), 1);
    assert_eq!(read(&text).entities().count(), 3);
    assert_eq!(text, dxf(&page, title, Unit::Millimetre).unwrap());
}
