//! Exactly what the user typed, and the usual case that stands there before anything is typed.

use crate::cope::CutMethod;
use crate::job::texts::MainTexts;
use crate::job::{Field, MainField, MainKind};
use crate::joint::MAINS_MAX;
use crate::stock::Paper;
use crate::units::{Angle, Length, Unit, read_angle, read_length, write_decimal};

/// The form as it stands: numbers as text, choices as choices. Nothing here has been checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// What a bare number means.
    pub unit: Unit,
    /// How the end is cut.
    pub cut: CutMethod,
    /// Paper it is printed on.
    pub paper: Paper,
    /// Whether the outline of the landing on each main is printed too.
    pub landing: bool,
    branch: String,
    wall: String,
    /// At least one, at most [`MAINS_MAX`].
    mains: Vec<MainTexts>,
    gap: String,
    girth: String,
    turn: String,
    label: String,
    template: String,
    /// Of end B of a piece: the turn of end A's heel, which its own is counted from.
    other_heel: Option<Angle>,
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
            landing: false,
            branch: pick("42.4", "1 1/2"),
            wall: pick("2.6", ".065"),
            mains: vec![MainTexts::usual(metric, 0)],
            gap: String::from("0"),
            girth: String::new(),
            turn: String::from("0"),
            label: String::new(),
            template: pick("0.1", ".004"),
            other_heel: None,
        }
    }

    /// The same form as end B of a piece whose end A has its heel at a turn.
    #[must_use]
    pub(super) fn behind(self, other_heel: Angle) -> Self {
        Self {
            other_heel: Some(other_heel),
            ..self
        }
    }

    /// The same form by itself, or as end A.
    #[must_use]
    pub(super) fn in_front(self) -> Self {
        Self {
            other_heel: None,
            ..self
        }
    }

    /// Of end B of a piece: the turn of end A's heel.
    #[must_use]
    pub const fn other_heel(&self) -> Option<Angle> {
        self.other_heel
    }

    /// The same form with what both ends of a piece have taken from the other one: tube, label,
    /// paper and unit.
    #[must_use]
    pub(super) fn sharing(self, other: &Self) -> Self {
        Self {
            unit: other.unit,
            paper: other.paper,
            branch: other.branch.clone(),
            wall: other.wall.clone(),
            girth: other.girth.clone(),
            label: other.label.clone(),
            template: other.template.clone(),
            ..self
        }
    }

    /// The text of a field that is typed; `None` for one that is chosen from a list.
    #[must_use]
    pub fn text(&self, field: Field) -> Option<&str> {
        Some(match field {
            Field::Branch => &self.branch,
            Field::Wall => &self.wall,
            Field::OfMain(main, field) => return self.mains.get(main)?.text(field),
            Field::Gap => &self.gap,
            Field::Girth => &self.girth,
            Field::Turn => &self.turn,
            Field::Label => &self.label,
            Field::Template => &self.template,
            Field::Unit | Field::Mains | Field::Cut | Field::Landing | Field::Paper => return None,
        })
    }

    /// The same form with one typed field changed; a chosen field stays as it is.
    #[must_use]
    pub fn with_text(mut self, field: Field, text: impl Into<String>) -> Self {
        if let Field::OfMain(main, field) = field {
            if let Some(main) = self.mains.get_mut(main) {
                main.set(field, text);
            }
        } else if let Some(slot) = self.slot(field) {
            *slot = text.into();
        }
        self
    }

    /// The same form with one field as in the usual case; how many mains there are stays.
    #[must_use]
    pub fn with_usual(mut self, field: Field) -> Self {
        let usual = Self::usual(self.unit);
        match field {
            Field::Unit | Field::Mains => self,
            Field::Cut => {
                self.cut = usual.cut;
                self
            }
            Field::Paper => {
                self.paper = usual.paper;
                self
            }
            Field::Landing => {
                self.landing = usual.landing;
                self
            }
            Field::OfMain(main, MainField::Kind) => self.with_kind(main, MainKind::default()),
            _ => {
                let text = self.usual_text(field);
                self.with_text(field, text)
            }
        }
    }

    /// The same form with every number as in the usual case; only the choices stay.
    #[must_use]
    pub fn with_usual_numbers(&self) -> Self {
        Field::all().fold(self.clone(), |typed, field| {
            if typed.text(field).is_some() {
                typed.with_usual(field)
            } else {
                typed
            }
        })
    }

    /// What stands in a field in the usual case; nothing for one that is chosen.
    #[must_use]
    pub fn usual_text(&self, field: Field) -> String {
        let text = match field {
            Field::OfMain(main, field) => self.usual_main(main).text(field).map(str::to_owned),
            _ => Self::usual(self.unit).text(field).map(str::to_owned),
        };
        text.unwrap_or_default()
    }

    fn usual_main(&self, number: usize) -> MainTexts {
        MainTexts::usual(self.unit == Unit::Millimetre, number)
    }

    /// How many mains the branch sits on: 1 to [`MAINS_MAX`].
    #[must_use]
    pub const fn mains(&self) -> usize {
        self.mains.len()
    }

    /// The kind of each main, the first one first.
    #[must_use]
    pub fn kinds(&self) -> Vec<MainKind> {
        self.mains.iter().map(|main| main.kind).collect()
    }

    /// The kind of the main of that number, counted from 0; round where there is none.
    #[must_use]
    pub fn kind(&self, main: usize) -> MainKind {
        self.mains
            .get(main)
            .map_or(MainKind::Round, |main| main.kind)
    }

    /// The same form with another kind of main. Every number stays, seen or not.
    #[must_use]
    pub fn with_kind(mut self, main: usize, kind: MainKind) -> Self {
        if let Some(main) = self.mains.get_mut(main) {
            main.kind = kind;
        }
        self
    }

    /// The same form with so many mains, at least one and at most [`MAINS_MAX`]: usual ones are
    /// added behind, or the last ones taken away.
    #[must_use]
    pub fn with_mains(mut self, count: usize) -> Self {
        let count = count.clamp(1, MAINS_MAX);
        self.mains.truncate(count);
        for number in self.mains.len()..count {
            self.mains.push(self.usual_main(number));
        }
        self
    }

    /// The same form with one more main: the usual next one, fitted to the first. Where the first
    /// leans, the second stands squarely on it and the branch is a brace in their corner; where
    /// the branch itself stands squarely on the first, the second lies square to both.
    #[must_use]
    pub fn with_another_main(self) -> Self {
        let number = self.mains();
        let mut typed = self.with_mains(number + 1);
        if number == 1
            && let Some(first) = typed.mains.first()
            && let Ok(angle) = read_angle(first.text(MainField::Angle).unwrap_or_default())
        {
            let rest = Angle::QUARTER - angle;
            let (angle, about) = if rest >= Angle::from_deg(10.0) && rest < Angle::QUARTER {
                (rest, "180")
            } else {
                (Angle::QUARTER, "90")
            };
            typed = typed
                .with_text(Field::OfMain(1, MainField::Angle), bare_degrees(angle))
                .with_text(Field::OfMain(1, MainField::About), about);
        }
        let tube = typed.mains.first().and_then(|first| {
            matches!(first.kind, MainKind::Round | MainKind::Bent).then(|| {
                first
                    .text(MainField::Diameter)
                    .unwrap_or_default()
                    .to_owned()
            })
        });
        match tube {
            Some(tube) => typed.with_text(Field::OfMain(number, MainField::Diameter), tube),
            None => typed,
        }
    }

    /// The same form without one of its mains; the last one stays. Without the first, the second
    /// makes the frame, and the others keep their places against it.
    #[must_use]
    pub fn without_main(mut self, main: usize) -> Self {
        if self.mains.len() < 2 || main >= self.mains.len() {
            return self;
        }
        self.mains.remove(main);
        if main > 0 {
            return self;
        }
        let place = |typed: &Self, number| {
            let text = |field| typed.text(Field::OfMain(number, field)).unwrap_or_default();
            (
                read_angle(text(MainField::About)).ok(),
                read_length(text(MainField::Shift), typed.unit).ok(),
            )
        };
        let (about, shift) = place(&self, 0);
        for number in 1..self.mains.len() {
            let (its_about, its_shift) = place(&self, number);
            if let (Some(about), Some(its)) = (about, its_about) {
                let text = bare_degrees((its - about).within_turn());
                self = self.with_text(Field::OfMain(number, MainField::About), text);
            }
            if let (Some(shift), Some(its)) = (shift, its_shift)
                && shift != Length::ZERO
            {
                let apart = its - shift;
                let text = if self.unit.is_inch() {
                    write_decimal(apart.inches(), 5) + " in"
                } else {
                    write_decimal(apart.mm(), 4) + " mm"
                };
                self = self.with_text(Field::OfMain(number, MainField::Shift), text);
            }
        }
        // The first main has no place of its own; what stood there must not come back with it.
        for field in MainField::PLACE {
            self = self.with_usual(Field::OfMain(0, field));
        }
        self
    }

    /// Whether a field is seen: those of a main depend on its kind.
    #[must_use]
    pub fn uses(&self, field: Field) -> bool {
        let Field::OfMain(number, field) = field else {
            return true;
        };
        self.mains.get(number).is_some_and(|main| {
            field == MainField::Kind
                || (field == MainField::End && self.landing && main.kind.has_landing())
                || main.kind.fields().contains(&field)
                || (number > 0 && MainField::PLACE.contains(&field))
        })
    }

    /// A field's name on the page.
    #[must_use]
    pub fn name_of(&self, field: Field) -> &'static str {
        if field == Field::Turn && self.other_heel.is_some() {
            return "Heel from end A’s heel";
        }
        let kind = match field {
            Field::OfMain(main, _) => self.kind(main),
            _ => MainKind::default(),
        };
        field.name(kind)
    }

    /// Whether another form says something else, beyond what both ends of a piece have.
    #[must_use]
    pub fn differs(&self, other: &Self) -> bool {
        self.clone().sharing(other).in_front() != other.clone().in_front()
    }

    /// The first main that another form has differently, counted from 0: where to look after a
    /// step back.
    #[must_use]
    pub fn main_changed(&self, before: &Self) -> Option<usize> {
        (0..self.mains.len()).find(|main| self.mains.get(*main) != before.mains.get(*main))
    }

    /// The same form in another unit. A number typed without a unit gets the old one written
    /// behind it, so that its meaning stays; no size ever changes.
    #[must_use]
    pub fn in_unit(mut self, unit: Unit) -> Self {
        if self.unit.is_inch() != unit.is_inch() {
            let mark = if self.unit.is_inch() { "in" } else { "mm" };
            for field in Field::all().filter(|field| field.is_length()) {
                let typed = self.text(field).unwrap_or_default().trim().to_owned();
                if is_bare(&typed) {
                    self = self.with_text(field, format!("{typed} {mark}"));
                }
            }
        }
        self.unit = unit;
        self
    }

    fn slot(&mut self, field: Field) -> Option<&mut String> {
        Some(match field {
            Field::Branch => &mut self.branch,
            Field::Wall => &mut self.wall,
            Field::Gap => &mut self.gap,
            Field::Girth => &mut self.girth,
            Field::Turn => &mut self.turn,
            Field::Label => &mut self.label,
            Field::Template => &mut self.template,
            Field::Unit
            | Field::Mains
            | Field::OfMain(..)
            | Field::Cut
            | Field::Landing
            | Field::Paper => return None,
        })
    }
}

/// Degrees as one types them.
fn bare_degrees(angle: Angle) -> String {
    write_decimal(angle.deg(), 4)
}

/// Whether a number stands without a unit, so that changing the job's unit would change it. Zero
/// is zero in any unit.
pub(super) fn is_bare(text: &str) -> bool {
    // Everything that a number may consist of and no letter or mark that could be a unit.
    let number = |c: char| {
        c.is_numeric()
            || c.is_whitespace()
            || ".,/⁄∕+-−\u{2010}\u{2011}\u{2012}\u{2013}\u{2014}".contains(c)
    };
    text.chars().any(|c| c.is_numeric() && c != '0') && text.chars().all(number)
}
