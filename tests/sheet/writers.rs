//! SVG and CSV of what is on the sheet.

use copewright::sheet::template_figure;
use copewright::units::write_decimal;
use copewright::write::svg_layers;

use crate::common::*;

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
fn a_file_for_cutters_has_its_lines_under_plain_names() {
    let template = USUAL.template();
    let figure = template_figure(&Order {
        template: &template,
        unit: Unit::Millimetre,
        label: "Drawbar & axle",
        link: LINK,
        date: "",
        paper: Paper::A4,
        printer: &printer(),
        saw: &[],
    });
    let text = svg_layers(&figure, "Drawbar & axle").unwrap();
    assert_eq!(text, svg_layers(&figure, "Drawbar & axle").unwrap());
    let (width, height) = (
        write_decimal(figure.width, 3),
        write_decimal(figure.height, 3),
    );
    assert!(text.contains(&format!(r#"width="{width}mm""#)), "{text}");
    assert!(text.contains(&format!(r#"viewBox="0 0 {width} {height}""#)));
    // What is in which group, by another reader than the one that wrote it.
    let read = roxmltree::Document::parse(&text).unwrap();
    let root = read.root_element();
    let title = |node: roxmltree::Node| {
        let title = node.children().find(|child| child.has_tag_name("title"));
        title.unwrap().text().unwrap().to_owned()
    };
    let title_of_root = root.children().find(|child| child.is_element()).unwrap();
    assert_eq!(title_of_root.text().unwrap(), "Drawbar & axle");
    let groups: Vec<(String, roxmltree::Node)> = root
        .children()
        .filter(|child| child.has_tag_name("g"))
        .map(|group| (group.attribute("id").unwrap().to_owned(), group))
        .collect();
    let names: Vec<&str> = groups.iter().map(|(name, _)| name.as_str()).collect();
    for name in [
        "cut-line",
        "mark-line",
        "zero-line",
        "quarter-lines",
        "edge",
        "text",
    ] {
        assert_eq!(
            names.iter().filter(|other| **other == name).count(),
            1,
            "{names:?}"
        );
    }
    for (id, group) in &groups {
        assert_eq!(title(*group).replace(' ', "-"), *id);
    }
    let cut = &groups.iter().find(|(id, _)| id == "cut-line").unwrap().1;
    let path = cut
        .children()
        .find(|child| child.has_tag_name("path"))
        .unwrap();
    let drawn: usize = strokes(&figure, Layer::Cut)
        .iter()
        .map(|(_, p)| p.len())
        .sum();
    let corners = path.attribute("d").unwrap();
    assert_eq!(corners.matches(['M', 'L', 'H', 'V']).count(), drawn);
    let words = group_texts(&groups.iter().find(|(id, _)| id == "text").unwrap().1);
    assert_eq!(words, texts(&figure).len());
}

/// How many lines of text stand in a group.
fn group_texts(group: &roxmltree::Node) -> usize {
    group
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .count()
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
