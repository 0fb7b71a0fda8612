//! Going on where a visit was left: the job that was open, and what was set aside because the
//! database had not taken it when the page was left.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, OnList};
use crate::app::browser::{self, OpenJob};
use crate::app::workshop::keep::{As, Keeper, Told, title_of};
use crate::app::workshop::store::{self, Record, Written};
use crate::job::list::{open_job, write_job};
use crate::job::write_whole_form;

/// Start of the names under which jobs are set aside. A moment, a chance number and a count follow:
/// windows that are closed together do not write over each other.
const ASIDE: &str = "copewright-unwritten ";

/// A job that the database has not confirmed.
pub struct Unwritten {
    /// Which of the page's jobs it is: two states of one job have the same.
    pub turn: usize,
    /// What the database had of it, as far as the page knows.
    pub own: As,
    /// Its file.
    pub text: String,
}

/// Sets jobs aside for the next visit, older states first.
pub fn set_aside(all: impl Iterator<Item = Unwritten>) {
    let Some(storage) = browser::storage() else {
        return;
    };
    let (now, window) = (js_sys::Date::now(), js_sys::Math::random());
    for (count, Unwritten { turn, own, text }) in all.enumerate() {
        let id = own.id.unwrap_or_default();
        let revision = own.revision;
        // A full store keeps what the database has, and no more can be done while leaving.
        let _ = storage.set_item(
            &format!("{ASIDE}{now} {window} {count}"),
            &format!("{window}/{turn} {id} {revision} {text}"),
        );
    }
}

/// What an earlier visit left.
#[derive(Default)]
pub struct LeftOff {
    /// The jobs that were open, the best guess first.
    open: Vec<(OpenJob, Record)>,
    /// What there is to say.
    told: Vec<String>,
}

/// Writes what was set aside, and reads the jobs that were open.
pub async fn left_off() -> LeftOff {
    let mut left = LeftOff::default();
    let recovered = write_set_aside(&mut left.told).await;
    for note in browser::open_jobs() {
        // It was left before it had a number, or has become a copy.
        for own in &recovered {
            if own.was.id.unwrap_or_default() == note.id && own.is.id != own.was.id {
                let record = store::read(own.is.id.unwrap_or_default()).await;
                if let Some(record) = record.unwrap_or_default() {
                    left.open.push((note.clone(), record));
                }
            }
        }
        if let Some(record) = store::read(note.id).await.unwrap_or_default() {
            left.open.push((note, record));
        }
    }
    left
}

/// A job that was set aside and is in the database now.
struct Recovered {
    /// Which job of which page it is.
    of: String,
    /// What the page knew it as.
    was: As,
    is: As,
}

/// Writes what was set aside into the database.
async fn write_set_aside(told: &mut Vec<String>) -> Vec<Recovered> {
    let mut known: Vec<Recovered> = Vec::new();
    let Some(storage) = browser::storage() else {
        return known;
    };
    let count = storage.length().unwrap_or_default();
    let names = (0..count).filter_map(|at| storage.key(at).ok().flatten());
    let mut names: Vec<String> = names.filter(|name| name.starts_with(ASIDE)).collect();
    names.sort_unstable();
    for name in names {
        let Some(kept) = storage.get_item(&name).ok().flatten() else {
            continue;
        };
        // Away first: another window that opens at this moment must not write it too.
        let _ = storage.remove_item(&name);
        let Some((of, was, text)) = parts(&kept) else {
            continue;
        };
        let before = known.iter().find(|known| known.of == of);
        let own = before.map_or(was, |known| known.is);
        match write(own, text, told).await {
            Some(is) => {
                known.retain(|known| known.of != of);
                known.push(Recovered { of, was, is });
            }
            // A database that is blocked today may work tomorrow.
            None => {
                let _ = storage.set_item(&name, &kept);
            }
        }
    }
    known
}

fn parts(kept: &str) -> Option<(String, As, &str)> {
    let mut parts = kept.splitn(4, ' ');
    let of = parts.next()?.to_owned();
    let id: u32 = parts.next()?.parse().ok()?;
    let revision = parts.next()?.parse().ok()?;
    let id = (id != 0).then_some(id);
    Some((of, As { id, revision }, parts.next()?))
}

/// Writes a job that was set aside; `None` where the database cannot.
async fn write(own: As, text: &str, told: &mut Vec<String>) -> Option<As> {
    // The database may have taken it after all, after the page was left.
    let there = match own.id {
        Some(id) => store::read(id).await.ok()?,
        None => {
            let mut all = store::all().await.ok()?.into_iter();
            all.find(|record| record.text == text)
        }
    };
    if let Some(there) = there.filter(|there| there.text == text) {
        return Some(As {
            id: there.id,
            revision: there.revision,
        });
    }
    let Ok(opened) = open_job(text) else {
        // Nothing of ours.
        return Some(own);
    };
    let mut record = Record {
        id: own.id,
        title: title_of(&opened.job),
        text: text.to_owned(),
        revision: own.revision,
        changed: js_sys::Date::now(),
    };
    if let Written::As(id, revision) = store::write(&record).await.ok()? {
        let id = Some(id);
        return Some(As { id, revision });
    }
    // Another window has written it since. Both are kept.
    told.push(format!(
        "Another window has changed “{title}” too. What was typed last in the window that was \
         closed is kept as a job of its own, named “{title}, second copy”.",
        title = record.title
    ));
    record.id = None;
    record.title = format!("{}, second copy", record.title);
    record.text = write_job(&opened.job.with_title(record.title.as_str()));
    match store::write(&record).await.ok()? {
        Written::As(id, revision) => {
            let id = Some(id);
            Some(As { id, revision })
        }
        Written::Overtaken => None,
    }
}

/// The job that was open goes on where it was left, with the form as it was last typed.
pub fn resume(bench: Bench, keeper: Keeper, left: LeftOff) {
    keeper.tell(left.told.into_iter().map(Told::plain));
    let form = bench.form.get_untracked();
    let own = write_whole_form(&form);
    let Some((note, record)) = left.open.into_iter().find(|(note, _)| note.form == own) else {
        return;
    };
    match open_job(&record.text) {
        Ok(opened) => {
            let (job, at) = match opened.job.piece(note.at) {
                Some(_) => (opened.job.with_form(note.at, form), note.at),
                // Its piece had not been kept yet.
                None => opened.job.with_added(None, form),
            };
            let job = Arc::new(job);
            bench.open_list(OnList { job, at });
            keeper.is_kept_as(&record);
            keeper.tell(opened.told.into_iter().map(Told::plain));
        }
        Err(sentence) => keeper.tell([Told::plain(sentence)]),
    }
}
