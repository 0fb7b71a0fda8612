//! What to measure on a whole piece, as name and value.

use crate::job::form::PieceDraft;
use crate::piece::{Clash, Reading, Side};
use crate::stock::Material;
use crate::units::{Angle, Length, Unit, write_angle, write_bare, write_decimal, write_length};

/// A number with its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceFact {
    /// What it is.
    pub name: String,
    /// The number with its unit, and a remark where it needs one.
    pub value: String,
}

/// A distance as a tape shows it, with what is left over: `31 5/8 − 0.012 in`, `384.5 + 0.1 mm`.
#[must_use]
pub fn reading_in_words(of: &Reading, unit: Unit) -> String {
    let (decimals, name) = if unit.is_inch() {
        (Unit::Inch, "in")
    } else {
        (Unit::Millimetre, "mm")
    };
    let rest = of.exact - of.on_tape;
    let left = write_bare(rest.abs(), decimals);
    let tape = write_bare(of.on_tape, unit);
    if left == "0" {
        return write_length(of.on_tape, unit);
    }
    // A tape with other divisions than the unit has leaves a remainder of its own.
    if matches!(unit, Unit::Fraction(_)) && tape.contains('.') {
        return write_length(of.exact, unit);
    }
    let sign = if rest < Length::ZERO { '−' } else { '+' };
    format!("{tape} {sign} {left} {name}")
}

/// What to lay off and to check, in the order of use; the mass of tube of a material.
#[must_use]
pub fn piece_facts(draft: &PieceDraft, of: &Material) -> Vec<PieceFact> {
    let (piece, unit) = (&draft.piece, draft.unit);
    let marks = &draft.marks;
    let lengths = piece.lengths();
    let mut facts = Vec::new();
    let mut add = |name: &str, value: String| {
        let name = name.to_owned();
        facts.push(PieceFact { name, value });
    };
    let length = |length: Length| write_length(length, unit);
    let read = |reading: &Reading| reading_in_words(reading, unit);
    add("Blank to cut", read(&marks.blank.length));
    add(
        "Overall, long point to long point",
        read(&marks.finished.length),
    );
    add("Between joint centres", length(lengths.centres));
    for side in Side::BOTH {
        if piece.end(side).template().is_none() {
            continue;
        }
        let own = marks.blank.own[side.index()];
        add(
            &format!("Mark {}, from its end of the blank", side.letter()),
            read(&own),
        );
    }
    for side in Side::BOTH {
        if piece.end(side).template().is_some() {
            let far = marks.blank.far[side.index()];
            add(
                &format!("Mark {}, from the far end", side.letter()),
                read(&far),
            );
        }
    }
    if Side::BOTH
        .iter()
        .all(|side| piece.end(*side).template().is_some())
    {
        add("Mark to mark", read(&marks.blank.between));
        add(
            "The two far distances less mark to mark",
            format!("{}, the blank", read(&marks.blank.sum())),
        );
    }
    for (side, grip) in Side::BOTH.into_iter().zip(&marks.cut_off) {
        if grip.exact > Length::ZERO {
            add(
                &format!("Grip stock at {}, cut off after", side.name()),
                read(grip),
            );
        }
    }
    if let Some(turn) = piece.turn_between() {
        let value = if turn == Angle::ZERO {
            String::from("alike")
        } else {
            format!(
                "{}, clockwise seen along the tube from end A",
                write_angle(turn)
            )
        };
        add("Heel of end B from heel of end A", value);
    }
    for (number, bend) in marks.bends.iter().enumerate() {
        add(
            &format!("Bend {}, start from end A of the blank", number + 1),
            format!(
                "{}; {} on {}, outside at {}",
                read(&bend.from_blank),
                write_angle(bend.angle),
                length(bend.clr),
                write_angle(bend.outside)
            ),
        );
    }
    let each = piece.mass_kg(of.density);
    let mut mass = format!("{} kg in {}", write_decimal(each, 2), of.name);
    if draft.count > 1 {
        let all = write_decimal(each * f64::from(draft.count), 2);
        mass.push_str(&format!(", {all} kg for {}", draft.count));
    }
    add("Mass", mass);
    add(
        "Check letters, the same on its left and right",
        piece.check_sum(),
    );
    facts
}

/// What reaches where it must not, in words.
#[must_use]
pub fn clashes_in_words(draft: &PieceDraft) -> Vec<String> {
    let sentence = |clash: &Clash| clash.sentence(draft.unit);
    draft.clashes.iter().map(sentence).collect()
}
