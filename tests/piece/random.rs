//! Numbers that look random and are the same everywhere.

use crate::vector::{Vector, unit};

/// SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014;
/// constants from memory).
pub struct Random(pub u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from `low` to `high`.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        let part = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * part
    }

    /// A whole number below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count as u64) as usize
    }

    /// A direction.
    pub fn direction(&mut self) -> Vector {
        loop {
            let place = [0; 3].map(|_| self.within(-1.0, 1.0));
            let square: f64 = place.iter().map(|part| part * part).sum();
            if (0.01..1.0).contains(&square) {
                return unit(place);
            }
        }
    }
}
