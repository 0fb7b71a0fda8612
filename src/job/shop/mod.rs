//! Planning for the shop: which blank comes from which bar, and in what order the cuts are run.
//!
//! Both rooms take plain lists and answer with places in those lists (`blank`, `stock`, `cut` are
//! indices), so that nothing is copied and a label is looked up where it is printed. The amount
//! of work is fixed by the input alone: the same lists give the same plan everywhere.

mod bar;
mod bound;
mod cut_list;
mod cut_list_error;
mod exact;
mod improve;
mod pack;
mod pattern;
mod run_list;
mod run_list_error;
mod saw_order;
mod setting;
mod tour;

pub use cut_list::{
    BLANK_MIN, BarGroup, Blank, CutList, FITS_WITHIN, FromBar, Loss, PIECES_MAX, STOCK_MAX,
    STOCK_MIN, StockBar, cut_list, mass_kg,
};
pub use cut_list_error::{CutListError, KERF_MAX, TRIM_MAX};
pub use run_list::{CUTS_MAX, Cut, CutNotes, RunList, SawRun, SetUp, run_list};
pub use run_list_error::RunListError;
pub use setting::{ANGLE_TICK, Dial, EFFORT, Effort, OFFSET_TICK, Saw, Setting, saw_side};
