//! A piece in one line, for a list.

use crate::job::{EndKind, Field, PieceField, PieceForm};
use crate::piece::Side;

/// A piece in one line, from what is typed: its tube, its length, how many. Nothing is computed,
/// so that a list of hundreds is quick; numbers that cannot be used are shown as they are.
#[must_use]
pub fn piece_line(form: &PieceForm) -> String {
    let end = form.end(Side::A);
    let text = |field| end.text(field).unwrap_or_default().trim();
    let mut line = [text(Field::Branch), " × ", text(Field::Wall)].concat();
    if form.is_whole() {
        for part in [", ", form.text(PieceField::Length).trim(), " long"] {
            line += part;
        }
        match form.bends() {
            0 => {}
            1 => line += ", 1 bend",
            many => {
                line += ", ";
                line += &many.to_string();
                line += " bends";
            }
        }
        let count = form.text(PieceField::Count).trim();
        if !matches!(count, "" | "1") {
            line += ", make ";
            line += count;
        }
    } else if form.kind(Side::A) == EndKind::Coped {
        line += ", one end";
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    #[test]
    fn a_line_says_what_is_typed() {
        let form = PieceForm::usual(Unit::Millimetre);
        assert_eq!(piece_line(&form), "42.4 × 2.6, one end");
        let form = form
            .as_whole(true)
            .with_bends(2)
            .with_text(PieceField::Length, " 512 ")
            .with_text(PieceField::Count, "3");
        assert_eq!(piece_line(&form), "42.4 × 2.6, 512 long, 2 bends, make 3");
    }
}
