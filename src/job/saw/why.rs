//! Why an end is cut the way it is advised, each with its number.

use crate::job::MainKind;
use crate::units::{Angle, Length, Unit, write_angle, write_length, write_small};

/// A reason for a way of cutting, or against one.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// A plane is cut with a straight saw.
    Plane {
        /// What it is.
        kind: MainKind,
        /// Whether a straight saw can make it here; why not is told after it.
        sawn: bool,
    },
    /// A plane so far off square that few saws swing there; common practice, no source.
    SteepPlane {
        /// How far.
        off_square: Angle,
        /// How far most saws swing.
        most: Angle,
    },
    /// The main is no straight round tube.
    Shape {
        /// What it is.
        kind: MainKind,
    },
    /// The end sits on several mains.
    Several {
        /// How many.
        count: usize,
    },
    /// Too far off square for a hole saw; common practice, no source.
    Hopeless {
        /// How far.
        off_square: Angle,
    },
    /// So far off square that the bulk comes off first; common practice, no source.
    Aggressive {
        /// How far.
        off_square: Angle,
    },
    /// The machine does not swing that far.
    Swing {
        /// How far off square it must.
        off_square: Angle,
        /// How far it does.
        most: Angle,
    },
    /// The clamp would hold on a bend.
    Bend {
        /// Which bend, counted from 0.
        bend: usize,
        /// Straight that is missing.
        missing: Length,
    },
    /// The tube is shorter than the clamp needs.
    Short {
        /// By how much.
        missing: Length,
    },
    /// No saw is named, or none whose diameter can be read.
    NoSaws {
        /// Diameter that the joint wants.
        wanted: Length,
    },
    /// No saw comes near enough in diameter, or leaves little enough.
    Diameter {
        /// Diameter that the joint wants.
        wanted: Length,
        /// Name of the one that leaves least.
        name: String,
        /// How much larger it is; below 0 smaller.
        larger: Length,
        /// The difference that is still a match.
        most: Length,
        /// The gap that it leaves.
        gap: Option<Length>,
        /// Whether that can be filled.
        filled: bool,
    },
    /// The branch only grazes the main.
    Sliver {
        /// How much of its edge lands.
        lands: Angle,
    },
    /// Hole saws are not usually made so large or so small.
    NoSuchSaw {
        /// Diameter that the joint wants.
        wanted: Length,
        /// The largest or smallest usual one.
        end: Length,
    },
    /// A saw does not last for all pieces.
    Worn {
        /// Its name.
        name: String,
        /// Cuts it has left.
        left: u32,
        /// Cuts that are needed.
        needed: u32,
        /// Name of the saw that is taken in its place; `None` where it is taken all the same.
        taken: Option<String>,
    },
    /// Saws of the right diameter are too shallow.
    Shallow {
        /// Name of the deepest.
        name: String,
        /// How deep it is.
        has: Length,
        /// How deep it must be.
        needs: Length,
        /// In how many bites it would go through.
        bites: u32,
    },
    /// The saw passes beside the tube.
    Beside {
        /// Its name.
        name: String,
        /// How far off.
        by: Length,
    },
    /// The saw is deep enough.
    Enough {
        /// How deep it is.
        has: Length,
        /// How deep it must be.
        needs: Length,
    },
    /// Nobody said how deep the saw is.
    Unknown {
        /// How deep it must be.
        needs: Length,
    },
    /// It is deep enough after a straight cut.
    After {
        /// How deep it is.
        has: Length,
        /// How deep it must be for the square blank.
        needs: Length,
    },
    /// The line alone is longer than the saw is deep.
    Bites {
        /// How deep it is.
        has: Length,
        /// How deep it must be.
        needs: Length,
        /// In how many bites.
        bites: u32,
    },
    /// The template's line is that of another way of cutting.
    Line {
        /// How much farther out the saw's long point is than the line's; `None` where the line is the
        /// saw's and should not be.
        longer: Option<Length>,
    },
}

impl Why {
    /// The reason in words, with its numbers in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        let length = |length: Length| write_length(length, unit);
        match self {
            Self::Plane { kind, sawn } => format!(
                "The cut for a {} is a plane: {}.",
                kind.name(),
                if *sawn {
                    "a straight saw makes it in one go"
                } else {
                    "a straight saw’s cut, but not here"
                }
            ),
            Self::SteepPlane { off_square, most } => format!(
                "{} off square is more than the {} that most saws swing, {} more (common \
                 practice): cut it with the grinder along the line.",
                write_angle(*off_square),
                write_angle(*most),
                write_angle(*off_square - *most)
            ),
            Self::Shape { kind } => format!(
                "A hole saw cuts a straight round saddle, which does not fit a {}.",
                kind.name()
            ),
            Self::Several { count } => format!(
                "The end sits on {count} mains; one hole saw cuts one saddle, and where two meet it \
                 would cut into the other."
            ),
            Self::Hopeless { off_square } => format!(
                "{} off square is too steep for a hole saw: close to 70° the grinder takes over \
                 (common practice).",
                write_angle(*off_square)
            ),
            Self::Aggressive { off_square } => format!(
                "{} off square is an aggressive hole-saw cut: from about 50° the bulk comes off \
                 first (common practice).",
                write_angle(*off_square)
            ),
            Self::Swing { off_square, most } => format!(
                "The machine swings to {} off square; {} is wanted, {} more.",
                write_angle(*most),
                write_angle(*off_square),
                write_angle(*off_square - *most)
            ),
            Self::Bend { bend, missing } => format!(
                "The clamp would hold on bend {}: {} of straight is missing. Cope before bending, \
                 lengthen the straight by that much, or grind.",
                bend + 1,
                length(*missing)
            ),
            Self::Short { missing } => format!(
                "The tube is {} too short for the clamp. Cut this end on a longer blank, with that \
                 much grip stock at the other end, or grind.",
                length(*missing)
            ),
            Self::NoSaws { wanted } => format!(
                "No saw with a diameter is named. One of {} is wanted; name yours with its diameter \
                 and depth to have it checked.",
                length(*wanted)
            ),
            Self::Diameter {
                wanted,
                name,
                larger,
                most,
                gap,
                filled,
            } => format!(
                "No saw at hand is within {} of the {} that is wanted: the best of them, {name}, is {} \
                 too {}.{} Get one nearer, {}or grind to the line.",
                length(*most),
                length(*wanted),
                length(larger.abs()),
                if *larger > Length::ZERO {
                    "large"
                } else {
                    "small"
                },
                gap.map_or_else(String::new, |gap| format!(
                    " It leaves a gap of up to {}.",
                    write_small(gap, unit)
                )),
                if *filled {
                    "take it and fill that, "
                } else {
                    ""
                }
            ),
            Self::Sliver { lands } => format!(
                "Only {} of the tube’s edge lands on the main: a hole saw has little to bite on \
                 and runs off. Grind to the line.",
                write_angle(Angle::from_deg(lands.deg().round()))
            ),
            Self::NoSuchSaw { wanted, end } => format!(
                "A hole saw of {} would be needed; the usual ones {} at {} (from memory), {} {}. \
                 Grind to the line.",
                length(*wanted),
                if wanted > end { "end" } else { "begin" },
                length(*end),
                length((*wanted - *end).abs()),
                if wanted > end { "less" } else { "more" }
            ),
            Self::Worn {
                name,
                left,
                needed,
                taken,
            } => format!(
                "{name} has {left} cut{} left and {needed} {} needed: {}.",
                if *left == 1 { "" } else { "s" },
                if *needed == 1 { "is" } else { "are" },
                taken.as_ref().map_or_else(
                    || String::from("have a new one ready"),
                    |taken| format!("take {taken}, or have a new one ready")
                )
            ),
            Self::Shallow {
                name,
                has,
                needs,
                bites,
            } => format!(
                "{name} is {} deep and {} is needed, {} more. No straight cut that spares the line \
                 makes it enough, and {bites} bites are too many.",
                length(*has),
                length(*needs),
                length(*needs - *has)
            ),
            Self::Beside { name, by } => format!(
                "{name} does not reach the tube: at this offset it passes {} beside it.",
                length(*by)
            ),
            Self::Enough { has, needs } => format!(
                "The saw is {} deep and {} is needed: {} left.",
                length(*has),
                length(*needs),
                length(*has - *needs)
            ),
            Self::Unknown { needs } => format!(
                "A saw {} deep is needed; measure yours from the teeth to the inside of its back.",
                length(*needs)
            ),
            Self::After { has, needs } => format!(
                "The saw is {} deep and the square blank needs {}: {} too short without a straight \
                 cut before.",
                length(*has),
                length(*needs),
                length(*needs - *has)
            ),
            Self::Bites { has, needs, bites } => format!(
                "The saw is {} deep and {} is needed, and no straight cut that spares the line \
                 makes it enough. Go in {bites} bites: stop before its back touches, take the loose \
                 strip out, go on (common practice).",
                length(*has),
                length(*needs)
            ),
            Self::Line {
                longer: Some(longer),
            } => {
                let longer = if *longer < unit.shown_step() / 2.0 {
                    String::new()
                } else {
                    format!(", and its blank is {} longer here", length(*longer))
                };
                format!(
                    "The printed line and the predicted fit are not the saw’s{longer}. Choose the line \
                     of a hole saw along the main to have all of it for the saw."
                )
            }
            Self::Line { longer: None } => String::from(
                "The printed line and the predicted fit are those of a cut that follows the main. \
                 Ground square to the wall along that line, the wall’s inside may hold the tube \
                 off: choose the grinder’s line to have both for the grinder.",
            ),
        }
    }
}
