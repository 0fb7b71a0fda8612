//! What a branch sits on: a solid of some kind, in its place, that a generator can hit.

use crate::joint::error::{Dimension, JointError};
use crate::joint::limits::{ANGLE_MIN, ANGLE_SLACK, DIAMETER, MITRE_MIN};
use crate::joint::outline::Outline;
use crate::joint::section::RectangularSection;
use crate::joint::{Bend, BentTube};
use crate::units::{Angle, Length};

/// Below this the cosine of the included angle is rounding noise of exactly 90°.
const SQUARE_COSINE: f64 = 1e-12;

/// The kind of a main, with the sizes of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// A straight round tube.
    Round {
        /// Outside radius.
        radius: Length,
    },
    /// A flat plate.
    Plate,
    /// Another tube, both cut on the plane that divides the angle between them.
    Mitre {
        /// Outside radius of the other tube.
        radius: Length,
    },
    /// A square or rectangular tube.
    Rectangular(RectangularSection),
    /// A bent round tube.
    Bent {
        /// Outside radius.
        radius: Length,
        /// How it is bent and where the branch lands.
        bend: Bend,
    },
}

/// How a main's surface is hit.
#[derive(Debug, Clone, PartialEq)]
pub enum Surface {
    /// A straight main, by the outline of its section.
    Straight(Outline),
    /// A bent one.
    Bent(BentTube),
}

/// A main in its place.
///
/// Its own frame has *along* on its axis, direction (sin θ, 0, cos θ) of the frame of
/// [`crate::joint`], *side* across (+y, from its axis at the offset e) and *up* towards the branch:
/// along = x sin θ + z cos θ, side = y − e, up = z sin θ − x cos θ. A main that is turned about
/// the branch by τ and shifted by d has this in a frame turned from x towards y by τ and moved up
/// the branch by d.
#[derive(Debug, Clone, PartialEq)]
pub struct Main {
    shape: Shape,
    surface: Surface,
    angle: Angle,
    offset: Length,
    turn: Angle,
    shift: Length,
    gap: Length,
}

/// Checks an included angle by itself.
///
/// # Errors
/// An angle outside 5–90°.
pub fn check_angle(angle: Angle) -> Result<(), JointError> {
    let range = (ANGLE_MIN - ANGLE_SLACK)..=(Angle::QUARTER + ANGLE_SLACK);
    if range.contains(&angle) {
        Ok(())
    } else {
        Err(JointError::Angle { is: angle })
    }
}

/// Checks the included angle of a mitre by itself.
///
/// # Errors
/// An angle outside 10–180°.
pub fn check_mitre_angle(angle: Angle) -> Result<(), JointError> {
    let range = (MITRE_MIN - ANGLE_SLACK)..=(Angle::HALF + ANGLE_SLACK);
    if range.contains(&angle) {
        Ok(())
    } else {
        Err(JointError::MitreAngle { is: angle })
    }
}

impl Main {
    /// A straight round main of outside diameter `diameter`, at an included angle and an offset.
    ///
    /// # Errors
    /// A diameter out of range, an angle outside 5–90°.
    pub fn round(diameter: Length, angle: Angle, offset: Length) -> Result<Self, JointError> {
        let radius = radius_of(diameter)?;
        Self::new(Shape::Round { radius }, angle, offset)
    }

    /// A flat plate at an angle to the branch's axis.
    ///
    /// # Errors
    /// An angle outside 5–90°.
    pub fn plate(angle: Angle) -> Result<Self, JointError> {
        Self::new(Shape::Plate, angle, Length::ZERO)
    }

    /// Another tube of outside diameter `diameter` that meets the branch at `included`, the angle
    /// between the two axes, in a mitre.
    ///
    /// # Errors
    /// A diameter out of range, an angle outside 10–180°.
    pub fn mitre(diameter: Length, included: Angle) -> Result<Self, JointError> {
        let radius = radius_of(diameter)?;
        check_mitre_angle(included)?;
        Self::new(Shape::Mitre { radius }, included * 0.5, Length::ZERO)
    }

    /// A square or rectangular main.
    ///
    /// # Errors
    /// An angle outside 5–90°.
    pub fn rectangular(
        section: RectangularSection,
        angle: Angle,
        offset: Length,
    ) -> Result<Self, JointError> {
        Self::new(Shape::Rectangular(section), angle, offset)
    }

    /// A bent round main of outside diameter `diameter`; angle and offset are against its axis at
    /// the landing.
    ///
    /// # Errors
    /// A diameter out of range, a bend tighter than the tube, an angle outside 5–90°, and a leg
    /// that runs along the branch.
    pub fn bent(
        diameter: Length,
        bend: Bend,
        angle: Angle,
        offset: Length,
    ) -> Result<Self, JointError> {
        let radius = radius_of(diameter)?;
        Self::new(Shape::Bent { radius, bend }, angle, offset)?.clear_of_bend()
    }

    fn new(shape: Shape, angle: Angle, offset: Length) -> Result<Self, JointError> {
        check_angle(angle)?;
        Ok(Self {
            surface: surface(&shape, Length::ZERO),
            shape,
            angle,
            offset,
            turn: Angle::ZERO,
            shift: Length::ZERO,
            gap: Length::ZERO,
        })
    }

    /// The same main turned about the branch, from +x towards +y.
    #[must_use]
    pub fn turned(self, turn: Angle) -> Self {
        Self {
            turn: turn.within_turn(),
            ..self
        }
    }

    /// The same main moved along the branch, into its body.
    #[must_use]
    pub fn shifted(self, shift: Length) -> Self {
        Self { shift, ..self }
    }

    /// The same main in a mirror that holds the branch's axis and the first main's heel: its side
    /// for the other one, so that offset, turn, roll and facing change their sign.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let shape = match self.shape {
            Shape::Rectangular(section) => Shape::Rectangular(section.mirrored()),
            Shape::Bent { radius, bend } => Shape::Bent {
                radius,
                bend: bend.mirrored(),
            },
            own @ (Shape::Round { .. } | Shape::Plate | Shape::Mitre { .. }) => own,
        };
        Self {
            surface: surface(&shape, self.gap),
            shape,
            // Not −0 for 0: what is equal in a mirror stays equal.
            offset: Length::ZERO - self.offset,
            turn: (Angle::ZERO - self.turn).within_turn(),
            ..self.clone()
        }
    }

    /// The same main with its surface moved out by `gap` along its normal: a uniform root gap.
    ///
    /// # Errors
    /// A bend that the gap would close.
    pub fn grown(&self, gap: Length) -> Result<Self, JointError> {
        let grown = Self {
            surface: surface(&self.shape, gap),
            gap,
            ..self.clone()
        };
        grown.clear_of_bend()
    }

    /// A bend must have room for its tube inside.
    fn clear_of_bend(self) -> Result<Self, JointError> {
        if let Shape::Bent { radius, bend } = &self.shape {
            let least = *radius + self.gap;
            if bend.clr() <= least {
                return Err(JointError::BendTight {
                    is: bend.clr(),
                    least,
                });
            }
        }
        Ok(self)
    }

    /// Its kind and sizes.
    #[must_use]
    pub const fn shape(&self) -> &Shape {
        &self.shape
    }

    /// How its surface is hit, root gap included.
    #[must_use]
    pub const fn surface(&self) -> &Surface {
        &self.surface
    }

    /// Included angle between the branch's axis and the main's axis or plane. Of a mitre it is
    /// that of the dividing plane, half the angle between the tubes.
    #[must_use]
    pub const fn angle(&self) -> Angle {
        self.angle
    }

    /// The included angle as it is measured on the bench: of a mitre between the two tubes.
    #[must_use]
    pub fn included_angle(&self) -> Angle {
        match self.shape {
            Shape::Mitre { .. } => self.angle * 2.0,
            _ => self.angle,
        }
    }

    /// Distance between the axes, positive when the main lies on the +side.
    #[must_use]
    pub const fn offset(&self) -> Length {
        self.offset
    }

    /// Turn about the branch.
    #[must_use]
    pub const fn turn(&self) -> Angle {
        self.turn
    }

    /// Shift along the branch.
    #[must_use]
    pub const fn shift(&self) -> Length {
        self.shift
    }

    /// The root gap that its surface is grown by.
    #[must_use]
    pub const fn gap(&self) -> Length {
        self.gap
    }

    /// Whether it is a plane, which has neither axis nor offset.
    #[must_use]
    pub const fn is_plane(&self) -> bool {
        matches!(self.shape, Shape::Plate | Shape::Mitre { .. })
    }

    /// How far it reaches across from its axis; infinite for a plane.
    #[must_use]
    pub fn half_breadth(&self) -> Length {
        match &self.surface {
            Surface::Straight(outline) => Length::from_mm(outline.reach().1),
            Surface::Bent(tube) => Length::from_mm(tube.radius),
        }
    }

    /// How far it reaches towards the branch from its axis, root gap included; 0 for a plane.
    #[must_use]
    pub fn crown(&self) -> Length {
        let up = match &self.surface {
            Surface::Bent(tube) => tube.radius,
            Surface::Straight(outline) => outline
                .stretches()
                .iter()
                .map(|stretch| stretch.crest())
                .fold(0.0, f64::max),
        };
        Length::from_mm(up)
    }

    /// Sine and cosine of [`Self::angle`]; the cosine of a right angle is exactly 0.
    #[must_use]
    pub fn sin_cos(&self) -> (f64, f64) {
        let (sin, cos) = self.angle.rad().sin_cos();
        if cos.abs() < SQUARE_COSINE {
            (1.0, 0.0)
        } else {
            (sin, cos)
        }
    }

    /// Where the generator through (`x`, `y`), coming down the branch, first meets the main;
    /// `None` where it passes beside.
    #[must_use]
    pub fn first_hit(&self, x: Length, y: Length) -> Option<Length> {
        let (turn_sin, turn_cos) = self.turn.rad().sin_cos();
        let (x, y) = (x.mm(), y.mm());
        let (x, y) = (x * turn_cos + y * turn_sin, y * turn_cos - x * turn_sin);
        let (sin, cos) = self.sin_cos();
        let side = y - self.offset.mm();
        let hit = match &self.surface {
            Surface::Straight(outline) => (x * cos + outline.height(side)?) / sin,
            Surface::Bent(tube) => {
                let from = [x * sin, side, -x * cos];
                tube.first_hit(from, [cos, 0.0, sin])?.0
            }
        };
        Some(Length::from_mm(hit) + self.shift)
    }

    /// A place of the branch's frame in the main's own: along, side, up, mm.
    #[must_use]
    pub fn in_own_frame(&self, [x, y, z]: [f64; 3]) -> [f64; 3] {
        let (turn_sin, turn_cos) = self.turn.rad().sin_cos();
        let (x, y) = (x * turn_cos + y * turn_sin, y * turn_cos - x * turn_sin);
        let z = z - self.shift.mm();
        let (sin, cos) = self.sin_cos();
        [x * sin + z * cos, y - self.offset.mm(), z * sin - x * cos]
    }

    /// A place (along, side, up) of the main's own frame in the branch's, mm.
    #[must_use]
    pub fn in_branch_frame(&self, [along, side, up]: [f64; 3]) -> [f64; 3] {
        let (sin, cos) = self.sin_cos();
        let (x, y) = (along * sin - up * cos, side + self.offset.mm());
        let z = along * cos + up * sin + self.shift.mm();
        let (turn_sin, turn_cos) = self.turn.rad().sin_cos();
        [x * turn_cos - y * turn_sin, x * turn_sin + y * turn_cos, z]
    }
}

fn radius_of(diameter: Length) -> Result<Length, JointError> {
    if DIAMETER.holds(diameter) {
        Ok(diameter / 2.0)
    } else {
        Err(JointError::Size {
            of: Dimension::Main,
            is: diameter,
            range: DIAMETER,
        })
    }
}

fn surface(shape: &Shape, gap: Length) -> Surface {
    match shape {
        Shape::Round { radius } => Surface::Straight(Outline::round((*radius + gap).mm())),
        Shape::Plate | Shape::Mitre { .. } => Surface::Straight(Outline::plate(gap.mm())),
        Shape::Rectangular(section) => Surface::Straight(Outline::rectangular(&section.grown(gap))),
        Shape::Bent { radius, bend } => Surface::Bent(BentTube::new(*radius + gap, bend)),
    }
}
