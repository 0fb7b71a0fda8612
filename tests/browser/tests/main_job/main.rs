//! The main job, as a person does it: type numbers, see everything follow, take things back,
//! come back later, hand the link on, mark by hand, print.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::{Device, Key, Page, SharedPage};
use serde_json::json;

mod keeping;
mod mains;
mod piece;
mod taking_out;
mod typing;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

/// Everything that is drawn or computed from the numbers, as the page holds it now.
#[derive(PartialEq)]
struct Shown {
    elevation: String,
    end_view: String,
    unrolled: String,
    facts: String,
    sheets: String,
}

fn shown(page: &Page) -> Shown {
    page.rest();
    let parts = page.run(
        "return ['.elevation .drawing', '.end-view .drawing', '.unrolled .drawing', '.checks dl',
                 '.sheets'].map(part => document.querySelector(part).innerHTML
                     .replaceAll(/<!--.*?-->/g, ''))",
        Vec::new(),
    );
    let part = |i: usize| parts[i].as_str().unwrap().to_owned();
    Shown {
        elevation: part(0),
        end_view: part(1),
        unrolled: part(2),
        facts: part(3),
        sheets: part(4),
    }
}

impl std::fmt::Debug for Shown {
    /// Only what tells one from another: the drawings are long.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.facts)
    }
}

impl Shown {
    /// Nothing is as it was.
    fn is_all_new(&self, before: &Self) -> bool {
        self.elevation != before.elevation
            && self.end_view != before.end_view
            && self.unrolled != before.unrolled
            && self.facts != before.facts
            && self.sheets != before.sheets
    }
}

/// The same in every part.
#[track_caller]
fn assert_same(is: &Shown, was: &Shown, when: &str) {
    for (part, is, was) in [
        ("elevation", &is.elevation, &was.elevation),
        ("end view", &is.end_view, &was.end_view),
        ("unrolled cope", &is.unrolled, &was.unrolled),
        ("facts", &is.facts, &was.facts),
        ("sheets", &is.sheets, &was.sheets),
    ] {
        if is != was {
            let same = is
                .bytes()
                .zip(was.bytes())
                .take_while(|(a, b)| a == b)
                .count();
            let from = (0..=same)
                .rev()
                .find(|i| is.is_char_boundary(*i) && same - i >= 20);
            let excerpt =
                |text: &str| -> String { text[from.unwrap_or(0)..].chars().take(120).collect() };
            panic!("{when}, {part}: …{}… was …{}…", excerpt(is), excerpt(was));
        }
    }
}

/// What "Mark and check" says of something.
#[track_caller]
fn fact(page: &Page, name: &str) -> String {
    let value = page.run(
        "return [...document.querySelectorAll('.checks dt')]
             .find(dt => dt.innerText === arguments[0])?.nextElementSibling.innerText",
        vec![json!(name)],
    );
    let value = value.as_str();
    value
        .unwrap_or_else(|| panic!("no fact \"{name}\""))
        .to_owned()
}

const ROUND: &str = "Paper goes once round, edge to edge";

/// Whether the drawings are held back: dimmed, every one of them, and nothing can be printed.
fn is_held(page: &Page) -> bool {
    page.rest();
    let state = page.run(
        "const dim = [...document.querySelectorAll('.sketch-view, .unrolled, .checks, .sheets')]
             .map(part => part.classList.contains('stale')
                 && (getComputedStyle(part.querySelector('.drawing, dl, .page')).opacity < 0.6
                     || getComputedStyle(part.querySelector('dd')).fontWeight < 600));
         const print = [...document.querySelectorAll('button')]
             .filter(button => button.innerText === 'Print').map(button => button.disabled);
         return [...dim, ...print]",
        Vec::new(),
    );
    let state: Vec<bool> = state
        .as_array()
        .unwrap()
        .iter()
        .map(|part| part == &json!(true))
        .collect();
    assert_eq!(
        state.len(),
        7,
        "two views, cope, facts, sheets, two buttons"
    );
    assert!(
        state.iter().all(|part| *part == state[0]),
        "some held, some not: {state:?}"
    );
    state[0]
}

/// The sentence that a screen reader gives with a field.
#[track_caller]
fn sentence(page: &Page, field: &str) -> String {
    let ids = page.field(field).attribute("aria-describedby").unwrap();
    let said = page.run(
        "return arguments[0].split(' ').map(id => document.getElementById(id).innerText).join(' ')",
        vec![json!(ids)],
    );
    said.as_str().unwrap().trim().to_owned()
}

fn chord(keys: &str) -> String {
    format!(
        "{}{keys}{}",
        char::from(Key::Control),
        char::from(Key::Null)
    )
}
