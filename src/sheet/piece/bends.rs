//! The table of bends.

use crate::piece::{BendMark, Marks, Side};
use crate::sheet::blocks::BETWEEN;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::piece::facts::{has_mark, reading};
use crate::sheet::piece::{Flow, PieceOrder};
use crate::sheet::words;
use crate::units::{Unit, write_angle, write_length};

/// Height of a line of the table and of its head, mm.
const LINE: f64 = 4.8;
const HEAD: f64 = 8.0;
/// Sizes of its figures, the largest that fits is taken, and of its captions, mm.
const SIZES: [f64; 4] = [3.0, 2.7, 2.4, 2.1];
const SMALL: f64 = 2.2;

/// Captions of the columns, in two lines.
const COLUMNS: [[&str; 2]; 8] = [
    ["bend", ""],
    ["start, from the", "blank's end at A"],
    ["start, from", "mark A"],
    ["straight", "before it"],
    ["angle", ""],
    ["centre-line", "radius"],
    ["length", "of tube in it"],
    ["outside, turn from", "the zero line"],
];
/// The column that counts from mark A, and what it counts from where end A has no mark.
const FROM_MARK: usize = 2;
const FROM_END: [&str; 2] = ["start, from", "finished end A"];

/// A line of the table.
fn cells(number: usize, bend: &BendMark, unit: Unit) -> [String; 8] {
    [
        (number + 1).to_string(),
        reading(bend.from_blank, unit),
        reading(bend.from_mark, unit),
        reading(bend.from_last, unit),
        write_angle(bend.angle),
        write_length(bend.clr, unit),
        reading(bend.arc, unit),
        write_angle(bend.outside),
    ]
}

/// The table of bends, with its head again on each sheet it goes on to.
pub fn table(flow: &mut Flow, order: &PieceOrder, marks: &Marks) {
    let rows: Vec<[String; 8]> = marks
        .bends
        .iter()
        .enumerate()
        .map(|(bend, mark)| cells(bend, mark, order.unit))
        .collect();
    let mut captions = COLUMNS;
    if !has_mark(order.piece, Side::A) {
        captions[FROM_MARK] = FROM_END;
    }
    let (size, edges) = columns(&captions, &rows, flow.room.width());
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        if flow.left(BETWEEN) < HEAD + LINE && flow.y > flow.room.y0 {
            flow.turn_over();
        }
        let mut count = 0;
        let mut height = HEAD;
        while count < rest.len() && (count == 0 || height + LINE <= flow.left(BETWEEN)) {
            count += 1;
            height += LINE;
        }
        let (these, others) = rest.split_at(count);
        rest = others;
        let width = flow.room.width();
        flow.set(BETWEEN, height, |page, at| {
            draw(page, (&captions, these), (size, edges), at, width);
        });
    }
}

/// Size of the figures of the table of bends, and the right edges of its columns.
fn columns(captions: &[[&str; 2]; 8], rows: &[[String; 8]], room: f64) -> (f64, [f64; 8]) {
    let mut fitted = (0.0, [0.0; 8]);
    for size in SIZES {
        let mut widths = captions
            .map(|caption| caption.map(|line| words::width(line, SMALL, false)))
            .map(|[first, second]| first.max(second));
        for row in rows {
            for (width, cell) in widths.iter_mut().zip(row) {
                *width = width.max(words::width(cell, size, false));
            }
        }
        let spare = (room - widths.iter().sum::<f64>()) / 7.0;
        let mut right = -spare;
        fitted = (
            size,
            widths.map(|width| {
                right += width + spare;
                right
            }),
        );
        if spare >= 2.0 {
            break;
        }
    }
    fitted
}

fn draw(
    page: &mut Drawing,
    (captions, rows): (&[[&str; 2]; 8], &[[String; 8]]),
    (size, edges): (f64, [f64; 8]),
    at: Point,
    width: f64,
) {
    for (lines, right) in captions.iter().zip(edges) {
        for (caption, y) in lines.iter().zip([at.y + 2.3, at.y + 5.6]) {
            if !caption.is_empty() {
                page.text(Point::new(at.x + right, y), SMALL, Anchor::End, *caption);
            }
        }
    }
    let mut y = at.y + HEAD - 1.0;
    let rule = |page: &mut Drawing, y: f64| {
        let ends = [Point::new(at.x, y), Point::new(at.x + width, y)];
        page.line(Layer::Frame, Pen::HAIR, ends);
    };
    rule(page, y);
    for row in rows {
        for (cell, right) in row.iter().zip(edges) {
            let place = Point::new(at.x + right, y + LINE - 1.4);
            page.text(place, size, Anchor::End, cell.clone());
        }
        y += LINE;
        rule(page, y);
    }
}
