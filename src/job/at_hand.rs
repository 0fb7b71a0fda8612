//! What the shop has at hand, as typed: saws, the machine's limits, stock to cut from.
//!
//! Everything is text in the job's unit, so that nothing typed is lost; the rooms that use it read
//! it and say what is wrong.

use serde::{Deserialize, Serialize};

use crate::job::fit::FitTyped;

/// A hole saw that the user owns.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SawTyped {
    /// What the user calls it; may be empty.
    pub name: String,
    /// Diameter over the teeth, as measured.
    pub diameter: String,
    /// How deep it can cut, from the teeth to the inside of its back.
    pub depth: String,
    /// Diameter of the arbor or pilot that stands in its way; empty where nobody cares.
    pub arbor: String,
    /// Cuts made so far.
    pub cuts: String,
    /// Cuts it is expected to last; empty where nobody knows.
    pub life: String,
}

/// What the notching machine cannot do; empty where there is no limit to mind.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct MachineTyped {
    /// Largest angle off square that it can be set to.
    pub angle_max: String,
    /// Straight tube that its clamp needs.
    pub clamp: String,
    /// Room behind the clamp for the rest of the tube.
    pub behind: String,
}

/// Stock of one length.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct BarTyped {
    /// Outside diameter of the tube; empty for every tube of the job.
    pub outside: String,
    /// Wall of the tube; empty for every wall.
    pub wall: String,
    /// Length of a bar.
    pub length: String,
    /// How many there are; empty for as many as needed.
    pub count: String,
}

/// Stock to cut from, and what each cut and each bar's end costs.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct StockTyped {
    /// The bars.
    pub bars: Vec<BarTyped>,
    /// Width of the saw's kerf.
    pub kerf: String,
    /// What is cut off the end of each bar before it is used.
    pub end_trim: String,
}

/// Everything at hand.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct AtHand {
    /// Hole saws.
    pub saws: Vec<SawTyped>,
    /// The notching machine.
    pub machine: MachineTyped,
    /// Tube.
    pub stock: StockTyped,
    /// Material of the tube, by its name in [`crate::stock`]; empty for steel.
    pub material: String,
    /// How far a straight cut before the saw stays from the line; empty for the usual.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub clearance: String,
    /// What is asked about how an end will fit: limits, what is off, gaps seen.
    #[serde(skip_serializing_if = "is_nothing")]
    pub fit: FitTyped,
}

impl AtHand {
    /// The same without what was seen at an end of this job.
    #[must_use]
    pub fn for_another_job(&self) -> Self {
        let FitTyped {
            process,
            tight,
            most,
            ..
        } = self.fit.clone();
        Self {
            fit: FitTyped {
                process,
                tight,
                most,
                ..FitTyped::default()
            },
            ..self.clone()
        }
    }
}

fn is_nothing(fit: &FitTyped) -> bool {
    *fit == FitTyped::default()
}
