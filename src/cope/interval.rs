//! Closed intervals of real numbers: what an expression can take over a whole stretch of turns.
//!
//! Used to prove that a curve does not change its bend on a stretch, where sampling could only
//! suggest it. Bounds are not rounded outwards: the proofs need certainty down to
//! [`crate::cope::roots::SLIVER`], nine orders above the rounding of a double.

use std::f64::consts::{FRAC_PI_2, PI};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// All numbers from `lo` to `hi`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    pub lo: f64,
    pub hi: f64,
}

impl Interval {
    /// The interval between two numbers given in either order.
    pub fn between(a: f64, b: f64) -> Self {
        Self {
            lo: a.min(b),
            hi: a.max(b),
        }
    }

    /// All numbers.
    pub const ALL: Self = Self {
        lo: f64::NEG_INFINITY,
        hi: f64::INFINITY,
    };

    /// The interval that holds one number.
    pub const fn point(x: f64) -> Self {
        Self { lo: x, hi: x }
    }

    pub fn width(self) -> f64 {
        self.hi - self.lo
    }

    pub fn middle(self) -> f64 {
        f64::midpoint(self.lo, self.hi)
    }

    /// Whether zero cannot be ruled out; true for NaN bounds as well.
    pub fn may_be_zero(self) -> bool {
        !(self.lo > 0.0 || self.hi < 0.0)
    }

    pub fn squared(self) -> Self {
        let (a, b) = (self.lo * self.lo, self.hi * self.hi);
        if self.lo <= 0.0 && self.hi >= 0.0 {
            Self {
                lo: 0.0,
                hi: a.max(b),
            }
        } else {
            Self::between(a, b)
        }
    }

    /// Square root, with negative numbers taken as zero.
    pub fn root(self) -> Self {
        Self {
            lo: self.lo.max(0.0).sqrt(),
            hi: self.hi.max(0.0).sqrt(),
        }
    }

    /// The smallest interval that holds both.
    pub const fn hull(self, other: Self) -> Self {
        Self {
            lo: self.lo.min(other.lo),
            hi: self.hi.max(other.hi),
        }
    }

    /// Cosine of angles in radians.
    pub fn cos(self) -> Self {
        if self.width().is_nan() || self.width() >= PI {
            return Self { lo: -1.0, hi: 1.0 };
        }
        let ends = self.through(f64::cos);
        // The cosine turns round at whole half turns; a stretch under π holds at most one.
        let half_turns = (self.hi / PI).floor();
        if half_turns * PI <= self.lo {
            ends
        } else if half_turns.rem_euclid(2.0) == 0.0 {
            Self { hi: 1.0, ..ends }
        } else {
            Self { lo: -1.0, ..ends }
        }
    }

    /// Sine of angles in radians.
    pub fn sin(self) -> Self {
        (self + -FRAC_PI_2).cos()
    }

    /// Image under a function that only rises or only falls between the bounds.
    pub fn through(self, monotone: impl Fn(f64) -> f64) -> Self {
        Self::between(monotone(self.lo), monotone(self.hi))
    }
}

/// A stretch of angles by its middle and half its width, with their sines and cosines: waves over it
/// are bounded exactly.
#[derive(Debug, Clone, Copy)]
pub struct Swing {
    /// Sine and cosine of the middle.
    pub middle: (f64, f64),
    /// Sine and cosine of half the width; none from a quarter turn on.
    half: Option<(f64, f64)>,
}

impl Swing {
    /// The angles of an interval, radians.
    pub fn of(over: Interval) -> Self {
        let half = over.width() / 2.0;
        Self {
            middle: over.middle().sin_cos(),
            half: (half < FRAC_PI_2).then(|| half.sin_cos()),
        }
    }

    /// a cos δ + b sin δ for all δ off the middle.
    pub fn off_middle(self, a: f64, b: f64) -> Interval {
        let Some((sin, cos)) = self.half else {
            let size = (a * a + b * b).sqrt();
            return Interval {
                lo: -size,
                hi: size,
            };
        };
        let (middle, half) = (a * cos, (b * sin).abs());
        let mut over = Interval {
            lo: middle - half,
            hi: middle + half,
        };
        // The middle itself is no end; the wave turns round where tan δ = b / a.
        if b.abs() * cos < a.abs() * sin {
            let size = (a * a + b * b).sqrt();
            if a > 0.0 {
                over.hi = size;
            } else {
                over.lo = -size;
            }
        }
        over
    }
}

impl Add for Interval {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            lo: self.lo + other.lo,
            hi: self.hi + other.hi,
        }
    }
}

impl Sub for Interval {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self {
            lo: self.lo - other.hi,
            hi: self.hi - other.lo,
        }
    }
}

impl Neg for Interval {
    type Output = Self;
    fn neg(self) -> Self {
        Self {
            lo: -self.hi,
            hi: -self.lo,
        }
    }
}

impl Mul for Interval {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let products = [
            self.lo * other.lo,
            self.lo * other.hi,
            self.hi * other.lo,
            self.hi * other.hi,
        ];
        Self {
            lo: products.into_iter().fold(f64::INFINITY, f64::min),
            hi: products.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

impl Div for Interval {
    type Output = Self;
    fn div(self, by: Self) -> Self {
        if by.may_be_zero() {
            return Self::ALL;
        }
        let quotients = [
            self.lo / by.lo,
            self.lo / by.hi,
            self.hi / by.lo,
            self.hi / by.hi,
        ];
        Self {
            lo: quotients.into_iter().fold(f64::INFINITY, f64::min),
            hi: quotients.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

impl Mul<f64> for Interval {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self::between(self.lo * times, self.hi * times)
    }
}

impl Add<f64> for Interval {
    type Output = Self;
    fn add(self, more: f64) -> Self {
        Self {
            lo: self.lo + more,
            hi: self.hi + more,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_and_squares_hold_every_product() {
        let (a, b) = (Interval::between(-2.0, 3.0), Interval::between(-1.0, 0.5));
        for i in 0_u32..=20 {
            for j in 0_u32..=20 {
                let x = a.lo + a.width() * f64::from(i) / 20.0;
                let y = b.lo + b.width() * f64::from(j) / 20.0;
                let (product, square) = (a * b, a.squared());
                assert!(product.lo <= x * y && x * y <= product.hi);
                assert!(square.lo <= x * x && x * x <= square.hi);
            }
        }
        assert_eq!(a.squared(), Interval { lo: 0.0, hi: 9.0 });
    }

    #[test]
    fn sines_and_quotients_hold_every_value() {
        for from in -40_i32..40 {
            for width in 1..34_i32 {
                let over = Interval::between(
                    f64::from(from) / 5.0,
                    f64::from(from) / 5.0 + f64::from(width) / 10.0,
                );
                for step in 0..=50_i32 {
                    let x = over.lo + over.width() * f64::from(step) / 50.0;
                    let (sin, cos) = (over.sin(), over.cos());
                    assert!(sin.lo <= x.sin() + 1e-15 && x.sin() - 1e-15 <= sin.hi);
                    assert!(cos.lo <= x.cos() + 1e-15 && x.cos() - 1e-15 <= cos.hi);
                }
            }
        }
        for (cos, sin) in [(3.0, -1.0), (0.0, 2.0), (-1.5, 0.0), (-2.0, -2.0)] {
            for from in -40_i32..40 {
                for width in 0..40_i32 {
                    let from = f64::from(from) / 5.0;
                    let over = Interval::between(from, from + f64::from(width) / 10.0);
                    let swing = Swing::of(over);
                    let (s, c) = swing.middle;
                    let wave = swing.off_middle(cos * c + sin * s, sin * c - cos * s);
                    let at = |part: f64| {
                        let x = over.lo + over.width() * part;
                        cos * x.cos() + sin * x.sin()
                    };
                    let all = (0..=50_i32).map(|step| at(f64::from(step) / 50.0));
                    let most = all.clone().fold(f64::NEG_INFINITY, f64::max);
                    let least = all.fold(f64::INFINITY, f64::min);
                    assert!(wave.lo <= least + 1e-14 && most - 1e-14 <= wave.hi);
                    // And no wider than need be, while the stretch is below a half turn.
                    assert!(width > 31 || (wave.lo > least - 1e-2 && wave.hi < most + 1e-2));
                }
            }
        }
        let quotient = Interval::between(-1.0, 4.0) / Interval::between(2.0, 5.0);
        assert!((quotient.lo + 0.5).abs() < 1e-15 && (quotient.hi - 2.0).abs() < 1e-15);
        assert_eq!(
            Interval::point(1.0) / Interval::between(-1.0, 1.0),
            Interval::ALL
        );
    }

    #[test]
    fn a_nan_never_rules_zero_out() {
        assert!(
            Interval {
                lo: f64::NAN,
                hi: f64::NAN
            }
            .may_be_zero()
        );
        assert!(!Interval::between(1.0, 2.0).may_be_zero());
    }
}
