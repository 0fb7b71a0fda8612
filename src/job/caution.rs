//! What the user should know before cutting, each with its number.

use crate::cope::{BesideArc, CutMethod};
use crate::job::MainKind;
use crate::joint::{ANGLE_CAUTION, Joint, Shape};
use crate::piece::{GIRTH_DOUBT, Template, Wrap};
use crate::units::{Angle, Length, Unit, write_angle, write_fixed, write_length};

/// Off square beyond which a hole saw grabs; common practice, no source.
pub(super) const SAW_AGGRESSIVE: Angle = Angle::from_deg(50.0);
/// Off square beyond which the grinder takes over; common practice, no source.
pub(super) const SAW_HOPELESS: Angle = Angle::from_deg(70.0);

/// Radii closer than this are the same tube, and a smaller step is none to speak of.
const SAME: Length = Length::from_mm(0.005);
/// Heights at one turn further apart than this are a step worth a word.
const STEP: Length = Length::from_mm(0.05);

/// Geometry only: who answers for the joint. Wording ours, usual practice.
pub const RESPONSIBILITY: &str = "Geometry only. Joints that carry people, lifting loads, vehicle \
    roll-over loads or pressure must be designed, welded and inspected to the code or rule book \
    that applies where you are, by a qualified person.";

/// Something to know before cutting.
#[derive(Debug, Clone, PartialEq)]
pub enum Caution {
    /// The included angle is below ordinary practice.
    Sharp {
        /// Which main, counted from 0, where there are several.
        main: Option<usize>,
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
    /// The cut sits on others and never touches this main.
    Untouched {
        /// Which main, counted from 0.
        main: usize,
        /// What it is.
        kind: MainKind,
    },
    /// Two tubes of unequal diameter in a mitre.
    Overlap {
        /// Whether the branch is the larger one.
        branch: bool,
        /// By how much the larger cut face reaches past the other at heel and toe.
        heel: Length,
        /// By how much at the sides.
        side: Length,
    },
    /// The cut jumps from one main to another.
    Step {
        /// Turn from the zero line.
        turn: Angle,
        /// The two mains, counted from 0, in the order of growing turns.
        mains: [usize; 2],
        /// Height of the jump.
        by: Length,
    },
    /// A hole saw for a main that is no straight round tube.
    SawShape {
        /// What it is.
        kind: MainKind,
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
    let several = joint.mains().count() > 1;
    for (number, main) in joint.mains().enumerate() {
        let angle = main.included_angle();
        if angle < ANGLE_CAUTION {
            let main = several.then_some(number);
            found.push(Caution::Sharp { main, angle });
        }
        if let Shape::Mitre { radius } = main.shape() {
            found.extend(overlap(
                joint.branch().outside_radius(),
                *radius,
                main.sin_cos().0,
            ));
        }
        if several && !cope.sits_on(number) {
            found.push(Caution::Untouched {
                main: number,
                kind: MainKind::of(main.shape()),
            });
        }
    }
    if cope.method() == CutMethod::Saw {
        found.extend(about_saw(joint));
    }
    for ridge in cope.ridges() {
        let by = (ridge.to - ridge.from).abs();
        if by > STEP {
            found.push(Caution::Step {
                turn: (ridge.turn + template.heel_turn()).within_turn(),
                mains: [ridge.before, ridge.after],
                by,
            });
        }
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

/// The overlap of a mitre between tubes of unequal outside radius, cut on a plane whose angle to
/// both has the sine `sin`: the ends are ellipses with the half axes r / sin and r.
fn overlap(branch: Length, other: Length, sin: f64) -> Option<Caution> {
    let side = (branch - other).abs();
    (side > SAME).then(|| Caution::Overlap {
        branch: branch > other,
        heel: side / sin,
        side,
    })
}

/// What a hole saw cannot do here. A plane is cut with a straight saw, at any angle.
fn about_saw(joint: &Joint) -> Option<Caution> {
    let main = joint.main();
    match MainKind::of(main.shape()) {
        MainKind::Plate | MainKind::Mitre => None,
        kind @ (MainKind::Rectangular | MainKind::Bent) => Some(Caution::SawShape { kind }),
        MainKind::Round => {
            let off_square = joint.off_square();
            (off_square >= SAW_AGGRESSIVE).then_some(Caution::SawSteep { off_square })
        }
    }
}

impl Caution {
    /// The caution in words, with its numbers in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        match self {
            Self::Untouched { main, kind } => format!(
                "The cut never touches main {} ({}): the others keep the branch off it. Check its \
                 angle, its turn from main 1 and where it stands along the branch, or take it away.",
                main + 1,
                kind.name()
            ),
            Self::Overlap { branch, heel, side } => format!(
                "The two tubes of the mitre are not the same size: the cut end of the {}, the larger one, \
                 stands out past the other by {} at heel and toe and {} at the sides. Weld that \
                 step all round, or bring the ends to one size first.",
                if *branch { "branch" } else { "other tube" },
                write_length(*heel, unit),
                write_length(*side, unit)
            ),
            Self::Step {
                turn,
                mains: [before, after],
                by,
            } => format!(
                "At turn {} the cut steps by {} from main {} to main {}. Cut the step as drawn; \
                 it is not a slip of the line.",
                write_angle(*turn),
                write_length(*by, unit),
                before + 1,
                after + 1
            ),
            Self::SawShape { kind } => format!(
                "A hole saw cuts a straight round saddle, which does not fit a {}. Grind to the \
                 line instead.",
                kind.name()
            ),
            Self::Sharp { main, angle } => format!(
                "{}{} is sharper than the 30° of ordinary practice (AWS D1.1). The heel is hard to \
                 reach with a torch; have the joint designed.",
                main.map_or_else(String::new, |main| format!("Main {}: ", main + 1)),
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
