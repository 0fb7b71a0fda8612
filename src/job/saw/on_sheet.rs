//! What the sheet of a template says about the saw: short, for one who stands at the machine.

use crate::piece::Template;
use crate::units::{Length, write_fixed, write_length};

use super::choice::Depth;
use super::facts::offset;
use super::plan::{EndPlan, Method};

/// The caption of the saw's speed.
pub const SPEED: &str = "Spindle speed";

/// The saw, its side, its depth and its speed, each with a caption; the grinder with what speaks
/// against the saws. Nothing where no saw is at hand. Angle and offset stand on the sheet anyway.
/// `template` is the one planned.
#[must_use]
pub fn saw_on_sheet(plan: &EndPlan, template: &Template) -> Vec<(&'static str, String)> {
    if plan.verdicts.is_empty() {
        return Vec::new();
    }
    let length = |length: Length| write_length(length, plan.unit);
    let way = plan.method.words();
    let mut lines = Vec::new();
    let Some(own) = plan
        .chosen_saw()
        .filter(|_| !matches!(plan.method, Method::Grinder | Method::StraightSaw))
    else {
        let why: Vec<String> = plan.why.iter().map(|why| why.sentence(plan.unit)).collect();
        let why = why.join(" ");
        lines.push(("Cut it with", format!("{way}. {why}").trim().to_owned()));
        return lines;
    };
    let saw = format!("{}, {}: {way}", own.saw.name, length(own.saw.diameter));
    lines.push(("Cut it with", saw));
    let (side, seen) = offset(plan, template);
    if seen.is_some() {
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
        let rpm = write_fixed((rpm / 5.0).round() * 5.0, 0);
        let speed = format!("about {rpm} turns a minute in {}", plan.material.name);
        lines.push((SPEED, speed));
    }
    lines
}
