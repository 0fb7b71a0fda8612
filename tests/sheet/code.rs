//! Codes on paper, read back from a picture of the drawing by another library.

use copewright::sheet::{Code, draw_codes};

use crate::common::*;

/// The drawing as a camera sees it that looks straight down, `dots` to a millimetre.
fn picture(page: &Drawing, dots: f64) -> (usize, usize, Vec<u8>) {
    let (width, height) = (
        (page.width * dots).round() as usize,
        (page.height * dots).round() as usize,
    );
    let mut grey = vec![255; width * height];
    for item in &page.items {
        let Item::Stroke {
            points,
            filled: true,
            closed: true,
            ..
        } = item
        else {
            panic!("{item:?}");
        };
        let xs = || points.iter().map(|p| p.x * dots);
        let ys = || points.iter().map(|p| p.y * dots);
        let low = |of: &mut dyn Iterator<Item = f64>| of.fold(f64::MAX, f64::min).round() as usize;
        let high = |of: &mut dyn Iterator<Item = f64>| of.fold(0.0, f64::max).round() as usize;
        for y in low(&mut ys())..high(&mut ys()) {
            grey[y * width + low(&mut xs())..y * width + high(&mut xs())].fill(0);
        }
    }
    (width, height, grey)
}

fn read(page: &Drawing, dots: f64) -> Option<(rqrr::MetaData, String)> {
    let (width, height, grey) = picture(page, dots);
    let mut seen =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| grey[y * width + x]);
    seen.detect_grids().first()?.decode().ok()
}

/// What all codes on a page say.
pub fn all_codes(page: &Drawing, dots: f64) -> Vec<String> {
    let (width, height, grey) = picture(page, dots);
    let mut seen =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| grey[y * width + x]);
    let grids = seen.detect_grids();
    let read = grids.iter().filter_map(|grid| Some(grid.decode().ok()?.1));
    read.collect()
}

fn drawn(code: &Code, module: f64) -> Drawing {
    let side = code.width(module);
    let mut page = Drawing::new(side + 10.0, side + 20.0);
    code.draw(&mut page, Point::new(3.0, 12.0), module);
    page
}

fn texts() -> Vec<String> {
    vec![
        "A".to_owned(),
        LINK.to_owned(),
        format!("{LINK}&label={}", "Łódź%20bow%20".repeat(20)),
        format!("{LINK}&more={}", "mm".repeat(500)),
    ]
}

#[test]
fn another_reader_finds_the_text_in_the_drawing() {
    for text in texts() {
        let code = Code::new(&text).unwrap();
        let page = drawn(&code, Code::MODULE);
        let (about, read) = read(&page, 10.0).expect(&text);
        assert_eq!(read, text);
        // Level L of ISO/IEC 18004, table 12, has the bits 01; all others bear more damage.
        assert_ne!(about.ecc_level, 1);
        assert_eq!(about.version.to_size(), code.side_modules());
    }
}

#[test]
fn white_is_kept_all_round_and_dark_areas_do_not_overlap() {
    let code = Code::new(LINK).unwrap();
    let module = 0.55;
    let page = drawn(&code, module);
    let (quiet, side) = (4.0 * module, code.width(module));
    let mut area = 0.0;
    for item in &page.items {
        let Item::Stroke { points, .. } = item else {
            panic!("{item:?}");
        };
        for p in points {
            assert!(p.x >= 3.0 + quiet - 1e-9 && p.x <= 3.0 + side - quiet + 1e-9);
            assert!(p.y >= 12.0 + quiet - 1e-9 && p.y <= 12.0 + side - quiet + 1e-9);
        }
        area += (points[2].x - points[0].x) * (points[2].y - points[0].y);
    }
    let modules = 0..code.side_modules();
    let dark = modules
        .clone()
        .flat_map(|row| modules.clone().map(move |column| (column, row)))
        .filter(|(column, row)| code.is_dark(*column, *row))
        .count();
    assert!((area - dark as f64 * module * module).abs() < 1e-6);
    assert!(page.items.len() < dark / 2, "runs are drawn as one");
}

#[test]
fn a_seventh_may_be_spoilt_but_a_wrong_drawing_is_not_read() {
    let code = Code::new(LINK).unwrap();
    let mut page = drawn(&code, Code::MODULE);
    let middle = Point::new(3.0 + code.width(0.3), 12.0 + code.width(0.3));
    let blot = |half: f64| {
        [(-half, -half), (half, -half), (half, half), (-half, half)]
            .map(|(x, y)| Point::new(middle.x + x, middle.y + y))
    };
    page.fill(Layer::Note, blot(2.0));
    assert_eq!(read(&page, 10.0).unwrap().1, LINK);
    page.fill(Layer::Note, blot(9.0));
    assert!(read(&page, 10.0).is_none());
}

#[test]
fn codes_travel_as_hexadecimal_digits() {
    for text in texts() {
        let code = Code::new(&text).unwrap();
        assert_eq!(Code::from_hex(&code.to_hex()), Some(code));
    }
    let hex = Code::new(LINK).unwrap().to_hex();
    for wrong in [
        "",
        "0",
        &hex[1..],
        &hex.replace('0', "g"),
        &(hex.clone() + "0"),
    ] {
        assert_eq!(Code::from_hex(wrong), None);
    }
    // 21 × 21 modules leave three light bits over.
    assert_eq!(Code::from_hex(&"f".repeat(111)), None);
    assert!(Code::from_hex(&"0".repeat(111)).is_some());
}

#[test]
fn a_text_too_long_for_a_code_or_for_the_room_is_known_before() {
    // ISO/IEC 18004, table 7: version 40 holds 2331 bytes at level M.
    assert!(Code::new(&"x".repeat(2331)).is_some());
    assert!(Code::new(&"x".repeat(2332)).is_none());
    let code = Code::new(LINK).unwrap();
    assert_eq!(code.module_in(500.0), Some(Code::MODULE));
    let snug = code.width(0.55);
    assert!((code.module_in(snug).unwrap() - 0.55).abs() < 1e-12);
    assert_eq!(code.module_in(code.width(0.49)), None);
}

/// Everything on a sheet as a camera sees it, with the codes on it read.
fn codes_on(page: &Drawing) -> Vec<String> {
    let dots = 6.0;
    let filled = |item: &&Item| matches!(item, Item::Stroke { filled: true, points, .. } if points.len() == 4);
    let only = Drawing {
        items: page.items.iter().filter(filled).cloned().collect(),
        ..page.clone()
    };
    let (width, height, mut grey) = picture(&only, dots);
    // All other strokes as lines a dot wide, words as the rooms they take.
    for item in &page.items {
        match item {
            Item::Stroke {
                points,
                filled: false,
                ..
            } => {
                for pair in points.windows(2) {
                    let [from, to] = [pair[0], pair[1]];
                    let steps = ((to.x - from.x).hypot(to.y - from.y) * dots)
                        .ceil()
                        .max(1.0);
                    for step in 0..=steps as usize {
                        let part = step as f64 / steps;
                        let x = ((from.x + (to.x - from.x) * part) * dots) as usize;
                        let y = ((from.y + (to.y - from.y) * part) * dots) as usize;
                        if x < width && y < height {
                            grey[y * width + x] = 0;
                        }
                    }
                }
            }
            Item::Text { .. } => {
                let (x0, y0, x1, y1) = text_box(item).unwrap();
                for y in (y0 * dots) as usize..(y1 * dots).min(height as f64) as usize {
                    grey[y * width + (x0 * dots) as usize
                        ..y * width + ((x1 * dots) as usize).min(width)]
                        .fill(90);
                }
            }
            Item::Stroke { .. } => {}
        }
    }
    let mut seen =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| grey[y * width + x]);
    let grids = seen.detect_grids();
    let mut read: Vec<String> = grids
        .iter()
        .filter_map(|grid| Some(grid.decode().ok()?.1))
        .collect();
    read.sort();
    read.dedup();
    read
}

#[test]
fn a_code_on_a_sheet_is_read_and_moves_nothing() {
    let mut with_room = 0;
    let cases = cases();
    for case in &cases {
        for (paper, printer) in [
            (Paper::A4, printer()),
            (
                Paper::Letter,
                printer().with_orientation(Orientation::Sideways),
            ),
        ] {
            let packet = packet_on(*case, paper, &printer, "upright", Unit::Millimetre);
            let code = Code::new(LINK).unwrap();
            for bare in &packet.pages {
                let mut page = bare.clone();
                let drawn = draw_codes(
                    &mut page,
                    paper,
                    &printer,
                    &[(&code, "opens this again")],
                    true,
                );
                assert_eq!(page.items[..bare.items.len()], bare.items[..]);
                if drawn == 0 {
                    assert_eq!(page, *bare);
                    continue;
                }
                with_room += 1;
                assert_eq!(
                    codes_on(&page),
                    [LINK],
                    "{} at {} on {paper:?}",
                    case.branch,
                    case.angle
                );
                crate::pages::assert_within(&page, printer.margin().mm());
            }
        }
    }
    assert!(with_room >= cases.len(), "{with_room} sheets had room");
}
