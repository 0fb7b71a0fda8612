//! The branch as a solid: its cut face between bore and outside, and the body above it.

use std::f64::consts::{PI, TAU};

use crate::cope::curve::Curve;
use crate::cope::mesh::{Corner, Mesh, Point3, Surface};
use crate::cope::solid::{LineRole, STEP as FACET, SpaceLine};
use crate::cope::{Cope, CutMethod, Meeting, STEP};
use crate::joint::Shape;
use crate::units::{Angle, Length, limited, sort_by_number};

/// Turns nearer than this are one; less would make triangles without area.
const CROWDED: f64 = 1e-5;
/// Largest distance between the edge and its chords, as a part of the diameter.
const FINE: f64 = 1e-3;
pub(super) fn on_tube(rho: f64, turn: f64, height: f64) -> Point3 {
    [rho * turn.cos(), rho * turn.sin(), height]
}

/// The edge of one wall radius, height by turn.
pub(super) struct Ring {
    pub rho: f64,
    pub heights: Vec<f64>,
}

/// The cut face: rings from the bore to the outside over common turns, from the heel once round.
pub(super) struct Face {
    turns: Vec<f64>,
    pub rings: Vec<Ring>,
}

impl Face {
    pub fn new(cope: &Cope, zero_turn: f64) -> Self {
        let tube = cope.joint().branch();
        let (bore, outside) = (tube.bore_radius().mm(), tube.outside_radius().mm());
        let radii = match cope.method {
            CutMethod::Saw => wall_radii(cope, bore, outside),
            CutMethod::Square | CutMethod::Bore => vec![bore, outside],
        };
        let turns = turns(cope, &radii, zero_turn);
        let rings = radii
            .into_iter()
            .map(|rho| Ring {
                rho,
                heights: turns
                    .iter()
                    .map(|turn| face_height(cope, rho, *turn))
                    .collect(),
            })
            .collect();
        Self { turns, rings }
    }

    pub fn closed(&self, place: impl Fn(f64) -> Point3) -> Vec<Point3> {
        let first = self.turns.first();
        self.turns
            .iter()
            .chain(first)
            .map(|turn| place(*turn))
            .collect()
    }

    /// The branch: once round its section, from the cut up the outside, down the bore and across
    /// the cut face.
    pub fn branch(&self, top: f64) -> Mesh {
        let row = |rho: f64, height: &dyn Fn(usize) -> f64, normal: &dyn Fn(f64) -> Point3| {
            let corner = |(step, turn): (usize, &f64)| -> Corner {
                (on_tube(rho, *turn, height(step)), normal(*turn))
            };
            self.turns
                .iter()
                .enumerate()
                .map(corner)
                .collect::<Vec<_>>()
        };
        let up = |_: f64| [0.0, 0.0, 1.0];
        let down = |_: f64| [0.0, 0.0, -1.0];
        let out = |turn: f64| on_tube(1.0, turn, 0.0);
        let inwards = |turn: f64| on_tube(-1.0, turn, 0.0);
        let far = |_: usize| top;
        let mut mesh = Mesh::default();
        let (Some(inner), Some(outer)) = (self.rings.first(), self.rings.last()) else {
            return mesh;
        };
        let along = |ring: &Ring, normal: &dyn Fn(f64) -> Point3| {
            row(ring.rho, &|step| ring.heights[step], normal)
        };
        let outside = [along(outer, &out), row(outer.rho, &far, &out)];
        mesh.band(Surface::Outside, &outside, true);
        let end = [row(outer.rho, &far, &up), row(inner.rho, &far, &up)];
        mesh.band(Surface::FarEnd, &end, true);
        let bore = [row(inner.rho, &far, &inwards), along(inner, &inwards)];
        mesh.band(Surface::Bore, &bore, true);
        let face: Vec<_> = self.rings.iter().map(|ring| along(ring, &down)).collect();
        mesh.band(Surface::CutFace, &face, true);
        mesh.smooth_last_patch();
        mesh
    }

    /// One edge of the cut face, in runs that sit on the main and runs beside it.
    pub fn edge(&self, cope: &Cope, ring: &Ring) -> Vec<SpaceLine> {
        let count = self.turns.len();
        let point = |step: usize| {
            on_tube(
                ring.rho,
                self.turns[step % count],
                ring.heights[step % count],
            )
        };
        let mut lines: Vec<SpaceLine> = Vec::new();
        for step in 0..count {
            let next = self.turns.get(step + 1).copied().unwrap_or(TAU);
            let middle = Angle::from_rad(f64::midpoint(self.turns[step], next));
            let beside = match cope.method {
                CutMethod::Saw => cope.trace(Length::from_mm(ring.rho), middle).is_none(),
                _ => matches!(cope.at(middle), Meeting::Beside(_)),
            };
            let role = if beside {
                LineRole::Trim
            } else {
                LineRole::Cut
            };
            match lines.last_mut() {
                Some(line) if line.role == role => line.points.push(point(step + 1)),
                _ => lines.push(SpaceLine {
                    role,
                    points: vec![point(step), point(step + 1)],
                }),
            }
        }
        lines
    }
}

/// Height of the cut face at one wall radius.
fn face_height(cope: &Cope, rho: f64, turn: f64) -> f64 {
    let angle = Angle::from_rad(turn);
    match cope.method {
        CutMethod::Saw => cope.trace(Length::from_mm(rho), angle).map_or_else(
            || cope.seats[0].height(Curve::Trim { rho }, turn),
            |hit| hit.mm(),
        ),
        CutMethod::Square | CutMethod::Bore => cope.at(angle).height().mm(),
    }
}

/// Wall radii close enough that a chord across the wall stays as near to the main as one along
/// the edge.
fn wall_radii(cope: &Cope, bore: f64, outside: f64) -> Vec<f64> {
    const MOST: f64 = 12.0;
    // The sagitta of a chord c on a main of radius R is c² / 8 R.
    let breadth = cope
        .mains
        .iter()
        .map(|main| main.half_breadth().mm())
        .fold(f64::INFINITY, f64::min);
    let chord = (8.0 * breadth * FINE * outside).sqrt();
    let grazes = cope
        .mains
        .iter()
        .any(|main| outside + main.offset().abs().mm() >= main.half_breadth().mm());
    // Corners of a section and bends cross the wall on their own ways.
    let cornered = cope
        .mains
        .iter()
        .any(|main| matches!(main.shape(), Shape::Rectangular(_) | Shape::Bent { .. }));
    let least = if grazes || cornered || cope.mains.len() > 1 {
        6.0
    } else {
        1.0
    };
    let count = limited(((outside - bore) / chord).ceil(), least, MOST);
    let inside = (0..count as u32).map(|step| bore + (outside - bore) * f64::from(step) / count);
    inside.chain([outside]).collect()
}

/// Just before and just behind a turn.
fn both_sides(turn: f64) -> [(f64, bool); 2] {
    let apart = 0.75 * CROWDED;
    [turn - apart, turn + apart].map(|turn| (turn.rem_euclid(TAU), true))
}

/// The turns of the generators: the corners of the cut line exactly, its other points and a
/// uniform division as far as they are not crowded.
fn turns(cope: &Cope, radii: &[f64], zero_turn: f64) -> Vec<f64> {
    let tube = cope.joint().branch();
    let width = tube.outside() * PI;
    let tolerance = tube.outside() * FINE;
    let mut found: Vec<(f64, bool)> = vec![(0.0, true), (PI, true), (zero_turn, true)];
    for run in cope.line(Angle::ZERO, width, tolerance) {
        let last = run.points.len() - 1;
        for (index, point) in run.points.iter().enumerate() {
            found.push((point.turn.rad(), index == 0 || index == last));
        }
        // A step has its two heights just before and just behind its turn.
        for pair in run.points.windows(2) {
            if pair[0].turn == pair[1].turn && (pair[0].height - pair[1].height).abs() > STEP {
                found.extend(both_sides(pair[0].turn.rad()));
            }
        }
    }
    for ridge in cope.ridges() {
        let turn = ridge.turn.rad();
        if (ridge.from - ridge.to).abs() > STEP {
            found.extend(both_sides(turn));
        } else {
            found.push((turn, true));
        }
    }
    if cope.method == CutMethod::Saw {
        // Where each ring grazes the main's side: y = ρ sin φ = e ± R.
        for (rho, main) in radii
            .iter()
            .flat_map(|rho| cope.mains.iter().map(move |main| (rho, main)))
        {
            for side in [-1.0, 1.0] {
                let sine = (main.offset() + main.half_breadth() * side).mm() / rho;
                if sine.abs() < 1.0 {
                    let turns = [sine.asin(), PI - sine.asin()];
                    let turns = turns.map(|turn| (turn + main.turn().rad()).rem_euclid(TAU));
                    // An upright side drops to the trim at once.
                    if matches!(main.shape(), Shape::Rectangular(_)) {
                        found.extend(turns.into_iter().flat_map(both_sides));
                    } else {
                        found.extend(turns.map(|turn| (turn, true)));
                    }
                }
            }
        }
    }
    found.extend((0..120).map(|step| (f64::from(step) * FACET, false)));
    found.retain(|(turn, _)| *turn < TAU - CROWDED);
    sort_by_number(&mut found, |(turn, _)| *turn);
    let mut kept: Vec<(f64, bool)> = Vec::new();
    for (turn, corner) in found {
        match kept.last_mut() {
            Some(last) if turn - last.0 < CROWDED => {
                if corner && !last.1 {
                    *last = (turn, corner);
                }
            }
            _ => kept.push((turn, corner)),
        }
    }
    kept.into_iter().map(|(turn, _)| turn).collect()
}
