//! The joint as solids in space: the coped branch with its wall, its mains, and the lines on them.

use std::f64::consts::TAU;

use crate::cope::Cope;
use crate::cope::bar::bar;
use crate::cope::face::{Face, on_tube};
use crate::cope::mesh::{Mesh, Point3, dot, minus, plus, times};
use crate::units::Angle;

/// What a line of the drawing means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineRole {
    /// Edge of the cut face where the branch sits on the main: outside or bore.
    Cut,
    /// Edge of the cut face where the branch passes beside the main and is only trimmed.
    Trim,
    /// Strokes along the branch where the cut will gap, the closer the wider the gap.
    Gap,
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
    /// A piece of each main; of one much larger than the branch only the part around it.
    pub mains: Vec<Mesh>,
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
        let mut mains = Vec::new();
        for main in cope.joint().mains() {
            let sweep = bar(main, cope, &branch);
            mains.push(sweep.mesh());
            lines.extend(sweep.lines());
        }
        // The branch is convex but for the cut: the edges at its ends span everything else.
        let mut ends: Vec<Point3> = lines.iter().flat_map(|line| line.points.clone()).collect();
        ends.extend(mains.iter().flat_map(|main| &main.positions));
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
            mains,
            lines,
        }
    }
}

impl Solid {
    /// The same solids with strokes up from the cut where it will gap: turns from the heel in
    /// ascending order with the band of the gap there. Band 0 is tight and stays bare, band 1 gets
    /// a stroke every [`GAP_STROKES`] of the first entry, wider ones of the second.
    #[must_use]
    pub fn with_gaps(mut self, cope: &Cope, bands: &[(Angle, u8)]) -> Self {
        let outside = cope.joint().branch().outside().mm();
        let mut next = f64::NEG_INFINITY;
        for (turn, band) in bands {
            let Some(step) = band
                .checked_sub(1)
                .map(|at| GAP_STROKES[usize::from(at.min(1))])
            else {
                continue;
            };
            if turn.deg() < next {
                continue;
            }
            next = turn.deg() + step;
            let height = cope.at(*turn).height().mm();
            // A hair outside the wall, or the wall would hide it.
            let at = |height: f64| on_tube(outside * 0.502, turn.rad(), height);
            self.lines.push(SpaceLine {
                role: LineRole::Gap,
                points: vec![at(height), at(height + GAP_STROKE * outside)],
            });
        }
        self
    }
}

/// Degrees between strokes of gaps that can be filled, and of wider ones.
pub const GAP_STROKES: [f64; 2] = [6.0, 2.0];
/// Length of such a stroke, in diameters.
const GAP_STROKE: f64 = 0.14;

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
