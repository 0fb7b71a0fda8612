//! What the formulas of a bent main need of a number or of an interval.

use std::ops::{Add, Div, Mul, Neg, Sub};

use crate::cope::interval::Interval;

/// A number or an interval of them.
pub trait Quantity:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Mul<f64, Output = Self>
    + Add<f64, Output = Self>
{
    /// Square.
    fn square(self) -> Self;
    /// √(radius² − a² − b²); of what is negative, zero.
    fn depth(radius: f64, a: Self, b: Self) -> Self;
}

impl Quantity for f64 {
    fn square(self) -> Self {
        self * self
    }
    fn depth(radius: f64, a: Self, b: Self) -> Self {
        // As a product, not as a difference of squares, to keep its digits near grazing.
        let apart = if b == 0.0 {
            a.abs()
        } else {
            (a * a + b * b).sqrt()
        };
        ((radius - apart) * (radius + apart)).max(0.0).sqrt()
    }
}

impl Quantity for Interval {
    fn square(self) -> Self {
        self.squared()
    }
    fn depth(radius: f64, a: Self, b: Self) -> Self {
        (-(a.squared() + b.squared()) + radius * radius).root()
    }
}
