//! The joint seen along a main from its heel side: the main's section, the branch standing on it.
//!
//! +y of the main's frame is to the right, so a positive offset shows the main's centre to the
//! right of the branch's centre line. Of a mitre it is the other tube that is looked along.

use std::f64::consts::FRAC_PI_2;

use crate::joint::{Dimension, RectangularSection, Shape};
use crate::piece::Template;
use crate::sheet::sketch::ink::{self, Bounds, Placing};
use crate::sheet::sketch::sight::Sight;
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH, View, section_view};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};

pub const WIDTH: f64 = 78.0;
const HEIGHT: f64 = 104.0;
/// Height of a view with two more rows of boxes.
const TALL: f64 = 147.0;
/// Drawing mm per real mm, at most.
const LARGEST: f64 = 4.0;
/// Room between the main and the box below it, drawing mm.
const CLEAR: f64 = 5.0;
/// Middles of two columns of boxes.
pub const COLUMNS: [f64; 2] = [WIDTH / 4.0 - 2.0, 3.0 * WIDTH / 4.0 + 2.0];
/// From the middle of a row of boxes to the next.
pub const ROW: f64 = BOX_HEIGHT + 2.0;

/// Numbers of the joint as seen in this view, real mm; origin on the branch's axis, level with
/// the main's axis.
pub struct Scene<'a> {
    pub sight: Sight<'a>,
    /// How far the main reaches to either side of its axis, and up and down.
    pub reach: (f64, f64, f64),
    /// Height of the branch's drawn end above the main's axis.
    pub top: f64,
}

impl<'a> Scene<'a> {
    fn of(template: &'a Template, which: usize) -> Self {
        let sight = Sight::of(template.cope(), which);
        let r = sight.r;
        let reach = sight
            .section
            .as_ref()
            .map_or((1.8 * r, 0.0, sight.depth), |section| {
                let (side, up) = section.reach();
                // Behind the other tube of a mitre, a larger branch shows all round.
                if sight.main.is_plane() {
                    (side.max(r), up.max(r), up.max(r))
                } else {
                    (side, up, up)
                }
            });
        let stands = match sight.main.shape() {
            // A branch that leans far back shows less above the other tube.
            Shape::Mitre { .. } if sight.sin < 0.25 => 0.0,
            Shape::Mitre { .. } => (2.0 * sight.sin).min(1.0),
            _ => 1.0,
        };
        let top = reach.1 + 1.6 * stands * r.max(reach.1 / 2.0);
        Self { sight, reach, top }
    }

    fn below(&self) -> f64 {
        self.reach.2
    }

    fn box_middle(&self, scale: f64) -> (f64, f64) {
        (
            scale * self.sight.offset / 2.0,
            -scale * self.below() - CLEAR - BOX_HEIGHT / 2.0,
        )
    }

    /// The tubes without boxes.
    fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        let (side, up, down) = self.reach;
        let centre = (scale * self.sight.offset, scale * (up - down) / 2.0);
        let half = (scale * side + 3.0, scale * (up + down) / 2.0 + 3.0);
        bounds.add(centre, half.0, half.1);
        bounds.add((0.0, scale * self.top), scale * self.sight.r + 2.0, 5.0);
        bounds
    }

    /// Height at which a generator at `y` meets the main, or the main's axis level beside it.
    pub fn landing(&self, y: f64) -> f64 {
        match self.sight.main.shape() {
            Shape::Plate => 0.0,
            _ => self
                .sight
                .section
                .as_ref()
                .and_then(|section| section.top(y - self.sight.offset))
                .unwrap_or(0.0),
        }
    }
}

/// The end view of a template's joint along the main of that number, counted from 0.
#[must_use]
pub fn end_view(template: &Template, which: usize) -> View {
    let scene = Scene::of(template, which);
    match *scene.sight.main.shape() {
        Shape::Round { .. } => round(&scene),
        Shape::Plate | Shape::Mitre { .. } => {
            let placing = ink::fit(WIDTH, HEIGHT, LARGEST, |scale| scene.bounds(scale));
            let mut drawing = Drawing::new(WIDTH, HEIGHT);
            tubes(&mut drawing, &scene, placing);
            axes(&mut drawing, &scene, placing);
            let boxes = Vec::new();
            View { drawing, boxes }
        }
        Shape::Bent { .. } => bent(&scene),
        Shape::Rectangular(section) => rectangular(&scene, &section),
    }
}

fn round(scene: &Scene) -> View {
    let placing = ink::fit(WIDTH, HEIGHT, LARGEST, |scale| {
        let mut bounds = scene.bounds(scale);
        let (half_width, half_height) = (BOX_WIDTH / 2.0 + 7.0, BOX_HEIGHT / 2.0 + 1.0);
        bounds.add(scene.box_middle(scale), half_width, half_height);
        bounds
    });
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    tubes(&mut drawing, scene, placing);
    axes(&mut drawing, scene, placing);
    let (x, y) = scene.box_middle(placing.scale);
    let middle = Point::new(placing.origin.x + x, placing.origin.y - y);
    offset(&mut drawing, scene, placing, middle);
    View {
        drawing,
        boxes: vec![(Dimension::Offset, middle)],
    }
}

/// Two boxes in a row under the main: the offset, and which way the bend turns.
fn bent(scene: &Scene) -> View {
    let row = HEIGHT - BOX_HEIGHT / 2.0 - 1.0;
    let free = row - BOX_HEIGHT / 2.0 - CLEAR;
    let placing = ink::fit(WIDTH, free, LARGEST, |scale| {
        let mut bounds = scene.bounds(scale);
        // The way to the inside of the bend is drawn beyond the main.
        let reach = scale * scene.reach.0 + 12.0;
        bounds.add((scale * scene.sight.offset, 0.0), reach, reach);
        bounds
    });
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    tubes(&mut drawing, scene, placing);
    axes(&mut drawing, scene, placing);
    let boxes = [Dimension::Offset, Dimension::Facing]
        .into_iter()
        .zip(COLUMNS.map(|x| Point::new(x, row)))
        .collect::<Vec<_>>();
    offset(&mut drawing, scene, placing, boxes[0].1);
    section_view::facing(&mut drawing, scene, placing, boxes[1].1);
    View { drawing, boxes }
}

/// The offset above the branch, the section's sizes in two rows under it.
fn rectangular(scene: &Scene, section: &RectangularSection) -> View {
    let last = TALL - BOX_HEIGHT / 2.0 - 1.0;
    let above = BOX_HEIGHT + 2.0 + CLEAR;
    let below = 2.0 * ROW + CLEAR;
    let mut placing = ink::fit(WIDTH, TALL - above - below, LARGEST, |scale| {
        let mut bounds = scene.bounds(scale);
        // Dimension lines stand off the section's faces.
        let (side, up, _) = scene.reach;
        let centre = (scale * scene.sight.offset, 0.0);
        bounds.add(centre, scale * side + 11.0, scale * up + 11.0);
        bounds
    });
    placing.origin.y += above;
    let mut drawing = Drawing::new(WIDTH, TALL);
    tubes(&mut drawing, scene, placing);
    axes(&mut drawing, scene, placing);
    let centre = placing.at(scene.sight.offset / 2.0, 0.0).x;
    let half = BOX_WIDTH / 2.0 + 1.0;
    let over = Point::new(
        crate::units::limited(centre, half, WIDTH - half),
        BOX_HEIGHT / 2.0 + 1.0,
    );
    let place = |column: usize, row: f64| Point::new(COLUMNS[column], last - row * ROW);
    // The height stands on the side where it is dimensioned.
    let (near, far) = if section_view::height_on_right(section) {
        (1, 0)
    } else {
        (0, 1)
    };
    let boxes = vec![
        (Dimension::Offset, over),
        (Dimension::Corner, place(far, 1.0)),
        (Dimension::Roll, place(near, 1.0)),
        (Dimension::Width, place(far, 0.0)),
        (Dimension::Height, place(near, 0.0)),
    ];
    section_view::offset_above(&mut drawing, scene, placing, over);
    section_view::sizes(&mut drawing, scene, section, placing, &boxes);
    View { drawing, boxes }
}

fn tubes(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let at = |x: f64, y: f64| placing.at(x, y);
    let sight = &scene.sight;
    let (e, r) = (sight.offset, sight.r);
    if let Some(section) = &sight.section {
        let points = section.0.iter().map(|(side, up)| at(e + side, *up));
        drawing.outline(Layer::Tube, Pen::BOLD, points);
    } else {
        let (side, _, down) = scene.reach;
        let corners = [(side, 0.0), (-side, 0.0), (-side, -down), (side, -down)];
        drawing.outline(Layer::Tube, Pen::BOLD, corners.map(|(x, y)| at(x, y)));
    }
    if let Shape::Mitre { radius } = sight.main.shape() {
        // The branch's end lies behind the other tube's: each an ellipse, seen as a circle.
        let radius_on_page = placing.scale * r;
        let ring = ink::arc(at(0.0, 0.0), radius_on_page, 0.0, 4.0 * FRAC_PI_2);
        if r > radius.mm() {
            drawing.outline(Layer::Cut, Pen::BOLD, ring);
        } else {
            drawing.outline(Layer::Hidden, Pen::HIDDEN, ring);
        }
    }
    // A branch that leans straight back is hidden behind the other tube.
    if scene.top <= scene.landing(0.0) {
        return;
    }
    for side in [-1.0, 1.0] {
        let y = side * r;
        let foot = scene.landing(y);
        drawing.line(Layer::Tube, Pen::BOLD, [at(y, scene.top), at(y, foot)]);
        let bore = side * sight.bore;
        let foot = scene.landing(bore);
        let ends = [at(bore, scene.top), at(bore, foot)];
        drawing.line(Layer::Hidden, Pen::HIDDEN, ends);
        // Beside the main the branch is trimmed level with its axis.
        let edge = e + side * scene.reach.0;
        if side * (y - edge) > 0.0 && !sight.main.is_plane() {
            let inner = if side * edge > -r { edge } else { -y };
            drawing.line(Layer::Trim, Pen::TRIM, [at(inner, 0.0), at(y, 0.0)]);
        }
    }
    drawing.line(
        Layer::Tube,
        Pen::BOLD,
        [at(-r, scene.top), at(r, scene.top)],
    );
}

fn axes(drawing: &mut Drawing, scene: &Scene, placing: Placing) {
    let beyond = 4.0 / placing.scale;
    let at = |x: f64, y: f64| placing.at(x, y);
    let e = scene.sight.offset;
    let (side, up) = (scene.reach.0 + beyond, scene.reach.1 + beyond);
    let foot = scene.below() + beyond;
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [
            at(0.0, scene.top.max(scene.reach.1) + beyond),
            at(0.0, -foot),
        ],
    );
    if scene.sight.section.is_none() {
        return;
    }
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(e - side, 0.0), at(e + side, 0.0)],
    );
    if e != 0.0 {
        drawing.line(Layer::Axis, Pen::AXIS, [at(e, up), at(e, -foot)]);
    }
}

/// The distance between the two centre lines, below the main.
fn offset(drawing: &mut Drawing, scene: &Scene, placing: Placing, middle: Point) {
    let foot = placing.at(0.0, -scene.below()).y;
    let level = middle.y - BOX_HEIGHT / 2.0 - 1.5;
    let (branch, main) = (
        placing.at(0.0, 0.0).x,
        placing.at(scene.sight.offset, 0.0).x,
    );
    for x in [branch, main] {
        ink::hairline(drawing, Point::new(x, foot), Point::new(x, level + 1.5));
    }
    ink::dimension(drawing, Point::new(branch, level), Point::new(main, level));
    let half = Point::new(f64::midpoint(branch, main), level);
    if (half.x - middle.x).abs() > 1.0 {
        ink::hairline(
            drawing,
            half,
            Point::new(middle.x, middle.y - BOX_HEIGHT / 2.0),
        );
    }
}

/// A word beside a place, away from `centre` unless the drawing ends there.
pub fn word(drawing: &mut Drawing, at: Point, centre: Point, text: &str) {
    const SMALL: f64 = 3.6;
    /// About what a short word takes.
    const LONG: f64 = 13.0;
    let right = (at.x >= centre.x && at.x + LONG < WIDTH) || at.x < LONG;
    let (anchor, way) = if right {
        (Anchor::Start, 1.0)
    } else {
        (Anchor::End, -1.0)
    };
    drawing.text(Point::new(at.x + way, at.y), SMALL, anchor, text);
}
