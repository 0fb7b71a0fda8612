//! The cut line as a table: to look at, to print, to save.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::app::dom::{El, fill_cells, html};
use crate::job::{TABLES, file_name};
use crate::piece::ordinates;
use crate::units::{Length, write_angle, write_bare};
use crate::write;

/// Divisions shown before the user says otherwise; 16 is what trade handbooks use for pipe.
const USUAL: u32 = 16;

/// The table behind a disclosure: nobody needs it while the printer works.
pub fn ordinate_table() -> El {
    let bench = bench();
    let divisions = RwSignal::new(USUAL);
    let rows = move || {
        bench.rested.with(|draft| {
            let Some(draft) = draft else {
                return Vec::new();
            };
            let write = |length: Option<Length>| {
                length.map_or_else(
                    || String::from("beside"),
                    |length| write_bare(length, draft.unit),
                )
            };
            ordinates(&draft.template, divisions.get())
                .into_iter()
                .map(|row| {
                    vec![
                        write_angle(row.turn),
                        write(Some(row.around)),
                        write(row.from_mark),
                        write(row.from_centre),
                    ]
                })
                .collect()
        })
    };
    let save = move || {
        if let Some(draft) = bench.draft.get_untracked() {
            let table = ordinates(&draft.template, divisions.get_untracked());
            if let Ok(csv) = write::csv(&table) {
                browser::save(&file_name(&draft, "csv"), "text/csv", &csv);
            }
        }
    };
    let printed = move || bench.kept.with(|kept| kept.table.is_some());
    let print_along = move |on: bool| {
        bench.settings(|kept| kept.table = on.then(|| divisions.get_untracked()));
    };
    let choice = html(r#"<select id="divisions"></select>"#)
        .children(TABLES.into_iter().map(|n| {
            let n = n.to_string();
            html("<option></option>").attr("value", &n).text(&n)
        }))
        .value_of(move || divisions.get().to_string())
        .on_text("change", move |text| {
            if let Ok(n) = text.parse() {
                divisions.set(n);
                if printed() {
                    print_along(true);
                }
            }
        });
    let along = html(r#"<input type="checkbox">"#)
        .checked_of(printed)
        .on("change", move |event| {
            print_along(event_target_checked(&event))
        });
    let row = html(r#"<div class="row"><label for="divisions">Divisions</label></div>"#)
        .child(choice)
        .child(html(r#"<button type="button">Save as CSV</button>"#).on_click(save))
        .child(
            html(r#"<label class="choice"></label>"#)
                .child(along)
                .child(html("<span>Print it with the template</span>")),
        );
    let head = html(concat!(
        r#"<table><thead><tr><th scope="col">Turn from zero line</th><th scope="col">Round from zero line</th>"#,
        r#"<th scope="col">Up from mark line</th><th scope="col">From joint centre</th></tr></thead></table>"#,
    ));
    let body = html("<tbody></tbody>").rows_of(
        r#"<tr><th scope="row"></th><td></td><td></td><td></td></tr>"#,
        fill_cells,
        rows,
    );
    html(concat!(
        r#"<details class="ordinates"><summary>No printer near? Mark by hand</summary>"#,
        "<p>Divide the circumference, lay the mark line, and measure each height towards the cut. ",
        "Turns grow to the left, seen with the cut at the top.</p></details>",
    ))
    .child(row)
    .child(
        html(r#"<div class="scroll" tabindex="0" role="region" aria-label="Table of heights"></div>"#)
            .child(head.child(body)),
    )
}
