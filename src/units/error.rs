//! Why a text is no length or angle, as one sentence with an example that works.

use std::fmt;

use super::Unit;
use super::scan::{LONGEST_TEXT, Reading};

/// A fault found while reading, before text and example are put beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fault {
    pub at: usize,
    pub problem: Problem,
}

impl Fault {
    pub(super) const fn new(at: usize, problem: Problem) -> Self {
        Self { at, problem }
    }
}

/// A text that is no length or angle.
///
/// Its [`Display`](fmt::Display) is one sentence that names the text, says where it went wrong
/// and gives an example that works.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadError {
    /// The text as typed.
    pub text: String,
    /// The character at which it went wrong, counted from 0.
    pub at: usize,
    /// What is wrong there.
    pub problem: Problem,
    /// A text that reads, in the unit of the job.
    pub example: &'static str,
}

/// What is wrong with a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// Nothing but spaces.
    EmptyLength,
    /// Nothing but spaces.
    EmptyAngle,
    /// More characters than any length needs.
    TooLong,
    /// A character that does not belong where it stands.
    Character(char),
    /// Letters that are no unit of length.
    LengthWord(String),
    /// Letters that are no unit of angle.
    AngleWord(String),
    /// A decimal mark without digits.
    LoneDecimalMark,
    /// Two decimal marks of one kind in one number.
    SecondDecimalMark,
    /// A comma and a point in one number: which is the decimal mark is anyone's guess.
    CommaAndPoint,
    /// A comma that could set off thousands or decimals, in millimetres.
    CommaThousands,
    /// No number where one must stand.
    NoNumber,
    /// The text ends after a plus or minus.
    EndsAfterSign,
    /// The text ends after the slash of a fraction.
    EndsAfterSlash,
    /// No number below the slash.
    NothingBelowSlash,
    /// Zero below the slash.
    ZeroBelowSlash,
    /// A fraction with two slashes.
    SecondSlash,
    /// A fraction made with decimals.
    DecimalInFraction,
    /// The fraction behind a whole number is one or more.
    FractionNotUnderOne,
    /// A number behind a complete number.
    SecondNumber,
    /// A plus or minus that looks like a sum to be worked out.
    Sum,
    /// A unit behind a unit, or one that does not follow from the first.
    SecondUnit,
    /// Feet with a fraction, followed by inches.
    FeetNotWhole,
    /// Twelve inches or more behind feet.
    TwelveInches,
    /// Minutes or seconds of arc without degrees before them.
    NoDegrees,
    /// A fraction of a degree or minute, followed by minutes or seconds.
    ArcNotWhole,
    /// Sixty minutes or seconds of arc, or more.
    SixtyParts,
    /// Longer than any tube.
    LengthTooLarge,
    /// More than ten turns.
    AngleTooLarge,
}

impl ReadError {
    /// The error for `fault` in a length, for a job worked in `unit`.
    pub(super) fn length(text: &str, fault: Fault, unit: Unit) -> Self {
        let example = match (&fault.problem, unit) {
            (Problem::FeetNotWhole | Problem::TwelveInches, _) => "2' 3 1/2\"",
            (problem, Unit::Millimetre) if problem.is_about_fractions() => "10 5/8 in",
            (problem, _) if problem.is_about_fractions() => "10 5/8",
            (Problem::CommaThousands, _) => "1234",
            (Problem::LengthWord(_), Unit::Millimetre) => "48.3 mm",
            (Problem::LengthWord(_), Unit::Inch) => "10.625 in",
            (Problem::LengthWord(_), Unit::Fraction(_)) => "10 5/8 in",
            (_, Unit::Millimetre) => "48.3",
            (_, Unit::Inch) => "10.625",
            (_, Unit::Fraction(_)) => "10 5/8",
        };
        Self::new(text, fault, example)
    }

    /// The error for `fault` in an angle.
    pub(super) fn angle(text: &str, fault: Fault) -> Self {
        let example = match fault.problem {
            Problem::NoDegrees | Problem::ArcNotWhole | Problem::SixtyParts => "60° 30'",
            ref problem if problem.is_about_fractions() => "22 1/2",
            Problem::AngleWord(_) => "37.5°",
            _ => "37.5",
        };
        Self::new(text, fault, example)
    }

    fn new(text: &str, fault: Fault, example: &'static str) -> Self {
        // A text past the limit is cut, so that an error stays small whatever was pasted.
        Self {
            text: text.chars().take(LONGEST_TEXT).collect(),
            at: fault.at,
            problem: fault.problem,
            example,
        }
    }
}

impl Problem {
    /// The empty text, for what was to be read.
    pub(super) const fn empty(reading: Reading) -> Self {
        match reading {
            Reading::Length => Self::EmptyLength,
            Reading::Angle => Self::EmptyAngle,
        }
    }

    const fn is_about_fractions(&self) -> bool {
        matches!(
            self,
            Self::EndsAfterSlash
                | Self::NothingBelowSlash
                | Self::ZeroBelowSlash
                | Self::SecondSlash
                | Self::DecimalInFraction
                | Self::FractionNotUnderOne
        )
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let example = self.example;
        match &self.problem {
            Problem::EmptyLength => {
                return write!(f, "nothing is typed yet; type a length, such as {example}");
            }
            Problem::EmptyAngle => {
                return write!(f, "nothing is typed yet; type an angle, such as {example}");
            }
            Problem::TooLong => {
                return write!(
                    f,
                    "“{}…” goes on past {LONGEST_TEXT} characters; type one number, such as {example}",
                    shown(&self.text)
                );
            }
            _ => {}
        }
        let place = self.at + 1;
        write!(f, "“{}” ", shown(&self.text))?;
        match &self.problem {
            Problem::EmptyLength | Problem::EmptyAngle | Problem::TooLong => Ok(()),
            Problem::Character(c) if is_hidden(*c) => write!(
                f,
                "has a hidden character at character {place}; type it again by hand, such as {example}"
            ),
            Problem::Character(c) => write!(
                f,
                "has “{c}” at character {place}, which does not belong there; leave it out, such as {example}"
            ),
            Problem::LengthWord(word) => write!(
                f,
                "has “{word}” at character {place}, which is no unit of length here; use mm, cm, m, in or ft, such as {example}"
            ),
            Problem::AngleWord(word) => write!(
                f,
                "has “{word}” at character {place}, which is no unit of angle here; type degrees, such as {example}"
            ),
            Problem::LoneDecimalMark => write!(
                f,
                "has a decimal mark without digits at character {place}; put digits beside it, such as {example}"
            ),
            Problem::SecondDecimalMark => write!(
                f,
                "has a second decimal mark at character {place}; keep one, such as {example}"
            ),
            Problem::CommaAndPoint => write!(
                f,
                "has both a comma and a point, the second at character {place}, so it is unclear which sets off the decimals; keep only that one, such as {example}"
            ),
            Problem::CommaThousands => write!(
                f,
                "has a comma at character {place} that could set off thousands or decimals; write the number without it, such as {example}"
            ),
            Problem::NoNumber => write!(
                f,
                "has no number before character {place}; start with a number, such as {example}"
            ),
            Problem::EndsAfterSign => write!(
                f,
                "stops after the sign at character {place}; put a number behind it, such as {example}"
            ),
            Problem::EndsAfterSlash => write!(
                f,
                "stops after the slash at character {place}; write a fraction whole, such as {example}"
            ),
            Problem::NothingBelowSlash => write!(
                f,
                "has no number behind the slash at character {place}; write a fraction whole, such as {example}"
            ),
            Problem::ZeroBelowSlash => write!(
                f,
                "divides by zero at character {place}; put a number above zero there, such as {example}"
            ),
            Problem::SecondSlash => write!(
                f,
                "has a second slash at character {place}; write one fraction, such as {example}"
            ),
            Problem::DecimalInFraction => write!(
                f,
                "mixes decimals and a fraction at character {place}; use one or the other, such as {example}"
            ),
            Problem::FractionNotUnderOne => write!(
                f,
                "has a fraction of one or more behind the whole number at character {place}; the fraction must be under one, such as {example}"
            ),
            Problem::SecondNumber => write!(
                f,
                "has a second number at character {place}; write one number, such as {example}"
            ),
            Problem::Sum => write!(
                f,
                "looks like a sum at character {place}; type the result, such as {example}"
            ),
            Problem::SecondUnit => write!(
                f,
                "has a unit that does not fit at character {place}; use one unit, such as {example}"
            ),
            Problem::FeetNotWhole => write!(
                f,
                "has a part of a foot followed by inches at character {place}; use whole feet, such as {example}"
            ),
            Problem::TwelveInches => write!(
                f,
                "has twelve inches or more behind the feet at character {place}; carry them into the feet, such as {example}"
            ),
            Problem::NoDegrees => write!(
                f,
                "has minutes or seconds at character {place} without degrees before them; start with degrees, such as {example}"
            ),
            Problem::ArcNotWhole => write!(
                f,
                "has a part of a degree or minute followed by more at character {place}; use whole ones, such as {example}"
            ),
            Problem::SixtyParts => write!(
                f,
                "has sixty or more at character {place}; minutes and seconds stay under sixty, such as {example}"
            ),
            Problem::LengthTooLarge => write!(
                f,
                "is over 100 m (about 328 ft) from character {place} on; check the number and its unit, such as {example}"
            ),
            Problem::AngleTooLarge => write!(
                f,
                "is over 3600° from character {place} on; type an angle within one turn, such as {example}"
            ),
        }
    }
}

impl std::error::Error for ReadError {}

/// The text as a sentence may quote it: what would not be seen is a space.
fn shown(text: &str) -> String {
    text.chars()
        .map(|c| if is_hidden(c) { ' ' } else { c })
        .collect()
}

/// Whether a character prints nothing of its own: then Rust escapes it as `\u{…}` or `\n`.
fn is_hidden(c: char) -> bool {
    !matches!(c, '\'' | '"' | '\\') && c.escape_debug().len() > 1
}
