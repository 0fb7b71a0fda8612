//! The curves a cut line is made of, with their first two derivatives and the signs of their bend.
//!
//! All are heights s along the branch axis from the joint centre, in millimetres, as functions of
//! the turn φ from the heel, in radians.

use std::f64::consts::FRAC_PI_2;

use crate::cope::interval::Interval;
use crate::cope::roots::Bounded;
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

    /// A function with the sign of the second derivative (or of its negative) and no poles.
    pub fn bend_sign(self, seat: &Seat) -> BendSign {
        BendSign {
            curve: self,
            seat: *seat,
        }
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

/// Carries the sign of a curve's bend, up to a constant sign, within one quarter turn.
pub struct BendSign {
    curve: Curve,
    seat: Seat,
}

/// The terms of a wall curve's bend over a part of one quarter turn, free of cancellation.
///
/// With q = √(R² − y²), −s″ q³ sin θ = R² y′² + y y″ q² + ρ cos φ cos θ q³. Near the main's side
/// the first two terms nearly cancel, so they are written in Z = R ∓ y, the depth below the side
/// nearest to this quarter, and κ, its least value over all turns:
/// Z² B − R² κ (2 ρ + κ), with B = R² + 3 R S − (3 R + S) Z + Z² and S = R ± e = ρ + κ.
struct WallBend {
    /// Z, without loss of digits where it is small.
    depth: Interval,
    /// B.
    middle: Interval,
    /// R² κ (2 ρ + κ).
    grazing: f64,
    /// κ.
    least: f64,
    /// S.
    reach: f64,
    /// +1 where y grows with sin φ > 0, −1 in the other half turn.
    side: f64,
    /// y.
    y: Interval,
    /// y′ = ρ cos φ.
    across: Interval,
}

impl WallBend {
    /// Below this part of R, κ is rounding noise of a branch exactly flush with the main's side.
    const FLUSH: f64 = 1e-12;

    fn over(seat: &Seat, rho: f64, phi: Interval) -> Self {
        let side = if phi.middle().sin() >= 0.0 { 1.0 } else { -1.0 };
        let centre = if side > 0.0 {
            FRAC_PI_2
        } else {
            3.0 * FRAC_PI_2
        };
        let reach = seat.radius + side * seat.offset;
        let least = reach - rho;
        let least = if least.abs() < Self::FLUSH * seat.radius {
            0.0
        } else {
            least
        };
        let sink = phi.through(|phi| 2.0 * rho * ((phi - centre) / 2.0).sin().powi(2));
        let depth = sink + least;
        let depth = Interval {
            lo: depth.lo.max(0.0),
            hi: depth.hi.max(0.0),
        };
        let middle = depth.squared() - depth * (3.0 * seat.radius + reach)
            + seat.radius * (seat.radius + 3.0 * reach);
        Self {
            depth,
            middle,
            grazing: seat.radius * seat.radius * least * (2.0 * rho + least),
            least,
            reach,
            side,
            y: (-depth + seat.radius) * side,
            across: phi.through(|phi| rho * phi.cos()),
        }
    }

    /// q² = Z (2 R − Z).
    fn square(&self, seat: &Seat) -> Interval {
        self.depth * (-self.depth + 2.0 * seat.radius)
    }

    fn value(&self, seat: &Seat) -> Interval {
        let square = self.square(seat);
        self.depth.squared() * self.middle
            + self.across * seat.cos * square.root() * square
            + -self.grazing
    }

    /// The value divided by Z², which stays clear of zero where a flush branch grazes the main.
    fn per_square_depth(&self, seat: &Seat, rho: f64) -> Interval {
        if self.depth.lo <= 0.0 && self.least != 0.0 {
            return Interval {
                lo: f64::NEG_INFINITY,
                hi: f64::INFINITY,
            };
        }
        let (kappa, z) = (self.least, self.depth);
        let upper = -z + 2.0 * seat.radius;
        let share = |k: f64| {
            if k == 0.0 {
                Interval::point(0.0)
            } else {
                z.through(|z| k / z)
            }
        };
        let graze = if self.grazing == 0.0 {
            Interval::point(0.0)
        } else {
            z.through(|z| self.grazing / (z * z))
        };
        let tilt = (-share(kappa) + 1.0).root() * (-z + (2.0 * rho + kappa)).root();
        let sign = if self.across.middle() >= 0.0 {
            1.0
        } else {
            -1.0
        };
        self.middle - graze + tilt * upper.root() * upper * (sign * seat.cos)
    }

    fn slope(&self, seat: &Seat) -> Interval {
        // y″ = −ρ sin φ = −(y + e).
        let bent = -(self.y + seat.offset);
        let square = self.square(seat);
        let depth = square.root();
        let by_depth = self.depth * self.middle * 2.0
            + self.depth.squared() * (self.depth * 2.0 + -(3.0 * seat.radius + self.reach));
        by_depth * self.across * -self.side
            + (bent * square - self.y * self.across.squared() * 3.0) * depth * seat.cos
    }
}

impl Bounded for BendSign {
    fn value(&self, phi: Interval) -> Interval {
        let seat = &self.seat;
        match self.curve {
            Curve::Wall { rho } => WallBend::over(seat, rho, phi).value(seat),
            // s″ w³ sin θ / (1 + t²) = R c² (1 + t²) + 2 t e c w³ + 2 R c² t² w², with c = cos θ
            Curve::Crest { .. } | Curve::Top { .. } => {
                let t = phi.through(|phi| phi.cos() / phi.sin());
                let square = t.squared() * (seat.cos * seat.cos) + 1.0;
                let lead = seat.radius * seat.cos * seat.cos;
                (t.squared() + 1.0) * lead
                    + t * square.root() * square * (2.0 * seat.offset * seat.cos)
                    + t.squared() * square * (2.0 * lead)
            }
            Curve::Trim { .. } => phi.through(f64::cos) * seat.cos,
        }
    }

    fn slope(&self, phi: Interval) -> Interval {
        let seat = &self.seat;
        match self.curve {
            Curve::Wall { rho } => WallBend::over(seat, rho, phi).slope(seat),
            Curve::Crest { .. } | Curve::Top { .. } => {
                let t = phi.through(|phi| phi.cos() / phi.sin());
                let c2 = seat.cos * seat.cos;
                let square = t.squared() * c2 + 1.0;
                let w = square.root();
                let lead = seat.radius * c2;
                let by_t = t * (2.0 * lead)
                    + (w * square + t.squared() * w * (3.0 * c2)) * (2.0 * seat.offset * seat.cos)
                    + (t * square + t * t.squared() * c2) * (4.0 * lead);
                -(by_t * (t.squared() + 1.0))
            }
            Curve::Trim { .. } => phi.through(f64::sin) * -seat.cos,
        }
    }

    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        let Curve::Wall { rho } = self.curve else {
            return self.value(over).may_be_zero().then(|| self.slope(over));
        };
        let bend = WallBend::over(&self.seat, rho, over);
        let open = bend.value(&self.seat).may_be_zero()
            && bend.per_square_depth(&self.seat, rho).may_be_zero();
        open.then(|| bend.slope(&self.seat))
    }
}

/// Zero where the largest s over the wall passes through the wall radius `rho`: the square of
/// ∂s/∂ρ = 0, that is R² cos² φ cos² θ = y² (cos² φ cos² θ + sin² φ), with y = ρ sin φ − e.
pub struct Switch {
    pub seat: Seat,
    pub rho: f64,
}

impl Bounded for Switch {
    fn value(&self, phi: Interval) -> Interval {
        let (sin, cos) = (phi.through(f64::sin), phi.through(f64::cos));
        let y = sin * self.rho + -self.seat.offset;
        let across = cos.squared() * (self.seat.cos * self.seat.cos);
        across * (self.seat.radius * self.seat.radius) - y.squared() * (across + sin.squared())
    }

    fn slope(&self, phi: Interval) -> Interval {
        let (sin, cos) = (phi.through(f64::sin), phi.through(f64::cos));
        let (y, y1) = (sin * self.rho + -self.seat.offset, cos * self.rho);
        let c2 = self.seat.cos * self.seat.cos;
        let across = cos.squared() * c2;
        sin * cos * (-2.0 * c2 * self.seat.radius * self.seat.radius)
            - y * y1 * (across + sin.squared()) * 2.0
            - y.squared() * (sin * cos) * (2.0 * (1.0 - c2))
    }
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

    #[test]
    fn bend_signs_follow_the_bend_and_their_slopes_agree_with_differences() {
        const STEP: f64 = 1e-5;
        for curve in CURVES {
            let sign = curve.bend_sign(&SEAT);
            for phi in [0.3, 1.1, 2.0, 2.9, 3.6, 4.4, 5.1, 6.0] {
                let expected = match curve {
                    Curve::Crest { .. } | Curve::Top { .. } => curve.jet(&SEAT, phi).bend,
                    Curve::Wall { .. } | Curve::Trim { .. } => -curve.jet(&SEAT, phi).bend,
                };
                assert_eq!(sign.at(phi) > 0.0, expected > 0.0, "{curve:?} {phi}");
                let slope = (sign.at(phi + STEP) - sign.at(phi - STEP)) / (2.0 * STEP);
                let stated = sign.slope(Interval::point(phi)).middle();
                assert!(
                    (stated - slope).abs() < 1e-3 * (1.0 + slope.abs()),
                    "{curve:?} {phi}"
                );
            }
        }
    }

    #[test]
    fn the_switch_is_zero_where_the_wall_curve_peaks_across_the_wall() {
        let switch = Switch {
            seat: SEAT,
            rho: 21.0,
        };
        let across = |phi: f64| {
            let at = |rho| Curve::Wall { rho }.height(&SEAT, phi);
            (at(21.0 + 1e-5) - at(21.0 - 1e-5)) / 2e-5
        };
        let found = crate::cope::roots::roots(&switch, 0.01, 1.56);
        assert!(!found.is_empty());
        assert!(
            found.iter().any(|root| across(root.from).abs() < 1e-6),
            "{found:?}"
        );
    }
}
