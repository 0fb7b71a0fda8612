//! Paper and printer: what the sheets are printed on, and how to prove that they are true.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::app::dom::{El, fill_text, html, options};
use crate::app::header::print_button;
use crate::app::printer::printer_fields;
use crate::job::Field;
use crate::stock::Paper;

/// Choices about paper, and the printer's own corrections.
pub fn paper_panel() -> El {
    let bench = bench();
    let notes = move || {
        bench.packet.with(|packet| {
            let notes = match packet {
                Ok(packet) => packet.notes.clone(),
                Err(sentence) => vec![sentence.clone()],
            };
            notes.into_iter().map(|note| vec![note]).collect()
        })
    };
    let doubt = browser::print_doubt()
        .map(|doubt| html(r#"<p class="caution"><b>Caution. </b></p>"#).text(doubt));
    let paper = html(r#"<select id="paper" name="paper"></select>"#)
        .children(options(
            Paper::ALL.iter().map(|paper| (paper.code(), paper.name())),
        ))
        .value_of(move || bench.typed.with(|typed| typed.paper.code().to_owned()))
        .on_text("change", move |code| {
            if let Some(paper) = Paper::from_code(&code) {
                bench.change(Field::Paper, |mut typed| {
                    typed.paper = paper;
                    typed
                });
                bench.pause();
            }
        });
    let row = html(r#"<div class="row"></div>"#)
        .child(html(r#"<div class="field"><label for="paper">Paper</label></div>"#).child(paper))
        .children(printer_fields());
    let panel = html(r#"<section class="paper" aria-labelledby="paper-head"><h2 id="paper-head">Print</h2></section>"#)
        .child(row)
        .child(html(concat!(
            r#"<ol class="steps"><li>Print at 100 %, without “fit to page”, on the paper named above.</li>"#,
            "<li>Measure both rulers on the sheet. If one is off, type what it measures here and print again.</li>",
            "<li>Cut out, wrap printed side out, and check that the paper goes round edge to edge.</li></ol>",
        )))
        .children(doubt)
        .child(html(r#"<div class="notes" role="status"></div>"#).rows_of("<p></p>", fill_text, notes));
    print_button(panel)
}
