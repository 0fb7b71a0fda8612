//! One wall radius of a branch where it meets a main laid flat, as chords.
//!
//! The formulas are those of [`crate::piece::Landing`].

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::joint::{Developed, Main, Part};
use crate::piece::{LINE_TOLERANCE, LandingPoint, LandingRun};
use crate::units::{Angle, Length, sort_by_number};

/// Turns nearer than this are one, rad.
const SAME_TURN: f64 = 1e-12;

/// A wall radius of the branch on a main.
pub(super) struct Rim<'a> {
    developed: &'a Developed,
    radius: f64,
    sin: f64,
    cos: f64,
    offset: f64,
    turn: f64,
}

impl<'a> Rim<'a> {
    pub(super) fn new(main: &Main, developed: &'a Developed, radius: Length) -> Self {
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
    pub(super) fn at(&self, phi: f64) -> Option<LandingPoint> {
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
    pub(super) fn runs(&self, seated: &[(Angle, Angle)]) -> Vec<LandingRun> {
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
