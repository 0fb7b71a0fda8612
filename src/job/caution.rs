//! What the user should know before cutting, each with its number.

use crate::cope::{BesideArc, CutMethod};
use crate::joint::ANGLE_CAUTION;
use crate::piece::{GIRTH_DOUBT, Template, Wrap};
use crate::units::{Angle, Length, Unit, write_angle, write_fixed, write_length};

/// Off square beyond which a hole saw grabs; common practice, no source.
const SAW_AGGRESSIVE: Angle = Angle::from_deg(50.0);
/// Off square beyond which the grinder takes over; common practice, no source.
const SAW_HOPELESS: Angle = Angle::from_deg(70.0);

/// Geometry only: who answers for the joint. Wording ours, usual practice.
pub const RESPONSIBILITY: &str = "Geometry only. Joints that carry people, lifting loads, vehicle \
    roll-over loads or pressure must be designed, welded and inspected to the code or rule book \
    that applies where you are, by a qualified person.";

/// Something to know before cutting.
#[derive(Debug, Clone, PartialEq)]
pub enum Caution {
    /// The included angle is below ordinary practice.
    Sharp {
        /// The included angle.
        angle: Angle,
    },
    /// Part of the branch passes beside the main.
    Beside {
        /// Which turns from the heel.
        arc: BesideArc,
        /// First turn from the zero line.
        from: Angle,
        /// Last turn from the zero line.
        to: Angle,
        /// Width on paper.
        width: Length,
    },
    /// The measured circumference disagrees with the diameter.
    Girth {
        /// Measured circumference.
        measured: Length,
        /// What the diameter makes.
        expected: Length,
    },
    /// A hole saw meets the tube at a steep angle.
    SawSteep {
        /// How far off square.
        off_square: Angle,
    },
}

/// The cautions of a template.
#[must_use]
pub fn about(template: &Template) -> Vec<Caution> {
    let cope = template.cope();
    let joint = cope.joint();
    let mut found = Vec::new();
    let angle = joint.main().angle();
    if angle < ANGLE_CAUTION {
        found.push(Caution::Sharp { angle });
    }
    if cope.method() == CutMethod::Saw && joint.off_square() >= SAW_AGGRESSIVE {
        found.push(Caution::SawSteep {
            off_square: joint.off_square(),
        });
    }
    for arc in cope.beside() {
        found.push(Caution::Beside {
            arc: *arc,
            from: (arc.from + template.heel_turn()).within_turn(),
            to: (arc.to + template.heel_turn()).within_turn(),
            width: template.wrap().around(arc.to - arc.from),
        });
    }
    if template.wrap().is_measured() {
        let (measured, expected) = (
            template.wrap().width(),
            Wrap::computed(joint.branch().outside(), Length::ZERO).width(),
        );
        if (measured / expected - 1.0).abs() > GIRTH_DOUBT {
            found.push(Caution::Girth { measured, expected });
        }
    }
    found
}

impl Caution {
    /// The caution in words, with its numbers in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        match self {
            Self::Sharp { angle } => format!(
                "{} is sharper than the 30° of ordinary practice (AWS D1.1). The heel is hard to \
                 reach with a torch; have the joint designed.",
                write_angle(*angle)
            ),
            Self::SawSteep { off_square } if *off_square >= SAW_HOPELESS => format!(
                "{} off square is too steep for a hole saw: it slides and grabs. Grind to the line \
                 instead (common practice).",
                write_angle(*off_square)
            ),
            Self::SawSteep { off_square } => format!(
                "{} off square is an aggressive hole-saw cut. Clamp well and cut the bulk away \
                 first (common practice).",
                write_angle(*off_square)
            ),
            Self::Beside {
                from, to, width, ..
            } => format!(
                "From turn {} to {} ({} of the paper) the branch passes beside the main and has \
                 nothing to sit on. The dashed line there only trims it level with the main’s axis.",
                write_angle(*from),
                write_angle(*to),
                write_length(*width, unit)
            ),
            Self::Girth { measured, expected } => format!(
                "The measured circumference {} is {} % off the {} that the diameter makes. The \
                 measured one is used; measure both again.",
                write_length(*measured, unit),
                write_fixed((*measured / *expected - 1.0).abs() * 100.0, 1),
                write_length(*expected, unit)
            ),
        }
    }
}
