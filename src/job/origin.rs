//! Where the numbers that stand in the form come from: published tables, or the usual case.

use crate::job::{Field, MainField, MainKind, Typed};
use crate::joint::usual_corner;
use crate::stock::{Kind, suggestions, wall_suggestions};
use crate::units::{Length, read_length, write_decimal, write_length};

/// A typed size within this of a published one is that one.
const SAME: Length = Length::from_mm(0.02);

/// What the published tables call the sizes in the form, one sentence each; nothing for sizes that
/// are in no table. Of the mains it tells about number `main`, counted from 0.
#[must_use]
pub fn origins(typed: &Typed, main: usize) -> Vec<String> {
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
            Field::OfMain(main, MainField::Diameter),
            if typed.kind(main) == MainKind::Mitre {
                "Other tube"
            } else {
                "Main"
            },
            suggestions(Kind::MainDiameter, typed.unit),
        ),
    ];
    let mut told: Vec<String> = tables
        .into_iter()
        .filter(|(field, ..)| typed.uses(*field))
        .filter_map(|(field, name, table)| {
            let size = read(field)?;
            let entry = table
                .into_iter()
                .find(|entry| (entry.length - size).abs() <= SAME)?;
            Some(format!("{name}: {}.", entry.note))
        })
        .collect();
    told.extend(corner(typed, main));
    if is_untouched(typed) {
        told.insert(
            0,
            String::from("Usual numbers stand here until you type yours."),
        );
    }
    told
}

/// Where a corner radius that is not typed comes from.
fn corner(typed: &Typed, main: usize) -> Option<String> {
    let field = Field::OfMain(main, MainField::Wall);
    let wall = read_length(typed.text(field).unwrap_or_default(), typed.unit).ok()?;
    let corner = corner_of_wall(typed, main)?;
    Some(format!(
        "Corner radius: {}, {} times the main’s wall as EN 10219-2 has it, until you type the one \
         you measured.",
        write_length(corner, typed.unit),
        write_decimal(corner / wall, 1)
    ))
}

/// The corner radius that a rectangular main has by its wall; `None` where it is typed, or where
/// there is no wall to take it from.
#[must_use]
pub fn corner_of_wall(typed: &Typed, main: usize) -> Option<Length> {
    let text = |field| {
        typed
            .text(Field::OfMain(main, field))
            .unwrap_or_default()
            .trim()
    };
    if typed.kind(main) != MainKind::Rectangular || !text(MainField::Corner).is_empty() {
        return None;
    }
    let wall = read_length(text(MainField::Wall), typed.unit).ok()?;
    (wall > Length::ZERO).then(|| usual_corner(wall))
}

/// Whether every number is still the usual case's.
fn is_untouched(typed: &Typed) -> bool {
    [Field::Branch, Field::Wall]
        .into_iter()
        .chain(Field::all().filter(|field| matches!(field, Field::OfMain(..))))
        .filter(|field| typed.uses(*field))
        .filter_map(|field| Some((field, typed.text(field)?)))
        .all(|(field, text)| text == typed.usual_text(field))
}
