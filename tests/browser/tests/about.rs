//! What the page says about itself: what it is, its cautions, and the licences of all it is made of.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use std::path::Path;

use browser_tests::{Device, Page};
use serde_json::json;

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

/// What has to stand there: a caution, that there is no warranty, and one notice of each licence.
const SAID: [&str; 6] = [
    "Geometry only. Joints that carry people",
    "No warranty.",
    "The Rust standard library",
    "Permission is hereby granted, free of charge",
    "UNICODE LICENSE V3",
    "This software is provided 'as-is'",
];

fn assert_says_all(text: &str) {
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in SAID {
        assert!(plain.contains(said), "{said} is missing");
    }
    // Every line of the list, character by character.
    let list = std::fs::read_to_string(root().join("docs/licences.txt")).unwrap();
    assert!(list.lines().count() > 500);
    for line in list.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let line = line.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(&line), "{line} is missing");
    }
}

fn fetched(page: &Page) -> bool {
    let names = page.run(
        "return performance.getEntriesByType('resource').map(entry => entry.name)",
        Vec::new(),
    );
    names.to_string().contains("about.html")
}

#[test]
fn it_is_at_the_end_of_the_page_and_loaded_when_opened() {
    let page = Page::open();
    let _ = page.field("Angle");
    assert!(!fetched(&page), "nothing of it is loaded by a first visit");
    let last = "return document.body.lastElementChild.id";
    assert_eq!(page.run(last, Vec::new()), json!("about"));
    page.first("#about summary").unwrap().click();
    page.wait_until("it is loaded", fetched);
    let inside = "const frame = document.querySelector('#about iframe').contentDocument;
                  return frame?.readyState === 'complete' && frame.body ? frame.body.innerText : ''";
    page.wait_until("it is shown", |page| {
        page.run(inside, Vec::new())
            .as_str()
            .is_some_and(|text| text.contains("version"))
    });
    assert_says_all(page.run(inside, Vec::new()).as_str().unwrap());
    // None of it is printed.
    assert!(!page.print().pages.is_empty());
    let words: Vec<String> = page
        .print()
        .pages
        .iter()
        .flat_map(|sheet| sheet.texts.iter().map(|text| text.words.clone()))
        .collect();
    assert!(!words.concat().contains("warranty"));
    // The workshop takes the page's place, and it stays.
    page.button("Add the other end and the length").click();
    let _ = page.field("Length");
    assert_eq!(page.run(last, Vec::new()), json!("about"));
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn the_one_file_holds_it_too() {
    let page = Page::open_file(root().join("dist/copewright.html"), Device::DESKTOP);
    let _ = page.field("Angle");
    let inside = "return document.querySelector('#about details > div').innerText";
    assert_eq!(page.run(inside, Vec::new()), json!(""));
    page.first("#about summary").unwrap().click();
    page.wait_until("it is unpacked", |page| page.says("No warranty."));
    assert_says_all(page.run(inside, Vec::new()).as_str().unwrap());
    assert_eq!(page.troubles(), [""; 0]);
}
