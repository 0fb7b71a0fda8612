//! What a branch can sit on, as a choice of the form: each kind with its words and its numbers.

use crate::job::MainField;
use crate::joint::Shape;

/// The kind of a main.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum MainKind {
    /// A straight round tube.
    #[default]
    Round,
    /// A flat plate.
    Plate,
    /// Another tube, both cut on the plane between them.
    Mitre,
    /// A square or rectangular tube.
    Rectangular,
    /// A bent round tube.
    Bent,
}

impl MainKind {
    /// All kinds, in the order of the form.
    pub const ALL: [Self; 5] = [
        Self::Round,
        Self::Plate,
        Self::Mitre,
        Self::Rectangular,
        Self::Bent,
    ];

    /// Its value in the link.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Plate => "plate",
            Self::Mitre => "mitre",
            Self::Rectangular => "rectangular",
            Self::Bent => "bent",
        }
    }

    /// The kind of a link value.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|kind| kind.code().eq_ignore_ascii_case(code))
    }

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Round => "round tube",
            Self::Plate => "flat plate",
            Self::Mitre => "mitre",
            Self::Rectangular => "square or rectangular tube",
            Self::Bent => "bent tube",
        }
    }

    /// The kind of a main that has been read.
    #[must_use]
    pub const fn of(shape: &Shape) -> Self {
        match shape {
            Shape::Round { .. } => Self::Round,
            Shape::Plate => Self::Plate,
            Shape::Mitre { .. } => Self::Mitre,
            Shape::Rectangular(_) => Self::Rectangular,
            Shape::Bent { .. } => Self::Bent,
        }
    }

    /// Whether the landing of the branch on it can be printed: a bend does not lie flat, and the
    /// other tube of a mitre is cut itself.
    #[must_use]
    pub const fn has_landing(self) -> bool {
        matches!(self, Self::Round | Self::Plate | Self::Rectangular)
    }

    /// The numbers that it needs, in the order of the form; a further main needs its place too.
    #[must_use]
    pub const fn fields(self) -> &'static [MainField] {
        use MainField as F;
        match self {
            Self::Round => &[F::Diameter, F::Angle, F::Offset],
            Self::Plate => &[F::Angle],
            Self::Mitre => &[F::Diameter, F::Angle],
            Self::Rectangular => &[
                F::Width,
                F::Height,
                F::Corner,
                F::Wall,
                F::Roll,
                F::Angle,
                F::Offset,
            ],
            Self::Bent => &[
                F::Diameter,
                F::BendRadius,
                F::BendAngle,
                F::Station,
                F::Facing,
                F::Angle,
                F::Offset,
            ],
        }
    }
}
