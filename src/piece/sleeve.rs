//! A sleeve to print and slide over the tube, its end the cut line: for marking many ends alike.
//!
//! It stands on its square end as a printer of plastics builds it: z up the tube towards the cut,
//! the origin on the tube's axis in the square end, the zero line at y = 0 on the side of x. Its
//! edge is at one height from its inside to its outside, as the paper's edge is on the tube.

use std::f64::consts::{PI, TAU};
use std::ops::RangeInclusive;

use crate::cope::Point3;
use crate::piece::{PaperPoint, Template};
use crate::units::{LENGTH_LIMIT, Length, Unit, write_length};

/// Furthest that a facet lies from the round, mm.
const FACET: f64 = 0.005;
/// Corners of the edge stand at least this far apart, mm: steps of the line become steep.
const APART: f64 = 0.002;
/// Half the width of the notch at the zero line, and its depth, mm.
const NOTCH: (f64, f64) = (1.0, 3.0);
/// Least of the sleeve below the short point.
const LEAST_BODY: Length = Length::from_mm(8.0);
/// Corners of a section: inside and outside of the square end, outside and inside of the edge.
const CORNERS: usize = 4;

/// How a sleeve is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SleeveSizes {
    /// Room between tube and sleeve, all round.
    pub clearance: Length,
    /// Thickness of the sleeve's wall.
    pub wall: Length,
    /// From the long point to the square end; `None` for a square end on the mark line.
    pub length: Option<Length>,
}

impl SleeveSizes {
    /// What clearance is taken.
    pub const CLEARANCE: RangeInclusive<Length> = Length::ZERO..=Length::from_mm(2.0);
    /// What walls are taken: two lines of a common 0.4 mm nozzle to what no longer bends.
    pub const WALL: RangeInclusive<Length> = Length::from_mm(0.8)..=Length::from_mm(10.0);
}

impl Default for SleeveSizes {
    /// A quarter of a millimetre of room slides over plain tube, and 2.4 mm are six lines of a
    /// 0.4 mm nozzle: common practice, no source.
    fn default() -> Self {
        Self {
            clearance: Length::from_mm(0.25),
            wall: Length::from_mm(2.4),
            length: None,
        }
    }
}

/// A sleeve that cannot be made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SleeveError {
    /// Clearance out of [`SleeveSizes::CLEARANCE`].
    Clearance {
        /// What was asked for.
        is: Length,
    },
    /// A wall out of [`SleeveSizes::WALL`].
    Wall {
        /// What was asked for.
        is: Length,
    },
    /// A sleeve that would end in its own edge.
    Short {
        /// What was asked for.
        is: Length,
        /// The least that holds together.
        least: Length,
    },
    /// A length beyond what is taken.
    Long {
        /// What was asked for.
        is: Length,
    },
}

impl SleeveError {
    /// The refusal in words.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let say = |length: Length| write_length(length, unit);
        let range = |what: &str, is: Length, range: &RangeInclusive<Length>, how: &str| {
            let (least, most) = (say(*range.start()), say(*range.end()));
            format!(
                "{what} is {}. It must be {least} to {most}: {how}.",
                say(is)
            )
        };
        match *self {
            Self::Clearance { is } => range(
                "The sleeve's clearance",
                is,
                &SleeveSizes::CLEARANCE,
                "as much as lets it slide without shaking",
            ),
            Self::Wall { is } => range(
                "The sleeve's wall",
                is,
                &SleeveSizes::WALL,
                "thick enough to print, thin enough to scribe along",
            ),
            Self::Short { is, least } => format!(
                "A sleeve {} long would end before its own edge does: this cut needs {} or more. \
                 Give it that length, or none to let it end on the mark line.",
                say(is),
                say(least)
            ),
            Self::Long { is } => format!(
                "The sleeve is {} long, and nothing here is longer than {}. Give it a length that \
                 your printer can build.",
                say(is),
                say(LENGTH_LIMIT)
            ),
        }
    }
}

/// A sleeve as triangles.
#[derive(Debug, Clone, PartialEq)]
pub struct Sleeve {
    /// Corners, mm.
    pub positions: Vec<Point3>,
    /// Three corners each, counter-clockwise seen from outside; the surface is closed.
    pub triangles: Vec<[u32; 3]>,
    /// Inside diameter.
    pub inside: Length,
    /// Outside diameter.
    pub outside: Length,
    /// From its square end to its long point.
    pub length: Length,
    /// From the mark line to its square end, towards the tube's body; 0 when it ends there.
    pub past_mark: Length,
}

impl Sleeve {
    /// The sleeve of a template. Its edge is the template's line, trimmed part and all; a notch in
    /// the square end shows the zero line scribed on the tube.
    ///
    /// On a tube whose circumference was measured the inside is made from that.
    ///
    /// # Errors
    /// Sizes that make no sleeve.
    pub fn new(template: &Template, sizes: &SleeveSizes) -> Result<Self, SleeveError> {
        let SleeveSizes {
            clearance, wall, ..
        } = *sizes;
        if !SleeveSizes::CLEARANCE.contains(&clearance) {
            return Err(SleeveError::Clearance { is: clearance });
        }
        if !SleeveSizes::WALL.contains(&wall) {
            return Err(SleeveError::Wall { is: wall });
        }
        let length = sizes.length.unwrap_or(template.mark_to_long());
        let least = template.mark_to_long() - template.mark_to_short() + LEAST_BODY;
        if length < least {
            return Err(SleeveError::Short { is: length, least });
        }
        // A range that no number which is none is in.
        if !(least..=LENGTH_LIMIT).contains(&length) {
            return Err(SleeveError::Long { is: length });
        }
        let tube = if template.wrap().is_measured() {
            template.wrap().width() * (1.0 / PI)
        } else {
            template.cope().joint().branch().outside()
        };
        let inside = tube + clearance * 2.0;
        let outside = inside + wall * 2.0;
        let past_mark = length - template.mark_to_long();
        let mut sleeve = Self {
            positions: Vec::new(),
            triangles: Vec::new(),
            inside,
            outside,
            length,
            past_mark,
        };
        let width = template.wrap().width().mm();
        for (around, height) in edge(template, outside.mm() / 2.0) {
            let turn = TAU * around / width;
            let bottom = notch(around.min(width - around));
            let top = height + past_mark.mm();
            sleeve.section(turn, bottom, top);
        }
        sleeve.close();
        Ok(sleeve)
    }

    /// Volume of its material, mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let six: f64 = self
            .triangles
            .iter()
            .map(|triangle| {
                let [a, b, c] = triangle.map(|corner| self.positions[corner as usize]);
                a[0] * (b[1] * c[2] - b[2] * c[1])
                    + a[1] * (b[2] * c[0] - b[0] * c[2])
                    + a[2] * (b[0] * c[1] - b[1] * c[0])
            })
            .sum();
        six / 6.0
    }

    /// Adds the corners of the section at a turn from the zero line. Seen from the cut, turns run
    /// clockwise: on the printed side of the paper they grow to the left.
    fn section(&mut self, turn: f64, bottom: f64, top: f64) {
        let (sin, cos) = turn.sin_cos();
        let (inside, outside) = (self.inside.mm() / 2.0, self.outside.mm() / 2.0);
        for (radius, height) in [
            (inside, bottom),
            (outside, bottom),
            (outside, top),
            (inside, top),
        ] {
            self.positions.push([radius * cos, -radius * sin, height]);
        }
    }

    /// Joins each section to the next and the last to the first.
    fn close(&mut self) {
        let sections = self.positions.len() / CORNERS;
        for section in 0..sections {
            let next = (section + 1) % sections;
            for corner in 0..CORNERS {
                let at = |section: usize, corner: usize| {
                    #[expect(clippy::cast_possible_truncation, reason = "some thousand corners")]
                    let index = (section * CORNERS + corner % CORNERS) as u32;
                    index
                };
                let (a, b) = (at(section, corner), at(next, corner));
                let (c, d) = (at(section, corner + 1), at(next, corner + 1));
                self.triangles.push([a, c, b]);
                self.triangles.push([b, c, d]);
            }
        }
    }
}

/// Height of the square end at a distance along the paper from the zero line, mm.
fn notch(from_zero: f64) -> f64 {
    let (half, depth) = NOTCH;
    (depth * (1.0 - from_zero / half)).max(0.0)
}

/// The edge once round as distances on paper and heights above the mark line, mm: the corners of
/// the printed line, those of the notch, and as many between as a round of this radius needs.
fn edge(template: &Template, radius: f64) -> Vec<(f64, f64)> {
    let width = template.wrap().width().mm();
    // A chord over a turn a has its middle r (1 − cos a/2) inside the round.
    let facet = 2.0 * (1.0 - FACET / radius).acos();
    let longest = width / (TAU / facet).ceil();
    let mut line: Vec<(f64, f64)> = Vec::new();
    for run in template.line() {
        for PaperPoint { around, above_mark } in run.points {
            line.push((around.mm(), above_mark.mm()));
        }
    }
    let mut edge: Vec<(f64, f64)> = Vec::new();
    let half = NOTCH.0;
    for pair in line.windows(2) {
        let &[(x0, y0), (x1, y1)] = pair else {
            continue;
        };
        push(&mut edge, width, (x0, y0));
        let part = |x: f64| y0 + (y1 - y0) * ((x - x0) / (x1 - x0));
        let steps = ((x1 - x0) / longest).ceil().max(1.0);
        let mut own: Vec<f64> = Vec::new();
        let mut step = 1.0;
        while step < steps {
            own.push(x0 + (x1 - x0) * (step / steps));
            step += 1.0;
        }
        let corners = [half, width - half];
        own.extend(corners.into_iter().filter(|x| x0 < *x && *x < x1));
        crate::units::sort_by_number(&mut own, |x| *x);
        for x in own {
            push(&mut edge, width, (x, part(x)));
        }
    }
    edge
}

/// Adds a corner unless it is one that is there already; two heights at one place are set a little
/// apart. The seam at 360° is the corner at 0°.
fn push(edge: &mut Vec<(f64, f64)>, width: f64, (x, y): (f64, f64)) {
    let Some(&(last, height)) = edge.last() else {
        return edge.push((x, y));
    };
    if x > width - APART {
        return;
    }
    if x >= last + APART {
        edge.push((x, y));
    } else if (y - height).abs() > APART {
        edge.push((last + APART, y));
    }
}
