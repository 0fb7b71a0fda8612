//! The workshop: the page with whole pieces and all that goes with many of them.

mod piece;

use leptos::prelude::*;

use crate::app::bench::{Bench, Means};
use crate::app::dom::{El, html, mount};
use crate::app::handover::{self, Asked};
use crate::app::{checks, choices, header, paper, sheets, sketch, table, unrolled};
use crate::job::{PieceForm, read_piece};

/// Mounts the workshop in place of whatever page of ours there is.
pub fn start_workshop() {
    console_error_panic_hook::set_once();
    let Some(body) = document().body() else {
        return;
    };
    let handed = handover::take_over();
    handover::clear(&body);
    let owner = mount(&body, |body| {
        let means = Means {
            read_piece: Some(read_piece),
        };
        let bench = Bench::open(means, &handed.forms);
        provide_context(bench);
        bench.keep();
        if handed.asked == Some(Asked::Piece) && !bench.form.with_untracked(PieceForm::is_whole) {
            bench.choose_piece(|form| form.as_whole(true));
        }
        page(body);
    });
    // The page lives as long as its document.
    std::mem::forget(owner);
}

/// The whole page.
fn page(body: El) {
    let left = html(r#"<div class="bench-left"></div>"#)
        .child(piece::ends())
        .child(sketch::sketch_form())
        .child(choices::choices())
        .child(piece::whole_piece())
        .child(unrolled::unrolled());
    let right = html(r#"<div class="bench-right"></div>"#)
        .child(checks::checks())
        .child(piece::marks())
        .child(unrolled::in_space());
    let main = header::notices(html(r#"<main class="screen" id="bench"></main>"#))
        .child(
            html(r#"<div class="bench"></div>"#)
                .child(left)
                .child(right),
        )
        .child(table::ordinate_table())
        .child(paper::paper_panel());
    body.child(header::header())
        .child(main)
        .child(sheets::sheets());
}
