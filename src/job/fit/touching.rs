//! Where an end first touches, and which edge of its wall holds it off, in words.

use crate::cope::fit::{Fit, Touch};
use crate::job::Draft;
use crate::job::fit::found::NAMES;
use crate::job::fit::{FitFact, place, whole_degrees};
use crate::units::Angle;

const QUARTERS: [f64; 4] = [0.0, 1.0, 2.0, 3.0];

/// What of the wall touches, in a word or two.
const fn edge(touch: Touch) -> &'static str {
    match (touch.outside, touch.bore) {
        (true, true) => "whole wall",
        (true, false) => "outside edge",
        (false, true) => "bore edge",
        (false, false) => "middle of the wall",
    }
}

/// Texts as one: with commas, and `and` before the last.
pub(super) fn listed(texts: &[String]) -> String {
    match texts {
        [] => String::new(),
        [only] => only.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// The quarters at which something touches, each with what does.
fn quarters(fit: &Fit) -> Vec<(usize, &'static str)> {
    let at = |quarter: &f64| fit.touch(Angle::QUARTER * *quarter).map(edge);
    let touches = QUARTERS.iter().map(at).enumerate();
    touches
        .filter_map(|(quarter, edge)| Some((quarter, edge?)))
        .collect()
}

/// Quarters by name: the two sides as one where both are there.
fn named(draft: &Draft, quarters: &[usize]) -> String {
    let sides = quarters.contains(&1) && quarters.contains(&3);
    let names = quarters.iter().filter_map(|quarter| {
        Some(match (quarter, sides) {
            (1, true) => String::from("at the sides"),
            (3, true) => return None,
            (1 | 3, false) => place(draft, Angle::QUARTER * QUARTERS[*quarter]),
            _ => format!("at the {}", NAMES[*quarter]),
        })
    });
    listed(&names.collect::<Vec<_>>())
}

/// What touches where, round the quarters.
fn edges(draft: &Draft, touches: &[(usize, &'static str)]) -> String {
    let mut told: Vec<(&str, Vec<usize>)> = Vec::new();
    for (quarter, edge) in touches {
        match told.iter_mut().find(|(known, _)| known == edge) {
            Some((_, at)) => at.push(*quarter),
            None => told.push((edge, vec![*quarter])),
        }
    }
    let parts = told
        .iter()
        .map(|(edge, at)| format!("{edge} {}", named(draft, at)));
    parts.collect::<Vec<_>>().join("; ")
}

/// Where the bore's edge or the middle of the wall holds off an end whose outside stays open.
pub(super) fn held_off_inside(draft: &Draft, fit: &Fit) -> Option<String> {
    let mut inside = quarters(fit);
    inside.retain(|(_, what)| !["whole wall", "outside edge"].contains(what));
    (!inside.is_empty()).then(|| edges(draft, &inside))
}

/// Where it first touches: every place that does so at once, and what of the wall.
pub(super) fn first_touches(draft: &Draft, fit: &Fit) -> FitFact {
    /// A stretch wider than this is told by its ends.
    const WIDE: Angle = Angle::from_deg(45.0);
    let arcs = fit.touching();
    let all_round = |(from, to): &(Angle, Angle)| (*to - *from).deg() > 359.9;
    if arcs.iter().any(all_round) {
        let lands = fit.gaps().iter().all(|at| at.gap.is_some());
        let value = if lands {
            "all round"
        } else {
            "wherever it comes down on the main"
        };
        return FitFact::new("First touches", value, edges(draft, &quarters(fit)));
    }
    let mut places: Vec<String> = Vec::new();
    let mut parts: Vec<&str> = Vec::new();
    for (from, to) in arcs {
        let middle = (from + to) * 0.5;
        let told = if to - from > WIDE {
            let [from, to] =
                [from, to].map(|turn| whole_degrees(turn + draft.template.heel_turn()));
            format!("turn {from} to {to}")
        } else {
            place(draft, middle)
        };
        if places.contains(&told) {
            continue;
        }
        places.push(told);
        let touch = fit.touch(middle).or_else(|| fit.touch(fit.contact().turn));
        parts.extend(touch.map(edge));
    }
    let same = parts.windows(2).all(|pair| pair[0] == pair[1]);
    let remark = match parts.first() {
        Some(part) if same && part.ends_with("edge") => format!("{part} of the wall"),
        Some(part) if same => String::from(*part),
        _ => parts.join(", "),
    };
    FitFact::new("First touches", listed(&places), remark)
}
