//! The list of pieces of a job.

use std::collections::BTreeMap;
use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, OnList, bench};
use crate::app::dom::{El, follow, html};
use crate::app::workshop::jobs;
use crate::app::workshop::keep::Keeper;
use crate::job::PieceForm;
use crate::job::list::{Job, JobPiece, Shown, piece_line};

/// The list, where there is one.
pub fn list() -> El {
    let Some(keeper) = use_context::<Keeper>() else {
        return html("<div></div>");
    };
    let ask = move || {
        html(r#"<p class="row"></p>"#).child(
            html(r#"<button type="button">Start a list of pieces</button>"#)
                .on_click(move || keeper.show_list()),
        )
    };
    html("<div></div>")
        .when(move || keeper.has_list(), move || pieces(keeper))
        .when(move || !keeper.has_list(), ask)
}

fn pieces(keeper: Keeper) -> El {
    let bench = bench();
    let shown = RwSignal::new(Shown::All);
    let job = Memo::new(move |_| bench.list().map(|list| list.job));
    let at = Memo::new(move |_| bench.list().map(|list| list.at));
    let title = html(
        r#"<input id="job-title" type="text" autocomplete="off" maxlength="120" placeholder="skiff trolley">"#,
    )
    .value_of(move || job.with(|job| job.as_ref().map_or_else(String::new, |job| job.title().to_owned())))
    .on_text("input", move |text| {
        change(bench, Some(0), |job, at| (job.with_title(text), at));
    })
    .on("blur", move |_| bench.pause());
    let filter = |which: Shown| {
        let count = move || job.with(|job| job.as_ref().map_or(0, |job| job.shown(which).count()));
        html(r#"<button type="button"></button>"#)
            .truth_of("aria-pressed", move || shown.get() == which)
            .text(which.name())
            .text_of(move || format!(" ({})", count()))
            .on_click(move || shown.set(which))
    };
    let ids = Memo::new(move |_| {
        job.with(|job| {
            let job = job.iter();
            job.flat_map(|job| job.shown(shown.get()).map(|(_, piece)| piece.id()))
                .collect::<Vec<u32>>()
        })
    });
    let rows = Rows::of(bench);
    let row = move |id: u32| piece(bench, rows, id);
    let head = html(r#"<div class="list-head"></div>"#)
        .child(
            html(r#"<div class="name-it"><label for="job-title">Job</label></div>"#).child(title),
        )
        .child(
            html(r#"<div class="which" role="group" aria-label="Pieces shown"></div>"#)
                .children(Shown::ALL.map(filter)),
        );
    let none = || html(r#"<p class="remark">No piece of this kind.</p>"#);
    html(r#"<section class="pieces" aria-labelledby="pieces-head"><h2 id="pieces-head">Pieces</h2></section>"#)
        .child(head)
        .child(html(r#"<ol class="list"></ol>"#).keyed_of(move || ids.get(), row))
        .when(move || ids.with(Vec::is_empty), none)
        .child(actions(bench, at, shown))
        .child(jobs::jobs(keeper))
}

/// What a row shows.
#[derive(Clone, PartialEq)]
struct Row {
    /// Counted from 0.
    place: usize,
    name: String,
    piece: Arc<JobPiece>,
    /// Whether it is the piece on the bench.
    on_bench: bool,
}

/// The rows that are on the list; copies are handles to the same ones. A row hears only of what
/// changes in it: were each to look at the job by itself, every keystroke would wake all of them.
#[derive(Clone, Copy)]
struct Rows(StoredValue<BTreeMap<u32, RwSignal<Option<Row>>>>);

impl Rows {
    /// Rows that follow the job on the bench.
    fn of(bench: Bench) -> Self {
        let rows = Self(StoredValue::new(BTreeMap::new()));
        follow(move || {
            let list = bench.list();
            let Some(OnList { job, at }) = list.as_ref() else {
                return;
            };
            for (place, piece) in job.pieces().iter().enumerate() {
                let known = rows.0.with_value(|rows| rows.get(&piece.id()).copied());
                let Some(known) = known else { continue };
                let on_bench = piece.id() == *at;
                let stays = known.with_untracked(|row| {
                    row.as_ref().is_some_and(|row| {
                        row.place == place
                            && row.on_bench == on_bench
                            && Arc::ptr_eq(&row.piece, piece)
                    })
                });
                if !stays {
                    known.set(Some(Row {
                        place,
                        name: job.name_at(place),
                        piece: Arc::clone(piece),
                        on_bench,
                    }));
                }
            }
        });
        rows
    }

    /// The row of a piece, for as long as whoever asks is there.
    fn row(self, bench: Bench, id: u32) -> RwSignal<Option<Row>> {
        let row = bench.list_untracked().and_then(|OnList { job, at }| {
            let place = job.place_of(id)?;
            Some(Row {
                place,
                name: job.name_at(place),
                piece: Arc::clone(job.piece(id)?),
                on_bench: at == id,
            })
        });
        let row = RwSignal::new(row);
        self.0.update_value(|rows| {
            rows.insert(id, row);
        });
        on_cleanup(move || {
            self.0.try_update_value(|rows| rows.remove(&id));
        });
        row
    }
}

/// A piece on the list: a button that puts it on the bench, and whether it is done.
fn piece(bench: Bench, rows: Rows, id: u32) -> El {
    let own = rows.row(bench, id);
    let with = move |read: fn(&Row) -> String| {
        move || own.with(|own| own.as_ref().map_or_else(String::new, read))
    };
    let is = move |read: fn(&Row) -> bool| move || own.with(|own| own.as_ref().is_some_and(read));
    let done_name = with(|row| format!("{} is done", row.name));
    let done = html(r#"<input type="checkbox">"#)
        .attr_of("aria-label", move || Some(done_name()))
        .checked_of(is(|row| row.piece.is_done()))
        .on("change", move |event| {
            let done = event_target_checked(&event);
            change(bench, None, |job, at| (job.with_done(id, done), at));
        });
    let button = html(r#"<button type="button" class="piece"></button>"#)
        .truth_of("aria-pressed", is(|row| row.on_bench))
        .child(html("<b></b>").text_of(with(|row| format!("{}. {}", row.place + 1, row.name))))
        .child(html("<span></span>").text_of(with(|row| piece_line(row.piece.form()))))
        .on_click(move || bench.look_at(id));
    html(r#"<li></li>"#).child(button).child(
        html(r#"<label class="done"></label>"#)
            .child(done)
            .text("done"),
    )
}

/// What can be done with the piece on the bench.
fn actions(bench: Bench, at: Memo<Option<u32>>, shown: RwSignal<Shown>) -> El {
    let act = move |name: &str, by: fn(Job, u32, Shown) -> (Job, u32)| {
        html(r#"<button type="button"></button>"#)
            .text(name)
            .flag_of("disabled", move || at.get().is_none())
            .on_click(move || {
                let shown = shown.get_untracked();
                change(bench, None, |job, at| by(job, at, shown));
            })
    };
    html(r#"<div class="row" role="group" aria-label="The piece on the bench"></div>"#)
        .child(act("Add a piece", |job, at, _| {
            let form = PieceForm::usual(job.unit()).as_whole(true);
            job.with_added(Some(at), form)
        }))
        .child(act("Same again", |job, at, _| job.with_duplicate(at)))
        .child(act("Add its mirror partner", |job, at, _| {
            job.with_partner(at)
        }))
        .child(act("Move up", |job, at, shown| {
            (job.moved_up(at, shown), at)
        }))
        .child(act("Move down", |job, at, shown| {
            (job.moved_down(at, shown), at)
        }))
        .child(act("Delete", |job, at, _| {
            let place = job.place_of(at).unwrap_or_default();
            let job = job.without(at);
            let last = job.pieces().len().saturating_sub(1);
            let next = job.pieces().get(place.min(last)).map(|piece| piece.id());
            (job, next.unwrap_or(at))
        }))
}

/// Changes the job; `text` as for [`Bench::change_list`].
pub fn change(bench: Bench, text: Option<u32>, by: impl FnOnce(Job, u32) -> (Job, u32)) {
    let form = bench.form.get_untracked();
    bench.change_list(text, |list| {
        let list = list.unwrap_or_else(|| OnList {
            job: Arc::new(Job::of_form(form)),
            at: 1,
        });
        let (job, at) = by(Job::clone(&list.job), list.at);
        OnList {
            job: Arc::new(job),
            at,
        }
    });
}
