//! The form of the other one of a left and right pair.

use crate::job::list::number::{other_sign, other_turn};
use crate::job::{BendField, Field, MainField, PieceField, PieceForm, Typed};
use crate::piece::Side;

/// The form of a piece in a mirror that holds the tube's axis and the zero line, as
/// [`crate::piece::Piece::mirrored`] is the piece: offsets, turns of heels, mains, sections and
/// bends have the other sign, in the style they were typed in. What cannot be read stays.
///
/// The label stays as well; [`crate::job::list::Job::with_partner`] names both sides.
#[must_use]
pub fn mirrored_form(form: &PieceForm) -> PieceForm {
    let mut other = form.clone();
    for side in Side::BOTH {
        // End B's turn counts from end A's heel, and so changes its sign by itself.
        other = other.with_end(side, mirrored_end(form.end(side)));
    }
    for bend in 0..form.bends() {
        let field = PieceField::Bend(bend, BendField::Outside);
        let text = other_turn(form.text(field));
        other = other.with_text(field, text);
    }
    other
}

fn mirrored_end(end: Typed) -> Typed {
    let unit = end.unit;
    // Numbers of other kinds of main, too: they belong to the same joint.
    Field::all().fold(end, |end, field| {
        let Some(text) = end.text(field) else {
            return end;
        };
        let mirrored = match field {
            Field::OfMain(_, MainField::Offset) => other_sign(text, unit),
            Field::OfMain(_, MainField::About | MainField::Roll | MainField::Facing)
            | Field::Turn => other_turn(text),
            _ => return end,
        };
        end.with_text(field, mirrored)
    })
}
