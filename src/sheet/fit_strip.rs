//! The predicted gap as a strip under the unrolled cope, turn below turn.

use std::f64::consts::TAU;

use crate::cope::fit::{Fit, Limits};
use crate::piece::Template;
use crate::sheet::sketch::ink;
use crate::sheet::sketch::unrolled::{WIDTH, frame};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, Length, Unit, sort_by_number, write_fixed, write_length};

/// Room above the gaps for the dimension of the widest.
const ABOVE: f64 = 9.0;
/// Height of the widest gap, or of the limits where they are wider.
const TALL: f64 = 30.0;
/// Room below for turns, names and the scale.
const BELOW: f64 = 16.0;
const SMALL: f64 = 3.4;
/// Distance of hatching lines in the middle and the widest band, drawing mm.
const HATCH: [f64; 2] = [2.4, 1.4];
/// Gaps below this are none.
const NOTHING: Length = Length::from_mm(0.005);

/// A place on the strip: across, and how tall the gap is there; `None` beside the main.
type Column = (f64, Option<Length>);

/// The gaps of a fit over the turn, drawn to line up with [`crate::sheet::sketch::unrolled`]: the
/// same width, turn 0 at the right, growing to the left. Tight gaps are blank, those that can be
/// filled hatched, wider ones hatched both ways, closer, under a strong line.
#[must_use]
pub fn fit_strip(template: &Template, fit: &Fit, limits: &Limits, unit: Unit) -> Drawing {
    let frame = frame(template, unit);
    let width = template.wrap().width().mm() * frame.scale;
    let (left, right) = (frame.right - width, frame.right);
    let base = ABOVE + TALL;
    let widest = fit.widest();
    // A limit far above all gaps is left out rather than flattening them.
    let far = limits.most.mm() > 4.0 * widest.gap.mm().max(limits.tight.mm());
    let top = if far { limits.tight } else { limits.most };
    let most = widest.gap.max(top).mm().max(0.1);
    let scale = TALL / most;
    let mut drawing = Drawing::new(WIDTH, base + BELOW);
    let across = |turn: f64| right - width * turn / TAU;
    let columns = columns(template, fit, &across);
    for (band, spacing) in [(1, HATCH[0]), (2, HATCH[1])] {
        hatch(
            &mut drawing,
            &columns,
            limits,
            band,
            spacing,
            scale,
            base,
            1.0,
        );
    }
    hatch(
        &mut drawing,
        &columns,
        limits,
        2,
        HATCH[1],
        scale,
        base,
        -1.0,
    );
    drawing.line(
        Layer::Mark,
        Pen::THIN,
        [Point::new(left, base), Point::new(right, base)],
    );
    curve(&mut drawing, &columns, limits, scale, base);
    for (name, limit) in [("tight", limits.tight), ("fill", limits.most)] {
        if limit.mm() > most || limit <= Length::ZERO {
            continue;
        }
        let y = base - scale * limit.mm();
        drawing.line(
            Layer::Dimension,
            Pen::HIDDEN,
            [Point::new(left, y), Point::new(right, y)],
        );
        let text = format!("{name} {}", small(limit, unit));
        drawing.text(Point::new(right + 1.5, y + 1.2), SMALL, Anchor::Start, text);
    }
    turns(&mut drawing, template, &across, base);
    let turn = (widest.turn + template.heel_turn()).within_turn().rad();
    dimension(&mut drawing, widest.gap, across(turn), scale, base, unit);
    let times = scale / frame.scale;
    let said = format!(
        "gaps drawn {} times as tall as the strip above",
        write_fixed(times, 0)
    );
    drawing.text(
        Point::new(f64::midpoint(left, right), base + BELOW - 1.2),
        SMALL,
        Anchor::Middle,
        said,
    );
    drawing
}

fn small(length: Length, unit: Unit) -> String {
    let unit = if unit.is_inch() { Unit::Inch } else { unit };
    write_length(length, unit)
}

/// All gaps from the zero line round to it again, by growing turn.
fn columns(template: &Template, fit: &Fit, across: &dyn Fn(f64) -> f64) -> Vec<Column> {
    let heel = template.heel_turn();
    let mut all: Vec<(f64, Option<Length>)> = fit
        .gaps()
        .iter()
        .map(|at| ((at.turn + heel).within_turn().rad(), at.gap))
        .collect();
    let seam = fit.at((-heel).within_turn());
    all.push((0.0, seam));
    all.push((TAU, seam));
    sort_by_number(&mut all, |column| column.0);
    all.into_iter()
        .map(|(turn, gap)| (across(turn), gap))
        .collect()
}

/// The gap at a place across, between two columns; `None` where either is beside the main.
fn gap_at(columns: &[Column], x: f64) -> Option<Length> {
    let after = columns.partition_point(|column| column.0 > x);
    let (before, after) = (columns.get(after.checked_sub(1)?)?, columns.get(after)?);
    let (from, to) = (before.1?, after.1?);
    let wide = before.0 - after.0;
    let part = if wide > 0.0 {
        (before.0 - x) / wide
    } else {
        0.0
    };
    Some(from + (to - from) * part)
}

/// Slanting lines under the curve where it is in a band; `way` 1 leans to the right, −1 to the left.
#[expect(
    clippy::too_many_arguments,
    reason = "one drawing's measures, used together once"
)]
fn hatch(
    drawing: &mut Drawing,
    columns: &[Column],
    limits: &Limits,
    band: u8,
    spacing: f64,
    scale: f64,
    base: f64,
    way: f64,
) {
    /// Looks along a line, drawing mm.
    const LOOK: f64 = 0.25;
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
        return;
    };
    let (left, right) = (last.0, first.0);
    let mut start = left - TALL;
    while start < right + TALL {
        let mut run: Option<(Point, Point)> = None;
        let mut up = 0.0;
        while up <= TALL {
            let at = Point::new(start + way * up, base - up);
            let under = gap_at(columns, at.x)
                .is_some_and(|gap| limits.band(gap) == band && scale * gap.mm() >= up);
            run = match (run, under) {
                (None, true) => Some((at, at)),
                (Some((from, _)), true) => Some((from, at)),
                (Some((from, to)), false) => {
                    drawing.line(Layer::Quarter, Pen::HAIR, [from, to]);
                    None
                }
                (None, false) => None,
            };
            up += LOOK;
        }
        if let Some((from, to)) = run {
            drawing.line(Layer::Quarter, Pen::HAIR, [from, to]);
        }
        start += spacing;
    }
}

/// The gap itself, stronger the wider it is; dashed along the base beside the main.
fn curve(drawing: &mut Drawing, columns: &[Column], limits: &Limits, scale: f64, base: f64) {
    let style = |gap: Option<Length>| gap.map(|gap| limits.band(gap));
    let mut index = 0;
    while index + 1 < columns.len() {
        let now = style(columns[index].1);
        let mut points = Vec::new();
        let mut at = index;
        while at < columns.len() {
            let (x, gap) = columns[at];
            points.push(Point::new(x, base - scale * gap.map_or(0.0, Length::mm)));
            // The next stretch begins where this one ends, so that the line is whole.
            if style(gap) != now {
                break;
            }
            at += 1;
        }
        let (layer, pen) = match now {
            None => (Layer::Trim, Pen::TRIM),
            Some(0) => (Layer::Landing, Pen::THIN),
            Some(1) => (Layer::Landing, Pen::MARK),
            Some(_) => (Layer::Landing, Pen::BOLD),
        };
        if points.len() > 1 {
            drawing.line(layer, pen, points);
        }
        index = at.max(index + 1);
    }
}

/// Quarter turns with their numbers, and heel and toe by name.
fn turns(drawing: &mut Drawing, template: &Template, across: &dyn Fn(f64) -> f64, base: f64) {
    for quarter in 0..=4_u32 {
        let x = across(TAU * f64::from(quarter) / 4.0);
        drawing.line(
            Layer::Quarter,
            Pen::THIN,
            [Point::new(x, base), Point::new(x, base + 1.2)],
        );
        let degrees = format!("{}°", 90 * quarter);
        drawing.text(
            Point::new(x, base + 1.6 + SMALL),
            SMALL,
            Anchor::Middle,
            degrees,
        );
    }
    for (name, from_heel) in [("heel", Angle::ZERO), ("toe", Angle::HALF)] {
        let x = across((template.heel_turn() + from_heel).within_turn().rad());
        drawing.line(
            Layer::Quarter,
            Pen::HAIR,
            [Point::new(x, base), Point::new(x, base + 1.2)],
        );
        let y = base + 2.4 + 2.0 * SMALL;
        drawing.text(Point::new(x, y), SMALL, Anchor::Middle, name);
    }
}

/// The widest gap, or that there is none.
fn dimension(drawing: &mut Drawing, gap: Length, x: f64, scale: f64, base: f64, unit: Unit) {
    if gap < NOTHING {
        let at = Point::new(WIDTH / 2.0, base - TALL / 2.0);
        drawing.text(at, SMALL, Anchor::Middle, "no gap all round");
        return;
    }
    let top = base - scale * gap.mm();
    ink::dimension(drawing, Point::new(x, base), Point::new(x, top));
    let text = format!("widest {}", small(gap, unit));
    // Above the highest line, so that nothing runs through it, with a line to what it tells of.
    let at = Point::new(x, ABOVE - 2.6);
    drawing.bold_text(at, SMALL, Anchor::Middle, text);
    let leader = [Point::new(x, top), Point::new(x, at.y + 0.8)];
    drawing.line(Layer::Quarter, Pen::HAIR, leader);
}
