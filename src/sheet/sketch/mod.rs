//! The sketch that is the form: elevation, end view and unrolled cope, drawn to proportion.
//!
//! Each view is a drawing of fixed size in which the tubes are scaled to fit, and the places
//! where its dimensions stand. The page puts an input on each of those places.

mod elevation;
mod end_view;
mod ink;
mod unrolled;

pub use unrolled::unrolled;

use crate::joint::{Dimension, Shape};
use crate::piece::Template;
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

/// The joint seen square to the plane of the branch's axis and that of main `which`, counted from 0.
#[must_use]
pub fn elevation(template: &Template, which: usize) -> View {
    if is_drawn(template, which) {
        elevation::elevation(template)
    } else {
        not_drawn()
    }
}

/// The joint seen along main `which`, counted from 0.
#[must_use]
pub fn end_view(template: &Template, which: usize) -> View {
    if is_drawn(template, which) {
        end_view::end_view(template)
    } else {
        not_drawn()
    }
}

/// The plane of the bend of main `which`; `None` for one that is not bent.
#[must_use]
pub fn bend_view(_template: &Template, _which: usize) -> Option<View> {
    None
}

/// Down the branch to the joint; `None` with one main.
#[must_use]
pub fn round_view(_template: &Template, _which: usize) -> Option<View> {
    None
}

/// Only a first main that is a round tube has a drawing so far.
fn is_drawn(template: &Template, which: usize) -> bool {
    which == 0 && matches!(template.cope().joint().main().shape(), Shape::Round { .. })
}

fn not_drawn() -> View {
    View {
        drawing: Drawing::new(78.0, 20.0),
        boxes: Vec::new(),
    }
}
