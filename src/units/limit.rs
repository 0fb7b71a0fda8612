//! Keeps a number between two others without ever panicking.

/// `number`, but at least `low` and at most `high`; `low` for what is no number.
///
/// Unlike [`f64::clamp`] it has no panic for limits that cross (the upper one wins then), and so
/// does not bring the 12 kB of code that print two floats in that panic's message.
///
/// ```
/// use copewright::units::limited;
/// assert_eq!(limited(7.0, 0.0, 5.0), 5.0);
/// assert_eq!(limited(f64::NAN, 0.0, 5.0), 0.0);
/// assert_eq!(limited(7.0, 6.0, 5.0), 5.0);
/// ```
#[must_use]
pub const fn limited(number: f64, low: f64, high: f64) -> f64 {
    number.max(low).min(high)
}
