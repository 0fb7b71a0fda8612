//! Printed sheets taped together, crosses on crosses, into the strip they show.

use std::collections::BTreeMap;

use crate::fit::Strip;
use crate::pdf::{Point, distance};
use crate::printed::{Sheet, Tile};

/// How exactly crosses must lie on each other, mm.
const SAME: f64 = 0.02;
/// The caption of what ties the strip to the joint.
const CENTRE: &str = "Mark line to joint centre";

/// The strip that the sheets of a packet show, taped together where there are several.
///
/// # Panics
/// When a tile cannot be laid on its neighbours, or nobody says where the joint centre is.
#[track_caller]
#[must_use]
pub fn strip(sheets: &[Sheet]) -> Strip {
    let moved = taped(sheets);
    let shown = |read: fn(&Sheet) -> Vec<Point>| -> Vec<Point> {
        let places = sheets.iter().zip(&moved).filter_map(|(sheet, by)| {
            let by = (*by)?;
            Some(read(sheet).into_iter().map(move |at| plus(at, by)))
        });
        places.flatten().collect()
    };
    let cut = sheets.iter().zip(&moved).filter_map(|(sheet, by)| {
        let by = (*by)?;
        let lines = sheet.cut_lines().into_iter();
        Some(lines.map(move |line| line.into_iter().map(|at| plus(at, by)).collect()))
    });
    let cut = cut.flatten().collect();
    let zero_lines = shown(|sheet| sheet.zero_lines().into_iter().map(|x| [x, 0.0]).collect());
    let marks = shown(|sheet| sheet.mark_line().map(|y| [0.0, y]).into_iter().collect());
    let (once_round, zero) = reach(zero_lines.iter().map(|at| at[0]));
    let (_, mark) = reach(marks.iter().map(|at| at[1]));
    let told = sheets
        .iter()
        .find(|sheet| sheet.fact(CENTRE).is_some())
        .expect("a sheet that tells the facts");
    Strip {
        cut,
        zero,
        once_round,
        mark,
        mark_to_centre: told.length(CENTRE),
    }
}

/// How far each sheet must be moved so that its crosses lie on those of its neighbours; `None` for
/// a sheet that shows nothing of the strip.
#[track_caller]
fn taped(sheets: &[Sheet]) -> Vec<Option<Point>> {
    if !sheets.iter().any(|sheet| sheet.tile().is_some()) {
        let shows = |sheet: &Sheet| sheet.mark_line().map(|_| [0.0, 0.0]);
        return sheets.iter().map(shows).collect();
    }
    let tiles: BTreeMap<(usize, usize), usize> = sheets
        .iter()
        .enumerate()
        .filter_map(|(i, sheet)| sheet.tile().map(|Tile { column, row }| ((row, column), i)))
        .collect();
    let mut moved: Vec<Option<Point>> = vec![None; sheets.len()];
    let (_, &first) = tiles.first_key_value().unwrap();
    moved[first] = Some([0.0, 0.0]);
    // Any tile may be the one with a neighbour that already lies, so look again until all do.
    for _ in 0..tiles.len() {
        for (&(row, column), &i) in &tiles {
            if moved[i].is_some() {
                continue;
            }
            // The neighbour's place, along which axis it lies, and whether it comes before.
            let neighbours = [
                ((row, column - 1), 0, true),
                ((row - 1, column), 1, true),
                ((row, column + 1), 0, false),
                ((row + 1, column), 1, false),
            ];
            let mut fits = neighbours.into_iter().filter_map(|(at, axis, before)| {
                let j = *tiles.get(&at)?;
                let by = moved[j]?;
                let there = edge(&sheets[j].crosses(), axis, before);
                let there: Vec<Point> = there.into_iter().map(|at| plus(at, by)).collect();
                laid(&edge(&sheets[i].crosses(), axis, !before), &there)
            });
            moved[i] = fits.next();
        }
    }
    for ((row, column), i) in tiles {
        assert!(
            moved[i].is_some(),
            "column {column}, row {row} has no crosses to lay on those of a neighbour"
        );
    }
    moved
}

/// The crosses furthest along an axis, or furthest back.
fn edge(crosses: &[Point], axis: usize, far: bool) -> Vec<Point> {
    let (low, high) = reach(crosses.iter().map(|at| at[axis]));
    let limit = if far { high } else { low };
    let at_edge = |at: &&Point| (at[axis] - limit).abs() < SAME;
    crosses.iter().filter(at_edge).copied().collect()
}

/// The move that lays most crosses on crosses, at least two of them.
fn laid(crosses: &[Point], there: &[Point]) -> Option<Point> {
    let moves = crosses
        .iter()
        .flat_map(|from| there.iter().map(|to| [to[0] - from[0], to[1] - from[1]]));
    let meeting = |by: Point| {
        let lies = |cross: &&Point| {
            there
                .iter()
                .any(|to| distance(plus(**cross, by), *to) < SAME)
        };
        crosses.iter().filter(lies).count()
    };
    let (count, by) = moves
        .map(|by| (meeting(by), by))
        .max_by_key(|(count, _)| *count)?;
    (count >= 2).then_some(by)
}

fn plus(a: Point, b: Point) -> Point {
    [a[0] + b[0], a[1] + b[1]]
}

fn reach(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    })
}
