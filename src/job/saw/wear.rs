//! The list of saws over time: sizes to begin with, cuts counted, what the job wears out.

use crate::job::SawTyped;
use crate::job::shop::{Cut, Saw};
use crate::stock::hole_saws;
use crate::units::{Unit, write_bare};

use super::tools::{OwnSaw, Tools};

/// The common sizes as lines of the list, in the job's unit: diameter alone, for depth differs from
/// maker to maker.
#[must_use]
pub fn offered_saws(unit: Unit) -> Vec<SawTyped> {
    let line = |diameter| SawTyped {
        diameter: write_bare(diameter, unit),
        ..SawTyped::default()
    };
    hole_saws().iter().map(|saw| line(saw.diameter)).collect()
}

/// The same saw with more cuts made; `None` where its count cannot be read, which must not be lost.
#[must_use]
pub fn cuts_added(saw: &SawTyped, made: u32) -> Option<SawTyped> {
    let typed = saw.cuts.trim();
    let before = if typed.is_empty() {
        0
    } else {
        typed.parse::<u32>().ok()?
    };
    Some(SawTyped {
        cuts: before.saturating_add(made).to_string(),
        ..saw.clone()
    })
}

/// Every saw that has fewer cuts left than all cuts of a job take, in words. Of several saws of one
/// diameter the cuts are those of all of them together.
#[must_use]
pub fn wear_in_words(cuts: &[Cut], tools: &Tools) -> Vec<String> {
    let taken = |saw: &OwnSaw| {
        let counts = cuts
            .iter()
            .filter(|cut| cut.saw == Saw::Hole(saw.diameter))
            .map(|cut| cut.count);
        counts.fold(0, usize::saturating_add)
    };
    let alike = |saw: &OwnSaw| -> Vec<&OwnSaw> {
        let saws = tools.saws.iter();
        saws.filter(|other| other.diameter == saw.diameter)
            .collect()
    };
    let mut said = Vec::new();
    for saw in &tools.saws {
        let alike = alike(saw);
        let first = alike.first().is_some_and(|first| first.place == saw.place);
        // One that lasts nobody knows how long may last for all.
        let left: Option<Vec<u32>> = alike.iter().map(|saw| saw.cuts_left()).collect();
        let lives = alike.iter().filter_map(|saw| saw.life);
        let life = lives.fold(0, u32::saturating_add);
        let Some(left) = left.filter(|_| first) else {
            continue;
        };
        let left = left.into_iter().fold(0, u32::saturating_add);
        let taken = taken(saw);
        if usize::try_from(left).is_ok_and(|left| left < taken) {
            let names: Vec<&str> = alike.iter().map(|saw| saw.name.as_str()).collect();
            let (has, its, new) = if names.len() > 1 {
                ("have", "their", "new ones")
            } else {
                ("has", "its", "a new one")
            };
            said.push(format!(
                "{} {has} {left} of {its} {life} cuts left and this job takes {taken}: have {new} \
                 ready.",
                names.join(" and ")
            ));
        }
    }
    said
}
