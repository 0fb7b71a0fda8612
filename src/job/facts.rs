//! What the template tells to measure, as name and value: for the page and the sheet.

use crate::job::Draft;
use crate::piece::{Station, Template};
use crate::units::{Angle, Length, Unit, write_angle, write_length};

/// A number with its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// What it is.
    pub name: &'static str,
    /// The number with its unit, and a remark where it needs one.
    pub value: String,
}

/// What to measure with tape and template in hand, in the order of use.
#[must_use]
pub fn facts(draft: &Draft) -> Vec<Fact> {
    let (template, unit) = (&draft.template, draft.unit);
    let length = |length: Length| write_length(length, unit);
    let joint = template.cope().joint();
    vec![
        Fact {
            name: "Mark line, from the long point",
            value: length(template.mark_to_long()),
        },
        Fact {
            name: "Mark line to short point",
            value: length(template.mark_to_short()),
        },
        Fact {
            name: "Mark line to joint centre",
            value: length(template.mark_to_centre()),
        },
        Fact {
            name: "Paper goes once round, edge to edge",
            value: length(template.wrap().width()),
        },
        Fact {
            name: "Depth of the cut",
            value: length(template.mark_to_long() - template.mark_to_short()),
        },
        Fact {
            name: "Long point at turn",
            value: turns(&template.long_points()),
        },
        Fact {
            name: "Short point at turn",
            value: turns(&template.short_points()),
        },
        Fact {
            name: "Off square",
            value: write_angle(joint.off_square()),
        },
        Fact {
            name: "Offset",
            value: offset_in_words(template, unit),
        },
    ]
}

/// The joint in one line, such as `branch 42.4 mm on main 48.3 mm at 60°`.
#[must_use]
pub fn joint_in_words(draft: &Draft) -> String {
    let joint = draft.template.cope().joint();
    format!(
        "branch {} on main {} at {}",
        write_length(joint.branch().outside(), draft.unit),
        write_length(joint.main().half_breadth() * 2.0, draft.unit),
        write_angle(joint.main().angle())
    )
}

/// The offset with its side, told by a line that is on the template.
///
/// A positive offset puts the main on the +y side, a quarter turn on from the heel.
#[must_use]
pub fn offset_in_words(template: &Template, unit: Unit) -> String {
    let offset = template.cope().joint().main().offset();
    if offset == Length::ZERO {
        return String::from("none");
    }
    let quarter = Angle::QUARTER * offset.mm().signum();
    format!(
        "{}, main towards the {} line",
        write_length(offset.abs(), unit),
        write_angle((template.heel_turn() + quarter).within_turn())
    )
}

fn turns(stations: &[Station]) -> String {
    stations
        .iter()
        .map(|station| write_angle(station.turn))
        .collect::<Vec<_>>()
        .join(" and ")
}

/// A file name made of the label, safe on every system, or of the sizes when there is none.
#[must_use]
pub fn file_name(draft: &Draft, ending: &str) -> String {
    let kept: String = draft
        .label
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || c == '-' {
                c
            } else {
                ' '
            }
        })
        .collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    let name = if words.is_empty() {
        String::from("template")
    } else {
        words.join("-")
    };
    format!("cope-{name}.{ending}")
}
