//! The share link: the whole form in the URL fragment, numbers as typed.
//!
//! A fragment never leaves the browser. `v=1` links open for ever: keys and values may be added,
//! never changed in meaning.

use percent_encoding::{AsciiSet, CONTROLS, utf8_percent_encode};

use crate::job::draft::METHODS;
use crate::job::{Field, MainField, MainKind, Problem, Typed};
use crate::joint::MAINS_MAX;
use crate::stock::Paper;
use crate::units::Unit;

/// Version of the link's keys.
const VERSION: &str = "1";

/// What must be escaped in a fragment's value; slashes, commas and quotes stay readable.
pub(super) const ESCAPED: &AsciiSet = &CONTROLS
    .add(b' ')
    .add(b'"')
    .add(b'<')
    .add(b'>')
    .add(b'`')
    .add(b'%')
    .add(b'&')
    .add(b'+')
    .add(b'=')
    .add(b'#')
    .add(b'\'')
    .add(b'\\')
    .add(b'^')
    .add(b'{')
    .add(b'|')
    .add(b'}');

/// The fragment of a form, without the leading `#`. Fields left empty are left out, and so are
/// those that the kind of a main does not use.
#[must_use]
pub fn write_link(typed: &Typed) -> String {
    written(typed, |field, _| typed.uses(field))
}

/// The fragment of everything typed, seen or not: what stays in the browser between visits.
#[must_use]
pub fn write_whole(typed: &Typed) -> String {
    written(typed, |field, value| {
        typed.uses(field) || value != typed.usual_text(field)
    })
}

fn written(typed: &Typed, wanted: impl Fn(Field, &str) -> bool) -> String {
    let mut link = format!("v={VERSION}");
    for field in Field::all() {
        let value = match field {
            Field::Unit => typed.unit.code(),
            Field::Cut => method_code(typed),
            Field::Paper => typed.paper.code(),
            Field::Landing if typed.landing => LANDING,
            Field::Landing => "",
            Field::Mains => COUNTS
                .get(typed.mains() - 1)
                .filter(|one| **one != "1")
                .unwrap_or(&""),
            // Missing means round, as in links from before there was a choice.
            Field::OfMain(main, MainField::Kind) => match typed.kind(main) {
                MainKind::Round => "",
                kind => kind.code(),
            },
            _ => typed.text(field).unwrap_or_default().trim(),
        };
        if !value.is_empty() && wanted(field, value) {
            link.push('&');
            link.push_str(field.key());
            link.push('=');
            link.extend(utf8_percent_encode(value, ESCAPED));
        }
    }
    link
}

/// The landing is printed too; a link without it prints the template alone.
const LANDING: &str = "yes";

/// How many mains, as written.
const COUNTS: [&str; MAINS_MAX] = ["1", "2", "3", "4", "5", "6"];

/// The fragment to open: the address's own, or what was kept of the last visit. Where both are the
/// same form, the kept one goes, since it holds the numbers that are not seen, too.
#[must_use]
pub fn resume(fragment: &str, kept: Option<&str>) -> Option<String> {
    match kept {
        Some(kept) if fragment.is_empty() || write_link(&open_link(kept).typed) == fragment => {
            Some(kept.to_owned())
        }
        _ => (!fragment.is_empty()).then(|| fragment.to_owned()),
    }
}

fn method_code(typed: &Typed) -> &'static str {
    METHODS
        .iter()
        .find(|(_, method)| *method == typed.cut)
        .map_or("", |(code, _)| code)
}

/// A link read: the form, and what in it could not be used.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// The form. A number that cannot be read stays as it was typed.
    pub typed: Typed,
    /// Choices that are not on their lists, by key; the usual ones stand in for them.
    pub problems: Vec<Problem>,
    /// Set when the link was made by a newer version.
    pub newer: Option<String>,
}

/// Reads a fragment, with or without its leading `#`. Unknown keys are ignored and missing ones
/// take the usual values of the link's unit.
#[must_use]
pub fn open_link(fragment: &str) -> Opened {
    let pairs: Vec<(String, String)> =
        form_urlencoded::parse(fragment.trim().trim_start_matches('#').as_bytes())
            .map(|(key, value)| (key.into_owned(), value.trim().to_owned()))
            .collect();
    let value = |wanted: &str| {
        pairs
            .iter()
            .rev()
            .find(|(key, _)| key == wanted)
            .map(|(_, value)| value.as_str())
    };
    let mut problems = Vec::new();
    let mut refuse = |field: Field, value: &str, choices: String| {
        problems.push(Problem {
            field,
            sentence: format!("“{}={value}” is not one of {choices}.", field.key()),
        });
    };

    let unit = match value("unit").map(|code| (code, Unit::from_code(code))) {
        Some((_, Some(unit))) => unit,
        Some((code, None)) if !code.is_empty() => {
            refuse(
                Field::Unit,
                code,
                list(Unit::ALL.iter().map(|unit| unit.code())),
            );
            Unit::Millimetre
        }
        _ => Unit::Millimetre,
    };
    let mut typed = Typed::usual(unit);
    if let Some(text) = value(Field::Mains.key()).filter(|text| !text.is_empty()) {
        match COUNTS.iter().position(|count| *count == text) {
            Some(others) => typed = typed.with_mains(others + 1),
            None => refuse(Field::Mains, text, list(COUNTS.into_iter())),
        }
    }
    for field in Field::all() {
        let Some(text) = value(field.key()) else {
            continue;
        };
        match field {
            Field::Unit | Field::Mains => {}
            Field::OfMain(main, _) if main >= typed.mains() => {}
            Field::OfMain(main, MainField::Kind) => match MainKind::from_code(text) {
                Some(kind) => typed = typed.with_kind(main, kind),
                None if text.is_empty() => {}
                None => refuse(
                    field,
                    text,
                    list(MainKind::ALL.iter().map(|kind| kind.code())),
                ),
            },
            Field::Cut => match METHODS
                .iter()
                .find(|(code, _)| code.eq_ignore_ascii_case(text))
            {
                Some((_, method)) => typed.cut = *method,
                None if text.is_empty() => {}
                None => refuse(field, text, list(METHODS.iter().map(|(code, _)| *code))),
            },
            Field::Landing if text.eq_ignore_ascii_case(LANDING) => typed.landing = true,
            Field::Landing if text.is_empty() || text.eq_ignore_ascii_case("no") => {}
            Field::Landing => refuse(field, text, list([LANDING, "no"].into_iter())),
            Field::Paper => match Paper::from_code(text) {
                Some(paper) => typed.paper = paper,
                None if text.is_empty() => {}
                None => refuse(
                    field,
                    text,
                    list(Paper::ALL.iter().map(|paper| paper.code())),
                ),
            },
            // An empty number means the usual one, except where empty has a meaning of its own.
            Field::Branch | Field::Wall if text.is_empty() => {}
            Field::OfMain(_, of_main) if text.is_empty() && of_main.is_needed() => {}
            _ => typed = typed.with_text(field, text),
        }
    }
    let newer = value("v").filter(|version| *version != VERSION && !version.is_empty()).map(|v| {
        format!(
            "This link says version {v}; this page knows version {VERSION}. What it recognises is \
             used. Check every number."
        )
    });
    Opened {
        typed,
        problems,
        newer,
    }
}

fn list<'a>(codes: impl Iterator<Item = &'a str>) -> String {
    codes.collect::<Vec<_>>().join(", ")
}
