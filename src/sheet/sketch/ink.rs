//! What all sketch views share: fitting to a page, arrows, dimension lines.

use crate::sheet::{Drawing, Layer, Pen, Point};

/// Length of an arrow head, mm of the drawing.
const ARROW: f64 = 2.6;
/// Half the width of an arrow head.
const ARROW_HALF: f64 = 0.55;

/// Places a picture of real millimetres (y up) on a drawing.
#[derive(Debug, Clone, Copy)]
pub struct Placing {
    /// Drawing mm per real mm.
    pub scale: f64,
    /// Where the real origin lies on the drawing.
    pub origin: Point,
}

impl Placing {
    pub fn at(&self, x: f64, y: f64) -> Point {
        Point::new(
            self.origin.x + self.scale * x,
            self.origin.y - self.scale * y,
        )
    }
}

/// A rectangle that grows to hold what is put in.
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    pub left: f64,
    pub right: f64,
    pub bottom: f64,
    pub top: f64,
}

impl Bounds {
    pub const EMPTY: Self = Self {
        left: f64::INFINITY,
        right: f64::NEG_INFINITY,
        bottom: f64::INFINITY,
        top: f64::NEG_INFINITY,
    };

    pub fn add(&mut self, (x, y): (f64, f64), half_width: f64, half_height: f64) {
        self.left = self.left.min(x - half_width);
        self.right = self.right.max(x + half_width);
        self.bottom = self.bottom.min(y - half_height);
        self.top = self.top.max(y + half_height);
    }

    fn fits(&self, width: f64, height: f64) -> bool {
        self.right - self.left <= width && self.top - self.bottom <= height
    }
}

/// A large scale at which a picture with boxes of fixed size fits a page, centred on it.
///
/// `bounds` tells what the picture takes up at a scale, in drawing mm about its own origin, y up.
/// It grows with the scale, but for boxes that jump to another place: the search comes down from
/// the largest scale, in steps that none of the good ones slips through.
pub fn fit(width: f64, height: f64, largest: f64, bounds: impl Fn(f64) -> Bounds) -> Placing {
    /// From one scale to the next.
    const DOWN: f64 = 0.9;
    /// Enough to show a joint of some hundred metres.
    const STEPS: u32 = 150;
    let fits = |scale: f64| bounds(scale).fits(width, height);
    let (mut low, mut high) = (largest, largest);
    for _ in 0..STEPS {
        if fits(low) {
            break;
        }
        high = low;
        low *= DOWN;
    }
    for _ in 0..12 {
        let middle = f64::midpoint(low, high);
        if fits(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    let taken = bounds(low);
    Placing {
        scale: low,
        origin: Point::new(
            (width - taken.left - taken.right) / 2.0,
            (height + taken.top + taken.bottom) / 2.0,
        ),
    }
}

/// An arrow head at `tip`, pointing away from `from`.
pub fn arrow(drawing: &mut Drawing, tip: Point, from: Point) {
    drawing.arrow_head(Layer::Dimension, from, tip, ARROW, ARROW_HALF);
}

/// A dimension line from `a` to `b`; where the two are too close the arrows point inwards from
/// outside, as drawing offices do.
pub fn dimension(drawing: &mut Drawing, a: Point, b: Point) {
    const INSIDE: f64 = 3.0 * ARROW;
    const TAIL: f64 = 2.2 * ARROW;
    let long = (b.x - a.x).hypot(b.y - a.y);
    if long >= INSIDE {
        drawing.line(Layer::Dimension, Pen::HAIR, [a, b]);
        arrow(drawing, a, b);
        arrow(drawing, b, a);
        return;
    }
    let (ux, uy) = if long > f64::EPSILON {
        ((b.x - a.x) / long, (b.y - a.y) / long)
    } else {
        (1.0, 0.0)
    };
    for (tip, sign) in [(a, -1.0), (b, 1.0)] {
        let tail = Point::new(tip.x + sign * TAIL * ux, tip.y + sign * TAIL * uy);
        drawing.line(Layer::Dimension, Pen::HAIR, [tail, tip]);
        arrow(drawing, tip, tail);
    }
    drawing.line(Layer::Dimension, Pen::HAIR, [a, b]);
}

/// A thin line without arrows: extension lines and leaders.
pub fn hairline(drawing: &mut Drawing, a: Point, b: Point) {
    drawing.line(Layer::Dimension, Pen::HAIR, [a, b]);
}

/// Points of a circular arc about `centre`, from angle `from` to `to` (radians, counter-clockwise
/// seen with y up), close enough together to look round.
pub fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Point> {
    /// Largest sagitta of a chord, drawing mm.
    const SAGITTA: f64 = 0.01;
    let step = 2.0 * (1.0 - SAGITTA / radius.max(2.0 * SAGITTA)).acos();
    let steps = ((to - from).abs() / step).ceil().max(1.0);
    let mut points = Vec::new();
    let mut i = 0.0;
    while i <= steps {
        let (sin, cos) = (from + (to - from) * i / steps).sin_cos();
        points.push(Point::new(centre.x + radius * cos, centre.y - radius * sin));
        i += 1.0;
    }
    points
}

/// The place `far` beyond `end` on the line that comes from `from`.
pub fn beyond(end: Point, from: Point, far: f64) -> Point {
    let (dx, dy) = (end.x - from.x, end.y - from.y);
    let by = far / dx.hypot(dy).max(f64::MIN_POSITIVE);
    Point::new(end.x + by * dx, end.y + by * dy)
}

/// A line in space cut where it passes out of sight or back into it; both parts, with whether they
/// are seen.
pub fn runs(line: &[[f64; 3]], seen: impl Fn([f64; 3]) -> bool) -> Vec<(bool, Vec<[f64; 3]>)> {
    /// Looks along one chord of a line of few.
    const LOOKS: u32 = 48;
    let between = |a: [f64; 3], b: [f64; 3], part: f64| {
        [0, 1, 2].map(|axis| a[axis] + part * (b[axis] - a[axis]))
    };
    let looks = if line.len() > 3 { 1 } else { LOOKS };
    let mut found: Vec<(bool, Vec<[f64; 3]>)> = Vec::new();
    for pair in line.windows(2) {
        for step in 0..looks {
            let part = |step: u32| between(pair[0], pair[1], f64::from(step) / f64::from(looks));
            let (mut a, mut b) = (part(step), part(step + 1));
            let (from, to) = (seen(a), seen(b));
            let start = a;
            if from != to {
                for _ in 0..24 {
                    let middle = between(a, b, 0.5);
                    if seen(middle) == from {
                        a = middle;
                    } else {
                        b = middle;
                    }
                }
            }
            match found.last_mut() {
                Some((was, points)) if *was == from => points.push(b),
                _ => found.push((from, vec![start, b])),
            }
            if from != to {
                found.push((to, vec![b, part(step + 1)]));
            }
        }
    }
    found
}
