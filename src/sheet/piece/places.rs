//! Where everything is along the tube laid out straight, mm from the long point of end A.

use crate::piece::{Piece, Side};
use crate::units::{Length, sort_by_number};

/// Places nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// Places of both ends, A first, and of the bends.
pub struct Places {
    pub centre: [f64; 2],
    pub blank: [f64; 2],
    pub long: [f64; 2],
    pub mark: [f64; 2],
    /// Where the cut and what is marked of it end, towards the middle.
    inner: [f64; 2],
    /// Start and end of each bend.
    pub bends: Vec<(f64, f64)>,
    overall: f64,
}

impl Places {
    pub fn of(piece: &Piece) -> Self {
        let overall = piece.lengths().overall.mm();
        let both = |inwards: &dyn Fn(Side) -> Length| {
            Side::BOTH.map(|side| from_long(overall, side, inwards(side).mm()))
        };
        let long = |side| piece.end(side).centre_to_long();
        let first = long(Side::A);
        Self {
            centre: both(&|side| -long(side)),
            blank: both(&|side| -piece.grip(side)),
            long: both(&|_| Length::ZERO),
            mark: both(&|side| piece.end(side).long_to_mark()),
            inner: both(&|side| {
                let short = piece.end(side).centre_to_short() - long(side);
                short.max(piece.end(side).long_to_mark())
            }),
            bends: piece
                .line()
                .spans()
                .iter()
                .map(|span| ((span.start - first).mm(), (span.end - first).mm()))
                .collect(),
            overall,
        }
    }

    /// The place so far inwards from the long point of an end.
    pub fn inwards(&self, side: Side, by: f64) -> f64 {
        from_long(self.overall, side, by)
    }

    /// All places in order.
    pub fn stops(&self) -> Vec<f64> {
        let mut stops = Vec::new();
        for pair in [self.centre, self.blank, self.long, self.mark, self.inner] {
            stops.extend(pair);
        }
        for (start, end) in &self.bends {
            stops.extend([*start, *end]);
        }
        sort_by_number(&mut stops, |stop| *stop);
        stops
    }

    /// Whether a stretch between two neighbouring places must be drawn whole.
    pub fn is_whole(&self, from: f64, to: f64) -> bool {
        let middle = f64::midpoint(from, to);
        to - from < SAME
            || middle < self.inner[0] && middle > self.long[0]
            || middle > self.inner[1] && middle < self.long[1]
    }
}

fn from_long(overall: f64, side: Side, by: f64) -> f64 {
    match side {
        Side::A => by,
        Side::B => overall - by,
    }
}
