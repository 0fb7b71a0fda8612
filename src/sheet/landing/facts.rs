//! What the template for the main says in words and figures.

use crate::job::{RESPONSIBILITY, offset_in_words};
use crate::joint::MainZero;
use crate::piece::{Landing, LandingRun};
use crate::sheet::Order;
use crate::sheet::facts::{self as sheet_facts, Fact, Facts, MAINS, PUT_IT_ON, main_facts};
use crate::units::{Angle, Length, write_angle, write_length, write_small};

/// Around nearer to the zero line than this is on it.
const ON_LINE: Length = Length::from_mm(0.01);

pub fn facts(order: &Order, landing: &Landing) -> Facts {
    let mut cautions = Vec::new();
    if let Some(past) = landing.past_end() {
        cautions.push(format!(
            "The branch reaches {} past the {}’s end. Check the distance to the joint centre.",
            write_length(past, order.unit),
            under(landing)
        ));
    }
    cautions.push(RESPONSIBILITY.to_owned());
    if !landing.hole().is_empty() {
        cautions.push(String::from(
            "A hole weakens the main: make it only where the joint needs it. Never cut into a tube \
             or vessel that holds or has held pressure, fuel or gas.",
        ));
    }
    cautions.push(String::from(
        "Clamp the work, guard on, wear eye and hearing protection, no gloves near a spindle. \
         Fresh edges are sharp.",
    ));
    let link = sheet_facts::printed_link(order.link);
    Facts {
        facts: table(order, landing),
        heading: PUT_IT_ON,
        steps: steps(order, landing),
        cautions,
        link,
    }
}

/// What is under the paper.
fn under(landing: &Landing) -> &'static str {
    match landing.zero() {
        MainZero::Lean => "plate",
        MainZero::Facing | MainZero::FaceMiddle => "main",
    }
}

/// The edge that the distance of the joint centre is measured from.
fn end(landing: &Landing) -> &'static str {
    match landing.zero() {
        MainZero::Lean => "the plate’s edge",
        MainZero::Facing | MainZero::FaceMiddle => "the main’s end",
    }
}

/// A turn of the branch that lies to a side of a main.
fn towards(order: &Order, landing: &Landing, side: Length) -> String {
    let quarter = if side > Length::ZERO { 90.0 } else { -90.0 };
    let turn = order.template.heel_turn() + landing.main().turn() + Angle::from_deg(quarter);
    format!("the branch’s {} line", write_angle(turn.within_turn()))
}

/// Which way the mark line lies from the joint centre.
fn side(landing: &Landing) -> &'static str {
    if landing.mark() < Length::ZERO {
        "toe"
    } else {
        "heel"
    }
}

/// Whether the mark line goes through the joint centre.
fn is_on_centre(landing: &Landing) -> bool {
    landing.mark().abs() < ON_LINE
}

/// What the mark line is, for the patch when it is cut out.
pub fn mark(order: &Order, landing: &Landing) -> String {
    let length = |length: Length| write_length(length.abs(), order.unit);
    let centre = if is_on_centre(landing) {
        String::from("through the joint centre")
    } else {
        format!("{} to joint centre", length(landing.mark()))
    };
    match landing.mark_from_end() {
        Some(from_end) if from_end < Length::ZERO => format!(
            "left edge: {} beyond {}, {centre}",
            length(from_end),
            end(landing)
        ),
        Some(from_end) => {
            format!(
                "left edge: {} from {}, {centre}",
                length(from_end),
                end(landing)
            )
        }
        None => format!("left edge: {centre}"),
    }
}

/// Distance of the mark line from the joint centre.
pub fn centre(order: &Order, landing: &Landing) -> String {
    let distance = write_length(landing.mark().abs(), order.unit);
    if is_on_centre(landing) {
        String::from("mark line through the joint centre")
    } else if landing.mark() < Length::ZERO {
        format!("mark line to joint centre {distance}")
    } else {
        format!("mark line {distance} from the joint centre, to the heel side")
    }
}

fn table(order: &Order, landing: &Landing) -> Vec<Fact> {
    let length = |length: Length| write_length(length, order.unit);
    let joint = order.template.cope().joint();
    let main = landing.main();
    let mut facts = Vec::new();
    let mut add = |caption, value| facts.push(Fact { caption, value });
    let several = joint.mains().count() > 1;
    let caption = if several {
        MAINS.get(landing.number()).copied().unwrap_or("Main")
    } else {
        "Main, under this paper"
    };
    add(caption, main_facts(order, main, landing.number() > 0));
    add(
        "Branch that lands on it",
        format!(
            "{}, wall {}",
            length(joint.branch().outside()),
            write_small(joint.branch().wall(), order.unit)
        ),
    );
    add("Included angle", write_angle(main.included_angle()));
    if !main.is_plane() {
        let offset = offset_in_words(order.template, main, order.unit);
        add("Offset of the axes", offset);
    }
    add(
        "Joint centre to mark line",
        if is_on_centre(landing) {
            format!("{}, one goes through the other", length(Length::ZERO))
        } else {
            format!(
                "{}, along the {} to the {} side",
                length(landing.mark().abs()),
                under(landing),
                side(landing)
            )
        },
    );
    if let Some(from_end) = landing.mark_from_end() {
        let value = if from_end < Length::ZERO {
            format!(
                "{} beyond it: the paper hangs over, go by the joint centre",
                length(from_end.abs())
            )
        } else {
            format!("{}, from the end on the toe side", length(from_end))
        };
        add("Main’s end to mark line", value);
    }
    if let Some(axis) = landing.axis() {
        add("Mark line to cross", length(axis.along - landing.mark()));
    }
    add("Zero line of the main", zero_line(order, landing));
    if let Some(axis) = landing.axis() {
        let aside = axis.around;
        let value = if aside.abs() < ON_LINE {
            String::from("on the zero line")
        } else {
            format!(
                "{} round the main, towards {}",
                length(aside.abs()),
                towards(order, landing, aside)
            )
        };
        add("Heel-to-toe line", value);
    }
    add(
        "Outline of the branch",
        extent(order, landing, landing.outside()),
    );
    add(
        "Hole for flow, at the bore",
        if landing.hole().is_empty() {
            String::from("none: the bore is not all over this main")
        } else {
            extent(order, landing, landing.hole())
        },
    );
    facts
}

/// Greatest width along and round.
fn extent(order: &Order, landing: &Landing, runs: &[LandingRun]) -> String {
    let seated = || runs.iter().filter(|run| run.seated);
    let points = || seated().flat_map(|run| &run.points);
    let span = |of: fn(&crate::piece::LandingPoint) -> Length| {
        let most = points()
            .map(of)
            .fold(Length::from_mm(f64::NEG_INFINITY), Length::max);
        let least = points()
            .map(of)
            .fold(Length::from_mm(f64::INFINITY), Length::min);
        write_length(most - least, order.unit)
    };
    format!(
        "{} along, {} {}",
        span(|point| point.along),
        span(|point| point.around),
        if landing.girth().is_some() {
            "round"
        } else {
            "across"
        }
    )
}

fn zero_line(order: &Order, landing: &Landing) -> String {
    let main = landing.main();
    match landing.zero() {
        MainZero::Facing if main.offset() == Length::ZERO => {
            String::from("along the main, on the side that faces the branch")
        }
        MainZero::Facing => format!(
            "along the main, on the side that faces the branch; the branch’s axis passes {} beside \
             it, towards {}",
            write_length(main.offset().abs(), order.unit),
            towards(order, landing, -main.offset())
        ),
        MainZero::FaceMiddle => {
            let across = landing.zero_across();
            let which = if across.abs() < ON_LINE {
                String::new()
            } else {
                format!(", on the side of {}", towards(order, landing, across))
            };
            format!("along the middle of the face that looks towards the branch most{which}")
        }
        MainZero::Lean if main.angle() < Angle::QUARTER => {
            String::from("through the joint centre, the way the branch leans: to its heel")
        }
        MainZero::Lean => String::from("through the joint centre; the branch’s heel goes on it"),
    }
}

fn steps(order: &Order, landing: &Landing) -> Vec<String> {
    let what = under(landing);
    let mark = match landing.mark_from_end() {
        Some(from_end) if from_end >= Length::ZERO => format!(
            "{} from {} on the toe side",
            write_length(from_end, order.unit),
            end(landing)
        ),
        _ if is_on_centre(landing) => String::from("through the joint centre"),
        _ => format!(
            "{} from the joint centre, to the {} side",
            write_length(landing.mark().abs(), order.unit),
            side(landing)
        ),
    };
    let mut steps = vec![format!(
        "Cut out along the four edges. Scribe the zero line on the {what} and a mark square to it, \
         {mark}. Lay the dash-dot zero line of the paper on it and the left edge on the mark, print \
         outside, and tape it down."
    )];
    steps.push(String::from(if landing.zero() == MainZero::Lean {
        "The joint centre is where the branch’s axis meets the plate. Heel is the acute side of the \
         joint, toe the obtuse side."
    } else {
        "The joint centre is where the axes of the two tubes meet or pass nearest; it is not the \
         middle of the outline. Heel is the acute side of the joint, toe the obtuse side."
    }));
    let cross = if landing.axis().is_some() {
        " The cross is where its axis comes out."
    } else {
        ""
    };
    steps.push(format!(
        "Centre-punch through the heavy line: it is the outside of the branch. Its quarter lines \
         land on the ticks.{cross}"
    ));
    steps.push(String::from(if landing.hole().is_empty() {
        "No hole: the bore of the branch reaches past this main, and a hole would cut into its \
         sides. Leave the main whole."
    } else {
        "The thin line inside is the hole for flow through the joint. To set the branch in, the hole \
         goes to the heavy line. For a joint that is only welded on, leave the main whole."
    }));
    if landing
        .outside()
        .iter()
        .any(|run| run.seated && !run.is_ring())
    {
        steps.push(String::from(
            "The heavy line ends where the branch hangs past the side of the main, or where it \
             meets another one.",
        ));
    }
    if landing.outside().iter().any(|run| !run.seated) {
        steps.push(String::from(
            "Where the outline is dashed, the branch meets another main before this one.",
        ));
    }
    steps
}
