//! Corner marks of a bank card: a true-scale check for whoever has no ruler at hand.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Item, Layer, Pen, Point};
use crate::sheet::placer::Block;
use crate::sheet::words;

/// Width of an ID-1 card, mm (ISO/IEC 7810).
pub const WIDTH: f64 = 85.60;
/// Height of an ID-1 card, mm (ISO/IEC 7810).
pub const HEIGHT: f64 = 53.98;
/// Length of a corner mark, mm: longer than the card's rounded corner of 3.18 mm radius.
const MARK: f64 = 9.0;
/// White between the words inside, mm.
const BETWEEN_BLOCKS: f64 = 2.0;

/// White kept between the card's edges and everything else, mm.
pub const CLEAR: f64 = 2.0;

/// The card's ways to lie: width and height, mm.
pub const WAYS: [(f64, f64); 2] = [(WIDTH, HEIGHT), (HEIGHT, WIDTH)];

/// Where cards lie on a page: the marks of four corners in a row, as [`draw`] leaves them.
pub fn found(page: &Drawing) -> Vec<Area> {
    let corner = |item: &Item| match item {
        Item::Stroke {
            layer: Layer::Check,
            points,
            closed: false,
            ..
        } if points.len() == 3 => Some(Area::around(points)),
        _ => None,
    };
    let mut cards = Vec::new();
    for four in page.items.windows(4) {
        let mut corners = four.iter().map(corner);
        if let (Some(Some(a)), Some(Some(_)), Some(Some(c)), Some(Some(_))) = (
            corners.next(),
            corners.next(),
            corners.next(),
            corners.next(),
        ) {
            // The first and the third are across from each other.
            cards.push(Area::new(
                a.x0.min(c.x0),
                a.y0.min(c.y0),
                a.x1.max(c.x1),
                a.y1.max(c.y1),
            ));
        }
    }
    cards
}

/// Draws the corner marks of a card that covers an area, level or upended.
pub fn draw(page: &mut Drawing, card: &Area) {
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
    let wrapped = |text: &str, size: f64, bold: bool| {
        Block::new(words::wrap(text, size, bold, card.width() - 8.0), size)
    };
    let blocks = [
        wrapped("A bank card fits these corners exactly.", 2.8, true).bold(),
        wrapped("No ruler at hand? Lay one on.", 2.5, false),
        Block::new(["85.60 × 53.98 mm,", "ISO/IEC 7810 ID-1"], 2.2),
    ];
    let gaps = 2.0 * BETWEEN_BLOCKS;
    let height = blocks.iter().map(|block| block.extent().1).sum::<f64>() + gaps;
    let centre = card.centre();
    let mut y = centre.y - height / 2.0;
    for block in blocks {
        let (width, height) = block.extent();
        block.draw(page, Point::new(centre.x - width / 2.0, y), Anchor::Middle);
        y += height + BETWEEN_BLOCKS;
    }
}
