//! The sheet of a whole piece.

mod drawn;
mod room;
mod said;

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

/// The sheets of all pieces.
pub fn packets(paper: Paper, printer: &Printer, unit: Unit) -> Vec<Packet> {
    let sheet = |(label, made): (&str, Made)| sheet_of(&made.piece(), label, unit, paper, printer);
    self::made().into_iter().map(sheet).collect()
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
