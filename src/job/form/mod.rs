//! Everything typed about one piece: an end alone, or two with what joins them.

mod facts;
mod field;
mod link;
mod read;
mod remade;

pub use facts::{PieceFact, clashes_in_words, piece_facts, reading_in_words};
pub use field::{BENDS_MAX, BendField, EndKind, Measured, PieceField};
pub(in crate::job) use link::is_shared;
pub use link::{OpenedForm, open_form, resume_form, shorten_form, write_form, write_whole_form};
pub use read::{PieceDraft, PieceProblem, read_piece};
pub use remade::{Measure, remake_in_words};

use crate::job::typed::is_bare;
use crate::job::{Field, Typed};
use crate::piece::Side;
use crate::units::{Angle, Unit, read_angle};

/// The form of a piece as it stands. What is not asked for stays as it was typed, so that asking
/// again brings it back.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceForm {
    /// The two ends; both have the tube, the label and the paper.
    ends: [Typed; 2],
    /// Whether there is more to it than end A.
    whole: bool,
    kinds: [EndKind; 2],
    measured: Measured,
    /// Whether straights are measured to the vertices of the bends.
    to_vertices: bool,
    count: String,
    length: String,
    grips: [String; 2],
    /// Texts of each bend, in the order of [`BendField::ALL`].
    bends: Vec<[String; 4]>,
}

impl PieceForm {
    /// One end alone, with the usual piece around it in case it is asked for.
    #[must_use]
    pub fn of_end(end: Typed) -> Self {
        let metric = end.unit == Unit::Millimetre;
        let other = end.clone().with_text(Field::Turn, "0");
        Self {
            ends: [end, other],
            whole: false,
            kinds: [EndKind::Coped; 2],
            measured: Measured::Centres,
            to_vertices: false,
            count: String::from("1"),
            length: String::from(if metric { "600" } else { "24" }),
            grips: [const { String::new() }; 2],
            bends: Vec::new(),
        }
    }

    /// The usual case in a unit.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self::of_end(Typed::usual(unit))
    }

    /// Whether there is more to it than end A.
    #[must_use]
    pub const fn is_whole(&self) -> bool {
        self.whole
    }

    /// The same form with or without its other end. The other end starts as end A stands, turned
    /// alike, the first time it is asked for.
    #[must_use]
    pub fn as_whole(mut self, whole: bool) -> Self {
        let untouched = self
            == Self {
                ends: self.ends.clone(),
                ..Self::of_end(self.ends[0].clone())
            };
        if whole && !self.whole && untouched {
            self.ends[1] = self.ends[0].clone().with_text(Field::Turn, "0");
        }
        self.whole = whole;
        self
    }

    /// The form of an end. End B's turn is counted from end A's heel.
    #[must_use]
    pub fn end(&self, side: Side) -> Typed {
        let end = self.ends[side.index()].clone();
        match side {
            Side::A => end,
            Side::B => end.behind(self.heel_of_a()),
        }
    }

    /// Turn of end A's heel as typed; none where it cannot be read, or there is no heel.
    fn heel_of_a(&self) -> Angle {
        let text = self.ends[0].text(Field::Turn).unwrap_or_default();
        match self.kinds[0] {
            EndKind::Coped => read_angle(text).unwrap_or_default(),
            EndKind::Square | EndKind::AsItIs => Angle::ZERO,
        }
    }

    /// The same form with an end changed; what both ends have goes to the other one too.
    #[must_use]
    pub fn with_end(mut self, side: Side, end: Typed) -> Self {
        let other = &mut self.ends[side.other().index()];
        *other = other.clone().sharing(&end);
        self.ends[side.index()] = end.in_front();
        self
    }

    /// What is done with an end.
    #[must_use]
    pub const fn kind(&self, side: Side) -> EndKind {
        self.kinds[side.index()]
    }

    /// Whether there is an end to cope.
    #[must_use]
    pub fn has_cope(&self) -> bool {
        !self.whole || self.kinds.contains(&EndKind::Coped)
    }

    /// The same form with something else done with an end.
    #[must_use]
    pub const fn with_kind(mut self, side: Side, kind: EndKind) -> Self {
        self.kinds[side.index()] = kind;
        self
    }

    /// What the length is measured between.
    #[must_use]
    pub const fn measured(&self) -> Measured {
        self.measured
    }

    /// The same form with the length measured between something else.
    #[must_use]
    pub const fn with_measured(mut self, measured: Measured) -> Self {
        self.measured = measured;
        self
    }

    /// Whether straights are measured to the vertices of the bends, not to tangent points.
    #[must_use]
    pub const fn is_to_vertices(&self) -> bool {
        self.to_vertices
    }

    /// The same form with straights measured to vertices or to tangent points.
    #[must_use]
    pub const fn to_vertices(mut self, to_vertices: bool) -> Self {
        self.to_vertices = to_vertices;
        self
    }

    /// How many bends it has.
    #[must_use]
    pub const fn bends(&self) -> usize {
        self.bends.len()
    }

    /// The same form with so many bends, at most [`BENDS_MAX`]: usual ones are added behind, or the
    /// last ones taken away. A right angle on about three diameters is common practice, no source.
    #[must_use]
    pub fn with_bends(mut self, count: usize) -> Self {
        let metric = self.ends[0].unit == Unit::Millimetre;
        let usual = if metric {
            ["90", "130", "0", "300"]
        } else {
            ["90", "4 1/2", "0", "12"]
        };
        self.bends
            .resize(count.min(BENDS_MAX), usual.map(str::to_owned));
        self
    }

    /// The text of a number.
    #[must_use]
    pub fn text(&self, field: PieceField) -> &str {
        match field {
            PieceField::Count => &self.count,
            PieceField::Length => &self.length,
            PieceField::Grip(side) => &self.grips[side.index()],
            PieceField::Bend(bend, field) => self
                .bends
                .get(bend)
                .map_or("", |bend| &bend[field as usize]),
        }
    }

    /// The same form with a number typed.
    #[must_use]
    pub fn with_text(mut self, field: PieceField, text: impl Into<String>) -> Self {
        match field {
            PieceField::Count => self.count = text.into(),
            PieceField::Length => self.length = text.into(),
            PieceField::Grip(side) => self.grips[side.index()] = text.into(),
            PieceField::Bend(bend, field) => {
                if let Some(bend) = self.bends.get_mut(bend) {
                    bend[field as usize] = text.into();
                }
            }
        }
        self
    }

    /// The same form in another unit; no size changes.
    #[must_use]
    pub fn in_unit(mut self, unit: Unit) -> Self {
        let old = self.ends[0].unit;
        if old.is_inch() != unit.is_inch() {
            let mark = if old.is_inch() { "in" } else { "mm" };
            for field in PieceField::all(self.bends()).filter(|field| field.is_length()) {
                let typed = self.text(field).trim().to_owned();
                if is_bare(&typed) {
                    self = self.with_text(field, format!("{typed} {mark}"));
                }
            }
        }
        self.ends = self.ends.map(|end| end.in_unit(unit));
        self
    }
}
