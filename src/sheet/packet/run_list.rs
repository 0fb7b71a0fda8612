//! The run list on paper: saw by saw, set-up by set-up, with a box to tick for every cut.

use crate::job::shop::{
    ANGLE_TICK, Cut, Dial, OFFSET_TICK, RunList, Saw, SawRun, SetUp, Setting, saw_side,
};
use crate::piece::Side;
use crate::sheet::Pen;
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::numbers::counted;
use crate::sheet::packet::rows::{BOX, CAPTION, VALUE, boxes, boxes_in, heading, paragraph, rule};
use crate::sheet::words;
use crate::stock::write_rpm;
use crate::units::{Length, Unit, write_angle, write_length, write_small};

/// Height of the line of a set-up, mm.
const SET_UP: f64 = 10.0;
/// White above a set-up, mm.
const SET_UP_GAP: f64 = 1.6;
/// What a saw's heading keeps with: its first set-up and the first line of cuts of that, and a
/// little more, so that a rounded sum does not part them.
const FIRST: f64 = SET_UP_GAP + SET_UP + LINE + 0.01;
/// Where the dials of a set-up stand, as parts of the width.
const DIALS: [f64; 4] = [0.17, 0.33, 0.6, 0.82];
/// Height of a line of cuts, mm.
const LINE: f64 = 5.2;
/// Where the boxes begin, as a part of the width.
const BOXES: f64 = 0.55;
/// White before the name of a cut, mm.
const INDENT: f64 = 5.0;

/// Fills sheets with a run list.
pub fn fill(flow: &mut Flow, cuts: &[Cut], list: &RunList, unit: Unit) {
    let width = flow.width();
    flow.add(0.0, paragraph(&saved(list), 3.4, true, width));
    let how = "In this order, from the top. What is to be changed from the set-up before stands in \
               strong letters; check it on a scrap before the first cut. A box is one cut: tick it \
               when it is done.";
    flow.add(1.5, paragraph(how, 2.8, false, width));
    flow.add(1.5, paragraph(&to_read(cuts, unit), 2.8, false, width));
    let mut number = 0;
    let mut stands = Setting::default();
    for run in &list.saws {
        let (name, remark) = heading_of(run, cuts, unit);
        let again = format!("{}, continued", saw_in_words(run.saw, unit));
        let head = heading(&name, &remark, width);
        flow.head(0, 5.0, head, heading(&again, &remark, width), FIRST);
        for set_up in &run.set_ups {
            number += 1;
            turn_to(&mut stands, set_up, cuts);
            let line = |more: bool| set_up_line(set_up, &stands, number, more, unit, width);
            flow.head(1, SET_UP_GAP, line(false), line(true), LINE);
            for cut in set_up.cuts.iter().filter_map(|cut| cuts.get(*cut)) {
                set_cut(flow, cut);
            }
        }
        flow.end(0);
    }
}

/// What the order of the list saves, in a sentence.
fn saved(list: &RunList) -> String {
    let are = counted(list.set_ups, "set-up");
    let before = list.set_ups_in_piece_order;
    let saved = match list.saved() {
        0 => format!("{are}, as in piece order"),
        saved => format!("{are} instead of {before} in piece order: {saved} saved"),
    };
    let least = if list.proven {
        "No other order takes less changing."
    } else {
        "The best order found."
    };
    let count: usize = list.saws.iter().map(|run| run.count).sum();
    format!("{}: {saved}. {least}", counted(count, "cut"))
}

/// How the numbers of the list are to be read.
fn to_read(cuts: &[Cut], unit: Unit) -> String {
    let mut words = format!(
        "Cuts within {} and {} of each other share a set-up: what the first of them needs is what \
         is set.",
        write_angle(ANGLE_TICK),
        write_small(OFFSET_TICK, unit)
    );
    let aside = |cut: &Cut| cut.setting.offset.is_some_and(|by| by != Length::ZERO);
    if cuts.iter().any(aside) {
        words.push_str(
            " Left and right of an offset: where the saw stands from the tube, seen from behind the \
             saw with the tube’s body upwards.",
        );
    }
    words
}

/// The saw with its own name, and how much it has to do and how fast.
fn heading_of(run: &SawRun, cuts: &[Cut], unit: Unit) -> (String, String) {
    let mut name = saw_in_words(run.saw, unit);
    let of_run = run.set_ups.iter().flat_map(|set_up| &set_up.cuts);
    let notes = of_run.filter_map(|cut| Some(&cuts.get(*cut)?.notes));
    let mut names: Vec<&str> = Vec::new();
    let mut rpm = None;
    for notes in notes {
        rpm = rpm.or(notes.rpm);
        if !notes.saw.is_empty() && !names.contains(&notes.saw.as_str()) {
            names.push(&notes.saw);
        }
    }
    for own in names {
        name.push_str(&format!(", “{}”", words::clean(own)));
    }
    let mut remark = format!(
        "{} in {}",
        counted(run.count, "cut"),
        counted(run.set_ups.len(), "set-up")
    );
    if let Some(rpm) = rpm {
        let rpm = write_rpm(rpm);
        remark.push_str(&format!(", about {rpm} turns a minute"));
    }
    (name, remark)
}

/// Turns the dials that a set-up changes to what its first cut needs; the others stay.
fn turn_to(stands: &mut Setting, set_up: &SetUp, cuts: &[Cut]) {
    let first = set_up.cuts.first().and_then(|cut| cuts.get(*cut));
    let needs = first.map_or(set_up.setting, |cut| cut.setting);
    for dial in &set_up.changes {
        match dial {
            Dial::Saw => {}
            Dial::OffSquare => stands.off_square = needs.off_square,
            Dial::Offset => stands.offset = needs.offset,
            Dial::Turn => stands.turn = needs.turn,
            Dial::First => stands.first = needs.first,
        }
    }
}

/// An offset as it is dialled in: how far, to which side.
fn offset_in_words(offset: Length, unit: Unit) -> String {
    let far = write_length(offset.abs(), unit);
    match saw_side(offset) {
        Some(side) if far != write_length(Length::ZERO, unit) => format!("{far} {side}"),
        _ => String::from("none"),
    }
}

/// What cuts, for the start of a line.
pub fn saw_in_words(saw: Saw, unit: Unit) -> String {
    match saw {
        Saw::Hole(diameter) => format!("Hole saw {}", write_length(diameter, unit)),
        Saw::Straight => String::from("Straight saw"),
        Saw::Grinder => String::from("Grinder, along the template"),
    }
}

/// Number and dials of a set-up; what is changed stands out.
fn set_up_line(
    set_up: &SetUp,
    setting: &Setting,
    number: usize,
    more: bool,
    unit: Unit,
    width: f64,
) -> Drawing {
    let mut line = Drawing::new(width, SET_UP);
    let (first, second) = (
        1.2 + words::first_baseline(CAPTION),
        1.2 + CAPTION * words::LEADING + words::first_baseline(3.6),
    );
    let number_of = format!("{number}");
    let caption = if more { "set-up, continued" } else { "set-up" };
    line.text(Point::new(0.0, first), CAPTION, Anchor::Start, caption);
    line.bold_text(Point::new(0.0, second), 3.6, Anchor::Start, number_of);
    let side = |side: Side| side.letter().to_owned();
    let dials = [
        (
            Dial::OffSquare,
            "off square",
            setting.off_square.map(write_angle),
        ),
        (
            Dial::Offset,
            "offset",
            setting.offset.map(|offset| offset_in_words(offset, unit)),
        ),
        (
            Dial::Turn,
            "turn in the clamp",
            setting.turn.map(|turn| write_angle(turn.within_turn())),
        ),
        (Dial::First, "end at the saw", setting.first.map(side)),
    ];
    for (part, (dial, caption, value)) in DIALS.into_iter().zip(dials) {
        let x = width * part;
        let changed = set_up.changes.contains(&dial);
        let value = value.unwrap_or_else(|| String::from("not used"));
        line.text(Point::new(x, first), CAPTION, Anchor::Start, caption);
        let at = Point::new(x, second);
        if changed {
            line.bold_text(at, 3.6, Anchor::Start, value);
        } else {
            line.text(at, 3.6, Anchor::Start, value);
        }
    }
    rule(&mut line, Pen::HAIR);
    line
}

/// A cut with its boxes, on as many lines as they take.
fn set_cut(flow: &mut Flow, cut: &Cut) {
    let width = flow.width();
    let from = width * BOXES;
    let in_line = boxes_in(width - from);
    let label = printed_label(&cut.piece);
    let name = if label.is_empty() {
        cut.end.at_start().to_owned()
    } else {
        format!("{label}, {}", cut.end.name())
    };
    let name = if cut.count == 1 {
        name
    } else {
        format!("{name}: {} cuts", cut.count)
    };
    let pre_cut = cut.notes.pre_cut;
    let pre_cut = pre_cut.map(|angle| format!(", pre-cut first {}", write_angle(angle)));
    let bites = cut.notes.bites.map(|bites| format!(", {bites} bites"));
    let name = name + &pre_cut.unwrap_or_default() + &bites.unwrap_or_default();
    let mut lines = words::wrap(&name, VALUE, false, from - INDENT - 4.0).into_iter();
    let mut left = cut.count;
    loop {
        let words = lines.next();
        if words.is_none() && left == 0 {
            break;
        }
        let mut line = Drawing::new(width, LINE);
        if let Some(words) = words {
            let at = Point::new(INDENT, 0.9 + words::first_baseline(VALUE));
            line.text(at, VALUE, Anchor::Start, words);
        }
        let count = left.min(in_line);
        boxes(&mut line, Point::new(from, (LINE - BOX) / 2.0), count);
        left -= count;
        flow.add(0.0, line);
    }
}
