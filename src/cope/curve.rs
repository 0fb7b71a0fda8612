//! The curves a cut line is made of, with their first two derivatives.
//!
//! All are heights s along the branch axis from the joint centre, in millimetres, as functions of
//! the turn φ from the heel, in radians.

use crate::joint::RoundMain;
use crate::units::limited;

/// Numbers of a round main that every curve needs, free of types for the arithmetic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// Radius of the main, root gap included, mm.
    pub radius: f64,
    /// Offset of the main's axis towards +y, mm.
    pub offset: f64,
    /// Sine of the included angle.
    pub sin: f64,
    /// Cosine of the included angle; exactly 0 at a right angle.
    pub cos: f64,
}

impl Seat {
    pub fn of(main: &RoundMain) -> Self {
        let (sin, cos) = main.sin_cos();
        Self {
            radius: main.radius().mm(),
            offset: main.offset().mm(),
            sin,
            cos,
        }
    }
}

/// One kind of curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Where the wall radius `rho` meets the main:
    /// s = (ρ cos φ cos θ + √(R² − (ρ sin φ − e)²)) / sin θ.
    Wall {
        /// Wall radius, mm.
        rho: f64,
    },
    /// The largest s over all wall radii where it lies inside the wall: with t = cot φ,
    /// s = (e t cos θ + R √(1 + t² cos² θ)) / sin θ.
    ///
    /// Setting ∂s/∂ρ = 0 in the formula above gives ρ sin φ − e = R cos φ cos θ / D · sgn(sin φ),
    /// D² = cos² φ cos² θ + sin² φ; put back, the two terms add up to this.
    Crest {
        /// Bore radius, mm.
        inner: f64,
        /// Outside radius, mm.
        outer: f64,
    },
    /// The largest s over the wall wherever it lies; stands in where it changes hands within too
    /// short a stretch to say when.
    Top {
        /// Bore radius, mm.
        inner: f64,
        /// Outside radius, mm.
        outer: f64,
    },
    /// Beside the main nothing is hit. The tube is trimmed level with the main's axis, in the
    /// plane through it that the cut runs into at either side: s = ρ cos φ cot θ.
    Trim {
        /// Wall radius, mm.
        rho: f64,
    },
}

/// Height and its derivatives by the turn, mm, mm/rad, mm/rad².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jet {
    pub height: f64,
    pub slope: f64,
    pub bend: f64,
}

impl Curve {
    /// Height and derivatives at turn `phi`. Where a generator only grazes the main the slope is
    /// infinite or NaN; the height never is.
    pub fn jet(self, seat: &Seat, phi: f64) -> Jet {
        let (sin, cos) = phi.sin_cos();
        let (height, slope, bend) = match self {
            Self::Wall { rho } => {
                let (y, y1, y2) = (rho * sin - seat.offset, rho * cos, -rho * sin);
                // As a product, not as a difference of squares, to keep its digits near grazing.
                let square = ((seat.radius - y) * (seat.radius + y)).max(0.0);
                let depth = square.sqrt();
                let curl = seat.radius * seat.radius * y1 * y1 + y * y2 * square;
                (
                    y1 * seat.cos + depth,
                    y2 * seat.cos - y * y1 / depth,
                    -y1 * seat.cos - curl / (square * depth),
                )
            }
            Self::Crest { inner, outer } => {
                // Height and slope are those of the wall radius at the crest (the slope by the
                // envelope theorem), which keep their digits where cot φ grows without bound.
                let at = Self::Wall {
                    rho: crest_radius(seat, inner, outer, sin, cos),
                }
                .jet(seat, phi);
                let t = cos / sin;
                let grow = 1.0 + t * t;
                let w = (1.0 + (t * seat.cos).powi(2)).sqrt();
                let by_t = seat.offset * seat.cos + seat.radius * seat.cos * seat.cos * t / w;
                let by_tt = seat.radius * seat.cos * seat.cos / (w * w * w);
                let bend = by_tt * grow * grow + by_t * 2.0 * t * grow;
                return Jet {
                    bend: bend / seat.sin,
                    ..at
                };
            }
            Self::Top { inner, outer } => return highest(seat, inner, outer, phi).jet(seat, phi),
            Self::Trim { rho } => {
                let reach = rho * seat.cos;
                (reach * cos, -reach * sin, -reach * cos)
            }
        };
        Jet {
            height: height / seat.sin,
            slope: slope / seat.sin,
            bend: bend / seat.sin,
        }
    }

    /// Height alone.
    pub fn height(self, seat: &Seat, phi: f64) -> f64 {
        self.jet(seat, phi).height
    }
}

/// The curve with the largest height over the wall at one turn.
///
/// s is concave in ρ (a straight line plus the root of a concave parabola), so its largest value
/// over the wall is at the crest or at an edge. The three are compared as they are: where a
/// generator grazes the main, signs of derivatives are noise.
pub fn highest(seat: &Seat, inner: f64, outer: f64, phi: f64) -> Curve {
    /// A wall radius this far past the main's side (as a part of its radius) still grazes it.
    const GRAZE: f64 = 1e-12;
    let (sin, cos) = phi.sin_cos();
    let height = |rho: f64| {
        let y = rho * sin - seat.offset;
        let square = (seat.radius - y) * (seat.radius + y);
        (y.abs() <= seat.radius * (1.0 + GRAZE))
            .then(|| rho * cos * seat.cos + square.max(0.0).sqrt())
    };
    let at_outer = height(outer).unwrap_or(f64::NEG_INFINITY);
    let at_inner = height(inner).unwrap_or(f64::NEG_INFINITY);
    let (edge, at_edge) = if at_inner > at_outer {
        (inner, at_inner)
    } else {
        (outer, at_outer)
    };
    let crest = height(crest_radius(seat, inner, outer, sin, cos));
    if inner < outer && crest.is_some_and(|crest| crest > at_edge) {
        Curve::Crest { inner, outer }
    } else {
        Curve::Wall { rho: edge }
    }
}

/// The wall radius with the largest height, kept within the wall: ρ sin φ = e + R A sgn(sin φ) / D.
fn crest_radius(seat: &Seat, inner: f64, outer: f64, sin: f64, cos: f64) -> f64 {
    let across = cos * seat.cos;
    let aside = seat.radius * across / across.hypot(sin) * 1.0_f64.copysign(sin);
    limited((seat.offset + aside) / sin, inner, outer)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEAT: Seat = Seat {
        radius: 30.0,
        offset: 4.0,
        sin: 0.8,
        cos: 0.6,
    };
    const CURVES: [Curve; 3] = [
        Curve::Wall { rho: 21.0 },
        Curve::Crest {
            inner: -1e9,
            outer: 1e9,
        },
        Curve::Trim { rho: 21.0 },
    ];

    #[test]
    fn derivatives_agree_with_differences() {
        const STEP: f64 = 1e-5;
        for curve in CURVES {
            for phi in [0.3, 1.1, 2.0, 2.9, 3.6, 4.4, 5.1, 6.0] {
                let (before, here, after) = (
                    curve.jet(&SEAT, phi - STEP),
                    curve.jet(&SEAT, phi),
                    curve.jet(&SEAT, phi + STEP),
                );
                let slope = (after.height - before.height) / (2.0 * STEP);
                let bend = (after.slope - before.slope) / (2.0 * STEP);
                assert!(
                    (here.slope - slope).abs() < 1e-4 * (1.0 + slope.abs()),
                    "{curve:?} {phi}"
                );
                assert!(
                    (here.bend - bend).abs() < 1e-4 * (1.0 + bend.abs()),
                    "{curve:?} {phi}"
                );
            }
        }
    }
}
