//! Jobs: the list and its operations, pairs and stretching as typed, the file, the link
//! and the blanks.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod any;
mod blanks;
mod damage;
mod file;
mod kit;
mod link;
mod list;
mod pair;
mod stretch;

use copewright::job::{Draft, PieceDraft, PieceForm, PieceProblem, open_form, read, read_piece};
use copewright::piece::Side;

pub fn made(form: &PieceForm) -> Result<PieceDraft, Vec<PieceProblem>> {
    let drafts: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
    read_piece(form, [drafts[0].as_ref(), drafts[1].as_ref()])
}

pub fn of(link: &str) -> PieceForm {
    let opened = open_form(link);
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    opened.form
}
