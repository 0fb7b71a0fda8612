//! Setting up the saw for an end: depths and straight cuts against an independent solid modeller,
//! closed forms and properties; what is typed about saws; the plan in words; cuts for the run list.
#![cfg(not(target_arch = "wasm32"))]
#![allow(
    clippy::disallowed_methods,
    reason = "a test may panic on crossed limits"
)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod beside_line;
mod closed_form;
mod plan;
mod pre_cut;
mod reference;
mod shop;
mod sizes;
mod tools;

use copewright::cope::{Cope, CutMethod};
use copewright::job::saw::{EndPlan, PRE_CUT_CLEARANCE, SawFact, plan_end, read_tools};
use copewright::job::{AtHand, Draft, PieceDraft, SawTyped, open_form, read, read_piece};
use copewright::joint::{Joint, Main, RoundTube};
use copewright::piece::Side;
use copewright::units::{Angle, Length};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

/// A round branch on a round main: outside diameter, wall, the main's diameter.
pub fn round(sizes: [f64; 3], angle: f64, offset: f64, gap: f64) -> Cope {
    let [outside, wall, main] = sizes;
    let tube = RoundTube::new(mm(outside), mm(wall)).unwrap();
    let main = Main::round(mm(main), deg(angle), mm(offset)).unwrap();
    let joint = Joint::new(tube, main).unwrap();
    Cope::new(&joint, CutMethod::Saw, mm(gap)).unwrap()
}

pub fn end(link: &str) -> Draft {
    let opened = open_form(&format!("v=1&unit=mm&{link}"));
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    read(&opened.form.end(Side::A)).unwrap_or_else(|problems| panic!("{link}: {problems:?}"))
}

pub fn piece(link: &str) -> PieceDraft {
    let opened = open_form(&format!("v=1&unit=mm&piece=yes&{link}"));
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    let form = opened.form;
    let drafts: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
    read_piece(&form, [drafts[0].as_ref(), drafts[1].as_ref()])
        .unwrap_or_else(|problems| panic!("{link}: {problems:?}"))
}

pub fn saw(name: &str, diameter: &str, depth: &str) -> SawTyped {
    SawTyped {
        name: name.into(),
        diameter: diameter.into(),
        depth: depth.into(),
        ..SawTyped::default()
    }
}

pub fn saws(saws: &[SawTyped]) -> AtHand {
    AtHand {
        saws: saws.to_vec(),
        ..AtHand::default()
    }
}

pub fn plan(draft: &Draft, at_hand: &AtHand) -> EndPlan {
    let (tools, problems) = read_tools(at_hand, draft.unit);
    assert!(problems.is_empty(), "{problems:?}");
    let template = &draft.template;
    plan_end(
        template,
        Side::A,
        None,
        draft.unit,
        &tools,
        PRE_CUT_CLEARANCE,
    )
}

pub fn why(plan: &EndPlan) -> String {
    let sentences: Vec<String> = plan.why.iter().map(|why| why.sentence(plan.unit)).collect();
    sentences.join(" ")
}

pub fn row<'a>(facts: &'a [SawFact], label: &str) -> &'a SawFact {
    facts
        .iter()
        .find(|fact| fact.label == label)
        .unwrap_or_else(|| panic!("{label}: {facts:?}"))
}
