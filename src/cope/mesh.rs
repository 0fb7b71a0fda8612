//! Triangles in space, grown band by band from rings of points.

use std::ops::Range;

/// A place or a direction in the frame of [`crate::joint`]; places in mm.
pub type Point3 = [f64; 3];

/// What a stretch of triangles shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Surface {
    /// Outside of the branch.
    Outside,
    /// Bore of the branch.
    Bore,
    /// The wall where it is cut.
    CutFace,
    /// The far end of the branch, square to it.
    FarEnd,
    /// The main, as a solid bar: its wall does not matter to the cut.
    Main,
    /// Where the drawing of the main stops.
    MainEnd,
}

/// Triangles of one surface.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Patch {
    /// What they show.
    pub surface: Surface,
    /// Which of [`Mesh::triangles`] they are.
    pub triangles: Range<usize>,
}

/// A closed surface of triangles, counter-clockwise seen from outside.
///
/// Where two surfaces meet in an edge its points are there once for each, with different normals
/// but exactly equal positions.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// Corners, mm.
    pub positions: Vec<Point3>,
    /// Unit normals at the corners, pointing out of the solid.
    pub normals: Vec<Point3>,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
    /// The triangles sorted by what they show, each in exactly one patch.
    pub patches: Vec<Patch>,
}

/// A corner to be: position and normal.
pub(super) type Corner = (Point3, Point3);

impl Mesh {
    /// Enclosed volume, mm³; positive for a mesh that faces outwards.
    ///
    /// The sum of the signed tetrahedra on the origin, by the divergence theorem.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let six: f64 = self
            .triangles
            .iter()
            .map(|triangle| {
                let [a, b, c] = triangle.map(|corner| self.positions[corner as usize]);
                dot(a, cross(b, c))
            })
            .sum();
        six / 6.0
    }

    /// Adds a band between each row and the next. It faces out when a step along a row, turned
    /// into the next row, points out (right-hand rule). A closed row goes on from its last corner to
    /// its first.
    pub(super) fn band(&mut self, surface: Surface, rows: &[Vec<Corner>], closed: bool) {
        let first = self.triangles.len();
        let Some(width) = rows.first().map(Vec::len) else {
            return;
        };
        let base = self.positions.len();
        for (position, normal) in rows.iter().flatten() {
            self.positions.push(*position);
            self.normals.push(*normal);
        }
        let steps = if closed { width } else { width - 1 };
        for row in 1..rows.len() {
            for step in 0..steps {
                let at = |row: usize, step: usize| (base + row * width + step % width) as u32;
                let (a, b) = (at(row - 1, step), at(row - 1, step + 1));
                let (c, d) = (at(row, step), at(row, step + 1));
                self.triangles.push([a, b, c]);
                self.triangles.push([c, b, d]);
            }
        }
        self.close_patch(surface, first);
    }

    /// Adds a plane face round `centre`; `rim` runs counter-clockwise seen against `normal`.
    pub(super) fn fan(&mut self, surface: Surface, centre: Point3, rim: &[Point3], normal: Point3) {
        let first = self.triangles.len();
        let base = self.positions.len();
        self.positions.push(centre);
        self.positions.extend_from_slice(rim);
        self.normals.resize(self.positions.len(), normal);
        let at = |step: usize| (base + 1 + step % rim.len()) as u32;
        for step in 0..rim.len() {
            self.triangles.push([base as u32, at(step), at(step + 1)]);
        }
        self.close_patch(surface, first);
    }

    /// Replaces the normals of the last patch by the mean of its triangles around each corner.
    pub(super) fn smooth_last_patch(&mut self) {
        let Some(patch) = self.patches.last() else {
            return;
        };
        let triangles = &self.triangles[patch.triangles.clone()];
        for corner in triangles.iter().flatten() {
            self.normals[*corner as usize] = [0.0; 3];
        }
        for triangle in triangles {
            let [a, b, c] = triangle.map(|corner| self.positions[corner as usize]);
            let area = cross(minus(b, a), minus(c, a));
            for corner in triangle {
                let normal = &mut self.normals[*corner as usize];
                *normal = plus(*normal, area);
            }
        }
        for corner in triangles.iter().flatten() {
            let normal = &mut self.normals[*corner as usize];
            *normal = unit(*normal);
        }
    }

    fn close_patch(&mut self, surface: Surface, first: usize) {
        self.patches.push(Patch {
            surface,
            triangles: first..self.triangles.len(),
        });
    }
}

pub(super) fn plus(a: Point3, b: Point3) -> Point3 {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(super) fn minus(a: Point3, b: Point3) -> Point3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn times(a: Point3, by: f64) -> Point3 {
    a.map(|part| part * by)
}

pub(super) fn dot(a: Point3, b: Point3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Point3, b: Point3) -> Point3 {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// The direction of `a`; z where it has none, as in a triangle without area.
fn unit(a: Point3) -> Point3 {
    let length = dot(a, a).sqrt();
    if length > 0.0 {
        times(a, 1.0 / length)
    } else {
        [0.0, 0.0, 1.0]
    }
}
