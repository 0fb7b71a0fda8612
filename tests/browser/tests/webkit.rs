//! The main job in WebKit: type, see, share, come back, the one file; what it prints, which is true
//! to size under conditions that nobody can be trusted to meet, and the PDF, which always is.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

mod any_engine;

use any_engine::{
    keep_the_job, lay_out_the_whole_job, list_and_save_the_example, start_without_a_network,
    type_refuse_and_take_back,
};
use browser_tests::pdf::Pdf;
use browser_tests::rulers::assert_rulers;
use browser_tests::{Device, Key, Margins, Page, SharedPage, Site, webkit_is_here};
use serde_json::json;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP.in_webkit());

/// Code in a link, name in the print dialog, width and height in mm.
const PAPERS: [(&str, &str, f64, f64); 2] = [
    ("A4", "iso_a4", 210.0, 297.0),
    ("Letter", "na_letter", 215.9, 279.4),
];

/// A printed sheet is a whole number of points.
const POINT: f64 = 25.4 / 72.0;

/// What the toolkit of the print dialog leaves free at the left and at the right of every paper
/// when nobody changes it: a quarter of an inch each.
const LEFT_FREE: f64 = 2.0 * 6.35;

fn visit(test: impl FnOnce(&Page)) {
    if webkit_is_here() {
        PAGE.visit(test);
    }
}

/// What WebKit multiplies lengths by: it takes the page for as wide as the next whole number of
/// CSS pixels, and fits that between the margins.
fn fitted(page_mm: f64, between_margins_mm: f64) -> [f64; 2] {
    let pixel = 25.4 / 96.0;
    [between_margins_mm / (pixel * (page_mm / pixel - 1e-6).ceil()); 2]
}

#[track_caller]
fn assert_sheets(what: &str, page: &Page, pdf: &Pdf, width: f64, height: f64) {
    let shown = page.run(
        "return document.querySelectorAll('.sheets .page').length",
        Vec::new(),
    );
    assert_eq!(json!(pdf.pages.len()), shown, "{what}");
    for sheet in &pdf.pages {
        let off = [sheet.width_mm - width, sheet.height_mm - height];
        assert!(
            off.iter().all(|off| off.abs() < POINT),
            "{what}: {} × {} mm",
            sheet.width_mm,
            sheet.height_mm
        );
    }
}

#[test]
fn numbers_are_typed_refused_and_taken_back() {
    visit(type_refuse_and_take_back);
}

#[test]
fn it_says_before_printing_what_to_do_instead() {
    visit(|page| {
        page.open_fragment("v=1&unit=mm&angle=45");
        let said = page.text_of(".doubt");
        assert!(
            said.contains("known to print a few per cent too large or too small")
                && said.contains("Save a PDF instead"),
            "{said}"
        );
        // And again where the paper is chosen.
        let said = page.text_of(".paper");
        assert!(
            said.contains("Save a PDF and print that at 100 %")
                && said.contains("measure the rulers before you cut"),
            "{said}"
        );
    });
}

#[test]
fn without_margins_it_prints_true_to_size() {
    visit(|page| {
        for (paper, sheet, width, height) in PAPERS {
            page.open_fragment(&format!("v=1&unit=mm&angle=45&offset=6&paper={paper}"));
            let pdf = page.print_in_webkit(sheet, Margins::None);
            let factor = fitted(width, width);
            // 0.04 mm short over 100 mm on A4, nothing on Letter.
            assert!((1.0 - factor[0]).abs() < 4e-4, "{paper}: {factor:?}");
            let worst = assert_rulers(paper, &pdf, factor);
            println!(
                "WebKit, {paper}, no margins: × {:.5}, to {worst:.4} mm",
                factor[0]
            );
            assert_sheets(paper, page, &pdf, width, height);
            assert!(pdf.pages[0].says("at 45°"), "{paper}");
        }
        // Several sheets, none blank and none too many.
        page.open_fragment("v=1&unit=mm&branch=168.3&wall=6.3&main=219.1&angle=45&paper=A4");
        let pdf = page.print_in_webkit("iso_a4", Margins::None);
        assert!(pdf.pages.len() > 1);
        assert_rulers("large", &pdf, fitted(210.0, 210.0));
        assert_sheets("large", page, &pdf, 210.0, 297.0);
    });
}

#[test]
fn with_the_margins_of_the_dialog_it_prints_too_small_until_it_is_corrected() {
    visit(|page| {
        for (paper, sheet, width, height) in PAPERS {
            page.open_fragment(&format!("v=1&unit=mm&angle=45&offset=6&paper={paper}"));
            let pdf = page.print_in_webkit(sheet, Margins::Printer);
            let factor = fitted(width, width - LEFT_FREE);
            assert!(factor[0] < 0.95, "{factor:?}");
            let worst = assert_rulers(paper, &pdf, factor);
            println!(
                "WebKit, {paper}, its margins: × {:.5}, to {worst:.4} mm",
                factor[0]
            );
            assert_sheets(paper, page, &pdf, width, height);
            // What the page advises: the rulers are measured, to a tenth, and typed.
            let measured = format!("{:.1}", 100.0 * factor[0]);
            page.field("Across the sheet").type_text(&measured);
            page.field("Along the sheet").type_text(&measured);
            page.button("Correct the sheets").click();
            page.wait_until("sheets are corrected", |page| {
                page.says("Sheets are corrected for this printer")
            });
            page.rest();
            let pdf = page.print_in_webkit(sheet, Margins::Printer);
            let measured: f64 = measured.parse().unwrap();
            let left = factor.map(|factor| factor * 100.0 / measured);
            assert!((1.0 - left[0]).abs() < 6e-4, "{paper}: {left:?}");
            assert_rulers(&format!("{paper}, corrected"), &pdf, left);
            assert_sheets(paper, page, &pdf, width, height);
            page.button("Drop the correction").click();
        }
    });
}

#[test]
fn on_other_paper_than_the_page_is_for_it_prints_at_another_size() {
    visit(|page| {
        page.open_fragment("v=1&unit=mm&angle=45&paper=A4");
        let pdf = page.print_in_webkit("na_letter", Margins::None);
        let factor = fitted(210.0, 215.9);
        assert!(factor[0] > 1.02, "{factor:?}");
        println!(
            "WebKit, A4 page on Letter: × {:.5}, {} sheets",
            factor[0],
            pdf.pages.len()
        );
        // What hangs over goes on a sheet of its own.
        let first = Pdf {
            pages: pdf.pages[..1].to_vec(),
        };
        assert_rulers("A4 page on Letter", &first, factor);
    });
}

#[test]
fn what_it_saves_as_pdf_is_true_to_size() {
    visit(|page| {
        for (paper, _, width, height) in PAPERS {
            page.open_fragment(&format!(
                "v=1&unit=mm&angle=45&offset=6&label=drawbar&paper={paper}"
            ));
            page.button("Save a PDF instead").click_when_settled();
            page.button("PDF of the sheets").click_when_settled();
            let bytes = page.saved_bytes("cope-drawbar.pdf");
            let pdf = Pdf::read(&bytes).unwrap();
            let worst = assert_rulers(paper, &pdf, [1.0, 1.0]);
            println!("WebKit, {paper}, its PDF: rulers at most {worst:.4} mm off");
            assert_sheets(paper, page, &pdf, width, height);
        }
    });
}

#[test]
fn a_job_is_listed_saved_and_kept() {
    visit(|page| {
        list_and_save_the_example(page);
        lay_out_the_whole_job(page);
        page.button("PDF of the sheets").click_when_settled();
        let pdf = Pdf::read(&page.saved_bytes("cope-launching-trolley-packet.pdf")).unwrap();
        assert_sheets("the whole job", page, &pdf, 210.0, 297.0);
        keep_the_job(page);
    });
}

#[test]
fn it_draws_in_space() {
    visit(|page| {
        page.open_fragment("v=1&unit=mm");
        let view = || page.names_of("canvas").remove(0);
        let picture = page.named("canvas", "picture", &view());
        let start = view();
        assert!(start.contains("at 60°"), "{start}");
        for _ in 0..12 {
            picture.press(&Key::Right.to_string());
        }
        page.wait_until("it turns", |_| view() != start);
    });
}

#[test]
fn without_a_network_it_starts_again() {
    if webkit_is_here() {
        let page = Page::open_site(Site::built_in("/shop/"), Device::DESKTOP.in_webkit());
        start_without_a_network(&page);
    }
}

#[test]
fn the_one_file_works_by_double_click() {
    if !webkit_is_here() {
        return;
    }
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../dist/copewright.html");
    let page = Page::open_file(file, Device::DESKTOP.in_webkit());
    page.field("Angle").type_text("47");
    page.wait_until("it draws", |page| page.says("43°"));
    page.rest();
    page.wait_until("the address follows", |page| {
        page.url().contains("angle=47")
    });
    let pdf = page.print_in_webkit("iso_a4", Margins::None);
    assert_rulers("one file", &pdf, fitted(210.0, 210.0));
    assert!(pdf.pages[0].says("at 47°"));
    page.button("Start a list of pieces").click();
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}
