//! A bent round main: an arc with straight legs, and where a generator first meets it.
//!
//! The main's own frame is (along, side, up) of [`crate::joint::Main`]. The bend has a frame of
//! its own at the end of the arc next to the landing, or at the landing itself when that is on the
//! arc: t runs along the centre line, n towards the centre of the bend, b completes it. With
//! κ = 1 / CLR a point lies on the arc's surface of tube radius R where Q² + b² = R² with
//! Q = κ (t² + n² + b² − R²) / 2 − n. (The distance to the arc's circle is R; squaring once to
//! remove the root and dividing by 4 CLR² leaves this. It tends to n² + b² = R² for a straight
//! tube without losing digits.) On a leg Q is the distance from the leg's line in the bend's plane.

use std::f64::consts::PI;

use crate::joint::limits::ANGLE_MIN;
use crate::joint::quartic::roots;
use crate::joint::{Bend, Main};
use crate::units::{Angle, Length, limited};

/// One of the three surfaces of a bent main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BendSurface {
    /// The arc.
    Arc,
    /// The leg where the centre line comes from.
    Before,
    /// The leg where it goes on to.
    After,
}

/// A straight leg: everything with a positive distance along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Distance along the leg from the end of the arc: `along.0 t + along.1 n + along.2`.
    pub along: [f64; 3],
    /// Distance from the leg's line towards the bend's centre, likewise.
    pub towards: [f64; 3],
}

impl Leg {
    fn along(&self, t: f64, n: f64) -> f64 {
        self.along[0] * t + self.along[1] * n + self.along[2]
    }

    fn towards(&self, t: f64, n: f64) -> f64 {
        self.towards[0] * t + self.towards[1] * n + self.towards[2]
    }
}

/// Numbers of a bent main in the bend's frame, mm and radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BentTube {
    /// Radius of the tube, root gap included.
    pub radius: f64,
    /// 1 / CLR.
    pub curvature: f64,
    /// Where the frame stands along the main, from the landing.
    pub origin: f64,
    /// Sine and cosine of the facing.
    pub facing: (f64, f64),
    /// Angles of the arc's ends about the bend's centre, from the frame.
    pub arc: (f64, f64),
    /// The legs before and after.
    pub legs: [Leg; 2],
}

/// A hit this far (as a part of the tube's radius) beyond the end of its surface still counts, so
/// that none falls between two surfaces; they touch there to the second order.
const SEAM: f64 = 1e-9;

impl BentTube {
    pub(super) fn new(radius: Length, bend: &Bend) -> Self {
        let (clr, half) = (bend.clr().mm(), bend.angle().rad().min(PI) / 2.0);
        let past = bend.station().abs().mm() - clr * half;
        let (origin, arc) = if past > 0.0 {
            // On a leg: the frame goes back to the end of the arc.
            if bend.station() > Length::ZERO {
                (-past, (-2.0 * half, 0.0))
            } else {
                (past, (0.0, 2.0 * half))
            }
        } else {
            let middle = -bend.station().mm() / clr;
            (0.0, (middle - half, middle + half))
        };
        let leg = |angle: f64, way: f64| {
            let (sin, cos) = angle.sin_cos();
            // CLR (1 − cos), without loss of digits.
            let sag = 2.0 * clr * (angle / 2.0).sin().powi(2);
            Leg {
                along: [way * cos, way * sin, -way * clr * sin],
                towards: [-sin, cos, sag],
            }
        };
        Self {
            radius: radius.mm(),
            curvature: 1.0 / clr,
            origin,
            facing: bend.facing().rad().sin_cos(),
            arc,
            legs: [leg(arc.0, -1.0), leg(arc.1, 1.0)],
        }
    }

    /// A place or direction of the main's frame (along, side, up), turned into (t, n, b).
    fn turned(&self, [along, side, up]: [f64; 3]) -> [f64; 3] {
        let (sin, cos) = self.facing;
        [along, up * cos + side * sin, side * cos - up * sin]
    }

    /// A place of the main's frame in the bend's, as (t, n, b).
    pub(super) fn bend_frame(&self, [along, side, up]: [f64; 3]) -> [f64; 3] {
        self.turned([along - self.origin, side, up])
    }

    /// A direction (t, n, b) of the bend's frame in the main's.
    pub(super) fn out_of_bend_frame(&self, [t, n, b]: [f64; 3]) -> [f64; 3] {
        let (sin, cos) = self.facing;
        [t, n * sin + b * cos, n * cos - b * sin]
    }

    /// The centre line at a distance along it from the landing, growing in the main's direction:
    /// the place in the main's frame (mm) and its unit tangent.
    #[must_use]
    pub fn centre_line(&self, distance: f64) -> ([f64; 3], [f64; 3]) {
        let kappa = self.curvature;
        let run = distance - self.origin;
        let turn = limited(run * kappa, self.arc.0, self.arc.1);
        let (sin, cos) = turn.sin_cos();
        // (1 − cos) / κ, without loss of digits.
        let sag = 2.0 * (turn / 2.0).sin().powi(2) / kappa;
        let straight = run - turn / kappa;
        let (t, n) = (sin / kappa + straight * cos, sag + straight * sin);
        let (facing_sin, facing_cos) = self.facing;
        let place = [t + self.origin, n * facing_sin, n * facing_cos];
        (place, [cos, sin * facing_sin, sin * facing_cos])
    }

    /// The angle between the branch and a leg that runs up along it so closely that one lies in the
    /// other; `radius` is the branch's, mm.
    pub(super) fn along_branch(&self, main: &Main, radius: f64) -> Option<Angle> {
        let (sin, cos) = main.sin_cos();
        let branch = self.turned([cos, 0.0, sin]);
        let centre = self.turned([-self.origin, -main.offset().mm(), 0.0]);
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let across = |a: [f64; 3]| {
            let along = dot(a, branch);
            [0, 1, 2].map(|axis| a[axis] - along * branch[axis])
        };
        self.legs.iter().find_map(|leg| {
            let ([a0, a1, a2], [w0, w1, w2]) = (leg.along, leg.towards);
            let (way, start) = ([a0, a1, 0.0], [-a2 * a0 - w2 * w0, -a2 * a1 - w2 * w1, 0.0]);
            // Seen along the branch the leg is a ray; its place nearest to the branch's axis.
            let (from, step) = (
                across([0, 1, 2].map(|axis| start[axis] - centre[axis])),
                across(way),
            );
            let square = dot(step, step);
            let reach = if square > 0.0 {
                (-dot(from, step) / square).max(0.0)
            } else {
                0.0
            };
            let nearest = [0, 1, 2].map(|axis| from[axis] + reach * step[axis]);
            let aside = dot(nearest, nearest).sqrt();
            let between = square.sqrt().atan2(dot(way, branch));
            (between < ANGLE_MIN.rad() && aside < self.radius + radius)
                .then(|| Angle::from_rad(between))
        })
    }

    /// The largest `reach` for which `from + reach · towards` lies on the surface, and on which of
    /// its three parts; both are in the main's frame and `towards` is a unit vector.
    #[must_use]
    pub fn first_hit(&self, from: [f64; 3], towards: [f64; 3]) -> Option<(f64, BendSurface)> {
        let [t, n, b] = self.turned([from[0] - self.origin, from[1], from[2]]);
        let [dt, dn, db] = self.turned(towards);
        let slack = SEAM * self.radius;
        let mut first: Option<(f64, BendSurface)> = None;
        let mut offer = |reach: f64, surface: BendSurface| {
            if reach.is_finite() && first.is_none_or(|(best, _)| reach > best) {
                first = Some((reach, surface));
            }
        };
        for (leg, surface) in self
            .legs
            .iter()
            .zip([BendSurface::Before, BendSurface::After])
        {
            let (m, dm) = (leg.towards(t, n), leg.towards[0] * dt + leg.towards[1] * dn);
            let dl = leg.along[0] * dt + leg.along[1] * dn;
            for reach in on_circle((m, b), (dm, db), self.radius) {
                if leg.along(t, n) + reach * dl >= -slack {
                    offer(reach, surface);
                }
            }
        }
        let on_arc = |reach: &f64| {
            let (t, n) = (t + reach * dt, n + reach * dn);
            self.legs.iter().all(|leg| leg.along(t, n) <= slack)
        };
        if let Some(reach) = self.on_ring([t, n, b], [dt, dn, db]).find(on_arc) {
            offer(reach, BendSurface::Arc);
        }
        first
    }

    /// Where a line meets the whole ring that the arc is part of, from the far end down.
    fn on_ring(&self, [t, n, b]: [f64; 3], [dt, dn, db]: [f64; 3]) -> impl Iterator<Item = f64> {
        let kappa = self.curvature / 2.0;
        let square = self.radius * self.radius;
        // Counted from the point nearest to the frame, the numbers stay small.
        let nearest = -(t * dt + n * dn + b * db);
        let (t, n, b) = (t + nearest * dt, n + nearest * dn, b + nearest * db);
        let apart = t * t + n * n + b * b;
        // Q = q2 x² + q1 x + q0
        let (q2, q1, q0) = (kappa, -dn, kappa * (apart - square) - n);
        let quartic = [
            q0 * q0 + b * b - square,
            2.0 * (q0 * q1 + b * db),
            q1 * q1 + 2.0 * q0 * q2 + db * db,
            2.0 * q1 * q2,
            q2 * q2,
        ];
        // No point of the ring is farther from the frame than its outer diameter.
        let limit = 2.0 / self.curvature + 2.0 * self.radius;
        // A straight tube instead of the ring says nearly where the first one is.
        let [c, b1, a] = [quartic[0], quartic[1], q1 * q1 + db * db];
        let guess = ((b1 * b1 - 4.0 * a * c).max(0.0).sqrt() - b1) / (2.0 * a);
        roots(quartic, -limit, limit, guess)
            .map(move |root| nearest + self.settled([t, n, b], [dt, dn, db], root))
    }

    /// A root moved to where the distance from the centre line really is the radius: the distance
    /// keeps digits that the polynomial's coefficients have lost.
    fn settled(&self, from: [f64; 3], towards: [f64; 3], root: f64) -> f64 {
        const STEPS: u32 = 3;
        /// A step this short (as a part of the tube's radius) leaves only rounding.
        const EXACT: f64 = 1e-10;
        let kappa = self.curvature;
        let mut x = root;
        for _ in 0..STEPS {
            let [t, n, b] = [0, 1, 2].map(|axis| from[axis] + x * towards[axis]);
            // q = hypot(t, CLR − n) − CLR, without loss of digits for a large CLR.
            let (x0, x1) = (kappa * t, 1.0 - kappa * n);
            let ring = (x0 * x0 + x1 * x1).sqrt();
            let q = (kappa * (t * t + n * n) - 2.0 * n) / (ring + 1.0);
            let apart = (q * q + b * b).sqrt();
            let off = apart - self.radius;
            let dq = (x0 * towards[0] - x1 * towards[1]) / ring;
            let slope = (q * dq + b * towards[2]) / apart;
            let step = off / slope;
            // Near grazing the slope is noise, and the root is as good as can be.
            if step.is_nan() || step.abs() > 1e-6 * self.radius {
                break;
            }
            x -= step;
            if step.abs() < EXACT * self.radius {
                break;
            }
        }
        x
    }
}

/// Where `from + x · step` in a plane is at the distance `radius` from the origin.
fn on_circle(from: (f64, f64), step: (f64, f64), radius: f64) -> impl Iterator<Item = f64> {
    let length = step.0.hypot(step.1);
    let (ux, uy) = (step.0 / length, step.1 / length);
    let aside = from.0 * uy - from.1 * ux;
    let along = from.0 * ux + from.1 * uy;
    let square = (radius - aside) * (radius + aside);
    let half = square.max(0.0).sqrt();
    let hit = square >= 0.0 && length > 0.0;
    [half, -half]
        .into_iter()
        .filter(move |_| hit)
        .map(move |half| (half - along) / length)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    /// Largest difference allowed from the kernel, mm: its own roots are off by up to 5e-9.
    const KERNEL: f64 = 1e-8;
    /// Largest difference allowed from the exact roots, mm.
    const EXACT: f64 = 1e-9;

    /// Every root, the middle ones too, which a first hit never shows: lines against a whole torus
    /// by the Open CASCADE kernel, and the exact roots of the same lines by mpmath with 50 digits
    /// (`tests/reference/README.md`).
    #[test]
    fn all_roots_on_a_whole_torus_are_exact_and_the_kernels() {
        let json = include_str!("../../tests/reference/bent.json");
        let reference: serde_json::Value = serde_json::from_str(json).unwrap();
        let numbers = |of: &serde_json::Value| -> Vec<f64> {
            let list = of.as_array().unwrap().iter();
            list.map(|number| number.as_f64().unwrap()).collect()
        };
        let place = |of: &serde_json::Value| -> [f64; 3] { numbers(of).try_into().unwrap() };
        let rays = reference["torus_rays"].as_array().unwrap();
        let exact = include_str!("../../tests/reference/torus_roots.json");
        let exact: Vec<Vec<f64>> = serde_json::from_str(exact).unwrap();
        assert_eq!(rays.len(), exact.len());
        let mut counts = [0; 5];
        for (ray, exact) in rays.iter().zip(&exact) {
            let number = |name: &str| ray[name].as_f64().unwrap();
            let ring = BentTube {
                radius: number("radius"),
                curvature: 1.0 / number("clr"),
                origin: 0.0,
                facing: number("facing_rad").sin_cos(),
                arc: (-PI, PI),
                legs: [Leg {
                    along: [0.0; 3],
                    towards: [0.0; 3],
                }; 2],
            };
            let (from, towards) = (place(&ray["origin"]), place(&ray["direction"]));
            let lines = (ring.turned(from), ring.turned(towards));
            let mut found: Vec<f64> = ring.on_ring(lines.0, lines.1).collect();
            found.reverse();
            let kernel = numbers(&ray["roots"]);
            assert_eq!(found.len(), kernel.len(), "{found:?} {kernel:?}");
            for (ours, kernel) in found.iter().zip(&kernel) {
                assert!((ours - kernel).abs() <= KERNEL, "{found:?} {kernel}");
            }
            assert_eq!(found.len(), exact.len());
            for (ours, exact) in found.iter().zip(exact) {
                assert!((ours - exact).abs() <= EXACT, "{found:?} {exact}");
            }
            // Sorted, and none found twice: neighbours are as far apart as the kernel's.
            for (ours, theirs) in found.windows(2).zip(kernel.windows(2)) {
                let (ours, theirs) = (ours[1] - ours[0], theirs[1] - theirs[0]);
                assert!(
                    ours > 0.0 && (ours - theirs).abs() <= 2.0 * KERNEL,
                    "{found:?}"
                );
            }
            counts[found.len()] += 1;
        }
        assert_eq!((counts[0], counts[2], counts[4]), (60, 90, 50));
    }
}
