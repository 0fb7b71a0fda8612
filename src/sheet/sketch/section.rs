//! The section of a straight main, or of a bent one at the landing, as a polygon to look at.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::joint::{Main, RectangularSection, Shape};

/// Chords of a whole turn.
const CHORDS: u32 = 240;

/// A closed convex outline, places (side, up) from the main's axis, mm, counter-clockwise.
pub struct Section(pub Vec<(f64, f64)>);

/// The section of a main; none for a plate, and of a mitre that of the other tube.
pub fn of(main: &Main) -> Option<Section> {
    match main.shape() {
        Shape::Plate => None,
        Shape::Round { radius } | Shape::Mitre { radius } | Shape::Bent { radius, .. } => {
            Some(Section(arc((0.0, 0.0), radius.mm(), 0.0, TAU, CHORDS)))
        }
        Shape::Rectangular(section) => Some(rectangle(section)),
    }
}

fn arc((x, y): (f64, f64), radius: f64, from: f64, to: f64, chords: u32) -> Vec<(f64, f64)> {
    (0..=chords)
        .map(|step| from + (to - from) * f64::from(step) / f64::from(chords))
        .map(|angle| (x + radius * angle.cos(), y + radius * angle.sin()))
        .collect()
}

fn rectangle(section: &RectangularSection) -> Section {
    let corners = corners(section);
    let radius = section.corner().mm();
    let points = corners
        .iter()
        .flat_map(|corner| {
            let chords = if radius > 0.0 { CHORDS / 4 } else { 0 };
            if chords == 0 {
                return vec![corner.centre];
            }
            arc(
                corner.centre,
                radius,
                corner.normal,
                corner.normal + FRAC_PI_2,
                chords,
            )
        })
        .collect();
    Section(points)
}

/// A corner of a rectangular section: centre of its rounding, and the direction of the normal where
/// the rounding begins, counter-clockwise; it goes on for a quarter turn.
pub struct Corner {
    pub centre: (f64, f64),
    pub normal: f64,
}

/// The four corners, counter-clockwise.
pub fn corners(section: &RectangularSection) -> [Corner; 4] {
    let (w, h) = (section.width().mm() / 2.0, section.height().mm() / 2.0);
    let radius = section.corner().mm();
    let roll = section.roll().rad();
    let (sin, cos) = roll.sin_cos();
    [
        (1.0, 1.0, 0.0),
        (-1.0, 1.0, 1.0),
        (-1.0, -1.0, 2.0),
        (1.0, -1.0, 3.0),
    ]
    .map(|(v, u, quarter)| {
        let (v, u) = (v * (w - radius), u * (h - radius));
        Corner {
            centre: (v * cos - u * sin, v * sin + u * cos),
            normal: roll + quarter * FRAC_PI_2,
        }
    })
}

impl Section {
    /// The least side at a height, `None` above and below the section.
    pub fn nearest(&self, up: f64) -> Option<f64> {
        self.crossings(up).reduce(f64::min)
    }

    /// Greatest height at a place across; `None` beside the section.
    pub fn top(&self, side: f64) -> Option<f64> {
        let turned = |(side, up): (f64, f64)| (up, side);
        self.edges()
            .filter_map(|(a, b)| crossing(turned(a), turned(b), side))
            .reduce(f64::max)
    }

    fn edges(&self) -> impl Iterator<Item = ((f64, f64), (f64, f64))> + '_ {
        let next = self.0.iter().cycle().skip(1);
        self.0.iter().copied().zip(next.copied())
    }

    fn crossings(&self, up: f64) -> impl Iterator<Item = f64> + '_ {
        self.edges().filter_map(move |(a, b)| crossing(a, b, up))
    }

    /// Largest distances from the axis, to the side and up.
    pub fn reach(&self) -> (f64, f64) {
        self.0.iter().fold((0.0, 0.0), |(side, up), place| {
            (f64::max(side, place.0.abs()), f64::max(up, place.1.abs()))
        })
    }
}

/// Where an edge is at a height.
fn crossing(a: (f64, f64), b: (f64, f64), up: f64) -> Option<f64> {
    let (low, high) = if a.1 <= b.1 { (a, b) } else { (b, a) };
    (low.1 <= up && up <= high.1 && high.1 > low.1)
        .then(|| low.0 + (high.0 - low.0) * (up - low.1) / (high.1 - low.1))
}
