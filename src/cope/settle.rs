//! Proofs over ranges of turns: where along a bent main's centre line the balls lie that make the
//! cut line, that there is one top among them at every turn, and how the line bends.
//!
//! Stretches of the centre line along which the balls only rise higher or only less high, and those
//! that rise nowhere as high as one chosen ball, are left out. The comparison is made turn by turn: at the middle turn the heights differ by so much, and over
//! the range they do not come closer than the difference of their slopes allows. On what is left
//! the height must be a hill along the centre line; its top then moves within what Newton's method
//! over intervals leaves of the stretch.

use crate::cope::curve::Curve;
use crate::cope::interval::Interval;
use crate::cope::rise::{Over, Reach, Rise, Wall, size, top_between};
use crate::cope::spine::{Place, Spine};

/// Stretches of the centre line looked at in one round, more than there were to begin with.
const MOST_SPANS: usize = 24;

/// Times that the stretches are narrowed for one range of turns.
const ROUNDS: u32 = 4;

/// A range of turns whose cut line is one smooth top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settled {
    /// The stretch of the centre line that holds the top at every turn of the range.
    pub span: Interval,
    /// Where it is at the middle turn, and how fast it moves, mm per radian.
    pub start: f64,
    pub drift: f64,
    pub heights: Interval,
    pub slope: Interval,
    pub bend: Interval,
    /// What the line runs on: an edge of the wall, or the highest point of it.
    pub curve: Curve,
}

/// What a range of turns turned out to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    Settled(Settled),
    /// No ball reaches the wall.
    Beside,
    Unclear,
}

/// The ball that others are compared with.
#[derive(Debug, Clone, Copy)]
struct Chosen {
    /// Along the centre line.
    u: f64,
    /// At the middle turn.
    height: f64,
    /// At least, over the range of turns.
    least: f64,
    slope: Interval,
}

/// A range of turns and the wall that is looked at.
struct Range<'a> {
    /// As the middle turn sees it.
    seen: &'a Spine,
    wall: Wall,
    /// Half the width of the range, rad, and its sine and cosine.
    half: f64,
    swung: (f64, f64),
}

impl Spine {
    /// Settles a range of turns, if it is plain enough. `spans` are stretches of the centre line
    /// outside of which there is no top at any turn of the range; they are narrowed.
    pub fn settle(&self, phi: Interval, wall: Wall, spans: &mut Vec<Interval>) -> Verdict {
        let seen = self.seen(phi.middle());
        let half = phi.width() / 2.0;
        let range = Range {
            seen: &seen,
            wall,
            half,
            swung: half.sin_cos(),
        };
        let chosen = range.chosen(spans);
        let mut width = self.radius / 2.0;
        for _ in 0..ROUNDS {
            if !range.narrow(spans, chosen.as_ref(), width) {
                break;
            }
            let Some(hull) = spans.iter().copied().reduce(Interval::hull) else {
                return Verdict::Beside;
            };
            if let Some(chosen) = chosen
                && chosen.least.is_finite()
                && let Some(settled) = range.hill(hull, chosen.u)
            {
                spans.clear();
                spans.push(settled.span);
                return Verdict::Settled(settled);
            }
            // A ball that does not reach the wall all through is no hill's top.
            if chosen.is_some_and(|chosen| !chosen.least.is_finite()) {
                break;
            }
            let widest = spans.iter().map(|span| span.width()).fold(0.0, f64::max);
            width = 0.4 * widest;
        }
        Verdict::Unclear
    }
}

impl Range<'_> {
    /// A high ball: the highest of the spans' middles, moved uphill.
    fn chosen(&self, spans: &[Interval]) -> Option<Chosen> {
        const STEPS: u32 = 4;
        let radius = self.seen.radius;
        let height = |u: f64| Rise::height_at(radius, &self.seen.at(u), self.wall);
        let mut best: Option<(f64, f64)> = None;
        for span in spans {
            let u = span.middle();
            if let Some(height) = height(u)
                && best.is_none_or(|(_, best)| height > best)
            {
                best = Some((u, height));
            }
        }
        let (mut u, mut top) = match best {
            Some(best) => best,
            // The ball nearest to the wall.
            None => {
                let square = |u: f64| Rise::square_at(radius, &self.seen.at(u), self.wall);
                let middles = spans.iter().map(|span| span.middle());
                let (_, mut u) = middles
                    .map(|u| (square(u), u))
                    .reduce(|a, b| if b.0 > a.0 { b } else { a })?;
                for _ in 0..STEPS {
                    u += Rise::towards_wall(&self.seen.at(u), self.wall);
                }
                (u, height(u)?)
            }
        };
        for _ in 0..STEPS {
            let rise = Rise::at(radius, &self.seen.at(u), self.wall);
            let next = u - rise.by_run / rise.by_run_run;
            match height(next) {
                Some(higher) if rise.by_run_run < 0.0 && higher > top => (u, top) = (next, higher),
                _ => break,
            }
        }
        let (_, reach) = self.reach(Interval::point(u));
        Some(Chosen {
            u,
            height: top,
            least: reach.least(),
            slope: reach.slope(),
        })
    }

    /// A span over all turns of the range, and how near its balls come to the wall.
    fn reach(&self, span: Interval) -> (Place<Interval>, Reach) {
        let radius = self.seen.radius;
        let middle = Rise::square_at(radius, &self.seen.at(span.middle()), self.wall);
        let at = self.seen.over(span).swung(self.swung);
        let reach = Reach::over(radius, &at, self.wall);
        (at, reach.about(middle, span.width() / 2.0, self.half))
    }

    /// Whether a top may lie in a span at some turn of the range.
    fn may_hold(&self, span: Interval, chosen: Option<&Chosen>) -> bool {
        let radius = self.seen.radius;
        let at = self.seen.over(span);
        let (middle, run) = (self.seen.at(span.middle()), span.width() / 2.0);
        let square = Rise::square_at(radius, &middle, self.wall);
        let all = Reach::over(radius, &at.swung(self.swung), self.wall);
        let all = all.about(square, run, self.half);
        if all.square.hi < 0.0 || !all.may_be_level() {
            return false;
        }
        let Some(chosen) = chosen else {
            return true;
        };
        if all.most() < chosen.least {
            return false;
        }
        let here = Reach::over(radius, &at, self.wall).about(square, run, 0.0);
        let mut top = here.most();
        let rise = size(here.rise());
        if rise.is_finite()
            && let Some(height) = Rise::height_at(radius, &middle, self.wall)
        {
            top = top.min(height + run * rise);
        }
        let gains = self.half * size(all.slope() - chosen.slope);
        // An infinite or NaN gain proves nothing.
        let below = top + gains < chosen.height;
        !below
    }

    /// Leaves out spans without a top and divides the others to a width; `false` where there would
    /// be too many.
    fn narrow(&self, spans: &mut Vec<Interval>, chosen: Option<&Chosen>, width: f64) -> bool {
        let mut kept = Vec::new();
        let most = spans.len() + MOST_SPANS;
        let mut looked = 0;
        while let Some(span) = spans.pop() {
            looked += 1;
            if looked > most {
                spans.push(span);
                spans.append(&mut kept);
                return false;
            }
            if !self.may_hold(span, chosen) {
                continue;
            }
            if span.width() <= width {
                kept.push(span);
                continue;
            }
            let middle = span.middle();
            spans.push(Interval { hi: middle, ..span });
            spans.push(Interval { lo: middle, ..span });
        }
        *spans = kept;
        true
    }

    /// Settles the range if the height is a hill all along a span that holds the top.
    fn hill(&self, span: Interval, chosen: f64) -> Option<Settled> {
        const STEPS: u32 = 3;
        let over = |span: Interval| {
            let (at, reach) = self.reach(span);
            let depth = reach.depth();
            Rise::anywhere(&at, depth, self.wall).map(|rise| (at, depth, rise))
        };
        let mut span = span;
        let (mut at, mut depth, mut rise) = over(span)?;
        if !is_hill(rise.by_run_run) {
            return None;
        }
        let (start, middle) = top_between(self.seen, self.wall, span, chosen);
        let half = Interval {
            lo: -self.half,
            hi: self.half,
        };
        // A step of Newton's method from the top at the middle turn.
        let (.., here) = over(Interval::point(start))?;
        let slope = half * here.by_phi_run + middle.by_run;
        for _ in 0..STEPS {
            let newton = -(slope / rise.by_run_run) + start;
            let next = Interval {
                lo: newton.lo.max(span.lo),
                hi: newton.hi.min(span.hi),
            };
            let left = next.lo <= next.hi;
            if !left {
                return None;
            }
            let gained = next.width() < 0.8 * span.width();
            span = next;
            if !gained {
                break;
            }
            // From the top at the middle turn to those at the others.
            (at, depth, rise) = over(span.hull(Interval::point(start)))?;
        }
        let drift = -middle.by_phi_run / middle.by_run_run;
        if drift.is_finite()
            && let Some(along) = self.along(span, start, drift)
        {
            (at, depth) = along;
            rise = Rise::anywhere(&at, depth, self.wall)?;
        }
        let mut bend: Option<Interval> = None;
        let (mut outside, mut bore) = (true, true);
        for part in self.wall.may_be_over(at.place[0]) {
            outside &= part == Over::Outside;
            bore &= part == Over::Bore;
            let more = Rise::over(&at, depth, self.wall, part).bend;
            bend = Some(bend.map_or(more, |bend| bend.hull(more)));
        }
        let Wall { inner, outer } = self.wall;
        let (inner, outer) = match (outside, bore) {
            (true, _) => (outer, outer),
            (_, true) => (inner, inner),
            _ => (inner, outer),
        };
        Some(Settled {
            span,
            start,
            drift,
            heights: rise.height,
            slope: rise.by_phi,
            bend: bend?,
            curve: Curve::Bent { inner, outer },
        })
    }

    /// The places of the tops, and √(R² − d² − p²), followed turn by turn: at a turn δ off the
    /// middle a top lies at start + drift δ + τ. By the mean value theorem along that path, whose
    /// derivatives weigh each other up where their ranges alone do not show it, τ is small of the
    /// second order.
    fn along(&self, span: Interval, start: f64, drift: f64) -> Option<(Place<Interval>, Interval)> {
        const ROUNDS: u32 = 2;
        let radius = self.seen.radius;
        let half = Interval {
            lo: -self.half,
            hi: self.half,
        };
        let middle = self.seen.at(start);
        let top = Rise::at(radius, &middle, self.wall);
        let square = Rise::square_at(radius, &middle, self.wall);
        let path = half * drift;
        let whole = span.hull(path + start);
        let (mut at, mut reach) = self.reach(whole);
        let mut off = span + -start - path;
        for _ in 0..ROUNDS {
            let rise = Rise::anywhere(&at, reach.depth(), self.wall)?;
            if !is_hill(rise.by_run_run) {
                return None;
            }
            let slope = half * (rise.by_run_run * drift + rise.by_phi_run) + top.by_run;
            let newton = -(slope / rise.by_run_run);
            // The way there begins at the middle, which is to be held too.
            off = Interval {
                lo: newton.lo.max(off.lo).min(0.0),
                hi: newton.hi.min(off.hi).max(0.0),
            };
            let turned = |[out, aside, _]: [Interval; 3]| [aside, -out, Interval::point(0.0)];
            let moved = |here: [f64; 3], value: [Interval; 3], slope: [Interval; 3]| {
                let turning = turned(value);
                [0, 1, 2].map(|axis| {
                    let by_turn = slope[axis] * drift + turning[axis];
                    let next = half * by_turn + off * slope[axis] + here[axis];
                    Interval {
                        lo: next.lo.max(value[axis].lo),
                        hi: next.hi.min(value[axis].hi),
                    }
                })
            };
            let next = Place {
                place: moved(middle.place, at.place, at.slope),
                slope: moved(middle.slope, at.slope, at.bend),
                bend: at.bend,
            };
            let natural = Reach::over(radius, &next, self.wall);
            let by_turn = natural.by_run * drift + natural.by_phi;
            let followed = half * by_turn + off * natural.by_run + square;
            let known = reach.square;
            reach = natural;
            reach.square = Interval {
                lo: natural.square.lo.max(followed.lo).max(known.lo),
                hi: natural.square.hi.min(followed.hi).min(known.hi),
            };
            at = next;
        }
        Some((at, reach.depth()))
    }
}

/// Whether a slope whose derivative is bounded so only falls; not for NaN bounds.
fn is_hill(bend: Interval) -> bool {
    bend.hi < 0.0
}
