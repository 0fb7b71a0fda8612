//! Checks and cautions in words.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, fill_cells, html};
use crate::job::{Draft, RESPONSIBILITY, facts};

/// What to measure, what to mind, and who answers for the joint.
pub fn checks() -> El {
    let bench = bench();
    let of_draft = move |rows: fn(&Draft) -> Vec<Vec<String>>| {
        move || {
            bench
                .draft
                .with(|draft| draft.as_deref().map(rows).unwrap_or_default())
        }
    };
    let facts = of_draft(|draft| {
        let row = |fact: crate::job::Fact| vec![fact.name.to_owned(), fact.value];
        facts(draft).into_iter().map(row).collect()
    });
    let cautions = of_draft(|draft| {
        let cautions = draft.cautions.iter();
        cautions
            .map(|caution| vec![caution.sentence(draft.unit)])
            .collect()
    });
    html(r#"<section class="checks" aria-labelledby="checks-head"><h2 id="checks-head">Mark and check</h2></section>"#)
        .class_of("stale", move || !bench.is_current())
        .when(
            move || !bench.is_current(),
            || {
                html(
                    r#"<p class="held" role="status">The drawings wait for the number that is marked; they show the last one that worked, or a usual one.</p>"#,
                )
            },
        )
        .child(html("<dl></dl>").rows_of("<div><dt></dt><dd></dd></div>", fill_cells, facts))
        .child(html(r#"<div class="cautions" aria-live="polite"></div>"#).rows_of(
            r#"<p class="caution"><b>Caution. </b><span></span></p>"#,
            fill_cells,
            cautions,
        ))
        .child(html(r#"<p class="responsibility"></p>"#).text(RESPONSIBILITY))
}
