//! Sheets with the template for a main.

use copewright::joint::{Main, RectangularSection, Shape};
use copewright::piece::Landing;
use copewright::sheet::{SheetError, lay_out_landing};

use crate::common::*;
use crate::pages::{assert_apart, assert_within};

/// A branch on a main, what the heel is turned by, and how far the main's end is.
struct Lands {
    branch: f64,
    wall: f64,
    mains: Vec<Main>,
    heel: f64,
    end: Option<f64>,
}

fn round(diameter: f64, angle: f64, offset: f64) -> Main {
    Main::round(mm(diameter), Angle::from_deg(angle), mm(offset)).unwrap()
}

fn rectangular(width: f64, height: f64, corner: f64, roll: f64, angle: f64, offset: f64) -> Main {
    let roll = Angle::from_deg(roll);
    let section = RectangularSection::new(mm(width), mm(height), mm(corner), roll).unwrap();
    Main::rectangular(section, Angle::from_deg(angle), mm(offset)).unwrap()
}

fn plate(angle: f64) -> Main {
    Main::plate(Angle::from_deg(angle)).unwrap()
}

/// Ordinary, turned, tiny, shallow, hanging past, several mains, more than one sheet.
fn cases() -> Vec<Lands> {
    let lands = |branch: f64, main: Main| Lands {
        branch,
        wall: branch / 16.0,
        mains: vec![main],
        heel: 0.0,
        end: None,
    };
    let several = |second: Main| Lands {
        mains: vec![round(48.3, 60.0, 4.0), second],
        ..lands(42.4, plate(90.0))
    };
    vec![
        lands(42.4, round(48.3, 60.0, 0.0)),
        Lands {
            heel: 30.0,
            end: Some(320.0),
            ..lands(42.4, round(60.3, 45.0, 6.0))
        },
        lands(6.0, round(6.0, 60.0, 0.0)),
        lands(8.0, plate(90.0)),
        lands(33.7, plate(15.0)),
        Lands {
            heel: 200.0,
            end: Some(5.0),
            ..lands(33.7, rectangular(80.0, 50.0, 6.0, 30.0, 60.0, 10.0))
        },
        lands(48.3, rectangular(40.0, 40.0, 0.0, 45.0, 70.0, -8.0)),
        lands(60.3, round(33.7, 50.0, 3.0)),
        lands(60.3, round(400.0, 20.0, 100.0)),
        lands(219.1, round(273.0, 45.0, 20.0)),
        lands(300.0, plate(30.0)),
        several(round(48.3, 30.0, 0.0).turned(Angle::HALF)),
        Lands {
            mains: vec![
                round(48.3, 60.0, 0.0),
                round(48.3, 30.0, 0.0).turned(Angle::HALF),
            ],
            ..lands(42.4, plate(90.0))
        },
        several(plate(80.0).turned(Angle::from_deg(120.0)).shifted(mm(-3.0))),
    ]
}

pub fn packets(paper: Paper, printer: &Printer, label: &str, unit: Unit) -> Vec<(Landing, Packet)> {
    let mut all = Vec::new();
    for case in cases() {
        let tube = RoundTube::new(mm(case.branch), mm(case.wall)).unwrap();
        let mut mains = case.mains.into_iter();
        let mut joint = Joint::new(tube, mains.next().unwrap()).unwrap();
        for main in mains {
            joint = joint.and(main).unwrap();
        }
        let heel = Angle::from_deg(case.heel);
        let cope = Cope::new(&joint, CutMethod::Square, Length::ZERO).unwrap();
        let wrap = Wrap::computed(mm(case.branch), mm(0.1));
        let template = Template::new(cope, wrap, heel, mm(10.0));
        for number in 0..joint.mains().count() {
            let Ok(landing) = Landing::new(&joint, number, heel, mm(0.1)) else {
                continue;
            };
            let landing = landing.marked(case.end.map(mm), mm(10.0));
            let order = Order {
                template: &template,
                unit,
                label,
                link: LINK,
                date: "14 May 2026",
                paper,
                printer,
                saw: &[],
            };
            let packet = lay_out_landing(&order, &landing).unwrap();
            all.push((landing, packet));
        }
    }
    assert!(all.len() >= 14);
    all
}

#[test]
fn nothing_is_outside_the_margin_and_words_stand_clear() {
    let long = "Left upright brace of the launching trolley, lower end, second from the bow";
    for paper in [Paper::A4, Paper::Letter, Paper::Tabloid] {
        for way in [
            Orientation::Auto,
            Orientation::Upright,
            Orientation::Sideways,
        ] {
            for (label, unit) in [
                ("", Unit::Millimetre),
                (long, Unit::Fraction(Denominator::SixtyFourth)),
            ] {
                let printer = printer().with_orientation(way);
                for (_, packet) in packets(paper, &printer, label, unit) {
                    for page in &packet.pages {
                        assert_within(page, printer.margin().mm());
                        assert_apart(page);
                    }
                }
            }
        }
    }
}

/// The drawn outline is the computed one, the mark line and the zero line where it is measured
/// from, on the sheet as it is printed.
#[test]
fn the_outline_is_drawn_where_it_is_measured() {
    let printer = printer().with_orientation(Orientation::Upright);
    let mut single = 0;
    for (landing, packet) in packets(Paper::A4, &printer, "", Unit::Millimetre) {
        if packet.columns * packet.rows > 1 {
            continue;
        }
        single += 1;
        let page = packet.pages.last().unwrap();
        let mark = strokes(page, Layer::Mark)[0].1[0].x;
        let zero = strokes(page, Layer::Zero)[0].1[0].y;
        let along = |point: &Point| landing.mark().mm() + point.x - mark;
        for (layer, runs) in [
            (Layer::Landing, landing.outside()),
            (Layer::Hole, landing.hole()),
        ] {
            // What is only there to be seen is cut off at the paper's edge.
            let drawn = strokes(page, layer).into_iter();
            let drawn: Vec<_> = drawn.filter(|(pen, _)| *pen != Pen::TRIM).collect();
            let runs: Vec<_> = runs.iter().filter(|run| run.seated).collect();
            assert_eq!(drawn.len(), runs.len());
            for ((pen, points), run) in drawn.into_iter().zip(runs) {
                let want = if layer == Layer::Landing {
                    Pen::LANDING
                } else {
                    Pen::HOLE
                };
                assert_eq!(pen, want);
                assert_eq!(points.len(), run.points.len());
                for (is, want) in points.iter().zip(&run.points) {
                    assert!((along(is) - want.along.mm()).abs() < 1e-9);
                    assert!((zero - is.y - want.around.mm()).abs() < 1e-9);
                }
            }
        }
    }
    assert!(single >= 8);
}

/// Tiles laid side by side hold the whole outline: every point of it is on one of them.
#[test]
fn a_large_outline_is_on_its_tiles() {
    let mut tiled = 0;
    for (landing, packet) in packets(Paper::A4, &printer(), "", Unit::Millimetre) {
        if packet.columns * packet.rows == 1 {
            continue;
        }
        tiled += 1;
        // Clipping adds ends; every point of the outline but those is there.
        let drawn: usize = packet
            .pages
            .iter()
            .flat_map(|page| strokes(page, Layer::Landing))
            .map(|(_, points)| points.len())
            .sum();
        let points: usize = landing.outside().iter().map(|run| run.points.len()).sum();
        assert!(drawn >= points, "{drawn} of {points}");
        let crosses = packet
            .pages
            .iter()
            .map(|page| strokes(page, Layer::Check).len());
        assert!(crosses.sum::<usize>() > 0);
    }
    assert!(tiled >= 2);
}

#[test]
fn the_sheet_says_where_it_goes() {
    for (landing, packet) in packets(Paper::A4, &printer(), "", Unit::Millimetre) {
        let said: String = packet.pages.iter().map(words).collect();
        for needed in [
            "zero line",
            "mark line",
            "Joint centre to mark line",
            "Hole for flow",
        ] {
            assert!(said.contains(needed), "{needed} is missing");
        }
        assert_eq!(
            landing.mark_from_end().is_some(),
            said.contains("Main’s end to mark line")
        );
    }
}

fn sheet_of(main: Main, branch: f64, wall: f64) -> Result<String, SheetError> {
    let tube = RoundTube::new(mm(branch), mm(wall)).unwrap();
    let joint = Joint::new(tube, main).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, Length::ZERO).unwrap();
    let wrap = Wrap::computed(mm(branch), mm(0.1));
    let template = Template::new(cope, wrap, Angle::ZERO, mm(10.0));
    let landing = Landing::new(&joint, 0, Angle::ZERO, mm(0.1)).unwrap();
    let printer = printer();
    let packet = lay_out_landing(
        &Order {
            template: &template,
            unit: Unit::Millimetre,
            label: "Axle beam",
            link: LINK,
            date: "14 May 2026",
            paper: Paper::A4,
            printer: &printer,
            saw: &[],
        },
        &landing,
    )?;
    Ok(packet.pages.iter().map(words).collect())
}

/// Usual sizes have room for every word that the patch should carry.
#[test]
fn no_word_is_dropped_on_a_usual_joint() {
    let usual = [
        (round(48.3, 60.0, 0.0), 42.4),
        (round(60.3, 45.0, 6.0), 42.4),
        (round(42.4, 90.0, 0.0), 42.4),
        (plate(60.0), 33.7),
        (rectangular(50.0, 50.0, 5.0, 0.0, 60.0, 0.0), 42.4),
        (rectangular(60.0, 40.0, 6.0, 45.0, 60.0, 5.0), 33.7),
    ];
    for (main, branch) in usual {
        let folds = matches!(main.shape(), Shape::Rectangular(_));
        let said = sheet_of(main, branch, 2.6).unwrap();
        for needed in [
            "heel",
            "toe",
            "mark line",
            "left edge: ",
            "mark line to joint centre",
            "zero line",
            "Axle beam: template for the main",
            "90°",
            "180°",
            "270°",
        ] {
            assert!(
                said.contains(needed),
                "{needed} is missing for {branch}: {said}"
            );
        }
        assert_eq!(folds, said.contains("corner begins"), "{said}");
    }
}

/// A bore that reaches past the main has no hole in it, in lines and in words.
#[test]
fn no_hole_is_offered_that_would_cut_the_main_in_two() {
    let none = sheet_of(round(33.7, 90.0, 0.0), 42.4, 2.6).unwrap();
    assert!(none.contains("none: the bore is not all over this main"));
    assert!(!none.contains("thin line inside"));
    let ring = sheet_of(round(48.3, 90.0, 0.0), 42.4, 2.6).unwrap();
    assert!(ring.contains("thin line inside") && !ring.contains("heavy line ends"));
}

#[test]
fn more_sheets_than_anybody_tapes_are_refused() {
    let huge = sheet_of(plate(5.0), 2000.0, 20.0);
    let refused = huge.unwrap_err().sentence();
    assert!(refused.contains("at most 400"), "{refused}");
}

/// Where another main takes the toe, the mark line may go through the joint centre: no “0 mm” then.
#[test]
fn a_mark_line_through_the_joint_centre_is_said_so() {
    let mut met = 0;
    for (landing, packet) in packets(Paper::A4, &printer(), "", Unit::Millimetre) {
        let said: String = packet.pages.iter().map(words).collect();
        let through = landing.mark().abs() < mm(0.01);
        met += usize::from(through);
        assert_eq!(
            through,
            said.contains("mark line through the joint centre"),
            "{said}"
        );
        assert!(!said.contains("left edge: 0 mm") && !said.contains(" 0 mm from the joint"));
    }
    assert!(met > 0);
}
