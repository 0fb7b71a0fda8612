//! The local dihedral angle, and where a welder gets in badly, in words.

use crate::cope::fit::{Access, AccessArc, access, dihedral};
use crate::job::Draft;
use crate::job::fit::{FitFact, whole_degrees};
use crate::units::{Angle, write_angle};

/// What is tight about an arc, for whoever welds it, and what the code calls it; nothing for one
/// that an ordinary fillet does for.
const fn tightness(access: Access) -> Option<[&'static str; 2]> {
    match access {
        Access::None => Some([
            "so sharp that a torch does not reach the root: have the joint designed",
            "below 15°, no prequalified detail",
        ]),
        Access::Root => Some([
            "so sharp that the root stays out of reach: build the weld up from outside",
            "15° to 30°, not prequalified as a fillet; detail D only",
        ]),
        Access::Tight => Some([
            "too sharp for an ordinary fillet and tight for the torch’s cup: weld it as a groove, from the root up",
            "30° to 60°, not prequalified as a fillet; details B, C",
        ]),
        Access::Open => Some([
            "too open for an ordinary fillet: bevel the edge and weld it as a groove",
            "over 120°, not prequalified as a fillet; details A, B",
        ]),
        Access::Fillet => None,
    }
}

pub(super) fn access_rows(draft: &Draft) -> Vec<FitFact> {
    let cope = draft.template.cope();
    let heel = draft.template.heel_turn();
    let mut rows = Vec::new();
    for (name, quarter) in [("heel", 0.0), ("side", 1.0), ("toe", 2.0), ("side", 3.0)] {
        let from_heel = Angle::QUARTER * quarter;
        if let Some(psi) = dihedral(cope, from_heel) {
            let turn = whole_degrees(from_heel + heel);
            rows.push(FitFact::new(
                format!("Local dihedral angle at the {name}, turn {turn}"),
                write_angle(Angle::from_deg((psi.deg() * 10.0).round() / 10.0)),
                "",
            ));
        }
    }
    let arcs: Vec<AccessArc> = access(cope);
    for arc in &arcs {
        let Some([what, code]) = tightness(arc.access) else {
            continue;
        };
        let all_round = (arc.to - arc.from).deg() > 359.9;
        let value = if all_round {
            String::from("all round")
        } else {
            let [from, to] = [arc.from, arc.to].map(|turn| whole_degrees(turn + heel));
            format!("turn {from} to {to}")
        };
        let name = if arc.access == Access::Open {
            "Too open for a fillet"
        } else {
            "Access tight"
        };
        let [least, most] = [arc.least, arc.most].map(whole_degrees);
        let here = if least == most {
            least
        } else {
            format!("{least} to {most}")
        };
        let remark = format!("{here} here: {what} (AWS D1.1 for tubes, from memory: {code})");
        rows.push(FitFact::new(name, value, remark));
    }
    rows
}
