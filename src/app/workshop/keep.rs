//! The job kept in the browser's database, in step with what is on the bench.
//!
//! The database takes its time, and a page that is left does not wait for it: what it has not
//! confirmed by then is set aside in the store, which answers at once; see `resume`.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, OnList};
use crate::app::browser::{self, OpenJob};
use crate::app::dom::follow;
use crate::app::workshop::resume::{Unwritten, set_aside};
use crate::app::workshop::store::{self, Record, Written};
use crate::job::list::{Job, JobPiece, Kit, write_job};
use crate::job::{PieceForm, write_whole_form};
use crate::piece::Side;

/// Something to be said about jobs, with a way back where there is one.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The words.
    pub sentence: String,
    /// A job that was deleted and can be brought back.
    pub deleted: Option<Record>,
}

impl Told {
    /// Words alone.
    pub const fn plain(sentence: String) -> Self {
        Self {
            sentence,
            deleted: None,
        }
    }
}

/// Which record of the database a job is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct As {
    /// Its number; none before it is first written.
    pub id: Option<u32>,
    /// How often it was written.
    pub revision: u32,
}

/// A job waiting to be written.
#[derive(Clone)]
struct Waiting {
    /// Which of the jobs that this page has had on its bench, counted from 0.
    turn: usize,
    title: String,
    text: String,
}

/// Keeps the job; copies are handles to the same signals.
#[derive(Clone, Copy)]
pub struct Keeper {
    bench: Bench,
    /// The records of all jobs that this page has had on its bench; the last one is there now.
    kept_as: StoredValue<Vec<As>>,
    /// The text of the job on the bench that was last written.
    written: StoredValue<String>,
    waiting: StoredValue<Vec<Waiting>>,
    /// The job that is being written.
    under_way: StoredValue<Option<Waiting>>,
    /// Whether the list was asked for, although it has one piece.
    asked: RwSignal<bool>,
    /// The kit that the job on the bench was lent: alone it is no reason to keep the job.
    lent: StoredValue<Kit>,
    /// What there is to say.
    pub told: RwSignal<Vec<Told>>,
    /// Grows when the database has changed.
    pub changes: RwSignal<u32>,
}

impl Keeper {
    pub fn new(bench: Bench) -> Self {
        Self {
            bench,
            kept_as: StoredValue::new(vec![As::default()]),
            written: StoredValue::new(String::new()),
            waiting: StoredValue::new(Vec::new()),
            under_way: StoredValue::new(None),
            asked: RwSignal::new(false),
            lent: StoredValue::new(Kit::none(browser::usual_unit())),
            told: RwSignal::new(Vec::new()),
            changes: RwSignal::new(0),
        }
    }

    /// Keeps the database and the note of what is open in step with the bench.
    pub fn keep(self) {
        let rest = browser::after_rest(move || self.write());
        follow(move || {
            self.bench.track_list();
            self.note();
            rest();
        });
        browser::on_leaving(move || {
            self.write();
            self.set_aside();
        });
    }

    /// Sets aside what the database has not confirmed yet.
    fn set_aside(self) {
        let under_way = self.under_way.get_value();
        let waiting = self.waiting.get_value();
        let unwritten = under_way.into_iter().chain(waiting).map(|one| Unwritten {
            turn: one.turn,
            own: self.own_of(one.turn),
            text: one.text,
        });
        set_aside(unwritten);
    }

    /// Shows the list, although it has one piece.
    pub fn show_list(self) {
        self.asked.set(true);
    }

    /// Whether there is a list to show.
    pub fn has_list(self) -> bool {
        self.asked.get()
            || self
                .bench
                .list()
                .is_some_and(|list| self.is_worth(&list.job))
    }

    /// The job on the bench is this record. It has a list: that it may have but one piece is no
    /// reason to hide its title and its saws.
    pub fn is_kept_as(self, record: &Record) {
        self.asked.set(true);
        self.set_as(
            self.turn(),
            As {
                id: record.id,
                revision: record.revision,
            },
        );
        self.written.set_value(record.text.clone());
    }

    /// The job on the bench was lent a kit.
    pub fn lends(self, kit: Kit) {
        self.lent.set_value(kit);
    }

    /// The number of the job on the bench in the database.
    pub fn id(self) -> Option<u32> {
        self.kept_as
            .with_value(|all| all.last().and_then(|last| last.id))
    }

    /// Which of the jobs that this page has had on its bench is there, counted from 0.
    pub fn turn(self) -> usize {
        self.kept_as.with_value(|all| all.len().saturating_sub(1))
    }

    fn set_as(self, turn: usize, own: As) {
        self.kept_as.update_value(|all| {
            if let Some(there) = all.get_mut(turn) {
                *there = own;
            }
        });
    }

    /// Says something about jobs.
    pub fn tell(self, told: impl IntoIterator<Item = Told>) {
        self.told.update(|all| all.extend(told));
    }

    /// Puts another job on the bench. What was there is kept first: there is no way back by undo.
    pub fn open(self, job: Job, record: Option<&Record>) {
        let pieces = job.pieces();
        self.write_if(|left| {
            let left = left.form();
            // Nobody has typed it, or it comes again.
            *left != PieceForm::usual(left.end(Side::A).unit)
                && pieces.first().is_none_or(|first| first.form() != left)
        });
        // A piece with something to sketch, where there is one.
        let coped = pieces.iter().find(|piece| piece.form().has_cope());
        let Some(at) = coped.or(pieces.first()).map(|piece| piece.id()) else {
            return;
        };
        self.kept_as.update_value(|all| all.push(As::default()));
        self.lends(Kit::none(job.unit()));
        self.written.set_value(String::new());
        self.changes.update(|changes| *changes += 1);
        if let Some(record) = record {
            self.is_kept_as(record);
        }
        self.asked.set(true);
        self.bench.open_list(OnList {
            job: Arc::new(job),
            at,
        });
    }

    /// Notes which job is open, for the next visit.
    fn note(self) {
        let open = self
            .bench
            .list_untracked()
            .filter(|list| self.keeps(&list.job));
        let open = open.and_then(|list| {
            Some(OpenJob {
                id: self.id().unwrap_or_default(),
                at: list.at,
                form: write_whole_form(list.job.piece(list.at)?.form()),
            })
        });
        browser::note_open_job(open.as_ref());
    }

    /// Whether the job is one to keep.
    fn keeps(self, job: &Job) -> bool {
        self.id().is_some() || self.is_worth(job)
    }

    /// Whether the job is more than the one piece that is kept anyway.
    fn is_worth(self, job: &Job) -> bool {
        job.pieces().len() > 1
            || job.pieces().iter().any(|piece| piece.is_done())
            || !job.title().is_empty()
            || !self.lent.with_value(|lent| lent.is_all_of(job))
    }

    /// Writes the job if it has changed.
    fn write(self) {
        self.write_if(|_| false);
    }

    /// Writes the job if it has changed; one of a single piece where that is worth it.
    fn write_if(self, single: impl Fn(&JobPiece) -> bool) {
        let list = self.bench.list_untracked();
        let is_kept = |job: &Job| self.keeps(job) || job.pieces().iter().any(|piece| single(piece));
        let Some(list) = list.filter(|list| is_kept(&list.job)) else {
            return;
        };
        let text = write_job(&list.job);
        if self.written.with_value(|written| *written == text) {
            return;
        }
        self.written.set_value(text.clone());
        let turn = self.turn();
        let title = title_of(&list.job);
        self.waiting.update_value(|waiting| {
            waiting.retain(|older| older.turn != turn);
            waiting.push(Waiting { turn, title, text });
        });
        if self.under_way.with_value(Option::is_none) {
            self.take_next();
            leptos::task::spawn_local(self.write_waiting());
        }
    }

    /// The next job to write is under way, where there is one.
    fn take_next(self) {
        let next = self
            .waiting
            .try_update_value(|waiting| (!waiting.is_empty()).then(|| waiting.remove(0)));
        self.under_way.set_value(next.flatten());
    }

    fn own_of(self, turn: usize) -> As {
        let own = self.kept_as.with_value(|all| all.get(turn).copied());
        own.unwrap_or_default()
    }

    /// Writes what waits, one after the other, so that each knows the revision before it.
    async fn write_waiting(self) {
        while let Some(Waiting { turn, title, text }) = self.under_way.get_value() {
            let As { id, revision } = self.own_of(turn);
            let mut record = Record {
                id,
                title,
                text,
                revision,
                changed: js_sys::Date::now(),
            };
            let mut outcome = store::write(&record).await;
            if matches!(outcome, Ok(Written::Overtaken)) {
                // Both are kept.
                record.id = None;
                if turn == self.turn() {
                    self.part();
                } else {
                    outcome = store::write(&record).await;
                }
            }
            match outcome {
                Ok(Written::As(id, revision)) => {
                    let id = Some(id);
                    self.set_as(turn, As { id, revision });
                }
                Ok(Written::Overtaken) => {}
                Err(_) => self.tell_unkept(),
            }
            self.take_next();
            self.note();
            self.changes.update(|changes| *changes += 1);
        }
    }

    /// Another window has written the job: what is here becomes a job of its own.
    fn part(self) {
        self.set_as(self.turn(), As::default());
        let renamed = |list: &OnList| {
            let title = format!("{}, second copy", title_of(&list.job));
            OnList {
                job: Arc::new(Job::clone(&list.job).with_title(title)),
                at: list.at,
            }
        };
        self.bench.amend_list(renamed);
        // As a new one, and at once: what is here is kept nowhere yet.
        self.write();
        self.tell([Told::plain(String::from(
            "Another window has changed this job too. Its changes stay in the job; what is on this \
             page is kept from now on as a job of its own, named “second copy”.",
        ))]);
    }

    fn tell_unkept(self) {
        self.written.set_value(String::from("?"));
        let sentence = "This browser does not keep jobs (its database is full or blocked). Save the \
                        job as a file before you leave.";
        if !self
            .told
            .with_untracked(|told| told.iter().any(|told| told.sentence == sentence))
        {
            self.tell([Told::plain(String::from(sentence))]);
        }
    }
}

/// What a job is called on the list of jobs.
pub fn title_of(job: &Job) -> String {
    if job.title().trim().is_empty() {
        job.name_at(0)
    } else {
        job.title().trim().to_owned()
    }
}
