//! The main job in Firefox: type, see, print true to size, save, share, come back, and the
//! one file.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

mod any_engine;

use any_engine::{
    keep_the_job, lay_out_the_whole_job, list_and_save_the_example, start_without_a_network,
    type_refuse_and_take_back,
};
use browser_tests::printed::Sheet;
use browser_tests::rulers::assert_rulers;
use browser_tests::{Device, Page, SharedPage, Site};
use serde_json::json;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP.in_firefox());

/// A whole number of CSS pixels, to which Firefox rounds its paper.
const PIXEL: f64 = 25.4 / 96.0;

#[test]
fn numbers_are_typed_refused_and_taken_back() {
    PAGE.visit(type_refuse_and_take_back);
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
        list_and_save_the_example(page);
        lay_out_the_whole_job(page);
        let pdf = page.print();
        let shown = page.run(
            "return document.querySelectorAll('.sheets .page').length",
            Vec::new(),
        );
        assert_eq!(json!(pdf.pages.len()), shown);
        keep_the_job(page);
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
    start_without_a_network(&page);
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
