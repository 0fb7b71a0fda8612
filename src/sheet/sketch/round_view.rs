//! Several mains seen down the branch to the joint: which way each lies.
//!
//! The viewer looks from the branch's body towards the joint: +x, the heel side of main 1, is to
//! the right, +y up, and turns grow counter-clockwise.

use std::f64::consts::TAU;

use crate::joint::{Dimension, Main, Shape};
use crate::piece::Template;
use crate::sheet::sketch::ink::{self, Placing};
use crate::sheet::sketch::{BOX_HEIGHT, View};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};

const WIDTH: f64 = 78.0;
const HEIGHT: f64 = 104.0;
const SMALL: f64 = 4.0;
/// Radius of the picture, drawing mm.
const REACH: f64 = 33.0;
/// Radius of the branch in it.
const BRANCH: f64 = 13.0;

/// The mains of a template's joint round its branch; only with two or more.
#[must_use]
pub fn round_view(template: &Template, which: usize) -> Option<View> {
    let joint = template.cope().joint();
    let shown = joint.mains().nth(which)?;
    if joint.mains().count() < 2 {
        return None;
    }
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    let r = joint.branch().outside_radius().mm();
    let placing = Placing {
        scale: BRANCH / r,
        origin: Point::new(WIDTH / 2.0, REACH + 6.0),
    };
    for (number, main) in joint.mains().enumerate() {
        lies(&mut drawing, placing, main, number, number == which);
    }
    let centre = placing.origin;
    drawing.outline(Layer::Tube, Pen::BOLD, ink::arc(centre, BRANCH, 0.0, TAU));
    let bore = placing.scale * joint.branch().bore_radius().mm();
    drawing.outline(Layer::Tube, Pen::THIN, ink::arc(centre, bore, 0.0, TAU));
    for (x, y) in [(1.0, 0.0), (0.0, 1.0)] {
        let far = BRANCH + 3.0;
        let ends = [far, -far].map(|far| Point::new(centre.x + far * x, centre.y - far * y));
        drawing.line(Layer::Axis, Pen::AXIS, ends);
    }
    let mut boxes = Vec::new();
    if which > 0 {
        let middle = Point::new(WIDTH / 2.0, HEIGHT - BOX_HEIGHT / 2.0 - 1.0);
        about(&mut drawing, centre, shown, middle);
        boxes.push((Dimension::About, middle));
    }
    Some(View { drawing, boxes })
}

/// One main: its outlines below the branch, its axis, and its number on its heel side.
fn lies(drawing: &mut Drawing, placing: Placing, main: &Main, number: usize, shown: bool) {
    let (sin, cos) = main.turn().rad().sin_cos();
    let centre = placing.origin;
    let at = |along: f64, side: f64| {
        Point::new(
            centre.x + along * cos - side * sin,
            centre.y - along * sin - side * cos,
        )
    };
    let offset = placing.scale * main.offset().mm();
    let half = match main.shape() {
        Shape::Plate => None,
        Shape::Mitre { radius } => Some(radius.mm()),
        _ => Some(main.half_breadth().mm()),
    };
    let pen = if shown { Pen::BOLD } else { Pen::THIN };
    let half = half.map(|half| placing.scale * half);
    for side in half.iter().flat_map(|half| [offset - half, offset + half]) {
        if side.abs() >= REACH {
            continue;
        }
        let far = ((REACH - side) * (REACH + side)).sqrt();
        let near = ((BRANCH - side) * (BRANCH + side)).max(0.0).sqrt();
        drawing.line(Layer::Tube, pen, [at(near, side), at(far, side)]);
        // A mitre's other tube goes to the heel side alone.
        if !main.is_plane() {
            drawing.line(Layer::Tube, pen, [at(-near, side), at(-far, side)]);
        }
    }
    let level = crate::units::limited(offset, -0.9 * REACH, 0.9 * REACH);
    let far = ((REACH - level) * (REACH + level)).sqrt();
    let back = if main.is_plane() { BRANCH } else { -far };
    drawing.line(Layer::Axis, Pen::AXIS, [at(back, level), at(far, level)]);
    // Main 1 always lies to the right, where there is no room beyond the end of its axis.
    let name = at(far + 3.0, level);
    if number == 0 {
        let above = Point::new(name.x, name.y - 1.5);
        drawing.text(above, SMALL, Anchor::End, "heel 1");
    } else {
        let middle = Point::new(name.x, name.y + 1.4);
        drawing.text(middle, SMALL, Anchor::Middle, format!("{}", number + 1));
    }
}

/// The turn from main 1's heel to this one's.
fn about(drawing: &mut Drawing, centre: Point, main: &Main, middle: Point) {
    let turn = main.turn().within_turn().rad();
    let radius = (BRANCH + REACH) / 2.0;
    let arc = ink::arc(centre, radius, 0.0, turn);
    if turn * radius > 6.0
        && let [first, second, .., before, last] = arc.as_slice()
    {
        ink::arrow(drawing, *first, *second);
        ink::arrow(drawing, *last, *before);
    }
    // The lowest place on it that is not an arrow.
    let inner = arc.len() / 6..(5 * arc.len() / 6).max(1);
    let lower = |a: &&Point, b: &&Point| a.y.total_cmp(&b.y);
    let lowest = arc.get(inner).and_then(|part| part.iter().max_by(lower));
    if let Some(from) = lowest {
        ink::hairline(
            drawing,
            *from,
            Point::new(middle.x, middle.y - BOX_HEIGHT / 2.0),
        );
    }
    if arc.len() > 1 {
        drawing.line(Layer::Dimension, Pen::HAIR, arc);
    }
}
