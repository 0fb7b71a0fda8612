//! Saving as a file: each file comes under its own name and opens in another program's reader; and
//! the code on a sheet opens what is on the sheet.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use std::io::{Cursor, Read};

use browser_tests::pdf::{Pdf, Stroke, distance};
use browser_tests::{Device, Page, SharedPage, codes_on_sheets};
use copewright::job::open_form;
use serde_json::json;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

const FORM: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=brace 7";

/// Width of the pen of the pre-cut, mm.
const PRE_CUT: f64 = 0.22;
/// Width of the pen of the cut line, mm.
const CUT: f64 = 0.35;

fn open_menu(page: &Page) {
    page.open_fragment(FORM);
    page.button("Save as a file").click_when_settled();
    // The menu is open, and the first thing in it can be pressed at once.
    assert!(page.button("PDF of the sheets").has_focus());
}

/// Presses a button of the menu and takes what it saves.
fn saved(page: &Page, button: &str, name: &str) -> Vec<u8> {
    page.button(button).click_when_settled();
    let bytes = page.saved_bytes(name);
    page.wait_until("the page says so", |page| {
        page.says(&format!("{name} is saved."))
    });
    bytes
}

fn cuts(pdf: &Pdf) -> Vec<&Stroke> {
    let strokes = pdf.pages.iter().flat_map(|page| &page.strokes);
    strokes
        .filter(|stroke| (stroke.width_mm - CUT).abs() < 0.01)
        .collect()
}

/// How many strokes of a straight cut before the saw are on the sheets.
fn pre_cuts(page: &Page) -> u64 {
    let count = "return document.querySelectorAll('.page .pre-cut path').length";
    page.run(count, Vec::new()).as_u64().unwrap()
}

#[test]
fn a_print_that_comes_as_soon_as_the_workshop_has_the_straight_cut() {
    PAGE.visit(|page| {
        page.open_fragment(FORM);
        page.settle();
        // Nothing that waits for the hands to rest comes before the print.
        page.run("window.setTimeout = () => 0", Vec::new());
        page.button("Set up the saw, predict the fit").click();
        page.wait_until("the workshop is there", |page| {
            page.first("#saws").is_some()
        });
        assert_eq!(pre_cuts(page), 0);
        let _ = page.print();
        assert_ne!(pre_cuts(page), 0);
    });
}

#[test]
fn the_pdf_has_the_strokes_of_the_sheets() {
    PAGE.visit(|page| {
        open_menu(page);
        page.wait_until("the pre-cut is drawn", |page| {
            let drawn = "return !!document.querySelector('.page .pre-cut')";
            page.run(drawn, Vec::new()) == json!(true)
        });
        let bytes = saved(page, "PDF of the sheets", "cope-brace-7.pdf");
        lopdf::Document::load_mem(&bytes).unwrap();
        let (saved, printed) = (Pdf::read(&bytes).unwrap(), page.print());
        assert_eq!(saved.pages.len(), printed.pages.len());
        // The straight cut before the saw is on both. A print has its dashes as areas, so that it
        // is counted on the sheet.
        let on_sheet = page.run(
            "return [...document.querySelectorAll('.page .pre-cut path')]
                 .map(path => path.getAttribute('d').split('M').length - 1)
                 .reduce((all, one) => all + one, 0)",
            Vec::new(),
        );
        let strokes = saved.pages.iter().flat_map(|page| &page.strokes);
        let dashed = strokes.filter(|stroke| (stroke.width_mm - PRE_CUT).abs() < 0.005);
        assert_eq!(on_sheet, json!(dashed.count()));
        assert_ne!(on_sheet, json!(0));
        let (saved, printed) = (cuts(&saved), cuts(&printed));
        assert_eq!(saved.len(), 1);
        assert_eq!(printed.len(), 1);
        assert_eq!(saved[0].points.len(), printed[0].points.len());
        for (saved, printed) in saved[0].points.iter().zip(&printed[0].points) {
            assert!(distance(*saved, *printed) < 0.02, "{saved:?} {printed:?}");
        }
    });
}

#[test]
fn templates_heights_and_solids_open() {
    PAGE.visit(|page| {
        open_menu(page);
        let svg = String::from_utf8(saved(page, "SVG", "cope-brace-7.svg")).unwrap();
        let read = roxmltree::Document::parse(&svg).unwrap();
        assert!(
            read.descendants()
                .any(|node| node.attribute("id") == Some("cut-line"))
        );

        let dxf = saved(page, "DXF", "cope-brace-7.dxf");
        let read = dxf::Drawing::load(&mut Cursor::new(dxf)).unwrap();
        let cut = read
            .entities()
            .filter(|entity| entity.common.layer == "CUT_LINE");
        assert_eq!(cut.count(), 1);
        assert_eq!(
            read.header.default_drawing_units,
            dxf::enums::Units::Millimeters
        );

        let csv = saved(page, "Heights as CSV", "cope-brace-7.csv");
        assert_eq!(String::from_utf8(csv).unwrap().lines().count(), 17);

        let widths = |bytes: Vec<u8>| {
            let mesh = stl_io::read_stl(&mut Cursor::new(bytes)).unwrap();
            let far = |at: &stl_io::Vertex| f64::from(at[0]).hypot(f64::from(at[1]));
            let radii = mesh.vertices.iter().map(far);
            2.0 * radii.fold(0.0, f64::max)
        };
        saved(page, "Cut end as STL", "cope-brace-7-cut-end.stl");
        let name = "cope-brace-7-sleeve.stl";
        let sleeve = widths(saved(page, "Marking sleeve as STL", name));
        // The tube, a quarter of a millimetre of room and six lines of a nozzle of 0.4 mm.
        assert!(
            (sleeve - (42.4 + 2.0 * (0.25 + 2.4))).abs() < 0.02,
            "{sleeve}"
        );
        page.field("Sleeve, room to the tube").type_text("0.5");
        page.field("Sleeve, wall").type_text("3");
        let sleeve = widths(saved(page, "Marking sleeve as STL", name));
        assert!((sleeve - (42.4 + 2.0 * 3.5)).abs() < 0.02, "{sleeve}");
        // From its square end to its long point, as it stands in the printer.
        let height = |bytes: Vec<u8>| {
            let mesh = stl_io::read_stl(&mut Cursor::new(bytes)).unwrap();
            let heights = || mesh.vertices.iter().map(|at| f64::from(at[2]));
            heights().fold(f64::MIN, f64::max) - heights().fold(f64::MAX, f64::min)
        };
        page.field("Sleeve, long point to square end")
            .type_text("95");
        let long = height(saved(page, "Marking sleeve as STL", name));
        assert!((long - 95.0).abs() < 0.02, "{long}");
        page.field("Sleeve, long point to square end")
            .type_text("9");
        page.button("Marking sleeve as STL").click_when_settled();
        page.wait_until("the refusal", |page| {
            page.text_of(".files .notes")
                .starts_with("A sleeve 9 mm long would end before its own edge does")
        });
        page.field("Sleeve, long point to square end").type_text("");
        page.field("Sleeve, wall").type_text("0.2");
        page.button("Marking sleeve as STL").click_when_settled();
        page.wait_until("the refusal", |page| {
            page.text_of(".files .notes")
                .starts_with("The sleeve's wall is 0.2 mm. It must be 0.8 mm to 10 mm")
        });
    });
}

/// Width of the cut line in a DXF file, in its own unit.
fn cut_width(dxf: Vec<u8>) -> (dxf::enums::Units, f64) {
    let read = dxf::Drawing::load(&mut Cursor::new(dxf)).unwrap();
    let xs: Vec<f64> = read
        .entities()
        .filter(|entity| entity.common.layer == "CUT_LINE")
        .flat_map(|entity| match &entity.specific {
            dxf::entities::EntityType::LwPolyline(line) => {
                line.vertices.iter().map(|at| at.x).collect::<Vec<_>>()
            }
            dxf::entities::EntityType::Polyline(line) => {
                line.vertices().map(|at| at.location.x).collect()
            }
            other => panic!("{other:?}"),
        })
        .collect();
    let (low, high) = (
        xs.iter().copied().fold(f64::MAX, f64::min),
        xs.iter().copied().fold(f64::MIN, f64::max),
    );
    (read.header.default_drawing_units, high - low)
}

#[test]
fn a_job_in_inches_has_its_dxf_in_inches() {
    PAGE.visit(|page| {
        page.open_fragment(
            "v=1&unit=in/16&branch=1 1/2&wall=0.12&main=2&angle=60&paper-thickness=0&label=stay",
        );
        page.button("Save as a file").click_when_settled();
        let (unit, inches) = cut_width(saved(page, "DXF", "cope-stay.dxf"));
        assert_eq!(unit, dxf::enums::Units::Inches);
        // Once round 1 1/2 in: π × 1.5 in, and the paper's own thickness.
        let round = std::f64::consts::PI * 1.5;
        assert!(inches > round - 1e-3 && inches < round + 0.05, "{inches}");
    });
}

#[test]
fn the_archive_holds_everything_of_the_job() {
    PAGE.visit(|page| {
        page.open_fragment(&[FORM, "&landing=yes"].concat());
        page.button("Save as a file").click_when_settled();
        let bytes = saved(
            page,
            "Everything of the job in one archive",
            "cope-everything.zip",
        );
        let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        let mut names: Vec<String> = archive.file_names().map(str::to_owned).collect();
        names.sort();
        assert_eq!(
            names,
            [
                "cope-brace-7-main-1.dxf",
                "cope-brace-7-main-1.svg",
                "cope-brace-7-sleeve.stl",
                "cope-brace-7.csv",
                "cope-brace-7.dxf",
                "cope-brace-7.svg",
                "cope-job.json",
                "cope-packet.pdf",
            ]
        );
        let mut packet = Vec::new();
        archive
            .by_name("cope-packet.pdf")
            .unwrap()
            .read_to_end(&mut packet)
            .unwrap();
        assert_eq!(cuts(&Pdf::read(&packet).unwrap()).len(), 1);
    });
}

/// What the codes on the sheets of a document say.
fn codes(pdf: &[u8]) -> Vec<String> {
    codes_on_sheets(pdf).concat()
}

#[test]
fn the_code_on_a_printed_sheet_opens_the_piece() {
    PAGE.visit(|page| {
        // The page of a first visit prints the link in words alone.
        page.open_fragment(FORM);
        assert_eq!(codes(&page.print_pdf()), Vec::<String>::new());
        page.button("Save as a file").click_when_settled();
        let _ = page.button("PDF of the sheets");
        let here = page.run("return location.href", Vec::new());
        let printed = codes(&page.print_pdf());
        assert_eq!(printed.len(), 1, "{printed:?}");
        // It may leave out what goes without saying.
        let (site, fragment) = printed[0].split_once('#').unwrap();
        let here = here.as_str().unwrap().split_once('#').unwrap();
        assert_eq!(site, here.0);
        assert!(fragment.len() < here.1.len(), "{fragment}");
        assert_eq!(open_form(fragment), open_form(here.1));
        // Another address opens the same there; an address of no web opens nothing.
        let field = page.field("Address in the code");
        field.type_text("https://shop.example/cope/");
        field.press("\t");
        let there = ["https://shop.example/cope/#", fragment].concat();
        page.wait_until("the other code", |page| {
            codes(&page.print_pdf()) == [there.as_str()]
        });
        page.field("Address in the code").type_text("shop");
        page.field("Address in the code").press("\t");
        page.wait_until("no code", |page| codes(&page.print_pdf()).is_empty());
        assert!(page.says("No code is printed: an address of the web begins with https://"));
    });
}
