//! What the template tells to measure, as name and value: for the page and the sheet.

use crate::job::Draft;
use crate::job::words::{main_in_words, offset_in_words, place_in_words};
use crate::joint::{MAINS_MAX, Main};
use crate::piece::Station;
use crate::units::{Angle, Length, write_angle, write_length};

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
    let mut facts = vec![
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
    ];
    let mut add = |name, value| facts.push(Fact { name, value });
    let has_offset = |main: &Main| !main.is_plane();
    if has_offset(joint.main()) {
        add("Offset", offset_in_words(template, joint.main(), unit));
    }
    for (name, main) in FURTHER.into_iter().zip(joint.mains().skip(1)) {
        let mut value = format!(
            "{} at {}, {}",
            main_in_words(main, unit),
            write_angle(main.included_angle()),
            place_in_words(main, unit)
        );
        if has_offset(main) && main.offset() != Length::ZERO {
            value.push_str(", offset ");
            value.push_str(&offset_in_words(template, main, unit));
        }
        add(name, value);
    }
    let ridges: Vec<Angle> = template
        .cope()
        .ridges()
        .iter()
        .map(|ridge| (ridge.turn + template.heel_turn()).within_turn())
        .collect();
    if !ridges.is_empty() {
        add("From main to main at turn", angles(ridges.into_iter()));
    }
    facts
}

/// Names of the mains behind the first.
const FURTHER: [&str; MAINS_MAX - 1] = ["Main 2", "Main 3", "Main 4", "Main 5", "Main 6"];

fn turns(stations: &[Station]) -> String {
    angles(stations.iter().map(|station| station.turn))
}

fn angles(turns: impl Iterator<Item = Angle>) -> String {
    turns.map(write_angle).collect::<Vec<_>>().join(" and ")
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
