//! The page. No geometry here, and no millimetre computed here.

mod view3d;

use leptos::prelude::*;

pub use view3d::View3d;

/// Mounts the page.
pub fn start() {
    console_error_panic_hook::set_once();
    mount_to_body(|| view! { <h1>"Copewright"</h1> });
}
