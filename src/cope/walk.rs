//! Once round a bent main: pieces proven to bend one way, without a closed form.
//!
//! Ranges of turns that are not settled are halved, until they are too narrow to matter.

use std::f64::consts::TAU;

use crate::cope::bent::{BentSeat, Known};
use crate::cope::curve::Curve;
use crate::cope::interval::Interval;
use crate::cope::profile::{Bend, Piece};
use crate::cope::rise::Wall;
use crate::cope::settle::Verdict;

/// Ranges that a turn starts with.
const START: u32 = 24;
/// Ranges looked at within one of these before the rest of it is walked in short steps.
const PATIENCE: u32 = 500;
/// Ranges of turns (rad) that cannot be settled are walked when they are no wider than this: on a
/// tube of 40 mm two thousandths of a millimetre.
const NARROW: f64 = 1e-4;
/// The same once patience is at its end.
const NARROW_AT_LAST: f64 = 4e-3;
/// A stretch that is nowhere farther than this, mm, from its chord counts as straight: next to
/// where the line changes its bend no shorter stretch can be told to bend one way.
const STRAIGHT: f64 = 2e-5;
/// Heights further apart than this, mm, at neighbouring turns are a step.
const STEP: f64 = 1e-4;

impl BentSeat {
    /// All pieces once round, in turn order, and what is known of the turns that were settled.
    pub fn pieces(&self, wall: Wall) -> (Vec<Piece>, Vec<Known>) {
        let Wall { inner, outer } = wall;
        let mut known: Vec<Known> = Vec::new();
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
        let whole = self.spine.near(self.spine.radius + outer);
        let mut open: Vec<(Interval, Vec<Interval>)> = Vec::new();
        let mut patience = PATIENCE;
        let mut begun = 0;
        while !open.is_empty() || begun < START {
            let (range, mut spans) = open.pop().unwrap_or_else(|| {
                patience = PATIENCE;
                begun += 1;
                let range = Interval {
                    lo: start(begun - 1),
                    hi: start(begun),
                };
                (range, whole.clone())
            });
            patience = patience.saturating_sub(1);
            match self.spine.settle(range, wall, &mut spans) {
                Verdict::Beside => {
                    trim(outer, range.lo, range.hi, &mut add);
                    continue;
                }
                Verdict::Settled(settled) => {
                    if let Some(bend) = way(settled.bend, range) {
                        known.push(Known {
                            over: range,
                            wall,
                            settled,
                        });
                        add(settled.curve, bend, range.lo, range.hi);
                        continue;
                    }
                }
                Verdict::Unclear => {}
            }
            let narrow = if patience > 0 { NARROW } else { NARROW_AT_LAST };
            if range.width() > narrow {
                let middle = range.middle();
                let (lower, upper) = (
                    Interval {
                        hi: middle,
                        ..range
                    },
                    Interval {
                        lo: middle,
                        ..range
                    },
                );
                open.push((upper, spans.clone()));
                open.push((lower, spans));
            } else {
                self.sliver(range, inner, outer, &mut add);
            }
        }
        (found, known)
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

/// How a curve of that bend goes over a range, if it goes one way or is as good as straight.
fn way(bend: Interval, over: Interval) -> Option<Bend> {
    if bend.hi < 0.0 {
        Some(Bend::Over)
    } else if bend.lo > 0.0 {
        Some(Bend::Under)
    } else {
        (sagitta(bend, over) <= STRAIGHT).then_some(Bend::Flat)
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
