//! Arrangements of words and card that look best: blocks side by side or one over the other.

use crate::sheet::area::Area;
use crate::sheet::blocks::{BETWEEN, COLUMN, Lettering, PROSE, Part, Placed};
use crate::sheet::card;
use crate::sheet::page::GUTTER;

/// Shares out rooms among the blocks; `None` when table and prose do not fit. The card is left
/// out only where `card` is false.
pub fn share(text: Lettering, rooms: &[Area], card: bool) -> Option<Vec<Placed>> {
    for room in rooms {
        if let Some(placed) = within(text, room, card) {
            return Some(placed);
        }
    }
    if card {
        for (i, room) in rooms.iter().enumerate() {
            let Some(mut placed) = within(text, room, false) else {
                continue;
            };
            // Rooms may share a corner: the card keeps clear of the words.
            let corner = rooms.iter().enumerate().find_map(|(j, other)| {
                let at = Area::sized(other.x0, other.y0, card::WIDTH, card::HEIGHT);
                let clear = !placed
                    .iter()
                    .any(|(_, area)| area.overlaps(&at.grown(card::CLEAR)));
                (j != i && other.holds(&at) && clear).then_some(at)
            });
            if let Some(at) = corner {
                placed.push((Part::Card, at));
                return Some(placed);
            }
        }
    }
    None
}

/// Blocks with their places from the upper left corner of a room.
type Arrangement = fn(Lettering, f64) -> Option<Vec<Placed>>;

/// Arrangements with the card, in the order of their looks.
const WITH_CARD: [Arrangement; 5] = [
    |text, width| {
        let rest = beside_card(width)?;
        let over = text.table_height(width) + BETWEEN;
        Some(vec![
            (Part::Table, Area::sized(0.0, 0.0, width, over - BETWEEN)),
            card_at(0.0, over),
            prose_at(text, card::WIDTH + BETWEEN, over, rest),
        ])
    },
    |text, width| {
        let rest = beside_card(width)?;
        let over = text.table_height(rest) + GUTTER;
        Some(vec![
            (Part::Table, Area::sized(0.0, 0.0, rest, over - GUTTER)),
            prose_at(text, 0.0, over, rest),
            card_at(rest + BETWEEN, 0.0),
        ])
    },
    |text, width| {
        let rest = beside_card(width)?;
        Some(vec![
            table_at(text, 0.0, rest),
            card_at(rest + BETWEEN, 0.0),
            prose_at(text, rest + BETWEEN, card::HEIGHT + BETWEEN, card::WIDTH),
        ])
    },
    |text, width| {
        let third = beside_card(width)? - PROSE - BETWEEN;
        (third >= COLUMN).then(|| {
            vec![
                table_at(text, 0.0, third),
                prose_at(text, third + BETWEEN, 0.0, PROSE),
                card_at(third + BETWEEN + PROSE + BETWEEN, 0.0),
            ]
        })
    },
    |text, width| {
        (width >= card::WIDTH).then(|| {
            let table = table_at(text, 0.0, width);
            let prose = prose_at(text, 0.0, table.1.y1 + GUTTER, width);
            let card = card_at(0.0, prose.1.y1 + BETWEEN);
            vec![table, prose, card]
        })
    },
];

/// Arrangements without the card.
const WITHOUT_CARD: [Arrangement; 2] = [
    |text, width| {
        (width >= PROSE).then(|| {
            let table = table_at(text, 0.0, width);
            let prose = prose_at(text, 0.0, table.1.y1 + GUTTER, width);
            vec![table, prose]
        })
    },
    |text, width| {
        let half = (width - BETWEEN) / 2.0;
        (half >= PROSE).then(|| {
            vec![
                table_at(text, 0.0, half),
                prose_at(text, half + BETWEEN, 0.0, half),
            ]
        })
    },
];

/// Room beside the card, if there is enough for running words.
fn beside_card(width: f64) -> Option<f64> {
    let rest = width - card::WIDTH - BETWEEN;
    (rest >= PROSE).then_some(rest)
}

fn table_at(text: Lettering, x: f64, width: f64) -> Placed {
    let area = Area::sized(x, 0.0, width, text.table_height(width));
    (Part::Table, area)
}

fn prose_at(text: Lettering, x: f64, y: f64, width: f64) -> Placed {
    let area = Area::sized(x, y, width, text.prose_height(width));
    (Part::Prose, area)
}

fn card_at(x: f64, y: f64) -> Placed {
    (Part::Card, Area::sized(x, y, card::WIDTH, card::HEIGHT))
}

/// The first arrangement that fits one room, set down on its lower edge.
fn within(text: Lettering, room: &Area, card: bool) -> Option<Vec<Placed>> {
    let arrangements: &[Arrangement] = if card { &WITH_CARD } else { &WITHOUT_CARD };
    // No arrangement is lower than the card or, without it, than a heading and a line.
    if room.height() < if card { card::HEIGHT } else { 10.0 } {
        return None;
    }
    arrangements.iter().find_map(|arrange| {
        let placed = arrange(text, room.width())?;
        let height = placed.iter().map(|(_, area)| area.y1).fold(0.0, f64::max);
        let (dx, dy) = (room.x0, room.y1 - height);
        let down =
            |area: Area| Area::sized(area.x0 + dx, area.y0 + dy, area.width(), area.height());
        (height <= room.height()).then(|| {
            placed
                .into_iter()
                .map(|(part, area)| (part, down(area)))
                .collect()
        })
    })
}
