//! Left and right: a piece in the mirror, and templates that serve both.

use crate::piece::{End, LINE_TOLERANCE, Piece, PieceError, Template};
use crate::units::{Angle, Length};

/// Turns at which two lines are compared, none of them on a round number of degrees, where
/// lines step and templates begin.
const COMPARED: u32 = 720;

/// How one template serves for another, turned about the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Likeness {
    /// The same line on the same zero line: one print does for both.
    Same,
    /// The same line once the strip is turned: the line that the first has at some turn, the other
    /// has at that turn plus this, 0 to 360°. One print does for both, with a zero line each.
    Turned(Angle),
    /// Another line.
    Different,
}

impl Piece {
    /// The other one of a left and right pair: the piece in a mirror that holds the tube's axis
    /// and the zero line. Lengths and marks stay, turns and sides of offsets change their sign.
    ///
    /// # Errors
    /// None for a piece that could be computed itself, rounding aside.
    pub fn mirrored(&self) -> Result<Self, PieceError> {
        let mirror = |end: &End| -> Result<End, PieceError> {
            Ok(match end {
                End::Coped(template) => End::Coped(Box::new(template.mirrored()?)),
                own => own.clone(),
            })
        };
        let [a, b] = self.ends();
        let ends = [mirror(a)?, mirror(b)?];
        let line = self.line().with_bends(|bend| bend.mirrored());
        Ok(self.with(ends, line))
    }
}

/// Whether one template can be used for another, to within the tolerance of a printed line.
#[must_use]
pub fn likeness(first: &Template, other: &Template) -> Likeness {
    let apart = |a: Length, b: Length| (a - b).abs() > LINE_TOLERANCE;
    if apart(first.wrap().width(), other.wrap().width())
        || apart(first.mark_to_long(), other.mark_to_long())
        || apart(first.mark_to_short(), other.mark_to_short())
    {
        return Likeness::Different;
    }
    if agree(first, other, Angle::ZERO) {
        return Likeness::Same;
    }
    // A turn that lays one line on the other lays extremes on extremes.
    let (long, short) = (first.long_points(), first.short_points());
    let onto = |from: &[crate::piece::Station], to: Vec<crate::piece::Station>| {
        let from = from.first().map(|station| station.turn);
        from.into_iter()
            .flat_map(|from| to.iter().map(move |to| (to.turn - from).within_turn()))
            .collect::<Vec<_>>()
    };
    let by_long = onto(&long, other.long_points());
    let by_short = onto(&short, other.short_points());
    by_long
        .into_iter()
        .chain(by_short)
        .find(|by| agree(first, other, *by))
        .map_or(Likeness::Different, Likeness::Turned)
}

/// Whether the first line turned on by `by` is the other one.
fn agree(first: &Template, other: &Template, by: Angle) -> bool {
    (0..COMPARED).all(|step| {
        let turn = Angle::FULL * ((f64::from(step) + 0.317) / f64::from(COMPARED));
        let (one, two) = (first.station(turn), other.station(turn + by));
        (one.point.above_mark - two.point.above_mark).abs() <= LINE_TOLERANCE
    })
}
