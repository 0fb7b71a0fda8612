//! What is asked about a fit, as typed.

use serde::{Deserialize, Serialize};

use crate::cope::fit::Limits;
use crate::job::Draft;
use crate::joint::{Main, Shape};
use crate::units::{Angle, Length};

/// How the joint will be welded; it sets the usual limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Process {
    /// Tungsten inert gas, or gas: filler rod by hand.
    #[default]
    Tig,
    /// Metal inert or active gas: a wire that feeds itself.
    Mig,
}

impl Process {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Tig, Self::Mig];

    /// Its short name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tig => "TIG",
            Self::Mig => "MIG",
        }
    }

    /// The usual limits. Common practice, no source: for TIG a gap that closes as it melts, and one
    /// no wider than a 1.6 mm filler rod; MIG fills half as much again.
    #[must_use]
    pub const fn usual(self) -> Limits {
        match self {
            Self::Tig => Limits {
                tight: Length::from_mm(0.5),
                most: Length::from_mm(1.6),
            },
            Self::Mig => Limits {
                tight: Length::from_mm(1.0),
                most: Length::from_mm(2.4),
            },
        }
    }
}

/// A field of the questions about a fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FitField {
    /// Diameter of the saw, or of the tube the template was made for.
    Size,
    /// By how much too large the angle was cut.
    Angle,
    /// By how much too large the offset was.
    Offset,
    /// By how much the cut sits turned.
    Turn,
    /// What the ruler of the print measures.
    Printed,
    /// Gap up to which a joint counts as tight.
    Tight,
    /// Gap up to which it can be filled.
    Most,
    /// Gap seen at the heel.
    SeenHeel,
    /// Gap seen a quarter turn on from the heel.
    SeenPlus,
    /// Gap seen at the toe.
    SeenToe,
    /// Gap seen three quarters on from the heel.
    SeenMinus,
}

impl FitField {
    /// What would be off, in the order of the form.
    pub const SLIPS: [Self; 5] = [
        Self::Size,
        Self::Angle,
        Self::Offset,
        Self::Turn,
        Self::Printed,
    ];
    /// The limits.
    pub const LIMITS: [Self; 2] = [Self::Tight, Self::Most];
    /// The gaps seen, in the order of turns.
    pub const SEEN: [Self; 4] = [
        Self::SeenHeel,
        Self::SeenPlus,
        Self::SeenToe,
        Self::SeenMinus,
    ];

    /// Its label for a draft; the sides are told by their turn from the zero line, and over a root
    /// gap that a gap seen is what is open on top of the spacer.
    #[must_use]
    pub fn label(self, draft: &Draft) -> String {
        let mut label = self.plain_label(draft);
        if Self::SEEN.contains(&self) && draft.template.cope().gap() > Length::ZERO {
            label.push_str(", on top of the spacer");
        }
        label
    }

    /// What its label leaves open about a main of the draft, in a sentence.
    #[must_use]
    pub fn remark(self, draft: &Draft, main: usize) -> Option<&'static str> {
        if self != Self::Angle {
            return None;
        }
        let main = draft.template.cope().mains().get(main);
        Some(
            if matches!(main.map(Main::shape), Some(Shape::Mitre { .. })) {
                "That of the mitre’s plane to the tube, half of the one between the tubes. A saw set too far off \
             square cuts it too small: type that with a minus."
            } else {
                "The included angle, between the tubes. A machine set too far off square cuts it too small: \
             type that with a minus."
            },
        )
    }

    fn plain_label(self, draft: &Draft) -> String {
        let side = |quarters: f64| {
            let turn = draft.template.heel_turn() + Angle::QUARTER * quarters;
            format!("Gap seen at the side, {} line", super::whole_degrees(turn))
        };
        let fixed = match self {
            Self::Size => "Cut for a diameter of",
            Self::Angle => "Angle cut too large by",
            Self::Offset => "Offset too large by",
            Self::Turn => "Cut turned by",
            Self::Printed if draft.unit.is_inch() => "Ruler of 4 in measures",
            Self::Printed => "Ruler of 100 mm measures",
            Self::Tight => "Tight up to",
            Self::Most => "Can be filled up to",
            Self::SeenHeel => "Gap seen at the heel",
            Self::SeenToe => "Gap seen at the toe",
            Self::SeenPlus => return side(1.0),
            Self::SeenMinus => return side(3.0),
        };
        fixed.to_owned()
    }
}

/// Everything asked about a fit. Empty fields mean nothing off and the usual limits.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct FitTyped {
    /// Which main is off, counted from 0.
    pub main: usize,
    /// How it will be welded.
    pub process: Process,
    /// Diameter of the saw, or of the tube the template was made for.
    pub size: String,
    /// By how much too large the angle was cut.
    pub angle: String,
    /// By how much too large the offset was.
    pub offset: String,
    /// By how much the cut sits turned.
    pub turn: String,
    /// What the ruler of the print measures.
    pub printed: String,
    /// Gap up to which a joint counts as tight.
    pub tight: String,
    /// Gap up to which it can be filled.
    pub most: String,
    /// Gap seen at the heel.
    pub seen_heel: String,
    /// Gap seen a quarter turn on from the heel.
    pub seen_plus: String,
    /// Gap seen at the toe.
    pub seen_toe: String,
    /// Gap seen three quarters on from the heel.
    pub seen_minus: String,
}

impl FitTyped {
    /// What stands in a field.
    #[must_use]
    pub fn text(&self, field: FitField) -> &str {
        match field {
            FitField::Size => &self.size,
            FitField::Angle => &self.angle,
            FitField::Offset => &self.offset,
            FitField::Turn => &self.turn,
            FitField::Printed => &self.printed,
            FitField::Tight => &self.tight,
            FitField::Most => &self.most,
            FitField::SeenHeel => &self.seen_heel,
            FitField::SeenPlus => &self.seen_plus,
            FitField::SeenToe => &self.seen_toe,
            FitField::SeenMinus => &self.seen_minus,
        }
    }

    /// Puts a text in a field.
    pub fn set(&mut self, field: FitField, text: impl Into<String>) {
        let own = match field {
            FitField::Size => &mut self.size,
            FitField::Angle => &mut self.angle,
            FitField::Offset => &mut self.offset,
            FitField::Turn => &mut self.turn,
            FitField::Printed => &mut self.printed,
            FitField::Tight => &mut self.tight,
            FitField::Most => &mut self.most,
            FitField::SeenHeel => &mut self.seen_heel,
            FitField::SeenPlus => &mut self.seen_plus,
            FitField::SeenToe => &mut self.seen_toe,
            FitField::SeenMinus => &mut self.seen_minus,
        };
        *own = text.into();
    }
}
