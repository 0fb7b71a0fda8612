//! A piece as keys and texts, and back.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use percent_encoding::utf8_percent_encode;

use crate::job::draft::METHODS;
use crate::job::form::is_shared;
use crate::job::link::ESCAPED;
use crate::job::{BENDS_MAX, Field, MainField, PieceField, PieceForm, Typed, open_form};
use crate::piece::Side;
use crate::units::Unit;

/// Before every key of end B, as in the link.
const OF_B: &str = "b-";

/// Every key of a form with its value, in order: the label, what end A has, the whole piece, end
/// B. A number that is neither seen nor other than usual is left out.
pub(super) fn pairs(form: &PieceForm) -> Vec<(String, String)> {
    let a = form.end(Side::A);
    let mut pairs = vec![(
        Field::Label.key().to_owned(),
        a.text(Field::Label).unwrap_or_default().to_owned(),
    )];
    let mut of_end = |typed: &Typed, before: &str, wanted: fn(Field) -> bool| {
        for field in Field::all().filter(|field| wanted(*field)) {
            if let Some(value) = value(typed, field) {
                pairs.push((format!("{before}{}", field.key()), value));
            }
        }
    };
    of_end(&a, "", |field| {
        !matches!(field, Field::Label | Field::Paper)
    });
    of_end(&form.end(Side::B), OF_B, |field| !is_shared(field));
    let at = pairs
        .iter()
        .position(|(key, _)| key.starts_with(OF_B))
        .unwrap_or(pairs.len());
    pairs.splice(at..at, of_piece(form));
    pairs
}

/// What joins the two ends.
fn of_piece(form: &PieceForm) -> Vec<(String, String)> {
    let pair = |key: &str, value: &str| (key.to_owned(), value.to_owned());
    let mut pairs = vec![
        pair("piece", if form.is_whole() { "yes" } else { "no" }),
        pair("a", form.kind(Side::A).code()),
        pair("b", form.kind(Side::B).code()),
        pair("measured", form.measured().code()),
        pair(
            "straights",
            if form.is_to_vertices() {
                "vertices"
            } else {
                "tangents"
            },
        ),
        pair("bends", &form.bends().to_string()),
    ];
    for field in PieceField::all(form.bends()) {
        pairs.push((field.key(), form.text(field).to_owned()));
    }
    pairs
}

/// What a field of an end says; `None` where it need not be said.
fn value(typed: &Typed, field: Field) -> Option<String> {
    let chosen = match field {
        Field::Unit => typed.unit.code(),
        Field::Paper => typed.paper.code(),
        Field::Mains => return Some(typed.mains().to_string()),
        Field::OfMain(main, _) if main >= typed.mains() => return None,
        Field::OfMain(main, MainField::Kind) => typed.kind(main).code(),
        Field::Cut => {
            let method = METHODS.iter().find(|(_, method)| *method == typed.cut);
            method.map_or("", |(code, _)| code)
        }
        Field::Landing if typed.landing => "yes",
        Field::Landing => "no",
        _ => {
            let text = typed.text(field)?;
            let wanted = typed.uses(field) || text != typed.usual_text(field);
            return wanted.then(|| text.to_owned());
        }
    };
    Some(chosen.to_owned())
}

/// What a key belongs to in the form.
#[derive(Clone, Copy)]
enum Place {
    End(Side, Field),
    Piece(PieceField),
}

/// Every key there is of an end or of a number of the piece.
static PLACES: LazyLock<BTreeMap<String, Place>> = LazyLock::new(|| {
    let of_piece = PieceField::all(BENDS_MAX).map(|field| (field.key(), Place::Piece(field)));
    let of_a = Field::all().map(|field| (field.key().to_owned(), Place::End(Side::A, field)));
    let own = Field::all().filter(|field| !is_shared(*field));
    let of_b = own.map(|field| {
        let key = format!("{OF_B}{}", field.key());
        (key, Place::End(Side::B, field))
    });
    of_piece.chain(of_a).chain(of_b).collect()
});

fn place(key: &str) -> Option<Place> {
    PLACES.get(key).copied()
}

/// Whether a key is known at all.
fn is_known(key: &str) -> bool {
    const CHOICES: [&str; 7] = ["piece", "a", "b", "measured", "straights", "bends", "v"];
    CHOICES.contains(&key) || place(key).is_some()
}

/// The form with each text in its place; choices stay.
fn with_texts<'a>(
    mut form: PieceForm,
    texts: impl IntoIterator<Item = (&'a str, &'a str)>,
) -> PieceForm {
    let (mut a, mut b) = (form.end(Side::A), form.end(Side::B));
    for (key, text) in texts {
        match place(key) {
            Some(Place::Piece(field)) => form = form.with_text(field, text),
            Some(Place::End(Side::A, field)) => a = a.with_text(field, text),
            Some(Place::End(Side::B, field)) => b = b.with_text(field, text),
            None => {}
        }
    }
    // End A last: tube and label are its own.
    form.with_end(Side::B, b).with_end(Side::A, a)
}

/// The form of keys and texts, and what was wrong with them. A missing choice is the usual one, a
/// missing number is left empty, so that the form says what it needs.
pub(super) fn form_of(given: &[(String, String)], unit: Unit) -> (PieceForm, Vec<String>) {
    let mut told = Vec::new();
    let has = |key: &str| given.iter().any(|(own, _)| own == key);
    let mut all = given.to_vec();
    if !has("unit") {
        all.push((String::from("unit"), unit.code().to_owned()));
    }
    // Counts that are missing follow from what there is to count.
    let counts = [
        ("mains", most_mains(given, Side::A)),
        ("b-mains", most_mains(given, Side::B)),
        ("bends", most_bends(given)),
    ];
    for (key, count) in counts {
        if !has(key) {
            all.push((key.to_owned(), count.to_string()));
        }
    }
    if !has("piece") {
        let whole = has("measured") || has("length");
        let piece = if whole { "yes" } else { "no" };
        all.push((String::from("piece"), piece.to_owned()));
    }
    let opened = open_form(&fragment(&all));
    told.extend(opened.problems);
    let texts = given
        .iter()
        .map(|(key, text)| (key.as_str(), text.as_str()));
    let mut form = with_texts(opened.form, texts);
    for (key, _) in given.iter().filter(|(key, _)| !is_known(key)) {
        told.push(format!(
            "“{}” is not known here and is left out.",
            short(key)
        ));
    }
    let (mut emptied, mut chosen) = (Vec::new(), Vec::new());
    for (key, value) in pairs(&form).into_iter().filter(|(key, _)| !has(key)) {
        let text = match place(&key) {
            Some(Place::Piece(_)) => true,
            Some(Place::End(side, field)) => form.end(side).text(field).is_some(),
            None => false,
        };
        if text {
            emptied.push(key);
        } else {
            chosen.push(format!("“{key}” ({value} stands there)"));
        }
    }
    form = with_texts(form, emptied.iter().map(|key| (key.as_str(), "")));
    if !emptied.is_empty() {
        told.push(format!(
            "Missing and left empty: {}. Type what belongs there.",
            quoted(&emptied)
        ));
    }
    if !chosen.is_empty() {
        told.push(format!(
            "Missing: {}. Check what is chosen.",
            chosen.join(", ")
        ));
    }
    (form, told)
}

/// A link's fragment of pairs.
fn fragment(pairs: &[(String, String)]) -> String {
    let mut fragment = String::new();
    for (key, value) in pairs.iter().filter(|(key, _)| is_known(key)) {
        fragment.push_str(key);
        fragment.push('=');
        fragment.extend(utf8_percent_encode(value, ESCAPED));
        fragment.push('&');
    }
    fragment
}

/// How many mains there must be for the keys of an end.
fn most_mains(given: &[(String, String)], of: Side) -> usize {
    let numbers = given.iter().filter_map(|(key, _)| match place(key)? {
        Place::End(side, Field::OfMain(main, _)) if side == of => Some(main + 1),
        _ => None,
    });
    numbers.max().unwrap_or(1)
}

fn most_bends(given: &[(String, String)]) -> usize {
    let numbers = given.iter().filter_map(|(key, _)| match place(key)? {
        Place::Piece(PieceField::Bend(bend, _)) => Some(bend + 1),
        _ => None,
    });
    numbers.max().unwrap_or(0)
}

fn quoted(keys: &[String]) -> String {
    let quoted: Vec<String> = keys.iter().map(|key| format!("“{key}”")).collect();
    quoted.join(", ")
}

/// A text to be quoted, not too long.
pub(super) fn short(text: &str) -> String {
    const MOST: usize = 40;
    let mut short: String = text.chars().take(MOST).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
