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

#[test]
fn its_policy_is_strict_and_holds() {
    let page = Page::open();
    let policy = page.run(
        "return document.querySelector('meta[http-equiv=Content-Security-Policy]').content",
        Vec::new(),
    );
    let policy = policy.as_str().unwrap_or_default();
    let rules: Vec<(&str, Vec<&str>)> = policy
        .split(';')
        .map(|rule| {
            let mut words = rule.split_whitespace();
            (words.next().unwrap_or_default(), words.collect())
        })
        .collect();
    let rule = |name: &str| {
        let found = rules.iter().find(|(of, _)| *of == name);
        found.map(|(_, words)| words.as_slice()).unwrap_or_default()
    };
    for nothing in ["default-src", "base-uri", "form-action"] {
        assert_eq!(rule(nothing), ["'none'"], "{policy}");
    }
    for own in [
        "style-src",
        "img-src",
        "connect-src",
        "worker-src",
        "manifest-src",
        "frame-src",
    ] {
        assert_eq!(rule(own), ["'self'"], "{own}: {policy}");
    }
    // Besides files of its own the page runs the one script that starts it, and WebAssembly.
    let scripts = rule("script-src");
    assert_eq!(scripts.len(), 3, "{policy}");
    assert_eq!([scripts[0], scripts[2]], ["'self'", "'wasm-unsafe-eval'"]);
    assert!(scripts[1].starts_with("'sha256-"), "{policy}");

    // It is in force, and the harness hears of what it stops.
    assert_eq!(page.troubles(), [""; 0]);
    page.run(
        "const script = document.createElement('script');
         script.textContent = 'window.taken = true';
         document.head.append(script);
         const style = document.createElement('p');
         style.setAttribute('style', 'color: red');
         document.body.append(style)",
        Vec::new(),
    );
    for stopped in ["script-src-elem", "style-src-attr"] {
        page.wait_until(stopped, |page| {
            let troubles = page.site().troubles();
            troubles
                .iter()
                .any(|trouble| trouble.contains(&format!("content policy: {stopped}")))
        });
    }
    assert_eq!(
        page.run("return window.taken ?? null", Vec::new()),
        json!(null)
    );
}

/// Everything the page has fetched, sent or opened so far. (What the service worker fetches to
/// keep this version is not the page's: it is this version's own files, and `offline.rs` watches
/// it at the server.)
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
