//! What to do at the bench with a piece, and what to mind.

use crate::piece::{Clash, End, Marks, Reading, Side};
use crate::sheet::facts::USUAL_CAUTIONS;
use crate::sheet::piece::PieceOrder;
use crate::sheet::piece::facts::{adds_up, from_zero, has_mark, marked, mass, on_tape, sum};
use crate::units::Length;

/// Lifted by one person alone up to this, kg: common practice, no source.
const ONE_PERSON: f64 = 25.0;
/// Distances nearer than this are the same but for rounding noise.
const SAME: Length = Length::from_mm(1e-6);

/// What to do at the bench, in order and numbered.
pub fn steps(order: &PieceOrder, marks: &Marks) -> Vec<String> {
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
    } else if !marked.is_empty() {
        steps.push(String::from("Cut to the line and take the burr off."));
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
    let numbered = steps.into_iter().enumerate();
    numbered
        .map(|(at, step)| format!("{}. {step}", at + 1))
        .collect()
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
    let same = (marks.blank.between.on_tape - between.on_tape).abs() < SAME;
    if marked.len() == 2 && between.on_tape > Length::ZERO && same {
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
            "Cope first: once bent, too little straight is left to wrap and to hold. Then bend; {bend}. \
             Keep the coped ends out of the bender's clamp, they dent."
        )
    } else {
        format!(
            "Bend, then cope: the bender wants round, uncut ends to hold (common practice). To bend, \
             {bend}. Cope first only where the machine cannot hold a bent tube."
        )
    }
}

/// What to mind.
pub fn cautions(order: &PieceOrder) -> Vec<String> {
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
