//! The sketch that is the form: views of the joint with an input on each dimension line.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::field::TypedField;
use crate::app::mains::{Mains, MoreMains};
use crate::job::{Draft, Field, MainField, MainKind, origins};
use crate::piece::Template;
use crate::sheet::Drawing;
use crate::sheet::sketch::{self, View};
use crate::units::write_fixed;
use crate::write::{Ink, SvgName, svg_inline};

/// A view with the fields that have a box in it.
type Shown = Memo<Option<(View, usize)>>;

/// What the branch sits on, the views of it with their inputs, and the inputs that are on no view.
#[component]
pub fn SketchForm() -> impl IntoView {
    let bench = bench();
    let elevation = view_of(|template, main| Some(sketch::elevation(template, main)));
    let end_view = view_of(|template, main| Some(sketch::end_view(template, main)));
    let bend_view = view_of(sketch::bend_view);
    let round_view = view_of(sketch::round_view);
    let views = [elevation, end_view, bend_view, round_view];
    // A field has one input: on the first view that has a box for it.
    let boxed = move |before: usize| -> Vec<Field> {
        views
            .iter()
            .take(before)
            .flat_map(|view| view.with(fields_of))
            .collect()
    };
    let on_view = move |index: usize| {
        Memo::new(move |_| {
            let taken = boxed(index);
            let mut own = views
                .get(index)
                .map(|view| view.with(fields_of))
                .unwrap_or_default();
            own.retain(|field| !taken.contains(field));
            own
        })
    };
    let beside = Memo::new(move |_| {
        let boxed = boxed(views.len());
        let main = bench.shown_main();
        bench.typed.with(|typed| {
            // The main's end belongs to the template for the main, and is asked for there.
            let own = MainField::ALL
                .into_iter()
                .filter(|field| *field != MainField::End)
                .map(|field| Field::OfMain(main, field))
                .filter(|field| typed.uses(*field) && typed.text(*field).is_some());
            [Field::Branch, Field::Wall]
                .into_iter()
                .chain(own)
                .filter(|field| !boxed.contains(field))
                .collect::<Vec<_>>()
        })
    });
    let (on_elevation, on_end_view) = (on_view(0), on_view(1));
    let (on_bend_view, on_round_view) = (on_view(2), on_view(3));
    let kind = move || bench.typed.with(|typed| typed.kind(bench.shown_main()));
    let along = move || match kind() {
        MainKind::Plate => "Along the plate, from the heel side.",
        MainKind::Mitre => "Along the cut, from the heel side.",
        _ => "Along the main, from the heel side. + puts the main to the right.",
    };
    // Asked through a memo, so that a view is not made anew whenever its drawing changes.
    let there = |view: Shown| Memo::new(move |_| view.with(Option::is_some));
    let (bends, goes_round) = (there(bend_view), there(round_view));
    view! {
        <section class="sketch" aria-labelledby="sketch-head">
            <h2 id="sketch-head">"Measure"</h2>
            <Mains/>
            <div class="views" class:tall=move || kind() == MainKind::Rectangular>
                <figure class="elevation">
                    <SketchView
                        view=elevation
                        title="Elevation: the joint seen square to branch and main"
                        fields=on_elevation
                    />
                    <figcaption>"Square to branch and main. Type on the dimensions."</figcaption>
                </figure>
                <figure class="end-view">
                    <SketchView
                        view=end_view
                        title="End view: the joint seen along the main, from the heel side"
                        fields=on_end_view
                    />
                    <figcaption>{along}</figcaption>
                </figure>
                {move || bends.get().then(|| view! {
                    <figure class="bend-view">
                        <SketchView
                            view=bend_view
                            title="The bend in its own plane, with the place where the branch lands"
                            fields=on_bend_view
                        />
                        <figcaption>"The bend, seen square to its plane."</figcaption>
                    </figure>
                }.into_any())}
                {move || goes_round.get().then(|| view! {
                    <figure class="round-view">
                        <SketchView
                            view=round_view
                            title="The joint seen down the branch, with the direction of each main"
                            fields=on_round_view
                        />
                        <figcaption>"Down the branch. Turns grow counter-clockwise from the heel of main 1."</figcaption>
                    </figure>
                }.into_any())}
                <div class="under">
                    <div class="numbers">
                        <Inputs view=None fields=beside/>
                    </div>
                    <MoreMains/>
                    <p class="origin">
                        {move || bench.typed.with(|typed| origins(typed, bench.shown_main())).join(" ")}
                    </p>
                </div>
            </div>
        </section>
    }
}

/// The fields that have a box in a view, in tab order: the branch first, then the main as a joint
/// is measured.
fn fields_of(view: &Option<(View, usize)>) -> Vec<Field> {
    let Some((view, main)) = view else {
        return Vec::new();
    };
    let boxed = |field: &Field| {
        view.boxes
            .iter()
            .any(|(of, _)| Field::of(*of, *main) == *field)
    };
    let own = MainField::ALL.map(|field| Field::OfMain(*main, field));
    [Field::Branch, Field::Wall]
        .into_iter()
        .chain(own)
        .filter(boxed)
        .collect()
}

/// A view of the shown main in the last template that could be drawn.
fn view_of(draw: fn(&Template, usize) -> Option<View>) -> Shown {
    let bench = bench();
    Memo::new(move |_| {
        let main = bench.shown_main();
        bench
            .draft
            .get()
            .and_then(|draft: Arc<Draft>| draw(&draft.template, main))
            .map(|view| (view, main))
    })
}

/// One view: the drawing, and its inputs placed on their dimension lines.
#[component]
fn SketchView(
    /// The drawing and the places of its dimensions.
    view: Shown,
    /// What it shows, for those who cannot see it.
    title: &'static str,
    /// Fields that have an input here, in tab order.
    fields: Memo<Vec<Field>>,
) -> impl IntoView {
    let bench = bench();
    let svg = Memo::new(move |_| {
        view.with(|view| view.as_ref().map(|(view, _)| picture(&view.drawing, title)))
    });
    view! {
        <div class="sketch-view" class:stale=move || !bench.is_current()>
            <div class="drawing" inner_html=move || svg.get().unwrap_or_default()></div>
            <Inputs view=Some(view) fields/>
        </div>
    }
}

/// Inputs in tab order, on the dimension lines of a view if they belong to one.
#[component]
fn Inputs(
    /// The drawing and the places of its dimensions.
    view: Option<Shown>,
    /// Which fields.
    fields: Memo<Vec<Field>>,
) -> impl IntoView {
    let place = move |field: Field| {
        view?.with(|view| {
            let (view, main) = view.as_ref()?;
            let (_, at) = view
                .boxes
                .iter()
                .find(|(of, _)| Field::of(*of, *main) == field)?;
            Some((at.x / view.drawing.width, at.y / view.drawing.height))
        })
    };
    let style = move |of| {
        place(of).map(|(x, y)| {
            let (left, top) = (write_fixed(100.0 * x, 3), write_fixed(100.0 * y, 3));
            format!("left:{left}%;top:{top}%")
        })
    };
    // A sentence grows towards the side that has room for it.
    let right_half = move |of| place(of).is_some_and(|(x, _)| x > 0.5);
    view! {
        <For each=move || fields.get() key=|field| *field let:of>
            <div
                class:on-line=view.is_some()
                class:in-right-half=move || right_half(of)
                style=move || style(of)
            >
                <TypedField field=of/>
            </div>
        </For>
    }
}

/// A drawing as SVG in the page's ink. A drawing that cannot be written stays away; its rooms
/// promise finite numbers.
pub fn picture(drawing: &Drawing, title: &str) -> String {
    svg_inline(drawing, Ink::Inherited, SvgName::Picture(title)).unwrap_or_default()
}
