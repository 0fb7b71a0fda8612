//! How long a keystroke takes until it is painted. Reported, not asserted.
//!
//! Measured in the page, from the dispatch of the key's `input` event to the first task after the
//! next frame has been painted: a task posted from that frame's `requestAnimationFrame` comes up
//! when style, layout and painting of the frame are done. Part of that is waiting for
//! the screen's next frame, which every page does; so the same is measured on a page with nothing
//! but an input, and the work is given apart: handlers with their microtasks, and the frame (style,
//! layout, painting).

#![allow(clippy::unwrap_used, reason = "tests fail by panicking")]

use std::thread::sleep;
use std::time::Duration;

use browser_tests::{Device, Page, Site};
use copewright::job::list::{demo, write_job};
use copewright::units::{Denominator, Unit};
use serde_json::json;

/// Pieces of a large job.
const MANY: usize = 500;

/// Each of these is typed over what the field holds, key by key.
const TYPED: [(&str, &str); 8] = [
    ("Branch diameter", "1 5/8"),
    ("Main diameter", "2.375"),
    ("Angle", "47.25"),
    ("Offset", "-3/16"),
    ("Branch diameter", "1 1/2"),
    ("Branch wall", ".0954"),
    ("Angle", "52.50"),
    ("Main diameter", "1 3/4"),
];
const ROUNDS: usize = 3;

/// A quick typist's, 80 words of five letters in a minute: common practice, no source.
const BETWEEN_KEYS: Duration = Duration::from_millis(150);
const BETWEEN_FIELDS: Duration = Duration::from_millis(700);

const EMPTY: &str = "<!doctype html><html lang=en><title>Empty</title>
    <label>Field <input></label>";

const METER: &str = "
    window.keystrokes = [];
    window.meter ?? addEventListener('input', () => {
        const start = performance.now();
        const task = act => scheduler.postTask(act, { priority: 'user-blocking' });
        let handled;
        task(() => handled = performance.now());
        requestAnimationFrame(() => {
            const frame = performance.now();
            // Nothing waits between the two when the frame comes before the message.
            const scripts = (handled ?? frame) - start;
            task(() => { const painted = performance.now();
                         keystrokes.push([painted - start, scripts, painted - frame]) });
        });
    }, true);
    window.meter = true";

/// For each keystroke, ms: until painted; of that, handlers with their microtasks; and the frame.
fn measured(page: &Page, typed: &[(&str, &str)]) -> Vec<[f64; 3]> {
    page.run(METER, Vec::new());
    let mut count = 0;
    for (field, text) in typed {
        page.field(field).type_steadily(text, BETWEEN_KEYS);
        count += text.chars().count();
        page.wait_until("the keystrokes are painted", |page| {
            page.run("return keystrokes.length", Vec::new()) == json!(count)
        });
        // On the way to the next field the hands rest, and what has waited for that is done.
        sleep(BETWEEN_FIELDS);
    }
    serde_json::from_value(page.run("return keystrokes", Vec::new())).unwrap_or_default()
}

/// Median and 95th percentile.
fn percentiles(mut values: Vec<f64>) -> [f64; 2] {
    values.sort_by(f64::total_cmp);
    [50, 95].map(|percent| values[(values.len() - 1) * percent / 100])
}

/// One line of the report.
fn report(what: &str, keystrokes: &[[f64; 3]]) {
    let of = |part: fn(&[f64; 3]) -> f64| {
        let [p50, p95] = percentiles(keystrokes.iter().map(part).collect());
        format!("p50 {p50:5.1} p95 {p95:5.1}")
    };
    println!(
        "{what:22} {:3} keystrokes, ms: work {}; of that scripts {}, frame {}; to paint {}",
        keystrokes.len(),
        of(|[_, scripts, frame]| scripts + frame),
        of(|row| row[1]),
        of(|row| row[2]),
        of(|row| row[0]),
    );
}

#[test]
fn keystroke_to_paint() {
    let device = Device::DESKTOP;
    let empty = Page::open_site(Site::of_page(EMPTY), device);
    let digits = "1 5/8 2.375 47.25 -3/16 1 1/2 .095 52.5 1 3/4".repeat(2);
    report("empty page", &measured(&empty, &[("Field", &digits)]));
    drop(empty);
    // Without a graphics processor the browser draws the 3D view on the same cores as the page.
    for (what, device) in [
        ("page", device),
        ("page without 3D view", device.without_webgl()),
    ] {
        let page = Page::open_on(device);
        page.open_fragment("v=1&unit=in");
        let keystrokes = measured(&page, &TYPED.repeat(ROUNDS));
        assert!(keystrokes.len() >= 100, "{} keystrokes", keystrokes.len());
        report(what, &keystrokes);
        assert_eq!(page.troubles(), [""; 0]);
    }
}

/// The example with one of its braces so often that it has [`MANY`] pieces.
fn many() -> String {
    let mut job = demo(Unit::Fraction(Denominator::Sixteenth));
    let brace = job.pieces()[3].id();
    while job.pieces().len() < MANY {
        job = job.with_duplicate(brace).0;
    }
    write_job(&job)
}

#[test]
fn keystroke_to_paint_in_a_large_job() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("many.json");
    std::fs::write(&file, many()).unwrap();
    let page = Page::open_on(Device::DESKTOP);
    page.button("Start a list of pieces").click();
    page.button("Jobs and files").click();
    page.field("Open a job file").press(file.to_str().unwrap());
    page.wait_until("the job is there", |page| page.says("500. handle stay"));
    page.run("document.querySelector('.jobs').open = false", Vec::new());
    for (kind, piece) in [("a square piece", 0), ("a brace", 3)] {
        page.run(
            "document.querySelectorAll('.list .piece')[arguments[0]].click()",
            vec![json!(piece)],
        );
        let typed: &[(&str, &str)] = if piece == 0 {
            &[
                ("Length", "47.25"),
                ("Length", "48 1/2"),
                ("Job", "trolley no. 2"),
            ]
        } else {
            &TYPED
        };
        let keystrokes = measured(&page, &typed.repeat(ROUNDS));
        report(&format!("500, {kind}"), &keystrokes);
    }
    assert_eq!(page.troubles(), [""; 0]);
}
