//! The joint seen along the main from the heel side: the main a circle, the branch standing on it.
//!
//! +y is to the right, so a positive offset shows the main's centre to the right of the branch's
//! centre line.

use crate::cope::Cope;
use crate::joint::Dimension;
use crate::piece::Template;
use crate::sheet::sketch::ink::{self, Bounds, Placing};
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH, View};
use crate::sheet::{Drawing, Layer, Pen, Point};

const WIDTH: f64 = 78.0;
const HEIGHT: f64 = 104.0;
/// Drawing mm per real mm, at most.
const LARGEST: f64 = 4.0;
/// Room between the main and the box below it, drawing mm.
const CLEAR: f64 = 5.0;

/// Numbers of the joint as seen in this view, real mm; origin on the branch's axis, level with
/// the main's axis.
struct Shape {
    r: f64,
    bore: f64,
    big: f64,
    offset: f64,
    /// Height of the branch's drawn end above the main's axis.
    top: f64,
}

impl Shape {
    fn of(cope: &Cope) -> Self {
        let joint = cope.joint();
        let (r, big) = (
            joint.branch().outside_radius().mm(),
            joint.main().half_breadth().mm(),
        );
        Self {
            r,
            bore: joint.branch().bore_radius().mm(),
            big,
            offset: joint.main().offset().mm(),
            top: big + 1.6 * r.max(big / 2.0),
        }
    }

    fn box_middle(&self, scale: f64) -> (f64, f64) {
        (
            scale * self.offset / 2.0,
            -scale * self.big - CLEAR - BOX_HEIGHT / 2.0,
        )
    }

    fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        bounds.add(
            (scale * self.offset, 0.0),
            scale * self.big + 3.0,
            scale * self.big + 3.0,
        );
        bounds.add((0.0, scale * self.top), scale * self.r + 2.0, 5.0);
        bounds.add(
            self.box_middle(scale),
            BOX_WIDTH / 2.0 + 7.0,
            BOX_HEIGHT / 2.0 + 1.0,
        );
        bounds
    }

    /// Height at which a generator at `y` meets the main, or the main's axis level beside it.
    fn landing(&self, y: f64) -> f64 {
        (self.big * self.big - (y - self.offset).powi(2))
            .max(0.0)
            .sqrt()
    }
}

/// The end view of a template's joint.
#[must_use]
pub fn end_view(template: &Template) -> View {
    let shape = Shape::of(template.cope());
    let placing = ink::fit(WIDTH, HEIGHT, LARGEST, |scale| shape.bounds(scale));
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    tubes(&mut drawing, &shape, placing);
    axes(&mut drawing, &shape, placing);
    let (x, y) = shape.box_middle(placing.scale);
    let middle = Point::new(placing.origin.x + x, placing.origin.y - y);
    offset(&mut drawing, &shape, placing, middle);
    View {
        drawing,
        boxes: vec![(Dimension::Offset, middle)],
    }
}

fn tubes(drawing: &mut Drawing, shape: &Shape, placing: Placing) {
    let at = |x: f64, y: f64| placing.at(x, y);
    let circle = ink::arc(
        at(shape.offset, 0.0),
        placing.scale * shape.big,
        0.0,
        std::f64::consts::TAU,
    );
    drawing.outline(Layer::Tube, Pen::BOLD, circle);
    for side in [-1.0, 1.0] {
        let y = side * shape.r;
        drawing.line(
            Layer::Tube,
            Pen::BOLD,
            [at(y, shape.top), at(y, shape.landing(y))],
        );
        let bore = side * shape.bore;
        let ends = [at(bore, shape.top), at(bore, shape.landing(bore))];
        drawing.line(Layer::Hidden, Pen::HIDDEN, ends);
        // Beside the main the branch is trimmed level with its axis.
        let edge = shape.offset + side * shape.big;
        if side * (y - edge) > 0.0 {
            let inner = if side * edge > -shape.r { edge } else { -y };
            drawing.line(Layer::Trim, Pen::TRIM, [at(inner, 0.0), at(y, 0.0)]);
        }
    }
    drawing.line(
        Layer::Tube,
        Pen::BOLD,
        [at(-shape.r, shape.top), at(shape.r, shape.top)],
    );
}

fn axes(drawing: &mut Drawing, shape: &Shape, placing: Placing) {
    let beyond = 4.0 / placing.scale;
    let at = |x: f64, y: f64| placing.at(x, y);
    let (e, reach) = (shape.offset, shape.big + beyond);
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(0.0, shape.top + beyond), at(0.0, -reach)],
    );
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(e - reach, 0.0), at(e + reach, 0.0)],
    );
    if e != 0.0 {
        drawing.line(Layer::Axis, Pen::AXIS, [at(e, reach), at(e, -reach)]);
    }
}

/// The distance between the two centre lines, below the main.
fn offset(drawing: &mut Drawing, shape: &Shape, placing: Placing, middle: Point) {
    let foot = placing.at(0.0, -shape.big).y;
    let level = middle.y - BOX_HEIGHT / 2.0 - 1.5;
    let (branch, main) = (placing.at(0.0, 0.0).x, placing.at(shape.offset, 0.0).x);
    for x in [branch, main] {
        ink::hairline(drawing, Point::new(x, foot), Point::new(x, level + 1.5));
    }
    ink::dimension(drawing, Point::new(branch, level), Point::new(main, level));
}
