//! Where the end first touches, and where a gap is widest: once round by turns, then closer.

use std::f64::consts::TAU;

use crate::cope::fit::surface::{CutEnd, Ground};
use crate::units::sort_by_number;

/// How closely is looked.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// Turns looked at, once round.
    pub turns: u32,
    /// Wall radii looked at, where each has a height of its own.
    pub radii: u32,
    /// Places looked at more closely.
    pub places: usize,
    /// Narrowing steps of a search along the turns, each to 0.618 of what was left.
    pub along: u32,
    /// Narrowing steps of a search across the wall.
    pub across: u32,
}

impl Effort {
    /// For what is shown: a turn a degree.
    pub const SHOWN: Self = Self {
        turns: 360,
        radii: 5,
        places: 3,
        // 1° times 0.618 to the power of this is 2e-10°.
        along: 46,
        across: 24,
    };
    /// For a comparison of many.
    pub const COMPARED: Self = Self {
        turns: 120,
        radii: 3,
        places: 2,
        // 2e-4° of 3°: a gap is level there, to less than anything that is compared.
        along: 20,
        across: 10,
    };
}

/// A value less than both this far beside it (rad) by this much (mm) is no value of the curve.
const ISOLATED: f64 = 1e-9;
const SPIKE: f64 = 1e-2;
/// How far beside a kink the next turn to look at is, rad.
const BESIDE: f64 = 1e-7;

/// Turns to look at, ascending within 0 to 2π: evenly spread, and where a seam of a main comes
/// under an edge of the wall.
pub fn turns(truth: &Ground, cut: &CutEnd, count: u32) -> Vec<f64> {
    let mut found: Vec<f64> = (0..count)
        .map(|step| TAU * f64::from(step) / f64::from(count))
        .collect();
    let mut add = |turn: f64| {
        for beside in [-BESIDE, 0.0, BESIDE] {
            let turn = (turn + beside).rem_euclid(TAU);
            if turn < TAU {
                found.push(turn);
            }
        }
    };
    for rho in [cut.outside, cut.bore] {
        truth.seam_turns(rho, &mut add);
        cut.ground
            .seam_turns(rho, &mut |turn| add(cut.turn_on_tube(turn)));
    }
    // An untrue print does not close.
    add(cut.zero);
    // Where a bend is grazed, and where one main takes over from another, is found by looking.
    let mut more = Vec::new();
    for ground in [truth, &cut.ground] {
        if ground.is_plain() {
            continue;
        }
        for rho in [cut.outside, cut.bore] {
            let state = |turn: f64| ground.which(rho, turn.sin_cos());
            for step in 0..count {
                let turn = |step: u32| TAU * f64::from(step) / f64::from(count);
                changes(turn(step), turn(step + 1), &state, &mut more);
            }
        }
    }
    found.extend(
        more.into_iter()
            .map(|turn| turn.rem_euclid(TAU))
            .filter(|turn| *turn < TAU),
    );
    sort_by_number(&mut found, |turn| *turn);
    found.dedup();
    found
}

/// Adds the places next to a change of state between two places, if there is one.
fn changes(low: f64, high: f64, state: &dyn Fn(f64) -> Option<usize>, found: &mut Vec<f64>) {
    /// Halvings until two numbers are next to each other.
    const HALVINGS: u32 = 60;
    let (mut low, mut high) = (low, high);
    let first = state(low);
    if state(high) == first {
        return;
    }
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if state(middle) == first {
            low = middle;
        } else {
            high = middle;
        }
    }
    found.extend([low - BESIDE, low, high, high + BESIDE]);
}

/// The place of the least value between two, and the value.
pub fn least(low: f64, high: f64, steps: u32, of: &dyn Fn(f64) -> f64) -> (f64, f64) {
    const RATIO: f64 = 0.618_033_988_749_894_8;
    let (mut low, mut high) = (low, high);
    let (mut a, mut b) = (high - RATIO * (high - low), low + RATIO * (high - low));
    let (mut at_a, mut at_b) = (of(a), of(b));
    for _ in 0..steps {
        if at_a <= at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - RATIO * (high - low);
            at_a = of(a);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + RATIO * (high - low);
            at_b = of(b);
        }
    }
    if at_a <= at_b { (a, at_a) } else { (b, at_b) }
}

/// The least of a value round the tube: looked at on `turns`, then more closely around the least
/// few. An infinite value stands for none; `None` where there is none at all.
pub fn least_round(turns: &[f64], effort: Effort, of: &dyn Fn(f64) -> f64) -> Option<(f64, f64)> {
    let values: Vec<f64> = turns.iter().map(|turn| of(*turn)).collect();
    let count = turns.len();
    let mut hollows: Vec<usize> = (0..count)
        .filter(|at| {
            let here = values[*at];
            let before = values[(at + count - 1) % count];
            let after = values[(at + 1) % count];
            here.is_finite() && here <= before && here <= after
        })
        .collect();
    sort_by_number(&mut hollows, |at| values[*at]);
    let first = *hollows.first()?;
    let settled = |turn: f64, value: f64| {
        let beside = of(turn - ISOLATED).min(of(turn + ISOLATED));
        // Rounding where a bend is only just met; such a place has no width.
        let spike = beside.is_finite() && value < beside - SPIKE;
        if spike { beside } else { value }
    };
    let mut best = (turns[first], settled(turns[first], values[first]));
    for at in hollows.into_iter().take(effort.places) {
        let low = if at == 0 {
            turns[count - 1] - TAU
        } else {
            turns[at - 1]
        };
        let high = if at + 1 == count {
            turns[0] + TAU
        } else {
            turns[at + 1]
        };
        for (low, high) in [(low, turns[at]), (turns[at], high)] {
            let found = least(low, high, effort.along, of);
            if found.1 < best.1 {
                let value = settled(found.0, found.1);
                if value < best.1 {
                    best = (found.0, value);
                }
            }
        }
        let value = settled(turns[at], values[at]);
        if value < best.1 {
            best = (turns[at], value);
        }
    }
    best.0 = best.0.rem_euclid(TAU);
    Some(best)
}

/// How far the end stands off the mains at a turn, along the branch, before it is pushed home:
/// the least over the wall, and the wall radius of it. `None` where the whole wall passes beside.
pub fn clearance(truth: &Ground, cut: &CutEnd, phi: f64, effort: Effort) -> Option<(f64, f64)> {
    let around = phi.sin_cos();
    if cut.is_surface() {
        return over_wall(truth, cut, phi, effort);
    }
    let height = cut.height(cut.edge(), phi);
    if cut.one_edge() {
        let rho = cut.edge();
        return Some((height - truth.hit(rho, around)?, rho));
    }
    let top = truth.highest((cut.bore, cut.outside), phi)?;
    // Which part of the wall it is matters to words alone.
    let at = |rho: f64| truth.hit(rho, around).is_some_and(|hit| top - hit < 1e-6);
    let rho = [cut.outside, cut.bore].into_iter().find(|rho| at(*rho));
    Some((
        height - top,
        rho.unwrap_or(f64::midpoint(cut.bore, cut.outside)),
    ))
}

/// The least over the wall where each radius has a height of its own.
fn over_wall(truth: &Ground, cut: &CutEnd, phi: f64, effort: Effort) -> Option<(f64, f64)> {
    let around = phi.sin_cos();
    let (bore, outside) = (cut.bore, cut.outside);
    let of = |rho: f64| {
        truth.hit(rho, around).map_or(f64::INFINITY, |hit| {
            let off = cut.height(rho, phi) - hit;
            if off.is_nan() { f64::INFINITY } else { off }
        })
    };
    let mut places: Vec<f64> = (0..effort.radii)
        .map(|step| bore + (outside - bore) * f64::from(step) / f64::from(effort.radii - 1))
        .collect();
    for ground in [truth, &cut.ground] {
        ground.seam_radii(phi, &mut |rho| {
            if rho > bore + BESIDE && rho < outside - BESIDE {
                places.extend([rho - BESIDE, rho, rho + BESIDE]);
            }
        });
    }
    sort_by_number(&mut places, |rho| *rho);
    for ground in [truth, &cut.ground] {
        if !ground.is_plain() {
            let mut more = Vec::new();
            for pair in places.windows(2) {
                changes(
                    pair[0],
                    pair[1],
                    &|rho| ground.which(rho, around),
                    &mut more,
                );
            }
            let inside = |rho: &f64| *rho > bore && *rho < outside;
            places.extend(more.into_iter().filter(inside));
        }
    }
    sort_by_number(&mut places, |rho| *rho);
    let values: Vec<f64> = places.iter().map(|rho| of(*rho)).collect();
    let mut best = 0;
    for at in 1..places.len() {
        if values[at] < values[best] {
            best = at;
        }
    }
    let mut found = (values[best], places[best]);
    if !found.0.is_finite() {
        return None;
    }
    // At an edge that is lower than what is next to it there is nothing to look for.
    let inside = best > 0 && best + 1 < places.len();
    if inside {
        let (rho, value) = least(places[best - 1], places[best + 1], effort.across, &of);
        if value < found.0 {
            found = (value, rho);
        }
    }
    Some(found)
}
