//! From the page of the first visit, which knows one joint, to the workshop, which knows the rest
//! and is loaded only when something of it is asked for.
//!
//! The workshop is a page of its own that takes the place of the first one in the same document.
//! It asks for everything typed by an event; the first page answers in the event's detail, and
//! goes.

use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CustomEvent, CustomEventInit, Element};

/// The event by which the workshop asks for what is on the page.
const TAKE_OVER: &str = "copewright-take-over";
/// Where the document says what file starts the workshop.
const LOADER: &str = "data-workshop";
const FORMS: &str = "forms";
const ASKED: &str = "asked";

/// What is handed over.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Handed {
    /// Everything typed as links, oldest first, the present one last; empty when the workshop
    /// starts by itself.
    pub forms: Vec<String>,
    /// What was asked for.
    pub asked: Option<Asked>,
}

/// What only the workshop can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// To go on with what is kept or linked.
    GoOn,
    /// The other end and the length.
    Piece,
    /// A list of pieces.
    List,
    /// The menu of files.
    Files,
    /// Saws, and how the end will fit.
    Saw,
    /// The example of a job.
    Example,
}

/// What opens the menu of files, wherever that is.
#[derive(Clone, Copy)]
pub struct OfferFiles(pub Callback<()>);

impl Asked {
    const ALL: [Self; 6] = [
        Self::GoOn,
        Self::Piece,
        Self::List,
        Self::Files,
        Self::Saw,
        Self::Example,
    ];

    const fn code(self) -> &'static str {
        match self {
            Self::GoOn => "go-on",
            Self::Piece => "piece",
            Self::List => "list",
            Self::Files => "files",
            Self::Saw => "saw",
            Self::Example => "example",
        }
    }
}

/// Loads the workshop; calls back where it does not come.
pub fn load_workshop(failed: impl Fn() + 'static) {
    let (Some(address), Ok(script), Some(head)) = (
        workshop_address(),
        document().create_element("script"),
        document().head(),
    ) else {
        return failed();
    };
    let failed = Closure::<dyn Fn()>::new(failed).into_js_value();
    let _ = script.set_attribute("type", "module");
    let _ = script.set_attribute("src", &address);
    let _ = script.add_event_listener_with_callback("error", failed.unchecked_ref());
    let _ = head.append_child(&script);
}

/// Address of the script that starts the workshop, in a page or in a worker.
pub fn workshop_address() -> Option<String> {
    document().body()?.get_attribute(LOADER)
}

/// Answers the workshop once, with what is on the page.
pub fn on_take_over(answer: impl Fn() -> Handed + 'static) {
    let handle = window_event_listener_untyped(TAKE_OVER, move |event| {
        if let Some(event) = event.dyn_ref::<CustomEvent>() {
            let handed = answer();
            let forms: js_sys::Array = handed.forms.iter().map(JsValue::from).collect();
            put(&event.detail(), FORMS, &forms);
            let asked = handed.asked.map_or("", Asked::code);
            put(&event.detail(), ASKED, &JsValue::from_str(asked));
        }
    });
    // The page lives until it is taken over.
    std::mem::forget(handle);
}

fn put(object: &JsValue, name: &str, value: &JsValue) {
    // The detail is a plain object of ours.
    let _ = js_sys::Reflect::set(object, &JsValue::from_str(name), value);
}

/// Asks the first page for what is on it; it has gone when this comes back.
pub fn take_over() -> Handed {
    let detail = js_sys::Object::new();
    let init = CustomEventInit::new();
    init.set_detail(&detail);
    let event = CustomEvent::new_with_event_init_dict(TAKE_OVER, &init);
    if let (Ok(event), Some(window)) = (event, web_sys::window()) {
        let _ = window.dispatch_event(&event);
    }
    let get = |name: &str| js_sys::Reflect::get(&detail, &JsValue::from_str(name)).ok();
    let forms = get(FORMS).and_then(|forms| forms.dyn_into::<js_sys::Array>().ok());
    let asked = get(ASKED).and_then(|asked| asked.as_string());
    Handed {
        forms: forms.map_or_else(Vec::new, |forms| {
            let forms = forms.iter();
            forms.filter_map(|form| form.as_string()).collect()
        }),
        asked: Asked::ALL
            .into_iter()
            .find(|one| Some(one.code()) == asked.as_deref()),
    }
}

/// Takes everything off the page that a page of ours has put there.
pub fn clear(body: &Element) {
    while let Some(own) = body
        .query_selector(".screen, .sheets, #loading")
        .ok()
        .flatten()
    {
        own.remove();
    }
}
