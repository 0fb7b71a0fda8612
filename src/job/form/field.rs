//! What can be typed about a piece beyond its ends, with link key and name.

use crate::piece::Side;

/// Most bends of a piece that can be typed.
pub const BENDS_MAX: usize = 8;

/// A number of the whole piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PieceField {
    /// How many are wanted.
    Count,
    /// Its length; of a bent piece its first straight.
    Length,
    /// Stock left beyond an end for a machine to hold.
    Grip(Side),
    /// Something about a bend, counted from 0.
    Bend(usize, BendField),
}

/// A number of a bend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BendField {
    /// By how much it is bent.
    Angle,
    /// Centre-line radius.
    Radius,
    /// Turn of its outside from the zero line.
    Outside,
    /// The straight behind it.
    Straight,
}

impl BendField {
    /// All of them, in the order of the form and of the link.
    pub const ALL: [Self; 4] = [Self::Angle, Self::Radius, Self::Outside, Self::Straight];
}

impl PieceField {
    /// All fields of a piece with so many bends, in the order of the form and of the link.
    pub fn all(bends: usize) -> impl Iterator<Item = Self> {
        let of_bends = (0..bends.min(BENDS_MAX))
            .flat_map(|bend| BendField::ALL.map(|field| Self::Bend(bend, field)));
        [Self::Count, Self::Length]
            .into_iter()
            .chain(of_bends)
            .chain(Side::BOTH.map(Self::Grip))
    }

    /// Its key in the link; bends are counted from 1 there.
    #[must_use]
    pub fn key(self) -> String {
        let (key, bend) = match self {
            Self::Count => ("count", None),
            Self::Length => ("length", None),
            Self::Grip(Side::A) => ("gripa", None),
            Self::Grip(Side::B) => ("gripb", None),
            Self::Bend(bend, BendField::Angle) => ("bendangle", Some(bend)),
            Self::Bend(bend, BendField::Radius) => ("bendradius", Some(bend)),
            Self::Bend(bend, BendField::Outside) => ("outside", Some(bend)),
            Self::Bend(bend, BendField::Straight) => ("straight", Some(bend)),
        };
        bend.map_or_else(|| key.to_owned(), |bend| format!("{key}{}", bend + 1))
    }

    /// Its name on the page.
    #[must_use]
    pub const fn name(self, bent: bool) -> &'static str {
        match self {
            Self::Count => "Pieces wanted",
            Self::Length if bent => "First straight",
            Self::Length => "Length",
            Self::Grip(Side::A) => "Grip stock at end A",
            Self::Grip(Side::B) => "Grip stock at end B",
            Self::Bend(_, BendField::Angle) => "Bend angle",
            Self::Bend(_, BendField::Radius) => "Centre-line radius",
            Self::Bend(_, BendField::Outside) => "Outside from zero line",
            Self::Bend(_, BendField::Straight) => "Straight behind it",
        }
    }

    /// Whether it is a length.
    #[must_use]
    pub const fn is_length(self) -> bool {
        !matches!(
            self,
            Self::Count | Self::Bend(_, BendField::Angle | BendField::Outside)
        )
    }
}

/// What is done with an end of the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum EndKind {
    /// Coped to what it sits on.
    #[default]
    Coped,
    /// Cut square.
    Square,
    /// Left as it came.
    AsItIs,
}

impl EndKind {
    /// All kinds, in the order of the form.
    pub const ALL: [Self; 3] = [Self::Coped, Self::Square, Self::AsItIs];

    /// Its value in the link.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Coped => "coped",
            Self::Square => "square",
            Self::AsItIs => "asitis",
        }
    }

    /// Its name on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Coped => "coped",
            Self::Square => "cut square",
            Self::AsItIs => "left as it is",
        }
    }
}

/// What the length of a piece is measured between, as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Measured {
    /// Between the joint centres; of a bent piece straights between tangent points.
    #[default]
    Centres,
    /// Overall, long point to long point.
    Overall,
    /// The blank, grip stock included.
    Blank,
}

impl Measured {
    /// All of them, in the order of the form.
    pub const ALL: [Self; 3] = [Self::Centres, Self::Overall, Self::Blank];

    /// Its value in the link.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Centres => "centres",
            Self::Overall => "overall",
            Self::Blank => "blank",
        }
    }

    /// Its name on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Centres => "between joint centres",
            Self::Overall => "overall, long point to long point",
            Self::Blank => "of the blank, grip stock included",
        }
    }
}
