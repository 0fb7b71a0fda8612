//! What went wrong with a cut, from the gaps that are seen.

use std::f64::consts::FRAC_PI_2;

use crate::cope::fit::search::{Effort, least};
use crate::cope::fit::surface::Ground;
use crate::cope::fit::{Home, Slip, SlipKind};
use crate::cope::{Cope, CutMethod};
use crate::joint::{JointError, Main};
use crate::units::{Angle, Length, sort_by_number};

/// Gaps are told apart to this: what a feeler gauge or an eye reads in a joint (common practice,
/// no source).
pub const READABLE: Length = Length::from_mm(0.25);
/// A slip explains what is seen if it leaves no more than this part of the widest gap.
const PART: f64 = 0.15;
/// A second slip explains it as well if it leaves no more than this over the best.
const AS_WELL: Length = Length::from_mm(0.1);

/// Gaps seen after the piece was pushed home, at four turns from the heel. Over a root gap they are
/// those on top of the spacer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// At the heel.
    pub heel: Length,
    /// A quarter turn on from the heel, on the +side.
    pub plus: Length,
    /// At the toe.
    pub toe: Length,
    /// Three quarters on, on the −side.
    pub minus: Length,
}

impl Seen {
    /// In the order of turns: heel, +side, toe, −side.
    #[must_use]
    pub const fn in_turn(&self) -> [Length; 4] {
        [self.heel, self.plus, self.toe, self.minus]
    }
}

/// A slip that may have caused what is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cause {
    /// What is off.
    pub kind: SlipKind,
    /// By how much: rad or mm.
    pub amount: f64,
    /// The gaps it makes, in the order of [`Seen::in_turn`]; `None` beside the main.
    pub makes: [Option<Length>; 4],
    /// How far these are from what is seen, root mean square.
    pub off: Length,
}

/// An end that is not home, or is held off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandOff {
    /// How far it stands off, along the branch.
    pub by: Length,
    /// The gaps that leaves, as in [`Cause::makes`].
    pub makes: [Option<Length>; 4],
    /// How far these are from what is seen, root mean square.
    pub off: Length,
}

/// What the gaps say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// They are those of a cut with nothing off but what is known, as far as can be read.
    Clean,
    /// One slip explains them.
    Explained,
    /// No single slip does.
    Unexplained,
}

/// What the gaps say, with every slip that was tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// In one word.
    pub verdict: Verdict,
    /// Gaps of a true cut.
    pub plain: [Option<Length>; 4],
    /// Gaps of a cut with nothing off but what is known.
    pub expected: [Option<Length>; 4],
    /// Whether it touches at none of the places that come down on a main.
    pub nowhere: bool,
    /// That it stands off, where this alone explains what is seen as well as a slip does.
    pub held: Option<StandOff>,
    /// The slips, the best explanation first.
    pub causes: Vec<Cause>,
    /// Another size than the one that is known, where it explains what is seen and no slip beside
    /// the known one does: its amount is that of the whole, as in [`Slip::size`].
    pub other_size: Option<Cause>,
}

impl Diagnosis {
    /// The best explanation and those that do as well; none where nothing explains what is seen or
    /// nothing needs to.
    #[must_use]
    pub fn explanations(&self) -> &[Cause] {
        let Some(best) = self.causes.first() else {
            return &[];
        };
        if self.verdict != Verdict::Explained {
            return &[];
        }
        let count = self
            .causes
            .partition_point(|cause| cause.off <= best.off + AS_WELL);
        &self.causes[..count]
    }
}

/// How far a slip of a kind may go, either way: rad or mm.
fn reach(kind: SlipKind, cope: &Cope) -> f64 {
    let outside = cope.joint().branch().outside().mm();
    match kind {
        SlipKind::Angle => Angle::from_deg(10.0).rad(),
        SlipKind::Turn => Angle::from_deg(30.0).rad(),
        SlipKind::Offset | SlipKind::Size => (0.4 * outside).min(20.0),
        SlipKind::Scale => 0.1,
    }
}

/// Whether the edge that is to seat comes down on a main at a turn from the heel.
#[must_use]
pub fn lands(cope: &Cope, turn: Angle) -> bool {
    let branch = cope.joint().branch();
    let edge = match cope.method() {
        CutMethod::Bore => branch.bore_radius(),
        CutMethod::Saw | CutMethod::Square => branch.outside_radius(),
    };
    let ground = Ground::new(cope.mains().to_vec());
    ground.met(edge.mm(), turn.rad()).is_some()
}

impl Home {
    /// The gaps of the edge at heel, sides and toe, of an end that stands back by so much, mm.
    fn quarters(&self, back: f64) -> [Option<Length>; 4] {
        let edge = self.cut.edge();
        [0.0, 1.0, 2.0, 3.0].map(|quarter| {
            let phi = quarter * FRAC_PI_2;
            self.truth.met(edge, phi)?;
            let height = self.cut.height(edge, phi) - self.advance + back;
            Some(Length::from_mm(self.off_mains(edge, phi, height)))
        })
    }
}

/// Looks for the one slip that explains the gaps seen: the angle of a main, the diameter cut for,
/// the turn, the offset; and whether the end just stands off.
///
/// Each is varied alone until the squares of the differences from what is seen are least. A `size`
/// that is known, as in [`Slip::size`], is off by that and no other amount; only where nothing
/// explains the gaps beside it is it asked whether another would.
///
/// # Errors
/// A known size that takes the diameter out of the range of the main.
pub fn diagnose(
    cope: &Cope,
    seen: &Seen,
    main: usize,
    size: Option<Length>,
    zero: Angle,
) -> Result<Diagnosis, JointError> {
    let seen = seen.in_turn();
    let none = Slip { main, ..Slip::NONE };
    let known = Slip {
        size: size.unwrap_or_default(),
        ..none
    };
    let home = |slip: &Slip| Home::new(cope, slip, zero, Effort::COMPARED);
    let gaps = |kind: SlipKind, amount: f64| {
        let home = home(&kind.beside(known, amount)).ok()?;
        Some(home.quarters(0.0))
    };
    let plain = home(&none)?.quarters(0.0);
    let base = home(&known)?;
    let expected = base.quarters(0.0);
    let same = |(made, seen): (&Option<Length>, &Length)| {
        made.is_none_or(|made| (made - *seen).abs() <= READABLE)
    };
    let clean = expected.iter().zip(&seen).all(same);
    let seat: Option<&Main> = cope.mains().get(main);
    let cause = |kind: SlipKind| {
        seat.filter(|seat| kind.applies_to(seat))?;
        let off =
            |amount: f64| gaps(kind, amount).map_or(f64::INFINITY, |made| difference(&made, &seen));
        let (amount, off) = best(reach(kind, cope), &off)?;
        Some(Cause {
            kind,
            amount,
            makes: gaps(kind, amount)?,
            off: Length::from_mm(off),
        })
    };
    let kinds = [
        SlipKind::Angle,
        SlipKind::Size,
        SlipKind::Turn,
        SlipKind::Offset,
    ];
    let mut causes: Vec<Cause> = kinds
        .into_iter()
        .filter(|kind| size.is_none() || *kind != SlipKind::Size)
        .filter_map(cause)
        .collect();
    sort_by_number(&mut causes, |cause| cause.off.mm());
    let widest = seen.into_iter().fold(Length::ZERO, Length::max);
    let allowed = (widest * PART).max(READABLE);
    let verdict = if clean {
        Verdict::Clean
    } else if causes.first().is_some_and(|best| best.off <= allowed) {
        Verdict::Explained
    } else {
        Verdict::Unexplained
    };
    let other_size = (verdict == Verdict::Unexplained && size.is_some())
        .then(|| cause(SlipKind::Size))
        .flatten()
        .filter(|cause| cause.off <= allowed);
    // Where a main falls away steeply a gap opens by as little as a fifth of the way along.
    let (back, off) = least(0.0, 5.0 * widest.mm(), 40, &|back| {
        difference(&base.quarters(back), &seen)
    });
    let held = StandOff {
        by: Length::from_mm(back),
        makes: base.quarters(back),
        off: Length::from_mm(off),
    };
    let open = |(made, seen): (&Option<Length>, &Length)| made.is_none() || *seen > READABLE;
    let nowhere = !clean && expected.iter().zip(&seen).all(open);
    // Even where it touches nowhere: it may well be home and touch between the places looked at.
    let better = causes
        .first()
        .into_iter()
        .chain(&other_size)
        .any(|best| best.off + AS_WELL < held.off);
    let likely = !clean && held.by > READABLE && held.off <= allowed && !better;
    Ok(Diagnosis {
        verdict,
        plain,
        expected,
        nowhere,
        held: likely.then_some(held),
        causes,
        other_size,
    })
}

/// Root mean square of the differences, mm, where there is something to compare.
fn difference(made: &[Option<Length>; 4], seen: &[Length; 4]) -> f64 {
    let (mut sum, mut count) = (0.0, 0.0);
    for (made, seen) in made.iter().zip(seen) {
        if let Some(made) = made {
            sum += (*made - *seen).mm().powi(2);
            count += 1.0;
        }
    }
    if count > 0.0 {
        f64::sqrt(sum / count)
    } else {
        f64::INFINITY
    }
}

/// The amount within ±`reach` that leaves least, and what it leaves.
fn best(reach: f64, off: &dyn Fn(f64) -> f64) -> Option<(f64, f64)> {
    /// Amounts tried either way, closer together near none.
    const EACH_WAY: i32 = 9;
    /// Hollows looked at more closely.
    const HOLLOWS: usize = 2;
    const NARROW: u32 = 18;
    let amounts: Vec<f64> = (-EACH_WAY..=EACH_WAY)
        .map(|step| {
            let part = f64::from(step) / f64::from(EACH_WAY);
            reach * part * part.abs()
        })
        .collect();
    let values: Vec<f64> = amounts.iter().map(|amount| off(*amount)).collect();
    let last = amounts.len() - 1;
    let mut hollows: Vec<usize> = (0..=last)
        .filter(|at| {
            values[*at].is_finite()
                && (*at == 0 || values[*at] <= values[at - 1])
                && (*at == last || values[*at] <= values[at + 1])
        })
        .collect();
    sort_by_number(&mut hollows, |at| values[*at]);
    let first = *hollows.first()?;
    let mut found = (amounts[first], values[first]);
    for at in hollows.into_iter().take(HOLLOWS) {
        let (low, high) = (amounts[at.saturating_sub(1)], amounts[(at + 1).min(last)]);
        for (low, high) in [(low, amounts[at]), (amounts[at], high)] {
            let closer = least(low, high, NARROW, off);
            if closer.1 < found.1 {
                found = closer;
            }
        }
    }
    Some(found)
}
