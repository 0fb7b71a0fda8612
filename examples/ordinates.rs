//! Prints the cut line of a share link as CSV.
//!
//! `cargo run --release --example ordinates -- '<link fragment>' [--points N]`

use std::process::ExitCode;

use copewright::job::{Problem, open_link, read};
use copewright::piece::ordinates;
use copewright::write;

const USAGE: &str = "Usage: ordinates '<link fragment>' [--points N], such as 'v=1&unit=in&branch=1 1/2&main=1 3/4&angle=60' --points 32";
const DEFAULT_POINTS: u32 = 72;
const MOST_POINTS: u32 = 1_000_000;

fn main() -> ExitCode {
    match table(std::env::args().skip(1)) {
        Ok(csv) => {
            print!("{csv}");
            ExitCode::SUCCESS
        }
        Err(sentence) => {
            eprintln!("{sentence}");
            ExitCode::from(2)
        }
    }
}

fn table(arguments: impl Iterator<Item = String>) -> Result<String, String> {
    let mut fragment = None;
    let mut points = DEFAULT_POINTS;
    let mut arguments = arguments;
    while let Some(argument) = arguments.next() {
        if argument == "--points" {
            let text = arguments.next().unwrap_or_default();
            points = text
                .parse()
                .ok()
                .filter(|n| (1..=MOST_POINTS).contains(n))
                .ok_or_else(|| {
                    format!("--points takes a whole number from 1 to {MOST_POINTS}, not “{text}”.")
                })?;
        } else if fragment.is_none() && !argument.starts_with("--") {
            fragment = Some(argument);
        } else {
            return Err(format!("“{argument}” is not understood. {USAGE}"));
        }
    }
    let opened = open_link(&fragment.ok_or(USAGE)?);
    let in_words = |problems: &[Problem]| {
        let named = problems
            .iter()
            .map(|p| format!("{}: {}", p.field.key(), p.sentence));
        named.collect::<Vec<_>>().join(" ")
    };
    if !opened.problems.is_empty() {
        return Err(in_words(&opened.problems));
    }
    if let Some(newer) = opened.newer {
        return Err(newer);
    }
    let draft = read(&opened.typed).map_err(|problems| in_words(&problems))?;
    write::csv(&ordinates(&draft.template, points)).map_err(|error| error.to_string())
}
