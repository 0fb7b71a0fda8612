//! What is said of each saw at hand for an end.

use crate::units::{Length, write_length, write_small};

use super::choice::{Depth, Verdict};
use super::facts::{SawFact, some};
use super::plan::{EndPlan, Method};

/// Every saw at hand with what speaks for or against it.
#[must_use]
pub fn verdicts_in_words(plan: &EndPlan) -> Vec<SawFact> {
    let row = |(place, verdict): (usize, &Verdict)| SawFact {
        label: verdict.saw.name.clone(),
        value: String::from(match plan.method {
            _ if !verdict.fits && verdict.gap > Length::ZERO && verdict.gap <= plan.gap_most => {
                "if you fill the gap"
            }
            _ if !verdict.is_right() => "not here",
            // Best or not.
            _ if verdict.gap > plan.gap_most => "only with grinding after",
            // Something else than the saws speaks against a saw.
            Method::Grinder => "of the right size",
            _ if plan.chosen == Some(place) => "best here",
            _ => "would do",
        }),
        remark: some(verdict_in_words(verdict, plan)),
    };
    plan.verdicts.iter().enumerate().map(row).collect()
}

pub(super) fn verdict_in_words(verdict: &Verdict, plan: &EndPlan) -> String {
    let length = |length: Length| write_length(length, plan.unit);
    let mut said = Vec::new();
    let off = verdict.larger.abs();
    if off < plan.unit.shown_step() / 2.0 {
        said.push(String::from("Its diameter is the one wanted."));
    } else {
        let gap = if verdict.gap < plan.unit.shown_step() / 2.0 {
            String::new()
        } else {
            let gap = write_small(verdict.gap, plan.unit);
            let over = if verdict.gap <= plan.gap_most {
                String::new()
            } else {
                let most = write_small(plan.gap_most, plan.unit);
                format!(". That is more than the {most} that can be filled: grind where it touches")
            };
            format!(": leaves up to {gap} of gap{over}")
        };
        said.push(format!(
            "{} {} than the {} wanted{gap}.",
            length(off),
            if verdict.larger > Length::ZERO {
                "larger"
            } else {
                "smaller"
            },
            length(plan.wanted.unwrap_or_default())
        ));
    }
    let needs = verdict.reach.map(|reach| reach.cup()).unwrap_or_default();
    let needs = if matches!(verdict.depth, Depth::Bites(_)) {
        verdict.needs
    } else {
        needs
    };
    let depth = verdict.saw.depth.unwrap_or_default();
    match verdict.depth {
        Depth::Beside(by) => said.push(format!(
            "It does not reach the tube: {} beside it.",
            length(by)
        )),
        Depth::Enough | Depth::Unknown => {}
        Depth::After(_) => said.push(format!(
            "{} too shallow for the square blank, deep enough after a pre-cut.",
            length(needs - depth)
        )),
        Depth::Bites(bites) => said.push(format!(
            "{} too shallow: {bites} bites.",
            length(needs - depth)
        )),
    }
    if let (Some(left), Some(life)) = (verdict.saw.cuts_left(), verdict.saw.life) {
        said.push(if verdict.worn {
            format!(
                "{left} of its {life} cuts left, {} needed: have a new one ready.",
                verdict.needed
            )
        } else {
            format!("{left} of its {life} cuts left.")
        });
    }
    said.join(" ")
}
