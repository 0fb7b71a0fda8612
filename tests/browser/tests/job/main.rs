//! A job of many pieces, as a person works on it: lists, keeps, opens again, prints.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::{Device, Page, SharedPage};
use serde_json::{Value, json};

mod after;
mod files;
mod handing_on;
mod keeping;
mod kit;
mod list;
mod printing;
mod saw_fit;
mod taking_over;
mod two_windows;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

/// A page with a list of one usual piece in millimetres.
fn start(page: &Page) {
    page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw");
    page.button("Start a list of pieces").click();
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}

/// Opens what is behind "Jobs and files", unless it is open.
fn show_jobs(page: &Page) {
    page.run("document.querySelector('.jobs').open = true", Vec::new());
}

/// A page with one of the two example jobs.
fn example(page: &Page, unit: &str) {
    start(page);
    show_jobs(page);
    page.button(&format!("See an example in {unit}")).click();
    page.wait_until("the example is on the list", |page| {
        pieces(page).len() == 13
    });
}

fn texts(page: &Page, selector: &str) -> Vec<String> {
    let texts = page.run(
        "return [...document.querySelectorAll(arguments[0])].map(part => part.innerText.trim())",
        vec![json!(selector)],
    );
    serde_json::from_value(texts).unwrap()
}

/// The pieces on the list, with their numbers.
fn pieces(page: &Page) -> Vec<String> {
    texts(page, ".list .piece b")
}

/// The piece on the bench.
fn here(page: &Page) -> String {
    texts(page, ".list .piece[aria-pressed=true] b").join(" and ")
}

/// Puts a piece of the list on the bench.
fn go_to(page: &Page, piece: &str) {
    let clicked = page.run(
        "const piece = [...document.querySelectorAll('.list .piece')]
             .find(piece => piece.querySelector('b').innerText === arguments[0]);
         piece?.click();
         return Boolean(piece)",
        vec![json!(piece)],
    );
    assert_eq!(clicked, json!(true), "no {piece} among {:?}", pieces(page));
    assert_eq!(here(page), piece);
}

/// What the page says of jobs and files.
fn told(page: &Page) -> String {
    texts(page, ".notices p").join("\n")
}

/// The jobs that the database has, each its title and its file.
fn kept(page: &Page) -> Vec<(String, Value)> {
    let records = records(page).into_iter();
    let kept = records.map(|(title, text, _)| (title, serde_json::from_str(&text).unwrap()));
    kept.collect()
}

/// How often the job of this title has been written.
fn revision(page: &Page, title: &str) -> Option<u32> {
    let records = records(page).into_iter();
    let mut of = records.filter(|(own, ..)| own == title);
    of.next().map(|(.., revision)| revision)
}

/// What the database has: title, file, revision.
fn records(page: &Page) -> Vec<(String, String, u32)> {
    let all = page.run_async(
        "const done = arguments[arguments.length - 1];
         const open = indexedDB.open('copewright');
         open.onerror = () => done([]);
         // Before the page has made it there is nothing, and it is the page's to make.
         open.onupgradeneeded = () => open.transaction.abort();
         open.onsuccess = () => {
             const base = open.result;
             if (![...base.objectStoreNames].includes('jobs')) { base.close(); return done([]); }
             const all = base.transaction('jobs').objectStore('jobs').getAll();
             all.onsuccess = () => {
                 base.close();
                 done(all.result.map(({ title, text, revision }) => [title, text, revision]));
             };
         }",
        Vec::new(),
    );
    serde_json::from_value(all).unwrap()
}

/// Waits until the database has a job of this title that is so.
#[track_caller]
fn wait_until_kept(page: &Page, title: &str, is_so: impl Fn(&Value) -> bool) {
    page.wait_until(&format!("“{title}” is kept"), |page| {
        kept(page)
            .iter()
            .any(|(own, job)| own == title && is_so(job))
    });
}
