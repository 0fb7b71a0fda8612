//! Where the tube is in space: a frame at any distance along a bent centre line.

use crate::cope::Point3;
use crate::piece::{CentreLine, TubeBend};
use crate::units::{Angle, Length};

/// A place on the centre line, mm, with three unit directions square to each other: **z** along
/// the tube from end A to end B, **x** towards the zero line, **y** completing a right-handed
/// frame. Sighted along z, turns grow clockwise from x to y.
///
/// Bending does not twist the tube: a line scribed along it stays at the same turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// The place.
    pub origin: Point3,
    /// Towards the zero line.
    pub x: Point3,
    /// A quarter turn on from the zero line.
    pub y: Point3,
    /// Along the tube.
    pub z: Point3,
}

impl Frame {
    /// The frame at the beginning of the centre line.
    pub const START: Self = Self {
        origin: [0.0; 3],
        x: [1.0, 0.0, 0.0],
        y: [0.0, 1.0, 0.0],
        z: [0.0, 0.0, 1.0],
    };

    /// A place given in this frame, mm.
    #[must_use]
    pub fn place(&self, [x, y, z]: Point3) -> Point3 {
        let along = |axis: usize| self.x[axis] * x + self.y[axis] * y + self.z[axis] * z;
        [0, 1, 2].map(|axis| self.origin[axis] + along(axis))
    }

    /// The place round the tube at a turn from the zero line and a radius, mm.
    #[must_use]
    pub fn around(&self, turn: Angle, radius: Length) -> Point3 {
        let (sin, cos) = turn.rad().sin_cos();
        self.place([radius.mm() * cos, radius.mm() * sin, 0.0])
    }

    /// The frame of the tube's other end seen from there: z into the body, the same x.
    #[must_use]
    pub fn turned_back(&self) -> Self {
        Self {
            y: self.y.map(|part| -part),
            z: self.z.map(|part| -part),
            ..*self
        }
    }

    /// Turned about z, from x towards y.
    pub(super) fn about_z(&self, turn: Angle) -> Self {
        let (sin, cos) = turn.rad().sin_cos();
        let mix = |x: f64, y: f64| [0, 1, 2].map(|axis| self.x[axis] * x + self.y[axis] * y);
        Self {
            x: mix(cos, sin),
            y: mix(-sin, cos),
            ..*self
        }
    }

    /// On along a straight.
    fn ahead(&self, by: Length) -> Self {
        Self {
            origin: self.place([0.0, 0.0, by.mm()]),
            ..*self
        }
    }

    /// On along a bend by `angle`, which may be less than the whole of it.
    fn round(&self, bend: &TubeBend, angle: Angle) -> Self {
        // Towards the centre of the bend, and square to its plane; in this frame.
        let (out_sin, out_cos) = bend.outside().rad().sin_cos();
        let inwards = [-out_cos, -out_sin, 0.0];
        let (sin, cos) = angle.rad().sin_cos();
        let clr = bend.clr().mm();
        // CLR (1 − cos), without loss of digits.
        let sag = 2.0 * clr * (angle.rad() / 2.0).sin().powi(2);
        let origin = [inwards[0] * sag, inwards[1] * sag, clr * sin];
        // z turns towards the centre, the direction across the bend's plane stays.
        let turned = |direction: [f64; 2]| {
            let towards = direction[0] * inwards[0] + direction[1] * inwards[1];
            [
                direction[0] + towards * (cos - 1.0) * inwards[0],
                direction[1] + towards * (cos - 1.0) * inwards[1],
                -towards * sin,
            ]
        };
        let way = |direction: Point3| {
            let place = self.place(direction);
            [0, 1, 2].map(|axis| place[axis] - self.origin[axis])
        };
        Self {
            origin: self.place(origin),
            x: way(turned([1.0, 0.0])),
            y: way(turned([0.0, 1.0])),
            z: way([inwards[0] * sin, inwards[1] * sin, cos]),
        }
    }
}

impl CentreLine {
    /// The frame at a distance along the centre line from its beginning, which stands at
    /// [`Frame::START`]; before the beginning and beyond the end the straights go on.
    #[must_use]
    pub fn frame_at(&self, along: Length) -> Frame {
        let mut frame = Frame::START;
        let mut from = Length::ZERO;
        for (span, bend) in self.spans().iter().zip(self.bends()) {
            if along <= span.start {
                break;
            }
            let part = (along.min(span.end) - span.start) / bend.arc();
            frame = frame
                .ahead(span.start - from)
                .round(bend, bend.angle() * part);
            from = span.end;
            if along < span.end {
                return frame;
            }
        }
        frame.ahead(along - from)
    }
}
