//! The joint seen square to the plane of the two axes: main level, branch rising to the right.
//!
//! The heel is on the right. The viewer looks towards +y, so a main with positive offset lies
//! behind the branch.

use std::f64::consts::{PI, TAU};

use crate::cope::{Cope, Meeting};
use crate::joint::Dimension;
use crate::piece::Template;
use crate::sheet::sketch::ink::{self, Bounds, Placing};
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH, View};
use crate::sheet::{Anchor, Drawing, Layer, Pen, Point};
use crate::units::{Angle, Length, limited, write_angle};

const WIDTH: f64 = 130.0;
const HEIGHT: f64 = 104.0;
/// Drawing mm per real mm, at most: a tiny tube is not blown up without end.
const LARGEST: f64 = 4.0;
/// Room between an outline and the box of its dimension, drawing mm.
const CLEAR: f64 = 4.0;

/// Numbers of the joint as seen in this view, real mm.
struct Shape {
    sin: f64,
    cos: f64,
    theta: f64,
    /// Outside radius of the branch.
    r: f64,
    bore: f64,
    /// Radius of the main.
    big: f64,
    offset: f64,
    /// Height along the branch of its drawn end.
    end: f64,
    /// Ends of the drawn main, along its axis.
    left: f64,
    right: f64,
}

impl Shape {
    fn of(cope: &Cope) -> Self {
        let joint = cope.joint();
        let (sin, cos) = joint.main().sin_cos();
        let (r, big) = (
            joint.branch().outside_radius().mm(),
            joint.main().half_breadth().mm(),
        );
        let height = |turn: Angle| cope.at(turn).height().mm();
        // The branch is drawn well past its short point, and clear of the main's outline.
        let clear = (big + r * (1.5 + cos)) / sin;
        let end = (cope.short_point().height.mm() + 2.4 * r).max(clear);
        let along = |x: f64, s: f64| x * sin + s * cos;
        let feet = [
            along(r, height(Angle::ZERO)),
            along(-r, height(Angle::HALF)),
        ];
        let stub = 1.1 * big + 0.4 * r;
        Self {
            sin,
            cos,
            theta: joint.main().angle().rad(),
            r,
            bore: joint.branch().bore_radius().mm(),
            big,
            offset: joint.main().offset().mm(),
            end,
            left: feet[1].min(-big) - stub,
            right: feet[0].max(big) + stub,
        }
    }

    /// Where a point of the branch (across towards the heel, along its axis) is seen: along the
    /// main, and above its axis.
    fn seen(&self, x: f64, s: f64) -> (f64, f64) {
        (x * self.sin + s * self.cos, s * self.sin - x * self.cos)
    }

    /// Middle of the boxes in drawing mm about the picture's origin, y up.
    fn boxes(&self, scale: f64) -> [(Dimension, (f64, f64)); 4] {
        let scaled = |(x, y): (f64, f64)| (scale * x, scale * y);
        // Boxes stand beside the branch's end, far enough out along the dimension line that a
        // level box clears the leaning outline.
        let out = scale * self.r + CLEAR + f64::hypot(BOX_WIDTH, BOX_HEIGHT) / 2.0;
        let end = scaled(self.seen(0.0, self.end));
        let (dx, dy) = (out * self.sin, -out * self.cos);
        let main = (scale * self.left - CLEAR - BOX_WIDTH / 2.0, 0.0);
        let angle = self.angle_box(scale);
        // The wall's box climbs along the branch until it is clear of the angle's.
        let wall = (0..16_u32)
            .map(|step| f64::from(step) * BOX_HEIGHT / 3.0)
            .map(|up| (end.0 + dx + up * self.cos, end.1 + dy + up * self.sin))
            .find(|wall| apart(*wall, angle))
            .unwrap_or((end.0 + dx, end.1 + dy));
        [
            (Dimension::Main, main),
            (Dimension::Branch, (end.0 - dx, end.1 - dy)),
            (Dimension::Wall, wall),
            (Dimension::Angle, angle),
        ]
    }

    /// The angle's box stands in the wedge between branch and main where there is room, and
    /// below the main where there is not.
    fn angle_box(&self, scale: f64) -> (f64, f64) {
        let (sin, cos) = (self.theta / 2.0).sin_cos();
        let half = f64::hypot(BOX_WIDTH, BOX_HEIGHT) / 2.0;
        // Distance from the joint centre at which the bisector clears both outlines.
        let clear = (scale * self.r.max(self.big) + half + CLEAR) / sin;
        let level = scale * self.big + BOX_HEIGHT / 2.0 + CLEAR;
        let reach = scale * f64::hypot(self.right, self.big) + 2.0 * BOX_WIDTH;
        if clear <= reach {
            return (clear * cos, (clear * sin).max(level));
        }
        (scale * self.right - BOX_WIDTH / 2.0, -level)
    }

    fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        for x in [self.left, self.right] {
            bounds.add((scale * x, 0.0), 1.0, scale * self.big + 1.0);
        }
        for x in [-self.r, self.r] {
            let (along, above) = self.seen(x, self.end);
            bounds.add((scale * along, scale * above), 2.0, 4.0);
        }
        for (_, middle) in self.boxes(scale) {
            bounds.add(middle, BOX_WIDTH / 2.0 + 1.0, BOX_HEIGHT / 2.0 + 1.0);
        }
        bounds
    }
}

/// Whether two boxes leave a little air between them.
fn apart(a: (f64, f64), b: (f64, f64)) -> bool {
    const AIR: f64 = 1.0;
    (a.0 - b.0).abs() >= BOX_WIDTH + AIR || (a.1 - b.1).abs() >= BOX_HEIGHT + AIR
}

/// The elevation of a template's joint.
#[must_use]
pub fn elevation(template: &Template) -> View {
    let cope = template.cope();
    let shape = Shape::of(cope);
    let placing = ink::fit(WIDTH, HEIGHT, LARGEST, |scale| shape.bounds(scale));
    let mut drawing = Drawing::new(WIDTH, HEIGHT);
    main_tube(&mut drawing, &shape, placing);
    branch_tube(&mut drawing, &shape, placing, cope);
    cut(&mut drawing, &shape, placing, cope);
    zero_line(&mut drawing, &shape, placing, template);
    let boxes = shape
        .boxes(placing.scale)
        .map(|(of, (x, y))| (of, Point::new(placing.origin.x + x, placing.origin.y - y)));
    dimensions(&mut drawing, &shape, placing, &boxes);
    words(&mut drawing, &shape, placing, cope);
    View {
        drawing,
        boxes: boxes.to_vec(),
    }
}

/// The main's outlines; its upper one stops where the branch stands in front of it.
fn main_tube(drawing: &mut Drawing, shape: &Shape, placing: Placing) {
    let at = |x: f64, y: f64| placing.at(x, y);
    let (left, right, big) = (shape.left, shape.right, shape.big);
    // A main nearer to the viewer than the branch's axis shows its upper outline up to where the
    // branch's surface passes under it.
    let half = if shape.offset >= 0.0 {
        shape.r
    } else {
        (shape.r * shape.r - shape.offset * shape.offset)
            .max(0.0)
            .sqrt()
    };
    let crossing = |x: f64| (x + big * shape.cos) / shape.sin;
    drawing.line(
        Layer::Tube,
        Pen::BOLD,
        [at(left, big), at(crossing(-half).max(left), big)],
    );
    drawing.line(
        Layer::Tube,
        Pen::BOLD,
        [at(crossing(half).min(right), big), at(right, big)],
    );
    drawing.line(Layer::Tube, Pen::BOLD, [at(left, -big), at(right, -big)]);
    for x in [left, right] {
        drawing.line(Layer::Tube, Pen::THIN, [at(x, -big), at(x, big)]);
    }
    let beyond = 3.0 / placing.scale;
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(left - beyond, 0.0), at(right + beyond, 0.0)],
    );
}

/// The branch's outlines, bore and axis.
fn branch_tube(drawing: &mut Drawing, shape: &Shape, placing: Placing, cope: &Cope) {
    let at = |x: f64, s: f64| {
        let (along, above) = shape.seen(x, s);
        placing.at(along, above)
    };
    for (x, turn) in [(shape.r, Angle::ZERO), (-shape.r, Angle::HALF)] {
        let foot = cope.at(turn).height().mm();
        // Below the main's upper outline, a branch behind the main's crest is hidden.
        let level = (shape.big + x * shape.cos) / shape.sin;
        let shown = if shape.offset < 0.0 {
            limited(level, foot, shape.end)
        } else {
            foot
        };
        drawing.line(Layer::Tube, Pen::BOLD, [at(x, shape.end), at(x, shown)]);
        if shown > foot {
            drawing.line(Layer::Hidden, Pen::HIDDEN, [at(x, shown), at(x, foot)]);
        }
        let bore = shape.bore.copysign(x);
        let inner = cope
            .trace(Length::from_mm(shape.bore), turn)
            .map_or(foot, |height| height.mm().max(foot));
        drawing.line(
            Layer::Hidden,
            Pen::HIDDEN,
            [at(bore, shape.end), at(bore, inner)],
        );
        // The wall is hatched at the end, where it is cut for the drawing.
        let depth = shape.r.min(shape.end - foot) * 0.45;
        hatch(
            drawing,
            placing,
            [
                at(bore, shape.end),
                at(x, shape.end),
                at(x, shape.end - depth),
                at(bore, shape.end - depth),
            ],
        );
    }
    drawing.line(
        Layer::Tube,
        Pen::BOLD,
        [at(-shape.r, shape.end), at(shape.r, shape.end)],
    );
    let beyond = 4.0 / placing.scale;
    drawing.line(
        Layer::Axis,
        Pen::AXIS,
        [at(0.0, shape.end + beyond), at(0.0, -beyond)],
    );
}

/// Solid wall, as far as the sketch shows it in section.
fn hatch(drawing: &mut Drawing, placing: Placing, corners: [Point; 4]) {
    const THINNEST: f64 = 0.25;
    let [a, b, _, _] = corners;
    if (a.x - b.x).hypot(a.y - b.y) > THINNEST && placing.scale > 0.0 {
        drawing.fill(Layer::Tube, corners);
    }
}

/// The cut line: solid where the viewer sees it, dashed where a tube is in front of it.
fn cut(drawing: &mut Drawing, shape: &Shape, placing: Placing, cope: &Cope) {
    /// Chords of the sketched curve; it is looked at, not cut along.
    const STEPS: u32 = 240;
    let mut run: Vec<Point> = Vec::new();
    let mut run_kind = None;
    for step in 0..=STEPS {
        let phi = TAU * f64::from(step) / f64::from(STEPS);
        let meeting = cope.at(Angle::from_rad(phi));
        let y = shape.r * phi.sin();
        let seen = y <= 0.0 && y <= shape.offset;
        let kind = (seen, matches!(meeting, Meeting::Beside(_)));
        let (along, above) = shape.seen(shape.r * phi.cos(), meeting.height().mm());
        run.push(placing.at(along, above));
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
fn zero_line(drawing: &mut Drawing, shape: &Shape, placing: Placing, template: &Template) {
    let phi = -template.heel_turn().rad();
    if phi.sin() > 1e-9 {
        return;
    }
    let x = shape.r * phi.cos();
    let foot = template.cope().at(Angle::from_rad(phi)).height().mm();
    let ends = [shape.end, foot].map(|s| {
        let (along, above) = shape.seen(x, s);
        placing.at(along, above)
    });
    drawing.line(Layer::Zero, Pen::AXIS, ends);
}

/// Extension lines, dimension lines and leaders to the boxes.
fn dimensions(
    drawing: &mut Drawing,
    shape: &Shape,
    placing: Placing,
    boxes: &[(Dimension, Point); 4],
) {
    let at = |x: f64, s: f64| {
        let (along, above) = shape.seen(x, s);
        placing.at(along, above)
    };
    for (of, middle) in boxes {
        match of {
            Dimension::Main => {
                for y in [-shape.big, shape.big] {
                    let edge = placing.at(shape.left, y);
                    ink::hairline(
                        drawing,
                        Point::new(edge.x - 1.0, edge.y),
                        Point::new(middle.x - 1.5, edge.y),
                    );
                }
                let (up, down) = (placing.at(0.0, shape.big).y, placing.at(0.0, -shape.big).y);
                ink::dimension(
                    drawing,
                    Point::new(middle.x, up),
                    Point::new(middle.x, down),
                );
            }
            Dimension::Branch => {
                let (toe, heel) = (at(-shape.r, shape.end), at(shape.r, shape.end));
                ink::dimension(drawing, toe, heel);
                ink::hairline(drawing, *middle, toe);
            }
            Dimension::Wall => {
                let (outer, inner) = (at(shape.r, shape.end), at(shape.bore, shape.end));
                ink::hairline(drawing, *middle, outer);
                ink::arrow(drawing, outer, *middle);
                ink::arrow(drawing, inner, at(0.0, shape.end));
            }
            Dimension::Angle => {
                let centre = placing.at(0.0, 0.0);
                let radius = arc_radius(shape, placing, *middle);
                let points = ink::arc(centre, radius, 0.0, shape.theta);
                if let [first, second, .., before, last] = points.as_slice() {
                    ink::arrow(drawing, *first, *second);
                    ink::arrow(drawing, *last, *before);
                }
                let half = ink::arc(centre, radius, shape.theta / 2.0, shape.theta / 2.0);
                if let Some(from) = half.first() {
                    ink::hairline(drawing, *from, *middle);
                }
                drawing.line(Layer::Dimension, Pen::HAIR, points);
            }
            _ => {}
        }
    }
}

/// Radius of the angle's arc: through its box, but no further than the drawn axes reach.
fn arc_radius(shape: &Shape, placing: Placing, middle: Point) -> f64 {
    let centre = placing.at(0.0, 0.0);
    let wanted = (middle.x - centre.x).hypot(middle.y - centre.y);
    wanted
        .min(placing.scale * shape.end)
        .min(placing.scale * shape.right)
}

/// Names of the tubes, heel and toe, and what the notching machine's scale shows.
fn words(drawing: &mut Drawing, shape: &Shape, placing: Placing, cope: &Cope) {
    const SMALL: f64 = 4.0;
    let along_branch = Angle::from_rad(-shape.theta);
    let mid = f64::midpoint(shape.end, cope.short_point().height.mm());
    let (x, y) = shape.seen(0.0, mid);
    let name = placing.at(x, y);
    if placing.scale * shape.r > 1.5 * SMALL {
        drawing.turned_text(name, SMALL, Anchor::Middle, along_branch, false, "branch");
        let main = placing.at(shape.left, 0.0);
        drawing.text(
            Point::new(main.x + 2.0, main.y - 1.2),
            SMALL,
            Anchor::Start,
            "main",
        );
    }
    for (word, x, turn, shift, anchor) in [
        ("heel", shape.r, 0.0, 1.5, Anchor::Start),
        ("toe", -shape.r, PI, -1.5, Anchor::End),
    ] {
        let foot = cope.at(Angle::from_rad(turn)).height().mm();
        let (along, above) = shape.seen(x, foot);
        let at = placing.at(along, above.max(shape.big));
        drawing.text(Point::new(at.x + shift, at.y - 1.4), SMALL, anchor, word);
    }
    let off = format!("{} off square", write_angle(cope.joint().off_square()));
    drawing.text(Point::new(2.0, HEIGHT - 3.0), SMALL, Anchor::Start, off);
}
