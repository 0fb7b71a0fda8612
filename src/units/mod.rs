//! Lengths and angles as types, and the only place where text becomes either.
//!
//! A length is held in millimetres and an angle in radians; neither can be mistaken for the
//! other or for a bare number. [`read_length`] and [`write_length`] agree: what was written reads
//! back within the precision shown ([`Unit::shown_step`]).

mod angle;
mod decimal;
mod error;
mod length;
mod limit;
mod order;
mod quantity;
mod read;
mod scan;
mod tape;
mod unit;
mod write;

pub use angle::Angle;
pub use decimal::{push_decimal, write_decimal, write_fixed};
pub use error::{Problem, ReadError};
pub use length::{Length, MM_PER_INCH};
pub use limit::limited;
pub use order::sort_by_number;
pub use read::{ANGLE_LIMIT, LENGTH_LIMIT, read_angle, read_length};
pub use tape::{TapeMark, nearest_fraction};
pub use unit::{Denominator, Unit};
pub use write::{write_angle, write_bare, write_length, write_small};
