//! One main as typed: its kind, and the text of every number it could have, seen or not.

use crate::job::{MainField, MainKind};

/// How many numbers a main could have.
const COUNT: usize = MainField::ALL.len() - 1;

/// A main as it stands in the form. Texts of other kinds stay, so that choosing another kind and
/// back loses nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct MainTexts {
    pub kind: MainKind,
    texts: [String; COUNT],
}

impl MainTexts {
    /// The usual case of main `number`, counted from 0.
    ///
    /// Round: [`crate::job::Typed::usual`] says why. Square tube 50 × 3 mm or 2 in × .120 and a
    /// bend of about three diameters by a right angle, the branch outside: common practice, no
    /// source. Further mains stand where tubes meet at a node of a frame: the second squarely on
    /// the first with the branch as a brace in the corner, the third square to both.
    pub fn usual(metric: bool, number: usize) -> Self {
        let mut main = Self {
            kind: MainKind::Round,
            texts: Default::default(),
        };
        let (angle, about) = match number {
            0 => ("60", "0"),
            1 => ("30", "180"),
            2 => ("90", "90"),
            3 => ("60", "90"),
            4 => ("60", "270"),
            _ => ("60", "180"),
        };
        let either = |mm, inch| if metric { mm } else { inch };
        for (field, text) in [
            (MainField::Diameter, either("48.3", "1 3/4")),
            (MainField::Width, either("50", "2")),
            (MainField::Height, either("50", "2")),
            (MainField::Corner, ""),
            (MainField::Wall, either("3", ".120")),
            (MainField::Roll, "0"),
            (MainField::BendRadius, either("150", "6")),
            (MainField::BendAngle, "90"),
            (MainField::Station, "0"),
            (MainField::Facing, "180"),
            (MainField::Angle, angle),
            (MainField::Offset, "0"),
            (MainField::About, about),
            (MainField::Shift, "0"),
            (MainField::End, ""),
        ] {
            main.set(field, text);
        }
        main
    }

    /// The text of a field; `None` for the kind, which is chosen.
    pub fn text(&self, field: MainField) -> Option<&str> {
        self.texts.get(field as usize).map(String::as_str)
    }

    pub fn set(&mut self, field: MainField, text: impl Into<String>) {
        if let Some(slot) = self.texts.get_mut(field as usize) {
            *slot = text.into();
        }
    }
}
