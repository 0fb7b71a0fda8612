//! The sheets: on screen exactly as they will print, and the only thing that prints.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::sheet::Drawing;
use crate::write::{self, Ink, SvgName, svg_inline};

/// Every page of the packet.
#[component]
pub fn Sheets() -> impl IntoView {
    let bench = bench();
    let pages = Memo::new(move |_| {
        bench.packet.with(|packet| {
            let packet = packet.as_ref().ok()?;
            let count = packet.pages.len();
            Some(
                packet
                    .pages
                    .iter()
                    .enumerate()
                    .map(|(index, page)| sheet(page, index + 1, count))
                    .collect::<Vec<_>>(),
            )
        })
    });
    let paper = Memo::new(move |_| {
        bench
            .draft
            .with(|draft| draft.as_ref().map(|draft| draft.paper))
    });
    Effect::new(move |_| {
        if let Some(paper) = paper.get() {
            browser::set_page_rule(&write::page_rule(paper));
            let (width, height) = write::page_box(paper);
            browser::set_root_property("--paper-width", &width);
            browser::set_root_property("--paper-height", &height);
        }
    });
    view! {
        <section class="sheets" class:stale=move || !bench.is_current() aria-label="Sheets as they will print">
            // A template of numbers that are no longer on the page must not reach the shop.
            <p class="not-printed">
                "Not printed: a number on the page cannot be used. Mend it and print again."
            </p>
            {move || pages.get().unwrap_or_default().into_iter().map(|svg| view! {
                <div class="page" inner_html=svg></div>
            }).collect_view()}
        </section>
    }
}

/// One sheet as SVG, black as on paper.
fn sheet(page: &Drawing, number: usize, count: usize) -> String {
    let name = format!("Sheet {number} of {count}, as it will print");
    svg_inline(page, Ink::Black, SvgName::Picture(&name)).unwrap_or_default()
}
