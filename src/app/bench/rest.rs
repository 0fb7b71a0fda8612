//! What follows when the hands rest: the sheets take too long for a keystroke, and nobody looks at
//! them while typing. They are laid out at the latest when they are printed.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, end_of};
use crate::app::browser;
use crate::app::dom::follow;
use crate::app::packet::{Wanted, packet};
use crate::job::{Draft, EndKind, write_form};
use crate::piece::Side;
use crate::sheet::Packet;

/// What takes too long for a keystroke waits for the hands to rest; copies are handles to the same.
#[derive(Clone, Copy)]
pub struct Rest {
    /// Whether something has been typed since.
    late: RwSignal<bool>,
    /// Comes when they rest.
    come: Trigger,
}

impl Rest {
    pub(super) fn new() -> Self {
        Self {
            late: RwSignal::new(false),
            come: Trigger::new(),
        }
    }

    /// Whether something has been typed that what waits does not show yet.
    pub fn is_awaited(self) -> bool {
        self.late.get()
    }

    /// Hears of it.
    pub fn track(self) {
        self.come.track();
    }
}

impl Bench {
    /// Keeps the sheets in step with the form.
    pub(super) fn keep_sheets(self) {
        let Rest { late, come } = self.rest;
        // Everything else that they show, as an address in their codes, is seldom changed, and
        // they follow it at once.
        follow(move || {
            come.track();
            self.rested.set(self.draft.get_untracked());
        });
        follow(move || {
            come.track();
            self.cutting.track();
            self.packet.set(self.lay_out());
            late.set(false);
        });
        let rest = browser::after_rest(move || come.notify());
        // The page that has jobs plans the cuts too, and has them yet to find.
        let is_due = StoredValue::new(self.means.has_jobs());
        follow(move || {
            self.history.track();
            self.shown_end.track();
            if is_due.get_value() {
                late.set(true);
                rest();
            }
            is_due.set_value(true);
        });
        browser::on_printing(move || {
            if late.get_untracked() {
                come.notify();
            }
        });
    }

    /// Prints what the sheets show. Hears whether the browser can.
    pub fn print(self, told: impl Fn(bool) + 'static) {
        self.rest.come.notify();
        // They are laid out before the next task begins.
        browser::after_tasks(move || told(browser::print()));
    }

    fn lay_out(self) -> Result<Arc<Packet>, String> {
        let Some(draft) = self.draft.get_untracked() else {
            return Err(String::from("Nothing to print yet."));
        };
        let form = self.form.get_untracked();
        let link = browser::page_address(&write_form(&form));
        let whole = form.is_whole();
        let shown = end_of(&form, self.shown_end.get_untracked());
        let other = self.other.get_untracked();
        // Of another line, or none any more, it says nothing about this one.
        let cutting = self.cutting.get_untracked();
        let cutting = |side: Side, end: &Draft| {
            let own = cutting[side.index()].as_deref()?;
            let plain = own.template.clone().with_pre_cut(Vec::new());
            (plain == end.template).then_some(own)
        };
        let end = |side: Side| {
            let coped = !whole || form.kind(side) == EndKind::Coped;
            let end = if side == shown {
                Some(&draft)
            } else {
                other.as_ref()
            };
            end.filter(|_| coped)
        };
        let ends = Side::BOTH.map(end);
        let cut = Side::BOTH.map(|side| cutting(side, ends[side.index()]?));
        let with_pre_cut = Side::BOTH.map(|side| {
            let end = Draft::clone(ends[side.index()]?);
            Some(match cut[side.index()] {
                Some(cut) => Draft {
                    template: cut.template.clone(),
                    ..end
                },
                None => end,
            })
        });
        let kept = self.kept.get_untracked();
        let wanted = Wanted {
            ends: with_pre_cut.each_ref().map(Option::as_ref),
            saws: cut.map(|cut| cut.map_or(&[][..], |cut| &cut.saw)),
            whole,
            link: &link,
            date: &browser::today(),
            paper: form.end(Side::A).paper,
            printer: kept.printer(),
            divisions: kept.table,
        };
        let mut sheets = packet(&wanted)?;
        self.piece.with_untracked(|piece| {
            if let (Some(lay_out), Some(Ok(piece))) = (self.means.piece_sheet, piece) {
                let own = lay_out(piece, &wanted);
                sheets.pages.splice(0..0, own.pages);
                sheets.notes.splice(0..0, own.notes);
            }
        });
        if let Some(draw) = self.means.codes {
            draw(&mut sheets, &wanted);
        }
        Ok(Arc::new(sheets))
    }
}
