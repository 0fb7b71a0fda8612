//! Setting up the saw for the end that the sketch shows, and both ends beside each other.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, fill_cells, html};
use crate::app::workshop::hand::at_hand;
use crate::cope::CutMethod;
use crate::job::saw::{
    EndPlan, PRE_CUT_CLEARANCE, SawCaution, SawFact, between_ends, plan_end, read_tools, saw_facts,
    side_by_side, verdicts_in_words,
};
use crate::job::{AtHand, Draft, PieceDraft};
use crate::piece::Side;
use crate::units::Length;

/// Diameter of the saw at hand that would cut an end, where there is one for it.
pub fn chosen_diameter(own: &AtHand, draft: &Draft) -> Option<Length> {
    if own.saws.is_empty() || draft.template.cope().method() != CutMethod::Saw {
        return None;
    }
    let (tools, _) = read_tools(own, draft.unit);
    let template = &draft.template;
    let plan = plan_end(
        template,
        Side::A,
        None,
        draft.unit,
        &tools,
        PRE_CUT_CLEARANCE,
    );
    plan.chosen_saw().map(|verdict| verdict.saw.diameter)
}

/// The plan of the end that the sketch shows, in words.
#[derive(Clone, PartialEq, Default)]
struct Planned {
    facts: Vec<SawFact>,
    saws: Vec<SawFact>,
    cautions: Vec<String>,
    /// The settings of both ends.
    both: Vec<Vec<String>>,
    between: Option<String>,
}

/// Facts, saws, cautions.
pub fn saw() -> El {
    let bench = bench();
    let own = at_hand();
    let planned = Memo::new(move |_| {
        let Some(draft) = bench.draft.get() else {
            return Planned::default();
        };
        let (tools, _) = own.with(|own| read_tools(own, draft.unit));
        let piece = bench.piece.with(|piece| match piece {
            Some(Ok(piece)) => Some(Arc::clone(piece)),
            _ => None,
        });
        let side = bench.end();
        let of = |side: Side| -> Option<EndPlan> {
            let piece: &PieceDraft = piece.as_deref()?;
            let template = piece.piece.end(side).template()?;
            let clearance = PRE_CUT_CLEARANCE;
            Some(plan_end(
                template,
                side,
                Some(piece),
                draft.unit,
                &tools,
                clearance,
            ))
        };
        let (own, template) = match piece
            .as_ref()
            .and_then(|piece| piece.piece.end(side).template())
        {
            Some(template) => (of(side), template),
            None => (
                Some(plan_end(
                    &draft.template,
                    side,
                    None,
                    draft.unit,
                    &tools,
                    PRE_CUT_CLEARANCE,
                )),
                &draft.template,
            ),
        };
        let Some(plan) = own else {
            return Planned::default();
        };
        let facts = saw_facts(&plan, template);
        let saws = verdicts_in_words(&plan);
        let cautions = SawCaution::of(&plan);
        let cautions = cautions
            .iter()
            .map(|caution| caution.sentence(&plan, draft.unit))
            .collect();
        let mut both = Vec::new();
        let mut between = None;
        if let Some(piece) = &piece {
            let other = of(side.other());
            let plans = if side == Side::A {
                [Some(plan), other]
            } else {
                [other, Some(plan)]
            };
            both = side_by_side(&plans, piece)
                .into_iter()
                .map(|row| {
                    let [a, b] = row.ends;
                    vec![row.label.to_owned(), a, b]
                })
                .collect();
            between = between_ends(piece).filter(|_| !both.is_empty());
        }
        Planned {
            facts,
            saws,
            cautions,
            both,
            between,
        }
    });
    let rows = |facts: &[SawFact]| -> Vec<Vec<String>> {
        let row = |fact: &SawFact| {
            let remark = fact.remark.clone().unwrap_or_default();
            vec![fact.label.clone(), fact.value.clone(), remark]
        };
        facts.iter().map(row).collect()
    };
    let facts = move || planned.with(|planned| rows(&planned.facts));
    let saws = move || planned.with(|planned| rows(&planned.saws));
    let cautions = move || {
        planned.with(|planned| {
            let cautions = planned.cautions.iter();
            cautions.map(|caution| vec![caution.clone()]).collect()
        })
    };
    let has_saws = move || planned.with(|planned| !planned.saws.is_empty());
    let has_both = move || planned.with(|planned| !planned.both.is_empty());
    let list = || html(r#"<dl class="remarked"></dl>"#);
    const ROW: &str = r#"<div><dt></dt><dd></dd><dd class="remark"></dd></div>"#;
    html(r#"<section class="checks" aria-labelledby="saw-head"><h2 id="saw-head">Set up the saw</h2></section>"#)
        .class_of("stale", move || !bench.is_current())
        .child(list().rows_of(ROW, fill_cells, facts))
        .when(has_both, move || {
            let head = html(
                r#"<table class="sides"><thead><tr><th scope="col">Set</th><th scope="col">End A</th><th scope="col">End B</th></tr></thead></table>"#,
            );
            head.child(html("<tbody></tbody>").rows_of(
                r#"<tr><th scope="row"></th><td></td><td></td></tr>"#,
                fill_cells,
                move || planned.with(|planned| planned.both.clone()),
            ))
        })
        .child(html(r#"<p class="remark"></p>"#).text_of(move || {
            planned.with(|planned| planned.between.clone().unwrap_or_default())
        }))
        .when(has_saws, move || {
            html("<div></div>")
                .child(html("<h3>Saws at hand</h3>"))
                .child(list().rows_of(ROW, fill_cells, saws))
        })
        .child(html(r#"<div class="cautions" aria-live="polite"></div>"#).rows_of(
            r#"<p class="caution"><b>Caution. </b><span></span></p>"#,
            fill_cells,
            cautions,
        ))
}
