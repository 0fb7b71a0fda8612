//! What cannot be planned, in words.

use copewright::job::shop::{
    Cut, CutListError, CutNotes, PIECES_MAX, RunListError, Saw, Setting, cut_list, run_list,
};
use copewright::piece::Side;
use copewright::units::{Angle, Denominator, Unit};

use super::{blanks, loss, mm, stock};

fn refused(
    lengths: &[(f64, usize)],
    there: &[(f64, Option<usize>)],
    kerf: f64,
    trim: f64,
) -> CutListError {
    cut_list(&blanks(lengths), &stock(there), loss(kerf, trim)).unwrap_err()
}

#[test]
fn a_blank_longer_than_the_stock_says_by_how_much() {
    let error = refused(&[(400.0, 1), (3000.0, 1)], &[(3000.0, None)], 3.0, 10.0);
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "“piece 2”, of 3000 mm, is 10 mm longer than what the longest bar gives, 2990 mm after \
         10 mm of end trim. Take stock of at least 3010 mm, or make the piece of two."
    );
    // The longer bar is not there.
    let there = [(1000.0, None), (6000.0, Some(0))];
    let error = refused(&[(25.4 * 40.0, 1)], &there, 3.0, 0.0);
    assert_eq!(
        error.sentence(Unit::Fraction(Denominator::Sixteenth)),
        "“piece 1”, of 40\", is 5/8 + 0.005 in longer than what the longest bar gives, \
         39 3/8 − 0.005 in. Take stock of at least 40\", or make the piece of two."
    );
    let error = refused(&[(40.0, 1)], &[(100.0, None)], 3.0, 100.0);
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "“piece 1”, of 40 mm, comes from no bar, of which nothing is left after 100 mm of end \
         trim. Take stock of at least 140 mm, or make the piece of two."
    );
}

#[test]
fn too_little_stock_says_what_is_missing() {
    let error = refused(&[(500.0, 5)], &[(1003.0, Some(2))], 3.0, 0.0);
    // Five times 503 mm against two times 1006 mm.
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "The stock there is falls 503 mm short of all 5 pieces with their saw cuts. Get more \
         bars, or cut fewer pieces."
    );
    let error = refused(&[(700.0, 3)], &[(1300.0, Some(2))], 0.0, 0.0);
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "There is no way to cut all 3 pieces from the stock there is: 1 of them, the longest \
         700 mm, found no place. Get another bar that takes it."
    );
    let error = refused(&[(700.0, 3)], &[], 0.0, 0.0);
    assert_eq!(error, CutListError::NoStock { pieces: 3 });
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "There is no stock to cut all 3 pieces from. Type a stock length and how many bars there \
         are."
    );
}

#[test]
fn sizes_out_of_range_are_named() {
    let bar = [(3000.0, None)];
    let one = [(500.0, 1)];
    for wrong in [-0.1, 10.1, f64::NAN, f64::INFINITY] {
        let error = refused(&one, &bar, wrong, 0.0);
        assert!(matches!(error, CutListError::Kerf { .. }), "{error:?}");
        assert!(
            error.sentence(Unit::Millimetre).contains("0 mm to 10 mm")
                || error.sentence(Unit::Millimetre).contains("0 to 10 mm")
        );
    }
    for wrong in [-1.0, 501.0, f64::NAN] {
        let error = refused(&one, &bar, 3.0, wrong);
        assert!(matches!(error, CutListError::Trim { .. }), "{error:?}");
    }
    for wrong in [9.9, -3000.0, 1e6, f64::NAN, f64::INFINITY] {
        let error = refused(&one, &[(3000.0, None), (wrong, None)], 3.0, 0.0);
        assert!(
            matches!(error, CutListError::Stock { stock: 1, .. }),
            "{error:?}"
        );
    }
    for wrong in [0.0, -5.0, 0.9, f64::NAN, f64::INFINITY] {
        let error = refused(&[(500.0, 1), (wrong, 1)], &bar, 3.0, 0.0);
        assert!(
            matches!(error, CutListError::Blank { blank: 1, .. }),
            "{error:?}"
        );
    }
    for many in [PIECES_MAX, usize::MAX] {
        let error = refused(&[(500.0, 1), (400.0, many)], &bar, 3.0, 0.0);
        assert!(matches!(error, CutListError::Pieces { .. }), "{error:?}");
    }
    assert_eq!(
        refused(&[(500.0, PIECES_MAX + 2)], &bar, 3.0, 0.0).sentence(Unit::Millimetre),
        "5002 pieces are too many for one cut list, which takes 5000. Leave out 2 of them."
    );
}

#[test]
fn a_cut_that_no_machine_can_be_set_to_is_named() {
    let cut = |saw, off_square: f64| Cut {
        piece: String::from("brace"),
        end: Side::B,
        saw,
        setting: Setting {
            off_square: Some(Angle::from_deg(off_square)),
            ..Setting::default()
        },
        count: 1,
        notes: CutNotes::default(),
    };
    let good = cut(Saw::Hole(mm(48.0)), 30.0);
    let error = run_list(&[good.clone(), cut(Saw::Grinder, f64::NAN)]).unwrap_err();
    assert_eq!(
        error.sentence(),
        "For end B of “brace” the angle off square cannot be set on any machine. Check the \
         numbers of that end."
    );
    for wrong in [0.0, -48.0, f64::NAN, f64::INFINITY] {
        let error = run_list(&[cut(Saw::Hole(mm(wrong)), 30.0)]).unwrap_err();
        assert!(error.sentence().contains("the saw"), "{error:?}");
    }
    let error = run_list(&vec![good; 5001]).unwrap_err();
    assert_eq!(error, RunListError::Cuts { are: 5001 });
}
