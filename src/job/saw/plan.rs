//! The plan for one end: saw, setting, depth, pre-cut, and the way of cutting that is advised.

use crate::cope::saw::{Blank, Ears, PreCut, PreCutter, Reach, ears, listed_saw, reach};
use crate::cope::{Cope, CutMethod};
use crate::job::PieceDraft;
use crate::job::shop::{Saw, Setting};
use crate::joint::{Joint, Main, Shape};
use crate::piece::{Side, Template};
use crate::stock::{CuttingSpeed, HoleSaw, Material};
use crate::units::{Angle, Length, Unit};

use super::advice::advise;
use super::choice::{self, Depth, Verdict};
use super::room::Room;
use super::tools::{OwnSaw, Tools};
use super::why::Why;

/// How far a pre-cut stays from the line, along the tube, where nothing is typed: a saw's kerf and
/// a line drawn by hand; common practice, no source.
pub const PRE_CUT_CLEARANCE: Length = Length::from_mm(3.0);
/// More bites than this are the grinder's; common practice, no source.
pub const BITES_MAX: u32 = 2;

/// How an end is best cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// With a hole saw, the blank as it is.
    SawAsItIs,
    /// With a hole saw, after a straight cut.
    SawAfterPreCut,
    /// With a saw that cuts straight.
    StraightSaw,
    /// With the grinder, to the line.
    Grinder,
}

impl Method {
    /// The way in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SawAsItIs => "hole saw, the blank as it is",
            Self::SawAfterPreCut => "hole saw, after a straight pre-cut",
            Self::StraightSaw => "straight saw",
            Self::Grinder => "grinder, to the line",
        }
    }
}

/// Everything about cutting one end.
#[derive(Debug, Clone, PartialEq)]
pub struct EndPlan {
    /// Which end.
    pub side: Side,
    /// The unit that words are written in.
    pub unit: Unit,
    /// Off square, what the machine's scale shows.
    pub off_square: Angle,
    /// Diameter of the saw that the joint wants, root gap included; `None` where no hole saw fits.
    pub wanted: Option<Length>,
    /// The saw of the common series for it, and the widest gap that this leaves.
    pub listed: Option<(&'static HoleSaw, Length)>,
    /// Every saw at hand, judged.
    pub verdicts: Vec<Verdict>,
    /// The best of them, by its place among the verdicts; `None` where none is right.
    pub chosen: Option<usize>,
    /// The widest gap that can be filled.
    pub gap_most: Length,
    /// Grip stock beyond the long point.
    pub grip: Length,
    /// The square blank of the way that is advised.
    pub blank: Blank,
    /// How much farther out it ends than that of the template's line, where this is not the saw's.
    pub longer: Length,
    /// How deep the chosen saw, or one of the wanted diameter, must reach in it.
    pub reach: Option<Reach>,
    /// The straight cut advised before the saw: that of most bulk, or where that does not make the
    /// saw deep enough the one of the tilt of `least`, both as deep as the line lets them.
    pub pre_cut: Option<PreCut>,
    /// How deep the same saw must reach after it.
    pub reach_after: Option<Reach>,
    /// The least straight cut that makes the chosen saw deep enough, where it is not without.
    pub least: Option<PreCut>,
    /// What the saw leaves standing beside it, after the pre-cut where that is advised.
    pub ears: Option<Ears>,
    /// Whether the chosen saw's arbor meets the wall, in the square blank and after the pre-cut.
    pub arbor_meets: Option<[bool; 2]>,
    /// How far pre-cuts stay from the line.
    pub clearance: Length,
    /// How to cut it.
    pub method: Method,
    /// Why, and why not otherwise.
    pub why: Vec<Why>,
    /// What cuts it, for the run list.
    pub saw: Saw,
    /// Where the dials stand.
    pub setting: Setting,
    /// What the machine finds of the tube; nothing for an end alone.
    pub room: Room,
    /// Turns per minute of the hole saw.
    pub rpm: Option<f64>,
    /// Material of the tube.
    pub material: &'static Material,
}

impl EndPlan {
    /// The saw that is chosen.
    #[must_use]
    pub fn chosen_saw(&self) -> Option<&Verdict> {
        self.verdicts.get(self.chosen?)
    }

    /// Whether the straight cut must come first, and is not only offered.
    #[must_use]
    pub const fn pre_cut_is_wanted(&self) -> bool {
        matches!(self.method, Method::SawAfterPreCut | Method::StraightSaw)
    }
}

/// Plans the ends of a piece that are coped, end A first.
#[must_use]
pub fn plan_ends(piece: &PieceDraft, tools: &Tools, clearance: Length) -> [Option<EndPlan>; 2] {
    let plan = |side: Side, cuts: u32| {
        let template = piece.piece.end(side).template()?;
        let unit = piece.unit;
        Some(plan_counted(
            (template, side),
            (Some(piece), cuts),
            unit,
            tools,
            clearance,
        ))
    };
    let plans = Side::BOTH.map(|side| plan(side, piece.count));
    // A saw that both ends take must last for both.
    let cuts = piece.count.saturating_mul(2);
    match shared_saw(&plans).and_then(OwnSaw::cuts_left) {
        Some(left) if left < cuts => Side::BOTH.map(|side| plan(side, cuts)),
        _ => plans,
    }
}

/// The saw that cuts both ends.
fn shared_saw(plans: &[Option<EndPlan>; 2]) -> Option<&OwnSaw> {
    let [a, b] = plans.each_ref().map(|plan| {
        let plan = plan
            .as_ref()
            .filter(|plan| matches!(plan.saw, Saw::Hole(_)))?;
        Some(&plan.chosen_saw()?.saw)
    });
    a.filter(|a| b.is_some_and(|b| a.place == b.place))
}

/// Plans one end; without a piece it is an end alone, of which nothing but the end is known.
#[must_use]
pub fn plan_end(
    template: &Template,
    side: Side,
    piece: Option<&PieceDraft>,
    unit: Unit,
    tools: &Tools,
    clearance: Length,
) -> EndPlan {
    let count = piece.map_or(1, |piece| piece.count);
    let end = (template, side);
    plan_counted(end, (piece, count), unit, tools, clearance)
}

/// Plans an end whose saw must last for so many cuts.
fn plan_counted(
    (template, side): (&Template, Side),
    (piece, count): (Option<&PieceDraft>, u32),
    unit: Unit,
    tools: &Tools,
    clearance: Length,
) -> EndPlan {
    let drawn = template.cope();
    let joint = drawn.joint();
    // A saw leaves more wall than the grinder: its long point is farther out.
    let sawn = as_sawn(drawn);
    let cope = sawn.as_ref().unwrap_or(drawn);
    let grip = piece.map_or(Length::ZERO, |piece| piece.piece.grip(side));
    let room = piece.map_or_else(Room::default, |piece| Room::of(piece, side, &tools.machine));
    let blank = Blank::square(cope, grip);
    let off_square = joint.off_square();
    let mut cutter = PreCutter::new(cope, clearance);
    if sawn.is_some() {
        cutter = cutter.and_from(drawn);
    }
    let wanted = saddle(joint).map(|radius| (radius + cope.gap()) * 2.0);
    let plane = joint.mains().count() == 1 && joint.main().is_plane();
    let bulk = (!plane).then(|| cutter.most_bulk(&blank)).flatten();
    let verdicts = wanted.map_or_else(Vec::new, |wanted| {
        choice::verdicts(cope, &cutter, (&blank, bulk), wanted, tools, count)
    });
    let chosen = choice::best(&verdicts);
    let own = chosen.and_then(|place| verdicts.get(place));
    let diameter = own.map(|own| own.saw.diameter).or(wanted);
    let deep = |blank: &Blank| reach(joint, diameter?, blank);
    let least = own.and_then(|own| match own.depth {
        Depth::After(cut) => Some(cut),
        _ => None,
    });
    let enough = |cut: &PreCut| {
        let depth = own.and_then(|own| own.saw.depth);
        let after = deep(&blank.after(*cut));
        depth
            .zip(after)
            .is_some_and(|(depth, after)| after.cup() <= depth)
    };
    let pre_cut = match (bulk, least) {
        (Some(bulk), Some(_)) if enough(&bulk) => Some(bulk),
        // As deep as the line lets it: a cut by hand that comes out short is still enough.
        (_, Some(least)) => Some(cutter.deepest(least.off_square, least.towards)),
        (bulk, None) => bulk,
    };
    let after = pre_cut.map(|cut| blank.after(cut));
    let mut plan = EndPlan {
        side,
        unit,
        off_square,
        wanted,
        listed: wanted.and_then(|_| listed_saw(cope)),
        reach: deep(&blank),
        reach_after: after.as_ref().and_then(deep),
        ears: None,
        arbor_meets: own.and_then(|own| own.saw.arbor).map(|arbor| {
            let meets = |blank: &Blank| reach(joint, arbor, blank).is_some();
            let square = meets(&blank);
            [square, after.as_ref().map_or(square, meets)]
        }),
        verdicts,
        chosen,
        gap_most: tools.limits.most,
        grip,
        blank,
        longer: Length::ZERO,
        pre_cut,
        least,
        clearance,
        method: Method::Grinder,
        why: Vec::new(),
        saw: Saw::Grinder,
        setting: Setting::default(),
        room,
        rpm: None,
        material: tools.material,
    };
    (plan.method, plan.why) = advise(&plan, cope, tools);
    let saws = matches!(plan.method, Method::SawAsItIs | Method::SawAfterPreCut);
    if plan.method != Method::StraightSaw && (drawn.method() == CutMethod::Saw) != saws {
        if saws {
            plan.longer = drawn.long_point().height - cope.long_point().height;
        }
        let longer = saws.then_some(plan.longer);
        plan.why.push(Why::Line { longer });
    }
    if sawn.is_some() && !saws {
        // The grinder goes along the line that is drawn.
        plan.blank = Blank::square(drawn, grip);
        plan.pre_cut = PreCutter::new(drawn, clearance).most_bulk(&plan.blank);
        plan.least = None;
        let after = plan.pre_cut.map(|cut| plan.blank.after(cut));
        plan.reach = deep(&plan.blank);
        plan.reach_after = after.as_ref().and_then(deep);
    }
    if let Some(diameter) = diameter.filter(|_| saws) {
        let left = match after {
            Some(after) if plan.method == Method::SawAfterPreCut => after,
            _ => blank,
        };
        plan.ears = ears(cope, diameter, &left).filter(|ears| ears.count > 0);
        plan.rpm = CuttingSpeed::of(tools.material.name).and_then(|speed| speed.rpm(diameter));
        plan.saw = Saw::Hole(diameter);
    } else if plan.method == Method::StraightSaw {
        plan.saw = Saw::Straight;
    }
    plan.setting = setting(&plan, joint.main(), template, piece);
    plan
}

/// The cut that one hole saw makes in place of the one drawn, where that is another.
fn as_sawn(drawn: &Cope) -> Option<Cope> {
    saddle(drawn.joint()).filter(|_| drawn.method() != CutMethod::Saw)?;
    Cope::new(drawn.joint(), CutMethod::Saw, drawn.gap()).ok()
}

/// Radius of the saddle that one hole saw cuts; `None` where none does.
fn saddle(joint: &Joint) -> Option<Length> {
    match joint.main().shape() {
        Shape::Round { radius } if joint.mains().count() == 1 => Some(*radius),
        _ => None,
    }
}

/// Where the dials stand. A turn matters where something else on the tube is turned against it.
fn setting(
    plan: &EndPlan,
    main: &Main,
    template: &Template,
    piece: Option<&PieceDraft>,
) -> Setting {
    if plan.saw == Saw::Grinder {
        return Setting::default();
    }
    let turned = piece.is_some_and(|piece| {
        let other = piece.piece.end(plan.side.other());
        piece.piece.is_bent() || other.template().is_some()
    });
    Setting {
        off_square: Some(plan.off_square),
        offset: (plan.saw != Saw::Straight).then(|| main.offset()),
        turn: turned.then(|| template.heel_turn()),
        first: turned.then_some(plan.side),
    }
}
