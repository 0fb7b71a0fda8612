//! A curve as straight chords, each proven to stay within the tolerance on paper.
//!
//! On a piece that bends one way, the gap g between curve and chord is a hill: for any turn p on
//! it, |g| ≤ |g(p)| + |g′(p)| · (the longer way from p to an end). With p near the top, where g′
//! vanishes, that bound is tight, so no sampling is needed to trust a chord, and taking each
//! chord as long as the bound allows gives the fewest points that lie on the curve.

use crate::cope::STEP;
use crate::cope::curve::Curve;
use crate::cope::profile::{Bend, Piece};
use crate::cope::seat::Seat;
use crate::units::limited;

/// A point of the flattened line: turn from the heel (rad) and height (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    pub phi: f64,
    pub height: f64,
}

/// What a chord is measured with.
#[derive(Debug, Clone, Copy)]
pub struct Ruler {
    /// Paper millimetres per radian of turn.
    pub per_rad: f64,
    /// Largest distance on paper between curve and chord, mm.
    pub tolerance: f64,
}

/// A chord is long enough when it uses this part of the tolerance.
const WORTHWHILE: f64 = 0.92;
/// Aim of the next trial, as a part of the tolerance.
const AIM: f64 = 0.97;
/// Turn (rad) between points where the bend is unproven: half the tolerance round the largest tube.
const UNPROVEN_STEP: f64 = 5e-6;
/// Most of these steps on a bent main, where a wide stretch may stay unproven and each step costs
/// a search.
const UNPROVEN_STEPS: f64 = 20.0;
/// Most of them elsewhere: a curve whose bend stays at zero over a quarter turn is still walked in
/// steps of less than half a thousandth.
const UNPROVEN_MOST: f64 = 4096.0;
/// Trials for one chord; every one halves the doubt at worst.
const TRIALS: u32 = 60;

/// Heights that change within this turn, rad, are a step.
const UPRIGHT: f64 = 1e-12;

/// Appends the points after `piece.from` up to and including `piece.to`.
pub fn flatten(seat: &Seat, piece: &Piece, ruler: Ruler, line: &mut Vec<Vertex>) {
    let vertex = |phi: f64| Vertex {
        phi,
        height: seat.height(piece.curve, phi),
    };
    let end = vertex(piece.to);
    if piece.bend == Bend::Flat {
        line.push(end);
        return;
    }
    if piece.bend == Bend::Sliver {
        // Nothing is known of its bend, so it is walked in steps too short to matter.
        let steps = ((piece.to - piece.from) / UNPROVEN_STEP).ceil();
        let most = match piece.curve {
            Curve::Bent { .. } => UNPROVEN_STEPS,
            _ => UNPROVEN_MOST,
        };
        let steps = limited(steps, 1.0, most);
        let step = (piece.to - piece.from) / steps;
        let inside = (1..).map(|i| piece.from + f64::from(i) * step);
        line.extend(
            inside
                .take_while(|phi| *phi < piece.to - step / 2.0)
                .map(vertex)
                // Within a doubtful stretch a generator may miss the main.
                .filter(|vertex| vertex.height.is_finite()),
        );
        line.push(end);
        return;
    }
    let mut here = vertex(piece.from);
    let mut reach = first_reach(seat, piece, ruler);
    while here.phi < piece.to {
        let rest = piece.to - here.phi;
        let (next, off) = longest(seat, piece.curve, ruler, here, end, reach.min(rest));
        // The bend changes little from one chord to the next, so the next one starts from what
        // this one could have been.
        reach = (next.phi - here.phi) * stretch(ruler, off);
        line.push(next);
        here = next;
    }
}

/// Takes out points of `line` as long as all of them stay within the tolerance of the
/// chords that remain. For runs of pieces too short to bend: they come one chord each.
pub fn thin(line: &mut Vec<Vertex>, ruler: Ruler) {
    let points = std::mem::take(line);
    // A step stays upright at its turn, however little a chord over it would stray.
    let steps = |pair: &[Vertex]| match pair {
        [a, b] => b.phi - a.phi < UPRIGHT && (b.height - a.height).abs() > STEP.mm(),
        _ => false,
    };
    let near = |from: usize, to: usize| {
        if points[from..=to].windows(2).any(steps) {
            return false;
        }
        let (a, b) = (points[from], points[to]);
        let rise = (b.height - a.height) / (b.phi - a.phi);
        let tilt = (1.0 + (rise / ruler.per_rad).powi(2)).sqrt();
        points[from + 1..to].iter().all(|point| {
            let off = point.height - a.height - rise * (point.phi - a.phi);
            off.abs() <= WORTHWHILE * ruler.tolerance * tilt
        })
    };
    let mut from = 0;
    line.extend(points.first());
    while from + 1 < points.len() {
        let mut to = from + 1;
        while to + 1 < points.len() && near(from, to + 1) {
            to += 1;
        }
        line.push(points[to]);
        from = to;
    }
}

/// A first guess from the bend in the middle: the sagitta of a chord h is h² |s″| / 8.
fn first_reach(seat: &Seat, piece: &Piece, ruler: Ruler) -> f64 {
    let bend = seat
        .jet(piece.curve, f64::midpoint(piece.from, piece.to))
        .bend
        .abs();
    (8.0 * ruler.tolerance / bend.max(f64::MIN_POSITIVE))
        .sqrt()
        .min(piece.to - piece.from)
}

/// The end of the longest chord from `here` that stays within the tolerance, and how far off the
/// curve it is at most.
fn longest(
    seat: &Seat,
    curve: Curve,
    ruler: Ruler,
    here: Vertex,
    end: Vertex,
    guess: f64,
) -> (Vertex, f64) {
    let rest = end.phi - here.phi;
    let (mut good, mut bad) = (None::<(Vertex, f64)>, rest * 2.0);
    let mut reach = guess;
    for _ in 0..TRIALS {
        let trial = if reach >= rest {
            end
        } else {
            let phi = here.phi + reach;
            Vertex {
                phi,
                height: seat.height(curve, phi),
            }
        };
        let off = deviation(seat, curve, ruler, here, trial);
        let reached = trial.phi - here.phi;
        if off <= ruler.tolerance {
            if trial.phi >= end.phi || off >= WORTHWHILE * ruler.tolerance {
                return (trial, off);
            }
            good = Some((trial, off));
        } else {
            bad = reached;
        }
        let least = good.map_or(0.0, |(good, _)| good.phi - here.phi);
        let scaled = reached * stretch(ruler, off);
        let next = if scaled > least && scaled < bad {
            scaled
        } else {
            f64::midpoint(least, bad)
        };
        reach = next.min(rest);
        if bad - least <= 1e-13 {
            break;
        }
    }
    // Only a stretch too short for doubles to divide gets here without a good chord.
    good.unwrap_or((end, ruler.tolerance))
}

/// What to multiply a chord that is `off` the curve by, to come close to the tolerance: the gap
/// grows with the square of the length.
fn stretch(ruler: Ruler, off: f64) -> f64 {
    const MOST: f64 = 8.0;
    (AIM * ruler.tolerance / off.max(f64::MIN_POSITIVE))
        .sqrt()
        .min(MOST)
}

/// Upper bound of the distance on paper between the curve and the chord `a`–`b`, mm.
fn deviation(seat: &Seat, curve: Curve, ruler: Ruler, a: Vertex, b: Vertex) -> f64 {
    const STEPS: u32 = 60;
    /// A bound this near to what it bounds is good enough.
    const TIGHT: f64 = 1.02;
    let chord = (b.height - a.height) / (b.phi - a.phi);
    let tilt = (1.0 + (chord / ruler.per_rad).powi(2)).sqrt();
    let (mut low, mut high) = (a.phi, b.phi);
    let mut p = f64::midpoint(low, high);
    let mut best = f64::INFINITY;
    for _ in 0..STEPS {
        let jet = seat.jet(curve, p);
        let gap = (jet.height - a.height - chord * (p - a.phi)).abs();
        let drift = jet.slope - chord;
        let bound = gap + drift.abs() * (p - a.phi).max(b.phi - p);
        best = best.min(bound);
        if bound <= gap * TIGHT || bound / tilt <= 1e-6 * ruler.tolerance {
            break;
        }
        if (drift > 0.0) == (jet.bend < 0.0) {
            low = p;
        } else {
            high = p;
        }
        let newton = p - drift / jet.bend;
        p = if newton > low && newton < high {
            newton
        } else {
            f64::midpoint(low, high)
        };
        if high - low <= f64::EPSILON * 8.0 * (1.0 + p.abs()) {
            break;
        }
    }
    best / tilt
}
