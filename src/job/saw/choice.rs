//! Which of the saws at hand is the best for an end, and why each of the others is not.

use crate::cope::Cope;
use crate::cope::saw::{Blank, PreCut, PreCutter, Reach, gap_of_saw, reach as reach_in};
use crate::stock::hole_saw_match;
use crate::units::{Length, limited};

use super::plan::BITES_MAX;
use super::tools::{OwnSaw, Tools};

/// A saw that is no match in diameter is taken where it leaves no more than this part of the wall, and
/// the user's limits call that tight; our own judgement: on small tubes those alone are as wide as the
/// wall.
const TIGHT_OF_WALL: f64 = 0.2;

/// Whether a saw is deep enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Depth {
    /// For the square blank.
    Enough,
    /// After a straight cut, the least that makes it so; for a saw that is out of the question, the
    /// least at the tilt that takes most off.
    After(PreCut),
    /// Nobody said how deep it is.
    Unknown,
    /// Whatever is cut off before, it is too shallow: so many bites, with what is loose taken out
    /// between them.
    Bites(u32),
    /// It passes beside the tube, that far off.
    Beside(Length),
}

/// A saw at hand, judged for an end.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The saw.
    pub saw: OwnSaw,
    /// How much larger it is than what the joint wants; below 0 smaller.
    pub larger: Length,
    /// Whether that is a match, or what it leaves is tight all the same.
    pub fits: bool,
    /// The widest gap that it leaves.
    pub gap: Length,
    /// What that is by the limits: 0 tight, 1 one that can be filled, 2 wider.
    pub band: u8,
    /// How deep it must reach in the square blank.
    pub reach: Option<Reach>,
    /// How deep it must reach at least, where it goes in bites: after the straight cut that takes
    /// most off, if that spares it something.
    pub needs: Length,
    /// Whether it is that deep.
    pub depth: Depth,
    /// Whether it has fewer cuts left than are wanted.
    pub worn: bool,
    /// How many cuts are wanted.
    pub needed: u32,
}

impl Verdict {
    /// Smaller is better: how wide it gaps, how deep it is, worn or not, the gap that it leaves, mm. A saw
    /// too small by a little may leave more than one too large by more.
    pub(super) fn rank(&self) -> (u8, u32, bool, f64) {
        let depth = match self.depth {
            Depth::Enough => 0,
            Depth::After(_) => 1,
            Depth::Unknown => 2,
            Depth::Bites(bites) => bites.saturating_add(3),
            Depth::Beside(_) => u32::MAX,
        };
        (self.band, depth, self.worn, self.gap.mm())
    }

    /// The same as if it were new.
    pub(super) fn unworn_rank(&self) -> (u8, u32, bool, f64) {
        let (band, depth, _, gap) = self.rank();
        (band, depth, false, gap)
    }

    /// Whether it can cut the end at all.
    #[must_use]
    pub fn is_right(&self) -> bool {
        let deep = match self.depth {
            Depth::Bites(bites) => bites <= BITES_MAX,
            Depth::Beside(_) => false,
            Depth::Enough | Depth::After(_) | Depth::Unknown => true,
        };
        self.fits && deep
    }
}

/// Judges every saw for an end that is cut `count` times; `wanted` is the diameter of the joint.
/// The tube comes as the square `blank`, of which the straight cut `bulk` takes most off.
pub(super) fn verdicts(
    cope: &Cope,
    cutter: &PreCutter,
    (blank, bulk): (&Blank, Option<PreCut>),
    wanted: Length,
    tools: &Tools,
    count: u32,
) -> Vec<Verdict> {
    let limits = &tools.limits;
    let after = bulk.map_or(*blank, |cut| blank.after(cut));
    let tight = limits
        .tight
        .min(cope.joint().branch().wall() * TIGHT_OF_WALL);
    let judge = |saw: &OwnSaw| {
        let larger = saw.diameter - wanted;
        let gap = gap_of_saw(cope, saw.diameter);
        // A thousandth over is the rounding of inches, not another saw.
        let rounding = Length::from_mm(0.001);
        let matches = larger.abs() <= hole_saw_match(wanted) + rounding;
        let fits = matches || gap.is_some_and(|gap| gap <= tight);
        let gap = gap.unwrap_or_default();
        let reach = reach_in(cope.joint(), saw.diameter, blank);
        let square = reach.map(|reach| reach.cup()).unwrap_or_default();
        let spared = reach_in(cope.joint(), saw.diameter, &after);
        let needs = spared.map_or(square, |spared| spared.cup().min(square));
        let depth = match (reach, saw.depth) {
            (None, _) => {
                let reach = saw.diameter / 2.0 + cope.joint().branch().outside_radius();
                let by = cope.joint().main().offset().abs() - reach;
                Depth::Beside(by.max(Length::ZERO))
            }
            (Some(_), None) => Depth::Unknown,
            (Some(_), Some(depth)) if square <= depth => Depth::Enough,
            (Some(_), Some(depth)) => {
                // No search of all tilts for a saw that is out of the question.
                let may_do = fits || gap <= limits.most;
                may_do
                    .then(|| cutter.least_for(saw.diameter, depth, blank))
                    .flatten()
                    .or_else(|| cutter.least_along(bulk?, saw.diameter, depth, blank))
                    .map_or_else(|| Depth::Bites(bites(needs, depth)), Depth::After)
            }
        };
        Verdict {
            saw: saw.clone(),
            larger,
            fits,
            gap,
            band: limits.band(gap),
            reach,
            needs,
            depth,
            needed: count,
            worn: saw.cuts_left().is_some_and(|left| left < count),
        }
    };
    tools.saws.iter().map(judge).collect()
}

/// The place of the best verdict that is right.
pub(super) fn best(verdicts: &[Verdict]) -> Option<usize> {
    let right = verdicts
        .iter()
        .enumerate()
        .filter(|(_, verdict)| verdict.is_right());
    let best = right.reduce(|best, next| {
        if next.1.rank() < best.1.rank() {
            next
        } else {
            best
        }
    });
    best.map(|(place, _)| place)
}

fn bites(cup: Length, depth: Length) -> u32 {
    const MOST: f64 = 1000.0;
    // One would be deep enough, which it is not.
    limited((cup / depth).ceil(), 2.0, MOST) as u32
}
