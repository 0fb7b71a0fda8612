//! The whole piece: its other end, its length, its bends, and where the marks go.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, fill_cells, html, options};
use crate::app::workshop::after;
use crate::app::workshop::hand::OfWhat;
use crate::job::{
    BENDS_MAX, BendField, EndKind, Measured, PieceField, clashes_in_words, piece_facts,
    seat_in_words,
};
use crate::piece::Side;

/// The buttons that choose the end that the sketch shows, where there is more than one to cope.
pub fn ends() -> El {
    let bench = bench();
    let both = move || {
        bench.form.with(|form| {
            form.is_whole()
                && Side::BOTH
                    .iter()
                    .all(|side| form.kind(*side) == EndKind::Coped)
        })
    };
    let button = move |side: Side| {
        let sits = move || {
            bench.piece.with(|piece| {
                let draft = piece.as_ref()?.as_ref().ok()?;
                let template = draft.piece.end(side).template()?;
                Some(seat_in_words(template.cope().joint().main(), draft.unit))
            })
        };
        html(r#"<button type="button"></button>"#)
            .truth_of("aria-pressed", move || bench.end() == side)
            .on_click(move || bench.show_end(side))
            .text(side.at_start())
            .text_of(move || sits().map_or_else(String::new, |sits| format!(": {sits}")))
    };
    html(r#"<div class="ends"></div>"#).when(both, move || {
        html(r#"<div class="which" role="group" aria-label="End that the sketch shows"></div>"#)
            .children(Side::BOTH.map(button))
    })
}

/// A button that asks for the whole piece; with it, its numbers and where its marks go.
pub fn whole_piece() -> El {
    let bench = bench();
    let whole = move || bench.form.with(|form| form.is_whole());
    let ask = move || {
        let button = html(r#"<button type="button">Add the other end and the length</button>"#)
            .on_click(move || bench.choose_piece(|form| form.as_whole(true)));
        html("<div></div>").child(html(
            r#"<p class="remark">For a whole piece: where each template goes on the tube, and what to check.</p>"#,
        )).child(button)
    };
    html(r#"<section class="whole" aria-labelledby="whole-head"><h2 id="whole-head">Whole piece</h2></section>"#)
        .when(move || !whole(), ask)
        .when(whole, numbers)
}

fn numbers() -> El {
    let bench = bench();
    let kinds = Side::BOTH.map(|side| {
        let id = if side == Side::A { "end-a" } else { "end-b" };
        choice(
            id,
            if side == Side::A {
                "End A is"
            } else {
                "End B is"
            },
            EndKind::ALL.iter().map(|kind| (kind.code(), kind.name())),
            move || bench.form.with(|form| form.kind(side).code()),
            move |code| {
                let kind = EndKind::ALL.into_iter().find(|kind| kind.code() == code);
                if let Some(kind) = kind {
                    bench.choose_piece(|form| form.with_kind(side, kind));
                }
            },
        )
    });
    let measured = choice(
        "measured",
        "Length is",
        Measured::ALL.iter().map(|one| (one.code(), one.name())),
        move || bench.form.with(|form| form.measured().code()),
        move |code| {
            let measured = Measured::ALL.into_iter().find(|one| one.code() == code);
            if let Some(measured) = measured {
                bench.choose_piece(|form| form.with_measured(measured));
            }
        },
    );
    let bends = move || bench.form.with(|form| form.bends());
    let bent = move || bends() > 0;
    let vertices = move || {
        choice(
            "straights",
            "Straights go to",
            [
                ("tangents", "tangent points, where bends begin and end"),
                ("vertices", "vertices, where the straights would meet"),
            ]
            .into_iter(),
            move || {
                let to_vertices = bench.form.with(|form| form.is_to_vertices());
                if to_vertices { "vertices" } else { "tangents" }
            },
            move |code| bench.choose_piece(|form| form.to_vertices(code == "vertices")),
        )
    };
    let of_bends = move || (0..bends()).collect::<Vec<usize>>();
    let bend = |bend: usize| {
        html(r#"<div class="numbers bend"></div>"#)
            .child(html(r#"<h3></h3>"#).text(BENDS[bend.min(BENDS_MAX - 1)]))
            .children(
                BendField::ALL.map(|field| number(PieceField::Bend(bend, field), of_bend(field))),
            )
    };
    let more = html(r#"<button type="button">Add a bend</button>"#)
        .flag_of("disabled", move || bends() == BENDS_MAX)
        .on_click(move || {
            bench.choose_piece(|form| {
                let bends = form.bends();
                form.with_bends(bends + 1)
            })
        });
    let fewer = move || {
        html(r#"<button type="button">Take the last bend away</button>"#).on_click(move || {
            bench.choose_piece(|form| {
                let bends = form.bends();
                form.with_bends(bends.saturating_sub(1))
            });
        })
    };
    let alone = html(r#"<button type="button">Leave the other end out</button>"#)
        .on_click(move || bench.choose_piece(|form| form.as_whole(false)));
    let ends = html(r#"<div class="numbers"></div>"#)
        .children(kinds)
        .child(number(PieceField::Count, ""))
        .child(number(PieceField::Length, ""))
        .child(measured)
        .children([Side::A, Side::B].map(|side| {
            number(
                PieceField::Grip(side),
                "Left beyond the long point for a machine to hold; 0 or empty for none.",
            )
        }));
    html("<div></div>")
        .child(ends)
        .when(bent, move || {
            html(r#"<div class="numbers"></div>"#).child(vertices())
        })
        .child(html("<div></div>").keyed_of(of_bends, bend))
        .child(
            html(r#"<div class="row"></div>"#)
                .child(more)
                .when(bent, fewer)
                .child(alone),
        )
        .child(after::stretch())
        .child(after::remake())
}

/// What bends are called.
const BENDS: [&str; BENDS_MAX] = [
    "Bend 1", "Bend 2", "Bend 3", "Bend 4", "Bend 5", "Bend 6", "Bend 7", "Bend 8",
];

/// What a number of a bend means.
const fn of_bend(field: BendField) -> &'static str {
    match field {
        BendField::Angle => "0° would be straight on.",
        BendField::Radius => "Of the bender’s former, to the tube’s middle.",
        BendField::Outside => "Seen along the tube from end A, clockwise.",
        BendField::Straight => "Up to the next bend, or to end B.",
    }
}

/// A choice from a short list.
fn choice<'a>(
    id: &'static str,
    name: &str,
    all: impl Iterator<Item = (&'a str, &'a str)>,
    now: impl Fn() -> &'static str + 'static,
    choose: impl Fn(String) + 'static,
) -> El {
    let select = html("<select></select>")
        .attr("id", id)
        .children(options(all))
        .value_of(move || now().to_owned())
        .on_text("change", choose);
    html(r#"<div class="field wide"></div>"#)
        .child(html("<label></label>").attr("for", id).text(name))
        .child(select)
}

/// A number of the piece with its name, its remark and what is wrong with it.
fn number(field: PieceField, remark: &'static str) -> El {
    let bench = bench();
    let id = field.key();
    let problem = Memo::new(move |_| bench.problem_of_piece(field).unwrap_or_default());
    let wrong = move || !problem.with(String::is_empty);
    let (problem_id, remark_id) = (format!("{id}-problem"), format!("{id}-remark"));
    let value = Memo::new(move |_| bench.form.with(|form| form.text(field).to_owned()));
    let input = html(
        r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="done">"#,
    )
    .attr("id", &id)
    .attr("name", &id)
    .attr("aria-describedby", &format!("{problem_id} {remark_id}"))
    .truth_of("aria-invalid", wrong)
    .value_of(move || value.get())
    .on_text("input", move |text| bench.typed_of_piece(field, text))
    .on("blur", move |_| bench.pause());
    let name = move || bench.form.with(|form| field.name(form.bends() > 0));
    html(r#"<div class="field"></div>"#)
        .class_of("wrong", wrong)
        .child(html("<label></label>").attr("for", &id).text_of(name))
        .child(input)
        .child(
            html(r#"<p class="problem" aria-live="polite"></p>"#)
                .attr("id", &problem_id)
                .text_of(move || problem.get()),
        )
        .child(
            html(r#"<p class="remark"></p>"#)
                .attr("id", &remark_id)
                .text(remark),
        )
}

/// Lengths, marks and checks of the whole piece, where one is asked for.
pub fn marks() -> El {
    let bench = bench();
    let whole = move || bench.form.with(|form| form.is_whole());
    html("<div></div>").when(whole, results)
}

/// Lengths, marks, checks; and what is in the way of them.
fn results() -> El {
    let bench = bench();
    let of = OfWhat::here();
    let facts = move || {
        bench.piece.with(|piece| match piece {
            Some(Ok(draft)) => {
                let facts = piece_facts(draft, of()).into_iter();
                facts.map(|fact| vec![fact.name, fact.value]).collect()
            }
            _ => Vec::new(),
        })
    };
    let cautions = move || {
        bench.piece.with(|piece| match piece {
            Some(Ok(draft)) => {
                let told = clashes_in_words(draft).into_iter();
                told.map(|sentence| vec![sentence]).collect()
            }
            // What is wrong with a number stands beside it.
            Some(Err(problems)) => problems
                .iter()
                .filter(|problem| problem.field.is_none())
                .map(|problem| vec![problem.sentence.clone()])
                .collect(),
            None => Vec::new(),
        })
    };
    html(r#"<section class="checks" aria-labelledby="marks-head"><h2 id="marks-head">Mark and check the whole piece</h2></section>"#)
        .class_of("stale", move || !bench.is_printable())
        .child(html("<dl></dl>").rows_of("<div><dt></dt><dd></dd></div>", fill_cells, facts))
        .child(
            html(r#"<div class="cautions" aria-live="polite"></div>"#).rows_of(
                r#"<p class="caution"><b>Caution. </b><span></span></p>"#,
                fill_cells,
                cautions,
            ),
        )
}
