//! What is kept between visits, and what a window remembers of itself over a reload.

use leptos::prelude::*;
use web_sys::{PerformanceNavigation, window};

/// What is kept about printers, and the last form.
pub const STORE: &str = "copewright";
/// Which job is open, for the next visit.
const OPEN_JOB: &str = "copewright-open-job";
const SET_ASIDE: &str = "copewright-set-aside";
/// What a window remembers of itself: its last two fragments, each in a line, and everything typed
/// in it.
const OWN_FRAGMENT: &str = "copewright-fragment";
const OWN_FORM: &str = "copewright-form";

/// What all windows share, and later visits.
pub fn storage() -> Option<web_sys::Storage> {
    window()?.local_storage().ok()?
}

/// What is this window's own, reloads included.
fn own_storage() -> Option<web_sys::Storage> {
    window()?.session_storage().ok()?
}

/// What an earlier visit stored.
pub fn stored() -> Option<String> {
    storage()?.get_item(STORE).ok()?
}

/// Stores a text for the next visit; false where the store is full or forbidden.
pub fn store(text: &str) -> bool {
    storage().is_some_and(|storage| storage.set_item(STORE, text).is_ok())
}

/// What an earlier visit stored under another name.
pub fn stored_as(name: &str) -> Option<String> {
    storage()?.get_item(name).ok()?
}

/// Stores a text under another name; a full store keeps it for this visit only.
pub fn store_as(name: &str, text: &str) {
    if let Some(storage) = storage() {
        let _ = storage.set_item(name, text);
    }
}

/// Calls back with what another window of this page has stored under a name.
pub fn on_store_change(name: &'static str, act: impl Fn(String) + 'static) {
    let handle = window_event_listener(leptos::ev::storage, move |event| {
        if event.key().as_deref() == Some(name)
            && let Some(text) = event.new_value()
        {
            act(text);
        }
    });
    on_cleanup(move || handle.remove());
}

/// Which job the last visit had open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenJob {
    /// Its number in the database; 0 before it has one.
    pub id: u32,
    /// The piece that was on the bench.
    pub at: u32,
    /// Everything typed about that piece, as a link. It is newer than the database.
    pub form: String,
}

/// The jobs that this window had open before a reload and that the last visit of any window had,
/// in this order. Two windows may have two jobs open.
pub fn open_jobs() -> Vec<OpenJob> {
    let read = |storage: web_sys::Storage| {
        let text = storage.get_item(OPEN_JOB).ok()??;
        let mut parts = text.splitn(3, ' ');
        Some(OpenJob {
            id: parts.next()?.parse().ok()?,
            at: parts.next()?.parse().ok()?,
            form: parts.next()?.to_owned(),
        })
    };
    let both = [own_storage(), storage()];
    both.into_iter().flatten().filter_map(read).collect()
}

/// Notes which job is open in this window. One without a job leaves the note of the last visit
/// that had one: it may be another window's.
pub fn note_open_job(open: Option<&OpenJob>) {
    let Some(OpenJob { id, at, form }) = open else {
        if let Some(own) = own_storage() {
            let _ = own.remove_item(OPEN_JOB);
        }
        return;
    };
    let text = [&id.to_string(), " ", &at.to_string(), " ", form].concat();
    for storage in [own_storage(), storage()].into_iter().flatten() {
        // Where the store is full the visit after this one opens the piece alone; the job is kept.
        let _ = storage.set_item(OPEN_JOB, &text);
    }
}

/// Moves a damaged store out of the way, where it can still be looked at.
pub fn set_aside_store() {
    if let (Some(storage), Some(text)) = (storage(), stored()) {
        let _ = storage.set_item(SET_ASIDE, &text);
        let _ = storage.remove_item(STORE);
    }
}

/// Remembers the fragment that this window has set, and the one before it: a reload goes by the
/// address that it began with, and another may be set while it is under way.
pub fn remember_fragment(fragment: &str) {
    let known = own_storage().and_then(|own| own.get_item(OWN_FRAGMENT).ok()?);
    let known = known.unwrap_or_default();
    let last = known.lines().next().unwrap_or_default();
    if last != fragment {
        remember(OWN_FRAGMENT, &[fragment, "\n", last].concat());
    }
}

/// Remembers everything typed in this window; its address follows later.
pub fn remember_form(form: &str) {
    remember(OWN_FORM, form);
}

/// After a reload, everything typed in this window, whose address is one that it has set: in the
/// middle of a word that follows later, or while the reload is under way. A link goes by itself.
pub fn remembered_form(fragment: &str) -> Option<String> {
    let window = window()?;
    let came_by = window.performance()?.navigation().type_();
    let own = window.session_storage().ok()??;
    let set = own.get_item(OWN_FRAGMENT).ok()??;
    let is_set = set.lines().any(|set| set == fragment);
    let is_own = came_by == PerformanceNavigation::TYPE_RELOAD && is_set;
    is_own.then(|| own.get_item(OWN_FORM).ok())?.flatten()
}

fn remember(key: &str, text: &str) {
    if let Some(own) = own_storage() {
        // Where it is refused a reload goes by the address alone.
        let _ = own.set_item(key, text);
    }
}
