//! Published tables, offered as suggestions: pipe sizes, tube gauges, tube diameters, materials, hole saws, paper.
//!
//! Nothing here limits what may be typed. Each table names its source in words that the page can
//! show ([`SOURCES`]), and says so where a value is from memory.

mod gauge;
mod hole_saw;
mod material;
mod paper;
mod pipe;
mod speed;
mod suggest;
mod tube;

pub use gauge::{GAUGE_SOURCE, GAUGES, Gauge};
pub use hole_saw::{
    HOLE_SAW_MATCH, HOLE_SAW_SOURCE, HoleSaw, LARGE_HOLE_SAW_SOURCE, hole_saw_match, hole_saws,
    nearest_hole_saw,
};
pub use material::{Density, MATERIAL_SOURCE, MATERIALS, Material};
pub use paper::{PAPER_SOURCE, Paper, SHEET_THICKNESS, SHEET_THICKNESS_SOURCE};
pub use pipe::{PIPE_MATCH, PIPE_SOURCE, PIPES, PipeSize, PipeWall, pipe_at};
pub use speed::{CUTTING_SPEED_SOURCE, CuttingSpeed, write_rpm};
pub use suggest::{Kind, Suggestion, suggestions, wall_suggestions};
pub use tube::{
    INCH_TUBES, INCH_WALLS, METRIC_TUBES, METRIC_WALLS, PIPE_SERIES, PIPE_SERIES_WALLS, Series,
};

use crate::units::Length;

/// One dimension as a table prints it twice, in inches and in millimetres.
///
/// The two columns are rounded separately and need not agree to the last digit: a 1-1/2 pipe is
/// 1.900 in (48.26 mm) in one and 48.3 mm in the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Published {
    /// The inch column.
    pub inch: Length,
    /// The millimetre column.
    pub metric: Length,
}

impl Published {
    const fn new(inches: f64, mm: f64) -> Self {
        Self {
            inch: Length::from_inches(inches),
            metric: Length::from_mm(mm),
        }
    }
}

/// Every table by name, with its source as the page shows it.
pub const SOURCES: [(&str, &str); 14] = [
    ("Pipe", PIPE_SOURCE),
    ("Tube gauge", GAUGE_SOURCE),
    (INCH_TUBES.name, INCH_TUBES.source),
    (INCH_WALLS.name, INCH_WALLS.source),
    (METRIC_TUBES.name, METRIC_TUBES.source),
    (METRIC_WALLS.name, METRIC_WALLS.source),
    (PIPE_SERIES.name, PIPE_SERIES.source),
    (PIPE_SERIES_WALLS.name, PIPE_SERIES_WALLS.source),
    ("Hole saws", HOLE_SAW_SOURCE),
    ("Hole saws above 2-5/8 in", LARGE_HOLE_SAW_SOURCE),
    ("Spindle speed", CUTTING_SPEED_SOURCE),
    ("Material", MATERIAL_SOURCE),
    ("Paper", PAPER_SOURCE),
    ("Paper thickness", SHEET_THICKNESS_SOURCE),
];
