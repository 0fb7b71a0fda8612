//! Finding room for words on a figure: nothing may stand on a line, on other words or on a join.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::strip::Strip;
use crate::sheet::words;
use crate::units::Angle;

/// White kept round words, mm.
const CLEAR: f64 = 0.8;

/// Where sheets of a tiled figure join.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Joins {
    /// Vertical join lines.
    pub xs: Vec<f64>,
    /// Level join lines.
    pub ys: Vec<f64>,
    /// Rooms of the registration crosses.
    pub crosses: Vec<Area>,
    /// Rooms that something else on the sheet keeps for itself.
    pub kept: Vec<Area>,
}

impl Joins {
    /// Whether an area is on no join, on no cross and in no room kept for something else.
    pub fn clear_of(&self, area: &Area) -> bool {
        let room = area.grown(CLEAR);
        !self.xs.iter().any(|x| room.x0 < *x && *x < room.x1)
            && !self.ys.iter().any(|y| room.y0 < *y && *y < room.y1)
            && !self.crosses.iter().any(|cross| cross.overlaps(&room))
            && !self.kept.iter().any(|kept| kept.overlaps(&room))
    }
}

/// Lines of words set together.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    pub lines: Vec<String>,
    pub size: f64,
    pub bold: bool,
    /// Whether it reads from the bottom to the top.
    pub upended: bool,
}

impl Block {
    pub fn new(lines: impl IntoIterator<Item = impl Into<String>>, size: f64) -> Self {
        Self {
            lines: lines.into_iter().map(Into::into).collect(),
            size,
            bold: false,
            upended: false,
        }
    }

    pub fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub fn upended(self) -> Self {
        Self {
            upended: true,
            ..self
        }
    }

    /// Width and height as it stands.
    pub fn extent(&self) -> (f64, f64) {
        let width = self
            .lines
            .iter()
            .map(|line| words::width(line, self.size, self.bold))
            .fold(0.0, f64::max);
        let height = words::height(self.lines.len(), self.size);
        if self.upended {
            (height, width)
        } else {
            (width, height)
        }
    }

    /// Draws it with its upper left corner at a place, its lines towards `anchor`.
    pub fn draw(&self, figure: &mut Drawing, at: Point, anchor: Anchor) {
        let (width, height) = self.extent();
        let run = if self.upended { height } else { width };
        let along = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => run / 2.0,
            Anchor::End => run,
        };
        let mut down = words::first_baseline(self.size);
        for line in &self.lines {
            let (place, turn) = if self.upended {
                let place = Point::new(at.x + down, at.y + height - along);
                (place, -Angle::QUARTER)
            } else {
                (Point::new(at.x + along, at.y + down), Angle::ZERO)
            };
            figure.turned_text(place, self.size, anchor, turn, self.bold, line);
            down += self.size * words::LEADING;
        }
    }
}

/// Places words on a strip.
pub struct Placer<'a> {
    strip: &'a Strip,
    joins: &'a Joins,
    /// Rooms of words and marks placed so far.
    pub taken: Vec<Area>,
}

impl<'a> Placer<'a> {
    pub const fn new(strip: &'a Strip, joins: &'a Joins) -> Self {
        Self {
            strip,
            joins,
            taken: Vec::new(),
        }
    }

    fn is_free(&self, area: &Area) -> bool {
        let room = area.grown(CLEAR / 2.0);
        self.joins.clear_of(area) && !self.taken.iter().any(|taken| taken.overlaps(&room))
    }

    /// Whether words may stand there: on the strip, between its cut and its mark line.
    pub fn is_free_on_strip(&self, area: &Area) -> bool {
        let strip = self.strip;
        area.x0 >= strip.left + CLEAR
            && area.x1 <= strip.right - CLEAR
            && self.is_free(area)
            && self.is_between_lines(area)
    }

    /// Whether words may stand there, on the tab.
    pub fn is_free_on_tab(&self, area: &Area) -> bool {
        let strip = self.strip;
        area.x0 >= strip.tab_end + CLEAR / 2.0
            && area.x1 <= strip.left - CLEAR / 2.0
            && self.is_free(area)
            && self.is_between_lines(area)
    }

    fn is_between_lines(&self, area: &Area) -> bool {
        let low = || self.strip.cut_between(area.x0 - CLEAR, area.x1 + CLEAR).1;
        area.y1 <= self.strip.mark - CLEAR && area.y0 >= low() + CLEAR
    }

    /// Whether words may stand there: above the cut line, on the side that falls off.
    pub fn is_free_above(&self, area: &Area) -> bool {
        let high = || self.strip.cut_between(area.x0 - CLEAR, area.x1 + CLEAR).0;
        // The dimension of the long point is drawn out level with it.
        let top = self.strip.top;
        let crossed = area.y0 < top && top < area.y1;
        area.y0 >= 0.0 && !crossed && self.is_free(area) && area.y1 <= high() - CLEAR
    }

    /// Whether words may stand there: below the mark line.
    pub fn is_free_below(&self, area: &Area) -> bool {
        self.is_free(area) && area.y0 >= self.strip.mark + CLEAR
    }

    /// Draws a block with its upper left corner at a place and takes its room.
    pub fn put(&mut self, figure: &mut Drawing, block: &Block, at: Point, anchor: Anchor) {
        let (width, height) = block.extent();
        self.taken.push(Area::sized(at.x, at.y, width, height));
        block.draw(figure, at, anchor);
    }
}
