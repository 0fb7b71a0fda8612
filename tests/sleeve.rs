//! Marking sleeves and coped ends as STL, read back by another library: closed, of the right
//! volume, and their edge on the main.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::collections::HashMap;
use std::f64::consts::{PI, TAU};

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{Sleeve, SleeveError, SleeveSizes, Template, Wrap};
use copewright::units::{Angle, Length, Unit};
use copewright::write::stl;
use proptest::prelude::*;

#[path = "../examples/solids.rs"]
#[allow(dead_code)]
mod written;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// Branch and its wall, main, angle, offset, turn of the heel.
type Sizes = (f64, f64, f64, f64, f64, f64);

fn template(
    (branch, wall, main, angle, offset, heel): Sizes,
    method: CutMethod,
) -> Option<Template> {
    let tube = RoundTube::new(mm(branch), mm(wall)).ok()?;
    let joint = Joint::round(tube, mm(main), deg(angle), mm(offset)).ok()?;
    let cope = Cope::new(&joint, method, Length::ZERO).ok()?;
    let wrap = Wrap::computed(mm(branch), mm(0.1));
    Some(Template::new(cope, wrap, deg(heel), mm(10.0)))
}

const USUAL: Sizes = (42.4, 2.6, 48.3, 60.0, 5.0, 33.0);

fn read(file: &[u8]) -> stl_io::IndexedMesh {
    stl_io::read_stl(&mut std::io::Cursor::new(file)).unwrap()
}

fn place(mesh: &stl_io::IndexedMesh, corner: usize) -> [f64; 3] {
    let at = mesh.vertices[corner];
    [0, 1, 2].map(|axis| f64::from(at[axis]))
}

/// Sum of the signed tetrahedra on the origin, by the divergence theorem.
fn volume(mesh: &stl_io::IndexedMesh) -> f64 {
    let corners = mesh
        .faces
        .iter()
        .map(|face| face.vertices.map(|corner| place(mesh, corner)));
    let six = corners.map(|[a, b, c]| {
        a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    });
    six.sum::<f64>() / 6.0
}

/// Edges that are not used exactly once in either direction.
fn open_edges(mesh: &stl_io::IndexedMesh) -> usize {
    let mut edges: HashMap<(usize, usize), u32> = HashMap::new();
    for face in &mesh.faces {
        let [a, b, c] = face.vertices;
        for edge in [(a, b), (b, c), (c, a)] {
            *edges.entry(edge).or_default() += 1;
        }
    }
    let open = |(edge, uses): &(&(usize, usize), &u32)| {
        **uses != 1 || edges.get(&(edge.1, edge.0)) != Some(&1)
    };
    edges.iter().filter(open).count()
}

fn written_sleeve(sleeve: &Sleeve) -> stl_io::IndexedMesh {
    read(&stl(&sleeve.positions, &sleeve.triangles, "sleeve").unwrap())
}

#[test]
fn solids_are_what_a_mesh_library_found_them_to_be() {
    // `tests/reference/check_solids.py` asks trimesh 5.2.0.
    let found: serde_json::Value =
        serde_json::from_str(include_str!("reference/solids.json")).unwrap();
    let files = written::solids().unwrap();
    assert_eq!(files.len(), 16);
    assert_eq!(found.as_object().unwrap().len(), files.len());
    for (name, file) in files {
        let found = &found[&name];
        for (what, value) in [("watertight", true), ("faces_out", true)] {
            assert_eq!(found[what], value, "{name}");
        }
        // One body with one hole through it, the bore: Euler's number is 0.
        assert_eq!(
            (&found["bodies"], &found["euler"]),
            (&1.into(), &0.into()),
            "{name}"
        );
        let mesh = read(&file);
        mesh.validate().unwrap();
        assert_eq!(open_edges(&mesh), 0, "{name}");
        let theirs = found["volume"].as_f64().unwrap();
        assert!((volume(&mesh) / theirs - 1.0).abs() < 1e-6, "{name}");
        for (bound, pick) in [("low", f64::min as fn(f64, f64) -> f64), ("high", f64::max)] {
            for axis in 0..3 {
                let ours = (0..mesh.vertices.len())
                    .map(|corner| place(&mesh, corner)[axis])
                    .reduce(pick)
                    .unwrap();
                let theirs = found[bound][axis].as_f64().unwrap();
                assert!(
                    (ours - theirs).abs() < 1e-3,
                    "{name} {bound}: {ours} {theirs}"
                );
            }
        }
    }
}

#[test]
fn a_sleeve_put_on_its_tube_has_its_edge_on_the_main() {
    // What is scribed along the edge must be the outside line of a saw's cut, s(R, φ): every place
    // of it lies on the main (the axis from the frame of the joint).
    for sizes in [
        USUAL,
        (42.4, 2.6, 48.3, 45.0, -9.0, 200.0),
        (30.0, 2.0, 100.0, 75.0, 20.0, 300.0),
        (6.0, 1.0, 8.0, 60.0, 0.5, 0.0),
    ] {
        let (branch, _, main, angle, offset, heel) = sizes;
        let template = template(sizes, CutMethod::Saw).unwrap();
        let given = SleeveSizes {
            length: Some(mm(150.0)),
            ..SleeveSizes::default()
        };
        for sleeve in [SleeveSizes::default(), given] {
            let sleeve = Sleeve::new(&template, &sleeve).unwrap();
            let mesh = written_sleeve(&sleeve);
            assert_eq!(open_edges(&mesh), 0);
            let end = template.mark_to_centre() + sleeve.past_mark;
            let mut on_edge = 0;
            for corner in 0..mesh.vertices.len() {
                let [x, y, z] = place(&mesh, corner);
                if z < 5.0 {
                    continue;
                }
                // Laid over, cut first, and turned so that the zero line is where it is scribed.
                let [x, y, z] = [x, -y, end.mm() - z];
                let (sin, cos) = (-heel).to_radians().sin_cos();
                let radius = x.hypot(y);
                let out = branch / 2.0 / radius;
                let [x, y] = [out * (x * cos - y * sin), out * (x * sin + y * cos)];
                // Here the branch passes beside the main, and its edge is only trimmed.
                if (y - offset).abs() > main / 2.0 {
                    continue;
                }
                on_edge += 1;
                let (sin, cos) = angle.to_radians().sin_cos();
                let from_axis = (x * cos - z * sin).hypot(y - offset);
                assert!(
                    (from_axis - main / 2.0).abs() < 0.012,
                    "{sizes:?}: {from_axis}"
                );
                let inside = sleeve.inside.mm() / 2.0;
                let near = (radius - inside)
                    .abs()
                    .min((radius - sleeve.outside.mm() / 2.0).abs());
                assert!(near < 1e-4);
            }
            assert!(on_edge > 100);
        }
    }
}

#[test]
fn the_notch_is_on_the_zero_line_and_nowhere_else() {
    let template = template(USUAL, CutMethod::Square).unwrap();
    let sleeve = Sleeve::new(&template, &SleeveSizes::default()).unwrap();
    assert_eq!(sleeve.past_mark, Length::ZERO);
    let mut deepest = 0.0_f64;
    for [x, y, z] in &sleeve.positions {
        if *z > 0.0 && *z < 5.0 {
            assert!(*x > 0.0 && y.abs() < 1.3, "{x} {y} {z}");
            deepest = deepest.max(*z);
            if (*z - 3.0).abs() < 1e-9 {
                assert!(y.abs() < 1e-9);
            }
        }
    }
    assert!((deepest - 3.0).abs() < 1e-9);
}

#[test]
fn its_sizes_are_those_asked_for() {
    let template = template(USUAL, CutMethod::Saw).unwrap();
    let sizes = SleeveSizes {
        clearance: mm(0.4),
        wall: mm(3.0),
        length: Some(mm(120.0)),
    };
    let sleeve = Sleeve::new(&template, &sizes).unwrap();
    assert!((sleeve.inside - mm(43.2)).abs() < mm(1e-9));
    assert!((sleeve.outside - mm(49.2)).abs() < mm(1e-9));
    let past = mm(120.0) - template.mark_to_long();
    assert!((sleeve.past_mark - past).abs() < mm(1e-9));
    let tall = sleeve.positions.iter().map(|p| p[2]).fold(0.0, f64::max);
    assert!((tall - 120.0).abs() < 0.01);
    // Facets lie inside the round they are of, by half a hundredth at most.
    for pair in sleeve.positions.chunks(4).collect::<Vec<_>>().windows(2) {
        let (a, b) = (pair[0][1], pair[1][1]);
        let middle = ((a[0] + b[0]) / 2.0).hypot((a[1] + b[1]) / 2.0);
        assert!(sleeve.outside.mm() / 2.0 - middle < 0.005_1);
    }
    let measured = Template::new(
        template.cope().clone(),
        Wrap::measured(mm(135.0)),
        deg(0.0),
        mm(10.0),
    );
    let sleeve = Sleeve::new(&measured, &SleeveSizes::default()).unwrap();
    assert!((sleeve.inside.mm() - (135.0 / PI + 0.5)).abs() < 1e-9);
}

#[test]
fn what_makes_no_sleeve_is_refused_in_words() {
    let template = template(USUAL, CutMethod::Saw).unwrap();
    let usual = SleeveSizes::default();
    let say = |sizes: SleeveSizes| {
        let refused = Sleeve::new(&template, &sizes).unwrap_err();
        (refused, refused.sentence(Unit::Millimetre))
    };
    for wrong in [-0.1, 2.01, f64::NAN, f64::INFINITY] {
        let (refused, words) = say(SleeveSizes {
            clearance: mm(wrong),
            ..usual
        });
        assert!(matches!(refused, SleeveError::Clearance { .. }));
        assert!(words.contains("0 mm to 2 mm"), "{words}");
    }
    for wrong in [0.0, 0.79, 10.5, f64::NAN] {
        let (refused, words) = say(SleeveSizes {
            wall: mm(wrong),
            ..usual
        });
        assert!(matches!(refused, SleeveError::Wall { .. }));
        assert!(words.contains("0.8 mm to 10 mm"), "{words}");
    }
    let (refused, words) = say(SleeveSizes {
        length: Some(mm(20.0)),
        ..usual
    });
    let SleeveError::Short { least, .. } = refused else {
        panic!("{refused:?}");
    };
    assert!(words.contains("20 mm"), "{words}");
    let just = SleeveSizes {
        length: Some(least),
        ..usual
    };
    assert_eq!(
        open_edges(&written_sleeve(&Sleeve::new(&template, &just).unwrap())),
        0
    );
    for wrong in [f64::NAN, f64::INFINITY, 1e12] {
        let (refused, _) = say(SleeveSizes {
            length: Some(mm(wrong)),
            ..usual
        });
        assert!(matches!(refused, SleeveError::Long { .. }));
    }
}

#[test]
fn a_file_is_the_published_format_and_always_the_same() {
    let positions = [
        [0.0, 0.0, 0.0],
        [1.0, 0.0, 0.0],
        [0.0, 2.0, -0.0],
        [1.0, 1e-12, 0.0],
    ];
    // The last triangle has no third corner once it is rounded.
    let triangles = [[0, 1, 2], [0, 3, 1]];
    let narrow = [positions[0], positions[1], positions[2], [1.0, 0.0, -0.0]];
    let file = stl(&narrow, &triangles, "solid ½ — ok").unwrap();
    assert_eq!(file.len(), 84 + 50);
    assert!(!file.starts_with(b"solid") && file[..80].is_ascii());
    assert_eq!(file[80..84], [1, 0, 0, 0]);
    let number = |at: usize| f32::from_le_bytes(file[at..at + 4].try_into().unwrap());
    assert_eq!([84, 88, 92].map(number), [0.0, 0.0, 1.0]);
    assert_eq!([120, 124, 128].map(number), [0.0, 2.0, 0.0]);
    assert_eq!(file, stl(&narrow, &triangles, "solid ½ — ok").unwrap());
    assert!(stl(&[[f64::NAN; 3]; 3], &[[0, 1, 2]], "").is_err());
    assert!(stl(&positions, &[[0, 1, 9]], "").is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn every_sleeve_is_closed_and_holds_what_its_line_says(
        branch in 4.0..300.0_f64,
        wall in 0.03..0.4_f64,
        main in 0.4..4.0_f64,
        angle in 10.0..=90.0_f64,
        offset in -0.9..0.9_f64,
        heel in 0.0..360.0_f64,
        square in any::<bool>(),
        clearance in 0.0..1.0_f64,
        thick in 1.0..6.0_f64,
    ) {
        let offset = offset * (main * branch + branch) / 2.0;
        let sizes = (branch, wall * branch, main * branch, angle, offset, heel);
        let method = if square { CutMethod::Square } else { CutMethod::Saw };
        let Some(template) = template(sizes, method) else {
            return Ok(());
        };
        let sizes = SleeveSizes {
            clearance: mm(clearance),
            wall: mm(thick),
            length: None,
        };
        let sleeve = Sleeve::new(&template, &sizes).unwrap();
        let mesh = written_sleeve(&sleeve);
        prop_assert_eq!(open_edges(&mesh), 0);
        // The ring between two rounds, as high as the line is on average, without the notch.
        let steps = 4000;
        let high: f64 = (0..steps)
            .map(|step| {
                let turn = Angle::from_rad(TAU * (f64::from(step) + 0.5) / f64::from(steps));
                template.station(turn).point.above_mark.mm()
            })
            .sum::<f64>() / f64::from(steps);
        let (inside, outside) = (sleeve.inside.mm() / 2.0, sleeve.outside.mm() / 2.0);
        let notch = 3.0 / template.wrap().width().mm();
        let ring = PI * (outside * outside - inside * inside);
        let expected = ring * (high - notch);
        // Facets take 2 π² / 3 n² off a round; the line is within 0.01 mm and its steps steep.
        let facets = 0.01 / outside;
        prop_assert!(
            (volume(&mesh) - expected).abs() < expected * facets + ring * 0.02 + ring * high * 2e-3 / branch,
            "{} instead of {}", volume(&mesh), expected
        );
        prop_assert!((sleeve.volume() / volume(&mesh) - 1.0).abs() < 1e-4);
    }
}
