//! A job as it is typed, made into a packet.

use std::sync::Arc;

use copewright::job::list::{Job, Readings, demo, write_job};
use copewright::job::saw::SPEED;
use copewright::job::{Field, PieceField, Printer, shorten_form, write_form};
use copewright::piece::Side;
use copewright::sheet::packet::{
    JobSheets, PacketError, Parts, lay_out_list, lay_out_list_with_codes, with_saws,
};
use copewright::sheet::{Drawing, Item};
use copewright::units::{Denominator, Unit};
use copewright::write::{PdfAbout, PdfDay, pdf, zip};

/// The templates alone.
const TEMPLATES: Parts = Parts {
    templates: true,
    contents: false,
    cut_list: false,
    run_list: false,
    landings: false,
    tables: None,
    piece_sheets: false,
    comparison: false,
};

const UNITS: [Unit; 2] = [Unit::Millimetre, Unit::Fraction(Denominator::Sixteenth)];

fn sheets<'a>(job: &'a Job, printer: &'a Printer, parts: Parts) -> JobSheets<'a> {
    JobSheets {
        job,
        printer,
        date: "2026-11-25",
        address: "https://example.org/#",
        parts,
    }
}

fn words(page: &Drawing) -> String {
    let texts = page.items.iter().filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.as_str()),
        Item::Stroke { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

fn all_words(pages: &[Drawing]) -> String {
    pages.iter().map(words).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_demo_job_prints_with_every_piece_and_every_part() {
    for unit in UNITS {
        let job = demo(unit);
        let printer = Printer::default();
        let mut readings = Readings::default();
        let order = sheets(&job, &printer, Parts::USUAL);
        let packet = lay_out_list(&order, &mut readings, &mut |_, _| true).unwrap();
        assert!(
            packet.notes.iter().all(|note| !note.contains("left out")),
            "{:?}",
            packet.notes
        );
        let said = all_words(&packet.pages);
        for place in 0..job.pieces().len() {
            assert!(said.contains(&job.name_at(place)), "{}", job.name_at(place));
        }
        for part in ["Run list", "Cut list"] {
            assert!(said.contains(part), "{part} is missing");
        }
    }
}

#[test]
fn what_cannot_be_made_is_left_out_and_told() {
    let job = demo(Unit::Millimetre);
    let piece = Arc::clone(&job.pieces()[1]);
    let name = job.name_at(1);
    let form = piece.form().clone().with_text(PieceField::Length, "soon");
    let job = job.with_form(piece.id(), form);
    let printer = Printer::default();
    let mut readings = Readings::default();
    let order = sheets(&job, &printer, Parts::USUAL);
    let packet = lay_out_list(&order, &mut readings, &mut |_, _| true).unwrap();
    let told = packet.notes.join(" ");
    assert!(told.contains(&name) && told.contains("soon"), "{told}");
}

#[test]
fn stopping_stops_at_any_step() {
    let job = demo(Unit::Millimetre);
    let printer = Printer::default();
    let order = sheets(&job, &printer, Parts::USUAL);
    let mut steps = 0;
    lay_out_list(&order, &mut Readings::default(), &mut |done, of| {
        assert!(done <= of, "{done} of {of}");
        steps += 1;
        true
    })
    .unwrap();
    for stop in [1, steps / 3, steps / 2, steps - 1] {
        let mut left = stop;
        let outcome = lay_out_list(&order, &mut Readings::default(), &mut |_, _| {
            left -= 1;
            left > 0
        });
        assert_eq!(outcome.unwrap_err(), PacketError::Cancelled, "after {stop}");
    }
}

/// Left and right are found by their forms, not by their names.
#[test]
fn a_mirror_partner_is_compared_whatever_it_is_called() {
    let job = Job::usual(Unit::Millimetre);
    let piece = Arc::clone(&job.pieces()[0]);
    let form = piece.form().clone().as_whole(true);
    let end = form.end(Side::B);
    let main = Field::OfMain(0, copewright::job::MainField::Offset);
    let form = form.with_end(
        Side::B,
        end.with_text(main, "4").with_text(Field::Turn, "30"),
    );
    let job = job.with_form(piece.id(), form);
    let (job, partner) = job.with_partner(piece.id());
    let named = job.piece(partner).unwrap().form().clone();
    let end = named.end(Side::A).with_text(Field::Label, "the other");
    let job = job.with_form(partner, named.with_end(Side::A, end));
    let only = Parts {
        contents: false,
        cut_list: false,
        run_list: false,
        templates: false,
        landings: false,
        tables: None,
        piece_sheets: false,
        comparison: true,
    };
    let printer = Printer::default();
    let order = sheets(&job, &printer, only);
    let packet = lay_out_list(&order, &mut Readings::default(), &mut |_, _| true).unwrap();
    assert!(!packet.pages.is_empty());
    let alone = job.clone().without(partner);
    let order = sheets(&alone, &printer, only);
    let none = lay_out_list(&order, &mut Readings::default(), &mut |_, _| true);
    assert_eq!(none.unwrap_err(), PacketError::Nothing);
}

/// What stands on a sheet without its codes: neither filled areas nor the words under them.
fn without_codes(page: &Drawing) -> Vec<&Item> {
    let is_code = |item: &&Item| match item {
        Item::Stroke { filled, .. } => *filled,
        Item::Text { text, .. } => text.starts_with("opens "),
    };
    page.items.iter().filter(|item| !is_code(item)).collect()
}

/// What the codes on a sheet say, read by another library from its dark areas.
fn codes_on(page: &Drawing) -> Vec<String> {
    let areas = page
        .items
        .iter()
        .filter(|item| matches!(item, Item::Stroke { filled: true, .. }));
    let dark = Drawing {
        items: areas.cloned().collect(),
        ..*page
    };
    crate::code::all_codes(&dark, 6.0)
}

/// Every sheet of templates has the code of every piece on it, and scans; all else is as without
/// codes but for where templates lie, on one sheet more at most.
#[test]
fn a_template_among_others_says_its_saw() {
    for unit in UNITS {
        let job = demo(unit);
        let printer = Printer::default();
        let mut readings = Readings::default();
        let order = sheets(&job, &printer, TEMPLATES);
        let packet = lay_out_list(&order, &mut readings, &mut |_, _| true).unwrap();
        let said = all_words(&packet.pages);
        let captions: Vec<&str> = said.split("Piece ").skip(1).collect();
        assert!(captions.len() > 10, "{}", captions.len());
        let mut with_depth = 0;
        for piece in job.pieces() {
            let (_, saws) = with_saws(&job, piece, &readings.read(piece));
            for line in saws.iter().flatten() {
                let there = said.contains(&format!("{}: {}", line.0, line.1));
                assert_eq!(there, line.0 != SPEED, "{line:?}");
                with_depth += u32::from(there && line.0 == "Depth it needs");
            }
        }
        assert!(with_depth > 5, "{with_depth}");
    }
}

#[test]
fn every_sheet_of_templates_has_the_code_of_every_piece_on_it() {
    for unit in UNITS {
        let job = demo(unit);
        let printer = Printer::default();
        let mut readings = Readings::default();
        let parts = Parts {
            piece_sheets: true,
            ..TEMPLATES
        };
        let order = sheets(&job, &printer, parts);
        let bare = lay_out_list(&order, &mut readings, &mut |_, _| true).unwrap();
        let address = "https://example.org/";
        let coded =
            lay_out_list_with_codes(&order, address, &mut readings, &mut |_, _| true).unwrap();
        let is_nested = |page: &&Drawing| words(page).contains("Templates of the ends");
        let [before, after] =
            [&bare, &coded].map(|packet| packet.pages.iter().filter(is_nested).count());
        assert!(
            after <= before + 1,
            "{after} sheets, {before} without codes"
        );
        let mut without = 0;
        for page in &coded.pages {
            crate::pages::assert_within(page, printer.margin().mm());
            let codes = codes_on(page);
            let said = words(page);
            without += usize::from(codes.is_empty());
            if !is_nested(&page) {
                continue;
            }
            crate::pages::assert_apart(page);
            for place in 0..job.pieces().len() {
                let title = format!("Piece {} of {}: ", place + 1, job.pieces().len());
                let form = job.pieces()[place].form();
                let link = [address, "#", &shorten_form(&write_form(form))].concat();
                let there = codes.iter().filter(|code| **code == link).count();
                assert_eq!(there, usize::from(said.contains(&title)), "{title} {said}");
            }
        }
        println!(
            "{unit:?}: {before} {after} of {}; {without} without",
            coded.pages.len()
        );
        assert_eq!(without, 0);
        // Piece sheets have their codes where there is room, and nothing moves for them.
        let rest = |packet: &copewright::sheet::Packet| -> Vec<Drawing> {
            let pages = packet.pages.iter().filter(|page| !is_nested(page));
            pages.cloned().collect()
        };
        for (bare, coded) in rest(&bare).iter().zip(&rest(&coded)) {
            let number =
                |item: &&Item| !matches!(item, Item::Text { text, .. } if text.contains(" of "));
            let [bare, coded] = [bare, coded].map(|page| {
                without_codes(page)
                    .into_iter()
                    .filter(number)
                    .cloned()
                    .collect::<Vec<_>>()
            });
            assert_eq!(bare, coded);
        }
        let none = lay_out_list_with_codes(&order, "", &mut readings, &mut |_, _| true).unwrap();
        assert_eq!(none, bare);
    }
}

/// The whole way from the job to the bytes, made twice from nothing: the second time with other
/// work before it.
#[test]
fn the_same_job_is_the_same_bytes() {
    let job = demo(Unit::Millimetre);
    let printer = Printer::default();
    let about = PdfAbout {
        title: job.title(),
        label: "all of it",
        made: Some(PdfDay {
            year: 2026,
            month: 11,
            day: 25,
        }),
    };
    let files = || {
        let parts = Parts {
            tables: Some(16),
            ..Parts::USUAL
        };
        let order = sheets(&job, &printer, parts);
        let mut readings = Readings::default();
        let packet = lay_out_list_with_codes(
            &order,
            "https://example.org/",
            &mut readings,
            &mut |_, _| true,
        );
        let pdf = pdf(&packet.unwrap().pages, job.paper(), &about).unwrap();
        let job_file = write_job(&job).into_bytes();
        let archive = zip([("job.json", &*job_file), ("packet.pdf", &*pdf)]).unwrap();
        [pdf, job_file, archive]
    };
    let first = files();
    let other = demo(Unit::Inch);
    let order = sheets(&other, &printer, Parts::USUAL);
    lay_out_list(&order, &mut Readings::default(), &mut |_, _| true).unwrap();
    let second = files();
    for (first, second) in first.iter().zip(&second) {
        assert!(!first.is_empty() && first == second);
    }
}
