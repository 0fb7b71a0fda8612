//! The joint as solids in space: the coped branch with its wall, the main, and the lines on them.

use std::f64::consts::{PI, TAU};

use crate::cope::bar::Bar;
use crate::cope::curve::Curve;
use crate::cope::mesh::{Corner, Mesh, Point3, Surface, dot, minus, plus, times};
use crate::cope::{Cope, CutMethod, Meeting};
use crate::units::{Angle, Length, limited, sort_by_number};

/// What a line of the drawing means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineRole {
    /// Edge of the cut face where the branch sits on the main: outside or bore.
    Cut,
    /// Edge of the cut face where the branch passes beside the main and is only trimmed.
    Trim,
    /// The zero line, from the cut to the far end.
    Zero,
    /// Edges of the far end of the branch.
    FarEnd,
    /// Where the drawing of the main stops.
    MainEnd,
    /// An axis, a little beyond both ends.
    Axis,
}

/// A line of the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct SpaceLine {
    /// What it means.
    pub role: LineRole,
    /// At least two points, mm; a ring ends where it starts.
    pub points: Vec<Point3>,
}

/// A named place on the outside of the branch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landmark {
    /// Where it is, mm.
    pub point: Point3,
    /// Unit vector out of the tube there.
    pub outward: Point3,
}

/// A ball round everything drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ball {
    /// Its centre, mm.
    pub centre: Point3,
    /// Its radius, mm; more than 0.
    pub radius: f64,
}

/// A joint as it will look, in the frame of [`crate::joint`].
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// The coped branch, cut off square a little way up.
    pub branch: Mesh,
    /// A piece of the main; of a main much larger than the branch only the part around it.
    pub main: Mesh,
    /// Edges, axes and the zero line.
    pub lines: Vec<SpaceLine>,
    /// The heel, on the cut.
    pub heel: Landmark,
    /// The toe, on the cut.
    pub toe: Landmark,
    /// The zero line, near the far end.
    pub zero: Landmark,
    /// Bounds of everything, for placing a camera.
    pub bounds: Ball,
}

/// Largest turn between two generators: a facet then lies within 0.04 % of the radius.
pub(super) const STEP: f64 = TAU / 120.0;
/// Turns nearer than this are one; less would make triangles without area.
const CROWDED: f64 = 1e-5;
/// Largest distance between the edge and its chords, as a part of the diameter.
const FINE: f64 = 1e-3;
/// Length of branch shown beyond the cut, in diameters.
const BODY: f64 = 2.0;

impl Solid {
    /// The solids of a cut end whose heel is turned by `heel_turn` from the zero line.
    ///
    /// A cut that follows the main has its face on the main's surface; the other two leave the
    /// edge of outside and bore at one height. Beside the main both are trimmed as the cut line is.
    #[must_use]
    pub fn new(cope: &Cope, heel_turn: Angle) -> Self {
        let zero_turn = (-heel_turn).within_turn();
        let face = Face::new(cope, zero_turn.rad());
        let outside = cope.joint().branch().outside().mm();
        let top = face
            .rings
            .iter()
            .flat_map(|ring| &ring.heights)
            .fold(f64::NEG_INFINITY, |top, height| top.max(*height))
            + BODY * outside;
        let mut lines = Vec::new();
        for ring in [face.rings.first(), face.rings.last()]
            .into_iter()
            .flatten()
        {
            lines.extend(face.edge(cope, ring));
            lines.push(SpaceLine {
                role: LineRole::FarEnd,
                points: face.closed(|turn| on_tube(ring.rho, turn, top)),
            });
        }
        let landmark = |turn: Angle, height: f64| Landmark {
            point: on_tube(outside / 2.0, turn.rad(), height),
            outward: on_tube(1.0, turn.rad(), 0.0),
        };
        let on_cut = |turn: Angle| landmark(turn, cope.at(turn).height().mm());
        lines.push(SpaceLine {
            role: LineRole::Zero,
            points: vec![on_cut(zero_turn).point, landmark(zero_turn, top).point],
        });
        let branch = face.branch(top);
        let bar = Bar::new(cope, &branch);
        let main = bar.mesh();
        lines.extend(bar.lines());
        // Both are convex but for the cut: the edges at their ends span everything else.
        let ends: Vec<Point3> = lines.iter().flat_map(|line| line.points.clone()).collect();
        let overshoot = 0.25 * outside;
        // Down to the joint centre, unless a large main puts that far away.
        let below = (cope.long_point().height.mm() - outside).max(0.0);
        lines.push(SpaceLine {
            role: LineRole::Axis,
            points: vec![[0.0, 0.0, below], [0.0, 0.0, top + overshoot]],
        });
        Self {
            heel: on_cut(Angle::ZERO),
            toe: on_cut(Angle::HALF),
            zero: landmark(zero_turn, top - 0.25 * outside),
            bounds: bounds(&ends),
            branch,
            main,
            lines,
        }
    }
}

fn on_tube(rho: f64, turn: f64, height: f64) -> Point3 {
    [rho * turn.cos(), rho * turn.sin(), height]
}

/// The edge of one wall radius, height by turn.
struct Ring {
    rho: f64,
    heights: Vec<f64>,
}

/// The cut face: rings from the bore to the outside over common turns, from the heel once round.
struct Face {
    turns: Vec<f64>,
    rings: Vec<Ring>,
}

impl Face {
    fn new(cope: &Cope, zero_turn: f64) -> Self {
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

    fn closed(&self, place: impl Fn(f64) -> Point3) -> Vec<Point3> {
        let first = self.turns.first();
        self.turns
            .iter()
            .chain(first)
            .map(|turn| place(*turn))
            .collect()
    }

    /// The branch: once round its section, from the cut up the outside, down the bore and across
    /// the cut face.
    fn branch(&self, top: f64) -> Mesh {
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
    fn edge(&self, cope: &Cope, ring: &Ring) -> Vec<SpaceLine> {
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
    let least = if grazes || cope.mains.len() > 1 {
        6.0
    } else {
        1.0
    };
    let count = limited(((outside - bore) / chord).ceil(), least, MOST);
    let inside = (0..count as u32).map(|step| bore + (outside - bore) * f64::from(step) / count);
    inside.chain([outside]).collect()
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
                    found.extend(turns.map(|turn| (turn, true)));
                }
            }
        }
    }
    found.extend((0..120).map(|step| (f64::from(step) * STEP, false)));
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

/// A ball round all places, nearly the smallest: the centre walks towards the farthest place in
/// ever shorter steps (M. Bădoiu & K. L. Clarkson, "Smaller core-sets for balls", SODA 2003).
fn bounds(places: &[Point3]) -> Ball {
    const WALK: u32 = 60;
    let mut centre = places.first().copied().unwrap_or_default();
    let farthest = |centre: Point3| {
        places
            .iter()
            .map(|place| minus(*place, centre))
            .max_by(|a, b| dot(*a, *a).total_cmp(&dot(*b, *b)))
            .unwrap_or_default()
    };
    for step in 1..=WALK {
        centre = plus(centre, times(farthest(centre), 1.0 / f64::from(step + 1)));
    }
    let reach = farthest(centre);
    Ball {
        centre,
        radius: dot(reach, reach).sqrt().max(f64::MIN_POSITIVE),
    }
}
