//! The browser's own services: address, store, clipboard, files, printing. Nothing here fails
//! loudly; a browser that refuses a service leaves the page working without it.

mod files;
mod store;

pub use files::{copy, save, save_bytes, share, shareable};
pub use store::{
    OpenJob, STORE, note_open_job, on_store_change, open_jobs, remember_form, remember_fragment,
    remembered_form, set_aside_store, storage, store, store_as, stored, stored_as,
};

use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::{CssStyleSheet, HtmlElement, window};

use crate::units::Unit;

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
            "Phones and tablets often print at a wrong size. Save a PDF and print that at 100 %, or \
             open the link on a computer; measure the rulers on the first sheet before you cut.",
        );
    }
    (has("AppleWebKit") && !has("Chrome") && !has("Chromium")).then_some(
        "This browser is known to print a few per cent too large or too small. Save a PDF and print \
         that at 100 %; if you print from here all the same, measure the rulers before you cut and \
         type what they measure under Print.",
    )
}
