//! The main job in Firefox: type, see, print true to size, save, share, come back, and the
//! one file.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::printed::Sheet;
use browser_tests::rulers::assert_rulers;
use browser_tests::{Device, Page, SharedPage, Site};
use serde_json::json;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP.in_firefox());

/// A whole number of CSS pixels, to which Firefox rounds its paper.
const PIXEL: f64 = 25.4 / 96.0;

#[test]
fn numbers_are_typed_refused_and_taken_back() {
    PAGE.visit(|page| {
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
    });
}

#[test]
fn it_prints_true_to_size() {
    PAGE.visit(|page| {
        for (paper, width, height) in [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)] {
            page.open_fragment(&format!("v=1&unit=mm&angle=45&offset=6&paper={paper}"));
            let pdf = page.print();
            let worst = assert_rulers(paper, &pdf, [1.0, 1.0]);
            println!("Firefox, {paper}: rulers at most {worst:.4} mm off");
            assert_eq!(pdf.pages.len(), 1, "{paper}");
            let sheet = &pdf.pages[0];
            assert!(
                (sheet.width_mm - width).abs() < PIXEL,
                "{paper}: {}",
                sheet.width_mm
            );
            assert!(
                (sheet.height_mm - height).abs() < PIXEL,
                "{paper}: {}",
                sheet.height_mm
            );
            page.field("Label").type_text("drawbar");
            page.field("Angle").type_text("60");
            page.rest();
            let pdf = page.print();
            assert!(pdf.pages[0].says("drawbar"), "{paper}");
            assert!(pdf.pages[0].says("at 60°"), "{paper}");
        }
        // Several sheets, none blank and none too many.
        page.open_fragment("v=1&unit=mm&branch=168.3&wall=6.3&main=219.1&angle=45&paper=A4");
        let pdf = page.print();
        let shown = page.run(
            "return document.querySelectorAll('.sheets .page').length",
            Vec::new(),
        );
        assert_eq!(json!(pdf.pages.len()), shown);
        assert!(pdf.pages.len() > 1);
        assert_rulers("large", &pdf, [1.0, 1.0]);
        for sheet in &pdf.pages {
            assert!(!Sheet::new(sheet).rulers().is_empty());
        }
    });
}

#[test]
fn what_is_printed_in_the_middle_of_a_word_says_so_or_is_as_typed() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm&angle=45");
        // Firefox lets nothing follow between the order to print and the print.
        page.field("Angle").type_text("60");
        let pdf = page.print();
        let sheet = &pdf.pages[0];
        assert!(
            sheet.says("at 60°") || sheet.says("Not printed"),
            "{:?}",
            sheet
                .texts
                .iter()
                .map(|text| &text.words)
                .collect::<Vec<_>>()
        );
        assert!(!sheet.says("at 45°"));
    });
}

#[test]
fn a_job_is_listed_printed_saved_and_kept() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm");
        page.button("See an example").click();
        page.wait_until("the example is there", |page| page.says("13. handle stay"));
        page.button("Save as a file").click();
        page.button("PDF of the sheets").click();
        page.wait_until("it is saved", |page| page.says(".pdf is saved"));
        page.button("Heights as CSV, end A").click();
        page.wait_until("the heights are saved", |page| page.says(".csv is saved"));
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
        let pdf = page.print();
        let shown = page.run(
            "return document.querySelectorAll('.sheets .page').length",
            Vec::new(),
        );
        assert_eq!(json!(pdf.pages.len()), shown);
        // The database keeps it.
        page.run("document.querySelector('#job-title').focus()", Vec::new());
        page.field("Job").type_text("trolley two");
        page.reload();
        page.wait_until("the job is there again", |page| {
            page.says("13. handle stay")
        });
        assert_eq!(page.field("Job").value(), "trolley two");
    });
}

#[test]
fn where_it_cannot_draw_in_space_it_says_so() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm");
        // Without a screen Firefox has no WebGL 2.
        assert!(
            page.says("This browser cannot show the 3D view")
                || page.says("Drag sideways to turn it")
        );
    });
}

#[test]
fn without_a_network_it_starts_again() {
    let page = Page::open_site(Site::built_in("/shop/"), Device::DESKTOP.in_firefox());
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

#[test]
fn the_one_file_works_by_double_click() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../dist/copewright.html");
    let page = Page::open_file(file, Device::DESKTOP.in_firefox());
    page.field("Angle").type_text("47");
    page.wait_until("it draws", |page| page.says("43°"));
    page.rest();
    assert_rulers("one file", &page.print(), [1.0, 1.0]);
    page.wait_until("the address follows", |page| {
        page.url().contains("angle=47")
    });
    page.button("Start a list of pieces").click();
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}
