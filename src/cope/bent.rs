//! A bent main as the generators of a branch meet it: heights, slopes, and the top of the wall.

use crate::cope::crest::crest;
use crate::cope::curve::{Curve, Jet};
use crate::cope::interval::Interval;
use crate::cope::profile::Piece;
use crate::cope::rise::{Rise, Wall, top_between};
use crate::cope::settle::{Settled, Verdict};
use crate::cope::spine::Spine;
use crate::joint::{BendSurface, BentTube};

/// A generator this far (as a part of the tube's radius) beside the main still grazes it.
const GRAZE: f64 = 1e-14;
/// What turning a main about the branch may round a turn by, rad.
const ROUNDED: f64 = 1e-13;

/// A bent main in the frame of its own turn and shift.
#[derive(Debug, Clone, PartialEq)]
pub struct BentSeat {
    tube: BentTube,
    pub spine: Spine,
    sin: f64,
    cos: f64,
    offset: f64,
    /// What has been proven of the cut line over one wall, in turn order.
    known: Vec<Known>,
}

/// A range of turns whose cut line is settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    pub over: Interval,
    pub wall: Wall,
    pub settled: Settled,
}

impl BentSeat {
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        Self {
            tube: *tube,
            spine: Spine::new(tube, sin, cos, offset),
            sin,
            cos,
            offset,
            known: Vec::new(),
        }
    }

    /// All pieces once round, in turn order. What was proven on the way is remembered, so that
    /// heights are found without a search.
    pub fn learn_pieces(&mut self, inner: f64, outer: f64) -> Vec<Piece> {
        let (pieces, known) = self.pieces(Wall { inner, outer });
        self.known = known;
        pieces
    }

    /// The first hit of a generator on the main.
    fn hit(&self, phi: f64, rho: f64) -> Option<(f64, BendSurface)> {
        let (sin, cos) = phi.sin_cos();
        let (x, y) = (rho * cos, rho * sin);
        let from = [x * self.sin, y - self.offset, -x * self.cos];
        let towards = [self.cos, 0.0, self.sin];
        self.tube.first_hit(from, towards).or_else(|| {
            let grown = BentTube {
                radius: self.tube.radius * (1.0 + GRAZE),
                ..self.tube
            };
            grown.first_hit(from, towards)
        })
    }

    /// What is known at a turn of the curve over a wall.
    fn known_at(&self, inner: f64, outer: f64, phi: f64) -> Option<&Known> {
        let index = self.known.partition_point(|known| known.over.hi < phi);
        let known = self.known.get(index)?;
        let same = known.wall == Wall { inner, outer }
            || known.settled.curve == Curve::Bent { inner, outer };
        (same && phi >= known.over.lo).then_some(known)
    }

    /// Height and derivatives of the highest point over the wall; `None` where all of it passes
    /// beside.
    pub fn top(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        if let Some(known) = self.known_at(inner, outer, phi)
            && let Some(jet) = self.top_known(known, phi)
        {
            return Some(jet);
        }
        // A turn that was rounded past the last generator to meet the main still means that one.
        [0.0, -ROUNDED, ROUNDED]
            .into_iter()
            .find_map(|off| self.top_at(inner, outer, phi + off))
    }

    /// The same where it is settled: the top of a hill along the centre line.
    fn top_known(&self, known: &Known, phi: f64) -> Option<Jet> {
        let Settled {
            span, start, drift, ..
        } = known.settled;
        let seen = self.spine.seen(phi);
        let start = start + drift * (phi - known.over.middle());
        let (_, at) = top_between(&seen, known.wall, span, start);
        at.by_run.is_finite().then_some(Jet {
            height: at.height,
            slope: at.by_phi,
            bend: at.bend,
        })
    }

    /// The same by its ray hits and crests, for a turn of which nothing is known.
    pub fn top_at(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        let wall = Wall { inner, outer };
        let seen = self.spine.seen(phi);
        let at = |rho: f64| self.hit(phi, rho).map(|(height, _)| (height, rho));
        let outside = at(outer);
        let top = if inner < outer {
            let edge = match (outside, at(inner)) {
                (Some(outside), Some(bore)) if bore.0 > outside.0 => Some(bore),
                (outside, bore) => outside.or(bore),
            };
            let floor = edge.map_or(f64::NEG_INFINITY, |(height, _)| height);
            crest(&seen, wall, floor)
                .map(|(rho, height)| (height, rho))
                .or(edge)
        } else {
            outside
        };
        let (height, rho) = top?;
        let u = seen.nearest([rho, 0.0, height]);
        let rise = Rise::at(self.spine.radius, &seen.at(u), wall);
        Some(Jet {
            height,
            slope: rise.by_phi,
            bend: rise.bend,
        })
    }

    /// Bounds of the cut line and of its slope over a range of turns.
    pub fn bounds(&self, phi: Interval, inner: f64, outer: f64) -> Option<(Interval, Interval)> {
        let wall = Wall { inner, outer };
        let known = self.known_at(inner, outer, phi.middle());
        let mut spans = match known {
            Some(known) if phi.lo >= known.over.lo && phi.hi <= known.over.hi => {
                vec![known.settled.span]
            }
            _ => self.spine.near(self.spine.radius + outer),
        };
        match self.spine.settle(phi, wall, &mut spans) {
            Verdict::Settled(settled) => Some((settled.heights, settled.slope)),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::cope::seat::{Ground, Seat};
    use crate::joint::{Bend, Main};
    use crate::units::{Angle, Length};

    /// Seats on a bend that faces the branch, lies across it and bends away from it; the landing is
    /// on the arc and at its end.
    fn seats() -> impl Iterator<Item = BentSeat> {
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        [(0.0, 10.0), (200.0, 94.0), (90.0, -60.0)]
            .into_iter()
            .map(move |(facing, station)| {
                let bend = Bend::new(mm(120.0), deg(90.0), mm(station), deg(facing)).unwrap();
                let main = Main::bent(mm(60.3), bend, deg(55.0), mm(5.0)).unwrap();
                match Seat::of(&main).ground {
                    Ground::Bent(seat) => *seat,
                    Ground::Straight(_) => unreachable!("a bent main"),
                }
            })
    }

    const WALLS: [(f64, f64); 3] = [(21.0, 21.0), (18.0, 21.0), (8.0, 21.0)];

    #[test]
    fn derivatives_agree_with_differences() {
        const STEP: f64 = 1e-5;
        let mut crests = 0;
        for seat in seats() {
            for (inner, outer) in WALLS {
                for step in 0..60 {
                    let phi = 0.05 + f64::from(step) * 0.1;
                    let at = |phi: f64| seat.top_at(inner, outer, phi).unwrap();
                    let (before, here, after) = (at(phi - STEP), at(phi), at(phi + STEP));
                    let slope = (after.height - before.height) / (2.0 * STEP);
                    let bend = (after.slope - before.slope) / (2.0 * STEP);
                    let near = |a: f64, b: f64| (a - b).abs() < 1e-3 * (1.0 + b.abs());
                    assert!(near(here.slope, slope), "{phi} {here:?} {slope}");
                    assert!(near(here.bend, bend), "{phi} {here:?} {bend}");
                    let edge = |rho: f64| seat.top_at(rho, rho, phi).unwrap().height;
                    crests += u32::from(here.height > edge(inner).max(edge(outer)) + 1e-6);
                }
            }
        }
        assert!(crests > 10, "only {crests} crests inside the wall");
    }

    #[test]
    fn what_was_proven_holds_what_a_search_finds() {
        for mut seat in seats() {
            for (inner, outer) in WALLS {
                seat.learn_pieces(inner, outer);
                assert!(seat.known.len() > 20);
                for known in &seat.known {
                    for share in [0.0, 0.3, 0.8, 1.0] {
                        let phi = known.over.lo + share * known.over.width();
                        let found = seat.top_at(inner, outer, phi).unwrap();
                        let learnt = seat.top_known(known, phi).unwrap();
                        let settled = known.settled;
                        assert!(
                            (found.height - learnt.height).abs() < 1e-9,
                            "{known:?} {phi}"
                        );
                        let holds = |of: Interval, value: f64| {
                            of.lo - 1e-6 <= value && value <= of.hi + 1e-6
                        };
                        assert!(holds(settled.heights, found.height), "{known:?} {found:?}");
                        assert!(holds(settled.slope, found.slope), "{known:?} {found:?}");
                        assert!(holds(settled.bend, learnt.bend), "{known:?} {learnt:?}");
                    }
                }
            }
        }
    }
}
