//! What is left of a damaged file.
//!
//! A piece is a flat object of texts: one that is whole can be read by itself, wherever it stands,
//! and of one that is not the lines that are whole can.

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use super::read::Parts;

/// Keys of which every piece has at least one, and nothing else in the file has.
const OF_PIECE: [&str; 3] = ["branch", "piece", "measured"];

/// Everything in a text that looks like a part of a job.
pub(super) fn salvage(text: &str) -> Parts {
    let mut parts = Parts::default();
    let list = text.find("\"pieces\"");
    let head = text.get(..list.unwrap_or(text.len())).unwrap_or(text);
    for key in ["version", "title", "unit", "paper", "printer"] {
        if let Some(value) = after_key(head, key) {
            parts.top.insert(key.to_owned(), value);
        }
    }
    if let Some(value) = after_key(text, "at_hand") {
        parts.top.insert(String::from("at_hand"), value);
    }
    let mut at = list.unwrap_or(0);
    loop {
        let (map, end) = lines(text, at);
        if is_piece(Some(&map)) {
            parts.pieces.push(Value::Object(map));
        }
        let Some(rest) = text.get(end..).filter(|rest| !rest.is_empty()) else {
            return parts;
        };
        at = end;
        if rest.starts_with('{') {
            at = match prefix::<Value>(text, end) {
                Some((value, end)) if is_piece(value.as_object()) => {
                    parts.pieces.push(value);
                    end
                }
                // Something around pieces, or a piece that is not whole.
                _ => end + 1,
            };
        }
    }
}

fn is_piece(map: Option<&Map<String, Value>>) -> bool {
    map.is_some_and(|map| OF_PIECE.iter().any(|key| map.contains_key(*key)))
}

/// The value behind the first key of that name, when it is whole.
fn after_key(text: &str, key: &str) -> Option<Value> {
    let quoted = format!("\"{key}\"");
    let at = text.find(&quoted)? + quoted.len();
    Some(behind_colon(text, at)?.0)
}

/// The value behind a colon, and where it ends.
fn behind_colon(text: &str, at: usize) -> Option<(Value, usize)> {
    let rest = text.get(at..)?.trim_start();
    let rest = rest.strip_prefix(':')?;
    prefix(text, text.len() - rest.len())
}

/// The value that begins at a place, and where it ends.
fn prefix<T: DeserializeOwned>(text: &str, at: usize) -> Option<(T, usize)> {
    let mut stream = serde_json::Deserializer::from_str(text.get(at..)?).into_iter::<T>();
    let value = stream.next()?.ok()?;
    Some((value, at + stream.byte_offset()))
}

/// The pairs of key and text from a place on that are whole, and where they end: at an object, at
/// a list, or at a key that comes again, where the next piece begins whose brace is damaged.
fn lines(text: &str, from: usize) -> (Map<String, Value>, usize) {
    let mut map = Map::new();
    let mut at = from;
    loop {
        let rest = text.get(at..).unwrap_or_default();
        let Some(next) = rest.find(['"', '{']) else {
            return (map, text.len());
        };
        let start = at + next;
        if rest[next..].starts_with('{') {
            return (map, start);
        }
        let pair = prefix::<String>(text, start)
            .and_then(|(key, behind)| Some((key, behind, behind_colon(text, behind)?)));
        match pair {
            Some((key, ..)) if map.contains_key(&key) => return (map, start),
            Some((_, behind, (Value::Object(_) | Value::Array(_), _))) => return (map, behind),
            Some((key, _, (value, end))) => {
                map.insert(key, value);
                at = end;
            }
            // A line that is not whole: on with the next one.
            None => match find(text, start, '\n') {
                Some(end) => at = end,
                None => return (map, text.len()),
            },
        }
    }
}

fn find(text: &str, from: usize, what: char) -> Option<usize> {
    Some(from + text.get(from..)?.find(what)?)
}
