//! The PDF of every kind of sheet, read back by another library and laid on the drawing.

use std::sync::LazyLock;

use copewright::write::{PdfAbout, PdfDay, pdf, pdf_letters_lost};
use lopdf::content::Content;
use lopdf::{Document, Object};

use crate::common::*;
use crate::{landing, piece};

/// Furthest that anything may lie from where it was drawn, mm.
const CLOSE: f64 = 0.001;
const POINT: f64 = 25.4 / 72.0;

/// What a page shows, mm from its upper left corner, y down.
#[derive(Debug, Default)]
struct Shown {
    size: [f64; 2],
    strokes: Vec<Stroke>,
    fills: Vec<Vec<[f64; 2]>>,
    texts: Vec<Words>,
}

#[derive(Debug)]
struct Stroke {
    points: Vec<[f64; 2]>,
    closed: bool,
    width: f64,
    dashes: Vec<f64>,
}

#[derive(Debug)]
struct Words {
    bytes: Vec<u8>,
    face: Vec<u8>,
    at: [f64; 2],
    size: f64,
    turn_deg: f64,
}

type Map = [f64; 6];

fn apply(m: Map, [x, y]: [f64; 2]) -> [f64; 2] {
    [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]]
}

/// Runs the operators of a page (ISO 32000-1, annex A); any that it does not know fails.
fn shown(document: &Document, page: lopdf::ObjectId) -> Shown {
    let number = |object: &Object| f64::from(object.as_float().unwrap());
    let dictionary = document.get_dictionary(page).unwrap();
    let media = dictionary.get(b"MediaBox").unwrap().as_array().unwrap();
    let media: Vec<f64> = media.iter().map(number).collect();
    assert_eq!(media[..2], [0.0, 0.0]);
    let mut shown = Shown {
        size: [media[2] * POINT, media[3] * POINT],
        ..Shown::default()
    };
    let paper = |[x, y]: [f64; 2]| [x * POINT, (media[3] - y) * POINT];
    let content = document.get_page_content(page);
    let (mut map, mut text): (Map, Map) = ([1.0, 0.0, 0.0, 1.0, 0.0, 0.0], [0.0; 6]);
    let (mut width, mut dashes) = (1.0, Vec::new());
    let (mut path, mut closed): (Vec<[f64; 2]>, bool) = (Vec::new(), false);
    let (mut face, mut size) = (Vec::new(), 0.0);
    for operation in Content::decode(&content).unwrap().operations {
        let of = &operation.operands;
        let n = |i: usize| number(&of[i]);
        let matrix = || [n(0), n(1), n(2), n(3), n(4), n(5)];
        match operation.operator.as_str() {
            "cm" => {
                assert_eq!(map, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], "one map for the page");
                map = matrix();
            }
            "j" => assert_eq!(n(0), 1.0, "round corners"),
            "w" => width = n(0) * map[0] * POINT,
            "d" => {
                let lengths = of[0].as_array().unwrap();
                dashes = lengths.iter().map(|x| number(x) * map[0] * POINT).collect();
            }
            "m" => {
                assert!(path.is_empty());
                path.push(paper(apply(map, [n(0), n(1)])));
            }
            "l" => path.push(paper(apply(map, [n(0), n(1)]))),
            "h" => closed = true,
            "S" => shown.strokes.push(Stroke {
                points: std::mem::take(&mut path),
                closed: std::mem::take(&mut closed),
                width,
                dashes: dashes.clone(),
            }),
            "f" => {
                assert!(std::mem::take(&mut closed));
                shown.fills.push(std::mem::take(&mut path));
            }
            "BT" => text = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
            "Tf" => (face, size) = (of[0].as_name().unwrap().to_vec(), n(1)),
            "Tm" => text = matrix(),
            "Tj" => {
                let origin = paper(apply(map, apply(text, [0.0, 0.0])));
                let along = paper(apply(map, apply(text, [1.0, 0.0])));
                let up = paper(apply(map, apply(text, [0.0, 1.0])));
                let [dx, dy] = [along[0] - origin[0], along[1] - origin[1]];
                let [ux, uy] = [up[0] - origin[0], up[1] - origin[1]];
                // Letters stand up from their line, not mirrored, and as high as wide.
                assert!((ux - dy).abs() < 1e-6 && (uy + dx).abs() < 1e-6);
                shown.texts.push(Words {
                    bytes: of[0].as_str().unwrap().to_vec(),
                    face: face.clone(),
                    at: origin,
                    size: size * dx.hypot(dy),
                    turn_deg: dy.atan2(dx).to_degrees(),
                });
            }
            "ET" => {}
            other => panic!("the operator {other}"),
        }
    }
    shown
}

fn read(bytes: &[u8]) -> (Document, Vec<Shown>) {
    let document = Document::load_mem(bytes).unwrap();
    let pages = document.get_pages();
    let pages = pages.values().map(|page| shown(&document, *page)).collect();
    (document, pages)
}

fn assert_there(what: &str, is: [f64; 2], drawn: Point) {
    let off = (is[0] - drawn.x).hypot(is[1] - drawn.y);
    assert!(off <= CLOSE, "{what} is {off} mm from {drawn:?}");
}

/// Sheets of every kind, on small and large paper, in millimetres and inches, corrected and not.
static EVERY_SHEET: LazyLock<Vec<(Paper, Vec<Drawing>)>> = LazyLock::new(|| {
    let corrected = printer()
        .with_orientation(Orientation::Sideways)
        .measured(Ruler::Millimetres, mm(99.5), mm(100.4))
        .unwrap();
    let mut all = Vec::new();
    for (paper, printer, unit) in [
        (Paper::A4, printer(), Unit::Millimetre),
        (
            Paper::Letter,
            corrected,
            Unit::Fraction(Denominator::SixtyFourth),
        ),
        (Paper::Tabloid, printer(), Unit::Inch),
    ] {
        let mut add = |packet: Packet| all.push((paper, packet.pages));
        for case in cases() {
            add(packet_on(
                case,
                paper,
                &printer,
                "Drawbar, “bow end” ½″",
                unit,
            ));
            add(table_on(case, paper, &printer, unit, 16));
        }
        for (_, packet) in landing::packets(paper, &printer, "Axle beam", unit) {
            add(packet);
        }
        for packet in piece::packets(paper, &printer, unit) {
            add(packet);
        }
    }
    all
});

#[test]
fn everything_lies_where_it_was_drawn() {
    let (mut strokes, mut texts) = (0, 0);
    for (paper, pages) in EVERY_SHEET.iter() {
        let bytes = pdf(pages, *paper, &PdfAbout::default()).unwrap();
        let (_, read) = read(&bytes);
        assert_eq!(read.len(), pages.len());
        let (width, height) = paper.size();
        for (shown, page) in read.iter().zip(pages) {
            assert!(
                (shown.size[0] - width.mm()).abs() < CLOSE,
                "{:?}",
                shown.size
            );
            assert!(
                (shown.size[1] - height.mm()).abs() < CLOSE,
                "{:?}",
                shown.size
            );
            let mut of_strokes = shown.strokes.iter();
            let mut of_fills = shown.fills.iter();
            let mut of_texts = shown.texts.iter();
            for item in &page.items {
                match item {
                    Item::Stroke {
                        pen,
                        points,
                        closed,
                        filled,
                        ..
                    } => {
                        strokes += 1;
                        let drawn = if *filled {
                            of_fills.next().unwrap()
                        } else {
                            let stroke = of_strokes.next().unwrap();
                            assert!((stroke.width - pen.width).abs() < 1e-5);
                            let dashes = pen.pattern.dashes();
                            assert_eq!(stroke.dashes.len(), dashes.len());
                            for (is, dash) in stroke.dashes.iter().zip(dashes) {
                                assert!((is - dash).abs() < 1e-5);
                            }
                            assert_eq!(stroke.closed, *closed);
                            &stroke.points
                        };
                        assert_eq!(drawn.len(), points.len());
                        for (is, point) in drawn.iter().zip(points) {
                            assert_there("a corner", *is, *point);
                        }
                    }
                    Item::Text {
                        at,
                        size,
                        anchor,
                        turn,
                        bold,
                        text,
                    } => {
                        texts += 1;
                        let words = of_texts.next().unwrap();
                        assert!((words.size - size).abs() < CLOSE, "{words:?}");
                        let face: &[u8] = if *bold { b"F2" } else { b"F1" };
                        assert_eq!(words.face, face);
                        let turned = (words.turn_deg - turn.deg()).rem_euclid(360.0);
                        assert!(turned.min(360.0 - turned) < 1e-4, "{words:?}");
                        if *anchor == Anchor::Start {
                            assert_there(text, words.at, *at);
                        }
                        // Whatever side it hangs on, it starts on its own base line.
                        let (sin, cos) = turn.rad().sin_cos();
                        let aside = (words.at[1] - at.y) * cos - (words.at[0] - at.x) * sin;
                        assert!(aside.abs() <= CLOSE, "{text} is {aside} mm off its line");
                    }
                }
            }
            assert!(of_strokes.next().is_none() && of_fills.next().is_none());
            assert!(of_texts.next().is_none());
        }
    }
    assert!(strokes > 10_000 && texts > 5_000, "{strokes} {texts}");
}

#[test]
fn every_word_of_every_sheet_can_be_read() {
    for (paper, pages) in EVERY_SHEET.iter() {
        assert_eq!(pdf_letters_lost(pages), "");
        let bytes = pdf(pages, *paper, &PdfAbout::default()).unwrap();
        for (shown, page) in read(&bytes).1.iter().zip(pages) {
            let said = texts(page);
            assert_eq!(said.len(), shown.texts.len());
            for (words, text) in shown.texts.iter().zip(said) {
                assert!(!words.bytes.contains(&b'?') || text.contains('?'), "{text}");
                // Latin 1 letters and ASCII are as they were; these are all others that sheets say.
                let spelt = text
                    .replace(['−', '‑'], "-")
                    .replace('″', "\"")
                    .replace('′', "'")
                    .replace("≤", "<=")
                    .replace("⅛", " 1/8");
                let read: String = words.bytes.iter().map(|byte| latin(*byte)).collect();
                assert_eq!(read, spelt);
            }
        }
    }
}

/// Letters of code page 1252 that sheets use (Unicode mappings, cp1252).
fn latin(byte: u8) -> char {
    match byte {
        0x85 => '…',
        0x92 => '’',
        0x93 => '“',
        0x94 => '”',
        0x96 => '–',
        0x80..=0x9f => panic!("byte {byte:#x}"),
        byte => char::from(byte),
    }
}

#[test]
fn words_in_the_middle_and_at_the_end_hang_on_their_widths() {
    // Adobe Core 14 AFM: Helvetica H 722, e 556, l 222, one 556, period 278, zero 556, space 278,
    // m 833; bold H 722, e 556, l 278.
    let mut page = Drawing::new(210.0, 296.5);
    let at = Point::new(100.0, 50.0);
    page.text(at, 10.0, Anchor::End, "10.1 m");
    page.bold_text(at, 10.0, Anchor::Middle, "Heel");
    page.turned_text(at, 10.0, Anchor::End, Angle::QUARTER, false, "Heel");
    let bytes = pdf(&[page], Paper::A4, &PdfAbout::default()).unwrap();
    let texts = &read(&bytes).1[0].texts;
    let numbers = 0.01 * (3.0 * 556.0 + 278.0 + 278.0 + 833.0);
    let bold = 0.01 * (722.0 + 2.0 * 556.0 + 278.0) / 2.0;
    let down = 0.01 * (722.0 + 2.0 * 556.0 + 222.0);
    assert_there("the end", texts[0].at, Point::new(100.0 - numbers, 50.0));
    assert_there("the middle", texts[1].at, Point::new(100.0 - bold, 50.0));
    assert_there("turned", texts[2].at, Point::new(100.0, 50.0 - down));
}

#[test]
fn the_document_says_what_it_is_and_asks_for_true_scale() {
    let about = PdfAbout {
        title: "Template, Drawbar to axle beam",
        label: "Łódź (bow) \\ 横",
        made: Some(PdfDay {
            year: 2026,
            month: 5,
            day: 14,
        }),
    };
    let bytes = pdf(&packet(USUAL).pages, Paper::A4, &about).unwrap();
    let (document, _) = read(&bytes);
    let catalogue = document.catalog().unwrap();
    assert_eq!(catalogue.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let viewer = catalogue
        .get(b"ViewerPreferences")
        .unwrap()
        .as_dict()
        .unwrap();
    assert_eq!(
        viewer.get(b"PrintScaling").unwrap().as_name().unwrap(),
        b"None"
    );
    assert!(viewer.get(b"PickTrayByPDFSize").unwrap().as_bool().unwrap());
    let info = document
        .trailer
        .get(b"Info")
        .unwrap()
        .as_reference()
        .unwrap();
    let info = document.get_dictionary(info).unwrap();
    let says = |key: &[u8]| lopdf::decode_text_string(info.get(key).unwrap()).unwrap();
    assert_eq!(says(b"Title"), about.title);
    assert_eq!(says(b"Subject"), about.label);
    assert!(says(b"CreationDate").starts_with("D:20260514"));
}

#[test]
fn equal_sheets_are_equal_bytes_and_what_is_no_number_is_refused() {
    let about = PdfAbout {
        title: "Template",
        ..PdfAbout::default()
    };
    let make = || pdf(&packet(USUAL).pages, Paper::A4, &about).unwrap();
    assert_eq!(make(), make());
    assert!(!make().windows(5).any(|part| part == b"Date("));
    for wrong in [f64::NAN, f64::INFINITY, 1e300] {
        let mut stroke = Drawing::new(10.0, 10.0);
        stroke.line(
            Layer::Cut,
            Pen::CUT,
            [Point::default(), Point::new(wrong, 0.0)],
        );
        let mut pen = Drawing::new(10.0, 10.0);
        pen.line(
            Layer::Cut,
            Pen {
                width: wrong,
                ..Pen::CUT
            },
            [Point::default(); 2],
        );
        let mut words = Drawing::new(10.0, 10.0);
        words.text(Point::default(), wrong, Anchor::End, "x");
        for page in [stroke, pen, words] {
            let refused = pdf(&[page], Paper::A4, &about).unwrap_err();
            assert!(refused.to_string().contains("nothing was written"));
        }
    }
}

#[test]
fn letters_without_a_spelling_are_named() {
    let pages = packet_on(
        USUAL,
        Paper::A4,
        &printer(),
        "横 Łódź 軸横",
        Unit::Millimetre,
    )
    .pages;
    assert_eq!(pdf_letters_lost(&pages), "横軸");
}

#[test]
fn every_page_is_exactly_the_paper() {
    for paper in Paper::ALL {
        let pages = [Drawing::new(1.0, 1.0), Drawing::new(1.0, 1.0)];
        let bytes = pdf(&pages, paper, &PdfAbout::default()).unwrap();
        let (width, height) = paper.size();
        for shown in read(&bytes).1 {
            assert!((shown.size[0] - width.mm()).abs() < 1e-4, "{shown:?}");
            assert!((shown.size[1] - height.mm()).abs() < 1e-4, "{shown:?}");
        }
    }
}

#[test]
fn no_pages_are_a_document_too() {
    let bytes = pdf(&[], Paper::Letter, &PdfAbout::default()).unwrap();
    assert!(read(&bytes).1.is_empty());
}
