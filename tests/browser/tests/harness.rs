//! The harness itself: what it finds, hears and types, on a page made to try it.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::{Device, Key, Page, Site, webkit_is_here};
use serde_json::json;

const FORM: &str = "<!doctype html><html lang=en><title>Form</title>
    <h1>Form</h1>
    <p><label>Branch <b>diameter</b> <input id=a value='1 3/4'></label>
    <p><label for=b>Paper</label> <select id=b><option>A4<option>Letter</select>
    <p><input aria-label=Hidden hidden> <button onclick='count()'>Add one</button> <output>0</output>
    <script>
      function fail() {
        console.error('said so', 7);
        setTimeout(() => { throw new Error('thrown') });
        Promise.reject(new Error('refused'));
        document.body.append(Object.assign(new Image(), { src: '/missing.png' }));
      }
      function count() { const o = document.querySelector('output'); o.value = +o.value + 1 }
      document.querySelector('#a').addEventListener('input', e => document.title = e.target.value)
    </script>";

fn form() -> Page {
    Page::open_site(Site::of_page(FORM), Device::DESKTOP)
}

#[test]
fn types_over_a_field_found_by_its_spoken_name() {
    let page = form();
    let diameter = page.field("Branch diameter");
    diameter.type_text("1 1/2");
    assert_eq!(diameter.value(), "1 1/2");
    assert!(diameter.has_focus());
    // The page heard the typing, rather than having its value set behind its back.
    assert_eq!(
        page.run("return document.title", Vec::new()),
        json!("1 1/2")
    );
    diameter.press(&Key::Backspace.to_string());
    assert_eq!(diameter.value(), "1 1/");
    diameter.type_text("");
    assert_eq!(diameter.value(), "");
}

#[test]
fn chooses_and_presses() {
    let page = form();
    page.field("Paper").choose("Letter");
    assert_eq!(page.field("Paper").value(), "Letter");
    page.button("Add one").click();
    page.button("Add one").click();
    assert_eq!(page.text_of("output"), "2");
    assert!(page.says("Branch diameter"));
}

#[test]
fn fragment_opens_afresh_and_a_window_has_its_size() {
    let page = form();
    page.field("Branch diameter").type_text("9");
    page.open_fragment("v=1&branch=1+1%2F2");
    assert_eq!(page.field("Branch diameter").value(), "1 3/4");
    assert!(page.url().ends_with("/#v=1&branch=1+1%2F2"));
    page.window(700, 500);
    page.reload();
    assert!(page.url().ends_with("/#v=1&branch=1+1%2F2"));
}

/// Hears what goes wrong in a page with the recorder.
fn hears_every_kind_of_trouble(page: &Page) {
    assert_eq!(page.troubles(), [""; 0]);
    page.run("fail()", Vec::new());
    for trouble in [
        "said so 7",
        "thrown",
        "refused",
        "did not load",
        "asked for /missing.png",
    ] {
        page.wait_until(trouble, |page| {
            page.troubles().iter().any(|heard| heard.contains(trouble))
        });
    }
    page.reload();
    assert!(!page.troubles().is_empty(), "troubles outlive a reload");
}

/// Pages without the recorder: the site as it was built, and a file.
fn without_the_recorder(device: Device) -> [Page; 2] {
    let folder = tempfile::TempDir::new().unwrap();
    let file = folder.path().join("form.html");
    std::fs::write(&file, FORM).unwrap();
    let built = Page::open_site(Site::built_in("/"), device);
    [built, Page::open_file(file, device)]
}

/// Says that it hears nothing where nobody listens, rather than that all is well.
fn is_not_silent_where_nobody_listens(device: Device) {
    for page in without_the_recorder(device) {
        let said = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| page.troubles()));
        let said = said.map_err(|said| said.downcast_ref::<String>().cloned().unwrap());
        let said = said.unwrap_err();
        assert!(said.starts_with("nobody listens here"), "{said}");
    }
}

#[test]
fn troubles_are_heard_in_chromium() {
    hears_every_kind_of_trouble(&form());
    // Its console is read, so that it hears them everywhere.
    for page in without_the_recorder(Device::DESKTOP) {
        assert_eq!(page.troubles(), [""; 0]);
        page.run(
            "setTimeout(() => { throw new Error('thrown') })",
            Vec::new(),
        );
        page.wait_until("the console tells", |page| {
            page.troubles().iter().any(|heard| heard.contains("thrown"))
        });
    }
}

#[test]
fn troubles_are_heard_in_firefox_or_it_says_that_they_are_not() {
    let device = Device::DESKTOP.in_firefox();
    hears_every_kind_of_trouble(&Page::open_site(Site::of_page(FORM), device));
    is_not_silent_where_nobody_listens(device);
}

#[test]
fn troubles_are_heard_in_webkit_or_it_says_that_they_are_not() {
    if webkit_is_here() {
        let device = Device::DESKTOP.in_webkit();
        hears_every_kind_of_trouble(&Page::open_site(Site::of_page(FORM), device));
        is_not_silent_where_nobody_listens(device);
    }
}

#[test]
fn device_preferences_reach_the_page() {
    let device = Device::DESKTOP.dark().reduced_motion().without_webgl();
    let ask = "return [matchMedia('(prefers-color-scheme: dark)').matches,
                       matchMedia('(prefers-reduced-motion)').matches,
                       document.createElement('canvas').getContext('webgl2') !== null]";
    let page = Page::open_site(Site::of_page(FORM), device);
    assert_eq!(page.run(ask, Vec::new()), json!([true, true, false]));
    assert_eq!(form().run(ask, Vec::new()), json!([false, false, true]));
    if webkit_is_here() {
        let page = |device: Device| Page::open_site(Site::of_page(FORM), device.in_webkit());
        let plain = page(Device::DESKTOP);
        assert_eq!(
            page(device).run(ask, Vec::new()),
            json!([true, true, false])
        );
        assert_eq!(plain.run(ask, Vec::new()), json!([false, false, true]));
    }
}

#[test]
fn accessibility_checks_can_fail() {
    let page = Page::open_site(
        Site::of_page("<!doctype html><html lang=en><title>Bad</title><main><h1>Bad</h1><input>"),
        Device::DESKTOP,
    );
    let rules: Vec<_> = page
        .axe()
        .into_iter()
        .map(|violation| violation.rule)
        .collect();
    assert_eq!(rules, ["label"]);
}

#[test]
fn requests_to_another_origin_are_noticed() {
    let other = Site::of_page(FORM);
    let page = form();
    page.run_async(
        "const done = arguments[arguments.length - 1];
         fetch(arguments[0], { mode: 'no-cors' }).finally(done)",
        vec![json!(format!("{}/index.html", other.origin()))],
    );
    assert_eq!(
        page.foreign_requests(),
        [format!("{}/index.html", other.origin())]
    );
}
