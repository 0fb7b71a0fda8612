//! What is typed about saws and machine, read.

use crate::cope::fit::Limits;
use crate::job::fit::read_limits;
use crate::job::{AtHand, SawTyped};
use crate::joint::DIAMETER_MAX;
use crate::stock::{MATERIALS, Material};
use crate::units::{Angle, Length, Unit, read_angle, read_length, write_angle, write_length};

use super::plan::PRE_CUT_CLEARANCE;

/// Most cuts counted.
const CUTS_MAX: u32 = 1_000_000;
/// Widest clearance of a pre-cut that is taken.
const CLEARANCE_MAX: Length = Length::from_mm(100.0);
/// Room between an arbor and the outside of its saw's teeth: a saw's wall alone is about that
/// thick, from memory; our own judgement.
const WALL_LEAST: Length = Length::from_mm(1.0);

/// A number typed about a saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SawField {
    /// Diameter over the teeth.
    Diameter,
    /// Usable depth.
    Depth,
    /// Diameter of the arbor or pilot.
    Arbor,
    /// Cuts made.
    Cuts,
    /// Cuts it is expected to last.
    Life,
}

impl SawField {
    /// The field in words, to stand after “the”.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Diameter => "diameter over the teeth",
            Self::Depth => "usable depth",
            Self::Arbor => "diameter of the arbor",
            Self::Cuts => "count of cuts",
            Self::Life => "expected life in cuts",
        }
    }
}

/// A text typed about what is at hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ToolField {
    /// A number of the saw of that place in the list, counted from 0.
    Saw(usize, SawField),
    /// Largest angle off square of the machine.
    AngleMax,
    /// Straight tube that its clamp needs.
    Clamp,
    /// Room behind the clamp.
    Behind,
    /// Material of the tube.
    Material,
    /// Distance of the pre-cut from the line.
    Clearance,
}

/// Why a text cannot be used, in one or two sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToolProblem {
    /// The field at fault.
    pub field: ToolField,
    /// What is wrong, by how much, and what to do; names the saw and the field.
    pub sentence: String,
}

/// A saw that can be used.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnSaw {
    /// Its place in the list as typed, counted from 0.
    pub place: usize,
    /// What the user calls it, or its place: `saw 2`.
    pub name: String,
    /// Diameter over the teeth.
    pub diameter: Length,
    /// How deep it can cut; `None` where nothing is typed.
    pub depth: Option<Length>,
    /// Diameter of its arbor or pilot.
    pub arbor: Option<Length>,
    /// Cuts made so far.
    pub cuts: u32,
    /// Cuts it is expected to last.
    pub life: Option<u32>,
}

impl OwnSaw {
    /// Cuts it has left, none less than none; `None` where nobody knows.
    #[must_use]
    pub fn cuts_left(&self) -> Option<u32> {
        self.life.map(|life| life.saturating_sub(self.cuts))
    }
}

/// What the machine cannot do.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Machine {
    /// Largest angle off square.
    pub angle_max: Option<Angle>,
    /// Straight tube that its clamp needs.
    pub clamp: Option<Length>,
    /// Room behind the clamp.
    pub behind: Option<Length>,
}

/// Saws, machine and material, as far as they could be read.
#[derive(Debug, Clone, PartialEq)]
pub struct Tools {
    /// Saws with a diameter, in the order typed.
    pub saws: Vec<OwnSaw>,
    /// The machine.
    pub machine: Machine,
    /// What the tube is made of.
    pub material: &'static Material,
    /// Which gaps count as tight, and which can be filled.
    pub limits: Limits,
}

/// Reads saws, machine and material. A line of the list with nothing in it is no saw; what cannot be
/// read counts as not typed, and a saw without a diameter is left out.
#[must_use]
pub fn read_tools(at_hand: &AtHand, unit: Unit) -> (Tools, Vec<ToolProblem>) {
    let mut reading = Reading {
        unit,
        problems: Vec::new(),
    };
    let saws = at_hand.saws.iter().enumerate();
    let saws = saws
        .filter(|(_, saw)| !is_empty(saw))
        .filter_map(|(place, saw)| reading.saw(place, saw))
        .collect();
    let typed = &at_hand.machine;
    let machine = Machine {
        angle_max: reading.angle_max(&typed.angle_max),
        clamp: reading.machine_length(ToolField::Clamp, &typed.clamp, "clamp length"),
        behind: reading.machine_length(ToolField::Behind, &typed.behind, "room behind the clamp"),
    };
    let material = reading.material(&at_hand.material);
    let tools = Tools {
        saws,
        machine,
        material,
        limits: read_limits(&at_hand.fit, unit),
    };
    (tools, reading.problems)
}

/// Reads how far the pre-cut stays from the line; nothing typed is [`PRE_CUT_CLEARANCE`].
///
/// # Errors
/// What is no length, below 0 or above 100 mm.
pub fn read_clearance(text: &str, unit: Unit) -> Result<Length, ToolProblem> {
    let refused = |sentence: String| ToolProblem {
        field: ToolField::Clearance,
        sentence,
    };
    if text.trim().is_empty() {
        return Ok(PRE_CUT_CLEARANCE);
    }
    let clearance = read_length(text, unit)
        .map_err(|error| refused(format!("Clearance of the pre-cut: {error}.")))?;
    if clearance >= Length::ZERO && clearance <= CLEARANCE_MAX {
        return Ok(clearance);
    }
    Err(refused(format!(
        "Clearance of the pre-cut: {} is not between 0 and {}. Type how far the straight cut is to \
         stay from the line; {} is usual.",
        write_length(clearance, unit),
        write_length(CLEARANCE_MAX, unit),
        write_length(PRE_CUT_CLEARANCE, unit)
    )))
}

fn is_empty(saw: &SawTyped) -> bool {
    [
        &saw.name,
        &saw.diameter,
        &saw.depth,
        &saw.arbor,
        &saw.cuts,
        &saw.life,
    ]
    .into_iter()
    .all(|text| text.trim().is_empty())
}

struct Reading {
    unit: Unit,
    problems: Vec<ToolProblem>,
}

impl Reading {
    fn refuse(&mut self, field: ToolField, sentence: String) {
        self.problems.push(ToolProblem { field, sentence });
    }

    fn saw(&mut self, place: usize, typed: &SawTyped) -> Option<OwnSaw> {
        let own = typed.name.trim();
        let number = place + 1;
        let (name, called) = if own.is_empty() {
            (format!("saw {number}"), format!("Saw {number}"))
        } else {
            (own.to_owned(), format!("Saw {number} (“{own}”)"))
        };
        let mut of = |field: SawField, text: &str| self.saw_length(place, &called, field, text);
        let diameter = of(SawField::Diameter, &typed.diameter);
        let depth = of(SawField::Depth, &typed.depth);
        let arbor = of(SawField::Arbor, &typed.arbor);
        let cuts = self.count(place, &called, SawField::Cuts, &typed.cuts);
        let life = self.count(place, &called, SawField::Life, &typed.life);
        let Some(diameter) = diameter else {
            if typed.diameter.trim().is_empty() {
                let sentence = format!(
                    "{called} has no diameter, so it is left out. Measure it over the teeth, at \
                     three places, and type the largest."
                );
                self.refuse(ToolField::Saw(place, SawField::Diameter), sentence);
            }
            return None;
        };
        let arbor = arbor.filter(|arbor| {
            let room = (diameter - *arbor) / 2.0;
            let fits = room >= WALL_LEAST;
            if !fits {
                let length = |length| write_length(length, self.unit);
                let why = if room > Length::ZERO {
                    format!(
                        ": only {} is left all round for wall and teeth, {} too little",
                        length(room),
                        length(WALL_LEAST - room)
                    )
                } else {
                    String::new()
                };
                let sentence = format!(
                    "{called}: an arbor of {} does not go into a saw of {}{why}. Type the diameter \
                     of the arbor or pilot inside the saw, or leave this empty.",
                    length(*arbor),
                    length(diameter)
                );
                self.refuse(ToolField::Saw(place, SawField::Arbor), sentence);
            }
            fits
        });
        Some(OwnSaw {
            place,
            name,
            diameter,
            depth,
            arbor,
            cuts: cuts.unwrap_or_default(),
            life,
        })
    }

    /// A length of a saw; nothing typed is none.
    fn saw_length(
        &mut self,
        place: usize,
        called: &str,
        field: SawField,
        text: &str,
    ) -> Option<Length> {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let sentence = match read_length(text, self.unit) {
            Ok(length) if length > Length::ZERO && length <= DIAMETER_MAX => return Some(length),
            Ok(length) => format!(
                "{called}: a {} of {} cannot be. Type more than 0 and at most {}.",
                field.words(),
                write_length(length, self.unit),
                write_length(DIAMETER_MAX, self.unit)
            ),
            Err(error) => format!("{called}, {}: {error}.", field.words()),
        };
        self.refuse(ToolField::Saw(place, field), sentence);
        None
    }

    fn count(&mut self, place: usize, called: &str, field: SawField, text: &str) -> Option<u32> {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let least = u32::from(field == SawField::Life);
        let count = text.parse::<u32>().ok();
        let count = count.filter(|count| (least..=CUTS_MAX).contains(count));
        if count.is_none() {
            let sentence = format!(
                "{called}: “{text}” is no {}. Type a whole number from {least} to 1000000, or leave \
                 this empty.",
                field.words()
            );
            self.refuse(ToolField::Saw(place, field), sentence);
        }
        count
    }

    fn angle_max(&mut self, text: &str) -> Option<Angle> {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let sentence = match read_angle(text) {
            Ok(angle) if angle >= Angle::ZERO && angle <= Angle::QUARTER => return Some(angle),
            Ok(angle) => format!(
                "Machine, largest angle: {} off square cannot be. Type what its scale shows at the \
                 stop, 0 to 90°; square is 0.",
                write_angle(angle)
            ),
            Err(error) => format!("Machine, largest angle: {error}."),
        };
        self.refuse(ToolField::AngleMax, sentence);
        None
    }

    fn machine_length(&mut self, field: ToolField, text: &str, words: &str) -> Option<Length> {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let sentence = match read_length(text, self.unit) {
            Ok(length) if length >= Length::ZERO => return Some(length),
            Ok(length) => format!(
                "Machine, {words}: {} is less than nothing. Type 0 or more, or leave this empty.",
                write_length(length, self.unit)
            ),
            Err(error) => format!("Machine, {words}: {error}."),
        };
        self.refuse(field, sentence);
        None
    }

    fn material(&mut self, text: &str) -> &'static Material {
        let text = text.trim();
        let [steel, ..] = &MATERIALS;
        if text.is_empty() {
            return steel;
        }
        let known = MATERIALS
            .iter()
            .find(|material| material.name.eq_ignore_ascii_case(text));
        known.unwrap_or_else(|| {
            let names: Vec<&str> = MATERIALS.iter().map(|material| material.name).collect();
            let sentence = format!(
                "“{text}” is no material known here, so steel is taken. Choose one of: {}.",
                names.join(", ")
            );
            self.refuse(ToolField::Material, sentence);
            steel
        })
    }
}
