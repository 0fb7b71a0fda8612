//! Finished pieces that measure wrong.

use copewright::piece::{Checks, MarkSet, Off, PieceError, Remake, Saved, Side};
use copewright::units::{Length, Unit};
use proptest::prelude::*;

use crate::{brace, mm};

const TOLERANCE: f64 = 0.5;

fn should() -> MarkSet {
    brace().marks(mm(0.0)).finished
}

/// What is measured on a piece whose marks lie `apart` too far apart and whose cuts stand
/// `a` and `b` too far out from their marks: far A, far B, between, overall.
fn measured(apart: f64, a: f64, b: f64) -> [Length; 4] {
    let should = should();
    // From the places themselves, along the tube: mark A at 0.
    let mark_b = should.between.exact.mm() + apart;
    let end_a = -should.own[0].exact.mm() - a;
    let end_b = mark_b + should.own[1].exact.mm() + b;
    [end_b, mark_b - end_a, mark_b, end_b - end_a].map(mm)
}

/// The distances of that many picked: bit 0 far A, 1 far B, 2 between, 3 overall.
fn checks(picked: usize, all: [Length; 4]) -> Checks {
    let pick = |bit: usize| (picked & (1 << bit) != 0).then_some(all[bit]);
    Checks {
        far: [pick(0), pick(1)],
        between: pick(2),
        overall: pick(3),
    }
}

fn remake(picked: usize, all: [Length; 4]) -> Remake {
    Remake::new(&should(), &checks(picked, all), mm(TOLERANCE)).unwrap()
}

fn near(off: Off, mm: f64) -> bool {
    off.by().is_some_and(|by| (by.mm() - mm).abs() < 1e-9)
}

/// Sets of three or more.
const THREE: [usize; 5] = [0b0111, 0b1011, 0b1101, 0b1110, 0b1111];
/// Sets of two.
const TWO: [usize; 6] = [0b0011, 0b0101, 0b0110, 0b1001, 0b1010, 0b1100];

proptest! {
    #[test]
    fn three_distances_tell_everything(
        apart in -20.0..20.0_f64,
        a in -20.0..20.0_f64,
        b in -20.0..20.0_f64,
    ) {
        for picked in THREE {
            let found = remake(picked, measured(apart, a, b));
            prop_assert!(matches!(found.apart, Off::Surely(_)) && near(found.apart, apart));
            for (off, is) in found.ends.into_iter().zip([a, b]) {
                prop_assert!(matches!(off, Off::Surely(_)) && near(off, is), "{:?}", found);
            }
            let overall = apart + a + b;
            prop_assert!(near(found.overall, overall));
            match found.saved {
                Saved::AsItIs => prop_assert!(overall.abs() <= TOLERANCE + 1e-9),
                Saved::Recut { by, side } => {
                    prop_assert!((by.mm() - overall).abs() < 1e-9 && overall > TOLERANCE - 1e-9);
                    match side {
                        Some(Side::A) => prop_assert!(a > TOLERANCE && b <= TOLERANCE),
                        Some(Side::B) => prop_assert!(b > TOLERANCE && a <= TOLERANCE),
                        None => prop_assert!((a > TOLERANCE) == (b > TOLERANCE)),
                    }
                }
                Saved::Short { by, overall: left } => {
                    prop_assert!((by.mm() + overall).abs() < 1e-9);
                    prop_assert!((should().length.exact - by - left).abs() < mm(1e-9));
                }
                Saved::Unknown => prop_assert!(false),
            }
        }
    }

    #[test]
    fn two_distances_never_claim_what_they_cannot_know(
        apart in -20.0..20.0_f64,
        a in -20.0..20.0_f64,
        b in -20.0..20.0_f64,
    ) {
        for picked in TWO {
            let found = remake(picked, measured(apart, a, b));
            for (off, is) in [found.apart, found.ends[0], found.ends[1], found.overall]
                .into_iter()
                .zip([apart, a, b, apart + a + b])
            {
                if let Off::Surely(_) = off {
                    prop_assert!(near(off, is), "{picked:04b} {:?}", found);
                }
            }
        }
    }
}

#[test]
fn two_distances_find_a_single_cause() {
    for (apart, a, b) in [
        (6.0, 0.0, 0.0),
        (0.0, -4.0, 0.0),
        (0.0, 0.0, 3.0),
        (0.0, 0.0, 0.0),
    ] {
        for picked in TWO {
            let found = remake(picked, measured(apart, a, b));
            let known = [found.apart, found.ends[0], found.ends[1]];
            // Each is right or open, or both of an ambiguous pair stay open; what is called likely
            // may miss only the end that nothing was measured to.
            for (off, is) in known.into_iter().zip([apart, a, b]) {
                let unseen = match picked {
                    0b0101 => a != 0.0,
                    0b0110 => b != 0.0,
                    _ => false,
                };
                assert!(
                    off == Off::Unknown || near(off, is) || unseen,
                    "{picked:04b} {apart} {a} {b}: {found:?}"
                );
            }
        }
    }
    // Equal errors to both far ends have one cause.
    let found = remake(0b0011, measured(6.0, 0.0, 0.0));
    assert_eq!(found.apart, Off::Likely(found.apart.by().unwrap()));
    assert!(near(found.overall, 6.0));
    // Two different ones may have several.
    let found = remake(0b0011, measured(0.0, 2.0, -5.0));
    assert_eq!(found.saved, Saved::Unknown);
}

#[test]
fn what_is_off_and_what_to_do_is_said() {
    let said = |apart, a, b| remake(0b0111, measured(apart, a, b)).sentences(Unit::Millimetre);
    assert_eq!(
        said(0.0, 0.2, -0.2),
        ["The piece is as long as it should be."]
    );
    assert_eq!(
        said(0.0, 3.0, 0.0),
        [
            "Mark A is 3 mm farther from end A than its template says: the template lay off its \
             mark, or the cut is off its line.",
            "The piece is 3 mm too long. It can be saved: cut the same line again, at the same \
             turn, 3 mm further in at end A."
        ]
    );
    let overall = should().length.exact - mm(2.0);
    assert_eq!(
        said(-2.0, 0.0, 0.0),
        [
            String::from(
                "The marks are 2 mm too near together: one of them was laid off wrongly. On a \
                 piece that is cut nothing tells which."
            ),
            format!(
                "The piece is 2 mm too short and cannot be saved for this place. Make it again; \
                 this one may serve where {} overall is wanted.",
                copewright::units::write_length(overall, Unit::Millimetre)
            )
        ]
    );
    // Two distances: the simplest cause, and a word that it is that.
    let two = remake(0b0011, measured(4.0, 0.0, 0.0)).sentences(Unit::Millimetre);
    assert!(
        two[0].starts_with("The marks are 4 mm too far apart"),
        "{two:?}"
    );
    assert!(two[1].contains("measure a third"), "{two:?}");
    assert!(two[2].contains("either end"), "{two:?}");
}

#[test]
fn too_few_and_contradicting_distances_are_refused_in_words() {
    let all = measured(0.0, 0.0, 0.0);
    for picked in [0, 1, 2, 4, 8] {
        let refused = Remake::new(&should(), &checks(picked, all), mm(TOLERANCE));
        let count = usize::from(picked > 0);
        assert_eq!(refused, Err(PieceError::Checks { count }));
    }
    let mut wrong = all;
    wrong[2] += mm(7.0);
    let refused = Remake::new(&should(), &checks(0b1111, wrong), mm(TOLERANCE));
    let Err(error @ PieceError::Contradiction { .. }) = refused else {
        panic!("{refused:?}");
    };
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "These distances contradict each other by 7 mm: mark A to far end plus mark B to far end \
         less mark to mark must be the overall length. Measure all of them again."
    );
    // What a tape is off by is shared out.
    let mut slightly = measured(0.0, 3.0, 0.0);
    slightly[0] += mm(0.4);
    let found = remake(0b1111, slightly);
    assert!((found.ends[0].by().unwrap().mm() - 3.0).abs() < 0.25);
    let mut no_number = checks(0b1111, all);
    no_number.between = Some(mm(f64::NAN));
    assert!(Remake::new(&should(), &no_number, mm(TOLERANCE)).is_err());
}
