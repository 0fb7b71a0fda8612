//! Setting up the saw for the ends of a piece: which saw, how to set it, how deep it must reach,
//! what to cut away first, when the grinder is right; all of it also in words.

mod advice;
mod both;
mod caution;
mod choice;
mod cuts;
mod facts;
mod judged;
mod on_sheet;
mod paper;
mod plan;
mod room;
mod tools;
mod wear;
mod why;

pub use both::{SideBySide, between_ends, first_end, side_by_side};
pub use caution::SawCaution;
pub use choice::{Depth, Verdict};
pub use cuts::{planned_cuts, shop_cut, shop_cuts};
pub use facts::{SawFact, saw_facts};
pub use judged::verdicts_in_words;
pub use on_sheet::{CUT_WITH, PRE_CUT, PRE_CUT_FIRST, SPEED, saw_on_sheet};
pub use paper::pre_cut_on_paper;
pub use plan::{BITES_MAX, EndPlan, Method, PRE_CUT_CLEARANCE, plan_end, plan_ends};
pub use room::Room;
pub use tools::{
    Machine, OwnSaw, SawField, ToolField, ToolProblem, Tools, read_clearance, read_tools,
};
pub use wear::{cuts_added, offered_saws, wear_in_words};
pub use why::Why;
