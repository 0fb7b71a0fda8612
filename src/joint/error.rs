//! Why a joint is refused, in words: what is wrong, by how much, and what to do.

use crate::joint::limits::{ANGLE_MIN, DIAMETER, GAP_MAX, WALL_MIN};
use crate::units::{Angle, Length, Unit, write_angle, write_length};

/// The dimension that a refusal is about, so that the page can put the sentence beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// Outside diameter of the branch.
    Branch,
    /// Wall thickness of the branch.
    Wall,
    /// Outside diameter of the main.
    Main,
    /// Included angle between the axes.
    Angle,
    /// Distance between the axes.
    Offset,
    /// Root gap.
    Gap,
}

/// A joint that cannot be cut as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JointError {
    /// A diameter outside the range taken.
    Diameter {
        /// Branch or main.
        of: Dimension,
        /// What was asked for.
        is: Length,
    },
    /// A wall that leaves no bore, or next to no metal.
    Wall {
        /// What was asked for.
        is: Length,
        /// Outside diameter of the branch.
        outside: Length,
    },
    /// An included angle outside 5–90°.
    Angle {
        /// What was asked for.
        is: Angle,
    },
    /// A root gap that is negative or too wide.
    Gap {
        /// What was asked for.
        is: Length,
    },
    /// The branch passes beside the main.
    Misses {
        /// What was asked for.
        offset: Length,
        /// Sum of the radii: from here on nothing touches.
        reach: Length,
    },
    /// The outside of the branch touches the main but its bore does not.
    BoreMisses {
        /// What was asked for.
        offset: Length,
        /// Radius of the main and the bore together: from here on the bore passes beside it.
        reach: Length,
    },
}

impl JointError {
    /// The dimension at fault.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        match self {
            Self::Diameter { of, .. } => *of,
            Self::Wall { .. } => Dimension::Wall,
            Self::Angle { .. } => Dimension::Angle,
            Self::Gap { .. } => Dimension::Gap,
            Self::Misses { .. } | Self::BoreMisses { .. } => Dimension::Offset,
        }
    }

    /// The refusal as one or two sentences, lengths in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match *self {
            Self::Diameter { of, is } => {
                let name = if of == Dimension::Main {
                    "main"
                } else {
                    "branch"
                };
                format!(
                    "A {name} diameter of {} is outside {} to {}. Check the number and its unit.",
                    length(is),
                    length(DIAMETER.min),
                    length(DIAMETER.max)
                )
            }
            Self::Wall { is, outside } if is < WALL_MIN => format!(
                "A wall of {} is too thin to be a tube of {}. Type at least {}.",
                length(is),
                length(outside),
                length(WALL_MIN)
            ),
            Self::Wall { is, outside } => format!(
                "A wall of {} leaves no bore in a tube of {}. It must be under {}, half the \
                 diameter.",
                length(is),
                length(outside),
                length(outside / 2.0)
            ),
            Self::Angle { is }
                if is.rad() > Angle::QUARTER.rad() && is.rad() < Angle::HALF.rad() =>
            {
                let other = Angle::HALF - is;
                format!(
                    "The included angle is the smaller one, 90° at most. Instead of {} type {} \
                     and turn the tube so that the heel lies on the other side.",
                    write_angle(is),
                    write_angle(other)
                )
            }
            Self::Angle { is } if is.rad() >= 0.0 && is < ANGLE_MIN => format!(
                "At {} the tubes lie nearly side by side and the cut would be over 23 times as \
                 long as the tube is thick. The smallest angle computed is {}.",
                write_angle(is),
                write_angle(ANGLE_MIN)
            ),
            Self::Angle { is } => format!(
                "An angle of {} cannot be right. Type the included angle of the two tubes, {} to 90°.",
                write_angle(is),
                write_angle(ANGLE_MIN)
            ),
            Self::Gap { is } if is.mm() < 0.0 => format!(
                "A root gap of {} would push the branch into the main. Type 0 for a tight fit.",
                length(is)
            ),
            Self::Gap { is } => format!(
                "A root gap of {} is wider than any weld bridges. The widest taken is {}.",
                length(is),
                length(GAP_MAX)
            ),
            Self::Misses { offset, reach } => format!(
                "With an offset of {} the branch passes beside the main with {} to spare. Anything \
                 under {} touches.",
                length(offset),
                length(offset.abs() - reach),
                length(reach)
            ),
            Self::BoreMisses { offset, reach } => format!(
                "With an offset of {} the bore edge passes beside the main with {} to spare. Stay \
                 under {}, or choose another way of cutting.",
                length(offset),
                length(offset.abs() - reach),
                length(reach)
            ),
        }
    }
}
