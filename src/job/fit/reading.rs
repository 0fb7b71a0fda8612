//! What is asked about a fit, read from what is typed.

use crate::cope::CutMethod;
use crate::cope::fit::{Limits, ROUNDING, Seen, Slip, lands};
use crate::job::fit::{FitField, FitTyped, Process, small};
use crate::job::{Draft, Ruler};
use crate::joint::{Main, Shape};
use crate::units::{Angle, Length, Unit, read_angle, read_length, write_length};

/// Why a field cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitProblem {
    /// The field at fault.
    pub field: FitField,
    /// What is wrong, by how much, and what to do.
    pub sentence: String,
}

/// What is asked about a fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitAsked {
    /// What is off.
    pub slip: Slip,
    /// The diameter of saw or template as typed, where it was.
    pub size: Option<Length>,
    /// What counts as tight and as too wide.
    pub limits: Limits,
    /// How it will be welded.
    pub process: Process,
    /// Whether the limits are the usual ones of the process.
    pub usual_limits: bool,
    /// Whether they stand in for typed ones that cannot be used.
    pub limits_refused: bool,
    /// The gaps seen, once all are typed that the tube can have; where it passes beside there is
    /// none to see, and it counts as none.
    pub seen: Option<Seen>,
    /// Which gaps are still to be measured, in the order of [`FitField::SEEN`], where some are
    /// typed: an empty field says nothing, not that it touches.
    pub missing: [bool; 4],
}

/// Most that an angle or a turn may be off.
const ANGLE_MOST: Angle = Angle::from_deg(30.0);
/// Most that a print may be off, as a part of it; beyond it another ruler was measured.
const PRINT_MOST: f64 = 0.1;

struct Reader<'a> {
    typed: &'a FitTyped,
    unit: Unit,
    problems: Vec<FitProblem>,
}

impl Reader<'_> {
    fn refuse(&mut self, field: FitField, sentence: String) {
        self.problems.push(FitProblem { field, sentence });
    }

    /// A length, or `None` where nothing or nothing readable stands.
    fn length(&mut self, field: FitField) -> Option<Length> {
        let text = self.typed.text(field).trim();
        if text.is_empty() {
            return None;
        }
        read_length(text, self.unit)
            .map_err(|error| self.refuse(field, format!("{error}.")))
            .ok()
    }

    fn angle(&mut self, field: FitField) -> Angle {
        let text = self.typed.text(field).trim();
        if text.is_empty() {
            return Angle::ZERO;
        }
        match read_angle(text) {
            Ok(angle) if angle.abs() <= ANGLE_MOST => angle,
            Ok(angle) => {
                self.refuse(
                    field,
                    format!(
                        "{} is too far off to fit at all; give at most 30° either way.",
                        crate::units::write_angle(angle)
                    ),
                );
                Angle::ZERO
            }
            Err(error) => {
                self.refuse(field, format!("{error}."));
                Angle::ZERO
            }
        }
    }

    /// A gap: a length not below 0.
    fn gap(&mut self, field: FitField) -> Option<Length> {
        let gap = self.length(field)?;
        if gap < Length::ZERO {
            let is = write_length(gap, self.unit);
            self.refuse(
                field,
                format!("A gap cannot be {is}; give 0 where it touches."),
            );
            return None;
        }
        Some(gap)
    }

    /// The limits, and whether they are the usual ones: nothing is typed, or what is cannot be used.
    fn limits(&mut self) -> (Limits, bool) {
        let (before, unit) = (self.problems.len(), self.unit);
        let usual = self.typed.process.usual();
        let (tight, most) = (self.gap(FitField::Tight), self.gap(FitField::Most));
        let limits = Limits {
            tight: tight.unwrap_or(usual.tight),
            most: most.unwrap_or(usual.most),
        };
        if limits.most < ROUNDING {
            self.refuse(
                FitField::Most,
                format!(
                    "No cut closes to {} everywhere; give the widest gap that you can fill, such as {}.",
                    write_length(limits.most, unit),
                    small(usual.most, unit)
                ),
            );
        } else if limits.tight > limits.most {
            // Named beside the field that was typed.
            let field = if most.is_some() {
                FitField::Most
            } else {
                FitField::Tight
            };
            self.refuse(
                field,
                format!(
                    "Tight up to {} is more than filled up to {}; make the second one larger.",
                    write_length(limits.tight, unit),
                    write_length(limits.most, unit)
                ),
            );
        }
        if self.problems.len() > before {
            (usual, true)
        } else {
            (limits, tight.is_none() && most.is_none())
        }
    }
}

/// The limits as typed; the usual ones where nothing is, or what is typed cannot be used.
#[must_use]
pub fn read_limits(typed: &FitTyped, unit: Unit) -> Limits {
    let mut reader = Reader {
        typed,
        unit,
        problems: Vec::new(),
    };
    reader.limits().0
}

/// The outside diameter of a main that has one to cut for.
fn diameter(main: &Main) -> Option<Length> {
    match main.shape() {
        Shape::Round { radius } | Shape::Bent { radius, .. } => Some(*radius * 2.0),
        _ => None,
    }
}

/// Reads what is asked about the fit of a draft.
///
/// # Errors
/// Every field that cannot be used, in form order.
pub fn read_fit(typed: &FitTyped, draft: &Draft) -> Result<FitAsked, Vec<FitProblem>> {
    match read_fit_in_part(typed, draft) {
        (Some(asked), problems) if problems.is_empty() => Ok(asked),
        (_, problems) => Err(problems),
    }
}

/// Reads what can be read: a gap seen that is none keeps nobody from predicting, nor do limits that
/// no cut keeps, in whose place the usual ones stand. With every field that cannot be used, in form
/// order.
#[must_use]
pub fn read_fit_in_part(typed: &FitTyped, draft: &Draft) -> (Option<FitAsked>, Vec<FitProblem>) {
    let unit = draft.unit;
    let mut reader = Reader {
        typed,
        unit,
        problems: Vec::new(),
    };
    let joint = draft.template.cope().joint();
    let count = joint.mains().count();
    let number = typed.main.min(count - 1);
    let mut slip = Slip {
        main: number,
        ..Slip::NONE
    };
    let mut known = None;
    if let Some(main) = joint.mains().nth(number) {
        // A field that this main does not have is left alone, whatever stands in it.
        if let Some(diameter) = diameter(main)
            && let Some(size) = reader.length(FitField::Size)
        {
            // A saw of the wanted diameter leaves the root gap; a template is made for a main, and
            // leaves it by itself.
            let cope = draft.template.cope();
            let wanted = match cope.method() {
                CutMethod::Saw => diameter + cope.gap() * 2.0,
                CutMethod::Square | CutMethod::Bore => diameter,
            };
            slip.size = size - wanted;
            known = Some(size);
        }
        if !main.is_plane() {
            slip.offset = reader.length(FitField::Offset).unwrap_or(Length::ZERO);
        }
    }
    slip.angle = reader.angle(FitField::Angle);
    slip.turn = reader.angle(FitField::Turn);
    let ruler = if unit.is_inch() {
        Ruler::Inches
    } else {
        Ruler::Millimetres
    };
    if let Some(printed) = reader.length(FitField::Printed) {
        let scale = printed / ruler.length();
        // A tenth as typed is none after the division.
        if (scale - 1.0).abs() <= PRINT_MOST + 1e-9 {
            slip.scale = scale;
        } else {
            reader.refuse(
                FitField::Printed,
                format!(
                    "{} is more than a tenth off the {} ruler; measure that one from end to end.",
                    write_length(printed, unit),
                    ruler.name()
                ),
            );
        }
    }
    let before_limits = reader.problems.len();
    let (limits, usual_limits) = reader.limits();
    let before = reader.problems.len();
    let limits_refused = before > before_limits;
    let tube = joint.branch().outside();
    let mut from_heel = Angle::ZERO;
    let gaps = FitField::SEEN.map(|field| {
        let turn = from_heel;
        from_heel = turn + Angle::QUARTER;
        let gap = reader.gap(field)?;
        if gap > Length::ZERO && !lands(draft.template.cope(), turn) {
            reader.refuse(
                field,
                String::from("The tube passes beside the main here, so there is no gap; leave this empty."),
            );
            return None;
        }
        if gap > tube {
            let (is, tube) = (write_length(gap, unit), write_length(tube, unit));
            reader.refuse(
                field,
                format!("{is} is more than the tube is wide ({tube}); push the end home and measure again."),
            );
            return None;
        }
        Some(gap)
    });
    let all_read = reader.problems.len() == before;
    let mut missing = [false; 4];
    if all_read && gaps.iter().any(Option::is_some) {
        let mut turn = Angle::ZERO;
        for (missing, gap) in missing.iter_mut().zip(&gaps) {
            *missing = gap.is_none() && lands(draft.template.cope(), turn);
            turn = turn + Angle::QUARTER;
        }
    }
    let whole = all_read && gaps.iter().any(Option::is_some) && !missing.contains(&true);
    let seen = whole.then(|| {
        let [heel, plus, toe, minus] = gaps.map(|gap| gap.unwrap_or(Length::ZERO));
        Seen {
            heel,
            plus,
            toe,
            minus,
        }
    });
    let asked = (before_limits == 0).then_some(FitAsked {
        slip,
        size: known,
        limits,
        process: typed.process,
        usual_limits,
        limits_refused,
        seen,
        missing,
    });
    (asked, reader.problems)
}
