//! The page without a network: kept whole on the first visit, in any folder of a server, and
//! changed for a newer version only when the user says so.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::{Device, Page, Site};
use serde_json::Value;

const FOLDER: &str = "/shop/tools/";
const OTHER_END: &str = "Add the other end and the length";
const NEWER: &str = "A newer version is ready. What is typed stays.";

fn visit() -> Page {
    Page::open_site(Site::built_in(FOLDER), Device::DESKTOP)
}

/// How many whole versions are kept; none before this window is served from one of them.
fn versions(page: &Page) -> u64 {
    let found = page.run_async(
        "const done = arguments[0];
         (async () => {
             let whole = 0;
             for (const name of await caches.keys())
                 if (await (await caches.open(name)).match('./')) whole += 1;
             done(navigator.serviceWorker.controller ? whole : 0);
         })().catch(error => done(String(error)))",
        Vec::new(),
    );
    found.as_u64().unwrap_or_else(|| panic!("{found}"))
}

#[track_caller]
fn wait_for_versions(page: &Page, wanted: u64) {
    page.wait_until(&format!("{wanted} versions are kept"), |page| {
        versions(page) == wanted
    });
}

/// What was asked of the server lately, but for the service worker's own look for a newer one.
fn asked(page: &Page) -> Vec<String> {
    let mut asked = page.site().asked();
    asked.retain(|path| *path != format!("{FOLDER}service_worker.js"));
    asked
}

/// The title of the document as it came, before the program adds a label to it.
fn is_newer(page: &Page) -> bool {
    let fetched = page.run_async(
        "const done = arguments[0];
         fetch('./').then(page => page.text()).then(done, error => done(String(error)))",
        Vec::new(),
    );
    fetched.as_str().unwrap().contains("<title>Renewed: ")
}

#[test]
fn the_first_visit_keeps_all_that_works_without_a_network() {
    let page = visit();
    wait_for_versions(&page, 1);
    let _ = asked(&page);

    // From here on nothing is asked for, not even for what this visit has not used before.
    page.button(OTHER_END).click();
    page.field("Length").type_text("500");
    page.reload();
    assert_eq!(page.field("Length").value(), "500");
    assert_eq!(asked(&page), [""; 0]);
    assert_eq!(page.troubles(), [""; 0]);

    page.site().cut(true);
    page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw");
    page.field("Angle").type_text("75");
    page.button(OTHER_END).click();
    page.field("Length").type_text("640");
    assert!(page.print().pages.len() >= 2, "a template for each end");
    // The other address of the same page.
    page.run(
        "location.href = location.href.split('#')[0] + 'index.html'",
        Vec::new(),
    );
    page.wait_until("the page is there by its file's name", |page| {
        page.url().contains("/index.html") && page.first("main").is_some()
    });
    assert_eq!(page.foreign_requests(), [""; 0]);
    assert_eq!(asked(&page), [""; 0]);
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn a_newer_version_comes_only_when_the_user_says_so() {
    let page = visit();
    wait_for_versions(&page, 1);
    page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60");
    assert!(!page.says(NEWER));

    page.site().renew("Renewed");
    page.come_back();
    wait_for_versions(&page, 2);
    page.wait_until("the page tells of it", |page| page.says(NEWER));
    assert_eq!(page.axe(), []);
    // Every window may close: the version in use stays in use, its other files too, which the
    // server has no longer.
    let _ = asked(&page);
    page.come_back();
    assert!(!is_newer(&page));
    page.wait_until("it is told again", |page| page.says(NEWER));
    assert_eq!(asked(&page), [""; 0], "told at once, of what is kept");
    page.button(OTHER_END).click();
    page.field("Length").type_text("512");
    assert!(page.says(NEWER), "the rest of the page leaves it standing");
    let paper = page.print();
    assert!(!paper.pages.is_empty());

    let first = page.this_window();
    let second = page.open_window("v=1&unit=mm&branch=42.4&main=60.3&angle=45");
    page.field("Offset").type_text("3/");
    page.turn_to(&first);
    assert_eq!(page.field("Length").value(), "512");
    page.field("Label").type_text("brace");
    page.button("Change to it").click();
    page.wait_until("the page has changed", |page| !page.says(NEWER));
    wait_for_versions(&page, 1);
    page.wait_until("the piece is there", |page| {
        page.first(".ends button").is_some()
    });
    assert_eq!(page.field("Length").value(), "512");
    assert_eq!(page.field("Label").value(), "brace");
    assert!(is_newer(&page));
    assert_eq!(page.print().pages.len(), paper.pages.len());

    // The other window has changed with it, and has lost nothing.
    page.turn_to(&second);
    page.wait_until("the other window is there again", |page| {
        page.first("header").is_some() && !page.says(NEWER)
    });
    assert_eq!(page.field("Offset").value(), "3/");
    assert_eq!(page.field("Main diameter").value(), "60.3");
    page.site().cut(true);
    page.come_back();
    assert!(is_newer(&page));
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn two_versions_are_never_mixed() {
    // A server in the middle of its renewal: one file is of another version.
    let site = Site::built_in(FOLDER);
    site.damage("copewright.webmanifest");
    let page = Page::open_site(site, Device::DESKTOP);
    page.wait_until("the service worker gives up", |page| {
        let found = page.run_async(
            "const done = arguments[0];
             navigator.serviceWorker.getRegistration().then(found => done(!found))",
            Vec::new(),
        );
        found == Value::Bool(true)
            && page
                .site()
                .asked()
                .contains(&format!("{FOLDER}copewright.webmanifest"))
    });
    assert_eq!(versions(&page), 0);
    // The page itself works on.
    page.field("Angle").type_text("45");
    page.button(OTHER_END).click();
    page.field("Length").type_text("500");
}

#[test]
fn a_failed_renewal_leaves_the_version_in_use_alone() {
    let page = visit();
    wait_for_versions(&page, 1);
    page.site().renew("Renewed");
    page.site().damage("icon-192.png");
    let _ = page.site().asked();
    page.come_back();
    page.wait_until("the newer version was tried", |page| {
        page.site()
            .asked()
            .contains(&format!("{FOLDER}icon-192.png"))
    });
    page.site().cut(true);
    page.come_back();
    assert!(!is_newer(&page));
    assert_eq!(versions(&page), 1);
    page.button(OTHER_END).click();
    page.field("Length").type_text("500");
    assert!(!page.says(NEWER));
}
