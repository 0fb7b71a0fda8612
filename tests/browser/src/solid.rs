//! What a branch can sit on, each as the signed distance to its surface: positive outside the
//! solid, negative inside.
//!
//! Written from what each of them is (a half space, a rounded rectangle drawn along a line, all
//! that lies near a bent centre line), not from any formula of a cut line.

use crate::vector::{Vector, cross, dot, length, scaled, sum, unit};

/// A kind of main with its sizes, lengths in mm and angles in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// A straight round tube of that outside diameter.
    Round(f64),
    /// A flat plate.
    Plate,
    /// Another tube, both cut on the plane between them.
    Mitre,
    /// A straight tube of rectangular section.
    Rectangular {
        /// The side that lies across when the section is not turned.
        width: f64,
        /// The side that stands up.
        height: f64,
        /// Outside radius of its corners.
        corner: f64,
        /// Turn of the section about the axis, against the clock for someone at the heel's end of
        /// the main who looks along it.
        roll: f64,
    },
    /// A round tube bent by `bend` on a centre-line radius `clr`, straight before and after.
    Bent {
        /// Outside diameter.
        diameter: f64,
        /// Centre-line radius.
        clr: f64,
        /// By how much it is bent.
        bend: f64,
        /// Along the centre line from the middle of the bend to the landing, positive when the
        /// landing lies on the heel's side of it.
        station: f64,
        /// Turn of the inside of the bend about the axis, from facing the branch to the right of
        /// that same person.
        facing: f64,
    },
}

/// A shape in its place: a point of its axis, the axis (of a bent one at the landing), and what
/// is up and to the right for someone who looks along it from the heel's end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// What it is.
    pub shape: Shape,
    /// The axis passes here.
    pub through: Vector,
    /// Where the axis runs to, towards the heel's end.
    pub axis: Vector,
    /// Where the branch's body is, square to the axis.
    pub up: Vector,
    /// Square to both.
    pub right: Vector,
}

impl Placed {
    /// A shape whose axis passes through a point, leaning out of the direction `body` towards
    /// `lean` (units, square to each other) by `angle` degrees.
    #[must_use]
    pub fn new(shape: Shape, through: Vector, body: Vector, lean: Vector, angle: f64) -> Self {
        let tilted = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            sum(scaled(lean, sin), scaled(body, cos))
        };
        // Whoever looks along the main from the heel's end looks down its axis.
        let axis = tilted(angle);
        let forward = scaled(axis, -1.0);
        let up = match shape {
            // Both tubes are cut on the plane in which one is the other's mirror image.
            Shape::Mitre => unit(sum(body, scaled(axis, -1.0))),
            _ => unit(sum(body, scaled(axis, -dot(body, axis)))),
        };
        Self {
            shape,
            through,
            axis,
            up,
            right: unit(cross(forward, up)),
        }
    }

    /// Distance of a point from the surface, negative inside.
    #[must_use]
    pub fn distance(&self, point: Vector) -> f64 {
        let from = sum(point, scaled(self.through, -1.0));
        let (right, up) = (dot(from, self.right), dot(from, self.up));
        match self.shape {
            Shape::Round(diameter) => right.hypot(up) - diameter / 2.0,
            Shape::Plate | Shape::Mitre => up,
            Shape::Rectangular {
                width,
                height,
                corner,
                roll,
            } => {
                let (sin, cos) = roll.to_radians().sin_cos();
                let across = (right * cos + up * sin).abs() - (width / 2.0 - corner);
                let high = (up * cos - right * sin).abs() - (height / 2.0 - corner);
                // Distance to the rectangle of the corners' centres, less the corner.
                across.max(0.0).hypot(high.max(0.0)) + across.max(high).min(0.0) - corner
            }
            Shape::Bent {
                diameter,
                clr,
                bend,
                station,
                facing,
            } => self.off_centre_line(from, [clr, bend, station, facing]) - diameter / 2.0,
        }
    }

    /// Distance from the centre line of a bent tube.
    fn off_centre_line(&self, from: Vector, [clr, bend, station, facing]: [f64; 4]) -> f64 {
        let (sin, cos) = facing.to_radians().sin_cos();
        let inwards = sum(scaled(self.up, cos), scaled(self.right, sin));
        let half = bend.to_radians() / 2.0;
        // A landing on a leg is as far from the end of the bend as it is beyond it.
        let on_bend = station.max(-clr * half).min(clr * half);
        let nearest = scaled(self.axis, on_bend - station);
        let centre = sum(nearest, scaled(inwards, clr));
        // Places of the bend by how far the centre line has turned since its middle.
        let turned = on_bend / clr;
        let spoke = |turn: f64| {
            let (sin, cos) = (turn - turned).sin_cos();
            sum(scaled(inwards, -cos), scaled(self.axis, sin))
        };
        let place = |turn: f64| sum(centre, scaled(spoke(turn), clr));
        let off = |to: Vector| sum(from, scaled(to, -1.0));

        // At the middle, and where the centre line goes there, towards the heel's end.
        let (sin, cos) = turned.sin_cos();
        let middle = spoke(0.0);
        let tangent = sum(scaled(self.axis, cos), scaled(inwards, -sin));
        let out = off(centre);
        let turn = dot(out, tangent).atan2(dot(out, middle));
        let mut distance = length(off(place(turn.max(-half).min(half))));
        for end in [-half, half] {
            let (foot, ahead) = (place(end), end.signum());
            // Square to the spoke, in the bend's plane, away from the bend.
            let leg = sum(
                scaled(tangent, end.cos() * ahead),
                scaled(middle, -end.sin() * ahead),
            );
            let along = dot(off(foot), leg).max(0.0);
            distance = distance.min(length(off(sum(foot, scaled(leg, along)))));
        }
        distance
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const X: Vector = [1.0, 0.0, 0.0];
    const Z: Vector = [0.0, 0.0, 1.0];

    /// A shape square under the branch: along x, up z, and to the right y.
    fn square(shape: Shape) -> Placed {
        Placed::new(shape, [0.0; 3], Z, X, 90.0)
    }

    fn check(placed: &Placed, places: &[(Vector, f64)]) {
        for &(point, distance) in places {
            let is = placed.distance(point);
            assert!(
                (is - distance).abs() < 1e-9,
                "{placed:?} at {point:?}: {is}, not {distance}"
            );
        }
    }

    #[test]
    fn right_and_up_are_those_of_someone_at_the_heels_end() {
        let placed = square(Shape::Plate);
        for (is, should) in [
            (placed.axis, X),
            (placed.up, Z),
            (placed.right, [0.0, 1.0, 0.0]),
        ] {
            assert!(length(sum(is, scaled(should, -1.0))) < 1e-12, "{placed:?}");
        }
    }

    #[test]
    fn round_and_flat() {
        let round = Placed {
            through: [0.0, 5.0, 0.0],
            ..square(Shape::Round(40.0))
        };
        check(
            &round,
            &[
                ([7.0, 5.0, 20.0], 0.0),
                ([-90.0, 30.0, 0.0], 5.0),
                ([0.0, 5.0, -1.0], -19.0),
            ],
        );
        // 3-4-5: a plate that rises 4 over 3 towards the heel.
        let plate = Placed::new(Shape::Plate, [0.0; 3], Z, X, 0.6_f64.asin().to_degrees());
        check(
            &plate,
            &[
                ([3.0, 17.0, 4.0], 0.0),
                ([0.0, 0.0, 5.0], 3.0),
                ([5.0, 0.0, 0.0], -4.0),
            ],
        );
    }

    #[test]
    fn mitres_are_cut_on_the_plane_between() {
        // A square corner: the plane rises at 45° towards the heel, where the other tube goes.
        check(
            &square(Shape::Mitre),
            &[
                ([7.0, 3.0, 7.0], 0.0),
                ([0.0, 0.0, 2.0], 2.0_f64.sqrt()),
                ([2.0, 9.0, 0.0], -(2.0_f64.sqrt())),
            ],
        );
        let butt = Placed::new(Shape::Mitre, [0.0; 3], Z, X, 180.0);
        check(&butt, &[([7.0, 3.0, 0.0], 0.0), ([7.0, 3.0, 2.0], 2.0)]);
    }

    #[test]
    fn rounded_rectangle() {
        let flat = Shape::Rectangular {
            width: 60.0,
            height: 40.0,
            corner: 5.0,
            roll: 0.0,
        };
        // The corner's centre is at (25, 15).
        check(
            &square(flat),
            &[
                ([80.0, 10.0, 20.0], 0.0),
                ([0.0, 33.0, -15.0], 3.0),
                ([0.0, 28.0, 19.0], 0.0),
                ([0.0, 31.0, 23.0], 5.0),
                ([0.0, -31.0, -23.0], 5.0),
                ([0.0, 0.0, 0.0], -20.0),
                ([0.0, 29.0, 0.0], -1.0),
            ],
        );
        let sharp = Shape::Rectangular {
            width: 60.0,
            height: 40.0,
            corner: 0.0,
            roll: 0.0,
        };
        check(
            &square(sharp),
            &[([0.0, 30.0, 20.0], 0.0), ([0.0, 33.0, 24.0], 5.0)],
        );
        // Turned against the clock by a quarter, right goes up: the width stands.
        let upright = Shape::Rectangular {
            width: 60.0,
            height: 40.0,
            corner: 5.0,
            roll: 90.0,
        };
        check(
            &square(upright),
            &[([0.0, 5.0, 30.0], 0.0), ([0.0, 20.0, 5.0], 0.0)],
        );
        // By 30°, the face that was up has its middle 30° to the left.
        let turned = Shape::Rectangular {
            width: 60.0,
            height: 40.0,
            corner: 5.0,
            roll: 30.0,
        };
        let (sin, cos) = 30.0_f64.to_radians().sin_cos();
        check(
            &square(turned),
            &[
                ([0.0, -20.0 * sin, 20.0 * cos], 0.0),
                ([0.0, 30.0 * cos, 30.0 * sin], 0.0),
            ],
        );
    }

    fn bent(bend: f64, station: f64, facing: f64) -> Placed {
        square(Shape::Bent {
            diameter: 20.0,
            clr: 100.0,
            bend,
            station,
            facing,
        })
    }

    #[test]
    fn bends_by_their_arc_and_legs() {
        // Landing in the middle of a bend of 180°, its inside facing the branch: the circle's
        // centre is above at 100, legs go up from both ends of its lower half.
        check(
            &bent(180.0, 0.0, 0.0),
            &[
                ([0.0, 0.0, 10.0], 0.0),
                ([0.0, 0.0, -13.0], 3.0),
                ([60.0, 0.0, 20.0], -10.0),
                ([-60.0, 13.0, 20.0], 3.0),
                ([113.0, 0.0, 700.0], 3.0),
                ([-100.0, 14.0, 300.0], 4.0),
                ([0.0, 0.0, 150.0], 90.0),
            ],
        );
        // The same on its outside: everything below.
        check(
            &bent(180.0, 0.0, 180.0),
            &[
                ([0.0, 0.0, 10.0], 0.0),
                ([60.0, 0.0, -20.0], -10.0),
                ([-113.0, 0.0, -700.0], 3.0),
            ],
        );
        // From the side, the inside to the right.
        check(
            &bent(90.0, 0.0, 90.0),
            &[
                ([0.0, 0.0, 10.0], 0.0),
                ([60.0, 20.0, 10.0], 0.0),
                ([-60.0, 20.0, 14.0], 4.0),
            ],
        );
        // 45° on, the leg goes up at 45°.
        let end = 100.0 * 0.5_f64.sqrt();
        check(
            &bent(90.0, 0.0, 0.0),
            &[
                ([end + 50.0, 0.0, 100.0 - end + 50.0], -10.0),
                ([-end - 50.0, 15.0, 100.0 - end + 50.0], 5.0),
            ],
        );
    }

    #[test]
    fn bends_landed_on_elsewhere() {
        let quarter = 100.0 * std::f64::consts::FRAC_PI_2;
        // 50 beyond the heel's end of a bend of 90°: that end is 50 back, the rest behind it
        // turns up, the leg before it stands 150 behind.
        check(
            &bent(90.0, quarter / 2.0 + 50.0, 0.0),
            &[
                ([800.0, 0.0, 12.0], 2.0),
                ([-20.0, -10.0, 0.0], 0.0),
                ([-50.0 - 60.0, 0.0, 20.0], -10.0),
                ([-150.0, 0.0, 500.0], -10.0),
            ],
        );
        // 50 before its other end: the same towards the heel.
        check(
            &bent(90.0, -quarter / 2.0 - 50.0, 0.0),
            &[
                ([-800.0, 0.0, 12.0], 2.0),
                ([50.0 + 60.0, 0.0, 20.0], -10.0),
                ([150.0, 0.0, 500.0], -10.0),
            ],
        );
        // Right at the heel's end, on the arc.
        check(
            &bent(90.0, quarter / 2.0, 0.0),
            &[
                ([300.0, 0.0, 0.0], -10.0),
                ([-60.0, 0.0, 20.0], -10.0),
                ([-100.0, 0.0, 400.0], -10.0),
            ],
        );
        // A third of the way from the middle to the heel's end: 15° of the bend are before it.
        let (sin, cos) = 30.0_f64.to_radians().sin_cos();
        let foot = [100.0 * sin, 0.0, 100.0 - 100.0 * cos];
        check(
            &bent(90.0, quarter / 6.0, 0.0),
            &[([foot[0] + 90.0 * cos, 0.0, foot[2] + 90.0 * sin], -10.0)],
        );
    }
}
