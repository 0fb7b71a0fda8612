//! The sketch that is the form: two views with an input on each dimension line.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::field::TypedField;
use crate::job::{Draft, Field, origins};
use crate::joint::Dimension;
use crate::sheet::Drawing;
use crate::sheet::sketch::{self, View};
use crate::units::write_fixed;
use crate::write::{Ink, SvgName, svg_inline};

/// Elevation and end view, with their inputs.
#[component]
pub fn SketchForm() -> impl IntoView {
    let bench = bench();
    let elevation = view_of(sketch::elevation);
    let end_view = view_of(sketch::end_view);
    view! {
        <section class="sketch" aria-labelledby="sketch-head">
            <h2 id="sketch-head">"Measure"</h2>
            <div class="views">
                <figure class="elevation">
                    <SketchView
                        view=elevation
                        title="Elevation: the joint seen square to both tubes"
                        dimensions=&[Dimension::Branch, Dimension::Wall, Dimension::Main, Dimension::Angle]
                    />
                    <figcaption>"Square to both tubes. Type on the dimensions."</figcaption>
                </figure>
                <figure class="end-view">
                    <SketchView
                        view=end_view
                        title="End view: the joint seen along the main, from the heel side"
                        dimensions=&[Dimension::Offset]
                    />
                    <figcaption>"Along the main, from the heel side. + puts the main to the right."</figcaption>
                </figure>
            </div>
            <p class="origin">{move || bench.typed.with(origins).join(" ")}</p>
        </section>
    }
}

/// A view of the last template that could be drawn.
fn view_of(draw: fn(&crate::piece::Template, usize) -> View) -> Memo<Option<View>> {
    let bench = bench();
    Memo::new(move |_| {
        bench
            .draft
            .get()
            .map(|draft: Arc<Draft>| draw(&draft.template, 0))
    })
}

/// One view: the drawing, and its inputs placed on their dimension lines.
#[component]
fn SketchView(
    /// The drawing and the places of its dimensions.
    view: Memo<Option<View>>,
    /// What it shows, for those who cannot see it.
    title: &'static str,
    /// Dimensions that have an input here, in tab order.
    dimensions: &'static [Dimension],
) -> impl IntoView {
    let bench = bench();
    let svg = Memo::new(move |_| {
        view.with(|view| view.as_ref().map(|view| picture(&view.drawing, title)))
    });
    let place = move |of: Dimension| {
        view.with(|view| {
            let view = view.as_ref()?;
            let (_, at) = view.boxes.iter().find(|(dimension, _)| *dimension == of)?;
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
        <div class="sketch-view" class:stale=move || !bench.is_current()>
            <div class="drawing" inner_html=move || svg.get().unwrap_or_default()></div>
            {dimensions.iter().map(|&of| view! {
                <div class="on-line" class:in-right-half=move || right_half(of) style=move || style(of)>
                    <TypedField field=Field::from(of)/>
                </div>
            }).collect_view()}
        </div>
    }
}

/// A drawing as SVG in the page's ink. A drawing that cannot be written stays away; its rooms
/// promise finite numbers.
pub fn picture(drawing: &Drawing, title: &str) -> String {
    svg_inline(drawing, Ink::Inherited, SvgName::Picture(title)).unwrap_or_default()
}
