//! The sketch that is the form: views of the joint with an input on each dimension line.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, html};
use crate::app::field::typed_field;
use crate::app::mains::{mains, more_mains};
use crate::job::{Draft, Field, MainField, MainKind, origins};
use crate::piece::Template;
use crate::sheet::Drawing;
use crate::sheet::sketch::{self, View};
use crate::units::write_fixed;
use crate::write::{Ink, SvgName, svg_inline};

/// A view with the fields that have a box in it.
type Shown = Memo<Option<(View, usize)>>;

/// What the branch sits on, the views of it with their inputs, and the inputs that are on no view.
pub fn sketch_form() -> El {
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
    let bend = move || {
        html(r#"<figure class="bend-view"></figure>"#)
            .child(sketch_view(
                bend_view,
                "The bend in its own plane, with the place where the branch lands",
                on_bend_view,
            ))
            .child(html(
                "<figcaption>The bend, seen square to its plane.</figcaption>",
            ))
    };
    let round = move || {
        html(r#"<figure class="round-view"></figure>"#)
            .child(sketch_view(
                round_view,
                "The joint seen down the branch, with the direction of each main",
                on_round_view,
            ))
            .child(html(
                "<figcaption>Down the branch. Turns grow counter-clockwise from the heel of main 1.</figcaption>",
            ))
    };
    let origin = move || {
        let main = bench.shown_main();
        bench.typed.with(|typed| origins(typed, main).join(" "))
    };
    let under = html(r#"<div class="under"></div>"#)
        .child(inputs(html(r#"<div class="numbers"></div>"#), None, beside))
        .child(more_mains())
        .child(html(r#"<p class="origin"></p>"#).text_of(origin));
    let views = html(r#"<div class="views"></div>"#)
        .class_of("tall", move || kind() == MainKind::Rectangular)
        .child(
            html(r#"<figure class="elevation"></figure>"#)
                .child(sketch_view(
                    elevation,
                    "Elevation: the joint seen square to branch and main",
                    on_elevation,
                ))
                .child(html(
                    "<figcaption>Square to branch and main. Type on the dimensions.</figcaption>",
                )),
        )
        .child(
            html(r#"<figure class="end-view"></figure>"#)
                .child(sketch_view(
                    end_view,
                    "End view: the joint seen along the main, from the heel side",
                    on_end_view,
                ))
                .child(html("<figcaption></figcaption>").text_of(along)),
        )
        .when(move || bend_view.with(Option::is_some), bend)
        .when(move || round_view.with(Option::is_some), round)
        .child(under);
    html(r#"<section class="sketch" aria-labelledby="sketch-head"><h2 id="sketch-head">Measure</h2></section>"#)
        .child(mains())
        .child(views)
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

/// One view: the drawing, what it shows for those who cannot see it, and its inputs placed on their
/// dimension lines, in tab order.
fn sketch_view(view: Shown, title: &'static str, fields: Memo<Vec<Field>>) -> El {
    let bench = bench();
    let svg = move || {
        view.with(|view| {
            let view = view.as_ref();
            view.map_or_else(String::new, |(view, _)| picture(&view.drawing, title))
        })
    };
    let room = html(r#"<div class="sketch-view"></div>"#)
        .class_of("stale", move || !bench.is_current())
        .child(html(r#"<div class="drawing"></div>"#).markup_of(svg));
    inputs(room, Some(view), fields)
}

/// Puts inputs in tab order after what an element holds, on the dimension lines of a view if they
/// belong to one.
fn inputs(room: El, view: Option<Shown>, fields: Memo<Vec<Field>>) -> El {
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
    let input = move |of| {
        html("<div></div>")
            .class_of("on-line", move || view.is_some())
            .class_of("in-right-half", move || right_half(of))
            .style_of(move || style(of))
            .child(typed_field(of, ""))
    };
    room.keyed_of(move || fields.get(), input)
}

/// A drawing as SVG in the page's ink. A drawing that cannot be written stays away; its rooms
/// promise finite numbers.
pub fn picture(drawing: &Drawing, title: &str) -> String {
    svg_inline(drawing, Ink::Inherited, SvgName::Picture(title)).unwrap_or_default()
}
