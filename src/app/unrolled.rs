//! The joint to look at: the cope unrolled, and the tubes in three dimensions.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::sketch::picture;
use crate::app::view3d::View3d;
use crate::cope::Solid;
use crate::job::joint_in_words;
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

/// The coped branch on its main, to turn round.
#[component]
pub fn InSpace() -> impl IntoView {
    let bench = bench();
    let solid = Memo::new(move |_| {
        bench.draft.get().map(|draft| {
            Arc::new(Solid::new(
                draft.template.cope(),
                draft.template.heel_turn(),
            ))
        })
    });
    let description = Memo::new(move |_| {
        bench
            .draft
            .get()
            .map(|draft| joint_in_words(&draft.template, draft.unit))
            .unwrap_or_default()
    });
    view! {
        <section class="in-space" class:stale=move || !bench.is_current() aria-labelledby="space-head">
            <h2 id="space-head">"Turn it round"</h2>
            <View3d solid description/>
        </section>
    }
}
