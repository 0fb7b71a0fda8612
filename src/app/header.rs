//! The head of the page: name of the template, undo, unit, link, print.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::app::dom::{El, fill_text, html, options};
use crate::app::handover::OfferFiles;
use crate::job::Field;
use crate::units::Unit;

/// The bar at the top.
pub fn header() -> El {
    let bench = bench();
    let copied = RwSignal::new(None::<bool>);
    let copy = move || {
        let address = browser::page_address(&bench.link());
        browser::copy(&address, move |done| copied.set(Some(done)));
    };
    let told = move || match copied.get() {
        None => "",
        Some(true) => "Link copied. It holds every number on this page.",
        Some(false) => "This browser does not let the page copy. The address bar holds the link.",
    };
    let label = html(
        r#"<input id="label" name="label" type="text" autocomplete="off" maxlength="80" placeholder="upright, left">"#,
    )
    .value_of(move || {
        bench
            .typed
            .with(|typed| typed.text(Field::Label).unwrap_or_default().to_owned())
    })
    .on_text("input", move |text| bench.typed_text(Field::Label, text))
    .on("blur", move |_| bench.pause());
    let unit = html(r#"<select id="unit" name="unit"></select>"#)
        .children(options(
            Unit::ALL.iter().map(|unit| (unit.code(), unit.label())),
        ))
        .value_of(move || bench.typed.with(|typed| typed.unit.code().to_owned()))
        .on_text("change", move |code| {
            if let Some(unit) = Unit::from_code(&code) {
                bench.set_unit(unit);
            }
        });
    let undo = html(r#"<button type="button">Undo</button>"#)
        .flag_of("disabled", move || !bench.steps().0)
        .on_click(move || bench.undo());
    let redo = html(r#"<button type="button">Redo</button>"#)
        .flag_of("disabled", move || !bench.steps().1)
        .on_click(move || bench.redo());
    let copy = html(r#"<button type="button">Copy link</button>"#).on_click(copy);
    html(r#"<header class="screen masthead"><h1>Copewright</h1></header>"#)
        .child(html(r#"<div class="name-it"><label for="label">Label</label></div>"#).child(label))
        .child(
            html(r#"<div class="name-it"><label for="unit">Numbers in</label></div>"#).child(unit),
        )
        .child(print_button(
            html(r#"<div class="actions"></div>"#).children([undo, redo, copy]),
        ))
        .child(html(r#"<p class="told" role="status"></p>"#).text_of(told))
}

/// Puts the button that prints what the sheets show after what an element holds.
pub fn print_button(room: El) -> El {
    let bench = bench();
    let refused = RwSignal::new(false);
    let button = html(r#"<button type="button" class="print">Print</button>"#)
        .flag_of("disabled", move || {
            !bench.is_printable()
                || (bench.packet.with(Result::is_err) && bench.instead.with(Option::is_none))
        })
        .on_click(move || bench.print(move |done| refused.set(!done)));
    room.child(button).when(
        move || refused.get(),
        || html(r#"<span role="alert">This browser cannot print. Open the link on a computer.</span>"#),
    )
}

/// Puts what has to be said about the visit itself after what an element holds.
pub fn notices(room: El) -> El {
    let bench = bench();
    let doubt = browser::print_doubt().map(|doubt| {
        let said = html(r#"<p class="caution doubt"><b>Before you print. </b></p>"#).text(doubt);
        match use_context::<OfferFiles>() {
            // A file is printed by something else than this browser.
            Some(OfferFiles(open)) => said.text(" ").child(
                html(r#"<button type="button">Save a PDF instead</button>"#)
                    .on_click(move || open.run(())),
            ),
            None => said,
        }
    });
    let told = move || {
        let notices = bench.notices.get();
        notices.into_iter().map(|notice| vec![notice]).collect()
    };
    let understood = move || {
        html(r#"<button type="button">Understood</button>"#)
            .on_click(move || bench.notices.set(Vec::new()))
    };
    room.children(doubt).child(
        html(r#"<div class="notices" role="status"></div>"#)
            .rows_of("<p></p>", fill_text, told)
            .when(move || !bench.notices.with(Vec::is_empty), understood),
    )
}
