//! The whole way round, as pieces of curve that are each proven to bend to one side only.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::cope::CutMethod;
use crate::cope::bend::{BendSign, Switch};
use crate::cope::curve::{Curve, Seat, highest};
use crate::cope::roots::{Root, SLIVER, roots};
use crate::units::{limited, sort_by_number};

/// How a piece bends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bend {
    /// The slope only falls: a hill.
    Over,
    /// The slope only rises: a valley.
    Under,
    /// Straight on paper.
    Flat,
    /// Too short to decide (see [`SLIVER`]).
    Sliver,
}

/// A stretch of one curve that bends one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    pub curve: Curve,
    pub bend: Bend,
    /// Turn from the heel where it starts, radians.
    pub from: f64,
    /// Turn where it ends; more than `from`.
    pub to: f64,
}

impl Piece {
    /// Whether the branch passes beside the main here.
    pub fn beside(&self) -> bool {
        matches!(self.curve, Curve::Trim { .. })
    }
}

/// The side of the main on which part of the branch passes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Towards +y, where a positive offset puts the main.
    Plus,
    /// Towards −y.
    Minus,
}

/// Turns over which the branch passes beside the main.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncovered {
    pub side: Side,
    /// Middle turn: 90° or 270°.
    pub centre: f64,
    /// Half the width, radians; more than 0.
    pub half: f64,
    /// Wall radius that grazes the main at either end, mm.
    pub rho: f64,
}

/// The turns that miss the main, on either side.
///
/// A generator at y = ρ sin φ misses when y > e + R or y < e − R. At one turn the wall covers y
/// from `bore · sin φ` to `outside · sin φ`, so the last radius to miss is the bore edge when the
/// limit lies beyond the axis and the outside when it does not. A cut along one radius passes the
/// same number twice.
pub fn uncovered(seat: &Seat, bore: f64, outside: f64) -> Vec<Uncovered> {
    [
        (Side::Plus, FRAC_PI_2, seat.offset),
        (Side::Minus, 3.0 * FRAC_PI_2, -seat.offset),
    ]
    .into_iter()
    .filter_map(|(side, centre, towards)| {
        let limit = towards + seat.radius;
        let rho = if limit >= 0.0 { bore } else { outside };
        // sin φ > limit / ρ on this side; the caller has ruled out limit ≤ −ρ.
        let half = limited(limit / rho, -1.0, 1.0).acos();
        (half > 0.0).then_some(Uncovered {
            side,
            centre,
            half,
            rho,
        })
    })
    .collect()
}

/// All pieces from the heel once round, in turn order, first starting at 0 and last ending at 2π.
pub fn pieces(seat: &Seat, method: CutMethod, bore: f64, outside: f64) -> Vec<Piece> {
    let (inner, outer) = method.radii(bore, outside);
    let gaps = uncovered(seat, inner, outer);
    let mut cuts: Vec<f64> = (0..=4_u32)
        .map(|quarter| f64::from(quarter) * FRAC_PI_2)
        .collect();
    for gap in &gaps {
        cuts.extend(
            [gap.centre - gap.half, gap.centre + gap.half].map(|turn| turn.rem_euclid(TAU)),
        );
    }
    let mut doubtful = Vec::new();
    if inner < outer {
        for rho in [inner, outer] {
            let found = switches(seat, rho);
            cuts.extend(found.iter().flat_map(|root| [root.from, root.to]));
            doubtful.extend(found.into_iter().filter(|root| root.to > root.from));
        }
    }
    let mut found: Vec<Piece> = Vec::new();
    for (from, to) in stretches(cuts) {
        let middle = f64::midpoint(from, to);
        let curve = curve_at(seat, inner, outer, &gaps, middle);
        let in_doubt = |root: &Root| root.from <= from && to <= root.to;
        if !matches!(curve, Curve::Trim { .. }) && doubtful.iter().any(in_doubt) {
            let curve = Curve::Top { inner, outer };
            found.push(Piece {
                curve,
                bend: Bend::Sliver,
                from,
                to,
            });
            continue;
        }
        found.extend(by_bend(seat, curve, from, to));
    }
    merged(seat, found)
}

/// Neighbouring cuts as stretches; cuts that coincide within rounding count once.
fn stretches(mut cuts: Vec<f64>) -> Vec<(f64, f64)> {
    const SAME: f64 = 1e-12;
    sort_by_number(&mut cuts, |cut| *cut);
    cuts.dedup_by(|next, kept| *next - *kept < SAME);
    if let Some(last) = cuts.last_mut() {
        *last = TAU;
    }
    cuts.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Turns at which the highest wall radius leaves or reaches `rho`.
fn switches(seat: &Seat, rho: f64) -> Vec<Root> {
    let switch = Switch { seat: *seat, rho };
    let quarters = (0..4_u32).map(|quarter| f64::from(quarter) * FRAC_PI_2);
    quarters
        .flat_map(|start| roots(&switch, start, start + FRAC_PI_2))
        .filter(|root| {
            // Squaring has added the roots of the wrong sign; a sliver keeps its benefit of doubt.
            let (sin, cos) = root.from.sin_cos();
            root.to > root.from || cos * seat.cos * sin * (rho * sin - seat.offset) >= 0.0
        })
        .collect()
}

/// Which curve holds at a turn inside a stretch without switches.
fn curve_at(seat: &Seat, inner: f64, outer: f64, gaps: &[Uncovered], phi: f64) -> Curve {
    let missed = gaps.iter().find(|gap| {
        let off = (phi - gap.centre).rem_euclid(TAU);
        off < gap.half || TAU - off < gap.half
    });
    if let Some(gap) = missed {
        return Curve::Trim { rho: gap.rho };
    }
    highest(seat, inner, outer, phi)
}

/// Cuts one stretch of one curve where it changes from hill to valley.
fn by_bend(seat: &Seat, curve: Curve, from: f64, to: f64) -> Vec<Piece> {
    if seat.cos == 0.0 && !matches!(curve, Curve::Wall { .. }) {
        return vec![Piece {
            curve,
            bend: Bend::Flat,
            from,
            to,
        }];
    }
    let sign = BendSign::of(curve, seat);
    let mut found = Vec::new();
    let mut start = from;
    let mut bent = |from: f64, to: f64| {
        if to - from > 0.0 {
            let over = curve.jet(seat, f64::midpoint(from, to)).bend < 0.0;
            let bend = if over { Bend::Over } else { Bend::Under };
            found.push(Piece {
                curve,
                bend,
                from,
                to,
            });
        }
    };
    let mut slivers = Vec::new();
    for root in roots(&sign, from, to) {
        let (left, right) = (root.from.max(from), root.to.min(to));
        bent(start, left);
        if right > left {
            slivers.push(Piece {
                curve,
                bend: Bend::Sliver,
                from: left,
                to: right,
            });
        }
        start = right;
    }
    bent(start, to);
    found.extend(slivers);
    sort_by_number(&mut found, |piece| piece.from);
    found
}

/// Joins neighbours that are one smooth curve bending one way; fewer pieces, fewer points.
fn merged(seat: &Seat, pieces: Vec<Piece>) -> Vec<Piece> {
    let mut kept: Vec<Piece> = Vec::new();
    for piece in pieces {
        match kept.last_mut() {
            Some(last)
                if last.curve == piece.curve
                    && last.bend == piece.bend
                    && last.bend != Bend::Sliver
                    && smooth(seat, &piece) =>
            {
                last.to = piece.to;
            }
            _ => kept.push(piece),
        }
    }
    kept
}

/// Whether a piece's curve passes its start without a corner.
fn smooth(seat: &Seat, piece: &Piece) -> bool {
    match piece.curve {
        // Where a generator grazes the main the two flanks meet in a corner.
        Curve::Wall { rho } => {
            let y = rho * piece.from.sin() - seat.offset;
            (seat.radius - y.abs()) > GRAZING * seat.radius
        }
        // cot φ has its poles at 0 and 180°.
        Curve::Crest { .. } | Curve::Top { .. } => piece.from.sin().abs() > SLIVER,
        Curve::Trim { .. } => true,
    }
}

/// Nearer to the main's side than this part of its radius, a curve counts as cornered.
const GRAZING: f64 = 1e-9;

/// The piece that covers a turn.
pub fn piece_at(pieces: &[Piece], phi: f64) -> Option<&Piece> {
    let index = pieces.partition_point(|piece| piece.to < phi);
    pieces.get(index)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Joints near every degeneracy: equal tubes, flush sides, right and flat angles.
    fn seats() -> impl Iterator<Item = (Seat, f64, f64)> {
        let ratios = [0.2, 0.6, 0.95, 0.999, 1.0, 1.001, 1.5];
        let angles = [5.0_f64, 12.0, 30.0, 45.0, 60.0, 89.0, 89.9999, 90.0];
        let offsets = [0.0, 1e-6, 0.01, 0.3, 1.0, -0.4];
        ratios.into_iter().flat_map(move |ratio| {
            angles.into_iter().flat_map(move |angle| {
                offsets.into_iter().map(move |offset| {
                    let (sin, cos) = angle.to_radians().sin_cos();
                    let cos = if angle == 90.0 { 0.0 } else { cos };
                    let radius = 25.0_f64;
                    let outside = ratio * radius;
                    let offset = offset * (radius - outside).abs().max(1.0);
                    (
                        Seat {
                            radius,
                            offset,
                            sin,
                            cos,
                        },
                        outside * 0.88,
                        outside,
                    )
                })
            })
        })
    }

    #[test]
    fn pieces_cover_the_turn_and_undecided_ones_stay_negligible() {
        let mut widest = 0.0_f64;
        for (seat, bore, outside) in seats() {
            for method in CutMethod::ALL {
                let found = pieces(&seat, method, bore, outside);
                assert_eq!((found[0].from, found[found.len() - 1].to), (0.0, TAU));
                for pair in found.windows(2) {
                    assert_eq!(pair[0].to, pair[1].from);
                    let meet =
                        [pair[0], pair[1]].map(|piece| piece.curve.height(&seat, pair[0].to));
                    assert!(
                        (meet[0] - meet[1]).abs() < 1e-4,
                        "{seat:?} {method:?} {pair:?} {meet:?}"
                    );
                }
                for piece in found.iter().filter(|piece| piece.bend == Bend::Sliver) {
                    widest = widest.max(piece.to - piece.from);
                }
                assert!(
                    found.len() < 80,
                    "{} pieces for {seat:?} {method:?}",
                    found.len()
                );
            }
        }
        assert!(widest < 1e-4, "an undecided stretch of {widest} rad");
    }
}
