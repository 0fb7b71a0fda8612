//! How the end is cut, and the numbers that matter less often.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::field::TypedField;
use crate::cope::CutMethod;
use crate::job::{Field, MainKind};

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
