//! Several mains under one end: at every turn the highest of their cut lines.
//!
//! Where two lines cross is found as a root of their difference, bounded over intervals, so that
//! no crossing is missed.

use std::f64::consts::TAU;

use crate::cope::enclose::bounds;
use crate::cope::interval::Interval;
use crate::cope::profile::{Piece, piece_at};
use crate::cope::roots::{Bounded, Root, roots};
use crate::cope::seat::Seat;
use crate::units::sort_by_number;

/// Heights closer than this, mm, at several turns of a stretch are one and the same line.
const SAME: f64 = 1e-9;
/// Turns closer than this, rad, are one.
const SAME_TURN: f64 = 1e-13;

/// Pieces of the first main's turn in the branch's, and as pieces of the main of that number.
pub fn placed(seat: &Seat, main: usize, pieces: &[Piece]) -> Vec<Piece> {
    let mut found = Vec::new();
    for piece in pieces {
        let piece = Piece { main, ..*piece };
        let (from, to) = (piece.from + seat.turn, piece.to + seat.turn);
        if from >= TAU {
            found.push(Piece {
                from: from - TAU,
                to: to - TAU,
                ..piece
            });
        } else if to > TAU {
            found.push(Piece {
                from,
                to: TAU,
                ..piece
            });
            found.push(Piece {
                from: 0.0,
                to: to - TAU,
                ..piece
            });
        } else {
            found.push(Piece { from, to, ..piece });
        }
    }
    found.retain(|piece| piece.to - piece.from > 0.0);
    sort_by_number(&mut found, |piece| piece.from);
    // Turning has rounded: neighbours meet in one number again.
    for next in 1..found.len() {
        found[next].from = found[next - 1].to;
    }
    if let (Some(first), true) = (found.first_mut(), seat.turn != 0.0) {
        first.from = 0.0;
    }
    if let Some(last) = found.last_mut() {
        last.to = TAU;
    }
    found
}

/// The difference of two curves.
struct Difference<'a> {
    seats: &'a [Seat],
    a: Piece,
    b: Piece,
}

impl Difference<'_> {
    fn at_turn(&self, phi: f64) -> f64 {
        let height = |piece: &Piece| self.seats[piece.main].height(piece.curve, phi);
        height(&self.a) - height(&self.b)
    }

    fn bounds(&self, over: Interval) -> (Interval, Interval) {
        let of = |piece: &Piece| bounds(&self.seats[piece.main], piece.curve, over);
        let ((a, a1), (b, b1)) = (of(&self.a), of(&self.b));
        let slope = a1 - b1;
        // By the mean value theorem from the middle, which is tighter on a short stretch.
        let plain = a - b;
        let swing = over + -over.middle();
        let mean = slope * swing + self.at_turn(over.middle());
        let sound = !(mean.lo.is_nan() || mean.hi.is_nan());
        let value = if sound {
            Interval {
                lo: plain.lo.max(mean.lo),
                hi: plain.hi.min(mean.hi),
            }
        } else {
            plain
        };
        (value, slope)
    }
}

impl Bounded for Difference<'_> {
    fn value(&self, over: Interval) -> Interval {
        self.bounds(over).0
    }

    fn slope(&self, over: Interval) -> Interval {
        self.bounds(over).1
    }

    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        let (value, slope) = self.bounds(over);
        value.may_be_zero().then_some(slope)
    }

    fn at(&self, phi: f64) -> f64 {
        self.at_turn(phi)
    }
}

/// The higher of two lines all the way round; the first one where both are level, or where both
/// pass beside their mains.
pub fn higher(seats: &[Seat], first: &[Piece], second: &[Piece]) -> Vec<Piece> {
    let mut cuts: Vec<f64> = first
        .iter()
        .chain(second)
        .flat_map(|piece| [piece.from, piece.to])
        .collect();
    sort_by_number(&mut cuts, |cut| *cut);
    cuts.dedup_by(|next, kept| *next - *kept < SAME_TURN);
    if let Some(last) = cuts.last_mut() {
        *last = TAU;
    }
    let mut found: Vec<Piece> = Vec::new();
    let mut add = |piece: &Piece, from: f64, to: f64| {
        if to <= from {
            return;
        }
        match found.last_mut() {
            // Only what was one piece is joined again.
            Some(last)
                if Piece {
                    from: 0.0,
                    to: 0.0,
                    ..*last
                } == Piece {
                    from: 0.0,
                    to: 0.0,
                    ..*piece
                } && piece.from < from =>
            {
                last.to = to;
            }
            _ => found.push(Piece { from, to, ..*piece }),
        }
    };
    for pair in cuts.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let middle = f64::midpoint(from, to);
        let (Some(a), Some(b)) = (piece_at(first, middle), piece_at(second, middle)) else {
            continue;
        };
        if a.beside() || b.beside() {
            add(if a.beside() && !b.beside() { b } else { a }, from, to);
            continue;
        }
        let difference = Difference {
            seats,
            a: *a,
            b: *b,
        };
        let mut start = from;
        for root in crossings(&difference, from, to) {
            for end in [root.from, root.to] {
                let end = end.max(start).min(to);
                let middle = f64::midpoint(start, end);
                let above = difference.at_turn(middle) >= 0.0;
                add(if above { a } else { b }, start, end);
                start = end;
            }
        }
        let above = difference.at_turn(f64::midpoint(start, to)) >= 0.0;
        add(if above { a } else { b }, start, to);
    }
    found
}

fn crossings(difference: &Difference, from: f64, to: f64) -> Vec<Root> {
    let looks = [0.03, 0.27, 0.5, 0.73, 0.97];
    let level = looks
        .iter()
        .all(|part| difference.at_turn(from + part * (to - from)).abs() < SAME);
    if level {
        return Vec::new();
    }
    // Sine and cosine are bounded well over a quarter turn.
    let quarter = std::f64::consts::FRAC_PI_2;
    let parts = ((to - from) / quarter).ceil().max(1.0);
    let step = (to - from) / parts;
    (0..parts as u32)
        .flat_map(|part| {
            let start = from + f64::from(part) * step;
            roots(difference, start, start + step)
        })
        .collect()
}
