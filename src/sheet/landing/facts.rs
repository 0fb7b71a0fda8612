//! What the template for the main says in words and figures.

use crate::job::RESPONSIBILITY;
use crate::joint::MainZero;
use crate::piece::{Landing, LandingRun};
use crate::sheet::Order;
use crate::sheet::facts::{Fact, Facts, MAINS, PUT_IT_ON, main_facts};
use crate::units::{Angle, Length, write_angle, write_length};

/// Around nearer to the zero line than this is on it.
const ON_LINE: Length = Length::from_mm(0.01);

pub fn facts(order: &Order, landing: &Landing) -> Facts {
    Facts {
        facts: table(order, landing),
        heading: PUT_IT_ON,
        steps: steps(order, landing),
        cautions: [
            RESPONSIBILITY,
            "A hole weakens the main: make it only where the joint needs it. Never cut into a tube \
             or vessel that holds or has held pressure, fuel or gas.",
            "Clamp the work, guard on, wear eye and hearing protection, no gloves near a spindle. \
             Fresh edges are sharp.",
        ]
        .map(str::to_owned)
        .to_vec(),
        link: String::new(),
    }
}

/// The mark line, with its distance from the main's end where that is known.
pub fn mark(order: &Order, landing: &Landing) -> String {
    let length = |length: Length| write_length(length.abs(), order.unit);
    match landing.mark_from_end() {
        Some(from_end) if from_end < Length::ZERO => {
            format!("mark line {} beyond the main’s end", length(from_end))
        }
        Some(from_end) => format!("mark line {} from the main’s end", length(from_end)),
        None => String::from("mark line"),
    }
}

/// Distance of the mark line from the joint centre.
pub fn centre(order: &Order, landing: &Landing) -> String {
    let distance = write_length(landing.mark().abs(), order.unit);
    format!("mark line to joint centre {distance}")
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
            length(joint.branch().wall())
        ),
    );
    add("Included angle", write_angle(main.included_angle()));
    let side = if landing.mark() < Length::ZERO {
        "toe"
    } else {
        "heel"
    };
    add(
        "Joint centre to mark line",
        format!(
            "{}, along the main to the {side} side",
            length(landing.mark().abs())
        ),
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
        add("Main's end to mark line", value);
    }
    add(
        "Zero line of the main",
        zero_line(landing.zero()).to_owned(),
    );
    if let Some(axis) = landing.axis() {
        let aside = axis.around;
        let quarter = if aside > Length::ZERO { 90.0 } else { -90.0 };
        let towards = order.template.heel_turn() + main.turn() + Angle::from_deg(quarter);
        let value = if aside.abs() < ON_LINE {
            String::from("on the zero line")
        } else {
            format!(
                "{} round the main, towards the branch's {} line",
                length(aside.abs()),
                write_angle(towards.within_turn())
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
            String::from("none: the bore passes beside")
        } else {
            extent(order, landing, landing.hole())
        },
    );
    facts
}

/// Greatest width along and round.
fn extent(order: &Order, landing: &Landing, runs: &[LandingRun]) -> String {
    let points = || runs.iter().flat_map(|run| &run.points);
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

const fn zero_line(zero: MainZero) -> &'static str {
    match zero {
        MainZero::Facing => "along the main, on the side that faces the branch",
        MainZero::FaceMiddle => "along the middle of the face that looks towards the branch most",
        MainZero::Lean => "through the joint centre, the way the branch leans",
    }
}

fn steps(order: &Order, landing: &Landing) -> Vec<String> {
    let mark = match landing.mark_from_end() {
        Some(from_end) if from_end >= Length::ZERO => format!(
            "{} from the main’s end on the toe side",
            write_length(from_end, order.unit)
        ),
        _ => format!(
            "{} from the joint centre, to the {} side",
            write_length(landing.mark().abs(), order.unit),
            if landing.mark() < Length::ZERO {
                "toe"
            } else {
                "heel"
            }
        ),
    };
    let mut steps = vec![
        format!(
            "Cut out along the four edges. Scribe the zero line on the main and a mark square to \
             it, {mark}. Lay the zero line of the paper on it and the mark line on the mark, print \
             outside, and tape it down."
        ),
        String::from(
            "Centre-punch through the heavy line: it is the outside of the branch. Its quarter \
             lines land on the ticks; the cross is where its axis meets the main.",
        ),
        String::from(
            "The thin line inside is the hole for flow through the joint. To set the branch in, the \
             hole goes to the heavy line. For a joint that is only welded on, leave the main whole.",
        ),
    ];
    let ends = |run: &LandingRun| run.points.first() != run.points.last();
    if landing.outside().iter().any(|run| run.seated && ends(run)) {
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
