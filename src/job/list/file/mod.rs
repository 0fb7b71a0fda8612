//! The job as a file: one readable JSON text. `docs/job-file.schema.json` describes it.
//!
//! A piece is an object whose keys are the share link's, with what is typed as text; every choice
//! and every number that counts is written out, so that a missing one is noticed. Reading never
//! gives up a piece that is still whole: what is damaged is mended where that is sure, left empty
//! where it is not, and told either way.

mod keys;
mod read;
mod salvage;

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::job::AtHand;
use crate::job::list::{Job, JobPiece};

pub use read::{OpenedJob, open_job};

/// Version of the file's keys.
const VERSION: u64 = 1;

/// Key of what is not typed about a piece: whether it is done.
const DONE: &str = "done";

/// The job as it is written; its keys are in this order.
#[derive(Serialize)]
struct Written<'a> {
    version: u64,
    title: &'a str,
    unit: &'a str,
    paper: &'a str,
    printer: &'a str,
    pieces: Vec<WrittenPiece<'a>>,
    at_hand: &'a AtHand,
}

struct WrittenPiece<'a>(&'a JobPiece);

impl Serialize for WrittenPiece<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let pairs = keys::pairs(self.0.form());
        let mut map = serializer.serialize_map(Some(pairs.len() + 1))?;
        for (key, value) in pairs {
            map.serialize_entry(&key, &value)?;
        }
        map.serialize_entry(DONE, &self.0.is_done())?;
        map.end()
    }
}

/// The text of a job's file. The same job has the same text.
#[must_use]
pub fn write_job(job: &Job) -> String {
    let written = Written {
        version: VERSION,
        title: job.title(),
        unit: job.unit().code(),
        paper: job.paper().code(),
        printer: job.printer(),
        pieces: job
            .pieces()
            .iter()
            .map(|piece| WrittenPiece(piece))
            .collect(),
        at_hand: job.at_hand(),
    };
    // Texts and numbers always serialise.
    let mut text = serde_json::to_string_pretty(&written).unwrap_or_default();
    text.push('\n');
    text
}

/// A name for a job's file, safe on every system.
#[must_use]
pub fn job_file_name(job: &Job) -> String {
    let kept: String = job
        .title()
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || c == '-' {
                c
            } else {
                ' '
            }
        })
        .collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    let name = if words.is_empty() {
        String::from("job")
    } else {
        words.join("-")
    };
    format!("{name}.json")
}
