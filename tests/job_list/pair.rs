//! Left and right as typed.

use copewright::job::list::{Job, mirrored_form};
use copewright::job::{BendField, Field, MainField, PieceField};
use copewright::piece::{Likeness, Side, likeness};
use copewright::units::Angle;
use proptest::prelude::*;

use crate::any::any_form;
use crate::{made, of};

#[test]
fn a_partner_is_typed_as_one_would_type_it() {
    let form = of(
        "v=1&unit=in/16&branch=1%201/2&wall=.065&main=1%203/4&angle=60&offset=10-5/8&turn=30&label=brace&piece=yes&bends=1&bendangle1=45&bendradius1=4&outside1=-90&straight1=20&length=20&b-main=2&b-offset=-1/8&b-turn=180&b-mains=2&b-about2=90&b-shift2=1/4&b-kind2=rectangular&b-roll2=15",
    );
    let (job, id) = Job::of_form(form).with_partner(1);
    assert_eq!(job.name_at(0), "brace, left");
    assert_eq!(job.name_at(1), "brace, right");
    let other = job.piece(id).unwrap().form();
    let (a, b) = (other.end(Side::A), other.end(Side::B));
    assert_eq!(a.text(Field::OFFSET), Some("-10-5/8"));
    assert_eq!(a.text(Field::Turn), Some("-30"));
    assert_eq!(b.text(Field::OFFSET), Some("1/8"));
    assert_eq!(b.text(Field::Turn), Some("180"));
    let second = |field| b.text(Field::OfMain(1, field)).unwrap().to_owned();
    assert_eq!(second(MainField::About), "-90");
    assert_eq!(second(MainField::Roll), "-15");
    assert_eq!(second(MainField::Shift), "1/4");
    let outside = PieceField::Bend(0, BendField::Outside);
    assert_eq!(other.text(outside), "90");
    // The partner of the partner is the piece again, under its own label.
    let (job, back) = job.with_partner(id);
    let (first, back) = (&job.pieces()[0], job.piece(back).unwrap());
    assert_eq!(back.form(), first.form());
    assert_eq!(job.pieces().len(), 3);
}

#[test]
fn a_piece_without_a_label_gets_one_with_its_side() {
    let form = of("v=1&unit=mm&angle=60&offset=4");
    let (job, id) = Job::of_form(form.clone()).with_added(None, form);
    let (job, other) = job.with_partner(id);
    assert_eq!(job.name_of(id), "piece 2, left");
    assert_eq!(job.name_of(other), "piece 2, right");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// The mirrored form reads as the mirrored piece.
    #[test]
    fn the_mirrored_form_is_the_form_of_the_mirrored_piece(form in any_form()) {
        let Ok(own) = made(&form) else {
            // Ends that miss, and legs that run along the branch, are refused on both hands.
            prop_assert!(made(&mirrored_form(&form)).is_err());
            return Ok(());
        };
        let other = made(&mirrored_form(&form));
        prop_assert!(other.is_ok(), "{:?}", other.unwrap_err());
        let (other, mirrored) = (other.unwrap().piece, own.piece.mirrored().unwrap());
        prop_assert_eq!(other.check_sum(), own.piece.check_sum());
        let near = |a: Angle, b: Angle| {
            let apart = (a - b).rad();
            apart.sin().abs() < 1e-9 && apart.cos() > 0.0
        };
        for side in Side::BOTH {
            prop_assert_eq!(other.grip(side), mirrored.grip(side));
            match (other.end(side).template(), mirrored.end(side).template()) {
                (Some(one), Some(same)) => {
                    prop_assert_eq!(likeness(one, same), Likeness::Same);
                    prop_assert!(near(one.heel_turn(), same.heel_turn()));
                }
                (one, same) => prop_assert_eq!(one.is_some(), same.is_some()),
            }
        }
        let apart = other.lengths().blank - mirrored.lengths().blank;
        prop_assert!(apart.abs().mm() < 1e-5);
        for (one, same) in other.line().bends().zip(mirrored.line().bends()) {
            prop_assert!(near(one.outside(), same.outside()));
            prop_assert_eq!(one.angle(), same.angle());
        }
        // And back again.
        prop_assert_eq!(made(&mirrored_form(&mirrored_form(&form))).unwrap().piece, own.piece);
    }
}
