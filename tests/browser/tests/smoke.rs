//! The built page opens in a fresh browser without trouble and keeps what is typed to itself.
#![allow(clippy::panic, reason = "tests fail by panicking")]

use browser_tests::{Device, Page, SharedPage};
use serde_json::json;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

#[test]
fn opens_without_trouble_and_asks_no_other_site() {
    PAGE.visit(|page| {
        assert_eq!(page.heading("Copewright").text(), "Copewright");
        assert_eq!(page.foreign_requests(), [""; 0]);
        // Visits end with a look at the console and at uncaught errors.
    });
}

/// Everything the page has fetched, sent or opened so far.
fn requests(page: &Page) -> Vec<String> {
    let names = page.run(
        "return performance.getEntriesByType('resource').map(entry => entry.name)
             .concat(window.asked)",
        Vec::new(),
    );
    let names = names.as_array().cloned().unwrap_or_default();
    names.iter().map(ToString::to_string).collect()
}

#[test]
fn nothing_is_asked_or_sent_after_loading() {
    PAGE.visit(|page| {
        // What leaves no entry among the resources: sockets, beacons, workers.
        page.run(
            "window.asked = [];
             for (const name of ['WebSocket', 'EventSource', 'Worker', 'SharedWorker', 'RTCPeerConnection'])
                 window[name] = new Proxy(window[name] ?? class {}, { construct(_, [address]) {
                     asked.push(`${name} ${address}`); return {} } });
             navigator.sendBeacon = address => asked.push(`beacon ${address}`)",
            Vec::new(),
        );
        let loaded = requests(page);
        assert!(loaded.len() >= 3, "style, script and program: {loaded:?}");
        page.field("Branch diameter").type_text("1 5/8");
        page.field("Label").type_text("axle beam");
        page.field("Paper").choose("Legal");
        page.field("Its name").type_text("shop laser");
        page.button("From the heel").click();
        page.button("No printer near? Mark by hand").click();
        page.button("Save as CSV").click();
        assert!(page.saved("cope-axle-beam.csv").starts_with("turn_deg,"));
        page.button("Copy link").click();
        let _ = page.print();
        page.wait_until("the address follows", |page| page.url().contains("axle%20beam"));
        // The file that was saved is made of the page's own memory.
        let asked: Vec<String> = requests(page)
            .into_iter()
            .filter(|address| !address.starts_with("\"blob:"))
            .collect();
        assert_eq!(asked, loaded);
    });
}

#[test]
fn fragment_never_reaches_the_server() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&label=secret");
        assert!(page.url().contains("secret"));
        let sent = page.run(
            "return performance.getEntries().map(entry => entry.name.split('#')[0])
                 .filter(name => name.includes('secret'))",
            Vec::new(),
        );
        assert_eq!(sent, json!([]));
    });
}
