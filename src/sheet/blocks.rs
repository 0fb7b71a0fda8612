//! The blocks of words on a sheet, and how they share the room that the strip leaves.

use crate::sheet::area::Area;
use crate::sheet::card;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::facts::Facts;
use crate::sheet::page::GUTTER;
use crate::sheet::words;
use crate::units::Angle;

/// White between columns, mm.
const BETWEEN: f64 = 6.0;
/// Least white between the card's corners and words, mm.
const CARD_CLEAR: f64 = 0.8;
/// Narrowest column of facts, mm.
const COLUMN: f64 = 50.0;
/// Narrowest column of running words, mm.
const PROSE: f64 = 62.0;
/// Running words wider than this are set in two columns, mm.
const TWO_COLUMNS: f64 = 150.0;
/// Size of captions, mm.
const CAPTION: f64 = 2.5;
/// Size of values, mm.
const VALUE: f64 = 3.4;
/// White above and below a fact, mm.
const PAD: f64 = 1.1;

/// One of the blocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Sizes, angles, distances.
    Table,
    /// Steps, cautions, link.
    Prose,
    /// Corners of a bank card.
    Card,
}

/// A block in its room.
pub type Placed = (Part, Area);

/// Shares out rooms among the blocks; `None` when table and prose do not fit. The card is left
/// out only where `card` is false.
pub fn share(facts: &Facts, rooms: &[Area], card: bool) -> Option<Vec<Placed>> {
    for room in rooms {
        if let Some(placed) = within(facts, room, card) {
            return Some(placed);
        }
    }
    if card {
        for (i, room) in rooms.iter().enumerate() {
            let Some(mut placed) = within(facts, room, false) else {
                continue;
            };
            // Rooms may share a corner: the card keeps clear of the words.
            let corner = rooms.iter().enumerate().find_map(|(j, other)| {
                let at = Area::sized(other.x0, other.y0, card::WIDTH, card::HEIGHT);
                let clear = !placed
                    .iter()
                    .any(|(_, area)| area.overlaps(&at.grown(CARD_CLEAR)));
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
type Arrangement = fn(&Facts, f64) -> Option<Vec<Placed>>;

/// Arrangements with the card, in the order of their looks.
const WITH_CARD: [Arrangement; 5] = [
    |facts, width| {
        let rest = beside_card(width)?;
        let over = table_height(facts, width) + BETWEEN;
        Some(vec![
            (Part::Table, Area::sized(0.0, 0.0, width, over - BETWEEN)),
            card_at(0.0, over),
            prose_at(facts, card::WIDTH + BETWEEN, over, rest),
        ])
    },
    |facts, width| {
        let rest = beside_card(width)?;
        let over = table_height(facts, rest) + GUTTER;
        Some(vec![
            (Part::Table, Area::sized(0.0, 0.0, rest, over - GUTTER)),
            prose_at(facts, 0.0, over, rest),
            card_at(rest + BETWEEN, 0.0),
        ])
    },
    |facts, width| {
        let rest = beside_card(width)?;
        Some(vec![
            table_at(facts, 0.0, rest),
            card_at(rest + BETWEEN, 0.0),
            prose_at(facts, rest + BETWEEN, card::HEIGHT + BETWEEN, card::WIDTH),
        ])
    },
    |facts, width| {
        let third = beside_card(width)? - PROSE - BETWEEN;
        (third >= COLUMN).then(|| {
            vec![
                table_at(facts, 0.0, third),
                prose_at(facts, third + BETWEEN, 0.0, PROSE),
                card_at(third + BETWEEN + PROSE + BETWEEN, 0.0),
            ]
        })
    },
    |facts, width| {
        (width >= card::WIDTH).then(|| {
            let table = table_at(facts, 0.0, width);
            let prose = prose_at(facts, 0.0, table.1.y1 + GUTTER, width);
            let card = card_at(0.0, prose.1.y1 + BETWEEN);
            vec![table, prose, card]
        })
    },
];

/// Arrangements without the card.
const WITHOUT_CARD: [Arrangement; 2] = [
    |facts, width| {
        (width >= PROSE).then(|| {
            let table = table_at(facts, 0.0, width);
            let prose = prose_at(facts, 0.0, table.1.y1 + GUTTER, width);
            vec![table, prose]
        })
    },
    |facts, width| {
        let half = (width - BETWEEN) / 2.0;
        (half >= PROSE).then(|| {
            vec![
                table_at(facts, 0.0, half),
                prose_at(facts, half + BETWEEN, 0.0, half),
            ]
        })
    },
];

/// Room beside the card, if there is enough for running words.
fn beside_card(width: f64) -> Option<f64> {
    let rest = width - card::WIDTH - BETWEEN;
    (rest >= PROSE).then_some(rest)
}

fn table_at(facts: &Facts, x: f64, width: f64) -> Placed {
    let area = Area::sized(x, 0.0, width, table_height(facts, width));
    (Part::Table, area)
}

fn prose_at(facts: &Facts, x: f64, y: f64, width: f64) -> Placed {
    let area = Area::sized(x, y, width, prose_height(facts, width));
    (Part::Prose, area)
}

fn card_at(x: f64, y: f64) -> Placed {
    (Part::Card, Area::sized(x, y, card::WIDTH, card::HEIGHT))
}

/// The first arrangement that fits one room, set down on its lower edge.
fn within(facts: &Facts, room: &Area, card: bool) -> Option<Vec<Placed>> {
    let arrangements: &[Arrangement] = if card { &WITH_CARD } else { &WITHOUT_CARD };
    // No arrangement is lower than the card or, without it, than a heading and a line.
    if room.height() < if card { card::HEIGHT } else { 10.0 } {
        return None;
    }
    arrangements.iter().find_map(|arrange| {
        let placed = arrange(facts, room.width())?;
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

/// Draws a block in its room.
pub fn draw(page: &mut Drawing, facts: &Facts, (part, area): &Placed) {
    let at = Point::new(area.x0, area.y0);
    match part {
        Part::Table => draw_table(page, facts, at, area.width()),
        Part::Prose => draw_prose(page, facts, at, area.width()),
        Part::Card => card::draw(page, at),
    }
}

/// A fact set in a column: its value in lines, its height.
fn set(facts: &Facts, width: f64) -> Vec<(&'static str, Vec<String>, f64)> {
    facts
        .facts
        .iter()
        .map(|fact| {
            let lines = words::wrap(&fact.value, VALUE, false, width);
            let height = PAD * 2.0 + CAPTION * words::LEADING + words::height(lines.len(), VALUE);
            (fact.caption, lines, height)
        })
        .collect()
}

/// Width of the columns of facts, and where every fact starts: its column and its depth.
fn columns(facts: &Facts, width: f64) -> (f64, Vec<(u32, f64)>, f64) {
    let mut count: u32 = 1;
    while f64::from(count + 1) * (COLUMN + BETWEEN) - BETWEEN <= width {
        count += 1;
    }
    let column = (width - f64::from(count - 1) * BETWEEN) / f64::from(count);
    let heights: Vec<f64> = set(facts, column).iter().map(|fact| fact.2).collect();
    let fill = |limit: f64| {
        let (mut at, mut depth, mut deepest) = (0_u32, 0.0_f64, 0.0_f64);
        let mut places = Vec::with_capacity(heights.len());
        for height in &heights {
            if depth > 0.0 && depth + height > limit {
                at += 1;
                depth = 0.0;
            }
            places.push((at, depth));
            depth += height;
            deepest = deepest.max(depth);
        }
        (at < count).then_some((places, deepest))
    };
    // The lowest set of columns, found from the even share upwards.
    let mut limit = heights.iter().sum::<f64>() / f64::from(count);
    loop {
        if let Some((places, deepest)) = fill(limit) {
            return (column, places, deepest);
        }
        limit += 1.0;
    }
}

fn table_height(facts: &Facts, width: f64) -> f64 {
    columns(facts, width).2
}

fn draw_table(page: &mut Drawing, facts: &Facts, at: Point, width: f64) {
    let (column, places, _) = columns(facts, width);
    for ((caption, lines, _), (which, depth)) in set(facts, column).into_iter().zip(places) {
        let x = at.x + f64::from(which) * (column + BETWEEN);
        let top = at.y + depth;
        let rule = [Point::new(x, top), Point::new(x + column, top)];
        page.line(Layer::Frame, Pen::HAIR, rule);
        let mut y = top + PAD + words::first_baseline(CAPTION);
        page.text(Point::new(x, y), CAPTION, Anchor::Start, caption);
        y = top + PAD + CAPTION * words::LEADING + words::first_baseline(VALUE);
        for line in lines {
            page.text(Point::new(x, y), VALUE, Anchor::Start, line);
            y += VALUE * words::LEADING;
        }
    }
}

/// A paragraph of running words.
struct Paragraph {
    lines: Vec<String>,
    size: f64,
    bold: bool,
    before: f64,
}

fn paragraphs(facts: &Facts, width: f64) -> Vec<Paragraph> {
    let head = |text: &str, before: f64| Paragraph {
        lines: words::wrap(text, 2.8, true, width),
        size: 2.8,
        bold: true,
        before,
    };
    let mut all = vec![head("Put it on", 0.0)];
    for step in &facts.steps {
        all.push(Paragraph {
            lines: words::wrap(step, 2.5, false, width),
            size: 2.5,
            bold: false,
            before: 1.0,
        });
    }
    all.push(head("Take care", 2.4));
    for caution in &facts.cautions {
        all.push(Paragraph {
            lines: words::wrap(caution, 2.3, false, width),
            size: 2.3,
            bold: false,
            before: 1.0,
        });
    }
    if !facts.link.is_empty() {
        all.push(head("Open it again", 2.4));
        all.push(Paragraph {
            lines: words::break_word(&facts.link, 2.2, false, width),
            size: 2.2,
            bold: false,
            before: 1.0,
        });
    }
    all
}

impl Paragraph {
    fn height(&self) -> f64 {
        words::height(self.lines.len(), self.size)
    }
}

/// Running words in one or two columns: paragraph, column and depth; and the height of all.
fn set_prose(facts: &Facts, width: f64) -> (f64, Vec<(Paragraph, u32, f64)>, f64) {
    let two = width >= TWO_COLUMNS;
    let column = if two { (width - BETWEEN) / 2.0 } else { width };
    let (mut which, mut depth, mut deepest) = (0_u32, 0.0_f64, 0.0_f64);
    let mut set = Vec::new();
    for paragraph in paragraphs(facts, column) {
        // The cautions and what follows them make the second column.
        if two && which == 0 && paragraph.bold && depth > 0.0 {
            which = 1;
            depth = 0.0;
        }
        if depth > 0.0 {
            depth += paragraph.before;
        }
        let height = paragraph.height();
        set.push((paragraph, which, depth));
        depth += height;
        deepest = deepest.max(depth);
    }
    (column, set, deepest)
}

fn prose_height(facts: &Facts, width: f64) -> f64 {
    set_prose(facts, width).2
}

fn draw_prose(page: &mut Drawing, facts: &Facts, at: Point, width: f64) {
    let (column, set, _) = set_prose(facts, width);
    for (paragraph, which, depth) in set {
        let x = at.x + f64::from(which) * (column + BETWEEN);
        let mut y = at.y + depth + words::first_baseline(paragraph.size);
        for line in paragraph.lines {
            let place = Point::new(x, y);
            let (size, bold) = (paragraph.size, paragraph.bold);
            page.turned_text(place, size, Anchor::Start, Angle::ZERO, bold, line);
            y += paragraph.size * words::LEADING;
        }
    }
}
