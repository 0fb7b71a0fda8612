//! One main and the branch as they are seen square to both: numbers, and what hides what.
//!
//! The picture has the main's axis level, *along* to the right and *up* towards the branch; the
//! viewer looks towards the + side. Of a mitre it is the other tube that lies level, so that the
//! angle in the picture is the one between the two tubes.

use crate::cope::{Cope, Meeting};
use crate::joint::{Main, Shape, Surface};
use crate::sheet::sketch::section::{self, Section};
use crate::units::{Angle, Length};

/// A place in the picture's own space: along, side, up; mm.
pub type Place = [f64; 3];

/// Numbers of the joint as seen in the plane of a main and the branch, real mm.
pub struct Sight<'a> {
    pub cope: &'a Cope,
    pub main: &'a Main,
    /// Counted from 0.
    pub which: usize,
    /// Of the angle in the picture.
    pub sin: f64,
    pub cos: f64,
    pub theta: f64,
    /// Outside radius of the branch.
    pub r: f64,
    pub bore: f64,
    pub offset: f64,
    /// Shift of this main along the branch.
    pub shift: f64,
    /// How far the main reaches up from its axis, and down.
    pub crown: f64,
    pub depth: f64,
    /// Outline of its section, for those that have one.
    pub section: Option<Section>,
}

impl<'a> Sight<'a> {
    /// The sight of the main of that number; of the first one where there are fewer.
    pub fn of(cope: &'a Cope, which: usize) -> Self {
        let joint = cope.joint();
        let found = joint.mains().enumerate().nth(which);
        let (which, main) = found.unwrap_or((0, joint.main()));
        let theta = main.included_angle();
        let (sin, cos) = match main.shape() {
            // Two tubes in line are exactly so.
            Shape::Mitre { .. } => (theta.rad().sin().max(0.0), theta.rad().cos()),
            _ => main.sin_cos(),
        };
        let r = joint.branch().outside_radius().mm();
        let (crown, depth) = match main.shape() {
            Shape::Plate => (0.0, PLATE * r),
            Shape::Mitre { radius } => (radius.mm(), radius.mm()),
            _ => (main.crown().mm(), main.crown().mm()),
        };
        Self {
            cope,
            main,
            which,
            sin,
            cos,
            theta: theta.rad(),
            r,
            bore: joint.branch().bore_radius().mm(),
            offset: main.offset().mm(),
            shift: main.shift().mm(),
            crown,
            depth,
            section: section::of(main),
        }
    }

    /// Where a place of the branch is seen: `x` across towards this main's heel, `s` along it from
    /// where its axis meets this main's level.
    pub fn seen(&self, x: f64, s: f64) -> (f64, f64) {
        (x * self.sin + s * self.cos, s * self.sin - x * self.cos)
    }

    /// The same for a place beside the branch's axis by `y`.
    pub fn place(&self, x: f64, y: f64, s: f64) -> Place {
        let (along, up) = self.seen(x, s);
        [along, y - self.offset, up]
    }

    /// A place of the branch's own frame in the picture's space.
    pub fn seen_in_space(&self, [x, y, z]: [f64; 3]) -> Place {
        let (sin, cos) = self.main.turn().rad().sin_cos();
        self.place(x * cos + y * sin, y * cos - x * sin, z - self.shift)
    }

    /// What the branch meets at a turn from this main's heel.
    pub fn meeting(&self, turn: f64) -> (f64, bool) {
        let meeting = self.cope.at(Angle::from_rad(turn + self.main.turn().rad()));
        let height = meeting.height().mm() - self.shift;
        (height, matches!(meeting, Meeting::Beside(_)))
    }

    /// Height of the outside's cut at a turn from this main's heel.
    pub fn foot(&self, turn: f64) -> f64 {
        self.meeting(turn).0
    }

    /// Height at which the bore meets a main there.
    pub fn inner_foot(&self, turn: f64) -> Option<f64> {
        let turn = Angle::from_rad(turn + self.main.turn().rad());
        let hit = self.cope.trace(Length::from_mm(self.bore), turn)?;
        Some(hit.mm() - self.shift)
    }

    /// Whether the main stands between the viewer and a place on or outside it.
    pub fn main_hides(&self, [along, side, up]: Place) -> bool {
        const NEAR: f64 = 1e-3;
        match self.main.surface() {
            Surface::Bent(tube) => tube
                .first_hit([along, side, up], [0.0, -1.0, 0.0])
                .is_some_and(|(reach, _)| reach > NEAR * tube.radius),
            // In line with the sight, a plane hides nothing that touches it.
            Surface::Straight(_) if self.main.is_plane() => false,
            Surface::Straight(_) => self.section.as_ref().is_some_and(|section| {
                let near = NEAR * self.crown;
                section
                    .nearest(up + 1e-6 * self.crown)
                    .is_some_and(|nearest| nearest < side - near)
            }),
        }
    }

    /// Whether the branch stands between the viewer and a place on the main.
    pub fn branch_hides(&self, [along, side, up]: Place) -> bool {
        let (x, s) = (
            along * self.sin - up * self.cos,
            along * self.cos + up * self.sin,
        );
        if x.abs() >= self.r {
            return false;
        }
        let front = -((self.r - x) * (self.r + x)).sqrt();
        front < side + self.offset && s > self.foot(front.atan2(x)) + 1e-6 * self.r
    }
}

/// Thickness of a drawn plate, in radii of the branch: nobody asks for it.
const PLATE: f64 = 0.4;
