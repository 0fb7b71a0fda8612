//! How the end is cut, and the numbers that matter less often.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, html};
use crate::app::field::typed_field;
use crate::cope::CutMethod;
use crate::job::{Field, MainField, MainKind};

/// Method, root gap, zero line, circumference, thickness.
pub fn choices() -> El {
    let bench = bench();
    let flat = move || {
        bench
            .typed
            .with(|typed| matches!(typed.kind(0), MainKind::Plate | MainKind::Mitre))
    };
    let choice = |method: CutMethod| {
        let radio = html(r#"<input type="radio" name="cut">"#)
            .checked_of(move || bench.typed.with(|typed| typed.cut) == method)
            .on("change", move |_| {
                bench.change(Field::Cut, |mut typed| {
                    typed.cut = method;
                    typed
                });
                bench.pause();
            });
        let name = html("<b></b>").text_of(move || words(method, flat()).0);
        let what = html("<span></span>")
            .child(name)
            .text(" ")
            .text_of(move || words(method, flat()).1);
        html(r#"<label class="choice"></label>"#)
            .child(radio)
            .child(what)
    };
    let number = |(field, remark)| typed_field(field, remark);
    html(r#"<section class="choices" aria-labelledby="cut-head"></section>"#)
        .child(
            html(r#"<fieldset><legend id="cut-head">How it is cut</legend></fieldset>"#)
                .children(CutMethod::ALL.into_iter().map(choice)),
        )
        .child(html(r#"<div class="numbers"></div>"#).children(NUMBERS.into_iter().map(number)))
        .child(landing())
        .keyed_of(
            move || {
                let end = Field::OfMain(bench.shown_main(), MainField::End);
                let asked = bench.typed.with(|typed| typed.uses(end));
                asked.then_some(end).into_iter().collect()
            },
            |end| html(r#"<div class="numbers one"></div>"#).child(typed_field(end, END)),
        )
}

/// Whether the template for the main is printed too.
fn landing() -> El {
    let bench = bench();
    let tick = html(r#"<input type="checkbox" name="landing">"#)
        .checked_of(move || bench.typed.with(|typed| typed.landing))
        .on("change", move |event| {
            let landing = event_target_checked(&event);
            bench.change(Field::Landing, |mut typed| {
                typed.landing = landing;
                typed
            });
            bench.pause();
        });
    html(r#"<label class="choice"></label>"#)
        .child(tick)
        .child(html(
            "<span><b>Print a template for the main too</b> Where the branch lands on it, and the \
         hole for flow.</span>",
        ))
}

/// What the distance from the main's end is for.
const END: &str = "From the end on the toe side of the main that the sketch shows, to where the \
    axes of the tubes meet or pass nearest. Empty: the paper is placed by that joint centre.";

/// The numbers that matter less often, each with its remark.
const NUMBERS: [(Field, &str); 4] = [
    (Field::Gap, "Left all round for the weld; 0 is a tight fit."),
    (Field::Turn, "0° puts the zero line on the heel."),
    (
        Field::Girth,
        "Once round the tube with a paper strip. Empty: computed.",
    ),
    (Field::Template, "Copy paper: 0.1 mm or .004 in."),
];

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
