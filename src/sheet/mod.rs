//! One device-independent drawing in millimetres: strokes, text, pages.

mod area;
mod arrange;
mod blocks;
mod card;
mod code;
mod code_room;
mod drawing;
mod facts;
mod fan;
mod figure;
mod fit_strip;
mod labels;
mod landing;
mod layout;
mod pack;
pub mod packet;
mod page;
mod piece;
mod placer;
mod plan;
mod ruler;
mod setting;
pub mod sketch;
mod strip;
mod table;
mod tile;
mod words;

pub use code::Code;
pub use code_room::{draw_codes, link_in_code};
pub use drawing::{Anchor, Drawing, Item, Layer, Pattern, Pen, Point};
pub use fit_strip::fit_strip;
pub use page::BOX_BELOW_SHEET;
pub use piece::PieceOrder;

use crate::job::Printer;
use crate::piece::{Landing, Template};
use crate::sheet::figure::Figure;
use crate::sheet::placer::Joins;
use crate::stock::Paper;
use crate::units::Unit;

/// Most sheets laid out for one template.
pub const SHEETS_MAX: u64 = 400;

/// What is to be printed, and how.
#[derive(Debug, Clone, Copy)]
pub struct Order<'a> {
    /// The template.
    pub template: &'a Template,
    /// Unit of the lengths in words.
    pub unit: Unit,
    /// Name of the piece; may be empty.
    pub label: &'a str,
    /// Link that opens the joint again; may be empty.
    pub link: &'a str,
    /// Date in words; may be empty.
    pub date: &'a str,
    /// The paper in the printer.
    pub paper: Paper,
    /// The printer's margin, orientation and correction.
    pub printer: &'a Printer,
    /// What is to be said about the saw, each line with its caption.
    pub saw: &'a [(&'static str, String)],
}

/// Sheets ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Packet {
    /// Upright page boxes, in printing order.
    pub pages: Vec<Drawing>,
    /// Whether the drawing is turned a quarter on the sheets.
    pub turned: bool,
    /// Tiles from left to right.
    pub columns: u32,
    /// Tiles from top to bottom.
    pub rows: u32,
    /// Whether the sheets are corrected for the printer.
    pub corrected: bool,
    /// What the user should know before printing, one sentence each.
    pub notes: Vec<String>,
}

/// A template that cannot be laid out.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetError {
    /// More sheets than anybody tapes together.
    TooManySheets {
        /// How many it would take.
        sheets: u64,
        /// On this paper.
        paper: Paper,
    },
}

impl SheetError {
    /// The refusal in words.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::TooManySheets { sheets, paper } => format!(
                "This template would take {sheets} sheets of {}; at most {SHEETS_MAX} are laid \
                 out. Take larger paper, or mark the cut by hand from the table.",
                paper.name()
            ),
        }
    }
}

/// Lays a template out on sheets of paper.
///
/// # Errors
/// A template that would take more than [`SHEETS_MAX`] sheets.
pub fn lay_out(order: &Order) -> Result<Packet, SheetError> {
    layout::lay_out(order)
}

/// Lays the template for a main out on sheets of paper.
///
/// # Errors
/// A template that would take more than [`SHEETS_MAX`] sheets.
pub fn lay_out_landing(order: &Order, landing: &Landing) -> Result<Packet, SheetError> {
    landing::pages(order, landing)
}

/// The template in one piece on a drawing just large enough, at true scale and uncorrected, with
/// its words but no page around it: for a plotter, a cutter or a drawing program. Its lower left
/// corner is a little below the tab's end of the mark line.
#[must_use]
pub fn template_figure(order: &Order) -> Drawing {
    let line = order.template.line();
    let captions = facts::captions(order);
    let figure = Figure::new(order.template, &line, captions, strip::TAB, false);
    figure.draw(&Joins::default())
}

/// The template for a main in one piece, as [`template_figure`] has that of the branch.
#[must_use]
pub fn landing_figure(order: &Order, landing: &Landing) -> Drawing {
    landing::whole(order, landing)
}

/// Lays the sheet of a whole piece out: its drawing with all marks, facts and steps.
#[must_use]
pub fn lay_out_piece(order: &PieceOrder) -> Packet {
    piece::pages(order)
}

/// Lays the table of ordinates out on sheets of paper, for marking by hand at `divisions` equal
/// parts of a turn (8, 16 or 32 are usual).
#[must_use]
pub fn lay_out_table(order: &Order, divisions: u32) -> Packet {
    table::pages(order, divisions)
}
