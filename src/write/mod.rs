//! Drawings and tables as files: SVG for screen and print, PDF for paper, DXF for
//! cutters and drawing programs, STL for solids, CSV for tables, ZIP for many
//! of them.
//!
//! Writers read finished drawings only. The same drawing gives the same bytes, text from outside
//! is escaped in one place, and a number that is not finite is refused, never written.

mod csv;
mod dxf;
mod layer;
mod number;
mod page;
mod pdf;
mod plain;
mod stl;
mod svg;
mod zip;

pub use csv::csv;
pub use dxf::dxf;
pub use number::NotFinite;
pub use page::{page_box, page_rule};
pub use pdf::{PdfAbout, PdfDay, pdf, pdf_letters_lost};
pub use stl::stl;
pub use svg::{Ink, SvgName, svg_document, svg_inline, svg_layers};
pub use zip::{ArchiveTooLarge, zip};
