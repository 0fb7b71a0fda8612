//! A bent main square to the plane of its bend, in its true shape: arc, legs, and the landing.
//!
//! The main's direction at the landing is to the right, the inside of the bend up.

use crate::joint::{Bend, BentTube, Dimension, Shape, Surface};
use crate::piece::Template;
use crate::sheet::sketch::ink::{self, Bounds, Placing};
use crate::sheet::sketch::sight::Sight;
use crate::sheet::sketch::{BOX_HEIGHT, View};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::sort_by_number;

const WIDTH: f64 = 130.0;
const HEIGHT: f64 = 104.0;
const LARGEST: f64 = 4.0;
const SMALL: f64 = 4.0;
/// Bends of less (radians) show their angle where the legs would meet, not at the centre.
const SHALLOW: f64 = 0.7;

/// A bend to be drawn, in real mm of its own plane: along, and towards the inside.
struct Scene<'a> {
    tube: &'a BentTube,
    clr: f64,
    angle: f64,
    half_arc: f64,
    station: f64,
    /// Ends of what is drawn, along the centre line from the landing.
    from: f64,
    to: f64,
}

impl<'a> Scene<'a> {
    fn of(tube: &'a BentTube, bend: &Bend, r: f64) -> Self {
        let (clr, half_arc) = (bend.clr().mm(), bend.half_arc().mm());
        let station = bend.station().mm();
        let leg = (3.0 * tube.radius).max(0.25 * half_arc).max(1.5 * r);
        // The middle of the arc lies the station behind the landing.
        let (start, finish) = (-station - half_arc, -station + half_arc);
        Self {
            tube,
            clr,
            angle: bend.angle().rad(),
            half_arc,
            station,
            from: start.min(-r) - leg,
            to: finish.max(r) + leg,
        }
    }

    /// A place on the centre line and its tangent: along, towards the inside.
    fn at(&self, distance: f64) -> ((f64, f64), (f64, f64)) {
        let ([along, side, up], [dx, dy, dz]) = self.tube.centre_line(distance);
        let (sin, cos) = self.tube.facing;
        ((along, side * sin + up * cos), (dx, dy * sin + dz * cos))
    }

    /// Beside the centre line by `off`, towards the inside.
    fn beside(&self, distance: f64, off: f64) -> (f64, f64) {
        let ((x, y), (dx, dy)) = self.at(distance);
        (x - off * dy, y + off * dx)
    }

    fn line(&self, from: f64, to: f64, off: f64) -> Vec<(f64, f64)> {
        const STEPS: u32 = 120;
        // Looks close together on the arc, however long the legs are.
        let bends = [-self.station - self.half_arc, -self.station + self.half_arc];
        let mut cuts = vec![from, to];
        cuts.extend(bends.into_iter().filter(|cut| *cut > from && *cut < to));
        sort_by_number(&mut cuts, |cut| *cut);
        let mut points = Vec::new();
        for pair in cuts.windows(2) {
            for step in 0..=STEPS {
                let part = f64::from(step) / f64::from(STEPS);
                points.push(self.beside(pair[0] + part * (pair[1] - pair[0]), off));
            }
        }
        points
    }

    /// The bend's centre.
    fn centre(&self) -> (f64, f64) {
        self.beside(-self.station, self.clr)
    }

    /// Whether the bend's centre is drawn: not of a bend that is nearly straight.
    fn centred(&self) -> bool {
        self.angle > SHALLOW
    }

    fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        let room = scale * self.tube.radius + 10.0;
        for (x, y) in self.line(self.from, self.to, 0.0) {
            bounds.add((scale * x, scale * y), room, room);
        }
        if self.centred() {
            let (x, y) = self.centre();
            bounds.add((scale * x, scale * y), 4.0, 4.0);
        }
        bounds
    }
}

/// The bend of the main of that number, counted from 0; only of a bent one.
#[must_use]
pub fn bend_view(template: &Template, which: usize) -> Option<View> {
    let main = template.cope().joint().mains().nth(which)?;
    let (Shape::Bent { bend, .. }, Surface::Bent(tube)) = (main.shape(), main.surface()) else {
        return None;
    };
    let sight = Sight::of(template.cope(), which);
    let scene = Scene::of(tube, bend, sight.r);
    let row = HEIGHT - BOX_HEIGHT / 2.0 - 1.0;
    let free = row - BOX_HEIGHT / 2.0 - 3.0;
    let placing = ink::fit(WIDTH, free, LARGEST, |scale| scene.bounds(scale));
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    tube_lines(&mut drawing, &scene, placing);
    let boxes = [
        (Dimension::BendRadius, Point::new(22.0, row)),
        (Dimension::Station, Point::new(WIDTH / 2.0, row)),
        (Dimension::BendAngle, Point::new(WIDTH - 22.0, row)),
    ];
    let [radius, station, angle] = boxes.map(|(_, at)| Point::new(at.x, at.y - BOX_HEIGHT / 2.0));
    bend_radius(&mut drawing, &scene, placing, radius);
    bend_angle(&mut drawing, &scene, placing, angle);
    landing(&mut drawing, &scene, placing, station);
    Some(View {
        drawing,
        boxes: boxes.to_vec(),
    })
}

fn tube_lines(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let on_page = |(x, y): (f64, f64)| placing.at(x, y);
    let radius = scene.tube.radius;
    for off in [radius, -radius] {
        let line = scene.line(scene.from, scene.to, off);
        drawing.line(Layer::Tube, Pen::BOLD, line.into_iter().map(on_page));
    }
    for end in [scene.from, scene.to] {
        let ends = [radius, -radius].map(|off| on_page(scene.beside(end, off)));
        drawing.line(Layer::Tube, Pen::THIN, ends);
    }
    // Where the arc begins and ends.
    for side in [-1.0, 1.0] {
        let seam = -scene.station + side * scene.half_arc;
        let ends = [radius, -radius].map(|off| on_page(scene.beside(seam, off)));
        drawing.line(Layer::Tube, Pen::THIN, ends);
    }
    let beyond = 3.0 / placing.scale;
    let axis = scene.line(scene.from - beyond, scene.to + beyond, 0.0);
    drawing.line(Layer::Axis, Pen::AXIS, axis.into_iter().map(on_page));
}

/// From the centre to the centre line, on the first half of the arc.
fn bend_radius(drawing: &mut Drawing, scene: &Scene, placing: Placing, foot: Point) {
    let on = -scene.station - 0.5 * scene.half_arc;
    let at = |off: f64| {
        let (x, y) = scene.beside(on, off);
        placing.at(x, y)
    };
    // The centre of a shallow bend is far away: only a part of the radius is drawn.
    let from = if scene.centred() {
        at(scene.clr)
    } else {
        at(scene.clr.min(scene.tube.radius + 8.0 / placing.scale))
    };
    let tip = at(0.0);
    ink::arrow(drawing, tip, from);
    ink::hairline(drawing, from, tip);
    let outside = at(-scene.tube.radius - 2.0 / placing.scale);
    ink::hairline(drawing, tip, outside);
    ink::hairline(drawing, outside, foot);
}

fn bend_angle(drawing: &mut Drawing, scene: &Scene, placing: Placing, foot: Point) {
    let seams = [-1.0, 1.0].map(|side| -scene.station + side * scene.half_arc);
    let on_page = |(x, y): (f64, f64)| placing.at(x, y);
    let tangent = |distance: f64| {
        let (_, (dx, dy)) = scene.at(distance);
        dy.atan2(dx)
    };
    let (first, last) = (tangent(seams[0]), tangent(seams[0]) + scene.angle);
    let quarter = std::f64::consts::FRAC_PI_2;
    let (centre, from, to, radius) = if scene.centred() {
        let centre = on_page(scene.centre());
        for seam in seams {
            ink::hairline(
                drawing,
                centre,
                on_page(scene.beside(seam, scene.tube.radius)),
            );
        }
        let radius = 0.35 * placing.scale * scene.clr;
        (centre, first - quarter, last - quarter, radius)
    } else {
        // Where the legs would meet; the first one goes on straight.
        let reach = scene.clr * (scene.angle / 2.0).tan();
        let ((x, y), (dx, dy)) = scene.at(seams[0]);
        let meet = (x + reach * dx, y + reach * dy);
        let centre = on_page(meet);
        let far = placing.scale * (scene.to - seams[1]).max(scene.tube.radius);
        let end = Point::new(centre.x + far * dx, centre.y - far * dy);
        ink::hairline(drawing, centre, end);
        (centre, first, last, 0.85 * far)
    };
    let arc = ink::arc(centre, radius, from, to);
    if scene.angle * radius > 6.0
        && let [first, second, .., before, last] = arc.as_slice()
    {
        ink::arrow(drawing, *first, *second);
        ink::arrow(drawing, *last, *before);
    }
    if let Some(from) = arc.get(3 * arc.len() / 4) {
        ink::hairline(drawing, *from, foot);
    }
    drawing.line(Layer::Dimension, Pen::HAIR, arc);
}

/// Where the branch lands, and how far that is from the middle of the arc.
fn landing(drawing: &mut Drawing, scene: &Scene, placing: Placing, foot: Point) {
    let on_page = |(x, y): (f64, f64)| placing.at(x, y);
    let off = -(scene.tube.radius + 5.0 / placing.scale);
    let middle = -scene.station;
    for distance in [middle, 0.0] {
        let ends = [0.0, off - 1.5 / placing.scale];
        let ends = ends.map(|off| on_page(scene.beside(distance, off)));
        drawing.line(Layer::Dimension, Pen::HAIR, ends);
    }
    let line: Vec<Point> = scene
        .line(middle.min(0.0), middle.max(0.0), off)
        .into_iter()
        .map(on_page)
        .collect();
    let long = placing.scale * scene.station.abs();
    if long > 6.0
        && let [first, second, .., before, last] = line.as_slice()
    {
        ink::arrow(drawing, *first, *second);
        ink::arrow(drawing, *last, *before);
    }
    if let Some(half) = line.get(line.len() / 2) {
        ink::hairline(drawing, *half, foot);
    }
    drawing.line(Layer::Dimension, Pen::HAIR, line);
    let centre = on_page(scene.beside(0.0, 0.0));
    drawing.outline(
        Layer::Tube,
        Pen::BOLD,
        ink::arc(centre, 1.2, 0.0, std::f64::consts::TAU),
    );
    let above = on_page(scene.beside(0.0, scene.tube.radius));
    let word = Point::new(above.x, above.y - 2.0);
    drawing.text(word, SMALL, Anchor::Middle, "lands here");
}
