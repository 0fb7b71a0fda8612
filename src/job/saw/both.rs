//! Both ends of a piece: their settings beside each other, and how the tube is handled between them.

use crate::job::PieceDraft;
use crate::piece::Side;
use crate::units::{Angle, write_angle, write_length};

use super::facts::offset;
use super::plan::{EndPlan, Method};

/// One setting of both ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SideBySide {
    /// What is set.
    pub label: &'static str,
    /// End A's and end B's.
    pub ends: [String; 2],
}

/// The settings of both ends beside each other, where both are coped.
#[must_use]
pub fn side_by_side(plans: &[Option<EndPlan>; 2], piece: &PieceDraft) -> Vec<SideBySide> {
    let [Some(a), Some(b)] = plans else {
        return Vec::new();
    };
    let of = |plan: &EndPlan| -> Vec<(&'static str, String)> {
        let Some(template) = piece.piece.end(plan.side).template() else {
            return Vec::new();
        };
        let grinder = plan.method == Method::Grinder;
        let set = |text: String| if grinder { String::from("–") } else { text };
        let saw = match (plan.wanted, plan.chosen_saw()) {
            _ if grinder => String::from("–"),
            (_, Some(own)) => own.saw.name.clone(),
            (Some(wanted), None) => write_length(wanted, plan.unit),
            (None, None) => String::from("straight saw"),
        };
        let dialled = match plan.wanted {
            Some(_) => offset(plan, template).0,
            None => String::from("–"),
        };
        let goes_in = match first_end(plans) {
            None => "–",
            Some(side) if side == plan.side => "first",
            Some(_) => "second",
        };
        vec![
            ("Cut with", plan.method.words().to_owned()),
            ("Goes in", goes_in.to_owned()),
            ("Saw", saw),
            ("Off square", set(write_angle(plan.off_square))),
            ("Offset", set(dialled)),
            (
                "Heel, away from the saw",
                format!("line {}", write_angle(template.heel_turn())),
            ),
            (
                "Depth needed",
                set(plan.reach.map_or_else(
                    || String::from("–"),
                    |reach| write_length(reach.cup(), plan.unit),
                )),
            ),
            (
                "Pre-cut",
                plan.pre_cut.map_or_else(
                    || String::from("none"),
                    |cut| {
                        let angle = write_angle(cut.off_square);
                        let like = if plan.pre_cut_is_wanted() {
                            ""
                        } else {
                            ", if you like"
                        };
                        format!("{angle} off square{like}")
                    },
                ),
            ),
        ]
    };
    let pairs = of(a).into_iter().zip(of(b));
    pairs
        .map(|((label, a), (_, b))| SideBySide {
            label,
            ends: [a, b],
        })
        .collect()
}

/// Which end is cut first where both are cut by a machine: end A, unless end B's clamp would then
/// hold on its cut. `None` where an end is not, or not coped.
#[must_use]
pub fn first_end(plans: &[Option<EndPlan>; 2]) -> Option<Side> {
    let [Some(a), Some(b)] = plans else {
        return None;
    };
    if [a, b].iter().any(|plan| plan.method == Method::Grinder) {
        return None;
    }
    let only_b = b.room.on_other_cut.is_some() && a.room.on_other_cut.is_none();
    Some(if only_b { Side::B } else { Side::A })
}

/// How the tube is handled from the end that is cut first to the other, with the room that takes;
/// `None` unless both are coped.
///
/// The line towards the saw is that of the toe. Turned end for end with that line kept towards the
/// saw, the tube is rolled until the other end's toe is there.
#[must_use]
pub fn between_ends(piece: &PieceDraft, first: Side) -> Option<String> {
    let between = piece.piece.turn_between()?;
    let second = first.other();
    let toe = write_angle(piece.piece.end(second).template()?.toe().turn.within_turn());
    // The line is the one that the end's own template prints.
    let toe = format!("line {toe} of its template");
    let turn = format!(
        "After {} turn the tube end for end, which takes {} of free room all round, keeping the \
         line that faced the saw towards it",
        first.name(),
        write_length(piece.piece.lengths().blank, piece.unit)
    );
    // Either way round, not more than half a turn.
    let back = Angle::FULL - between;
    let roll = if between < back { between } else { back };
    let second = second.name();
    let rolled = if roll <= Angle::from_deg(0.005) {
        String::from("it is not rolled.")
    } else {
        format!(
            "then roll it by {} until {second}’s toe, {toe}, faces the saw.",
            write_angle(roll)
        )
    };
    let through = format!(
        "Where the clamp lets the tube slide through, it need not be turned: swing the machine to \
         the other side and bring {second}’s toe, {toe}, towards the saw."
    );
    Some(format!("{turn}; {rolled} {through}"))
}
