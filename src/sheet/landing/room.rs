//! Room for words on the template for a main: among its lines, on none of them.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Item, Point};
use crate::sheet::placer::Block;
use crate::sheet::tile;

/// White kept round words, mm.
const CLEAR: f64 = 0.4;

/// Room for words among the lines of a figure.
pub struct Room {
    inside: Area,
    lines: Vec<(Point, Point)>,
    taken: Vec<Area>,
}

impl Room {
    /// The room that the lines drawn so far leave in an area.
    pub fn around(figure: &Drawing, inside: Area) -> Self {
        let strokes = figure.items.iter().filter_map(|item| match item {
            Item::Stroke { points, .. } => Some(points),
            Item::Text { .. } => None,
        });
        let segments = strokes.flat_map(|points| points.windows(2));
        Self {
            inside,
            lines: segments
                .filter_map(|pair| match pair {
                    [from, to] => Some((*from, *to)),
                    _ => None,
                })
                .collect(),
            taken: Vec::new(),
        }
    }

    fn area(block: &Block, at: Point) -> Area {
        let (width, height) = block.extent();
        Area::sized(at.x, at.y, width, height)
    }

    /// Whether a block with its upper left corner at a place stands on no line and no words.
    pub fn holds(&self, block: &Block, at: Point) -> bool {
        self.holds_but(block, at, |_, _| false)
    }

    /// The same, but for lines that it may stand on.
    pub fn holds_but(&self, block: &Block, at: Point, may: impl Fn(Point, Point) -> bool) -> bool {
        let block = Self::area(block, at);
        let area = block.grown(CLEAR);
        self.inside.holds(&block)
            && !self.taken.iter().any(|taken| taken.overlaps(&area))
            && !self
                .lines
                .iter()
                .any(|(from, to)| !may(*from, *to) && tile::crosses(*from, *to, &area))
    }

    pub fn take(&mut self, block: &Block, at: Point) {
        self.taken.push(Self::area(block, at));
    }

    /// Puts a block near a place, on the side that `way` points to if it can be, `clear` off it;
    /// a block that finds no room is left out.
    pub fn put(
        &mut self,
        figure: &mut Drawing,
        block: &Block,
        near: Point,
        way: Point,
        clear: f64,
    ) {
        let (width, height) = block.extent();
        let start = way.y.atan2(way.x);
        let places = (0..6).flat_map(|ring| {
            // Ever further round to both sides, then further out.
            (0..13_i32).map(move |step| {
                let side = if step % 2 == 0 { 1.0 } else { -1.0 };
                let turn = start + side * f64::from((step + 1) / 2) * 0.26;
                let (sin, cos) = turn.sin_cos();
                let out = clear + f64::from(ring);
                // The nearest corner or side of the block is `out` away.
                let x = near.x + cos * (out + width / 2.0) - width / 2.0;
                let y = near.y + sin * (out + height / 2.0) - height / 2.0;
                Point::new(x, y)
            })
        });
        let place = places.into_iter().find(|at| self.holds(block, *at));
        if let Some(at) = place {
            self.take(block, at);
            block.draw(figure, at, Anchor::Start);
        }
    }
}
