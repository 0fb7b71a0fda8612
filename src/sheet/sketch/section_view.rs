//! Dimensions of a main's section in the end view: sizes of a rectangle, and which way a bend turns.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::joint::{Dimension, RectangularSection, Shape};
use crate::sheet::sketch::BOX_HEIGHT;
use crate::sheet::sketch::end_view::{self, COLUMNS, Scene, WIDTH};
use crate::sheet::sketch::ink::{self, Placing};
use crate::sheet::sketch::section;
use crate::sheet::{Drawing, Layer, Pen, Point};

/// Room between a face and its dimension line, drawing mm.
const STAND_OFF: f64 = 5.0;

/// The way to the inside of the bend, its angle from the upright, and a leader to its box.
pub fn facing(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let Shape::Bent { radius, bend } = scene.sight.main.shape() else {
        return;
    };
    let centre = placing.at(scene.sight.offset, 0.0);
    let facing = bend.facing().within_turn().rad();
    let facing = if facing > PI { facing - TAU } else { facing };
    let radius = placing.scale * radius.mm();
    let reach = radius + 9.0;
    // Directions in the picture count from the right; the facing counts from the upright, clockwise.
    let towards = |far: f64| {
        let (sin, cos) = facing.sin_cos();
        Point::new(centre.x + far * sin, centre.y - far * cos)
    };
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [towards(-radius - 3.0), towards(reach)],
    );
    drawing.arrow_head(Layer::Tube, centre, towards(reach), 4.0, 1.2);
    let tip = towards(reach + 1.0);
    let below = if facing.cos() < 0.0 { 3.5 } else { -1.0 };
    end_view::word(drawing, Point::new(tip.x, tip.y + below), centre, "inside");
    let swing = radius * 0.6;
    let arc = ink::arc(centre, swing, FRAC_PI_2, FRAC_PI_2 - facing);
    if facing.abs() * swing > 6.0
        && let [first, second, .., before, last] = arc.as_slice()
    {
        ink::arrow(drawing, *first, *second);
        ink::arrow(drawing, *last, *before);
    }
    if let Some(half) = arc.get(arc.len() / 2) {
        let knee = Point::new(COLUMNS[1], middle.y - BOX_HEIGHT / 2.0);
        ink::hairline(drawing, *half, knee);
    }
    if arc.len() > 1 {
        drawing.line(Layer::Dimension, Pen::HAIR, arc);
    }
}

/// The distance between the two centre lines, above the branch.
pub fn offset_above(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let level = middle.y + BOX_HEIGHT / 2.0 + 1.5;
    let branch = placing.at(0.0, scene.top);
    let main = placing.at(scene.sight.offset, scene.reach.1);
    for end in [branch, main] {
        ink::hairline(
            drawing,
            Point::new(end.x, end.y - 1.0),
            Point::new(end.x, level - 1.0),
        );
    }
    ink::dimension(
        drawing,
        Point::new(branch.x, level),
        Point::new(main.x, level),
    );
}

/// Width, height, corner and roll.
pub fn sizes(
    drawing: &mut Drawing,
    scene: &Scene,
    section: &RectangularSection,
    placing: Placing,
    boxes: &[(Dimension, Point)],
) {
    let find = |wanted: Dimension| {
        let found = boxes.iter().find(|(of, _)| *of == wanted);
        found.map_or(Point::default(), |(_, at)| *at)
    };
    let (w, h) = (section.width().mm() / 2.0, section.height().mm() / 2.0);
    let roll = section.roll().rad();
    let e = scene.sight.offset;
    // A place of the section's own faces, `out` drawing mm off the face of that normal.
    let at = |v: f64, u: f64, out: (f64, f64)| {
        let (v, u) = (v + out.0 / placing.scale, u + out.1 / placing.scale);
        let (sin, cos) = roll.sin_cos();
        placing.at(e + v * cos - u * sin, v * sin + u * cos)
    };
    let under = lower(roll + FRAC_PI_2);
    let beside = lower(roll);
    let width = [-w, w].map(|v| {
        let tip = at(v, under * h, (0.0, under * STAND_OFF));
        ink::hairline(
            drawing,
            at(v, under * h, (0.0, under)),
            at(v, under * h, (0.0, under * (STAND_OFF + 1.5))),
        );
        tip
    });
    let height = [-h, h].map(|u| {
        let tip = at(beside * w, u, (beside * STAND_OFF, 0.0));
        ink::hairline(
            drawing,
            at(beside * w, u, (beside, 0.0)),
            at(beside * w, u, (beside * (STAND_OFF + 1.5), 0.0)),
        );
        tip
    });
    // The upper row is reached straight down; the lower one by a lane between the columns, and by
    // one along the edge of the drawing.
    let upper = find(Dimension::Roll).y - BOX_HEIGHT / 2.0 - 1.5;
    let lane = |drawing: &mut Drawing, [a, b]: [Point; 2], x: f64, to: Point| {
        let half = Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
        let points = [half, Point::new(x, upper), Point::new(x, to.y), to];
        ink::dimension(drawing, a, b);
        drawing.line(Layer::Dimension, Pen::HAIR, points);
    };
    lane(drawing, width, WIDTH / 2.0, find(Dimension::Width));
    let edge = if height_on_right(section) {
        WIDTH - 1.0
    } else {
        1.0
    };
    lane(drawing, height, edge, find(Dimension::Height));
    let from = corner(drawing, section, placing, e);
    let to = find(Dimension::Corner);
    ink::hairline(drawing, from, Point::new(to.x, to.y - BOX_HEIGHT / 2.0));
    let centre = placing.at(e, 0.0);
    let swing = placing.scale * w.min(h) * 0.7;
    let shown = roll.rem_euclid(TAU);
    let from = if shown * swing > 1.0 {
        let arc = ink::arc(centre, swing, 0.0, shown);
        if shown * swing > 6.0
            && let [first, second, .., before, last] = arc.as_slice()
        {
            ink::arrow(drawing, *first, *second);
            ink::arrow(drawing, *last, *before);
        }
        let (sin, cos) = roll.sin_cos();
        let reach = placing.scale * w + 3.0;
        let axis =
            [-reach, reach].map(|far| Point::new(centre.x + far * cos, centre.y - far * sin));
        drawing.line(Layer::Axis, Pen::AXIS, axis);
        let half = arc.get(arc.len() / 2).copied();
        drawing.line(Layer::Dimension, Pen::HAIR, arc);
        half.unwrap_or(centre)
    } else {
        Point::new(centre.x + swing, centre.y)
    };
    let to = find(Dimension::Roll);
    ink::hairline(drawing, from, Point::new(to.x, to.y - BOX_HEIGHT / 2.0));
}

/// Each size stands on that of its two faces which looks more downwards, and of two upright ones
/// on the right one: −1 where that is the face against the normal.
fn lower(normal: f64) -> f64 {
    let (down, right) = normal.sin_cos();
    let flip = down > 1e-9 || (down.abs() <= 1e-9 && right < 0.0);
    if flip { -1.0 } else { 1.0 }
}

/// Whether the height is dimensioned on the right.
pub fn height_on_right(section: &RectangularSection) -> bool {
    let roll = section.roll().rad();
    lower(roll) * roll.cos() >= 0.0
}

/// An arrow on the corner nearest to the corner's box, and where its leader begins.
fn corner(
    drawing: &mut Drawing,
    section: &RectangularSection,
    placing: Placing,
    offset: f64,
) -> Point {
    let side = if height_on_right(section) { 1.0 } else { -1.0 };
    let corners = section::corners(section);
    // Farthest on that side; of two as far the lower one.
    let key = |corner: &&section::Corner| side * corner.centre.0 + 1e-3 * corner.centre.1;
    let nearest = corners.iter().min_by(|a, b| key(a).total_cmp(&key(b)));
    let Some(corner) = nearest else {
        return Point::default();
    };
    let (sin, cos) = (corner.normal + FRAC_PI_2 / 2.0).sin_cos();
    let radius = section.corner().mm();
    let on = |far: f64| {
        let (side, up) = corner.centre;
        placing.at(offset + side + far * cos, up + far * sin)
    };
    let (tip, out) = (on(radius), on(radius + 7.0 / placing.scale));
    ink::arrow(drawing, tip, out);
    ink::hairline(drawing, tip, out);
    out
}
