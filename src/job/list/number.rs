//! Typed numbers changed in their own style: with the other sign, or with something added.

use crate::units::{Angle, Length, ReadError, Unit, read_angle, read_length, write_fixed};

/// Signs that stand for minus in typed numbers.
const MINUS: [char; 7] = [
    '-', '−', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}',
];

/// A typed length with the other sign; what cannot be read, nothing and zero stay as they are.
pub(super) fn other_sign(text: &str, unit: Unit) -> String {
    let Ok(length) = read_length(text, unit) else {
        return text.to_owned();
    };
    if length == Length::ZERO {
        return text.to_owned();
    }
    let same = |text: &str| read_length(text, unit).is_ok_and(|own| own == -length);
    let flipped = flipped(text);
    if same(&flipped) {
        return flipped;
    }
    // A remainder beside a fraction has a sign of its own: `10 5/8 − 0.004 in`.
    if let Some((at, sign)) = flipped.char_indices().rfind(|(_, c)| is_sign(*c)) {
        let other = if sign == '+' { "−" } else { "+" };
        let both = format!(
            "{}{other}{}",
            &flipped[..at],
            &flipped[at + sign.len_utf8()..]
        );
        if same(&both) {
            return both;
        }
    }
    let digits = write_fixed(-length.mm(), 9);
    format!("{} mm", trimmed(&digits))
}

/// A typed angle with the other sign; what cannot be read, nothing, zero and half turns, which are
/// their own mirror image, stay as they are.
pub(super) fn other_turn(text: &str) -> String {
    match read_angle(text) {
        Ok(angle) if !is_half_turns(angle) => flipped(text),
        _ => text.to_owned(),
    }
}

fn is_half_turns(angle: Angle) -> bool {
    angle.deg().rem_euclid(180.0) == 0.0
}

fn is_sign(c: char) -> bool {
    c == '+' || MINUS.contains(&c)
}

/// A number with the sign before it changed.
fn flipped(text: &str) -> String {
    let typed = text.trim_start();
    match typed.strip_prefix(MINUS) {
        Some(number) => number.trim_start().to_owned(),
        None => format!("-{}", typed.strip_prefix('+').unwrap_or(typed).trim_start()),
    }
}

/// A typed length and another added to it, written as the first one is: in the same unit, and as a
/// fraction where both are. Decimals go on until a millionth of a millimetre.
///
/// # Errors
/// Text that is no length, and a sum that is longer than any that is read.
pub(super) fn added(text: &str, by: Length, unit: Unit) -> Result<String, ReadError> {
    let own = read_length(text, unit)?;
    let sum = own + by;
    if by == Length::ZERO {
        return Ok(text.to_owned());
    }
    let same = |text: &str| {
        let near = |read: Length| (read - sum).abs() <= EXACT;
        read_length(text, unit).is_ok_and(near)
    };
    let measure = Measure::of(text, unit);
    let mut written = String::new();
    if measure.fractions
        && let Some(fraction) = fraction(sum)
    {
        written = fraction + measure.suffix;
        if same(&written) {
            return Ok(written);
        }
    }
    for places in 0..=9 {
        written = trimmed(&write_fixed(sum.mm() / measure.mm, places)).to_owned() + measure.suffix;
        if same(&written) {
            return Ok(written);
        }
    }
    // Out of range: the reader says so.
    read_length(&written, unit).map(|_| written)
}

/// A typed sum is as exact as this.
const EXACT: Length = Length::from_mm(1e-6);

/// In what a typed length is measured, and how that is written behind it.
struct Measure {
    /// One of them, mm.
    mm: f64,
    suffix: &'static str,
    /// Whether it is inches, which may be written in fractions.
    fractions: bool,
}

impl Measure {
    fn of(text: &str, unit: Unit) -> Self {
        const INCH: f64 = crate::units::MM_PER_INCH;
        let inches = |suffix| Self {
            mm: INCH,
            suffix,
            // Who types decimals reads decimals.
            fractions: !text.contains(['.', ',']),
        };
        let metric = |mm, suffix| Self {
            mm,
            suffix,
            fractions: false,
        };
        let lower = text.to_ascii_lowercase();
        let letters: String = lower.chars().filter(|c| c.is_alphabetic()).collect();
        let ticks = lower.contains(['"', '″', '\u{201d}', '\u{201c}', 'ʺ']);
        match letters.as_str() {
            "mm" => metric(1.0, " mm"),
            "cm" => metric(10.0, " cm"),
            "m" => metric(1000.0, " m"),
            letters if letters.starts_with("mil") => metric(1.0, " mm"),
            letters if letters.starts_with("cen") => metric(10.0, " cm"),
            letters if letters.starts_with("met") => metric(1000.0, " m"),
            "" if !ticks && !lower.contains(['\'', '′', '’', '‘', '`', '´', 'ʹ']) => {
                if unit.is_inch() {
                    inches("")
                } else {
                    metric(1.0, "")
                }
            }
            "" => inches("\""),
            _ => inches(" in"),
        }
    }
}

/// A length as a tape fraction to 1/64 in; `None` where it is none.
fn fraction(length: Length) -> Option<String> {
    const PARTS: f64 = 64.0;
    let parts = length.abs().inches() * PARTS;
    let whole = parts.round();
    if (parts - whole).abs() > 1e-7 || whole > 1e9 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole, and from 0 to 1e9"
    )]
    let parts = whole as u64;
    let halvings = parts.trailing_zeros().min(6);
    let (whole, rest) = (parts / 64, (parts % 64) >> halvings);
    let sign = if length < Length::ZERO && parts > 0 {
        "-"
    } else {
        ""
    };
    Some(match (whole, rest) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, rest) => format!("{sign}{rest}/{}", 64 >> halvings),
        (whole, rest) => format!("{sign}{whole} {rest}/{}", 64 >> halvings),
    })
}

/// Decimals without zeros behind them.
fn trimmed(digits: &str) -> &str {
    if digits.contains('.') {
        digits.trim_end_matches('0').trim_end_matches('.')
    } else {
        digits
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::units::Denominator;

    const SIXTEENTHS: Unit = Unit::Fraction(Denominator::Sixteenth);

    #[test]
    fn the_other_sign_keeps_the_style() {
        let inch = |text| other_sign(text, SIXTEENTHS);
        assert_eq!(inch("10 5/8"), "-10 5/8");
        assert_eq!(inch("-10 5/8\""), "10 5/8\"");
        assert_eq!(inch("10-5/8"), "-10-5/8");
        assert_eq!(inch("− 3/16"), "3/16");
        assert_eq!(inch("+.5"), "-.5");
        assert_eq!(inch("10 5/8 − 0.004 in"), "-10 5/8 + 0.004 in");
        assert_eq!(inch("-10 5/8 + 0.004 in"), "10 5/8 − 0.004 in");
        assert_eq!(inch("2' 3 1/2\""), "-2' 3 1/2\"");
        assert_eq!(other_sign("31,75 mm", Unit::Millimetre), "-31,75 mm");
        for own in ["0", "0.0 mm", "", "five", "10 5/"] {
            assert_eq!(inch(own), own);
        }
    }

    #[test]
    fn a_turn_and_its_mirror_image() {
        assert_eq!(other_turn("30"), "-30");
        assert_eq!(other_turn("−22 1/2°"), "22 1/2°");
        assert_eq!(other_turn("270"), "-270");
        for own in ["0", "180", "-180", "360", "", "x"] {
            assert_eq!(other_turn(own), own);
        }
    }

    #[test]
    fn what_is_added_keeps_unit_and_style() {
        let inch = |text, by| added(text, Length::from_inches(by), SIXTEENTHS).unwrap();
        assert_eq!(inch("24", 0.5), "24 1/2");
        assert_eq!(inch("24 3/8", 0.125), "24 1/2");
        assert_eq!(inch("24 3/8\"", 0.625), "25\"");
        assert_eq!(inch("24.5 in", 0.25), "24.75 in");
        assert_eq!(inch("2' 3 1/2\"", 1.0), "28 1/2\"");
        assert_eq!(inch("1/4", -0.125), "1/8");
        assert_eq!(inch("1/4", -0.5), "-1/4");
        assert_eq!(inch("600 mm", 1.0), "625.4 mm");
        assert_eq!(inch("24", 10.0 / 25.4), "24.3937008");
        let metric = |text, by| added(text, Length::from_mm(by), Unit::Millimetre).unwrap();
        assert_eq!(metric("600", 25.0), "625");
        assert_eq!(metric("600", 3.175), "603.175");
        assert_eq!(metric("60 cm", 5.0), "60.5 cm");
        assert_eq!(metric("1,2 m", -5.0), "1.195 m");
        assert_eq!(metric("24 in", 12.7), "24 1/2 in");
        assert_eq!(metric("600", 0.0), "600");
    }

    #[test]
    fn what_cannot_be_added_is_said() {
        let by = Length::from_mm(5.0);
        assert!(added("long", by, Unit::Millimetre).is_err());
        let much = added("99999", by, Unit::Millimetre)
            .unwrap_err()
            .to_string();
        assert!(much.contains("100"), "{much}");
    }
}
