//! Paper and printer: what the sheets are printed on, and how to prove that they are true.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::browser;
use crate::app::header::PrintButton;
use crate::app::printer::PrinterPanel;
use crate::job::Field;
use crate::stock::Paper;

/// Choices about paper, and the printer's own corrections.
#[component]
pub fn PaperPanel() -> impl IntoView {
    let bench = bench();
    let notes = Memo::new(move |_| {
        bench.packet.with(|packet| match packet {
            Ok(packet) => packet.notes.clone(),
            Err(sentence) => vec![sentence.clone()],
        })
    });
    let doubt = browser::print_doubt();
    view! {
        <section class="paper" aria-labelledby="paper-head">
            <h2 id="paper-head">"Print"</h2>
            <div class="row">
                <div class="field">
                    <label for="paper">"Paper"</label>
                    <select
                        id="paper"
                        name="paper"
                        prop:value=move || bench.typed.with(|typed| typed.paper.code())
                        on:change:target=move |event| {
                            if let Some(paper) = Paper::from_code(&event.target().value()) {
                                bench.change(Field::Paper, |mut typed| {
                                    typed.paper = paper;
                                    typed
                                });
                                bench.pause();
                            }
                        }
                    >
                        {Paper::ALL.into_iter().map(|paper| view! {
                            <option value=paper.code()>{paper.name()}</option>
                        }).collect_view()}
                    </select>
                </div>
                <PrinterPanel/>
            </div>
            <ol class="steps">
                <li>"Print at 100 %, without “fit to page”, on the paper named above."</li>
                <li>"Measure both rulers on the sheet. If one is off, type what it measures here and print again."</li>
                <li>"Cut out, wrap printed side out, and check that the paper goes round edge to edge."</li>
            </ol>
            {doubt.map(|doubt| view! { <p class="caution"><b>"Caution. "</b>{doubt}</p> })}
            <div class="notes" role="status">
                {move || notes.get().into_iter().map(|note| view! { <p>{note}</p> }).collect_view()}
            </div>
            <PrintButton/>
        </section>
    }
}
