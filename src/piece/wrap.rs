//! How far the paper goes round: the developed width of a template.

use std::f64::consts::{PI, TAU};

use crate::units::{Angle, Length};

/// Thickest template material taken: card and rubber sheet, not plate.
pub const THICKNESS_MAX: Length = Length::from_mm(3.0);

/// A measured circumference this far off π · diameter (as a part of it) is worth a question.
pub const GIRTH_DOUBT: f64 = 0.02;

/// Further off than this it is not this tube's circumference at all.
pub const GIRTH_LIMIT: f64 = 0.2;

/// The developed width and what it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wrap {
    width: Length,
    measured: bool,
}

impl Wrap {
    /// Width of material of `thickness` wrapped once round a tube of `outside` diameter: the
    /// middle of the material is what keeps its length, so π (D + t).
    #[must_use]
    pub fn computed(outside: Length, thickness: Length) -> Self {
        Self {
            width: (outside + thickness) * PI,
            measured: false,
        }
    }

    /// Width from a circumference measured on the real tube with a strip of the same material.
    #[must_use]
    pub const fn measured(girth: Length) -> Self {
        Self {
            width: girth,
            measured: true,
        }
    }

    /// One whole turn on paper.
    #[must_use]
    pub const fn width(&self) -> Length {
        self.width
    }

    /// Whether the width was measured on the tube.
    #[must_use]
    pub const fn is_measured(&self) -> bool {
        self.measured
    }

    /// Distance on paper from the zero line to a turn.
    #[must_use]
    pub fn around(&self, turn: Angle) -> Length {
        self.width * (turn.rad() / TAU)
    }
}
