//! A branch on a flat plate, and two tubes that meet in a mitre.

use browser_tests::fit::Seat;
use browser_tests::solid::Shape;

use crate::kinds::{Case, Lies, PLAIN, SQUARE, check};

const MITRE: Lies = Lies {
    shape: Shape::Mitre,
    ..SQUARE
};

const CASES: [Case; 9] = [
    Case {
        name: "plate at 60 degrees, saw",
        link: "v=1&kind=plate&branch=42.4&wall=2.6&angle=60&cut=saw",
        mains: &[Lies {
            angle: 60.0,
            ..SQUARE
        }],
        ..PLAIN
    },
    Case {
        name: "plate square under the branch, root gap",
        link: "v=1&kind=plate&branch=60.3&wall=4&angle=90&cut=square&gap=2",
        branch: [60.3, 4.0],
        mains: &[SQUARE],
        seat: Seat::Wall,
        gap: 2.0,
        ..PLAIN
    },
    Case {
        name: "plate at 35 degrees, bore edge, zero turned",
        link: "v=1&kind=plate&branch=48.3&wall=8&angle=35&cut=bore&turn=50",
        branch: [48.3, 8.0],
        mains: &[Lies {
            angle: 35.0,
            ..SQUARE
        }],
        seat: Seat::Bore,
        heel: 50.0,
        ..PLAIN
    },
    Case {
        name: "plate at 25 degrees, square, gap, zero back",
        link: "v=1&kind=plate&branch=33.7&wall=3.2&angle=25&cut=square&gap=1.5&turn=-70",
        branch: [33.7, 3.2],
        mains: &[Lies {
            angle: 25.0,
            ..SQUARE
        }],
        seat: Seat::Wall,
        gap: 1.5,
        heel: -70.0,
        ..PLAIN
    },
    Case {
        name: "square corner of equal tubes, saw",
        link: "v=1&kind=mitre&branch=48.3&wall=3.2&main=48.3&angle=90&cut=saw",
        branch: [48.3, 3.2],
        mains: &[MITRE],
        ..PLAIN
    },
    Case {
        name: "mitre at 130 of unequal tubes, zero turned",
        link: "v=1&kind=mitre&branch=42.4&wall=2.6&main=60.3&angle=130&cut=square&gap=1.6&turn=115",
        mains: &[Lies {
            angle: 130.0,
            ..MITRE
        }],
        seat: Seat::Wall,
        gap: 1.6,
        heel: 115.0,
        ..PLAIN
    },
    Case {
        name: "mitre at 50 degrees, bore edge, zero turned",
        link: "v=1&kind=mitre&branch=42.4&wall=5&main=42.4&angle=50&cut=bore&turn=-35",
        branch: [42.4, 5.0],
        mains: &[Lies {
            angle: 50.0,
            ..MITRE
        }],
        seat: Seat::Bore,
        heel: -35.0,
        ..PLAIN
    },
    Case {
        name: "mitre at 75 degrees of unequal tubes, square",
        link: "v=1&kind=mitre&branch=60.3&wall=6.3&main=48.3&angle=75&cut=square",
        branch: [60.3, 6.3],
        mains: &[Lies {
            angle: 75.0,
            ..MITRE
        }],
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "straight butt, root gap",
        link: "v=1&kind=mitre&branch=42.4&wall=2.6&main=42.4&angle=180&cut=saw&gap=2.4",
        mains: &[Lies {
            angle: 180.0,
            ..MITRE
        }],
        gap: 2.4,
        ..PLAIN
    },
];

#[test]
fn strips_fit_plates_and_mitres() {
    check("plates and mitres", &CASES);
}
