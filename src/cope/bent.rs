//! The cut line on a bent main: pieces proven to bend one way, without a closed form.
//!
//! A range of turns (and of wall radii) is settled when a band of heights is found in which every
//! generator of the range enters the main exactly once (its depth rises all through the band, is
//! inside at its lower and outside at its upper edge) and above which none meets anything. For the
//! latter the main is grown by as much as the generators of the range stray from the middle one:
//! the middle one then meets the grown main no higher than any of them meets the real one. In
//! the band the derivatives are bounded. Ranges that cannot be settled are halved, until they
//! are too narrow to matter.

use std::f64::consts::TAU;

use crate::cope::curve::{Curve, Jet};
use crate::cope::interval::Interval;
use crate::cope::profile::{Bend, Piece};
use crate::cope::ring::{Ring, Slopes};
use crate::joint::{BendSurface, BentTube};

/// Ranges that a turn starts with.
const START: u32 = 24;
/// Parts of walls looked at for one of these before the rest of it is walked in short steps.
const PATIENCE: u32 = 500;
/// Ranges of turns (rad) that cannot be settled are walked when they are no wider than this: on a
/// tube of 40 mm two thousandths of a millimetre.
const NARROW: f64 = 1e-4;
/// The same once patience is at its end.
const NARROW_AT_LAST: f64 = 4e-3;
/// Parts of a wall looked at before a range of turns is halved instead.
const MOST_PARTS: u32 = 48;
/// Parts looked at where the highest point itself is asked for; halving the wall twenty times over
/// takes a few dozen.
const EVERY_PART: u32 = 1000;
/// Narrowest parts that a wall is divided into while a range of turns is settled.
const WALL_PARTS: f64 = 4096.0;
/// A stretch that is nowhere farther than this, mm, from its chord counts as straight: next to
/// where the line changes its bend no shorter stretch can be told to bend one way.
const STRAIGHT: f64 = 2e-5;
/// A generator this far (as a part of the tube's radius) beside the main still grazes it.
const GRAZE: f64 = 1e-14;
/// What turning a main about the branch may round a turn by, rad.
const ROUNDED: f64 = 1e-13;
/// A part of the wall that rises by less than this, mm, is level.
const LEVEL: f64 = 1e-10;
/// Heights further apart than this, mm, at neighbouring turns are a step.
const STEP: f64 = 1e-4;

/// A bent main in the frame of its own turn and shift.
#[derive(Debug, Clone, PartialEq)]
pub struct BentSeat {
    tube: BentTube,
    ring: Ring,
    sin: f64,
    cos: f64,
    offset: f64,
}

/// A settled range: its heights and derivatives.
#[derive(Debug, Clone, Copy)]
struct Region {
    rho: Interval,
    heights: Interval,
    slopes: Slopes<Interval>,
}

/// What a range of turns turned out to be.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Verdict {
    Bends(Bend, Curve),
    Beside,
    Unclear,
}

impl BentSeat {
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        Self {
            tube: *tube,
            ring: Ring::new(tube, sin, cos, offset),
            sin,
            cos,
            offset,
        }
    }

    /// The first hit of a generator on the main grown by `more`.
    fn hit(&self, phi: f64, rho: f64, more: f64) -> Option<(f64, BendSurface)> {
        let (sin, cos) = phi.sin_cos();
        let (x, y) = (rho * cos, rho * sin);
        let from = [x * self.sin, y - self.offset, -x * self.cos];
        let grown = |more: f64| BentTube {
            radius: self.tube.radius + more,
            ..self.tube
        };
        let towards = [self.cos, 0.0, self.sin];
        grown(more)
            .first_hit(from, towards)
            .or_else(|| grown(more + GRAZE * self.tube.radius).first_hit(from, towards))
    }

    /// Height and derivatives of the highest point over the wall; `None` where all of it passes
    /// beside.
    pub fn top(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        // A turn that was rounded past the last generator to meet the main still means that one.
        [0.0, -ROUNDED, ROUNDED]
            .into_iter()
            .find_map(|off| self.top_at(inner, outer, phi + off))
    }

    fn top_at(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        let (rho, inside) = if inner < outer {
            self.highest(inner, outer, phi, EVERY_PART)?
        } else {
            (outer, false)
        };
        self.jet(rho, inside, phi)
    }

    /// The same for a wall that is known to be a hill from bore to outside.
    pub fn top_of_hill(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        let rising = |rho: f64| {
            let (height, surface) = self.hit(phi, rho, 0.0)?;
            let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
            Some(slopes.by_rho > 0.0)
        };
        if rising(outer)? {
            return self.jet(outer, false, phi);
        }
        if !rising(inner)? {
            return self.jet(inner, false, phi);
        }
        let wall = Interval {
            lo: inner,
            hi: outer,
        };
        self.jet(self.crest(wall, phi), true, phi)
    }

    /// Height and derivatives at a wall radius; `inside` that of a crest, which moves with the
    /// turn.
    fn jet(&self, rho: f64, inside: bool, phi: f64) -> Option<Jet> {
        let (height, surface) = self.hit(phi, rho, 0.0)?;
        let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
        let across = if inside {
            slopes.by_phi_rho * slopes.by_phi_rho / slopes.by_rho_rho
        } else {
            0.0
        };
        Some(Jet {
            height,
            slope: slopes.by_phi,
            bend: slopes.by_phi_phi - across,
        })
    }

    /// The wall radius with the highest hit, and whether it lies inside the wall: parts of the
    /// wall that cannot hold it are ruled out, the others divided until the height only rises,
    /// only falls, or has one crest.
    ///
    /// After `most` parts the best so far is returned.
    fn highest(&self, inner: f64, outer: f64, phi: f64, most: u32) -> Option<(f64, bool)> {
        let mut best: Option<(f64, f64)> = None;
        let offer = |rho: f64, best: &mut Option<(f64, f64)>| {
            if let Some((height, _)) = self.hit(phi, rho, 0.0)
                && best.is_none_or(|(_, top)| height > top)
            {
                *best = Some((rho, height));
            }
        };
        offer(outer, &mut best);
        offer(inner, &mut best);
        let mut open = vec![Interval {
            lo: inner,
            hi: outer,
        }];
        let smallest = (outer - inner) * 1e-7;
        let mut parts = 0;
        while let Some(part) = open.pop() {
            parts += 1;
            let middle = part.middle();
            let half = part.width() / 2.0;
            if let Some(region) = self.settle(Interval::point(phi), part) {
                let Slopes {
                    by_rho, by_rho_rho, ..
                } = region.slopes;
                if by_rho.may_be_zero() && by_rho_rho.hi < 0.0 {
                    offer(self.crest(part, phi), &mut best);
                    continue;
                }
                let rise = by_rho.lo.abs().max(by_rho.hi.abs()) * half;
                if !by_rho.may_be_zero() || by_rho_rho.lo > 0.0 || rise < LEVEL {
                    offer(part.lo, &mut best);
                    offer(part.hi, &mut best);
                    continue;
                }
            }
            let top = self.hit(phi, middle, half).map(|(height, _)| height);
            let hopeless = match (top, best) {
                (None, _) => true,
                (Some(top), Some((_, best))) => top <= best + LEVEL,
                _ => false,
            };
            offer(middle, &mut best);
            if !hopeless && half > smallest && parts < most {
                open.push(Interval {
                    lo: part.lo,
                    hi: middle,
                });
                open.push(Interval {
                    lo: middle,
                    hi: part.hi,
                });
            }
        }
        best.map(|(rho, _)| (rho, rho > inner && rho < outer))
    }

    /// Where the height over a part of the wall, known to be a hill, has its top.
    fn crest(&self, part: Interval, phi: f64) -> f64 {
        let (mut low, mut high) = (part.lo, part.hi);
        let mut rho = part.middle();
        for _ in 0..60 {
            let Some((height, surface)) = self.hit(phi, rho, 0.0) else {
                return rho;
            };
            let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
            if slopes.by_rho > 0.0 {
                low = rho;
            } else {
                high = rho;
            }
            let newton = rho - slopes.by_rho / slopes.by_rho_rho;
            let next = if newton > low && newton < high {
                newton
            } else {
                f64::midpoint(low, high)
            };
            if (next - rho).abs() <= 1e-13 * part.hi {
                return next;
            }
            rho = next;
        }
        rho
    }

    /// Settles a range, if it is plain enough.
    fn settle(&self, phi: Interval, rho: Interval) -> Option<Region> {
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
    fn settle_wall(
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
            self.highest(inner, outer, phi.middle(), MOST_PARTS)
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

    fn verdict(&self, phi: Interval, inner: f64, outer: f64, patience: &mut u32) -> Verdict {
        let Some(regions) = self.settle_wall(phi, inner, outer, patience) else {
            return Verdict::Unclear;
        };
        if regions.is_empty() {
            return Verdict::Beside;
        }
        let found = if inner < outer {
            self.bend_over_wall(phi, &regions, inner, outer)
        } else {
            let bend = regions.first().map(|region| region.slopes.by_phi_phi);
            bend.map(|bend| (bend, Curve::Bent { inner, outer }))
        };
        match found {
            Some((bend, curve)) if bend.hi < 0.0 => Verdict::Bends(Bend::Over, curve),
            Some((bend, curve)) if bend.lo > 0.0 => Verdict::Bends(Bend::Under, curve),
            Some((bend, curve)) if sagitta(bend, phi) <= STRAIGHT => {
                Verdict::Bends(Bend::Flat, curve)
            }
            _ => Verdict::Unclear,
        }
    }

    /// Bounds of the bend of the highest line over a wall whose parts that may hold it are
    /// settled, and the curve it runs on: along an edge of the wall, or on a crest inside.
    fn bend_over_wall(
        &self,
        phi: Interval,
        regions: &[Region],
        inner: f64,
        outer: f64,
    ) -> Option<(Interval, Curve)> {
        let along = |rho: f64| Curve::Bent {
            inner: rho,
            outer: rho,
        };
        let all = |proven: &dyn Fn(&Slopes<Interval>) -> bool| {
            regions.iter().all(|region| proven(&region.slopes))
        };
        let edge = |rho: f64| {
            let reached = |region: &Region| region.rho.lo <= rho && region.rho.hi >= rho;
            if regions.iter().any(reached) {
                self.settle(phi, Interval::point(rho)).map(|at| at.slopes)
            } else {
                None
            }
        };
        if all(&|slopes| slopes.by_rho.lo > 0.0) {
            return edge(outer).map(|at| (at.by_phi_phi, along(outer)));
        }
        if all(&|slopes| slopes.by_rho.hi < 0.0) {
            return edge(inner).map(|at| (at.by_phi_phi, along(inner)));
        }
        if !all(&|slopes| slopes.by_rho_rho.hi < 0.0) {
            return None;
        }
        // A hill across the wall: its top is an edge where the height still rises to it.
        let (bore, outside) = (edge(inner), edge(outer));
        let may_be = |at: &Option<Slopes<Interval>>, towards: f64| {
            at.as_ref()
                .is_some_and(|at| (at.by_rho * towards).hi >= 0.0)
        };
        let must_be = |at: &Option<Slopes<Interval>>, towards: f64| {
            at.as_ref().is_some_and(|at| (at.by_rho * towards).lo > 0.0)
        };
        let mut bend: Option<Interval> = None;
        let mut add = |more: Interval| bend = Some(bend.map_or(more, |bend| bend.hull(more)));
        for (at, towards) in [(&outside, 1.0), (&bore, -1.0)] {
            if let (Some(at), true) = (at, may_be(at, towards)) {
                add(at.by_phi_phi);
            }
        }
        if !must_be(&outside, 1.0) && !must_be(&bore, -1.0) {
            let wall = regions
                .iter()
                .map(|region| region.rho)
                .reduce(Interval::hull)?;
            let at = self.crest_over(phi, wall)?;
            add(at.by_phi_phi - at.by_phi_rho.squared() / at.by_rho_rho);
        }
        let covered: f64 = regions.iter().map(|region| region.rho.width()).sum();
        let curve = if covered >= (outer - inner) * (1.0 - 1e-9) {
            Curve::BentHill { inner, outer }
        } else {
            Curve::Bent { inner, outer }
        };
        bend.map(|bend| (bend, curve))
    }

    /// Derivatives at the crest across a part of the wall, by Newton's method over intervals: a
    /// hill's top lies within middle − s′ / s″.
    fn crest_over(&self, phi: Interval, wall: Interval) -> Option<Slopes<Interval>> {
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

    /// All pieces once round, in turn order.
    pub fn pieces(&self, inner: f64, outer: f64) -> Vec<Piece> {
        let mut found: Vec<Piece> = Vec::new();
        let mut add = |curve: Curve, bend: Bend, from: f64, to: f64| match found.last_mut() {
            Some(last)
                if last.curve == curve
                    && last.bend == bend
                    && matches!(bend, Bend::Over | Bend::Under) =>
            {
                last.to = to;
            }
            _ => found.push(Piece {
                main: 0,
                curve,
                bend,
                from,
                to,
            }),
        };
        let start = |step: u32| TAU * f64::from(step) / f64::from(START);
        let mut open: Vec<Interval> = Vec::new();
        let mut patience = PATIENCE;
        let mut begun = 0;
        while !open.is_empty() || begun < START {
            let range = open.pop().unwrap_or_else(|| {
                patience = PATIENCE;
                begun += 1;
                Interval {
                    lo: start(begun - 1),
                    hi: start(begun),
                }
            });
            match self.verdict(range, inner, outer, &mut patience) {
                Verdict::Bends(bend, curve) => add(curve, bend, range.lo, range.hi),
                Verdict::Beside => trim(outer, range.lo, range.hi, &mut add),
                Verdict::Unclear => {
                    let narrow = if patience > 0 { NARROW } else { NARROW_AT_LAST };
                    if range.width() > narrow {
                        let middle = range.middle();
                        open.push(Interval {
                            lo: middle,
                            ..range
                        });
                        open.push(Interval {
                            hi: middle,
                            ..range
                        });
                    } else {
                        self.sliver(range, inner, outer, &mut add);
                    }
                }
            }
        }
        found
    }

    /// A range too short to settle: cut where the line steps, or where it leaves the main.
    fn sliver(
        &self,
        range: Interval,
        inner: f64,
        outer: f64,
        add: &mut impl FnMut(Curve, Bend, f64, f64),
    ) {
        let height = |phi: f64| self.top_at(inner, outer, phi).map(|jet| jet.height);
        let mut piece = |seated: bool, from: f64, to: f64| {
            if to > from {
                let bent = Curve::Bent { inner, outer };
                if seated {
                    add(bent, Bend::Sliver, from, to);
                } else {
                    trim(outer, from, to, add);
                }
            }
        };
        let (left, right) = (height(range.lo), height(range.hi));
        // A wide range rises by this much without a step.
        let slope = |phi: f64| self.top(inner, outer, phi).map(|jet| jet.slope.abs());
        let rise = slope(range.lo)
            .unwrap_or(0.0)
            .max(slope(range.hi).unwrap_or(0.0));
        let level = if range.width() > NARROW && rise.is_finite() {
            STEP.max(2.0 * rise * range.width())
        } else {
            STEP
        };
        // Halved towards the greater change, until none is left or a step is between two doubles.
        let (mut low, mut high) = ((range.lo, left), (range.hi, right));
        let stepped = loop {
            let alike = match (low.1, high.1) {
                (Some(left), Some(right)) => (left - right).abs() <= level,
                (left, right) => left == right,
            };
            if alike {
                break false;
            }
            let middle = f64::midpoint(low.0, high.0);
            if middle <= low.0 || middle >= high.0 {
                break true;
            }
            let here = height(middle);
            let as_left = match (low.1, here, high.1) {
                (Some(left), Some(here), Some(right)) => (here - left).abs() < (here - right).abs(),
                (left, here, _) => here.is_some() == left.is_some(),
            };
            if as_left {
                low = (middle, here);
            } else {
                high = (middle, here);
            }
        };
        if !stepped {
            piece(left.is_some(), range.lo, range.hi);
            return;
        }
        match (left, right) {
            // A step: the piece between two doubles draws it.
            (Some(_), Some(_)) => {
                piece(true, range.lo, low.0);
                piece(true, low.0, high.0);
                piece(true, high.0, range.hi);
            }
            // The trim goes up to the last generator that still meets the main.
            (None, _) => {
                piece(false, range.lo, high.0);
                piece(true, high.0, range.hi);
            }
            (_, None) => {
                piece(true, range.lo, low.0);
                piece(false, low.0, range.hi);
            }
        }
    }
}

/// Largest distance of a curve from its chord: width² |s″| / 8.
fn sagitta(bend: Interval, over: Interval) -> f64 {
    over.width().powi(2) * bend.lo.abs().max(bend.hi.abs()) / 8.0
}

/// Beside the main the wall is trimmed level; the trim is a cosine, and is cut where it turns.
fn trim(rho: f64, from: f64, to: f64, add: &mut impl FnMut(Curve, Bend, f64, f64)) {
    let over = f64::midpoint(from, to).cos() > 0.0;
    let bend = if over { Bend::Over } else { Bend::Under };
    add(Curve::Trim { rho }, bend, from, to);
}
