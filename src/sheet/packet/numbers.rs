//! Which sheet of the packet a sheet is: known only when all of them are laid out.
//!
//! Until then the head of every sheet keeps as much room as the largest number takes.

use crate::sheet::drawing::{Drawing, Item};
use crate::sheet::words;

/// What stands in the head of a sheet until its number is known.
const ROOM: &str = "packet 000 of 000";

/// A date with room for the number before it.
pub fn with_room(date: &str) -> String {
    let date = words::clean(date);
    if date.is_empty() {
        String::from(ROOM)
    } else {
        format!("{ROOM} · {date}")
    }
}

/// Writes the numbers into the heads of all sheets.
pub fn write(pages: &mut [Drawing]) {
    let of = pages.len();
    for (at, page) in pages.iter_mut().enumerate() {
        let number = format!("packet {} of {of}", at + 1);
        let text = page.items.iter_mut().find_map(|item| match item {
            Item::Text { text, .. } if text.contains(ROOM) => Some(text),
            _ => None,
        });
        if let Some(text) = text {
            *text = text.replace(ROOM, &number);
        }
    }
}

/// Numbers of sheets in words: `3`, `3, 5–7`.
pub fn in_words(sheets: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for sheet in sheets {
        match runs.last_mut() {
            Some((_, last)) if *last == *sheet => {}
            Some((_, last)) if *last + 1 == *sheet => *last = *sheet,
            _ => runs.push((*sheet, *sheet)),
        }
    }
    let run = |(first, last): &(usize, usize)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first}–{last}"),
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}

/// `1 sheet`, `3 sheets`: a number with its thing, and an `s` where there is not one.
pub fn counted(count: usize, thing: &str) -> String {
    let s = if count == 1 { "" } else { "s" };
    format!("{count} {thing}{s}")
}
