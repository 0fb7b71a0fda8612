//! The blocks of words on a sheet: how large they are, and how they are set.

use crate::sheet::area::Area;
use crate::sheet::card;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::facts::Facts;
use crate::sheet::words;
use crate::units::Angle;

/// White between columns, mm.
pub const BETWEEN: f64 = 6.0;
/// Narrowest column of facts, mm.
pub const COLUMN: f64 = 50.0;
/// Narrowest column of running words, mm.
pub const PROSE: f64 = 62.0;
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

/// The words of a sheet in a size.
#[derive(Clone, Copy)]
pub struct Lettering<'a> {
    pub facts: &'a Facts,
    /// What every size of letters and every narrowest column is multiplied by.
    pub scale: f64,
}

impl<'a> Lettering<'a> {
    /// In the usual size.
    pub const fn usual(facts: &'a Facts) -> Self {
        Self { facts, scale: 1.0 }
    }

    fn caption(self) -> f64 {
        CAPTION * self.scale
    }

    fn value(self) -> f64 {
        VALUE * self.scale
    }

    fn pad(self) -> f64 {
        PAD * self.scale
    }

    /// Height of the table of facts in a width, mm.
    pub fn table_height(self, width: f64) -> f64 {
        columns(self, width).2
    }

    /// Height of the running words in a width, mm.
    pub fn prose_height(self, width: f64) -> f64 {
        set_prose(self, width).2
    }
}

/// Draws a block in its room.
pub fn draw(page: &mut Drawing, text: Lettering, (part, area): &Placed) {
    let at = Point::new(area.x0, area.y0);
    match part {
        Part::Table => draw_table(page, text, at, area.width()),
        Part::Prose => draw_prose(page, text, at, area.width()),
        Part::Card => card::draw(page, area),
    }
}

/// A fact set in a column: its value in lines, its height.
fn set(text: Lettering, width: f64) -> Vec<(&'static str, Vec<String>, f64)> {
    let (caption, value, pad) = (text.caption(), text.value(), text.pad());
    text.facts
        .facts
        .iter()
        .map(|fact| {
            let lines = words::wrap(&fact.value, value, false, width);
            let height = pad * 2.0 + caption * words::LEADING + words::height(lines.len(), value);
            (fact.caption, lines, height)
        })
        .collect()
}

/// Width of the columns of facts, and where every fact starts: its column and its depth.
fn columns(text: Lettering, width: f64) -> (f64, Vec<(u32, f64)>, f64) {
    let mut count: u32 = 1;
    while f64::from(count + 1) * (COLUMN * text.scale + BETWEEN) - BETWEEN <= width + 1e-9 {
        count += 1;
    }
    let column = (width - f64::from(count - 1) * BETWEEN) / f64::from(count);
    let heights: Vec<f64> = set(text, column).iter().map(|fact| fact.2).collect();
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

fn draw_table(page: &mut Drawing, text: Lettering, at: Point, width: f64) {
    let (column, places, _) = columns(text, width);
    let (small, large, pad) = (text.caption(), text.value(), text.pad());
    for ((caption, lines, _), (which, depth)) in set(text, column).into_iter().zip(places) {
        let x = at.x + f64::from(which) * (column + BETWEEN);
        let top = at.y + depth;
        let rule = [Point::new(x, top), Point::new(x + column, top)];
        page.line(Layer::Frame, Pen::HAIR, rule);
        let mut y = top + pad + words::first_baseline(small);
        page.text(Point::new(x, y), small, Anchor::Start, caption);
        y = top + pad + small * words::LEADING + words::first_baseline(large);
        for line in lines {
            page.text(Point::new(x, y), large, Anchor::Start, line);
            y += large * words::LEADING;
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

fn paragraphs(text: Lettering, width: f64) -> Vec<Paragraph> {
    let (facts, scale) = (text.facts, text.scale);
    let head = |text: &str, before: f64| Paragraph {
        lines: words::wrap(text, 2.8 * scale, true, width),
        size: 2.8 * scale,
        bold: true,
        before,
    };
    let plain = |text: &str, size: f64| Paragraph {
        lines: words::wrap(text, size * scale, false, width),
        size: size * scale,
        bold: false,
        before: 1.0,
    };
    let mut all = vec![head(facts.heading, 0.0)];
    all.extend(facts.steps.iter().map(|step| plain(step, 2.5)));
    all.push(head("Take care", 2.4));
    all.extend(facts.cautions.iter().map(|caution| plain(caution, 2.3)));
    if !facts.link.is_empty() {
        all.push(head("Open it again", 2.4));
        all.push(Paragraph {
            lines: words::break_word(&facts.link, 2.2 * scale, false, width),
            size: 2.2 * scale,
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
fn set_prose(text: Lettering, width: f64) -> (f64, Vec<(Paragraph, u32, f64)>, f64) {
    let two = width >= TWO_COLUMNS;
    let column = if two { (width - BETWEEN) / 2.0 } else { width };
    let (mut which, mut depth, mut deepest) = (0_u32, 0.0_f64, 0.0_f64);
    let mut set = Vec::new();
    for paragraph in paragraphs(text, column) {
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

fn draw_prose(page: &mut Drawing, text: Lettering, at: Point, width: f64) {
    let (column, set, _) = set_prose(text, width);
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
