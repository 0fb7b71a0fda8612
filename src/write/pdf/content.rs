//! What one page paints: the drawing in its own millimetres, y down, under one map to points.

use pdf_writer::{Content, Name, Settings, Str};

use crate::sheet::{Anchor, Drawing, Item, Pattern, Pen, Point};
use crate::write::number::{self, NotFinite};
use crate::write::pdf::{letters, widths};

/// Points in a millimetre.
pub const POINTS: f64 = 72.0 / 25.4;
/// Names of the two faces in the page's resources.
pub const REGULAR: Name = Name(b"F1");
/// See [`REGULAR`].
pub const BOLD: Name = Name(b"F2");

/// The operators that paint a drawing, its upper left corner on that of a sheet `height` mm high.
pub fn content(drawing: &Drawing, height: f64) -> Result<Vec<u8>, NotFinite> {
    let mut content = Content::with_settings(Settings { pretty: false });
    let k = narrow(POINTS);
    content.transform([k, 0.0, 0.0, -k, 0.0, narrow(height * POINTS)]);
    // As in the SVG: butt ends, which PDF starts with, and round corners.
    content.set_line_join(pdf_writer::types::LineJoinStyle::RoundJoin);
    let mut pen = None;
    for item in &drawing.items {
        match item {
            Item::Stroke {
                pen: wanted,
                points,
                closed,
                filled,
                ..
            } => {
                if points.is_empty() {
                    continue;
                }
                if !filled && pen != Some(*wanted) {
                    take(&mut content, pen, *wanted)?;
                    pen = Some(*wanted);
                }
                path(&mut content, points, *closed)?;
                if *filled {
                    content.fill_nonzero();
                } else {
                    content.stroke();
                }
            }
            Item::Text { .. } => text(&mut content, item)?,
        }
    }
    Ok(content.finish().into_vec())
}

/// Changes to another pen.
fn take(content: &mut Content, held: Option<Pen>, wanted: Pen) -> Result<(), NotFinite> {
    content.set_line_width(mm(wanted.width)?);
    if held.map_or(Pattern::Solid, |pen| pen.pattern) != wanted.pattern {
        let dashes = wanted.pattern.dashes().iter().map(|dash| mm(*dash));
        content.set_dash_pattern(dashes.collect::<Result<Vec<_>, _>>()?, 0.0);
    }
    Ok(())
}

fn path(content: &mut Content, points: &[Point], closed: bool) -> Result<(), NotFinite> {
    for (i, point) in points.iter().enumerate() {
        let (x, y) = (mm(point.x)?, mm(point.y)?);
        if i == 0 {
            content.move_to(x, y);
        } else {
            content.line_to(x, y);
        }
    }
    if closed {
        content.close_path();
    }
    Ok(())
}

fn text(content: &mut Content, item: &Item) -> Result<(), NotFinite> {
    let Item::Text {
        at,
        size,
        anchor,
        turn,
        bold,
        text,
    } = item
    else {
        return Ok(());
    };
    let letters = letters::encode(text);
    if letters.is_empty() {
        return Ok(());
    }
    let back = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    } * width(&letters, *size, *bold);
    let (sin, cos) = turn.rad().sin_cos();
    let (x, y) = (mm(at.x - back * cos)?, mm(at.y - back * sin)?);
    let (sin, cos) = (unit(sin)?, unit(cos)?);
    content
        .begin_text()
        .set_font(if *bold { BOLD } else { REGULAR }, mm(*size)?)
        // Along the line, and up from it on a page whose y runs down.
        .set_text_matrix([cos, sin, sin, -cos, x, y])
        .show(Str(&letters))
        .end_text();
    Ok(())
}

/// Width of a line of letters, in the unit of `size`.
fn width(letters: &[u8], size: f64, bold: bool) -> f64 {
    let sum: u32 = letters
        .iter()
        .map(|letter| u32::from(widths::of(*letter, bold)))
        .sum();
    f64::from(sum) / 1000.0 * size
}

/// Millimetres to a tenth of a micron, which is what a number of 32 bits holds on any sheet.
fn mm(number: f64) -> Result<f32, NotFinite> {
    Ok(narrow((number::finite(number)? * 1e4).round() / 1e4))
}

/// A part of one, of the sine or cosine of a turn.
fn unit(number: f64) -> Result<f32, NotFinite> {
    Ok(narrow((number::finite(number)? * 1e7).round() / 1e7))
}

/// The nearest number of 32 bits; zero never has a sign.
pub fn narrow(number: f64) -> f32 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the rounding that is meant"
    )]
    let narrow = (number + 0.0) as f32;
    narrow
}
