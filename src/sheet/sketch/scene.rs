//! What the elevation shows and where its boxes and words stand.

use std::f64::consts::{PI, TAU};

use crate::joint::{Dimension, Shape};
use crate::piece::Template;
use crate::sheet::sketch::boxes::{Boxes, Spot, clear_of_line};
use crate::sheet::sketch::ink::{Bounds, Placing};
use crate::sheet::sketch::outline::{Outline, others, outline};
use crate::sheet::sketch::sight::{Place, Sight};
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH};

pub const WIDTH: f64 = 130.0;
pub const HEIGHT: f64 = 104.0;
/// Drawing mm per real mm, at most: a tiny tube is not blown up without end.
pub const LARGEST: f64 = 4.0;
/// Height of letters.
pub const SMALL: f64 = 4.0;
/// Width and height of the lower left corner, where the machine's setting stands.
pub const CORNER: (f64, f64) = (44.0, 8.0);
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
    /// The cut once round.
    pub cut: Vec<CutPlace>,
    /// Heights of the cut at heel and toe of this main.
    feet: [f64; 2],
}

/// A place of the cut.
#[derive(Debug, Clone, Copy)]
pub struct CutPlace {
    pub place: Place,
    /// Whether it is on the half of the branch that faces the viewer.
    pub faces: bool,
    /// Whether the branch passes beside the mains here.
    pub beside: bool,
}

/// The cut in the picture's space, in chords that are looked at, not cut along.
fn cut(sight: &Sight) -> Vec<CutPlace> {
    const STEPS: u32 = 240;
    (0..=STEPS)
        .map(|step| {
            let phi = TAU * f64::from(step) / f64::from(STEPS);
            let (height, beside) = sight.meeting(phi);
            let y = sight.r * phi.sin();
            CutPlace {
                place: sight.place(sight.r * phi.cos(), y, height),
                faces: y <= 0.0,
                beside,
            }
        })
        .collect()
}

impl<'a> Scene<'a> {
    pub fn of(template: &'a Template, which: usize) -> Self {
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
            cut: cut(&sight),
            sight,
            end,
            left,
            right,
            feet: heights,
        }
    }

    /// Height of the cut on the heel side (`x` above 0) or the toe side.
    pub fn foot(&self, x: f64) -> f64 {
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
    pub fn boxes(&self, scale: f64) -> Boxes {
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
        let names = self.names(scale);
        let off_names = |spot: Spot| {
            names.iter().all(|(_, (x, y), half)| {
                [-SMALL, SMALL]
                    .map(|by| y + by / 2.0)
                    .iter()
                    .all(|y| clear_of_line(spot, (x - half, *y), (x + half, *y)))
            })
        };
        boxes.put(Dimension::Angle, self.angle_spots(scale).into_iter(), clear);
        // Boxes stand beside the branch's end, far enough out along the dimension line that a
        // level box clears the leaning outline; they climb along the branch until they are clear.
        let out = scale * sight.r + CLEAR + f64::hypot(BOX_WIDTH, BOX_HEIGHT) / 2.0;
        let (along, up) = sight.seen(0.0, self.end);
        let end = (scale * along, scale * up);
        for (of, side) in [(Dimension::Branch, -1.0), (Dimension::Wall, 1.0)] {
            let foot = (end.0 + side * out * sin, end.1 - side * out * cos);
            let spots = steps(30).map(|step| (foot.0 + step * cos, foot.1 + step * sin));
            boxes.put(of, spots, off_names);
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
    pub fn names(&self, scale: f64) -> Vec<(&'static str, Spot, f64)> {
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
    pub fn covers_corner(&self, placing: Placing) -> bool {
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

    pub fn bounds(&self, scale: f64) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        let own = self.main.lines.iter().flat_map(|(_, line)| line);
        let cut = self.cut.iter().map(|cut| &cut.place);
        for place in own.chain(self.others.iter().flatten()).chain(cut) {
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
