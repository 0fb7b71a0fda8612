//! The curves a cut line is made of, with their first two derivatives.
//!
//! All are heights s along the branch axis from the joint centre, in millimetres, as functions of
//! the turn φ from the heel, in radians. Each is written in its main's own turn; [`Seat::jet`]
//! brings a main that is turned about the branch or shifted along it into its place.

use crate::cope::seat::{Arc, Circle, Ground, Seat};
use crate::joint::{Outline, Part};
use crate::units::limited;

/// One kind of curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Where the wall radius `rho` meets a round part:
    /// s = (ρ cos φ cos θ + h + √(R² − (ρ sin φ − e)²)) / sin θ.
    Wall {
        /// The round part.
        arc: Arc,
        /// Wall radius, mm.
        rho: f64,
    },
    /// Where the wall radius `rho` meets a face of slope m through (q, h):
    /// s = (ρ cos φ cos θ + h + m (ρ sin φ − e − q)) / sin θ.
    Face {
        /// A place on the face, across from the main's axis, mm.
        across: f64,
        /// Its height, mm.
        up: f64,
        /// Its slope.
        slope: f64,
        /// Wall radius, mm.
        rho: f64,
    },
    /// The largest s over all wall radii where it lies inside the wall on a round part: with
    /// t = cot φ, s = (e t cos θ + h + R √(1 + t² cos² θ)) / sin θ.
    ///
    /// Setting ∂s/∂ρ = 0 in the formula above gives ρ sin φ − e = R cos φ cos θ / D · sgn(sin φ),
    /// D² = cos² φ cos² θ + sin² φ; put back, the two terms add up to this.
    Crest {
        /// The round part.
        arc: Arc,
        /// Bore radius, mm.
        inner: f64,
        /// Outside radius, mm.
        outer: f64,
    },
    /// The largest s over all wall radii where it lies inside the wall on a sharp edge of the
    /// section at (q, h): s = ((e + q) t cos θ + h) / sin θ.
    Edge {
        /// Place of the edge across from the main's axis, mm.
        across: f64,
        /// Its height, mm.
        up: f64,
    },
    /// The largest s over the wall wherever it lies; stands in where it changes hands within too
    /// short a stretch to say when.
    Top {
        /// Bore radius, mm.
        inner: f64,
        /// Outside radius, mm.
        outer: f64,
    },
    /// The largest s over the wall on a bent main, see [`crate::cope::rise`].
    Bent {
        /// Bore radius, mm.
        inner: f64,
        /// Outside radius, mm; the same number for a cut along one radius.
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

impl Jet {
    const NOWHERE: Self = Self {
        height: f64::NEG_INFINITY,
        slope: f64::NAN,
        bend: f64::NAN,
    };
}

impl Curve {
    /// Height and derivatives at turn `phi` of the main's own. Where a generator only grazes the
    /// main the slope is infinite or NaN; the height never is.
    pub fn jet(self, seat: &Seat, phi: f64) -> Jet {
        let (sin, cos) = phi.sin_cos();
        let (height, slope, bend) = match self {
            Self::Wall { arc, rho } => return wall(&seat.circle(arc), rho, sin, cos),
            Self::Face {
                across,
                up,
                slope,
                rho,
            } => {
                let (lean, rise) = (rho * seat.cos, rho * slope);
                (
                    lean * cos + up + slope * (rho * sin - seat.offset - across),
                    rise * cos - lean * sin,
                    -lean * cos - rise * sin,
                )
            }
            Self::Crest { arc, inner, outer } => {
                let circle = seat.circle(arc);
                // Height and slope are those of the wall radius at the crest (the slope by the
                // envelope theorem), which keep their digits where cot φ grows without bound.
                let at = wall(
                    &circle,
                    crest_radius(&circle, inner, outer, sin, cos),
                    sin,
                    cos,
                );
                let t = cos / sin;
                let grow = 1.0 + t * t;
                let w = (1.0 + (t * seat.cos).powi(2)).sqrt();
                let by_t = circle.offset * seat.cos + circle.radius * seat.cos * seat.cos * t / w;
                let by_tt = circle.radius * seat.cos * seat.cos / (w * w * w);
                let bend = by_tt * grow * grow + by_t * 2.0 * t * grow;
                return Jet {
                    bend: bend / seat.sin,
                    ..at
                };
            }
            Self::Edge { across, up } => {
                let reach = (seat.offset + across) * seat.cos;
                let grow = 1.0 / (sin * sin);
                (
                    reach * cos / sin + up,
                    -reach * grow,
                    2.0 * reach * grow * cos / sin,
                )
            }
            Self::Top { inner, outer } => {
                return highest(seat, inner, outer, phi)
                    .map_or(Jet::NOWHERE, |curve| curve.jet(seat, phi));
            }
            Self::Bent { inner, outer } => {
                return match &seat.ground {
                    Ground::Bent(bent) => bent.top(inner, outer, phi).unwrap_or(Jet::NOWHERE),
                    Ground::Straight(_) => Jet::NOWHERE,
                };
            }
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

fn wall(circle: &Circle, rho: f64, sin: f64, cos: f64) -> Jet {
    let (y, y1, y2) = (rho * sin - circle.offset, rho * cos, -rho * sin);
    // As a product, not as a difference of squares, to keep its digits near grazing.
    let square = ((circle.radius - y) * (circle.radius + y)).max(0.0);
    let depth = square.sqrt();
    let curl = circle.radius * circle.radius * y1 * y1 + y * y2 * square;
    Jet {
        height: (y1 * circle.cos + circle.lift + depth) / circle.sin,
        slope: (y2 * circle.cos - y * y1 / depth) / circle.sin,
        bend: (-y1 * circle.cos - curl / (square * depth)) / circle.sin,
    }
}

/// The curve with the largest height over the wall at one turn of the main's own; `None` where
/// the whole wall passes beside.
///
/// s is concave in ρ (a straight line plus a concave outline), so its largest value over the wall
/// is at an edge of the wall or where the outline's slope is −cos θ cot φ, on a round part or on a
/// sharp edge. They are compared as they are: where a generator grazes the main, signs of
/// derivatives are noise.
pub fn highest(seat: &Seat, inner: f64, outer: f64, phi: f64) -> Option<Curve> {
    /// A wall radius this far past the main's side (as a part of its breadth) still grazes it.
    const GRAZE: f64 = 1e-12;
    let Ground::Straight(outline) = &seat.ground else {
        let curve = Curve::Bent { inner, outer };
        return (curve.height(seat, phi) > f64::NEG_INFINITY).then_some(curve);
    };
    let (sin, cos) = phi.sin_cos();
    let (left, right) = outline.reach();
    let slack = (right - left) * GRAZE;
    let at = |rho: f64| {
        let q = rho * sin - seat.offset;
        let within = q >= left - slack && q <= right + slack;
        let stretch = outline.at(limited(q, left, right))?;
        within.then(|| (stretch.part, rho * cos * seat.cos + stretch.part.height(q)))
    };
    let on = |part: Part, rho: f64| match part {
        Part::Arc { across, up, radius } => {
            let arc = Arc { across, up, radius };
            Curve::Wall { arc, rho }
        }
        Part::Face { across, up, slope } => Curve::Face {
            across,
            up,
            slope,
            rho,
        },
    };
    let (at_outer, at_inner) = (at(outer), at(inner));
    let edge = match (at_outer, at_inner) {
        (Some((_, out)), Some((part, bore))) if bore > out => Some((on(part, inner), bore)),
        (Some((part, out)), _) => Some((on(part, outer), out)),
        (None, inside) => inside.map(|(part, bore)| (on(part, inner), bore)),
    };
    if inner < outer
        && let Some((rho, curve)) = crest(seat, outline, inner, outer, sin, cos)
        && let Some((_, height)) = at(rho)
        && edge.is_none_or(|(_, edge)| height > edge)
    {
        return Some(curve);
    }
    edge.map(|(curve, _)| curve)
}

/// The wall radius, kept within the wall, where the outline's slope is −cos θ cot φ; and the
/// curve it runs on.
fn crest(
    seat: &Seat,
    outline: &Outline,
    inner: f64,
    outer: f64,
    sin: f64,
    cos: f64,
) -> Option<(f64, Curve)> {
    let slope = -seat.cos * cos / sin;
    let stretch = outline
        .stretches()
        .iter()
        .find(|stretch| stretch.slope_to <= slope)
        .or(outline.stretches().last())?;
    match stretch.part {
        Part::Arc { across, up, radius }
            if stretch.slope_from > slope && stretch.slope_to <= slope =>
        {
            let arc = Arc { across, up, radius };
            let rho = crest_radius(&seat.circle(arc), inner, outer, sin, cos);
            Some((rho, Curve::Crest { arc, inner, outer }))
        }
        part => {
            // Steeper than all of the outline, it is met at the outline's end.
            let across = if stretch.slope_to <= slope {
                stretch.from
            } else {
                stretch.to
            };
            let rho = limited((across + seat.offset) / sin, inner, outer);
            let up = part.height(across);
            across
                .is_finite()
                .then_some((rho, Curve::Edge { across, up }))
        }
    }
}

/// The wall radius with the largest height, kept within the wall: ρ sin φ = e + R A sgn(sin φ) / D.
fn crest_radius(circle: &Circle, inner: f64, outer: f64, sin: f64, cos: f64) -> f64 {
    let across = cos * circle.cos;
    let aside = circle.radius * across / across.hypot(sin) * 1.0_f64.copysign(sin);
    limited((circle.offset + aside) / sin, inner, outer)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::joint::Main;
    use crate::units::{Angle, Length};

    #[test]
    fn derivatives_agree_with_differences() {
        const STEP: f64 = 1e-5;
        let main = Main::round(
            Length::from_mm(60.0),
            Angle::from_rad(0.8_f64.asin()),
            Length::from_mm(4.0),
        );
        let seat = Seat::of(&main.unwrap());
        let arc = Arc {
            across: 0.0,
            up: 0.0,
            radius: 30.0,
        };
        let curves = [
            Curve::Wall { arc, rho: 21.0 },
            Curve::Crest {
                arc,
                inner: -1e9,
                outer: 1e9,
            },
            Curve::Face {
                across: 1.0,
                up: 3.0,
                slope: -0.4,
                rho: 21.0,
            },
            Curve::Edge {
                across: 7.0,
                up: 2.0,
            },
            Curve::Trim { rho: 21.0 },
        ];
        for curve in curves {
            for phi in [0.3, 1.1, 2.0, 2.9, 3.6, 4.4, 5.1, 6.0] {
                let (before, here, after) = (
                    curve.jet(&seat, phi - STEP),
                    curve.jet(&seat, phi),
                    curve.jet(&seat, phi + STEP),
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
