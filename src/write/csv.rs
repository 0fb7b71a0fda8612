//! The table of ordinates as comma-separated values (RFC 4180 without quoting: numbers only).

use crate::piece::Ordinate;
use crate::units::Length;
use crate::write::number::{self, NotFinite};

/// The first line.
const HEADER: &str = "turn_deg,around_mm,from_centre_mm,from_mark_mm\n";
/// Decimal places; trailing zeros are trimmed.
const DECIMALS: u32 = 9;

/// The table as text, a header and one line per ordinate; cells stay empty where the branch
/// passes beside the main. Degrees and millimetres.
///
/// # Errors
/// A number that is not finite.
pub fn csv(table: &[Ordinate]) -> Result<String, NotFinite> {
    let mut out = String::from(HEADER);
    for line in table {
        number::push(&mut out, line.turn.deg(), DECIMALS)?;
        out.push(',');
        number::push(&mut out, line.around.mm(), DECIMALS)?;
        for cell in [line.from_centre, line.from_mark] {
            out.push(',');
            if let Some(length) = cell.map(Length::mm) {
                number::push(&mut out, length, DECIMALS)?;
            }
        }
        out.push('\n');
    }
    Ok(out)
}
