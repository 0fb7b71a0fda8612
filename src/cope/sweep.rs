//! A section swept along a line: the shape of every main that is drawn in space.

use crate::cope::mesh::{Corner, Mesh, Point3, Surface, dot, minus, plus, times};
use crate::cope::solid::{LineRole, SpaceLine};

/// A place or a direction in the plane of a section: side, up.
pub(super) type Flat = (f64, f64);

/// A smooth stretch of a section's outline, with the normals that point out of it.
#[derive(Debug, Clone)]
pub(super) struct Run {
    /// What it shows.
    pub surface: Surface,
    /// At least two places with their normals.
    pub points: Vec<(Flat, Flat)>,
}

/// A convex section: runs counter-clockwise (side to the right, up up), each ending exactly where
/// the next one begins. A single run may be smooth all round, and then ends before it begins again.
#[derive(Debug, Clone)]
pub(super) struct Profile {
    pub runs: Vec<Run>,
}

/// Where a section stands on its way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stand {
    pub centre: Point3,
    pub side: Point3,
    pub up: Point3,
    /// Along the way; side × up where the section stands square to it.
    pub along: Point3,
    /// Outward normal of a cap here, from +along.
    pub facing: Point3,
    /// How far along a place of the section is moved for each mm that it is up: a skew end.
    pub skew: f64,
}

impl Stand {
    fn place(&self, (side, up): Flat) -> Point3 {
        let along = times(self.along, up * self.skew);
        plus(self.centre, plus(self.way((side, up)), along))
    }

    fn way(&self, (side, up): Flat) -> Point3 {
        plus(times(self.side, side), times(self.up, up))
    }
}

/// A section on its way.
#[derive(Debug, Clone)]
pub(super) struct Sweep {
    pub profile: Profile,
    /// At least two stands.
    pub stands: Vec<Stand>,
    /// The axis, if it is drawn: at least two places.
    pub axis: Vec<Point3>,
}

impl Sweep {
    /// Its closed surface.
    pub fn mesh(&self) -> Mesh {
        let mut mesh = Mesh::default();
        let smooth = self.profile.runs.len() == 1;
        for run in &self.profile.runs {
            let rows: Vec<Vec<Corner>> = self
                .stands
                .iter()
                .map(|stand| {
                    let corner =
                        |(place, normal): &(Flat, Flat)| (stand.place(*place), stand.way(*normal));
                    run.points.iter().map(corner).collect()
                })
                .collect();
            mesh.band(run.surface, &rows, smooth);
        }
        let ends = [self.stands.first(), self.stands.last()];
        for (stand, first) in ends.into_iter().flatten().zip([true, false]) {
            let mut rim = self.rim(stand);
            let sum = rim.iter().fold([0.0; 3], |sum, place| plus(sum, *place));
            let centre = times(sum, 1.0 / rim.len() as f64);
            if first {
                rim.reverse();
            }
            let sign = if first { -1.0 } else { 1.0 };
            mesh.fan(Surface::MainEnd, centre, &rim, times(stand.facing, sign));
        }
        mesh
    }

    /// The outline at a stand, once round; the last place is not the first again.
    fn rim(&self, stand: &Stand) -> Vec<Point3> {
        let smooth = self.profile.runs.len() == 1;
        let places = self.profile.runs.iter().flat_map(|run| {
            let count = run.points.len() - usize::from(!smooth);
            run.points[..count].iter()
        });
        places.map(|(place, _)| stand.place(*place)).collect()
    }

    /// Outlines of its ends, edges between its runs, and its axis.
    pub fn lines(&self) -> Vec<SpaceLine> {
        let mut lines = Vec::new();
        for stand in [self.stands.first(), self.stands.last()]
            .into_iter()
            .flatten()
        {
            let mut points = self.rim(stand);
            points.extend(points.first().copied());
            lines.push(SpaceLine {
                role: LineRole::MainEnd,
                points,
            });
        }
        if self.profile.runs.len() > 1 {
            for (place, _) in self
                .profile
                .runs
                .iter()
                .filter_map(|run| run.points.first())
            {
                lines.push(SpaceLine {
                    role: LineRole::MainEnd,
                    points: self
                        .stands
                        .iter()
                        .map(|stand| stand.place(*place))
                        .collect(),
                });
            }
        }
        if self.axis.len() > 1 {
            lines.push(SpaceLine {
                role: LineRole::Axis,
                points: self.axis.clone(),
            });
        }
        lines
    }
}

/// A line of places, longer by `over` at either end.
pub(super) fn lengthened(mut line: Vec<Point3>, over: f64) -> Vec<Point3> {
    let beyond = |end: Point3, before: Point3| {
        let way = minus(end, before);
        plus(
            end,
            times(way, over / dot(way, way).sqrt().max(f64::MIN_POSITIVE)),
        )
    };
    if let [first, second, ..] = line.as_slice() {
        let start = beyond(*first, *second);
        line.insert(0, start);
    }
    if let [.., before, last] = line.as_slice() {
        line.push(beyond(*last, *before));
    }
    line
}
