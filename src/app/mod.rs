//! The page. No geometry here, and no millimetre computed here.
//!
//! The sketch is the form: its dimensions are inputs. Everything else on the page is a memo of
//! what is typed, in the order of the rooms.

mod bench;
mod browser;
mod checks;
mod choices;
mod dom;
mod field;
mod header;
mod mains;
mod packet;
mod paper;
mod piece;
mod printer;
mod sheets;
mod sketch;
mod table;
mod unrolled;

mod view3d;

use leptos::prelude::*;

use crate::app::dom::{El, html};

pub use bench::Bench;
pub use dom::mount;
pub use view3d::view3d;

/// Mounts the page in place of the loading line.
pub fn start() {
    console_error_panic_hook::set_once();
    browser::remove_loading_line();
    if let Some(body) = document().body() {
        // The page lives as long as its document.
        std::mem::forget(mount(&body, page));
    }
}

/// The whole page.
fn page(body: El) {
    let bench = Bench::open();
    provide_context(bench);
    bench.keep();
    let left = html(r#"<div class="bench-left"></div>"#)
        .child(piece::ends())
        .child(sketch::sketch_form())
        .child(choices::choices())
        .child(piece::whole_piece())
        .child(unrolled::unrolled());
    let right = html(r#"<div class="bench-right"></div>"#)
        .child(checks::checks())
        .child(piece::marks())
        .child(unrolled::in_space());
    let main = header::notices(html(r#"<main class="screen" id="bench"></main>"#))
        .child(
            html(r#"<div class="bench"></div>"#)
                .child(left)
                .child(right),
        )
        .child(table::ordinate_table())
        .child(paper::paper_panel());
    body.child(header::header())
        .child(main)
        .child(sheets::sheets());
}
