//! The cut line as points on paper: pieces once round from a seam, put together to runs.

use std::f64::consts::TAU;

use crate::cope::flatten::{self, Ruler, Vertex};
use crate::cope::profile::{Bend, Piece};
use crate::cope::{Cope, LinePoint, Run, STEP};
use crate::units::{Angle, Length};

impl Cope {
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
        let rounds: Vec<(Piece, f64)> = self.once_round(seam).collect();
        // Neighbours of one main that are straight chords each, or nearly, may share longer ones.
        let together = |a: &(Piece, f64), b: &(Piece, f64)| {
            let alike = |(piece, lap): &(Piece, f64)| (piece.main, piece.beside(), *lap);
            let short = |(piece, _): &(Piece, f64)| matches!(piece.bend, Bend::Flat | Bend::Sliver);
            short(a) && short(b) && alike(a) == alike(b)
        };
        for group in rounds.chunk_by(together) {
            let (first, lap) = group[0];
            let beside = first.beside();
            vertices.clear();
            vertices.push(Vertex {
                phi: first.from,
                height: self.height(&first, first.from).mm(),
            });
            for (piece, _) in group {
                flatten::flatten(&self.seats[piece.main], piece, ruler, &mut vertices);
            }
            if group.len() > 1 || first.bend == Bend::Sliver {
                flatten::thin(&mut vertices, ruler);
            }
            let points = vertices.iter().map(|vertex| LinePoint {
                turn: Angle::from_rad(vertex.phi + lap),
                height: Length::from_mm(vertex.height),
            });
            match runs.last_mut() {
                Some(run) if run.beside == beside => {
                    // From one main to another the line may step at one turn.
                    let last = run.points.last().copied();
                    let joined = |own: &LinePoint| {
                        last.is_none_or(|last| (last.height - own.height).abs() <= STEP)
                    };
                    let mut points = points.peekable();
                    points.next_if(joined);
                    run.points.extend(points);
                }
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
