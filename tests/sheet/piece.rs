//! The sheet of a whole piece.

use copewright::joint::Main;
use copewright::piece::{
    Between, CentreLine, Clamps, End, Piece, Reading, Side, TubeBend, tape_division,
};
use copewright::sheet::{Pattern, PieceOrder, lay_out_piece};
use copewright::stock::Density;
use copewright::units::{read_length, write_angle, write_bare};

use crate::common::*;
use crate::pages::{assert_apart, assert_within};

fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// An end coped to a round main: its diameter, the angle, the offset and the turn of the heel.
type Coped = (f64, f64, f64, f64);

struct Made {
    tube: (f64, f64),
    ends: [Option<Coped>; 2],
    /// Between joint centres: straights, and the bends between them (radius, angle, outside).
    first: f64,
    more: &'static [((f64, f64, f64), f64)],
    grips: [f64; 2],
}

impl Made {
    fn piece(&self) -> Piece {
        let tube = RoundTube::new(mm(self.tube.0), mm(self.tube.1)).unwrap();
        let ends = Side::BOTH.map(|side| {
            let Some((main, angle, offset, heel)) = self.ends[side.index()] else {
                return End::Square;
            };
            let main = Main::round(mm(main), deg(angle), mm(offset)).unwrap();
            let joint = Joint::new(tube, main).unwrap();
            let cope = Cope::new(&joint, CutMethod::Saw, mm(0.0)).unwrap();
            let wrap = Wrap::computed(tube.outside(), mm(0.1));
            End::coped(side, cope, wrap, deg(heel), mm(5.0))
        });
        let mut line = CentreLine::straight(mm(self.first));
        for ((clr, angle, outside), straight) in self.more {
            let bend = TubeBend::new(mm(*clr), deg(*angle), deg(*outside)).unwrap();
            line = line.bent(bend, mm(*straight));
        }
        let grips = self.grips.map(mm);
        Piece::new(tube, ends, line, Between::Centres, grips).unwrap()
    }
}

const USUAL_TUBE: (f64, f64) = (42.4, 2.6);

/// Pieces of a launching trolley, and tiny, huge, slanting, short and much bent ones.
fn made() -> Vec<(&'static str, Made)> {
    vec![
        (
            "Left upright",
            Made {
                tube: USUAL_TUBE,
                ends: [Some((48.3, 60.0, 0.0, 0.0)), Some((48.3, 45.0, 5.0, 90.0))],
                first: 620.0,
                more: &[],
                grips: [0.0, 0.0],
            },
        ),
        (
            "Handle",
            Made {
                tube: USUAL_TUBE,
                ends: [
                    Some((48.3, 70.0, -4.0, 25.0)),
                    Some((60.3, 50.0, 6.0, 200.0)),
                ],
                first: 250.0,
                more: &[((125.0, 90.0, 0.0), 180.0), ((125.0, 60.0, 30.0), 300.0)],
                grips: [40.0, 0.0],
            },
        ),
        (
            "Bow rest",
            Made {
                tube: (33.7, 2.6),
                ends: [None, Some((42.4, 90.0, 0.0, 0.0))],
                first: 310.0,
                more: &[((100.0, 90.0, 0.0), 420.0), ((100.0, 90.0, 180.0), 200.0)],
                grips: [0.0, 25.0],
            },
        ),
        (
            "Axle beam",
            Made {
                tube: USUAL_TUBE,
                ends: [None, None],
                first: 1180.0,
                more: &[],
                grips: [0.0, 0.0],
            },
        ),
        (
            "Pin",
            Made {
                tube: (8.0, 1.0),
                ends: [Some((10.0, 90.0, 0.0, 0.0)), Some((10.0, 75.0, 1.0, 180.0))],
                first: 60.0,
                more: &[],
                grips: [0.0, 0.0],
            },
        ),
        (
            "Mast foot, the whole length of the slip, second from the landing stage, in two halves",
            Made {
                tube: (300.0, 10.0),
                ends: [
                    Some((400.0, 55.0, 20.0, 10.0)),
                    Some((323.9, 90.0, 0.0, 300.0)),
                ],
                first: 12_000.0,
                more: &[],
                grips: [200.0, 150.0],
            },
        ),
        (
            "Slanting brace",
            Made {
                tube: (26.9, 2.3),
                ends: [
                    Some((48.3, 15.0, 0.0, 90.0)),
                    Some((60.3, 20.0, -8.0, 270.0)),
                ],
                first: 900.0,
                more: &[],
                grips: [0.0, 60.0],
            },
        ),
        (
            "",
            Made {
                tube: (25.4, 1.5),
                ends: [
                    Some((42.4, 80.0, 2.0, 33.3)),
                    Some((42.4, 65.0, 0.0, 147.5)),
                ],
                first: 150.0,
                more: &[
                    ((76.2, 45.0, 10.0), 120.0),
                    ((76.2, 90.0, 100.0), 210.0),
                    ((76.2, 37.5, 222.2), 80.0),
                    ((101.6, 120.0, 275.0), 260.0),
                ],
                grips: [0.0, 30.0],
            },
        ),
        (
            "Half turn",
            Made {
                tube: (21.3, 2.0),
                ends: [Some((33.7, 90.0, 0.0, 0.0)), Some((33.7, 90.0, 0.0, 0.0))],
                first: 60.0,
                more: &[((50.0, 180.0, 0.0), 45.0)],
                grips: [0.0, 0.0],
            },
        ),
        (
            "Long handle",
            Made {
                tube: (60.3, 3.0),
                ends: [Some((76.1, 35.0, 10.0, 300.0)), None],
                first: 2_500.0,
                more: &[((180.0, 30.0, 45.0), 3_000.0)],
                grips: [0.0, 0.0],
            },
        ),
    ]
}

const UNITS: [Unit; 4] = [
    Unit::Millimetre,
    Unit::Fraction(Denominator::Sixteenth),
    Unit::Inch,
    Unit::Fraction(Denominator::SixtyFourth),
];

fn sheet_of(piece: &Piece, label: &str, unit: Unit, paper: Paper, printer: &Printer) -> Packet {
    lay_out_piece(&PieceOrder {
        piece,
        label,
        count: 4,
        density: Some(Density::STEEL),
        unit,
        division: tape_division(unit),
        clamps: Clamps {
            coping: mm(60.0),
            bending: mm(80.0),
        },
        link: LINK,
        date: "14 May 2026",
        paper,
        printer,
    })
}

/// The same again with the numbers that a tape shows and what is left over.
fn shown(reading: Reading, unit: Unit) -> String {
    let (decimals, name) = if unit.is_inch() {
        (Unit::Inch, "in")
    } else {
        (Unit::Millimetre, "mm")
    };
    let rest = reading.exact - reading.on_tape;
    match write_bare(rest.abs(), decimals).as_str() {
        "0" => write_length(reading.on_tape, unit),
        over => {
            let sign = if rest < Length::ZERO { "−" } else { "+" };
            let tape = write_bare(reading.on_tape, unit);
            format!("{tape} {sign} {over} {name}")
        }
    }
}

/// No word on any line of the drawing, frames aside.
fn assert_clear_of_lines(page: &Drawing) {
    let layers = [
        Layer::Tube,
        Layer::Hidden,
        Layer::Axis,
        Layer::Dimension,
        Layer::Zero,
        Layer::Mark,
        Layer::Quarter,
    ];
    let boxes: Vec<_> = page
        .items
        .iter()
        .filter_map(|item| Some((text_box(item)?, item)))
        .collect();
    for item in &page.items {
        let Item::Stroke {
            layer,
            points,
            closed,
            ..
        } = item
        else {
            continue;
        };
        if !layers.contains(layer) {
            continue;
        }
        let mut points = points.clone();
        if *closed {
            points.push(points[0]);
        }
        for pair in points.windows(2) {
            for (area, words) in &boxes {
                assert!(!meets(pair[0], pair[1], *area), "{words:?} on {item:?}");
            }
        }
    }
}

/// Whether a segment passes through the inside of a box: it does unless both ends are beyond one
/// side, or all corners on one side of its line.
fn meets(a: Point, b: Point, (x0, y0, x1, y1): (f64, f64, f64, f64)) -> bool {
    if a.x.max(b.x) <= x0 || a.x.min(b.x) >= x1 || a.y.max(b.y) <= y0 || a.y.min(b.y) >= y1 {
        return false;
    }
    let sides = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
        .map(|(x, y)| (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x));
    sides.iter().any(|side| *side > 0.0) && sides.iter().any(|side| *side < 0.0)
}

fn assert_good(packet: &Packet, margin: f64) {
    assert!(packet.pages.len() <= 3, "{}", packet.pages.len());
    for page in &packet.pages {
        assert_within(page, margin);
        assert_apart(page);
        assert_clear_of_lines(page);
        svg_document(page, "piece").unwrap();
    }
}

#[test]
fn nothing_is_outside_and_nothing_over_anything_else() {
    let ways = [
        Orientation::Auto,
        Orientation::Upright,
        Orientation::Sideways,
    ];
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            for paper in [Paper::A4, Paper::Letter] {
                for way in ways {
                    let printer = printer().with_orientation(way);
                    let packet = sheet_of(&piece, label, unit, paper, &printer);
                    assert_good(&packet, 5.0);
                    assert_eq!(packet.turned, way == Orientation::Sideways);
                }
            }
        }
    }
}

#[test]
fn wide_margins_and_corrected_printers_are_kept_to() {
    for (across, along) in [(91.0, 109.0), (109.0, 91.0)] {
        for way in [Orientation::Upright, Orientation::Sideways] {
            let printer = printer()
                .with_margin(mm(25.0))
                .unwrap()
                .with_orientation(way)
                .measured(Ruler::Millimetres, mm(across), mm(along))
                .unwrap();
            for (label, made) in made() {
                let unit = Unit::Fraction(Denominator::Sixteenth);
                let packet = sheet_of(&made.piece(), label, unit, Paper::Letter, &printer);
                for page in &packet.pages {
                    assert_within(page, 25.0);
                }
                assert!(packet.corrected);
            }
        }
    }
}

#[test]
fn pieces_of_every_kind_find_room_for_their_words() {
    // Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4) scatters the sizes.
    let mut state = 1_u32;
    let mut pick = |low: f64, high: f64| {
        state = state.wrapping_add(1);
        let part = f64::from(state.wrapping_mul(2_654_435_761) >> 8) / f64::from(1_u32 << 24);
        low + (high - low) * part
    };
    for round in 0..200_usize {
        let outside = 8.0 * 37.5_f64.powf(pick(0.0, 1.0));
        let tube = RoundTube::new(mm(outside), mm(outside * pick(0.04, 0.2))).unwrap();
        let ends = Side::BOTH.map(|side| {
            if pick(0.0, 1.0) < 0.2 {
                return End::Square;
            }
            let main = outside * pick(1.0, 2.5);
            let offset = pick(-0.2, 0.2) * (main - outside);
            let main = Main::round(mm(main), deg(pick(20.0, 90.0)), mm(offset)).unwrap();
            let cope = Cope::new(&Joint::new(tube, main).unwrap(), CutMethod::Square, mm(0.0));
            let wrap = Wrap::computed(mm(outside), mm(0.1));
            End::coped(side, cope.unwrap(), wrap, deg(pick(0.0, 360.0)), mm(5.0))
        });
        let straight = |pick: &mut dyn FnMut(f64, f64) -> f64| mm(outside * pick(6.0, 30.0));
        let mut line = CentreLine::straight(straight(&mut pick));
        for _ in 0..round % 5 {
            let clr = mm(outside * pick(1.5, 5.0));
            let bend = TubeBend::new(clr, deg(pick(5.0, 180.0)), deg(pick(0.0, 360.0))).unwrap();
            line = line.bent(bend, straight(&mut pick));
        }
        let grips = [0.0, 1.0].map(|_| mm((outside * pick(-3.0, 3.0)).max(0.0)));
        let piece = Piece::new(tube, ends, line, Between::LongPoints, grips).unwrap();
        let unit = UNITS[round % 4];
        let paper = [Paper::A4, Paper::Letter, Paper::A3][round % 3];
        let packet = sheet_of(&piece, "Brace", unit, paper, &printer());
        assert_good(&packet, 5.0);
        let packet = sheet_of(&piece, "Brace", unit, paper, &upright());
        assert_dimensions(&piece, unit, &packet.pages[0]);
    }
}

#[test]
fn a_piece_of_many_bends_goes_on_to_more_sheets() {
    let tube = RoundTube::new(mm(12.0), mm(1.0)).unwrap();
    let mut line = CentreLine::straight(mm(100.0));
    for bend in 0..60_u32 {
        let outside = deg(f64::from(bend) * 47.0);
        let bend = TubeBend::new(mm(40.0), deg(90.0), outside).unwrap();
        line = line.bent(bend, mm(70.0));
    }
    let ends = [End::AsItIs, End::AsItIs];
    let piece = Piece::new(tube, ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    for way in [Orientation::Upright, Orientation::Sideways] {
        let printer = printer().with_orientation(way);
        let packet = sheet_of(&piece, "Coil", Unit::Millimetre, Paper::A4, &printer);
        assert!(packet.pages.len() > 1);
        for page in &packet.pages {
            assert_within(page, 5.0);
            assert_apart(page);
            assert_clear_of_lines(page);
        }
        // 59 of them have too little straight before them for the bender, and every one is said.
        let all: String = packet.pages.iter().map(words).collect();
        assert_eq!(all.matches("Mind:").count(), packet.notes.len());
        assert_eq!(packet.notes.len(), 59);
        let heads = all.matches("centre-line").count();
        let with_rows = packet
            .pages
            .iter()
            .filter(|page| words(page).contains("centre-line"));
        assert_eq!(heads, with_rows.count());
    }
}

#[test]
fn straight_pieces_take_one_page() {
    for (label, made) in made() {
        if made.more.is_empty() && label.len() < 40 {
            for paper in [Paper::A4, Paper::Letter] {
                let packet = sheet_of(&made.piece(), label, Unit::Millimetre, paper, &printer());
                assert_eq!(packet.pages.len(), 1, "{label}");
            }
        }
    }
}

/// All texts of a packet, and the one that follows a caption.
fn after<'a>(all: &'a [String], caption: &str) -> &'a str {
    let at = all.iter().position(|text| text == caption);
    &all[at.unwrap_or_else(|| panic!("{caption:?} is nowhere")) + 1]
}

#[test]
fn every_number_is_the_kernels() {
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            let marks = piece.marks(tape_division(unit));
            let packet = sheet_of(&piece, label, unit, Paper::A3, &printer());
            let all: Vec<String> = packet
                .pages
                .iter()
                .flat_map(texts)
                .map(str::to_owned)
                .collect();
            let lengths = piece.lengths();
            let coped = Side::BOTH.map(|side| piece.end(side).template().is_some());
            let mut expected = vec![
                (
                    if piece.is_bent() {
                        "Joint centres apart along tube"
                    } else {
                        "Between joint centres"
                    },
                    write_length(lengths.centres, unit),
                ),
                (
                    "Overall, long point to long point",
                    write_length(lengths.overall, unit),
                ),
                ("Blank, cut to", shown(marks.blank.length, unit)),
                ("Check letters of left and right", piece.check_sum()),
            ];
            let names = [
                [
                    "Mark A from the long point at A",
                    "Mark A to far end",
                    "Mark A from the blank's end at A",
                    "Grip stock to cut off at A",
                ],
                [
                    "Mark B from the long point at B",
                    "Mark B to far end",
                    "Mark B from the blank's end at B",
                    "Grip stock to cut off at B",
                ],
            ];
            for side in Side::BOTH {
                let at = side.index();
                let [own, far, blank, off] = names[at];
                if coped[at] {
                    expected.push((own, shown(marks.finished.own[at], unit)));
                    expected.push((far, shown(marks.finished.far[at], unit)));
                }
                if made.grips[at] > 0.0 {
                    expected.push((off, shown(marks.cut_off[at], unit)));
                    if coped[at] {
                        expected.push((blank, shown(marks.blank.own[at], unit)));
                    }
                }
            }
            if coped == [true, true] {
                expected.push(("Mark to mark", shown(marks.finished.between, unit)));
            }
            if piece.is_bent() {
                let apart = write_length(piece.centres_apart(), unit);
                expected.push(("Joint centres apart in space", apart));
            }
            for (caption, value) in &expected {
                assert_eq!(after(&all, caption), value, "{label}: {caption}");
            }
            for (number, bend) in marks.bends.iter().enumerate() {
                let row = [
                    (number + 1).to_string(),
                    shown(bend.from_blank, unit),
                    shown(bend.from_mark, unit),
                    shown(bend.from_last, unit),
                    write_angle(bend.angle),
                    write_length(bend.clr, unit),
                    shown(bend.arc, unit),
                    write_angle(bend.outside),
                ];
                let found = all.windows(8).any(|texts| texts == row.as_slice());
                assert!(found, "{row:?} is no row of {all:?}");
            }
            if coped == [true, true] {
                let said = all.join(" ");
                let turn = write_angle(piece.turn_between().unwrap());
                let turn = format!("{turn}, sighted along the tube from end A, clockwise");
                assert!(said.contains(&turn), "{turn} not in {said}");
                let [a, b] = marks.finished.far.map(|far| write_bare(far.on_tape, unit));
                let between = marks.finished.between.on_tape;
                let sign = if between < Length::ZERO { "+" } else { "−" };
                let sum = format!(
                    "{a} + {b} {sign} {} = {} {}",
                    write_bare(between.abs(), unit),
                    write_bare(marks.finished.length.on_tape, unit),
                    if unit.is_inch() { "in" } else { "mm" }
                );
                assert!(said.contains(&sum), "{sum} not in {said}");
            }
        }
    }
}

#[test]
fn what_the_tape_shows_and_its_error_make_up_the_length() {
    for (label, made) in made() {
        let piece = made.piece();
        for unit in [Unit::Fraction(Denominator::Sixteenth), Unit::Inch] {
            let marks = piece.marks(tape_division(unit));
            for reading in [marks.blank.length, marks.finished.between] {
                let packet = sheet_of(&piece, label, unit, Paper::A3, &printer());
                let text = shown(reading, unit);
                if reading.exact > Length::ZERO && unit != Unit::Inch {
                    let read = read_length(&text, unit).unwrap();
                    assert!((read - reading.exact).abs() <= unit.shown_step() * 0.5001);
                }
                let marked = Side::BOTH.map(|side| piece.end(side).template().is_some());
                let all: String = packet.pages.iter().map(words).collect();
                assert!(
                    all.contains(&text) || marked != [true, true],
                    "{label}: {text}"
                );
            }
        }
    }
}

/// What a drawn millimetre stands for.
fn scale(page: &Drawing) -> f64 {
    let all = texts(page);
    let text = all.iter().find(|text| text.starts_with("Scale ")).unwrap();
    let words: Vec<&str> = text.split([' ', ',', '.']).collect();
    words[3].parse::<f64>().unwrap() / words[1].parse::<f64>().unwrap()
}

/// The level zero line of the drawing: its height.
fn middle(page: &Drawing) -> f64 {
    let zero = strokes(page, Layer::Zero);
    let level = zero.iter().find(|(_, points)| points[0].y == points[1].y);
    level.unwrap().1[0].y
}

/// Joint centres from left to right: the upright strokes of their crosses.
fn centres(page: &Drawing) -> [f64; 2] {
    let axis = strokes(page, Layer::Axis);
    let upright = axis.iter().filter(|(_, points)| points[0].x == points[1].x);
    let xs: Vec<f64> = upright.map(|(_, points)| points[0].x).collect();
    xs.try_into().unwrap()
}

#[test]
fn the_drawn_cuts_are_those_of_the_joints() {
    // Closed form of the cut on a round main, from the meeting of the two cylinders: every corner
    // of the drawn outline is turned back to where it is on the tube.
    let mut looked = 0;
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let (of, y, centres) = (scale(page), middle(page), centres(page));
        let r = made.tube.0 / 2.0;
        for (layer, seen) in [(Layer::Tube, true), (Layer::Hidden, false)] {
            for (pen, points) in strokes(page, layer) {
                let on_tube = points.iter().all(|p| (p.y - y).abs() <= r / of + 1e-6);
                if pen == Pen::THIN || points.len() < 10 || !on_tube {
                    continue;
                }
                let side = usize::from(points[0].x > f64::midpoint(centres[0], centres[1]));
                let (main, angle, offset, heel) = made.ends[side].unwrap();
                let way = [1.0, -1.0][side];
                for point in points {
                    let sin = (point.y - y) * of / r;
                    if sin.abs() > 0.999 {
                        continue;
                    }
                    let turn = if seen {
                        sin.asin()
                    } else {
                        std::f64::consts::PI - sin.asin()
                    };
                    // From the heel, as the end itself counts.
                    let phi = way * (turn - heel.to_radians());
                    let (theta, across) = (angle.to_radians(), r * phi.sin() - offset);
                    let up = ((main / 2.0).powi(2) - across * across).sqrt();
                    if up.is_nan() {
                        // Here the tube passes beside its main and is trimmed.
                        continue;
                    }
                    let s = (r * phi.cos() * theta.cos() + up) / theta.sin();
                    let drawn = way * (point.x - centres[side]) * of;
                    assert!((s - drawn).abs() < 1e-6, "{label}: {s} is drawn at {drawn}");
                    looked += 1;
                }
            }
        }
    }
    assert!(looked > 500, "{looked}");
}

#[test]
fn dimension_lines_are_as_long_as_they_say() {
    let mut whole = 0;
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            for paper in [Paper::A4, Paper::Letter] {
                let packet = sheet_of(&piece, label, unit, paper, &upright());
                whole += assert_dimensions(&piece, unit, &packet.pages[0]);
            }
        }
    }
    assert!(whole > 100, "{whole}");
}

fn upright() -> Printer {
    printer().with_orientation(Orientation::Upright)
}

/// Every dimension stands on a line of its length, or where the drawing is broken on a line; how
/// many were measured.
fn assert_dimensions(piece: &Piece, unit: Unit, page: &Drawing) -> usize {
    let mut measured = 0;
    let of = scale(page);
    let marks = piece.marks(tape_division(unit));
    let finished = &marks.finished;
    let coped = Side::BOTH.map(|side| piece.end(side).template().is_some());
    let grips = Side::BOTH.map(|side| piece.grip(side) > Length::ZERO);
    // What is said, how long it is, and whether it is drawn whole on any piece.
    let mut dimensions = vec![("overall", finished.length, false)];
    if grips != [false, false] {
        dimensions.push(("blank", marks.blank.length, false));
    }
    for at in [0, 1] {
        if coped[at] {
            dimensions.push((["mark A", "mark B"][at], finished.own[at], true));
            let far = ["mark A to far end", "mark B to far end"][at];
            dimensions.push((far, finished.far[at], false));
            if grips[at] {
                dimensions.push(("from the blank’s end", marks.blank.own[at], false));
            }
        }
        if grips[at] {
            dimensions.push(("cut off", marks.cut_off[at], false));
        }
    }
    if coped == [true, true] {
        let between = Reading {
            exact: finished.between.exact.abs(),
            on_tape: finished.between.on_tape.abs(),
        };
        let passed = finished.between.exact < Length::ZERO;
        let caption = if passed {
            "marks passed by"
        } else {
            "mark to mark"
        };
        dimensions.push((caption, between, false));
    }
    if coped != [false, false] {
        let centres = Reading::nearest(piece.lengths().centres, tape_division(unit));
        dimensions.push(("between joint centres", centres, false));
    }
    let broken = words(page).contains("long stretches broken");
    let lines: Vec<&[Point]> = strokes(page, Layer::Dimension)
        .into_iter()
        .map(|(_, points)| points)
        .filter(|points| points.len() == 2 && points[0].y == points[1].y)
        .collect();
    for (caption, reading, whole) in dimensions {
        let value = write_bare(reading.on_tape, unit);
        let long = format!("{caption} {value}");
        let stands_on = |at: &Point, middle: f64| {
            lines.iter().any(|line| {
                let ends = [line[0].x.min(line[1].x), line[0].x.max(line[1].x)];
                let true_length = (ends[1] - ends[0]) * of;
                let near = (0.5..2.6).contains(&(line[0].y - at.y));
                let beside = middle > ends[0] - 22.0 && middle < ends[1] + 22.0;
                let as_long = (true_length - reading.exact.mm()).abs() < 1e-6;
                near && beside && (as_long || broken && !whole)
            })
        };
        let found = page.items.iter().any(|item| match (item, text_box(item)) {
            (Item::Text { at, text, .. }, Some(area)) => {
                (*text == value || *text == long) && stands_on(at, f64::midpoint(area.0, area.2))
            }
            _ => false,
        });
        assert!(found, "{long} is on no line of its length");
        measured += usize::from(whole || !broken);
    }
    measured
}

#[test]
fn outsides_of_bends_are_drawn_at_their_turn() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let (y, r) = (middle(page), made.tube.0 / 2.0 / scale(page));
        for ((_, _, outside), _) in made.more {
            let (sin, cos) = outside.to_radians().sin_cos();
            let pattern = if cos > -1e-9 {
                Pattern::Solid
            } else {
                Pattern::Dashed
            };
            let found = strokes(page, Layer::Quarter).iter().any(|(pen, points)| {
                let level = points[0].y == points[1].y;
                level && pen.pattern == pattern && (points[0].y - (y + r * sin)).abs() < 1e-9
            });
            assert!(found, "{label}: outside at {outside}°");
        }
    }
}

#[test]
fn the_shape_is_true() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let shapes: Vec<Vec<Point>> = packet
            .pages
            .iter()
            .flat_map(|page| strokes(page, Layer::Tube))
            .filter(|(pen, _)| *pen == Pen::BOLD)
            .map(|(_, points)| points.to_vec())
            .collect();
        if !piece.is_bent() {
            assert!(shapes.is_empty());
            continue;
        }
        let span = |of: &dyn Fn(&Point) -> f64, points: &[Point]| {
            let all: Vec<f64> = points.iter().map(of).collect();
            all.iter().copied().fold(f64::MIN, f64::max)
                - all.iter().copied().fold(f64::MAX, f64::min)
        };
        if let [only] = shapes.as_slice() {
            let (a, b) = (only[0], only[only.len() - 1]);
            let path: f64 = only
                .windows(2)
                .map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y))
                .sum();
            let apart = (b.x - a.x).hypot(b.y - a.y) / path;
            let exact = piece.centres_apart() / piece.lengths().centres;
            // The arcs are drawn as chords.
            assert!((apart - exact).abs() < 2e-3, "{label}: {apart} for {exact}");
        } else {
            let [front, top, end] = shapes.as_slice() else {
                panic!("{label}: {} views", shapes.len());
            };
            // What two views share is as long in both, and A to B in space as the kernel has it.
            let x = |points: &[Point]| span(&|p| p.x, points);
            let y = |points: &[Point]| span(&|p| p.y, points);
            assert!((x(front) - x(top)).abs() < 1e-9);
            assert!((y(front) - x(end)).abs() < 1e-9);
            assert!((y(top) - y(end)).abs() < 1e-9);
            let last = |points: &[Point]| {
                let (a, b) = (points[0], points[points.len() - 1]);
                (b.x - a.x, b.y - a.y)
            };
            let ((along, across), (_, down)) = (last(front), last(top));
            let apart = along.hypot(across).hypot(down);
            // The first straight is seen whole from the front.
            let first = piece.straights(Between::Centres)[0].mm();
            let drawn = (front[1].x - front[0].x).abs();
            let exact = piece.centres_apart().mm() / first;
            assert!((apart / drawn - exact).abs() < 1e-6, "{label}");
        }
    }
}

#[test]
fn what_clashes_is_said_first() {
    let made = made();
    let half_turn = made
        .iter()
        .find(|(label, _)| *label == "Half turn")
        .unwrap();
    let piece = half_turn.1.piece();
    let clamps = Clamps {
        coping: mm(60.0),
        bending: mm(80.0),
    };
    let clashes = piece.clashes(&clamps);
    assert!(!clashes.is_empty());
    let unit = Unit::Millimetre;
    let packet = sheet_of(&piece, "Half turn", unit, Paper::A4, &printer());
    let sentences: Vec<String> = clashes.iter().map(|clash| clash.sentence(unit)).collect();
    assert_eq!(packet.notes, sentences);
    let all = words(&packet.pages[0]);
    let drawing = all.find("Scale ").unwrap();
    for sentence in sentences {
        assert!(all.find(&sentence).unwrap() < drawing, "{sentence}");
    }
    assert!(
        packet
            .pages
            .iter()
            .any(|page| words(page).contains("Cope first"))
    );
}

#[test]
fn the_sheet_says_what_to_do_and_to_mind() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let all: String = packet.pages.iter().map(words).collect::<Vec<_>>().join(" ");
        for needed in [
            "At the bench",
            "zero line",
            "Geometry only.",
            "Fresh edges",
            "toxic fume",
            "14 May 2026",
            "Make 4",
            "end A",
            "end B",
        ] {
            assert!(all.contains(needed), "{label}: {needed:?} is not in {all}");
        }
        assert_eq!(all.contains("Bender:"), piece.is_bent());
        let coped = Side::BOTH
            .iter()
            .any(|side| piece.end(*side).template().is_some());
        assert_eq!(all.contains("Wrap each template"), coped);
        let kg = piece.mass_kg(Density::STEEL);
        let said = |kg: f64| {
            let places = if kg >= 100.0 {
                1
            } else if kg >= 1.0 {
                2
            } else {
                3
            };
            format!("{} kg", copewright::units::write_decimal(kg, places))
        };
        assert!(
            all.contains(&said(kg)) && all.contains(&said(kg * 4.0)),
            "{label}"
        );
    }
}

#[test]
fn left_and_right_show_the_same_letters_and_lengths() {
    for (label, made) in made() {
        let piece = made.piece();
        let other = piece.mirrored().unwrap();
        let of = |piece: &Piece| {
            let packet = sheet_of(piece, label, Unit::Millimetre, Paper::A3, &printer());
            let all = packet.pages.iter().flat_map(texts).map(str::to_owned);
            all.collect::<Vec<String>>()
        };
        let (own, other) = (of(&piece), of(&other));
        for caption in [
            "Check letters of left and right",
            "Overall, long point to long point",
            "Blank, cut to",
        ] {
            assert_eq!(after(&own, caption), after(&other, caption), "{label}");
        }
    }
}

#[test]
fn views_show_the_kernels_frame_the_right_way_round() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let line = piece.line();
        let Some(first) = line.natural_zero() else {
            continue;
        };
        let [x, y, z] = line.frame_at(line.developed()).origin;
        // Along the tube to the right; then the outside of the first bend down, or the zero line
        // towards the viewer, down, and up.
        let (sin, cos) = first.rad().sin_cos();
        let flat = [(z, x * cos + y * sin)];
        let three = [(z, y), (z, x), (y, -x)];
        let shapes: Vec<Vec<Point>> = packet
            .pages
            .iter()
            .flat_map(|page| strokes(page, Layer::Tube))
            .filter(|(pen, _)| *pen == Pen::BOLD)
            .map(|(_, points)| points.to_vec())
            .collect();
        let expected: &[(f64, f64)] = if shapes.len() == 1 { &flat } else { &three };
        // The first straight lies along the tube in the first view.
        let scale = (shapes[0][1].x - shapes[0][0].x) / piece.straights(Between::Centres)[0].mm();
        for (points, (right, down)) in shapes.iter().zip(expected) {
            let (a, b) = (points[0], points[points.len() - 1]);
            let off = (b.x - a.x - right * scale).hypot(b.y - a.y - down * scale);
            assert!(off < 1e-6, "{label}: off by {off}");
        }
    }
}

#[test]
fn the_dial_counts_clockwise_from_the_zero_line_on_top() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let heels = Side::BOTH.into_iter().filter_map(|side| piece.heel(side));
        let turns: Vec<Angle> = heels
            .chain(piece.line().bends().map(TubeBend::outside))
            .collect();
        if turns.is_empty() {
            continue;
        }
        // The upright zero line runs from the middle of the dial to its rim.
        let zero = strokes(page, Layer::Zero);
        let upright = zero.iter().find(|(_, points)| points[0].x == points[1].x);
        let [middle, rim] = upright.unwrap().1 else {
            panic!("{label}: no zero line on the dial");
        };
        let radius = middle.y - rim.y;
        assert!(radius > 5.0);
        for turn in turns {
            // Right-handed about the line of sight: to the right of the top.
            let (sin, cos) = turn.rad().sin_cos();
            let ticked = strokes(page, Layer::Mark).iter().any(|(_, points)| {
                let (dx, dy) = (points[1].x - middle.x, points[1].y - middle.y);
                let far = dx.hypot(dy);
                far < radius + 3.0 && (dx * sin - dy * cos) / far > 0.999
            });
            assert!(ticked, "{label}: nothing at {}", write_angle(turn));
        }
    }
}

#[test]
fn an_end_that_is_left_as_it_is_says_so() {
    let tube = RoundTube::new(mm(33.7), mm(2.6)).unwrap();
    let ends = [End::AsItIs, End::Square];
    let line = CentreLine::straight(mm(800.0));
    let piece = Piece::new(tube, ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    let packet = lay_out_piece(&PieceOrder {
        piece: &piece,
        label: "",
        count: 1,
        density: None,
        unit: Unit::Millimetre,
        division: mm(0.0),
        clamps: Clamps::default(),
        link: "",
        date: "",
        paper: Paper::Letter,
        printer: &printer(),
    });
    let [page] = packet.pages.as_slice() else {
        panic!("{} pages", packet.pages.len());
    };
    assert_within(page, 5.0);
    assert_apart(page);
    let all = words(page);
    assert!(all.contains("end A stays as it is"), "{all}");
    assert!(
        !all.contains("kg") && !all.contains("Open it again"),
        "{all}"
    );
}
