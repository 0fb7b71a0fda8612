//! The straight cut that takes off the bulk before the saw.

use crate::cope::saw::finished::Finished;
use crate::cope::saw::reach::{Blank, reach};
use crate::cope::{Cope, LinePoint};
use crate::units::{Angle, Length, limited};

/// Steepest straight cut proposed, off square: common practice, no source; few saws swing farther.
pub const PRE_CUT_STEEPEST: Angle = Angle::from_deg(60.0);

/// Taking less off than this at the deepest place is not worth a cut.
const WORTH: Length = Length::from_mm(2.0);
/// Kept below the computed place, mm: what is left of the search's own error.
const SAFE: f64 = 1e-6;
/// Steps in which the steepness is tried for the least cut, degrees; for most bulk it is 1.
const COARSE: usize = 5;
/// Halvings that find how far the least cut must go.
const HALVINGS: usize = 26;

/// A plane cut through the tube: z = centre + r tan(off square) cos(turn − towards).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PreCut {
    /// How far off square, 0 to below 90°.
    pub off_square: Angle,
    /// The turn from the heel at which it goes deepest into the tube.
    pub towards: Angle,
    /// Its height on the tube's axis, from the joint centre.
    pub centre: Length,
}

impl PreCut {
    /// Its height at a turn on a wall radius (mm), from the joint centre.
    #[must_use]
    pub fn height(&self, radius: f64, turn: Angle) -> Length {
        let rise = radius * self.off_square.rad().tan() * (turn - self.towards).rad().cos();
        self.centre + Length::from_mm(rise)
    }

    /// Where it goes deepest: its height at [`Self::towards`] on the outside of a tube.
    #[must_use]
    pub fn deepest(&self, outside: Length) -> Length {
        self.height(outside.mm() / 2.0, self.towards)
    }

    /// The cut unrolled on a tube's outside, once round from its deepest place, as chords within
    /// `tolerance` of the cosine.
    #[must_use]
    pub fn line(&self, outside: Length, tolerance: Length) -> Vec<LinePoint> {
        const MOST: f64 = 2000.0;
        // A chord over Δ of a cosine of height A is off by A Δ² / 8 at most.
        let rise = outside.mm() / 2.0 * self.off_square.rad().tan();
        let step = (8.0 * tolerance.mm() / rise).sqrt();
        let steps = limited((std::f64::consts::TAU / step).ceil(), 8.0, MOST) as u32;
        (0..=steps)
            .map(|at| {
                let turn = self.towards + Angle::FULL * (f64::from(at % steps) / f64::from(steps));
                LinePoint {
                    turn: turn + Angle::FULL * f64::from(at / steps),
                    height: self.height(outside.mm() / 2.0, turn),
                }
            })
            .collect()
    }
}

/// Finds straight cuts that stay clear of a finished line.
pub struct PreCutter<'a> {
    cope: &'a Cope,
    finished: Vec<Finished<'a>>,
    clearance: Length,
}

impl<'a> PreCutter<'a> {
    /// Cuts are kept `clearance` from the finished line, measured along the tube; less than 0
    /// counts as 0.
    #[must_use]
    pub fn new(cope: &'a Cope, clearance: Length) -> Self {
        Self {
            cope,
            finished: vec![Finished::new(cope)],
            clearance: clearance.max(Length::ZERO),
        }
    }

    /// The same, that keep from another line on the same tube as well.
    #[must_use]
    pub fn and_from(mut self, other: &'a Cope) -> Self {
        self.finished.push(Finished::new(other));
        self
    }

    /// A cut of that tilt below the least of the rooms that the lines leave, mm.
    fn below(&self, [off_square, towards]: [Angle; 2], room: impl Fn(&Finished) -> f64) -> PreCut {
        let rooms = self.finished.iter().map(room);
        let room = rooms.fold(f64::INFINITY, f64::min);
        PreCut {
            off_square,
            towards,
            centre: Length::from_mm(room - SAFE) - self.clearance,
        }
    }

    /// The cut of a steepness below 90° and direction that goes as deep as the clearance lets it.
    #[must_use]
    pub fn deepest(&self, off_square: Angle, towards: Angle) -> PreCut {
        let (steepness, turn) = (off_square.rad().tan(), towards.rad());
        self.below([off_square, towards], |line| {
            line.exact_room(steepness, turn)
        })
    }

    /// The same by the turns asked alone: what lies between them is not looked at.
    fn rough(&self, off_square: Angle, towards: Angle) -> PreCut {
        let (steepness, turn) = (off_square.rad().tan(), towards.rad());
        self.below([off_square, towards], |line| line.room(steepness, turn))
    }

    /// Volume of tube that a cut takes off a blank, mm³; the wall is taken as thin.
    #[must_use]
    pub fn removed_mm3(&self, cut: &PreCut, blank: &Blank) -> f64 {
        const ROUND: u32 = 360;
        let tube = self.cope.joint().branch();
        let radius = (tube.outside_radius() + tube.bore_radius()).mm() / 2.0;
        let step = Angle::FULL * (1.0 / f64::from(ROUND));
        let taken: f64 = (0..ROUND)
            .map(|turn| cut.height(radius, step * f64::from(turn)) - blank.end)
            .map(|taken| taken.mm().max(0.0))
            .sum();
        taken * step.rad() * radius * tube.wall().mm()
    }

    /// The cut, in whole degrees up to [`PRE_CUT_STEEPEST`], that takes most off a square blank;
    /// `None` where no cut takes off enough to be worth it.
    #[must_use]
    pub fn most_bulk(&self, blank: &Blank) -> Option<PreCut> {
        let (_, steepness, towards) = self
            .tilts(1)
            .map(|(steepness, towards)| {
                let cut = self.rough(steepness, towards);
                (self.removed_mm3(&cut, blank), steepness, towards)
            })
            // The first of equals: towards the heel, and the least steep.
            .reduce(|best, next| if next.0 > best.0 + 1e-6 { next } else { best })?;
        let cut = self.deepest(steepness, towards);
        let outside = self.cope.joint().branch().outside();
        (cut.deepest(outside) - blank.end >= WORTH).then_some(cut)
    }

    /// The cut that takes least off and makes a cup of that depth enough for a saw of that
    /// diameter; `None` where none does that stays clear of the line. Its steepness is a whole
    /// number of steps of 5°.
    #[must_use]
    pub fn least_for(&self, saw: Length, depth: Length, blank: &Blank) -> Option<PreCut> {
        let least = self
            .tilts(COARSE)
            .filter_map(|(off_square, towards)| {
                self.least_along(self.rough(off_square, towards), saw, depth, blank)
            })
            .map(|cut| (self.removed_mm3(&cut, blank), cut))
            .reduce(|best, next| if next.0 < best.0 { next } else { best });
        least
            .map(|(_, cut)| PreCut {
                centre: cut
                    .centre
                    .min(self.deepest(cut.off_square, cut.towards).centre),
                ..cut
            })
            .filter(|cut| self.is_enough(cut, saw, depth, blank))
    }

    /// The cut at the tilt of `full`, and no deeper than that, which takes least off and makes a cup of
    /// that depth enough for a saw of that diameter; `None` where not even `full` does. It stays clear
    /// of the line where `full` does.
    #[must_use]
    pub fn least_along(
        &self,
        full: PreCut,
        saw: Length,
        depth: Length,
        blank: &Blank,
    ) -> Option<PreCut> {
        let enough = |centre| self.is_enough(&PreCut { centre, ..full }, saw, depth, blank);
        if !enough(full.centre) {
            return None;
        }
        // From a cut that only scratches the end to the deepest one.
        let outside = self.cope.joint().branch().outside();
        let scratch = full.centre - (full.deepest(outside) - blank.end);
        let (mut short, mut far) = (scratch.min(full.centre), full.centre);
        for _ in 0..HALVINGS {
            let centre = (short + far) / 2.0;
            if enough(centre) {
                far = centre;
            } else {
                short = centre;
            }
        }
        Some(PreCut {
            centre: far,
            ..full
        })
    }

    fn is_enough(&self, cut: &PreCut, saw: Length, depth: Length, blank: &Blank) -> bool {
        let reach = reach(self.cope.joint(), saw, &blank.after(*cut));
        reach.is_some_and(|reach| reach.cup() <= depth)
    }

    /// Every tilt that is tried: towards and away from the heel of each main, and towards the
    /// short points.
    fn tilts(&self, step: usize) -> impl Iterator<Item = (Angle, Angle)> + use<> {
        let mut towards: Vec<Angle> = Vec::new();
        let mains = self.cope.joint().mains();
        let turns = mains
            .flat_map(|main| [main.turn(), main.turn() + Angle::HALF])
            .chain(self.cope.short_point().turns.iter().copied().take(4));
        for turn in turns.map(Angle::within_turn) {
            let near = |other: &Angle| (*other - turn).abs() < Angle::from_deg(1.0);
            if !towards.iter().any(near) {
                towards.push(turn);
            }
        }
        let most = PRE_CUT_STEEPEST.deg().round() as usize;
        towards.into_iter().flat_map(move |towards| {
            (0..=most)
                .step_by(step)
                .map(move |degrees| (Angle::from_deg(degrees as f64), towards))
        })
    }
}
