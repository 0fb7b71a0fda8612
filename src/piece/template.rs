//! The template of one end: the cut line unrolled, above a mark line square to the tube.
//!
//! On paper the printed side faces out, the cut is at the top and the tube's body at the bottom;
//! distances *around* grow to the left from the zero line, as turns do.

use crate::cope::{Cope, Extreme};
use crate::joint::JointError;
use crate::piece::Wrap;
use crate::units::{Angle, Length, sort_by_number};

/// Least paper kept between the short point and the mark line, so that the strip holds together
/// and can be taped.
const LEAST_BODY: Length = Length::from_mm(25.0);

/// A line that strays from a height by no more than this is level.
const LEVEL: Length = Length::from_mm(1e-6);

/// Largest distance on paper between the printed line and the computed one.
pub const LINE_TOLERANCE: Length = Length::from_mm(0.01);

/// A point of the template.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperPoint {
    /// Distance from the zero line, growing to the left, 0 to the developed width.
    pub around: Length,
    /// Height above the mark line.
    pub above_mark: Length,
}

/// A run of the printed line.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperRun {
    /// Whether the branch passes beside the main here: a trim, not a fit.
    pub beside: bool,
    /// At least two points, from the zero line leftwards; the next run starts where this ends.
    pub points: Vec<PaperPoint>,
}

/// A named place round the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Turn from the zero line, 0 to 360°.
    pub turn: Angle,
    /// Where it is on paper.
    pub point: PaperPoint,
    /// Whether the branch passes beside the main here.
    pub beside: bool,
}

/// The template of one end.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    cope: Cope,
    wrap: Wrap,
    heel_turn: Angle,
    mark: Length,
    /// Where a straight cut before the saw runs, if one is advised.
    pre_cut: Vec<PaperRun>,
}

impl Template {
    /// The template of a cut line.
    ///
    /// `heel_turn` is the turn of the heel from the zero line. The mark line is put a whole number
    /// of `step`s from the long point, so that the mark is easy to measure along the tube.
    #[must_use]
    pub fn new(cope: Cope, wrap: Wrap, heel_turn: Angle, step: Length) -> Self {
        let depth = cope.short_point().height - cope.long_point().height;
        let steps = ((depth + LEAST_BODY) / step).ceil();
        Self {
            cope,
            wrap,
            heel_turn: heel_turn.within_turn(),
            mark: step * steps,
            pre_cut: Vec::new(),
        }
    }

    /// The same template for a zero line elsewhere: every turn grows by `by`.
    #[must_use]
    pub fn turned(&self, by: Angle) -> Self {
        Self {
            heel_turn: (self.heel_turn + by).within_turn(),
            ..self.clone()
        }
    }

    /// The template in a mirror that holds the tube's axis and the zero line; the mark line stays
    /// as far from the long point as it is.
    ///
    /// # Errors
    /// None for a line that could be computed itself, rounding aside.
    pub fn mirrored(&self) -> Result<Self, JointError> {
        Ok(Self {
            cope: self.cope.mirrored()?,
            wrap: self.wrap,
            heel_turn: (Angle::ZERO - self.heel_turn).within_turn(),
            mark: self.mark,
            pre_cut: Vec::new(),
        })
    }

    /// The same template with the line of a straight cut before the saw.
    #[must_use]
    pub fn with_pre_cut(mut self, line: Vec<PaperRun>) -> Self {
        self.pre_cut = line;
        self
    }

    /// The line of a straight cut before the saw; empty where none is shown.
    #[must_use]
    pub fn pre_cut(&self) -> &[PaperRun] {
        &self.pre_cut
    }

    /// The cut line it shows.
    #[must_use]
    pub const fn cope(&self) -> &Cope {
        &self.cope
    }

    /// How far it goes round.
    #[must_use]
    pub const fn wrap(&self) -> &Wrap {
        &self.wrap
    }

    /// Turn of the heel from the zero line, 0 to 360°.
    #[must_use]
    pub const fn heel_turn(&self) -> Angle {
        self.heel_turn
    }

    /// Mark line to long point: the mark's distance from the end of the tube, and the height of
    /// the strip.
    #[must_use]
    pub const fn mark_to_long(&self) -> Length {
        self.mark
    }

    /// Mark line to short point.
    #[must_use]
    pub fn mark_to_short(&self) -> Length {
        self.mark - (self.cope.short_point().height - self.cope.long_point().height)
    }

    /// Mark line to joint centre, along the tube's axis.
    #[must_use]
    pub fn mark_to_centre(&self) -> Length {
        self.mark + self.cope.long_point().height
    }

    /// The printed line from the zero line leftwards, once round; closes at the same height.
    #[must_use]
    pub fn line(&self) -> Vec<PaperRun> {
        let width = self.wrap.width();
        let runs = self.cope.line(-self.heel_turn, width, LINE_TOLERANCE);
        let start = (-self.heel_turn).within_turn();
        let paper = |turn: Angle, height: Length| PaperPoint {
            around: self.wrap.around(turn - start),
            above_mark: self.above_mark(height),
        };
        let mut paper_runs: Vec<PaperRun> = runs
            .into_iter()
            .map(|run| PaperRun {
                beside: run.beside,
                points: run.points.iter().map(|p| paper(p.turn, p.height)).collect(),
            })
            .collect();
        if let Some(last) = paper_runs.last_mut().and_then(|run| run.points.last_mut()) {
            last.around = width;
        }
        paper_runs
    }

    /// The place at a turn from the zero line.
    #[must_use]
    pub fn station(&self, turn: Angle) -> Station {
        let turn = turn.within_turn();
        let meeting = self.cope.at(turn - self.heel_turn);
        Station {
            turn,
            point: PaperPoint {
                around: self.wrap.around(turn),
                above_mark: self.above_mark(meeting.height()),
            },
            beside: matches!(meeting, crate::cope::Meeting::Beside(_)),
        }
    }

    /// The heel: the acute side of the joint.
    #[must_use]
    pub fn heel(&self) -> Station {
        self.station(self.heel_turn)
    }

    /// The toe: the obtuse side of the joint.
    #[must_use]
    pub fn toe(&self) -> Station {
        self.station(self.heel_turn + Angle::HALF)
    }

    /// Every place where the long point is reached; a level stretch counts once, at its middle.
    #[must_use]
    pub fn long_points(&self) -> Vec<Station> {
        self.stations(self.cope.long_point())
    }

    /// Every place where the short point is reached; a level stretch counts once, at its middle.
    #[must_use]
    pub fn short_points(&self) -> Vec<Station> {
        self.stations(self.cope.short_point())
    }

    fn stations(&self, extreme: &Extreme) -> Vec<Station> {
        self.middles(extreme)
            .into_iter()
            .map(|turn| self.station(turn + self.heel_turn))
            .collect()
    }

    /// The turns of an extreme; of those that a level stretch joins, the middle one.
    fn middles(&self, extreme: &Extreme) -> Vec<Angle> {
        let turns = &extreme.turns;
        let to_next = |at: usize| {
            let next = turns[(at + 1) % turns.len()];
            let by = (next - turns[at]).within_turn();
            if by > Angle::ZERO { by } else { Angle::FULL }
        };
        let is_level = |at: usize| {
            [0.25, 0.5, 0.75].into_iter().all(|part| {
                let height = self.cope.at(turns[at] + to_next(at) * part).height();
                (height - extreme.height).abs() <= LEVEL
            })
        };
        let level: Vec<bool> = (0..turns.len()).map(is_level).collect();
        let Some(last) = level.iter().position(|level| !level) else {
            // Level all round.
            return turns.first().copied().into_iter().collect();
        };
        let mut middles = Vec::new();
        let mut stretch = Angle::ZERO;
        for at in (1..=turns.len()).map(|step| (last + step) % turns.len()) {
            if level[at] {
                stretch = stretch + to_next(at);
            } else {
                middles.push((turns[at] - stretch * 0.5).within_turn());
                stretch = Angle::ZERO;
            }
        }
        sort_by_number(&mut middles, |turn| turn.rad());
        middles
    }

    /// Height above the mark line of a height from the joint centre.
    fn above_mark(&self, height: Length) -> Length {
        self.mark + self.cope.long_point().height - height
    }
}
