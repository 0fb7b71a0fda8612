//! Ways out of the page: the clipboard, the folder of saved files, the system's own way of handing
//! a file on.

use std::time::Duration;

use js_sys::Reflect;
use leptos::prelude::set_timeout;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::{
    Blob, BlobPropertyBag, File, FilePropertyBag, HtmlAnchorElement, HtmlElement, ShareData, Url,
    window,
};

use super::document;

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
