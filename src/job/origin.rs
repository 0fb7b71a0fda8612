//! Where the numbers that stand in the form come from: published tables, or the usual case.

use crate::job::{Field, Typed};
use crate::stock::{Kind, suggestions, wall_suggestions};
use crate::units::{Length, read_length};

/// A typed size within this of a published one is that one.
const SAME: Length = Length::from_mm(0.02);

/// What the published tables call the sizes in the form, one sentence each; nothing for sizes that
/// are in no table.
#[must_use]
pub fn origins(typed: &Typed) -> Vec<String> {
    let read = |field| read_length(typed.text(field).unwrap_or_default(), typed.unit).ok();
    let branch = read(Field::Branch);
    let tables = [
        (
            Field::Branch,
            "Branch",
            suggestions(Kind::BranchDiameter, typed.unit),
        ),
        (
            Field::Wall,
            "Wall",
            branch.map_or_else(Vec::new, |outside| wall_suggestions(outside, typed.unit)),
        ),
        (
            Field::Main,
            "Main",
            suggestions(Kind::MainDiameter, typed.unit),
        ),
    ];
    let mut told: Vec<String> = tables
        .into_iter()
        .filter_map(|(field, name, table)| {
            let size = read(field)?;
            let entry = table
                .into_iter()
                .find(|entry| (entry.length - size).abs() <= SAME)?;
            Some(format!("{name}: {}.", entry.note))
        })
        .collect();
    if is_untouched(typed) {
        told.insert(
            0,
            String::from("Usual numbers stand here until you type yours."),
        );
    }
    told
}

/// Whether every dimension is still the usual case's.
fn is_untouched(typed: &Typed) -> bool {
    let usual = Typed::usual(typed.unit);
    [
        Field::Branch,
        Field::Wall,
        Field::Main,
        Field::Angle,
        Field::Offset,
    ]
    .into_iter()
    .all(|field| typed.text(field) == usual.text(field))
}
