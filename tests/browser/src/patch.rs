//! The paper for the main as it is printed, and how it lies on the main when it is put there.

use crate::pdf::{Point, distance};
use crate::printed::Sheet;

/// Pens of the paper for the main, mm.
const OUTLINE_PEN: f64 = 0.4;
const HOLE_PEN: f64 = 0.28;
const MARK_PEN: f64 = 0.25;
/// Length of a tick, mm.
const TICK: f64 = 3.0;
/// Lines that should touch may be this far apart, mm: what Chromium rounds away.
const TOUCH: f64 = 0.02;

/// The paper, in lengths along the main from the joint centre (to the heel side) and round it from
/// the zero line (to the left for someone who looks along the main to the heel side).
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Lines of the branch's outside.
    pub outline: Vec<Vec<Point>>,
    /// Lines of the hole.
    pub hole: Vec<Vec<Point>>,
    /// Where the quarter lines of the branch land, with their turns as printed, degrees.
    pub ticks: Vec<(Point, f64)>,
}

impl Patch {
    /// Takes the paper off a sheet.
    ///
    /// # Panics
    /// When the sheet has no mark line, no zero line or no distance to the joint centre.
    #[must_use]
    pub fn new(sheet: &Sheet) -> Self {
        let told = sheet.fact("Joint centre to mark line").unwrap();
        let to_centre = sheet.length("Joint centre to mark line");
        let side = if told.contains("to the toe side") {
            -1.0
        } else {
            1.0
        };
        let thin = sheet.lines_of_pen(MARK_PEN);
        let upright = |line: &&Vec<Point>| {
            line.len() == 2
                && (line[0][0] - line[1][0]).abs() < TOUCH
                && distance(line[0], line[1]) > 8.0
        };
        let mark = thin.iter().filter(upright).map(|line| line[0][0]);
        let mark = mark.min_by(f64::total_cmp).expect("a mark line");
        let zero = *sheet.level_zero_lines().first().expect("a zero line");
        let place = |p: Point| [p[0] - mark + side * to_centre, zero - p[1]];
        let placed = |pen: f64| -> Vec<Vec<Point>> {
            let lines = sheet.lines_of_pen(pen).into_iter();
            lines
                .map(|line| line.into_iter().map(place).collect())
                .collect()
        };
        let outline = placed(OUTLINE_PEN);
        let on_outline = |p: Point| {
            let chords = outline.iter().flat_map(|line| line.windows(2));
            let distances = chords.map(|chord| off_chord(p, chord[0], chord[1]));
            distances.fold(f64::INFINITY, f64::min)
        };
        let turns = sheet.turns();
        let ticks = thin
            .iter()
            .filter(|line| line.len() == 2 && (distance(line[0], line[1]) - TICK).abs() < TOUCH)
            .map(|line| [line[0], line[1]])
            .filter(|[from, _]| on_outline(place(*from)) < TOUCH)
            .filter_map(|[from, to]| {
                let nearest = turns
                    .iter()
                    .min_by(|a, b| distance(a.0, to).total_cmp(&distance(b.0, to)))?;
                Some((place(from), nearest.1))
            })
            .collect();
        Self {
            hole: placed(HOLE_PEN),
            ticks,
            outline,
        }
    }

    /// The paper printed the wrong way round.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let line = |line: &Vec<Point>| line.iter().map(|[x, y]| [*x, -y]).collect();
        Self {
            outline: self.outline.iter().map(line).collect(),
            hole: self.hole.iter().map(line).collect(),
            ticks: self
                .ticks
                .iter()
                .map(|([x, y], turn)| ([*x, -y], *turn))
                .collect(),
        }
    }
}

/// Distance of a point from a chord.
fn off_chord(p: Point, a: Point, b: Point) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let from = [p[0] - a[0], p[1] - a[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    let part = (from[0] * along[0] + from[1] * along[1]) / square.max(f64::MIN_POSITIVE);
    let foot = [a[0] + along[0] * part, a[1] + along[1] * part];
    let ends = distance(p, a).min(distance(p, b));
    if part > 0.0 && part < 1.0 {
        distance(p, foot)
    } else {
        ends
    }
}
