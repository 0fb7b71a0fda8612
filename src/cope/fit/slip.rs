//! What went off between the plan and the cut.

use crate::joint::{JointError, Main, Shape};
use crate::units::{Angle, Length};

/// Differences between the cut as it was made and as it should be; nothing off by default.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// The main whose angle, offset and size are off, counted from 0.
    pub main: usize,
    /// The cut is for an included angle larger by this; of a mitre, for a plane steeper by it.
    pub angle: Angle,
    /// The cut is for an offset larger by this, towards the +side of its main.
    pub offset: Length,
    /// The whole cut sits turned by this about the branch, from +x towards +y.
    pub turn: Angle,
    /// The cut is for an outside diameter larger by this: that of the saw, where a saw follows the
    /// main, or the one the template was made for. Only round and bent mains have one.
    pub size: Length,
    /// The template came out of the printer larger by this factor; 1 is true scale.
    pub scale: f64,
}

impl Slip {
    /// Nothing is off.
    pub const NONE: Self = Self {
        main: 0,
        angle: Angle::ZERO,
        offset: Length::ZERO,
        turn: Angle::ZERO,
        size: Length::ZERO,
        scale: 1.0,
    };

    /// The mains that the cut was in truth made for, from those the branch sits on.
    ///
    /// # Errors
    /// An angle or a diameter that the slip takes out of the range of a main.
    pub(super) fn mains(&self, true_mains: &[Main]) -> Result<Vec<Main>, JointError> {
        true_mains
            .iter()
            .enumerate()
            .map(|(number, main)| {
                let made = if number == self.main {
                    self.made(main)?
                } else {
                    main.clone()
                };
                let turn = made.turn() + self.turn;
                Ok(made.turned(turn))
            })
            .collect()
    }

    fn made(&self, main: &Main) -> Result<Main, JointError> {
        if self.angle == Angle::ZERO && self.offset == Length::ZERO && self.size == Length::ZERO {
            return Ok(main.clone());
        }
        let angle = main.angle() + self.angle;
        // Beyond a right angle it is the joint seen from behind: heel and toe change places, and
        // so do the two sides.
        let behind = angle > Angle::QUARTER;
        let way = if behind { -1.0 } else { 1.0 };
        let angle = if behind { Angle::HALF - angle } else { angle };
        let (offset, size) = ((main.offset() + self.offset) * way, self.size);
        let made = match main.shape() {
            Shape::Round { radius } => Main::round(*radius * 2.0 + size, angle, offset)?,
            Shape::Plate => Main::plate(angle)?,
            Shape::Mitre { radius } => Main::mitre(*radius * 2.0, angle * 2.0)?,
            Shape::Rectangular(section) => {
                let section = if behind { section.mirrored() } else { *section };
                Main::rectangular(section, angle, offset)?
            }
            Shape::Bent { radius, bend } => {
                let bend = if behind { bend.behind() } else { *bend };
                Main::bent(*radius * 2.0 + size, bend, angle, offset)?
            }
        };
        let turn = main.turn() + if behind { Angle::HALF } else { Angle::ZERO };
        made.turned(turn).shifted(main.shift()).grown(main.gap())
    }
}

/// One thing that can be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SlipKind {
    /// The included angle.
    Angle,
    /// Saw or template for another diameter.
    Size,
    /// The template turned on the tube, or the tube in the clamp.
    Turn,
    /// The offset between the axes.
    Offset,
    /// The print.
    Scale,
}

impl SlipKind {
    /// All kinds.
    pub const ALL: [Self; 5] = [
        Self::Angle,
        Self::Size,
        Self::Turn,
        Self::Offset,
        Self::Scale,
    ];

    /// Whether a main of this kind can be off so: a plane has neither offset nor diameter, and a
    /// rectangular tube no diameter.
    #[must_use]
    pub fn applies_to(self, main: &Main) -> bool {
        match self {
            Self::Offset => !main.is_plane(),
            Self::Size => matches!(main.shape(), Shape::Round { .. } | Shape::Bent { .. }),
            Self::Angle | Self::Turn | Self::Scale => true,
        }
    }

    /// The slip of this kind alone: rad, mm, or the part by which the print is too large.
    #[must_use]
    pub fn slip(self, main: usize, amount: f64) -> Slip {
        self.beside(Slip { main, ..Slip::NONE }, amount)
    }

    /// The slip of this kind beside what else is off: rad, mm, or the part by which the print is
    /// too large.
    #[must_use]
    pub fn beside(self, other: Slip, amount: f64) -> Slip {
        let (angle, length) = (Angle::from_rad(amount), Length::from_mm(amount));
        match self {
            Self::Angle => Slip { angle, ..other },
            Self::Turn => Slip {
                turn: angle,
                ..other
            },
            Self::Offset => Slip {
                offset: length,
                ..other
            },
            Self::Size => Slip {
                size: length,
                ..other
            },
            Self::Scale => Slip {
                scale: 1.0 + amount,
                ..other
            },
        }
    }
}
