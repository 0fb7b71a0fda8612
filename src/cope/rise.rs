//! How high the balls of a bent main rise over the wall.
//!
//! The main is everything within R of its centre line, so it is the balls of radius R round the
//! places of that line. The plane through the branch's axis and the wall at one turn cuts a ball in
//! a disc, and the highest point of a disc over the wall, bore to outside, lies straight above its
//! centre when the centre stands over the wall, and above the nearer edge of the wall when it does
//! not: with (ρ, d, z) the place out, aside and up, ρ̂ the wall radius nearest to ρ and p = ρ − ρ̂,
//!
//! f = z + w, w = √(R² − d² − p²).
//!
//! The cut line is the largest f along the centre line, whatever the wall. The derivatives follow
//! from ∂ρ/∂φ = d and ∂d/∂φ = −ρ; where two differ, the second is for a place over the wall
//! (a crest), where p stays 0 and ρ̂ moves along:
//!
//! - f_u = z_u − q / w, q = p ρ_u + d d_u
//! - f_uu = z_uu − ([ρ_u² | 0] + p ρ_uu + d_u² + d d_uu) / w − q² / w³
//! - f_φ = ρ̂ d / w
//! - f_φu = ρ̂ d_u / w + [0 | ρ_u d / w] + ρ̂ d q / w³
//!
//! and of the line itself s′ = f_φ, s″ = f_φφ − f_φu² / f_uu. At the top q = z_u w, and the place
//! runs on with unit speed; with that put in, and g = d / w, nothing cancels near grazing:
//!
//! - edge: s″ w = −ρ̂ ρ + ρ̂² (d_u² + 2 d_u z_u g − g² (B − z_u²)) / B,
//!   B = 1 + p ρ_uu + d d_uu − z_uu w
//! - crest: s″ w = d² + (2 ρ ρ_u d d_u (1 + g²) + ρ_u² d² − ρ² (1 + g²) C) / (d_u² (1 + g²) + C),
//!   C = d d_uu − z_uu w

use crate::cope::interval::Interval;
use crate::cope::quantity::Quantity;
use crate::cope::spine::{Place, Spine};

/// The wall from bore to outside as wall radii, mm; the same number twice for a cut along one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    pub inner: f64,
    pub outer: f64,
}

/// Which of its radii a ball is highest over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    Bore,
    Outside,
    /// Straight above its centre, inside the wall.
    Crest,
}

impl Wall {
    /// What is nearest to a place that is `out` from the axis.
    pub fn over(self, out: f64) -> Over {
        if out >= self.outer || self.inner >= self.outer {
            Over::Outside
        } else if out <= self.inner {
            Over::Bore
        } else {
            Over::Crest
        }
    }

    /// The wall radius nearest to a place.
    fn nearest(self, out: f64) -> f64 {
        out.max(self.inner).min(self.outer)
    }

    /// What may be nearest to a stretch of places.
    pub fn may_be_over(self, out: Interval) -> impl Iterator<Item = Over> {
        let single = self.inner >= self.outer;
        [
            (single || out.hi >= self.outer).then_some(Over::Outside),
            (!single && out.lo <= self.inner).then_some(Over::Bore),
            (!single && out.hi > self.inner && out.lo < self.outer).then_some(Over::Crest),
        ]
        .into_iter()
        .flatten()
    }
}

/// A ball's height over the wall and its derivatives by the length along the centre line (`run`)
/// and by the turn.
#[derive(Debug, Clone, Copy)]
pub struct Rise<T> {
    pub height: T,
    pub by_run: T,
    pub by_run_run: T,
    pub by_phi: T,
    pub by_phi_run: T,
    /// Second derivative by the turn of the largest height, for a place that has it.
    pub bend: T,
}

impl<T: Quantity> Rise<T> {
    fn new(at: &Place<T>, w: T, nearest: T, past: T, over: Over) -> Self {
        let ([out, d, z], [out_u, d_u, z_u], [out_uu, d_uu, z_uu]) = (at.place, at.slope, at.bend);
        let by = (w * 0.0 + 1.0) / w;
        let cube = by * by.square();
        let q = past * out_u + d * d_u;
        let mut run_run = past * out_uu + d_u.square() + d * d_uu;
        let mut phi_run = nearest * (d_u * by + d * q * cube);
        let g = d * by;
        let curve = d * d_uu - z_uu * w;
        let bend = if over == Over::Crest {
            phi_run = phi_run + out_u * d * by;
            let tilt = g.square() + 1.0;
            let parts = out * out_u * d * d_u * tilt * 2.0 + (out_u * d).square()
                - out.square() * tilt * curve;
            d.square() + parts / (d_u.square() * tilt + curve)
        } else {
            run_run = run_run + out_u.square();
            let b = past * out_uu + curve + 1.0;
            let flat = past * out_uu + curve + out_u.square() + d_u.square();
            let parts = d_u.square() + d_u * z_u * g * 2.0 - g.square() * flat;
            nearest.square() * parts / b - nearest * out
        };
        Self {
            height: z + w,
            by_run: z_u - q * by,
            by_run_run: z_uu - run_run * by - q.square() * cube,
            by_phi: nearest * d * by,
            by_phi_run: phi_run,
            bend: bend * by,
        }
    }
}

impl Rise<f64> {
    /// Half of R² − d² − p² of one place.
    pub fn square_at(radius: f64, at: &Place<f64>, wall: Wall) -> f64 {
        let [out, d, _] = at.place;
        let past = out - wall.nearest(out);
        0.5 * (radius * radius - d * d - past * past)
    }

    /// Of one place. Where the ball does not reach the wall the derivatives are infinite or NaN.
    pub fn at(radius: f64, at: &Place<f64>, wall: Wall) -> Self {
        let [out, d, _] = at.place;
        let nearest = wall.nearest(out);
        let past = out - nearest;
        let w = f64::depth(radius, d, past);
        Self::new(at, w, nearest, past, wall.over(out))
    }

    /// How far along the centre line the ball nearest to the wall is, by a step of Newton's method.
    pub fn towards_wall(at: &Place<f64>, wall: Wall) -> f64 {
        let ([out, d, _], [out_u, d_u, _], [out_uu, d_uu, _]) = (at.place, at.slope, at.bend);
        let past = out - wall.nearest(out);
        let over = if wall.over(out) == Over::Crest {
            0.0
        } else {
            out_u * out_u
        };
        let step = -(past * out_u + d * d_u) / (over + past * out_uu + d_u * d_u + d * d_uu);
        if step.is_finite() { step } else { 0.0 }
    }

    /// Whether the ball at a place reaches the wall, and how high it rises.
    pub fn height_at(radius: f64, at: &Place<f64>, wall: Wall) -> Option<f64> {
        let [out, d, z] = at.place;
        let past = out - wall.nearest(out);
        (Self::square_at(radius, at, wall) >= 0.0).then(|| z + f64::depth(radius, d, past))
    }
}

/// Where the height is greatest along a span on which it is a hill, looked for from `start`, and what
/// it is there.
pub fn top_between(seen: &Spine, wall: Wall, span: Interval, start: f64) -> (f64, Rise<f64>) {
    const STEPS: u32 = 60;
    let (mut low, mut high) = (span.lo, span.hi);
    let mut u = start.max(low).min(high);
    let mut rise = Rise::at(seen.radius, &seen.at(u), wall);
    for _ in 0..STEPS {
        if rise.by_run > 0.0 {
            low = u;
        } else {
            high = u;
        }
        let newton = u - rise.by_run / rise.by_run_run;
        // What a short step of Newton's method leaves is of its square.
        let (next, settled) = if newton >= low && newton <= high {
            (newton, 1e-7)
        } else {
            (f64::midpoint(low, high), 1e-13)
        };
        let step = (next - u).abs();
        u = next;
        rise = Rise::at(seen.radius, &seen.at(u), wall);
        if step <= settled * seen.radius {
            break;
        }
    }
    (u, rise)
}

impl Rise<Interval> {
    /// Of a stretch of places of which those count that are over one part of the wall.
    /// `w` bounds the root for all of them.
    pub fn over(at: &Place<Interval>, w: Interval, wall: Wall, over: Over) -> Self {
        let [out, ..] = at.place;
        let (out, nearest) = match over {
            Over::Outside if wall.inner >= wall.outer => (out, Interval::point(wall.outer)),
            Over::Outside => {
                let lo = out.lo.max(wall.outer);
                (Interval { lo, ..out }, Interval::point(wall.outer))
            }
            Over::Bore => {
                let hi = out.hi.min(wall.inner);
                (Interval { hi, ..out }, Interval::point(wall.inner))
            }
            Over::Crest => {
                let within = Interval {
                    lo: out.lo.max(wall.inner),
                    hi: out.hi.min(wall.outer),
                };
                (within, within)
            }
        };
        let past = if over == Over::Crest {
            Interval::point(0.0)
        } else {
            out - nearest
        };
        let [_, d, z] = at.place;
        let at = Place {
            place: [out, d, z],
            ..*at
        };
        Self::new(&at, w, nearest, past, over)
    }

    /// Of a stretch of places wherever over the wall they are.
    pub fn anywhere(at: &Place<Interval>, w: Interval, wall: Wall) -> Option<Self> {
        wall.may_be_over(at.place[0])
            .map(|over| Self::over(at, w, wall, over))
            .reduce(|a, b| Self {
                height: a.height.hull(b.height),
                by_run: a.by_run.hull(b.by_run),
                by_run_run: a.by_run_run.hull(b.by_run_run),
                by_phi: a.by_phi.hull(b.by_phi),
                by_phi_run: a.by_phi_run.hull(b.by_phi_run),
                bend: a.bend.hull(b.bend),
            })
    }
}

/// How near balls of a stretch of places come to the wall, and how high they rise, at worst.
#[derive(Debug, Clone, Copy)]
pub struct Reach {
    /// R² − d² − p², half of it.
    pub square: Interval,
    /// ∂/∂u and ∂/∂φ of it.
    pub by_run: Interval,
    pub by_phi: Interval,
    /// Highest place.
    up: Interval,
    up_by_run: Interval,
}

impl Reach {
    pub fn over(radius: f64, at: &Place<Interval>, wall: Wall) -> Self {
        let ([out, d, up], [out_u, d_u, up_by_run]) = (at.place, at.slope);
        let nearest = out.through(|out| wall.nearest(out));
        let past = out.through(|out| out - wall.nearest(out));
        Self {
            square: (-(d.squared() + past.squared()) + radius * radius) * 0.5,
            by_run: -(past * out_u + d * d_u),
            by_phi: nearest * d,
            up,
            up_by_run,
        }
    }

    /// The same with the square bounded by the mean value theorem too: from `middle`, what it is at the
    /// middle place and turn, when places run on by `run` and turns by `half` to either side. Out
    /// and aside weigh each other up along the centre line, which their ranges alone do not show.
    pub fn about(self, middle: f64, run: f64, half: f64) -> Self {
        let stray = run * size(self.by_run) + half * size(self.by_phi);
        Self {
            square: Interval {
                lo: self.square.lo.max(middle - stray),
                hi: self.square.hi.min(middle + stray),
            },
            ..self
        }
    }

    /// √(R² − d² − p²).
    pub fn depth(&self) -> Interval {
        (self.square * 2.0).root()
    }

    /// Slope by the turn, which is infinite where a ball may not reach.
    pub fn slope(&self) -> Interval {
        self.by_phi / self.depth()
    }

    /// Slope along the centre line, likewise.
    pub fn rise(&self) -> Interval {
        self.up_by_run + self.by_run / self.depth()
    }

    /// Whether the height may have a top along the centre line: whether its slope, times the root,
    /// may be 0.
    pub fn may_be_level(&self) -> bool {
        (self.up_by_run * self.depth() + self.by_run).may_be_zero()
    }

    /// The least that all rise to; −∞ where one may not reach the wall.
    pub fn least(&self) -> f64 {
        if self.square.lo < 0.0 {
            f64::NEG_INFINITY
        } else {
            self.up.lo + (2.0 * self.square.lo).sqrt()
        }
    }

    /// The most that one can rise to; −∞ where none reaches the wall.
    pub fn most(&self) -> f64 {
        if self.square.hi < 0.0 {
            f64::NEG_INFINITY
        } else {
            self.up.hi + self.depth().hi
        }
    }
}

/// Largest size of what an interval holds.
pub fn size(of: Interval) -> f64 {
    of.lo.abs().max(of.hi.abs())
}
