//! Everything that one print makes of a job, in the order of work: contents, cut lists, run list,
//! templates, what belongs to them, piece sheets, comparisons.

mod cell;
mod contents;
mod cut_list;
mod flow;
mod nest;
mod numbers;
mod of_list;
mod order;
mod pair;
mod rows;
mod run_list;
mod templates;

pub use cut_list::TubeCutList;
pub use of_list::{JobSheets, lay_out_list, lay_out_list_with_codes, with_saws};
pub use order::{JobOrder, PacketError, Parts, PieceToPrint};
pub use pair::{PairOrder, lay_out_pair};

use std::ops::Range;

use crate::job::Orientation;
use crate::piece::tape_division;
use crate::sheet::code_room::code_figure;
use crate::sheet::drawing::Drawing;
use crate::sheet::facts::printed_label;
use crate::sheet::packet::contents::{Contents, Listed, Places};
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::numbers::counted;
use crate::sheet::page::{Frame, Letterhead};
use crate::sheet::{Code, Packet, PieceOrder, draw_codes, lay_out_piece, link_in_code};

/// Lays a whole job out on sheets of paper.
///
/// `progress` is told how many of how many steps are done, and stops the work by answering no. A
/// template too large for any paper does not stop the rest: its refusal is among the notes, and on
/// the contents.
///
/// # Errors
/// Being stopped, and a packet of no sheets.
pub fn lay_out_job(
    order: &JobOrder,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Packet, PacketError> {
    lay_out_job_with_codes(order, "", progress)
}

/// The same with a code for each piece on its sheets, which opens it by the address of a page; see
/// [`draw_codes`]. Without an address there are no codes.
///
/// # Errors
/// As [`lay_out_job`].
pub fn lay_out_job_with_codes(
    order: &JobOrder,
    address: &str,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Packet, PacketError> {
    let mut making = Making::new(order, address, progress);
    making.cut_lists()?;
    making.run_list()?;
    making.templates()?;
    making.piece_sheets()?;
    making.comparisons()?;
    making.codes();
    making.finish()
}

/// A packet in the making.
struct Making<'a, 'p> {
    order: &'a JobOrder<'a>,
    progress: &'p mut dyn FnMut(usize, usize) -> bool,
    done: usize,
    frame: Frame,
    title: String,
    /// The date, with room for the number of the sheet.
    date: String,
    pages: Vec<Drawing>,
    parts: Vec<Listed>,
    left_out: Vec<&'static str>,
    places: Vec<Places>,
    notes: Vec<String>,
    /// What opens each piece again, by its place; none without a link, or for one that is too long.
    codes: Vec<Option<Code>>,
}

impl<'a, 'p> Making<'a, 'p> {
    fn new(
        order: &'a JobOrder<'a>,
        address: &str,
        progress: &'p mut dyn FnMut(usize, usize) -> bool,
    ) -> Self {
        let turned = order.printer.orientation() == Orientation::Sideways;
        let title = printed_label(order.title);
        Self {
            order,
            progress,
            done: 0,
            frame: Frame::new(order.paper, order.printer, turned),
            title: if title.is_empty() {
                String::from("Job")
            } else {
                title
            },
            date: numbers::with_room(order.date),
            pages: Vec::new(),
            parts: Vec::new(),
            left_out: Vec::new(),
            places: vec![Places::default(); order.pieces.len()],
            notes: Vec::new(),
            codes: order
                .pieces
                .iter()
                .map(|piece| Code::new(&link_in_code(address, piece.link)?))
                .collect(),
        }
    }

    /// Tells that one more step is done.
    fn step(&mut self) -> Result<(), PacketError> {
        // Each piece twice, for its templates and for its sheet, and the lists.
        let of = 2 * self.order.pieces.len() + self.order.pairs.len() + 3;
        self.done += 1;
        if (self.progress)(self.done.min(of), of) {
            Ok(())
        } else {
            Err(PacketError::Cancelled)
        }
    }

    /// Pieces still to be made, with their places.
    fn to_make(&self) -> impl Iterator<Item = (usize, &'a PieceToPrint<'a>)> + use<'a> {
        let pieces = self.order.pieces.iter().enumerate();
        pieces.filter(|(_, piece)| !piece.done)
    }

    /// Notes which sheets a part has, from a page on.
    fn list(&mut self, name: &'static str, from: usize) {
        let sheets = from..self.pages.len();
        self.parts.push(Listed { name, sheets });
    }

    /// Adds sheets of the packet's own with heads.
    fn add(&mut self, what: &str, subtitle: &str, contents: Vec<Drawing>) -> Range<usize> {
        let from = self.pages.len();
        let pages = self.headed(what, subtitle, contents);
        self.pages.extend(pages);
        from..self.pages.len()
    }

    fn headed(&self, what: &str, subtitle: &str, contents: Vec<Drawing>) -> Vec<Drawing> {
        let head = Letterhead {
            title: self.title.clone(),
            subtitle: subtitle.to_owned(),
            date: self.date.clone(),
        };
        let total = contents.len();
        let pages = contents.into_iter().enumerate();
        let headed = pages.map(|(at, content)| {
            let which = if total > 1 {
                format!("{what} {} of {total}", at + 1)
            } else {
                what.to_owned()
            };
            let mut page = self.frame.blank(&head, &which);
            page.items.extend(content.items);
            self.frame.finish(page)
        });
        headed.collect()
    }

    fn cut_lists(&mut self) -> Result<(), PacketError> {
        let from = self.pages.len();
        if self.order.parts.cut_list {
            let mut flow = Flow::new(self.frame.inner());
            for list in self.order.cut_lists {
                cut_list::fill(&mut flow, list, self.order.unit);
            }
            if !self.order.cut_lists.is_empty() {
                let pages = flow.pages();
                self.add("cut list", "What comes from which bar", pages);
            }
        } else {
            self.left_out.push("cut list");
        }
        self.list("Cut list", from);
        self.step()
    }

    fn run_list(&mut self) -> Result<(), PacketError> {
        let from = self.pages.len();
        match self.order.run_list {
            _ if !self.order.parts.run_list => self.left_out.push("run list"),
            Some((cuts, list)) if list.set_ups > 0 => {
                let mut flow = Flow::new(self.frame.inner());
                run_list::fill(&mut flow, cuts, list, self.order.unit);
                let pages = flow.pages();
                self.add("run list", "All cuts, same setting together", pages);
            }
            _ => {}
        }
        self.list("Run list", from);
        self.step()
    }

    fn piece_sheets(&mut self) -> Result<(), PacketError> {
        if !self.order.parts.piece_sheets {
            self.left_out.push("piece sheets");
            return Ok(());
        }
        let all = self.pages.len();
        for (place, piece) in self.to_make() {
            self.step()?;
            let Some(draft) = piece.draft else {
                continue;
            };
            let packet = lay_out_piece(&PieceOrder {
                piece: &draft.piece,
                label: &format!("{} · {}", piece.number, piece.name()),
                count: piece.count,
                density: self.order.density,
                unit: self.order.unit,
                division: tape_division(self.order.unit),
                clamps: self.order.clamps,
                link: piece.link,
                date: &self.date,
                paper: self.order.paper,
                printer: self.order.printer,
            });
            let notes = contents::notes_of(&packet, &piece.name());
            self.notes.extend(notes);
            let from = self.pages.len();
            self.pages.extend(packet.pages);
            self.places[place].piece = (from..self.pages.len()).collect();
        }
        self.list("Piece sheets", all);
        Ok(())
    }

    fn comparisons(&mut self) -> Result<(), PacketError> {
        if !self.order.parts.comparison {
            self.left_out.push("comparisons");
            return Ok(());
        }
        let from = self.pages.len();
        for pair in self.order.pairs {
            self.step()?;
            let [Some(left), Some(right)] = pair.map(|place| self.order.pieces.get(place)) else {
                continue;
            };
            let (Some(first), Some(second)) = (left.draft, right.draft) else {
                let (left, right) = (left.name(), right.name());
                self.notes.push(format!(
                    "{left} and {right} cannot be compared: one of them is an end alone."
                ));
                continue;
            };
            if left.done && right.done {
                continue;
            }
            let names = [left, right].map(PieceToPrint::name);
            let packet = lay_out_pair(&PairOrder {
                pieces: [&first.piece, &second.piece],
                labels: [&names[0], &names[1]],
                unit: self.order.unit,
                date: &self.date,
                paper: self.order.paper,
                printer: self.order.printer,
            });
            self.pages.extend(packet.pages);
        }
        self.list("Comparisons", from);
        Ok(())
    }

    fn code_of(&self, place: usize) -> Option<&Code> {
        self.codes.get(place)?.as_ref()
    }

    /// The words at a piece's code.
    fn words_at_code(&self, place: usize) -> String {
        let piece = self.order.pieces.get(place);
        piece.map_or_else(String::new, |piece| {
            format!("opens {} · {}", piece.number, piece.name())
        })
    }

    /// The code of a piece with its words, to be put anywhere.
    fn drawn_code(&self, place: usize, module: f64) -> Option<Drawing> {
        let code = self.code_of(place)?;
        Some(code_figure(code, &self.words_at_code(place), module))
    }

    /// Draws a code for each piece on each of its sheets that has none yet, as far as there is room.
    fn codes(&mut self) {
        let mut pages = std::mem::take(&mut self.pages);
        for (at, page) in pages.iter_mut().enumerate() {
            let own: Vec<(&Code, String)> = self
                .places
                .iter()
                .enumerate()
                .filter(|(_, own)| own.templates.contains(&at) || own.piece.contains(&at))
                .filter(|(_, own)| !own.coded.contains(&at))
                .filter_map(|(place, _)| Some((self.code_of(place)?, self.words_at_code(place))))
                .collect();
            let own: Vec<(&Code, &str)> = own
                .iter()
                .map(|(code, what)| (*code, what.as_str()))
                .collect();
            let (paper, printer) = (self.order.paper, self.order.printer);
            draw_codes(page, paper, printer, &own, own.len() == 1);
        }
        self.pages = pages;
    }

    /// Puts the contents before everything and numbers all sheets.
    fn finish(mut self) -> Result<Packet, PacketError> {
        if self.order.parts.contents {
            let contents = Contents {
                order: self.order,
                parts: &self.parts,
                left_out: &self.left_out,
                places: &self.places,
                notes: &self.notes,
            };
            let pages = contents.pages(self.frame.inner());
            let subtitle = format!(
                "{} on {}",
                counted(self.pages.len() + pages.len(), "sheet"),
                self.order.paper.name()
            );
            let mut all = self.headed("contents", &subtitle, pages);
            all.append(&mut self.pages);
            self.pages = all;
        }
        self.step()?;
        if self.pages.is_empty() {
            return Err(PacketError::Nothing);
        }
        numbers::write(&mut self.pages);
        Ok(Packet {
            pages: self.pages,
            turned: self.frame.turned(),
            columns: 1,
            rows: 1,
            corrected: self.order.printer.is_corrected(),
            notes: self.notes,
        })
    }
}
