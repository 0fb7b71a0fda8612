//! The form read: a template to draw, or every reason why not.

use crate::cope::{Cope, CutMethod};
use crate::job::caution::{self, Caution};
use crate::job::{Field, Typed};
use crate::joint::{Joint, JointError, Main, RoundTube, check_angle};
use crate::piece::{GIRTH_LIMIT, THICKNESS_MAX, Template, Wrap};
use crate::stock::Paper;
use crate::units::{Angle, Length, Unit, read_angle, read_length, write_length};

/// Why a field cannot be used, in one or two sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The field at fault.
    pub field: Field,
    /// What is wrong, by how much, and what to do.
    pub sentence: String,
}

/// A joint that can be drawn and printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The unit that results are written in.
    pub unit: Unit,
    /// What the template is called; may be empty.
    pub label: String,
    /// Paper it is printed on.
    pub paper: Paper,
    /// The template.
    pub template: Template,
    /// What the user should know before cutting.
    pub cautions: Vec<Caution>,
}

/// Reads the form.
///
/// # Errors
/// Every field that cannot be used, in form order.
pub fn read(typed: &Typed) -> Result<Draft, Vec<Problem>> {
    let mut reader = Reader {
        typed,
        problems: Vec::new(),
    };
    let branch = reader.length(Field::Branch);
    let wall = reader.length(Field::Wall);
    let main = reader.length(Field::Main);
    let angle = reader.angle(Field::Angle);
    let offset = reader.length_or(Field::Offset, Length::ZERO);
    let gap = reader.length_or(Field::Gap, Length::ZERO);
    let girth = reader.optional_length(Field::Girth);
    let turn = reader.turn();
    let thickness = reader.thickness();
    let mut problems = reader.problems;

    let refused = |problems: &mut Vec<Problem>, error: JointError| {
        let field = Field::from(error.dimension());
        if !problems.iter().any(|problem| problem.field == field) {
            problems.push(Problem {
                field,
                sentence: error.sentence(typed.unit),
            });
        }
    };
    let tube = match (branch, wall) {
        (Some(branch), Some(wall)) => RoundTube::new(branch, wall)
            .map_err(|error| refused(&mut problems, error))
            .ok(),
        _ => None,
    };
    if let Some(Err(error)) = angle.map(check_angle) {
        refused(&mut problems, error);
    }
    if let (Some(main), Some(angle)) = (main, angle) {
        let checked = Main::round(main, angle, offset.unwrap_or_default());
        if let Err(error) = checked {
            refused(&mut problems, error);
        }
    }
    if let (Some(Some(girth)), Some(branch)) = (girth, branch) {
        problems.extend(doubtful_girth(girth, branch, typed.unit));
    }
    let cope = match (tube, main, angle, offset, gap) {
        (Some(tube), Some(main), Some(angle), Some(offset), Some(gap)) => {
            Joint::round(tube, main, angle, offset)
                .and_then(|joint| Cope::new(&joint, typed.cut, gap))
                .map_err(|error| refused(&mut problems, error))
                .ok()
        }
        _ => None,
    };
    match (cope, branch, girth, turn, thickness) {
        (Some(cope), Some(branch), Some(girth), Some(turn), Some(thickness))
            if problems.is_empty() =>
        {
            let wrap = girth.map_or_else(|| Wrap::computed(branch, thickness), Wrap::measured);
            let template = Template::new(cope, wrap, turn, mark_step(typed.unit));
            Ok(Draft {
                unit: typed.unit,
                label: typed
                    .text(Field::Label)
                    .unwrap_or_default()
                    .trim()
                    .to_owned(),
                paper: typed.paper,
                cautions: caution::about(&template),
                template,
            })
        }
        _ => {
            let of = |field| {
                problems
                    .iter()
                    .filter(move |problem| problem.field == field)
            };
            Err(Field::ALL.into_iter().flat_map(of).cloned().collect())
        }
    }
}

/// Reads the form, with the usual number in place of each that cannot be used.
#[must_use]
pub fn read_what_can_be(typed: &Typed) -> (Option<Draft>, Vec<Problem>) {
    let mut mended = typed.clone();
    let mut first: Option<Vec<Problem>> = None;
    // Each round mends at least one field, so as many rounds as fields always end it.
    for _ in Field::ALL {
        match read(&mended) {
            Ok(draft) => return (Some(draft), first.unwrap_or_default()),
            Err(problems) => {
                for problem in &problems {
                    mended = mended.with_usual(problem.field);
                }
                first.get_or_insert(problems);
            }
        }
    }
    let usual = Typed::usual(typed.unit);
    (read(&usual).ok(), first.unwrap_or_default())
}

/// A mark is put a whole number of these from the long point, easy to find on a tape.
fn mark_step(unit: Unit) -> Length {
    match unit {
        Unit::Millimetre => Length::from_mm(10.0),
        Unit::Inch | Unit::Fraction(_) => Length::from_inches(0.5),
    }
}

/// A circumference that cannot belong to the branch; most often the diameter was typed.
fn doubtful_girth(girth: Length, branch: Length, unit: Unit) -> Option<Problem> {
    let expected = Wrap::computed(branch, Length::ZERO).width();
    let off = (girth / expected - 1.0).abs();
    (off.is_nan() || off > GIRTH_LIMIT).then(|| Problem {
        field: Field::Girth,
        sentence: format!(
            "A circumference of {} does not go with a diameter of {}, which is {} round. Measure \
             once round the tube with a strip of paper, or leave this empty.",
            write_length(girth, unit),
            write_length(branch, unit),
            write_length(expected, unit),
        ),
    })
}

/// Reads single fields and collects what is wrong with them.
struct Reader<'a> {
    typed: &'a Typed,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    fn text(&self, field: Field) -> &str {
        self.typed.text(field).unwrap_or_default().trim()
    }

    fn refuse<T>(&mut self, field: Field, sentence: String) -> Option<T> {
        self.problems.push(Problem { field, sentence });
        None
    }

    /// A length that must be there.
    fn length(&mut self, field: Field) -> Option<Length> {
        match read_length(self.text(field), self.typed.unit) {
            Ok(length) => Some(length),
            Err(error) => self.refuse(field, error.to_string()),
        }
    }

    /// A length that counts as `empty` when nothing is typed.
    fn length_or(&mut self, field: Field, empty: Length) -> Option<Length> {
        if self.text(field).is_empty() {
            Some(empty)
        } else {
            self.length(field)
        }
    }

    /// A length that may be missing: `Some(None)` when nothing is typed.
    fn optional_length(&mut self, field: Field) -> Option<Option<Length>> {
        if self.text(field).is_empty() {
            Some(None)
        } else {
            self.length(field).map(Some)
        }
    }

    fn angle(&mut self, field: Field) -> Option<Angle> {
        match read_angle(self.text(field)) {
            Ok(angle) => Some(angle),
            Err(error) => self.refuse(field, error.to_string()),
        }
    }

    fn turn(&mut self) -> Option<Angle> {
        if self.text(Field::Turn).is_empty() {
            return Some(Angle::ZERO);
        }
        let turn = self.angle(Field::Turn)?;
        if turn.abs() <= Angle::FULL + Angle::from_deg(1e-9) {
            return Some(turn);
        }
        let sentence = format!(
            "A turn of {} is more than once round. Type −360° to 360°; {} is the same place.",
            crate::units::write_angle(turn),
            crate::units::write_angle(turn.within_turn()),
        );
        self.refuse(Field::Turn, sentence)
    }

    fn thickness(&mut self) -> Option<Length> {
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
        self.refuse(Field::Template, sentence)
    }
}

/// The method of a link value, and the value of a method.
pub(super) const METHODS: [(&str, CutMethod); 3] = [
    ("saw", CutMethod::Saw),
    ("square", CutMethod::Square),
    ("bore", CutMethod::Bore),
];
