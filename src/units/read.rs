//! Text as typed becomes a length or an angle, or a sentence that says why not.

use super::error::{Fault, Problem, ReadError};
use super::quantity::{Cursor, Quantity};
use super::scan::{Mark, Reading, scan};
use super::{Angle, Length, Unit};

/// The longest length read, either way of zero: far beyond any tube.
pub const LENGTH_LIMIT: Length = Length::from_mm(100_000.0);
/// The largest angle read, either way of zero: ten turns.
pub const ANGLE_LIMIT: Angle = Angle::from_deg(3600.0);

/// The remainder beside a fraction stays under this, in inches: half a sixteenth is the most the
/// writer prints, and anything as long as a sixteenth is a sum, not a remainder.
const REMAINDER_LIMIT_INCH: f64 = 1.0 / 16.0;

/// Reads a length; a bare number takes `unit`, one with a unit of its own keeps it.
///
/// Takes `10 5/8`, `10-5/8"`, `10½`, `1.25 in`, `.095`, `31,75 mm`, `3 cm`, `1.2 m`,
/// `2' 3 1/2"`, `2 ft 3 in` and the remainder form `10 5/8 − 0.004 in`, each with an optional
/// sign that goes with the whole number. Capitals, extra spaces and typographic quotes, primes,
/// dashes and fraction slashes make no difference.
///
/// # Errors
/// Whatever is not exactly one length within ±[`LENGTH_LIMIT`]. Nothing is guessed: `1,234.5`,
/// `1,234` in millimetres, `10 - 5/8` and `10 11/8` are refused.
///
/// ```
/// use copewright::units::{Denominator, Unit, read_length};
/// let unit = Unit::Fraction(Denominator::Sixteenth);
/// assert_eq!(read_length("10 5/8", unit).unwrap().inches(), 10.625);
/// assert_eq!(read_length("31,75 mm", unit).unwrap().mm(), 31.75);
/// assert_eq!(
///     read_length("10 5/", unit).unwrap_err().to_string(),
///     "“10 5/” stops after the slash at character 5; write a fraction whole, such as 10 5/8"
/// );
/// ```
pub fn read_length(text: &str, unit: Unit) -> Result<Length, ReadError> {
    length(text, unit).map_err(|fault| ReadError::length(text, fault, unit))
}

/// Reads an angle in degrees: `60`, `60°`, `22 1/2 deg`, `22½°`, `60,5`, `60° 30' 15"`, `−30`.
///
/// # Errors
/// Whatever is not exactly one angle within ±[`ANGLE_LIMIT`].
///
/// ```
/// use copewright::units::read_angle;
/// assert_eq!(read_angle("22 1/2").unwrap().deg(), 22.5);
/// assert_eq!(
///     read_angle("60 rad").unwrap_err().to_string(),
///     "“60 rad” has “rad” at character 4, which is no unit of angle here; type degrees, such as 37.5°"
/// );
/// ```
pub fn read_angle(text: &str) -> Result<Angle, ReadError> {
    angle(text).map_err(|fault| ReadError::angle(text, fault))
}

fn length(text: &str, unit: Unit) -> Result<Length, Fault> {
    let tokens = scan(text, Reading::Length)?;
    if tokens.is_empty() {
        return Err(Fault::new(0, Problem::empty(Reading::Length)));
    }
    let mut cursor = Cursor::new(&tokens);
    let negative = cursor.take_sign().is_some_and(|(_, minus)| minus);
    let number = cursor.take_quantity()?;
    let own = cursor.take_mark().map(|(_, mark)| mark);
    let (size, measure) = match own {
        Some(Mark::Foot) if cursor.upcoming().is_some() => {
            (inches_behind(number, &mut cursor)?, Mark::Inch)
        }
        _ => (number.value, own.unwrap_or(bare(unit))),
    };
    let signed = if negative { -size } else { size };
    let value = match remainder(&mut cursor, own, measure)? {
        Some(rest) => Length::from_inches(signed + rest),
        None => of(signed, measure),
    };
    cursor.finish()?;
    // `1,234` inches would be longer than any tube, but in millimetres both readings make sense.
    if let (Some(comma), Mark::Millimetre) = (number.doubtful_comma, measure) {
        return Err(Fault::new(comma, Problem::CommaThousands));
    }
    // A range test fails for NaN too, which an endless fraction can be.
    if !(-LENGTH_LIMIT..=LENGTH_LIMIT).contains(&value) {
        return Err(Fault::new(number.at, Problem::LengthTooLarge));
    }
    // Adding zero turns −0 into 0.
    Ok(value + Length::ZERO)
}

/// What a number without a unit is measured in.
const fn bare(unit: Unit) -> Mark {
    if unit.is_inch() {
        Mark::Inch
    } else {
        Mark::Millimetre
    }
}

/// `size` in a unit of length.
const fn of(size: f64, measure: Mark) -> Length {
    match measure {
        Mark::Inch => Length::from_inches(size),
        Mark::Foot => Length::from_inches(size * 12.0),
        Mark::Centimetre => Length::from_mm(size * 10.0),
        Mark::Metre => Length::from_mm(size * 1000.0),
        // Marks of angle are never scanned in a length.
        Mark::Millimetre | Mark::Degree | Mark::Minute | Mark::Second => Length::from_mm(size),
    }
}

/// Takes the inches behind `feet` (`2' 3 1/2"`, `2'-3"`) and returns the whole in inches.
fn inches_behind(feet: Quantity, cursor: &mut Cursor) -> Result<f64, Fault> {
    if let Some((at, false)) = cursor.take_sign() {
        return Err(Fault::new(at, Problem::Sum));
    }
    let inches = match cursor.take_quantity() {
        // A unit where the inches should be is a second unit, not a missing number.
        Err(fault) if fault.problem == Problem::NoNumber => {
            return Err(Fault::new(fault.at, Problem::SecondUnit));
        }
        other => other?,
    };
    if !feet.whole {
        return Err(Fault::new(inches.at, Problem::FeetNotWhole));
    }
    match cursor.take_mark() {
        None | Some((_, Mark::Inch)) => {}
        Some((at, _)) => return Err(Fault::new(at, Problem::SecondUnit)),
    }
    if inches.value < 12.0 {
        Ok(feet.value * 12.0 + inches.value)
    } else {
        Err(Fault::new(inches.at, Problem::TwelveInches))
    }
}

/// Takes the remainder behind a fraction (`10 5/8 − 0.004 in`), signed, in inches.
fn remainder(cursor: &mut Cursor, own: Option<Mark>, measure: Mark) -> Result<Option<f64>, Fault> {
    let Some((at, minus)) = cursor.take_sign() else {
        return Ok(None);
    };
    if cursor.upcoming().is_none() {
        return Err(Fault::new(at, Problem::EndsAfterSign));
    }
    let sum = Fault::new(at, Problem::Sum);
    let Some((_, rest)) = cursor.take_plain_number() else {
        return Err(sum);
    };
    // The unit may stand at the very end and then goes for both.
    let inch = match cursor.take_mark() {
        Some((_, Mark::Inch)) => own.is_none() || measure == Mark::Inch,
        Some((at, _)) => return Err(Fault::new(at, Problem::SecondUnit)),
        None => measure == Mark::Inch,
    };
    if !inch || rest.value >= REMAINDER_LIMIT_INCH {
        return Err(sum);
    }
    Ok(Some(if minus { -rest.value } else { rest.value }))
}

fn angle(text: &str) -> Result<Angle, Fault> {
    let tokens = scan(text, Reading::Angle)?;
    if tokens.is_empty() {
        return Err(Fault::new(0, Problem::empty(Reading::Angle)));
    }
    let mut cursor = Cursor::new(&tokens);
    let negative = cursor.take_sign().is_some_and(|(_, minus)| minus);
    let number = cursor.take_quantity()?;
    let mut degrees = number.value;
    match cursor.take_mark() {
        Some((_, Mark::Degree)) => degrees += arc_behind(number, &mut cursor)?,
        Some((at, _)) => return Err(Fault::new(at, Problem::NoDegrees)),
        None => {}
    }
    cursor.finish()?;
    let value = Angle::from_deg(if negative { -degrees } else { degrees });
    if !(-ANGLE_LIMIT..=ANGLE_LIMIT).contains(&value) {
        return Err(Fault::new(number.at, Problem::AngleTooLarge));
    }
    Ok(value + Angle::ZERO)
}

/// Takes minutes, seconds or both behind whole degrees; the sum in degrees.
fn arc_behind(degrees: Quantity, cursor: &mut Cursor) -> Result<f64, Fault> {
    let mut before = degrees;
    let mut sum = 0.0;
    let mut last = Mark::Degree;
    while let Some(upcoming) = cursor.upcoming() {
        let part = cursor.take_quantity().map_err(|fault| {
            if fault.problem == Problem::NoNumber {
                Fault::new(fault.at, Problem::SecondUnit)
            } else {
                fault
            }
        })?;
        let scale = match (last, cursor.take_mark()) {
            (Mark::Degree, Some((_, Mark::Minute))) => {
                last = Mark::Minute;
                60.0
            }
            (Mark::Degree | Mark::Minute, Some((_, Mark::Second))) => {
                last = Mark::Second;
                3600.0
            }
            (_, Some((at, _))) => return Err(Fault::new(at, Problem::SecondUnit)),
            (_, None) => return Err(Fault::new(upcoming.at, Problem::SecondNumber)),
        };
        if !before.whole {
            return Err(Fault::new(part.at, Problem::ArcNotWhole));
        }
        if part.value >= 60.0 {
            return Err(Fault::new(part.at, Problem::SixtyParts));
        }
        sum += part.value / scale;
        before = part;
    }
    Ok(sum)
}

#[cfg(all(test, not(target_arch = "wasm32")))]
mod properties;
#[cfg(test)]
mod tests;
