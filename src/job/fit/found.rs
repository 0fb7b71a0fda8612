//! Found wrong after the cut: what explains the gaps seen, and what to grind where, in words.

use crate::cope::fit::{Cause, Fit, READABLE, Seen, Verdict, diagnose};
use crate::job::Draft;
use crate::job::fit::{FitAsked, FitFact, place, slip_in_words, small, whole_degrees};
use crate::units::{Angle, Length, Unit};

/// The answer to gaps seen.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundWrong {
    /// What explains them, or that nothing does.
    pub sentence: String,
    /// What to look at before the next cut; empty for a clean one.
    pub advice: String,
    /// Gaps the explanation makes beside those seen.
    pub compared: Vec<FitFact>,
    /// What to take off where.
    pub grind: Vec<FitFact>,
}

const NAMES: [&str; 4] = ["heel", "side", "toe", "side"];

/// What the gaps seen say about a draft; `None` where none was typed.
#[must_use]
pub fn found_wrong(draft: &Draft, asked: &FitAsked) -> Option<FoundWrong> {
    let seen = asked.seen?;
    let (cope, unit) = (draft.template.cope(), draft.unit);
    let zero = (-draft.template.heel_turn()).within_turn();
    let number = asked.slip.main;
    let main = cope.mains().get(number)?;
    let found = diagnose(cope, &seen, number, zero);
    let readable = small(READABLE, unit);
    if found.verdict == Verdict::Clean {
        return Some(FoundWrong {
            sentence: format!(
                "The cut is clean: these are the gaps of a true cut, as far as they can be read ({readable})."
            ),
            advice: String::new(),
            compared: compared(draft, &found.plain, &seen),
            grind: Vec::new(),
        });
    }
    let told = |cause: &Cause| slip_in_words(cause.kind, cause.amount, main, unit);
    if let [best, others @ ..] = found.explanations() {
        let mut sentence = format!(
            "One slip explains what you see: {}. It leaves {} on average of what was read.",
            told(best),
            small(best.off, unit)
        );
        if !others.is_empty() {
            let others: Vec<String> = others.iter().map(told).collect();
            sentence.push_str(&format!(
                " As well explained by {}: check both before you change anything.",
                others.join("; or by ")
            ));
        }
        let slip = best.kind.slip(number, best.amount);
        let fit = Fit::new(cope, &slip, zero).ok()?;
        let grind = fit.grind(asked.limits.tight);
        let at = |quarter: f64| grind.near(Angle::QUARTER * quarter);
        return Some(FoundWrong {
            sentence,
            advice: advice(best),
            compared: compared(draft, &best.makes, &seen),
            grind: grind_rows(
                draft,
                [at(0.0), at(1.0), at(2.0), at(3.0)],
                Some((grind.most.turn, grind.most.gap)),
                grind.shorter,
            ),
        });
    }
    let best = found.causes.first().map_or_else(String::new, |best| {
        format!(
            " The nearest, {}, still leaves {} on average.",
            told(best),
            small(best.off, unit)
        )
    });
    let (off, shorter) = by_eye(draft, &seen, &found.plain, asked.limits.tight);
    Some(FoundWrong {
        sentence: format!("No single slip explains these gaps.{best}"),
        advice: String::from(
            "Look for a burr, the seam of a welded tube, an oval or bent tube, scale under the joint, or \
             two slips at once; then measure the gaps again. What to grind is told from the gaps alone.",
        ),
        compared: compared(draft, &found.plain, &seen),
        grind: grind_rows(draft, off, None, shorter),
    })
}

/// What to look at before the next cut.
fn advice(cause: &Cause) -> String {
    use crate::cope::fit::SlipKind;
    let what = match cause.kind {
        SlipKind::Angle => "Check the angle finder and the machine's scale on a square piece.",
        SlipKind::Size => "Measure the saw over its teeth in a test cut, and the main itself.",
        SlipKind::Turn => "Check that the template's zero line lay on the scribed line.",
        SlipKind::Offset => "Check that the saw's centre is level with the tube's.",
        SlipKind::Scale => "Measure the ruler on the sheet.",
    };
    what.to_owned()
}

/// Gaps a cut makes, beside those seen.
fn compared(draft: &Draft, makes: &[Option<Length>; 4], seen: &Seen) -> Vec<FitFact> {
    let unit = draft.unit;
    let quarters = [0.0, 1.0, 2.0, 3.0];
    NAMES
        .into_iter()
        .zip(quarters)
        .zip(makes.iter().zip(seen.in_turn()))
        .map(|((name, quarter), (makes, seen))| {
            let turn = draft.template.heel_turn() + Angle::QUARTER * quarter;
            let name = format!("At the {name}, turn {}", whole_degrees(turn));
            let value = makes.map_or_else(
                || String::from("beside the main"),
                |gap| format!("makes {}", small(gap, unit)),
            );
            FitFact::new(name, value, format!("seen {}", small(seen, unit)))
        })
        .collect()
}

/// What to take off at heel, sides and toe by the gaps alone: each as deep along the branch as its
/// gap is less than the widest, but for what may stay open. The gap along the main's normal n is
/// n_z of that along the branch. What a true cut leaves open, the groove of a square one, does not
/// count.
fn by_eye(
    draft: &Draft,
    seen: &Seen,
    plain: &[Option<Length>; 4],
    tight: Length,
) -> ([Length; 4], Length) {
    let cope = draft.template.cope();
    let radius = cope.joint().branch().outside_radius();
    let along = [0.0, 1.0, 2.0, 3.0].map(|quarter| {
        let turn = Angle::QUARTER * quarter;
        let (sin, cos) = turn.rad().sin_cos();
        let height = cope.trace(radius, turn)?;
        let place = [radius.mm() * cos, radius.mm() * sin, height.mm()];
        let nearest = cope.mains().iter().map(|main| main.nearest(place));
        let on = nearest.reduce(|a, b| if b.distance < a.distance { b } else { a })?;
        // Where the main falls away upright nothing along the branch closes the gap.
        (on.normal[2] > 0.2).then_some(1.0 / on.normal[2])
    });
    let mut gaps = seen.in_turn();
    for (gap, plain) in gaps.iter_mut().zip(plain) {
        *gap = (*gap - plain.unwrap_or(Length::ZERO)).max(Length::ZERO);
    }
    let mut push = Length::ZERO;
    for (along, gap) in along.iter().zip(gaps) {
        if let Some(along) = along {
            push = push.max((gap - tight).max(Length::ZERO) * *along);
        }
    }
    let mut off = [Length::ZERO; 4];
    for ((off, along), gap) in off.iter_mut().zip(along).zip(gaps) {
        if let Some(along) = along {
            *off = (push - gap * along).max(Length::ZERO);
        }
    }
    (off, push)
}

fn grind_rows(
    draft: &Draft,
    off: [Length; 4],
    most: Option<(Angle, Length)>,
    shorter: Length,
) -> Vec<FitFact> {
    /// Less is not ground.
    const LEAST: Length = Length::from_mm(0.05);
    let unit: Unit = draft.unit;
    let mut rows = Vec::new();
    if let Some((turn, gap)) = most
        && gap >= LEAST
    {
        rows.push(FitFact::new(
            "Grind most",
            format!("{} {}", small(gap, unit), place(draft, turn)),
            "along the tube, running out to nothing where it says 0",
        ));
    }
    for ((name, off), quarter) in NAMES.into_iter().zip(off).zip([0.0, 1.0, 2.0, 3.0]) {
        let turn = draft.template.heel_turn() + Angle::QUARTER * quarter;
        let value = if off >= LEAST {
            small(off, unit)
        } else {
            String::from("leave it")
        };
        rows.push(FitFact::new(
            format!("Grind at the {name}, turn {}", whole_degrees(turn)),
            value,
            "",
        ));
    }
    if shorter >= LEAST {
        rows.push(FitFact::new(
            "The piece then sits farther in by",
            small(shorter, unit),
            "check that the length allows it; otherwise fill, or cut the piece anew",
        ));
    }
    rows
}
