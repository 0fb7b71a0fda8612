//! Corner marks of a bank card: a true-scale check for whoever has no ruler at hand.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::words;

/// Width of an ID-1 card, mm (ISO/IEC 7810).
pub const WIDTH: f64 = 85.60;
/// Height of an ID-1 card, mm (ISO/IEC 7810).
pub const HEIGHT: f64 = 53.98;
/// Length of a corner mark, mm: longer than the card's rounded corner of 3.18 mm radius.
const MARK: f64 = 9.0;

/// Draws the corner marks with their upper left corner at a place.
pub fn draw(page: &mut Drawing, at: Point) {
    let card = Area::sized(at.x, at.y, WIDTH, HEIGHT);
    let corners = [
        (card.x0, card.y0, 1.0, 1.0),
        (card.x1, card.y0, -1.0, 1.0),
        (card.x1, card.y1, -1.0, -1.0),
        (card.x0, card.y1, 1.0, -1.0),
    ];
    for (x, y, right, down) in corners {
        page.line(
            Layer::Check,
            Pen::THIN,
            [
                Point::new(x + right * MARK, y),
                Point::new(x, y),
                Point::new(x, y + down * MARK),
            ],
        );
    }
    let lines = [
        ("A bank card fits these corners exactly.", 2.8, true),
        ("No ruler at hand? Lay one on.", 2.5, false),
        ("85.60 × 53.98 mm, ISO/IEC 7810 ID-1", 2.2, false),
    ];
    let centre = card.centre();
    let mut y = centre.y - 4.0;
    for (text, size, bold) in lines {
        let at = Point::new(centre.x, y);
        page.turned_text(
            at,
            size,
            Anchor::Middle,
            crate::units::Angle::ZERO,
            bold,
            text,
        );
        y += size * words::LEADING + 1.4;
    }
}
