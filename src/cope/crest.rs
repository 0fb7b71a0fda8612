//! Every crest inside the wall on a bent main, at one turn.
//!
//! A crest stands straight above a place of the centre line (see [`crate::cope::rise`]) where
//! z + √(R² − d²) is greatest: on a leg in closed form, on the arc among the roots of
//! z′ √(R² − d²) − d d′, none of which is missed.

use crate::cope::interval::Interval;
use crate::cope::quantity::Quantity;
use crate::cope::rise::Wall;
use crate::cope::roots::{Bounded, roots};
use crate::cope::spine::Spine;

/// The arc and the legs are looked at this far (as a part of the tube's radius) past their common
/// end, so that a crest there does not fall between them.
const SEAM: f64 = 1e-9;

/// The wall radius and the height of the highest crest inside a wall, if it is higher than
/// `floor`; `seen` is the centre line as the turn sees it.
pub fn crest(seen: &Spine, wall: Wall, floor: f64) -> Option<(f64, f64)> {
    let radius = seen.radius;
    let mut best: Option<(f64, f64)> = None;
    let mut offer = |rho: f64, height: f64| {
        let within = rho > wall.inner && rho < wall.outer;
        if within && height > best.map_or(floor, |(_, best)| best) {
            best = Some((rho, height));
        }
    };
    for ([rho, aside, up], [by_rho, by_aside, by_up]) in seen.legs() {
        // z′ √(R² − d²) = d d′ on a straight line.
        let steep = (by_up * by_up + by_aside * by_aside).sqrt();
        let d = radius * by_up / steep * 1.0_f64.copysign(by_aside);
        let run = (d - aside) / by_aside;
        if run.is_finite() && run >= -SEAM * radius {
            let depth = radius * by_aside.abs() / steep;
            offer(rho + run * by_rho, up + run * by_up + depth);
        }
    }
    let slope = ArcSlope { seen, wall, floor };
    for (from, to) in seen.arcs_over(wall.inner, wall.outer, SEAM * radius) {
        for root in roots(&slope, from / radius, to / radius) {
            let u = Interval::point(f64::midpoint(root.from, root.to) * radius);
            let [rho, aside, up] = seen.over_arc(u).place.map(Interval::middle);
            if aside.abs() <= radius {
                offer(rho, up + f64::depth(radius, aside, 0.0));
            }
        }
    }
    best
}

/// The slope of z + √(R² − d²) along the arc, times the root. Its variable is the length in radii
/// of the tube.
struct ArcSlope<'a> {
    seen: &'a Spine,
    wall: Wall,
    /// Nothing lower is looked for.
    floor: f64,
}

impl Bounded for ArcSlope<'_> {
    fn value(&self, over: Interval) -> Interval {
        let radius = self.seen.radius;
        let at = self.seen.over_arc(over * radius);
        let ([_, aside, _], [_, by_aside, by_up]) = (at.place, at.slope);
        by_up * Interval::depth(radius, aside, Interval::point(0.0)) - aside * by_aside
    }

    fn slope(&self, over: Interval) -> Interval {
        let radius = self.seen.radius;
        let at = self.seen.over_arc(over * radius);
        let ([_, aside, _], [_, by_aside, by_up]) = (at.place, at.slope);
        let depth = Interval::depth(radius, aside, Interval::point(0.0));
        let falls = by_up * aside * by_aside / depth;
        let [_, aside_bend, up_bend] = at.bend;
        (up_bend * depth - falls - by_aside.squared() - aside * aside_bend) * radius
    }

    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        let radius = self.seen.radius;
        let [out, aside, up] = self.seen.over_arc(over * radius).place;
        let square = -aside.squared() + radius * radius;
        let beside = square.hi < 0.0 || out.hi < self.wall.inner || out.lo > self.wall.outer;
        if beside || up.hi + square.hi.sqrt() <= self.floor {
            return None;
        }
        self.value(over).may_be_zero().then(|| self.slope(over))
    }
}
