//! What can be typed about a joint: one row a field, with its link key and its name.

use crate::joint::Dimension;

/// A field of the form and a key of the link.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Field {
    /// What a bare number means.
    Unit,
    /// Outside diameter of the branch.
    Branch,
    /// Wall of the branch.
    Wall,
    /// Outside diameter of the main.
    Main,
    /// Included angle.
    Angle,
    /// Distance between the axes.
    Offset,
    /// How the end is cut.
    Cut,
    /// Root gap.
    Gap,
    /// Circumference measured on the real tube.
    Girth,
    /// Turn of the heel from the zero line.
    Turn,
    /// What the template is called.
    Label,
    /// Paper it is printed on.
    Paper,
    /// Thickness of the material it is printed on.
    Template,
}

impl Field {
    /// All fields, in the order of the form and of the link.
    pub const ALL: [Self; 13] = [
        Self::Unit,
        Self::Branch,
        Self::Wall,
        Self::Main,
        Self::Angle,
        Self::Offset,
        Self::Cut,
        Self::Gap,
        Self::Girth,
        Self::Turn,
        Self::Label,
        Self::Paper,
        Self::Template,
    ];

    /// Its key in the link.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Unit => "unit",
            Self::Branch => "branch",
            Self::Wall => "wall",
            Self::Main => "main",
            Self::Angle => "angle",
            Self::Offset => "offset",
            Self::Cut => "cut",
            Self::Gap => "gap",
            Self::Girth => "girth",
            Self::Turn => "turn",
            Self::Label => "label",
            Self::Paper => "paper",
            Self::Template => "template",
        }
    }

    /// The field of a link key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|field| field.key() == key)
    }

    /// Its name on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Unit => "Unit",
            Self::Branch => "Branch diameter",
            Self::Wall => "Branch wall",
            Self::Main => "Main diameter",
            Self::Angle => "Angle",
            Self::Offset => "Offset",
            Self::Cut => "How it is cut",
            Self::Gap => "Root gap",
            Self::Girth => "Measured circumference",
            Self::Turn => "Heel from zero line",
            Self::Label => "Label",
            Self::Paper => "Paper",
            Self::Template => "Paper thickness",
        }
    }
}

impl From<Dimension> for Field {
    fn from(dimension: Dimension) -> Self {
        match dimension {
            Dimension::Branch => Self::Branch,
            Dimension::Wall => Self::Wall,
            Dimension::Angle => Self::Angle,
            Dimension::Offset => Self::Offset,
            Dimension::Gap => Self::Gap,
            // The form has no others yet.
            _ => Self::Main,
        }
    }
}
