//! The whole way round, as pieces of curve that are each proven to bend to one side only.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::cope::bend::{BendSign, Switch};
use crate::cope::curve::{Curve, highest};
use crate::cope::roots::{Root, SLIVER, roots};
use crate::cope::seat::{Arc, Ground, Seat};
use crate::joint::{Outline, Part, Stretch};
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
    /// Which main of the end it sits on.
    pub main: usize,
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

/// Turns over which the branch passes beside the main.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Uncovered {
    /// Middle turn: 90° or 270°.
    centre: f64,
    /// Half the width, radians; more than 0.
    half: f64,
    /// Wall radius that grazes the main at either end, mm.
    rho: f64,
}

/// The turns that miss the main, on either side.
///
/// A generator at y = ρ sin φ misses when y − e lies beyond the outline's reach. At one turn the wall covers y
/// from `bore · sin φ` to `outside · sin φ`, so the last radius to miss is the bore edge when the
/// limit lies beyond the axis and the outside when it does not. A cut along one radius passes the
/// same number twice.
fn uncovered(seat: &Seat, outline: &Outline, bore: f64, outside: f64) -> Vec<Uncovered> {
    let (left, right) = outline.reach();
    [
        (FRAC_PI_2, seat.offset + right),
        (3.0 * FRAC_PI_2, -seat.offset - left),
    ]
    .into_iter()
    .filter_map(|(centre, limit)| {
        let rho = if limit >= 0.0 { bore } else { outside };
        // sin φ > limit / ρ on this side.
        let half = limited(limit / rho, -1.0, 1.0).acos();
        (half > 0.0).then_some(Uncovered { centre, half, rho })
    })
    .collect()
}

/// All pieces of one main's cut line from the heel once round, in turn order, first starting at 0
/// and last ending at 2π. They are in the main's own turn.
/// A bent main remembers what was proven on the way.
pub fn pieces(seat: &mut Seat, inner: f64, outer: f64) -> Vec<Piece> {
    match &mut seat.ground {
        Ground::Bent(bent) => bent.learn_pieces(inner, outer),
        Ground::Straight(outline) => {
            let outline = outline.clone();
            straight_pieces(seat, &outline, inner, outer)
        }
    }
}

fn straight_pieces(seat: &Seat, outline: &Outline, inner: f64, outer: f64) -> Vec<Piece> {
    let gaps = uncovered(seat, outline, inner, outer);
    let mut cuts: Vec<f64> = (0..=4_u32)
        .map(|quarter| f64::from(quarter) * FRAC_PI_2)
        .collect();
    for gap in &gaps {
        cuts.extend(
            [gap.centre - gap.half, gap.centre + gap.half].map(|turn| turn.rem_euclid(TAU)),
        );
    }
    cuts.extend(changes(seat, outline, inner, outer));
    let mut doubtful = Vec::new();
    if inner < outer {
        for stretch in outline.stretches() {
            for rho in [inner, outer] {
                let found = switches(seat, stretch, rho);
                cuts.extend(found.iter().flat_map(|root| [root.from, root.to]));
                doubtful.extend(found.into_iter().filter(|root| root.to > root.from));
            }
        }
    }
    let mut found: Vec<Piece> = Vec::new();
    for (from, to) in stretches(cuts) {
        let middle = f64::midpoint(from, to);
        let Some(curve) = curve_at(seat, inner, outer, &gaps, middle) else {
            continue;
        };
        let in_doubt = |root: &Root| root.from <= from && to <= root.to;
        if !matches!(curve, Curve::Trim { .. }) && doubtful.iter().any(in_doubt) {
            let curve = Curve::Top { inner, outer };
            found.push(Piece {
                main: 0,
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

/// Turns at which an edge of the wall passes from one part of the outline to the next, and turns
/// at which the slope that makes a crest is that of a face: there a face's curve changes its bend
/// too, and a crest leaves a round part.
fn changes(seat: &Seat, outline: &Outline, inner: f64, outer: f64) -> Vec<f64> {
    let mut found = Vec::new();
    for stretch in outline.stretches() {
        for (q, slope) in [
            (stretch.from, stretch.slope_from),
            (stretch.to, stretch.slope_to),
        ] {
            if !slope.is_finite() {
                continue;
            }
            for rho in [inner, outer] {
                let sine = (q + seat.offset) / rho;
                if sine.abs() < 1.0 {
                    let turn = sine.asin();
                    found.extend([turn, PI - turn]);
                }
            }
            if slope != 0.0 || seat.cos != 0.0 {
                let turn = (-seat.cos).atan2(slope);
                found.extend([turn, turn + PI]);
            }
        }
    }
    found.into_iter().map(|turn| turn.rem_euclid(TAU)).collect()
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
fn switches(seat: &Seat, stretch: &Stretch, rho: f64) -> Vec<Root> {
    let Part::Arc { across, up, radius } = stretch.part else {
        return Vec::new();
    };
    let circle = seat.circle(Arc { across, up, radius });
    let switch = Switch { circle, rho };
    let quarters = (0..4_u32).map(|quarter| f64::from(quarter) * FRAC_PI_2);
    quarters
        .flat_map(|start| roots(&switch, start, start + FRAC_PI_2))
        .filter(|root| {
            // Squaring has added the roots of the wrong sign; a sliver keeps its benefit of doubt.
            let (sin, cos) = root.from.sin_cos();
            root.to > root.from || cos * circle.cos * sin * (rho * sin - circle.offset) >= 0.0
        })
        .collect()
}

/// Which curve holds at a turn inside a stretch without switches.
fn curve_at(seat: &Seat, inner: f64, outer: f64, gaps: &[Uncovered], phi: f64) -> Option<Curve> {
    let missed = gaps.iter().find(|gap| {
        let off = (phi - gap.centre).rem_euclid(TAU);
        off < gap.half || TAU - off < gap.half
    });
    if let Some(gap) = missed {
        return Some(Curve::Trim { rho: gap.rho });
    }
    highest(seat, inner, outer, phi)
}

/// Cuts one stretch of one curve where it changes from hill to valley.
fn by_bend(seat: &Seat, curve: Curve, from: f64, to: f64) -> Vec<Piece> {
    let piece = |bend, from, to| Piece {
        main: 0,
        curve,
        bend,
        from,
        to,
    };
    let bent = |from: f64, to: f64| {
        let bend = curve.jet(seat, f64::midpoint(from, to)).bend;
        let bend = if bend == 0.0 {
            Bend::Flat
        } else if bend < 0.0 {
            Bend::Over
        } else {
            Bend::Under
        };
        piece(bend, from, to)
    };
    if seat.cos == 0.0 && !matches!(curve, Curve::Wall { .. } | Curve::Face { .. }) {
        return vec![piece(Bend::Flat, from, to)];
    }
    let Some(sign) = BendSign::of(curve, seat) else {
        return vec![bent(from, to)];
    };
    let mut found = Vec::new();
    let mut start = from;
    for root in roots(&sign, from, to) {
        let (left, right) = (root.from.max(from), root.to.min(to));
        if left > start {
            found.push(bent(start, left));
        }
        if right > left {
            found.push(piece(Bend::Sliver, left, right));
        }
        start = right;
    }
    if to > start {
        found.push(bent(start, to));
    }
    found
}

/// Joins neighbours that are one smooth curve bending one way; fewer pieces, fewer points.
pub fn merged(seat: &Seat, pieces: Vec<Piece>) -> Vec<Piece> {
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
        Curve::Wall { arc, rho } => {
            let circle = seat.circle(arc);
            let y = rho * piece.from.sin() - circle.offset;
            (circle.radius - y.abs()) > GRAZING * circle.radius
        }
        // cot φ has its poles at 0 and 180°.
        Curve::Crest { .. } | Curve::Edge { .. } | Curve::Top { .. } => {
            piece.from.sin().abs() > SLIVER
        }
        // Its stretches were cut where they are not smooth, and are joined where they are made.
        Curve::Bent { .. } => false,
        Curve::Face { .. } | Curve::Trim { .. } => true,
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
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::cope::CutMethod;
    use crate::joint::{Main, RectangularSection};
    use crate::units::{Angle, Length};

    /// Joints near every degeneracy: equal tubes, flush sides, right and flat angles.
    fn seats() -> impl Iterator<Item = (Seat, f64, f64)> {
        let ratios = [0.2, 0.6, 0.95, 0.999, 1.0, 1.001, 1.5];
        let angles = [5.0_f64, 12.0, 30.0, 45.0, 60.0, 89.0, 89.9999, 90.0];
        let offsets = [0.0, 1e-6, 0.01, 0.3, 1.0, -0.4];
        let mm = Length::from_mm;
        let mains = move |angle: f64, offset: f64| {
            let angle = Angle::from_deg(angle);
            let section = |corner, roll| {
                RectangularSection::new(mm(50.0), mm(50.0), mm(corner), Angle::from_deg(roll))
            };
            let rectangular = [
                (0.0, 0.0),
                (0.0, 45.0),
                (6.0, 0.0),
                (6.0, 20.0),
                (25.0, 0.0),
            ]
            .map(|(corner, roll)| {
                Main::rectangular(section(corner, roll).unwrap(), angle, mm(offset))
            });
            let others = [
                Main::round(mm(50.0), angle, mm(offset)),
                Main::plate(angle),
                Main::mitre(mm(50.0), angle),
            ];
            others.into_iter().chain(rectangular).flatten()
        };
        ratios.into_iter().flat_map(move |ratio| {
            angles.into_iter().flat_map(move |angle| {
                offsets.into_iter().flat_map(move |offset| {
                    let radius = 25.0_f64;
                    let outside = ratio * radius;
                    let offset = offset * (radius - outside).abs().max(1.0);
                    mains(angle, offset).map(move |main| (Seat::of(&main), outside * 0.88, outside))
                })
            })
        })
    }

    #[test]
    fn pieces_cover_the_turn_and_undecided_ones_stay_negligible() {
        let mut widest = 0.0_f64;
        for (mut seat, bore, outside) in seats() {
            for method in CutMethod::ALL {
                let (inner, outer) = method.radii(bore, outside);
                let found = pieces(&mut seat, inner, outer);
                assert_eq!((found[0].from, found[found.len() - 1].to), (0.0, TAU));
                for pair in found.windows(2) {
                    assert_eq!(pair[0].to, pair[1].from);
                    // Only beside an upright face may the line step down to its trim.
                    if pair[0].beside() != pair[1].beside() {
                        continue;
                    }
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
                    found.len() < 100,
                    "{} pieces for {seat:?} {method:?}",
                    found.len()
                );
            }
        }
        assert!(widest < 1e-4, "an undecided stretch of {widest} rad");
    }

    #[test]
    fn every_piece_is_the_highest_of_the_wall_and_bends_as_it_says() {
        for (mut seat, bore, outside) in seats().step_by(7) {
            for method in CutMethod::ALL {
                let (inner, outer) = method.radii(bore, outside);
                for piece in pieces(&mut seat, inner, outer) {
                    for part in [0.02, 0.3, 0.5, 0.7, 0.98] {
                        let phi = piece.from + part * (piece.to - piece.from);
                        let jet = piece.curve.jet(&seat, phi);
                        if !piece.beside() {
                            let top = highest(&seat, inner, outer, phi).unwrap();
                            let top = top.height(&seat, phi);
                            assert!((top - jet.height).abs() < 1e-6, "{seat:?} {piece:?} {phi}");
                        }
                        let as_said = match piece.bend {
                            Bend::Over => jet.bend < 1e-6,
                            Bend::Under => jet.bend > -1e-6,
                            Bend::Flat => jet.bend.abs() < 1e-9,
                            Bend::Sliver => true,
                        };
                        assert!(as_said, "{seat:?} {method:?} {piece:?} {jet:?}");
                    }
                }
            }
        }
    }
}
