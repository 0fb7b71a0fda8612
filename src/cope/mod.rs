//! The cut line of one end: its height at every turn, its extremes, its polyline.
//!
//! Heights are measured along the branch axis from the joint centre into the tube's body, turns
//! from the heel. Nothing here is sampled: the line is split where another wall radius takes over
//! and where it changes its bend, both proven by interval arithmetic, and every chord of its
//! polyline is bounded against the curve.

mod bar;
mod bend;
mod curve;
mod extremes;
mod flatten;
mod interval;
mod mesh;
mod profile;
mod roots;
mod solid;

use std::f64::consts::TAU;

pub use mesh::{Mesh, Patch, Point3, Surface};
pub use profile::Side;
pub use solid::{Ball, Landmark, LineRole, Solid, SpaceLine};

use crate::cope::curve::{Curve, Seat};
use crate::cope::flatten::{Ruler, Vertex};
use crate::cope::profile::Piece;
use crate::joint::{GAP_MAX, Joint, JointError};
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
    /// On which side of the main.
    pub side: Side,
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

/// Heights at one turn further apart than this are a step of the line, drawn as one.
const STEP: Length = Length::from_mm(1e-4);

/// The cut line of one end.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    joint: Joint,
    method: CutMethod,
    gap: Length,
    seat: Seat,
    pieces: Vec<Piece>,
    beside: Vec<BesideArc>,
    long: Extreme,
    short: Extreme,
}

impl Cope {
    /// Computes the cut line of a joint for a way of cutting and a uniform root gap.
    ///
    /// # Errors
    /// A gap out of range; a bore that misses the main when the bore edge is to seat.
    pub fn new(joint: &Joint, method: CutMethod, gap: Length) -> Result<Self, JointError> {
        if !(gap >= Length::ZERO && gap <= GAP_MAX) {
            return Err(JointError::Gap { is: gap });
        }
        let main = joint.main().grown(gap);
        let seat = Seat::of(&main);
        let (bore, outside) = (
            joint.branch().bore_radius().mm(),
            joint.branch().outside_radius().mm(),
        );
        let (inner, outer) = method.radii(bore, outside);
        if seat.offset.abs() >= seat.radius + outer {
            let reach = main.radius() + Length::from_mm(outer);
            return Err(JointError::BoreMisses {
                offset: main.offset(),
                reach,
            });
        }
        let pieces = profile::pieces(&seat, method, bore, outside);
        let beside = profile::uncovered(&seat, inner, outer)
            .into_iter()
            .map(|gap| BesideArc {
                side: gap.side,
                from: Angle::from_rad(gap.centre - gap.half),
                to: Angle::from_rad(gap.centre + gap.half),
            })
            .collect();
        let extreme = |sign| {
            let (height, turns) = extremes::extreme(&seat, &pieces, sign);
            Extreme {
                height: Length::from_mm(height),
                turns: turns.into_iter().map(Angle::from_rad).collect(),
            }
        };
        let (long, short) = (extreme(-1.0), extreme(1.0));
        Ok(Self {
            joint: *joint,
            method,
            gap,
            seat,
            pieces,
            beside,
            long,
            short,
        })
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
        let height = |curve: Curve| Length::from_mm(curve.height(&self.seat, phi));
        match profile::piece_at(&self.pieces, phi) {
            Some(piece) if piece.beside() => Meeting::Beside(height(piece.curve)),
            Some(_) => Meeting::Seated(height(self.seated_curve(phi))),
            // Unreachable: the pieces cover the whole turn. The main's axis is an honest answer.
            None => Meeting::Beside(Length::ZERO),
        }
    }

    /// The curve that decides at a seated turn, asked for this very turn: pieces know it only up to
    /// the shortest stretch that could be decided.
    fn seated_curve(&self, phi: f64) -> Curve {
        let branch = self.joint.branch();
        let (inner, outer) = (branch.bore_radius().mm(), branch.outside_radius().mm());
        let (inner, outer) = self.method.radii(inner, outer);
        curve::highest(&self.seat, inner, outer, phi)
    }

    /// The height at which the wall radius `radius` meets the main at a turn, root gap included;
    /// `None` where it passes beside.
    #[must_use]
    pub fn trace(&self, radius: Length, turn: Angle) -> Option<Length> {
        let (sin, cos) = turn.rad().sin_cos();
        self.joint
            .main()
            .grown(self.gap)
            .first_hit(radius * cos, radius * sin)
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

    /// The cut line as chords that stay within `tolerance` of it on paper, where one whole turn
    /// measures `width`.
    ///
    /// Starts at the turn `seam` from the heel and ends one turn later at exactly the same height.
    #[must_use]
    pub fn line(&self, seam: Angle, width: Length, tolerance: Length) -> Vec<Run> {
        let ruler = Ruler {
            per_rad: width.mm() / TAU,
            tolerance: tolerance.mm(),
        };
        let seam = seam.within_turn().rad();
        let mut runs: Vec<Run> = Vec::new();
        let mut vertices: Vec<Vertex> = Vec::new();
        let seam_height = self.at(Angle::from_rad(seam)).height();
        for (piece, lap) in self.once_round(seam) {
            let beside = piece.beside();
            let start = Vertex {
                phi: piece.from,
                height: piece.curve.height(&self.seat, piece.from),
            };
            vertices.clear();
            vertices.push(start);
            flatten::flatten(&self.seat, &piece, ruler, &mut vertices);
            let points = vertices.iter().map(|vertex| LinePoint {
                turn: Angle::from_rad(vertex.phi + lap),
                height: Length::from_mm(vertex.height),
            });
            match runs.last_mut() {
                Some(run) if run.beside == beside => run.points.extend(points.skip(1)),
                Some(run) => {
                    // Both sides of the change share one point, so that the line has no gap. Where
                    // the whole wall grazes the main at one turn there is a step between them.
                    let shared = run.points.last().copied();
                    let steps = |own: &LinePoint| {
                        shared.is_none_or(|shared| (shared.height - own.height).abs() > STEP)
                    };
                    let mut points = points.peekable();
                    points.next_if(|own| !steps(own));
                    let points = shared.into_iter().chain(points).collect();
                    runs.push(Run { beside, points });
                }
                None => runs.push(Run {
                    beside,
                    points: points.collect(),
                }),
            }
        }
        let close = LinePoint {
            turn: Angle::from_rad(seam + TAU),
            height: seam_height,
        };
        if let Some(first) = runs.first_mut().and_then(|run| run.points.first_mut()) {
            first.height = seam_height;
        }
        if let Some(run) = runs.last_mut()
            && let Some(last) = run.points.last_mut()
        {
            if (last.height - seam_height).abs() > STEP {
                last.turn = close.turn;
                run.points.push(close);
            } else {
                *last = close;
            }
        }
        runs
    }

    /// The pieces in the order they are met from a seam, with the laps to add to their turns.
    fn once_round(&self, seam: f64) -> impl Iterator<Item = (Piece, f64)> + '_ {
        let after = self
            .pieces
            .iter()
            .filter(move |piece| piece.to > seam)
            .map(move |piece| {
                (
                    Piece {
                        from: piece.from.max(seam),
                        ..*piece
                    },
                    0.0,
                )
            });
        let before = self
            .pieces
            .iter()
            .filter(move |piece| piece.from < seam)
            .map(move |piece| {
                (
                    Piece {
                        to: piece.to.min(seam),
                        ..*piece
                    },
                    TAU,
                )
            });
        after.chain(before)
    }
}
