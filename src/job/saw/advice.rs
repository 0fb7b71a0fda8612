//! The way of cutting that is advised for an end, with what speaks for it and against others.

use crate::cope::Cope;
use crate::cope::saw::PRE_CUT_STEEPEST;
use crate::job::MainKind;
use crate::job::caution::{SAW_AGGRESSIVE, SAW_HOPELESS};
use crate::stock::{hole_saw_match, hole_saws};
use crate::units::{Angle, Length, sort_by_number};

use super::choice::{Depth, Verdict};
use super::plan::{EndPlan, Method};
use super::tools::Tools;
use super::why::Why;

/// Depth that a pre-cut has to spare a saw that goes in bites all the same; common practice, no
/// source.
const WORTHWHILE: Length = Length::from_mm(1.0);
/// Rounding of a typed angle.
const SAME_ANGLE: Angle = Angle::from_deg(1e-6);
/// Where less of a tube's edge lands, on one side, a hole saw only scrapes along it; our own
/// judgement: at 90° that is 15 % of the tube's width.
const SLIVER: Angle = Angle::QUARTER;

/// The way of cutting, and why.
pub(super) fn advise(plan: &EndPlan, cope: &Cope, tools: &Tools) -> (Method, Vec<Why>) {
    let joint = cope.joint();
    let off_square = plan.off_square;
    let several = joint.mains().count();
    let kind = MainKind::of(joint.main().shape());
    if several > 1 {
        return (Method::Grinder, vec![Why::Several { count: several }]);
    }
    if matches!(kind, MainKind::Rectangular | MainKind::Bent) {
        return (Method::Grinder, vec![Why::Shape { kind }]);
    }
    // Everything that stops the machine is told at once.
    let mut against = Vec::new();
    if let Some(most) = tools.machine.angle_max
        && off_square > most + SAME_ANGLE
    {
        against.push(Why::Swing { off_square, most });
    }
    if let Some((bend, missing)) = plan.room.bend {
        against.push(Why::Bend { bend, missing });
    }
    if let Some(missing) = plan.room.short {
        against.push(Why::Short { missing });
    }
    if joint.main().is_plane() {
        let most = PRE_CUT_STEEPEST;
        if tools.machine.angle_max.is_none() && off_square > most + SAME_ANGLE {
            against.push(Why::SteepPlane { off_square, most });
        }
        let sawn = against.is_empty();
        let method = if sawn {
            Method::StraightSaw
        } else {
            Method::Grinder
        };
        against.insert(0, Why::Plane { kind, sawn });
        return (method, against);
    }
    if off_square >= SAW_HOPELESS {
        against.insert(0, Why::Hopeless { off_square });
    }
    against.extend(sliver(plan, cope));
    if plan.chosen.is_none() {
        if let Some(why) = no_such_saw(plan) {
            against.push(why);
        } else if !tools.saws.is_empty() {
            against.push(none_right(plan));
        }
    }
    if !against.is_empty() {
        return (Method::Grinder, against);
    }
    with_saw(plan, off_square)
}

/// A branch that only grazes a round main, on one side of it.
fn sliver(plan: &EndPlan, cope: &Cope) -> Option<Why> {
    let joint = cope.joint();
    let overhangs = plan.wanted? / 2.0 + joint.main().offset().abs();
    let beside = cope.beside().iter().map(|arc| arc.to - arc.from);
    let lands = Angle::FULL - beside.fold(Angle::ZERO, |sum, arc| sum + arc);
    (lands < SLIVER && overhangs > joint.branch().outside_radius()).then_some(Why::Sliver { lands })
}

/// A saw larger or smaller than hole saws usually are, where none of that size is at hand.
fn no_such_saw(plan: &EndPlan) -> Option<Why> {
    let wanted = plan.wanted?;
    let (small, large) = (hole_saws().first()?.diameter, hole_saws().last()?.diameter);
    let end = if wanted > large { large } else { small };
    let outside = wanted < small || wanted > large;
    let near = (wanted - end).abs() <= hole_saw_match(wanted);
    let at_hand = plan.verdicts.iter().any(|verdict| verdict.fits);
    (outside && !near && !at_hand).then_some(Why::NoSuchSaw { wanted, end })
}

/// The way for a saw that can do it.
fn with_saw(plan: &EndPlan, off_square: Angle) -> (Method, Vec<Why>) {
    let needs = plan.reach.map(|reach| reach.cup()).unwrap_or_default();
    let after = plan.reach_after.map_or(needs, |reach| reach.cup());
    let mut why = Vec::new();
    let mut first = off_square >= SAW_AGGRESSIVE;
    if first {
        why.push(Why::Aggressive { off_square });
    }
    match plan.chosen_saw() {
        None => {
            why.extend(plan.wanted.map(|wanted| Why::NoSaws { wanted }));
            why.push(Why::Unknown { needs });
        }
        Some(own) => {
            let has = own.saw.depth.unwrap_or_default();
            why.push(match own.depth {
                Depth::Enough => Why::Enough { has, needs },
                Depth::After(_) => Why::After { has, needs },
                Depth::Bites(bites) => Why::Bites {
                    has,
                    needs: after,
                    bites,
                },
                Depth::Unknown | Depth::Beside(_) => Why::Unknown { needs },
            });
            why.extend(worn(plan, own));
            first |= match own.depth {
                Depth::After(_) => true,
                // Where it spares the saw nothing it is work for nothing.
                Depth::Bites(_) => after + WORTHWHILE <= needs,
                Depth::Enough | Depth::Unknown | Depth::Beside(_) => false,
            };
        }
    }
    let method = if first && plan.pre_cut.is_some() {
        Method::SawAfterPreCut
    } else {
        Method::SawAsItIs
    };
    (method, why)
}

/// The chosen saw if it does not last for all pieces, and every better one passed over for that.
fn worn(plan: &EndPlan, chosen: &Verdict) -> Vec<Why> {
    let better = |other: &Verdict| {
        let (mine, its) = (other.unworn_rank(), chosen.rank());
        mine < its || mine == its && other.saw.place < chosen.saw.place
    };
    let worn = plan.verdicts.iter().filter(|verdict| verdict.worn);
    worn.filter(|verdict| verdict.saw.place == chosen.saw.place || better(verdict))
        .filter(|verdict| verdict.is_right())
        .map(|verdict| Why::Worn {
            name: verdict.saw.name.clone(),
            left: verdict.saw.cuts_left().unwrap_or_default(),
            needed: verdict.needed,
            taken: (verdict.saw.place != chosen.saw.place).then(|| chosen.saw.name.clone()),
        })
        .collect()
}

/// Why none of the saws at hand is right.
fn none_right(plan: &EndPlan) -> Why {
    let wanted = plan.wanted.unwrap_or_default();
    let mut fit: Vec<&Verdict> = plan
        .verdicts
        .iter()
        .filter(|verdict| verdict.fits)
        .collect();
    sort_by_number(&mut fit, |verdict| {
        -verdict.saw.depth.unwrap_or_default().mm()
    });
    if let Some(deepest) = fit.first() {
        let name = deepest.saw.name.clone();
        return match (deepest.depth, deepest.saw.depth) {
            (Depth::Bites(bites), Some(has)) => Why::Shallow {
                name,
                has,
                needs: deepest.needs,
                bites,
            },
            (Depth::Beside(by), _) => Why::Beside { name, by },
            _ => Why::Beside {
                name,
                by: Length::ZERO,
            },
        };
    }
    let mut best: Vec<&Verdict> = plan.verdicts.iter().collect();
    sort_by_number(&mut best, |verdict| verdict.gap.mm());
    match best.first() {
        Some(best) => Why::Diameter {
            wanted,
            name: best.saw.name.clone(),
            larger: best.larger,
            most: hole_saw_match(wanted),
            gap: (best.gap > Length::ZERO).then_some(best.gap),
            filled: best.gap > Length::ZERO && best.gap <= plan.gap_most,
        },
        None => Why::NoSaws { wanted },
    }
}
