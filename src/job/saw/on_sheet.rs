//! What the sheet of a template says about the saw: short, for one who stands at the machine.

use crate::piece::Template;
use crate::stock::write_rpm;
use crate::units::{Length, write_angle, write_length, write_small};

use super::choice::Depth;
use super::facts::{ears_in_words, offset};
use super::plan::{EndPlan, Method};

/// The caption of the saw at hand, or the grinder where none of them will do.
pub const CUT_WITH: &str = "Cut it with";
/// The caption of the saw's speed.
pub const SPEED: &str = "Spindle speed";
/// The caption of a straight cut that must come before the saw.
pub const PRE_CUT_FIRST: &str = "Pre-cut first";
/// The caption of a straight cut that may be left.
pub const PRE_CUT: &str = "Pre-cut, if you like";

/// The saw, its side, its depth and its speed, each with a caption; the grinder with what speaks
/// against the saws. Nothing of them where no saw is at hand. Last comes the straight pre-cut, if
/// there is one. Angle and offset stand on the sheet anyway. `template` is the one planned.
#[must_use]
pub fn saw_on_sheet(plan: &EndPlan, template: &Template) -> Vec<(&'static str, String)> {
    let mut lines = if plan.verdicts.is_empty() {
        Vec::new()
    } else {
        at_hand(plan, template)
    };
    lines.extend(pre_cut(plan, template));
    lines
}

/// What is to be said about the saws at hand.
fn at_hand(plan: &EndPlan, template: &Template) -> Vec<(&'static str, String)> {
    let length = |length: Length| write_length(length, plan.unit);
    let way = plan.method.words();
    let mut lines = Vec::new();
    let Some(own) = plan
        .chosen_saw()
        .filter(|_| !matches!(plan.method, Method::Grinder | Method::StraightSaw))
    else {
        let why: Vec<String> = plan.why.iter().map(|why| why.sentence(plan.unit)).collect();
        let why = why.join(" ");
        lines.push((CUT_WITH, format!("{way}. {why}").trim().to_owned()));
        return lines;
    };
    let longer = plan.longer >= plan.unit.shown_step() / 2.0;
    let longer = longer.then(|| format!("blank {} longer", length(plan.longer)));
    let way = match longer {
        Some(longer) if plan.method == Method::SawAsItIs => format!("hole saw, {longer}"),
        Some(longer) => format!("{way}; {longer}"),
        None => way.to_owned(),
    };
    let mut saw = format!("{}, {}: {way}", own.saw.name, length(own.saw.diameter));
    // What counts as tight needs no words.
    if own.band > 0 {
        let gap = write_small(own.gap, plan.unit);
        saw.push_str(&format!("; leaves up to {gap} of gap"));
        if own.gap > plan.gap_most {
            saw.push_str(", too wide: grind where it touches");
        }
    }
    lines.push((CUT_WITH, saw));
    let (side, seen) = offset(plan, template);
    if seen.is_some() {
        let side = format!("{side}, seen from behind the saw, body upwards");
        lines.push(("Offset to dial in", side));
    }
    if let Some(reach) = plan.reach {
        let after = plan
            .reach_after
            .filter(|_| plan.method == Method::SawAfterPreCut);
        let needs = length(after.unwrap_or(reach).cup());
        let after = if after.is_some() {
            " after the pre-cut"
        } else {
            ""
        };
        let mut depth = match own.saw.depth {
            Some(has) => format!("{needs}{after}; the saw has {}", length(has)),
            None => format!("{needs}{after}"),
        };
        if let Depth::Bites(bites) = own.depth {
            depth.push_str(&format!(": {bites} bites"));
        }
        lines.push(("Depth it needs", depth));
    }
    if let Some(rpm) = plan.rpm {
        let rpm = write_rpm(rpm);
        let speed = format!("about {rpm} turns a minute in {}", plan.material.name);
        lines.push((SPEED, speed));
    }
    if let Some(ears) = plan.ears {
        let ears = format!("{} beside the saw", ears_in_words(&ears, plan.unit));
        lines.push(("To grind off after", ears));
    }
    lines
}

/// Where the straight cut goes.
fn pre_cut(plan: &EndPlan, template: &Template) -> Option<(&'static str, String)> {
    let cut = plan.pre_cut?;
    let outside = template.cope().joint().branch().outside();
    let deepest = template.mark_to_centre() - cut.deepest(outside);
    let where_to = format!(
        "{} off square, deepest {} from the mark line on line {}",
        write_angle(cut.off_square),
        write_length(deepest, plan.unit),
        write_angle((cut.towards + template.heel_turn()).within_turn())
    );
    let caption = if plan.pre_cut_is_wanted() {
        PRE_CUT_FIRST
    } else {
        PRE_CUT
    };
    Some((caption, where_to))
}
