//! The joint seen square to the plane of the branch's axis and a main's: main level, branch rising.
//!
//! This main's heel is on the right. The viewer looks towards +y of this main's frame, so a main
//! with positive offset lies behind the branch.

use std::f64::consts::PI;

use crate::joint::{Dimension, Shape};
use crate::piece::Template;
use crate::sheet::sketch::View;
use crate::sheet::sketch::dimensions;
use crate::sheet::sketch::ink::{self, Placing};
use crate::sheet::sketch::scene::{CORNER, HEIGHT, LARGEST, SMALL, Scene, WIDTH};
use crate::sheet::sketch::sight::Place;
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, write_angle};

/// The elevation of a template's joint in the plane of the main of that number, counted from 0.
#[must_use]
pub fn elevation(template: &Template, which: usize) -> View {
    let scene = Scene::of(template, which);
    let mut placing = ink::fit(WIDTH, HEIGHT, LARGEST, |scale| scene.bounds(scale));
    if scene.covers_corner(placing) {
        placing = ink::fit(WIDTH, HEIGHT - CORNER.1, LARGEST, |scale| {
            scene.bounds(scale)
        });
    }
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    main(&mut drawing, &scene, placing);
    branch(&mut drawing, &scene, placing);
    cut(&mut drawing, &scene, placing);
    zero_line(&mut drawing, &scene, placing, template);
    let boxes: Vec<(Dimension, Point)> = scene
        .boxes(placing.scale)
        .0
        .into_iter()
        .map(|(of, (x, y))| (of, Point::new(placing.origin.x + x, placing.origin.y - y)))
        .collect();
    dimensions::draw(&mut drawing, &scene, placing, &boxes);
    words(&mut drawing, &scene, placing);
    View { drawing, boxes }
}

/// The main's lines as far as the viewer sees them, and its axis.
fn main(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let sight = &scene.sight;
    let on_page = |place: Place| placing.at(place[0], place[2]);
    for (pen, line) in &scene.main.lines {
        let shown = |place: Place| !sight.branch_hides(place) && !sight.main_hides(place);
        for (seen, points) in ink::runs(line, shown) {
            if seen {
                drawing.line(Layer::Tube, *pen, points.into_iter().map(on_page));
            }
        }
    }
    for line in scene.main.caps.iter().chain(&scene.others) {
        for (seen, points) in ink::runs(line, |place| !sight.branch_hides(place)) {
            if seen {
                drawing.line(Layer::Tube, Pen::THIN, points.into_iter().map(on_page));
            }
        }
    }
    let beyond = 3.0;
    let mut axis: Vec<Point> = scene
        .main
        .axis
        .iter()
        .map(|place| on_page(*place))
        .collect();
    if let [first, second, ..] = axis.as_slice() {
        axis.insert(0, ink::beyond(*first, *second, beyond));
    }
    if let [.., before, last] = axis.as_slice() {
        axis.push(ink::beyond(*last, *before, beyond));
    }
    if axis.len() > 1 {
        drawing.line(Layer::Axis, Pen::AXIS, axis);
    }
}

/// The branch's outlines, bore and axis.
fn branch(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let sight = &scene.sight;
    let end = scene.end;
    let at = |x: f64, s: f64| {
        let (along, above) = sight.seen(x, s);
        placing.at(along, above)
    };
    for (x, turn) in [(sight.r, 0.0), (-sight.r, PI)] {
        let foot = sight.foot(turn);
        // Below the main's upper outline, a branch behind the main's crest is hidden.
        let line: Vec<Place> = [end, foot].map(|s| sight.place(x, 0.0, s)).to_vec();
        for (seen, points) in ink::runs(&line, |place| !sight.main_hides(place)) {
            let (layer, pen) = if seen {
                (Layer::Tube, Pen::BOLD)
            } else {
                (Layer::Hidden, Pen::HIDDEN)
            };
            let points = points
                .into_iter()
                .map(|place| placing.at(place[0], place[2]));
            drawing.line(layer, pen, points);
        }
        let bore = sight.bore.copysign(x);
        let inner = sight.inner_foot(turn).map_or(foot, |inner| inner.max(foot));
        drawing.line(Layer::Hidden, Pen::HIDDEN, [at(bore, end), at(bore, inner)]);
        // The wall is hatched at the end, where it is cut for the drawing.
        let depth = sight.r.min(end - foot) * 0.45;
        let corners = [
            at(bore, end),
            at(x, end),
            at(x, end - depth),
            at(bore, end - depth),
        ];
        wall(drawing, placing, corners);
    }
    let edge = [at(-sight.r, end), at(sight.r, end)];
    drawing.line(Layer::Tube, Pen::BOLD, edge);
    let beyond = 4.0 / placing.scale;
    let foot = (-sight.shift).min(0.0) - beyond;
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(0.0, end + beyond), at(0.0, foot)],
    );
}

/// Solid wall, as far as the sketch shows it in section.
fn wall(drawing: &mut Drawing, placing: Placing, corners: [Point; 4]) {
    const THINNEST: f64 = 0.25;
    let [a, b, _, _] = corners;
    if (a.x - b.x).hypot(a.y - b.y) > THINNEST && placing.scale > 0.0 {
        drawing.fill(Layer::Tube, corners);
    }
}

/// The cut line: solid where the viewer sees it, dashed where a tube is in front of it.
fn cut(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let mut run: Vec<Point> = Vec::new();
    let mut run_kind = None;
    for (index, cut) in scene.cut.iter().enumerate() {
        let place = cut.place;
        let seen = cut.faces && !scene.sight.main_hides(place);
        let kind = (seen, cut.beside);
        run.push(placing.at(place[0], place[2]));
        let before = *run_kind.get_or_insert(kind);
        if before != kind || index + 1 == scene.cut.len() {
            let last = run.last().copied();
            ink_cut(drawing, before, std::mem::take(&mut run));
            run.extend(last);
            run_kind = Some(kind);
        }
    }
}

fn ink_cut(drawing: &mut Drawing, (seen, beside): (bool, bool), points: Vec<Point>) {
    match (seen, beside) {
        (true, false) => drawing.line(Layer::Cut, Pen::BOLD, points),
        (true, true) => drawing.line(Layer::Trim, Pen::TRIM, points),
        (false, _) => drawing.line(Layer::Hidden, Pen::HIDDEN, points),
    }
}

/// The zero line where it runs on the side the viewer sees.
fn zero_line(drawing: &mut Drawing, scene: &Scene, placing: Placing, template: &Template) {
    let sight = &scene.sight;
    let phi = -template.heel_turn().rad() - sight.main.turn().rad();
    if phi.sin() > 1e-9 {
        return;
    }
    let ends = [scene.end, sight.foot(phi)].map(|s| {
        let (along, above) = sight.seen(sight.r * phi.cos(), s);
        placing.at(along, above)
    });
    drawing.line(Layer::Zero, Pen::AXIS, ends);
}

/// Names of the tubes, heel and toe, and what the notching machine's scale shows.
fn words(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let sight = &scene.sight;
    let cope = sight.cope;
    // Never upside down.
    let lean = if sight.cos < -1e-9 {
        PI - sight.theta
    } else {
        -sight.theta
    };
    let short = cope.short_point().height.mm() - sight.shift;
    let (x, y) = sight.seen(0.0, f64::midpoint(scene.end, short));
    if placing.scale * sight.r > 1.5 * SMALL {
        let name = placing.at(x, y);
        drawing.turned_text(
            name,
            SMALL,
            Anchor::Middle,
            Angle::from_rad(lean),
            false,
            "branch",
        );
    }
    if placing.scale * sight.depth > SMALL + 1.5 {
        let (at, anchor) = match sight.main.shape() {
            Shape::Mitre { .. } => (placing.at(scene.right, 0.0), Anchor::End),
            Shape::Plate => (
                placing.at(scene.left, -0.5 * sight.depth - 0.4 * SMALL / placing.scale),
                Anchor::Start,
            ),
            _ => (placing.at(scene.left, 0.0), Anchor::Start),
        };
        let way = if anchor == Anchor::End { -2.0 } else { 2.0 };
        let name = Point::new(at.x + way, at.y - 1.2);
        drawing.text(name, SMALL, anchor, dimensions::name_of(sight));
    }
    for (word, (x, y), _) in scene.names(placing.scale) {
        let at = Point::new(placing.origin.x + x, placing.origin.y - y + SMALL * 0.35);
        drawing.text(at, SMALL, Anchor::Middle, word);
    }
    let off = Angle::QUARTER - sight.main.angle();
    let off = format!("{} off square", write_angle(off));
    drawing.text(Point::new(2.0, HEIGHT - 3.0), SMALL, Anchor::Start, off);
}
