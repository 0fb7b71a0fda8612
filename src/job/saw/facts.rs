//! The plan in words: rows to show as they are.

use crate::cope::saw::{Ears, PreCut, Reach, gap_of_saw};
use crate::job::shop::saw_side;
use crate::piece::Template;
use crate::stock::{CUTTING_SPEED_SOURCE, hole_saws, write_rpm};
use crate::units::{Angle, Length, Unit, write_angle, write_fixed, write_length, write_small};

use super::judged::verdict_in_words;
use super::plan::{EndPlan, Method};

/// A number with its name, and what is to be said about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SawFact {
    /// What it is.
    pub label: String,
    /// The number with its unit.
    pub value: String,
    /// What it means or what to do, where that needs saying.
    pub remark: Option<String>,
}

/// An area as it is judged by eye.
fn write_area(mm2: f64, unit: Unit) -> String {
    let (own, mark, places, least) = if unit.is_inch() {
        (mm2 / 645.16, "in²", 2, 0.01)
    } else {
        (mm2 / 100.0, "cm²", 1, 0.1)
    };
    if own < least {
        format!("less than {least} {mark}")
    } else {
        format!("{} {mark}", write_fixed(own, places))
    }
}

/// What a saw leaves standing.
pub(super) fn ears_in_words(ears: &Ears, unit: Unit) -> String {
    format!(
        "{} in {} ear{}, {} tall",
        write_area(ears.area_mm2, unit),
        ears.count,
        if ears.count == 1 { "" } else { "s" },
        write_length(ears.tallest, unit)
    )
}

/// Everything about cutting one end, in the order of use. `template` is the one planned.
#[must_use]
pub fn saw_facts(plan: &EndPlan, template: &Template) -> Vec<SawFact> {
    let mut rows = Rows {
        plan,
        template,
        facts: Vec::new(),
    };
    let why: Vec<String> = plan.why.iter().map(|why| why.sentence(plan.unit)).collect();
    rows.add("Cut it with", plan.method.words(), some(why.join(" ")));
    let ground = plan.method == Method::Grinder;
    if plan.wanted.is_some() && !ground {
        rows.saw();
    }
    if !ground {
        rows.setting();
    }
    // What a saw would need matters to one who has saws.
    if plan.wanted.is_some() && !(ground && plan.verdicts.is_empty()) {
        rows.depth();
    }
    if let Some(cut) = plan.pre_cut {
        rows.pre_cut(&cut);
    }
    rows.leftover();
    rows.room();
    rows.facts
}

struct Rows<'a> {
    plan: &'a EndPlan,
    template: &'a Template,
    facts: Vec<SawFact>,
}

impl Rows<'_> {
    fn add(&mut self, label: impl Into<String>, value: impl Into<String>, remark: Option<String>) {
        self.facts.push(SawFact {
            label: label.into(),
            value: value.into(),
            remark,
        });
    }

    fn length(&self, length: Length) -> String {
        write_length(length, self.plan.unit)
    }

    fn saw(&mut self) {
        let plan = self.plan;
        if let Some(own) = plan.chosen_saw() {
            let value = format!("{}, {}", own.saw.name, self.length(own.saw.diameter));
            let remark = verdict_in_words(own, plan);
            self.add("Saw", value, some(remark));
        } else if let Some(wanted) = plan.wanted {
            let remark = plan.listed.map_or_else(
                || self.between_sizes(wanted),
                |(saw, gap)| {
                    let leaves = if gap < plan.unit.shown_step() / 2.0 {
                        String::new()
                    } else {
                        let gap = write_small(gap, plan.unit);
                        format!(": it leaves up to {gap} of gap")
                    };
                    let saw = self.length(saw.diameter);
                    format!("Of the common series take {saw}{leaves}.")
                },
            );
            let value = format!("{} wanted", self.length(wanted));
            self.add("Saw", value, Some(remark));
        }
        if let Some(rpm) = plan.rpm {
            let value = format!(
                "{} turns a minute in {}",
                write_rpm(rpm),
                plan.material.name
            );
            self.add(
                "Spindle speed",
                value,
                Some(String::from(CUTTING_SPEED_SOURCE)),
            );
        }
    }

    /// What to do where the common series has no saw.
    fn between_sizes(&self, wanted: Length) -> String {
        let nearest = hole_saws()
            .iter()
            .map(|saw| saw.diameter)
            .reduce(|a, b| {
                if (b - wanted).abs() < (a - wanted).abs() {
                    b
                } else {
                    a
                }
            })
            .unwrap_or_default();
        let larger = nearest - wanted;
        let gap = gap_of_saw(self.template.cope(), nearest).unwrap_or_default();
        format!(
            "No saw of the common series matches. The nearest, {}, is {} too {} and leaves a gap of \
             up to {}: take it where that can be filled, or grind to the line.",
            self.length(nearest),
            self.length(larger.abs()),
            if larger > Length::ZERO {
                "large"
            } else {
                "small"
            },
            self.length(gap)
        )
    }

    fn setting(&mut self) {
        let plan = self.plan;
        let square = plan.off_square <= Angle::from_deg(0.005);
        self.add("Off square", write_angle(plan.off_square), None);
        if plan.wanted.is_some() {
            let (value, remark) = offset(plan, self.template);
            self.add("Offset to dial in", value, remark);
        }
        let heel = write_angle(self.template.heel_turn());
        let toe = write_angle((self.template.heel_turn() + Angle::HALF).within_turn());
        if plan.setting.offset == Some(Length::ZERO) && square {
            let value = format!("line {heel} or line {toe}");
            self.add("Towards the saw", value, None);
            return;
        }
        self.add(
            "Away from the saw, short side",
            format!("line {heel}, the heel"),
            None,
        );
        let remark = "The saw comes in on the long side, where the tube leans away from it.";
        self.add(
            "Towards the saw, long side",
            format!("line {toe}, the toe"),
            some(String::from(remark)),
        );
    }

    fn depth(&mut self) {
        let plan = self.plan;
        let Some(reach) = plan.reach else { return };
        let length = |length: Length| self.length(length);
        let mut end = if plan.grip > Length::ZERO {
            let grip = length(plan.grip);
            format!("square, {grip} of grip stock beyond the long point")
        } else {
            String::from("square, at the long point")
        };
        if plan.longer >= plan.unit.shown_step() / 2.0 {
            let longer = length(plan.longer);
            end.push_str(&format!(
                " of the saw’s line, {longer} beyond that of the printed one"
            ));
        }
        self.add("The blank ends", end, None);
        let value = self.length(reach.travel());
        self.add("Saw travels, first touch to clear", value, None);
        let depth = plan.chosen_saw().and_then(|own| own.saw.depth);
        let compared = |needs: Length| {
            let has = depth.filter(|_| plan.method != Method::Grinder)?;
            let rest = write_length((has - needs).abs(), plan.unit);
            let enough = needs <= has;
            let has = write_length(has, plan.unit);
            Some(if enough {
                format!("The saw’s {has} are enough, {rest} to spare.")
            } else {
                format!("The saw’s {has} are {rest} too few.")
            })
        };
        let value = self.length(reach.cup());
        self.add("Depth it needs for that", value, compared(reach.cup()));
        // A pre-cut that spares the saw nothing has the same numbers.
        let spared = |after: &Reach| {
            let spared = (reach.travel() - after.travel()).max(reach.cup() - after.cup());
            spared >= plan.unit.shown_step() / 2.0
        };
        if let Some(after) = plan.reach_after.filter(spared) {
            let value = self.length(after.travel());
            self.add("Saw travels after the pre-cut", value, None);
            let value = self.length(after.cup());
            self.add(
                "Depth it needs after the pre-cut",
                value,
                compared(after.cup()),
            );
        }
        if let Some(least) = plan.least {
            let value = self.cut_in_words(&least);
            let remark = "Cut less and the saw’s back touches before its teeth are through.";
            self.add(
                "Least pre-cut that makes it deep enough",
                value,
                Some(String::from(remark)),
            );
        }
    }

    /// Angle, direction and depth of a straight cut.
    fn cut_in_words(&self, cut: &PreCut) -> String {
        format!(
            "{} off square, deepest on line {}, {}",
            write_angle(cut.off_square),
            write_angle(self.turn_of(cut)),
            self.past_long(self.beyond_long(cut, cut.towards), " from the long point")
        )
    }

    /// A distance from the long point; `into` follows it where it goes into the tube.
    fn past_long(&self, distance: Length, into: &str) -> String {
        let beyond = " beyond the long point";
        let side = if distance < Length::ZERO {
            beyond
        } else {
            into
        };
        self.length(distance.abs()) + side
    }

    fn turn_of(&self, cut: &PreCut) -> Angle {
        (cut.towards + self.template.heel_turn()).within_turn()
    }

    /// From the long point of the blank's line into the tube, on the outside at a turn from the heel.
    fn beyond_long(&self, cut: &PreCut, turn: Angle) -> Length {
        let cope = self.template.cope();
        let radius = cope.joint().branch().outside_radius().mm();
        cut.height(radius, turn) - cope.long_point().height + self.plan.longer
    }

    fn pre_cut(&mut self, cut: &PreCut) {
        let remark = match self.plan.method {
            Method::SawAsItIs => Some("Not needed here; it saves the saw work."),
            Method::Grinder => Some("Takes the bulk off before grinding."),
            Method::SawAfterPreCut | Method::StraightSaw => None,
        };
        self.add(
            "Pre-cut, off square",
            write_angle(cut.off_square),
            remark.map(String::from),
        );
        let deepest = self.beyond_long(cut, cut.towards);
        let turn = write_angle(self.turn_of(cut));
        let value = format!("{} on line {turn}", self.past_long(deepest, ""));
        self.add("Pre-cut, deepest from the long point", value, None);
        let mark = self.template.mark_to_long() + self.plan.longer - deepest;
        let value = self.length(mark);
        self.add("Pre-cut, deepest from the mark line", value, None);
        let out = self.beyond_long(cut, cut.towards + Angle::HALF);
        if out > -self.plan.grip && cut.off_square > Angle::ZERO {
            let opposite = write_angle((self.turn_of(cut) + Angle::HALF).within_turn());
            let value = format!("{} on line {opposite}", self.past_long(out, ""));
            self.add("Pre-cut, opposite side from the long point", value, None);
        }
        let value = write_small(self.plan.clearance, self.plan.unit);
        let remark = "Measured along the tube; the long-dashed line of the template shows it.";
        self.add(
            "Pre-cut stays clear of the line by",
            value,
            Some(String::from(remark)),
        );
    }

    fn leftover(&mut self) {
        let Some(ears) = self.plan.ears else { return };
        let value = ears_in_words(&ears, self.plan.unit);
        let remark = "The saw is narrower than the branch there and passes beside it.";
        self.add("To grind off after the saw", value, some(remark.into()));
    }

    fn room(&mut self) {
        let room = self.plan.room;
        if let Some(behind) = room.behind {
            let value = self.length(behind);
            let remark = room.too_long.map(|by| {
                format!(
                    "{} more than the machine has. Swing it to the other side and roll the tube \
                     half a turn, so that the tube leaves where there is room; or make room.",
                    self.length(by)
                )
            });
            self.add("Tube behind the clamp", value, remark);
        }
        if let Some(by) = room.on_other_cut {
            let value = format!("{} of the clamp", self.length(by));
            let remark = "Cut this end before the other one, or leave that much grip stock there.";
            self.add(
                "Would hold on the other end’s cut",
                value,
                Some(String::from(remark)),
            );
        }
    }
}

/// The offset with its side, in the machine's terms and in the template's.
pub(super) fn offset(plan: &EndPlan, template: &Template) -> (String, Option<String>) {
    let main = template.cope().joint().main();
    let offset = main.offset();
    let Some(side) = saw_side(offset) else {
        return (String::from("none"), None);
    };
    let quarter = Angle::QUARTER * offset.mm().signum();
    let line = (template.heel_turn() + main.turn() + quarter).within_turn();
    let value = format!(
        "{}, saw to the {side} of the tube",
        write_length(offset.abs(), plan.unit)
    );
    let remark = format!(
        "Seen from behind the saw with the tube’s body upwards: the saw’s axis lies towards line \
         {} of the template.",
        write_angle(line)
    );
    (value, Some(remark))
}

pub(super) fn some(text: String) -> Option<String> {
    (!text.is_empty()).then_some(text)
}
