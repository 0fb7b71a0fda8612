//! Solids of each kind of main against closed forms, and the coped face on its surface.

use std::collections::HashMap;
use std::f64::consts::PI;

use copewright::cope::{CutMethod, LineRole, Mesh, Point3, Solid, Surface};
use copewright::joint::Main;
use proptest::prelude::*;

use crate::{Kind, Place, cope, deg, place};

const METHODS: [CutMethod; 3] = CutMethod::ALL;

fn at(kind: Kind, angle: f64, offset: f64) -> Place {
    Place {
        kind,
        angle,
        offset,
        turn: 0.0,
        shift: 0.0,
    }
}

/// Edges that are not used exactly once in each direction.
fn open_edges(mesh: &Mesh) -> usize {
    let mut ids: HashMap<[u64; 3], usize> = HashMap::new();
    let welded: Vec<usize> = mesh
        .positions
        .iter()
        .map(|place| {
            let next = ids.len();
            *ids.entry(place.map(|part| (part + 0.0).to_bits()))
                .or_insert(next)
        })
        .collect();
    let mut edges: HashMap<(usize, usize), i32> = HashMap::new();
    for triangle in &mesh.triangles {
        let [a, b, c] = triangle.map(|corner| welded[corner as usize]);
        for edge in [(a, b), (b, c), (c, a)] {
            if edge.0 != edge.1 {
                *edges.entry(edge).or_insert(0) += 1;
            }
        }
    }
    edges
        .iter()
        .filter(|((a, b), uses)| edges.get(&(*b, *a)) != Some(uses))
        .count()
}

fn sound(mesh: &Mesh) -> Result<(), TestCaseError> {
    prop_assert_eq!(open_edges(mesh), 0, "the surface is not closed");
    prop_assert!(mesh.volume() > 0.0, "it faces inwards");
    prop_assert!(mesh.positions.iter().flatten().all(|part| part.is_finite()));
    for normal in &mesh.normals {
        let length = normal.iter().map(|part| part * part).sum::<f64>().sqrt();
        prop_assert!((length - 1.0).abs() < 1e-9, "{:?}", normal);
    }
    Ok(())
}

/// A mesh's corners in its main's own frame: along, side, up.
fn own(main: &Main, mesh: &Mesh) -> Vec<Point3> {
    mesh.positions
        .iter()
        .map(|place| main.in_own_frame(*place))
        .collect()
}

fn span(places: &[Point3], axis: usize) -> f64 {
    let (low, high) = places
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), place| {
            (low.min(place[axis]), high.max(place[axis]))
        });
    high - low
}

/// The first main's mesh with its own frame.
fn drawn(branch: f64, place: Place) -> (Main, Mesh, Solid) {
    let cope = cope(branch, 0.06, &[place], CutMethod::Saw).unwrap();
    let solid = Solid::new(&cope, deg(20.0));
    let main = cope.joint().main().clone();
    (main, solid.mains[0].clone(), solid)
}

#[test]
fn a_plate_is_a_slab_under_the_landing() {
    let (main, mesh, _) = drawn(42.4, at(Kind::Plate, 35.0, 0.0));
    let places = own(&main, &mesh);
    let expected: f64 = (0..3).map(|axis| span(&places, axis)).product();
    assert!((mesh.volume() / expected - 1.0).abs() < 1e-9);
    let top = places.iter().map(|place| place[2]).fold(f64::MIN, f64::max);
    assert!(top.abs() < 1e-9, "its top is {top} mm off the plane");
    // The landing is an ellipse of r / sin θ by r.
    assert!(span(&places, 0) > 42.4 / 35.0_f64.to_radians().sin());
    assert!(span(&places, 1) > 42.4);
}

#[test]
fn the_other_tube_of_a_mitre_begins_at_the_dividing_plane() {
    for half in [5.0, 30.0, 45.0, 67.5, 90.0] {
        let (main, mesh, _) = drawn(42.4, at(Kind::Mitre(1.5), half, 0.0));
        let places = own(&main, &mesh);
        let top = places.iter().map(|place| place[2]).fold(f64::MIN, f64::max);
        assert!(top.abs() < 1e-9, "{half}°: it passes the plane by {top} mm");
        // A cylinder cut off skew has the volume of its mean length, that of its axis. Along the
        // other tube, (sin 2θ, 0, cos 2θ) from the branch: the far end is square.
        let (sin, cos) = (2.0 * half).to_radians().sin_cos();
        let length = mesh
            .positions
            .iter()
            .map(|place| place[0] * sin + place[2] * cos)
            .fold(f64::MIN, f64::max);
        let expected = PI * (0.75 * 42.4_f64).powi(2) * length;
        let off = mesh.volume() / expected - 1.0;
        assert!((-5e-4..1e-9).contains(&off), "{half}°: {off:e}");
    }
}

#[test]
fn a_rectangular_main_has_the_volume_of_its_prism() {
    for (w, h, corner, roll) in [
        (1.4, 0.9, 0.4, 0.0),
        (1.2, 1.2, 0.3, 45.0),
        (0.5, 2.0, 0.0, 17.0),
        (1.0, 1.0, 1.0, 30.0),
        (2.0, 0.5, 1.0, -70.0),
    ] {
        let (main, mesh, _) = drawn(42.4, at(Kind::Rectangular(w, h, corner, roll), 60.0, 0.3));
        let places = own(&main, &mesh);
        let c = corner * f64::min(w, h) / 2.0;
        let area = (w * h - (4.0 - PI) * c * c) * 42.4 * 42.4;
        let off = mesh.volume() / (area * span(&places, 0)) - 1.0;
        assert!(
            (-5e-4..1e-9).contains(&off),
            "{w}×{h} {corner} {roll}°: {off:e}"
        );
    }
}

/// Second theorem of Pappus: a section swept along a line has its area times the way of its
/// centroid (E. W. Weisstein, MathWorld, "Pappus's Centroid Theorem").
#[test]
fn a_bent_main_has_the_volume_of_its_way() {
    for (radii, bend, station, facing) in [
        (4.0, 90.0, 0.0, 0.0),
        (3.0, 180.0, 0.5, 90.0),
        (6.0, 45.0, -1.3, 200.0),
        (1.2, 120.0, 0.0, -60.0),
    ] {
        let kind = Kind::Bent(1.1, radii, bend, station, facing);
        let (_, mesh, solid) = drawn(42.4, at(kind, 75.0, 0.1));
        let radius = 0.55 * 42.4_f64;
        let axis = solid
            .lines
            .iter()
            .filter(|line| line.role == LineRole::Axis)
            .find(|line| line.points.len() > 2)
            .unwrap();
        // The drawn axis reaches a little beyond both ends: leave those stretches out.
        let inner = &axis.points[1..axis.points.len() - 1];
        let way: f64 = inner
            .windows(2)
            .map(|pair| {
                let step = [0, 1, 2].map(|part| pair[1][part] - pair[0][part]);
                step.iter().map(|part| part * part).sum::<f64>().sqrt()
            })
            .sum();
        let off = mesh.volume() / (PI * radius * radius * way) - 1.0;
        assert!(off.abs() < 2e-3, "{radii} {bend}°: {off:e}");
    }
}

#[test]
fn the_arc_of_a_bent_main_lies_on_its_torus() {
    let (clr, radius) = (4.0 * 0.55 * 42.4, 0.55 * 42.4);
    let (main, mesh, _) = drawn(42.4, at(Kind::Bent(1.1, 4.0, 90.0, 0.0, 0.0), 70.0, 0.0));
    let mut on_arc = 0;
    let patch = mesh
        .patches
        .iter()
        .find(|patch| patch.surface == Surface::Main)
        .unwrap();
    for corner in mesh.triangles[patch.triangles.clone()].iter().flatten() {
        let [along, side, up] = main.in_own_frame(mesh.positions[*corner as usize]);
        // The inside of the bend faces the branch: its centre is straight up.
        let (x, y) = (along, clr - up);
        if x.atan2(y).abs() > 44.9_f64.to_radians() {
            continue;
        }
        on_arc += 1;
        let off = (x.hypot(y) - clr).hypot(side) - radius;
        assert!(off.abs() < 1e-9, "{off}");
    }
    assert!(on_arc > 1000);
}

/// Distance from a rounded rectangle, negative inside.
fn from_rectangle([_, side, up]: Point3, w: f64, h: f64, corner: f64, roll: f64) -> f64 {
    let (sin, cos) = roll.to_radians().sin_cos();
    let (v, u) = (side * cos + up * sin, up * cos - side * sin);
    let (x, y) = (v.abs() - (w / 2.0 - corner), u.abs() - (h / 2.0 - corner));
    x.max(0.0).hypot(y.max(0.0)) + x.max(y).min(0.0) - corner
}

#[test]
fn a_cut_that_follows_a_rectangular_main_lies_on_it() {
    for (w, h, corner, roll, angle, offset) in [
        (1.4, 0.9, 0.4, 0.0, 60.0, 0.0),
        (1.2, 1.2, 0.3, 45.0, 45.0, 0.2),
        (0.8, 0.8, 0.0, 0.0, 90.0, 0.1),
        (0.8, 0.6, 0.2, 20.0, 70.0, -0.3),
    ] {
        let kind = Kind::Rectangular(w, h, corner, roll);
        let (main, _, solid) = drawn(42.4, at(kind, angle, offset));
        let (w, h) = (w * 42.4, h * 42.4);
        let c = corner * w.min(h) / 2.0;
        let reach = main.half_breadth().mm();
        let face = solid
            .branch
            .patches
            .iter()
            .find(|patch| patch.surface == Surface::CutFace)
            .unwrap();
        let mut seated = 0;
        for corner in solid.branch.triangles[face.triangles.clone()]
            .iter()
            .flatten()
        {
            let place = main.in_own_frame(solid.branch.positions[*corner as usize]);
            let off = from_rectangle(place, w, h, c, roll).abs();
            if place[1].abs() < reach - 1e-9 {
                assert!(off < 1e-6, "{kind:?}: {off} mm off at {place:?}");
                seated += 1;
            } else {
                let on = off.min(place[2].abs());
                assert!(
                    on < 1e-6,
                    "{kind:?}: {place:?} is neither on it nor on the trim"
                );
            }
        }
        assert!(seated > 100);
    }
}

#[test]
fn a_step_of_the_cut_is_upright_in_space() {
    // A square main narrower than the branch: beside its upright faces the wall is trimmed level
    // with its axis, half a side below its top.
    let kind = Kind::Rectangular(0.6, 0.6, 0.0, 0.0);
    for method in METHODS {
        let cope = cope(42.4, 0.06, &[at(kind, 90.0, 0.0)], method).unwrap();
        let solid = Solid::new(&cope, deg(0.0));
        let half = 0.3 * 42.4;
        let heights: Vec<f64> = solid
            .lines
            .iter()
            .filter(|line| matches!(line.role, LineRole::Cut | LineRole::Trim))
            .flat_map(|line| &line.points)
            .map(|point| point[2])
            .collect();
        let between = heights
            .iter()
            .filter(|height| **height > 1e-6 && **height < half - 1e-6)
            .count();
        assert_eq!(between, 0, "{method:?}: the step is not upright");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn any_mains_are_closed_and_solid(
        branch in 6.0..300.0_f64,
        wall in 0.02..0.45_f64,
        places in prop::collection::vec(place(), 1..4),
        method in prop_oneof![Just(CutMethod::Saw), Just(CutMethod::Bore)],
        heel in 0.0..360.0_f64,
    ) {
        let Some(cope) = cope(branch, wall, &places, method) else {
            return Ok(());
        };
        let solid = Solid::new(&cope, deg(heel));
        prop_assert_eq!(solid.mains.len(), places.len());
        sound(&solid.branch)?;
        for main in &solid.mains {
            sound(main)?;
        }
        let centre = solid.bounds.centre;
        for place in solid.branch.positions.iter().chain(solid.mains.iter().flat_map(|main| &main.positions)) {
            let from: f64 = (0..3).map(|axis| (place[axis] - centre[axis]).powi(2)).sum();
            prop_assert!(from.sqrt() <= solid.bounds.radius * (1.0 + 1e-9));
        }
    }
}
