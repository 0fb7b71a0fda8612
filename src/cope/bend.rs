//! Functions whose sign can be proven over a stretch: of a curve's bend, and of which wall radius
//! is the highest.

use std::f64::consts::FRAC_PI_2;

use crate::cope::curve::Curve;
use crate::cope::interval::Interval;
use crate::cope::roots::Bounded;
use crate::cope::seat::{Arc, Circle, Seat};

/// Carries the sign of a curve's bend, up to a constant sign, within one quarter turn.
pub struct BendSign {
    kind: Kind,
    circle: Circle,
}

/// The curves whose bend changes its sign where no closed form says; see [`Curve`].
#[derive(Debug, Clone, Copy)]
enum Kind {
    Wall { rho: f64 },
    Crest,
    Trim,
}

impl BendSign {
    /// The sign of a curve on a round part, or of a trim; `None` for one that bends as it does at
    /// any turn between the cuts of its stretch.
    pub fn of(curve: Curve, seat: &Seat) -> Option<Self> {
        let (kind, arc) = match curve {
            Curve::Wall { arc, rho } => (Kind::Wall { rho }, arc),
            Curve::Crest { arc, .. } => (Kind::Crest, arc),
            Curve::Trim { .. } => (Kind::Trim, Arc::default()),
            Curve::Face { .. } | Curve::Edge { .. } | Curve::Top { .. } | Curve::Bent { .. } => {
                return None;
            }
        };
        let circle = seat.circle(arc);
        Some(Self { kind, circle })
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

    fn over(circle: &Circle, rho: f64, phi: Interval) -> Self {
        let side = if phi.middle().sin() >= 0.0 { 1.0 } else { -1.0 };
        let centre = if side > 0.0 {
            FRAC_PI_2
        } else {
            3.0 * FRAC_PI_2
        };
        let reach = circle.radius + side * circle.offset;
        let least = reach - rho;
        let least = if least.abs() < Self::FLUSH * circle.radius {
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
        let middle = depth.squared() - depth * (3.0 * circle.radius + reach)
            + circle.radius * (circle.radius + 3.0 * reach);
        Self {
            depth,
            middle,
            grazing: circle.radius * circle.radius * least * (2.0 * rho + least),
            least,
            reach,
            side,
            y: (-depth + circle.radius) * side,
            across: phi.through(|phi| rho * phi.cos()),
        }
    }

    /// q² = Z (2 R − Z).
    fn square(&self, circle: &Circle) -> Interval {
        self.depth * (-self.depth + 2.0 * circle.radius)
    }

    fn value(&self, circle: &Circle) -> Interval {
        let square = self.square(circle);
        self.depth.squared() * self.middle
            + self.across * circle.cos * square.root() * square
            + -self.grazing
    }

    /// The value divided by Z², which stays clear of zero where a flush branch grazes the main.
    fn per_square_depth(&self, circle: &Circle, rho: f64) -> Interval {
        if self.depth.lo <= 0.0 && self.least != 0.0 {
            return Interval {
                lo: f64::NEG_INFINITY,
                hi: f64::INFINITY,
            };
        }
        let (kappa, z) = (self.least, self.depth);
        let upper = -z + 2.0 * circle.radius;
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
        self.middle - graze + tilt * upper.root() * upper * (sign * circle.cos)
    }

    fn slope(&self, circle: &Circle) -> Interval {
        // y″ = −ρ sin φ = −(y + e).
        let bent = -(self.y + circle.offset);
        let square = self.square(circle);
        let depth = square.root();
        let by_depth = self.depth * self.middle * 2.0
            + self.depth.squared() * (self.depth * 2.0 + -(3.0 * circle.radius + self.reach));
        by_depth * self.across * -self.side
            + (bent * square - self.y * self.across.squared() * 3.0) * depth * circle.cos
    }
}

impl Bounded for BendSign {
    fn value(&self, phi: Interval) -> Interval {
        let circle = &self.circle;
        match self.kind {
            Kind::Wall { rho } => WallBend::over(circle, rho, phi).value(circle),
            // s″ w³ sin θ / (1 + t²) = R c² (1 + t²) + 2 t e c w³ + 2 R c² t² w², with c = cos θ
            Kind::Crest => {
                let t = phi.through(|phi| phi.cos() / phi.sin());
                let square = t.squared() * (circle.cos * circle.cos) + 1.0;
                let lead = circle.radius * circle.cos * circle.cos;
                (t.squared() + 1.0) * lead
                    + t * square.root() * square * (2.0 * circle.offset * circle.cos)
                    + t.squared() * square * (2.0 * lead)
            }
            Kind::Trim => phi.through(f64::cos) * circle.cos,
        }
    }

    fn slope(&self, phi: Interval) -> Interval {
        let circle = &self.circle;
        match self.kind {
            Kind::Wall { rho } => WallBend::over(circle, rho, phi).slope(circle),
            Kind::Crest => {
                let t = phi.through(|phi| phi.cos() / phi.sin());
                let c2 = circle.cos * circle.cos;
                let square = t.squared() * c2 + 1.0;
                let w = square.root();
                let lead = circle.radius * c2;
                let by_t = t * (2.0 * lead)
                    + (w * square + t.squared() * w * (3.0 * c2))
                        * (2.0 * circle.offset * circle.cos)
                    + (t * square + t * t.squared() * c2) * (4.0 * lead);
                -(by_t * (t.squared() + 1.0))
            }
            Kind::Trim => phi.through(f64::sin) * -circle.cos,
        }
    }

    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        let Kind::Wall { rho } = self.kind else {
            return self.value(over).may_be_zero().then(|| self.slope(over));
        };
        let bend = WallBend::over(&self.circle, rho, over);
        let open = bend.value(&self.circle).may_be_zero()
            && bend.per_square_depth(&self.circle, rho).may_be_zero();
        open.then(|| bend.slope(&self.circle))
    }
}

/// Zero where the largest s over the wall passes through the wall radius `rho`: the square of
/// ∂s/∂ρ = 0, that is R² cos² φ cos² θ = y² (cos² φ cos² θ + sin² φ), with y = ρ sin φ − e.
pub struct Switch {
    pub circle: Circle,
    pub rho: f64,
}

impl Bounded for Switch {
    fn value(&self, phi: Interval) -> Interval {
        let (sin, cos) = (phi.through(f64::sin), phi.through(f64::cos));
        let y = sin * self.rho + -self.circle.offset;
        let across = cos.squared() * (self.circle.cos * self.circle.cos);
        across * (self.circle.radius * self.circle.radius) - y.squared() * (across + sin.squared())
    }

    fn slope(&self, phi: Interval) -> Interval {
        let (sin, cos) = (phi.through(f64::sin), phi.through(f64::cos));
        let (y, y1) = (sin * self.rho + -self.circle.offset, cos * self.rho);
        let c2 = self.circle.cos * self.circle.cos;
        let across = cos.squared() * c2;
        sin * cos * (-2.0 * c2 * self.circle.radius * self.circle.radius)
            - y * y1 * (across + sin.squared()) * 2.0
            - y.squared() * (sin * cos) * (2.0 * (1.0 - c2))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    use crate::joint::Main;
    use crate::units::{Angle, Length};

    const ARC: Arc = Arc {
        across: 0.0,
        up: 0.0,
        radius: 30.0,
    };
    const CURVES: [Curve; 3] = [
        Curve::Wall {
            arc: ARC,
            rho: 21.0,
        },
        Curve::Crest {
            arc: ARC,
            inner: -1e9,
            outer: 1e9,
        },
        Curve::Trim { rho: 21.0 },
    ];

    fn seat() -> Seat {
        let angle = Angle::from_rad(0.8_f64.asin());
        let main = Main::round(Length::from_mm(60.0), angle, Length::from_mm(4.0));
        Seat::of(&main.unwrap())
    }

    #[test]
    fn bend_signs_follow_the_bend_and_their_slopes_agree_with_differences() {
        const STEP: f64 = 1e-5;
        for curve in CURVES {
            let sign = BendSign::of(curve, &seat()).unwrap();
            for phi in [0.3, 1.1, 2.0, 2.9, 3.6, 4.4, 5.1, 6.0] {
                let expected = match curve {
                    Curve::Crest { .. } => curve.jet(&seat(), phi).bend,
                    _ => -curve.jet(&seat(), phi).bend,
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
            circle: seat().circle(ARC),
            rho: 21.0,
        };
        let across = |phi: f64| {
            let at = |rho| Curve::Wall { arc: ARC, rho }.height(&seat(), phi);
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
