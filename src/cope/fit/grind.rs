//! What to take off a cut end so that it seats.

use crate::cope::fit::{Fit, Home, Widest, search};
use crate::units::{Angle, Length};

/// What to take off, measured along the branch.
#[derive(Debug, Clone, PartialEq)]
pub struct Grind {
    /// Where most is to come off.
    pub most: Widest,
    /// How much at turns from the heel, ascending, at least one a degree.
    pub at: Vec<(Angle, Length)>,
    /// How much farther in the piece then sits.
    pub shorter: Length,
}

impl Grind {
    /// How much at a turn from the heel.
    #[must_use]
    pub fn near(&self, turn: Angle) -> Length {
        let turn = turn.within_turn();
        let past = self.at.partition_point(|(at, _)| *at < turn);
        let last = self.at.len().saturating_sub(1);
        self.at
            .get(past.min(last))
            .map_or(Length::ZERO, |(_, off)| *off)
    }
}

impl Home {
    /// The least grinding that opens the edge nowhere by more than `most` beyond what it is open
    /// where the wall seats: the end follows the main wherever it was taken off, and is as it was
    /// elsewhere.
    fn grind(&self, most: f64) -> Grind {
        let edge = self.cut.edge();
        let looked: Vec<(f64, f64, f64)> = self
            .turns
            .iter()
            .filter_map(|phi| {
                let (clear, _) = search::clearance(&self.truth, &self.cut, *phi, self.effort)?;
                Some((*phi, clear, self.cut.height(edge, *phi)))
            })
            .collect();
        // What would be open if the end were pushed in by this much, and ground to go there. It
        // falls as that grows.
        let open = |push: f64| {
            looked
                .iter()
                .filter(|(_, clear, _)| *clear > push)
                .filter(|(phi, ..)| self.truth.hit(edge, phi.sin_cos()).is_some())
                .map(|(phi, clear, height)| {
                    // The groove of a square cut is there even where it seats.
                    let groove = self.off_mains(edge, *phi, height - clear);
                    self.off_mains(edge, *phi, height - push) - groove
                })
                .fold(0.0, f64::max)
        };
        let deepest = looked.iter().map(|at| at.1).fold(self.advance, f64::max);
        let (mut low, mut high) = (self.advance, deepest);
        if open(low) <= most {
            high = low;
        }
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if open(middle) <= most {
                high = middle;
            } else {
                low = middle;
            }
        }
        let push = high;
        let mut top = Widest {
            turn: self.contact.turn,
            gap: Length::ZERO,
        };
        let mut at = Vec::new();
        for (phi, clear, _) in looked {
            let (turn, gap) = (
                Angle::from_rad(phi),
                Length::from_mm((push - clear).max(0.0)),
            );
            if gap > top.gap {
                top = Widest { turn, gap };
            }
            at.push((turn, gap));
        }
        Grind {
            most: top,
            at,
            shorter: Length::from_mm(push - self.advance),
        }
    }
}

impl Fit {
    /// What to take off so that the end seats: no gap is left that is wider by more than `most`
    /// than the cut leaves where it seats (nothing, but for the groove of a square cut).
    #[must_use]
    pub fn grind(&self, most: Length) -> Grind {
        self.home.grind(most.mm())
    }
}
