//! Damaged files: read without panic, and no piece that is still whole is lost.

use copewright::job::PieceForm;
use copewright::job::list::{Job, open_job, write_job};
use proptest::prelude::Rng;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;

use crate::any::any_form;

/// Files tried.
const FILES: usize = 10_000;

struct Dice(TestRng);

impl Dice {
    fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count.max(1) as u64) as usize
    }
}

fn jobs() -> Vec<Job> {
    let mut runner = TestRunner::deterministic();
    let mut form = || any_form().new_tree(&mut runner).unwrap().current();
    (0..6)
        .map(|number| {
            let mut job = Job::of_form(form()).with_title(format!("job {number} {{\"a\"}}"));
            for _ in 0..number {
                job = job.with_added(None, form()).0;
            }
            job
        })
        .collect()
}

/// The text of each piece of a file, from brace to brace.
fn whole_pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = &text[text.find("\"pieces\"").unwrap()..];
    while let Some(start) = rest.find("    {\n      \"label\"") {
        let end = start + rest[start..].find("\n    }").unwrap() + 6;
        pieces.push(&rest[start..end]);
        rest = &rest[end..];
    }
    pieces
}

fn damaged(text: &str, dice: &mut Dice) -> String {
    let mut bytes = text.as_bytes().to_vec();
    match dice.below(6) {
        0 => bytes.truncate(dice.below(bytes.len())),
        1 => {
            for _ in 0..=dice.below(8) {
                let at = dice.below(bytes.len());
                bytes[at] ^= 1 << dice.below(8);
            }
        }
        2 => {
            let (from, count) = (dice.below(bytes.len()), dice.below(200));
            bytes.drain(from..(from + count).min(bytes.len()));
        }
        3 => {
            let at = dice.below(bytes.len());
            let more = [
                "\"", "{", "}", "[", "1e999", "\\", "\n", "{\"a\":[", "\u{0}",
            ];
            let what = more[dice.below(more.len())].repeat(1 + dice.below(300));
            bytes.splice(at..at, what.bytes());
        }
        4 => {
            // A line gone, or a value of another type.
            let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
            let at = dice.below(lines.len());
            let types = [
                "null",
                "[1, 2]",
                "{\"x\": {}}",
                "123456789012345678901234567890",
                "true",
                "1e400",
                "-0.5",
            ];
            match lines[at].split_once(": \"") {
                Some((key, _)) if dice.below(2) == 0 => {
                    lines[at] = format!("{key}: {},", types[dice.below(types.len())]);
                }
                _ => {
                    lines.remove(at);
                }
            }
            bytes = lines.join("\n").into_bytes();
        }
        _ => {
            let (a, b) = (dice.below(bytes.len()), dice.below(bytes.len()));
            bytes.rotate_left(a.min(b) % 97);
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// As many as there are of each.
fn holds(all: &[PieceForm], form: &PieceForm) -> bool {
    all.contains(form)
}

#[test]
fn ten_thousand_damaged_files_lose_no_whole_piece() {
    let seed = [7; 32];
    let mut dice = Dice(TestRng::from_seed(RngAlgorithm::ChaCha, &seed));
    let jobs = jobs();
    let texts: Vec<String> = jobs.iter().map(write_job).collect();
    let (mut refused, mut kept, mut told) = (0, 0, 0);
    for number in 0..FILES {
        let which = number % jobs.len();
        let text = damaged(&texts[which], &mut dice);
        let pieces = whole_pieces(&texts[which]);
        assert_eq!(pieces.len(), jobs[which].pieces().len());
        let whole: Vec<usize> = (0..pieces.len())
            .filter(|place| text.contains(pieces[*place]))
            .collect();
        let Ok(opened) = open_job(&text) else {
            assert!(whole.is_empty(), "{text}");
            refused += 1;
            continue;
        };
        let unit = opened.job.unit();
        let forms: Vec<PieceForm> = opened
            .job
            .pieces()
            .iter()
            .map(|piece| piece.form().clone())
            .collect();
        for place in whole {
            let own = jobs[which].pieces()[place].form().clone();
            let end = forms[0].end(copewright::piece::Side::A);
            let mut own_end = own.end(copewright::piece::Side::A);
            own_end.paper = end.paper;
            let own = own
                .with_end(copewright::piece::Side::A, own_end)
                .in_unit(unit);
            assert!(
                holds(&forms, &own),
                "piece {place} of {number} is lost:\n{text}"
            );
            kept += 1;
        }
        if serde_json::from_str::<Value>(&text).is_err() {
            assert!(!opened.told.is_empty(), "{text}");
            told += 1;
        }
        // What was mended is written whole.
        if number % 5 == 0 {
            let again = open_job(&write_job(&opened.job)).unwrap();
            assert_eq!(again.told, Vec::<String>::new());
        }
    }
    println!("{FILES} files: {refused} refused, {told} no longer JSON, {kept} whole pieces kept");
    assert!(kept > FILES && told > FILES / 4);
}
