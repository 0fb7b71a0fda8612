//! The paper round trip: only what the user gets, wrapped round the branch and set on the main.
//!
//! Every joint is opened by its link and printed. Of the PDF only the strokes with the pen of the
//! cut line are taken, the lines they are measured from and the printed words; the tubes are
//! given once more beside each link, in plain millimetres.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

mod bent;
mod kinds;
mod landing;
mod plane;
mod rectangular;
mod round;
mod several;

use browser_tests::pdf::Pdf;
use browser_tests::printed::{Sheet, length_mm};
use browser_tests::{Device, SharedPage};

/// Largest gap or interference anywhere round the tube, mm.
const FITS: f64 = 0.05;
/// Beyond this nobody would call it a fit, mm.
const MISFITS: f64 = 0.5;
/// Lengths read off lines against printed ones, mm.
const SAME: f64 = 0.02;

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

/// The joints of some links, printed.
fn printed(links: impl Iterator<Item = &'static str>) -> Vec<Pdf> {
    PAGE.visit(|page| {
        let print = |link| {
            page.open_fragment(link);
            page.print()
        };
        links.map(print).collect()
    })
}

/// The sheet with the table of facts.
fn told<'sheet, 'pdf>(sheets: &'sheet [Sheet<'pdf>], name: &str) -> &'sheet Sheet<'pdf> {
    let told = sheets.iter().find(|sheet| sheet.fact("Heel").is_some());
    told.unwrap_or_else(|| panic!("{name}: no sheet tells the facts"))
}

/// The number before the first sign of degrees.
fn degrees(text: &str) -> f64 {
    let number = text.split('°').next().unwrap().rsplit(' ').next().unwrap();
    let sign = if number.starts_with('−') { -1.0 } else { 1.0 };
    let number = number.trim_start_matches('−').parse::<f64>();
    sign * number.unwrap_or_else(|_| panic!("{text}"))
}

/// Turn of the heel from the zero line that a sheet tells, degrees.
fn heel(sheet: &Sheet) -> f64 {
    match sheet.fact("Heel").unwrap().as_str() {
        "on the zero line" => 0.0,
        told => degrees(told),
    }
}

/// An offset in words: its size and the turn, from the zero line, towards which the main lies.
fn offset_of_axes(told: &str) -> (f64, f64) {
    // "8.5 mm, main towards the 230° line"
    match told.split_once(", main towards the ") {
        Some((offset, line)) => (length_mm(offset).unwrap(), degrees(line)),
        None if told.starts_with("none") => (0.0, 0.0),
        None => panic!("{told}"),
    }
}

/// Whether two turns in degrees are the same but for whole turns.
fn same_turn(a: f64, b: f64) -> bool {
    let turns = (a - b) / 360.0;
    (turns - turns.round()).abs() * 360.0 < 0.01
}

/// How much of the turn passes beside the mains by the sheet's words, degrees.
fn beside(pdf: &Pdf) -> f64 {
    let sheets = pdf.pages.iter().map(Sheet::new);
    let beside = sheets
        .filter_map(|sheet| sheet.fact("Beside the main"))
        .next();
    // "266.73° to 333.27°, 66.53° wide"
    beside
        .iter()
        .flat_map(|told| told.split("; "))
        .fold(0.0, |sum, arc| {
            let width = arc
                .split(", ")
                .nth(1)
                .and_then(|width| width.split('°').next());
            sum + width.and_then(|width| width.parse::<f64>().ok()).unwrap()
        })
}
