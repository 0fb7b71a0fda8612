//! The unrolled cope and the view in three dimensions.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::sketch::picture;
use crate::sheet::sketch;

/// The cut line laid flat, printed side up.
#[component]
pub fn Unrolled() -> impl IntoView {
    let bench = bench();
    let svg = Memo::new(move |_| {
        bench.draft.get().map(|draft| {
            let drawing = sketch::unrolled(&draft.template, draft.unit);
            picture(
                &drawing,
                "The cope unrolled, printed side up, cut at the top",
            )
        })
    });
    view! {
        <section class="unrolled" class:stale=move || !bench.is_current() aria-labelledby="unrolled-head">
            <h2 id="unrolled-head">"Unrolled"</h2>
            <div class="drawing" inner_html=move || svg.get().unwrap_or_default()></div>
        </section>
    }
}
