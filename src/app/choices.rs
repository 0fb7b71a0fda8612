//! How the end is cut, and the numbers that matter less often.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::field::TypedField;
use crate::cope::CutMethod;
use crate::job::{Field, MainField, MainKind};

/// Method, root gap, zero line, circumference, thickness.
#[component]
pub fn Choices() -> impl IntoView {
    let bench = bench();
    let chosen = move || bench.typed.with(|typed| typed.cut);
    let flat = move || {
        bench
            .typed
            .with(|typed| matches!(typed.kind(0), MainKind::Plate | MainKind::Mitre))
    };
    // A memo, so that the input is not made anew at every keystroke.
    let end = Memo::new(move |_| {
        let end = Field::OfMain(bench.shown_main(), MainField::End);
        bench.typed.with(|typed| typed.uses(end)).then_some(end)
    });
    view! {
        <section class="choices" aria-labelledby="cut-head">
            <fieldset>
                <legend id="cut-head">"How it is cut"</legend>
                {CutMethod::ALL.into_iter().map(|method| {
                    let name = move || words(method, flat()).0;
                    let what = move || words(method, flat()).1;
                    view! {
                        <label class="choice">
                            <input
                                type="radio"
                                name="cut"
                                prop:checked=move || chosen() == method
                                on:change=move |_| {
                                    bench.change(Field::Cut, |mut typed| {
                                        typed.cut = method;
                                        typed
                                    });
                                    bench.pause();
                                }
                            />
                            <span><b>{name}</b>" "{what}</span>
                        </label>
                    }
                }).collect_view()}
            </fieldset>
            <div class="numbers">
                <TypedField field=Field::Gap remark="Left all round for the weld; 0 is a tight fit."/>
                <TypedField field=Field::Turn remark="0° puts the zero line on the heel."/>
                <TypedField field=Field::Girth remark="Once round the tube with a paper strip. Empty: computed."/>
                <TypedField field=Field::Template remark="Copy paper: 0.1 mm or .004 in."/>
            </div>
            <label class="choice">
                <input
                    type="checkbox"
                    name="landing"
                    prop:checked=move || bench.typed.with(|typed| typed.landing)
                    on:change:target=move |event| {
                        let landing = event.target().checked();
                        bench.change(Field::Landing, |mut typed| {
                            typed.landing = landing;
                            typed
                        });
                        bench.pause();
                    }
                />
                <span>
                    <b>"Print a template for the main too"</b>
                    " Where the branch lands on it, and the hole for flow."
                </span>
            </label>
            {move || end.get().map(|field| view! {
                <div class="numbers">
                    <TypedField
                        field
                        remark="Along the main, from its end on the toe side. Empty: the paper is placed by the joint centre."
                    />
                </div>
            }.into_any())}
        </section>
    }
}

/// A method's name and what it means for the line; a flat main is cut with a straight saw.
const fn words(method: CutMethod, flat: bool) -> (&'static str, &'static str) {
    match method {
        CutMethod::Saw if flat => (
            "Straight saw through the tube",
            "The line is where the outside of the branch meets the plane.",
        ),
        CutMethod::Square => (
            "Grinder, square to the wall",
            "The line clears the whole wall, bore edge included.",
        ),
        CutMethod::Saw => (
            "Hole saw along the main",
            "The line is where the outside of the branch meets the main.",
        ),
        CutMethod::Bore => (
            "Bore edge seats, bevel after",
            "For thick wall: cut square, then bevel down to the bore edge.",
        ),
    }
}
