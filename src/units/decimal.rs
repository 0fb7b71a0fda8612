//! Decimal digits: the one place where a number becomes digits, and digits a number.
//!
//! The standard library does both exactly for every number there is, with tables and big integers
//! that are a tenth of what a visitor loads. Tube needs neither 300 digits nor exponents.

/// Stands for a number that is none, so that neither `NaN` nor `inf` is ever read on a page.
pub(super) const UNKNOWN: &str = "unknown";

/// The digits of `number` with `places` decimals (at most 9), halves rounded away from zero, a
/// hyphen before a negative one: `-0.50`. Never prints `NaN`, `inf`, `-0` or an exponent: what is
/// not finite or does not fit 18 digits is `unknown`.
///
/// ```
/// use copewright::units::write_fixed;
/// assert_eq!(write_fixed(1.0 / 3.0, 4), "0.3333");
/// assert_eq!(write_fixed(-0.004, 1), "0.0");
/// ```
#[must_use]
pub fn write_fixed(number: f64, places: u32) -> String {
    let mut text = String::new();
    push_fixed(&mut text, number, places);
    text
}

/// [`write_fixed`] without trailing zeros: `48.3`, `-0.5`, `100`.
#[must_use]
pub fn write_decimal(number: f64, places: u32) -> String {
    let mut text = String::new();
    push_decimal(&mut text, number, places);
    text
}

/// Appends what [`write_decimal`] writes.
pub fn push_decimal(out: &mut String, number: f64, places: u32) {
    push_fixed(out, number, places);
    if places > 0 && number.is_finite() {
        // The point stops this before it reaches the whole digits.
        let kept = out.trim_end_matches('0').len();
        out.truncate(kept);
        if out.ends_with('.') {
            out.pop();
        }
    }
}

fn push_fixed(out: &mut String, number: f64, places: u32) {
    const MOST: f64 = 1e18;
    let scale = 10_u64.pow(places.min(9));
    #[expect(clippy::cast_precision_loss, reason = "at most 1e9")]
    let scaled = (number.abs() * scale as f64).round();
    if !scaled.is_finite() || scaled > MOST {
        return out.push_str(UNKNOWN);
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole, and from 0 to 1e18 by the check above"
    )]
    let units = scaled as u64;
    if number < 0.0 && units > 0 {
        out.push('-');
    }
    push_whole(out, units / scale);
    let mut place = scale;
    while place > 1 {
        if place == scale {
            out.push('.');
        }
        place /= 10;
        push_digit(out, units / place);
    }
}

/// Appends a whole number without a detour over a string of its own.
fn push_whole(out: &mut String, number: u64) {
    if number >= 10 {
        push_whole(out, number / 10);
    }
    push_digit(out, number);
}

/// Appends the last digit of a number.
fn push_digit(out: &mut String, number: u64) {
    let digit = u8::try_from(number % 10).unwrap_or_default();
    out.push(char::from(b'0' + digit));
}

/// Reads digits with at most one point among or beside them: `31.75`, `.095`, `10.`. The number is
/// the nearest there is for 15 digits, which is finer than any tape; digits after the 18th only
/// keep its size.
pub(super) fn read_digits(digits: impl Iterator<Item = char>) -> Option<f64> {
    const FULL: u64 = 10_u64.pow(18);
    let (mut units, mut exponent) = (0_u64, 0);
    let (mut any, mut after_point) = (false, false);
    for c in digits {
        if c == '.' && !after_point {
            after_point = true;
            continue;
        }
        any = true;
        let digit = u64::from(c.to_digit(10)?);
        let taken = units < FULL;
        if taken {
            units = 10 * units + digit;
        }
        exponent += i32::from(!taken) - i32::from(after_point);
    }
    #[expect(clippy::cast_precision_loss, reason = "the rounding that is promised")]
    let units = units as f64;
    // Powers of ten to 22 are exact, and dividing by one rounds once.
    let value = if exponent < 0 {
        units / 10_f64.powi(-exponent)
    } else {
        units * 10_f64.powi(exponent)
    };
    any.then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> Option<f64> {
        read_digits(text.chars())
    }

    #[test]
    fn numbers_are_rounded_once_and_keep_their_places() {
        assert_eq!(write_fixed(0.0, 0), "0");
        assert_eq!(write_fixed(2.5, 0), "3");
        assert_eq!(write_fixed(-2.5, 1), "-2.5");
        assert_eq!(write_fixed(0.05, 3), "0.050");
        assert_eq!(write_fixed(-0.000_4, 3), "0.000");
        assert_eq!(write_fixed(999.9996, 3), "1000.000");
        assert_eq!(write_decimal(999.9996, 3), "1000");
        assert_eq!(write_decimal(1200.0, 0), "1200");
        assert_eq!(write_decimal(-0.5, 3), "-0.5");
    }

    #[test]
    fn what_has_no_digits_is_unknown() {
        for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1.1e18, -1e300] {
            assert_eq!(write_fixed(number, 3), UNKNOWN);
            assert_eq!(write_decimal(number, 0), UNKNOWN);
        }
    }

    #[test]
    fn digits_need_a_digit_and_at_most_one_point() {
        for text in ["", ".", "1.2.3", "1e3", "-1", "+1", " 1", "1,5", "٣"] {
            assert_eq!(read(text), None, "{text}");
        }
        assert_eq!(read("10."), Some(10.0));
        assert_eq!(read(".5"), Some(0.5));
    }

    #[test]
    fn sixty_digits_keep_their_size() {
        let close = |text: &str| {
            let expected: f64 = text.parse().unwrap_or(f64::NAN);
            read(text).is_some_and(|number| (number / expected - 1.0).abs() < 1e-15)
        };
        assert!(close(&"9".repeat(60)));
        assert!(close(&format!("0.{}7", "0".repeat(57))));
        assert!(close(&format!("1.{}", "3".repeat(58))));
        assert!(close(&format!("{}.{}", "12".repeat(15), "3".repeat(29))));
    }

    proptest! {
        // The standard library reads and writes every number exactly.
        #[test]
        fn fifteen_digits_read_as_the_standard_library_reads_them(
            text in "[0-9]{1,8}(\\.[0-9]{0,7})?"
        ) {
            prop_assert_eq!(read(&text), text.parse().ok());
        }

        #[test]
        fn lengths_are_written_within_half_a_place(
            number in -1e6..1e6_f64,
            places in 0..7_u32
        ) {
            let text = write_fixed(number, places);
            let step = 0.1_f64.powi(i32::try_from(places).unwrap_or_default());
            let back: f64 = text.parse().unwrap_or(f64::NAN);
            prop_assert!((back - number).abs() <= 0.5 * step * (1.0 + 1e-6), "{}", text);
            let decimals = text.split_once('.').map_or(0, |(_, part)| part.len());
            prop_assert_eq!(decimals, usize::try_from(places).unwrap_or_default());
        }
    }
}
