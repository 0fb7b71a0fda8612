//! What the sheet of a piece says in words and figures.

use crate::piece::{BendMark, Clash, End, Marks, Piece, Reading, Side};
use crate::sheet::facts::{Fact, Facts, LABEL_HEADER, USUAL_CAUTIONS, printed_label, printed_link};
use crate::sheet::page::Letterhead;
use crate::sheet::piece::PieceOrder;
use crate::units::{Angle, Length, Unit, write_angle, write_bare, write_decimal, write_length};

/// Kilograms in a pound, exact by definition (international avoirdupois pound, 1959).
const KG_PER_POUND: f64 = 0.453_592_37;
/// Lifted by one person alone up to this, kg: common practice, no source.
const ONE_PERSON: f64 = 25.0;

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

/// A distance as the tape shows it, with its unit.
fn on_tape(of: Reading, unit: Unit) -> String {
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
        steps: steps(order, marks),
        cautions: cautions(order),
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
    let wall = length(tube.wall());
    add("Tube", format!("{}, wall {wall}", length(tube.outside())));
    add("Between joint centres", length(lengths.centres));
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
fn marked(piece: &Piece) -> impl Iterator<Item = Side> {
    let marked = |side: &Side| has_mark(piece, *side);
    Side::BOTH.into_iter().filter(marked)
}

/// Whether there are two marks, whose distances must add up.
fn adds_up(piece: &Piece) -> bool {
    marked(piece).count() == 2
}

/// Whether a template with a mark line goes on an end.
pub fn has_mark(piece: &Piece, side: Side) -> bool {
    piece.end(side).template().is_some()
}

fn from_zero(turn: Angle) -> String {
    match write_angle(turn) {
        on if on == "0°" => String::from("on the zero line"),
        turn => format!("{turn} from the zero line"),
    }
}

/// The sum of the check distances as the tape shows them: `561.5 + 540 − 481.5 = 620 mm`.
fn sum(order: &PieceOrder, marks: &Marks) -> String {
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

/// Captions of the table of bends, in two lines.
pub const BEND_COLUMNS: [[&str; 2]; 8] = [
    ["bend", ""],
    ["start, from the", "blank's end at A"],
    ["start, from", "mark A"],
    ["straight", "before it"],
    ["angle", ""],
    ["centre-line", "radius"],
    ["length", "of tube in it"],
    ["outside, turn from", "the zero line"],
];

/// A line of the table of bends.
pub fn bend_cells(number: usize, bend: &BendMark, unit: Unit) -> [String; 8] {
    [
        (number + 1).to_string(),
        reading(bend.from_blank, unit),
        reading(bend.from_mark, unit),
        reading(bend.from_last, unit),
        write_angle(bend.angle),
        write_length(bend.clr, unit),
        reading(bend.arc, unit),
        write_angle(bend.outside),
    ]
}

fn steps(order: &PieceOrder, marks: &Marks) -> Vec<String> {
    let (piece, unit) = (order.piece, order.unit);
    let tape = |of: Reading| on_tape(of, unit);
    let marked: Vec<Side> = marked(piece).collect();
    let mut steps = Vec::new();
    let blank = tape(marks.blank.length);
    let blanks = if order.count == 1 {
        "one blank"
    } else {
        "the blanks"
    };
    let left = |side| matches!(piece.end(side), End::AsItIs);
    steps.push(match (left(Side::A), left(Side::B)) {
        (true, true) => format!("The tube is used as it is: check that it measures {blank}."),
        (true, false) => format!("Cut {blanks} to {blank}; end A stays as it is."),
        (false, true) => format!("Cut {blanks} to {blank}; end B stays as it is."),
        (false, false) => format!("Cut {blanks} square to {blank}. Take the burr off."),
    });
    let zero = match piece.line().natural_zero().map(from_zero) {
        Some(outside) if outside == "on the zero line" => ": it will be the outside of bend 1",
        _ => "",
    };
    steps.push(format!(
        "Write A on one end and B on the other. Scribe the zero line along the whole tube{zero}; an \
         angle section laid on the tube guides the scriber."
    ));
    if !marked.is_empty() || piece.is_bent() {
        steps.push(laying_off(order, marks, &marked));
    }
    if !marked.is_empty() {
        steps.push(String::from(
            "Wrap each template with its 0° edge on the zero line, its mark line on the mark of its \
             own end and its cut towards that end. Draw the cut.",
        ));
    }
    let check = adds_up(piece).then(|| {
        let when = if piece.is_bent() {
            "Check with the tape before bending, to the long points as drawn"
        } else {
            "Check the finished piece with the tape"
        };
        format!(
            "{when}: mark A to far end, plus mark B to far end, less mark to mark, must be the \
             overall length. {}.",
            sum(order, marks)
        )
    });
    if piece.is_bent() {
        steps.extend(check.clone());
        steps.push(bending(order, !marked.is_empty()));
    }
    for side in marked {
        if piece.grip(side) > Length::ZERO {
            steps.push(format!(
                "Cutting {} takes the grip stock off: {} beyond the long point.",
                side.name(),
                tape(marks.cut_off[side.index()])
            ));
        }
    }
    for side in Side::BOTH
        .into_iter()
        .filter(|side| !has_mark(piece, *side))
    {
        if piece.grip(side) > Length::ZERO {
            steps.push(format!(
                "Cut {} of grip stock off {} at the end.",
                tape(marks.cut_off[side.index()]),
                side.name()
            ));
        }
    }
    if !piece.is_bent() {
        steps.extend(check);
    }
    steps.push(format!(
        "Write the label and the check letters {} on the piece: left and right hand of a pair must \
         show the same letters.",
        piece.check_sum()
    ));
    steps
}

fn laying_off(order: &PieceOrder, marks: &Marks, marked: &[Side]) -> String {
    let unit = order.unit;
    let mut words = String::from("Lay off");
    for (count, side) in marked.iter().enumerate() {
        let from = on_tape(marks.blank.own[side.index()], unit);
        words.push_str(if count == 0 { " " } else { " and " });
        words.push_str(&format!(
            "mark {} {from} from that end of the blank",
            if *side == Side::A { "A" } else { "B" }
        ));
    }
    if order.piece.is_bent() {
        words.push_str(if marked.is_empty() { " " } else { ", and " });
        words.push_str("the start of each bend from the blank's end at A");
    }
    words.push_str(", each as a line right round the tube.");
    // On the blank other lengths are rounded; only what the finished piece measures too is said.
    let between = marks.finished.between;
    if marked.len() == 2 && between.on_tape > Length::ZERO && between == marks.blank.between {
        words.push_str(&format!(
            " Mark to mark must be {}.",
            on_tape(between, unit)
        ));
    }
    words
}

/// Whether bending or coping comes first.
fn bending(order: &PieceOrder, coped: bool) -> String {
    let cope_first = order.piece.clashes(&order.clamps).iter().any(|clash| {
        matches!(
            clash,
            Clash::Coping { .. } | Clash::Mark { .. } | Clash::Cut { .. }
        )
    });
    let bend = "start each bend on its line, its outside line away from the centre of the bend";
    if !coped {
        format!("Bend: {bend}.")
    } else if cope_first {
        format!(
            "Cope first: once bent, the clamp for coping finds too little straight. Then bend; {bend}. \
             Keep the coped ends out of the bender's clamp, they dent."
        )
    } else {
        format!(
            "Bend, then cope: the bender wants round, uncut ends to hold (common practice). To bend, \
             {bend}. Cope first only where the machine cannot hold a bent tube."
        )
    }
}

fn cautions(order: &PieceOrder) -> Vec<String> {
    let mut cautions: Vec<String> = USUAL_CAUTIONS.map(str::to_owned).to_vec();
    cautions.insert(
        1,
        String::from(
            "Fresh edges and scribed burrs are sharp: gloves for carrying, deburr at once.",
        ),
    );
    if order.piece.is_bent() {
        cautions.push(String::from(
            "Bender: hands clear of die and arm, stand out of the way of the swinging tube. Tube springs \
             back and stretches: bend a trial piece of the same tube.",
        ));
    }
    let heavy = order
        .density
        .map(|density| order.piece.blank_mass_kg(density))
        .filter(|kg| *kg > ONE_PERSON);
    if let Some(kg) = heavy {
        cautions.push(format!(
            "The blank is {}: lift it with two or with a hoist.",
            mass(kg, order.unit)
        ));
    }
    cautions
}
