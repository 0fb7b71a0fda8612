//! What can hurt someone at the saw, said where it matters. Usual workshop practice unless a source
//! is named; local codes and the machine's own manual come first.

use crate::job::caution::{RESPONSIBILITY, SAW_AGGRESSIVE};
use crate::units::{Angle, Unit, write_angle, write_length};

use super::plan::{EndPlan, Method};

/// Something to mind before a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SawCaution {
    /// A saw on a spindle: guards, eyes, ears, nothing loose.
    Spindle,
    /// The work must not move.
    Clamp,
    /// A steep cut grabs.
    Grab {
        /// How far off square.
        off_square: Angle,
    },
    /// The pilot would touch the tube at a slant.
    Pilot,
    /// An angle grinder.
    Grinder,
    /// Ears are ground off.
    Ears,
    /// Zinc and paint.
    Coating,
    /// What is cut is sharp and hot.
    Edges,
    /// Who answers for the joint.
    Codes,
}

impl SawCaution {
    /// The cautions of a plan, the most urgent first.
    #[must_use]
    pub fn of(plan: &EndPlan) -> Vec<Self> {
        let off_square = plan.off_square;
        let spindle = plan.method != Method::Grinder;
        let straight = plan.method == Method::StraightSaw;
        let before = plan.method == Method::SawAfterPreCut;
        let slant = off_square > Angle::ZERO;
        let met = plan
            .arbor_meets
            .is_some_and(|[square, after]| if before { after } else { square });
        [
            (spindle, Self::Spindle),
            (spindle, Self::Clamp),
            (
                spindle && !straight && off_square >= SAW_AGGRESSIVE,
                Self::Grab { off_square },
            ),
            (spindle && met && slant, Self::Pilot),
            (!spindle || before || plan.ears.is_some(), Self::Grinder),
            (plan.ears.is_some(), Self::Ears),
            (true, Self::Coating),
            (true, Self::Edges),
            (true, Self::Codes),
        ]
        .into_iter()
        .filter_map(|(applies, caution)| applies.then_some(caution))
        .collect()
    }

    /// The caution in words; `plan` is the one it is of.
    #[must_use]
    pub fn sentence(&self, plan: &EndPlan, unit: Unit) -> String {
        String::from(match self {
            Self::Spindle => {
                "Guards on, eye and hearing protection. No gloves, loose sleeves, cords or long hair \
                 near a turning spindle."
            }
            Self::Clamp => {
                "Clamp the tube so that it can neither turn nor creep: a saw grabs where it breaks \
                 through. Never hold it by hand."
            }
            Self::Grab { off_square } => {
                return format!(
                    "At {} off square the teeth meet the wall on one side first and grab. Slow \
                     speed, little pressure, hands behind the clamp.",
                    write_angle(*off_square)
                );
            }
            Self::Pilot => {
                let arbor = plan.chosen_saw().and_then(|own| own.saw.arbor);
                return format!(
                    "The arbor or pilot{} meets the wall at a slant and walks or snaps. Take the \
                     pilot out, or cut the bulk away first.",
                    arbor.map_or_else(String::new, |arbor| {
                        format!(", {},", write_length(arbor, unit))
                    })
                );
            }
            // 29 CFR 1910.243(c) and 1910.215, as quoted by a secondary source.
            Self::Grinder => {
                "Grinder: guard between you and the wheel, a wheel rated for the spindle’s speed, \
                 face shield and hearing protection, sparks away from people and anything that \
                 burns. A cutting disc that is twisted in its cut bursts."
            }
            Self::Ears => {
                "Grind the ears off; do not break them off by hand or with the saw running."
            }
            // 4 in: WAC 296-155-420, which mirrors 29 CFR 1926.354.
            Self::Coating => {
                "Zinc and paint make poisonous fumes when they are ground or welded. Strip the \
                 coating at least 4 in (100 mm) from the heat, keep your head out of the fumes, \
                 and keep the air moving away from you."
            }
            Self::Edges => {
                "Slug and cut edges are sharp and hot. Stop the spindle before you take the slug \
                 out, and deburr before you fit."
            }
            Self::Codes => RESPONSIBILITY,
        })
    }
}
