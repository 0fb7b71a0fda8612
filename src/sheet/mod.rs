//! One device-independent drawing in millimetres: strokes, text, pages.

mod drawing;

pub use drawing::{Anchor, Drawing, Item, Layer, Pattern, Pen, Point};
