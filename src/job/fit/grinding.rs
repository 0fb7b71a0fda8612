//! What to grind where, in rows.

use crate::cope::fit::Seen;
use crate::job::Draft;
use crate::job::fit::found::NAMES;
use crate::job::fit::{FitFact, place, small, whole_degrees};
use crate::units::{Angle, Length, Unit};

/// What to take off at heel, sides and toe by the gaps alone: each as deep along the branch as its
/// gap is less than the widest, but for what may stay open. The gap along the main's normal n is
/// n_z of that along the branch. What a true cut leaves open, the groove of a square one, does not
/// count.
pub(super) fn by_eye(
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

pub(super) fn grind_rows(
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
