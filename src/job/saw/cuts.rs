//! The cuts of a piece for the run list, so that ends with equal settings run together.

use crate::job::shop::{Cut, CutNotes, Saw};
use crate::job::{AtHand, Draft, PieceDraft};
use crate::piece::Side;
use crate::units::Length;

use super::choice::Depth;
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
    let own = plan
        .chosen_saw()
        .filter(|_| matches!(plan.saw, Saw::Hole(_)));
    let first = plan.method == Method::SawAfterPreCut;
    let notes = CutNotes {
        saw: own.map_or_else(String::new, |own| own.saw.name.clone()),
        rpm: plan.rpm,
        bites: own.and_then(|own| match own.depth {
            Depth::Bites(bites) => Some(bites),
            _ => None,
        }),
        pre_cut: plan.pre_cut.filter(|_| first).map(|cut| cut.off_square),
    };
    Cut {
        piece: name.to_owned(),
        end: plan.side,
        saw: plan.saw,
        setting: plan.setting,
        count: usize::try_from(count).unwrap_or(usize::MAX),
        notes,
    }
}
