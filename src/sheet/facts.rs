//! What the sheet says in words and figures: the joint, the setting, the checks, the cautions.

use crate::cope::saw::listed_saw;
use crate::cope::{Cope, CutMethod};
use crate::job::saw::{CUT_WITH, PRE_CUT_FIRST};
use crate::job::{
    Caution, RESPONSIBILITY, cautions_about, joint_in_words, main_in_words, offset_in_words,
    place_in_words,
};
use crate::joint::{MAINS_MAX, Main, Shape};
use crate::piece::Template;
use crate::sheet::Order;
use crate::sheet::figure::Captions;
use crate::sheet::page::Letterhead;
use crate::sheet::words;
use crate::stock::HOLE_SAW_MATCH;
use crate::units::{
    Angle, Denominator, Length, Unit, write_angle, write_bare, write_length, write_small,
};

/// Links longer than this are not printed, letters: nobody types them off paper.
const LINK_LONGEST: usize = 1200;

/// Labels longer than this are cut short everywhere, letters.
const LABEL_LONGEST: usize = 200;
/// Labels longer than this do not fit the header whole and stand among the facts too, letters.
pub const LABEL_HEADER: usize = 40;

/// One line of the table of facts.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    pub caption: &'static str,
    pub value: String,
}

/// Everything in words that stands outside the strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    pub facts: Vec<Fact>,
    /// What stands over the steps.
    pub heading: &'static str,
    /// What to do at the bench, in order.
    pub steps: Vec<String>,
    /// The usual cautions.
    pub cautions: Vec<String>,
    /// The link that opens the joint again; may be empty.
    pub link: String,
}

/// A label as it is printed.
pub fn printed_label(label: &str) -> String {
    let label = words::clean(label);
    if label.chars().count() <= LABEL_LONGEST {
        return label;
    }
    let mut short: String = label.chars().take(LABEL_LONGEST - 1).collect();
    short.push('…');
    short
}

/// The joint in one line.
fn joint_line(order: &Order) -> String {
    let mut line = joint_in_words(order.template, order.unit);
    let main = order.template.cope().joint().main();
    if main.offset() != Length::ZERO {
        line.push_str(", offset ");
        line.push_str(&offset_in_words(order.template, main, order.unit));
    }
    line
}

/// Head of all sheets of an order.
pub fn letterhead(order: &Order) -> Letterhead {
    let label = printed_label(order.label);
    Letterhead {
        title: if label.is_empty() {
            "Tube template".to_owned()
        } else {
            label
        },
        subtitle: joint_line(order),
        date: words::clean(order.date),
    }
}

/// Words of the strip.
pub fn captions(order: &Order) -> Captions {
    let length = |length: Length| write_length(length, order.unit);
    Captions {
        name: printed_label(order.label),
        joint: joint_line(order),
        once_round: length(order.template.wrap().width()),
        mark_to_long: length(order.template.mark_to_long()),
    }
}

/// All facts of an order.
pub fn facts(order: &Order) -> Facts {
    Facts {
        facts: table(order),
        heading: PUT_IT_ON,
        steps: steps(order),
        cautions: cautions(order.template, order.unit),
        link: printed_link(order.link),
    }
}

/// What stands over the steps of a template.
pub const PUT_IT_ON: &str = "Put it on";

/// A link as it is printed; nothing for one that nobody types off paper.
pub fn printed_link(link: &str) -> String {
    let link = words::clean(link);
    if link.chars().count() > LINK_LONGEST {
        String::new()
    } else {
        link
    }
}

fn table(order: &Order) -> Vec<Fact> {
    let template = order.template;
    let cope = template.cope();
    let joint = cope.joint();
    let length = |length: Length| write_length(length, order.unit);
    let mut facts = Vec::new();
    let mut add = |caption, value| facts.push(Fact { caption, value });
    let name = printed_label(order.label);
    if name.chars().count() > LABEL_HEADER {
        add("Label", name);
    }
    add(
        "Branch, the tube to cut",
        format!(
            "{}, wall {}",
            length(joint.branch().outside()),
            write_small(joint.branch().wall(), order.unit)
        ),
    );
    let several = joint.mains().count() > 1;
    for (number, main) in joint.mains().enumerate() {
        let caption = if several { MAINS[number] } else { "Main" };
        add(caption, main_facts(order, main, number > 0));
    }
    let caption = match joint.main().shape() {
        Shape::Mitre { .. } => "Angle between the tubes",
        _ => "Included angle",
    };
    add(caption, write_angle(joint.main().included_angle()));
    add(
        "Off square, on the saw's scale",
        write_angle(joint.off_square()),
    );
    if !joint.main().is_plane() {
        let offset = offset_in_words(template, joint.main(), order.unit);
        add("Offset of the axes", offset);
    }
    add(
        "Cut",
        match cope.method() {
            CutMethod::Saw if matches!(joint.main().shape(), Shape::Round { .. }) && !several => {
                "hole saw or mill, following the main"
            }
            CutMethod::Saw => "following the main, line on the outside",
            CutMethod::Square => "square to the wall, aimed at the tube's axis",
            CutMethod::Bore => "bore edge seats; bevel the outside after",
        }
        .to_owned(),
    );
    // Who has a saw for it, or none that will do, is told so below.
    let at_hand = order.saw.iter().any(|(caption, _)| *caption == CUT_WITH);
    if cope.method() == CutMethod::Saw
        && !several
        && !at_hand
        && let Shape::Round { radius } = joint.main().shape()
    {
        let over = (*radius + cope.gap()) * 2.0;
        add("Hole saw", hole_saw(cope, over, order.unit));
    }
    add(
        "Root gap",
        if cope.gap() == Length::ZERO {
            "none, tight fit".to_owned()
        } else {
            format!("{} all round", length(cope.gap()))
        },
    );
    for (caption, value) in order.saw {
        add(caption, words::clean(value));
    }
    add("Mark line to long point", length(template.mark_to_long()));
    add("Mark line to short point", length(template.mark_to_short()));
    add(
        "Mark line to joint centre",
        length(template.mark_to_centre()),
    );
    add(
        "Once round, edge to edge",
        format!(
            "{}, {}",
            length(template.wrap().width()),
            if template.wrap().is_measured() {
                "as measured"
            } else {
                "computed"
            }
        ),
    );
    add(
        "Heel",
        if template.heel_turn() == Angle::ZERO {
            "on the zero line".to_owned()
        } else {
            format!("{} from the zero line", write_angle(template.heel_turn()))
        },
    );
    if !cope.ridges().is_empty() {
        add("Ridges, from main to main", ridges(order));
    }
    if !cope.beside().is_empty() {
        let arcs: Vec<String> = cope
            .beside()
            .iter()
            .map(|arc| {
                let turn = |angle: Angle| write_angle((angle + template.heel_turn()).within_turn());
                format!(
                    "{} to {}, {} wide",
                    turn(arc.from),
                    turn(arc.to),
                    write_angle(arc.to - arc.from)
                )
            })
            .collect();
        add("Beside the main", arcs.join("; "));
    }
    facts
}

/// What the mains of an end are called.
pub const MAINS: [&str; MAINS_MAX] = ["Main 1", "Main 2", "Main 3", "Main 4", "Main 5", "Main 6"];

/// A main with its sizes; of a further one also how it lies.
pub fn main_facts(order: &Order, main: &Main, further: bool) -> String {
    let length = |length: Length| write_length(length, order.unit);
    let mut words = main_in_words(main, order.unit);
    match main.shape() {
        Shape::Rectangular(section) => {
            words.push_str(", corner radius ");
            words.push_str(&length(section.corner()));
        }
        Shape::Bent { bend, .. } => {
            let side = match bend.station().mm() {
                0.0 => String::from("at the middle of the bend"),
                past if past > 0.0 => format!(
                    "{} along from the middle of the bend, to the heel side",
                    length(bend.station())
                ),
                _ => format!(
                    "{} along from the middle of the bend, to the toe side",
                    length(bend.station().abs())
                ),
            };
            words.push_str(&format!(
                ", bend {} on a centre-line radius of {}, branch {side}, inside of the bend {} from \
                 facing the branch",
                write_angle(bend.angle()),
                length(bend.clr()),
                write_angle(bend.facing().within_turn())
            ));
        }
        Shape::Round { .. } | Shape::Plate | Shape::Mitre { .. } => {}
    }
    if further {
        words.push_str(&format!(
            ", at {}, {}",
            write_angle(main.included_angle()),
            place_in_words(main, order.unit)
        ));
        if main.offset() != Length::ZERO {
            words.push_str(", offset ");
            words.push_str(&offset_in_words(order.template, main, order.unit));
        }
    }
    words
}

/// Where the cut passes from main to main, with the steps.
fn ridges(order: &Order) -> String {
    let template = order.template;
    template
        .cope()
        .ridges()
        .iter()
        .map(|ridge| {
            let turn = write_angle((ridge.turn + template.heel_turn()).within_turn());
            let step = (ridge.to - ridge.from).abs();
            let step = if step > RIDGE_STEP {
                format!(", a step of {}", write_length(step, order.unit))
            } else {
                String::new()
            };
            format!(
                "{turn}: main {} to {}{step}",
                ridge.before + 1,
                ridge.after + 1
            )
        })
        .collect::<Vec<_>>()
        .join("; ")
}

/// A smaller step is none, on paper.
const RIDGE_STEP: Length = Length::from_mm(0.01);

/// The listed hole saw that cuts a diameter, if there is one; with its gap where that is why it is not
/// the nearest.
fn hole_saw(cope: &Cope, over: Length, unit: Unit) -> String {
    match listed_saw(cope) {
        Some((saw, gap)) => {
            let gap = if (saw.diameter - over).abs() > HOLE_SAW_MATCH {
                format!(", gaps {}", write_small(gap, unit))
            } else {
                String::new()
            };
            let inches = write_bare(saw.diameter, Unit::Fraction(Denominator::Sixteenth));
            format!("{} mm, {inches}\"{gap}", saw.listed_mm)
        }
        None => format!("none listed for {}", write_length(over, unit)),
    }
}

fn steps(order: &Order) -> Vec<String> {
    let width = write_length(order.template.wrap().width(), order.unit);
    let mark = write_length(order.template.mark_to_long(), order.unit);
    let mut steps = vec![
        format!(
            "Cut out along the cut line, the 0° line, the mark line and the end of the tab. Wrap \
             with the print outside and tuck the tab under: the 0° edge must meet the 360° line, \
             once round, edge to edge: {width}. If it does not, measure round the tube with a \
             strip of this paper and type that in."
        ),
        format!(
            "Scribe the zero line along the tube and a mark round it, {mark} from the end the long \
             point shall have. Lay the 0° edge on the zero line and the mark line on the mark."
        ),
    ];
    if !order.template.pre_cut().is_empty() {
        let first = order
            .saw
            .iter()
            .any(|(caption, _)| *caption == PRE_CUT_FIRST);
        steps.push(String::from(if first {
            "Straight along the long-dashed line first: that takes the bulk off and stays clear of \
             the cut line."
        } else {
            "You may cut straight along the long-dashed line first, or leave it: it only takes the \
             bulk off, clear of the cut line."
        }));
    }
    steps
}

fn cautions(template: &Template, unit: Unit) -> Vec<String> {
    // Turns beside the main stand among the facts, with their width.
    let own = cautions_about(template);
    let own = own
        .iter()
        .filter(|caution| !matches!(caution, Caution::Beside { .. }));
    let mut cautions: Vec<String> = own.map(|caution| caution.sentence(unit)).collect();
    cautions.extend(USUAL_CAUTIONS.map(str::to_owned));
    cautions
}

/// Cautions for whoever cuts a tube.
pub const USUAL_CAUTIONS: [&str; 3] = [
    RESPONSIBILITY,
    "Hole saw and drill press: clamp the work, run slow, wear eye protection, no gloves near the \
     spindle. Grinder: guard on, wheel rated for its speed.",
    "Zinc and other coatings give off toxic fume: strip them at least 100 mm (4 in) back from the \
     weld, ventilate, keep your head out of the fume.",
];
