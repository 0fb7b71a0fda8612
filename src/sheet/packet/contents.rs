//! The first sheet of the packet: what is in it, what is not, what is to be made, what to mind.

use crate::sheet::area::Area;
use crate::sheet::blocks::BETWEEN;
use crate::sheet::card;
use crate::sheet::drawing::Drawing;
use crate::sheet::facts::{USUAL_CAUTIONS, printed_label, printed_link};
use crate::sheet::packet::flow::{Flow, put};
use crate::sheet::packet::numbers::{counted, in_words};
use crate::sheet::packet::rows::{captions, columns, lines, paragraph, row, sums};
use crate::sheet::packet::{JobOrder, PieceToPrint};
use crate::sheet::words;
use crate::sheet::{Packet, Point};
use crate::units::{Unit, write_bare, write_length, write_small};

/// Size of running words, mm.
const PROSE: f64 = 2.6;
/// Size of their headings, mm.
const HEAD: f64 = 3.0;

/// A part of the packet and its sheets.
pub struct Listed {
    /// What it is.
    pub name: &'static str,
    /// Its sheets, counted from 0, without those of the contents.
    pub sheets: std::ops::Range<usize>,
}

/// Where the sheets of a piece are, counted from 0, without those of the contents.
#[derive(Debug, Clone, Default)]
pub struct Places {
    pub templates: Vec<usize>,
    pub piece: Vec<usize>,
    /// Those that have its code already.
    pub coded: Vec<usize>,
}

/// What the contents tell.
pub struct Contents<'a> {
    pub order: &'a JobOrder<'a>,
    pub parts: &'a [Listed],
    pub left_out: &'a [&'static str],
    pub places: &'a [Places],
    pub notes: &'a [String],
}

impl Contents<'_> {
    /// Sheets with the contents in a room. Their own number goes into the numbers of all others.
    pub fn pages(&self, room: Area) -> Vec<Drawing> {
        let mut before = 1;
        loop {
            let pages = self.fill(room, before);
            // More sheets make longer numbers, never fewer sheets: this ends.
            if pages.len() <= before {
                return pages;
            }
            before = pages.len();
        }
    }

    fn fill(&self, room: Area, before: usize) -> Vec<Drawing> {
        let mut flow = Flow::new(room);
        let width = flow.width();
        flow.add(0.0, self.beside_card(width, before));
        self.table(&mut flow, before);
        if !self.notes.is_empty() {
            say(&mut flow, "Mind", self.notes.iter().map(String::as_str));
        }
        say(&mut flow, "Every template", TEMPLATES);
        say(&mut flow, "Take care", USUAL_CAUTIONS);
        let link = printed_link(self.order.link);
        if !link.is_empty() {
            flow.add_with(
                3.0,
                paragraph("Open it again", HEAD, true, width),
                2.0 * PROSE,
            );
            // A long link goes on by itself.
            for line in words::break_word(&link, PROSE, false, width) {
                flow.add(0.6, lines(vec![line], PROSE, false, width));
            }
        }
        flow.pages()
    }

    /// What is in the packet, with the card at the right.
    fn beside_card(&self, width: f64, before: usize) -> Drawing {
        let narrow = width - card::WIDTH - BETWEEN;
        let mut block = Drawing::new(width, 0.0);
        let mut y = 0.0;
        let mut add = |block: &mut Drawing, text: &str, bold: bool| {
            let words = paragraph(text, HEAD, bold, narrow);
            let height = words.height;
            put(block, words, Point::new(0.0, y), false);
            y += height + 1.6;
        };
        let pieces = self.order.pieces;
        let all: u64 = pieces.iter().map(|own| u64::from(own.count)).sum();
        let kinds = counted(pieces.len(), "piece");
        let many = if all == pieces.len() as u64 {
            kinds
        } else {
            format!("{kinds}, {all} to make in all")
        };
        add(&mut block, &format!("This packet: {many}"), true);
        for part in self.parts.iter().filter(|part| !part.sheets.is_empty()) {
            let sheets: Vec<usize> = part.sheets.clone().map(|at| at + 1 + before).collect();
            let s = if sheets.len() == 1 { "" } else { "s" };
            let line = format!("{}: sheet{s} {}", part.name, in_words(&sheets));
            add(&mut block, &line, false);
        }
        if !self.left_out.is_empty() {
            let line = format!("Left out: {}.", self.left_out.join(", "));
            add(&mut block, &line, false);
        }
        let (left, top) = (width - card::WIDTH, 0.5);
        let card = Area::sized(left, top, card::WIDTH, card::HEIGHT);
        card::draw(&mut block, &card);
        block.height = y.max(card.y1 + 0.5);
        block
    }

    /// All pieces.
    fn table(&self, flow: &mut Flow, before: usize) {
        let width = flow.width();
        let tube = if self.order.unit.is_inch() {
            40.0
        } else {
            29.0
        };
        let columns = columns(
            width,
            &[
                ("no.", 9.0, true),
                ("piece", 0.0, false),
                ("make", 11.0, true),
                ("tube", tube, false),
                ("blank to cut", 27.0, true),
                ("templates", 21.0, false),
                ("piece", 12.0, false),
            ],
        );
        let head = || captions(&columns, width);
        flow.head(0, 6.0, head(), head(), 12.0);
        for (piece, places) in self.order.pieces.iter().zip(self.places) {
            let sheets = |own: &[usize]| {
                let own: Vec<usize> = own.iter().map(|at| at + 1 + before).collect();
                if own.is_empty() {
                    String::from("–")
                } else {
                    in_words(&own)
                }
            };
            let cells = [
                piece.number.to_string(),
                name(piece),
                piece.count.to_string(),
                self.tube(piece),
                self.length(piece),
                sheets(&places.templates),
                sheets(&places.piece),
            ];
            flow.add(0.0, row(&columns, &cells, width));
        }
        if self.order.pieces.len() > 1 {
            let all: u64 = self
                .order
                .pieces
                .iter()
                .map(|own| u64::from(own.count))
                .sum();
            let mut cells = [const { String::new() }; 7];
            cells[1] = String::from("in all");
            cells[2] = all.to_string();
            flow.add(0.0, sums(&columns, &cells, width));
        }
        flow.end(0);
    }

    fn tube(&self, piece: &PieceToPrint) -> String {
        let unit = self.order.unit;
        let tube = piece.tube();
        tube.map_or_else(String::new, |tube| {
            // A tape fraction has its mark on each number, other units stand once at the end.
            let first = match unit {
                Unit::Fraction(_) => write_length,
                Unit::Millimetre | Unit::Inch => write_bare,
            };
            let wall = write_small(tube.wall(), unit);
            format!("{} × {wall}", first(tube.outside(), unit))
        })
    }

    fn length(&self, piece: &PieceToPrint) -> String {
        piece.draft.map_or_else(
            || String::from("one end"),
            |draft| write_length(draft.marks.blank.length.on_tape, self.order.unit),
        )
    }
}

/// What to do with every template.
const TEMPLATES: [&str; 2] = [
    "Check the rulers on every sheet before cutting. Cut out along the cut line, the 0° line, the \
     mark line and the end of the tab. Wrap with the print outside and tuck the tab under: the 0° \
     edge must meet the 360° line.",
    "Scribe the zero line along the tube and the mark round it, as far from the end as the template \
     says. Lay the 0° edge on the zero line and the mark line on the mark.",
];

/// A piece as it stands in the list.
fn name(piece: &PieceToPrint) -> String {
    let label = printed_label(piece.label);
    let label = if label.is_empty() {
        format!("piece {}", piece.number)
    } else {
        label
    };
    if piece.done {
        format!("{label} (done, not printed again)")
    } else {
        label
    }
}

/// A heading and sentences under it.
fn say<'a>(flow: &mut Flow, head: &str, sentences: impl IntoIterator<Item = &'a str>) {
    let width = flow.width();
    let head = paragraph(head, HEAD, true, width);
    flow.add_with(4.0, head, 3.0 * PROSE);
    for sentence in sentences {
        flow.add(1.0, paragraph(sentence, PROSE, false, width));
    }
}

/// Notes of sheets laid out by themselves, with the piece that they are about.
pub fn notes_of(packet: &Packet, about: &str) -> Vec<String> {
    let about = |note: &String| format!("{about}: {note}");
    packet.notes.iter().map(about).collect()
}
