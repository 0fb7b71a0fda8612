//! The cuts of a piece for the run list, so that ends with equal settings run together.

use crate::job::shop::{Cut, Saw};
use crate::job::{AtHand, Draft, PieceDraft};
use crate::piece::Side;
use crate::units::{Length, write_angle};

use super::choice::Depth;
use super::facts::write_turns;
use super::plan::{EndPlan, Method, plan_end, plan_ends};
use super::tools::read_tools;

/// The cuts of a piece's coped ends, each as the plan advises; what is typed about the saws and
/// cannot be read counts as not typed.
#[must_use]
pub fn shop_cuts(name: &str, piece: &PieceDraft, at_hand: &AtHand, clearance: Length) -> Vec<Cut> {
    let (tools, _) = read_tools(at_hand, piece.unit);
    let plans = plan_ends(piece, &tools, clearance);
    planned_cuts(name, &plans, piece.count)
}

/// The cuts of ends that are planned already, `count` of each.
#[must_use]
pub fn planned_cuts(name: &str, plans: &[Option<EndPlan>; 2], count: u32) -> Vec<Cut> {
    let cut = |plan: &EndPlan| cut_of(name, plan, count);
    plans.iter().flatten().map(cut).collect()
}

/// The cut of an end alone.
#[must_use]
pub fn shop_cut(name: &str, draft: &Draft, at_hand: &AtHand, clearance: Length) -> Cut {
    let (tools, _) = read_tools(at_hand, draft.unit);
    let template = &draft.template;
    let plan = plan_end(template, Side::A, None, draft.unit, &tools, clearance);
    cut_of(name, &plan, 1)
}

fn cut_of(name: &str, plan: &EndPlan, count: u32) -> Cut {
    Cut {
        piece: name.to_owned(),
        end: plan.side,
        saw: plan.saw,
        setting: plan.setting,
        count: usize::try_from(count).unwrap_or(usize::MAX),
        tool: tool(plan),
        note: note(plan),
    }
}

/// The saw by its owner's name, and its speed.
fn tool(plan: &EndPlan) -> String {
    if !matches!(plan.saw, Saw::Hole(_)) {
        return String::new();
    }
    let name = plan.chosen_saw().map(|own| own.saw.name.clone());
    let speed = plan.rpm.map(|rpm| {
        let rpm = write_turns(rpm);
        format!("about {rpm} turns a minute in {}", plan.material.name)
    });
    let known: Vec<String> = name.into_iter().chain(speed).collect();
    known.join(", ")
}

/// The straight cut before the saw, and in how many bites it goes through.
fn note(plan: &EndPlan) -> String {
    let before = plan
        .pre_cut
        .filter(|_| plan.method == Method::SawAfterPreCut)
        .map(|cut| format!("straight pre-cut {} first", write_angle(cut.off_square)));
    let bites = plan.chosen_saw().and_then(|own| match own.depth {
        Depth::Bites(bites) => Some(format!("{bites} bites")),
        _ => None,
    });
    let bites = bites.filter(|_| matches!(plan.saw, Saw::Hole(_)));
    let known: Vec<String> = before.into_iter().chain(bites).collect();
    known.join(", ")
}
