//! A main as a branch sits on it: the numbers its curves need, and its place.

use crate::cope::bent::BentSeat;
use crate::cope::curve::{Curve, Jet, highest};
use crate::joint::{Main, Outline, Surface};

/// Numbers of a main that its curves need, free of types for the arithmetic.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// Sine of the included angle.
    pub sin: f64,
    /// Cosine of the included angle; exactly 0 at a right angle.
    pub cos: f64,
    /// Offset of the main's axis towards +y, mm.
    pub offset: f64,
    /// Turn about the branch, rad, 0 to 2π.
    pub turn: f64,
    /// Shift along the branch, mm.
    pub shift: f64,
    /// What is hit, root gap included.
    pub ground: Ground,
}

/// How a main is hit.
#[derive(Debug, Clone, PartialEq)]
pub enum Ground {
    /// A straight main by its section's outline.
    Straight(Outline),
    /// A bent one.
    Bent(Box<BentSeat>),
}

impl Seat {
    /// The seat on a main whose surface is grown by the root gap already.
    pub fn of(main: &Main) -> Self {
        let (sin, cos) = main.sin_cos();
        let offset = main.offset().mm();
        Self {
            sin,
            cos,
            offset,
            turn: main.turn().rad(),
            shift: main.shift().mm(),
            ground: match main.surface() {
                Surface::Straight(outline) => Ground::Straight(outline.clone()),
                Surface::Bent(tube) => {
                    Ground::Bent(Box::new(BentSeat::new(tube, sin, cos, offset)))
                }
            },
        }
    }

    /// Height and derivatives of one of this main's curves at a turn of the branch.
    pub fn jet(&self, curve: Curve, phi: f64) -> Jet {
        let jet = curve.jet(self, phi - self.turn);
        Jet {
            height: jet.height + self.shift,
            ..jet
        }
    }

    /// Height alone.
    pub fn height(&self, curve: Curve, phi: f64) -> f64 {
        self.jet(curve, phi).height
    }

    /// The largest height over a wall at a turn of the branch; `None` where all of it passes
    /// beside.
    pub fn highest(&self, inner: f64, outer: f64, phi: f64) -> Option<f64> {
        let phi = phi - self.turn;
        let height = match &self.ground {
            Ground::Straight(_) => highest(self, inner, outer, phi)?.jet(self, phi).height,
            Ground::Bent(seat) => seat.top(inner, outer, phi)?.height,
        };
        Some(height + self.shift)
    }

    pub fn circle(&self, arc: Arc) -> Circle {
        Circle {
            radius: arc.radius,
            offset: self.offset + arc.across,
            lift: arc.up,
            sin: self.sin,
            cos: self.cos,
        }
    }
}

/// A circular part of an outline, mm from the main's axis.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Arc {
    pub across: f64,
    pub up: f64,
    pub radius: f64,
}

/// A circular part of an outline as a round main of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Radius, root gap included, mm.
    pub radius: f64,
    /// Offset of its axis towards +y, mm.
    pub offset: f64,
    /// Height of its axis above the main's, mm.
    pub lift: f64,
    /// Sine of the included angle.
    pub sin: f64,
    /// Cosine of the included angle; exactly 0 at a right angle.
    pub cos: f64,
}
