//! A finished piece measured again, in words.

use crate::job::form::PieceDraft;
use crate::piece::{Checks, Remake, tape_division};
use crate::units::{Length, read_length};

/// A distance to measure on a finished piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Overall, long point to long point.
    Overall,
    /// From mark A to the far end.
    FarA,
    /// From mark B to the far end.
    FarB,
    /// From mark to mark.
    Between,
}

impl Measure {
    /// All of them, in the order asked for.
    pub const ALL: [Self; 4] = [Self::Overall, Self::FarA, Self::FarB, Self::Between];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Overall => "Overall, long point to long point",
            Self::FarA => "Mark A to the far long point",
            Self::FarB => "Mark B to the far long point",
            Self::Between => "Mark to mark",
        }
    }

    /// What it should be.
    #[must_use]
    pub fn should_be(self, draft: &PieceDraft) -> Length {
        let marks = &draft.marks.finished;
        match self {
            Self::Overall => marks.length,
            Self::FarA => marks.far[0],
            Self::FarB => marks.far[1],
            Self::Between => marks.between,
        }
        .exact
    }
}

/// What measured distances tell, one sentence each; or which one cannot be used, or that they
/// contradict each other, and why.
pub type Told = Result<Vec<String>, (Option<Measure>, String)>;

/// What distances measured on a finished piece tell; `measured` in the order of [`Measure::ALL`],
/// empty where one was not taken. `None` before two are typed. Deviations up to a division of the
/// tape are none: no hand lays off better (common practice, no source).
///
/// # Errors
/// A text that is no length, with its place; four distances that contradict each other.
pub fn remake_in_words(draft: &PieceDraft, measured: &[String; 4]) -> Option<Told> {
    let mut read = [None; 4];
    for ((measure, text), read) in Measure::ALL.into_iter().zip(measured).zip(&mut read) {
        if text.trim().is_empty() {
            continue;
        }
        match read_length(text, draft.unit) {
            Ok(length) => *read = Some(length),
            Err(error) => return Some(Err((Some(measure), error.to_string()))),
        }
    }
    if read.iter().flatten().count() < 2 {
        return None;
    }
    let [overall, far_a, far_b, between] = read;
    let is = Checks {
        overall,
        far: [far_a, far_b],
        between,
    };
    let remake = Remake::new(&draft.marks.finished, &is, tape_division(draft.unit));
    Some(
        remake
            .map(|remake| remake.sentences(draft.unit))
            .map_err(|error| (None, error.sentence(draft.unit))),
    )
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests fail by panicking")]
    use super::*;
    use crate::job::list::PieceReading;
    use crate::job::{PieceField, PieceForm};
    use crate::units::Unit;

    fn draft() -> PieceDraft {
        let form = PieceForm::usual(Unit::Millimetre).as_whole(true);
        let form = form.with_text(PieceField::Length, "600");
        PieceReading::of(&form).piece.unwrap()
    }

    fn typed(draft: &PieceDraft, off: [Option<f64>; 4]) -> [String; 4] {
        let mut texts = [const { String::new() }; 4];
        for ((measure, off), text) in Measure::ALL.into_iter().zip(off).zip(&mut texts) {
            if let Some(off) = off {
                *text = format!("{:.3}", measure.should_be(draft).mm() + off);
            }
        }
        texts
    }

    #[test]
    fn two_distances_are_needed_and_enough() {
        let draft = draft();
        let one = typed(&draft, [Some(0.0), None, None, None]);
        assert_eq!(remake_in_words(&draft, &one), None);
        let right = typed(&draft, [Some(0.2), Some(0.1), None, None]);
        let said = remake_in_words(&draft, &right).unwrap().unwrap();
        assert_eq!(
            said.last().unwrap(),
            "The piece is as long as it should be."
        );
    }

    #[test]
    fn a_piece_too_long_is_told_by_how_much() {
        let draft = draft();
        // End B stands 4 mm out: overall and mark A to far end are too long.
        let texts = typed(&draft, [Some(4.0), Some(4.0), Some(0.0), Some(0.0)]);
        let said = remake_in_words(&draft, &texts).unwrap().unwrap().join(" ");
        assert!(
            said.contains("4 mm too long") && said.contains("at end B"),
            "{said}"
        );
    }

    #[test]
    fn what_is_no_length_is_told_with_its_place() {
        let mut texts = typed(&draft(), [Some(0.0), Some(0.0), None, None]);
        texts[1] = String::from("long");
        let (at, sentence) = remake_in_words(&draft(), &texts).unwrap().unwrap_err();
        assert_eq!(at, Some(Measure::FarA));
        assert!(sentence.contains("long"), "{sentence}");
    }
}
