//! A finished piece that measures wrong: which mark or cut is off, by how much, and whether the
//! tube can be saved.
//!
//! Three things can be wrong: the marks lie apart by m more than they should, and the cut of
//! either end stands a or b farther out from its own mark than its template says. Then
//! between is off by m, mark A to far end by m + b, mark B to far end by m + a, and the overall
//! length by m + a + b. Three distances tell all three; two tell a part, and the simplest cause
//! that explains them is named as likely. Of a piece that is cut, nothing can tell which of two
//! marks was laid off wrongly when they lie apart wrongly: the ends moved with them.

use crate::piece::{MarkSet, PieceError, Side};
use crate::units::{Length, Unit, write_length};

/// Check distances as measured, along the tube; `None` for one that was not.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Checks {
    /// Overall, long point to long point.
    pub overall: Option<Length>,
    /// From each mark to the far end's long point.
    pub far: [Option<Length>; 2],
    /// From mark to mark.
    pub between: Option<Length>,
}

/// How much longer something is than it should be, and how surely that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Off {
    /// It follows from what was measured.
    Surely(Length),
    /// What was measured has this as its simplest cause.
    Likely(Length),
    /// What was measured does not tell.
    Unknown,
}

impl Off {
    /// By how much, if anything is known.
    #[must_use]
    pub const fn by(self) -> Option<Length> {
        match self {
            Self::Surely(by) | Self::Likely(by) => Some(by),
            Self::Unknown => None,
        }
    }
}

/// What can be done with the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Saved {
    /// It is as long as it should be; the marks may be off, the ends are not.
    AsItIs,
    /// It is too long: cut again.
    Recut {
        /// At the end that stands out, where only one does; otherwise at either.
        side: Option<Side>,
        /// How far in the same line goes.
        by: Length,
    },
    /// It is too short: of no use here, but as a shorter piece.
    Short {
        /// By how much.
        by: Length,
        /// Overall length as it is.
        overall: Length,
    },
    /// The overall length does not follow from what was measured.
    Unknown,
}

/// What is wrong with a finished piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remake {
    /// How far the marks are too far apart.
    pub apart: Off,
    /// How far the cut of each end stands too far out from its own mark.
    pub ends: [Off; 2],
    /// How much the piece is too long.
    pub overall: Off,
    /// What to do.
    pub saved: Saved,
    /// Deviations up to this are none.
    pub tolerance: Length,
}

impl Remake {
    /// Compares check distances with what they should be. Deviations up to `tolerance`, what the
    /// tape and the hand can do, are none.
    ///
    /// # Errors
    /// Fewer than two distances; lengths that are no numbers; four that contradict each other by
    /// more than four tolerances.
    pub fn new(should: &MarkSet, is: &Checks, tolerance: Length) -> Result<Self, PieceError> {
        let all = [is.far[0], is.far[1], is.between, is.overall];
        if let Some(no_number) = all.iter().flatten().find(|length| !length.is_finite()) {
            return Err(PieceError::Length { is: *no_number });
        }
        let count = all.iter().flatten().count();
        if count < 2 {
            return Err(PieceError::Checks { count });
        }
        let [far_a, far_b] = should.far;
        let wanted = [far_a, far_b, should.between, should.length].map(|reading| reading.exact);
        let mut off = [None; 4];
        for ((off, is), wanted) in off.iter_mut().zip(all).zip(wanted) {
            *off = is.map(|is| is - wanted);
        }
        let (apart, ends) = match complete(off, tolerance)? {
            Some([far_a, far_b, between, _]) => (
                Off::Surely(between),
                [Off::Surely(far_b - between), Off::Surely(far_a - between)],
            ),
            None => from_two(off, tolerance),
        };
        let overall = match off[3] {
            Some(by) => Off::Surely(by),
            None => sum(apart, sum(ends[0], ends[1])),
        };
        let saved = match overall.by() {
            None => Saved::Unknown,
            Some(by) if by > tolerance => Saved::Recut {
                side: standing_out(ends, tolerance),
                by,
            },
            Some(by) if by < -tolerance => Saved::Short {
                by: -by,
                overall: should.length.exact + by,
            },
            Some(_) => Saved::AsItIs,
        };
        Ok(Self {
            apart,
            ends,
            overall,
            saved,
            tolerance,
        })
    }

    /// What is off and what to do, one sentence each, in the job's unit.
    #[must_use]
    pub fn sentences(&self, unit: Unit) -> Vec<String> {
        let length = |length: Length| write_length(length.abs(), unit);
        let mut said = Vec::new();
        for (side, off) in Side::BOTH.into_iter().zip(self.ends) {
            if let Some(by) = self.worth_saying(off) {
                said.push(format!(
                    "Mark {} is {} {} {} than its template says: the template lay off its mark, or \
                     the cut is off its line.",
                    side.letter(),
                    length(by),
                    if by > Length::ZERO {
                        "farther from"
                    } else {
                        "nearer to"
                    },
                    side.name(),
                ));
            }
        }
        if let Some(by) = self.worth_saying(self.apart) {
            said.push(format!(
                "The marks are {} too {}: one of them was laid off wrongly. On a piece that is cut \
                 nothing tells which.",
                length(by),
                if by > Length::ZERO {
                    "far apart"
                } else {
                    "near together"
                },
            ));
        }
        let parts = [self.apart, self.ends[0], self.ends[1]];
        if parts.iter().any(|off| matches!(off, Off::Likely(_))) {
            said.push(String::from(
                "This is the simplest cause of two distances; measure a third to be sure.",
            ));
        } else if parts.contains(&Off::Unknown) {
            said.push(String::from(
                "Two distances leave more than one cause; measure a third to tell which.",
            ));
        }
        said.push(match self.saved {
            Saved::AsItIs => String::from("The piece is as long as it should be."),
            Saved::Recut { side, by } => format!(
                "The piece is {} too long. It can be saved: cut the same line again, at the same \
                 turn, {} further in at {}.",
                length(by),
                length(by),
                side.map_or("either end", Side::name)
            ),
            Saved::Short { by, overall } => format!(
                "The piece is {} too short and cannot be saved for this place. Make it again; this \
                 one may serve where {} overall is wanted.",
                length(by),
                length(overall)
            ),
            Saved::Unknown => {
                String::from("Measure the overall length to know whether the piece can be saved.")
            }
        });
        said
    }

    fn worth_saying(&self, off: Off) -> Option<Length> {
        off.by().filter(|by| by.abs() > self.tolerance)
    }
}

/// All four deviations from three of them, by far A + far B − between = overall; four measured
/// ones are made to agree by sharing what is left over. `None` for fewer than three.
fn complete(
    off: [Option<Length>; 4],
    tolerance: Length,
) -> Result<Option<[Length; 4]>, PieceError> {
    Ok(match off {
        [Some(a), Some(b), Some(between), Some(overall)] => {
            let by = a + b - between - overall;
            if by.abs() > tolerance * 4.0 {
                return Err(PieceError::Contradiction { by });
            }
            let share = by / 4.0;
            Some([a - share, b - share, between + share, overall + share])
        }
        [Some(a), Some(b), Some(between), None] => Some([a, b, between, a + b - between]),
        [Some(a), Some(b), None, Some(overall)] => Some([a, b, a + b - overall, overall]),
        [Some(a), None, Some(between), Some(overall)] => {
            Some([a, overall + between - a, between, overall])
        }
        [None, Some(b), Some(between), Some(overall)] => {
            Some([overall + between - b, b, between, overall])
        }
        _ => None,
    })
}

/// What two deviations tell: marks apart, and both ends.
fn from_two(
    [far_a, far_b, between, overall]: [Option<Length>; 4],
    tolerance: Length,
) -> (Off, [Off; 2]) {
    let right = |off: Length| off.abs() <= tolerance;
    let none = Off::Likely(Length::ZERO);
    match (far_a, far_b, between, overall) {
        // m + b and m + a: equal ones have m as one cause, a single one has one end.
        (Some(a), Some(b), None, None) => {
            if right(a - b) {
                (Off::Likely((a + b) / 2.0), [none, none])
            } else if right(a) {
                (none, [Off::Likely(b), none])
            } else if right(b) {
                (none, [none, Off::Likely(a)])
            } else {
                (Off::Unknown, [Off::Unknown; 2])
            }
        }
        // m and m + b: the end that was not measured to is taken to be right.
        (Some(a), None, Some(m), None) => (Off::Surely(m), [none, Off::Surely(a - m)]),
        (None, Some(b), Some(m), None) => (Off::Surely(m), [Off::Surely(b - m), none]),
        // m + b and the whole: a is known, m and b only together.
        (Some(a), None, None, Some(all)) => {
            let rest = if right(a) { none } else { Off::Unknown };
            (rest, [Off::Surely(all - a), rest])
        }
        (None, Some(b), None, Some(all)) => {
            let rest = if right(b) { none } else { Off::Unknown };
            (rest, [rest, Off::Surely(all - b)])
        }
        // m and the whole: a and b only together.
        (None, None, Some(m), Some(all)) => {
            let rest = if right(all - m) { none } else { Off::Unknown };
            (Off::Surely(m), [rest, rest])
        }
        _ => (Off::Unknown, [Off::Unknown; 2]),
    }
}

fn sum(a: Off, b: Off) -> Off {
    match (a, b) {
        (Off::Surely(a), Off::Surely(b)) => Off::Surely(a + b),
        _ => match (a.by(), b.by()) {
            (Some(a), Some(b)) => Off::Likely(a + b),
            _ => Off::Unknown,
        },
    }
}

/// The one end whose cut stands out.
fn standing_out(ends: [Off; 2], tolerance: Length) -> Option<Side> {
    let out = ends.map(|off| off.by().is_some_and(|by| by > tolerance));
    match out {
        [true, false] => Some(Side::A),
        [false, true] => Some(Side::B),
        _ => None,
    }
}
