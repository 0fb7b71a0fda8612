//! The run list on paper: saw by saw, set-up by set-up, with a box to tick for every cut.

use crate::job::shop::{Cut, Dial, RunList, Saw, SawRun, SetUp, Setting};
use crate::piece::Side;
use crate::sheet::Pen;
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::numbers::counted;
use crate::sheet::packet::rows::{BOX, CAPTION, VALUE, boxes, boxes_in, heading, paragraph, rule};
use crate::sheet::words;
use crate::units::{Angle, Length, Unit, write_angle, write_length};

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
    let is_aside = |cut: &Cut| cut.setting.offset.is_some_and(|by| by != Length::ZERO);
    if cuts.iter().any(is_aside) {
        let side = "Offset: how far the saw’s axis is dialled to the left or right of the tube’s, seen \
                    from behind the saw with the tube’s body upwards.";
        flow.add(0.5, paragraph(side, 2.8, false, width));
    }
    let mut number = 0;
    for run in &list.saws {
        let name = saw_in_words(run.saw, unit);
        let remark = format!(
            "{} in {}",
            counted(run.count, "cut"),
            counted(run.set_ups.len(), "set-up")
        );
        let again = format!("{name}, continued");
        let remark = with_tool(cuts, run, remark, width);
        let head = heading(&name, &remark, width);
        flow.head(0, 5.0, head, heading(&again, &remark, width), FIRST);
        for set_up in &run.set_ups {
            number += 1;
            let setting = shown(cuts, set_up);
            let line = |more: bool| set_up_line(set_up, &setting, number, more, unit, width);
            flow.head(1, SET_UP_GAP, line(false), line(true), LINE);
            for cut in set_up.cuts.iter().filter_map(|cut| cuts.get(*cut)) {
                set_cut(flow, cut);
            }
        }
        flow.end(0);
    }
}

/// A heading's remark with the saw's own name and speed before it, where all its cuts have the same
/// and there is room.
fn with_tool(cuts: &[Cut], run: &SawRun, remark: String, width: f64) -> String {
    let all = run.set_ups.iter().flat_map(|set_up| &set_up.cuts);
    let mut tools = all.filter_map(|cut| Some(&*cuts.get(*cut)?.tool));
    let Some(tool) = tools.next().filter(|tool| !tool.is_empty()) else {
        return remark;
    };
    let long = format!("{}: {remark}", words::clean(tool));
    if tools.all(|other| other == tool) && words::width(&long, 3.0, false) < width * 0.7 {
        long
    } else {
        remark
    }
}

/// What the dials are set to: what all cuts of the set-up ask for where that is the same as far as
/// it is written, so that it reads as everywhere else; otherwise the middle of the tick.
fn shown(cuts: &[Cut], set_up: &SetUp) -> Setting {
    let mut all = set_up.cuts.iter().filter_map(|cut| cuts.get(*cut));
    let Some(first) = all.next().map(|cut| cut.setting) else {
        return set_up.setting;
    };
    let angle = |angle: Option<Angle>| angle.map(write_angle);
    let offset = |setting: &Setting| setting.offset.map(|by| write_length(by, Unit::Millimetre));
    let same = |other: &Setting| {
        angle(other.off_square) == angle(first.off_square)
            && angle(other.turn) == angle(first.turn)
            && offset(other) == offset(&first)
    };
    if all.all(|cut| same(&cut.setting)) {
        first
    } else {
        set_up.setting
    }
}

/// An offset with its side.
fn aside(offset: Length, unit: Unit) -> String {
    let by = write_length(offset.abs(), unit);
    if offset > Length::ZERO {
        format!("{by} left")
    } else if offset < Length::ZERO {
        format!("{by} right")
    } else {
        String::from("none")
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
            setting.offset.map(|offset| aside(offset, unit)),
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
    let name = if cut.note.is_empty() {
        name
    } else {
        format!("{name} ({})", cut.note)
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
