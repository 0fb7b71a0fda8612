//! The main as it is drawn in space: a bar, or of a large main the part around the branch.

use std::f64::consts::{PI, TAU};

use crate::cope::Cope;
use crate::cope::mesh::{Corner, Mesh, Point3, Surface, dot, minus, plus, times};
use crate::cope::solid::{LineRole, STEP, SpaceLine};

/// The piece of main shown: a bar with a round section, or of a large main the part of the round
/// near the branch, in the frame y, u (up, towards the branch) and a (its axis).
pub(super) struct Bar {
    centre: Point3,
    radius: f64,
    /// u and a.
    up: Point3,
    axis: Point3,
    /// Along a, from and to.
    length: (f64, f64),
    /// Angles in the section from y towards u, from and to.
    arc: (f64, f64),
}

/// Main shown beyond the cut on either side, in diameters of the branch and of the main.
const BEYOND: (f64, f64) = (0.6, 0.4);

impl Bar {
    /// Up to this many branch diameters a main is shown with its whole round section.
    const WHOLE: f64 = 3.0;

    pub fn new(cope: &Cope, branch: &Mesh) -> Self {
        let main = cope.joint().main();
        let (sin, cos) = main.sin_cos();
        let (centre, radius) = ([0.0, main.offset().mm(), 0.0], main.half_breadth().mm());
        let (up, axis) = ([-cos, 0.0, sin], [sin, 0.0, cos]);
        let outside = cope.joint().branch().outside().mm();
        let nothing = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut length, mut arc) = (nothing, nothing);
        let face = branch
            .patches
            .iter()
            .filter(|patch| patch.surface == Surface::CutFace);
        for corner in face
            .flat_map(|patch| &branch.triangles[patch.triangles.clone()])
            .flatten()
        {
            let from = minus(branch.positions[*corner as usize], centre);
            let along = dot(from, axis);
            length = (length.0.min(along), length.1.max(along));
            // On or above the plane through the main's axis: it is the near half that is hit.
            let round = dot(from, up).max(0.0).atan2(from[1]);
            arc = (arc.0.min(round), arc.1.max(round));
        }
        let beyond = BEYOND.0 * outside + BEYOND.1 * (2.0 * radius).min(outside);
        let spare = outside / radius;
        let arc = (arc.0 - spare, arc.1 + spare);
        let whole = 2.0 * radius <= Self::WHOLE * outside || arc.1 - arc.0 > 1.3 * PI;
        Self {
            centre,
            radius,
            up,
            axis,
            length: (length.0 - beyond, length.1 + beyond),
            arc: if whole { (0.0, TAU) } else { arc },
        }
    }

    fn whole(&self) -> bool {
        self.arc == (0.0, TAU)
    }

    fn normal(&self, round: f64) -> Point3 {
        plus([0.0, round.cos(), 0.0], times(self.up, round.sin()))
    }

    fn point(&self, round: f64, along: f64) -> Point3 {
        let out = plus(self.centre, times(self.normal(round), self.radius));
        plus(out, times(self.axis, along))
    }

    /// Angles of the section; the last one is not the first again.
    fn rounds(&self) -> Vec<f64> {
        let (from, to) = self.arc;
        let steps = ((to - from) / STEP).ceil().max(8.0) as u32;
        let last = if self.whole() { steps } else { steps + 1 };
        (0..last)
            .map(|step| from + (to - from) * f64::from(step) / f64::from(steps))
            .collect()
    }

    pub fn mesh(&self) -> Mesh {
        let rounds = self.rounds();
        let mut mesh = Mesh::default();
        let row = |along: f64| -> Vec<Corner> {
            rounds
                .iter()
                .map(|round| (self.point(*round, along), self.normal(*round)))
                .collect()
        };
        let (from, to) = self.length;
        mesh.band(Surface::Main, &[row(from), row(to)], self.whole());
        let (first, last) = (rounds[0], rounds[rounds.len() - 1]);
        let mut core = self.centre;
        if !self.whole() {
            let middle = f64::midpoint(self.arc.0, self.arc.1);
            let back = times(self.normal(middle), -1.0);
            let chord = |along| {
                vec![
                    (self.point(last, along), back),
                    (self.point(first, along), back),
                ]
            };
            mesh.band(Surface::MainEnd, &[chord(from), chord(to)], false);
            let depth = self.radius * ((self.arc.1 - self.arc.0) / 2.0).cos();
            core = plus(core, times(back, -f64::midpoint(depth, self.radius)));
        }
        for (along, facing) in [(from, -1.0), (to, 1.0)] {
            let mut rim: Vec<_> = rounds
                .iter()
                .map(|round| self.point(*round, along))
                .collect();
            if facing < 0.0 {
                rim.reverse();
            }
            let centre = plus(core, times(self.axis, along));
            mesh.fan(Surface::MainEnd, centre, &rim, times(self.axis, facing));
        }
        mesh
    }

    pub fn lines(&self) -> Vec<SpaceLine> {
        let rounds = self.rounds();
        let (from, to) = self.length;
        let mut lines: Vec<SpaceLine> = [from, to]
            .into_iter()
            .map(|along| SpaceLine {
                role: LineRole::MainEnd,
                points: rounds
                    .iter()
                    .chain(rounds.first())
                    .map(|round| self.point(*round, along))
                    .collect(),
            })
            .collect();
        if self.whole() {
            let overshoot = 0.25 * self.radius;
            let points = [from - overshoot, to + overshoot]
                .map(|along| plus(self.centre, times(self.axis, along)));
            lines.push(SpaceLine {
                role: LineRole::Axis,
                points: points.to_vec(),
            });
        } else {
            lines.extend([self.arc.0, self.arc.1].map(|round| SpaceLine {
                role: LineRole::MainEnd,
                points: vec![self.point(round, from), self.point(round, to)],
            }));
        }
        lines
    }
}
