//! True scale: the rulers on the printed sheets, the paper itself, the correction for a printer
//! that is a little off, and how many sheets come out.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::pdf::Pdf;
use browser_tests::printed::Sheet;
use browser_tests::rulers::{TRUE, assert_rulers};
use browser_tests::{Device, Page, SharedPage, tape};

/// Chromium makes a sheet a whole number of CSS pixels.
const PIXEL: f64 = 25.4 / 96.0;

/// Code in a link, width and height in mm: A4 and A3 of ISO 216, Letter and Tabloid of
/// ANSI/ASME Y14.1 (A and B); Legal is common practice, 8 1/2 by 14 in.
const PAPERS: [(&str, f64, f64); 5] = [
    ("A4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("Letter", 215.9, 279.4),
    ("Legal", 215.9, 355.6),
    ("Tabloid", 279.4, 431.8),
];

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

#[track_caller]
fn assert_paper(what: &str, pdf: &Pdf, width: f64, height: f64) {
    for page in &pdf.pages {
        let off = (page.width_mm - width)
            .abs()
            .max((page.height_mm - height).abs());
        assert!(
            off < PIXEL,
            "{what} is {} × {} mm",
            page.width_mm,
            page.height_mm
        );
    }
}

/// As many sheets in the print as on the page, each numbered, none blank.
#[track_caller]
fn assert_sheets(what: &str, page: &Page, pdf: &Pdf, count: usize) {
    let shown = page.run(
        "return document.querySelectorAll('.sheets .page').length",
        Vec::new(),
    );
    assert_eq!(shown, count, "{what}: sheets on the page");
    assert_eq!(pdf.pages.len(), count, "{what}: sheets printed");
    for sheet in &pdf.pages {
        assert!(
            !Sheet::new(sheet).rulers().is_empty(),
            "{what}: blank sheet"
        );
    }
}

#[test]
fn rulers_are_true_on_every_paper() {
    PAGE.visit(|page| {
        for (paper, width, height) in PAPERS {
            page.open_fragment(&format!("v=1&angle=45&offset=6&paper={paper}"));
            let pdf = page.print();
            let worst = assert_rulers(paper, &pdf, [1.0, 1.0]);
            assert_paper(paper, &pdf, width, height);
            assert_sheets(paper, page, &pdf, 1);
            assert!(pdf.pages[0].says(&format!("{paper}, print at 100 %")));
            assert!(
                pdf.pages[0].says("ISO/IEC 7810 ID-1"),
                "{paper}: the bank card"
            );
            println!("{paper}: rulers at most {worst:.4} mm off");
        }
    });
}

#[test]
fn paper_chosen_on_the_page_is_the_paper_printed_on() {
    PAGE.visit(|page| {
        for (paper, width, height) in PAPERS.into_iter().rev() {
            page.field("Paper").choose(paper);
            let pdf = page.print();
            assert_paper(paper, &pdf, width, height);
            assert_rulers(paper, &pdf, [1.0, 1.0]);
            assert_sheets(paper, page, &pdf, 1);
        }
    });
}

#[test]
fn window_of_any_size_prints_the_same() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&angle=50&offset=-5&turn=20");
        let usual = page.print();
        for (width, height) in [(3600, 2400), (560, 2000)] {
            page.window(width, height);
            let pdf = page.print();
            let what = format!("window of {width} × {height}");
            assert_rulers(&what, &pdf, [1.0, 1.0]);
            assert_sheets(&what, page, &pdf, 1);
            assert_eq!(
                pdf.pages[0].strokes, usual.pages[0].strokes,
                "{what} moves the lines"
            );
        }
    });
}

#[test]
fn phone_prints_true_too() {
    let page = Page::open_on(Device::PHONE);
    page.open_fragment("v=1");
    let pdf = page.print();
    assert_rulers("phone", &pdf, [1.0, 1.0]);
    assert_paper("phone", &pdf, 210.0, 297.0);
    assert_sheets("phone", &page, &pdf, 1);
}

/// Types what the 100 mm rulers measured, as a person reads them off.
fn correct(page: &Page, across: &str, along: &str) {
    page.field("Across the sheet").type_text(across);
    page.field("Along the sheet").type_text(along);
    page.button("Correct the sheets").click();
}

#[test]
fn correction_for_the_printer_stretches_both_ways_exactly() {
    PAGE.visit(|page| {
        for (paper, sideways) in [("A4", false), ("Letter", true)] {
            page.open_fragment(&format!(
                "v=1&branch=48.3&main=60.3&angle=55&offset=6&paper={paper}"
            ));
            page.field("Drawing on the sheet").choose(if sideways {
                "sideways"
            } else {
                "upright"
            });
            let before = page.print();
            // 100 / 1.01 and 100 / 0.99, so that lengths are multiplied by 1.01 and 0.99.
            correct(page, "99.00990099", "101.01010101");
            page.wait_until("the page says that sheets are corrected", |page| {
                page.says("across × 1.0100, along × 0.9900")
            });
            let after = page.print();
            let worst = assert_rulers(paper, &after, [1.01, 0.99]);
            println!("{paper}, corrected: rulers at most {worst:.4} mm off");
            assert_sheets(paper, page, &after, 1);
            let words = Sheet::new(&after.pages[0]).words();
            assert!(words.contains("across × 1.0100, along × 0.9900"), "{words}");

            let (before, after) = (Sheet::new(&before.pages[0]), Sheet::new(&after.pages[0]));
            assert_eq!([before.is_turned(), after.is_turned()], [sideways; 2]);
            let (before, after) = (tape::strip(&[before]), tape::strip(&[after]));
            // As the strip is read, its width lies along the sheet when it is sideways.
            let [wide, high] = if sideways { [0.99, 1.01] } else { [1.01, 0.99] };
            let off = (after.width() - before.width() * wide).abs();
            assert!(off < 2.0 * TRUE, "{paper}: one turn is {off} mm off");
            let height = |strip: &browser_tests::fit::Strip| {
                let ys = strip.cut.iter().flatten().map(|point| point[1]);
                strip.mark - ys.fold(f64::INFINITY, f64::min)
            };
            let off = (height(&after) - height(&before) * high).abs();
            assert!(off < 2.0 * TRUE, "{paper}: the strip is {off} mm too high");

            page.button("Drop the correction").click();
            assert_rulers("dropped", &page.print(), [1.0, 1.0]);
        }
    });
}

#[test]
fn correction_belongs_to_its_printer_and_outlives_a_reload() {
    PAGE.visit(|page| {
        page.open_fragment("v=1");
        page.field("Its name").type_text("shop laser");
        correct(page, "99.5", "100.25");
        let [across, along] = [100.0 / 99.5, 100.0 / 100.25];
        page.reload();
        let pdf = page.print();
        assert_rulers("shop laser", &pdf, [across, along]);
        let words = Sheet::new(&pdf.pages[0]).words();
        assert!(words.contains("Corrected for shop laser"), "{words}");
        page.field("Printer").choose("Another printer …");
        assert_rulers("another printer", &page.print(), [1.0, 1.0]);
        page.field("Printer").choose("shop laser");
        assert_rulers("shop laser again", &page.print(), [across, along]);
    });
}

#[test]
fn rescaled_print_is_not_taken_for_a_printer_that_is_off() {
    PAGE.visit(|page| {
        page.open_fragment("v=1");
        correct(page, "80", "");
        assert!(page.says("20.0 % too short"), "{}", page.text_of(".rulers"));
        assert!(page.says("No correction"), "{}", page.text_of(".rulers"));
        assert_rulers("refused", &page.print(), [1.0, 1.0]);
    });
}

#[test]
fn number_of_sheets_is_exact() {
    PAGE.visit(|page| {
        // A strip of π · 168.4 mm takes three sheets of A4 laid sideways.
        let big = "v=1&branch=168.3&wall=7.1&main=219.1&angle=60&offset=-15";
        page.open_fragment(big);
        let pdf = page.print();
        assert_sheets("big tube", page, &pdf, 3);
        assert_rulers("big tube", &pdf, [1.0, 1.0]);
        for (i, sheet) in pdf.pages.iter().enumerate() {
            assert!(sheet.says(&format!("sheet {} of 3", i + 1)));
        }
        page.button("No printer near? Mark by hand").click();
        let along = page.field("Print it with the template");
        for divisions in ["8", "16", "32"] {
            page.field("Divisions").choose(divisions);
            if !along.is_chosen() {
                along.click();
            }
            let pdf = page.print();
            assert_sheets("big tube and table", page, &pdf, 4);
        }
        along.click();
        assert_sheets("table taken back", page, &page.print(), 3);
    });
}

#[test]
fn numbers_that_do_not_hold_are_not_printed() {
    PAGE.visit(|page| {
        page.field("Branch diameter").type_text("1 5/");
        let pdf = page.print();
        let [sheet] = pdf.pages.as_slice() else {
            panic!("{} sheets", pdf.pages.len());
        };
        assert!(sheet.strokes.is_empty(), "{} lines", sheet.strokes.len());
        let words: Vec<&str> = sheet.texts.iter().map(|text| text.words.as_str()).collect();
        assert_eq!(
            words.join(" "),
            "Not printed: a number on the page cannot be used. Mend it and print again."
        );
        page.field("Branch diameter").type_text("1 5/8");
        assert_rulers("mended", &page.print(), [1.0, 1.0]);
    });
}
