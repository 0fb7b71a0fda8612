//! Where the mark lines go on the tube, as distances to lay off and distances to check.
//!
//! With a mark k from the end of a tube of length L at either end, the far distances are L − k_A
//! and L − k_B and the marks are L − k_A − k_B apart, so that far_A + far_B − between = L. On the
//! blank, which has grip stock beyond the long points, k counts from the blank's end and L is the
//! blank's length; on the finished piece k counts from the long point.

use crate::piece::{Piece, Side};
use crate::units::{Angle, Length, Unit};

/// The division of a tape: lengths are laid off to a whole number of it.
#[must_use]
pub const fn tape_division(unit: Unit) -> Length {
    match unit {
        // Halves are read between the lines; common practice, no source.
        Unit::Millimetre => Length::from_mm(0.5),
        Unit::Inch => Length::from_inches(0.01),
        Unit::Fraction(denominator) => Length::from_inches(1.0 / denominator.parts() as f64),
    }
}

/// A distance as it is and as a tape shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The distance as computed.
    pub exact: Length,
    /// The distance as laid off, a whole number of tape divisions.
    pub on_tape: Length,
}

impl Reading {
    /// A distance at the nearest division of a tape; a division of 0 leaves it as it is.
    #[must_use]
    pub fn nearest(exact: Length, division: Length) -> Self {
        let on_tape = if division > Length::ZERO {
            division * (exact / division).round()
        } else {
            exact
        };
        Self { exact, on_tape }
    }

    /// The rounding error: what the tape shows is longer than the distance by this.
    #[must_use]
    pub fn error(&self) -> Length {
        self.on_tape - self.exact
    }

    fn less(self, other: Self) -> Self {
        Self {
            exact: self.exact - other.exact,
            on_tape: self.on_tape - other.on_tape,
        }
    }
}

/// The two marks of a tube and the distances between them and its ends. Pairs are in the order of
/// the ends, A first.
///
/// Length and own distances are rounded to the tape; the others follow from these, so that the
/// rounded numbers add up exactly too. Where the own distances are whole divisions, as those of
/// finished pieces are, every one is off by the same amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkSet {
    /// From end to end.
    pub length: Reading,
    /// From each mark to its own end.
    pub own: [Reading; 2],
    /// From each mark to the far end.
    pub far: [Reading; 2],
    /// From mark to mark; below 0 where they have passed each other.
    pub between: Reading,
}

impl MarkSet {
    fn new(length: Length, own: [Length; 2], division: Length) -> Self {
        let length = Reading::nearest(length, division);
        let own = own.map(|own| Reading::nearest(own, division));
        let far = own.map(|own| length.less(own));
        Self {
            length,
            own,
            far,
            between: far[0].less(own[1]),
        }
    }

    /// The sum that must come to the length: mark A to far end, plus mark B to far end, less mark
    /// to mark.
    #[must_use]
    pub fn sum(&self) -> Reading {
        let [a, b] = self.far;
        Reading {
            exact: a.exact + b.exact - self.between.exact,
            on_tape: a.on_tape + b.on_tape - self.between.on_tape,
        }
    }
}

/// Where a bend goes on the tube before it is bent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendMark {
    /// Where to start the bend, from end A of the blank.
    pub from_blank: Reading,
    /// From the long point of end A.
    pub from_long: Reading,
    /// From mark A; below 0 where the mark lies beyond the start.
    pub from_mark: Reading,
    /// From the end of the bend before; of the first bend from the long point of end A.
    pub from_last: Reading,
    /// Length of tube in the bend.
    pub arc: Reading,
    /// By how much it is bent.
    pub angle: Angle,
    /// Centre-line radius.
    pub clr: Length,
    /// Turn of the outside line from the zero line, sighted along the tube from end A.
    pub outside: Angle,
}

/// All marks of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// On the blank, to lay off.
    pub blank: MarkSet,
    /// On the finished piece, to check; of a bent one along the tube.
    pub finished: MarkSet,
    /// What to cut off beyond the long point of each end afterwards: the grip stock.
    pub cut_off: [Reading; 2],
    /// The bends, from end A.
    pub bends: Vec<BendMark>,
}

impl Piece {
    /// Where the marks go, laid off with a tape of some division; with a division of 0 unrounded.
    #[must_use]
    pub fn marks(&self, division: Length) -> Marks {
        let lengths = self.lengths();
        let own = Side::BOTH.map(|side| self.end(side).long_to_mark());
        let grips = Side::BOTH.map(|side| self.grip(side));
        let read = |length| Reading::nearest(length, division);
        // From the joint centre, where the centre line begins.
        let long = self.end(Side::A).centre_to_long();
        let mut last = long;
        let bends = self.line().spans().into_iter().zip(self.line().bends());
        let bends = bends
            .map(|(span, bend)| {
                let from_last = span.start - last;
                last = span.end;
                BendMark {
                    from_blank: read(span.start - long + grips[0]),
                    from_long: read(span.start - long),
                    from_mark: read(span.start - long - own[0]),
                    from_last: read(from_last),
                    arc: read(bend.arc()),
                    angle: bend.angle(),
                    clr: bend.clr(),
                    outside: bend.outside(),
                }
            })
            .collect();
        Marks {
            blank: MarkSet::new(
                lengths.blank,
                [own[0] + grips[0], own[1] + grips[1]],
                division,
            ),
            finished: MarkSet::new(lengths.overall, own, division),
            cut_off: grips.map(read),
            bends,
        }
    }
}
