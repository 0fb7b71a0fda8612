//! What the sheet of a piece says in words and figures.

use crate::job::reading_in_words;
use crate::piece::{Marks, Piece, Reading, Side};
use crate::sheet::facts::{Fact, Facts, LABEL_HEADER, printed_label, printed_link};
use crate::sheet::page::Letterhead;
use crate::sheet::piece::{PieceOrder, steps};
use crate::units::{
    Angle, Length, Unit, write_angle, write_bare, write_decimal, write_length, write_small,
};

/// Kilograms in a pound, exact by definition (international avoirdupois pound, 1959).
const KG_PER_POUND: f64 = 0.453_592_37;

const OWN: [&str; 2] = [
    "Mark A from the long point at A",
    "Mark B from the long point at B",
];
const FAR: [&str; 2] = ["Mark A to far end", "Mark B to far end"];
const FROM_BLANK: [&str; 2] = [
    "Mark A from the blank's end at A",
    "Mark B from the blank's end at B",
];
const CUT_OFF: [&str; 2] = ["Grip stock to cut off at A", "Grip stock to cut off at B"];

/// A distance as the tape shows it, with what must be added to it: `31 5/8 − 0.012 in`,
/// `561.5 − 0.13 mm`.
pub fn reading(of: Reading, unit: Unit) -> String {
    reading_in_words(&of, unit)
}

/// A distance as the tape shows it, with its unit.
pub fn on_tape(of: Reading, unit: Unit) -> String {
    write_length(of.on_tape, unit)
}

/// Head of all sheets of a piece.
pub fn letterhead(order: &PieceOrder, marks: &Marks) -> Letterhead {
    let label = printed_label(order.label);
    let piece = order.piece;
    let bends = match piece.line().bends().len() {
        0 => String::from("straight"),
        1 => String::from("1 bend"),
        count => format!("{count} bends"),
    };
    let overall = on_tape(marks.finished.length, order.unit);
    let outside = write_length(piece.tube().outside(), order.unit);
    Letterhead {
        title: if label.is_empty() {
            String::from("Piece")
        } else {
            label
        },
        subtitle: format!(
            "Make {} of tube {outside}, {overall} overall, {bends}",
            order.count
        ),
        date: crate::sheet::words::clean(order.date),
    }
}

/// All facts of a piece.
pub fn facts(order: &PieceOrder, marks: &Marks) -> Facts {
    Facts {
        facts: table(order, marks),
        heading: "At the bench, in this order",
        steps: steps::steps(order, marks),
        cautions: steps::cautions(order),
        link: printed_link(order.link),
    }
}

fn table(order: &PieceOrder, marks: &Marks) -> Vec<Fact> {
    let (piece, unit) = (order.piece, order.unit);
    let length = |length: Length| write_length(length, unit);
    let read = |of: Reading| reading(of, unit);
    let lengths = piece.lengths();
    let mut facts = Vec::new();
    let mut add = |caption, value| facts.push(Fact { caption, value });
    let name = printed_label(order.label);
    if name.chars().count() > LABEL_HEADER {
        add("Label", name);
    }
    let tube = piece.tube();
    let wall = write_small(tube.wall(), unit);
    add("Tube", format!("{}, wall {wall}", length(tube.outside())));
    let centres = if piece.is_bent() {
        "Joint centres apart along tube"
    } else {
        "Between joint centres"
    };
    add(centres, length(lengths.centres));
    if piece.is_bent() {
        add(
            "Joint centres apart in space",
            length(piece.centres_apart()),
        );
    }
    add("Overall, long point to long point", length(lengths.overall));
    add("Blank, cut to", read(marks.blank.length));
    for side in Side::BOTH.into_iter().filter(|side| has_mark(piece, *side)) {
        let at = side.index();
        add(OWN[at], read(marks.finished.own[at]));
    }
    for side in marked(piece) {
        let at = side.index();
        add(FAR[at], read(marks.finished.far[at]));
    }
    if adds_up(piece) {
        add("Mark to mark", read(marks.finished.between));
        add("Far A + far B − mark to mark", sum(order, marks));
    }
    for side in Side::BOTH {
        let at = side.index();
        if piece.grip(side) > Length::ZERO {
            if has_mark(piece, side) {
                add(FROM_BLANK[at], read(marks.blank.own[at]));
            }
            add(CUT_OFF[at], read(marks.cut_off[at]));
        }
    }
    if let Some(turn) = piece.turn_between() {
        add(
            "End B's heel against end A's",
            format!(
                "{}, sighted along the tube from end A, clockwise",
                write_angle(turn)
            ),
        );
    }
    if let Some(density) = order.density {
        let one = piece.mass_kg(density);
        let blank = mass(piece.blank_mass_kg(density), unit);
        add(
            "Mass of one piece, of its blank",
            format!("{}, {blank}", mass(one, unit)),
        );
        let all = mass(one * f64::from(order.count), unit);
        add(
            "Pieces to make, mass in all",
            format!("{}, {all}", order.count),
        );
    } else {
        add("Pieces to make", order.count.to_string());
    }
    add("Check letters of left and right", piece.check_sum());
    facts
}

/// The ends that have a mark.
pub fn marked(piece: &Piece) -> impl Iterator<Item = Side> {
    let marked = |side: &Side| has_mark(piece, *side);
    Side::BOTH.into_iter().filter(marked)
}

/// Whether there are two marks, whose distances must add up.
pub fn adds_up(piece: &Piece) -> bool {
    marked(piece).count() == 2
}

/// Whether a template with a mark line goes on an end.
pub fn has_mark(piece: &Piece, side: Side) -> bool {
    piece.end(side).template().is_some()
}

/// A turn from the zero line in words.
pub fn from_zero(turn: Angle) -> String {
    match write_angle(turn) {
        on if on == "0°" => String::from("on the zero line"),
        turn => format!("{turn} from the zero line"),
    }
}

/// The sum of the check distances as the tape shows them: `561.5 + 540 − 481.5 = 620 mm`.
pub fn sum(order: &PieceOrder, marks: &Marks) -> String {
    let bare = |of: Reading| write_bare(of.on_tape, order.unit);
    let [far_a, far_b] = marks.finished.far.map(bare);
    let between = marks.finished.between;
    // Marks that have passed each other are taken away with their minus.
    let (sign, between) = if between.on_tape < Length::ZERO {
        ('+', write_bare(-between.on_tape, order.unit))
    } else {
        ('−', bare(between))
    };
    let name = if order.unit.is_inch() { "in" } else { "mm" };
    let total = bare(marks.finished.sum());
    format!("{far_a} + {far_b} {sign} {between} = {total} {name}")
}

/// A mass in kg, beside pounds where the job is in inches.
pub fn mass(kg: f64, unit: Unit) -> String {
    let rounded = |number: f64| {
        let places = if number >= 100.0 {
            1
        } else if number >= 1.0 {
            2
        } else {
            3
        };
        write_decimal(number, places)
    };
    if unit.is_inch() {
        format!("{} lb ({} kg)", rounded(kg / KG_PER_POUND), rounded(kg))
    } else {
        format!("{} kg", rounded(kg))
    }
}
