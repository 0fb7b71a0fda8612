//! Stretching as typed.

use copewright::job::PieceField;
use copewright::job::list::stretched_form;
use copewright::piece::Side;
use copewright::units::{read_length, write_decimal};
use proptest::prelude::*;

use crate::any::any_form;
use crate::{made, of};

#[test]
fn refusals_name_their_number() {
    let form =
        of("v=1&unit=mm&piece=yes&length=x&bends=1&straight1=300&bendangle1=90&bendradius1=120");
    let refused = stretched_form(&form, 0, "5").unwrap_err();
    assert_eq!(refused.field, Some(PieceField::Length));
    assert_eq!(stretched_form(&form, 1, "5 lb").unwrap_err().field, None);
    let none = stretched_form(&form, 2, "5").unwrap_err();
    assert_eq!(
        none.sentence,
        "There is no straight 3 on this piece; it has 2."
    );
    let longer = stretched_form(&form, 1, "1 in").unwrap();
    assert_eq!(
        longer.text(PieceField::Bend(0, copewright::job::BendField::Straight)),
        "325.4"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// The stretched form reads as the stretched piece.
    #[test]
    fn the_stretched_form_is_the_form_of_the_stretched_piece(
        form in any_form(),
        straight in 0..3_usize,
        by in -150.0..150.0_f64,
        inches in any::<bool>(),
    ) {
        let by = if inches {
            format!("{}/16 in", (by / 25.4 * 16.0).round())
        } else {
            format!("{} mm", write_decimal(by, 2))
        };
        let unit = form.end(Side::A).unit;
        let amount = read_length(&by, unit).unwrap();
        let Ok(own) = made(&form) else { return Ok(()) };
        let Ok(longer) = stretched_form(&form, straight, &by) else {
            prop_assert!(straight > form.bends());
            return Ok(());
        };
        let stretched = own.piece.stretched(straight, amount);
        match (made(&longer), stretched) {
            (Ok(read), Ok(stretch)) => {
                let pairs = read.piece.line().straights().into_iter().zip(stretch.after.line().straights());
                for (one, same) in pairs {
                    prop_assert!((one - same).abs().mm() < 2e-6, "{:?} {:?} {}", one, same, by);
                }
                for side in Side::BOTH {
                    prop_assert_eq!(read.piece.end(side), stretch.after.end(side));
                    prop_assert_eq!(read.piece.grip(side), stretch.after.grip(side));
                }
            }
            (read, stretched) => prop_assert_eq!(read.is_ok(), stretched.is_ok()),
        }
    }
}
