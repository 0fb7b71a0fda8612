//! A template among others on a sheet: the strip with its own words, and a caption that says which
//! it is and what goes where.

use crate::job::shop::Saw;
use crate::job::{cautions_about, joint_in_words, offset_in_words};
use crate::joint::Shape;
use crate::piece::{PaperRun, Side, Template};
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::figure::{Captions, Figure};
use crate::sheet::packet::flow::put;
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
        if let (crate::cope::CutMethod::Saw, Shape::Round { radius }) =
            (cope.method(), main.shape())
        {
            let saw = Saw::Hole((*radius + cope.gap()) * 2.0);
            let saw = saw_in_words(saw, unit).replacen('H', "h", 1);
            words.push_str(&format!(", {saw}"));
        }
        if cope.gap() != Length::ZERO {
            words.push_str(&format!(", root gap {}", length(cope.gap())));
        }
        words.push('.');
        for caution in cautions_about(template) {
            words.push_str(" Mind: ");
            words.push_str(&caution.sentence(unit));
        }
        words
    }

    /// The template with its caption under it or, where that is asked for, beside it; `None` when
    /// no such figure fits the room.
    fn set(&self, line: &[PaperRun], tab: f64, beside: bool, room: Size) -> Option<Drawing> {
        let figure = Figure::new(self.template, line, self.captions(), tab, false);
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
        let gap = 0.8;
        let deep: f64 = blocks
            .iter()
            .map(|own| {
                if beside {
                    own.extent().0
                } else {
                    own.extent().1
                }
            })
            .sum::<f64>()
            + gap;
        let size = if beside {
            (figure.width + ASIDE + deep, long)
        } else {
            (long, figure.height + ASIDE + deep)
        };
        if !fits(size, room) {
            return None;
        }
        let mut cell = Drawing::new(size.0, size.1);
        put(
            &mut cell,
            figure.draw(&Joins::default()),
            Point::default(),
            false,
        );
        let mut at = ASIDE + if beside { figure.width } else { figure.height };
        for block in blocks {
            let (width, height) = block.extent();
            if beside {
                // Read from below: lines begin at the lower edge.
                let corner = Point::new(at, long - height);
                block.draw(&mut cell, corner, Anchor::Start);
                at += width + gap;
            } else {
                block.draw(&mut cell, Point::new(0.0, at), Anchor::Start);
                at += height + gap;
            }
        }
        Some(cell)
    }

    /// The template with its caption under it and, if it can be, beside it; `None` when it does
    /// not fit a room even with a short tab.
    pub fn cells(&self, room: Size) -> Option<Cell> {
        let line = self.template.line();
        [TAB, TAB_SHORT].into_iter().find_map(|tab| {
            let under = self.set(&line, tab, false, room);
            let beside = self.set(&line, tab, true, room);
            match (under, beside) {
                (Some(under), beside) => Some(Cell { under, beside }),
                (None, Some(only)) => Some(Cell {
                    under: only,
                    beside: None,
                }),
                (None, None) => None,
            }
        })
    }
}

/// A template ready to be nested.
pub struct Cell {
    /// With its caption under it, or the only way that it fits.
    pub under: Drawing,
    /// With its caption beside it.
    pub beside: Option<Drawing>,
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
    fn is_beside(&self, way: Way) -> bool {
        let area = |drawing: &Drawing| drawing.width * drawing.height;
        self.beside.as_ref().is_some_and(|beside| match way {
            Way::Under => false,
            Way::Smaller => area(beside) < area(&self.under),
            Way::Beside => true,
        })
    }

    /// How it looks.
    pub fn shown(&self, way: Way) -> &Drawing {
        match &self.beside {
            Some(beside) if self.is_beside(way) => beside,
            _ => &self.under,
        }
    }

    /// The same, taken out.
    pub fn taken(self, way: Way) -> Drawing {
        let is_beside = self.is_beside(way);
        match self.beside {
            Some(beside) if is_beside => beside,
            _ => self.under,
        }
    }
}

/// The size of a drawing.
pub const fn size(drawing: &Drawing) -> Size {
    (drawing.width, drawing.height)
}
