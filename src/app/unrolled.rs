//! The joint to look at: the cope unrolled, and the tubes in three dimensions.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, html};
use crate::app::sketch::picture;
use crate::app::view3d::view3d;
use crate::cope::Solid;
use crate::job::joint_in_words;
use crate::sheet::sketch;

/// The cut line laid flat, printed side up. Like the sheets it follows when the hands rest: a
/// keystroke's time is the sketch's.
pub fn unrolled() -> El {
    let bench = bench();
    let svg = move || {
        bench.rested.with(|draft| {
            let Some(draft) = draft else {
                return String::new();
            };
            let drawing = sketch::unrolled(&draft.template, draft.unit);
            picture(
                &drawing,
                "The cope unrolled, printed side up, cut at the top",
            )
        })
    };
    html(r#"<section class="unrolled" aria-labelledby="unrolled-head"><h2 id="unrolled-head">Unrolled</h2></section>"#)
        .class_of("stale", move || !bench.is_current())
        .child(html(r#"<div class="drawing"></div>"#).markup_of(svg))
}

/// The coped branch on its main, to turn round.
pub fn in_space() -> El {
    let bench = bench();
    // Where no graphics processor helps, a picture takes longer than a keystroke may.
    let solid = Memo::new(move |_| {
        bench.rested.get().map(|draft| {
            let cope = draft.template.cope();
            let solid = Solid::new(cope, draft.template.heel_turn());
            bench.gaps.with(|gaps| match gaps {
                Some(gaps) if Arc::ptr_eq(&gaps.of, &draft) => {
                    Arc::new(solid.with_gaps(cope, &gaps.bands))
                }
                _ => Arc::new(solid),
            })
        })
    });
    let description = Memo::new(move |_| {
        bench
            .rested
            .get()
            .map(|draft| joint_in_words(&draft.template, draft.unit))
            .unwrap_or_default()
    });
    html(r#"<section class="in-space" aria-labelledby="space-head"><h2 id="space-head">Turn it round</h2></section>"#)
        .class_of("stale", move || !bench.is_current())
        .child(view3d(solid, description))
}
