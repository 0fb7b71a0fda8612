//! A branch on a bent main: from outside, inside and the side, on arc, leg and in between.

use browser_tests::fit::Seat;
use browser_tests::solid::Shape;

use crate::kinds::{Case, Lies, PLAIN, SQUARE, check};

/// Diameter, centre-line radius, bend, station and facing.
const fn bend([diameter, clr, bend, station, facing]: [f64; 5]) -> Lies {
    Lies {
        shape: Shape::Bent {
            diameter,
            clr,
            bend,
            station,
            facing,
        },
        ..SQUARE
    }
}

const CASES: [Case; 8] = [
    Case {
        name: "from outside, saw",
        link: "v=1&kind=bent&main=48.3&clr=150&bend=90&station=0&facing=180&branch=42.4&wall=2.6&angle=90&cut=saw",
        mains: &[bend([48.3, 150.0, 90.0, 0.0, 180.0])],
        ..PLAIN
    },
    Case {
        name: "from inside, square",
        link: "v=1&kind=bent&main=60.3&clr=180&bend=60&station=20&facing=0&branch=42.4&wall=2.6&angle=65&offset=6&cut=square",
        mains: &[Lies {
            angle: 65.0,
            offset: 6.0,
            ..bend([60.3, 180.0, 60.0, 20.0, 0.0])
        }],
        seat: Seat::Wall,
        ..PLAIN
    },
    Case {
        name: "from the side, bore edge",
        link: "v=1&kind=bent&main=60.3&clr=120&bend=90&station=-15&facing=90&branch=48.3&wall=5&angle=75&cut=bore",
        branch: [48.3, 5.0],
        mains: &[Lies {
            angle: 75.0,
            ..bend([60.3, 120.0, 90.0, -15.0, 90.0])
        }],
        seat: Seat::Bore,
        ..PLAIN
    },
    Case {
        // Half the arc is 117.81 long; the branch reaches 25 and more to both sides.
        name: "on the leg, square, root gap",
        link: "v=1&kind=bent&main=60.3&clr=150&bend=90&station=190&facing=40&branch=42.4&wall=2.6&angle=80&offset=-7&cut=square&gap=2",
        mains: &[Lies {
            angle: 80.0,
            offset: -7.0,
            ..bend([60.3, 150.0, 90.0, 190.0, 40.0])
        }],
        seat: Seat::Wall,
        gap: 2.0,
        ..PLAIN
    },
    Case {
        name: "across the tangent point, saw, zero turned",
        link: "v=1&kind=bent&main=60.3&clr=150&bend=90&station=115&facing=180&branch=42.4&wall=2.6&angle=70&cut=saw&turn=75",
        mains: &[Lies {
            angle: 70.0,
            ..bend([60.3, 150.0, 90.0, 115.0, 180.0])
        }],
        heel: 75.0,
        ..PLAIN
    },
    Case {
        name: "across the other tangent point, root gap",
        link: "v=1&kind=bent&main=60.3&clr=150&bend=90&station=-122&facing=-60&branch=42.4&wall=2.6&angle=60&offset=4&cut=saw&gap=1.6",
        mains: &[Lies {
            angle: 60.0,
            offset: 4.0,
            ..bend([60.3, 150.0, 90.0, -122.0, -60.0])
        }],
        gap: 1.6,
        ..PLAIN
    },
    Case {
        name: "equal diameters, saw",
        link: "v=1&kind=bent&main=48.3&clr=120&bend=90&station=10&facing=30&branch=48.3&wall=3.2&angle=90&cut=saw",
        branch: [48.3, 3.2],
        mains: &[bend([48.3, 120.0, 90.0, 10.0, 30.0])],
        ..PLAIN
    },
    Case {
        name: "tight return bend, bore edge, gap, zero back",
        link: "v=1&kind=bent&main=60.3&clr=70&bend=180&station=30&facing=135&branch=33.7&wall=5&angle=70&offset=12&cut=bore&gap=1&turn=-100",
        branch: [33.7, 5.0],
        mains: &[Lies {
            angle: 70.0,
            offset: 12.0,
            ..bend([60.3, 70.0, 180.0, 30.0, 135.0])
        }],
        seat: Seat::Bore,
        gap: 1.0,
        heel: -100.0,
        ..PLAIN
    },
];

#[test]
fn strips_fit_bent_mains() {
    check("bent", &CASES);
}
