//! A branch on several mains at once.

use browser_tests::fit::Seat;
use browser_tests::solid::Shape;

use crate::kinds::{Case, Lies, PLAIN, SQUARE, check};

const fn round(diameter: f64) -> Lies {
    Lies {
        shape: Shape::Round(diameter),
        ..SQUARE
    }
}

const CASES: [Case; 6] = [
    Case {
        name: "chord and the brace already on it, saw",
        link: "v=1&mains=2&main=60.3&angle=60&branch=42.4&wall=2.6&cut=saw&main2=42.4&angle2=30&about2=180&offset2=5&shift2=6",
        mains: &[
            Lies {
                angle: 60.0,
                ..round(60.3)
            },
            Lies {
                angle: 30.0,
                offset: 5.0,
                about: 180.0,
                shift: 6.0,
                ..round(42.4)
            },
        ],
        ..PLAIN
    },
    Case {
        name: "chord and gusset plate, square, gap",
        link: "v=1&mains=2&main=60.3&angle=75&offset=-6&branch=42.4&wall=4&cut=square&gap=1.6&kind2=plate&angle2=35&about2=120&shift2=18",
        branch: [42.4, 4.0],
        mains: &[
            Lies {
                angle: 75.0,
                offset: -6.0,
                ..round(60.3)
            },
            Lies {
                shape: Shape::Plate,
                angle: 35.0,
                about: 120.0,
                shift: 18.0,
                ..SQUARE
            },
        ],
        seat: Seat::Wall,
        gap: 1.6,
        ..PLAIN
    },
    Case {
        name: "box and a tube on top, zero turned",
        link: "v=1&mains=2&kind=rectangular&width=80&height=60&corner=6&angle=90&branch=48.3&wall=3.2&cut=saw&turn=40&main2=33.7&angle2=90&about2=70&offset2=-14&shift2=40",
        branch: [48.3, 3.2],
        mains: &[
            Lies {
                shape: Shape::Rectangular {
                    width: 80.0,
                    height: 60.0,
                    corner: 6.0,
                    roll: 0.0,
                },
                ..SQUARE
            },
            Lies {
                offset: -14.0,
                about: 70.0,
                shift: 40.0,
                ..round(33.7)
            },
        ],
        heel: 40.0,
        ..PLAIN
    },
    Case {
        name: "plate, box and tube, bore edge, zero back",
        link: "v=1&mains=3&kind=plate&angle=80&branch=60.3&wall=6.3&cut=bore&turn=-55&kind2=rectangular&width2=40&height2=30&corner2=0&roll2=15&angle2=85&about2=30&offset2=-20&shift2=8&main3=26.9&angle3=70&about3=200&offset3=-16&shift3=4",
        branch: [60.3, 6.3],
        mains: &[
            Lies {
                angle: 80.0,
                ..SQUARE
            },
            Lies {
                shape: Shape::Rectangular {
                    width: 40.0,
                    height: 30.0,
                    corner: 0.0,
                    roll: 15.0,
                },
                angle: 85.0,
                offset: -20.0,
                about: 30.0,
                shift: 8.0,
            },
            Lies {
                angle: 70.0,
                offset: -16.0,
                about: 200.0,
                shift: 4.0,
                ..round(26.9)
            },
        ],
        seat: Seat::Bore,
        heel: -55.0,
        ..PLAIN
    },
    Case {
        name: "tube, plate and bend, saw, root gap",
        link: "v=1&mains=3&main=76.1&angle=70&offset=5&branch=42.4&wall=2.6&cut=saw&gap=1.2&kind2=plate&angle2=40&about2=-60&shift2=22&kind3=bent&main3=48.3&clr3=110&bend3=90&station3=30&facing3=60&angle3=80&about3=150&offset3=10&shift3=24",
        mains: &[
            Lies {
                angle: 70.0,
                offset: 5.0,
                ..round(76.1)
            },
            Lies {
                shape: Shape::Plate,
                angle: 40.0,
                about: -60.0,
                shift: 22.0,
                ..SQUARE
            },
            Lies {
                shape: Shape::Bent {
                    diameter: 48.3,
                    clr: 110.0,
                    bend: 90.0,
                    station: 30.0,
                    facing: 60.0,
                },
                angle: 80.0,
                offset: 10.0,
                about: 150.0,
                shift: 24.0,
            },
        ],
        gap: 1.2,
        ..PLAIN
    },
    Case {
        name: "three tubes, square",
        link: "v=1&mains=3&main=60.3&angle=90&branch=48.3&wall=5&cut=square&main2=48.3&angle2=45&about2=90&offset2=8&shift2=-10&main3=33.7&angle3=35&about3=250&offset3=-4&shift3=12",
        branch: [48.3, 5.0],
        mains: &[
            round(60.3),
            Lies {
                angle: 45.0,
                offset: 8.0,
                about: 90.0,
                shift: -10.0,
                ..round(48.3)
            },
            Lies {
                angle: 35.0,
                offset: -4.0,
                about: 250.0,
                shift: 12.0,
                ..round(33.7)
            },
        ],
        seat: Seat::Wall,
        ..PLAIN
    },
];

#[test]
fn strips_fit_several_mains() {
    check("several mains", &CASES);
}
