//! Drawings as a PDF (ISO 32000-1): the sheets for a print shop, a telephone, or a printer whose
//! browser rescales.
//!
//! Each page is the exact sheet and has its drawing's upper left corner on its own, so that
//! everything lies where the browser's print has it. The two standard faces are not embedded: any
//! reader has them or others as wide, and no length depends on them.

mod content;
mod letters;
mod widths;

use pdf_writer::{Date, Filter, Finish, Name, Pdf, Rect, Ref, Settings, TextStr};

use crate::sheet::{Drawing, Item};
use crate::stock::Paper;
use crate::write::number::NotFinite;
use content::{POINTS, content, narrow};

/// How hard the drawing is packed, of 10.
const PACKED: u8 = 9;
/// The catalogue of the document, the tree of its pages, what is said about it and its two faces.
const CATALOGUE: Ref = Ref::new(1);
const TREE: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const FACES: [(Name, Ref, &[u8]); 2] = [
    (content::REGULAR, Ref::new(4), b"Helvetica"),
    (content::BOLD, Ref::new(5), b"Helvetica-Bold"),
];
/// The number of the first page; its drawing has the next one.
const FIRST: i32 = 6;

/// What a document says about itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PdfAbout<'a> {
    /// What it is, shown in the reader's title bar.
    pub title: &'a str,
    /// The label of the piece or the joint in words; may be empty.
    pub label: &'a str,
    /// The day it was made; without one equal drawings give equal bytes for ever.
    pub made: Option<PdfDay>,
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PdfDay {
    /// The year, at most 9999.
    pub year: u16,
    /// The month, from 1.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

/// Pages as one document, each on a sheet of `paper` held upright.
///
/// Lengths are true within 0.001 mm. The document asks to be printed without scaling
/// (`PrintScaling`, ISO 32000-1, table 150) on the paper it names; a reader may refuse, so the
/// rulers on the sheets stay what decides. Text is searchable; letters outside Latin 1 are spelt
/// with others, see [`pdf_letters_lost`].
///
/// # Errors
/// A number that is not finite.
pub fn pdf(pages: &[Drawing], paper: Paper, about: &PdfAbout) -> Result<Vec<u8>, NotFinite> {
    let (width, height) = paper.size();
    let sheet = Rect::new(
        0.0,
        0.0,
        narrow(width.mm() * POINTS),
        narrow(height.mm() * POINTS),
    );
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    catalogue(&mut pdf);
    information(&mut pdf, about);
    let numbers = || (FIRST..).step_by(2).map(Ref::new).zip(pages);
    pdf.pages(TREE)
        .kids(numbers().map(|(page, _)| page))
        .count(i32::try_from(pages.len()).unwrap_or(i32::MAX));
    for (_, face, name) in FACES {
        pdf.type1_font(face)
            .base_font(Name(name))
            .encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    for (number, drawing) in numbers() {
        let body = number.next();
        let mut page = pdf.page(number);
        page.parent(TREE).media_box(sheet).contents(body);
        let mut resources = page.resources();
        let mut fonts = resources.fonts();
        for (name, face, _) in FACES {
            fonts.pair(name, face);
        }
        fonts.finish();
        resources.finish();
        page.finish();
        let painted = content(drawing, height.mm())?;
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(&painted, PACKED);
        pdf.stream(body, &packed).filter(Filter::FlateDecode);
    }
    Ok(pdf.finish())
}

/// The letters of which a PDF of these pages shows only a question mark, each once, in the order
/// they come in: what to tell the user before printing. No word of a sheet's own is among them.
#[must_use]
pub fn pdf_letters_lost(pages: &[Drawing]) -> String {
    let mut lost = String::new();
    for item in pages.iter().flat_map(|page| &page.items) {
        if let Item::Text { text, .. } = item {
            for letter in text.chars() {
                if letters::is_lost(letter) && !lost.contains(letter) {
                    lost.push(letter);
                }
            }
        }
    }
    lost
}

fn catalogue(pdf: &mut Pdf) {
    let mut catalogue = pdf.catalog(CATALOGUE);
    catalogue.pages(TREE).lang(TextStr("en"));
    let mut viewer = catalogue.viewer_preferences();
    viewer
        .insert(Name(b"PrintScaling"))
        .primitive(Name(b"None"));
    viewer.insert(Name(b"PickTrayByPDFSize")).primitive(true);
    viewer.display_doc_title(true);
}

fn information(pdf: &mut Pdf, about: &PdfAbout) {
    let mut info = pdf.document_info(INFO);
    info.title(TextStr(about.title));
    if !about.label.is_empty() {
        info.subject(TextStr(about.label));
    }
    info.creator(TextStr("Copewright"));
    if let Some(made) = about.made {
        let date = Date::new(made.year).month(made.month).day(made.day);
        info.creation_date(date);
    }
}
