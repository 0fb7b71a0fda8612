//! The sheets of what is on the bench. They take too long for a keystroke, and nobody looks at
//! them while typing: they follow when the hands rest, and at the latest when they are printed.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, end_of};
use crate::app::browser;
use crate::app::dom::follow;
use crate::app::packet::{Wanted, packet};
use crate::job::{Draft, EndKind, write_form};
use crate::piece::{Side, Template};
use crate::sheet::Packet;

/// The sheets as they will print, or why there are none; copies are handles to the same.
#[derive(Clone, Copy)]
pub struct Sheets {
    /// The last that were laid out.
    packet: RwSignal<Result<Arc<Packet>, String>>,
    /// Whether something has been typed since.
    late: RwSignal<bool>,
    /// Asks for them now.
    due: Trigger,
}

impl Sheets {
    /// None yet.
    pub(super) fn new() -> Self {
        Self {
            packet: RwSignal::new(Err(String::from("Nothing to print yet."))),
            late: RwSignal::new(false),
            due: Trigger::new(),
        }
    }

    /// Reads them.
    pub fn with<T>(self, by: impl FnOnce(&Result<Arc<Packet>, String>) -> T) -> T {
        self.packet.with(by)
    }

    /// Whether something has been typed that they do not show yet.
    pub fn are_late(self) -> bool {
        self.late.get()
    }

    /// Lays them out with the next task, if they are late. Answers whether they were.
    fn hurry(self) -> bool {
        let late = self.late.get_untracked();
        if late {
            self.due.notify();
        }
        late
    }
}

impl Bench {
    /// Keeps the sheets in step with the form.
    pub(super) fn keep_sheets(self) {
        let sheets = self.sheets;
        // Everything else that they show, as an address in their codes, is seldom changed, and
        // they follow it at once.
        follow(move || {
            sheets.due.track();
            self.pre_cuts.track();
            sheets.packet.set(self.lay_out());
            sheets.late.set(false);
        });
        let rest = browser::after_rest(move || sheets.due.notify());
        let opened = StoredValue::new(false);
        follow(move || {
            self.form.track();
            self.kept.track();
            if opened.get_value() {
                sheets.late.set(true);
                rest();
            }
            opened.set_value(true);
        });
        browser::on_printing(move || {
            sheets.hurry();
        });
    }

    /// Prints what the sheets show. Hears whether the browser can.
    pub fn print(self, told: impl Fn(bool) + 'static) {
        if self.sheets.hurry() {
            // They are laid out before the next task begins.
            browser::after_tasks(move || told(browser::print()));
        } else {
            told(browser::print());
        }
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
        let pre_cuts = self.pre_cuts.get_untracked();
        let end = |side: Side| {
            let coped = !whole || form.kind(side) == EndKind::Coped;
            let end = if side == shown {
                Some(&draft)
            } else {
                other.as_ref()
            };
            let end = end.filter(|_| coped)?;
            Some(with_pre_cut(end, pre_cuts[side.index()].as_deref()))
        };
        let [a, b] = Side::BOTH.map(end);
        let kept = self.kept.get_untracked();
        let wanted = Wanted {
            ends: [a.as_deref(), b.as_deref()],
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

/// A draft with the pre-cut of a template, where that is of the same line.
fn with_pre_cut(draft: &Arc<Draft>, with: Option<&Template>) -> Arc<Draft> {
    match with {
        Some(with) if with.clone().with_pre_cut(Vec::new()) == draft.template => Arc::new(Draft {
            template: with.clone(),
            ..Draft::clone(draft)
        }),
        _ => Arc::clone(draft),
    }
}
