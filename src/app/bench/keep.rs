//! Address and store in step with the form, other windows included; a link opened, with what is to
//! be said about it.

use leptos::prelude::*;

use crate::app::bench::{Bench, Step, Taken};
use crate::app::browser;
use crate::app::dom::follow;
use crate::job::list::is_job_link;
use crate::job::{Kept, PieceForm, open_form, read, write_form, write_whole_form};
use crate::piece::Side;

impl Bench {
    /// Keeps the sheets, the address, the title and the store in step with the form.
    pub fn keep(self) {
        self.keep_sheets();
        // A link of a newer version stays in the address until something is changed or its
        // warning is dismissed: a reload must warn again.
        let newer = StoredValue::new(self.newer.then(|| self.form.get_untracked()));
        // A link in the address that is not open yet is not written over: between the change and
        // its event, or until the page that opens jobs has come.
        let linked = browser::fragment();
        let awaited = !self.means.has_jobs() && is_job_link(&linked);
        let own = StoredValue::new(if awaited { String::new() } else { linked });
        let address = move || {
            if own.with_value(|own| *own != browser::fragment()) {
                return;
            }
            let link = self.form.with_untracked(write_form);
            let warned = !self.notices.with_untracked(Vec::is_empty);
            let untouched = newer.with_value(|at_first| {
                let now = |form: &PieceForm| self.form.with_untracked(|now| now == form);
                at_first.as_ref().is_some_and(now)
            });
            if !(warned && untouched) {
                newer.set_value(None);
                browser::set_fragment(&link);
                own.set_value(browser::fragment());
            }
        };
        // Browsers slow a page down that changes its address at every keystroke, so the address
        // follows when the hands rest, and at the latest when the page is left. The store follows
        // at once: a page that is closed in the middle of a word has lost nothing.
        let rest = browser::after_rest(move || {
            address();
            browser::remember_fragment(&self.form.with_untracked(write_form));
        });
        follow(move || {
            self.form.track();
            self.notices.track();
            rest();
        });
        browser::on_leaving(address);
        let told_unkept = StoredValue::new(false);
        let heard = StoredValue::new(false);
        follow(move || {
            let mut kept = self.kept.get();
            let form = self.form.with(write_whole_form);
            browser::remember_form(&form);
            // What another window has kept stands, with what was typed there last.
            if heard.get_value() {
                heard.set_value(false);
                return;
            }
            kept.link = Some(form);
            if !browser::store(&kept.write()) && !told_unkept.get_value() {
                told_unkept.set_value(true);
                self.notices.update(|notices| {
                    notices.push(String::from(
                        "This browser keeps nothing between visits (its store is full or blocked). \
                         Copy the link to keep this joint; printers have to be measured again.",
                    ));
                });
            }
        });
        // Another window has kept something: its printers are this window's too, or the last one
        // to write would lose the other's.
        browser::on_store_change(browser::STORE, move |text| {
            let Ok(mut theirs) = Kept::read(&text) else {
                return;
            };
            self.kept
                .with_untracked(|own| theirs.link.clone_from(&own.link));
            // Most often only their form is another, and nothing is to follow.
            if self.kept.with_untracked(|own| *own != theirs) {
                heard.set_value(true);
                self.history
                    .update(|history| history.amend(|desk| desk.kept = theirs.clone()));
            }
        });
        // What a link opens needs the contexts of the page.
        let owner = Owner::current().unwrap_or_default();
        browser::on_fragment_change(move || {
            let fragment = browser::fragment();
            let taken = self
                .means
                .take_link
                .map_or(Taken::Not, |take| owner.with(|| take(&fragment)));
            if taken == Taken::Awaited {
                return;
            }
            own.set_value(fragment.clone());
            if taken == Taken::Not
                && !fragment.is_empty()
                && fragment != self.form.with_untracked(write_form)
            {
                let (form, told) = opened(&fragment);
                self.notices.set(told);
                self.pause();
                self.change_form(Step::Piece(None), |_| form);
                self.pause();
            }
        });
        browser::on_undo_keys(move |redo| if redo { self.redo() } else { self.undo() });
    }
}

/// A link read, with what is to be said about it.
pub(super) fn opened(link: &str) -> (PieceForm, Vec<String>) {
    let opened = open_form(link);
    let choices = opened
        .problems
        .iter()
        .map(|problem| format!("{problem} The usual one is used instead."));
    let typed = opened.form.end(Side::A);
    let numbers = read(&typed).err().unwrap_or_default();
    let numbers = numbers.iter().map(|problem| {
        format!(
            "{} ({} in the link) cannot be used: {}",
            typed.name_of(problem.field),
            problem.field.key(),
            problem.sentence
        )
    });
    let told = opened
        .newer
        .iter()
        .cloned()
        .chain(choices)
        .chain(numbers)
        .collect();
    (opened.form, told)
}
