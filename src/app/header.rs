//! The head of the page: name of the template, undo, unit, link, print.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::job::{Field, write_link};
use crate::units::Unit;

/// The bar at the top.
#[component]
pub fn Header() -> impl IntoView {
    let bench = bench();
    let copied = RwSignal::new(None::<bool>);
    let copy = move |_| {
        let address = browser::page_address(&bench.typed.with_untracked(write_link));
        browser::copy(&address, move |done| copied.set(Some(done)));
    };
    let told = move || match copied.get() {
        None => "",
        Some(true) => "Link copied. It holds every number on this page.",
        Some(false) => "This browser does not let the page copy. The address bar holds the link.",
    };
    view! {
        <header class="screen masthead">
            <h1>"Copewright"</h1>
            <div class="name-it">
                <label for="label">"Label"</label>
                <input
                    id="label"
                    name="label"
                    type="text"
                    autocomplete="off"
                    maxlength="80"
                    placeholder="upright, left"
                    prop:value=move || {
                        bench.typed.with(|typed| typed.text(Field::Label).unwrap_or_default().to_owned())
                    }
                    on:input:target=move |event| {
                        bench.typed_text(Field::Label, event.target().value());
                    }
                    on:blur=move |_| bench.pause()
                />
            </div>
            <div class="name-it">
                <label for="unit">"Numbers in"</label>
                <select
                    id="unit"
                    name="unit"
                    on:change:target=move |event| {
                        if let Some(unit) = Unit::from_code(&event.target().value()) {
                            bench.set_unit(unit);
                        }
                    }
                    prop:value=move || bench.typed.with(|typed| typed.unit.code())
                >
                    {Unit::ALL.into_iter().map(|unit| view! {
                        <option value=unit.code()>{unit.label()}</option>
                    }).collect_view()}
                </select>
            </div>
            <div class="actions">
                <button type="button" disabled=move || !bench.steps().0 on:click=move |_| bench.undo()>
                    "Undo"
                </button>
                <button type="button" disabled=move || !bench.steps().1 on:click=move |_| bench.redo()>
                    "Redo"
                </button>
                <button type="button" on:click=copy>"Copy link"</button>
                <PrintButton/>
            </div>
            <p class="told" role="status">{told}</p>
        </header>
    }
}

/// The button that prints what the sheets show.
#[component]
pub fn PrintButton() -> impl IntoView {
    let bench = bench();
    let refused = RwSignal::new(false);
    view! {
        <button
            type="button"
            class="print"
            disabled=move || !bench.is_current() || bench.packet.with(Result::is_err)
            on:click=move |_| refused.set(!browser::print())
        >
            "Print"
        </button>
        {move || refused.get().then(|| view! {
            <span role="alert">"This browser cannot print. Open the link on a computer."</span>
        }.into_any())}
    }
}

/// What has to be said about the visit itself.
#[component]
pub fn Notices() -> impl IntoView {
    let bench = bench();
    view! {
        {browser::print_doubt().map(|doubt| view! {
            <p class="caution doubt"><b>"Before you print. "</b>{doubt}</p>
        })}
        <div class="notices" role="status">
            {move || bench.notices.get().into_iter().map(|notice| view! { <p>{notice}</p> }).collect_view()}
            {move || (!bench.notices.with(Vec::is_empty)).then(|| view! {
                <button type="button" on:click=move |_| bench.notices.set(Vec::new())>
                    "Understood"
                </button>
            }.into_any())}
        </div>
    }
}
