//! A job as it is typed, made into a packet.

use std::sync::Arc;

use copewright::job::list::{Job, Readings, demo};
use copewright::job::{Field, PieceField, Printer};
use copewright::piece::Side;
use copewright::sheet::packet::{
    JobSheets, PacketError, Parts, lay_out_list, lay_out_list_with_codes,
};
use copewright::sheet::{Drawing, Item};
use copewright::units::{Denominator, Unit};

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

/// Codes on the sheets of a packet change nothing else, and every piece that has a sheet with room
/// has one on it.
#[test]
fn codes_are_added_to_the_sheets_of_a_packet_and_nothing_moves() {
    let job = demo(Unit::Millimetre);
    let printer = Printer::default();
    let mut readings = Readings::default();
    let order = sheets(&job, &printer, Parts::USUAL);
    let bare = lay_out_list(&order, &mut readings, &mut |_, _| true).unwrap();
    let address = "https://example.org/";
    let coded = lay_out_list_with_codes(&order, address, &mut readings, &mut |_, _| true).unwrap();
    assert_eq!(bare.pages.len(), coded.pages.len());
    let mut with_code = 0;
    for (bare, coded) in bare.pages.iter().zip(&coded.pages) {
        assert_eq!(coded.items[..bare.items.len()], bare.items[..]);
        with_code += usize::from(coded.items.len() > bare.items.len());
        crate::pages::assert_within(coded, printer.margin().mm());
    }
    let said = all_words(&coded.pages);
    assert!(said.contains("opens 1 · "), "no code for the first piece");
    assert!(with_code >= job.pieces().len() / 2, "{with_code} sheets");
    let none = lay_out_list_with_codes(&order, "", &mut readings, &mut |_, _| true).unwrap();
    assert_eq!(none, bare);
}
