//! Changes of what is on the bench, and the way back.

use leptos::prelude::*;

use crate::app::bench::{Bench, Desk, Step};
use crate::job::{Field, History, Kept, PieceField, PieceForm, Typed};
use crate::piece::Side;
use crate::units::Unit;

impl Bench {
    /// Takes a keystroke in a field.
    pub fn typed_text(self, field: Field, text: String) {
        self.change(field, |typed| typed.with_text(field, text));
    }

    /// Changes the end that the sketch shows; changes of one field in a row are one step back.
    pub fn change(self, field: Field, by: impl FnOnce(Typed) -> Typed) {
        let side = untrack(move || self.end());
        self.change_form(Step::Field(side, field), |form| {
            let end = by(form.end(side));
            form.with_end(side, end)
        });
    }

    /// Takes a keystroke in a number of the piece.
    pub fn typed_of_piece(self, field: PieceField, text: String) {
        self.change_form(Step::Piece(Some(field)), |form| form.with_text(field, text));
    }

    /// Changes a choice about the piece: a step of its own.
    pub fn choose_piece(self, by: impl FnOnce(PieceForm) -> PieceForm) {
        self.pause();
        self.change_form(Step::Piece(None), by);
        self.pause();
    }

    pub(super) fn change_form(self, step: Step, by: impl FnOnce(PieceForm) -> PieceForm) {
        self.history.update(|history| {
            let Desk { form, kept, list } = history.now().clone();
            let form = by(form);
            let list = match (list, self.means.put_on_list) {
                (Some(list), Some(put)) => Some(put(&list, &form)),
                (list, _) => list,
            };
            history.change(Desk { form, kept, list }, step);
        });
    }

    /// Changes what is kept about printers and prints; each change is a step of its own.
    pub fn settings(self, by: impl FnOnce(&mut Kept)) {
        self.history.update(|history| {
            let mut desk = history.now().clone();
            by(&mut desk.kept);
            history.pause();
            history.change(desk, Step::Settings);
            history.pause();
        });
    }

    /// Changes what bare numbers mean.
    pub fn set_unit(self, unit: Unit) {
        self.choose_piece(|form| {
            // Nobody has seen a link or typed a number yet: the new unit's usual ones may come.
            let usual = PieceForm::usual(form.end(Side::A).unit);
            if self.fresh && form == usual {
                PieceForm::usual(unit)
            } else {
                form.in_unit(unit)
            }
        });
    }

    /// Ends a row of keystrokes.
    pub fn pause(self) {
        self.history.update_untracked(History::pause);
    }

    /// One step back.
    pub fn undo(self) {
        self.step(History::undo);
    }

    /// One step forward again.
    pub fn redo(self) {
        self.step(History::redo);
    }

    /// A step through the history; the bench shows the piece, the end and the main that it changed.
    fn step(self, by: impl FnOnce(&mut History<Desk, Step>) -> bool) {
        let before = self.form.get_untracked();
        let list = self.list_untracked();
        self.history.update(|history| {
            by(history);
        });
        // Since the step was made, somebody may have looked at another piece.
        if let (Some(find), Some(before), Some(now)) =
            (self.means.changed_elsewhere, list, self.list_untracked())
            && let Some(at) = find(&before, &now)
        {
            self.look_at(at);
        }
        let side = untrack(move || self.end());
        let changed = |side| {
            let end = before.end(side);
            self.form
                .with_untracked(|form| form.end(side).differs(&end))
        };
        let side = if !changed(side) && changed(side.other()) {
            side.other()
        } else {
            side
        };
        self.shown_end.set(side);
        let now = self.form.with_untracked(|form| form.end(side));
        if let Some(main) = now.main_changed(&before.end(side)) {
            self.shown.set(main);
        }
    }

    /// Shows an end in the sketch.
    pub fn show_end(self, side: Side) {
        self.shown_end.set(side);
    }

    /// Shows another main in the sketch.
    pub fn show_main(self, main: usize) {
        self.shown.set(main);
    }

    /// Puts the branch on one more main, and shows it.
    pub fn add_main(self) {
        self.pause();
        self.change(Field::Mains, Typed::with_another_main);
        self.pause();
        self.show_main(self.typed.with_untracked(Typed::mains) - 1);
    }

    /// Takes a main away.
    pub fn take_main_away(self, main: usize) {
        self.pause();
        self.change(Field::Mains, |typed| typed.without_main(main));
        self.pause();
        self.show_main(main.saturating_sub(1));
    }
}
