//! The joint in words, the same on the page and on the sheet.

use crate::joint::{Main, Shape};
use crate::piece::Template;
use crate::units::{Angle, Length, Unit, write_angle, write_bare, write_length};

/// The joint in one line, such as `branch 42.4 mm on 48.3 mm round tube at 60°`.
#[must_use]
pub fn joint_in_words(template: &Template, unit: Unit) -> String {
    let joint = template.cope().joint();
    let seats: Vec<String> = joint
        .mains()
        .map(|main| seat_in_words(main, unit))
        .collect();
    format!(
        "branch {} {}",
        write_length(joint.branch().outside(), unit),
        seats.join(" and ")
    )
}

/// How the branch sits on a main: `on a flat plate at 60°`, `mitred to 48.3 mm tube at 90°`.
#[must_use]
pub fn seat_in_words(main: &Main, unit: Unit) -> String {
    let how = match main.shape() {
        Shape::Mitre { .. } => "mitred to",
        Shape::Plate | Shape::Bent { .. } => "on a",
        Shape::Round { .. } | Shape::Rectangular(_) => "on",
    };
    format!(
        "{how} {} at {}",
        main_in_words(main, unit),
        write_angle(main.included_angle())
    )
}

/// What a main is, with its sizes: `48.3 mm round tube`, `flat plate`, `50 × 30 mm rectangular
/// tube`, `bent 48.3 mm tube`; of a mitre the other tube.
#[must_use]
pub fn main_in_words(main: &Main, unit: Unit) -> String {
    match main.shape() {
        Shape::Round { radius } => format!("{} round tube", write_length(*radius * 2.0, unit)),
        Shape::Plate => String::from("flat plate"),
        Shape::Mitre { radius } => format!("{} tube", write_length(*radius * 2.0, unit)),
        Shape::Bent { radius, .. } => format!("bent {} tube", write_length(*radius * 2.0, unit)),
        Shape::Rectangular(section) => {
            let (width, height) = (section.width(), section.height());
            let square = width == height;
            let turned = match section.roll().within_turn() {
                roll if roll == Angle::ZERO => String::new(),
                roll => format!(" turned {}", write_angle(roll)),
            };
            // A tape fraction has its mark on each number, other units stand once at the end.
            let first = match unit {
                Unit::Fraction(_) => write_length,
                Unit::Millimetre | Unit::Inch => write_bare,
            };
            format!(
                "{} × {} {} tube{turned}",
                first(width, unit),
                write_length(height, unit),
                if square { "square" } else { "rectangular" }
            )
        }
    }
}

/// Where a further main is: `turned 180° from main 1, 5 mm along the branch`.
#[must_use]
pub fn place_in_words(main: &Main, unit: Unit) -> String {
    let turned = format!("turned {} from main 1", write_angle(main.turn()));
    let shift = main.shift();
    if shift == Length::ZERO {
        return turned;
    }
    let which = if shift > Length::ZERO {
        "up the branch"
    } else {
        "down the branch"
    };
    format!("{turned}, {} {which}", write_length(shift.abs(), unit))
}

/// The offset of a main with its side, told by a line that is on the template; `none` without one.
///
/// A positive offset puts the main on the +y side, a quarter turn on from the heel.
#[must_use]
pub fn offset_in_words(template: &Template, main: &Main, unit: Unit) -> String {
    let offset = main.offset();
    if offset == Length::ZERO {
        return String::from("none");
    }
    let quarter = Angle::QUARTER * offset.mm().signum();
    format!(
        "{}, main towards the {} line",
        write_length(offset.abs(), unit),
        write_angle((template.heel_turn() + main.turn() + quarter).within_turn())
    )
}
