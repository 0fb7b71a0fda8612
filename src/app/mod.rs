//! The page. No geometry here, and no millimetre computed here.
//!
//! The sketch is the form: its dimensions are inputs. Everything else on the page is a memo of
//! what is typed, in the order of the rooms.

mod bench;
mod browser;
mod checks;
mod choices;
mod field;
mod header;
mod mains;
mod paper;
mod printer;
mod sheets;
mod sketch;
mod table;
mod unrolled;

mod view3d;

use leptos::prelude::*;

pub use bench::Bench;
pub use view3d::View3d;

/// Mounts the page in place of the loading line.
pub fn start() {
    console_error_panic_hook::set_once();
    browser::remove_loading_line();
    mount_to_body(App);
}

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    let bench = Bench::open();
    provide_context(bench);
    bench.keep();
    view! {
        <header::Header/>
        <main class="screen" id="bench">
            <header::Notices/>
            <div class="bench">
                <div class="bench-left">
                    <sketch::SketchForm/>
                    <choices::Choices/>
                    <unrolled::Unrolled/>
                </div>
                <div class="bench-right">
                    <checks::Checks/>
                    <unrolled::InSpace/>
                </div>
            </div>
            <table::OrdinateTable/>
            <paper::PaperPanel/>
        </main>
        <sheets::Sheets/>
    }
}
