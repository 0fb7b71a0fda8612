//! Lengths and angles as types, and the only place where text becomes either.
//!
//! A length is held in millimetres and an angle in radians; neither can be mistaken for the
//! other or for a bare number.

mod angle;
mod length;

pub use angle::Angle;
pub use length::Length;
