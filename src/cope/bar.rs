//! Each main as it is drawn in space: a bar of its section, or of a large main the part around the
//! branch.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::cope::Cope;
use crate::cope::mesh::{Mesh, Point3, Surface, plus, times};
use crate::cope::solid::STEP;
use crate::cope::sweep::{Flat, Profile, Run, Stand, Sweep, lengthened};
use crate::joint::Surface as Ground;
use crate::joint::{BentTube, Main, Outline, Part, RectangularSection, Shape, Stretch};
use crate::units::limited;

/// Main shown beyond the cut on either side, in diameters of the branch and of the main.
const BEYOND: (f64, f64) = (0.6, 0.4);
/// Up to this many branch diameters a main is shown with its whole section.
const WHOLE: f64 = 3.0;
/// Thickness of a plate, and of what is shown of a large main, in diameters of the branch.
const SLAB: f64 = 0.2;
/// A bend is shown to its ends if they lie within this many branch diameters.
const BEND: f64 = 8.0;

/// What the branch takes up in a main's own frame, mm.
struct Window {
    along: (f64, f64),
    side: (f64, f64),
    /// Diameter of the branch.
    outside: f64,
}

impl Window {
    fn of(main: &Main, cope: &Cope, branch: &Mesh) -> Self {
        let nothing = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut along, mut side) = (nothing, nothing);
        let face = branch
            .patches
            .iter()
            .filter(|patch| patch.surface == Surface::CutFace);
        for corner in face
            .flat_map(|patch| &branch.triangles[patch.triangles.clone()])
            .flatten()
        {
            let [a, s, _] = main.in_own_frame(branch.positions[*corner as usize]);
            along = (along.0.min(a), along.1.max(a));
            side = (side.0.min(s), side.1.max(s));
        }
        let outside = cope.joint().branch().outside().mm();
        Self {
            along,
            side,
            outside,
        }
    }

    /// How far to go beyond the cut along a main of that breadth.
    fn beyond(&self, breadth: f64) -> f64 {
        BEYOND.0 * self.outside + BEYOND.1 * breadth.min(self.outside)
    }
}

/// The solid of a main without its root gap, around what the branch takes up.
pub(super) fn bar(main: &Main, cope: &Cope, branch: &Mesh) -> Sweep {
    let window = Window::of(main, cope, branch);
    match (main.shape(), main.surface()) {
        (Shape::Mitre { radius }, _) => other_tube(main, radius.mm(), &window),
        (Shape::Bent { .. }, Ground::Bent(tube)) => bent(main, tube, &window),
        (Shape::Rectangular(section), Ground::Straight(outline)) => {
            let largest = section.width().max(section.height()).mm();
            let whole = largest <= WHOLE * window.outside;
            let profile = whole.then(|| rectangle(section));
            straight(main, profile, outline, largest, &window)
        }
        (Shape::Round { radius }, Ground::Straight(outline)) => {
            let whole = 2.0 * radius.mm() <= WHOLE * window.outside;
            let profile = whole.then(|| circle(radius.mm()));
            straight(main, profile, outline, 2.0 * radius.mm(), &window)
        }
        (_, Ground::Straight(outline)) => straight(main, None, outline, window.outside, &window),
        // Unreachable: a bent surface belongs to a bent shape.
        (_, Ground::Bent(tube)) => bent(main, tube, &window),
    }
}

/// A stand of the main's own frame at a distance along it.
fn stand(main: &Main, centre: Point3, [side, up, along]: [Point3; 3]) -> Stand {
    let origin = main.in_branch_frame([0.0; 3]);
    let way = |direction: Point3| {
        let end = main.in_branch_frame(direction);
        [0, 1, 2].map(|axis| end[axis] - origin[axis])
    };
    Stand {
        centre: main.in_branch_frame(centre),
        side: way(side),
        up: way(up),
        along: way(along),
        facing: way(along),
        skew: 0.0,
    }
}

const SQUARE: [Point3; 3] = [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]];

/// A straight main, with its whole section or the part of it that the branch is near to.
fn straight(
    main: &Main,
    whole: Option<Profile>,
    outline: &Outline,
    breadth: f64,
    window: &Window,
) -> Sweep {
    let beyond = window.beyond(breadth);
    let ends = [window.along.0 - beyond, window.along.1 + beyond];
    let has_axis = whole.is_some();
    let profile = whole.unwrap_or_else(|| slab(outline, window));
    let stands = ends.map(|along| stand(main, [along, 0.0, 0.0], SQUARE));
    let axis = stands.map(|stand| stand.centre).to_vec();
    Sweep {
        profile,
        stands: stands.to_vec(),
        axis: if has_axis {
            lengthened(axis, 0.125 * breadth)
        } else {
            Vec::new()
        },
    }
}

/// The other tube of a mitre, from the dividing plane on.
fn other_tube(main: &Main, radius: f64, window: &Window) -> Sweep {
    // The plane's frame has its axis at half the angle between the tubes: the other tube's axis is
    // as far beyond it as the branch's is before it.
    let (sin, cos) = main.sin_cos();
    let along = [cos, 0.0, -sin];
    let up = [sin, 0.0, cos];
    let frame = [[0.0, 1.0, 0.0], up, along];
    let slope = cos / sin;
    let length = radius * slope + window.beyond(2.0 * radius).max(1.2 * radius);
    let mut start = stand(main, [0.0; 3], frame);
    start.skew = slope;
    // Out of the cap, against the way along: the plane's own normal.
    let normal = stand(main, [0.0; 3], SQUARE).up;
    start.facing = times(normal, -1.0);
    let end = Stand {
        centre: plus(start.centre, times(start.along, length)),
        facing: start.along,
        skew: 0.0,
        ..start
    };
    Sweep {
        profile: circle(radius),
        axis: lengthened(vec![start.centre, end.centre], 0.25 * radius),
        stands: vec![start, end],
    }
}

/// A bent tube along its centre line.
fn bent(main: &Main, tube: &BentTube, window: &Window) -> Sweep {
    let beyond = window.beyond(2.0 * tube.radius);
    // A chord is shorter than the way along the arc.
    let (mut from, mut to) = (
        1.2 * window.along.0.min(-tube.radius) - beyond,
        1.2 * window.along.1.max(tube.radius) + beyond,
    );
    let seams = [tube.arc.0, tube.arc.1].map(|angle| tube.origin + angle / tube.curvature);
    for seam in seams {
        if seam.abs() <= BEND * window.outside {
            from = from.min(seam - window.outside);
            to = to.max(seam + window.outside);
        }
    }
    let mut stations = vec![from];
    let [start, end] = seams.map(|seam| seam.max(from).min(to));
    let steps = ((end - start) * tube.curvature / STEP).ceil().max(1.0) as u32;
    stations
        .extend((0..=steps).map(|step| start + (end - start) * f64::from(step) / f64::from(steps)));
    stations.push(to);
    // A seam at an end is that end.
    let near = 1e-6 * tube.radius;
    stations.dedup_by(|next, kept| *next - *kept < near);
    let (facing_sin, facing_cos) = tube.facing;
    let aside = [0.0, facing_cos, -facing_sin];
    let stands: Vec<Stand> = stations
        .into_iter()
        .map(|station| {
            let (place, tangent) = tube.centre_line(station);
            let (cos, sin) = (
                tangent[0],
                tangent[1] * facing_sin + tangent[2] * facing_cos,
            );
            let inside = [-sin, cos * facing_sin, cos * facing_cos];
            let side = plus(times(inside, facing_sin), times(aside, facing_cos));
            let up = plus(times(inside, facing_cos), times(aside, -facing_sin));
            stand(main, place, [side, up, tangent])
        })
        .collect();
    let axis = stands.iter().map(|stand| stand.centre).collect();
    Sweep {
        profile: circle(tube.radius),
        axis: lengthened(axis, 0.25 * tube.radius),
        stands,
    }
}

fn at(centre: Flat, radius: f64, normal: f64) -> (Flat, Flat) {
    let (sin, cos) = normal.sin_cos();
    (
        (centre.0 + radius * cos, centre.1 + radius * sin),
        (cos, sin),
    )
}

fn circle(radius: f64) -> Profile {
    let steps = (TAU / STEP).round() as u32;
    let points = (0..steps)
        .map(|step| at((0.0, 0.0), radius, TAU * f64::from(step) / f64::from(steps)))
        .collect();
    Profile {
        runs: vec![Run {
            surface: Surface::Main,
            points,
        }],
    }
}

/// A rounded rectangle, turned; of sharp corners each face is a run of its own.
fn rectangle(section: &RectangularSection) -> Profile {
    let (w, h) = (section.width().mm() / 2.0, section.height().mm() / 2.0);
    let corner = section.corner().mm();
    let size = w.min(h);
    let rounded = corner > 1e-3 * size;
    let radius = if rounded { corner } else { 0.0 };
    let roll = section.roll().rad();
    let (sin, cos) = roll.sin_cos();
    let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].map(|(v, u)| {
        let (v, u) = (v * (w - radius), u * (h - radius));
        (v * cos - u * sin, v * sin + u * cos)
    });
    let normal = |quarter: usize| roll + FRAC_PI_2 * quarter as f64;
    if !rounded {
        let runs = (0..4)
            .map(|face| {
                let (_, normal) = at((0.0, 0.0), 1.0, normal(face));
                let points = [corners[(face + 3) % 4], corners[face]];
                Run {
                    surface: Surface::Main,
                    points: points.map(|place| (place, normal)).to_vec(),
                }
            })
            .collect();
        return Profile { runs };
    }
    let steps = (FRAC_PI_2 / STEP).round() as u32;
    let mut points: Vec<(Flat, Flat)> = Vec::new();
    for (quarter, centre) in corners.into_iter().enumerate() {
        for step in 0..=steps {
            let turn = normal(quarter) + FRAC_PI_2 * f64::from(step) / f64::from(steps);
            points.push(at(centre, radius, turn));
        }
    }
    // A side that is all corner has no face between its two.
    let near = 1e-6 * size;
    let apart = |a: Flat, b: Flat| (a.0 - b.0).hypot(a.1 - b.1) >= near;
    points.dedup_by(|next, kept| !apart(next.0, kept.0));
    while points.len() > 3
        && let (Some(first), Some(last)) = (points.first(), points.last())
        && !apart(first.0, last.0)
    {
        points.pop();
    }
    Profile {
        runs: vec![Run {
            surface: Surface::Main,
            points,
        }],
    }
}

/// The upper outline near the branch, on a slab: a plate, or the part of a large main.
fn slab(outline: &Outline, window: &Window) -> Profile {
    let (left, right) = outline.reach();
    let spare = window.outside;
    let (from, to) = (
        (window.side.0 - spare).max(left),
        (window.side.1 + spare).min(right),
    );
    let mut runs: Vec<Run> = Vec::new();
    // Counter-clockwise the top runs from the right to the left.
    for stretch in outline.stretches().iter().rev() {
        let (low, high) = (stretch.from.max(from), stretch.to.min(to));
        if high - low < 1e-6 * window.outside {
            continue;
        }
        let mut points = crest(stretch, low, high);
        if let Some(last) = runs.last_mut()
            && let (Some(end), Some(start)) = (last.points.last(), points.first_mut())
        {
            let smooth = (end.1.0 - start.1.0).hypot(end.1.1 - start.1.1) < 1e-3;
            // Neighbours meet in one place.
            start.0 = end.0;
            if smooth {
                last.points.extend(points.into_iter().skip(1));
                continue;
            }
        }
        runs.push(Run {
            surface: Surface::Main,
            points,
        });
    }
    let places = runs.iter().flat_map(|run| &run.points);
    let floor =
        places.fold(f64::INFINITY, |low, ((_, up), _)| low.min(*up)) - SLAB * window.outside;
    let (Some(first), Some(last)) = (
        runs.first().and_then(|run| run.points.first()).copied(),
        runs.last().and_then(|run| run.points.last()).copied(),
    ) else {
        return circle(window.outside);
    };
    let (right, left) = (first.0, last.0);
    let corners = [left, (left.0, floor), (right.0, floor), right];
    let normals = [(-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)];
    for (pair, normal) in corners.windows(2).zip(normals) {
        runs.push(Run {
            surface: Surface::MainEnd,
            points: pair.iter().map(|place| (*place, normal)).collect(),
        });
    }
    Profile { runs }
}

/// A stretch of upper outline from `high` to `low`, right to left.
fn crest(stretch: &Stretch, low: f64, high: f64) -> Vec<(Flat, Flat)> {
    match stretch.part {
        Part::Arc { across, up, radius } => {
            let turn = |q: f64| limited((q - across) / radius, -1.0, 1.0).acos();
            let (from, to) = (turn(high), turn(low));
            // A small part of a large round is seen from near by.
            let steps = ((to - from) / STEP).ceil().max(24.0) as u32;
            (0..=steps)
                .map(|step| from + (to - from) * f64::from(step) / f64::from(steps))
                .map(|normal| at((across, up), radius, normal))
                .collect()
        }
        Part::Face { slope, .. } => {
            let length = slope.hypot(1.0);
            let normal = (-slope / length, 1.0 / length);
            [high, low]
                .map(|q| ((q, stretch.part.height(q)), normal))
                .to_vec()
        }
    }
}
