//! The browser's own services: address, store, clipboard, files, printing. Nothing here fails
//! loudly; a browser that refuses a service leaves the page working without it.

use std::time::Duration;

use js_sys::Reflect;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::{
    Blob, BlobPropertyBag, CssStyleSheet, File, FilePropertyBag, HtmlAnchorElement, HtmlElement,
    PerformanceNavigation, ShareData, Url, window,
};

use crate::units::Unit;

const STORE: &str = "copewright";
/// Which job is open, for the next visit.
const OPEN_JOB: &str = "copewright-open-job";
const SET_ASIDE: &str = "copewright-set-aside";
/// What a window remembers of itself: its fragment, and everything typed in it.
const OWN_FRAGMENT: &str = "copewright-fragment";
const OWN_FORM: &str = "copewright-form";
/// Marks an input that is not part of the form and undoes by itself.
const OWN_UNDO: &str = "data-own-undo";

/// Takes away the line that stood there while the page was loading.
pub fn remove_loading_line() {
    if let Some(line) = document().get_element_by_id("loading") {
        line.remove();
    }
}

fn document() -> web_sys::Document {
    leptos::prelude::document()
}

/// The address's fragment without `#`.
pub fn fragment() -> String {
    let hash = window()
        .and_then(|window| window.location().hash().ok())
        .unwrap_or_default();
    hash.trim_start_matches('#').to_owned()
}

/// Replaces the fragment without adding to the browser's own history.
pub fn set_fragment(fragment: &str) {
    if let Some(history) = window().and_then(|window| window.history().ok()) {
        // Refused in some sandboxed frames; the link button still gives the address.
        let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(&format!("#{fragment}")));
    }
}

/// Remembers the fragment that this window has set. Not while it is left: a reload goes by the
/// address of before.
pub fn remember_fragment(fragment: &str) {
    remember(OWN_FRAGMENT, fragment);
}

/// Remembers everything typed in this window; its address follows later.
pub fn remember_form(form: &str) {
    remember(OWN_FORM, form);
}

/// After a reload, everything typed in this window since it remembered the fragment that it has: a
/// reload in the middle of a word comes before the address has followed. A link goes by itself.
pub fn remembered_form(fragment: &str) -> Option<String> {
    let window = window()?;
    let came_by = window.performance()?.navigation().type_();
    let own = window.session_storage().ok()??;
    let set = own.get_item(OWN_FRAGMENT).ok()??;
    let is_own = came_by == PerformanceNavigation::TYPE_RELOAD && set == fragment;
    is_own.then(|| own.get_item(OWN_FORM).ok())?.flatten()
}

fn remember(key: &str, text: &str) {
    if let Some(own) = own_storage() {
        // Where it is refused a reload goes by the address alone.
        let _ = own.set_item(key, text);
    }
}

/// The page's whole address with a fragment.
pub fn page_address(fragment: &str) -> String {
    let href = window()
        .and_then(|window| window.location().href().ok())
        .unwrap_or_default();
    let base = href.split('#').next().unwrap_or_default();
    format!("{base}#{fragment}")
}

/// Calls back when the fragment is changed by hand or by a followed link.
pub fn on_fragment_change(act: impl Fn() + 'static) {
    let handle = window_event_listener(leptos::ev::hashchange, move |_| act());
    on_cleanup(move || handle.remove());
}

/// Calls back on Ctrl+Z (`false`) and Ctrl+Y or Ctrl+Shift+Z (`true`), Cmd on a Mac.
pub fn on_undo_keys(act: impl Fn(bool) + 'static) {
    let handle = window_event_listener(leptos::ev::keydown, move |event| {
        if !(event.ctrl_key() || event.meta_key()) || event.alt_key() {
            return;
        }
        let redo = match event.key().to_ascii_lowercase().as_str() {
            "z" => event.shift_key(),
            "y" => true,
            _ => return,
        };
        let own = event
            .target()
            .and_then(|target| target.dyn_into::<web_sys::Element>().ok())
            .is_some_and(|element| element.has_attribute(OWN_UNDO));
        if own {
            return;
        }
        // The browser's own undo would change one input behind the form's back.
        event.prevent_default();
        act(redo);
    });
    on_cleanup(move || handle.remove());
}

/// A call that acts once, some time after it was last made.
pub fn after_rest(act: impl Fn() + Copy + 'static) -> impl Fn() + Copy + 'static {
    const REST: Duration = Duration::from_millis(250);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    on_cleanup(move || {
        let last = waiting.try_update_value(Option::take);
        if let Some(last) = last.flatten() {
            last.clear();
        }
    });
    move || {
        let next = set_timeout_with_handle(act, REST).ok();
        let last = waiting.try_update_value(|waiting| std::mem::replace(waiting, next));
        if let Some(last) = last.flatten() {
            last.clear();
        }
    }
}

/// Calls back when the page is about to be left, reloaded or put in the background.
pub fn on_leaving(act: impl Fn() + 'static) {
    let handle = window_event_listener_untyped("pagehide", move |_| act());
    on_cleanup(move || handle.remove());
}

/// Calls back when the page is about to be printed, by whatever button or key. Firefox prints what
/// stands on the page when it says so; the key that goes before P is heard early enough.
pub fn on_printing(act: impl Fn() + Copy + 'static) {
    let handle = window_event_listener_untyped("beforeprint", move |_| act());
    on_cleanup(move || handle.remove());
    let handle = window_event_listener(leptos::ev::keydown, move |event| {
        if event.ctrl_key() || event.meta_key() {
            act();
        }
    });
    on_cleanup(move || handle.remove());
}

/// Calls back when everything that has been set going is done.
pub fn after_tasks(act: impl FnOnce() + 'static) {
    set_timeout(act, Duration::ZERO);
}

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

/// Calls back with what another window of this page has stored.
pub fn on_store_change(act: impl Fn(String) + 'static) {
    let handle = window_event_listener(leptos::ev::storage, move |event| {
        if event.key().as_deref() == Some(STORE)
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

/// Inches where the browser's language says United States, Liberia or Myanmar; else millimetres.
pub fn usual_unit() -> Unit {
    let language = window()
        .and_then(|window| window.navigator().language())
        .unwrap_or_default();
    let region = language
        .rsplit('-')
        .next()
        .unwrap_or_default()
        .to_ascii_uppercase();
    if ["US", "LR", "MM"].contains(&region.as_str()) {
        Unit::Fraction(crate::units::Denominator::Sixteenth)
    } else {
        Unit::Millimetre
    }
}

/// Today where the user is, as 2026-08-31.
pub fn today() -> String {
    let now = js_sys::Date::new_0();
    format!(
        "{:04}-{:02}-{:02}",
        now.get_full_year(),
        now.get_month() + 1,
        now.get_date()
    )
}

/// Opens the browser's print dialog; false where there is none.
pub fn print() -> bool {
    window().is_some_and(|window| {
        let has = js_sys::Reflect::has(&window, &JsValue::from_str("print")).unwrap_or(false);
        has && window.print().is_ok()
    })
}

/// Names the paper to the print engine by swapping the `@page` rule of the page's style sheet.
///
/// Rule insertion works in every engine measured and under a strict content security policy;
/// an injected style text does not.
pub fn set_page_rule(rule: &str) {
    let sheets = document().style_sheets();
    let sheet = (0..sheets.length())
        .filter_map(|index| sheets.item(index))
        .filter_map(|sheet| sheet.dyn_into::<CssStyleSheet>().ok())
        .find(|sheet| sheet.css_rules().is_ok());
    let Some(sheet) = sheet else { return };
    let Ok(rules) = sheet.css_rules() else { return };
    let named = |index: &u32| {
        rules
            .item(*index)
            .is_some_and(|rule| rule.css_text().starts_with("@page"))
    };
    let old = (0..rules.length()).rev().find(named);
    if let Some(index) = old {
        let _ = sheet.delete_rule(index);
    }
    let _ = sheet.insert_rule_with_index(rule, sheet.css_rules().map_or(0, |rules| rules.length()));
}

/// Sets a custom property of the whole document.
pub fn set_root_property(name: &str, value: &str) {
    let root = document()
        .document_element()
        .and_then(|root| root.dyn_into::<HtmlElement>().ok());
    if let Some(root) = root {
        let _ = root.style().set_property(name, value);
    }
}

/// Whether this engine is known to print true to size; what to say when it is not.
pub fn print_doubt() -> Option<&'static str> {
    let agent = window()?.navigator().user_agent().ok()?;
    let has = |word: &str| agent.contains(word);
    if has("Android") || has("iPhone") || has("iPad") || has("Mobile") {
        return Some(
            "Phones and tablets often print at a wrong size. Measure the rulers on the first sheet \
             before you cut, or open the link on a computer with Chrome, Edge or Firefox.",
        );
    }
    (has("AppleWebKit") && !has("Chrome") && !has("Chromium")).then_some(
        "This browser is known to print a few per cent too large or too small. Measure the rulers \
         before you cut and type what they measure under Print, or open the link in a Chromium browser \
         or Firefox.",
    )
}

/// Copies a text; the callback hears whether it worked.
pub fn copy(text: &str, done: impl Fn(bool) + 'static) {
    let Some(window) = window() else {
        return done(false);
    };
    let clipboard = window.navigator().clipboard();
    if clipboard.is_undefined() {
        return done(false);
    }
    let promise = clipboard.write_text(text);
    leptos::task::spawn_local(async move {
        done(wasm_bindgen_futures::JsFuture::from(promise).await.is_ok());
    });
}

/// A file that the system can hand on, as to a message or another device; none where it cannot.
pub fn shareable(name: &str, kind: &str, bytes: &[u8]) -> Option<ShareData> {
    let navigator = window()?.navigator();
    let can = Reflect::has(&navigator, &JsValue::from_str("canShare")).unwrap_or(false);
    if !can {
        return None;
    }
    let options = FilePropertyBag::new();
    options.set_type(kind);
    let parts = js_sys::Array::of1(&js_sys::Uint8Array::from(bytes));
    let file = File::new_with_u8_array_sequence_and_options(&parts, name, &options).ok()?;
    let data = ShareData::new();
    let _ = Reflect::set(
        &data,
        &JsValue::from_str("files"),
        &js_sys::Array::of1(&file),
    );
    navigator.can_share_with_data(&data).then_some(data)
}

/// Opens the system's own way of handing a file on. Hears when the system refuses it, but not
/// when the person thinks better of it.
pub fn share(data: &ShareData, refused: impl Fn() + 'static) {
    let Some(window) = window() else {
        return refused();
    };
    let promise = window.navigator().share_with_data(data);
    leptos::task::spawn_local(async move {
        if let Err(error) = wasm_bindgen_futures::JsFuture::from(promise).await {
            let name = Reflect::get(&error, &JsValue::from_str("name")).unwrap_or_default();
            // Web Share, "share() method": the one name of a share sheet closed by the person.
            if name.as_string().as_deref() != Some("AbortError") {
                refused();
            }
        }
    });
}

/// Saves a text as a file.
pub fn save(name: &str, kind: &str, text: &str) -> bool {
    try_save(name, kind, &JsValue::from_str(text)).is_some()
}

/// Saves bytes as a file.
pub fn save_bytes(name: &str, kind: &str, bytes: &[u8]) -> bool {
    try_save(name, kind, &js_sys::Uint8Array::from(bytes)).is_some()
}

fn try_save(name: &str, kind: &str, part: &JsValue) -> Option<()> {
    let parts = js_sys::Array::of1(part);
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let blob = Blob::new_with_buffer_source_sequence_and_options(&parts, &options).ok()?;
    let address = Url::create_object_url_with_blob(&blob).ok()?;
    let anchor: HtmlAnchorElement = document().create_element("a").ok()?.dyn_into().ok()?;
    anchor.set_href(&address);
    anchor.set_download(name);
    anchor.unchecked_ref::<HtmlElement>().click();
    // The click has taken its own reference by the time the next task runs.
    set_timeout(
        move || {
            let _ = Url::revoke_object_url(&address);
        },
        Duration::from_secs(10),
    );
    Some(())
}
