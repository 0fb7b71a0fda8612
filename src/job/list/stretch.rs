//! The form of a piece made longer or shorter.

use crate::job::list::number::added;
use crate::job::{BendField, PieceField, PieceForm};
use crate::piece::Side;
use crate::units::read_length;

/// Why a form cannot be stretched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StraightProblem {
    /// The number at fault; none when it is the amount.
    pub field: Option<PieceField>,
    /// What is wrong, and what to do.
    pub sentence: String,
}

/// The form with a straight (counted from 0; a straight piece has only that one) longer by an
/// amount as typed, shorter where it is below 0, as [`crate::piece::Piece::stretched`] is the
/// piece. The number keeps its unit, and stays a fraction where the amount is one.
///
/// # Errors
/// An amount or a straight that is no length, a straight that is not there. Whether the stretched
/// piece can be made is told by reading it.
pub fn stretched_form(
    form: &PieceForm,
    straight: usize,
    by: &str,
) -> Result<PieceForm, StraightProblem> {
    let unit = form.end(Side::A).unit;
    let by = read_length(by, unit).map_err(|error| StraightProblem {
        field: None,
        sentence: error.to_string(),
    })?;
    let field = match straight.checked_sub(1) {
        None => PieceField::Length,
        Some(bend) if bend < form.bends() => PieceField::Bend(bend, BendField::Straight),
        Some(_) => {
            let (number, count) = (straight + 1, form.bends() + 1);
            let sentence = format!("There is no straight {number} on this piece; it has {count}.");
            return Err(StraightProblem {
                field: None,
                sentence,
            });
        }
    };
    let text = added(form.text(field), by, unit).map_err(|error| StraightProblem {
        field: Some(field),
        sentence: error.to_string(),
    })?;
    Ok(form.clone().with_text(field, text))
}
