//! How the end will fit, and what went wrong, in words: rows for the page and the sheet.

mod access;
mod costs;
mod found;
mod grinding;
mod predicted;
mod reading;
mod touching;
mod typed;

pub use found::{FoundWrong, found_wrong};
pub use predicted::{FitReport, fit_report, fit_what_ifs};
pub use reading::{FitAsked, FitProblem, read_fit, read_fit_in_part, read_limits};
pub use typed::{FitField, FitTyped, Process};

use crate::cope::fit::SlipKind;
use crate::cope::{Cope, CutMethod};
use crate::job::Draft;
use crate::joint::{Main, Shape};
use crate::units::{Angle, Length, write_angle, write_fixed, write_small as small};

/// A number with its name and what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitFact {
    /// What it is.
    pub name: String,
    /// The number with its unit and place.
    pub value: String,
    /// What it means; may be empty.
    pub remark: String,
    /// Of a gap, its band by the limits: 0 tight, 1 can be filled, 2 too wide.
    pub band: Option<u8>,
}

impl FitFact {
    fn new(name: impl Into<String>, value: impl Into<String>, remark: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            value: value.into(),
            remark: remark.into(),
            band: None,
        }
    }
}

/// A turn to the whole degree.
fn whole_degrees(turn: Angle) -> String {
    let degrees = turn.within_turn().deg().round();
    write_angle(Angle::from_deg(if degrees >= 360.0 {
        0.0
    } else {
        degrees
    }))
}

/// A place by its turn from the heel: `at the heel (turn 90°)`; the turn told is from the zero line.
fn place(draft: &Draft, from_heel: Angle) -> String {
    /// Up to here from heel, toe or side it is that, degrees.
    const NEAR: f64 = 22.5;
    let degrees = from_heel.within_turn().deg();
    let to_heel = degrees.min(360.0 - degrees);
    let name = if to_heel <= NEAR {
        "at the heel"
    } else if to_heel < 90.0 - NEAR {
        "between heel and side"
    } else if to_heel <= 90.0 + NEAR {
        "at the side"
    } else if to_heel < 180.0 - NEAR {
        "between side and toe"
    } else {
        "at the toe"
    };
    let turn = whole_degrees(from_heel + draft.template.heel_turn());
    format!("{name} (turn {turn})")
}

/// The angle of a main that a cut is off by: of a mitre that of its plane, which is half the one
/// between the tubes.
fn angle_name(cope: &Cope, main: usize) -> &'static str {
    match cope.mains().get(main).map(Main::shape) {
        Some(Shape::Mitre { .. }) => "Mitre’s plane",
        _ => "Angle",
    }
}

/// What is off, by how much and which way; a diameter is that of the saw, or what a template was
/// drawn for.
fn slip_in_words(kind: SlipKind, amount: f64, main: &Main, draft: &Draft) -> String {
    let unit = draft.unit;
    let (angle, length) = (Angle::from_rad(amount).abs(), Length::from_mm(amount.abs()));
    let more = amount > 0.0;
    match kind {
        SlipKind::Angle => format!(
            "{}, cut {} too {}: for {} in place of {}",
            match main.shape() {
                Shape::Mitre { .. } => "the angle of the mitre’s plane",
                _ => "the angle",
            },
            write_angle(angle),
            if more { "large" } else { "small" },
            write_angle(main.angle() + Angle::from_rad(amount)),
            write_angle(main.angle())
        ),
        SlipKind::Size => format!(
            "{} for a tube {} {}",
            match draft.template.cope().method() {
                CutMethod::Saw => "the diameter, cut",
                CutMethod::Square | CutMethod::Bore => "the template’s diameter, drawn",
            },
            small(length, unit),
            if more { "larger" } else { "smaller" }
        ),
        SlipKind::Turn => format!(
            "the turn, {} {}",
            write_angle(angle),
            if more {
                "towards growing turns"
            } else {
                "towards falling turns"
            }
        ),
        SlipKind::Offset => {
            let larger = main.offset() + Length::from_mm(amount);
            format!(
                "the offset, {} off: cut for {} in place of {}",
                small(length, unit),
                small(larger, unit),
                small(main.offset(), unit)
            )
        }
        SlipKind::Scale => format!(
            "the print, {} % too {}",
            write_fixed(100.0 * amount.abs(), 1),
            if more { "large" } else { "small" }
        ),
    }
}
