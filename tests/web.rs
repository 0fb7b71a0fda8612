//! The page inside a real browser, without the site round it.
#![cfg(target_arch = "wasm32")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests fail by panicking"
)]

#[path = "web/view3d.rs"]
mod view3d;

use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

#[wasm_bindgen_test]
fn page_mounts_with_its_heading() {
    copewright::app::start();
    let document = web_sys::window().unwrap().document().unwrap();
    let heading = document.query_selector("h1").unwrap().unwrap();
    assert_eq!(heading.text_content().as_deref(), Some("Copewright"));
}
