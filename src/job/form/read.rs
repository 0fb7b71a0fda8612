//! The form of a piece read: the piece with its marks, or every reason why not.

use crate::job::form::{BendField, EndKind, Measured, PieceField, PieceForm};
use crate::job::reader::Reader;
use crate::job::{Draft, Field};
use crate::joint::RoundTube;
use crate::piece::{
    Between, CentreLine, Clamps, Clash, End, Marks, Piece, PieceError, Side, TubeBend,
    tape_division,
};
use crate::units::{Angle, Length, Unit, read_angle, read_length};

/// Most pieces of one kind.
const COUNT_MAX: u32 = 999;

/// Why a piece cannot be made of what is typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceProblem {
    /// The number at fault; none when it is a number of an end or of the tube.
    pub field: Option<PieceField>,
    /// What is wrong, by how much, and what to do.
    pub sentence: String,
}

/// A piece that can be made.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceDraft {
    /// The unit that results are written in.
    pub unit: Unit,
    /// How many are wanted.
    pub count: u32,
    /// The piece.
    pub piece: Piece,
    /// Where its marks go, rounded to the tape.
    pub marks: Marks,
    /// What reaches where it must not.
    pub clashes: Vec<Clash>,
}

/// Reads the form of a piece; `ends` are its two ends as read by themselves, as far as they can be.
///
/// # Errors
/// Everything that cannot be used, in the order of the form.
pub fn read_piece(
    form: &PieceForm,
    ends: [Option<&Draft>; 2],
) -> Result<PieceDraft, Vec<PieceProblem>> {
    let mut read = Reading {
        form,
        unit: form.end(Side::A).unit,
        problems: Vec::new(),
    };
    let count = read.count();
    let straights: Vec<Option<Length>> = std::iter::once(read.length(PieceField::Length))
        .chain(
            (0..form.bends()).map(|bend| read.length(PieceField::Bend(bend, BendField::Straight))),
        )
        .collect();
    let bends: Vec<Option<TubeBend>> = (0..form.bends()).map(|bend| read.bend(bend)).collect();
    let grips = Side::BOTH.map(|side| read.grip(side));
    let tube = read.tube();
    let ends = Side::BOTH.map(|side| read.end(side, ends[side.index()]));
    if let (Some(count), [Some(grip_a), Some(grip_b)], Some(tube), [Some(a), Some(b)]) =
        (count, grips, tube, ends)
        && let Some(line) = read.line(&straights, &bends)
    {
        let between = match form.measured() {
            Measured::Centres => Between::Centres,
            Measured::Overall => Between::LongPoints,
            Measured::Blank => Between::Blank,
        };
        match Piece::new(tube, [a, b], line, between, [grip_a, grip_b]) {
            Ok(piece) => {
                return Ok(PieceDraft {
                    unit: read.unit,
                    count,
                    marks: piece.marks(tape_division(read.unit)),
                    clashes: piece.clashes(&Clamps::default()),
                    piece,
                });
            }
            Err(error) => read.refuse(field_of(&error), error.sentence(read.unit)),
        }
    }
    Err(read.problems)
}

/// The number that a refusal is about.
const fn field_of(error: &PieceError) -> Option<PieceField> {
    Some(match *error {
        PieceError::Length { .. } | PieceError::Body { .. } => PieceField::Length,
        PieceError::Grip { side, .. } => PieceField::Grip(side),
        PieceError::BendTight { bend, .. } => PieceField::Bend(bend, BendField::Radius),
        PieceError::NoVertex { bend } => PieceField::Bend(bend, BendField::Angle),
        PieceError::Leg { number, .. } | PieceError::Straight { number, .. } => match number {
            0 => PieceField::Length,
            _ => PieceField::Bend(number - 1, BendField::Straight),
        },
        _ => return None,
    })
}

/// The form being read.
struct Reading<'a> {
    form: &'a PieceForm,
    unit: Unit,
    problems: Vec<PieceProblem>,
}

impl Reading<'_> {
    fn refuse(&mut self, field: Option<PieceField>, sentence: String) {
        self.problems.push(PieceProblem { field, sentence });
    }

    fn count(&mut self) -> Option<u32> {
        let text = self.form.text(PieceField::Count).trim();
        if text.is_empty() {
            return Some(1);
        }
        let count = text.parse::<u32>().ok();
        let count = count.filter(|count| (1..=COUNT_MAX).contains(count));
        if count.is_none() {
            let sentence =
                format!("“{text}” is no number of pieces. Type a whole number, 1 to {COUNT_MAX}.");
            self.refuse(Some(PieceField::Count), sentence);
        }
        count
    }

    fn length(&mut self, field: PieceField) -> Option<Length> {
        read_length(self.form.text(field), self.unit)
            .map_err(|error| self.refuse(Some(field), error.to_string()))
            .ok()
    }

    fn grip(&mut self, side: Side) -> Option<Length> {
        let field = PieceField::Grip(side);
        if self.form.text(field).trim().is_empty() {
            return Some(Length::ZERO);
        }
        self.length(field)
    }

    fn angle(&mut self, field: PieceField) -> Option<Angle> {
        read_angle(self.form.text(field))
            .map_err(|error| self.refuse(Some(field), error.to_string()))
            .ok()
    }

    fn bend(&mut self, bend: usize) -> Option<TubeBend> {
        let at = |field| PieceField::Bend(bend, field);
        let angle = self.angle(at(BendField::Angle));
        let radius = self.length(at(BendField::Radius));
        let outside = if self.form.text(at(BendField::Outside)).trim().is_empty() {
            Some(Angle::ZERO)
        } else {
            self.angle(at(BendField::Outside))
        };
        TubeBend::new(radius?, angle?, outside?)
            .map_err(|error| {
                let field = match error {
                    PieceError::BendAngle { .. } => BendField::Angle,
                    PieceError::Turn { .. } => BendField::Outside,
                    _ => BendField::Radius,
                };
                self.refuse(Some(at(field)), error.sentence(self.unit));
            })
            .ok()
    }

    /// The tube, which both ends have.
    fn tube(&mut self) -> Option<RoundTube> {
        let end = self.form.end(Side::A);
        let mut reader = Reader::new(&end);
        let outside = reader.length(Field::Branch);
        let wall = reader.length(Field::Wall);
        let tube = match (outside, wall) {
            (Some(outside), Some(wall)) => reader.taken(0, RoundTube::new(outside, wall)),
            _ => None,
        };
        for problem in reader.problems() {
            self.refuse(None, problem.sentence.clone());
        }
        tube
    }

    fn end(&mut self, side: Side, draft: Option<&Draft>) -> Option<End> {
        match (self.form.kind(side), draft) {
            (EndKind::Square, _) => Some(End::Square),
            (EndKind::AsItIs, _) => Some(End::AsItIs),
            (EndKind::Coped, Some(draft)) => Some(End::Coped(Box::new(draft.template.clone()))),
            (EndKind::Coped, None) => {
                let sentence = format!("A number of {} cannot be used yet.", side.name());
                self.refuse(None, sentence);
                None
            }
        }
    }

    fn line(
        &mut self,
        straights: &[Option<Length>],
        bends: &[Option<TubeBend>],
    ) -> Option<CentreLine> {
        let mut straights = straights.iter().copied();
        let first = straights.next()??;
        let more: Option<Vec<(TubeBend, Length)>> = bends
            .iter()
            .zip(straights)
            .map(|(bend, straight)| bend.zip(straight))
            .collect();
        let more = more?;
        if self.form.is_to_vertices() {
            return CentreLine::from_legs(first, &more)
                .map_err(|error| self.refuse(field_of(&error), error.sentence(self.unit)))
                .ok();
        }
        let straight = CentreLine::straight(first);
        let line = more
            .into_iter()
            .fold(straight, |line, (bend, straight)| line.bent(bend, straight));
        Some(line)
    }
}
