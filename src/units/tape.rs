//! The mark on an inch tape nearest to a length, and what is left over.

use std::fmt;

use super::{Denominator, Length};

/// Beyond a million inches the marks of a tape mean nothing and counting them would overflow.
const TAPE_LIMIT: Length = Length::from_inches(1e6);

/// A mark on an inch tape, the fraction in lowest terms: `10 5/8`.
///
/// The value is `±(whole + numerator / denominator)` inches, the sign going with the whole of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapeMark {
    /// Whether the mark lies below zero; never true of the mark 0.
    pub negative: bool,
    /// Whole inches.
    pub whole: u32,
    /// Top of the fraction; 0 on a whole inch.
    pub numerator: u32,
    /// Bottom of the fraction, a power of two; 1 on a whole inch.
    pub denominator: u32,
    /// What must be added to the mark to reach the length; at most half a division either way.
    pub remainder: Length,
}

impl TapeMark {
    /// The mark itself, without the remainder.
    #[must_use]
    pub fn length(&self) -> Length {
        let inches =
            f64::from(self.whole) + f64::from(self.numerator) / f64::from(self.denominator);
        Length::from_inches(if self.negative { -inches } else { inches })
    }
}

impl fmt::Display for TapeMark {
    /// The mark without its remainder and without an inch mark: `10 5/8`, `−3/4`, `2`, `0`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.negative { "−" } else { "" };
        match (self.whole, self.numerator) {
            (whole, 0) => write!(f, "{sign}{whole}"),
            (0, top) => write!(f, "{sign}{top}/{}", self.denominator),
            (whole, top) => write!(f, "{sign}{whole} {top}/{}", self.denominator),
        }
    }
}

/// The tape mark nearest to `length`; halfway between two marks, the one further from zero.
///
/// `None` for a length that is no finite number or lies beyond a million inches.
///
/// ```
/// use copewright::units::{Denominator, Length, nearest_fraction};
/// let mark = nearest_fraction(Length::from_inches(10.621), Denominator::Sixteenth).unwrap();
/// assert_eq!(mark.to_string(), "10 5/8");
/// assert!((mark.remainder.inches() + 0.004).abs() < 1e-9);
/// ```
#[must_use]
pub fn nearest_fraction(length: Length, denominator: Denominator) -> Option<TapeMark> {
    if !(-TAPE_LIMIT..=TAPE_LIMIT).contains(&length) {
        return None;
    }
    let parts = denominator.parts();
    // Within the limit, so the cast is exact: at most 64 million divisions.
    let divisions = (length.abs().inches() * f64::from(parts)).round() as u32;
    let (whole, top) = (divisions / parts, divisions % parts);
    // `parts` is a power of two, so halving as long as the top is even reaches lowest terms.
    let halvings = top.trailing_zeros().min(parts.trailing_zeros());
    let mut mark = TapeMark {
        negative: divisions > 0 && length < Length::ZERO,
        whole,
        numerator: top >> halvings,
        denominator: parts >> halvings,
        remainder: Length::ZERO,
    };
    mark.remainder = length - mark.length();
    Some(mark)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn mark(inches: f64, denominator: Denominator) -> String {
        nearest_fraction(Length::from_inches(inches), denominator)
            .unwrap()
            .to_string()
    }

    #[test]
    fn fractions_are_in_lowest_terms() {
        use Denominator::{Sixteenth, SixtyFourth, ThirtySecond};
        assert_eq!(mark(10.625, SixtyFourth), "10 5/8");
        assert_eq!(mark(0.5, Sixteenth), "1/2");
        assert_eq!(mark(3.0, ThirtySecond), "3");
        assert_eq!(mark(0.0, Sixteenth), "0");
        assert_eq!(mark(-0.75, Sixteenth), "−3/4");
        assert_eq!(mark(0.015625, SixtyFourth), "1/64");
        assert_eq!(mark(0.98, Sixteenth), "1");
        assert_eq!(mark(-0.01, Sixteenth), "0");
    }

    #[test]
    fn whole_inches_have_one_below() {
        let mark = nearest_fraction(Length::from_inches(-7.0), Denominator::SixtyFourth).unwrap();
        assert_eq!(
            (mark.negative, mark.whole, mark.numerator, mark.denominator),
            (true, 7, 0, 1)
        );
    }

    #[test]
    fn a_length_without_a_mark_has_none() {
        for mm in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e12] {
            assert_eq!(
                nearest_fraction(Length::from_mm(mm), Denominator::Sixteenth),
                None
            );
        }
    }
}
