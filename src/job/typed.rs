//! Exactly what the user typed, and the usual case that stands there before anything is typed.

use crate::cope::CutMethod;
use crate::job::Field;
use crate::stock::Paper;
use crate::units::Unit;

/// The form as it stands: numbers as text, choices as choices. Nothing here has been checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed {
    /// What a bare number means.
    pub unit: Unit,
    /// How the end is cut.
    pub cut: CutMethod,
    /// Paper it is printed on.
    pub paper: Paper,
    branch: String,
    wall: String,
    main: String,
    angle: String,
    offset: String,
    gap: String,
    girth: String,
    turn: String,
    label: String,
    template: String,
}

impl Typed {
    /// The usual case in a unit: a tube landing at 60° on one a size larger, ground to the line.
    ///
    /// Metric: 42.4 × 2.6 on 48.3 mm, neighbouring sizes of ISO 4200 series 1. Inch: 1-1/2 × .065
    /// (16 BWG) on 1-3/4, usual stock diameters. That 60° is the usual brace is common practice,
    /// no source.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        let metric = unit == Unit::Millimetre;
        let pick = |mm: &str, inch: &str| String::from(if metric { mm } else { inch });
        Self {
            unit,
            cut: CutMethod::Square,
            paper: if metric { Paper::A4 } else { Paper::Letter },
            branch: pick("42.4", "1 1/2"),
            wall: pick("2.6", ".065"),
            main: pick("48.3", "1 3/4"),
            angle: String::from("60"),
            offset: String::from("0"),
            gap: String::from("0"),
            girth: String::new(),
            turn: String::from("0"),
            label: String::new(),
            template: pick("0.1", ".004"),
        }
    }

    /// The text of a field that is typed; `None` for one that is chosen from a list.
    #[must_use]
    pub fn text(&self, field: Field) -> Option<&str> {
        Some(match field {
            Field::Branch => &self.branch,
            Field::Wall => &self.wall,
            Field::Main => &self.main,
            Field::Angle => &self.angle,
            Field::Offset => &self.offset,
            Field::Gap => &self.gap,
            Field::Girth => &self.girth,
            Field::Turn => &self.turn,
            Field::Label => &self.label,
            Field::Template => &self.template,
            Field::Unit | Field::Cut | Field::Paper => return None,
        })
    }

    /// The same form with one typed field changed; a chosen field stays as it is.
    #[must_use]
    pub fn with_text(mut self, field: Field, text: impl Into<String>) -> Self {
        if let Some(slot) = self.slot(field) {
            *slot = text.into();
        }
        self
    }

    /// The same form with one field as in the usual case.
    #[must_use]
    pub fn with_usual(mut self, field: Field) -> Self {
        let usual = Self::usual(self.unit);
        match field {
            Field::Unit => {}
            Field::Cut => self.cut = usual.cut,
            Field::Paper => self.paper = usual.paper,
            _ => {
                let text = usual.text(field).unwrap_or_default().to_owned();
                return self.with_text(field, text);
            }
        }
        self
    }

    /// The same form in another unit. A number typed without a unit gets the old one written
    /// behind it, so that its meaning stays; no size ever changes.
    #[must_use]
    pub fn in_unit(mut self, unit: Unit) -> Self {
        if self.unit.is_inch() != unit.is_inch() {
            let mark = if self.unit.is_inch() { "in" } else { "mm" };
            for field in Self::LENGTHS {
                let typed = self.text(field).unwrap_or_default().trim().to_owned();
                if is_bare(&typed) {
                    self = self.with_text(field, format!("{typed} {mark}"));
                }
            }
        }
        self.unit = unit;
        self
    }

    /// The typed fields that are lengths.
    pub const LENGTHS: [Field; 7] = [
        Field::Branch,
        Field::Wall,
        Field::Main,
        Field::Offset,
        Field::Gap,
        Field::Girth,
        Field::Template,
    ];

    fn slot(&mut self, field: Field) -> Option<&mut String> {
        Some(match field {
            Field::Branch => &mut self.branch,
            Field::Wall => &mut self.wall,
            Field::Main => &mut self.main,
            Field::Angle => &mut self.angle,
            Field::Offset => &mut self.offset,
            Field::Gap => &mut self.gap,
            Field::Girth => &mut self.girth,
            Field::Turn => &mut self.turn,
            Field::Label => &mut self.label,
            Field::Template => &mut self.template,
            Field::Unit | Field::Cut | Field::Paper => return None,
        })
    }
}

/// Whether a number stands without a unit, so that changing the job's unit would change it. Zero
/// is zero in any unit.
fn is_bare(text: &str) -> bool {
    // Everything that a number may consist of and no letter or mark that could be a unit.
    let number = |c: char| {
        c.is_numeric()
            || c.is_whitespace()
            || ".,/⁄∕+-−\u{2010}\u{2011}\u{2012}\u{2013}\u{2014}".contains(c)
    };
    text.chars().any(|c| c.is_numeric() && c != '0') && text.chars().all(number)
}
