//! The sheets: on screen exactly as they will print, and the only thing that prints.

use leptos::prelude::*;
use web_sys::Element;

use crate::app::bench::bench;
use crate::app::browser;
use crate::app::dom::{El, follow, html};
use crate::sheet::Drawing;
use crate::write::{self, Ink, SvgName, svg_inline};

/// Every page of the packet.
pub fn sheets() -> El {
    let bench = bench();
    let pages = move || {
        if let Some(instead) = bench.instead.get() {
            return instead
                .pages
                .iter()
                .map(|page| vec![page.clone()])
                .collect();
        }
        bench.packet.with(|packet| {
            let Ok(packet) = packet else {
                return Vec::new();
            };
            let count = packet.pages.len();
            let pages = packet.pages.iter().enumerate();
            pages
                .map(|(index, page)| vec![sheet(page, index + 1, count)])
                .collect()
        })
    };
    // A rule or a property of the whole page has every element styled anew: only for another paper.
    let paper = Memo::new(move |_| {
        bench
            .draft
            .with(|draft| draft.as_ref().map(|draft| draft.paper))
    });
    follow(move || {
        if let Some(paper) = paper.get() {
            browser::set_page_rule(&write::page_rule(paper));
            let (width, height) = write::page_box(paper);
            browser::set_root_property("--paper-width", &width);
            browser::set_root_property("--paper-height", &height);
        }
    });
    // A template of numbers that are no longer on the page must not reach the shop.
    html(concat!(
        r#"<section class="sheets" aria-label="Sheets as they will print"><p class="not-printed">"#,
        "Not printed: a number on the page cannot be used. Mend it and print again.</p></section>",
    ))
    .class_of("stale", move || !bench.is_printable())
    .truth_of("aria-busy", move || {
        bench.instead.with(Option::is_none) && bench.rest.is_awaited()
    })
    .rows_of(r#"<div class="page"></div>"#, fill_page, pages)
}

/// Fills a page box with its SVG.
fn fill_page(page: &Element, svg: &[String]) {
    page.set_inner_html(&svg.concat());
}

/// One sheet as SVG, black as on paper.
fn sheet(page: &Drawing, number: usize, count: usize) -> String {
    let name = format!("Sheet {number} of {count}, as it will print");
    svg_inline(page, Ink::Black, SvgName::Picture(&name)).unwrap_or_default()
}
