//! Words round a strip too narrow to carry them: rows above and below with leaders to their
//! places, and a block at the right.

use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::figure::{Captions, Named, SIZE};
use crate::sheet::placer::Block;
use crate::sheet::strip::Strip;
use crate::sheet::words;

/// Height of a row of words with its leaders, mm.
const ROW: f64 = 10.0;
/// White between the words of a row, mm.
const BETWEEN: f64 = 3.0;
/// White between strip and the block at its right, mm.
const ASIDE: f64 = 8.0;
/// Widest line of the block at the right, mm.
const BESIDE: f64 = 60.0;
/// Least height of the block at the right, mm.
const BLOCK: f64 = 32.0;

/// The words round a narrow strip and the room they take.
#[derive(Debug, Clone, PartialEq)]
pub struct Fan {
    middle: f64,
    half_strip: f64,
    width: f64,
    height: f64,
}

impl Fan {
    /// Room for the words round a strip.
    pub fn new(strip: &Strip, named: &[Named], captions: &Captions) -> Self {
        let above = row_width(&above(strip, named));
        let below = row_width(&below(strip));
        let half_strip = (strip.right - strip.tab_end) / 2.0;
        let middle = (above / 2.0).max(below / 2.0).max(half_strip);
        let block = name(captions)
            .iter()
            .map(|block| block.extent().0)
            .fold(30.0, f64::max);
        Self {
            middle,
            half_strip,
            width: (2.0 * middle).max(middle + half_strip + ASIDE + block),
            height: ROW + (strip.mark - strip.top).max(BLOCK) + ROW + SIZE,
        }
    }

    /// Upper left corner of the strip.
    pub fn strip_at(&self) -> Point {
        Point::new(self.middle - self.half_strip, ROW)
    }

    /// Width and height of all.
    pub const fn extent(&self) -> (f64, f64) {
        (self.width, self.height)
    }

    /// Draws the words and their leaders.
    pub fn draw(&self, figure: &mut Drawing, strip: &Strip, named: &[Named], captions: &Captions) {
        let row = above(strip, named);
        let mut x = self.middle - row_width(&row) / 2.0;
        for (place, text) in &row {
            let width = words::width(text, SIZE, false);
            let at = Point::new(x, words::first_baseline(SIZE));
            figure.text(at, SIZE, Anchor::Start, text.clone());
            let from = Point::new(x + width / 2.0, words::height(1, SIZE) + 0.6);
            let bend = Point::new(place.x, strip.top - 1.0);
            let tip = Point::new(place.x, place.y - 0.4);
            figure.line(Layer::Note, Pen::HAIR, [from, bend, tip]);
            x += width + BETWEEN;
        }
        let row = below(strip);
        let mut x = self.middle - row_width(&row) / 2.0;
        let top = strip.mark + ROW - words::height(1, SIZE);
        for (place, text) in &row {
            let width = words::width(text, SIZE, false);
            let at = Point::new(x, top + words::first_baseline(SIZE));
            figure.text(at, SIZE, Anchor::Start, text.clone());
            let bend = Point::new(*place, strip.mark + 1.5);
            let tip = Point::new(*place, strip.mark + 0.4);
            let from = Point::new(x + width / 2.0, top - 0.4);
            figure.line(Layer::Note, Pen::HAIR, [from, bend, tip]);
            x += width + BETWEEN;
        }
        self.aside(figure, strip, captions);
    }

    /// Name, waste and body at the right of the strip.
    fn aside(&self, figure: &mut Drawing, strip: &Strip, captions: &Captions) {
        let x = strip.right + ASIDE;
        let mut y = strip.top + 1.0;
        for block in name(captions) {
            block.draw(figure, Point::new(x, y), Anchor::Start);
            y += block.extent().1 + 1.2;
        }
        let bottom = strip.mark.max(y + 14.0);
        let arrow = x + 1.3;
        figure.line(
            Layer::Note,
            Pen::BOLD,
            [
                Point::new(arrow, bottom - 9.0),
                Point::new(arrow, bottom - 2.0),
            ],
        );
        figure.fill(
            Layer::Note,
            [
                Point::new(arrow, bottom),
                Point::new(arrow - 1.3, bottom - 3.2),
                Point::new(arrow + 1.3, bottom - 3.2),
            ],
        );
        Block::new(["above the cut: waste"], SIZE).draw(figure, Point::new(x, y), Anchor::Start);
        Block::new(["body of the tube,", "keep this side"], SIZE).draw(
            figure,
            Point::new(x + 4.5, bottom - 8.0),
            Anchor::Start,
        );
    }
}

fn name(captions: &Captions) -> Vec<Block> {
    let label = words::wrap_at_most(&captions.name, 3.2, true, BESIDE, 2);
    let joint = words::wrap_at_most(&captions.joint, SIZE, false, BESIDE, 2);
    [Block::new(label, 3.2).bold(), Block::new(joint, SIZE)]
        .into_iter()
        .filter(|block| !block.lines.is_empty())
        .collect()
}

/// What is named above the strip, from the left.
fn above(strip: &Strip, named: &[Named]) -> Vec<(Point, String)> {
    let mut row: Vec<(Point, String)> = named
        .iter()
        .map(|named| (named.at, named.names.join(", ")))
        .collect();
    for run in strip.runs.iter().filter(|run| run.beside) {
        let middle = run.points.len() / 2;
        if let Some(at) = run.points.get(middle) {
            row.push((*at, "beside the main: trim".to_owned()));
        }
    }
    row.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    row
}

/// What is named below the strip, from the left.
fn below(strip: &Strip) -> Vec<(f64, String)> {
    let tab = f64::midpoint(strip.tab_end, strip.left);
    let mut row = vec![(tab, "tab, tuck under".to_owned())];
    let turns = strip.quarters();
    row.extend(turns.iter().rev().map(|(deg, x)| (*x, format!("{deg}°"))));
    row
}

fn row_width<P>(row: &[(P, String)]) -> f64 {
    let words: f64 = row
        .iter()
        .map(|(_, text)| words::width(text, SIZE, false) + BETWEEN)
        .sum();
    (words - BETWEEN).max(0.0)
}
