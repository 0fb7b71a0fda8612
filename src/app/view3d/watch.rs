//! Notices what changes the picture from outside: its size, the screen's density, a dark page.

use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{Element, EventTarget, ResizeObserver, window};

use crate::app::view3d::ink::DARK;

/// Calls back at every change until dropped.
pub struct Watch {
    changed: Closure<dyn FnMut()>,
    size: Option<ResizeObserver>,
    /// What is listened to, and for which event.
    heard: Vec<(EventTarget, &'static str)>,
}

impl Watch {
    /// Starts to watch an element. What a browser cannot observe is left unobserved.
    pub fn start(element: &Element, changed: impl FnMut() + 'static) -> Self {
        let changed = Closure::<dyn FnMut()>::new(changed);
        let function = changed.as_ref().unchecked_ref();
        let size = ResizeObserver::new(function).ok();
        if let Some(size) = &size {
            size.observe(element);
        }
        let mut heard: Vec<(EventTarget, &'static str)> = Vec::new();
        if let Some(window) = window() {
            if let Ok(Some(query)) = window.match_media(DARK) {
                heard.push((query.into(), "change"));
            }
            // The size of the window changes with the magnification of the page.
            heard.push((window.into(), "resize"));
        }
        heard.retain(|(target, event)| {
            target
                .add_event_listener_with_callback(event, function)
                .is_ok()
        });
        Self {
            changed,
            size,
            heard,
        }
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        if let Some(size) = &self.size {
            size.disconnect();
        }
        let function = self.changed.as_ref().unchecked_ref();
        for (target, event) in &self.heard {
            // A listener that is already gone needs no removing.
            let _ = target.remove_event_listener_with_callback(event, function);
        }
    }
}
