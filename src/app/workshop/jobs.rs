//! The jobs that are kept: open another, start one, take one out as a file, bring one in.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlInputElement};

use crate::app::bench::{Bench, bench};
use crate::app::browser;
use crate::app::dom::{El, follow, html};
use crate::app::workshop::keep::{Keeper, Told, title_of};
use crate::app::workshop::kit::OwnKit;
use crate::app::workshop::store::{self, Record};
use crate::job::list::{Job, demo, job_file_name, open_job, write_job, write_job_link};
use crate::units::Unit;

/// What there is to say about jobs, until it is understood.
pub fn told() -> El {
    let Some(keeper) = use_context::<Keeper>() else {
        return html("<div></div>");
    };
    let line = move |told: Told| {
        let line = html("<p></p>").text(&told.sentence).text(" ");
        match told.deleted.clone() {
            Some(record) => line.child(
                html(r#"<button type="button">Bring it back</button>"#).on_click(move || {
                    let (record, told) = (record.clone(), told.clone());
                    leptos::task::spawn_local(async move {
                        if store::write(&record).await.is_ok() {
                            keeper.told.update(|all| all.retain(|one| *one != told));
                        }
                        keeper.changes.update(|changes| *changes += 1);
                    });
                }),
            ),
            None => line,
        }
    };
    let understood = move || {
        html(r#"<button type="button">Understood</button>"#)
            .on_click(move || keeper.told.set(Vec::new()))
    };
    html(r#"<div class="notices" role="status"></div>"#)
        .children_of(move || keeper.told.get().into_iter().map(line).collect())
        .when(move || !keeper.told.with(Vec::is_empty), understood)
}

/// The kept jobs behind a disclosure, and what can be done with the one on the bench.
pub fn jobs(keeper: Keeper) -> El {
    let bench = bench();
    let own = use_context::<OwnKit>();
    let kept = RwSignal::new(Vec::<Record>::new());
    follow(move || {
        keeper.changes.track();
        leptos::task::spawn_local(async move {
            // Where there is no database there is nothing kept.
            kept.set(store::all().await.unwrap_or_default());
        });
    });
    // Made anew only where they differ: a job is written while a finger goes for its button.
    let rows = Memo::new(move |_| {
        keeper.changes.track();
        let here = keeper.id();
        let row = |record: &Record| (record.id, record.title.clone(), record.id == here);
        kept.with(|kept| kept.iter().map(row).collect::<Vec<_>>())
    });
    let row = move |(id, title, is_here): (Option<u32>, String, bool)| {
        let row = html(r#"<li class="row"></li>"#).child(html("<b></b>").text(&title));
        if is_here {
            return row.text(" is on the bench");
        }
        row.child(
            html(r#"<button type="button">Open</button>"#)
                .attr("aria-label", &format!("Open {title}"))
                .on_click(move || {
                    with_record(id, kept, move |record| open_record(keeper, &record));
                }),
        )
        .child(
            html(r#"<button type="button">Delete</button>"#)
                .attr("aria-label", &format!("Delete {title}"))
                .on_click(move || with_record(id, kept, move |record| delete(keeper, record))),
        )
    };
    let file = html(r#"<input type="file" id="job-file" accept=".json,application/json">"#)
        .on("change", move |event| bring_in(keeper, &event));
    let actions = html(r#"<div class="row"></div>"#)
        .child(button("Start another job", move || {
            let job = another(bench, own);
            keeper.open(job, None);
        }))
        .child(button("Save the job as a file", move || {
            if let Some(list) = bench.list_untracked() {
                let name = job_file_name(&list.job);
                browser::save(&name, "application/json", &write_job(&list.job));
            }
        }))
        .child(button("Copy a link to the job", move || {
            let Some(list) = bench.list_untracked() else {
                return;
            };
            let address = browser::page_address("");
            match write_job_link(&list.job, &address) {
                Ok(link) => browser::copy(&[address.as_str(), &link].concat(), move |done| {
                    let told = if done {
                        "Link to the whole job copied, with all that is at hand."
                    } else {
                        "This browser does not let the page copy. Save the job as a file."
                    };
                    keeper.tell([Told::plain(String::from(told))]);
                }),
                Err(sentence) => keeper.tell([Told::plain(sentence)]),
            }
        }))
        .child(html(r#"<label class="file" for="job-file">Open a job file </label>"#).child(file));
    let examples = html(r#"<div class="row"></div>"#)
        .child(button("See an example in millimetres", move || {
            keeper.open(demo(Unit::Millimetre), None);
        }))
        .child(button("See an example in inches", move || {
            keeper.open(
                demo(Unit::Fraction(crate::units::Denominator::Sixteenth)),
                None,
            );
        }));
    // Another window may have written jobs since.
    let look = move |_| keeper.changes.update(|changes| *changes += 1);
    html(r#"<details class="jobs"><summary>Jobs and files</summary></details>"#)
        .on("toggle", look)
        .child(actions)
        .child(examples)
        .child(html("<ul></ul>").children_of(move || rows.get().into_iter().map(row).collect()))
}

fn button(name: &str, act: impl Fn() + 'static) -> El {
    html(r#"<button type="button"></button>"#)
        .text(name)
        .on_click(act)
}

/// A new job with the stock and the material of this one, and the user's saws.
fn another(bench: Bench, own: Option<OwnKit>) -> Job {
    let Some(list) = bench.list_untracked() else {
        return Job::usual(browser::usual_unit());
    };
    let job = Job::usual(list.job.unit())
        .with_paper(list.job.paper())
        .with_at_hand(list.job.at_hand().for_another_job());
    match own {
        Some(own) => own.given_to(job),
        None => job,
    }
}

/// Acts on a job as the database has it now: another window may have written it since it was listed.
fn with_record(id: Option<u32>, listed: RwSignal<Vec<Record>>, act: impl Fn(Record) + 'static) {
    let Some(number) = id else { return };
    leptos::task::spawn_local(async move {
        let now = store::read(number).await.ok().flatten();
        let listed = || {
            let record = |listed: &Vec<Record>| listed.iter().find(|one| one.id == id).cloned();
            listed.with_untracked(record)
        };
        if let Some(record) = now.or_else(listed) {
            act(record);
        }
    });
}

fn open_record(keeper: Keeper, record: &Record) {
    match open_job(&record.text) {
        Ok(opened) => {
            keeper.open(opened.job, Some(record));
            keeper.tell(opened.told.into_iter().map(Told::plain));
            keeper.changes.update(|changes| *changes += 1);
        }
        Err(sentence) => keeper.tell([Told::plain(sentence)]),
    }
}

fn delete(keeper: Keeper, record: Record) {
    let Some(id) = record.id else { return };
    leptos::task::spawn_local(async move {
        if store::delete(id).await.is_ok() {
            keeper.tell([Told {
                sentence: format!("“{}” is deleted.", record.title),
                deleted: Some(record),
            }]);
        }
        keeper.changes.update(|changes| *changes += 1);
    });
}

/// Opens a file as a job of its own; what is on the bench is kept.
fn bring_in(keeper: Keeper, event: &Event) {
    let input = event
        .target()
        .and_then(|target| target.dyn_into::<HtmlInputElement>().ok());
    let Some(input) = input else { return };
    let Some(file) = input.files().and_then(|files| files.item(0)) else {
        return;
    };
    let name = file.name();
    leptos::task::spawn_local(async move {
        let text = wasm_bindgen_futures::JsFuture::from(file.text()).await;
        let text = text.ok().and_then(|text| text.as_string());
        // The same file can be chosen again.
        input.set_value("");
        match text.as_deref().map(open_job) {
            Some(Ok(opened)) => {
                let title = title_of(&opened.job);
                let told = opened.told.into_iter();
                keeper.open(opened.job, None);
                keeper.tell(told.map(|told| Told::plain(format!("{name}: {told}"))));
                keeper.tell([Told::plain(format!("“{title}” is opened from {name}."))]);
            }
            Some(Err(sentence)) => keeper.tell([Told::plain(format!("{name}: {sentence}"))]),
            None => keeper.tell([Told::plain(format!(
                "{name} cannot be read by this browser."
            ))]),
        }
    });
}
