//! The form on the bench as a piece of a job. Job and form stand in one history.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, Step};
use crate::job::list::Job;
use crate::job::{History, PieceForm, write_form};

/// Which piece of which job the form is. The job holds the form too.
#[derive(Clone, PartialEq)]
pub struct OnList {
    /// The job.
    pub job: Arc<Job>,
    /// The piece's id.
    pub at: u32,
}

impl Bench {
    /// The job that the form is a piece of.
    pub fn list(self) -> Option<OnList> {
        self.history.with(|history| history.now().list.clone())
    }

    /// The same, once.
    pub fn list_untracked(self) -> Option<OnList> {
        self.history
            .with_untracked(|history| history.now().list.clone())
    }

    /// The link of the piece on the bench, with what is at hand for it.
    pub fn link(self) -> String {
        let hand = self.means.hand_in_link.zip(self.list_untracked());
        let hand = hand.map_or_else(String::new, |(write, list)| write(&list));
        self.form.with_untracked(write_form) + &hand
    }

    /// Hears of every change to the bench.
    pub fn track_list(self) {
        self.history.track();
    }

    /// Changes the job; the form on the bench is the one of the piece it names. Changes of one
    /// text in a row (`text` tells them apart) are one step back, anything else is a step.
    pub fn change_list(self, text: Option<u32>, by: impl FnOnce(Option<OnList>) -> OnList) {
        if text.is_none() {
            self.pause();
        }
        self.history.update(|history| {
            let mut desk = history.now().clone();
            let list = by(desk.list.take());
            if let Some(piece) = list.job.piece(list.at) {
                desk.form = piece.form().clone();
            }
            desk.list = Some(list);
            history.change(desk, Step::List(text));
        });
        if text.is_none() {
            self.pause();
        }
    }

    /// Puts what is on the bench, now and as far back as undo goes, on lists.
    pub fn list_all(self, by: impl Fn(&PieceForm) -> OnList) {
        self.history.update(|history| {
            history.amend(|desk| desk.list = Some(by(&desk.form)));
        });
    }

    /// Changes the job as it stands and everything that can be gone back to, without a step.
    pub fn amend_list(self, by: impl Fn(&OnList) -> OnList) {
        self.history.update(|history| {
            history.amend(|desk| desk.list = desk.list.as_ref().map(&by));
        });
    }

    /// Puts another job on the bench; there is no way back by undo.
    pub fn open_list(self, list: OnList) {
        self.history.update(|history| {
            let mut desk = history.now().clone();
            if let Some(piece) = list.job.piece(list.at) {
                desk.form = piece.form().clone();
            }
            desk.list = Some(list);
            *history = History::new(desk);
        });
    }

    /// Goes to another piece of the job. Looking is no step.
    pub fn look_at(self, at: u32) {
        self.pause();
        self.history.update(|history| {
            history.amend_now(|desk| {
                let piece = desk.list.as_mut().and_then(|list| {
                    list.at = at;
                    list.job.piece(at)
                });
                if let Some(form) = piece.map(|piece| piece.form().clone()) {
                    desk.form = form;
                }
            });
        });
    }
}
