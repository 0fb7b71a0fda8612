//! The page as one file, opened from a folder of this machine as by a double click.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use std::path::Path;

use browser_tests::{Device, Page, codes_on_sheets};
use serde_json::{Value, json};

fn open() -> Page {
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../dist");
    Page::open_file(dist.join("copewright.html"), Device::DESKTOP)
}

#[test]
fn types_prints_saves_and_shares_from_a_file() {
    let page = open();
    assert_eq!(page.heading("Copewright").text(), "Copewright");
    page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw");
    page.field("Label").type_text("axle beam");
    page.field("Angle").type_text("52.5");
    assert_eq!(page.print().pages.len(), 1);
    page.button("No printer near? Mark by hand").click();
    page.button("Save as CSV").click();
    assert!(page.saved("cope-axle-beam.csv").starts_with("turn_deg,"));

    // Whole pieces are in it, without another script.
    page.button("Add the other end and the length").click();
    page.field("Length").type_text("640");
    assert!(page.print().pages.len() >= 2);

    // The address is the link.
    page.wait_until("the address follows", |page| {
        page.url().starts_with("file:///")
            && page.url().contains("copewright.html#v=1&")
            && page.url().contains("angle=52.5")
    });
    let link = page.url();
    page.reload();
    assert_eq!(page.field("Length").value(), "640");
    page.open_fragment("v=1");
    assert_eq!(page.field("Label").value(), "");
    page.open_fragment(link.split_once('#').unwrap().1);
    assert_eq!(page.field("Label").value(), "axle beam");
    assert_eq!(page.field("Angle").value(), "52.5");

    let loaded = page.run(
        "return performance.getEntriesByType('resource').map(entry => entry.name)
             .filter(name => !name.startsWith('blob:') && !name.startsWith('data:'))",
        Vec::new(),
    );
    assert_eq!(loaded, json!([]), "everything is in the file");
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn a_worker_starts_from_the_same_file() {
    let page = open();
    // It says so when the program is there; Chromium starts no module as a worker of a file.
    let said = page.run_async(
        "const done = arguments[0];
         const worker = new Worker(document.body.dataset.workshop, { type: 'module' });
         worker.onmessage = event => done(event.data);
         worker.onerror = event => done('failed: ' + event.message)",
        Vec::new(),
    );
    assert_eq!(said, json!(["ready"]));
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn a_browser_that_keeps_nothing_is_told() {
    let page = open();
    // What a browser does that forbids its stores to files.
    page.run(
        "const refuse = () => { throw new DOMException('no', 'SecurityError') };
         Storage.prototype.setItem = refuse;
         IDBFactory.prototype.open = refuse",
        Vec::new(),
    );
    page.field("Angle").type_text("47");
    page.wait_until("the page says so", |page| {
        page.says("This browser keeps nothing between visits")
    });
    page.button("Start a list of pieces").click();
    page.button("Add a piece").click();
    page.wait_until("the page says that jobs are not kept", |page| {
        page.says("This browser does not keep jobs")
    });
    assert!(!page.print().pages.is_empty());
}

#[test]
fn its_policy_lets_nothing_in_from_outside() {
    let page = open();
    let policy = page.run(
        "return document.querySelector('meta[http-equiv=Content-Security-Policy]').content",
        Vec::new(),
    );
    let policy = policy.as_str().unwrap();
    assert!(
        policy.starts_with("default-src 'none'; script-src 'sha256-"),
        "{policy}"
    );
    for wide in ["'unsafe-inline'", "'unsafe-eval'", "'self'", "http", "*"] {
        assert!(!policy.contains(wide), "{wide}: {policy}");
    }
    let refused = page.run_async(
        "const done = arguments[0];
         addEventListener('securitypolicyviolation', event => done(event.effectiveDirective));
         fetch('http://127.0.0.1:1/').catch(() => {})",
        Vec::new(),
    );
    assert_eq!(refused, Value::from("connect-src"));
}

#[test]
fn its_sheets_have_the_link_in_words_and_no_code() {
    let page = open();
    page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=stay");
    let _ = page.field("Angle");
    assert_eq!(page.field("Address in the code").value(), "");
    let codes = codes_on_sheets(&page.print_pdf());
    assert!(!codes.is_empty());
    assert_eq!(codes.concat(), [""; 0]);
    let words: String = page
        .print()
        .pages
        .iter()
        .flat_map(|sheet| sheet.texts.iter().map(|text| text.words.clone()))
        .collect();
    // Broken into lines, the link's numbers are on the paper.
    assert!(words.replace(' ', "").contains("branch=42.4"), "{words}");
    // With the address of a page on the web there is a code.
    page.field("Address in the code")
        .type_text("https://shop.example/cope/");
    page.field("Address in the code").press("\t");
    page.wait_until("a code is printed", |page| {
        codes_on_sheets(&page.print_pdf())
            .concat()
            .first()
            .is_some_and(|code| code.starts_with("https://shop.example/cope/#v=1&"))
    });
}
