//! Highest and lowest points of a cut line, found where the slope vanishes, not among samples.

use crate::cope::Extreme;
use crate::cope::flatten::Vertex;
use crate::cope::profile::{Bend, Piece};
use crate::cope::seat::Seat;
use crate::units::{Angle, Length, sort_by_number};

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

/// A piece whose ends are farther than this, mm, from an extreme and that is nowhere farther from
/// its chord than a hundredth of it holds none inside.
const FAR: f64 = 0.01;

/// All candidates: ends of pieces, and the one place in a piece where the slope vanishes.
fn candidates(seats: &[Seat], pieces: &[Piece]) -> Vec<Vertex> {
    let vertex = |piece: &Piece, phi: f64| Vertex {
        phi,
        height: seats[piece.main].height(piece.curve, phi),
    };
    let ends: Vec<[Vertex; 2]> = pieces
        .iter()
        .map(|piece| [vertex(piece, piece.from), vertex(piece, piece.to)])
        .collect();
    let heights = || ends.iter().flatten().map(|vertex| vertex.height);
    let (low, high) = (
        heights().fold(f64::INFINITY, f64::min),
        heights().fold(f64::NEG_INFINITY, f64::max),
    );
    let mut found: Vec<Vertex> = ends.iter().flatten().copied().collect();
    for (piece, ends) in pieces.iter().zip(&ends) {
        let far = |vertex: &Vertex| vertex.height > low + FAR && vertex.height < high - FAR;
        if piece.bend == Bend::Flat && ends.iter().all(far) {
            continue;
        }
        let inside = summit(&seats[piece.main], piece);
        found.extend(inside.map(|phi| vertex(piece, phi)));
    }
    found
}

/// Where the slope of a hill or valley vanishes, if it does so inside.
fn summit(seat: &Seat, piece: &Piece) -> Option<f64> {
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

/// The long point (the lowest height) and the short point (the highest), each with every turn
/// where it is reached.
pub fn extremes(seats: &[Seat], pieces: &[Piece]) -> (Extreme, Extreme) {
    let all = candidates(seats, pieces);
    (extreme(&all, -1.0), extreme(&all, 1.0))
}

/// The largest height and every turn where it is reached; with `sign` −1 the smallest.
fn extreme(all: &[Vertex], sign: f64) -> Extreme {
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
    Extreme {
        height: Length::from_mm(sign * top),
        turns: turns.into_iter().map(Angle::from_rad).collect(),
    }
}
