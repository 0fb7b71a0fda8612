//! The comparison of a left and right pair: the line of one end and, over it, that of the other
//! piece in the mirror. They must lie on each other.

use crate::job::{Orientation, Printer};
use crate::piece::{Likeness, Piece, Side, Template, likeness};
use crate::sheet::Packet;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pattern, Pen, Point};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::flow::Flow;
use crate::sheet::packet::rows::{heading, paragraph};
use crate::sheet::page::{Frame, Letterhead};
use crate::sheet::words;
use crate::stock::Paper;
use crate::units::{Angle, Length, Unit, write_angle, write_length};

/// Turns at which the two lines are compared, none of them on a round number of degrees.
const COMPARED: u32 = 720;
/// Apart by no more than this they are one line on paper, twice the tolerance of a printed line.
const SAME: Length = Length::from_mm(0.02);
/// Room under the mark line for the turns, mm.
const UNDER: f64 = 5.0;
/// Size of the words, mm.
const SIZE: f64 = 3.0;
/// The other line: broad dots, so that the thin line is seen between them.
const DOTS: Pen = Pen {
    width: 0.5,
    pattern: Pattern::Dotted,
};

/// A left and right pair to be compared on paper.
#[derive(Debug, Clone, Copy)]
pub struct PairOrder<'a> {
    /// Both pieces; which is called left is all the same.
    pub pieces: [&'a Piece; 2],
    /// Their names; may be empty.
    pub labels: [&'a str; 2],
    /// Unit of the lengths in words.
    pub unit: Unit,
    /// Date in words; may be empty.
    pub date: &'a str,
    /// The paper in the printer.
    pub paper: Paper,
    /// The printer's margin, orientation and correction.
    pub printer: &'a Printer,
}

impl PairOrder<'_> {
    fn names(&self) -> [String; 2] {
        let name = |label: &str, other: &str| {
            let label = printed_label(label);
            if label.is_empty() {
                other.to_owned()
            } else {
                label
            }
        };
        let [first, second] = self.labels;
        [
            name(first, "the first piece"),
            name(second, "the second piece"),
        ]
    }

    /// What the head of its sheets says.
    fn letterhead(&self) -> Letterhead {
        let [first, second] = self.names();
        Letterhead {
            title: format!("{first} and {second}"),
            subtitle: String::from("Left and right compared, one in the mirror"),
            date: words::clean(self.date),
        }
    }
}

/// The contents of the sheets that compare a pair.
fn contents(order: &PairOrder, frame: &Frame) -> Vec<Drawing> {
    let mut flow = Flow::new(frame.inner());
    let width = flow.width();
    let names = order.names();
    let [first, second] = &names;
    let lead = format!(
        "The thin line is {first}. The dots are {second}, seen in the mirror. A left and right pair \
         is right when the dots lie on the line all along, at both ends."
    );
    flow.add(0.0, paragraph(&lead, SIZE, false, width));
    let letters = order.pieces.map(Piece::check_sum);
    let alike = if letters[0] == letters[1] {
        "the same, as they must be"
    } else {
        "not the same: these two are no left and right pair. Check the numbers of both before \
         cutting"
    };
    let [a, b] = &letters;
    let sentence = format!("Check letters: {a} and {b}, {alike}.");
    flow.add(2.0, paragraph(&sentence, SIZE, true, width));
    let lengths = order.pieces.map(|piece| piece.lengths().overall);
    let [a, b] = lengths.map(|length| write_length(length, order.unit));
    let sentence = if (lengths[0] - lengths[1]).abs() <= SAME {
        format!("Both are {a} overall.")
    } else {
        let off = write_length((lengths[0] - lengths[1]).abs(), order.unit);
        format!("Overall {a} and {b}: {off} apart. Check the lengths before cutting.")
    };
    flow.add(1.4, paragraph(&sentence, SIZE, false, width));
    for side in Side::BOTH {
        let [first, second] = order.pieces.map(|piece| piece.end(side).template());
        match (first, second) {
            (Some(first), Some(second)) => end(&mut flow, order.unit, side, first, second),
            (None, None) => {
                let sentence = format!("{}: neither piece is coped.", side.at_start());
                flow.add(5.0, paragraph(&sentence, SIZE, false, width));
            }
            _ => {
                let sentence = format!(
                    "{}: only one of the pieces is coped. Check what is done with this end.",
                    side.at_start()
                );
                flow.add(5.0, paragraph(&sentence, SIZE, true, width));
            }
        }
    }
    flow.pages()
}

/// Compares the templates of an end.
fn end(flow: &mut Flow, unit: Unit, side: Side, first: &Template, second: &Template) {
    let width = flow.width();
    let Ok(mirrored) = second.mirrored() else {
        let sentence = format!("{} cannot be mirrored.", side.at_start());
        flow.add(5.0, paragraph(&sentence, SIZE, true, width));
        return;
    };
    let (other, turned) = match likeness(first, &mirrored) {
        Likeness::Turned(by) => (mirrored.turned(Angle::ZERO - by), Some(by)),
        Likeness::Same | Likeness::Different => (mirrored, None),
    };
    let (apart, at) = apart(first, &other);
    let mut said = if apart <= SAME {
        String::from("The lines coincide.")
    } else {
        format!(
            "The lines do not coincide: they are up to {} apart, most at {}. Check the numbers of \
             this end before cutting.",
            write_length(apart, unit),
            write_angle(at)
        )
    };
    if let Some(by) = turned {
        said.push_str(&format!(
            " Their zero lines are not mirrored: one is turned by {} against the other, so each \
             piece needs its own.",
            write_angle(by)
        ));
    }
    said.push_str(match likeness(first, second) {
        Likeness::Same => " One template of this end serves both pieces.",
        Likeness::Turned(_) => {
            " One template of this end serves both pieces, laid on the zero line of each in its own \
             turn."
        }
        Likeness::Different => "",
    });
    let (drawing, scale) = overlay(first, &other, width);
    let remark = match scale {
        1 => String::from("true to scale"),
        scale => format!("drawn 1 : {scale}"),
    };
    let sentence = paragraph(&said, SIZE, apart > SAME, width);
    let head = heading(side.at_start(), &remark, width);
    flow.add_with(7.0, head, sentence.height + drawing.height + 5.0);
    flow.add_with(1.6, sentence, drawing.height + 3.0);
    flow.add(3.0, drawing);
}

/// How far two lines are apart at most, and at which turn.
fn apart(first: &Template, other: &Template) -> (Length, Angle) {
    let mut most = (Length::ZERO, Angle::ZERO);
    for step in 0..COMPARED {
        let turn = Angle::FULL * ((f64::from(step) + 0.317) / f64::from(COMPARED));
        let height = |template: &Template| template.station(turn).point.above_mark;
        let apart = (height(first) - height(other)).abs();
        if apart > most.0 {
            most = (apart, turn);
        }
    }
    most
}

/// Both lines over one mark line, and how many times smaller than they are.
fn overlay(first: &Template, other: &Template, room: f64) -> (Drawing, u32) {
    let both = [first, other];
    let widths = both.map(|template| template.wrap().width().mm());
    let wide = widths[0].max(widths[1]);
    let high = both
        .map(|template| template.mark_to_long().mm())
        .into_iter()
        .fold(0.0, f64::max);
    // Two ends to a sheet of the smallest paper, with their words.
    let mut scale = 1_u32;
    while (wide / f64::from(scale) > room || high / f64::from(scale) > room * 0.45) && scale < 64 {
        scale *= 2;
    }
    let shrunk = |length: f64| length / f64::from(scale);
    let mark = shrunk(high);
    let mut drawing = Drawing::new(room, mark + UNDER);
    let right = f64::midpoint(room, shrunk(wide));
    for (template, (layer, pen)) in both
        .into_iter()
        .zip([(Layer::Tube, Pen::THIN), (Layer::Hidden, DOTS)])
    {
        for run in template.line() {
            let points = run.points.iter().map(|point| {
                Point::new(
                    right - shrunk(point.around.mm()),
                    mark - shrunk(point.above_mark.mm()),
                )
            });
            drawing.line(layer, pen, points);
        }
    }
    let left = right - shrunk(widths[0]);
    let ends = [Point::new(left, mark), Point::new(right, mark)];
    drawing.line(Layer::Frame, Pen::THIN, ends);
    for quarter in 0..=4_u32 {
        let turn = Angle::QUARTER * f64::from(quarter);
        let x = right - shrunk(widths[0]) * f64::from(quarter) / 4.0;
        let ends = [Point::new(x, mark), Point::new(x, mark + 1.2)];
        drawing.line(Layer::Frame, Pen::THIN, ends);
        let at = Point::new(x, mark + 1.8 + words::first_baseline(2.5));
        let anchor = match quarter {
            0 => Anchor::End,
            4 => Anchor::Start,
            _ => Anchor::Middle,
        };
        drawing.text(at, 2.5, anchor, write_angle(turn));
    }
    (drawing, scale)
}

/// Lays the comparison of a left and right pair out: of each end both lines over each other, one in
/// the mirror, and the check letters of both pieces.
#[must_use]
pub fn lay_out_pair(order: &PairOrder) -> Packet {
    let turned = order.printer.orientation() == Orientation::Sideways;
    let frame = Frame::new(order.paper, order.printer, turned);
    let contents = contents(order, &frame);
    let total = contents.len();
    let head = order.letterhead();
    let pages = contents.into_iter().enumerate().map(|(at, content)| {
        let which = if total > 1 {
            format!("comparison {} of {total}", at + 1)
        } else {
            String::from("comparison")
        };
        let mut page = frame.blank(&head, &which);
        page.items.extend(content.items);
        frame.finish(page)
    });
    Packet {
        pages: pages.collect(),
        turned,
        columns: 1,
        rows: 1,
        corrected: order.printer.is_corrected(),
        notes: Vec::new(),
    }
}
