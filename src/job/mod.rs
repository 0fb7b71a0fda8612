//! What the user typed, the share link, and what is kept between visits.

mod printer;

pub use printer::{Orientation, Printer, PrinterError, Ruler};
