//! An angle, held in radians.

use std::f64::consts::{PI, TAU};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// An angle in radians.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

impl Angle {
    /// No angle at all.
    pub const ZERO: Self = Self(0.0);
    /// 90°.
    pub const QUARTER: Self = Self(PI / 2.0);
    /// 180°.
    pub const HALF: Self = Self(PI);
    /// 360°.
    pub const FULL: Self = Self(TAU);

    /// An angle from radians.
    #[must_use]
    pub const fn from_rad(rad: f64) -> Self {
        Self(rad)
    }

    /// An angle from degrees.
    #[must_use]
    pub const fn from_deg(deg: f64) -> Self {
        Self(deg.to_radians())
    }

    /// This angle in radians.
    #[must_use]
    pub const fn rad(self) -> f64 {
        self.0
    }

    /// This angle in degrees.
    #[must_use]
    pub const fn deg(self) -> f64 {
        self.0.to_degrees()
    }

    /// The same direction within one turn, from 0 (included) to 360° (excluded).
    #[must_use]
    pub fn within_turn(self) -> Self {
        let rest = self.0.rem_euclid(TAU);
        // `rem_euclid` of a tiny negative number rounds up to the full turn itself.
        Self(if rest >= TAU { 0.0 } else { rest })
    }

    /// The angle without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether the angle is a finite number.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self(self.0 * times)
    }
}

/// An angle divided by an angle is a plain ratio.
impl Div for Angle {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}
