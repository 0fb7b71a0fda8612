//! The table of ordinates as sheets of paper, for marking the cut by hand.

use crate::piece::{Ordinate, ordinates};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::facts;
use crate::sheet::figure::{dimension, head};
use crate::sheet::page::{Frame, GUTTER};
use crate::sheet::placer::Block;
use crate::sheet::strip::{Strip, TAB};
use crate::sheet::words;
use crate::sheet::{Order, Packet};
use crate::units::{Length, write_angle, write_length};

/// Height of a line of the table, mm.
const LINE: f64 = 5.2;
/// Height of the head of the table, mm.
const HEAD: f64 = 9.0;
/// Sizes of its figures, the largest that fits is taken, mm.
const SIZES: [f64; 4] = [3.2, 2.9, 2.6, 2.4];
/// Size of its captions and of the words beside it, mm.
const SMALL: f64 = 2.6;
/// Width of the columns, mm.
const SET: f64 = 112.0;
/// White between the columns and the figure, mm.
const BETWEEN: f64 = 6.0;
/// Room for the figure that shows what is measured, mm.
const FIGURE: Area = Area::new(0.0, 0.0, 58.0, 62.0);
/// Captions of the columns.
const COLUMNS: [[&str; 2]; 4] = [
    ["turn", ""],
    ["around, from", "the zero line"],
    ["along, from", "the mark line"],
    ["along, from the", "joint centre"],
];

/// The table at so many divisions, on as many sheets as it takes; always upright.
pub fn pages(order: &Order, divisions: u32) -> Packet {
    let frame = Frame::new(order.paper, order.printer, false);
    let table = ordinates(order.template, divisions);
    let inner = frame.inner();
    let room = Area::new(inner.x0, inner.y0, inner.x1, inner.y1);
    let columns = columns(order, &table);
    let lines = lines_in(&room);
    let side_by_side = room.width() >= SET + BETWEEN + FIGURE.width();
    let parts: Vec<&[Ordinate]> = table.chunks(lines.max(1)).collect();
    // The figure stands beside the first part, or on a sheet of its own when the paper is narrow.
    let total = parts.len() + usize::from(!side_by_side);
    let letterhead = facts::letterhead(order);
    let blank = |number: usize| {
        let which = if total > 1 {
            format!("table of {divisions}, sheet {number} of {total}")
        } else {
            format!("table of {divisions} divisions")
        };
        frame.blank(&letterhead, &which)
    };
    let mut pages = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let mut page = blank(i + 1);
        let at = Point::new(room.x0, room.y0);
        draw_lines(&mut page, order, part, columns, at);
        if i == 0 && side_by_side {
            let at = Point::new(room.x0 + SET + BETWEEN, room.y0);
            draw_aside(&mut page, order, at, room.x1 - at.x);
        }
        pages.push(frame.finish(page));
    }
    if !side_by_side {
        let mut page = blank(total);
        draw_aside(&mut page, order, Point::new(room.x0, room.y0), room.width());
        pages.push(frame.finish(page));
    }
    Packet {
        pages,
        turned: false,
        columns: 1,
        rows: 1,
        corrected: order.printer.is_corrected(),
        notes: Vec::new(),
    }
}

/// Lines that fit a room under the head of the table.
fn lines_in(room: &Area) -> usize {
    let lines = ((room.height() - HEAD) / LINE).floor().max(1.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet has a few dozen lines"
    )]
    let lines = lines as usize;
    lines
}

/// The four cells of a line in words.
fn cells(order: &Order, line: &Ordinate) -> [String; 4] {
    let length = |length: Length| write_length(length, order.unit);
    let or_beside = |value: Option<Length>| value.map_or("beside".to_owned(), length);
    [
        write_angle(line.turn),
        length(line.around),
        or_beside(line.from_mark),
        or_beside(line.from_centre),
    ]
}

/// Size of the figures, and the right edges of the columns.
fn columns(order: &Order, table: &[Ordinate]) -> (f64, [f64; 4]) {
    let rows: Vec<[String; 4]> = table.iter().map(|line| cells(order, line)).collect();
    let mut fitted = (0.0, [0.0; 4]);
    for size in SIZES {
        let widest = |which: usize| {
            let caption = COLUMNS[which].map(|caption| words::width(caption, SMALL, false));
            rows.iter()
                .map(|row| words::width(&row[which], size, false))
                .chain(caption)
                .fold(0.0, f64::max)
        };
        let widths = [0, 1, 2, 3].map(widest);
        let spare = (SET - widths.iter().sum::<f64>()) / 4.0;
        let mut right = 0.0;
        let edges = widths.map(|width| {
            right += width + spare;
            right
        });
        fitted = (size, edges);
        if spare >= 2.0 {
            break;
        }
    }
    fitted
}

fn draw_lines(
    page: &mut Drawing,
    order: &Order,
    part: &[Ordinate],
    (size, edges): (f64, [f64; 4]),
    at: Point,
) {
    let rule = |page: &mut Drawing, y: f64, pen: Pen| {
        let ends = [Point::new(at.x, y), Point::new(at.x + SET, y)];
        page.line(Layer::Frame, pen, ends);
    };
    for (captions, right) in COLUMNS.into_iter().zip(edges) {
        for (caption, y) in captions.into_iter().zip([at.y + 2.6, at.y + 6.2]) {
            if !caption.is_empty() {
                let place = Point::new(at.x + right, y);
                page.text(place, SMALL, Anchor::End, caption);
            }
        }
    }
    let mut y = at.y + HEAD;
    rule(page, y, Pen::THIN);
    for (i, line) in part.iter().enumerate() {
        for (cell, right) in cells(order, line).into_iter().zip(edges) {
            let place = Point::new(at.x + right, y + LINE - 1.5);
            page.text(place, size, Anchor::End, cell);
        }
        y += LINE;
        let pen = if i + 1 == part.len() {
            Pen::THIN
        } else {
            Pen::HAIR
        };
        rule(page, y, pen);
    }
}

/// What the columns mean: a small figure, not to scale, and words.
fn draw_aside(page: &mut Drawing, order: &Order, at: Point, width: f64) {
    small_figure(page, order, at);
    let mut y = at.y + FIGURE.height() + GUTTER;
    let mut say = |text: &str, bold: bool| {
        let mut block = Block::new(words::wrap(text, SMALL, bold, width), SMALL);
        block.bold = bold;
        block.draw(page, Point::new(at.x, y), Anchor::Start);
        y += block.extent().1 + 1.6;
    };
    let wrap = order.template.wrap();
    let mark = write_length(order.template.mark_to_long(), order.unit);
    say("Mark by hand", true);
    say(
        &format!(
            "Scribe the zero line along the tube and the mark line round it, {mark} from the end \
             the long point shall have."
        ),
        false,
    );
    say(
        &format!(
            "Step the distances around off along the mark line, from the zero line, \
             counter-clockwise as seen from the body of the tube towards the joint. Once round is \
             {}.",
            write_length(wrap.width(), order.unit)
        ),
        false,
    );
    say(
        "From each step measure the distance from the mark line along the tube towards the joint. \
         Join the points with a bent strip.",
        false,
    );
    say(
        "“beside”: here the branch passes beside the main. Trim or leave long.",
        false,
    );
    for caution in facts::facts(order).cautions {
        say(&caution, false);
    }
}

/// The template in small, with what the three columns measure.
fn small_figure(page: &mut Drawing, order: &Order, at: Point) {
    let strip = Strip::new(
        order.template,
        &order.template.line(),
        TAB,
        Point::new(0.0, 0.0),
    );
    let (left, right) = (at.x + 8.0, at.x + FIGURE.width() - 1.0);
    let (top, bottom) = (at.y + 3.0, at.y + FIGURE.height() - 16.0);
    let (wide, high) = (strip.right - strip.left, strip.mark - strip.top);
    // Squeezed to fit: it shows what is measured, not how much.
    let place = |p: Point| {
        Point::new(
            right - (strip.right - p.x) / wide * (right - left),
            bottom - (strip.mark - p.y) / high * (bottom - top),
        )
    };
    for run in &strip.runs {
        let (layer, pen) = if run.beside {
            (Layer::Trim, Pen::HIDDEN)
        } else {
            (Layer::Frame, Pen::MARK)
        };
        page.line(layer, pen, run.points.iter().copied().map(place));
    }
    let ends = [Point::new(left, bottom), Point::new(right, bottom)];
    page.line(Layer::Mark, Pen::MARK, ends);
    let (cut_right, _) = strip.cut_between(strip.right, strip.right);
    let zero_top = place(Point::new(strip.right, cut_right)).y;
    for x in [left, right] {
        let ends = [Point::new(x, zero_top), Point::new(x, bottom)];
        page.line(Layer::Zero, Pen::AXIS, ends);
    }
    // One step, between the quarter lines where nothing else is.
    let x = strip.right - wide * 5.0 / 16.0;
    let (cut, _) = strip.cut_between(x, x);
    let (foot, tip) = (place(Point::new(x, strip.mark)), place(Point::new(x, cut)));
    dimension(page, foot, tip);
    let y = bottom + 4.0;
    let ends = [
        Point::new(foot.x, bottom + 1.0),
        Point::new(foot.x, y + 1.0),
    ];
    page.line(Layer::Dimension, Pen::HAIR, ends);
    let ends = [Point::new(right, bottom + 1.0), Point::new(right, y + 1.0)];
    page.line(Layer::Dimension, Pen::HAIR, ends);
    page.line(
        Layer::Dimension,
        Pen::HAIR,
        [Point::new(right, y), Point::new(foot.x, y)],
    );
    head(
        page,
        Layer::Dimension,
        Point::new(right, y),
        Point::new(foot.x, y),
    );
    Block::new(["along, from", "the mark line"], SMALL).draw(
        page,
        Point::new(foot.x - 21.5, bottom - 9.5),
        Anchor::End,
    );
    let under = Point::new(right, y + 4.0);
    page.text(under, SMALL, Anchor::End, "around, from the zero line");
    let under = Point::new(right, y + 8.4);
    page.text(under, SMALL, Anchor::End, "0°");
    let under = Point::new(left, y + 8.4);
    page.text(under, SMALL, Anchor::Middle, "360°");
}
