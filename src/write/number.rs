//! Millimetres and degrees as the decimal text of a file.

use std::fmt;

use crate::units::{push_decimal, write_decimal};

/// Larger lengths (mm) are no drawing of ours and would not fit the digits used here.
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
            write_decimal(self.0, 0)
        )
    }
}

impl std::error::Error for NotFinite {}

/// Appends a number rounded to `decimals` places, trailing zeros trimmed; never prints `NaN`,
/// `inf`, `-0` or an exponent.
pub fn push(out: &mut String, number: f64, decimals: u32) -> Result<(), NotFinite> {
    push_decimal(out, finite(number)?, decimals);
    Ok(())
}

/// The number itself if it can be written.
pub fn finite(number: f64) -> Result<f64, NotFinite> {
    if !number.is_finite() || number.abs() > LARGEST {
        return Err(NotFinite(number));
    }
    Ok(number)
}

/// Millimetres rounded to 1 µm.
pub fn mm(number: f64) -> Result<String, NotFinite> {
    let mut out = String::new();
    push(&mut out, number, 3)?;
    Ok(out)
}
