//! The sketch that is the form: elevation, end view and unrolled cope, drawn to proportion.
//!
//! Each view is a drawing of fixed size in which the tubes are scaled to fit, and the places
//! where its dimensions stand. The page puts an input on each of those places.

mod bend_view;
mod boxes;
mod dimensions;
mod elevation;
mod end_view;
pub(super) mod ink;
mod outline;
mod round_view;
mod scene;
mod section;
mod section_view;
mod sight;
pub(super) mod unrolled;

pub use bend_view::bend_view;
pub use elevation::elevation;
pub use end_view::end_view;
pub use round_view::round_view;
pub use unrolled::unrolled;

use crate::joint::Dimension;
use crate::sheet::{Drawing, Point};

/// A drawing with the places of its dimensions.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Lines and words.
    pub drawing: Drawing,
    /// Middle of each dimension's box, in the drawing's millimetres.
    pub boxes: Vec<(Dimension, Point)>,
}

/// Width kept free for a dimension's box, in the drawing's millimetres.
pub const BOX_WIDTH: f64 = 31.0;
/// Height kept free for a dimension's box.
pub const BOX_HEIGHT: f64 = 18.0;
