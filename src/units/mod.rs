//! Lengths and angles as types, and the only place where text becomes either.
//!
//! A length is held in millimetres and an angle in radians; neither can be mistaken for the
//! other or for a bare number.

mod angle;
mod length;

pub use angle::Angle;
pub use length::Length;
/// What a bare number means and how lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetre,
}

/// A length with its unit.
#[must_use]
pub fn write_length(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{} mm", length.mm()),
    }
}

/// An angle in degrees.
#[must_use]
pub fn write_angle(angle: Angle) -> String {
    format!("{}°", angle.deg())
}
