//! Proofs over ranges of turns and wall radii that a hit on a bent main is the first one there is.
//!
//! A range of turns (and of wall radii) is settled when a band of heights is found in which every
//! generator of the range enters the main exactly once (its depth rises all through the band, is
//! inside at its lower and outside at its upper edge) and above which none meets anything. For the
//! latter the main is grown by as much as the generators of the range stray from the middle one:
//! the middle one then meets the grown main no higher than any of them meets the real one. In
//! the band the derivatives are bounded. Ranges that cannot be settled are halved, until they
//! are too narrow to matter.

use crate::cope::bent::BentSeat;
use crate::cope::interval::Interval;
use crate::cope::ring::Slopes;

/// Parts of a wall looked at before a range of turns is halved instead.
pub const MOST_PARTS: u32 = 48;
/// Narrowest parts that a wall is divided into while a range of turns is settled.
const WALL_PARTS: f64 = 4096.0;

/// A settled range: its heights and derivatives.
#[derive(Debug, Clone, Copy)]
pub struct Region {
    pub rho: Interval,
    pub heights: Interval,
    pub slopes: Slopes<Interval>,
}

impl BentSeat {
    /// Settles a range, if it is plain enough.
    pub fn settle(&self, phi: Interval, rho: Interval) -> Option<Region> {
        /// Times that the band is heightened before giving up.
        const TALLER: u32 = 14;
        let (mid_phi, mid_rho) = (phi.middle(), rho.middle());
        let (height, _) = self.hit(mid_phi, mid_rho, 0.0)?;
        let seen = self.ring.seen(phi, rho);
        let (h, w) = (phi.width() / 2.0, rho.width() / 2.0);
        let reach = 1.1 * seen.stray(height, h, w) + 1e-9 * self.tube.radius;
        if reach.is_nan() || reach >= self.tube.radius {
            return None;
        }
        let heights = Interval {
            lo: height - reach,
            hi: height + reach,
        };
        let middle = self
            .ring
            .seen(Interval::point(mid_phi), Interval::point(mid_rho));
        let swing = [phi + -mid_phi, rho + -mid_rho];
        let entered = seen.side(&middle, swing, heights.lo) == -1
            && seen.rises(heights)
            && seen.side(&middle, swing, heights.hi) == 1;
        if !entered {
            return None;
        }
        let stray = rho.hi * h + w;
        let clear = self
            .hit(mid_phi, mid_rho, stray)
            .map_or(f64::NEG_INFINITY, |(top, _)| top);
        let (mut top, mut more) = (heights.hi, reach.max(stray));
        for _ in 0..TALLER {
            if clear <= top {
                let slopes = seen.slopes_over(heights)?;
                return Some(Region {
                    rho,
                    heights,
                    slopes,
                });
            }
            let next = Interval {
                lo: top,
                hi: (top + more).min(clear),
            };
            if !seen.rises(next) {
                return None;
            }
            top = next.hi;
            more *= 2.0;
        }
        None
    }

    /// Settles the whole wall over a range of turns: the parts that may hold its highest point.
    /// `Some` of nothing where all of it passes beside.
    pub fn settle_wall(
        &self,
        phi: Interval,
        inner: f64,
        outer: f64,
        patience: &mut u32,
    ) -> Option<Vec<Region>> {
        // Parts much narrower than the turns are wide would not be settled any better.
        let smallest = ((outer - inner) / WALL_PARTS).max(0.25 * outer * phi.width());
        let mut settled: Vec<Region> = Vec::new();
        // The middle turn's highest point lets most of the rest be ruled out at once.
        let mut floor = if inner < outer {
            self.highest(inner, outer, phi.middle())
                .and_then(|(rho, _)| self.settle(phi, Interval::point(rho)))
                .map_or(f64::NEG_INFINITY, |region| region.heights.lo)
        } else {
            f64::NEG_INFINITY
        };
        let mut doubtful: Vec<f64> = Vec::new();
        let mut open = vec![Interval {
            lo: inner,
            hi: outer,
        }];
        let mut parts = 0;
        while let Some(part) = open.pop() {
            parts += 1;
            *patience = patience.saturating_sub(1);
            if parts > MOST_PARTS || *patience == 0 {
                return None;
            }
            if let Some(region) = self.settle(phi, part) {
                floor = floor.max(region.heights.lo);
                settled.push(region);
                continue;
            }
            let stray = part.hi * phi.width() / 2.0 + part.width() / 2.0;
            let Some((top, _)) = self.hit(phi.middle(), part.middle(), stray) else {
                continue;
            };
            if top < floor {
                continue;
            }
            if part.width() <= smallest {
                doubtful.push(top);
                continue;
            }
            let middle = part.middle();
            open.push(Interval {
                lo: part.lo,
                hi: middle,
            });
            open.push(Interval {
                lo: middle,
                hi: part.hi,
            });
        }
        settled.retain(|region| region.heights.hi >= floor);
        doubtful.iter().all(|top| *top < floor).then_some(settled)
    }

    /// Bounds of the cut line and of its slope over a range of turns.
    pub fn bounds(&self, phi: Interval, inner: f64, outer: f64) -> Option<(Interval, Interval)> {
        let regions = self.settle_wall(phi, inner, outer, &mut { MOST_PARTS })?;
        let slopes = regions
            .iter()
            .map(|region| region.slopes.by_phi)
            .reduce(Interval::hull)?;
        let heights = regions
            .iter()
            .map(|region| region.heights)
            .reduce(|a, b| Interval {
                lo: a.lo.max(b.lo),
                hi: a.hi.max(b.hi),
            })?;
        Some((heights, slopes))
    }

    /// Derivatives at the crest across a part of the wall, by Newton's method over intervals: a
    /// hill's top lies within middle − s′ / s″.
    pub fn crest_over(&self, phi: Interval, wall: Interval) -> Option<Slopes<Interval>> {
        const STEPS: u32 = 3;
        let mut part = wall;
        let mut at = self.settle(phi, part)?.slopes;
        for _ in 0..STEPS {
            let middle = self.settle(phi, Interval::point(part.middle()))?.slopes;
            let newton = -(middle.by_rho / at.by_rho_rho) + part.middle();
            let next = Interval {
                lo: newton.lo.max(part.lo),
                hi: newton.hi.min(part.hi),
            };
            // Nothing left: the crest lies past the edge that is taken into account already.
            if next.lo > next.hi || next.width() > 0.7 * part.width() {
                break;
            }
            part = next;
            at = self.settle(phi, part)?.slopes;
        }
        Some(at)
    }
}
