//! The cut line of one end: its height at every turn, its extremes, its polyline.
//!
//! Heights are measured along the branch axis from the joint centre into the tube's body, turns
//! from the heel. Nothing here is sampled: the line is split where another wall radius or another
//! main takes over and where it changes its bend, all proven by interval arithmetic, and every
//! chord of its polyline is bounded against the curve.

mod bar;
mod bend;
mod bent;
mod crest;
mod curve;
mod enclose;
mod envelope;
mod extremes;
mod face;
pub mod fit;
mod flatten;
mod interval;
mod line;
mod mesh;
mod profile;
mod quantity;
mod rise;
mod roots;
pub mod saw;
mod seat;
mod settle;
mod solid;
mod spine;
mod sweep;
mod walk;

use std::f64::consts::TAU;

pub use mesh::{Mesh, Patch, Point3, Surface};
pub use solid::{Ball, Landmark, LineRole, Solid, SpaceLine};

use crate::cope::curve::Curve;
use crate::cope::profile::Piece;
use crate::cope::seat::Seat;
use crate::joint::{GAP_MAX, Joint, JointError, Main};
use crate::units::{Angle, Length};

/// How the end is cut; it decides which line is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CutMethod {
    /// The saw follows the main (hole saw, milling): the trace of the outside.
    Saw,
    /// Cut square to the wall (grinder, snips, torch aimed at the tube's axis): at each turn the
    /// highest point over the whole wall, so that nothing inside holds the tube off.
    Square,
    /// The bore edge seats (thick wall, bevelled afterwards): the trace of the bore.
    Bore,
}

impl CutMethod {
    /// All methods.
    pub const ALL: [Self; 3] = [Self::Saw, Self::Square, Self::Bore];

    /// Smallest and largest wall radius that decide the line.
    fn radii(self, bore: f64, outside: f64) -> (f64, f64) {
        match self {
            Self::Saw => (outside, outside),
            Self::Square => (bore, outside),
            Self::Bore => (bore, bore),
        }
    }
}

/// What the branch meets at one turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Meeting {
    /// It sits on the main; the height of the cut.
    Seated(Length),
    /// It passes beside the main; the height at which to trim it level with the main's axis.
    Beside(Length),
}

impl Meeting {
    /// Height of the cut or of the trim.
    #[must_use]
    pub const fn height(self) -> Length {
        match self {
            Self::Seated(height) | Self::Beside(height) => height,
        }
    }
}

/// A height and every turn where it is reached.
#[derive(Debug, Clone, PartialEq)]
pub struct Extreme {
    /// Height from the joint centre.
    pub height: Length,
    /// Turns from the heel, ascending; at least one.
    pub turns: Vec<Angle>,
}

/// Turns over which the branch passes beside the main.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BesideArc {
    /// First turn from the heel; may be below 0.
    pub from: Angle,
    /// Last turn from the heel; more than `from`.
    pub to: Angle,
}

/// A point of the cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// Turn from the heel; grows beyond 360° when the line starts elsewhere.
    pub turn: Angle,
    /// Height from the joint centre.
    pub height: Length,
}

/// A run of the cut line that is all seated or all beside the main.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Whether the branch passes beside the main here: nothing to sit on, only to trim.
    pub beside: bool,
    /// At least two points, in turn order. The next run starts where this one ends.
    pub points: Vec<LinePoint>,
}

/// A turn at which the cut passes from one main to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ridge {
    /// Turn from the heel.
    pub turn: Angle,
    /// The main before it, counted from 0.
    pub before: usize,
    /// The main after it.
    pub after: usize,
    /// Height of the cut before it.
    pub from: Length,
    /// Height after it; another one where the cut steps.
    pub to: Length,
}

/// Heights at one turn further apart than this are a step of the line, drawn as one.
const STEP: Length = Length::from_mm(1e-4);

/// The cut line of one end.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    joint: Joint,
    method: CutMethod,
    gap: Length,
    /// The joint's mains, grown by the gap.
    mains: Vec<Main>,
    seats: Vec<Seat>,
    pieces: Vec<Piece>,
    beside: Vec<BesideArc>,
    long: Extreme,
    short: Extreme,
}

impl Cope {
    /// Computes the cut line of a joint for a way of cutting and a uniform root gap.
    ///
    /// # Errors
    /// A gap out of range, or one that closes a bend or lays a leg along the branch; a bore that
    /// misses the main when the bore edge is to seat.
    pub fn new(joint: &Joint, method: CutMethod, gap: Length) -> Result<Self, JointError> {
        if !(gap >= Length::ZERO && gap <= GAP_MAX) {
            return Err(JointError::Gap { is: gap });
        }
        let mains = joint.grown(gap)?;
        let mut seats: Vec<Seat> = mains.iter().map(Seat::of).collect();
        let (bore, outside) = (
            joint.branch().bore_radius().mm(),
            joint.branch().outside_radius().mm(),
        );
        let (inner, outer) = method.radii(bore, outside);
        let lines: Vec<Vec<Piece>> = seats
            .iter_mut()
            .enumerate()
            .map(|(main, seat)| {
                let pieces = profile::pieces(seat, inner, outer);
                envelope::placed(seat, main, &pieces)
            })
            .collect();
        let pieces = lines
            .into_iter()
            .reduce(|first, second| envelope::higher(&seats, &first, &second))
            .unwrap_or_default();
        if pieces.iter().all(Piece::beside) {
            return Err(beside_altogether(joint, method, gap));
        }
        let beside = beside_arcs(&pieces);
        let (long, short) = extremes::extremes(&seats, &pieces);
        Ok(Self {
            joint: joint.clone(),
            method,
            gap,
            mains,
            seats,
            pieces,
            beside,
            long,
            short,
        })
    }

    /// The cut line in a mirror that holds the branch's axis and the heel.
    ///
    /// # Errors
    /// As in [`Self::new`]; none for a line that could be computed itself, rounding aside.
    pub fn mirrored(&self) -> Result<Self, JointError> {
        Self::new(&self.joint.mirrored(), self.method, self.gap)
    }

    /// The joint that is cut.
    #[must_use]
    pub const fn joint(&self) -> &Joint {
        &self.joint
    }

    /// How it is cut.
    #[must_use]
    pub const fn method(&self) -> CutMethod {
        self.method
    }

    /// The root gap left all round.
    #[must_use]
    pub const fn gap(&self) -> Length {
        self.gap
    }

    /// What the cut line does at a turn from the heel.
    #[must_use]
    pub fn at(&self, turn: Angle) -> Meeting {
        let phi = turn.within_turn().rad();
        match profile::piece_at(&self.pieces, phi) {
            Some(piece) if piece.beside() => Meeting::Beside(self.height(piece, phi)),
            Some(_) => self.highest(phi).map_or_else(
                || {
                    let rho = self.joint.branch().outside_radius().mm();
                    let trim = self.seats[0].height(Curve::Trim { rho }, phi);
                    Meeting::Beside(Length::from_mm(trim))
                },
                Meeting::Seated,
            ),
            // Unreachable: the pieces cover the whole turn. The main's axis is an honest answer.
            None => Meeting::Beside(Length::ZERO),
        }
    }

    fn height(&self, piece: &Piece, phi: f64) -> Length {
        Length::from_mm(self.seats[piece.main].height(piece.curve, phi))
    }

    /// The highest point over all mains, asked for this very turn: pieces know it only up to the
    /// shortest stretch that could be decided.
    fn highest(&self, phi: f64) -> Option<Length> {
        let branch = self.joint.branch();
        let (inner, outer) = (branch.bore_radius().mm(), branch.outside_radius().mm());
        let (inner, outer) = self.method.radii(inner, outer);
        self.seats
            .iter()
            .filter_map(|seat| seat.highest(inner, outer, phi))
            .reduce(f64::max)
            .map(Length::from_mm)
    }

    /// The height at which the wall radius `radius` meets the mains at a turn, root gap included;
    /// `None` where it passes beside all.
    #[must_use]
    pub fn trace(&self, radius: Length, turn: Angle) -> Option<Length> {
        let (sin, cos) = turn.rad().sin_cos();
        self.mains
            .iter()
            .filter_map(|main| main.first_hit(radius * cos, radius * sin))
            .reduce(Length::max)
    }

    /// The mains in their places, grown by the root gap.
    #[must_use]
    pub fn mains(&self) -> &[Main] {
        &self.mains
    }

    /// Where the cut passes from one main to another, in turn order; none on a single main.
    #[must_use]
    pub fn ridges(&self) -> Vec<Ridge> {
        let count = self.pieces.len();
        (0..count)
            .map(|index| {
                let before = &self.pieces[(index + count - 1) % count];
                (before, &self.pieces[index])
            })
            .filter(|(before, after)| {
                before.main != after.main && !before.beside() && !after.beside()
            })
            .map(|(before, after)| Ridge {
                turn: Angle::from_rad(after.from),
                before: before.main,
                after: after.main,
                from: self.height(before, before.to),
                to: self.height(after, after.from),
            })
            .collect()
    }

    /// Whether any of the cut sits on the main of that number, counted from 0.
    #[must_use]
    pub fn sits_on(&self, main: usize) -> bool {
        self.pieces
            .iter()
            .any(|piece| piece.main == main && !piece.beside())
    }

    /// The turns over which the cut sits on the main of that number, counted from 0: from, to, in
    /// turn order, each within 0 to 360°.
    #[must_use]
    pub fn arcs_on(&self, main: usize) -> Vec<(Angle, Angle)> {
        let mut arcs: Vec<(Angle, Angle)> = Vec::new();
        let sits = |piece: &&Piece| piece.main == main && !piece.beside();
        for piece in self.pieces.iter().filter(sits) {
            let (from, to) = (Angle::from_rad(piece.from), Angle::from_rad(piece.to));
            match arcs.last_mut() {
                Some(last) if last.1 == from => last.1 = to,
                _ => arcs.push((from, to)),
            }
        }
        arcs
    }

    /// The long point: where most of the tube is left.
    #[must_use]
    pub const fn long_point(&self) -> &Extreme {
        &self.long
    }

    /// The short point: where the cut is deepest.
    #[must_use]
    pub const fn short_point(&self) -> &Extreme {
        &self.short
    }

    /// The turns that pass beside the main; none for a branch that sits all round.
    #[must_use]
    pub fn beside(&self) -> &[BesideArc] {
        &self.beside
    }
}

/// Stretches of pieces that pass beside all mains; one that runs through the heel starts below 0.
fn beside_arcs(pieces: &[Piece]) -> Vec<BesideArc> {
    let mut arcs: Vec<(f64, f64)> = Vec::new();
    for piece in pieces.iter().filter(|piece| piece.beside()) {
        match arcs.last_mut() {
            Some(last) if last.1 == piece.from => last.1 = piece.to,
            _ => arcs.push((piece.from, piece.to)),
        }
    }
    if arcs.len() > 1
        && let (Some(first), Some(last)) = (arcs.first().copied(), arcs.last_mut())
        && first.0 == 0.0
        && last.1 == TAU
    {
        *last = (last.0 - TAU, first.1);
        arcs.remove(0);
        arcs.rotate_right(1);
    }
    arcs.into_iter()
        .map(|(from, to)| BesideArc {
            from: Angle::from_rad(from),
            to: Angle::from_rad(to),
        })
        .collect()
}

/// Why nothing of the wall that is to seat meets a main.
fn beside_altogether(joint: &Joint, method: CutMethod, gap: Length) -> JointError {
    let main = joint.main();
    let branch = joint.branch();
    let offset = main.offset();
    if method == CutMethod::Bore {
        let reach = main.half_breadth() + gap + branch.bore_radius();
        JointError::BoreMisses { offset, reach }
    } else {
        let reach = main.half_breadth() + gap + branch.outside_radius();
        JointError::Misses { offset, reach }
    }
}
