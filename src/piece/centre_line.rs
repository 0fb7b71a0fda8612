//! The centre line of a piece: straights and bends as they lie on the tube before it is bent.
//!
//! A **straight** is measured between tangent points, where bends begin and end, because that is
//! what a tape finds on the tube. A drawing measures **legs** instead, to the vertices where the
//! straights would meet: [`CentreLine::from_legs`] and [`CentreLine::legs`] go from one to the
//! other. The tube is taken to keep its length along the centre line; real bends stretch it a
//! little (common practice, no source: bend a trial piece).

use crate::joint::{BEND_MIN, BEND_RADIUS};
use crate::piece::PieceError;
use crate::units::{Angle, LENGTH_LIMIT, Length};

/// A half turn may overshoot by this through the rounding of typed degrees.
const SLACK: Angle = Angle::from_rad(1e-12);

/// Straights that come out shorter than nothing by less than this are rounding.
pub(super) const NOTHING: Length = Length::from_mm(1e-9);

/// One bend of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TubeBend {
    clr: Length,
    angle: Angle,
    outside: Angle,
}

impl TubeBend {
    /// A bend of centre-line radius `clr` by `angle`, 0 being straight on. `outside` is the turn,
    /// sighted along the tube from end A, from the zero line to the outside line of the bend: the
    /// one that becomes longest.
    ///
    /// # Errors
    /// A radius out of range, an angle outside 0.1–180°, a turn that is no number.
    pub fn new(clr: Length, angle: Angle, outside: Angle) -> Result<Self, PieceError> {
        if !BEND_RADIUS.holds(clr) {
            return Err(PieceError::BendRadius { is: clr });
        }
        if !(angle >= BEND_MIN && angle <= Angle::HALF + SLACK) {
            return Err(PieceError::BendAngle { is: angle });
        }
        if !outside.is_finite() {
            return Err(PieceError::Turn { is: outside });
        }
        Ok(Self {
            clr,
            angle,
            outside: outside.within_turn(),
        })
    }

    /// Centre-line radius.
    #[must_use]
    pub const fn clr(&self) -> Length {
        self.clr
    }

    /// By how much the tube is bent.
    #[must_use]
    pub const fn angle(&self) -> Angle {
        self.angle
    }

    /// Turn of the outside line from the zero line, 0 to 360°.
    #[must_use]
    pub const fn outside(&self) -> Angle {
        self.outside
    }

    /// Length of tube in the bend: CLR · angle (radians).
    #[must_use]
    pub fn arc(&self) -> Length {
        self.clr * self.angle.rad()
    }

    /// Tangent length, from either tangent point to the vertex: CLR · tan(angle / 2). `None` at a
    /// half turn, where the two straights run side by side and never meet.
    #[must_use]
    pub fn tangent(&self) -> Option<Length> {
        // Within a millionth of a degree of it the vertex is farther away than any tube is long.
        const PARALLEL: f64 = 1e-8;
        let half = self.angle.rad() / 2.0;
        (half.cos() > PARALLEL).then(|| self.clr * half.tan())
    }

    /// The same bend with every turn grown by `by`.
    pub(super) fn turned(&self, by: Angle) -> Self {
        Self {
            outside: (self.outside + by).within_turn(),
            ..*self
        }
    }

    /// The bend in a mirror that holds the tube's axis and the zero line.
    pub(super) fn mirrored(&self) -> Self {
        Self {
            outside: (Angle::ZERO - self.outside).within_turn(),
            ..*self
        }
    }
}

/// Where a bend lies on the tube before it is bent, from the beginning of the centre line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendSpan {
    /// Its first tangent point: start to bend here.
    pub start: Length,
    /// Its last tangent point.
    pub end: Length,
}

/// The centre line of a piece, straight or bent.
#[derive(Debug, Clone, PartialEq)]
pub struct CentreLine {
    first: Length,
    /// Each bend with the straight behind it.
    more: Vec<(TubeBend, Length)>,
}

impl CentreLine {
    /// A straight one.
    #[must_use]
    pub const fn straight(length: Length) -> Self {
        Self {
            first: length,
            more: Vec::new(),
        }
    }

    /// The same with one more bend and, behind it, a straight between tangent points.
    #[must_use]
    pub fn bent(mut self, bend: TubeBend, straight: Length) -> Self {
        self.more.push((bend, straight));
        self
    }

    /// A centre line whose legs are measured to the vertices of the bends: from the beginning to
    /// the first vertex, from vertex to vertex, and from the last one to the end.
    ///
    /// # Errors
    /// A bend of 180°, which has no vertex, and a leg shorter than the tangent lengths in it.
    pub fn from_legs(first: Length, more: &[(TubeBend, Length)]) -> Result<Self, PieceError> {
        let tangents = tangents(more)?;
        let mut line = Self::straight(first);
        for (bend, leg) in more {
            line = line.bent(*bend, *leg);
        }
        for number in 0..=more.len() {
            let taken = taken_by_bends(&tangents, number);
            let leg = line.straight_at(number);
            let straight = leg - taken;
            if straight < -NOTHING {
                return Err(PieceError::Leg {
                    number,
                    is: leg,
                    least: taken,
                });
            }
            line.lengthen(number, straight.max(Length::ZERO) - leg);
        }
        Ok(line)
    }

    /// Every leg, measured to the vertices of the bends.
    ///
    /// # Errors
    /// A bend of 180°, which has no vertex.
    pub fn legs(&self) -> Result<Vec<Length>, PieceError> {
        let tangents = tangents(&self.more)?;
        let leg = |number| self.straight_at(number) + taken_by_bends(&tangents, number);
        Ok((0..=self.more.len()).map(leg).collect())
    }

    /// Every straight, between tangent points; one more than there are bends.
    #[must_use]
    pub fn straights(&self) -> Vec<Length> {
        (0..=self.more.len())
            .map(|number| self.straight_at(number))
            .collect()
    }

    /// Every bend, in order from the beginning.
    pub fn bends(&self) -> impl ExactSizeIterator<Item = &TubeBend> + DoubleEndedIterator {
        self.more.iter().map(|(bend, _)| bend)
    }

    /// How many straights there are.
    #[must_use]
    pub const fn straight_count(&self) -> usize {
        self.more.len() + 1
    }

    /// Length along the centre line: what the tube must be long before it is bent.
    #[must_use]
    pub fn developed(&self) -> Length {
        let more: Length = self
            .more
            .iter()
            .map(|(bend, straight)| bend.arc() + *straight)
            .sum();
        self.first + more
    }

    /// Where the bends lie on the tube before it is bent.
    #[must_use]
    pub fn spans(&self) -> Vec<BendSpan> {
        let mut along = self.first;
        self.more
            .iter()
            .map(|(bend, straight)| {
                let start = along;
                let end = start + bend.arc();
                along = end + *straight;
                BendSpan { start, end }
            })
            .collect()
    }

    /// The natural zero line of a bent piece, as its turn from the present one: the outside of the
    /// first bend, which can be seen and felt. `None` for a straight piece.
    #[must_use]
    pub fn natural_zero(&self) -> Option<Angle> {
        self.more.first().map(|(bend, _)| bend.outside)
    }

    /// A straight by its number, counted from 0; nothing for one that is not there.
    pub(super) fn straight_at(&self, number: usize) -> Length {
        let before = number.checked_sub(1).and_then(|bend| self.more.get(bend));
        match (number, before) {
            (0, _) => self.first,
            (_, Some((_, straight))) => *straight,
            (_, None) => Length::ZERO,
        }
    }

    /// Adds to a straight.
    pub(super) fn lengthen(&mut self, number: usize, by: Length) {
        match number.checked_sub(1) {
            None => self.first += by,
            Some(bend) => {
                if let Some((_, straight)) = self.more.get_mut(bend) {
                    *straight += by;
                }
            }
        }
    }

    /// Whether every straight is a length within the limit; the first that is not.
    pub(super) fn out_of_range(&self) -> Option<Length> {
        let taken = -LENGTH_LIMIT..=LENGTH_LIMIT;
        let mut all = self.straights();
        all.push(self.developed());
        all.into_iter().find(|length| !taken.contains(length))
    }

    /// The same with each bend changed.
    pub(super) fn with_bends(&self, change: impl Fn(&TubeBend) -> TubeBend) -> Self {
        Self {
            first: self.first,
            more: self
                .more
                .iter()
                .map(|(bend, straight)| (change(bend), *straight))
                .collect(),
        }
    }
}

/// Tangent length of every bend.
fn tangents(more: &[(TubeBend, Length)]) -> Result<Vec<Length>, PieceError> {
    more.iter()
        .enumerate()
        .map(|(bend, (own, _))| own.tangent().ok_or(PieceError::NoVertex { bend }))
        .collect()
}

/// What the bends at both ends of a leg take of it.
fn taken_by_bends(tangents: &[Length], number: usize) -> Length {
    let at = |bend: Option<usize>| {
        bend.and_then(|bend| tangents.get(bend))
            .copied()
            .unwrap_or_default()
    };
    at(number.checked_sub(1)) + at(Some(number))
}
