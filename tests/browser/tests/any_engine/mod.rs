//! Steps of the main job that are the same in every engine.

use browser_tests::Page;
use serde_json::json;

/// Types, is refused in words, takes back, and comes again by reload and by link.
pub fn type_refuse_and_take_back(page: &Page) {
    page.open_fragment("v=1&unit=mm");
    let drawn = |page: &Page| {
        page.rest();
        page.run(
            "return ['.elevation .drawing', '.unrolled .drawing', '.sheets']
                 .map(part => document.querySelector(part).innerHTML)",
            Vec::new(),
        )
    };
    let before = drawn(page);
    page.field("Branch diameter").type_text("33.7");
    page.field("Main diameter").type_text("48.3");
    page.field("Angle").type_text("50");
    page.field("Label").type_text("stay");
    let after = drawn(page);
    for part in 0..3 {
        assert_ne!(before[part], after[part], "part {part} follows");
    }
    assert!(page.says("40°"), "off square");
    page.field("Angle").type_text("500");
    page.wait_until("it is refused in words", |page| page.says("500°"));
    let print =
        "return [...document.querySelectorAll('button.print')].map(button => button.disabled)";
    assert_eq!(page.run(print, Vec::new()), json!([true, true]));
    page.button("Undo").click();
    assert_eq!(page.field("Angle").value(), "50");
    assert_eq!(drawn(page), after);
    // What was typed is there again, by reload and by link.
    page.reload();
    assert_eq!(page.field("Angle").value(), "50");
    page.wait_until("the address follows", |page| {
        page.url().contains("angle=50")
    });
    let url = page.url();
    let (_, fragment) = url.split_once('#').unwrap();
    page.open_fragment("v=1");
    page.open_fragment(fragment);
    assert_eq!(page.field("Branch diameter").value(), "33.7");
}

/// Opens the example and saves the job, the sheets and the heights.
pub fn list_and_save_the_example(page: &Page) {
    page.open_fragment("v=1&unit=mm");
    page.button("See an example").click();
    page.wait_until("the example is there", |page| page.says("13. handle stay"));
    page.button("Save as a file").click_when_settled();
    page.button("PDF of the sheets").click_when_settled();
    page.wait_until("it is saved", |page| page.says(".pdf is saved"));
    page.button("Heights as CSV, end A").click_when_settled();
    page.wait_until("the heights are saved", |page| page.says(".csv is saved"));
}

/// Lays the whole job out by a worker, as it is to be printed.
pub fn lay_out_the_whole_job(page: &Page) {
    // The whole job by a worker.
    page.run(
        "document.querySelectorAll('[name=what-to-print]')[1].click()",
        Vec::new(),
    );
    page.wait_until("the whole job is laid out", |page| {
        page.run(
            "return document.querySelectorAll('.sheets .page').length > 5
                 && !document.querySelector('button.print').disabled",
            Vec::new(),
        ) == json!(true)
    });
}

/// The database keeps the job while the page is away.
pub fn keep_the_job(page: &Page) {
    page.run("document.querySelector('#job-title').focus()", Vec::new());
    page.field("Job").type_text("trolley two");
    page.reload();
    page.wait_until("the job is there again", |page| {
        page.says("13. handle stay")
    });
    assert_eq!(page.field("Job").value(), "trolley two");
}

/// Keeps everything, loses the network, and starts again.
pub fn start_without_a_network(page: &Page) {
    page.wait_until("everything is kept, and serves this window", |page| {
        page.run_async(
            "const done = arguments[arguments.length - 1];
             (async () => {
                 for (const name of await caches.keys())
                     if (await (await caches.open(name)).match('./'))
                         return Boolean(navigator.serviceWorker.controller);
                 return false;
             })().then(done, () => done(false))",
            Vec::new(),
        ) == json!(true)
    });
    page.site().cut(true);
    page.come_back();
    page.field("Angle").type_text("47");
    page.wait_until("it works", |page| page.says("43°"));
    page.button("Start a list of pieces").click();
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}
