//! The form read: a template to draw, or every reason why not.

use crate::cope::{Cope, CutMethod};
use crate::job::caution::{self, Caution};
use crate::job::reader::Reader;
use crate::job::seat::read_main;
use crate::job::{Field, MainField, MainKind, Typed};
use crate::joint::{GAP_MAX, Joint, Main, RoundTube};
use crate::piece::{GIRTH_LIMIT, Landing, NoLanding, Template, Wrap};
use crate::stock::Paper;
use crate::units::{Angle, Length, Unit, write_length};

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
    /// The templates for the mains, if they are wanted, or why there is none for one.
    pub landings: Vec<Result<Landing, NoLanding>>,
    /// What the user should know before cutting.
    pub cautions: Vec<Caution>,
}

impl Draft {
    /// Whether it has the mains that a form asks for, in kind and number.
    #[must_use]
    pub fn is_of(&self, typed: &Typed) -> bool {
        let mains = self.template.cope().joint().mains();
        mains
            .map(|main| MainKind::of(main.shape()))
            .eq(typed.kinds())
    }
}

/// Reads the form.
///
/// # Errors
/// Every field that cannot be used, in form order.
pub fn read(typed: &Typed) -> Result<Draft, Vec<Problem>> {
    let mut reader = Reader::new(typed);
    let branch = reader.length(Field::Branch);
    let wall = reader.length(Field::Wall);
    let mains: Vec<Option<Main>> = (0..typed.mains())
        .map(|number| read_main(&mut reader, number))
        .collect();
    let gap = reader.length_or(Field::Gap, Length::ZERO);
    let girth = reader.optional_length(Field::Girth);
    let turn = reader.turn();
    let thickness = reader.thickness();
    let ends: Vec<Option<Length>> = (0..typed.mains())
        .map(|number| end_of_main(&mut reader, number))
        .collect();

    let tube = match (branch, wall) {
        (Some(branch), Some(wall)) => reader.taken(0, RoundTube::new(branch, wall)),
        _ => None,
    };
    if let (Some(Some(girth)), Some(branch)) = (girth, branch)
        && let Some(sentence) = doubtful_girth(girth, branch, typed.unit)
    {
        reader.refuse(Field::Girth, sentence);
    }
    let cope = match (tube, gap) {
        (Some(tube), Some(gap)) => cope(&mut reader, &tube, &mains, gap),
        _ => None,
    };
    match (cope, branch, girth, turn, thickness) {
        (Some(cope), Some(branch), Some(girth), Some(turn), Some(thickness))
            if reader.problems().is_empty() =>
        {
            let wrap = girth.map_or_else(|| Wrap::computed(branch, thickness), Wrap::measured);
            let landings = landings(&cope, turn, thickness, &ends, typed);
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
                landings,
            })
        }
        _ => {
            let problems = reader.problems();
            let of = |field| {
                problems
                    .iter()
                    .filter(move |problem| problem.field == field)
            };
            Err(Field::all().flat_map(of).cloned().collect())
        }
    }
}

/// Distance of the joint centre from the main's end, if it is asked for and given.
fn end_of_main(reader: &mut Reader, number: usize) -> Option<Length> {
    let field = Field::OfMain(number, MainField::End);
    if !reader.typed().uses(field) {
        return None;
    }
    let end = reader.optional_length(field)??;
    if end < Length::ZERO {
        let sentence = format!(
            "{} would lie beyond the main’s end. Type the distance from the end on the toe side to \
             the joint centre, or leave this empty.",
            write_length(end, reader.typed().unit)
        );
        reader.refuse(field, sentence);
    }
    Some(end)
}

/// The templates for the mains, as far as they are wanted.
fn landings(
    cope: &Cope,
    turn: Angle,
    thickness: Length,
    ends: &[Option<Length>],
    typed: &Typed,
) -> Vec<Result<Landing, NoLanding>> {
    if !typed.landing {
        return Vec::new();
    }
    let step = mark_step(typed.unit);
    ends.iter()
        .enumerate()
        .map(|(number, end)| {
            let landing = Landing::new(cope.joint(), number, turn, thickness)?;
            Ok(landing.marked(*end, step))
        })
        .collect()
}

/// The cut line, when every main is there and can be reached.
fn cope(
    reader: &mut Reader,
    tube: &RoundTube,
    mains: &[Option<Main>],
    gap: Length,
) -> Option<Cope> {
    let gap_fits = gap >= Length::ZERO && gap <= GAP_MAX;
    // Each main by itself first, so that a refusal finds the main it is about.
    let mut all_fit = true;
    for (number, main) in mains.iter().enumerate() {
        let Some(main) = main else { continue };
        let alone = Joint::new(*tube, main.clone());
        all_fit &= reader.taken(number, alone).is_some();
        if gap_fits {
            all_fit &= reader.taken(number, main.grown(gap)).is_some();
        }
    }
    if !all_fit {
        return None;
    }
    let mut all = mains.iter().cloned();
    let first = all.next()??;
    let mut joint = Joint::new(*tube, first).ok()?;
    for main in all {
        joint = joint.and(main?).ok()?;
    }
    reader.taken(0, Cope::new(&joint, reader.typed().cut, gap))
}

/// Reads the form, with the usual number in place of each that cannot be used.
#[must_use]
pub fn read_what_can_be(typed: &Typed) -> (Option<Draft>, Vec<Problem>) {
    let mut mended = typed.clone();
    let mut first: Option<Vec<Problem>> = None;
    // Each round mends at least one field, so as many rounds as fields always end it.
    for _ in Field::all() {
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
    let usual = read(&typed.with_usual_numbers()).or_else(|_| read(&Typed::usual(typed.unit)));
    (usual.ok(), first.unwrap_or_default())
}

/// A mark is put a whole number of these from the long point, easy to find on a tape.
fn mark_step(unit: Unit) -> Length {
    match unit {
        Unit::Millimetre => Length::from_mm(10.0),
        Unit::Inch | Unit::Fraction(_) => Length::from_inches(0.5),
    }
}

/// A circumference that cannot belong to the branch; most often the diameter was typed.
fn doubtful_girth(girth: Length, branch: Length, unit: Unit) -> Option<String> {
    let expected = Wrap::computed(branch, Length::ZERO).width();
    let off = (girth / expected - 1.0).abs();
    (off.is_nan() || off > GIRTH_LIMIT).then(|| {
        format!(
            "A circumference of {} does not go with a diameter of {}, which is {} round. Measure \
             once round the tube with a strip of paper, or leave this empty.",
            write_length(girth, unit),
            write_length(branch, unit),
            write_length(expected, unit),
        )
    })
}

/// The method of a link value, and the value of a method.
pub(super) const METHODS: [(&str, CutMethod); 3] = [
    ("saw", CutMethod::Saw),
    ("square", CutMethod::Square),
    ("bore", CutMethod::Bore),
];
