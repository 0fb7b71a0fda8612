//! Highest and lowest points of a cut line, found where the slope vanishes, not among samples.

use crate::cope::curve::Seat;
use crate::cope::flatten::Vertex;
use crate::cope::profile::{Bend, Piece};
use crate::units::sort_by_number;

/// Extremes whose heights differ by less than this (mm) are the same extreme at several turns.
const SAME_HEIGHT: f64 = 1e-7;
/// A turn that moves by less than this (rad) in one step of the search has settled.
const SETTLED: f64 = 1e-12;
/// Slopes are looked at this part of a piece inside its ends: at a grazing end itself the slope is
/// a quotient of two vanishing numbers. An extreme nearer to the end than this is no higher than
/// the end to within [`SAME_HEIGHT`].
const INSET: f64 = 1e-6;
/// Turns closer than this (rad) are one turn.
const SAME_TURN: f64 = 1e-6;

/// All candidates: ends of pieces, and the one place in a piece where the slope vanishes.
fn candidates(seats: &[Seat], pieces: &[Piece]) -> Vec<Vertex> {
    let mut found = Vec::new();
    for piece in pieces {
        let ends = [piece.from, piece.to]
            .into_iter()
            .chain(summit(&seats[piece.main], piece));
        found.extend(ends.map(|phi| Vertex {
            phi,
            height: seats[piece.main].height(piece.curve, phi),
        }));
    }
    found
}

/// Where the slope of a hill or valley vanishes, if it does so inside.
fn summit(seat: &Seat, piece: &Piece) -> Option<f64> {
    if piece.bend == Bend::Sliver {
        return None;
    }
    let slope = |phi: f64| seat.jet(piece.curve, phi).slope;
    let inset = (piece.to - piece.from) * INSET;
    let (mut low, mut high) = (piece.from + inset, piece.to - inset);
    // A hill starts upwards and ends downwards; a valley the other way round.
    let starts_up = slope(low) > 0.0;
    if (slope(high) > 0.0) == starts_up {
        return None;
    }
    let mut phi = f64::midpoint(low, high);
    for _ in 0..100 {
        let jet = seat.jet(piece.curve, phi);
        if (jet.slope > 0.0) == starts_up {
            low = phi;
        } else {
            high = phi;
        }
        let newton = phi - jet.slope / jet.bend;
        let next = if newton > low && newton < high {
            newton
        } else {
            f64::midpoint(low, high)
        };
        if (next - phi).abs() <= SETTLED {
            return Some(next);
        }
        phi = next;
    }
    Some(phi)
}

/// The largest height and every turn where it is reached; with `sign` −1 the smallest.
pub fn extreme(seats: &[Seat], pieces: &[Piece], sign: f64) -> (f64, Vec<f64>) {
    let all = candidates(seats, pieces);
    let top = all
        .iter()
        .map(|vertex| sign * vertex.height)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut turns: Vec<f64> = all
        .iter()
        .filter(|vertex| top - sign * vertex.height <= SAME_HEIGHT)
        .map(|vertex| {
            if vertex.phi > std::f64::consts::TAU - SAME_TURN {
                0.0
            } else {
                vertex.phi
            }
        })
        .collect();
    sort_by_number(&mut turns, |turn| *turn);
    turns.dedup_by(|next, kept| *next - *kept < SAME_TURN);
    (sign * top, turns)
}
