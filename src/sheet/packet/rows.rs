//! Rows of tables and lines of words as blocks to fill sheets with.

use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::placer::Block;
use crate::sheet::words;
use crate::units::Angle;

/// Size of captions, mm.
pub const CAPTION: f64 = 2.5;
/// Size of values, mm.
pub const VALUE: f64 = 3.2;
/// Size of headings, mm.
pub const HEADING: f64 = 4.0;
/// White above and below the words of a row, mm.
const PAD: f64 = 1.2;
/// Side of a box to tick, mm.
pub const BOX: f64 = 3.4;
/// From box to box, mm.
pub const BOX_STEP: f64 = 4.8;

/// A column of a table.
pub struct Column {
    pub caption: &'static str,
    pub from: f64,
    pub to: f64,
    /// Whether its words end at its right edge.
    pub figures: bool,
}

impl Column {
    fn place(&self) -> (f64, Anchor) {
        if self.figures {
            (self.to, Anchor::End)
        } else {
            (self.from, Anchor::Start)
        }
    }
}

/// Columns side by side, each with its width and whether it holds figures; what is left of the
/// whole width goes to the column with no width.
pub fn columns(width: f64, wanted: &[(&'static str, f64, bool)]) -> Vec<Column> {
    const BETWEEN: f64 = 4.0;
    let given: f64 = wanted.iter().map(|(_, width, _)| width).sum();
    let gaps = wanted.iter().skip(1).map(|_| BETWEEN).sum::<f64>();
    let rest = width - given - gaps;
    let mut from = 0.0;
    wanted
        .iter()
        .map(|(caption, own, figures)| {
            let own = if *own > 0.0 { *own } else { rest };
            let column = Column {
                caption,
                from,
                to: from + own,
                figures: *figures,
            };
            from += own + BETWEEN;
            column
        })
        .collect()
}

/// The captions of the columns with a rule under them.
pub fn captions(columns: &[Column], width: f64) -> Drawing {
    let cells: Vec<String> = columns.iter().map(|own| own.caption.to_owned()).collect();
    set(columns, &cells, (CAPTION, false), Pen::THIN, width)
}

/// A row of a table with a hairline under it.
pub fn row(columns: &[Column], cells: &[String], width: f64) -> Drawing {
    set(columns, cells, (VALUE, false), Pen::HAIR, width)
}

/// The last row of a table: its sums.
pub fn sums(columns: &[Column], cells: &[String], width: f64) -> Drawing {
    set(columns, cells, (VALUE, true), Pen::THIN, width)
}

fn set(
    columns: &[Column],
    cells: &[String],
    (size, bold): (f64, bool),
    pen: Pen,
    width: f64,
) -> Drawing {
    let set: Vec<Vec<String>> = columns
        .iter()
        .zip(cells)
        .map(|(column, cell)| words::wrap(cell, size, bold, column.to - column.from))
        .collect();
    let lines = set.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let mut row = Drawing::new(width, words::height(lines, size) + 2.0 * PAD);
    for (column, lines) in columns.iter().zip(set) {
        let (x, anchor) = column.place();
        let mut y = PAD + words::first_baseline(size);
        for line in lines {
            let at = Point::new(x, y);
            row.turned_text(at, size, anchor, Angle::ZERO, bold, line);
            y += size * words::LEADING;
        }
    }
    rule(&mut row, pen);
    row
}

/// Rules the lower edge of a block.
pub fn rule(block: &mut Drawing, pen: Pen) {
    let (width, height) = (block.width, block.height);
    let ends = [Point::new(0.0, height), Point::new(width, height)];
    block.line(Layer::Frame, pen, ends);
}

/// Words in lines no wider than a width.
pub fn paragraph(text: &str, size: f64, bold: bool, width: f64) -> Drawing {
    lines(words::wrap(text, size, bold, width), size, bold, width)
}

/// Words in lines.
pub fn lines(lines: Vec<String>, size: f64, bold: bool, width: f64) -> Drawing {
    let mut block = Block::new(lines, size);
    block.bold = bold;
    let mut drawing = Drawing::new(width, block.extent().1);
    block.draw(&mut drawing, Point::default(), Anchor::Start);
    drawing
}

/// A heading with a remark at the right end of its line and a rule under it.
pub fn heading(text: &str, remark: &str, width: f64) -> Drawing {
    const REMARK: f64 = 3.0;
    let room = width - words::width(remark, REMARK, false) - 4.0;
    let text = words::wrap_at_most(text, HEADING, true, room, 1).pop();
    let mut block = Drawing::new(width, 7.0);
    let y = 0.6 + words::first_baseline(HEADING);
    let at = Point::new(0.0, y);
    block.bold_text(at, HEADING, Anchor::Start, text.unwrap_or_default());
    if !remark.is_empty() {
        block.text(Point::new(width, y), REMARK, Anchor::End, remark);
    }
    rule(&mut block, Pen::THIN);
    block
}

/// How many boxes to tick stand side by side in a width.
pub fn boxes_in(width: f64) -> usize {
    let count = ((width - BOX) / BOX_STEP).floor().max(0.0) + 1.0;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet is some dozen boxes wide"
    )]
    let count = count as usize;
    count
}

/// Draws boxes to tick, the first with its upper left corner at a place.
pub fn boxes(block: &mut Drawing, at: Point, count: usize) {
    let mut x = at.x;
    for _ in 0..count {
        let corners = [(0.0, 0.0), (BOX, 0.0), (BOX, BOX), (0.0, BOX)];
        let corners = corners.map(|(dx, dy)| Point::new(x + dx, at.y + dy));
        block.outline(Layer::Frame, Pen::THIN, corners);
        x += BOX_STEP;
    }
}
