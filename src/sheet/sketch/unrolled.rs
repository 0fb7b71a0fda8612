//! The cope unrolled, as on the template, with its heel, toe and main distances.

use std::f64::consts::TAU;

use crate::piece::{PaperPoint, Station, Template};
use crate::sheet::sketch::ink;
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, Length, Unit, sort_by_number, write_length};

pub(in crate::sheet) const WIDTH: f64 = 150.0;
/// Least room left and right of the strip for the two heights.
const SIDE: f64 = 28.0;
/// Room between a side's dimension line and the strip.
const GAP: f64 = 6.0;
/// Room above the strip for the names of its stations.
const ABOVE: f64 = 9.0;
/// Room below the strip for the developed width.
const BELOW: f64 = 11.0;
/// A strip is drawn no taller than this; a very deep cut is drawn smaller.
const TALLEST: f64 = 90.0;
const SMALL: f64 = 4.0;

/// How the strip is placed: what is drawn under it lines up with it.
pub(in crate::sheet) struct Frame {
    /// Left and right of the strip, drawing mm.
    side: f64,
    /// Drawing mm per mm of paper.
    pub scale: f64,
    /// Where turn 0 lies; turns grow to the left.
    pub right: f64,
    /// Mark line to long and to short point.
    words: [String; 2],
}

pub(in crate::sheet) fn frame(template: &Template, unit: Unit) -> Frame {
    let (width, tall) = (template.wrap().width().mm(), template.mark_to_long().mm());
    let words = [template.mark_to_long(), template.mark_to_short()].map(|l| write_length(l, unit));
    let longest = words
        .iter()
        .map(|word| word.chars().count())
        .max()
        .unwrap_or(0);
    // No face sets figures wider than this part of their size.
    let written = longest as f64 * SMALL * 0.64;
    let side = SIDE.max(written + GAP + 1.5);
    let scale = ((WIDTH - 2.0 * side) / width).min(TALLEST / tall);
    Frame {
        side,
        scale,
        right: (WIDTH + scale * width) / 2.0,
        words,
    }
}

/// The unrolled cope of a template, drawn to proportion.
#[must_use]
pub fn unrolled(template: &Template, unit: Unit) -> Drawing {
    let frame = frame(template, unit);
    let (side, scale, words) = (frame.side, frame.scale, frame.words);
    let (width, tall) = (template.wrap().width().mm(), template.mark_to_long().mm());
    let height = scale * tall + ABOVE + BELOW;
    let right = frame.right;
    let base = ABOVE + scale * tall;
    let place = |p: PaperPoint| {
        Point::new(
            right - scale * p.around.mm(),
            base - scale * p.above_mark.mm(),
        )
    };
    let mut drawing = Drawing::new(WIDTH, height);
    let left = right - scale * width;
    drawing.line(
        Layer::Mark,
        Pen::THIN,
        [Point::new(left, base), Point::new(right, base)],
    );
    for run in template.line() {
        let (layer, pen) = if run.beside {
            (Layer::Trim, Pen::TRIM)
        } else {
            (Layer::Cut, Pen::BOLD)
        };
        drawing.line(layer, pen, run.points.iter().map(|p| place(*p)));
    }
    mains(&mut drawing, template, &place, base);
    let start = place(template.station(Angle::ZERO).point);
    for x in [left, right] {
        drawing.line(
            Layer::Zero,
            Pen::AXIS,
            [Point::new(x, base), Point::new(x, start.y)],
        );
    }
    for (word, station) in [("heel", template.heel()), ("toe", template.toe())] {
        name(&mut drawing, word, &station, place(station.point), base);
    }
    heights(&mut drawing, template, words, side - GAP, &place, base);
    let below = base + 5.0;
    ink::dimension(
        &mut drawing,
        Point::new(left, below),
        Point::new(right, below),
    );
    let around = format!("once round {}", write_length(template.wrap().width(), unit));
    let middle = f64::midpoint(left, right);
    drawing.text(
        Point::new(middle, below + SMALL + 0.8),
        SMALL,
        Anchor::Middle,
        around,
    );
    drawing
}

/// Of several mains, a short line where the cut passes from one to the next, and the name of each
/// below its stretch of the line.
fn mains(
    drawing: &mut Drawing,
    template: &Template,
    place: &impl Fn(PaperPoint) -> Point,
    base: f64,
) {
    /// Of the ridge's line, above and below the cut.
    const REACH: f64 = 3.0;
    /// Least width of a stretch that is named, drawing mm.
    const ROOM: f64 = 13.0;
    let cope = template.cope();
    let heel = template.heel_turn();
    let mut ridges: Vec<(f64, usize, usize)> = cope
        .ridges()
        .iter()
        .map(|ridge| {
            let turn = (ridge.turn + heel).within_turn();
            (turn.rad(), ridge.before, ridge.after)
        })
        .collect();
    sort_by_number(&mut ridges, |ridge| ridge.0);
    for ridge in cope.ridges() {
        let at = place(template.station(ridge.turn + heel).point);
        let step = ridge.from.max(ridge.to) - ridge.from.min(ridge.to);
        let (top, foot) = (at.y - REACH, at.y + REACH);
        // A step is a line of its own already.
        if step < Length::from_mm(1e-3) {
            let foot = foot.min(base);
            let ends = [Point::new(at.x, top), Point::new(at.x, foot)];
            drawing.line(Layer::Quarter, Pen::THIN, ends);
        }
    }
    let (Some(first), Some(last)) = (ridges.first().copied(), ridges.last().copied()) else {
        return;
    };
    // From the zero line to the first ridge and from the last one to the zero line again.
    let mut stretches = vec![
        (0.0, first.0, last.2, first.1),
        (last.0, TAU, last.2, first.1),
    ];
    let pairs = ridges.windows(2);
    stretches.extend(pairs.map(|pair| (pair[0].0, pair[1].0, pair[0].2, pair[1].1)));
    for (from, to, after, before) in stretches {
        let middle = template.station(Angle::from_rad(f64::midpoint(from, to)));
        let at = |turn: f64| {
            let around = template.wrap().around(Angle::from_rad(turn));
            place(PaperPoint {
                around,
                ..middle.point
            })
        };
        // Where the branch passes beside in between, there may be two mains without a ridge.
        if after == before && at(from).x - at(to).x >= ROOM && !middle.beside {
            let at = place(middle.point);
            let level = (at.y + REACH + SMALL).min(base - 1.2);
            let name = format!("main {}", after + 1);
            drawing.text(Point::new(at.x, level), 0.85 * SMALL, Anchor::Middle, name);
        }
    }
}

/// A station's line and its word above the strip.
fn name(drawing: &mut Drawing, word: &str, station: &Station, at: Point, base: f64) {
    let pen = if station.beside {
        Pen::QUARTER
    } else {
        Pen::HAIR
    };
    drawing.line(
        Layer::Quarter,
        pen,
        [Point::new(at.x, base), Point::new(at.x, at.y)],
    );
    drawing.text(Point::new(at.x, at.y - 1.8), SMALL, Anchor::Middle, word);
}

/// Mark line to long point on the left, to short point on the right.
fn heights(
    drawing: &mut Drawing,
    template: &Template,
    [long, short]: [String; 2],
    side: f64,
    place: &impl Fn(PaperPoint) -> Point,
    base: f64,
) {
    let sides = [
        (
            "long",
            template.long_points(),
            long,
            side,
            Anchor::End,
            -1.2,
        ),
        (
            "short",
            template.short_points(),
            short,
            WIDTH - side,
            Anchor::Start,
            1.2,
        ),
    ];
    for (word, stations, text, x, anchor, shift) in sides {
        let nearest = stations
            .iter()
            .map(|station| place(station.point))
            .reduce(|a, b| {
                if (a.x - x).abs() <= (b.x - x).abs() {
                    a
                } else {
                    b
                }
            });
        let Some(at) = nearest else { continue };
        ink::hairline(drawing, at, Point::new(x, at.y));
        ink::hairline(drawing, Point::new(x, base), Point::new(WIDTH / 2.0, base));
        ink::dimension(drawing, Point::new(x, base), Point::new(x, at.y));
        let middle = f64::midpoint(base, at.y);
        drawing.text(Point::new(x + shift, middle - 0.6), SMALL, anchor, word);
        drawing.text(Point::new(x + shift, middle + SMALL), SMALL, anchor, text);
    }
}
