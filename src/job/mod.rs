//! What the user typed, the share link, and what is kept between visits.

mod caution;
mod draft;
mod facts;
mod field;
mod history;
mod kept;
mod link;
mod origin;
mod printer;
mod typed;

pub use caution::{Caution, RESPONSIBILITY, about as cautions_about};
pub use draft::{Draft, Problem, read, read_what_can_be};
pub use facts::{Fact, facts, file_name, joint_in_words, offset_in_words};
pub use field::Field;
pub use history::History;
pub use kept::{Kept, TABLES};
pub use link::{Opened, open_link, write_link};
pub use origin::origins;
pub use printer::{Orientation, Printer, PrinterError, Ruler};
pub use typed::Typed;
