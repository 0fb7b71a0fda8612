//! The cut line as a table: to look at, to print, to save.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::job::{TABLES, file_name};
use crate::piece::ordinates;
use crate::units::{write_angle, write_bare};
use crate::write;

/// Divisions shown before the user says otherwise; 16 is what trade handbooks use for pipe.
const USUAL: u32 = 16;

/// The table behind a disclosure: nobody needs it while the printer works.
#[component]
pub fn OrdinateTable() -> impl IntoView {
    let bench = bench();
    let divisions = RwSignal::new(USUAL);
    let rows = Memo::new(move |_| {
        bench.draft.get().map(|draft| {
            let write = |length: Option<crate::units::Length>| {
                length.map_or_else(
                    || String::from("beside"),
                    |length| write_bare(length, draft.unit),
                )
            };
            ordinates(&draft.template, divisions.get())
                .into_iter()
                .map(|row| {
                    [
                        write_angle(row.turn),
                        write(Some(row.around)),
                        write(row.from_mark),
                        write(row.from_centre),
                    ]
                })
                .collect::<Vec<_>>()
        })
    });
    let save = move |_| {
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
    view! {
        <details class="ordinates">
            <summary>"No printer near? Mark by hand"</summary>
            <p>
                "Divide the circumference, lay the mark line, and measure each height towards the cut. "
                "Turns grow to the left, seen with the cut at the top."
            </p>
            <div class="row">
                <label for="divisions">"Divisions"</label>
                <select
                    id="divisions"
                    prop:value=move || divisions.get().to_string()
                    on:change:target=move |event| {
                        if let Ok(n) = event.target().value().parse() {
                            divisions.set(n);
                            if printed() {
                                print_along(true);
                            }
                        }
                    }
                >
                    {TABLES.into_iter().map(|n| view! {
                        <option value=n.to_string() selected={n == USUAL}>{n}</option>
                    }).collect_view()}
                </select>
                <button type="button" on:click=save>"Save as CSV"</button>
                <label class="choice">
                    <input
                        type="checkbox"
                        prop:checked=printed
                        on:change:target=move |event| print_along(event.target().checked())
                    />
                    <span>"Print it with the template"</span>
                </label>
            </div>
            <div class="scroll" tabindex="0" role="region" aria-label="Table of heights">
                <table>
                    <thead>
                        <tr>
                            <th scope="col">"Turn from zero line"</th>
                            <th scope="col">"Round from zero line"</th>
                            <th scope="col">"Up from mark line"</th>
                            <th scope="col">"From joint centre"</th>
                        </tr>
                    </thead>
                    <tbody>
                        {move || rows.get().unwrap_or_default().into_iter().map(|[turn, around, mark, centre]| view! {
                            <tr><th scope="row">{turn}</th><td>{around}</td><td>{mark}</td><td>{centre}</td></tr>
                        }).collect_view()}
                    </tbody>
                </table>
            </div>
        </details>
    }
}
