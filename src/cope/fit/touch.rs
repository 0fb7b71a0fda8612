//! Where an end touches, and with which edge of its wall.

use std::f64::consts::TAU;

use crate::cope::fit::search::{Effort, clearance};
use crate::cope::fit::{Fit, GapAt, Home, ROUNDING};
use crate::units::Angle;

/// What of the wall touches at a turn; neither edge where it does between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Touch {
    /// The outside edge.
    pub outside: bool,
    /// The bore's edge.
    pub bore: bool,
}

impl Home {
    /// What touches at a turn, to [`ROUNDING`] along the branch.
    fn touch(&self, phi: f64) -> Option<Touch> {
        let (truth, cut) = (&self.truth, &self.cut);
        let touches = |clear: f64| clear - self.advance <= ROUNDING.mm();
        let (clear, _) = clearance(truth, cut, phi, Effort::COMPARED)?;
        if !touches(clear) {
            return None;
        }
        let edge = |rho: f64| {
            let judged = !cut.one_edge() || rho == cut.edge();
            let hit = truth.met(rho, phi).filter(|_| judged);
            hit.is_some_and(|hit| touches(cut.height(rho, phi) - hit))
        };
        Some(Touch {
            outside: edge(cut.outside),
            bore: edge(cut.bore),
        })
    }
}

impl Fit {
    /// What touches at a turn from the heel, as near as a gap is shown; `None` where the whole wall
    /// stays open or passes beside.
    #[must_use]
    pub fn touch(&self, turn: Angle) -> Option<Touch> {
        self.home.touch(turn.rad())
    }

    /// Turns over which it touches: from, to. One that runs through the heel starts below 0; all
    /// round is from 0 to a whole turn, with the turns left out at which no part of the wall comes
    /// down on a main.
    #[must_use]
    pub fn touching(&self) -> Vec<(Angle, Angle)> {
        let beside = |at: &GapAt| at.gap.is_none() && at.bore.is_none();
        let touches = |at: &GapAt| self.touch(at.turn).is_some();
        if self.gaps.iter().all(|at| beside(at) || touches(at)) {
            return vec![(Angle::ZERO, Angle::from_rad(TAU))];
        }
        let mut arcs = self.arcs(&touches);
        let first = self.contact().turn;
        let within = |(from, to): &(Angle, Angle)| {
            // One that runs through the heel holds turns just below a whole one too.
            let near = |turn: Angle| *from - Self::NEXT <= turn && turn <= *to + Self::NEXT;
            near(first) || near(first - Angle::from_rad(TAU))
        };
        // A corner that touches between two of the turns looked at.
        if !arcs.iter().any(within) {
            arcs.push((first, first));
        }
        arcs
    }

    /// How far apart the turns looked at are at most.
    const NEXT: Angle = Angle::from_deg(1.0);

    /// Turns over which something holds, of those looked at: from, to. One that runs through the
    /// heel starts below 0.
    pub(super) fn arcs(&self, holds: &dyn Fn(&GapAt) -> bool) -> Vec<(Angle, Angle)> {
        let mut arcs: Vec<(f64, f64)> = Vec::new();
        let mut before = false;
        let mut first = false;
        for (number, at) in self.gaps.iter().enumerate() {
            let (turn, here) = (at.turn.rad(), holds(at));
            match arcs.last_mut() {
                Some(last) if here && before => last.1 = turn,
                _ if here => arcs.push((turn, turn)),
                _ => {}
            }
            before = here;
            first |= number == 0 && here;
        }
        if before && first && arcs.len() > 1 {
            let last = arcs.pop().unwrap_or_default();
            arcs[0].0 = last.0 - TAU;
        }
        let arcs = arcs.into_iter();
        arcs.map(|(from, to)| (Angle::from_rad(from), Angle::from_rad(to)))
            .collect()
    }
}
