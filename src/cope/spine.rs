//! A bent main as balls along its centre line: the highest point over the whole wall.
//!
//! The main is everything within R of its centre line, so it is the balls of radius R round the
//! places of that line. A plane through the branch's axis at one turn cuts a ball in a disc, and
//! the highest point of a disc over the wall, bore to outside, lies straight above its centre when
//! the centre stands over the wall, and above the nearer edge of the wall when it does not. So the
//! highest point of the main over the wall is on the bore, on the outside, or straight above a
//! place of the centre line that stands over the wall where z + √(R² − d²) is greatest, with z
//! the height of the place and d its distance from the plane: a search along a line, whatever the
//! wall.

use std::f64::consts::TAU;

use crate::cope::interval::{Interval, Swing};
use crate::cope::roots::{Bounded, roots};
use crate::joint::BentTube;
use crate::units::limited;

/// The arc and the legs are looked at this far (as a part of the tube's radius) past their common
/// end, so that a crest there does not fall between them.
const SEAM: f64 = 1e-9;
/// Arcs of places over the wall are widened by this (rad), for what their ends are rounded by.
const ROUNDED: f64 = 1e-7;

/// The centre line of a bent main in the frame of a branch.
#[derive(Debug, Clone, PartialEq)]
pub struct Spine {
    radius: f64,
    clr: f64,
    /// Where the bend's frame stands, and its directions along and towards the centre.
    origin: [f64; 3],
    along: [f64; 3],
    towards: [f64; 3],
    /// Angles of the arc's ends.
    arc: (f64, f64),
    /// Where the legs begin, and their directions away from the arc.
    legs: [([f64; 3], [f64; 3]); 2],
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
        Self {
            radius: tube.radius,
            clr: 1.0 / tube.curvature,
            origin,
            along,
            towards,
            arc: tube.arc,
            legs,
        }
    }

    /// The wall radius and the height of the highest crest inside a wall at a turn, if it is higher
    /// than `floor`.
    pub fn crest(&self, inner: f64, outer: f64, phi: f64, floor: f64) -> Option<(f64, f64)> {
        let (sin, cos) = phi.sin_cos();
        // A place as the turn sees it: out along the wall, aside of its plane, up the branch.
        let seen = |[x, y, z]: [f64; 3]| [x * cos + y * sin, y * cos - x * sin, z];
        let mut best: Option<(f64, f64)> = None;
        let mut offer = |rho: f64, height: f64| {
            if rho > inner && rho < outer && height > best.map_or(floor, |(_, best)| best) {
                best = Some((rho, height));
            }
        };
        for (start, way) in self.legs {
            let ([rho, aside, up], [by_rho, by_aside, by_up]) = (seen(start), seen(way));
            // z′ √(R² − d²) = d d′ on a straight line.
            let steep = by_up.hypot(by_aside);
            let d = self.radius * by_up / steep * 1.0_f64.copysign(by_aside);
            let run = (d - aside) / by_aside;
            if run.is_finite() && run >= -SEAM * self.radius {
                let depth = self.radius * by_aside.abs() / steep;
                offer(rho + run * by_rho, up + run * by_up + depth);
            }
        }
        let arc = Arc {
            radius: self.radius,
            clr: self.clr,
            wall: Interval {
                lo: inner,
                hi: outer,
            },
            origin: seen(self.origin),
            along: seen(self.along),
            towards: seen(self.towards),
            floor,
        };
        for (from, to) in arc.over_wall(self.arc) {
            let scale = self.clr / self.radius;
            for root in roots(&arc, from * scale, to * scale) {
                let [rho, aside, up] = arc
                    .at(Interval::point(f64::midpoint(root.from, root.to) / scale))
                    .place
                    .map(Interval::middle);
                let square = (self.radius - aside) * (self.radius + aside);
                if square >= 0.0 {
                    offer(rho, up + square.sqrt());
                }
            }
        }
        best
    }
}

/// The arc as one turn sees it. As a function: the slope of z + √(R² − d²) along it, times the
/// root; its variable is the length in radii of the tube.
struct Arc {
    radius: f64,
    clr: f64,
    wall: Interval,
    /// Out, aside, up.
    origin: [f64; 3],
    along: [f64; 3],
    towards: [f64; 3],
    /// Nothing lower is looked for.
    floor: f64,
}

/// Places of a part of the arc (out, aside, up), with derivatives by the angle.
struct Part {
    place: [Interval; 3],
    slope: [Interval; 3],
    bend: [Interval; 3],
}

impl Arc {
    /// Parts of the arc between two angles that may stand over the wall.
    fn over_wall(&self, (from, to): (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
        let seam = SEAM * self.radius / self.clr;
        let (from, to) = (from - seam, to + seam);
        // ρ = out + CLR (a sin ψ + c (1 − cos ψ)) = centre + size cos(ψ − top)
        let (a, c) = (self.along[0] * self.clr, self.towards[0] * self.clr);
        let (centre, size, top) = (self.origin[0] + c, a.hypot(c), a.atan2(-c));
        let angle = |rho: f64| limited((rho - centre) / size, -1.0, 1.0).acos();
        let (near, far) = (angle(self.wall.hi) - ROUNDED, angle(self.wall.lo) + ROUNDED);
        let mirrored = [(near, far), (-far, -near)];
        [-TAU, 0.0, TAU]
            .into_iter()
            .flat_map(move |lap| {
                mirrored
                    .map(|(start, end)| ((top + lap + start).max(from), (top + lap + end).min(to)))
            })
            .filter(|(start, end)| start < end)
    }

    fn at(&self, psi: Interval) -> Part {
        let swing = Swing::of(psi);
        let (sin, cos) = swing.middle;
        let sag = 2.0 * (psi.middle() / 2.0).sin().powi(2);
        let all = [0, 1, 2].map(|axis| {
            let (t, n) = (self.along[axis] * self.clr, self.towards[axis] * self.clr);
            let (slope, bend) = (t * cos + n * sin, n * cos - t * sin);
            // middle + slope sin δ + bend (1 − cos δ)
            let middle = self.origin[axis] + t * sin + n * sag;
            let place = swing.off_middle(-bend, slope) + bend + middle;
            [
                place,
                swing.off_middle(slope, bend),
                swing.off_middle(bend, -slope),
            ]
        });
        Part {
            place: all.map(|[place, ..]| place),
            slope: all.map(|[_, slope, _]| slope),
            bend: all.map(|[.., bend]| bend),
        }
    }

    fn depth(&self, aside: Interval) -> Interval {
        ((-aside + self.radius) * (aside + self.radius)).root()
    }
}

impl Bounded for Arc {
    fn value(&self, over: Interval) -> Interval {
        let part = self.at(over * (self.radius / self.clr));
        let ([_, aside, _], [_, by_aside, by_up]) = (part.place, part.slope);
        by_up * self.depth(aside) - aside * by_aside
    }

    fn slope(&self, over: Interval) -> Interval {
        let part = self.at(over * (self.radius / self.clr));
        let ([_, aside, _], [_, by_aside, by_up]) = (part.place, part.slope);
        let depth = self.depth(aside);
        let falls = by_up * aside * by_aside / depth;
        let [_, aside_bend, up_bend] = part.bend;
        (up_bend * depth - falls - by_aside.squared() - aside * aside_bend)
            * (self.radius / self.clr)
    }

    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        let part = self.at(over * (self.radius / self.clr));
        let [out, aside, up] = part.place;
        let nearest = if aside.may_be_zero() {
            0.0
        } else {
            aside.lo.abs().min(aside.hi.abs())
        };
        let beside = nearest > self.radius || out.hi < self.wall.lo || out.lo > self.wall.hi;
        let depth = ((self.radius - nearest) * (self.radius + nearest))
            .max(0.0)
            .sqrt();
        if beside || up.hi + depth <= self.floor {
            return None;
        }
        self.value(over).may_be_zero().then(|| self.slope(over))
    }
}
