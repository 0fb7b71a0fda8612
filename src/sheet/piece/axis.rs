//! The tube laid out straight: true to scale where there is something to see, broken where a
//! straight or a bend is long.

use crate::units::write_decimal;

/// What a drawn millimetre stands for, largest drawing first: the scales of ISO 5455 (from memory).
const SCALES: [f64; 19] = [
    0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 1e4, 2e4,
    5e4, 1e5,
];
/// Thickest that a tube is drawn, mm.
const THICKEST: f64 = 22.0;
/// A stretch may be broken down to this, mm.
const LEAST: f64 = 16.0;
/// At most this part of the width goes to stretches that are broken down to their least.
const LEAST_PART: f64 = 0.6;
/// White between the two lines of a break, mm.
const BREAK: f64 = 2.2;

/// Where places along the tube are on paper.
pub struct Axis {
    /// What a drawn millimetre stands for.
    of: f64,
    /// Places along the tube and where they are drawn, in order, mm.
    stops: Vec<(f64, f64)>,
    /// Where the drawing is broken.
    pub breaks: Vec<(f64, f64)>,
}

impl Axis {
    /// A tube of an outside diameter on a width of paper. Between two neighbouring `stops` (in
    /// order, mm along the tube) nothing is to be seen and the drawing may be broken, unless
    /// `whole` says otherwise.
    pub fn new(stops: &[f64], whole: &dyn Fn(f64, f64) -> bool, outside: f64, width: f64) -> Self {
        let stretches: Vec<(f64, bool)> = stops
            .windows(2)
            .map(|pair| (pair[1] - pair[0], whole(pair[0], pair[1])))
            .collect();
        let drawn = |&(long, whole): &(f64, bool), of: f64, most: f64| {
            if whole {
                long / of
            } else {
                (long / of).min(most)
            }
        };
        let taken =
            |of: f64, most: f64| -> f64 { stretches.iter().map(|own| drawn(own, of, most)).sum() };
        let mut loose = 1.0;
        for (_, whole) in &stretches {
            loose += if *whole { 0.0 } else { 1.0 };
        }
        let least = LEAST.min(width * LEAST_PART / loose);
        let fits = |of: &f64| outside / of <= THICKEST && taken(*of, least) <= width;
        let of = SCALES.into_iter().find(fits).unwrap_or(SCALES[18]);
        let mut most = f64::INFINITY;
        if taken(of, most) > width {
            let mut too_much = width;
            most = least;
            for _ in 0..50 {
                let middle = f64::midpoint(most, too_much);
                if taken(of, middle) <= width {
                    most = middle;
                } else {
                    too_much = middle;
                }
            }
        }
        let mut x = (width - taken(of, most)) / 2.0;
        let mut axis = Self {
            of,
            stops: stops.first().map(|first| (*first, x)).into_iter().collect(),
            breaks: Vec::new(),
        };
        for (own, stop) in stretches.iter().zip(stops.iter().skip(1)) {
            let long = drawn(own, of, most);
            // Less than that is not worth a break: the stretch is drawn a little short.
            if own.0 / of > long * 1.0001 {
                let middle = x + long / 2.0;
                let half = (BREAK / 2.0).min(long / 6.0);
                axis.breaks.push((middle - half, middle + half));
            }
            x += long;
            axis.stops.push((*stop, x));
        }
        axis
    }

    /// Where a place along the tube is drawn.
    pub fn at(&self, place: f64) -> f64 {
        let Some(first) = self.stops.first() else {
            return 0.0;
        };
        let mut x = first.1 + (place - first.0) / self.of;
        for pair in self.stops.windows(2) {
            let ((from, left), (to, right)) = (pair[0], pair[1]);
            if place >= from {
                // Stops that all but coincide are drawn at one place.
                let long = (to - from).max(f64::MIN_POSITIVE);
                x = left + (right - left) * ((place - from) / long).min(1.0);
                x += ((place - to) / self.of).max(0.0);
            }
        }
        x
    }

    /// A length across the tube on paper.
    pub fn across(&self, length: f64) -> f64 {
        length / self.of
    }

    /// `1 : 5`, `2 : 1`.
    pub fn scale(&self) -> String {
        if self.of < 1.0 {
            format!("{} : 1", write_decimal(1.0 / self.of, 0))
        } else {
            format!("1 : {}", write_decimal(self.of, 0))
        }
    }
}
