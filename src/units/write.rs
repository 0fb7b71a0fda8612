//! Lengths and angles as text: one rounding, no `-0`, no trailing zeros.

use super::decimal::{UNKNOWN, write_decimal};
use super::{Angle, Length, Unit, nearest_fraction};

/// Decimal places of a millimetre.
const PLACES_MM: u32 = 2;
/// Decimal places of an inch, and of the remainder beside a fraction.
const PLACES_INCH: u32 = 3;
/// Decimal places of a degree.
const PLACES_DEGREE: u32 = 2;

/// A length with its unit mark: `48.3 mm`, `1.25 in`, `10 5/8"`, `10 5/8 − 0.004 in`.
///
/// Millimetres to 0.01, decimal inches to 0.001, fractions with the remainder to 0.001 in.
/// Trailing zeros are left off, and a minus is a true minus sign. [`super::read_length`] reads
/// every such text back, in any unit of the job.
#[must_use]
pub fn write_length(length: Length, unit: Unit) -> String {
    let bare = write_bare(length, unit);
    if bare == UNKNOWN {
        return bare;
    }
    let mark = match unit {
        Unit::Millimetre => " mm",
        // A remainder is a decimal, and beside it a lone `"` is easily lost.
        Unit::Fraction(_) if !bare.contains('.') => "\"",
        Unit::Inch | Unit::Fraction(_) => " in",
    };
    bare + mark
}

/// A length that no tape measures, as a wall or a gap: as [`write_length`] writes it, but decimal
/// where the unit is a fraction: `2.6 mm`, `0.12 in`.
#[must_use]
pub fn write_small(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => write_length(length, unit),
        Unit::Inch | Unit::Fraction(_) => write_length(length, Unit::Inch),
    }
}

/// A length as [`write_length`] writes it but without the unit mark: `48.3`, `10 5/8`.
#[must_use]
pub fn write_bare(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => plain(length.mm(), PLACES_MM),
        Unit::Inch => plain(length.inches(), PLACES_INCH),
        Unit::Fraction(denominator) => {
            let Some(mark) = nearest_fraction(length, denominator) else {
                return plain(length.inches(), PLACES_INCH);
            };
            let rest = plain(mark.remainder.abs().inches(), PLACES_INCH);
            let mark_text = mark.to_string();
            if rest == "0" {
                mark_text
            } else if mark_text == "0" {
                // Less than half a division has no mark on the tape.
                plain(length.inches(), PLACES_INCH)
            } else {
                let sign = if mark.remainder < Length::ZERO {
                    '−'
                } else {
                    '+'
                };
                format!("{mark_text} {sign} {rest}")
            }
        }
    }
}

/// An angle in degrees, to 0.01°: `60°`, `37.5°`.
#[must_use]
pub fn write_angle(angle: Angle) -> String {
    let degrees = plain(angle.deg(), PLACES_DEGREE);
    if degrees == UNKNOWN {
        return degrees;
    }
    degrees + "°"
}

/// A number rounded once to `places` decimals, with a true minus sign.
fn plain(value: f64, places: u32) -> String {
    let text = write_decimal(value, places);
    match text.strip_prefix('-') {
        Some(digits) => format!("−{digits}"),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Denominator::{Sixteenth, SixtyFourth, ThirtySecond};

    fn inches(inches: f64, unit: Unit) -> String {
        write_length(Length::from_inches(inches), unit)
    }

    #[test]
    fn millimetres_are_written_to_a_hundredth() {
        let written = |mm| write_length(Length::from_mm(mm), Unit::Millimetre);
        assert_eq!(written(48.3), "48.3 mm");
        assert_eq!(written(48.0), "48 mm");
        assert_eq!(written(100.0), "100 mm");
        assert_eq!(written(0.1), "0.1 mm");
        assert_eq!(written(31.756), "31.76 mm");
        assert_eq!(written(-12.5), "−12.5 mm");
        assert_eq!(written(-0.004), "0 mm");
        assert_eq!(written(-0.0), "0 mm");
    }

    #[test]
    fn decimal_inches_are_written_to_a_thousandth() {
        assert_eq!(inches(1.25, Unit::Inch), "1.25 in");
        assert_eq!(inches(0.095, Unit::Inch), "0.095 in");
        assert_eq!(inches(-2.0, Unit::Inch), "−2 in");
        assert_eq!(inches(10.6249, Unit::Inch), "10.625 in");
    }

    #[test]
    fn fractions_show_what_is_left_over() {
        assert_eq!(inches(10.625, Unit::Fraction(Sixteenth)), "10 5/8\"");
        assert_eq!(
            inches(10.621, Unit::Fraction(Sixteenth)),
            "10 5/8 − 0.004 in"
        );
        assert_eq!(
            inches(10.629, Unit::Fraction(Sixteenth)),
            "10 5/8 + 0.004 in"
        );
        assert_eq!(
            inches(1.9, Unit::Fraction(ThirtySecond)),
            "1 29/32 − 0.006 in"
        );
        assert_eq!(
            inches(1.895, Unit::Fraction(SixtyFourth)),
            "1 57/64 + 0.004 in"
        );
        assert_eq!(inches(0.0, Unit::Fraction(Sixteenth)), "0\"");
        assert_eq!(inches(0.004, Unit::Fraction(Sixteenth)), "0.004 in");
        assert_eq!(
            write_bare(Length::from_inches(10.621), Unit::Fraction(Sixteenth)),
            "10 5/8 − 0.004"
        );
    }

    #[test]
    fn a_remainder_below_half_a_thousandth_is_not_shown() {
        assert_eq!(inches(10.6254, Unit::Fraction(Sixteenth)), "10 5/8\"");
        assert_eq!(
            inches(10.6256, Unit::Fraction(Sixteenth)),
            "10 5/8 + 0.001 in"
        );
    }

    #[test]
    fn the_sign_belongs_to_the_whole_and_the_remainder_has_its_own() {
        assert_eq!(inches(-10.625, Unit::Fraction(Sixteenth)), "−10 5/8\"");
        assert_eq!(
            inches(-10.629, Unit::Fraction(Sixteenth)),
            "−10 5/8 − 0.004 in"
        );
        assert_eq!(
            inches(-10.621, Unit::Fraction(Sixteenth)),
            "−10 5/8 + 0.004 in"
        );
        assert_eq!(inches(-0.004, Unit::Fraction(Sixteenth)), "−0.004 in");
    }

    #[test]
    fn angles_are_written_to_a_hundredth_of_a_degree() {
        let written = |deg| write_angle(Angle::from_deg(deg));
        assert_eq!(written(60.0), "60°");
        assert_eq!(written(37.5), "37.5°");
        assert_eq!(written(59.999), "60°");
        assert_eq!(written(-30.0), "−30°");
        assert_eq!(written(-0.001), "0°");
        assert_eq!(written(360.0), "360°");
    }

    #[test]
    fn what_is_no_number_is_never_printed_as_one() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for unit in Unit::ALL {
                assert_eq!(write_length(Length::from_mm(value), unit), "unknown");
                assert_eq!(write_bare(Length::from_mm(value), unit), "unknown");
            }
            assert_eq!(write_angle(Angle::from_rad(value)), "unknown");
        }
    }
}
