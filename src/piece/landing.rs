//! The template for the main: where the branch lands on it, laid flat.
//!
//! On paper the printed side faces out. *Along* runs along the main, growing to the heel side, from
//! where the branch's axis comes nearest to the main's; *around* runs round the main from its zero
//! line, growing to the +side. With q the place across the main and H its outline's height
//! ([`crate::joint::Outline`]), the generator of wall radius ρ at the turn φ meets the main at
//! q = ρ sin φ − e, along = (ρ cos φ + H(q) cos θ) / sin θ.

use crate::cope::{Cope, CutMethod};
use crate::joint::{Developed, Joint, Main, MainZero, Shape};
use crate::piece::rim::Rim;
use crate::units::{Angle, Length};

/// Least paper kept between the outline and the edges of the template.
pub const LANDING_MARGIN: Length = Length::from_mm(12.0);

/// A place on the template for the main.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LandingPoint {
    /// Along the main from the joint centre, growing to the heel side.
    pub along: Length,
    /// Round the main from its zero line, growing to the +side.
    pub around: Length,
}

/// A run of an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct LandingRun {
    /// Whether the branch sits on this main here; elsewhere another main is met before it.
    pub seated: bool,
    /// At least two points; a run that goes all the way round ends where it starts.
    pub points: Vec<LandingPoint>,
}

impl LandingRun {
    /// Whether it goes all the way round.
    #[must_use]
    pub fn is_ring(&self) -> bool {
        self.points.first() == self.points.last()
    }
}

/// A generator of the branch where it lands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LandingMark {
    /// Turn round the branch from its zero line.
    pub turn: Angle,
    /// Where it lands.
    pub point: LandingPoint,
}

/// Why there is no template for a main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoLanding {
    /// The other tube of a mitre is cut itself.
    Mitre,
    /// A bend cannot be laid flat.
    Bent,
    /// Nothing of the branch reaches this main before another.
    Untouched,
}

impl NoLanding {
    /// The reason, and what to do, for the main of that number, counted from 1.
    #[must_use]
    pub fn sentence(self, main: usize) -> String {
        match self {
            Self::Mitre => String::from(
                "A mitre has no outline on the other tube: that tube is cut as well. For its \
                 template type its sizes as the branch's, with the same angle.",
            ),
            Self::Bent => format!(
                "Main {main} is bent, and paper does not lie flat on a bend: no outline for it. Set \
                 the coped branch on it and scribe round."
            ),
            Self::Untouched => {
                format!("The branch does not sit on main {main}: no outline for it.")
            }
        }
    }
}

/// The template for a main.
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    number: usize,
    main: Main,
    developed: Developed,
    outside: Vec<LandingRun>,
    hole: Vec<LandingRun>,
    marks: Vec<LandingMark>,
    heel: Option<LandingPoint>,
    toe: Option<LandingPoint>,
    axis: Option<LandingPoint>,
    mark: Length,
    from_end: Option<Length>,
}

impl Landing {
    /// Where the branch of a joint lands on its main of that number, counted from 0, on paper of a
    /// thickness; `heel_turn` is the turn of the heel from the branch's zero line.
    ///
    /// # Errors
    /// A main that cannot be laid flat, or that the branch does not sit on.
    pub fn new(
        joint: &Joint,
        number: usize,
        heel_turn: Angle,
        paper: Length,
    ) -> Result<Self, NoLanding> {
        let main = joint.mains().nth(number).ok_or(NoLanding::Untouched)?;
        let developed = Developed::new(main, paper).ok_or(match main.shape() {
            Shape::Mitre { .. } => NoLanding::Mitre,
            _ => NoLanding::Bent,
        })?;
        let branch = joint.branch();
        let outline = |radius: Length, method: CutMethod| {
            // A wall radius that passes beside all mains has no outline.
            let Ok(cope) = Cope::new(joint, method, Length::ZERO) else {
                return Vec::new();
            };
            let on = Rim::new(main, &developed, radius);
            on.runs(&cope.arcs_on(number))
        };
        let outside = outline(branch.outside_radius(), CutMethod::Saw);
        if !outside.iter().any(|run| run.seated) {
            return Err(NoLanding::Untouched);
        }
        // Only a ring that lies all on this main is a hole in it; lines that run out over its sides
        // would cut it in two.
        let mut hole = outline(branch.bore_radius(), CutMethod::Bore);
        hole.retain(|run| run.seated && run.is_ring());
        let rim = Rim::new(main, &developed, branch.outside_radius());
        let marks = (0..4)
            .filter_map(|quarter| {
                let turn = Angle::QUARTER * f64::from(quarter);
                let point = rim.at((turn - heel_turn - main.turn()).within_turn().rad())?;
                Some(LandingMark { turn, point })
            })
            .collect();
        let (heel, toe) = (rim.at(0.0), rim.at(Angle::HALF.rad()));
        let axis = Rim::new(main, &developed, Length::ZERO).at(0.0);
        let landing = Self {
            number,
            main: main.clone(),
            outside,
            hole,
            marks,
            heel,
            toe,
            axis,
            developed,
            mark: Length::ZERO,
            from_end: None,
        };
        Ok(landing.marked(None, Length::from_mm(10.0)))
    }

    /// The same template with its mark line, its straight edge on the toe side, a whole number of
    /// `step`s from the joint centre; or from the main's end on that side, when the distance
    /// `from_end` of that end to the joint centre is given.
    #[must_use]
    pub fn marked(self, from_end: Option<Length>, step: Length) -> Self {
        let first = self.reach().0.along - LANDING_MARGIN;
        let from = from_end.unwrap_or_default();
        let steps = ((first + from) / step).floor();
        Self {
            mark: step * steps - from,
            from_end,
            ..self
        }
    }

    /// Where the mark line lies, along from the joint centre: below 0 on its toe side.
    #[must_use]
    pub const fn mark(&self) -> Length {
        self.mark
    }

    /// Distance of the mark line from the main's end on the toe side, where that was given; below 0
    /// when it lies beyond the end.
    #[must_use]
    pub fn mark_from_end(&self) -> Option<Length> {
        self.from_end.map(|from_end| from_end + self.mark)
    }

    /// Which main it is for, counted from 0.
    #[must_use]
    pub const fn number(&self) -> usize {
        self.number
    }

    /// The main it is for.
    #[must_use]
    pub const fn main(&self) -> &Main {
        &self.main
    }

    /// What the main's zero line is scribed by.
    #[must_use]
    pub const fn zero(&self) -> MainZero {
        self.developed.zero()
    }

    /// Where the zero line lies across the main from its axis, growing to the +side.
    #[must_use]
    pub const fn zero_across(&self) -> Length {
        self.developed.zero_across()
    }

    /// By how much the outline reaches past the main's end on the toe side, where that is given.
    #[must_use]
    pub fn past_end(&self) -> Option<Length> {
        let past = -(self.from_end? + self.reach().0.along);
        (past > Length::ZERO).then_some(past)
    }

    /// Once round the main on paper; `None` for a plate.
    #[must_use]
    pub fn girth(&self) -> Option<Length> {
        self.developed.girth()
    }

    /// Where the faces of a rectangular main pass into its corners, round from the zero line.
    #[must_use]
    pub fn folds(&self) -> Vec<Length> {
        let folds = self.developed.folds();
        folds.into_iter().map(Length::from_mm).collect()
    }

    /// The outline of the branch's outside.
    #[must_use]
    pub fn outside(&self) -> &[LandingRun] {
        &self.outside
    }

    /// The outline of its bore, the hole for flow: one ring, or nothing where the bore is not all
    /// over this main.
    #[must_use]
    pub fn hole(&self) -> &[LandingRun] {
        &self.hole
    }

    /// Where the quarter lines of the branch land, as far as they do.
    #[must_use]
    pub fn marks(&self) -> &[LandingMark] {
        &self.marks
    }

    /// Where the heel of the branch on this main lands, and its toe; `None` where it passes beside.
    #[must_use]
    pub const fn heel_and_toe(&self) -> (Option<LandingPoint>, Option<LandingPoint>) {
        (self.heel, self.toe)
    }

    /// Where the branch's axis meets the main; `None` where it passes beside.
    #[must_use]
    pub const fn axis(&self) -> Option<LandingPoint> {
        self.axis
    }

    /// Least and greatest place of the outline where the branch sits on this main.
    #[must_use]
    pub fn reach(&self) -> (LandingPoint, LandingPoint) {
        let seated = self.outside.iter().filter(|run| run.seated);
        let points = seated.flat_map(|run| &run.points);
        let (mut low, mut high) = (
            LandingPoint {
                along: Length::from_mm(f64::INFINITY),
                around: Length::from_mm(f64::INFINITY),
            },
            LandingPoint {
                along: Length::from_mm(f64::NEG_INFINITY),
                around: Length::from_mm(f64::NEG_INFINITY),
            },
        );
        for point in points {
            low.along = low.along.min(point.along);
            low.around = low.around.min(point.around);
            high.along = high.along.max(point.along);
            high.around = high.around.max(point.around);
        }
        (low, high)
    }
}
