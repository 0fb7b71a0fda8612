//! What the branch sits on: the kind of the main that the sketch shows, and the list of mains.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::app::bench::bench;
use crate::app::dom::{El, html};
use crate::job::{Field, MainField, MainKind, Typed};
use crate::joint::MAINS_MAX;

/// The choice of a kind, and with several mains the row to choose the one that is shown.
pub fn mains() -> El {
    let bench = bench();
    let count = count();
    let kind = move || bench.typed.with(|typed| typed.kind(bench.shown_main()));
    let legend = move || {
        if count.get() > 1 {
            format!(
                "Main {} of {}: the branch sits on",
                bench.shown_main() + 1,
                count.get()
            )
        } else {
            String::from("The branch sits on")
        }
    };
    let choice = |one: MainKind| {
        let radio = html(r#"<input type="radio" name="kind">"#)
            .attr("value", one.code())
            .checked_of(move || kind() == one)
            .on("change", move |_| {
                let main = untrack(move || bench.shown_main());
                bench.pause();
                bench.change(Field::OfMain(main, MainField::Kind), |typed| {
                    typed.with_kind(main, one)
                });
                bench.pause();
            });
        let name = html("<span></span>").text(&capital(one.name()));
        html(r#"<label class="kind"></label>"#)
            .child(radio)
            .child(name)
    };
    let which = move || {
        html(r#"<div class="which" role="group" aria-label="Main that the sketch shows"></div>"#)
            .children_of(move || (0..count.get()).map(which_main).collect())
    };
    let kinds = html(r#"<fieldset class="kinds"></fieldset>"#)
        .child(html("<legend></legend>").text_of(legend))
        .child(
            html(r#"<div class="kind-row"></div>"#).children(MainKind::ALL.into_iter().map(choice)),
        )
        .child(html(r#"<p class="remark"></p>"#).text_of(move || meaning(kind())));
    html(r#"<div class="mains"></div>"#)
        .when(move || count.get() > 1, which)
        .child(kinds)
}

/// How many mains there are. A memo, so that buttons are not made anew at every keystroke.
fn count() -> Memo<usize> {
    let bench = bench();
    Memo::new(move |_| bench.typed.with(Typed::mains))
}

/// Buttons to put the branch on one more main, and to take the shown one away.
pub fn more_mains() -> El {
    let bench = bench();
    let count = count();
    let add = html(r#"<button type="button">Add another main</button>"#);
    let take = html(r#"<button type="button"></button>"#)
        .text_of(move || format!("Take main {} away", bench.shown_main() + 1));
    // A button that goes away must not take the keyboard's place on the page with it.
    let focus = |button: &El| {
        if let Some(button) = button.element().dyn_ref::<HtmlElement>() {
            // A browser that refuses leaves the focus at the page's start.
            let _ = button.focus();
        }
    };
    let other = take.clone();
    let add = add.on_click(move || {
        bench.add_main();
        if count.get_untracked() == MAINS_MAX {
            focus(&other);
        }
    });
    let other = add.clone();
    let take = take.on_click(move || {
        bench.take_main_away(untrack(move || bench.shown_main()));
        if count.get_untracked() == 1 {
            focus(&other);
        }
    });
    html(r#"<div class="row more-mains"></div>"#)
        .when(move || count.get() < MAINS_MAX, move || add.clone())
        .when(move || count.get() > 1, move || take.clone())
}

/// The button that shows one of several mains; it says when a number of that main is wrong.
fn which_main(main: usize) -> El {
    let bench = bench();
    let name = move || bench.typed.with(|typed| typed.kind(main).name());
    let wrong = move || {
        bench.problems.with(|problems| {
            problems
                .iter()
                .any(|problem| matches!(problem.field, Field::OfMain(of, _) if of == main))
        })
    };
    html(r#"<button type="button"></button>"#)
        .class_of("wrong", wrong)
        .truth_of("aria-pressed", move || bench.shown_main() == main)
        .on_click(move || bench.show_main(main))
        .text_of(move || format!("Main {}: {}", main + 1, name()))
        .text_of(move || if wrong() { ", a number is wrong" } else { "" })
}

/// What has to be known before measuring a main of some kind.
const fn meaning(kind: MainKind) -> &'static str {
    match kind {
        MainKind::Round => "",
        MainKind::Plate => "The angle is between the branch and the plate.",
        MainKind::Mitre => {
            "Both tubes are cut on the plane that halves the angle between them; 180° is in line."
        }
        MainKind::Rectangular => {
            "Section turned: 0° a flat face towards the branch, 45° a corner. Without a corner \
             radius it is taken from the wall."
        }
        MainKind::Bent => {
            "Angle and offset are measured against the main where the branch lands. From mid-bend \
             is along the bend’s centre line, growing to the heel side. Bend turned 180°: the \
             branch lands outside the bend; 0°: inside; 90°: the bend goes to the + side."
        }
    }
}

/// A name at the start of a line.
fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
