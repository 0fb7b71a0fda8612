//! What comes after: a piece made longer or shorter, and a finished one that measures wrong.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, fill_cells, fill_text, html, options};
use crate::app::workshop::hand::OfWhat;
use crate::job::list::{PieceReading, stretched_form};
use crate::job::{Measure, PieceDraft, PieceForm, piece_facts, remake_in_words};
use crate::stock::Material;
use crate::units::write_length;

/// A piece before and after, or why there is none after.
type Sides = Result<(PieceForm, Vec<Vec<String>>), String>;

/// Makes the piece longer or shorter: before and after side by side until it is accepted.
pub fn stretch() -> El {
    let bench = bench();
    let by = RwSignal::new(String::new());
    let straight = RwSignal::new(0_usize);
    let of = OfWhat::here();
    let sides = Memo::new(move |_| {
        let typed = by.get();
        if typed.trim().is_empty() {
            return None;
        }
        Some(bench.form.with(|form| {
            bench.piece.with(|piece| {
                let Some(Ok(piece)) = piece else {
                    return Err(String::from("Mend the piece first."));
                };
                compared(form, piece, straight.get().min(form.bends()), &typed, of())
            })
        }))
    });
    let problem = move || {
        sides.with(|sides| match sides {
            Some(Err(sentence)) => sentence.clone(),
            _ => String::new(),
        })
    };
    let rows = move || {
        sides.with(|sides| match sides {
            Some(Ok((_, rows))) => rows.clone(),
            _ => Vec::new(),
        })
    };
    let is_ready = move || sides.with(|sides| matches!(sides, Some(Ok(_))));
    let accept = move || {
        let form = sides.with_untracked(|sides| match sides {
            Some(Ok((form, _))) => Some(form.clone()),
            _ => None,
        });
        if let Some(form) = form {
            bench.choose_piece(|_| form);
            by.set(String::new());
        }
    };
    let input = html(
        r#"<input id="stretch-by" type="text" autocomplete="off" autocapitalize="off" spellcheck="false" data-own-undo aria-describedby="stretch-problem">"#,
    )
    .truth_of("aria-invalid", move || !problem().is_empty())
    .value_of(move || by.get())
    .on_text("input", move |text| by.set(text));
    let bends = move || bench.form.with(PieceForm::bends);
    let which = move || {
        let names: Vec<(String, String)> = (0..=bends())
            .map(|at| (at.to_string(), straight_name(at, bends())))
            .collect();
        let select = html(r#"<select id="stretch-at"></select>"#)
            .children(options(
                names
                    .iter()
                    .map(|(code, name)| (code.as_str(), name.as_str())),
            ))
            .value_of(move || straight.get().min(bends()).to_string())
            .on_text("change", move |code| {
                straight.set(code.parse().unwrap_or(0))
            });
        html(r#"<div class="field wide"><label for="stretch-at">In which straight</label></div>"#)
            .child(select)
    };
    let table = move || {
        let accept =
            html(r#"<button type="button">Take the new lengths</button>"#).on_click(accept);
        let leave = html(r#"<button type="button">Leave it as it was</button>"#)
            .on_click(move || by.set(String::new()));
        let head = html(
            r#"<table class="sides"><thead><tr><th scope="col">Length or mark</th><th scope="col">Before</th><th scope="col">After</th></tr></thead></table>"#,
        );
        html("<div></div>")
            .child(head.child(html("<tbody></tbody>").rows_of(
                r#"<tr><th scope="row"></th><td></td><td></td></tr>"#,
                fill_cells,
                rows,
            )))
            .child(
                html(r#"<div class="row"></div>"#)
                    .child(accept)
                    .child(leave),
            )
    };
    html(r#"<details class="after"><summary>Make it longer or shorter</summary></details>"#)
        .child(
            html(r#"<div class="numbers"></div>"#)
                .child(
                    html(r#"<div class="field"><label for="stretch-by">Longer by</label></div>"#)
                        .child(input)
                        .child(
                            html(r#"<p class="problem" id="stretch-problem" aria-live="polite"></p>"#)
                                .text_of(problem),
                        )
                        .child(html(r#"<p class="remark">Below 0 shorter.</p>"#)),
                )
                .when(move || bends() > 0, which),
        )
        .when(is_ready, table)
}

fn straight_name(at: usize, bends: usize) -> String {
    match at {
        0 => String::from("end A to bend 1"),
        _ if at == bends => format!("bend {bends} to end B"),
        _ => format!("bend {at} to bend {}", at + 1),
    }
}

/// The stretched form, and its facts beside those of now where they differ.
fn compared(
    form: &PieceForm,
    before: &PieceDraft,
    straight: usize,
    by: &str,
    of: &Material,
) -> Sides {
    let after = stretched_form(form, straight, by).map_err(|problem| problem.sentence)?;
    let reading = PieceReading::of(&after);
    let Some(draft) = reading.piece else {
        return Err(reading.problems.into_iter().next().unwrap_or_default());
    };
    let after_facts = piece_facts(&draft, of);
    let rows = piece_facts(before, of).into_iter().zip(after_facts);
    let rows = rows
        .filter(|(before, after)| before.value != after.value)
        .map(|(before, after)| vec![before.name, before.value, after.value])
        .collect();
    Ok((after, rows))
}

/// A finished piece measured again: which mark is off, and whether the tube can be saved.
pub fn remake() -> El {
    let bench = bench();
    let measured = RwSignal::new([const { String::new() }; 4]);
    let outcome = Memo::new(move |_| {
        bench.piece.with(|piece| match piece {
            Some(Ok(piece)) => measured.with(|measured| remake_in_words(piece, measured)),
            _ => None,
        })
    });
    let field = move |at: usize, measure: Measure| {
        let id = format!("measured-{at}");
        let problem = move || {
            outcome.with(|outcome| match outcome {
                Some(Err((Some(wrong), sentence))) if *wrong == measure => sentence.clone(),
                _ => String::new(),
            })
        };
        let should_be = move || {
            bench.piece.with(|piece| match piece {
                Some(Ok(piece)) => {
                    let length = measure.should_be(piece);
                    format!("Should be {}.", write_length(length, piece.unit))
                }
                _ => String::new(),
            })
        };
        let input = html(
            r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" data-own-undo>"#,
        )
        .attr("id", &id)
        .truth_of("aria-invalid", move || !problem().is_empty())
        .value_of(move || measured.with(|measured| measured[at].clone()))
        .on_text("input", move |text| {
            measured.update(|measured| measured[at] = text);
        });
        html(r#"<div class="field"></div>"#)
            .child(
                html("<label></label>")
                    .attr("for", &id)
                    .text(measure.name()),
            )
            .child(input)
            .child(html(r#"<p class="problem" aria-live="polite"></p>"#).text_of(problem))
            .child(html(r#"<p class="remark"></p>"#).text_of(should_be))
    };
    let said = move || {
        let said = outcome.with(|outcome| match outcome {
            None => vec![String::from(
                "Type two of them at least, as the tape reads.",
            )],
            Some(Ok(said)) => said.clone(),
            Some(Err((None, sentence))) => vec![sentence.clone()],
            Some(Err((Some(_), _))) => Vec::new(),
        });
        said.into_iter().map(|sentence| vec![sentence]).collect()
    };
    html(r#"<details class="after"><summary>A finished piece measures wrong</summary></details>"#)
        .child(
            html(r#"<div class="numbers even"></div>"#).children(
                Measure::ALL
                    .into_iter()
                    .enumerate()
                    .map(|(at, measure)| field(at, measure)),
            ),
        )
        .child(
            html(r#"<div class="notes" role="status"></div>"#).rows_of("<p></p>", fill_text, said),
        )
}
