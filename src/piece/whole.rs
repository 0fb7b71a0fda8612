//! A whole piece: one tube with two ends, straight or bent, and its length in every way it is
//! measured.
//!
//! With C the length along the centre line between the two joint centres and s measured from each
//! joint centre into the body, the long points are at min s, and overall, long point to long
//! point, L = C − min s_A − min s_B. The blank is L with the grip stock of both ends.

use std::f64::consts::PI;

use crate::joint::RoundTube;
use crate::piece::centre_line::NOTHING;
use crate::piece::{CentreLine, End, Frame, PaperRun, PieceError, Side, Template};
use crate::stock::Density;
use crate::units::{Angle, LENGTH_LIMIT, Length};

/// What must be left of a straight piece where its cuts come nearest to each other, so that it is
/// one piece at all.
pub(super) const LEAST_BODY: Length = Length::from_mm(1.0);

/// What a length of tube is measured between, along the tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Between {
    /// The joint centres.
    Centres,
    /// The long points: overall, as a tape laid along the finished piece finds it.
    LongPoints,
    /// The ends of the blank, grip stock included.
    Blank,
}

/// One length in every way it is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lengths {
    /// Along the centre line between the joint centres.
    pub centres: Length,
    /// Overall, long point to long point; of a bent piece before it is bent.
    pub overall: Length,
    /// What to cut the tube to before anything else.
    pub blank: Length,
}

/// One tube with two ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    tube: RoundTube,
    ends: [End; 2],
    /// From joint centre to joint centre.
    line: CentreLine,
    grips: [Length; 2],
}

impl Piece {
    /// A piece whose `line` is measured between what `between` says: its first straight begins
    /// there and its last one ends there. `grips` is the stock left beyond the long point of each
    /// end for a machine to hold, cut off afterwards.
    ///
    /// # Errors
    /// An end cut for another tube or turned by what is no number; lengths out of range; a bend
    /// tighter than the tube; a straight that ends before it begins; cuts that meet.
    pub fn new(
        tube: RoundTube,
        ends: [End; 2],
        line: CentreLine,
        between: Between,
        grips: [Length; 2],
    ) -> Result<Self, PieceError> {
        for (side, (end, grip)) in Side::BOTH.into_iter().zip(ends.iter().zip(&grips)) {
            if let Some(template) = end.template() {
                let own = template.cope().joint().branch();
                if *own != tube {
                    return Err(PieceError::OtherTube {
                        side,
                        piece: tube.outside(),
                        end: own.outside(),
                    });
                }
                let is = template.heel_turn();
                if !is.is_finite() {
                    return Err(PieceError::Turn { is });
                }
            }
            if !(*grip >= Length::ZERO && *grip <= LENGTH_LIMIT) {
                return Err(PieceError::Grip { side, is: *grip });
            }
        }
        if let Some(is) = line.out_of_range() {
            return Err(PieceError::Length { is });
        }
        let mut piece = Self {
            tube,
            ends,
            line,
            grips,
        };
        let last = piece.line.straight_count() - 1;
        for (side, number) in [(Side::A, 0), (Side::B, last)] {
            let to_centre = piece.centre_to(side, between);
            piece.line.lengthen(number, to_centre);
        }
        piece.checked()
    }

    /// From the joint centre of an end to what a length is measured from there, into the body.
    fn centre_to(&self, side: Side, between: Between) -> Length {
        let end = &self.ends[side.index()];
        match between {
            Between::Centres => Length::ZERO,
            Between::LongPoints => end.centre_to_long(),
            Between::Blank => end.centre_to_long() - self.grips[side.index()],
        }
    }

    /// A piece whose straights and bends are all there.
    pub(super) fn checked(self) -> Result<Self, PieceError> {
        let radius = self.tube.outside_radius();
        for (bend, own) in self.line.bends().enumerate() {
            if own.clr() <= radius {
                return Err(PieceError::BendTight {
                    bend,
                    is: own.clr(),
                    least: radius,
                });
            }
        }
        if self.is_bent() {
            for (number, straight) in self.straights(Between::LongPoints).iter().enumerate() {
                if *straight < -NOTHING {
                    return Err(PieceError::Straight {
                        number,
                        short_by: -*straight,
                    });
                }
            }
        } else if self.surely_left() < LEAST_BODY {
            // Only now is it worth a look all round.
            let short_by = LEAST_BODY - self.body();
            if short_by > NOTHING {
                return Err(PieceError::Body {
                    overall: self.lengths().overall,
                    short_by,
                });
            }
        }
        Ok(self)
    }

    /// The tube.
    #[must_use]
    pub const fn tube(&self) -> &RoundTube {
        &self.tube
    }

    /// One of its ends.
    #[must_use]
    pub fn end(&self, side: Side) -> &End {
        &self.ends[side.index()]
    }

    /// Its centre line, from the joint centre of end A to that of end B.
    #[must_use]
    pub const fn line(&self) -> &CentreLine {
        &self.line
    }

    /// Grip stock beyond the long point of an end.
    #[must_use]
    pub const fn grip(&self, side: Side) -> Length {
        self.grips[side.index()]
    }

    /// Whether it has a bend.
    #[must_use]
    pub const fn is_bent(&self) -> bool {
        self.line.straight_count() > 1
    }

    /// Its length in every way.
    #[must_use]
    pub fn lengths(&self) -> Lengths {
        let centres = self.line.developed();
        let [a, b] = &self.ends;
        let overall = centres - a.centre_to_long() - b.centre_to_long();
        Lengths {
            centres,
            overall,
            blank: overall + self.grips[0] + self.grips[1],
        }
    }

    /// Every straight between tangent points, the first and the last one from and to what
    /// `between` says.
    #[must_use]
    pub fn straights(&self, between: Between) -> Vec<Length> {
        let mut line = self.line.clone();
        let last = line.straight_count() - 1;
        for (side, number) in [(Side::A, 0), (Side::B, last)] {
            line.lengthen(number, -self.centre_to(side, between));
        }
        line.straights()
    }

    /// Straight-line distance in space between the joint centres; of a straight piece its length
    /// between centres.
    #[must_use]
    pub fn centres_apart(&self) -> Length {
        let [x, y, z] = self.line.frame_at(self.line.developed()).origin;
        Length::from_mm(x.hypot(y).hypot(z))
    }

    /// The frame of an end as its cut line has it: at the joint centre, z into the body, x towards
    /// the heel; of an end that is not coped towards the zero line. End A's joint centre is where
    /// [`Frame::START`] is.
    #[must_use]
    pub fn end_frame(&self, side: Side) -> Frame {
        let frame = match side {
            Side::A => Frame::START,
            Side::B => self.line.frame_at(self.line.developed()).turned_back(),
        };
        let heel = self
            .end(side)
            .template()
            .map_or(Angle::ZERO, |template| template.heel_turn());
        frame.about_z(heel)
    }

    /// Turn of an end's heel from the zero line, sighted along the tube from end A, 0 to 360°;
    /// `None` for an end that is not coped.
    #[must_use]
    pub fn heel(&self, side: Side) -> Option<Angle> {
        let template = self.end(side).template()?;
        Some(side.own_turn(template.heel_turn()))
    }

    /// Turn of end B's heel against that of end A, sighted along the tube from end A, clockwise,
    /// 0 to 360°; `None` unless both ends are coped.
    #[must_use]
    pub fn turn_between(&self) -> Option<Angle> {
        Some((self.heel(Side::B)? - self.heel(Side::A)?).within_turn())
    }

    /// The same piece with its zero line scribed at a turn from the present one.
    #[must_use]
    pub fn zeroed_at(&self, turn: Angle) -> Self {
        let by = Angle::ZERO - turn;
        let [a, b] = &self.ends;
        Self {
            ends: [a.turned(Side::A, by), b.turned(Side::B, by)],
            line: self.line.with_bends(|bend| bend.turned(by)),
            ..self.clone()
        }
    }

    /// What a straight piece has at least between its cuts: between the short points.
    fn surely_left(&self) -> Length {
        let [a, b] = &self.ends;
        self.line.developed() - a.centre_to_short() - b.centre_to_short()
    }

    /// The shortest generator of a straight piece from cut to cut; below 0 the cuts run into each
    /// other. Exact to within twice the tolerance of a printed line: the difference of two lines
    /// made of chords is least at an end of a chord.
    pub(super) fn body(&self) -> Length {
        let surely = self.surely_left();
        let [Some(a), Some(b)] = self.ends.each_ref().map(End::template) else {
            return surely;
        };
        let narrowest = |own: &Template, other: &Template| {
            let width = own.wrap().width();
            let points = own.line().into_iter().flat_map(|run| run.points);
            let cuts = points.map(|point| {
                // A turn of one template is minus that turn on the other.
                let turn = Angle::ZERO - Angle::FULL * (point.around / width);
                let across = other.station(turn).point.above_mark;
                point.above_mark + across
            });
            cuts.reduce(Length::min)
        };
        let between = self.line.developed() - a.mark_to_centre() - b.mark_to_centre();
        let narrowest = [narrowest(a, b), narrowest(b, a)];
        let least = narrowest.into_iter().flatten().reduce(Length::min);
        least.map_or(surely, |least| (between + least).max(surely))
    }

    /// What a straight at an end has between the short point of the cut and the bend.
    pub(super) fn room_at_end(&self, side: Side, number: usize) -> Length {
        self.line.straight_at(number) - self.end(side).centre_to_short()
    }

    /// Mass of the finished piece in kg. The wall is taken as cut to one height at each turn, that
    /// of the printed line; a saw that follows the main leaves a little more or less inside.
    ///
    /// A bend has the mass of a straight tube as long as its centre line (theorem of Pappus).
    #[must_use]
    pub fn mass_kg(&self, density: Density) -> f64 {
        let [a, b] = &self.ends;
        let mean = self.line.developed() - mean_cut(a) - mean_cut(b);
        kg_per_metre(&self.tube, density) * mean.mm() / 1000.0
    }

    /// Mass of the blank in kg.
    #[must_use]
    pub fn blank_mass_kg(&self, density: Density) -> f64 {
        kg_per_metre(&self.tube, density) * self.lengths().blank.mm() / 1000.0
    }

    /// The same piece whose templates show the lines of straight cuts before the saw, by end.
    #[must_use]
    pub fn with_pre_cuts(mut self, lines: [Vec<PaperRun>; 2]) -> Self {
        for (end, line) in self.ends.iter_mut().zip(lines) {
            if let End::Coped(template) = end {
                **template = template.as_ref().clone().with_pre_cut(line);
            }
        }
        self
    }

    pub(super) const fn ends(&self) -> &[End; 2] {
        &self.ends
    }

    /// The same piece with other ends and another centre line, not checked.
    pub(super) fn with(&self, ends: [End; 2], line: CentreLine) -> Self {
        Self {
            ends,
            line,
            ..self.clone()
        }
    }
}

/// Mass of a metre of tube in kg: π (D − t) t · density.
#[must_use]
pub fn kg_per_metre(tube: &RoundTube, density: Density) -> f64 {
    let wall = tube.wall().mm();
    let area = PI * (tube.outside().mm() - wall) * wall;
    area * 1e-6 * density.kg_per_m3()
}

/// Mean height of the cut over the whole turn, from the joint centre.
fn mean_cut(end: &End) -> Length {
    let Some(template) = end.template() else {
        return Length::ZERO;
    };
    let mut under = 0.0;
    for run in template.line() {
        for pair in run.points.windows(2) {
            let across = (pair[1].around - pair[0].around).mm();
            under += across * (pair[0].above_mark + pair[1].above_mark).mm() / 2.0;
        }
    }
    template.mark_to_centre() - Length::from_mm(under / template.wrap().width().mm())
}
