//! What can be typed about a joint: one row a field, with its link key and its name.

use crate::job::MainKind;
use crate::joint::{Dimension, MAINS_MAX};

/// A field of the form and a key of the link.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Field {
    /// What a bare number means.
    Unit,
    /// Outside diameter of the branch.
    Branch,
    /// Wall of the branch.
    Wall,
    /// How many mains the branch sits on.
    Mains,
    /// Something about the main of that number, counted from 0.
    OfMain(usize, MainField),
    /// How the end is cut.
    Cut,
    /// Root gap.
    Gap,
    /// Circumference measured on the real tube.
    Girth,
    /// Turn of the heel from the zero line.
    Turn,
    /// Whether the outline of the landing is printed too.
    Landing,
    /// What the template is called.
    Label,
    /// Paper it is printed on.
    Paper,
    /// Thickness of the material it is printed on.
    Template,
}

/// A field that every main has of its own. The kind decides which of them are seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MainField {
    /// Outside diameter.
    Diameter,
    /// Width of a rectangular tube.
    Width,
    /// Height of a rectangular tube.
    Height,
    /// Corner radius of a rectangular tube; empty takes it from the wall.
    Corner,
    /// Wall of a rectangular tube.
    Wall,
    /// Turn of a rectangular tube about its own axis.
    Roll,
    /// Centre-line radius of a bend.
    BendRadius,
    /// Bend angle.
    BendAngle,
    /// Landing from the middle of the bend, along the centre line.
    Station,
    /// Which way the inside of the bend faces.
    Facing,
    /// Included angle.
    Angle,
    /// Distance between the axes.
    Offset,
    /// Turn about the branch from main 1; main 1 has none.
    About,
    /// Shift along the branch; main 1 has none.
    Shift,
    /// From the main's end on the toe side to the joint centre, for the template on the main.
    End,
    /// What it is: chosen, not typed.
    Kind,
}

/// One key for each main: the first without a number.
macro_rules! keys {
    ($key:literal) => {
        [
            $key,
            concat!($key, "2"),
            concat!($key, "3"),
            concat!($key, "4"),
            concat!($key, "5"),
            concat!($key, "6"),
        ]
    };
}

impl MainField {
    /// All fields of a main, in the order of the form and of the link.
    pub const ALL: [Self; 16] = [
        Self::Kind,
        Self::Diameter,
        Self::Width,
        Self::Height,
        Self::Corner,
        Self::Wall,
        Self::Roll,
        Self::BendRadius,
        Self::BendAngle,
        Self::Station,
        Self::Facing,
        Self::Angle,
        Self::Offset,
        Self::About,
        Self::Shift,
        Self::End,
    ];

    /// Where a further main is; the first one makes the frame.
    pub const PLACE: [Self; 2] = [Self::About, Self::Shift];

    const fn keys(self) -> [&'static str; MAINS_MAX] {
        match self {
            Self::Kind => keys!("kind"),
            Self::Diameter => keys!("main"),
            Self::Width => keys!("width"),
            Self::Height => keys!("height"),
            Self::Corner => keys!("corner"),
            Self::Wall => keys!("mainwall"),
            Self::Roll => keys!("roll"),
            Self::BendRadius => keys!("clr"),
            Self::BendAngle => keys!("bend"),
            Self::Station => keys!("station"),
            Self::Facing => keys!("facing"),
            Self::Angle => keys!("angle"),
            Self::Offset => keys!("offset"),
            Self::About => keys!("about"),
            Self::Shift => keys!("shift"),
            Self::End => keys!("end"),
        }
    }

    /// Whether it is a length.
    #[must_use]
    pub const fn is_length(self) -> bool {
        matches!(
            self,
            Self::Diameter
                | Self::Width
                | Self::Height
                | Self::Corner
                | Self::Wall
                | Self::BendRadius
                | Self::Station
                | Self::Offset
                | Self::Shift
                | Self::End
        )
    }

    /// Whether an empty one means nothing: the others have a meaning of their own, most often 0.
    #[must_use]
    pub const fn is_needed(self) -> bool {
        matches!(
            self,
            Self::Diameter
                | Self::Width
                | Self::Height
                | Self::Wall
                | Self::BendRadius
                | Self::BendAngle
                | Self::Facing
                | Self::Angle
                | Self::About
        )
    }

    /// Whether it can be below zero.
    #[must_use]
    pub const fn is_signed(self) -> bool {
        matches!(
            self,
            Self::Roll | Self::Station | Self::Facing | Self::Offset | Self::About | Self::Shift
        )
    }

    /// Its name on the page, on a main of some kind.
    #[must_use]
    pub const fn name(self, kind: MainKind) -> &'static str {
        match (self, kind) {
            (Self::Kind, _) => "What the branch sits on",
            (Self::Diameter, MainKind::Mitre) => "Other tube",
            (Self::Diameter, _) => "Main diameter",
            (Self::Width, _) => "Width",
            (Self::Height, _) => "Height",
            (Self::Corner, _) => "Corner radius",
            (Self::Wall, _) => "Main wall",
            (Self::Roll, _) => "Section turned",
            (Self::BendRadius, _) => "Centre-line radius",
            (Self::BendAngle, _) => "Bend angle",
            (Self::Station, _) => "From mid-bend",
            (Self::Facing, _) => "Bend turned",
            (Self::Angle, MainKind::Mitre) => "Angle between",
            (Self::Angle, _) => "Angle",
            (Self::Offset, _) => "Offset",
            (Self::About, _) => "Turn from main 1",
            (Self::Shift, _) => "Along branch",
            (Self::End, MainKind::Plate) => "Plate’s edge to joint centre",
            (Self::End, _) => "Main’s end to joint centre",
        }
    }
}

impl Field {
    /// Diameter of the first main.
    pub const MAIN: Self = Self::OfMain(0, MainField::Diameter);
    /// Angle of the first main.
    pub const ANGLE: Self = Self::OfMain(0, MainField::Angle);
    /// Offset of the first main.
    pub const OFFSET: Self = Self::OfMain(0, MainField::Offset);

    /// All fields, in the order of the form and of the link.
    pub fn all() -> impl Iterator<Item = Self> {
        let of_main = |main| {
            MainField::ALL
                .into_iter()
                .filter(move |field| main > 0 || !MainField::PLACE.contains(field))
                .map(move |field| Self::OfMain(main, field))
        };
        [Self::Unit, Self::Branch, Self::Wall, Self::Mains]
            .into_iter()
            .chain((0..MAINS_MAX).flat_map(of_main))
            .chain([
                Self::Cut,
                Self::Gap,
                Self::Girth,
                Self::Turn,
                Self::Landing,
                Self::Label,
                Self::Paper,
                Self::Template,
            ])
    }

    /// Its key in the link.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Unit => "unit",
            Self::Branch => "branch",
            Self::Wall => "wall",
            Self::Mains => "mains",
            // No form has more mains than keys; one that had would share the last.
            Self::OfMain(main, field) => field.keys()[main.min(MAINS_MAX - 1)],
            Self::Cut => "cut",
            Self::Gap => "gap",
            Self::Girth => "girth",
            Self::Turn => "turn",
            Self::Landing => "landing",
            Self::Label => "label",
            Self::Paper => "paper",
            Self::Template => "template",
        }
    }

    /// The field of a link key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::all().find(|field| field.key() == key)
    }

    /// Its name on the page; what belongs to a main, on one of that kind.
    #[must_use]
    pub const fn name(self, kind: MainKind) -> &'static str {
        match self {
            Self::Unit => "Unit",
            Self::Branch => "Branch diameter",
            Self::Wall => "Branch wall",
            Self::Mains => "How many mains",
            Self::OfMain(_, field) => field.name(kind),
            Self::Cut => "How it is cut",
            Self::Gap => "Root gap",
            Self::Girth => "Measured circumference",
            Self::Turn => "Heel from zero line",
            Self::Landing => "Template for the main",
            Self::Label => "Label",
            Self::Paper => "Paper",
            Self::Template => "Paper thickness",
        }
    }

    /// Whether it is a length.
    #[must_use]
    pub const fn is_length(self) -> bool {
        match self {
            Self::OfMain(_, field) => field.is_length(),
            _ => matches!(
                self,
                Self::Branch | Self::Wall | Self::Gap | Self::Girth | Self::Template
            ),
        }
    }

    /// The field of a dimension of the main of that number, counted from 0.
    #[must_use]
    pub const fn of(dimension: Dimension, main: usize) -> Self {
        let field = match dimension {
            Dimension::Branch => return Self::Branch,
            Dimension::Wall => return Self::Wall,
            Dimension::Gap => return Self::Gap,
            Dimension::Main => MainField::Diameter,
            Dimension::Width => MainField::Width,
            Dimension::Height => MainField::Height,
            Dimension::Corner => MainField::Corner,
            Dimension::Roll => MainField::Roll,
            Dimension::BendRadius => MainField::BendRadius,
            Dimension::BendAngle => MainField::BendAngle,
            Dimension::Station => MainField::Station,
            Dimension::Facing => MainField::Facing,
            Dimension::Angle => MainField::Angle,
            Dimension::Offset => MainField::Offset,
            Dimension::About => MainField::About,
            Dimension::Shift => MainField::Shift,
        };
        Self::OfMain(main, field)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_fields_share_a_key() {
        for field in Field::all() {
            assert_eq!(Field::from_key(field.key()), Some(field));
        }
    }
}
