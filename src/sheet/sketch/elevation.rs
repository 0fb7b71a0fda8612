//! The joint seen square to the plane of the branch's axis and a main's: main level, branch rising.
//!
//! This main's heel is on the right. The viewer looks towards +y of this main's frame, so a main
//! with positive offset lies behind the branch.

use std::f64::consts::{PI, TAU};

use crate::joint::{Dimension, Shape};
use crate::piece::Template;
use crate::sheet::sketch::boxes::{Boxes, Spot, clear_of_line};
use crate::sheet::sketch::dimensions;
use crate::sheet::sketch::ink::{self, Bounds, Placing};
use crate::sheet::sketch::outline::{Outline, others, outline};
use crate::sheet::sketch::sight::{Place, Sight};
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH, View};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, write_angle};

pub const WIDTH: f64 = 130.0;
pub const HEIGHT: f64 = 104.0;
/// Drawing mm per real mm, at most: a tiny tube is not blown up without end.
const LARGEST: f64 = 4.0;
/// Height of letters.
const SMALL: f64 = 4.0;
/// Width and height of the lower left corner, where the machine's setting stands.
const CORNER: (f64, f64) = (44.0, 8.0);
/// Room between an outline and the box of its dimension, drawing mm.
const CLEAR: f64 = 4.0;

/// What is drawn: the main's lines and how far the branch goes, real mm.
pub struct Scene<'a> {
    pub sight: Sight<'a>,
    pub main: Outline,
    /// Outlines of the other mains.
    pub others: Vec<Vec<Place>>,
    /// Height along the branch of its drawn end.
    pub end: f64,
    /// Ends of the drawn main, along its axis.
    pub left: f64,
    pub right: f64,
    /// Heights of the cut at heel and toe of this main.
    feet: [f64; 2],
}

impl<'a> Scene<'a> {
    fn of(template: &'a Template, which: usize) -> Self {
        let sight = Sight::of(template.cope(), which);
        let (r, big) = (sight.r, sight.crown);
        // The branch is drawn well past its short point, and clear of the main's outline.
        let clear = if sight.cos >= 0.0 {
            (big + r * (1.5 + sight.cos)) / sight.sin
        } else {
            0.0
        };
        let short = template.cope().short_point().height.mm() - sight.shift;
        let end = (short + 2.4 * r).max(clear);
        let heights = [0.0, PI].map(|turn| sight.foot(turn));
        let feet = [sight.seen(r, heights[0]).0, sight.seen(-r, heights[1]).0];
        let stub = 1.1 * big + 0.4 * r;
        let (left, right) = (feet[1].min(-big) - stub, feet[0].max(big) + stub);
        let (left, right) = match sight.main.shape() {
            Shape::Plate => (left - 0.8 * r, right + 0.8 * r),
            Shape::Mitre { .. } => {
                let tan = (sight.theta / 2.0).tan();
                let inside = big.max(r) / tan;
                (0.0, inside + 2.4 * big.max(r))
            }
            _ => (left, right),
        };
        Self {
            main: outline(&sight, left, right),
            others: others(&sight),
            sight,
            end,
            left,
            right,
            feet: heights,
        }
    }

    /// Height of the cut on the heel side (`x` above 0) or the toe side.
    fn foot(&self, x: f64) -> f64 {
        if x > 0.0 { self.feet[0] } else { self.feet[1] }
    }

    /// The lines that a box should leave free, in drawing mm about the origin.
    fn obstacles(&self, scale: f64) -> Vec<(Spot, Spot)> {
        let mut lines = Vec::new();
        for (_, line) in &self.main.lines {
            // A curve is looked at in a few chords only.
            let step = (line.len() / 24).max(1);
            let mut rough: Vec<&Place> = line.iter().step_by(step).collect();
            rough.extend(line.last());
            for pair in rough.windows(2) {
                let spot = |place: &Place| (scale * place[0], scale * place[2]);
                lines.push((spot(pair[0]), spot(pair[1])));
            }
        }
        for x in [-self.sight.r, self.sight.r] {
            let spot = |s: f64| {
                let (along, up) = self.sight.seen(x, s);
                (scale * along, scale * up)
            };
            lines.push((spot(self.end), spot(self.foot(x))));
        }
        lines
    }

    /// Middle of the boxes in drawing mm about the picture's origin, y up.
    fn boxes(&self, scale: f64) -> Boxes {
        let sight = &self.sight;
        let (sin, cos) = (sight.sin, sight.cos);
        let lines = self.obstacles(scale);
        let clear = |spot: Spot| lines.iter().all(|(a, b)| clear_of_line(spot, *a, *b));
        let steps = |count: u32| (0..count).map(|step| f64::from(step) * BOX_HEIGHT / 3.0);
        let mut boxes = Boxes::default();
        if let Some(end) = self.main.end {
            let [a, b] = end.edges;
            let middle = (
                scale * f64::midpoint(a.0, b.0),
                scale * f64::midpoint(a.1, b.1),
            );
            let (dx, dy) = end.out;
            let half = CLEAR + dx.abs() * BOX_WIDTH / 2.0 + dy.abs() * BOX_HEIGHT / 2.0;
            let spots = steps(20)
                .map(|step| (middle.0 + (half + step) * dx, middle.1 + (half + step) * dy));
            boxes.put(Dimension::Main, spots, clear);
        }
        let any = |_: Spot| true;
        boxes.put(Dimension::Angle, self.angle_spots(scale).into_iter(), clear);
        // Boxes stand beside the branch's end, far enough out along the dimension line that a
        // level box clears the leaning outline; they climb along the branch until they are clear.
        let out = scale * sight.r + CLEAR + f64::hypot(BOX_WIDTH, BOX_HEIGHT) / 2.0;
        let (along, up) = sight.seen(0.0, self.end);
        let end = (scale * along, scale * up);
        for (of, side) in [(Dimension::Branch, -1.0), (Dimension::Wall, 1.0)] {
            let foot = (end.0 + side * out * sin, end.1 - side * out * cos);
            let spots = steps(30).map(|step| (foot.0 + step * cos, foot.1 + step * sin));
            boxes.put(of, spots, any);
        }
        if sight.which > 0 {
            let (along, up) = sight.seen(0.0, -sight.shift / 2.0);
            let middle = (scale * along, scale * up);
            let beside = |side: f64, count: u32| {
                steps(count).map(move |step| {
                    let out = side * (out + step);
                    (middle.0 + out * sin, middle.1 - out * cos)
                })
            };
            let under = scale * sight.depth + BOX_HEIGHT / 2.0 + CLEAR;
            let (left, right) = (scale * self.left, scale * self.right);
            let below = steps(20).flat_map(move |step| {
                let down = -under - step;
                [
                    (left + BOX_WIDTH / 2.0, down),
                    (right - BOX_WIDTH / 2.0, down),
                ]
            });
            let spots = beside(-1.0, 4)
                .chain(beside(1.0, 4))
                .chain(below)
                .chain(beside(-1.0, 24));
            boxes.put(Dimension::Shift, spots, clear);
        }
        boxes
    }

    /// The angle's box stands in the wedge between branch and main where there is room, and
    /// below the main where there is not.
    fn angle_spots(&self, scale: f64) -> Vec<Spot> {
        let sight = &self.sight;
        let (sin, cos) = (sight.theta / 2.0).sin_cos();
        let half = f64::hypot(BOX_WIDTH, BOX_HEIGHT) / 2.0;
        // Distance from the joint centre at which the bisector clears both outlines.
        let clear = (scale * sight.r.max(sight.crown) + half + CLEAR) / sin;
        let over = scale * sight.crown + BOX_HEIGHT / 2.0 + CLEAR;
        let under = scale * sight.depth + BOX_HEIGHT / 2.0 + CLEAR;
        let reach = scale * f64::hypot(self.right, sight.crown) + 2.0 * BOX_WIDTH;
        let mut spots = Vec::new();
        if clear <= reach {
            spots.push((clear * cos, (clear * sin).max(over)));
        }
        for step in 0..12_u32 {
            let down = f64::from(step) * BOX_HEIGHT / 2.0;
            spots.push((scale * self.right - BOX_WIDTH / 2.0, -under - down));
            spots.push((0.0, -under - down));
        }
        spots
    }

    /// Heel and toe of the first main: the word's middle, and half its width.
    fn names(&self, scale: f64) -> Vec<(&'static str, Spot, f64)> {
        let sight = &self.sight;
        if sight.which > 0 {
            return Vec::new();
        }
        let mut names = Vec::new();
        for (word, x, half) in [("heel", sight.r, 4.4), ("toe", -sight.r, 3.4)] {
            let (along, above) = sight.seen(x, self.foot(x));
            let way = x.signum();
            if matches!(sight.main.shape(), Shape::Mitre { .. }) {
                // Beyond the corner, in the direction that divides the angle.
                let (sin, cos) = (sight.theta / 2.0).sin_cos();
                let (along, above) = (scale * along, scale * above);
                let out = if x > 0.0 {
                    (SMALL * 0.8 + half * sin * 0.4) / sin
                } else {
                    half + 2.0
                };
                if out < 16.0 {
                    let big = scale * (sight.crown - sight.r).max(0.0) / sin.max(0.1);
                    let far = out + big;
                    names.push((
                        word,
                        (along + way * far * cos, above + way * far * sin),
                        half,
                    ));
                }
            } else {
                let above = scale * above.max(sight.crown) + 1.4 + SMALL * 0.35;
                names.push((word, (scale * along + way * (1.5 + half), above), half));
            }
        }
        names
    }

    /// Whether something stands where the machine's setting is written.
    fn covers_corner(&self, placing: Placing) -> bool {
        let scale = placing.scale;
        let corner = (placing.origin.x, HEIGHT - placing.origin.y);
        let low = |(x, y): Spot, (half_width, half_height): (f64, f64)| {
            corner.0 + x - half_width < CORNER.0 && corner.1 + y - half_height < CORNER.1
        };
        let tube = self.main.lines.iter().flat_map(|(_, line)| line);
        tube.map(|place| (scale * place[0], scale * place[2]))
            .any(|spot| low(spot, (1.0, 1.0)))
            || self
                .boxes(scale)
                .0
                .iter()
                .any(|(_, spot)| low(*spot, (BOX_WIDTH / 2.0, BOX_HEIGHT / 2.0)))
    }

    fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        let own = self.main.lines.iter().flat_map(|(_, line)| line);
        for place in own.chain(self.others.iter().flatten()) {
            bounds.add((scale * place[0], scale * place[2]), 1.0, 1.0);
        }
        let sight = &self.sight;
        for x in [-sight.r, sight.r] {
            let (along, above) = sight.seen(x, self.end);
            bounds.add((scale * along, scale * above), 2.0, 4.0);
            let (along, above) = sight.seen(x, self.foot(x));
            bounds.add((scale * along, scale * above), 1.0, 1.0);
        }
        for (_, at, half) in self.names(scale) {
            bounds.add(at, half + 1.0, SMALL / 2.0);
        }
        let (along, above) = sight.seen(0.0, -sight.shift);
        bounds.add((scale * along, scale * above), 1.0, 1.0);
        for (_, middle) in self.boxes(scale).0 {
            bounds.add(middle, BOX_WIDTH / 2.0 + 1.0, BOX_HEIGHT / 2.0 + 1.0);
        }
        bounds
    }
}

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
    /// Chords of the sketched curve; it is looked at, not cut along.
    const STEPS: u32 = 240;
    let sight = &scene.sight;
    let mut run: Vec<Point> = Vec::new();
    let mut run_kind = None;
    for step in 0..=STEPS {
        let phi = TAU * f64::from(step) / f64::from(STEPS);
        let (height, beside) = sight.meeting(phi);
        let y = sight.r * phi.sin();
        let place = sight.place(sight.r * phi.cos(), y, height);
        let seen = y <= 0.0 && !sight.main_hides(place);
        let kind = (seen, beside);
        run.push(placing.at(place[0], place[2]));
        let before = *run_kind.get_or_insert(kind);
        if before != kind || step == STEPS {
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
