//! What the branch sits on: the kind of the main that the sketch shows, and the list of mains.

use leptos::html::Button;
use leptos::prelude::*;

use crate::app::bench::bench;
use crate::job::{Field, MainField, MainKind, Typed};
use crate::joint::MAINS_MAX;

/// The choice of a kind, and with several mains the row to choose the one that is shown.
#[component]
pub fn Mains() -> impl IntoView {
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
    view! {
        <div class="mains">
            {move || (count.get() > 1).then(|| view! {
                <div class="which" role="group" aria-label="Main that the sketch shows">
                    {move || (0..count.get()).map(|main| view! { <WhichMain main/> }).collect_view()}
                </div>
            }.into_any())}
            <fieldset class="kinds">
                <legend>{legend}</legend>
                <div class="kind-row">
                    {MainKind::ALL.into_iter().map(|one| view! {
                        <label class="kind">
                            <input
                                type="radio"
                                name="kind"
                                value=one.code()
                                prop:checked=move || kind() == one
                                on:change=move |_| {
                                    let main = untrack(move || bench.shown_main());
                                    bench.pause();
                                    bench.change(Field::OfMain(main, MainField::Kind), |typed| {
                                        typed.with_kind(main, one)
                                    });
                                    bench.pause();
                                }
                            />
                            <span>{capital(one.name())}</span>
                        </label>
                    }).collect_view()}
                </div>
                <p class="remark">{move || meaning(kind())}</p>
            </fieldset>
        </div>
    }
}

/// How many mains there are. A memo, so that buttons are not made anew at every keystroke.
fn count() -> Memo<usize> {
    let bench = bench();
    Memo::new(move |_| bench.typed.with(Typed::mains))
}

/// Buttons to put the branch on one more main, and to take the shown one away.
#[component]
pub fn MoreMains() -> impl IntoView {
    let bench = bench();
    let count = count();
    let (add, take) = (NodeRef::<Button>::new(), NodeRef::<Button>::new());
    // A button that goes away must not take the keyboard's place on the page with it.
    let focus = |button: NodeRef<Button>| {
        if let Some(button) = button.get_untracked() {
            // A browser that refuses leaves the focus at the page's start.
            let _ = button.focus();
        }
    };
    let add_main = move |_| {
        bench.add_main();
        if count.get_untracked() == MAINS_MAX {
            focus(take);
        }
    };
    let take_away = move |_| {
        bench.take_main_away(untrack(move || bench.shown_main()));
        if count.get_untracked() == 1 {
            focus(add);
        }
    };
    view! {
        <div class="row more-mains">
            {move || (count.get() < MAINS_MAX).then(|| view! {
                <button type="button" node_ref=add on:click=add_main>"Add another main"</button>
            }.into_any())}
            {move || (count.get() > 1).then(|| view! {
                <button type="button" node_ref=take on:click=take_away>
                    {move || format!("Take main {} away", bench.shown_main() + 1)}
                </button>
            }.into_any())}
        </div>
    }
}

/// The button that shows one of several mains; it says when a number of that main is wrong.
#[component]
fn WhichMain(main: usize) -> impl IntoView {
    let bench = bench();
    let name = move || bench.typed.with(|typed| typed.kind(main).name());
    let wrong = move || {
        bench.problems.with(|problems| {
            problems
                .iter()
                .any(|problem| matches!(problem.field, Field::OfMain(of, _) if of == main))
        })
    };
    view! {
        <button
            type="button"
            class:wrong=wrong
            aria-pressed=move || (bench.shown_main() == main).to_string()
            on:click=move |_| bench.show_main(main)
        >
            {move || format!("Main {}: {}", main + 1, name())}
            {move || wrong().then_some(", a number is wrong")}
        </button>
    }
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
