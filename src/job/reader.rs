//! Reads single fields and collects what is wrong with them.

use crate::job::{Field, Problem, Typed};
use crate::joint::JointError;
use crate::piece::{Side, THICKNESS_MAX};
use crate::units::{Angle, Length, read_angle, read_length, write_angle, write_length};

/// The form being read.
pub(super) struct Reader<'a> {
    typed: &'a Typed,
    problems: Vec<Problem>,
}

impl<'a> Reader<'a> {
    pub(super) const fn new(typed: &'a Typed) -> Self {
        Self {
            typed,
            problems: Vec::new(),
        }
    }

    pub(super) const fn typed(&self) -> &'a Typed {
        self.typed
    }

    /// What was wrong so far; one sentence a field.
    pub(super) fn problems(&self) -> &[Problem] {
        &self.problems
    }

    pub(super) fn text(&self, field: Field) -> &'a str {
        self.typed.text(field).unwrap_or_default().trim()
    }

    /// Notes what is wrong with a field; the first sentence about it stays.
    pub(super) fn refuse(&mut self, field: Field, sentence: String) {
        if self.problems.iter().any(|problem| problem.field == field) {
            return;
        }
        let sentence = match field {
            Field::OfMain(main, _) if self.typed.mains() > 1 => {
                format!("Main {}: {sentence}", main + 1)
            }
            _ => sentence,
        };
        self.problems.push(Problem { field, sentence });
    }

    /// What could be made of a main, or its refusal noted beside the dimension at fault.
    pub(super) fn taken<T>(&mut self, main: usize, made: Result<T, JointError>) -> Option<T> {
        made.map_err(|error| {
            let field = Field::of(error.dimension(), main);
            self.refuse(field, error.sentence(self.typed.unit));
        })
        .ok()
    }

    /// A length that must be there.
    pub(super) fn length(&mut self, field: Field) -> Option<Length> {
        match read_length(self.text(field), self.typed.unit) {
            Ok(length) => Some(length),
            Err(error) => {
                self.refuse(field, error.to_string());
                None
            }
        }
    }

    /// A length that counts as `empty` when nothing is typed.
    pub(super) fn length_or(&mut self, field: Field, empty: Length) -> Option<Length> {
        if self.text(field).is_empty() {
            Some(empty)
        } else {
            self.length(field)
        }
    }

    /// A length that may be missing: `Some(None)` when nothing is typed.
    pub(super) fn optional_length(&mut self, field: Field) -> Option<Option<Length>> {
        if self.text(field).is_empty() {
            Some(None)
        } else {
            self.length(field).map(Some)
        }
    }

    pub(super) fn angle(&mut self, field: Field) -> Option<Angle> {
        match read_angle(self.text(field)) {
            Ok(angle) => Some(angle),
            Err(error) => {
                self.refuse(field, error.to_string());
                None
            }
        }
    }

    /// An angle that counts as 0 when nothing is typed.
    pub(super) fn angle_or_zero(&mut self, field: Field) -> Option<Angle> {
        if self.text(field).is_empty() {
            Some(Angle::ZERO)
        } else {
            self.angle(field)
        }
    }

    /// Turn of the heel from the zero line, as this end's own template counts it.
    pub(super) fn turn(&mut self) -> Option<Angle> {
        let typed = self.typed_turn()?;
        Some(match self.typed.other_heel() {
            None => typed,
            Some(heel) => Side::B.own_turn(heel + typed),
        })
    }

    fn typed_turn(&mut self) -> Option<Angle> {
        if self.text(Field::Turn).is_empty() {
            return Some(Angle::ZERO);
        }
        let turn = self.angle(Field::Turn)?;
        if turn.abs() <= Angle::FULL + Angle::from_deg(1e-9) {
            return Some(turn);
        }
        let sentence = format!(
            "A turn of {} is more than once round. Type −360° to 360°; {} is the same place.",
            write_angle(turn),
            write_angle(turn.within_turn()),
        );
        self.refuse(Field::Turn, sentence);
        None
    }

    pub(super) fn thickness(&mut self) -> Option<Length> {
        let usual = crate::stock::SHEET_THICKNESS;
        let thickness = self.length_or(Field::Template, usual)?;
        if thickness >= Length::ZERO && thickness <= THICKNESS_MAX {
            return Some(thickness);
        }
        let sentence = format!(
            "A template {} thick does not wrap round a tube true to size. Type 0 to {}; copy paper \
             is {}.",
            write_length(thickness, self.typed.unit),
            write_length(THICKNESS_MAX, self.typed.unit),
            write_length(usual, self.typed.unit),
        );
        self.refuse(Field::Template, sentence);
        None
    }
}
