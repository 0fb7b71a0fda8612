//! Setting up the saw for the end that the sketch shows, and both ends beside each other.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Bench, Cutting, bench};
use crate::app::dom::{El, fill_cells, follow, html};
use crate::app::workshop::hand::at_hand;
use crate::cope::CutMethod;
use crate::job::AtHand;
use crate::job::saw::{
    EndPlan, Method, PRE_CUT_CLEARANCE, SawCaution, SawFact, between_ends, first_end, plan_end,
    plan_ends, pre_cut_on_paper, read_clearance, read_tools, saw_facts, saw_on_sheet, side_by_side,
    verdicts_in_words,
};
use crate::piece::Side;
use crate::units::Length;

/// Everything about cutting the ends, found when the hands rest: it takes too long for a keystroke.
#[derive(Clone, PartialEq, Default)]
struct Planned {
    facts: Vec<SawFact>,
    saws: Vec<SawFact>,
    cautions: Vec<String>,
    /// The settings of both ends.
    both: Vec<Vec<String>>,
    between: Option<String>,
}

/// The plans of the ends of the piece on the bench; copies are handles to the same signals.
#[derive(Clone, Copy)]
pub struct Plans {
    planned: RwSignal<Planned>,
    /// Diameter of the saw at hand for the end that the sketch shows.
    pub saw: RwSignal<Option<Length>>,
}

impl Plans {
    /// Plans that follow the bench.
    pub fn keep(bench: Bench) -> Self {
        let own = at_hand();
        let plans = Self {
            planned: RwSignal::new(Planned::default()),
            saw: RwSignal::new(None),
        };
        let opened = StoredValue::new(false);
        follow(move || {
            bench.rest.track();
            // The page is shown before they are found.
            if opened.get_value() {
                plans.find(bench, &own.get_untracked());
            }
            opened.set_value(true);
        });
        plans
    }

    fn find(self, bench: Bench, own: &AtHand) {
        let Some(draft) = bench.draft.get_untracked() else {
            return;
        };
        let (tools, _) = read_tools(own, draft.unit);
        let clearance = read_clearance(&own.clearance, draft.unit).unwrap_or(PRE_CUT_CLEARANCE);
        let piece = bench.piece.with_untracked(|piece| match piece {
            Some(Ok(piece)) => Some(Arc::clone(piece)),
            _ => None,
        });
        let side = untrack(move || bench.end());
        let plans: [Option<EndPlan>; 2] = match &piece {
            Some(piece) => plan_ends(piece, &tools, clearance),
            None => {
                let plan = plan_end(&draft.template, side, None, draft.unit, &tools, clearance);
                let mut plans = [None, None];
                plans[side.index()] = Some(plan);
                plans
            }
        };
        let template = |side: Side| match &piece {
            Some(piece) => piece.piece.end(side).template(),
            None => Some(&draft.template),
        };
        let cutting = Side::BOTH.map(|side| {
            let plan = plans[side.index()].as_ref()?;
            let template = template(side)?;
            let line = pre_cut_on_paper(template, plan);
            Some(Arc::new(Cutting {
                template: template.clone().with_pre_cut(line),
                saw: saw_on_sheet(plan, template),
            }))
        });
        if bench.cutting.with_untracked(|known| *known != cutting) {
            bench.cutting.set(cutting);
        }
        let mut planned = Planned::default();
        if let (Some(plan), Some(template)) = (&plans[side.index()], template(side)) {
            planned.facts = saw_facts(plan, template);
            planned.saws = verdicts_in_words(plan);
            let cautions = SawCaution::of(plan);
            let told = cautions.iter();
            planned.cautions = told
                .map(|caution| caution.sentence(plan, draft.unit))
                .collect();
            let sawn = plan.method != Method::Grinder;
            let chosen = plan.chosen_saw().filter(|_| sawn);
            let chosen = chosen.map(|verdict| verdict.saw.diameter);
            let by_saw = template.cope().method() == CutMethod::Saw;
            let saw = chosen.filter(|_| by_saw);
            if self.saw.with_untracked(|known| *known != saw) {
                self.saw.set(saw);
            }
        }
        if let Some(piece) = &piece {
            let rows = side_by_side(&plans, piece).into_iter();
            planned.both = rows
                .map(|row| {
                    let [a, b] = row.ends;
                    vec![row.label.to_owned(), a, b]
                })
                .collect();
            planned.between = first_end(&plans).and_then(|first| between_ends(piece, first));
        }
        self.planned.set(planned);
    }
}

/// Facts, saws, cautions.
pub fn saw() -> El {
    let bench = bench();
    let Some(Plans { planned, .. }) = use_context::<Plans>() else {
        return html("<div></div>");
    };
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
