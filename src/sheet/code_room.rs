//! Room for a code on a finished sheet: where nothing else stands, so that nothing has to move.

use std::collections::VecDeque;

use crate::job::{Printer, shorten_form};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Item, Point};
use crate::sheet::page::BOX_BELOW_SHEET;
use crate::sheet::{Code, card, words};
use crate::stock::Paper;
use crate::units::Angle;

/// Side of a cell of the chart of what is taken, mm.
const CELL: f64 = 1.0;
/// Distance of the dots by which a stroke is put on the chart, mm.
const DOT: f64 = 0.25;
/// Size of the words at a code, mm, and the room they take.
const WORDS: f64 = 2.2;
const WORDS_ROOM: f64 = 3.0;
/// What the sides of a module are tried from the usual one down to the least, mm.
const MODULES: [f64; 3] = [Code::MODULE, 0.55, Code::MODULE_LEAST];

/// The text of a code, no longer than need be, that opens what `link` opens, by another address of
/// the page; none where either is missing.
#[must_use]
pub fn link_in_code(address: &str, link: &str) -> Option<String> {
    let address = address.trim();
    let address = address
        .split_once('#')
        .map_or(address, |(before, _)| before);
    let (_, fragment) = link.split_once('#')?;
    (!address.is_empty()).then(|| [address, "#", &shorten_form(fragment)].concat())
}

/// What a code takes with the words under it, for modules of a size in mm: width and height, mm.
pub fn code_size(code: &Code, module: f64) -> (f64, f64) {
    let side = code.width(module);
    (side, side + WORDS_ROOM)
}

/// A code with its words under it as a figure of its own.
pub fn code_figure(code: &Code, what: &str, module: f64) -> Drawing {
    let (width, height) = code_size(code, module);
    let mut figure = Drawing::new(width, height);
    code.draw(&mut figure, Point::new(0.0, 0.0), module);
    let line = words::wrap_at_most(what, WORDS, false, width, 1).pop();
    let at = Point::new(width / 2.0, width + words::first_baseline(WORDS));
    figure.text(at, WORDS, Anchor::Middle, line.unwrap_or_default());
    figure
}

/// Draws codes with their words on a finished sheet, as far as there is room for them where
/// nothing is printed: outside all closed outlines and the bank card's corners, as low and as far
/// to the right as can be. A sheet of `one` template has room inside its outline too. Nothing that
/// stands on the sheet changes. Answers how many were drawn.
pub fn draw_codes(
    page: &mut Drawing,
    paper: Paper,
    printer: &Printer,
    codes: &[(&Code, &str)],
    one: bool,
) -> usize {
    let (width, height) = paper.size();
    let margin = printer.margin().mm();
    let within = Area::new(
        margin,
        margin,
        width.mm() - margin,
        height.mm() - margin.max(BOX_BELOW_SHEET),
    );
    let turn = page.items.iter().find_map(|item| match item {
        Item::Text { turn, .. } => Some(*turn),
        Item::Stroke { .. } => None,
    });
    let upended = turn.is_some_and(|turn| turn.rad() > 1.0);
    let mut drawn = 0;
    for (code, what) in codes {
        let chart = Chart::of(page, &within);
        let mut rooms = vec![chart.outside()];
        if one {
            rooms.push(chart);
        }
        let found = rooms.iter().find_map(|free| {
            MODULES.into_iter().find_map(|module| {
                let side = code.width(module);
                let own = if upended {
                    (side + WORDS_ROOM, side)
                } else {
                    (side, side + WORDS_ROOM)
                };
                Some((free.lowest(own)?, module))
            })
        });
        let Some((at, module)) = found else { continue };
        let side = code.width(module);
        let line = words::wrap_at_most(what, WORDS, false, side, 1).pop();
        // Turned, the foot of what is read is the sheet's left.
        let (code_at, words_at, turn) = if upended {
            let baseline = WORDS_ROOM - words::first_baseline(WORDS);
            (
                Point::new(at.x + WORDS_ROOM, at.y),
                Point::new(at.x + baseline, at.y + side / 2.0),
                Angle::QUARTER,
            )
        } else {
            let baseline = side + words::first_baseline(WORDS);
            (
                at,
                Point::new(at.x + side / 2.0, at.y + baseline),
                Angle::ZERO,
            )
        };
        code.draw(page, code_at, module);
        let line = line.unwrap_or_default();
        page.turned_text(words_at, WORDS, Anchor::Middle, turn, false, line);
        drawn += 1;
    }
    drawn
}

/// What is taken of the printable part of a sheet, cell by cell.
struct Chart {
    corner: Point,
    columns: usize,
    rows: usize,
    taken: Vec<bool>,
}

impl Chart {
    fn of(page: &Drawing, within: &Area) -> Self {
        let mut chart = Self {
            corner: Point::new(within.x0, within.y0),
            columns: whole(within.width() / CELL),
            rows: whole(within.height() / CELL),
            taken: Vec::new(),
        };
        chart.taken = vec![false; chart.columns * chart.rows];
        for item in &page.items {
            match item {
                Item::Stroke {
                    points,
                    closed,
                    filled: false,
                    ..
                } => {
                    let back = points.first().filter(|_| *closed).copied();
                    let ends = points.iter().copied().chain(back);
                    for (from, to) in ends.clone().zip(ends.skip(1)) {
                        chart.stroke(from, to);
                    }
                    if let &[only] = points.as_slice() {
                        chart.stroke(only, only);
                    }
                }
                item => chart.take(&words::item_area(item)),
            }
        }
        for card in card::found(page) {
            chart.take(&card.grown(card::CLEAR));
        }
        chart
    }

    /// The cell at a distance from the corner, in numbers that may lie outside.
    fn cell(&self, at: Point) -> (f64, f64) {
        (
            ((at.x - self.corner.x) / CELL).floor(),
            ((at.y - self.corner.y) / CELL).floor(),
        )
    }

    fn stroke(&mut self, from: Point, to: Point) {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let dots = (dx.hypot(dy) / DOT).ceil().max(1.0);
        let mut dot = 0.0;
        while dot <= dots {
            let at = Point::new(from.x + dx * dot / dots, from.y + dy * dot / dots);
            self.mark(self.cell(at));
            dot += 1.0;
        }
    }

    fn take(&mut self, area: &Area) {
        let (x0, y0) = self.cell(Point::new(area.x0, area.y0));
        let (x1, y1) = self.cell(Point::new(area.x1, area.y1));
        let mut y = y0;
        while y <= y1 {
            let mut x = x0;
            while x <= x1 {
                self.mark((x, y));
                x += 1.0;
            }
            y += 1.0;
        }
    }

    fn mark(&mut self, (x, y): (f64, f64)) {
        if x < 0.0 || y < 0.0 {
            return;
        }
        let (column, row) = (whole(x), whole(y));
        if column < self.columns && row < self.rows {
            self.taken[row * self.columns + column] = true;
        }
    }

    /// The same with everything taken that lies in a closed outline.
    fn outside(&self) -> Self {
        let mut reached = vec![false; self.taken.len()];
        let mut next = VecDeque::new();
        let mut reach = |at: usize, next: &mut VecDeque<usize>| {
            if !self.taken[at] && !reached[at] {
                reached[at] = true;
                next.push_back(at);
            }
        };
        let (columns, rows) = (self.columns, self.rows);
        for at in 0..self.taken.len() {
            let (column, row) = (at % columns, at / columns);
            if column == 0 || row == 0 || column + 1 == columns || row + 1 == rows {
                reach(at, &mut next);
            }
        }
        while let Some(at) = next.pop_front() {
            let (column, row) = (at % columns, at / columns);
            if column > 0 {
                reach(at - 1, &mut next);
            }
            if column + 1 < columns {
                reach(at + 1, &mut next);
            }
            if row > 0 {
                reach(at - columns, &mut next);
            }
            if row + 1 < rows {
                reach(at + columns, &mut next);
            }
        }
        Self {
            taken: reached.into_iter().map(|free| !free).collect(),
            ..*self
        }
    }

    /// The lowest free room of a size and, of those, the one furthest to the right: its upper left
    /// corner.
    fn lowest(&self, (width, height): (f64, f64)) -> Option<Point> {
        let (across, down) = (whole((width / CELL).ceil()), whole((height / CELL).ceil()));
        if across > self.columns || down > self.rows {
            return None;
        }
        // How far each column is free upwards from a row.
        let mut free: Vec<usize> = vec![0; self.columns];
        let mut best = None;
        for row in 0..self.rows {
            let mut run = 0;
            for (column, free) in free.iter_mut().enumerate() {
                *free = if self.taken[row * self.columns + column] {
                    0
                } else {
                    *free + 1
                };
                run = if *free >= down { run + 1 } else { 0 };
                if run >= across {
                    best = Some((column + 1 - across, row + 1 - down));
                }
            }
        }
        let (column, row) = best?;
        #[expect(clippy::cast_precision_loss, reason = "cells of a sheet are few")]
        let [x, y] = [column, row].map(|cells| cells as f64 * CELL);
        Some(Point::new(self.corner.x + x, self.corner.y + y))
    }
}

/// A number that is not below zero as a count.
fn whole(number: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "cells of a sheet are few, and counted from 0"
    )]
    let count = number.max(0.0) as usize;
    count
}
