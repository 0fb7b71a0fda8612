//! How well an end will fit: the gap all round after it is pushed home.
//!
//! # What is cut
//! The wall of the branch ends at a height c(ρ, φ) over its radius ρ and turn φ:
//! - **saw follows the main**: where the generator meets the saw (the main the cut was in truth
//!   made for); beside it, level with its axis, as the ears are trimmed;
//! - **cut square to the wall**: the printed line at that turn, the same from bore to outside;
//! - **bore edge seats**: the printed line at the bore. All outside of it is bevelled away and
//!   touches nothing, so the bore's edge alone can seat and is judged.
//!
//! With a template that is not at true scale the end is ground to what was printed: the line and
//! the turns from the template's edge, both times the factor. A saw's own shape does not come out
//! of the printer; the outside line is ground to then, and the wall behind it cleared away.
//!
//! # Pushed home
//! Along its own axis until it first touches. With t(ρ, φ) where the generator meets the mains as
//! they are, that is by the least of c − t over the wall. The gap at a place of the end is its
//! distance from the mains' surface then, along their normal: never below 0, and 0 where it
//! touches. A root gap of the joint is a spacer that stays in: the surface touched is the one that
//! far out, and the gap is what is open beyond it.
//!
//! The place first touched is looked for at every degree, at every kink of a straight main's
//! outline, and where one main takes over from another or a bend is grazed, to less than 1e-6 mm.
//! Where a main shows above another for less than a degree it can be missed; it shows by less than
//! 1e-3 mm then. `tests/fit/grid.rs` looks over random joints of all kinds on a fine grid.

mod diagnosis;
mod dihedral;
mod grind;
mod search;
mod sensitivity;
mod slip;
mod surface;
mod touch;

pub use diagnosis::{Cause, Diagnosis, READABLE, Seen, StandOff, Verdict, diagnose, lands};
pub use dihedral::{Access, AccessArc, access, dihedral};
pub use grind::Grind;
pub use sensitivity::{Cost, Usual, sensitivity};
pub use slip::{Slip, SlipKind};
pub use touch::Touch;

use crate::cope::Cope;
use crate::cope::fit::search::Effort;
use crate::cope::fit::surface::{CutEnd, Ground};
use crate::joint::{JointError, Main};
use crate::units::{Angle, Length};

/// A gap less than this is none: it is shown as 0, and is what rounding leaves.
pub const ROUNDING: Length = Length::from_mm(0.005);

/// Gaps up to which a joint counts as tight, and up to which it can be welded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Up to here nothing need be done.
    pub tight: Length,
    /// Up to here it can be filled.
    pub most: Length,
}

impl Limits {
    /// 0 for a tight gap, 1 for one that can be filled, 2 for a wider one. Less than [`ROUNDING`]
    /// is tight by any limits.
    #[must_use]
    pub fn band(&self, gap: Length) -> u8 {
        if gap < ROUNDING {
            return 0;
        }
        u8::from(gap > self.tight) + u8::from(gap > self.most)
    }
}

/// The gap at one turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapAt {
    /// Turn from the heel, 0 to 360°.
    pub turn: Angle,
    /// Gap at the edge that is to seat (outside, or bore where that seats); `None` where it passes
    /// beside all mains.
    pub gap: Option<Length>,
    /// Gap at the bore, likewise.
    pub bore: Option<Length>,
    /// Whether the cut did not reach the edge here, which is only trimmed, though it should sit.
    pub trimmed: bool,
}

/// Where the end touches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Turn from the heel.
    pub turn: Angle,
    /// Radius of the wall there.
    pub radius: Length,
}

/// The widest gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Widest {
    /// Turn from the heel.
    pub turn: Angle,
    /// The gap.
    pub gap: Length,
}

/// How an end fits.
#[derive(Debug, Clone)]
pub struct Fit {
    home: Home,
    gaps: Vec<GapAt>,
    widest: Widest,
}

/// An end pushed home.
#[derive(Debug, Clone)]
struct Home {
    truth: Ground,
    cut: CutEnd,
    turns: Vec<f64>,
    effort: Effort,
    /// How far it goes on from where the cut was meant to be, into the main; below 0 it stands off.
    advance: f64,
    contact: Contact,
}

impl Home {
    fn new(cope: &Cope, slip: &Slip, zero: Angle, effort: Effort) -> Result<Self, JointError> {
        let branch = cope.joint().branch();
        let radii = (branch.bore_radius().mm(), branch.outside_radius().mm());
        let truth = Ground::new(cope.mains().to_vec());
        let made = Ground::new(slip.mains(cope.mains())?);
        let cut = CutEnd::new(made, cope.method(), radii, slip, zero.rad());
        let turns = search::turns(&truth, &cut, effort.turns);
        let found = search::least_round(&turns, effort, &|phi| {
            search::clearance(&truth, &cut, phi, effort).map_or(f64::INFINITY, |(clear, _)| clear)
        });
        // Unreachable: a cope sits somewhere, and there the end has a height.
        let (turn, advance) = found.unwrap_or((0.0, 0.0));
        let radius =
            search::clearance(&truth, &cut, turn, effort).map_or(cut.edge(), |(_, radius)| radius);
        let contact = Contact {
            turn: Angle::from_rad(turn),
            radius: Length::from_mm(radius),
        };
        Ok(Self {
            truth,
            cut,
            turns,
            effort,
            advance,
            contact,
        })
    }

    /// Distance from the mains of a place of the wall at a height, never below 0.
    fn off_mains(&self, rho: f64, phi: f64, height: f64) -> f64 {
        let (sin, cos) = phi.sin_cos();
        let place = [rho * cos, rho * sin, height];
        let distances = self
            .truth
            .mains
            .iter()
            .map(|main| main.nearest(place).distance.mm());
        distances.fold(f64::INFINITY, f64::min).max(0.0)
    }

    /// The gap at a place of the end; `None` where its generator passes beside.
    fn gap(&self, rho: f64, phi: f64) -> Option<f64> {
        self.truth.met(rho, phi)?;
        Some(self.off_mains(rho, phi, self.cut.height(rho, phi) - self.advance))
    }

    fn edge_gap(&self, phi: f64) -> Option<f64> {
        self.gap(self.cut.edge(), phi)
    }
}

impl Fit {
    /// The fit of a cope that was cut with a slip. `zero` is the turn from the heel at which the
    /// template's edge lay; it matters only to a print that is not at true scale.
    ///
    /// # Errors
    /// An angle or a diameter that the slip takes out of the range of a main.
    pub fn new(cope: &Cope, slip: &Slip, zero: Angle) -> Result<Self, JointError> {
        let home = Home::new(cope, slip, zero, Effort::SHOWN)?;
        let gaps: Vec<GapAt> = home
            .turns
            .iter()
            .map(|phi| {
                let edge = home.edge_gap(*phi);
                let reached = home.cut.ground.met(home.cut.edge(), *phi);
                GapAt {
                    turn: Angle::from_rad(*phi),
                    gap: edge.map(Length::from_mm),
                    bore: home.gap(home.cut.bore, *phi).map(Length::from_mm),
                    trimmed: edge.is_some() && reached.is_none(),
                }
            })
            .collect();
        let wide = search::least_round(&home.turns, home.effort, &|phi| {
            home.edge_gap(phi).map_or(f64::INFINITY, |gap| -gap)
        });
        let (turn, gap) = wide.unwrap_or((0.0, 0.0));
        let widest = Widest {
            turn: Angle::from_rad(turn),
            gap: Length::from_mm(-gap).max(Length::ZERO),
        };
        Ok(Self { home, gaps, widest })
    }

    /// The gap at the edge that is to seat, at every turn that was looked at: at least one a
    /// degree, ascending from 0 and below 360°.
    #[must_use]
    pub fn gaps(&self) -> &[GapAt] {
        &self.gaps
    }

    /// The gap at the edge that is to seat, at a turn from the heel; `None` beside all mains.
    #[must_use]
    pub fn at(&self, turn: Angle) -> Option<Length> {
        self.home.edge_gap(turn.rad()).map(Length::from_mm)
    }

    /// The gap at a radius of the wall; `None` where that passes beside all mains.
    #[must_use]
    pub fn over_wall(&self, radius: Length, turn: Angle) -> Option<Length> {
        let gap = self.home.gap(radius.mm(), turn.rad());
        gap.map(Length::from_mm)
    }

    /// The height of the end as it was cut, from the joint centre along the branch, before it is
    /// pushed home.
    #[must_use]
    pub fn cut_height(&self, radius: Length, turn: Angle) -> Length {
        Length::from_mm(self.home.cut.height(radius.mm(), turn.rad()))
    }

    /// The widest gap at the edge that is to seat.
    #[must_use]
    pub const fn widest(&self) -> Widest {
        self.widest
    }

    /// Where the end first touches.
    #[must_use]
    pub const fn contact(&self) -> Contact {
        self.home.contact
    }

    /// How far the piece goes on into the main from where it was meant to sit; below 0 it stands
    /// off by that much, and the frame gets longer.
    #[must_use]
    pub fn advance(&self) -> Length {
        Length::from_mm(self.home.advance)
    }

    /// The radius of the edge that is to seat.
    #[must_use]
    pub fn edge(&self) -> Length {
        Length::from_mm(self.home.cut.edge())
    }

    /// The mains it sits on, grown by the root gap.
    #[must_use]
    pub fn mains(&self) -> &[Main] {
        &self.home.truth.mains
    }

    /// Turn, gap and band of every turn looked at, for a picture to paint: [`Limits::band`], or
    /// `None` where the branch passes beside.
    #[must_use]
    pub fn bands(&self, limits: &Limits) -> Vec<(Angle, Option<(Length, u8)>)> {
        let band = |at: &GapAt| (at.turn, at.gap.map(|gap| (gap, limits.band(gap))));
        self.gaps.iter().map(band).collect()
    }

    /// Turns over which the cut did not reach the main though the branch sits there: from, to. One
    /// that runs through the heel starts below 0.
    #[must_use]
    pub fn trimmed(&self) -> Vec<(Angle, Angle)> {
        // A single turn beside a seam is where two numbers meet, not an ear.
        let mut arcs = self.arcs(&|at| at.trimmed);
        arcs.retain(|(from, to)| (*to - *from).rad() > 1e-3);
        arcs
    }
}
