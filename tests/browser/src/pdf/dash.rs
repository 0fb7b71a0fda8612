//! Recovers straight dashed lines, which Chromium prints as rows of filled rectangles.

use super::{Fill, Point, distance};

/// How far corners may lie from a true rectangle, and dashes from one line, in mm. Skia writes
/// coordinates of nine digits, so its own rounding is far below this.
const SLACK_MM: f64 = 0.005;

/// A straight dashed line.
#[derive(Debug, Clone, PartialEq)]
pub struct DashedLine {
    /// Start and end of each dash on the line's centre, in order along it.
    pub dashes: Vec<[Point; 2]>,
    /// Width of the pen in mm.
    pub width_mm: f64,
}

impl DashedLine {
    /// First point of the first dash.
    #[must_use]
    pub fn start(&self) -> Point {
        self.dashes[0][0]
    }

    /// Last point of the last dash (a gap may follow that nobody can see).
    #[must_use]
    pub fn end(&self) -> Point {
        self.dashes[self.dashes.len() - 1][1]
    }

    /// Lengths along the line in mm: dash, gap, dash, and so on to the last dash.
    #[must_use]
    pub fn pattern_mm(&self) -> Vec<f64> {
        let ends: Vec<Point> = self.dashes.iter().flatten().copied().collect();
        ends.windows(2).map(|ab| distance(ab[0], ab[1])).collect()
    }
}

impl Fill {
    /// The dashed lines that this shape consists of, in drawing order; none when an outline is not
    /// a rectangle (a dashed curve, a letter) or stands alone (a single box).
    #[must_use]
    pub fn dashed_lines(&self) -> Vec<DashedLine> {
        let corners = |outline: &Vec<Point>| {
            let corners: [Point; 4] = outline.as_slice().try_into().ok()?;
            is_rectangle(&corners).then_some(corners)
        };
        let Some(boxes) = self
            .outlines
            .iter()
            .map(corners)
            .collect::<Option<Vec<_>>>()
        else {
            return Vec::new();
        };
        let mut lines = Vec::new();
        let mut rest = boxes.as_slice();
        while !rest.is_empty() {
            // Lines of one pen may be painted as one shape: a line ends where the row does.
            let longer = (2..=rest.len()).map_while(|count| row(&rest[..count]));
            match longer.last() {
                Some(line) => {
                    rest = &rest[line.dashes.len()..];
                    lines.push(line);
                }
                None => rest = &rest[1..],
            }
        }
        lines
    }
}

/// The line that boxes make when they are of one width and stand in a straight row.
fn row(boxes: &[[Point; 4]]) -> Option<DashedLine> {
    let (first, last) = (boxes.first()?, boxes.last()?);
    let (from, to) = (centre(first), centre(last));
    let row = distance(from, to);
    if row < SLACK_MM {
        return None;
    }
    let along = [(to[0] - from[0]) / row, (to[1] - from[1]) / row];
    let aside = |p: Point| ((p[0] - from[0]) * along[1] - (p[1] - from[1]) * along[0]).abs();

    let dashes: Vec<[Point; 2]> = boxes.iter().map(|b| middle_line(b, along)).collect();
    let width_mm = 2.0 * aside(first[0]);
    let in_row = |dash: &[Point; 2]| dash.iter().all(|&end| aside(end) < SLACK_MM);
    let same_width = |b: &[Point; 4]| (2.0 * aside(b[0]) - width_mm).abs() < 2.0 * SLACK_MM;
    (dashes.iter().all(in_row) && boxes.iter().all(same_width))
        .then_some(DashedLine { dashes, width_mm })
}

/// Opposite sides equal and both diagonals equal.
fn is_rectangle(c: &[Point; 4]) -> bool {
    let close = |a: f64, b: f64| (a - b).abs() < SLACK_MM;
    close(distance(c[0], c[1]), distance(c[2], c[3]))
        && close(distance(c[1], c[2]), distance(c[3], c[0]))
        && close(distance(c[0], c[2]), distance(c[1], c[3]))
}

fn centre(c: &[Point; 4]) -> Point {
    between(c[0], c[2])
}

fn between(a: Point, b: Point) -> Point {
    [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0]
}

/// From the middle of one end to the middle of the other, in the direction `along`.
fn middle_line(c: &[Point; 4], along: [f64; 2]) -> [Point; 2] {
    let reach = |a: Point, b: Point| (b[0] - a[0]) * along[0] + (b[1] - a[1]) * along[1];
    // The two sides that run along the row join the two ends.
    let (one, other) = if reach(c[0], c[1]).abs() > reach(c[1], c[2]).abs() {
        (between(c[3], c[0]), between(c[1], c[2]))
    } else {
        (between(c[0], c[1]), between(c[2], c[3]))
    };
    if reach(one, other) > 0.0 {
        [one, other]
    } else {
        [other, one]
    }
}
