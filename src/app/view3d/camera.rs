//! Where the 3D view is seen from: an orbit round the joint, and the parallel projection.
//!
//! Parallel as in a drawing office: lengths square to the line of sight keep their proportions.
//! Knows nothing of the browser, so that it is tested without one.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::units::limited;

/// A place or a direction, in the frame of what is shown (z up on screen).
pub type Vector = [f64; 3];

/// Steepest look from above or below; straight along z the turn about z would lose its meaning.
const PITCH_MOST: f64 = FRAC_PI_2 - 0.01;
/// Least and most magnification.
const ZOOM: (f64, f64) = (0.5, 12.0);
/// Part of the shorter side of the picture that the ball round everything takes up.
const FILL: f64 = 0.95;

/// The position of the viewer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    /// Turn of the viewer about z from +x towards +y, radians.
    yaw: f64,
    /// Height of the viewer above the plane z = 0, radians.
    pitch: f64,
    /// Magnification; 1 shows everything.
    zoom: f64,
}

impl Camera {
    /// A viewer at a turn about z from +x towards +y and a height above z = 0, in degrees.
    pub const fn from_degrees(yaw: f64, pitch: f64) -> Self {
        Self {
            yaw: yaw.to_radians(),
            pitch: pitch.to_radians(),
            zoom: 1.0,
        }
    }

    /// Turns what is seen to the right and upwards by so many radians, as if dragged.
    pub fn drag(self, right: f64, up: f64) -> Self {
        Self {
            yaw: (self.yaw - right).rem_euclid(TAU),
            pitch: limited(self.pitch - up, -PITCH_MOST, PITCH_MOST),
            ..self
        }
    }

    /// Magnifies by a factor, within limits; anything but a positive number changes nothing.
    pub fn magnify(self, by: f64) -> Self {
        if !(by > 0.0 && by.is_finite()) {
            return self;
        }
        Self {
            zoom: limited(self.zoom * by, ZOOM.0, ZOOM.1),
            ..self
        }
    }

    /// The projection of a ball of `radius` round `centre` onto a picture of `width` × `height`.
    pub fn view(self, centre: Vector, radius: f64, (width, height): (f64, f64)) -> View {
        let (yaw, pitch) = (self.yaw.sin_cos(), self.pitch.sin_cos());
        let half = radius / (FILL * self.zoom);
        let per_unit = width.min(height) / 2.0 / half;
        View {
            right: [-yaw.0, yaw.1, 0.0],
            up: [-pitch.0 * yaw.1, -pitch.0 * yaw.0, pitch.1],
            eye: [pitch.1 * yaw.1, pitch.1 * yaw.0, pitch.0],
            centre,
            // A little more, so that nothing is cut off in front or behind.
            depth: radius * 1.05,
            per_unit,
            size: (width, height),
        }
    }

    /// From where the joint is seen, in words.
    pub fn words(self) -> &'static str {
        let side = (self.yaw.to_degrees() + 45.0).rem_euclid(360.0);
        let from_below = self.pitch < -0.2;
        match (side, from_below) {
            (turn, false) if turn < 90.0 => "from the heel side",
            (turn, false) if (180.0..270.0).contains(&turn) => "from the toe side",
            (_, false) => "from the side",
            (turn, true) if turn < 90.0 => "from below on the heel side",
            (turn, true) if (180.0..270.0).contains(&turn) => "from below on the toe side",
            (_, true) => "from below on the side",
        }
    }
}

/// A projection onto a picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Unit vector to the right of the picture.
    pub right: Vector,
    /// Unit vector up the picture.
    pub up: Vector,
    /// Unit vector out of the picture, towards the viewer.
    pub eye: Vector,
    centre: Vector,
    depth: f64,
    /// Picture units for each unit of length.
    pub per_unit: f64,
    size: (f64, f64),
}

impl View {
    /// The matrix to clip coordinates, column by column as WebGL takes it.
    pub fn matrix(&self) -> [f32; 16] {
        let (sx, sy) = (
            2.0 * self.per_unit / self.size.0,
            2.0 * self.per_unit / self.size.1,
        );
        let sz = -1.0 / self.depth;
        let mut matrix = [0.0; 16];
        for axis in 0..3 {
            matrix[4 * axis] = (sx * self.right[axis]) as f32;
            matrix[4 * axis + 1] = (sy * self.up[axis]) as f32;
            matrix[4 * axis + 2] = (sz * self.eye[axis]) as f32;
        }
        matrix[12] = (-sx * dot(self.right, self.centre)) as f32;
        matrix[13] = (-sy * dot(self.up, self.centre)) as f32;
        matrix[14] = (-sz * dot(self.eye, self.centre)) as f32;
        matrix[15] = 1.0;
        matrix
    }

    /// How far one picture unit reaches in clip depth.
    pub fn depth_of_unit(&self) -> f64 {
        1.0 / (self.per_unit * self.depth)
    }

    /// Where a place appears, from the picture's upper left corner.
    pub fn project(&self, place: Vector) -> (f64, f64) {
        let from = [0, 1, 2].map(|axis| place[axis] - self.centre[axis]);
        (
            self.size.0 / 2.0 + self.per_unit * dot(self.right, from),
            self.size.1 / 2.0 - self.per_unit * dot(self.up, from),
        )
    }

    /// How much a direction points at the viewer: 1 straight at, −1 straight away.
    pub fn facing(&self, direction: Vector) -> f64 {
        dot(self.eye, direction)
    }

    /// Where a direction points on the picture, to the right and down.
    pub fn direction(&self, direction: Vector) -> (f64, f64) {
        (dot(self.right, direction), -dot(self.up, direction))
    }
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
