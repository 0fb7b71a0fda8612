//! The sheet of a whole piece: the tube laid out straight with all its marks, its turns and shape,
//! facts, bends and steps.

mod axis;
mod bends;
mod drawing;
mod facts;
mod places;
mod rows;
mod shape;
mod steps;
mod tube;

use crate::job::{Orientation, Printer};
use crate::piece::{Clamps, Piece};
use crate::sheet::Packet;
use crate::sheet::area::Area;
use crate::sheet::blocks::{self, BETWEEN, Lettering, Part};
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::page::Frame;
use crate::sheet::placer::{Block, Joins};
use crate::sheet::tile;
use crate::sheet::words;
use crate::stock::{Density, Paper};
use crate::units::{Length, Unit};

/// Size of warnings over the drawing, mm.
const WARNING: f64 = 2.8;
/// What letters are made smaller by where that saves a sheet.
const TIGHT: f64 = 0.9;
/// A piece to be printed, and how.
#[derive(Debug, Clone, Copy)]
pub struct PieceOrder<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Its name; may be empty.
    pub label: &'a str,
    /// How many are wanted.
    pub count: u32,
    /// What it is made of, for its mass.
    pub density: Option<Density>,
    /// Unit of the lengths in words.
    pub unit: Unit,
    /// Division of the tape that marks are laid off with; 0 leaves them unrounded.
    pub division: Length,
    /// What the machines need to hold on to.
    pub clamps: Clamps,
    /// Link that opens the piece again; may be empty.
    pub link: &'a str,
    /// Date in words; may be empty.
    pub date: &'a str,
    /// The paper in the printer.
    pub paper: Paper,
    /// The printer's margin, orientation and correction.
    pub printer: &'a Printer,
}

/// Sheets that fill from the top, one after the other.
struct Flow {
    room: Area,
    y: f64,
    pages: Vec<Drawing>,
}

impl Flow {
    fn new(room: Area) -> Self {
        Self {
            room,
            y: room.y0,
            pages: vec![Drawing::default()],
        }
    }

    /// What is left of the sheet under a gap.
    fn left(&self, gap: f64) -> f64 {
        self.room.y1 - self.y - self.gap(gap)
    }

    fn gap(&self, gap: f64) -> f64 {
        if self.y > self.room.y0 { gap } else { 0.0 }
    }

    fn turn_over(&mut self) {
        self.pages.push(Drawing::default());
        self.y = self.room.y0;
    }

    /// Sets something of a height under a gap, on the next sheet where this one is full.
    fn set(&mut self, gap: f64, height: f64, draw: impl FnOnce(&mut Drawing, Point)) {
        if height > self.left(gap) && self.y > self.room.y0 {
            self.turn_over();
        }
        let at = Point::new(self.room.x0, self.y + self.gap(gap));
        self.y = at.y + height;
        if let Some(page) = self.pages.last_mut() {
            draw(page, at);
        }
    }
}

/// The sheet of a piece: one page as a rule, more where the words need it.
pub fn pages(order: &PieceOrder) -> Packet {
    let marks = order.piece.marks(order.division);
    let facts = facts::facts(order, &marks);
    let warnings: Vec<String> = order
        .piece
        .clashes(&order.clamps)
        .iter()
        .map(|clash| clash.sentence(order.unit))
        .collect();
    // A piece lies along the sheet's lines either way; it is turned only when that is asked for.
    let turned = order.printer.orientation() == Orientation::Sideways;
    let frame = Frame::new(order.paper, order.printer, turned);
    let width = frame.inner().width();
    let figures: Vec<Drawing> = [
        Some(drawing::draw(order, &marks, width)),
        shape::draw(order, width),
    ]
    .into_iter()
    .flatten()
    .collect();
    let fill = |scale: f64| {
        let mut flow = Flow::new(frame.inner());
        set_warnings(&mut flow, &warnings);
        for figure in &figures {
            let all = Area::new(0.0, 0.0, figure.width, figure.height);
            flow.set(BETWEEN, figure.height, |page, at| {
                tile::show(page, figure, &all, at, &Joins::default());
            });
        }
        bends::table(&mut flow, order, &marks);
        let text = Lettering {
            facts: &facts,
            scale,
        };
        set_words(&mut flow, text);
        flow.pages
    };
    // Smaller letters only where they save a sheet.
    let mut contents = fill(1.0);
    if contents.len() > 1 {
        let tight = fill(TIGHT);
        if tight.len() < contents.len() {
            contents = tight;
        }
    }
    let head = facts::letterhead(order, &marks);
    let total = contents.len();
    let finished = contents.into_iter().enumerate().map(|(at, content)| {
        let which = if total > 1 {
            format!("piece, sheet {} of {total}", at + 1)
        } else {
            String::from("piece")
        };
        let mut page = frame.blank(&head, &which);
        page.items.extend(content.items);
        frame.finish(page)
    });
    Packet {
        pages: finished.collect(),
        turned: frame.turned(),
        columns: 1,
        rows: 1,
        corrected: order.printer.is_corrected(),
        notes: warnings,
    }
}

/// What must be known before anything else.
fn set_warnings(flow: &mut Flow, warnings: &[String]) {
    for warning in warnings {
        let words = format!("Mind: {warning}");
        let lines = words::wrap(&words, WARNING, true, flow.room.width());
        let block = Block::new(lines, WARNING).bold();
        flow.set(1.4, block.extent().1, |page, at| {
            block.draw(page, at, Anchor::Start);
        });
    }
}

/// Facts, steps and cautions.
fn set_words(flow: &mut Flow, text: Lettering) {
    let width = flow.room.width();
    let table = text.table_height(width);
    let prose = text.prose_height(width);
    for (part, height) in [(Part::Table, table), (Part::Prose, prose)] {
        flow.set(BETWEEN, height, |page, at| {
            let area = Area::sized(at.x, at.y, width, height);
            blocks::draw(page, text, &(part, area));
        });
    }
}
