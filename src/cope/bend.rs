//! Functions whose sign can be proven over a stretch: of a curve's bend, and of which wall radius
//! is the highest.

use std::f64::consts::FRAC_PI_2;

use crate::cope::curve::{Curve, Seat};
use crate::cope::interval::Interval;
use crate::cope::roots::Bounded;

/// Carries the sign of a curve's bend, up to a constant sign, within one quarter turn.
pub struct BendSign {
    curve: Curve,
    seat: Seat,
}

impl BendSign {
    pub const fn of(curve: Curve, seat: &Seat) -> Self {
        Self { curve, seat: *seat }
    }
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
    fn bend_signs_follow_the_bend_and_their_slopes_agree_with_differences() {
        const STEP: f64 = 1e-5;
        for curve in CURVES {
            let sign = BendSign::of(curve, &SEAT);
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
