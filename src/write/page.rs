//! The print engine's side of a page: its `@page` rule and the box that holds one sheet.
//!
//! Measured in three engines: the base rule must name the exact sheet with margin 0, and a page
//! box of the full height makes some of them add blank pages, so the box is half a millimetre
//! lower than the sheet.

use crate::sheet::BOX_BELOW_SHEET;
use crate::stock::Paper;
use crate::units::{write_decimal, write_fixed};

/// The `@page` rule for a paper.
#[must_use]
pub fn page_rule(paper: Paper) -> String {
    let (width, height) = paper.size();
    format!(
        "@page {{ size: {}mm {}mm; margin: 0 }}",
        write_decimal(width.mm(), 3),
        write_decimal(height.mm(), 3)
    )
}

/// Width and height of the page box, as CSS lengths.
#[must_use]
pub fn page_box(paper: Paper) -> (String, String) {
    let (width, height) = paper.size();
    (
        write_decimal(width.mm(), 3) + "mm",
        write_fixed(height.mm() - BOX_BELOW_SHEET, 1) + "mm",
    )
}
