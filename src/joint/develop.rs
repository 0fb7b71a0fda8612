//! A straight main's surface laid flat: distance round its section, for a template that is put on
//! the main.
//!
//! A straight main is a cylinder on its section's outline, and so it is laid flat without a stretch:
//! distances along it stay, distances across it become lengths along the outline. Paper that is
//! bent round a corner keeps its length in the middle of its thickness t, so that an arc of radius
//! r takes (r + t / 2) per radian.

use crate::joint::{Main, Outline, Part, Shape, Stretch, Surface};
use crate::units::{Length, limited};

/// What the zero line of a main is scribed by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MainZero {
    /// The line of a round tube that faces the branch: where it is nearest when seen along the
    /// common perpendicular of the axes.
    Facing,
    /// The middle of the face of a rectangular tube that looks towards the branch most.
    FaceMiddle,
    /// On a plate, the line through the joint centre in the direction that the branch leans to.
    Lean,
}

/// The upper outline of a straight main, laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct Developed {
    /// Each stretch, with where it begins round the section, mm from the zero line.
    parts: Vec<(Stretch, f64)>,
    half_paper: f64,
    zero: MainZero,
    zero_across: f64,
    /// Once round the whole section on the paper, mm; `None` for a plate.
    girth: Option<f64>,
}

impl Developed {
    /// The surface of a main as it is, without any root gap, on paper of a thickness; `None` for
    /// one that cannot be laid flat (a bend) and for one that has no surface of its own to land on
    /// (the other tube of a mitre).
    #[must_use]
    pub fn new(main: &Main, paper: Length) -> Option<Self> {
        let bare = main.grown(Length::ZERO).ok()?;
        let Surface::Straight(outline) = bare.surface() else {
            return None;
        };
        let half_paper = paper.mm() / 2.0;
        let (zero, zero_across) = match bare.shape() {
            Shape::Round { .. } => (MainZero::Facing, 0.0),
            Shape::Plate => (MainZero::Lean, 0.0),
            Shape::Rectangular(section) => {
                let (across, _) = section.facing_middle();
                (MainZero::FaceMiddle, across.mm())
            }
            Shape::Mitre { .. } | Shape::Bent { .. } => return None,
        };
        let girth = match bare.shape() {
            Shape::Round { radius } => Some((radius.mm() + half_paper) * std::f64::consts::TAU),
            Shape::Rectangular(section) => {
                let straight = section.width() + section.height() - section.corner() * 4.0;
                let corners = (section.corner().mm() + half_paper) * std::f64::consts::TAU;
                Some(straight.mm() * 2.0 + corners)
            }
            _ => None,
        };
        let mut laid = Self {
            parts: laid(outline, half_paper),
            half_paper,
            zero,
            zero_across,
            girth,
        };
        let at_zero = laid.around(zero_across)?;
        for (_, begins) in &mut laid.parts {
            *begins -= at_zero;
        }
        Some(laid)
    }

    /// What the zero line is scribed by.
    #[must_use]
    pub const fn zero(&self) -> MainZero {
        self.zero
    }

    /// Where the zero line lies across from the axis.
    #[must_use]
    pub const fn zero_across(&self) -> Length {
        Length::from_mm(self.zero_across)
    }

    /// Once round the section on the paper; `None` for a plate.
    #[must_use]
    pub fn girth(&self) -> Option<Length> {
        self.girth.map(Length::from_mm)
    }

    /// The stretches from left to right.
    pub fn stretches(&self) -> impl Iterator<Item = &Stretch> {
        self.parts.iter().map(|(stretch, _)| stretch)
    }

    /// The stretch of that number.
    #[must_use]
    pub fn stretch(&self, number: usize) -> Option<&Stretch> {
        self.parts.get(number).map(|(stretch, _)| stretch)
    }

    /// Distance round the section from the zero line to a place across, mm, growing to the +side;
    /// `None` beside the section.
    #[must_use]
    pub fn around(&self, across: f64) -> Option<f64> {
        let number = self.number_at(across)?;
        Some(self.around_on(number, across))
    }

    /// The number of the stretch at a place across.
    #[must_use]
    pub fn number_at(&self, across: f64) -> Option<usize> {
        self.parts
            .iter()
            .position(|(stretch, _)| across >= stretch.from && across <= stretch.to)
    }

    /// The same on the stretch of a number, which a place at its very end belongs to as well.
    #[must_use]
    pub fn around_on(&self, number: usize, across: f64) -> f64 {
        self.parts.get(number).map_or(0.0, |(stretch, begins)| {
            begins + run(stretch, self.half_paper, across)
        })
    }

    /// Radius of the middle of the paper on an arc of radius `radius`, mm.
    #[must_use]
    pub fn on_paper(&self, radius: f64) -> f64 {
        radius + self.half_paper
    }

    /// Where a flat face passes into a corner, mm from the zero line: lines to fold along.
    #[must_use]
    pub fn folds(&self) -> Vec<f64> {
        let meets = self.parts.windows(2).filter_map(|pair| match pair {
            [(before, begins), (after, after_begins)] => {
                let ends = begins + run(before, self.half_paper, before.to);
                let arcs = [before, after].map(|one| matches!(one.part, Part::Arc { .. }));
                (arcs != [true, true]).then(|| f64::midpoint(ends, *after_begins))
            }
            _ => None,
        });
        meets.collect()
    }
}

/// The stretches with their beginnings, counted from the first.
fn laid(outline: &Outline, half_paper: f64) -> Vec<(Stretch, f64)> {
    let mut begins = 0.0;
    let mut parts = Vec::new();
    let mut leaves: Option<f64> = None;
    for stretch in outline.stretches() {
        // A sharp corner has no arc on the metal, but the paper goes round it.
        if let Some(leaves) = leaves {
            begins += half_paper * (normal(stretch, stretch.from) - leaves).max(0.0);
        }
        // A plate begins infinitely far away: count from its middle.
        if stretch.from.is_finite() {
            parts.push((*stretch, begins));
            begins += run(stretch, half_paper, stretch.to);
        } else {
            parts.push((*stretch, 0.0));
        }
        leaves = Some(normal(stretch, stretch.to));
    }
    parts
}

/// Direction of the outline's normal at a place across, rad from up towards the right.
fn normal(stretch: &Stretch, across: f64) -> f64 {
    match stretch.part {
        Part::Arc {
            across: centre,
            radius,
            ..
        } => {
            let aside = limited(across - centre, -radius, radius);
            // Near ±90° the arc sine of their ratio would lose half its digits.
            aside.atan2(((radius - aside) * (radius + aside)).sqrt())
        }
        Part::Face { slope, .. } => -slope.atan(),
    }
}

/// Length on the paper from where a stretch begins to a place across on it, mm.
fn run(stretch: &Stretch, half_paper: f64, across: f64) -> f64 {
    match stretch.part {
        Part::Arc { radius, .. } => {
            (normal(stretch, across) - normal(stretch, stretch.from)) * (radius + half_paper)
        }
        Part::Face { slope, .. } if stretch.from.is_finite() => {
            (across - stretch.from) * slope.hypot(1.0)
        }
        Part::Face {
            across: middle,
            slope,
            ..
        } => (across - middle) * slope.hypot(1.0),
    }
}
