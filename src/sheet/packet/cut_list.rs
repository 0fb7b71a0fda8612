//! The cut list on paper: bars drawn to scale, what is cut from them, and what it all weighs.

use crate::job::shop::{BarGroup, Blank, CutList, Loss, StockBar};
use crate::sheet::Pen;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Point};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::numbers::counted;
use crate::sheet::packet::rows::{
    self, BOX, boxes, boxes_in, captions, columns, heading, paragraph, row, sums,
};
use crate::sheet::words;
use crate::units::{Length, Unit, write_bare, write_decimal, write_length};

/// Kilograms in a pound, exact by definition (international avoirdupois pound, 1959).
const KG_PER_POUND: f64 = 0.453_592_37;
/// Height of a drawn bar, mm.
const BAR: f64 = 7.0;
/// A saw cut is drawn no narrower than this, mm.
const SLIT: f64 = 0.25;
/// Size of the words in a bar, mm.
const IN_BAR: f64 = 2.5;

/// What is cut from the stock of one tube.
#[derive(Debug, Clone, Copy)]
pub struct TubeCutList<'a> {
    /// The tube in words.
    pub tube: &'a str,
    /// Mass of a metre of it, kg.
    pub kg_per_metre: f64,
    /// What is wanted, as given to [`crate::job::shop::cut_list`].
    pub blanks: &'a [Blank],
    /// What there is, as given to it.
    pub stock: &'a [StockBar],
    /// What sawing takes, as given to it.
    pub loss: Loss,
    /// What came of it.
    pub list: &'a CutList,
}

/// Fills sheets with a cut list.
pub fn fill(flow: &mut Flow, of: &TubeCutList, unit: Unit) {
    let width = flow.width();
    let tube = words::clean(of.tube);
    let bars: usize = of.list.bars.iter().map(|bar| bar.count).sum();
    let head = |more: &str| heading(&format!("{tube}{more}"), &counted(bars, "bar"), width);
    flow.head(0, 7.0, head(""), head(", continued"), 30.0);
    for sentence in sentences(of, unit) {
        flow.add(1.4, paragraph(&sentence, 3.0, false, width));
    }
    let longest = of.stock.iter().map(|bar| bar.length.mm());
    let scale = width / longest.fold(1.0, f64::max);
    let mut number = 0;
    for group in &of.list.bars {
        let Some(stock) = of.stock.get(group.stock) else {
            continue;
        };
        let blanks = words_of(of, group, number, unit);
        number += group.count;
        let lines = words::wrap(&blanks, 3.0, false, width);
        let caption = rows::lines(lines, 3.0, false, width);
        flow.add_with(4.0, caption, BAR + 1.0);
        flow.add(1.0, bar(of, group, stock, scale, unit));
        let mut left = group.count;
        let in_line = boxes_in(width);
        while left > 0 {
            let count = left.min(in_line);
            let mut line = Drawing::new(width, BOX);
            boxes(&mut line, Point::default(), count);
            flow.add(1.2, line);
            left -= count;
        }
    }
    table(flow, of, unit);
    flow.end(0);
}

/// Lengths of bars by number of bars: `3 of 6000 mm`.
fn bought(of: &TubeCutList, unit: Unit) -> String {
    let stocks = of.stock.iter().enumerate().filter_map(|(at, stock)| {
        let count = of.list.bars_of(at);
        let length = write_length(stock.length, unit);
        (count > 0).then(|| format!("{} of {length}", counted(count, "bar")))
    });
    stocks.collect::<Vec<_>>().join(", ")
}

fn sentences(of: &TubeCutList, unit: Unit) -> [String; 3] {
    let length = |length: Length| write_length(length, unit);
    let list = of.list;
    let waste = if list.bought > Length::ZERO {
        write_decimal(list.waste() / list.bought * 100.0, 1)
    } else {
        String::from("0")
    };
    let bound = if list.proven {
        String::from("Proven: no way of cutting takes less stock.")
    } else {
        format!(
            "Proven: no way of cutting takes less than {}, so at most {} could be saved.",
            length(list.least),
            length(list.bought - list.least)
        )
    };
    let mut mass = format!(
        "Mass: {} in all pieces; {} as bought; {} kg a metre.",
        mass(list.mass_kg(of.kg_per_metre), unit),
        mass(
            crate::job::shop::mass_kg(list.bought, of.kg_per_metre),
            unit
        ),
        write_decimal(of.kg_per_metre, 3)
    );
    mass.push_str(" From the sizes; real tube differs by a few per cent.");
    [
        format!(
            "{}: {} in all, {} used, {waste} % lost to offcuts, saw cuts and trims. {bound}",
            bought(of, unit),
            length(list.bought),
            length(list.used)
        ),
        format!(
            "Reckoned with a saw cut of {} and {} cut off the end of each bar first. Longest \
             piece first; measure every piece by itself, from the fresh end. Tick a box for each \
             bar that is cut.",
            length(of.loss.kerf),
            length(of.loss.trim)
        ),
        mass,
    ]
}

/// A mass with its unit; in pounds too where lengths are in inches.
fn mass(kg: f64, unit: Unit) -> String {
    let metric = format!("{} kg", write_decimal(kg, 2));
    if unit.is_inch() {
        format!("{metric}, {} lb", write_decimal(kg / KG_PER_POUND, 2))
    } else {
        metric
    }
}

/// What comes from the bars of a group: `Bars 2 to 4, of 6000 mm: 2 × (1) axle beam 1480 mm`.
fn words_of(of: &TubeCutList, group: &BarGroup, before: usize, unit: Unit) -> String {
    let length = |length: Length| write_length(length, unit);
    let which = if group.count == 1 {
        format!("Bar {}", before + 1)
    } else {
        format!(
            "Bars {} to {}, {} the same",
            before + 1,
            before + group.count,
            group.count
        )
    };
    let stock = of.stock.get(group.stock);
    let stock = stock.map_or_else(String::new, |stock| length(stock.length));
    let cuts = group.cuts.iter().filter_map(|cut| {
        let blank = of.blanks.get(cut.blank)?;
        let name = printed_label(&blank.name);
        let name = if name.is_empty() {
            String::new()
        } else {
            format!(" {name}")
        };
        let number = cut.blank + 1;
        let own = length(blank.length);
        Some(format!("{} × ({number}){name} {own}", cut.count))
    });
    let cuts = cuts.collect::<Vec<_>>().join(", ");
    format!(
        "{which}, of {stock}: {cuts}; offcut {}",
        length(group.offcut)
    )
}

/// A bar with its cuts, to scale.
fn bar(of: &TubeCutList, group: &BarGroup, stock: &StockBar, scale: f64, unit: Unit) -> Drawing {
    let whole = stock.length.mm() * scale;
    let mut bar = Drawing::new(whole, BAR);
    let part = |bar: &mut Drawing, pen: Pen, from: f64, to: f64| {
        let corners = [(from, 0.0), (to, 0.0), (to, BAR), (from, BAR)];
        let corners = corners.map(|(x, y)| Point::new(x, y));
        bar.outline(Layer::Tube, pen, corners);
    };
    let slit = |bar: &mut Drawing, from: f64, to: f64| {
        let middle = f64::midpoint(from, to);
        let half = ((to - from) / 2.0).max(SLIT / 2.0);
        // Within the bar, also behind the last piece.
        let (from, to) = ((middle - half).max(0.0), (middle + half).min(whole));
        let corners = [(from, 0.0), (to, 0.0), (to, BAR), (from, BAR)];
        bar.fill(Layer::Tube, corners.map(|(x, y)| Point::new(x, y)));
    };
    let mut at = of.loss.trim.mm() * scale;
    if at > 0.0 {
        part(&mut bar, Pen::HAIR, 0.0, at);
        let cross = [(0.0, 0.0), (at, BAR)].map(|(x, y)| Point::new(x, y));
        bar.line(Layer::Hidden, Pen::HAIR, cross);
        slit(&mut bar, at, at);
    }
    for cut in &group.cuts {
        let Some(blank) = of.blanks.get(cut.blank) else {
            continue;
        };
        let number = cut.blank + 1;
        let name = [
            format!("{number}: {}", write_bare(blank.length, unit)),
            number.to_string(),
        ];
        for _ in 0..cut.count {
            let to = at + blank.length.mm() * scale;
            part(&mut bar, Pen::THIN, at, to.min(whole));
            write_in(&mut bar, &name, at, to);
            let behind = to + of.loss.kerf.mm() * scale;
            if of.loss.kerf > Length::ZERO && to < whole {
                slit(&mut bar, to, behind.min(whole));
            }
            at = behind;
        }
    }
    if at < whole {
        part(&mut bar, Pen::HIDDEN, at, whole);
        let offcut = write_bare(group.offcut, unit);
        write_in(&mut bar, &[format!("offcut {offcut}"), offcut], at, whole);
    }
    bar
}

/// Writes the first text that fits into a part of a bar.
fn write_in(bar: &mut Drawing, texts: &[String], from: f64, to: f64) {
    let fits = |text: &&String| words::width(text, IN_BAR, false) + 1.6 <= to - from;
    if let Some(text) = texts.iter().find(fits) {
        let at = Point::new(f64::midpoint(from, to), BAR / 2.0 + IN_BAR * 0.3);
        bar.text(at, IN_BAR, Anchor::Middle, text.as_str());
    }
}

/// All pieces with their masses.
fn table(flow: &mut Flow, of: &TubeCutList, unit: Unit) {
    let width = flow.width();
    let (lengths, masses) = if unit.is_inch() {
        (38.0, 36.0)
    } else {
        (26.0, 20.0)
    };
    let columns = columns(
        width,
        &[
            ("no.", 8.0, true),
            ("piece", 0.0, false),
            ("length", lengths, true),
            ("pieces", 12.0, true),
            ("mass of one", masses, true),
            ("in all", masses, true),
        ],
    );
    let head = || captions(&columns, width);
    flow.head(1, 6.0, head(), head(), 12.0);
    let wanted = of.blanks.iter().enumerate();
    for (at, blank) in wanted.filter(|(_, blank)| blank.count > 0) {
        let one = blank.mass_kg(of.kg_per_metre);
        #[expect(clippy::cast_precision_loss, reason = "a few thousand pieces")]
        let count = blank.count as f64;
        let cells = [
            (at + 1).to_string(),
            printed_label(&blank.name),
            write_length(blank.length, unit),
            blank.count.to_string(),
            mass(one, unit),
            mass(one * count, unit),
        ];
        flow.add(0.0, row(&columns, &cells, width));
    }
    let pieces: usize = of.blanks.iter().map(|blank| blank.count).sum();
    let all = [
        String::new(),
        String::from("all pieces"),
        write_length(of.list.used, unit),
        pieces.to_string(),
        String::new(),
        mass(of.list.mass_kg(of.kg_per_metre), unit),
    ];
    flow.add(0.0, sums(&columns, &all, width));
    flow.end(1);
}
