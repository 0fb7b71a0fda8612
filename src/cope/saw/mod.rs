//! A hole saw set for one end: how deep it must reach, what to cut away first, what it leaves.
//!
//! The saw comes in along the main's axis from the **toe** side, where the branch leans away from
//! it and leaves room for its arbor, and goes out at the heel. Depths are measured along that axis
//! from the joint centre, growing from toe to heel. Heights and turns are those of the cut line.
//! `docs/geometry.md` §8 has the derivations.

mod ears;
mod extreme;
mod finished;
mod pre_cut;
mod reach;
mod saddle;

pub use ears::{Ears, ears};
pub use pre_cut::{PRE_CUT_STEEPEST, PreCut, PreCutter};
pub use reach::{Blank, Reach, reach};
pub use saddle::{gap_of_saw, listed_saw};
