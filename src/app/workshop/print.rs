//! What is printed: the piece on the bench, or the whole job with the parts that are chosen.

use leptos::prelude::*;

use crate::app::bench::{Bench, Instead, bench};
use crate::app::browser;
use crate::app::dom::{El, fill_text, follow, html};
use crate::app::workshop::code::CodeAddress;
use crate::app::workshop::keep::Keeper;
use crate::app::workshop::office::{Answer, Office, Progress};
use crate::app::workshop::worker::{Make, Request, SleeveInMm};
use crate::job::list::write_job;
use crate::piece::SleeveSizes;
use crate::sheet::packet::Parts;

/// What the sheets show; copies are handles to the same choice.
#[derive(Clone, Copy)]
pub struct Shown {
    /// Whether they show the whole job.
    pub whole: RwSignal<bool>,
    /// Which parts of it.
    pub parts: RwSignal<Parts>,
}

impl Shown {
    /// The piece alone.
    pub fn new() -> Self {
        Self {
            whole: RwSignal::new(false),
            parts: RwSignal::new(Parts::USUAL),
        }
    }
}

/// A request for the worker with everything as it stands; none without a list.
pub fn request(bench: Bench, shown: Shown, make: Make) -> Option<Request> {
    let list = bench.list_untracked()?;
    let kept = bench.kept.get_untracked();
    Some(Request {
        job: write_job(&list.job),
        at: list.at,
        printer: kept.printer().clone(),
        date: browser::today(),
        address: browser::page_address(""),
        code_address: String::new(),
        parts: Parts {
            tables: kept.table,
            ..shown.parts.get_untracked()
        },
        sleeve: SleeveInMm::of(&SleeveSizes::default()),
        make,
    })
}

/// What is printed of a job.
#[derive(Clone, Copy)]
struct Print {
    bench: Bench,
    /// Whether the whole job is.
    whole: RwSignal<bool>,
    parts: RwSignal<Parts>,
    code: Option<CodeAddress>,
    /// What came with the sheets, or why there are none.
    notes: RwSignal<Vec<String>>,
    office: Office,
    /// Whether everything that changed since has been asked for.
    asked: StoredValue<bool>,
}

/// The choice, where there is a list.
pub fn what_to_print(shown: Shown) -> El {
    let Some(keeper) = use_context::<Keeper>() else {
        return html("<div></div>");
    };
    let bench = bench();
    let notes = RwSignal::new(Vec::new());
    let asked = StoredValue::new(false);
    let office = Office::new(move |answer| match answer {
        Answer::Sheets {
            pages,
            notes: told,
            overtaken,
        } => {
            notes.set(told);
            if bench.instead.with_untracked(Option::is_some) {
                // Sheets of a moment ago are worth a look, but not to be printed.
                let current = asked.get_value() && !overtaken;
                bench.instead.set(Some(Instead { pages, current }));
            }
        }
        Answer::File { .. } => {}
        Answer::Refused(sentence) => notes.set(vec![sentence]),
    });
    let print = Print {
        bench,
        whole: shown.whole,
        parts: shown.parts,
        code: use_context::<CodeAddress>(),
        notes,
        office,
        asked,
    };
    print.keep_laid_out();
    html("<div></div>").when(move || keeper.has_list(), move || print.panel())
}

impl Print {
    /// Has the job laid out again, some time after it has changed.
    fn keep_laid_out(self) {
        let rest = browser::after_rest(move || {
            if self.whole.get_untracked() {
                self.ask();
            }
        });
        // Looking at another piece changes nothing of the print.
        let job = Memo::new(move |_| self.bench.list().map(|list| list.job));
        follow(move || {
            job.track();
            self.bench.kept.track();
            self.parts.track();
            if let Some(code) = self.code {
                code.track();
            }
            if self.whole.get() {
                self.asked.set_value(false);
                // What is shown is of before; it stays until the new sheets come.
                let instead = self.bench.instead;
                let current = |instead: &Option<Instead>| instead.as_ref().map(|own| own.current);
                if instead.with_untracked(current) != Some(false) {
                    instead.update(|instead| {
                        let own = instead.get_or_insert_with(|| Instead {
                            pages: Default::default(),
                            current: false,
                        });
                        own.current = false;
                    });
                }
                rest();
            } else if self.bench.instead.with_untracked(Option::is_some) {
                // Told at every keystroke, the sheets would be drawn anew at every keystroke.
                self.bench.instead.set(None);
            }
        });
    }

    fn ask(self) {
        let shown = Shown {
            whole: self.whole,
            parts: self.parts,
        };
        let Some(request) = request(self.bench, shown, Make::Sheets) else {
            return;
        };
        self.asked.set_value(true);
        let request = Request {
            code_address: self
                .code
                .map(CodeAddress::get_untracked)
                .unwrap_or_default(),
            ..request
        };
        self.office
            .ask(serde_json::to_string(&request).unwrap_or_default());
    }

    fn panel(self) -> El {
        let choice = move |whole: bool, name: &str, what: &str| {
            html(r#"<label class="choice"></label>"#)
                .child(
                    html(r#"<input type="radio" name="what-to-print">"#)
                        .checked_of(move || self.whole.get() == whole)
                        .on("change", move |_| self.whole.set(whole)),
                )
                .child(
                    html("<span></span>")
                        .child(html("<b></b>").text(name))
                        .text(" ")
                        .text(what),
                )
        };
        let working = move || self.office.progress.get() != Progress::Idle;
        html(r#"<section class="paper" aria-labelledby="what-head"><h2 id="what-head">What to print</h2></section>"#)
            .child(choice(false, "This piece", "The one on the bench."))
            .child(choice(
                true,
                "The whole job",
                "All pieces in one go: fewer sheets, and lists for saws and stock.",
            ))
            .when(move || self.whole.get(), move || self.parts())
            .when(working, move || self.progress())
            .child(
                html(r#"<div class="notes" role="status"></div>"#).rows_of(
                    "<p></p>",
                    fill_text,
                    move || {
                        let notes = self.notes.get();
                        let shown = self.whole.get();
                        notes.into_iter().filter(|_| shown).map(|note| vec![note]).collect()
                    },
                ),
            )
    }

    fn parts(self) -> El {
        let part = move |name: &str, of: fn(&mut Parts) -> &mut bool| {
            html(r#"<label class="choice"></label>"#)
                .child(
                    html(r#"<input type="checkbox">"#)
                        .checked_of(move || *of(&mut self.parts.get()))
                        .on("change", move |event| {
                            let on = event_target_checked(&event);
                            self.parts.update(|parts| *of(parts) = on);
                        }),
                )
                .child(html("<span></span>").text(name))
        };
        html(r#"<div class="row" role="group" aria-label="Parts of the print"></div>"#)
            .child(part("Contents and bank card", |parts| &mut parts.contents))
            .child(part("Cut list", |parts| &mut parts.cut_list))
            .child(part("Run list", |parts| &mut parts.run_list))
            .child(part("Templates", |parts| &mut parts.templates))
            .child(part("Templates for the mains", |parts| &mut parts.landings))
            .child(part("Sheet of each piece", |parts| &mut parts.piece_sheets))
            .child(part("Left and right compared", |parts| {
                &mut parts.comparison
            }))
    }

    fn progress(self) -> El {
        let so_far = move || match self.office.progress.get() {
            Progress::Idle | Progress::At(_, 0) => String::from("Laying the job out …"),
            Progress::At(done, of) => format!("Laying the job out: {done} of {of} …"),
        };
        html(r#"<p class="row" role="status"></p>"#)
            .child(html("<span></span>").text_of(so_far))
            .child(
                html(r#"<button type="button">Stop</button>"#).on_click(move || {
                    self.office.stop();
                    self.whole.set(false);
                }),
            )
    }
}
