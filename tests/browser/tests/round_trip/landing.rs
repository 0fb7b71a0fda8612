//! The paper for the main: taken off the print, put round the main in space, its lines must lie on
//! the branch.

use browser_tests::patch::Patch;
use browser_tests::pdf::Point;
use browser_tests::printed::Sheet;
use browser_tests::solid::{Placed, Shape};

use crate::{FITS, MISFITS, printed};

/// A link, and the main whose paper is put on, lengths in mm and angles in degrees.
struct Case {
    name: &'static str,
    link: &'static str,
    /// Outside and bore of the branch.
    branch: [f64; 2],
    /// Turn of the heel of main 1 from the branch's zero line.
    heel: f64,
    /// Which main's paper, counted from 1.
    main: usize,
    shape: Shape,
    angle: f64,
    offset: f64,
    about: f64,
    shift: f64,
    /// Thickness of the paper.
    paper: f64,
    /// Whether the bore is all over the main, so that a hole can be cut.
    hole: bool,
}

const PLAIN: Case = Case {
    name: "",
    link: "",
    branch: [42.4, 37.2],
    heel: 0.0,
    main: 1,
    shape: Shape::Plate,
    angle: 60.0,
    offset: 0.0,
    about: 0.0,
    shift: 0.0,
    paper: 0.1,
    hole: true,
};

const CASES: [Case; 7] = [
    Case {
        name: "round, zero turned, offset",
        link: "v=1&main=60.3&branch=42.4&wall=2.6&angle=60&offset=6&turn=30&landing=yes",
        shape: Shape::Round(60.3),
        heel: 30.0,
        offset: 6.0,
        ..PLAIN
    },
    Case {
        name: "round, wider branch, from the main's end, thick paper",
        link: "v=1&main=42.4&branch=60.3&wall=4&angle=50&offset=-5&template=0.8&end=400&landing=yes",
        branch: [60.3, 52.3],
        shape: Shape::Round(42.4),
        angle: 50.0,
        offset: -5.0,
        paper: 0.8,
        hole: false,
        ..PLAIN
    },
    Case {
        name: "plate, zero turned",
        link: "v=1&kind=plate&branch=42.4&wall=2.6&angle=35&turn=250&landing=yes",
        angle: 35.0,
        heel: 250.0,
        ..PLAIN
    },
    Case {
        name: "rectangular, over a corner",
        link: "v=1&kind=rectangular&width=60&height=40&mainwall=3&branch=42.4&wall=2.6&angle=60&offset=7&landing=yes",
        shape: Shape::Rectangular {
            width: 60.0,
            height: 40.0,
            corner: 6.0,
            roll: 0.0,
        },
        offset: 7.0,
        ..PLAIN
    },
    Case {
        name: "square, corner up",
        link: "v=1&kind=rectangular&width=50&height=50&mainwall=4&roll=45&branch=42.4&wall=2.6&angle=70&offset=-5&landing=yes",
        shape: Shape::Rectangular {
            width: 50.0,
            height: 50.0,
            corner: 8.0,
            roll: 45.0,
        },
        angle: 70.0,
        offset: -5.0,
        ..PLAIN
    },
    Case {
        name: "second of two mains",
        link: "v=1&mains=2&main=48.3&angle=60&branch=42.4&wall=2.6&main2=48.3&angle2=40&about2=170&offset2=4&shift2=2&landing=yes",
        main: 2,
        shape: Shape::Round(48.3),
        angle: 40.0,
        offset: 4.0,
        about: 170.0,
        shift: 2.0,
        hole: false,
        ..PLAIN
    },
    Case {
        name: "large, on several sheets, one of them",
        link: "v=1&main=273&branch=114.3&wall=5&angle=80&offset=30&landing=yes",
        branch: [114.3, 104.3],
        shape: Shape::Round(273.0),
        angle: 80.0,
        offset: 30.0,
        ..PLAIN
    },
];

/// Right and up of the place under a point of the paper, `around` from the zero line, for someone
/// who looks along the main from the heel's end.
fn on_section(shape: Shape, around: f64, paper: f64) -> (f64, f64) {
    match shape {
        Shape::Round(diameter) => {
            let (sin, cos) = (around / (diameter / 2.0 + paper / 2.0)).sin_cos();
            (diameter / 2.0 * sin, diameter / 2.0 * cos)
        }
        Shape::Rectangular {
            width,
            height,
            corner,
            roll,
        } => {
            // From the middle of the face that looks up, over one corner, onto the next face.
            let face = width / 2.0 - corner;
            let arc = corner + paper / 2.0;
            let past = around.abs() - face;
            let (aside, down) = if past <= 0.0 {
                (around.abs(), 0.0)
            } else {
                let turn = (past / arc).min(std::f64::consts::FRAC_PI_2);
                let rest = past - turn * arc;
                (
                    face + corner * turn.sin(),
                    corner * (1.0 - turn.cos()) + rest,
                )
            };
            let (right, up) = (aside * around.signum(), height / 2.0 - down);
            let (sin, cos) = roll.to_radians().sin_cos();
            (right * cos - up * sin, right * sin + up * cos)
        }
        _ => (around, 0.0),
    }
}

impl Case {
    fn placed(&self) -> Placed {
        let (sin, cos) = self.about.to_radians().sin_cos();
        let through = [-self.offset * sin, self.offset * cos, self.shift];
        Placed::new(
            self.shape,
            through,
            [0.0, 0.0, 1.0],
            [cos, sin, 0.0],
            self.angle,
        )
    }

    /// Where a point of the paper is in space: the branch runs up from the joint centre, the heel of
    /// main 1 towards x.
    fn in_space(&self, placed: &Placed, [along, around]: Point) -> [f64; 3] {
        let (right, up) = on_section(self.shape, around, self.paper);
        [0, 1, 2].map(|i| {
            placed.through[i] + placed.axis[i] * along + placed.right[i] * right + placed.up[i] * up
        })
    }

    /// Farthest that any line lies off the branch; chords are looked at all along.
    fn worst(&self, patch: &Patch) -> f64 {
        let placed = self.placed();
        let mut worst = 0.0_f64;
        for (lines, diameter) in [
            (&patch.outline, self.branch[0]),
            (&patch.hole, self.branch[1]),
        ] {
            for line in lines {
                for pair in line.windows(2) {
                    for part in [0.0, 0.25, 0.5, 0.75, 1.0] {
                        let at = [0, 1].map(|i| pair[0][i] + (pair[1][i] - pair[0][i]) * part);
                        let [x, y, z] = self.in_space(&placed, at);
                        assert!(
                            placed.distance([x, y, z]).abs() < 1e-6,
                            "paper off the main"
                        );
                        worst = worst.max((x.hypot(y) - diameter / 2.0).abs());
                    }
                }
            }
        }
        worst
    }

    /// Farthest that a tick lies from its line on the branch, mm.
    fn ticks(&self, patch: &Patch) -> f64 {
        let placed = self.placed();
        patch.ticks.iter().fold(0.0, |worst: f64, (at, turn)| {
            let [x, y, _] = self.in_space(&placed, *at);
            let (sin, cos) = (turn - self.heel).to_radians().sin_cos();
            let radius = self.branch[0] / 2.0;
            worst.max((x - radius * cos).hypot(y - radius * sin))
        })
    }
}

#[test]
fn papers_for_the_main_lie_where_the_branch_lands() {
    let prints = printed(CASES.iter().map(|case| case.link));
    let mut worst = 0.0_f64;
    for (case, pdf) in CASES.iter().zip(&prints) {
        let name = case.name;
        let title = if case.link.contains("mains=2") {
            format!("emplate for main {}", case.main)
        } else {
            String::from("emplate for the main")
        };
        let sheets: Vec<Sheet> = pdf.pages.iter().map(Sheet::new).collect();
        let sheet = sheets
            .iter()
            .find(|sheet| {
                sheet.words().contains(&title) && sheet.fact("Zero line of the main").is_some()
            })
            .unwrap_or_else(|| panic!("{name}: no paper for the main"));
        let patch = Patch::new(sheet);
        let points: usize = patch.outline.iter().map(Vec::len).sum();
        assert!(points > 20, "{name}: {points}");
        assert_eq!(patch.hole.len(), usize::from(case.hole), "{name}: holes");
        let off = case.worst(&patch);
        let ticks = case.ticks(&patch);
        println!(
            "{name:56} off by {off:.4}, {} ticks by {ticks:.4} mm",
            patch.ticks.len()
        );
        assert!(off <= FITS, "{name}: {off}");
        assert!(
            !patch.ticks.is_empty() && ticks <= FITS,
            "{name}: ticks {ticks}"
        );
        worst = worst.max(off);
        let mirrored = patch.mirrored();
        let turned = case.heel != 0.0;
        if case.offset != 0.0 {
            assert!(case.worst(&mirrored) > MISFITS, "{name} fits mirrored");
        }
        if turned || case.offset != 0.0 {
            assert!(
                case.ticks(&mirrored) > MISFITS,
                "{name}: ticks fit mirrored"
            );
        }
    }
    println!(
        "papers for the main: {} joints, off by {worst:.4} mm at most",
        CASES.len()
    );
}
