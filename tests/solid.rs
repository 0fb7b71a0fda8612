//! The solids of a joint: closed, facing out, of the right volume, and cut where the main is.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::collections::HashMap;
use std::f64::consts::PI;

use copewright::cope::{Cope, CutMethod, LineRole, Mesh, Point3, Solid, Surface};
use copewright::joint::{Joint, RoundTube};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// Branch diameter and wall, main diameter, included angle, offset.
type Sizes = (f64, f64, f64, f64, f64);

/// Usual joints and awkward ones: equal tubes, thick wall, hanging past the main on either side,
/// wider than the main, flush, much larger and much smaller mains, the flattest angle.
const JOINTS: [Sizes; 13] = [
    (42.4, 2.6, 48.3, 60.0, 0.0),
    (42.4, 2.6, 48.3, 60.0, 5.0),
    (42.4, 10.0, 48.3, 45.0, -2.0),
    (50.0, 2.0, 50.0, 90.0, 0.0),
    (40.0, 4.0, 60.0, 70.0, 10.0),
    (40.0, 4.0, 60.0, 90.0, -10.0),
    (40.0, 4.0, 60.0, 60.0, 30.0),
    (40.0, 4.0, 60.0, 60.0, -45.0),
    (60.0, 2.0, 48.0, 70.0, 0.0),
    (60.0, 8.0, 48.0, 30.0, 12.0),
    (6.0, 1.0, 2000.0, 60.0, 400.0),
    (2000.0, 10.0, 60.0, 80.0, 100.0),
    (38.1, 1.65, 44.45, 5.0, 3.0),
];

fn cope((branch, wall, main, angle, offset): Sizes, method: CutMethod, gap: f64) -> Option<Cope> {
    let tube = RoundTube::new(mm(branch), mm(wall)).ok()?;
    let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).ok()?;
    Cope::new(&joint, method, mm(gap)).ok()
}

fn everywhere(mut check: impl FnMut(Sizes, &Cope, &Solid)) {
    let mut seen = 0;
    for sizes in JOINTS {
        for method in CutMethod::ALL {
            for gap in [0.0, 1.5] {
                let Some(cope) = cope(sizes, method, gap) else {
                    continue;
                };
                seen += 1;
                check(sizes, &cope, &Solid::new(&cope, deg(33.0)));
            }
        }
    }
    assert!(seen >= 70, "only {seen} joints could be cut");
}

/// Welds corners by their exact position and counts how often each directed edge is used.
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
        assert!(a != b && b != c && c != a, "a triangle without area");
        for edge in [(a, b), (b, c), (c, a)] {
            *edges.entry(edge).or_insert(0) += 1;
        }
    }
    edges
        .iter()
        .filter(|((a, b), uses)| **uses != 1 || edges.get(&(*b, *a)) != Some(&1))
        .count()
}

fn length(a: Point3) -> f64 {
    a.iter().map(|part| part * part).sum::<f64>().sqrt()
}

/// Distance from the main's axis, written out from the frame of the joint.
fn from_axis(place: Point3, angle: f64, offset: f64) -> f64 {
    let (sin, cos) = angle.to_radians().sin_cos();
    (place[0] * cos - place[2] * sin).hypot(place[1] - offset)
}

fn sound(mesh: &Mesh) {
    assert_eq!(open_edges(mesh), 0, "the surface is not closed");
    assert!(mesh.volume() > 0.0, "it faces inwards");
    assert_eq!(mesh.positions.len(), mesh.normals.len());
    for place in &mesh.positions {
        assert!(place.iter().all(|part| part.is_finite()));
    }
    for normal in &mesh.normals {
        assert!((length(*normal) - 1.0).abs() < 1e-9, "{normal:?}");
    }
    let mut next = 0;
    for patch in &mesh.patches {
        assert_eq!(patch.triangles.start, next);
        next = patch.triangles.end;
    }
    assert_eq!(next, mesh.triangles.len());
}

#[test]
fn branch_and_main_are_closed_and_face_outwards() {
    everywhere(|sizes, cope, solid| {
        println!("{sizes:?} {:?} {}", cope.method(), cope.gap().mm());
        sound(&solid.branch);
        sound(&solid.mains[0]);
        for line in &solid.lines {
            assert!(line.points.len() >= 2);
            assert!(line.points.iter().flatten().all(|part| part.is_finite()));
        }
        for place in solid
            .branch
            .positions
            .iter()
            .chain(&solid.mains[0].positions)
        {
            let centre = solid.bounds.centre;
            let from = [0, 1, 2].map(|axis| place[axis] - centre[axis]);
            assert!(length(from) <= solid.bounds.radius * (1.0 + 1e-12));
        }
    });
}

/// Normals of smooth surfaces agree with the triangles they belong to.
#[test]
fn normals_point_the_way_the_triangles_face() {
    everywhere(|sizes, cope, solid| {
        for mesh in [&solid.branch, &solid.mains[0]] {
            for patch in &mesh.patches {
                let mut turned = 0;
                for triangle in &mesh.triangles[patch.triangles.clone()] {
                    let [a, b, c] = triangle.map(|corner| mesh.positions[corner as usize]);
                    let (p, q) = (
                        [0, 1, 2].map(|axis| b[axis] - a[axis]),
                        [0, 1, 2].map(|axis| c[axis] - a[axis]),
                    );
                    let facing = [
                        p[1] * q[2] - p[2] * q[1],
                        p[2] * q[0] - p[0] * q[2],
                        p[0] * q[1] - p[1] * q[0],
                    ];
                    // Across a ridge of the cut face a mean normal may lean far over, but neither
                    // it nor a triangle may look up the tube.
                    let against = |normal: Point3| match patch.surface {
                        Surface::CutFace => facing[2] >= 0.0 || normal[2] >= 0.0,
                        _ => (0..3).map(|axis| normal[axis] * facing[axis]).sum::<f64>() < 0.0,
                    };
                    turned += triangle
                        .iter()
                        .filter(|corner| against(mesh.normals[**corner as usize]))
                        .count();
                }
                assert_eq!(
                    turned,
                    0,
                    "{sizes:?} {:?} {:?}",
                    cope.method(),
                    patch.surface
                );
            }
        }
    });
}

#[test]
fn a_cut_that_follows_the_main_lies_on_it() {
    everywhere(|(_, _, main, angle, offset), cope, solid| {
        if cope.method() != CutMethod::Saw {
            return;
        }
        let radius = main / 2.0 + cope.gap().mm();
        let mut seated = 0;
        for line in solid.lines.iter().filter(|line| line.role == LineRole::Cut) {
            for point in &line.points {
                let off = from_axis(*point, angle, offset) - radius;
                assert!(off.abs() < 1e-6, "{off} mm off the main at {point:?}");
                seated += 1;
            }
        }
        assert!(seated > 20);
        let (sin, cos) = angle.to_radians().sin_cos();
        let face = solid
            .branch
            .patches
            .iter()
            .find(|patch| patch.surface == Surface::CutFace)
            .unwrap();
        for corner in solid.branch.triangles[face.triangles.clone()]
            .iter()
            .flatten()
        {
            let place = solid.branch.positions[*corner as usize];
            let aside = (place[1] - offset).abs();
            if aside < radius {
                let off = from_axis(place, angle, offset) - radius;
                assert!(off.abs() < 1e-6, "{off} mm off the main at {place:?}");
            } else {
                // Beside the main: level with its axis, x cos θ = z sin θ.
                let off = place[0] * cos - place[2] * sin;
                assert!(off.abs() < 1e-4 * radius, "{off} mm above the trim plane");
            }
        }
    });
}

#[test]
fn the_other_cuts_have_one_height_across_the_wall() {
    everywhere(|(branch, wall, ..), cope, solid| {
        if cope.method() == CutMethod::Saw {
            return;
        }
        for line in &solid.lines {
            if !matches!(line.role, LineRole::Cut | LineRole::Trim) {
                continue;
            }
            for point in &line.points {
                let turn = Angle::from_rad(point[1].atan2(point[0]));
                let rho = point[0].hypot(point[1]);
                let (outside, bore) = (branch / 2.0, branch / 2.0 - wall);
                assert!((rho - outside).abs().min((rho - bore).abs()) < 1e-9);
                // Next to a grazing generator the line is all but vertical: a rounded turn moves
                // its height by the root of the rounding.
                let off = cope.at(turn).height().mm() - point[2];
                assert!(off.abs() < 1e-5 * branch, "{off}");
            }
        }
    });
}

/// Complete elliptic integrals K and E by the arithmetic-geometric mean.
fn elliptic(k: f64) -> (f64, f64) {
    let (mut a, mut b, mut c, mut sum, mut power) = (1.0, (1.0 - k * k).sqrt(), k, 0.0, 0.5);
    for _ in 0..40 {
        sum += power * c * c;
        (a, b, c) = ((a + b) / 2.0, f64::sqrt(a * b), (a - b) / 2.0);
        power *= 2.0;
    }
    let first = PI / (2.0 * a);
    (first, first * (1.0 - sum))
}

/// Volume common to two cylinders of radii a ≤ b that cross at right angles: 16 a³ / 3 if equal,
/// else 8/3 b [(b² + a²) E(a/b) − (b² − a²) K(a/b)] (Steinmetz solid; E. W. Weisstein, MathWorld;
/// the unequal formula from memory, held against the equal one and an integral below).
fn steinmetz(a: f64, b: f64) -> f64 {
    if a == b {
        return 16.0 / 3.0 * a.powi(3);
    }
    let (first, second) = elliptic(a / b);
    8.0 / 3.0 * b * ((b * b + a * a) * second - (b * b - a * a) * first)
}

#[test]
fn the_bicylinder_formula_agrees_with_its_integral_and_its_limit() {
    let (a, b) = (19.05, 22.225);
    // ∫ 2 √(R² − y²) · 2 √(r² − y²) dy over the narrower cylinder, y = a sin t.
    let steps = 20_000;
    let sum: f64 = (0..steps)
        .map(|step| {
            let t = PI * ((f64::from(step) + 0.5) / f64::from(steps) - 0.5);
            let y = a * t.sin();
            4.0 * (b * b - y * y).sqrt() * (a * t.cos()).powi(2)
        })
        .sum();
    let integral = sum * PI / f64::from(steps);
    assert!((steinmetz(a, b) / integral - 1.0).abs() < 1e-9);
    assert!((steinmetz(a, a * (1.0 + 1e-9)) / steinmetz(a, a) - 1.0).abs() < 1e-6);
}

#[test]
fn a_square_tee_has_the_volume_left_by_the_bicylinder() {
    for (branch, wall, main, angle) in [
        (44.45, 1.65, 44.45, 90.0_f64),
        (38.1, 3.0, 44.45, 90.0),
        (42.4, 10.0, 48.3, 90.0),
        (42.4, 10.0, 48.3, 45.0),
    ] {
        let cope = cope((branch, wall, main, angle, 0.0), CutMethod::Saw, 0.0).unwrap();
        let solid = Solid::new(&cope, Angle::ZERO);
        let top = solid
            .branch
            .positions
            .iter()
            .fold(f64::NEG_INFINITY, |top, place| top.max(place[2]));
        let (r, b, big) = (branch / 2.0, branch / 2.0 - wall, main / 2.0);
        // Half of the common volume stands above the joint centre, as tall as 1 / sin θ makes it;
        // the tilt of the main adds as much at the heel as it takes at the toe.
        let under = (steinmetz(r, big) - steinmetz(b, big)) / 2.0 / angle.to_radians().sin();
        let expected = PI * (r * r - b * b) * top - under;
        // A polygon of n sides has (2π/n)²/6 less area than its circle: 0.046 % at n = 120.
        let off = solid.branch.volume() / expected - 1.0;
        println!("{branch} {main} {angle}: {off:e}");
        assert!((-6e-4..2e-4).contains(&off), "{off:e}");
    }
}

#[test]
fn the_main_has_the_volume_of_its_bar() {
    let cope = cope((42.4, 2.6, 48.3, 60.0, 5.0), CutMethod::Saw, 0.0).unwrap();
    let solid = Solid::new(&cope, Angle::ZERO);
    let (sin, cos) = 60.0_f64.to_radians().sin_cos();
    let along = |place: &Point3| place[0] * sin + place[2] * cos;
    let (low, high) = solid.mains[0]
        .positions
        .iter()
        .map(along)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
    let expected = PI * 24.15_f64.powi(2) * (high - low);
    let off = solid.mains[0].volume() / expected - 1.0;
    assert!((-5e-4..0.0).contains(&off), "{off:e}");
}

#[test]
fn a_positive_offset_puts_the_main_on_plus_y_and_the_zero_line_turns_back_from_the_heel() {
    let cope = cope((42.4, 2.6, 48.3, 60.0, 8.0), CutMethod::Saw, 0.0).unwrap();
    // The zero line lies one heel turn back: with the heel at 90° it is at −90°, on −y.
    let solid = Solid::new(&cope, deg(90.0));
    let middle: f64 = solid.mains[0]
        .positions
        .iter()
        .map(|place| place[1])
        .sum::<f64>()
        / solid.mains[0].positions.len() as f64;
    assert!((middle - 8.0).abs() < 0.1, "{middle}");
    assert!(solid.heel.point[0] > 21.0 && solid.toe.point[0] < -21.0);
    let zero = solid
        .lines
        .iter()
        .find(|line| line.role == LineRole::Zero)
        .unwrap();
    assert!((zero.points[0][1] + 21.2).abs() < 1e-9, "{zero:?}");
    assert!(zero.points[0][0].abs() < 1e-9);
    let cut = cope.at(deg(-90.0)).height().mm();
    assert!((zero.points[0][2] - cut).abs() < 1e-9);
}

#[test]
fn a_branch_wider_than_the_main_shows_where_it_is_only_trimmed() {
    let cope = cope((60.0, 2.0, 48.0, 70.0, 0.0), CutMethod::Saw, 0.0).unwrap();
    let solid = Solid::new(&cope, Angle::ZERO);
    let trims = |rho: f64| {
        solid
            .lines
            .iter()
            .filter(|line| line.role == LineRole::Trim)
            .filter(|line| {
                let point = line.points[0];
                (point[0].hypot(point[1]) - rho).abs() < 1e-9
            })
            .count()
    };
    assert_eq!((trims(30.0), trims(28.0)), (2, 2));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_joint_is_closed_and_solid(
        branch in 6.0..300.0_f64,
        wall in 0.02..0.48_f64,
        ratio in prop_oneof![0.3..3.0_f64, Just(1.0), 0.999..1.001_f64, 3.0..40.0_f64],
        angle in prop_oneof![5.0..90.0_f64, Just(90.0), 89.99..90.0_f64],
        shift in prop_oneof![-0.98..0.98_f64, Just(0.0), -0.01..0.01_f64],
        touch in prop_oneof![3 => Just(false), 1 => Just(true)],
        gap in prop_oneof![Just(0.0), 0.0..3.0_f64],
        method in prop_oneof![Just(CutMethod::Saw), Just(CutMethod::Square), Just(CutMethod::Bore)],
        heel in 0.0..360.0_f64,
    ) {
        let main = (branch * ratio).max(6.0);
        // `touch` puts the branch's side flush with the main's side: the hardest tangency.
        let offset = if touch { (main - branch) / 2.0 } else { shift * (main + branch) / 2.0 };
        let Some(cope) = cope((branch, wall * branch, main, angle, offset), method, gap) else {
            return Ok(());
        };
        let solid = Solid::new(&cope, deg(heel));
        sound(&solid.branch);
        sound(&solid.mains[0]);
    }
}

/// Strokes of a gap stand on the cut, only where it gaps, and closer where it gaps more.
#[test]
fn strokes_show_where_the_cut_gaps_and_how_much() {
    use copewright::cope::GAP_STROKES;

    let tube = RoundTube::new(Length::from_mm(42.4), Length::from_mm(2.6)).unwrap();
    let (main, angle) = (Length::from_mm(48.3), Angle::from_deg(60.0));
    let joint = Joint::round(tube, main, angle, Length::ZERO).unwrap();
    let cope = Cope::new(&joint, CutMethod::Saw, Length::ZERO).unwrap();
    let bands: Vec<(Angle, u8)> = (0..360_u16)
        .map(|deg| {
            (
                Angle::from_deg(f64::from(deg)),
                [0, 1, 2][usize::from(deg) / 120],
            )
        })
        .collect();
    let solid = Solid::new(&cope, Angle::ZERO).with_gaps(&cope, &bands);
    let strokes = solid.lines.iter().filter(|line| line.role == LineRole::Gap);
    let turns: Vec<f64> = strokes
        .map(|line| {
            let [x, y, z] = line.points[0];
            let turn = Angle::from_rad(y.atan2(x)).within_turn();
            let height = cope.at(turn).height().mm();
            assert!((z - height).abs() < 1e-9, "{z} is not on the cut, {height}");
            turn.deg()
        })
        .collect();
    assert!(turns.iter().all(|turn| *turn > 119.5), "{turns:?}");
    let within = |from: f64, to: f64| turns.iter().filter(|t| (from..to).contains(*t)).count();
    let expected = GAP_STROKES.map(|step| (120.0 / step) as usize);
    assert!(within(119.5, 239.5).abs_diff(expected[0]) <= 1, "{turns:?}");
    assert!(within(239.5, 360.0).abs_diff(expected[1]) <= 3, "{turns:?}");
}
