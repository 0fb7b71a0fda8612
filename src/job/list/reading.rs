//! The pieces of a job read, each once as long as it does not change.

use std::sync::Arc;

use crate::job::list::{Job, JobPiece};
use crate::job::{Draft, EndKind, PieceDraft, PieceForm, read, read_piece};
use crate::piece::Side;

/// A piece read: what can be printed of it, and every reason why not.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceReading {
    /// The ends that are coped, as far as they can be read.
    pub ends: [Option<Draft>; 2],
    /// The whole piece; none where only one end is asked for, or where it cannot be made.
    pub piece: Option<PieceDraft>,
    /// What is wrong with it, one sentence each.
    pub problems: Vec<String>,
}

impl PieceReading {
    /// Reads everything typed about a piece.
    #[must_use]
    pub fn of(form: &PieceForm) -> Self {
        let mut problems = Vec::new();
        let sides = if form.is_whole() {
            &Side::BOTH[..]
        } else {
            &Side::BOTH[..1]
        };
        let mut ends = [None, None];
        for side in sides {
            if form.is_whole() && form.kind(*side) != EndKind::Coped {
                continue;
            }
            match read(&form.end(*side)) {
                Ok(draft) => ends[side.index()] = Some(draft),
                Err(own) => problems.extend(own.into_iter().map(|problem| {
                    let end = side.at_start();
                    format!("{end}: {}", problem.sentence)
                })),
            }
        }
        let mut piece = None;
        if form.is_whole() && problems.is_empty() {
            match read_piece(form, [ends[0].as_ref(), ends[1].as_ref()]) {
                Ok(draft) => piece = Some(draft),
                Err(own) => problems.extend(own.into_iter().map(|problem| problem.sentence)),
            }
        }
        Self {
            ends,
            piece,
            problems,
        }
    }
}

/// Readings of the pieces of a job; reading a job again reads only the pieces that have changed.
#[derive(Debug, Clone, Default)]
pub struct Readings(Vec<(Arc<JobPiece>, Arc<PieceReading>)>);

impl Readings {
    /// A piece of the job as it was last read, or read now.
    #[must_use]
    pub fn read(&mut self, piece: &Arc<JobPiece>) -> Arc<PieceReading> {
        let known = self
            .0
            .iter_mut()
            .find(|(known, _)| known.id() == piece.id());
        match known {
            Some((known, reading)) if known.form() == piece.form() => Arc::clone(reading),
            Some(there) => {
                let reading = Arc::new(PieceReading::of(piece.form()));
                *there = (Arc::clone(piece), Arc::clone(&reading));
                reading
            }
            None => {
                let reading = Arc::new(PieceReading::of(piece.form()));
                self.0.push((Arc::clone(piece), Arc::clone(&reading)));
                reading
            }
        }
    }

    /// Forgets the pieces that a job no longer has.
    pub fn keep_only(&mut self, job: &Job) {
        self.0.retain(|(known, _)| job.piece(known.id()).is_some());
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests fail by panicking")]
    use super::*;
    use crate::job::{Field, PieceField};
    use crate::units::Unit;

    #[test]
    fn a_piece_is_read_once_until_it_changes() {
        let job = Job::usual(Unit::Millimetre);
        let piece = Arc::clone(&job.pieces()[0]);
        let mut readings = Readings::default();
        let first = readings.read(&piece);
        assert!(Arc::ptr_eq(&first, &readings.read(&piece)));
        assert!(first.problems.is_empty() && first.ends[0].is_some() && first.piece.is_none());

        let form = piece.form().clone().as_whole(true);
        let job = job.with_form(piece.id(), form);
        let whole = readings.read(&job.pieces()[0]);
        assert!(whole.piece.is_some(), "{:?}", whole.problems);
    }

    #[test]
    fn what_is_wrong_is_told_with_its_end() {
        let form = PieceForm::usual(Unit::Millimetre).as_whole(true);
        let end = form.end(Side::B).with_text(Field::Label, "x");
        let end = end.with_text(Field::OfMain(0, crate::job::MainField::Angle), "wide");
        let reading = PieceReading::of(&form.clone().with_end(Side::B, end));
        assert!(
            reading.problems[0].starts_with("End B: "),
            "{:?}",
            reading.problems
        );
        assert!(reading.ends[0].is_some() && reading.ends[1].is_none());

        let reading = PieceReading::of(&form.with_text(PieceField::Length, "0"));
        assert_eq!(reading.problems.len(), 1, "{:?}", reading.problems);
        assert!(reading.ends.iter().all(Option::is_some));
    }
}
