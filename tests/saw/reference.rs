//! Depths and straight cuts against the Open CASCADE kernel; `tests/reference/README.md` says how
//! the data was made.

use copewright::cope::saw::{Blank, PreCut, PreCutter, reach};
use copewright::joint::Joint;
use copewright::units::Length;
use serde::Deserialize;

use crate::{deg, mm, round};

/// Allowed for a depth, mm: the kernel's two roads agree to 1.2e-7 mm, of which 1e-7 is the margin of
/// its boxes; ten times that.
const DEPTH: f64 = 1e-6;
/// Allowed for where a straight cut touches, mm: the roads agree to 2.1e-7 mm, and ours keeps 1e-6
/// below what it found.
const ROOM: f64 = 2e-6;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    family: String,
    outside: f64,
    bore: f64,
    main: f64,
    angle_deg: f64,
    offset: f64,
    gap: f64,
    saw: f64,
    end: f64,
    cut: Cut,
    square: Depths,
    after: Depths,
}

#[derive(Deserialize)]
struct Cut {
    off_square_deg: f64,
    towards_deg: f64,
    room: f64,
    centre: f64,
}

#[derive(Deserialize, Debug)]
struct Depths {
    nearest: f64,
    first: f64,
    clear: f64,
}

impl Depths {
    fn off(&self, joint: &Joint, saw: Length, blank: &Blank) -> f64 {
        let ours = reach(joint, saw, blank).unwrap();
        [
            ours.nearest.mm() - self.nearest,
            ours.first.mm() - self.first,
            ours.clear.mm() - self.clear,
        ]
        .into_iter()
        .fold(0.0, |worst: f64, off| worst.max(off.abs()))
    }
}

fn cases() -> Vec<Case> {
    let reference: Reference = serde_json::from_str(include_str!("../reference/saw.json")).unwrap();
    assert!(reference.cases.len() >= 100, "{}", reference.cases.len());
    reference.cases
}

fn cope(case: &Case) -> copewright::cope::Cope {
    let sizes = [
        2.0 * case.outside,
        case.outside - case.bore,
        2.0 * case.main,
    ];
    round(sizes, case.angle_deg, case.offset, case.gap)
}

#[test]
fn depths_are_those_of_the_kernel_before_and_after_a_straight_cut() {
    for (number, case) in cases().iter().enumerate() {
        let cope = cope(case);
        let saw = mm(2.0 * case.saw);
        let square = Blank {
            end: mm(case.end),
            pre_cut: None,
        };
        let after = square.after(PreCut {
            off_square: deg(case.cut.off_square_deg),
            towards: deg(case.cut.towards_deg),
            centre: mm(case.cut.centre),
        });
        for (depths, blank) in [(&case.square, &square), (&case.after, &after)] {
            let off = depths.off(cope.joint(), saw, blank);
            assert!(
                off < DEPTH,
                "case {number}, {}: off by {off:e} mm\n{:?}\n{depths:?}",
                case.family,
                reach(cope.joint(), saw, blank),
            );
        }
    }
}

#[test]
fn a_straight_cut_goes_to_where_the_kernel_says_it_touches() {
    for (number, case) in cases().iter().enumerate() {
        let cope = cope(case);
        let cutter = PreCutter::new(&cope, mm(0.0));
        let cut = cutter.deepest(deg(case.cut.off_square_deg), deg(case.cut.towards_deg));
        // Never through the finished end, and no lower than it must be.
        let short = case.cut.room - cut.centre.mm();
        assert!(
            short.abs() < ROOM,
            "case {number}, {}: {short:e}",
            case.family
        );
    }
}
