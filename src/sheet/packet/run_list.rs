//! The run list on paper: saw by saw, set-up by set-up, with a box to tick for every cut.

use crate::job::shop::{Cut, Dial, RunList, Saw, SetUp};
use crate::piece::Side;
use crate::sheet::Pen;
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::numbers::counted;
use crate::sheet::packet::rows::{BOX, CAPTION, VALUE, boxes, boxes_in, heading, paragraph, rule};
use crate::sheet::words;
use crate::units::{Unit, write_angle, write_length};

/// Height of the line of a set-up, mm.
const SET_UP: f64 = 10.0;
/// White above a set-up, mm.
const SET_UP_GAP: f64 = 1.6;
/// What a saw's heading keeps with: its first set-up and the first line of cuts of that, and a
/// little more, so that a rounded sum does not part them.
const FIRST: f64 = SET_UP_GAP + SET_UP + LINE + 0.01;
/// Where the dials of a set-up stand, as parts of the width.
const DIALS: [f64; 4] = [0.17, 0.37, 0.57, 0.8];
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
    let mut number = 0;
    for run in &list.saws {
        let name = saw_in_words(run.saw, unit);
        let remark = format!(
            "{} in {}",
            counted(run.count, "cut"),
            counted(run.set_ups.len(), "set-up")
        );
        let again = format!("{name}, continued");
        let head = heading(&name, &remark, width);
        flow.head(0, 5.0, head, heading(&again, &remark, width), FIRST);
        for set_up in &run.set_ups {
            number += 1;
            let line = |more: bool| set_up_line(set_up, number, more, unit, width);
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

/// What cuts, for the start of a line.
pub fn saw_in_words(saw: Saw, unit: Unit) -> String {
    match saw {
        Saw::Hole(diameter) => format!("Hole saw {}", write_length(diameter, unit)),
        Saw::Straight => String::from("Straight saw"),
        Saw::Grinder => String::from("Grinder, along the template"),
    }
}

/// Number and dials of a set-up; what is changed stands out.
fn set_up_line(set_up: &SetUp, number: usize, more: bool, unit: Unit, width: f64) -> Drawing {
    let mut line = Drawing::new(width, SET_UP);
    let (first, second) = (
        1.2 + words::first_baseline(CAPTION),
        1.2 + CAPTION * words::LEADING + words::first_baseline(3.6),
    );
    let number_of = format!("{number}");
    let caption = if more { "set-up, continued" } else { "set-up" };
    line.text(Point::new(0.0, first), CAPTION, Anchor::Start, caption);
    line.bold_text(Point::new(0.0, second), 3.6, Anchor::Start, number_of);
    let setting = &set_up.setting;
    let side = |side: Side| side.at_start().to_owned();
    let dials = [
        (
            Dial::OffSquare,
            "off square",
            setting.off_square.map(write_angle),
        ),
        (
            Dial::Offset,
            "offset",
            setting.offset.map(|offset| write_length(offset, unit)),
        ),
        (
            Dial::Turn,
            "turn in the clamp",
            setting.turn.map(write_angle),
        ),
        (Dial::First, "goes in first", setting.first.map(side)),
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
