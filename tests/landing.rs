//! The template for the main: every point of it, wrapped back on the main, lies on the main and on
//! the branch. The wrapping here is written from the definition, with nothing of the code under
//! test: along the axis, round the section by arc length.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::f64::consts::{FRAC_PI_2, PI};

use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube};
use copewright::piece::{Landing, LandingPoint, LandingRun, NoLanding};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

/// How far a computed point may lie off a surface, mm.
const OFF: f64 = 1e-6;
/// How far a chord may leave the outline, mm.
const CHORD: f64 = 0.01;

fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

fn deg(angle: f64) -> Angle {
    Angle::from_deg(angle)
}

/// A section to wrap paper on.
#[derive(Debug, Clone, Copy)]
enum Section {
    Round {
        radius: f64,
    },
    Plate,
    Rectangle {
        width: f64,
        height: f64,
        corner: f64,
        roll: f64,
    },
}

/// Where a main lies.
#[derive(Debug, Clone, Copy)]
struct Lie {
    section: Section,
    /// Degrees.
    angle: f64,
    offset: f64,
    /// Degrees.
    turn: f64,
    shift: f64,
}

impl Lie {
    fn main(&self) -> Main {
        let angle = deg(self.angle);
        let main = match self.section {
            Section::Round { radius } => Main::round(mm(radius * 2.0), angle, mm(self.offset)),
            Section::Plate => Main::plate(angle),
            Section::Rectangle {
                width,
                height,
                corner,
                roll,
            } => {
                let section =
                    RectangularSection::new(mm(width), mm(height), mm(corner), deg(roll)).unwrap();
                Main::rectangular(section, angle, mm(self.offset))
            }
        };
        main.unwrap().turned(deg(self.turn)).shifted(mm(self.shift))
    }

    /// Paper of thickness `paper` wrapped on the main: the place of the metal under a point, in
    /// the frame of the branch.
    fn wrapped(&self, point: &LandingPoint, paper: f64) -> [f64; 3] {
        let (side, up) = self.on_section(point.around.mm(), paper);
        let (sin, cos) = self.angle.to_radians().sin_cos();
        let along = point.along.mm();
        // The axis of the main runs along (sin θ, 0, cos θ); up is square to it and to y.
        let offset = if matches!(self.section, Section::Plate) {
            0.0
        } else {
            self.offset
        };
        let (x, y, z) = (
            along * sin - up * cos,
            side + offset,
            along * cos + up * sin,
        );
        let (sin, cos) = self.turn.to_radians().sin_cos();
        [x * cos - y * sin, x * sin + y * cos, z + self.shift]
    }

    /// Side and up of the place at a distance round the section.
    fn on_section(&self, around: f64, paper: f64) -> (f64, f64) {
        match self.section {
            Section::Plate => (around, 0.0),
            Section::Round { radius } => {
                let (sin, cos) = (around / (radius + paper / 2.0)).sin_cos();
                (radius * sin, radius * cos)
            }
            Section::Rectangle {
                width,
                height,
                corner,
                roll,
            } => {
                // The face that looks up most: the roll brought to −45…45°, by quarter turns that
                // swap the sides.
                let (mut roll, mut width, mut height) = (roll, width, height);
                while roll > 45.0 {
                    (roll, width, height) = (roll - 90.0, height, width);
                }
                while roll <= -45.0 {
                    (roll, width, height) = (roll + 90.0, height, width);
                }
                let mut left = around.abs();
                let arc = corner + paper / 2.0;
                // From the middle of the face over half of it, then corner and face in turn.
                let mut sides = [width, height, width, height].into_iter();
                let mut half = sides.next().unwrap() / 2.0 - corner;
                let (mut at, mut heading) = ((0.0, height / 2.0), 0.0_f64);
                let (v, w) = loop {
                    let (cos, sin) = (heading.cos(), -heading.sin());
                    if left <= half {
                        break (at.0 + left * cos, at.1 + left * sin);
                    }
                    left -= half;
                    at = (at.0 + half * cos, at.1 + half * sin);
                    let turned = if arc > 0.0 {
                        (left / arc).min(FRAC_PI_2)
                    } else {
                        FRAC_PI_2
                    };
                    let normal = (heading.sin(), heading.cos());
                    let centre = (at.0 - corner * normal.0, at.1 - corner * normal.1);
                    let to = heading + turned;
                    at = (centre.0 + corner * to.sin(), centre.1 + corner * to.cos());
                    if turned < FRAC_PI_2 {
                        break at;
                    }
                    left -= turned * arc;
                    heading = to;
                    half = sides.next().unwrap() - 2.0 * corner;
                };
                let v = v * around.signum();
                let (sin, cos) = roll.to_radians().sin_cos();
                (v * cos - w * sin, v * sin + w * cos)
            }
        }
    }
}

fn joint(branch: f64, wall: f64, lies: &[Lie]) -> Option<Joint> {
    let tube = RoundTube::new(mm(branch), mm(wall)).ok()?;
    let mut joint = Joint::new(tube, lies[0].main()).ok()?;
    for lie in &lies[1..] {
        joint = joint.and(lie.main()).ok()?;
    }
    Some(joint)
}

/// Checks every point and every chord of some runs against the branch's cylinder.
fn check(runs: &[LandingRun], lie: &Lie, radius: f64, paper: f64) -> Result<(), TestCaseError> {
    for run in runs {
        prop_assert!(run.points.len() > 1);
        for point in &run.points {
            let [x, y, _] = lie.wrapped(point, paper);
            let off = x.hypot(y) - radius;
            prop_assert!(
                off.abs() <= OFF,
                "{point:?} is {off} off the branch of {lie:?}"
            );
        }
        for pair in run.points.windows(2) {
            for part in [0.25, 0.5, 0.75] {
                let between = |a: Length, b: Length| a + (b - a) * part;
                let point = LandingPoint {
                    along: between(pair[0].along, pair[1].along),
                    around: between(pair[0].around, pair[1].around),
                };
                let [x, y, _] = lie.wrapped(&point, paper);
                let off = (x.hypot(y) - radius).abs();
                prop_assert!(
                    off <= CHORD + OFF,
                    "chord {pair:?} of {lie:?} leaves by {off}"
                );
            }
        }
    }
    Ok(())
}

fn section() -> impl Strategy<Value = Section> {
    prop_oneof![
        (5.0..150.0).prop_map(|radius| Section::Round { radius }),
        Just(Section::Plate),
        (10.0..200.0, 10.0..200.0, 0.0..=0.5, -180.0..180.0_f64).prop_map(
            |(width, height, part, roll): (f64, f64, f64, f64)| Section::Rectangle {
                width,
                height,
                corner: width.min(height) * part,
                roll,
            }
        ),
        // Whole turns of a face and corners of nothing or of half a side.
        (10.0..200.0, prop_oneof![Just(0.0), Just(0.5)], -4..4_i32).prop_map(
            |(side, part, eighth)| Section::Rectangle {
                width: side,
                height: side,
                corner: side * part,
                roll: f64::from(eighth) * 45.0,
            }
        ),
    ]
}

fn lie() -> impl Strategy<Value = Lie> {
    let angle = prop_oneof![15.0..90.0, Just(90.0)];
    (section(), angle, -1.2..1.2, 0.0..360.0, -50.0..50.0).prop_map(
        |(section, angle, aside, turn, shift)| {
            let half = match section {
                Section::Round { radius } => radius,
                Section::Plate => 0.0,
                Section::Rectangle { width, height, .. } => width.min(height) / 2.0,
            };
            Lie {
                section,
                angle,
                offset: half * aside,
                turn,
                shift,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn every_point_lies_on_main_and_branch(
        lie in lie(),
        branch in 6.0..250.0,
        part in 0.02..0.95,
        heel in 0.0..360.0,
        paper in prop_oneof![Just(0.0), Just(0.1), Just(2.0)],
    ) {
        let wall = branch / 2.0 * part;
        let Some(joint) = joint(branch, wall, &[lie]) else { return Ok(()) };
        let landing = Landing::new(&joint, 0, deg(heel), mm(paper));
        let landing = match landing {
            Ok(landing) => landing,
            Err(why) => {
                prop_assert_eq!(why, NoLanding::Untouched);
                return Ok(());
            }
        };
        check(landing.outside(), &lie, branch / 2.0, paper)?;
        // Where the whole branch is over the main, its outline is one ring.
        let main = lie.main();
        let inside = match lie.section {
            Section::Plate => true,
            _ => main.half_breadth().mm() - lie.offset.abs() > branch / 2.0 + 1e-6,
        };
        let ring = landing.outside().len() == 1
            && landing.outside()[0].points.first() == landing.outside()[0].points.last();
        prop_assert!(ring || !inside, "{lie:?} is open");
        check(landing.hole(), &lie, branch / 2.0 - wall, paper)?;
        for mark in landing.marks() {
            let [x, y, z] = lie.wrapped(&mark.point, paper);
            let turn = mark.turn.deg() - heel;
            let (sin, cos) = turn.to_radians().sin_cos();
            let apart = (x - branch / 2.0 * cos).hypot(y - branch / 2.0 * sin);
            prop_assert!(apart <= OFF, "{mark:?} of {lie:?} is {apart} off its generator");
            // It is the first thing that the generator meets.
            let hit = lie.main().first_hit(mm(x), mm(y));
            if let Some(hit) = hit {
                prop_assert!((hit.mm() - z).abs() <= 1e-5, "{hit:?} {z} {lie:?}");
            }
        }
        if let Some(axis) = landing.axis() {
            let [x, y, _] = lie.wrapped(&axis, paper);
            prop_assert!(x.hypot(y) <= OFF, "axis {axis:?} of {lie:?}");
        }
    }

    #[test]
    fn of_several_mains_each_has_the_part_that_is_sat_on(
        first in lie(),
        second in lie(),
        branch in 10.0..100.0,
    ) {
        let first = Lie { turn: 0.0, shift: 0.0, ..first };
        let lies = [first, second];
        let Some(joint) = joint(branch, branch / 20.0, &lies) else { return Ok(()) };
        for (number, lie) in lies.iter().enumerate() {
            let Ok(landing) = Landing::new(&joint, number, Angle::ZERO, Length::ZERO) else {
                continue;
            };
            let other = lies[1 - number].main();
            for run in landing.outside() {
                for point in &run.points {
                    let [x, y, z] = lie.wrapped(point, 0.0);
                    prop_assert!((x.hypot(y) - branch / 2.0).abs() <= OFF);
                    let above = other.first_hit(mm(x), mm(y)).map_or(f64::NEG_INFINITY, Length::mm);
                    // At the ends of a run both are met at one height, or nearly where they are
                    // steep against each other.
                    let inner = *point != run.points[0] && point != run.points.last().unwrap();
                    if inner && run.seated {
                        prop_assert!(above <= z + 1e-4, "{above} above {z}: {lies:?}");
                    } else if inner {
                        prop_assert!(above >= z - 1e-4, "{above} below {z}: {lies:?}");
                    }
                }
            }
        }
    }
}

/// A branch no wider than the main, squarely on it: along = r cos φ, around = R asin(r sin φ / R),
/// from the two circles by hand.
#[test]
fn a_square_landing_has_the_closed_form() {
    let lie = Lie {
        section: Section::Round { radius: 30.0 },
        angle: 90.0,
        offset: 0.0,
        turn: 0.0,
        shift: 0.0,
    };
    let joint = joint(40.0, 2.0, &[lie]).unwrap();
    let landing = Landing::new(&joint, 0, Angle::ZERO, Length::ZERO).unwrap();
    assert_eq!(landing.outside().len(), 1);
    let points = &landing.outside()[0].points;
    assert_eq!(points.first(), points.last());
    for point in points {
        let sine = 30.0 * (point.around.mm() / 30.0).sin() / 20.0;
        let off = (point.along.mm() / 20.0).hypot(sine) - 1.0;
        assert!(off.abs() < 1e-9, "{off}");
    }
    let (low, high) = landing.reach();
    let widest = 30.0 * (20.0_f64 / 30.0).asin();
    for (is, want) in [
        (low.along, -20.0),
        (high.along, 20.0),
        (low.around, -widest),
        (high.around, widest),
    ] {
        assert!((is.mm() - want).abs() < 1e-9, "{is:?} {want}");
    }
    assert!((landing.girth().unwrap().mm() - 60.0 * PI).abs() < 1e-9);
    let hole = &landing.hole()[0].points;
    assert!(hole.iter().all(|point| {
        let sine = 30.0 * (point.around.mm() / 30.0).sin() / 18.0;
        ((point.along.mm() / 18.0).hypot(sine) - 1.0).abs() < 1e-9
    }));
}

/// On a plate the outline is the ellipse that a cylinder leaves on a plane: r / sin θ along the
/// lean, r across.
#[test]
fn a_plate_has_an_ellipse() {
    for angle in [20.0, 45.0, 60.0, 90.0_f64] {
        let lie = Lie {
            section: Section::Plate,
            angle,
            offset: 0.0,
            turn: 0.0,
            shift: 0.0,
        };
        let joint = joint(60.0, 3.0, &[lie]).unwrap();
        let landing = Landing::new(&joint, 0, deg(37.0), mm(0.1)).unwrap();
        for (runs, radius) in [(landing.outside(), 30.0), (landing.hole(), 27.0)] {
            assert_eq!(runs.len(), 1);
            for point in &runs[0].points {
                let along = point.along.mm() * angle.to_radians().sin() / radius;
                let off = along.hypot(point.around.mm() / radius) - 1.0;
                assert!(off.abs() < 1e-9, "{off}");
            }
        }
        assert_eq!(landing.girth(), None);
    }
}

/// Half of a wide branch hangs past the main: the outline stays open and says so by its ends.
#[test]
fn an_outline_that_hangs_past_ends_on_the_sides_of_the_main() {
    let lie = Lie {
        section: Section::Round { radius: 20.0 },
        angle: 60.0,
        offset: 0.0,
        turn: 0.0,
        shift: 0.0,
    };
    let joint = joint(60.0, 2.0, &[lie]).unwrap();
    let landing = Landing::new(&joint, 0, Angle::ZERO, Length::ZERO).unwrap();
    assert_eq!(landing.outside().len(), 2);
    for run in landing.outside() {
        for end in [run.points.first(), run.points.last()] {
            let around = end.unwrap().around.mm().abs();
            assert!((around - 20.0 * FRAC_PI_2).abs() < 1e-6, "{around}");
        }
    }
}

/// Outlines are as fine as they must be and not much finer.
#[test]
fn an_outline_has_a_sensible_number_of_points() {
    for (radius, branch) in [(24.15, 42.4), (24.15, 48.3), (150.0, 20.0), (21.2, 60.3)] {
        let lie = Lie {
            section: Section::Round { radius },
            angle: 60.0,
            offset: 0.0,
            turn: 0.0,
            shift: 0.0,
        };
        let joint = joint(branch, 2.6, &[lie]).unwrap();
        let landing = Landing::new(&joint, 0, Angle::ZERO, Length::ZERO).unwrap();
        let count: usize = landing.outside().iter().map(|run| run.points.len()).sum();
        // A circle takes π / acos(1 − tolerance / r) chords.
        let least = PI / (1.0 - CHORD / (branch / 2.0)).acos();
        assert!(
            count < 600 && count as f64 > least * 0.5,
            "{branch} on {radius}: {count}"
        );
    }
}

#[test]
fn what_cannot_be_laid_flat_is_told() {
    let tube = RoundTube::new(mm(40.0), mm(2.0)).unwrap();
    let mitre = Joint::new(tube, Main::mitre(mm(40.0), deg(90.0)).unwrap()).unwrap();
    let no = Landing::new(&mitre, 0, Angle::ZERO, Length::ZERO);
    assert_eq!(no.unwrap_err(), NoLanding::Mitre);
    let bend = Bend::new(mm(150.0), deg(90.0), mm(0.0), deg(180.0)).unwrap();
    let bent = Main::bent(mm(48.3), bend, deg(90.0), mm(0.0)).unwrap();
    let no = Landing::new(
        &Joint::new(tube, bent).unwrap(),
        0,
        Angle::ZERO,
        Length::ZERO,
    );
    assert_eq!(no.unwrap_err(), NoLanding::Bent);
    // A plate far below the tube is never met.
    let tube_first = Joint::new(tube, Main::round(mm(40.0), deg(90.0), mm(0.0)).unwrap()).unwrap();
    let below = Main::plate(deg(90.0)).unwrap().shifted(mm(-100.0));
    let no = Landing::new(
        &tube_first.and(below).unwrap(),
        1,
        Angle::ZERO,
        Length::ZERO,
    );
    assert_eq!(no.unwrap_err(), NoLanding::Untouched);
    for why in [NoLanding::Mitre, NoLanding::Bent, NoLanding::Untouched] {
        assert!(why.sentence(2).ends_with('.'));
    }
}
