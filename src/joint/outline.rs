//! The upper outline of a straight main's section: how high it stands towards the branch, at every
//! place across.
//!
//! A straight main is hit by a generator that comes down square to no one: along the main nothing
//! changes, so that in the section the generator falls straight down on the outline. With q the
//! place across from the main's axis and H(q) the outline's height, the first hit is
//! s = (x cos θ + H(y − e)) / sin θ. All sections here are convex, and so H is concave.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::joint::RectangularSection;
use crate::units::{limited, sort_by_number};

/// A face or a corner that leans by less than this (rad) off upright does not show from above.
const UPRIGHT: f64 = 1e-9;

/// A piece of outline, mm from the main's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part {
    /// The upper half of a circle.
    Arc {
        /// Its centre, across.
        across: f64,
        /// Its centre, up.
        up: f64,
        /// Its radius; more than 0.
        radius: f64,
    },
    /// A face: height at q is `up + slope · (q − across)`.
    Face {
        /// A place on it, across.
        across: f64,
        /// The height of that place above the main's axis.
        up: f64,
        /// Rise over run.
        slope: f64,
    },
}

impl Part {
    /// Height at a place across.
    #[must_use]
    pub fn height(self, q: f64) -> f64 {
        match self {
            Self::Arc { across, up, radius } => {
                let q = q - across;
                up + ((radius - q) * (radius + q)).max(0.0).sqrt()
            }
            Self::Face { across, up, slope } => up + slope * (q - across),
        }
    }
}

/// A part of the outline and where it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Its shape.
    pub part: Part,
    /// Where it begins, across.
    pub from: f64,
    /// Where it ends, across; at least `from`.
    pub to: f64,
    /// Slope where it begins; +∞ where the outline rises upright.
    pub slope_from: f64,
    /// Slope where it ends; no more than `slope_from`, −∞ where the outline falls upright.
    pub slope_to: f64,
}

impl Stretch {
    /// Its greatest height.
    #[must_use]
    pub fn crest(&self) -> f64 {
        if let Part::Arc { across, up, radius } = self.part
            && self.slope_from >= 0.0
            && self.slope_to <= 0.0
            && (self.from..=self.to).contains(&across)
        {
            return up + radius;
        }
        self.part.height(self.from).max(self.part.height(self.to))
    }
}

/// The upper outline of a section, from left to right without gaps.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(Vec<Stretch>);

impl Outline {
    /// A round section.
    pub(super) fn round(radius: f64) -> Self {
        Self(vec![Stretch {
            part: Part::Arc {
                across: 0.0,
                up: 0.0,
                radius,
            },
            from: -radius,
            to: radius,
            slope_from: f64::INFINITY,
            slope_to: f64::NEG_INFINITY,
        }])
    }

    /// A plane square to the picture, at a height.
    pub(super) fn plate(up: f64) -> Self {
        Self(vec![Stretch {
            part: Part::Face {
                across: 0.0,
                up,
                slope: 0.0,
            },
            from: f64::NEG_INFINITY,
            to: f64::INFINITY,
            slope_from: 0.0,
            slope_to: 0.0,
        }])
    }

    /// A rounded rectangle, turned.
    ///
    /// Going round the section by the direction ν of its normal, from +q towards up, each corner
    /// takes a quarter turn between the directions of two faces; the upper outline is what lies
    /// between ν = 0 and 180°, met from 180° down when q grows.
    pub(super) fn rectangular(section: &RectangularSection) -> Self {
        let (w, h) = (section.width().mm() / 2.0, section.height().mm() / 2.0);
        let radius = section.corner().mm();
        let roll = section.roll().rad().rem_euclid(TAU);
        let (sin, cos) = exact_sin_cos(roll);
        let turned = |v: f64, w: f64| (v * cos - w * sin, v * sin + w * cos);
        let mut found = Vec::new();
        for quarter in 0..4_u32 {
            // The face whose normal lies at `normal`, and the corner that follows it.
            let normal = (roll + f64::from(quarter) * FRAC_PI_2).rem_euclid(TAU);
            let (nx, ny) = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][quarter as usize];
            let corner = |sx: f64, sy: f64| turned(sx * (w - radius), sy * (h - radius));
            // Along the face, counter-clockwise: its normal turned a quarter on.
            let (tx, ty) = (-ny, nx);
            let (start, end) = (corner(nx - tx, ny - ty), corner(nx + tx, ny + ty));
            let (across, up) = turned(nx, ny);
            if up > UPRIGHT {
                let slope = -across / up;
                let lift = |(q, h): (f64, f64)| (q + radius * across, h + radius * up);
                let ((right, at), (left, _)) = (lift(start), lift(end));
                if right - left > 0.0 {
                    found.push(Stretch {
                        part: Part::Face {
                            across: right,
                            up: at,
                            slope,
                        },
                        from: left,
                        to: right,
                        slope_from: slope,
                        slope_to: slope,
                    });
                }
            }
            // The corner's normals run from this face's to the next one's; the part of them above
            // the horizon is one stretch, since a quarter turn is less than a half.
            for lap in [0.0, -TAU] {
                let (low, high) = ((normal + lap).max(0.0), (normal + lap + FRAC_PI_2).min(PI));
                if radius > 0.0 && high - low > UPRIGHT {
                    let slope = |normal: f64| {
                        if normal < UPRIGHT {
                            f64::NEG_INFINITY
                        } else if PI - normal < UPRIGHT {
                            f64::INFINITY
                        } else {
                            -1.0 / normal.tan()
                        }
                    };
                    found.push(Stretch {
                        part: Part::Arc {
                            across: end.0,
                            up: end.1,
                            radius,
                        },
                        from: end.0 + radius * high.cos(),
                        to: end.0 + radius * low.cos(),
                        slope_from: slope(high),
                        slope_to: slope(low),
                    });
                }
            }
        }
        sort_by_number(&mut found, |stretch| {
            f64::midpoint(stretch.from, stretch.to)
        });
        // Neighbours meet in one number, so that no generator falls between them.
        for next in 1..found.len() {
            found[next].from = found[next - 1].to;
        }
        Self(found)
    }

    /// The stretches from left to right.
    #[must_use]
    pub fn stretches(&self) -> &[Stretch] {
        &self.0
    }

    /// Leftmost and rightmost place; infinite for a plate.
    #[must_use]
    pub fn reach(&self) -> (f64, f64) {
        let from = self.0.first().map_or(0.0, |first| first.from);
        let to = self.0.last().map_or(0.0, |last| last.to);
        (from, to)
    }

    /// The stretch that holds at a place across; `None` beside the section.
    #[must_use]
    pub fn at(&self, q: f64) -> Option<&Stretch> {
        let (from, to) = self.reach();
        if !(q >= from && q <= to) {
            return None;
        }
        let index = self.0.partition_point(|stretch| stretch.to < q);
        self.0.get(index)
    }

    /// Height at a place across; `None` beside the section.
    #[must_use]
    pub fn height(&self, q: f64) -> Option<f64> {
        self.at(q).map(|stretch| stretch.part.height(q))
    }
}

/// Sine and cosine, exact at whole quarter turns.
fn exact_sin_cos(angle: f64) -> (f64, f64) {
    let (sin, cos) = angle.sin_cos();
    let snap = |part: f64| {
        if part.abs() < UPRIGHT {
            0.0
        } else {
            limited(part, -1.0, 1.0)
        }
    };
    (snap(sin), snap(cos))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::units::{Angle, Length};

    fn section(width: f64, height: f64, corner: f64, roll: f64) -> Outline {
        let section = RectangularSection::new(
            Length::from_mm(width),
            Length::from_mm(height),
            Length::from_mm(corner),
            Angle::from_deg(roll),
        )
        .unwrap();
        Outline::rectangular(&section)
    }

    /// Distance from a point to the rounded rectangle's surface, negative inside.
    fn distance(q: f64, up: f64, width: f64, height: f64, corner: f64, roll: f64) -> f64 {
        let (sin, cos) = roll.to_radians().sin_cos();
        let (v, w) = (q * cos + up * sin, -q * sin + up * cos);
        let (dx, dy) = (
            v.abs() - (width / 2.0 - corner),
            w.abs() - (height / 2.0 - corner),
        );
        dx.max(0.0).hypot(dy.max(0.0)) + dx.max(dy).min(0.0) - corner
    }

    #[test]
    fn the_outline_is_the_top_of_the_section() {
        for (width, height) in [(50.0, 50.0), (80.0, 40.0), (20.0, 60.0)] {
            for corner in [0.0, 3.0, 9.9, 10.0] {
                for roll in [
                    0.0, 1e-8, 1e-6, 10.0, 30.0, 45.0, 60.0, 89.0, 90.0, 135.0, 180.0, 300.0, -20.0,
                ] {
                    let outline = section(width, height, corner, roll);
                    let (from, to) = outline.reach();
                    assert!((from + to).abs() < 1e-9);
                    for step in 0..=200 {
                        let q = (from + (to - from) * f64::from(step) / 200.0).min(to);
                        let up = outline.height(q).unwrap();
                        let off = distance(q, up, width, height, corner, roll);
                        assert!(
                            off.abs() < 2e-6,
                            "{width}×{height} {corner} {roll}° q {q}: {off}"
                        );
                        assert!(distance(q, up + 1e-3, width, height, corner, roll) > -1e-9);
                    }
                    for pair in outline.stretches().windows(2) {
                        assert!(pair[0].slope_to >= pair[1].slope_from - 1e-9, "{pair:?}");
                        let heights = [pair[0], pair[1]].map(|s| s.part.height(pair[0].to));
                        assert!((heights[0] - heights[1]).abs() < 1e-6, "{pair:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn corners_of_half_a_side_make_a_round_section() {
        for roll in [0.0, 17.0, 45.0] {
            let outline = section(40.0, 40.0, 20.0, roll);
            for step in -19..=19 {
                let q = f64::from(step);
                let expected = (400.0 - q * q).sqrt();
                assert!((outline.height(q).unwrap() - expected).abs() < 1e-9);
            }
        }
    }
}
