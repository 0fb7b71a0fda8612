//! The predicted fit in words.

use crate::cope::fit::{Fit, ROUNDING as NOTHING, Slip, SlipKind};
use crate::cope::{Cope, CutMethod};
use crate::job::Draft;
use crate::job::fit::access::access_rows;
use crate::job::fit::costs::costs;
use crate::job::fit::touching::{first_touches, held_off_inside};
use crate::job::fit::{
    FitAsked, FitFact, FitField, FitProblem, angle_name, place, small, whole_degrees,
};
use crate::joint::{Dimension, JointError, Shape};
use crate::units::{Angle, Length, Unit, write_angle, write_length};

/// The prediction with its rows.
#[derive(Debug, Clone)]
pub struct FitReport {
    /// The fit itself, for drawing and 3D view.
    pub fit: Fit,
    /// The widest gap, where it is and whether it will do, in one sentence.
    pub verdict: String,
    /// Gaps at heel, sides and toe, contact, and what the limits say.
    pub gaps: Vec<FitFact>,
    /// What each slip costs at this joint, the dearest first.
    pub costs: Vec<FitFact>,
    /// The local dihedral angle, and where access is tight.
    pub access: Vec<FitFact>,
}

/// The turn from the heel at which the template's edge lies.
pub(super) fn zero(draft: &Draft) -> Angle {
    (-draft.template.heel_turn()).within_turn()
}

/// A slip that a main cannot have, beside the field it was typed in.
fn refused(error: &JointError, asked: &FitAsked, unit: Unit) -> FitProblem {
    let field = match error.dimension() {
        Dimension::Main | Dimension::BendRadius => FitField::Size,
        Dimension::Offset => FitField::Offset,
        _ => FitField::Angle,
    };
    let why = match (error, asked.size) {
        // What was typed is told, and that is wider than the main by what a saw leaves.
        (JointError::Size { is, range, .. }, Some(size)) => {
            let [min, max] = [range.min, range.max].map(|end| end + (size - *is));
            let [size, min, max] = [size, min, max].map(|length| write_length(length, unit));
            format!(
                "A saw or template for {size} is outside {min} to {max}. Check the number and its unit."
            )
        }
        (JointError::BendTight { is, .. }, Some(size)) => {
            let [size, is] = [size, *is].map(|length| write_length(length, unit));
            format!(
                "A saw or template for {size} is too large for a bend with a centre-line radius of {is}. \
                 Take a smaller one."
            )
        }
        _ => error.sentence(unit),
    };
    FitProblem {
        field,
        sentence: format!("With this slip there is no cut. {why}"),
    }
}

/// Predicts the fit of a draft.
///
/// # Errors
/// A slip that takes an angle or a diameter out of its range, or the cut off the tube altogether.
pub fn fit_report(draft: &Draft, asked: &FitAsked) -> Result<FitReport, FitProblem> {
    let (cope, unit) = (draft.template.cope(), draft.unit);
    let fit =
        Fit::new(cope, &asked.slip, zero(draft)).map_err(|error| refused(&error, asked, unit))?;
    if let Some(problem) = missed(draft, asked, &fit) {
        return Err(problem);
    }
    let mut rows = gaps(draft, asked, &fit);
    rows.push(reckoned_for(cope.method()));
    Ok(FitReport {
        verdict: verdict(draft, asked, &fit),
        gaps: rows,
        costs: costs(draft, asked.slip.main),
        access: access_rows(draft),
        fit,
    })
}

/// The way of cutting that the gaps are those of.
fn reckoned_for(method: CutMethod) -> FitFact {
    let (value, remark) = match method {
        CutMethod::Saw => (
            "a cut that follows the main",
            "ground along the line instead, the wall’s inside may hold it off: choose the grinder’s \
             line to have that reckoned",
        ),
        CutMethod::Square => ("the grinder, square to the wall", ""),
        CutMethod::Bore => ("the bore edge, bevelled after", ""),
    };
    FitFact::new("Reckoned for", value, remark)
}

/// A cut that reaches the tube nowhere, and by how much it misses it.
fn missed(draft: &Draft, asked: &FitAsked, fit: &Fit) -> Option<FitProblem> {
    let slip = &asked.slip;
    let mut seated = fit.gaps().iter().filter(|at| at.gap.is_some());
    // Without a slip the joint itself has been looked at.
    if slip.offset == Length::ZERO && slip.size == Length::ZERO || !seated.all(|at| at.trimmed) {
        return None;
    }
    let (joint, unit) = (draft.template.cope().joint(), draft.unit);
    let main = joint.mains().nth(slip.main)?;
    let offset = (main.offset() + slip.offset).abs();
    let by = match main.shape() {
        Shape::Round { radius } => {
            let reach = *radius + draft.template.cope().gap() + slip.size / 2.0;
            let by = offset - reach - joint.branch().outside_radius();
            format!(" by {}", small(by, unit))
        }
        _ => String::new(),
    };
    Some(FitProblem {
        field: if slip.offset == Length::ZERO {
            FitField::Size
        } else {
            FitField::Offset
        },
        sentence: format!(
            "The cut misses the tube altogether{by}: its axis is {} from the tube’s. Type a smaller \
             offset or a larger diameter.",
            small(offset, unit)
        ),
    })
}

/// What a gap means by the limits.
fn judged(gap: Length, asked: &FitAsked, unit: Unit) -> String {
    let limits = &asked.limits;
    let process = asked.process.name();
    match limits.band(gap) {
        0 => format!("tight: up to {}", small(limits.tight, unit)),
        1 => format!(
            "can be filled with {process}: up to {}",
            small(limits.most, unit)
        ),
        _ => {
            let over = small(gap - limits.most, unit);
            // What rounds to nothing is over all the same.
            let over = if over == small(Length::ZERO, unit) {
                String::from("just")
            } else {
                over
            };
            let most = small(limits.most, unit);
            format!("too wide for {process}: {over} over the {most} that can be filled")
        }
    }
}

fn verdict(draft: &Draft, asked: &FitAsked, fit: &Fit) -> String {
    let (widest, unit) = (fit.widest(), draft.unit);
    if widest.gap < NOTHING {
        let lands = fit.gaps().iter().all(|at| at.gap.is_some());
        return String::from(if lands {
            "It fits all round: no gap is left after it is pushed home."
        } else {
            "It fits where it lands on the main: no gap is left there. The rest passes beside it."
        });
    }
    let (what, then) = match asked.limits.band(widest.gap) {
        0 => ("It fits", ""),
        1 => ("It can be welded", ""),
        _ => ("As cut it gaps too wide", &*advice(draft, asked, fit)),
    };
    let usual = if asked.limits_refused {
        " These are the usual limits: those typed cannot be used."
    } else {
        ""
    };
    format!(
        "{what}: the widest gap is {} {}, {}.{usual}{then}",
        small(widest.gap, unit),
        place(draft, widest.turn),
        judged(widest.gap, asked, unit)
    )
}

/// What to do about a gap that is too wide, by what makes it.
fn advice(draft: &Draft, asked: &FitAsked, fit: &Fit) -> String {
    let (slip, method) = (&asked.slip, draft.template.cope().method());
    if *slip
        == (Slip {
            main: slip.main,
            ..Slip::NONE
        })
    {
        // A saw of the right size and a bevelled bore edge leave none.
        let inside = held_off_inside(draft, fit);
        let inside = inside.map_or_else(String::new, |edges| format!(" ({edges})"));
        return format!(
            " A cut square to the wall leaves that by itself: grind the inner edge away where it touches\
             {inside} until the gap closes, or choose another way of cutting."
        );
    }
    String::from(if method == CutMethod::Saw && slip.size != Length::ZERO {
        " Take a saw nearer the main’s diameter, or grind where it touches until it closes."
    } else {
        " Grind where it touches until it closes; what each error costs at this joint stands below."
    })
}

fn gap_row(name: String, gap: Length, place: &str, asked: &FitAsked, unit: Unit) -> FitFact {
    // No gap is nowhere.
    let value = if place.is_empty() || gap < NOTHING {
        small(gap, unit)
    } else {
        format!("{} {place}", small(gap, unit))
    };
    FitFact {
        band: Some(asked.limits.band(gap)),
        ..FitFact::new(name, value, judged(gap, asked, unit))
    }
}

fn gaps(draft: &Draft, asked: &FitAsked, fit: &Fit) -> Vec<FitFact> {
    let (cope, unit) = (draft.template.cope(), draft.unit);
    let widest = fit.widest();
    let mut rows = vec![gap_row(
        String::from("Widest gap"),
        widest.gap,
        &place(draft, widest.turn),
        asked,
        unit,
    )];
    for (name, quarter) in [("heel", 0.0), ("side", 1.0), ("toe", 2.0), ("side", 3.0)] {
        let from_heel = Angle::QUARTER * quarter;
        let turn = whole_degrees(from_heel + draft.template.heel_turn());
        let name = format!("Gap at the {name}, turn {turn}");
        rows.push(match fit.at(from_heel) {
            Some(gap) => gap_row(name, gap, "", asked, unit),
            None => FitFact::new(name, "none", "passes beside the main here"),
        });
    }
    if widest.gap >= NOTHING {
        rows.push(first_touches(draft, fit));
    }
    let advance = fit.advance();
    if advance.abs() >= NOTHING {
        let (value, remark) = if advance > Length::ZERO {
            (
                "farther in",
                "the joint centres come closer by this; it comes off the frame",
            )
        } else {
            (
                "stands off",
                "the joint centres stay apart by this; it adds to the frame",
            )
        };
        let value = format!("{} {value}", small(advance.abs(), unit));
        rows.push(FitFact::new("Sits, against the plan", value, remark));
    }
    let inside = fit
        .gaps()
        .iter()
        .filter_map(|at| at.bore.map(|gap| (at.turn, gap)))
        .reduce(|a, b| if b.1 > a.1 { b } else { a });
    if let Some((turn, gap)) = inside
        && cope.method() != CutMethod::Bore
        && gap >= NOTHING
    {
        let value = format!("{} {}", small(gap, unit), place(draft, turn));
        let remark = "the root, which the weld does not see";
        rows.push(FitFact::new(
            "Widest gap inside, at the bore",
            value,
            remark,
        ));
    }
    for (from, to) in fit.trimmed() {
        let turns = [from, to].map(|turn| whole_degrees(turn + draft.template.heel_turn()));
        rows.push(FitFact::new(
            "Not reached by the cut",
            format!("turn {} to {}", turns[0], turns[1]),
            "ears are left there; counted as trimmed level with the axis cut for, and better ground to \
             the printed line",
        ));
    }
    if cope.method() == CutMethod::Bore {
        rows.push(FitFact::new(
            "Judged at",
            "the bore edge",
            "the wall outside of it is bevelled away and left out",
        ));
    }
    if cope.gap() > Length::ZERO {
        rows.push(FitFact::new(
            "Root gap",
            small(cope.gap(), unit),
            "kept by a spacer; the gaps here come on top of it",
        ));
    }
    rows.push(FitFact::new(
        "Limits",
        format!(
            "tight {}, filled {}",
            small(asked.limits.tight, unit),
            small(asked.limits.most, unit)
        ),
        if asked.limits_refused {
            "the usual ones, for those typed cannot be used"
        } else if asked.usual_limits {
            "usual for the process: common practice, no source"
        } else {
            "yours"
        },
    ));
    rows.push(published(widest.gap, unit));
    rows
}

/// AWS D1.1 on root openings of fillet welds, as quoted in the forum of the American Welding
/// Society; not read in the standard itself.
fn published(widest: Length, unit: Unit) -> FitFact {
    let [longer, most] = [1.0, 3.0].map(|sixteenths| Length::from_inches(sixteenths / 16.0));
    let value = if widest > most {
        "wider than it allows"
    } else if widest > longer {
        "within it, with the leg longer by the gap"
    } else {
        "within it"
    };
    FitFact::new(
        "AWS D1.1, root opening",
        value,
        format!(
            "of a fillet weld at most {}; over {} the leg grows by the gap (as quoted second-hand: read your own \
             code); whether the angle allows a fillet stands below",
            small(most, unit),
            small(longer, unit)
        ),
    )
}

/// The widest gap for each way of cutting, and for an angle off by ½° and 1° either way, nothing
/// else being off.
#[must_use]
pub fn fit_what_ifs(draft: &Draft, asked: &FitAsked) -> Vec<FitFact> {
    let (cope, unit) = (draft.template.cope(), draft.unit);
    let row = |name: String, fit: &Fit| {
        let widest = fit.widest();
        gap_row(name, widest.gap, &place(draft, widest.turn), asked, unit)
    };
    let methods = CutMethod::ALL.into_iter().filter_map(|method| {
        let name = match method {
            CutMethod::Saw => "Saw follows the main",
            CutMethod::Square => "Cut square to the wall",
            CutMethod::Bore => "Bore edge seats",
        };
        let made = Cope::new(cope.joint(), method, cope.gap()).ok()?;
        let fit = Fit::new(&made, &Slip::NONE, zero(draft)).ok()?;
        Some(row(name.to_owned(), &fit))
    });
    let angle = angle_name(cope, asked.slip.main);
    let angles = [-1.0, -0.5, 0.5, 1.0].into_iter().map(|degrees| {
        let off = Angle::from_deg(degrees);
        let slip = SlipKind::Angle.slip(asked.slip.main, off.rad());
        let way = if degrees > 0.0 { "large" } else { "small" };
        let name = format!("{angle} {} too {way}", write_angle(off.abs()));
        match Fit::new(cope, &slip, zero(draft)) {
            Ok(fit) => row(name, &fit),
            Err(_) => FitFact::new(name, "no cut at this angle", ""),
        }
    });
    methods.chain(angles).collect()
}
