//! A job in a share link, as long as it is short enough for one.
//!
//! The first piece is a link of its own, as ever: a page that knows no jobs opens it and ignores
//! the rest. Behind it stand the job's title and the keys of each further piece with its number
//! before them (`2-angle=45`), without what is the job's, and then what is at hand.

use percent_encoding::utf8_percent_encode;

use crate::job::form::{open_form, write_form};
use crate::job::link::ESCAPED;
use crate::job::list::Job;
use crate::job::list::hand_link::{HAND, read_hand, write_hand};
use crate::units::Unit;

/// Longest link, in characters, its address included: what chat and mail programs pass on whole
/// (common practice, no source).
pub const LINK_MAX: usize = 2000;

/// Most pieces that are looked for in a link.
const PIECES_MAX: usize = 100;

/// Key of the job's title.
const TITLE: &str = "job";

/// A job's link read.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedJobLink {
    /// The job; of one piece where the link has no more.
    pub job: Job,
    /// What in the link could not be used, and which piece it belongs to.
    pub problems: Vec<String>,
    /// Set when the link was made by a newer version.
    pub newer: Option<String>,
}

/// The fragment of a job, without the leading `#`. `address` is what stands before the fragment,
/// the `#` included.
///
/// # Errors
/// A sentence with the numbers, when the whole link would be longer than [`LINK_MAX`].
pub fn write_job_link(job: &Job, address: &str) -> Result<String, String> {
    short_enough(job, address, pieces(job) + &write_hand(job.at_hand()))
}

/// The same without what is at hand: what a sheet needs to open its job again.
///
/// # Errors
/// As for [`write_job_link`].
pub fn write_pieces_link(job: &Job, address: &str) -> Result<String, String> {
    short_enough(job, address, pieces(job))
}

fn pieces(job: &Job) -> String {
    let mut pieces = job.pieces().iter();
    let mut link = pieces
        .next()
        .map_or_else(String::new, |piece| write_form(piece.form()));
    if !job.title().trim().is_empty() {
        link.push('&');
        link.push_str(TITLE);
        link.push('=');
        link.extend(utf8_percent_encode(job.title().trim(), ESCAPED));
    }
    for (number, piece) in pieces.enumerate() {
        let own = write_form(piece.form());
        for pair in own.split('&').filter(|pair| !is_of_job(pair)) {
            link.push_str(&format!("&{}-{pair}", number + 2));
        }
    }
    link
}

fn short_enough(job: &Job, address: &str, link: String) -> Result<String, String> {
    let long = address.chars().count() + link.chars().count();
    if long > LINK_MAX {
        let count = job.pieces().len();
        return Err(format!(
            "The link of {} would have {long} characters; links of more than {LINK_MAX} are often \
             cut off on the way. Share the job as a file, or one piece at a time.",
            if count == 1 {
                String::from("this piece")
            } else {
                format!("these {count} pieces")
            }
        ));
    }
    Ok(link)
}

/// Whether a pair is the same in every piece.
fn is_of_job(pair: &str) -> bool {
    ["v=", "unit=", "paper="]
        .iter()
        .any(|key| pair.starts_with(key))
}

/// Whether a fragment holds more than a piece: a title, a second piece, or something at hand.
#[must_use]
pub fn is_job_link(fragment: &str) -> bool {
    let pairs = fragment.trim_start_matches('#').split('&');
    let mut keys = pairs
        .filter_map(|pair| pair.split_once('='))
        .map(|(key, _)| key);
    keys.any(|key| key == TITLE || key.starts_with("2-") || key.starts_with(HAND))
}

/// Reads a fragment, with or without its leading `#`: of a job, of a piece, or of one end.
#[must_use]
pub fn open_job_link(fragment: &str) -> OpenedJobLink {
    let fragment = fragment.trim().trim_start_matches('#');
    let first = open_form(fragment);
    let mut problems = first.problems;
    let mut job = Job::of_form(first.form);
    let unit: Unit = job.unit();
    let pairs: Vec<(String, String)> = form_urlencoded::parse(fragment.as_bytes())
        .map(|(key, value)| (key.into_owned(), value.into_owned()))
        .collect();
    if let Some((_, title)) = pairs.iter().rev().find(|(key, _)| key == TITLE) {
        job = job.with_title(title.trim());
    }
    for number in 2..=PIECES_MAX {
        let before = format!("{number}-");
        let mut own = format!("unit={}", unit.code());
        let mut is_there = false;
        for (key, value) in &pairs {
            if let Some(key) = key.strip_prefix(&before) {
                is_there = true;
                own.push('&');
                own.extend(utf8_percent_encode(key, ESCAPED));
                own.push('=');
                own.extend(utf8_percent_encode(value, ESCAPED));
            }
        }
        if is_there {
            let opened = open_form(&own);
            let told = opened.problems.into_iter();
            problems.extend(told.map(|sentence| format!("Piece {number}: {sentence}")));
            job = job.with_added(None, opened.form).0;
        }
    }
    let (at_hand, told) = read_hand(&pairs);
    problems.extend(told);
    OpenedJobLink {
        job: job.with_at_hand(at_hand),
        problems,
        newer: first.newer,
    }
}
