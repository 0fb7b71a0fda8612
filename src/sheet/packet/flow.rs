//! Sheets that fill from the top; headings are said again at the top of the next sheet.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Drawing, Item, Point};
use crate::units::Angle;

/// Puts a figure on a page with its upper left corner at a place, as it is or turned a quarter
/// clockwise. Nothing is stretched.
pub fn put(page: &mut Drawing, figure: Drawing, at: Point, turned: bool) {
    let height = figure.height;
    let place = |p: Point| {
        if turned {
            Point::new(at.x + height - p.y, at.y + p.x)
        } else {
            Point::new(at.x + p.x, at.y + p.y)
        }
    };
    for mut item in figure.items {
        match &mut item {
            Item::Stroke { points, .. } => {
                for point in points {
                    *point = place(*point);
                }
            }
            Item::Text { at, turn, .. } => {
                *at = place(*at);
                if turned {
                    *turn = *turn + Angle::QUARTER;
                }
            }
        }
        page.items.push(item);
    }
}

/// A heading that is said again on the next sheet.
struct Heading {
    level: usize,
    again: Drawing,
}

/// Sheets being filled.
pub struct Flow {
    room: Area,
    y: f64,
    /// Where the sheet starts to be filled, under its headings.
    top: f64,
    headings: Vec<Heading>,
    pages: Vec<Drawing>,
}

impl Flow {
    pub fn new(room: Area) -> Self {
        Self {
            room,
            y: room.y0,
            top: room.y0,
            headings: Vec::new(),
            pages: vec![Drawing::default()],
        }
    }

    /// Width of a line.
    pub fn width(&self) -> f64 {
        self.room.width()
    }

    /// Adds a block under a gap, on the next sheet where this one is full.
    pub fn add(&mut self, gap: f64, block: Drawing) {
        self.add_with(gap, block, 0.0);
    }

    /// Adds a block that must have something as high as `with` under it on the same sheet.
    pub fn add_with(&mut self, gap: f64, block: Drawing, with: f64) {
        let fresh = self.y <= self.top;
        if !fresh && self.y + gap + block.height + with > self.room.y1 {
            self.turn_over();
        }
        let gap = if self.y <= self.room.y0 { 0.0 } else { gap };
        self.put(gap, block);
    }

    /// Adds a heading and says it again (as `again`) on every next sheet, until another of its
    /// level or above comes. It stays together with something as high as `with`.
    pub fn head(&mut self, level: usize, gap: f64, heading: Drawing, again: Drawing, with: f64) {
        self.end(level);
        self.add_with(gap, heading, with);
        self.headings.push(Heading { level, again });
    }

    /// Ends all headings of a level and below.
    pub fn end(&mut self, level: usize) {
        self.headings.retain(|heading| heading.level < level);
    }

    fn put(&mut self, gap: f64, block: Drawing) {
        let at = Point::new(self.room.x0, self.y + gap);
        self.y = at.y + block.height;
        if let Some(page) = self.pages.last_mut() {
            put(page, block, at, false);
        }
    }

    fn turn_over(&mut self) {
        self.pages.push(Drawing::default());
        self.y = self.room.y0;
        let again: Vec<Drawing> = self.headings.iter().map(|own| own.again.clone()).collect();
        for heading in again {
            self.put(0.0, heading);
        }
        self.top = self.y;
    }

    /// The contents of the sheets.
    pub fn pages(self) -> Vec<Drawing> {
        self.pages
    }
}
