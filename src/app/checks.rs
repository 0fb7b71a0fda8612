//! Checks and cautions in words.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::job::{RESPONSIBILITY, facts};

/// What to measure, what to mind, and who answers for the joint.
#[component]
pub fn Checks() -> impl IntoView {
    let bench = bench();
    let cautions = move || {
        bench.draft.get().map(|draft| {
            draft
                .cautions
                .iter()
                .map(|caution| caution.sentence(draft.unit))
                .collect::<Vec<_>>()
        })
    };
    let rows = move || bench.draft.get().map(|draft| facts(&draft));
    view! {
        <section class="checks" class:stale=move || !bench.is_current() aria-labelledby="checks-head">
            <h2 id="checks-head">"Mark and check"</h2>
            {move || (!bench.is_current()).then(|| view! {
                <p class="held" role="status">
                    "The drawings wait for the number that is marked; they show the last one that worked, or a usual one."
                </p>
            }.into_any())}
            <dl>
                {move || rows().unwrap_or_default().into_iter().map(|fact| view! {
                    <div><dt>{fact.name}</dt><dd>{fact.value}</dd></div>
                }).collect_view()}
            </dl>
            <div class="cautions" aria-live="polite">
                {move || cautions().unwrap_or_default().into_iter().map(|sentence| view! {
                    <p class="caution"><b>"Caution. "</b>{sentence}</p>
                }).collect_view()}
            </div>
            <p class="responsibility">{RESPONSIBILITY}</p>
        </section>
    }
}
