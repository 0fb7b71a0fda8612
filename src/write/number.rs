//! The one place where millimetres become decimal text.

use std::fmt;

/// Larger lengths (mm) are no drawing of ours and would not fit the integers used here.
const LARGEST: f64 = 1e9;

/// A number that cannot be written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotFinite(
    /// The number.
    pub f64,
);

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "the drawing holds {}, which is no length; nothing was written",
            self.0
        )
    }
}

impl std::error::Error for NotFinite {}

/// Appends a number rounded to `decimals` places, trailing zeros trimmed; never prints `NaN`,
/// `inf`, `-0` or an exponent.
pub fn push(out: &mut String, number: f64, decimals: u32) -> Result<(), NotFinite> {
    let scale = 10_i64.pow(decimals);
    #[expect(clippy::cast_precision_loss, reason = "at most 1e9")]
    let scaled = (number * scale as f64).round();
    if !scaled.is_finite() || number.abs() > LARGEST {
        return Err(NotFinite(number));
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "at most 1e18 by the check above"
    )]
    let units = scaled as i64;
    if units < 0 {
        out.push('-');
    }
    let (whole, mut rest) = (units.abs() / scale, units.abs() % scale);
    push_whole(out, whole);
    if rest == 0 {
        return Ok(());
    }
    out.push('.');
    let mut place = scale / 10;
    while rest > 0 {
        let digit = u8::try_from(rest / place).unwrap_or_default();
        out.push(char::from(b'0' + digit));
        rest %= place;
        place /= 10;
    }
    Ok(())
}

/// Appends a whole number without a detour over a string of its own.
fn push_whole(out: &mut String, number: i64) {
    if number >= 10 {
        push_whole(out, number / 10);
    }
    let digit = u8::try_from(number % 10).unwrap_or_default();
    out.push(char::from(b'0' + digit));
}

/// Millimetres rounded to 1 µm.
pub fn mm(number: f64) -> Result<String, NotFinite> {
    let mut out = String::new();
    push(&mut out, number, 3)?;
    Ok(out)
}
