//! A branch on a square or rectangular main: on a face, over a corner, past a side.

use browser_tests::fit::Seat;
use browser_tests::solid::Shape;

use crate::kinds::{Case, Lies, PLAIN, SQUARE, check};

/// A section of that width, height and corner, turned.
const fn section(width: f64, height: f64, corner: f64, roll: f64) -> Lies {
    Lies {
        shape: Shape::Rectangular {
            width,
            height,
            corner,
            roll,
        },
        ..SQUARE
    }
}

const CASES: [Case; 8] = [
    Case {
        // The corner of a wall of 3 is twice that.
        name: "flat face and over a corner, saw",
        link: "v=1&kind=rectangular&width=60&height=40&mainwall=3&branch=42.4&wall=2.6&angle=60&offset=7&cut=saw",
        mains: &[Lies {
            angle: 60.0,
            offset: 7.0,
            ..section(60.0, 40.0, 6.0, 0.0)
        }],
        ..PLAIN
    },
    Case {
        name: "flat face all round, bore edge, zero turned",
        link: "v=1&kind=rectangular&width=80&height=40&corner=5&branch=42.4&wall=5&angle=50&offset=3&cut=bore&turn=70",
        branch: [42.4, 5.0],
        mains: &[Lies {
            angle: 50.0,
            offset: 3.0,
            ..section(80.0, 40.0, 5.0, 0.0)
        }],
        seat: Seat::Bore,
        heel: 70.0,
        ..PLAIN
    },
    Case {
        name: "corner up, square",
        link: "v=1&kind=rectangular&width=50&height=50&mainwall=4&roll=45&branch=42.4&wall=2.6&angle=70&offset=-5&cut=square",
        mains: &[Lies {
            angle: 70.0,
            offset: -5.0,
            ..section(50.0, 50.0, 8.0, 45.0)
        }],
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "sharp corner up, saw",
        link: "v=1&kind=rectangular&width=50&height=50&corner=0&roll=45&branch=42.4&wall=2.6&angle=90&cut=saw",
        mains: &[section(50.0, 50.0, 0.0, 45.0)],
        ..PLAIN
    },
    Case {
        // Beside where r sin φ > 25 − 10: 180° − 2 arcsin(15 / 21.2).
        name: "past a face, saw, zero turned",
        link: "v=1&kind=rectangular&width=50&height=50&corner=5&branch=42.4&wall=2.6&angle=75&offset=-10&cut=saw&turn=30",
        mains: &[Lies {
            angle: 75.0,
            offset: -10.0,
            ..section(50.0, 50.0, 5.0, 0.0)
        }],
        heel: 30.0,
        beside: 89.928_6,
        ..PLAIN
    },
    Case {
        // Some of the wall sits where its bore does: beside where 18.15 sin φ > 30 + 1.5 − 18.
        name: "past a sharp face, square, root gap",
        link: "v=1&kind=rectangular&width=60&height=30&corner=0&branch=48.3&wall=6&angle=60&offset=18&cut=square&gap=1.5",
        branch: [48.3, 6.0],
        mains: &[Lies {
            angle: 60.0,
            offset: 18.0,
            ..section(60.0, 30.0, 0.0, 0.0)
        }],
        seat: Seat::Wall,
        gap: 1.5,
        beside: 83.887_5,
        ..PLAIN
    },
    Case {
        name: "sharp corner turned 20, bore edge",
        link: "v=1&kind=rectangular&width=70&height=50&corner=0&roll=20&branch=42.4&wall=6&angle=50&offset=6&cut=bore",
        branch: [42.4, 6.0],
        mains: &[Lies {
            angle: 50.0,
            offset: 6.0,
            ..section(70.0, 50.0, 0.0, 20.0)
        }],
        seat: Seat::Bore,
        ..PLAIN
    },
    Case {
        name: "turned back 30, square, root gap",
        link: "v=1&kind=rectangular&width=80&height=40&mainwall=8&roll=-30&branch=42.4&wall=4&angle=45&offset=-8&cut=square&gap=2&turn=200",
        branch: [42.4, 4.0],
        mains: &[Lies {
            angle: 45.0,
            offset: -8.0,
            ..section(80.0, 40.0, 20.0, -30.0)
        }],
        seat: Seat::Wall,
        gap: 2.0,
        heel: 200.0,
        ..PLAIN
    },
];

#[test]
fn strips_fit_rectangular_mains() {
    check("rectangular", &CASES);
}
