//! The check rulers: 100 mm and 4 in, back to back, across and along every sheet.

use crate::job::Ruler;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, Length};

/// Thickness of the double ruler, mm.
pub const THICKNESS: f64 = 10.0;
/// Length of the longer one, mm.
pub const LENGTH: f64 = Length::from_inches(4.0).mm();
/// Height of its figures, mm.
const FIGURES: f64 = 2.2;

/// Which way a double ruler lies. Its outer edge, in millimetres, faces the edge of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lie {
    /// Along the lower edge of the page, zero at the left.
    Level,
    /// Along the left edge of the page, zero at the bottom.
    Upright,
}

/// A ruler on a page.
struct Place {
    zero: Point,
    lie: Lie,
}

impl Place {
    /// The point at `run` from zero and `depth` from the outer edge.
    fn point(&self, run: f64, depth: f64) -> Point {
        match self.lie {
            Lie::Level => Point::new(self.zero.x + run, self.zero.y - depth),
            Lie::Upright => Point::new(self.zero.x + depth, self.zero.y - run),
        }
    }

    fn line(&self, page: &mut Drawing, pen: Pen, from: (f64, f64), to: (f64, f64)) {
        let ends = [self.point(from.0, from.1), self.point(to.0, to.1)];
        page.line(Layer::Ruler, pen, ends);
    }

    /// Figures in the row of the millimetres or of the inches.
    fn figures(&self, page: &mut Drawing, run: f64, ruler: Ruler, anchor: Anchor, text: &str) {
        // Letters stand towards the inside on the level ruler, towards the outside on the other.
        let (depth, turn) = match (self.lie, ruler) {
            (Lie::Level, Ruler::Millimetres) => (3.2, Angle::ZERO),
            (Lie::Level, Ruler::Inches) => (5.85, Angle::ZERO),
            (Lie::Upright, Ruler::Millimetres) => (4.65, -Angle::QUARTER),
            (Lie::Upright, Ruler::Inches) => (7.2, -Angle::QUARTER),
        };
        page.turned_text(self.point(run, depth), FIGURES, anchor, turn, false, text);
    }
}

/// Draws a double ruler; `way` says which way over the sheet it measures.
pub fn draw(page: &mut Drawing, zero: Point, lie: Lie, way: &str) {
    let place = Place { zero, lie };
    let hundred = Ruler::Millimetres.length().mm();
    place.line(page, Pen::THIN, (0.0, 0.0), (hundred, 0.0));
    place.line(page, Pen::THIN, (0.0, THICKNESS), (LENGTH, THICKNESS));
    for mm in 0..=100_u32 {
        let (depth, pen) = match mm {
            0 | 100 => (THICKNESS / 2.0, Pen::THIN),
            _ if mm % 10 == 0 => (2.5, Pen::THIN),
            _ if mm % 5 == 0 => (1.9, Pen::HAIR),
            _ => (1.2, Pen::HAIR),
        };
        place.line(page, pen, (f64::from(mm), 0.0), (f64::from(mm), depth));
    }
    for sixteenth in 0..=64_u32 {
        let (depth, pen) = match sixteenth {
            0 | 64 => (THICKNESS / 2.0, Pen::THIN),
            _ if sixteenth % 16 == 0 => (2.2, Pen::THIN),
            _ if sixteenth % 4 == 0 => (1.8, Pen::HAIR),
            _ if sixteenth % 2 == 0 => (1.4, Pen::HAIR),
            _ => (0.9, Pen::HAIR),
        };
        let run = LENGTH * f64::from(sixteenth) / 64.0;
        place.line(page, pen, (run, THICKNESS), (run, THICKNESS - depth));
    }
    let mm = Ruler::Millimetres;
    place.figures(page, 1.0, mm, Anchor::Start, "0");
    place.figures(page, 26.0, mm, Anchor::Middle, way);
    place.figures(page, 50.0, mm, Anchor::Middle, "50");
    place.figures(page, 99.2, mm, Anchor::End, "100 mm");
    place.figures(page, 1.0, Ruler::Inches, Anchor::Start, "0");
    for inch in 1..=3_u32 {
        let run = LENGTH * f64::from(inch) / 4.0;
        let text = inch.to_string();
        place.figures(page, run, Ruler::Inches, Anchor::Middle, &text);
    }
    place.figures(page, LENGTH - 0.8, Ruler::Inches, Anchor::End, "4 in");
}
