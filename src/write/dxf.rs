//! A drawing for cutters and drawing programs: DXF of release 12 (AC1009), which all of them read.
//!
//! Group codes and sections are those of the published reference of that release. Coordinates are
//! in the unit asked for, true size, y up from the drawing's lower left corner. Release 12 has no
//! word for the unit, so it stands in a comment, in a line of text under the drawing, and in the
//! header variables that later releases read.

use crate::sheet::{Anchor, Drawing, Item, Layer, Pattern, Point};
use crate::units::Unit;
use crate::write::layer;
use crate::write::number::{self, NotFinite};
use crate::write::plain::plain;

/// Height of a capital as a part of the font size: Helvetica's, Adobe Core 14 AFM.
const CAPITAL: f64 = 0.718;
/// Font size of the two lines under the drawing, mm.
const UNDER: f64 = 2.8;
/// Line patterns that are not solid.
const BROKEN: [Pattern; 4] = [
    Pattern::Dashed,
    Pattern::LongDashed,
    Pattern::DashDot,
    Pattern::Dotted,
];
/// Colour numbers: lines to cut along, and all others.
const CUT_COLOUR: &str = "1";
const COLOUR: &str = "7";

/// A drawing as a DXF file in millimetres or inches, as `unit` says. Lines are on layers named for
/// what they mean (`CUT_LINE`, `MARK_LINE`, `ZERO_LINE`, `TEXT` …), those to cut along in another
/// colour. Letters outside ASCII are spelt with others.
///
/// # Errors
/// A number that is not finite.
pub fn dxf(drawing: &Drawing, title: &str, unit: Unit) -> Result<String, NotFinite> {
    let mut file = File {
        text: String::new(),
        scale: if unit.is_inch() { 1.0 / 25.4 } else { 1.0 },
        height: drawing.height,
    };
    file.group(999, "Copewright template, true size");
    file.group(999, file.unit_in_words());
    file.header(drawing)?;
    file.tables(drawing)?;
    file.open("ENTITIES");
    for item in &drawing.items {
        file.item(item)?;
    }
    for (line, words) in [title, file.unit_in_words()].into_iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "0 or 1")]
        let y = drawing.height + UNDER * (1.5 + 1.5 * line as f64);
        file.words(Point::new(0.0, y), UNDER, Anchor::Start, 0.0, words)?;
    }
    file.close();
    file.group(0, "EOF");
    Ok(file.text)
}

struct File {
    text: String,
    /// Units in a millimetre.
    scale: f64,
    /// Height of the drawing, mm.
    height: f64,
}

impl File {
    const fn is_inch(&self) -> bool {
        self.scale < 1.0
    }

    const fn unit_in_words(&self) -> &'static str {
        if self.is_inch() {
            "Lengths in inches, true size (1 unit = 1 in)"
        } else {
            "Lengths in millimetres, true size (1 unit = 1 mm)"
        }
    }

    /// A group: its code and its value, a line each.
    fn group(&mut self, code: u16, value: &str) {
        self.whole(code);
        self.text.push_str(value);
        self.text.push('\n');
    }

    fn whole(&mut self, code: u16) {
        // A whole number can be written.
        let _ = number::push(&mut self.text, f64::from(code), 0);
        self.text.push('\n');
    }

    /// A group with a number; six decimals of an inch are 0.03 µm.
    fn number(&mut self, code: u16, value: f64) -> Result<(), NotFinite> {
        self.whole(code);
        number::push(&mut self.text, value, 6)?;
        self.text.push('\n');
        Ok(())
    }

    /// A place, in groups `code`, `code + 10` and `code + 20`.
    fn place(&mut self, code: u16, at: Point) -> Result<(), NotFinite> {
        self.number(code, at.x * self.scale)?;
        self.number(code + 10, (self.height - at.y) * self.scale)?;
        self.number(code + 20, 0.0)
    }

    fn open(&mut self, section: &str) {
        self.group(0, "SECTION");
        self.group(2, section);
    }

    fn close(&mut self) {
        self.group(0, "ENDSEC");
    }

    fn header(&mut self, drawing: &Drawing) -> Result<(), NotFinite> {
        self.open("HEADER");
        self.group(9, "$ACADVER");
        self.group(1, "AC1009");
        self.group(9, "$EXTMIN");
        self.place(10, Point::new(0.0, drawing.height + 4.0 * UNDER))?;
        self.group(9, "$EXTMAX");
        self.place(10, Point::new(drawing.width, 0.0))?;
        self.group(9, "$LTSCALE");
        self.group(40, "1");
        let (metric, unit) = if self.is_inch() {
            ("0", "1")
        } else {
            ("1", "4")
        };
        self.group(9, "$MEASUREMENT");
        self.group(70, metric);
        self.group(9, "$INSUNITS");
        self.group(70, unit);
        self.close();
        Ok(())
    }

    fn tables(&mut self, drawing: &Drawing) -> Result<(), NotFinite> {
        self.open("TABLES");
        self.table("LTYPE", "4");
        self.line_type("CONTINUOUS", "solid", &[])?;
        for pattern in BROKEN {
            let name = line_type(pattern);
            self.line_type(name, name, pattern.dashes())?;
        }
        self.group(0, "ENDTAB");
        let mut used = vec![Layer::Note];
        for item in &drawing.items {
            if let Item::Stroke { layer, .. } = item
                && !used.contains(layer)
            {
                used.push(*layer);
            }
        }
        self.table("LAYER", "20");
        self.layer("0", COLOUR);
        for layer in used {
            let colour = if layer::is_cut(layer) {
                CUT_COLOUR
            } else {
                COLOUR
            };
            self.layer(&name(layer), colour);
        }
        self.group(0, "ENDTAB");
        self.table("STYLE", "1");
        self.group(0, "STYLE");
        self.group(2, "STANDARD");
        self.group(70, "0");
        // No fixed height, letters as wide as they are, upright, neither mirrored nor overhead.
        for (code, value) in [
            (40, "0"),
            (41, "1"),
            (50, "0"),
            (71, "0"),
            (42, "2.5"),
            (3, "txt"),
        ] {
            self.group(code, value);
        }
        self.group(4, "");
        self.group(0, "ENDTAB");
        self.close();
        Ok(())
    }

    fn table(&mut self, kind: &str, most: &str) {
        self.group(0, "TABLE");
        self.group(2, kind);
        self.group(70, most);
    }

    fn layer(&mut self, name: &str, colour: &str) {
        self.group(0, "LAYER");
        self.group(2, name);
        self.group(70, "0");
        self.group(62, colour);
        self.group(6, "CONTINUOUS");
    }

    /// Dashes are positive and gaps negative.
    fn line_type(&mut self, name: &str, words: &str, dashes: &[f64]) -> Result<(), NotFinite> {
        self.group(0, "LTYPE");
        self.group(2, name);
        self.group(70, "0");
        self.group(3, words);
        self.group(72, "65");
        #[expect(clippy::cast_precision_loss, reason = "at most 4")]
        self.number(73, dashes.len() as f64)?;
        self.number(40, dashes.iter().sum::<f64>() * self.scale)?;
        for (i, dash) in dashes.iter().enumerate() {
            let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
            self.number(49, sign * dash * self.scale)?;
        }
        Ok(())
    }

    fn item(&mut self, item: &Item) -> Result<(), NotFinite> {
        match item {
            Item::Stroke {
                layer,
                pen,
                points,
                closed,
                filled,
            } => {
                let layer = name(*layer);
                let pattern = line_type(pen.pattern);
                match points.as_slice() {
                    // An area has three or four corners here, the last two the other way round.
                    &[a, b, c] if *filled => self.solid(&layer, [a, b, c, c]),
                    &[a, b, c, d] if *filled => self.solid(&layer, [a, b, d, c]),
                    &[a, b] if !closed => {
                        self.entity("LINE", &layer);
                        self.group(6, pattern);
                        self.place(10, a)?;
                        self.place(11, b)
                    }
                    points => self.polyline(&layer, pattern, points, *closed),
                }
            }
            Item::Text {
                at,
                size,
                anchor,
                turn,
                text,
                ..
            } => self.words(*at, *size, *anchor, turn.deg(), text),
        }
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.group(0, kind);
        self.group(8, layer);
    }

    fn solid(&mut self, layer: &str, corners: [Point; 4]) -> Result<(), NotFinite> {
        self.entity("SOLID", layer);
        for (code, corner) in (10..).zip(corners) {
            self.place(code, corner)?;
        }
        Ok(())
    }

    fn polyline(
        &mut self,
        layer: &str,
        pattern: &str,
        points: &[Point],
        closed: bool,
    ) -> Result<(), NotFinite> {
        self.entity("POLYLINE", layer);
        self.group(6, pattern);
        self.group(66, "1");
        // The place of a polyline is only its height above the plane.
        for code in [10, 20, 30] {
            self.group(code, "0");
        }
        self.group(70, if closed { "1" } else { "0" });
        for point in points {
            self.entity("VERTEX", layer);
            self.place(10, *point)?;
        }
        self.entity("SEQEND", layer);
        Ok(())
    }

    fn words(
        &mut self,
        at: Point,
        size: f64,
        anchor: Anchor,
        turn_deg: f64,
        text: &str,
    ) -> Result<(), NotFinite> {
        self.entity("TEXT", &name(Layer::Note));
        self.place(10, at)?;
        self.number(40, size * CAPITAL * self.scale)?;
        self.group(1, &spelt(text));
        // Turned clockwise on the page, counted counter-clockwise here.
        self.number(50, -turn_deg)?;
        self.group(7, "STANDARD");
        let hung = match anchor {
            Anchor::Start => return Ok(()),
            Anchor::Middle => "1",
            Anchor::End => "2",
        };
        self.group(72, hung);
        self.place(11, at)
    }
}

/// A layer's name: capitals and low lines, which release 12 asks for.
fn name(layer: Layer) -> String {
    layer::words(layer).to_ascii_uppercase().replace(' ', "_")
}

const fn line_type(pattern: Pattern) -> &'static str {
    match pattern {
        Pattern::Solid => "CONTINUOUS",
        Pattern::Dashed => "DASHED",
        Pattern::LongDashed => "LONG_DASHED",
        Pattern::DashDot => "DASHDOT",
        Pattern::Dotted => "DOTTED",
    }
}

/// Text in ASCII with the codes that text has here for degrees, plus or minus and diameters.
fn spelt(text: &str) -> String {
    let mut spelt = String::new();
    for letter in text.chars() {
        match letter {
            '°' => spelt.push_str("%%d"),
            '±' => spelt.push_str("%%p"),
            '⌀' | '∅' | 'Ø' => spelt.push_str("%%c"),
            // Two would begin a code.
            '%' if spelt.ends_with('%') => spelt.push_str(" %"),
            // A caret begins a control letter.
            '^' => spelt.push_str("^ "),
            letter => spelt.push_str(plain(letter)),
        }
    }
    spelt
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_ascii_and_begin_no_code() {
        assert_eq!(
            spelt("60° ± ½, Ø 42.4 ≤ ł"),
            "60%%d %%p  1/2, %%c 42.4 <= l"
        );
        assert_eq!(spelt("100 %%d ^J\n0\r\nEOF"), "100 % %d ^ J 0  EOF");
    }
}
