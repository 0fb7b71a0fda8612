//! Upright rectangles on a page: what is taken and what is free.

use crate::sheet::drawing::Point;

/// A rectangle, mm; never inside out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    pub x0: f64,
    pub y0: f64,
    pub x1: f64,
    pub y1: f64,
}

impl Area {
    pub const fn new(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Self { x0, y0, x1, y1 }
    }

    pub fn sized(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self::new(x, y, x + width, y + height)
    }

    /// The smallest area around points.
    pub fn around(points: &[Point]) -> Self {
        points.iter().fold(
            Self::new(
                f64::INFINITY,
                f64::INFINITY,
                f64::NEG_INFINITY,
                f64::NEG_INFINITY,
            ),
            |area, p| {
                Self::new(
                    area.x0.min(p.x),
                    area.y0.min(p.y),
                    area.x1.max(p.x),
                    area.y1.max(p.y),
                )
            },
        )
    }

    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }

    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }

    pub fn centre(&self) -> Point {
        Point::new(
            f64::midpoint(self.x0, self.x1),
            f64::midpoint(self.y0, self.y1),
        )
    }

    /// Grown by `by` on all sides.
    pub fn grown(&self, by: f64) -> Self {
        Self::new(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)
    }

    pub fn overlaps(&self, other: &Self) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// Whether another area lies inside, up to rounding.
    pub fn holds(&self, other: &Self) -> bool {
        const SLACK: f64 = 1e-9;
        other.x0 >= self.x0 - SLACK
            && other.y0 >= self.y0 - SLACK
            && other.x1 <= self.x1 + SLACK
            && other.y1 <= self.y1 + SLACK
    }
}
