//! The template for the main: where the branch lands on it, laid flat.
//!
//! On paper the printed side faces out. *Along* runs along the main, growing to the heel side, from
//! where the branch's axis comes nearest to the main's; *around* runs round the main from its zero
//! line, growing to the +side. With q the place across the main and H its outline's height
//! ([`crate::joint::Outline`]), the generator of wall radius ρ at the turn φ meets the main at
//! q = ρ sin φ − e, along = (ρ cos φ + H(q) cos θ) / sin θ.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::cope::{Cope, CutMethod};
use crate::joint::{Developed, Joint, Main, MainZero, Part, Shape};
use crate::piece::LINE_TOLERANCE;
use crate::units::{Angle, Length, sort_by_number};

/// Least paper kept between the outline and the edges of the template.
pub const LANDING_MARGIN: Length = Length::from_mm(12.0);

/// Turns nearer than this are one, rad.
const SAME_TURN: f64 = 1e-12;

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
            let on = Cylinder::new(main, &developed, radius);
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
        let rim = Cylinder::new(main, &developed, branch.outside_radius());
        let marks = (0..4)
            .filter_map(|quarter| {
                let turn = Angle::QUARTER * f64::from(quarter);
                let point = rim.at((turn - heel_turn - main.turn()).within_turn().rad())?;
                Some(LandingMark { turn, point })
            })
            .collect();
        let (heel, toe) = (rim.at(0.0), rim.at(Angle::HALF.rad()));
        let axis = Cylinder::new(main, &developed, Length::ZERO).at(0.0);
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

/// A wall radius of the branch on a main.
struct Cylinder<'a> {
    developed: &'a Developed,
    radius: f64,
    sin: f64,
    cos: f64,
    offset: f64,
    turn: f64,
}

impl<'a> Cylinder<'a> {
    fn new(main: &Main, developed: &'a Developed, radius: Length) -> Self {
        let (sin, cos) = main.sin_cos();
        Self {
            developed,
            radius: radius.mm(),
            sin,
            cos,
            offset: main.offset().mm(),
            turn: main.turn().rad(),
        }
    }

    /// Place across the main at a turn from its own heel.
    fn across(&self, phi: f64) -> f64 {
        self.radius * phi.sin() - self.offset
    }

    /// The point at a turn from the main's own heel; `None` beside the main.
    fn at(&self, phi: f64) -> Option<LandingPoint> {
        let number = self.developed.number_at(self.across(phi))?;
        self.point(number, phi)
    }

    /// The point at a turn that lies on the stretch of a number, or at its end.
    fn point(&self, number: usize, phi: f64) -> Option<LandingPoint> {
        let stretch = self.developed.stretch(number)?;
        let across = self.across(phi).max(stretch.from).min(stretch.to);
        let height = stretch.part.height(across);
        Some(LandingPoint {
            along: Length::from_mm((self.radius * phi.cos() + height * self.cos) / self.sin),
            around: Length::from_mm(self.developed.around_on(number, across)),
        })
    }

    /// The outline once round; `seated` are the turns of the branch at which it sits on the main.
    fn runs(&self, seated: &[(Angle, Angle)]) -> Vec<LandingRun> {
        let stops = self.stops(seated);
        let mut runs: Vec<LandingRun> = Vec::new();
        let mut open = false;
        for pair in stops.windows(2) {
            let &[from, to] = pair else { continue };
            let middle = f64::midpoint(from, to);
            let Some(number) = self.developed.number_at(self.across(middle)) else {
                open = false;
                continue;
            };
            let (Some(first), Some(last)) = (self.point(number, from), self.point(number, to))
            else {
                continue;
            };
            let sits = is_within(middle + self.turn, seated);
            let continued = runs.last_mut().filter(|run| open && run.seated == sits);
            let run = match continued {
                Some(run) => run,
                None => {
                    runs.push(LandingRun {
                        seated: sits,
                        points: Vec::new(),
                    });
                    // Pushed just now.
                    let Some(run) = runs.last_mut() else { continue };
                    run
                }
            };
            // Round a sharp corner the paper has a little way that the metal has not.
            if run.points.last() != Some(&first) {
                run.points.push(first);
            }
            self.walk(number, (from, first), (to, last), &mut run.points);
            open = true;
        }
        // What goes on through the heel is one run.
        let joined = match (runs.first(), runs.last()) {
            (Some(first), Some(last)) if runs.len() > 1 => {
                first.seated == last.seated && near(first.points.first(), last.points.last())
            }
            _ => false,
        };
        if joined
            && let Some(mut last) = runs.pop()
            && let Some(first) = runs.first_mut()
        {
            last.points.extend(first.points.iter().skip(1));
            *first = last;
        }
        // All the way round is a ring, whatever rounding says.
        for run in &mut runs {
            if near(run.points.first(), run.points.last())
                && let (Some(first), Some(last)) =
                    (run.points.first().copied(), run.points.last_mut())
            {
                *last = first;
            }
        }
        runs
    }

    /// Turns from the main's own heel between which nothing changes its kind: neither the stretch,
    /// nor the side of its crest, nor the quarter of the branch, nor the main that is sat on.
    fn stops(&self, seated: &[(Angle, Angle)]) -> Vec<f64> {
        let mut stops: Vec<f64> = [0.0, 1.0, 2.0, 3.0, 4.0].map(|q| q * FRAC_PI_2).to_vec();
        let mut across = Vec::new();
        for stretch in self.developed.stretches() {
            across.extend([stretch.from, stretch.to]);
            if let Part::Arc { across: crest, .. } = stretch.part {
                across.push(crest);
            }
        }
        for q in across {
            let ratio = (q + self.offset) / self.radius;
            if ratio.abs() < 1.0 {
                let turn = ratio.asin();
                stops.push(turn.rem_euclid(TAU));
                stops.push((TAU / 2.0 - turn).rem_euclid(TAU));
            }
        }
        for (from, to) in seated {
            stops.extend([from, to].map(|turn| (turn.rad() - self.turn).rem_euclid(TAU)));
        }
        sort_by_number(&mut stops, |stop| *stop);
        stops.dedup_by(|next, kept| *next - *kept < SAME_TURN);
        stops
    }

    /// Adds the points after `from` up to `to`, so many that no chord leaves the outline by more
    /// than [`LINE_TOLERANCE`].
    fn walk(
        &self,
        number: usize,
        from: (f64, LandingPoint),
        to: (f64, LandingPoint),
        points: &mut Vec<LandingPoint>,
    ) {
        let middle = f64::midpoint(from.0, to.0);
        if middle <= from.0 || middle >= to.0 || self.is_close(number, from, to) {
            points.push(to.1);
            return;
        }
        let Some(point) = self.point(number, middle) else {
            return;
        };
        self.walk(number, from, (middle, point), points);
        self.walk(number, (middle, point), to, points);
    }

    /// Whether the chord over a stretch of turns stays close. Cosine, place across, height and
    /// distance around are monotonic there, so that their values at the ends bound them. Two bounds
    /// are tried: the box that holds the arc, which always gets small, and the greatest second
    /// derivative (chord and curve at the same parameter part by at most h² / 8 of it), which asks
    /// for fewer points where the main is not upright.
    fn is_close(&self, number: usize, a: (f64, LandingPoint), b: (f64, LandingPoint)) -> bool {
        let Some(stretch) = self.developed.stretch(number) else {
            return true;
        };
        let tolerance = LINE_TOLERANCE.mm();
        let across = [a.0, b.0].map(|phi| self.across(phi).max(stretch.from).min(stretch.to));
        let height = across.map(|across| stretch.part.height(across));
        let (sin, cos) = (
            [a.0, b.0].map(|phi| phi.sin().abs()),
            [a.0, b.0].map(f64::cos),
        );
        let wide = (self.radius * (cos[1] - cos[0]).abs()
            + self.cos * (height[1] - height[0]).abs())
            / self.sin;
        let high = (b.1.around - a.1.around).mm().abs();
        if wide.hypot(high) <= tolerance {
            return true;
        }
        // d²/dφ² of height and of distance around; q' = ρ cos φ, q'' = −ρ sin φ.
        let (q1, q2) = (
            self.radius * cos[0].abs().max(cos[1].abs()),
            self.radius * sin[0].max(sin[1]),
        );
        let (height2, around2) = match stretch.part {
            Part::Face { slope, .. } => (slope.abs() * q2, slope.hypot(1.0) * q2),
            Part::Arc {
                across: crest,
                radius,
                ..
            } => {
                let aside = across.map(|q| (q - crest).abs());
                let far = aside[0].max(aside[1]).min(radius);
                let rise = ((radius - far) * (radius + far)).sqrt();
                if rise == 0.0 {
                    return false;
                }
                let (slope, cube) = (far / rise, rise * rise * rise);
                (
                    radius * radius / cube * q1 * q1 + slope * q2,
                    self.developed.on_paper(radius) * (far / cube * q1 * q1 + q2 / rise),
                )
            }
        };
        let along2 = (q1 + self.cos * height2) / self.sin;
        let step = b.0 - a.0;
        step * step / 8.0 * along2.hypot(around2) <= tolerance
    }
}

/// Whether a turn of the branch is within one of the stretches.
fn is_within(turn: f64, stretches: &[(Angle, Angle)]) -> bool {
    let turn = turn.rem_euclid(TAU);
    stretches
        .iter()
        .any(|(from, to)| from.rad() <= turn && turn <= to.rad())
}

fn near(a: Option<&LandingPoint>, b: Option<&LandingPoint>) -> bool {
    const SAME: Length = Length::from_mm(1e-9);
    match (a, b) {
        (Some(a), Some(b)) => {
            (a.along - b.along).abs() < SAME && (a.around - b.around).abs() < SAME
        }
        _ => false,
    }
}
