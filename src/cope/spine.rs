//! The centre line of a bent main as the wall of a branch sees it from one turn.
//!
//! Places are (out, aside, up): out from the branch's axis along the wall, aside of the plane
//! through the axis and the wall, up the branch. They run on by the length along the centre line
//! from where the bend's frame stands, mm.

use std::f64::consts::TAU;

use crate::cope::interval::{Interval, Swing};
use crate::joint::BentTube;
use crate::units::limited;

/// The centre line of a bent main in the frame of a branch.
#[derive(Debug, Clone, PartialEq)]
pub struct Spine {
    pub radius: f64,
    clr: f64,
    /// Where the bend's frame stands, and its directions along and towards the centre.
    origin: [f64; 3],
    along: [f64; 3],
    towards: [f64; 3],
    /// Where the arc begins and ends, mm along the centre line.
    arc: (f64, f64),
    /// Where the legs begin, and their directions away from the arc.
    legs: [([f64; 3], [f64; 3]); 2],
}

/// A place of the centre line, or a stretch of places, with its derivatives by the length.
#[derive(Debug, Clone, Copy)]
pub struct Place<T> {
    pub place: [T; 3],
    pub slope: [T; 3],
    pub bend: [T; 3],
}

impl Spine {
    /// `sin` and `cos` are of the included angle.
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        let (facing_sin, facing_cos) = tube.facing;
        let along = [sin, 0.0, cos];
        let towards = [-cos * facing_cos, facing_sin, sin * facing_cos];
        let origin = [tube.origin * sin, offset, tube.origin * cos];
        let mixed = |t: f64, n: f64| [0, 1, 2].map(|axis| t * along[axis] + n * towards[axis]);
        let legs = tube.legs.map(|leg| {
            let ([a0, a1, a2], [w0, w1, w2]) = (leg.along, leg.towards);
            let start = mixed(-a2 * a0 - w2 * w0, -a2 * a1 - w2 * w1);
            (
                [0, 1, 2].map(|axis| origin[axis] + start[axis]),
                mixed(a0, a1),
            )
        });
        let clr = 1.0 / tube.curvature;
        Self {
            radius: tube.radius,
            clr,
            origin,
            along,
            towards,
            arc: (tube.arc.0 * clr, tube.arc.1 * clr),
            legs,
        }
    }

    /// The centre line as a turn of the branch sees it.
    pub fn seen(&self, phi: f64) -> Self {
        let (sin, cos) = phi.sin_cos();
        let turned = |[x, y, z]: [f64; 3]| [x * cos + y * sin, y * cos - x * sin, z];
        Self {
            origin: turned(self.origin),
            along: turned(self.along),
            towards: turned(self.towards),
            legs: self.legs.map(|(start, way)| (turned(start), turned(way))),
            ..*self
        }
    }

    /// Stretches of the centre line that hold every place within `reach` of the branch's axis.
    pub fn near(&self, reach: f64) -> Vec<Interval> {
        /// A leg is handed over in so many parts.
        const PARTS: u32 = 6;
        let (from, to) = self.arc;
        let mut found: Vec<Interval> = Vec::new();
        let mut open = vec![Interval { lo: from, hi: to }];
        while let Some(part) = open.pop() {
            let [x, y, _] = self.over_arc(part).place;
            if (x.squared() + y.squared()).lo > reach * reach {
                continue;
            }
            if part.width() <= self.radius / 2.0 {
                found.push(part);
                continue;
            }
            let middle = part.middle();
            open.push(Interval { lo: middle, ..part });
            open.push(Interval { hi: middle, ..part });
        }
        for (leg, ([x, y, _], [dx, dy, _])) in self.legs.iter().enumerate() {
            // |start + way u| = reach
            let (a, b, c) = (dx * dx + dy * dy, x * dx + y * dy, x * x + y * y);
            let square = b * b - a * (c - reach * reach);
            if square <= 0.0 || a <= 0.0 {
                continue;
            }
            let near = (-b - square.sqrt()).max(0.0) / a;
            let far = (square.sqrt() - b) / a;
            let step = (far - near) / f64::from(PARTS);
            found.extend((0..PARTS).filter(|_| step > 0.0).map(|part| {
                let run = near + f64::from(part) * step;
                if leg == 0 {
                    let hi = from - run;
                    Interval { lo: hi - step, hi }
                } else {
                    let lo = to + run;
                    Interval { lo, hi: lo + step }
                }
            }));
        }
        found
    }

    /// Where the legs begin, and their directions away from the arc.
    pub const fn legs(&self) -> [([f64; 3], [f64; 3]); 2] {
        self.legs
    }

    /// Stretches of the arc, `more` longer at either end, that may stand over a wall.
    pub fn arcs_over(&self, inner: f64, outer: f64, more: f64) -> impl Iterator<Item = (f64, f64)> {
        /// What the ends are rounded by, rad.
        const ROUNDED: f64 = 1e-7;
        let (from, to) = (self.arc.0 - more, self.arc.1 + more);
        // out = origin + CLR (a sin ψ + c (1 − cos ψ)) = centre + size cos(ψ − top)
        let (a, c) = (self.along[0] * self.clr, self.towards[0] * self.clr);
        let (centre, size, top) = (self.origin[0] + c, (a * a + c * c).sqrt(), a.atan2(-c));
        let angle = |rho: f64| limited((rho - centre) / size, -1.0, 1.0).acos();
        let (near, far) = (angle(outer) - ROUNDED, angle(inner) + ROUNDED);
        let clr = self.clr;
        [-TAU, 0.0, TAU]
            .into_iter()
            .flat_map(move |lap| {
                [(near, far), (-far, -near)].map(|(start, end)| {
                    let (start, end) = (top + lap + start, top + lap + end);
                    ((start * clr).max(from), (end * clr).min(to))
                })
            })
            .filter(|(start, end)| start < end)
    }

    /// The length along the centre line to its place nearest to a point of the branch's frame.
    pub fn nearest(&self, point: [f64; 3]) -> f64 {
        let off = |from: [f64; 3], way: [f64; 3]| {
            (0..3).map(|i| (point[i] - from[i]) * way[i]).sum::<f64>()
        };
        let before = off(self.legs[0].0, self.legs[0].1);
        let after = off(self.legs[1].0, self.legs[1].1);
        let (t, n) = (off(self.origin, self.along), off(self.origin, self.towards));
        let on_arc = self.clr * (t / self.clr).atan2(1.0 - n / self.clr);
        let (from, to) = self.arc;
        // The legs of a half turn begin side by side: the nearer one counts.
        let apart = |u: f64| {
            let place = self.at(u).place;
            (0..3).map(|i| (point[i] - place[i]).powi(2)).sum::<f64>()
        };
        [
            from - before.max(0.0),
            to + after.max(0.0),
            on_arc.max(from).min(to),
        ]
        .into_iter()
        .map(|u| (apart(u), u))
        .reduce(|a, b| if b.0 < a.0 { b } else { a })
        .map_or(0.0, |(_, u)| u)
    }

    /// One place.
    pub fn at(&self, u: f64) -> Place<f64> {
        let (from, to) = self.arc;
        if u < from || u > to {
            let (sign, run, (start, way)) = if u < from {
                (-1.0, from - u, self.legs[0])
            } else {
                (1.0, u - to, self.legs[1])
            };
            return Place {
                place: [0, 1, 2].map(|axis| start[axis] + run * way[axis]),
                slope: way.map(|way| sign * way),
                bend: [0.0; 3],
            };
        }
        let psi = u / self.clr;
        let (sin, cos) = psi.sin_cos();
        let (long, sag) = (self.clr * sin, self.clr * sag(sin, cos));
        let curl = 1.0 / self.clr;
        let all = |axis: usize| (self.along[axis], self.towards[axis], self.origin[axis]);
        Place {
            place: [0, 1, 2].map(|axis| {
                let (t, n, from) = all(axis);
                from + t * long + n * sag
            }),
            slope: [0, 1, 2].map(|axis| {
                let (t, n, _) = all(axis);
                t * cos + n * sin
            }),
            bend: [0, 1, 2].map(|axis| {
                let (t, n, _) = all(axis);
                (n * cos - t * sin) * curl
            }),
        }
    }

    /// All places of a stretch.
    pub fn over(&self, u: Interval) -> Place<Interval> {
        let (from, to) = self.arc;
        let mut found: Option<Place<Interval>> = None;
        let mut add = |more: Place<Interval>| {
            found = Some(found.map_or(more, |found| found.hull(more)));
        };
        if u.lo < from {
            let hi = u.hi.min(from);
            let (start, way) = self.legs[0];
            add(Place::on_line(start, way, -1.0, from - hi, from - u.lo));
        }
        if u.hi > to {
            let lo = u.lo.max(to);
            let (start, way) = self.legs[1];
            add(Place::on_line(start, way, 1.0, lo - to, u.hi - to));
        }
        if u.hi >= from && u.lo <= to {
            add(self.over_arc(Interval {
                lo: u.lo.max(from),
                hi: u.hi.min(to),
            }));
        }
        found.unwrap_or(Place {
            place: [Interval::ALL; 3],
            slope: [Interval::ALL; 3],
            bend: [Interval::ALL; 3],
        })
    }

    /// All places of a stretch of the arc, which is taken to go on past its ends.
    pub fn over_arc(&self, u: Interval) -> Place<Interval> {
        let swing = Swing::of(u * (1.0 / self.clr));
        let (sin, cos) = swing.middle;
        let sag = sag(sin, cos);
        let all = [0, 1, 2].map(|axis| {
            let (t, n) = (self.along[axis], self.towards[axis]);
            let (slope, bend) = (t * cos + n * sin, n * cos - t * sin);
            // middle + CLR (slope sin δ + bend (1 − cos δ))
            let middle = self.origin[axis] + self.clr * (t * sin + n * sag);
            let place = (swing.off_middle(-bend, slope) + bend) * self.clr + middle;
            [
                place,
                swing.off_middle(slope, bend),
                swing.off_middle(bend, -slope) * (1.0 / self.clr),
            ]
        });
        Place {
            place: all.map(|[place, ..]| place),
            slope: all.map(|[_, slope, _]| slope),
            bend: all.map(|[.., bend]| bend),
        }
    }
}

/// 1 − cos ψ, without loss of digits.
fn sag(sin: f64, cos: f64) -> f64 {
    if cos > 0.0 {
        sin * sin / (1.0 + cos)
    } else {
        1.0 - cos
    }
}

impl Place<Interval> {
    fn hull(self, other: Self) -> Self {
        let hull = |a: [Interval; 3], b: [Interval; 3]| [0, 1, 2].map(|i: usize| a[i].hull(b[i]));
        Self {
            place: hull(self.place, other.place),
            slope: hull(self.slope, other.slope),
            bend: hull(self.bend, other.bend),
        }
    }

    fn on_line(start: [f64; 3], way: [f64; 3], sign: f64, from: f64, to: f64) -> Self {
        let run = Interval { lo: from, hi: to };
        Self {
            place: [0, 1, 2].map(|axis| run * way[axis] + start[axis]),
            slope: way.map(|way| Interval::point(sign * way)),
            bend: [Interval::point(0.0); 3],
        }
    }

    /// The same as turns up to `swung` to either side see it; sine and cosine of that angle, which
    /// is below a quarter turn.
    pub fn swung(self, (sin, cos): (f64, f64)) -> Self {
        let (sin, cos) = (
            Interval { lo: -sin, hi: sin },
            Interval { lo: cos, hi: 1.0 },
        );
        let turned = |[out, aside, up]: [Interval; 3]| {
            [out * cos + aside * sin, aside * cos - out * sin, up]
        };
        Self {
            place: turned(self.place),
            slope: turned(self.slope),
            bend: turned(self.bend),
        }
    }
}
