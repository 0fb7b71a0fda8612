//! A branch on one straight round main.

use std::sync::LazyLock;

use browser_tests::fit::{Joint, Main, Seat, Strip};
use browser_tests::pdf::Pdf;
use browser_tests::printed::Sheet;
use browser_tests::solid::Shape;
use browser_tests::tape;

use crate::{FITS, MISFITS, SAME, beside, heel, offset_of_axes, printed, same_turn, told};

/// A link and what it means: diameters, wall, offset and gap in mm, angle and turn in degrees.
struct Case {
    name: &'static str,
    link: &'static str,
    /// Branch, wall, main.
    tubes: [f64; 3],
    angle: f64,
    /// Positive: towards the line a quarter turn after the heel.
    offset: f64,
    seat: Seat,
    gap: f64,
    heel: f64,
    sheets: usize,
}

const PLAIN: Case = Case {
    name: "square tee of equal tubes",
    link: "v=1&branch=48.3&wall=3.2&main=48.3&angle=90&cut=saw",
    tubes: [48.3, 3.2, 48.3],
    angle: 90.0,
    offset: 0.0,
    seat: Seat::Outside,
    gap: 0.0,
    heel: 0.0,
    sheets: 1,
};

const CASES: [Case; 18] = [
    PLAIN,
    Case {
        name: "usual brace",
        link: "v=1",
        tubes: [42.4, 2.6, 48.3],
        angle: 60.0,
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "saw, offset one way",
        link: "v=1&branch=42.4&wall=2.6&main=60.3&angle=45&offset=8&cut=saw",
        tubes: [42.4, 2.6, 60.3],
        angle: 45.0,
        offset: 8.0,
        ..PLAIN
    },
    Case {
        name: "square, offset the other way",
        link: "v=1&branch=42.4&wall=2.6&main=60.3&angle=45&offset=-8&cut=square",
        tubes: [42.4, 2.6, 60.3],
        angle: 45.0,
        offset: -8.0,
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "bore edge of a thick wall",
        link: "v=1&branch=48.3&wall=8&main=88.9&angle=30&offset=5&cut=bore",
        tubes: [48.3, 8.0, 88.9],
        angle: 30.0,
        offset: 5.0,
        seat: Seat::Bore,
        ..PLAIN
    },
    Case {
        name: "20 degrees",
        link: "v=1&branch=33.7&wall=3.2&main=60.3&angle=20&offset=-6&cut=square",
        tubes: [33.7, 3.2, 60.3],
        angle: 20.0,
        offset: -6.0,
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "saw with a root gap",
        link: "v=1&branch=42.4&wall=2.6&main=76.1&angle=75&offset=12&cut=saw&gap=1.6",
        tubes: [42.4, 2.6, 76.1],
        angle: 75.0,
        offset: 12.0,
        gap: 1.6,
        ..PLAIN
    },
    Case {
        name: "square with a root gap",
        link: "v=1&branch=42.4&wall=2.6&main=60.3&angle=60&offset=-7.5&cut=square&gap=2",
        tubes: [42.4, 2.6, 60.3],
        angle: 60.0,
        offset: -7.5,
        seat: Seat::Wall,
        gap: 2.0,
        ..PLAIN
    },
    Case {
        name: "very thick wall, square",
        link: "v=1&branch=60.3&wall=12.5&main=76.1&angle=50&offset=6&cut=square",
        tubes: [60.3, 12.5, 76.1],
        angle: 50.0,
        offset: 6.0,
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "inch fractions on Letter",
        link: "v=1&unit=in/16&branch=1+1/2&wall=.095&main=1+3/4&angle=52.5&offset=-3/32&cut=saw&paper=Letter",
        tubes: [38.1, 2.413, 44.45],
        angle: 52.5,
        offset: -2.38125,
        ..PLAIN
    },
    Case {
        name: "decimal inches, bore edge",
        link: "v=1&unit=in&branch=1.9&wall=.2&main=2.375&angle=68&offset=.2&cut=bore&paper=Letter",
        tubes: [48.26, 5.08, 60.325],
        angle: 68.0,
        offset: 5.08,
        seat: Seat::Bore,
        ..PLAIN
    },
    Case {
        name: "zero line turned on",
        link: "v=1&branch=42.4&wall=2.6&main=60.3&angle=60&offset=7&cut=square&turn=115",
        tubes: [42.4, 2.6, 60.3],
        angle: 60.0,
        offset: 7.0,
        seat: Seat::Wall,
        heel: 115.0,
        ..PLAIN
    },
    Case {
        name: "zero line turned back",
        link: "v=1&branch=42.4&wall=4&main=60.3&angle=70&offset=-8.5&cut=bore&turn=-40",
        tubes: [42.4, 4.0, 60.3],
        angle: 70.0,
        offset: -8.5,
        seat: Seat::Bore,
        heel: -40.0,
        ..PLAIN
    },
    Case {
        name: "measured circumference",
        link: "v=1&branch=42.4&wall=2.6&main=48.3&angle=65&offset=2.5&cut=saw&girth=134.1",
        tubes: [42.4, 2.6, 48.3],
        angle: 65.0,
        offset: 2.5,
        ..PLAIN
    },
    Case {
        name: "thin tube under card 0.25 thick",
        link: "v=1&branch=21.3&wall=2.65&main=26.9&angle=65&offset=2&cut=square&template=.25",
        tubes: [21.3, 2.65, 26.9],
        angle: 65.0,
        offset: 2.0,
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "past the main on one side",
        link: "v=1&branch=42.4&wall=2.6&main=48.3&angle=60&offset=10&cut=saw&turn=60",
        tubes: [42.4, 2.6, 48.3],
        angle: 60.0,
        offset: 10.0,
        heel: 60.0,
        ..PLAIN
    },
    Case {
        name: "four sheets across",
        link: "v=1&branch=168.3&wall=7.1&main=219.1&angle=45&offset=-20&cut=square&paper=A4",
        tubes: [168.3, 7.1, 219.1],
        angle: 45.0,
        offset: -20.0,
        seat: Seat::Wall,
        sheets: 4,
        ..PLAIN
    },
    Case {
        name: "sheets across and down",
        link: "v=1&branch=114.3&wall=6.3&main=139.7&angle=22&offset=11&cut=saw&paper=Letter&turn=200",
        tubes: [114.3, 6.3, 139.7],
        angle: 22.0,
        offset: 11.0,
        heel: 200.0,
        sheets: 6,
        ..PLAIN
    },
];

/// Every joint printed, for all tests to read.
static PRINTED: LazyLock<Vec<Pdf>> = LazyLock::new(|| printed(CASES.iter().map(|case| case.link)));

fn cases() -> impl Iterator<Item = (&'static Case, Strip, Joint)> {
    CASES.iter().zip(&*PRINTED).map(|(case, pdf)| {
        let sheets: Vec<Sheet> = pdf.pages.iter().map(Sheet::new).collect();
        let told = told(&sheets, case.name);
        let strip = tape::strip(&sheets);
        let says = told.length("Once round, edge to edge");
        assert!(
            (strip.width() - says).abs() < SAME,
            "{}: {} round on paper, {says} in words",
            case.name,
            strip.width()
        );
        (case, strip, joint(case, told))
    })
}

/// The tubes of the link, standing as the sheet says.
fn joint(case: &Case, sheet: &Sheet) -> Joint {
    let heel = heel(sheet);
    let (offset, towards) = offset_of_axes(&sheet.fact("Offset of the axes").unwrap());
    assert!(
        same_turn(heel, case.heel),
        "{}: the heel is at {heel}°",
        case.name
    );
    if case.offset != 0.0 {
        let side = case.heel + 90.0 * case.offset.signum();
        assert!(
            same_turn(towards, side),
            "{}: main towards {towards}°",
            case.name
        );
    }
    let close = (offset - case.offset.abs()).abs();
    assert!(close < SAME, "{}: offset {offset}", case.name);
    let [branch, wall, main] = case.tubes;
    Joint {
        branch,
        wall,
        mains: vec![Main {
            shape: Shape::Round(main),
            angle: case.angle,
            offset: case.offset.abs(),
            towards,
            about: 0.0,
            shift: 0.0,
        }],
        heel: case.heel,
        seat: case.seat,
        gap: case.gap,
    }
}

#[test]
fn printed_strips_fit_their_main_all_round() {
    let mut worst = 0.0_f64;
    for ((case, strip, joint), pdf) in cases().zip(&*PRINTED) {
        let fit = strip.fit(&joint);
        println!(
            "{:32} largest gap {:.4} mm over {:6.2} % of the turn, {} sheet(s)",
            case.name,
            fit.worst,
            fit.covered * 100.0,
            pdf.pages.len()
        );
        assert!(fit.worst <= FITS, "{}: {fit:?}", case.name);
        assert_eq!(pdf.pages.len(), case.sheets, "{}: sheets", case.name);
        worst = worst.max(fit.worst);
    }
    println!("{:32} largest gap {worst:.4} mm", "all");
}

#[test]
fn cut_line_goes_all_round_but_where_the_branch_passes_beside() {
    for ((case, strip, joint), pdf) in cases().zip(&*PRINTED) {
        let wide = beside(pdf);
        let covered = strip.fit(&joint).covered;
        let off = (covered * 360.0 + wide - 360.0).abs();
        assert!(
            off < 0.1,
            "{}: {covered} of the turn, {wide}° beside",
            case.name
        );
        let sticks_out = case.offset.abs() + case.tubes[0] / 2.0 - case.tubes[2] / 2.0;
        assert_eq!(wide > 0.0, sticks_out > 1e-9, "{}", case.name);
    }
}

#[test]
fn mirrored_strips_do_not_fit() {
    for (case, strip, joint) in cases().filter(|(case, ..)| case.offset != 0.0) {
        let worst = strip.mirrored().fit(&joint).worst;
        assert!(
            worst > MISFITS,
            "{} mirrored is only {worst} off",
            case.name
        );
    }
}

#[test]
fn strips_turned_the_wrong_way_do_not_fit() {
    let mut turned = 0;
    for (case, strip, joint) in cases().filter(|(case, ..)| case.heel != 0.0) {
        let mut wrong = joint.clone();
        wrong.heel = -joint.heel;
        wrong.mains[0].towards -= 2.0 * joint.heel;
        let worst = strip.fit(&wrong).worst;
        assert!(
            worst > MISFITS,
            "{} turned back is only {worst} off",
            case.name
        );
        turned += 1;
    }
    assert!(turned >= 3);
}
