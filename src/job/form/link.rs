//! The link of a piece: end A's keys as for a joint alone, and behind them those of the piece and,
//! each with `b-` before it, of end B. A link without `piece=yes` is one end, as ever.

use percent_encoding::utf8_percent_encode;

use crate::job::form::{BENDS_MAX, EndKind, Measured, PieceField, PieceForm};
use crate::job::link::{ESCAPED, open_link, write_link, write_whole};
use crate::job::{Field, Typed};
use crate::piece::Side;

/// Before every key of end B.
const OF_B: &str = "b-";

/// A link of a piece read.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedForm {
    /// The form. A number that cannot be read stays as it was typed.
    pub form: PieceForm,
    /// Choices that are not on their lists; the usual ones stand in for them.
    pub problems: Vec<String>,
    /// Set when the link was made by a newer version.
    pub newer: Option<String>,
}

/// The fragment of a form, without the leading `#`: what is asked for.
#[must_use]
pub fn write_form(form: &PieceForm) -> String {
    let a = write_link(&form.end(Side::A));
    if form.is_whole() {
        let b = (form.kind(Side::B) == EndKind::Coped).then(|| write_link(&form.end(Side::B)));
        a + &whole(form, b)
    } else {
        a
    }
}

/// What a link may leave out and open the same: nothing set against anything, one piece, the usual
/// ways. What is measured is never left out.
const LEFT_OUT: [(&str, &str); 10] = [
    ("offset", "0"),
    ("gap", "0"),
    ("turn", "0"),
    ("count", "1"),
    ("cut", "square"),
    ("template", "0.1"),
    ("template", ".004"),
    ("a", "coped"),
    ("b", "coped"),
    ("measured", "centres"),
];

/// A fragment that opens the same with fewer letters, as a code on paper needs it.
#[must_use]
pub fn shorten_form(fragment: &str) -> String {
    let may_go = |pair: &&str| {
        let (key, value) = pair.split_once('=').unwrap_or((pair, ""));
        let key = key.strip_prefix(OF_B).unwrap_or(key);
        !LEFT_OUT.contains(&(key, value))
    };
    let kept: Vec<&str> = fragment.split('&').filter(may_go).collect();
    let shorter = kept.join("&");
    // Whatever is usual in this unit and on this kind of main, no code opens anything else.
    if open_form(&shorter) == open_form(fragment) {
        shorter
    } else {
        fragment.to_owned()
    }
}

/// The fragment of everything typed, asked for or not: what stays in the browser.
#[must_use]
pub fn write_whole_form(form: &PieceForm) -> String {
    let rest = whole(form, Some(write_whole(&form.end(Side::B))));
    write_whole(&form.end(Side::A)) + &rest
}

/// The fragment to open: the address's own, or what was kept of the last visit. Where both are the
/// same form, the kept one goes, since it holds what is not asked for, too.
#[must_use]
pub fn resume_form(fragment: &str, kept: Option<&str>) -> Option<String> {
    match kept {
        Some(kept) if fragment.is_empty() || write_form(&open_form(kept).form) == fragment => {
            Some(kept.to_owned())
        }
        _ => (!fragment.is_empty()).then(|| fragment.to_owned()),
    }
}

/// The keys behind those of end A.
fn whole(form: &PieceForm, b: Option<String>) -> String {
    let mut link = String::new();
    let mut add = |key: &str, value: &str| {
        link.push('&');
        link.push_str(key);
        link.push('=');
        link.extend(utf8_percent_encode(value, ESCAPED));
    };
    add("piece", if form.is_whole() { "yes" } else { "no" });
    for (side, key) in Side::BOTH.into_iter().zip(["a", "b"]) {
        add(key, form.kind(side).code());
    }
    add("measured", form.measured().code());
    if form.is_to_vertices() {
        add("straights", "vertices");
    }
    if form.bends() > 0 {
        add("bends", &form.bends().to_string());
    }
    for field in PieceField::all(form.bends()) {
        let value = form.text(field).trim();
        if !value.is_empty() {
            add(&field.key(), value);
        }
    }
    // Tube, label and paper are end A's.
    let shared =
        |key: &str| matches!(Field::from_key(key), Some(field) if is_shared(field)) || key == "v";
    for pair in b.as_deref().unwrap_or_default().split('&') {
        let key = pair.split('=').next().unwrap_or_default();
        if !key.is_empty() && !shared(key) {
            link.push('&');
            link.push_str(OF_B);
            link.push_str(pair);
        }
    }
    link
}

/// Whether both ends have it from one input.
pub(in crate::job) const fn is_shared(field: Field) -> bool {
    matches!(
        field,
        Field::Unit
            | Field::Branch
            | Field::Wall
            | Field::Girth
            | Field::Label
            | Field::Paper
            | Field::Template
    )
}

/// Reads a fragment, with or without its leading `#`.
#[must_use]
pub fn open_form(fragment: &str) -> OpenedForm {
    let fragment = fragment.trim().trim_start_matches('#');
    let a = open_link(fragment);
    let mut problems: Vec<String> = a.problems.iter().map(|one| one.sentence.clone()).collect();
    let mut form = PieceForm::of_end(a.typed);
    let pairs: Vec<(String, String)> = form_urlencoded::parse(fragment.as_bytes())
        .map(|(key, value)| (key.into_owned(), value.trim().to_owned()))
        .collect();
    let value = |wanted: &str| {
        let found = pairs.iter().rev().find(|(key, _)| key == wanted);
        found
            .map(|(_, value)| value.as_str())
            .filter(|value| !value.is_empty())
    };
    let mut refuse = |key: &str, value: &str, codes: &[&str]| {
        problems.push(format!(
            "“{key}={value}” is not one of {}.",
            codes.join(", ")
        ));
    };
    if value("piece").is_none() {
        return OpenedForm {
            form,
            problems,
            newer: a.newer,
        };
    }
    match value("piece") {
        Some("yes") => form.whole = true,
        None | Some("no") => {}
        Some(other) => refuse("piece", other, &["yes", "no"]),
    }
    for (side, key) in Side::BOTH.into_iter().zip(["a", "b"]) {
        let Some(code) = value(key) else { continue };
        match EndKind::ALL.into_iter().find(|kind| kind.code() == code) {
            Some(kind) => form = form.with_kind(side, kind),
            None => refuse(key, code, &EndKind::ALL.map(EndKind::code)),
        }
    }
    if let Some(code) = value("measured") {
        match Measured::ALL.into_iter().find(|one| one.code() == code) {
            Some(measured) => form = form.with_measured(measured),
            None => refuse("measured", code, &Measured::ALL.map(Measured::code)),
        }
    }
    match value("straights") {
        None | Some("tangents") => {}
        Some("vertices") => form = form.to_vertices(true),
        Some(other) => refuse("straights", other, &["tangents", "vertices"]),
    }
    if let Some(count) = value("bends") {
        match count.parse::<usize>() {
            Ok(bends) if bends <= BENDS_MAX => form = form.with_bends(bends),
            _ => problems.push(format!(
                "“bends={count}” is not a number of bends from 0 to {BENDS_MAX}."
            )),
        }
    }
    for field in PieceField::all(form.bends()) {
        if let Some(text) = value(&field.key()) {
            form = form.with_text(field, text);
        }
    }
    let (b, told) = end_b(&pairs, &form.end(Side::A));
    problems.extend(
        told.into_iter()
            .map(|sentence| format!("End B: {sentence}")),
    );
    form.ends[1] = b;
    OpenedForm {
        form,
        problems,
        newer: a.newer,
    }
}

/// End B from its own keys; tube, label and paper are end A's.
fn end_b(pairs: &[(String, String)], a: &Typed) -> (Typed, Vec<String>) {
    let mut fragment = format!("unit={}", a.unit.code());
    for (key, value) in pairs {
        if let Some(key) = key.strip_prefix(OF_B) {
            fragment.push('&');
            fragment.push_str(key);
            fragment.push('=');
            fragment.extend(utf8_percent_encode(value, ESCAPED));
        }
    }
    let opened = open_link(&fragment);
    let told = opened
        .problems
        .into_iter()
        .map(|one| one.sentence)
        .collect();
    (opened.typed.sharing(a), told)
}
