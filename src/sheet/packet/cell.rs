//! A template among others on a sheet: the strip with its own words, and a caption that says which
//! it is and what goes where.

use crate::job::saw::{CUT_WITH, SPEED};
use crate::job::shop::Saw;
use crate::job::{cautions_about, joint_in_words, offset_in_words};
use crate::joint::Shape;
use crate::piece::{Side, Template};
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::figure::{Captions, Figure};
use crate::sheet::packet::nest::{Size, fits};
use crate::sheet::packet::run_list::saw_in_words;
use crate::sheet::packet::{JobOrder, PieceToPrint};
use crate::sheet::placer::{Block, Joins};
use crate::sheet::strip::{TAB, TAB_SHORT};
use crate::sheet::words;
use crate::units::{Angle, Length, write_angle, write_length};

/// Size of the caption's first line, mm.
const NAME: f64 = 3.2;
/// Size of the rest of it, mm.
const SIZE: f64 = 2.5;
/// White between figure and caption, mm.
const ASIDE: f64 = 2.5;
/// White between the parts of a caption, mm.
const BETWEEN: f64 = 0.8;
/// Narrowest caption under a figure, mm.
const NARROWEST: f64 = 72.0;
/// Lowest caption beside a figure, mm.
const LOWEST: f64 = 50.0;

/// Which template it is.
#[derive(Clone, Copy)]
pub struct Which<'a> {
    pub order: &'a JobOrder<'a>,
    /// Place of the piece in the order.
    pub place: usize,
    pub piece: &'a PieceToPrint<'a>,
    pub side: Side,
    pub template: &'a Template,
}

impl Which<'_> {
    /// `Left brace, end A`; of an end that is all there is, its label.
    pub fn name(&self) -> String {
        if self.piece.draft.is_some() {
            format!("{}, {}", self.piece.name(), self.side.name())
        } else {
            self.piece.name()
        }
    }

    fn captions(&self) -> Captions {
        let length = |length: Length| write_length(length, self.order.unit);
        Captions {
            name: format!("{} · {}", self.piece.number, self.name()),
            joint: joint_in_words(self.template, self.order.unit),
            once_round: length(self.template.wrap().width()),
            mark_to_long: length(self.template.mark_to_long()),
        }
    }

    /// The first line of the caption.
    fn title(&self) -> String {
        let (number, of) = (self.piece.number, self.order.pieces.len());
        let count = self.piece.count;
        format!("Piece {number} of {of}: {}, make {count}", self.name())
    }

    /// What must be known at the bench.
    fn key_words(&self) -> String {
        let (unit, template) = (self.order.unit, self.template);
        let length = |length: Length| write_length(length, unit);
        let joint = template.cope().joint();
        let mut words = format!(
            "Mark line {} from the long point",
            length(template.mark_to_long())
        );
        if let Some(draft) = self.piece.draft {
            let own = draft.marks.blank.own[self.side.index()];
            words.push_str(&format!(
                ", its mark {} from this end of the blank",
                length(own.on_tape)
            ));
        }
        words.push_str(&format!(
            "; once round {}. ",
            length(template.wrap().width())
        ));
        if template.heel_turn() == Angle::ZERO {
            words.push_str("Heel on the zero line. ");
        } else {
            words.push_str(&format!(
                "Heel {} from the zero line. ",
                write_angle(template.heel_turn())
            ));
        }
        words.push_str(&format!("Off square {}", write_angle(joint.off_square())));
        let main = joint.main();
        if main.offset() != Length::ZERO {
            words.push_str(&format!(
                ", offset {}",
                offset_in_words(template, main, unit)
            ));
        }
        let cope = template.cope();
        let saws = self.piece.saws[self.side.index()];
        let at_hand = saws.iter().any(|(caption, _)| *caption == CUT_WITH);
        if let (true, crate::cope::CutMethod::Saw, Shape::Round { radius }) =
            (!at_hand, cope.method(), main.shape())
        {
            let saw = Saw::Hole((*radius + cope.gap()) * 2.0);
            let saw = saw_in_words(saw, unit).replacen('H', "h", 1);
            words.push_str(&format!(", {saw}"));
        }
        if cope.gap() != Length::ZERO {
            words.push_str(&format!(", root gap {}", length(cope.gap())));
        }
        words.push('.');
        // The speed is the saw's own, and the same for all its cuts.
        for (caption, text) in saws.iter().filter(|(caption, _)| *caption != SPEED) {
            let end = if text.ends_with('.') { "" } else { "." };
            words.push_str(&format!(" {caption}: {text}{end}"));
        }
        for caution in cautions_about(template) {
            words.push_str(" Mind: ");
            words.push_str(&caution.sentence(unit));
        }
        words
    }

    /// The caption under a figure, or beside it; `None` when both together do not fit the room.
    fn caption(&self, figure: &Figure, beside: bool, room: Size) -> Option<Caption> {
        let long = if beside {
            figure.height.max(LOWEST)
        } else {
            figure.width.max(NARROWEST)
        };
        let block = |text: &str, size: f64, bold: bool| {
            let mut block = Block::new(words::wrap(text, size, bold, long), size);
            block.bold = bold;
            block.upended = beside;
            block
        };
        let blocks = [
            block(&self.title(), NAME, true),
            block(&self.key_words(), SIZE, false),
        ];
        let depths = blocks.iter().map(Block::extent);
        let deep: f64 = depths.map(|(w, h)| if beside { w } else { h }).sum();
        let deep = ASIDE + deep + BETWEEN;
        let size = if beside {
            (figure.width + deep, long)
        } else {
            (long, figure.height + deep)
        };
        fits(size, room).then_some(Caption {
            blocks,
            beside,
            size,
        })
    }

    /// The template with the ways its caption can stand; `None` when it does not fit a room even
    /// with a short tab.
    pub fn cell(&self, room: Size) -> Option<Cell> {
        let line = self.template.line();
        [TAB, TAB_SHORT].into_iter().find_map(|tab| {
            let figure = Figure::new(self.template, &line, self.captions(), tab, false);
            let under = self.caption(&figure, false, room);
            let beside = self.caption(&figure, true, room);
            let (usual, other) = match (under, beside) {
                (Some(under), beside) => (under, beside),
                (None, only) => (only?, None),
            };
            Some(Cell {
                figure,
                usual,
                other,
            })
        })
    }
}

/// The words with a figure.
struct Caption {
    blocks: [Block; 2],
    /// Whether it stands at the right of the figure, read from below.
    beside: bool,
    /// Size of figure and caption together.
    size: Size,
}

/// A template ready to be nested.
pub struct Cell {
    figure: Figure,
    /// Its caption under it, or the only way that it fits.
    usual: Caption,
    /// Its caption beside it.
    other: Option<Caption>,
}

/// Where captions stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Under their templates.
    Under,
    /// Under or beside them, whichever takes less paper.
    Smaller,
    /// Beside them.
    Beside,
}

impl Cell {
    fn caption(&self, way: Way) -> &Caption {
        let area = |caption: &Caption| caption.size.0 * caption.size.1;
        match (&self.other, way) {
            (Some(beside), Way::Smaller) if area(beside) < area(&self.usual) => beside,
            (Some(beside), Way::Beside) => beside,
            _ => &self.usual,
        }
    }

    /// What it takes, its caption included.
    pub fn size(&self, way: Way) -> Size {
        self.caption(way).size
    }

    /// Draws it with its caption.
    pub fn draw(&self, way: Way) -> Drawing {
        let caption = self.caption(way);
        let (width, height) = caption.size;
        let mut cell = self.figure.draw(&Joins::default());
        (cell.width, cell.height) = (width, height);
        let beside = caption.beside;
        let from = if beside {
            self.figure.width
        } else {
            self.figure.height
        };
        let mut at = from + ASIDE;
        for block in &caption.blocks {
            let (wide, high) = block.extent();
            if beside {
                // Read from below: lines begin at the lower edge.
                block.draw(&mut cell, Point::new(at, height - high), Anchor::Start);
                at += wide + BETWEEN;
            } else {
                block.draw(&mut cell, Point::new(0.0, at), Anchor::Start);
                at += high + BETWEEN;
            }
        }
        cell
    }
}
