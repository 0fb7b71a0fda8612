//! The written files in the hands of programs that know nothing of this project, and the PDF
//! against the browser's own print of the same sheets.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;

use browser_tests::pdf::{Page as Sheet, Pdf, Stroke, distance};
use browser_tests::{Device, Page, Site};
use copewright::cope::{Cope, CutMethod};
use copewright::job::Printer;
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{Template, Wrap};
use copewright::sheet::{Anchor, Drawing, Item, Order, Pen, Point, lay_out, lay_out_table};
use copewright::stock::Paper;
use copewright::units::{Angle, Length, Unit};
use copewright::write::{Ink, PdfAbout, SvgName, page_box, page_rule, pdf, svg_inline};

const TITLE: &str = "Template, drawbar to axle beam";
const POINT: f64 = 25.4 / 72.0;

/// A drawbar's end, too large for one sheet, and its table.
static PAGES: LazyLock<Vec<Drawing>> = LazyLock::new(|| {
    let mm = Length::from_mm;
    let tube = RoundTube::new(mm(76.1), mm(3.2)).unwrap();
    let joint = Joint::round(tube, mm(88.9), Angle::from_deg(50.0), mm(6.0)).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, Length::ZERO).unwrap();
    let wrap = Wrap::computed(mm(76.1), mm(0.1));
    let template = Template::new(cope, wrap, Angle::from_deg(30.0), mm(10.0));
    let order = Order {
        template: &template,
        unit: Unit::Millimetre,
        label: "Drawbar to axle beam",
        link: "https://copewright.example/#v=1&unit=mm&branch=76.1",
        date: "14 May 2026",
        paper: Paper::A4,
        printer: &Printer::new("by the window"),
        saw: &[],
    };
    let mut pages = lay_out(&order).unwrap().pages;
    pages.extend(lay_out_table(&order, 16).pages);
    assert!(pages.len() >= 3);
    pages
});

fn written(pages: &[Drawing], paper: Paper) -> Vec<u8> {
    let about = PdfAbout {
        title: TITLE,
        label: "Drawbar",
        made: None,
    };
    pdf(pages, paper, &about).unwrap()
}

/// What a program says about a document; it must leave without complaint.
fn told(program: &str, before: &[&str], bytes: &[u8], after: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheets.pdf");
    std::fs::write(&path, bytes).unwrap();
    let run = |path: &Path| {
        Command::new(program)
            .args(before)
            .arg(path)
            .args(after)
            .output()
    };
    let output = run(&path).unwrap_or_else(|error| {
        panic!("{program}: {error}; `cargo xtask test --only browser` installs it")
    });
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        output.status.success() && complaint.is_empty(),
        "{program}: {complaint}"
    );
    String::from_utf8(output.stdout).unwrap()
}

/// Every value of an attribute, in order.
fn attributes<'a>(text: &'a str, name: &str) -> impl Iterator<Item = &'a str> {
    let before = format!(" {name}=\"");
    let parts: Vec<&str> = text.split(before.as_str()).skip(1).collect();
    parts
        .into_iter()
        .map(|part| part.split('"').next().unwrap())
}

#[test]
fn qpdf_finds_no_fault() {
    let told = told("qpdf", &["--check"], &written(&PAGES, Paper::A4), &[]);
    assert!(
        told.contains("No syntax or stream encoding errors found"),
        "{told}"
    );
}

#[test]
fn poppler_reads_pages_sizes_and_title() {
    // Points as ISO 216 and the inch make them: 210 × 297 mm and 8.5 × 11 in.
    for (paper, size) in [
        (Paper::A4, "595.276 x 841.89 pts"),
        (Paper::Letter, "612 x 792 pts"),
    ] {
        let told = told("pdfinfo", &[], &written(&PAGES, paper), &[]);
        let says = |key: &str| {
            let line = told.lines().find(|line| line.starts_with(key));
            let value = line.and_then(|line| line.strip_prefix(key));
            value.unwrap_or_default().trim().to_owned()
        };
        assert_eq!(says("Title:"), TITLE);
        assert_eq!(says("Subject:"), "Drawbar");
        assert_eq!(says("Pages:"), PAGES.len().to_string());
        assert!(says("Page size:").starts_with(size), "{told}");
        assert_eq!(says("CreationDate:"), "");
    }
}

#[test]
fn poppler_finds_the_words_of_every_sheet() {
    let told = told("pdftotext", &["-raw"], &written(&PAGES, Paper::A4), &["-"]);
    let sheets: Vec<&str> = told.split('\u{c}').collect();
    for (page, told) in PAGES.iter().zip(sheets) {
        let told: Vec<&str> = told.split_whitespace().collect();
        for item in &page.items {
            let Item::Text { text, turn, .. } = item else {
                continue;
            };
            // Turned words come letter by letter.
            if *turn != Angle::ZERO {
                continue;
            }
            for word in text.replace('−', "-").replace('″', "\"").split_whitespace() {
                let found = told.iter().any(|told| told.contains(word));
                assert!(found, "“{word}” of “{text}”");
            }
        }
    }
}

#[test]
fn poppler_hangs_words_where_they_were_hung() {
    let mut page = Drawing::new(210.0, 296.5);
    let words = "Mmmmm,iiii½W°Øé";
    for (line, anchor) in [Anchor::Start, Anchor::Middle, Anchor::End]
        .into_iter()
        .enumerate()
    {
        let at = |y: f64| Point::new(100.0, y + 10.0 * line as f64);
        page.text(at(50.0), 6.0, anchor, words);
        page.bold_text(at(150.0), 6.0, anchor, words);
    }
    let told = told(
        "pdftotext",
        &["-bbox"],
        &written(&[page], Paper::A4),
        &["-"],
    );
    let number = |name: &'static str| {
        attributes(&told, name).map(|value| POINT * value.parse::<f64>().unwrap())
    };
    let ends: Vec<(f64, f64)> = number("xMin").zip(number("xMax")).collect();
    assert_eq!(ends.len(), 6, "{told}");
    for (line, (from, to)) in ends.into_iter().enumerate() {
        let hung = [from, f64::midpoint(from, to), to][line % 3];
        assert!(
            (hung - 100.0).abs() < 0.01,
            "line {line} runs from {from} to {to}"
        );
    }
}

#[test]
fn mupdf_draws_every_stroke_where_it_was_drawn() {
    let told = told("mutool", &["trace"], &written(&PAGES, Paper::A4), &[]);
    let pages: Vec<&str> = told.split("<page ").skip(1).collect();
    assert_eq!(pages.len(), PAGES.len());
    for (told, page) in pages.iter().zip(PAGES.iter()) {
        assert!(told.contains("mediabox=\"0 0 595.276 841.89\""));
        let strokes: Vec<&str> = told
            .split("<stroke_path ")
            .skip(1)
            .map(|part| part.split("</stroke_path>").next().unwrap())
            .collect();
        let drawn: Vec<(&Pen, &Vec<Point>)> = page
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Stroke {
                    pen,
                    points,
                    filled: false,
                    ..
                } => Some((pen, points)),
                _ => None,
            })
            .collect();
        assert_eq!(strokes.len(), drawn.len());
        for (stroke, (pen, points)) in strokes.into_iter().zip(drawn) {
            let wide: f64 = attributes(&format!(" {stroke}"), "linewidth")
                .next()
                .unwrap()
                .parse()
                .unwrap();
            assert!((wide - pen.width).abs() < 1e-5);
            let map: Vec<f64> = attributes(stroke, "transform")
                .next()
                .unwrap()
                .split(' ')
                .map(|part| part.parse().unwrap())
                .collect();
            let number = |name| attributes(stroke, name).map(|value| value.parse::<f64>().unwrap());
            let places: Vec<(f64, f64)> = number("x").zip(number("y")).collect();
            assert_eq!(places.len(), points.len());
            for ((x, y), point) in places.into_iter().zip(points) {
                // Six digits are printed, so a place is known to 0.0005 mm.
                assert!((x - point.x).abs() < 0.001 && (y - point.y).abs() < 0.001);
                // Its own pages have y down too.
                assert!((POINT * (map[0] * x + map[4]) - point.x).abs() < 0.002);
                assert!((POINT * (map[3] * y + map[5]) - point.y).abs() < 0.002);
            }
        }
    }
}

/// Strokes of a solid pen, as ends and corners on the paper.
fn solid(sheet: &Sheet) -> Vec<&Stroke> {
    sheet
        .strokes
        .iter()
        .filter(|stroke| stroke.dash_mm.is_empty())
        .collect()
}

#[test]
fn the_browser_prints_the_same_at_the_same_place() {
    let (width, height) = page_box(Paper::A4);
    let mut html = format!(
        "<!doctype html><html lang=en><title>Sheets</title><style>{}\
         html, body {{ margin: 0 }} svg {{ display: block }}\
         div {{ width: {width}; height: {height}; overflow: hidden }}\
         div + div {{ break-before: page }}</style>",
        page_rule(Paper::A4)
    );
    for page in PAGES.iter() {
        html += "<div>";
        html += &svg_inline(page, Ink::Black, SvgName::Hidden).unwrap();
        html += "</div>";
    }
    let printed = Page::open_site(Site::of_page(&html), Device::DESKTOP).print();
    let written = Pdf::read(&written(&PAGES, Paper::A4)).unwrap();
    assert_eq!(printed.pages.len(), written.pages.len());
    for (printed, written) in printed.pages.iter().zip(&written.pages) {
        let (printed_lines, lines) = (solid(printed), solid(written));
        assert_eq!(printed_lines.len(), lines.len());
        assert!(lines.len() > 20);
        for line in lines {
            // Chromium takes a sheet for whole pixels, and draws layer by layer.
            let same = |other: &&&Stroke| {
                other.points.len() == line.points.len()
                    && (other.width_mm - line.width_mm).abs() < 0.001
                    && other
                        .points
                        .iter()
                        .zip(&line.points)
                        .all(|(a, b)| distance(*a, *b) < 0.02)
            };
            assert!(printed_lines.iter().any(|other| same(&other)), "{line:?}");
        }
        for words in &written.texts {
            let letters = words.words.chars().count() as f64;
            let same = printed.texts.iter().any(|other| {
                // Middle and end hang on the browser's own face, nearly as wide as the standard one.
                let near = 0.05 + 0.02 * letters * words.size_mm;
                distance(other.at, words.at) < near && (other.size_mm - words.size_mm).abs() < 0.01
            });
            assert!(same, "{words:?}");
        }
    }
}
