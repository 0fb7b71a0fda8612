//! Extension lines, dimension lines and leaders of the elevation.

use crate::joint::{Dimension, Shape};
use crate::sheet::sketch::ink::{self, Placing};
use crate::sheet::sketch::scene::Scene;
use crate::sheet::sketch::sight::Sight;
use crate::sheet::{Drawing, Layer, Pen, Point};

/// Room between the branch and the line of the shift, drawing mm.
const STAND_OFF: f64 = 5.0;

/// What a main is called in its sketches.
pub fn name_of(sight: &Sight) -> String {
    let kind = match sight.main.shape() {
        Shape::Plate => "plate",
        Shape::Mitre { .. } => "other tube",
        _ => "main",
    };
    if sight.cope.mains().len() > 1 {
        format!("{kind} {}", sight.which + 1)
    } else {
        kind.to_owned()
    }
}

/// Draws the dimension of each box.
pub fn draw(drawing: &mut Drawing, scene: &Scene, placing: Placing, boxes: &[(Dimension, Point)]) {
    for (of, middle) in boxes {
        match of {
            Dimension::Main => main(drawing, scene, placing, *middle),
            Dimension::Branch => branch(drawing, scene, placing, *middle),
            Dimension::Wall => wall(drawing, scene, placing, *middle),
            Dimension::Angle => angle(drawing, scene, placing, *middle),
            Dimension::Shift => shift(drawing, scene, placing, *middle),
            _ => {}
        }
    }
}

fn on_branch(scene: &Scene, placing: Placing, x: f64, s: f64) -> Point {
    let (along, above) = scene.sight.seen(x, s);
    placing.at(along, above)
}

/// Through its box, square to the main.
fn main(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let Some(end) = scene.main.end else { return };
    let (dx, dy) = (end.out.0, -end.out.1);
    let tips = end.edges.map(|(along, up)| {
        let edge = placing.at(along, up);
        let far = (middle.x - edge.x) * dx + (middle.y - edge.y) * dy;
        let out = |far: f64| Point::new(edge.x + far * dx, edge.y + far * dy);
        ink::hairline(drawing, out(1.0), out(far + 1.5));
        out(far)
    });
    ink::dimension(drawing, tips[0], tips[1]);
}

fn branch(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let r = scene.sight.r;
    let [toe, heel] = [-r, r].map(|x| on_branch(scene, placing, x, scene.end));
    ink::dimension(drawing, toe, heel);
    ink::hairline(drawing, middle, toe);
}

fn wall(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let at = |x: f64| on_branch(scene, placing, x, scene.end);
    let (outer, inner) = (at(scene.sight.r), at(scene.sight.bore));
    ink::hairline(drawing, middle, outer);
    ink::arrow(drawing, outer, middle);
    ink::arrow(drawing, inner, at(0.0));
}

fn angle(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let centre = placing.at(0.0, 0.0);
    let theta = scene.sight.theta;
    // Through its box, but no further than the drawn axes reach.
    let radius = (middle.x - centre.x)
        .hypot(middle.y - centre.y)
        .min(placing.scale * scene.end)
        .min(placing.scale * scene.right);
    let points = ink::arc(centre, radius, 0.0, theta);
    if let [first, second, .., before, last] = points.as_slice() {
        ink::arrow(drawing, *first, *second);
        ink::arrow(drawing, *last, *before);
    }
    let half = ink::arc(centre, radius, theta / 2.0, theta / 2.0);
    if let Some(from) = half.first() {
        ink::hairline(drawing, *from, middle);
    }
    drawing.line(Layer::Dimension, Pen::HAIR, points);
}

/// From the joint centre to this main's axis, beside the branch.
fn shift(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let sight = &scene.sight;
    let places = [-sight.shift, 0.0].map(|s| on_branch(scene, placing, 0.0, s));
    // The branch's toe side in the picture, y down.
    let (dx, dy) = (-sight.sin, -sight.cos);
    let [a, b] = places;
    let centre = Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
    let side = (middle.x - centre.x) * dx + (middle.y - centre.y) * dy;
    let far = (placing.scale * sight.r + STAND_OFF).copysign(side);
    let tips = places.map(|place| {
        let out = |far: f64| Point::new(place.x + far * dx, place.y + far * dy);
        ink::hairline(drawing, place, out(far + far.signum() * 1.5));
        out(far)
    });
    ink::dimension(drawing, tips[0], tips[1]);
    let half = Point::new(
        f64::midpoint(tips[0].x, tips[1].x),
        f64::midpoint(tips[0].y, tips[1].y),
    );
    ink::hairline(drawing, half, middle);
}
