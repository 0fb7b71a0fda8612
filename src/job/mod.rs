//! What the user typed, the share link, what is kept between visits, and planning for the shop.

mod at_hand;
mod caution;
mod draft;
mod facts;
mod field;
mod file_names;
pub mod fit;
mod form;
mod history;
mod kept;
mod kind;
mod link;
pub mod list;
mod origin;
mod printer;
mod reader;
pub mod saw;
mod seat;
pub mod shop;
mod texts;
mod typed;
mod words;

pub use at_hand::{AtHand, BarTyped, MachineTyped, SawTyped, StockTyped};
pub use caution::{Caution, RESPONSIBILITY, about as cautions_about};
pub use draft::{Draft, Problem, read, read_what_can_be};
pub use facts::{Fact, facts, file_name};
pub use field::{Field, MainField};
pub use file_names::FileNames;
pub use form::{
    BENDS_MAX, BendField, EndKind, Measure, Measured, OpenedForm, PieceDraft, PieceFact,
    PieceField, PieceForm, PieceProblem, clashes_in_words, open_form, piece_facts, read_piece,
    reading_in_words, remake_in_words, resume_form, shorten_form, write_form, write_whole_form,
};
pub use history::History;
pub use kept::{Kept, TABLES};
pub use kind::MainKind;
pub use link::{Opened, open_link, resume, write_link, write_whole};
pub use origin::{corner_of_wall, origins};
pub use printer::{Orientation, Printer, PrinterError, Ruler};
pub use typed::Typed;
pub use words::{joint_in_words, main_in_words, offset_in_words, place_in_words, seat_in_words};
