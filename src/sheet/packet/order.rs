//! What a packet is made of, and what may keep it from being made.

use crate::job::shop::{Cut, RunList};
use crate::job::{Draft, PieceDraft, Printer};
use crate::joint::RoundTube;
use crate::piece::{Clamps, Side, Template};
use crate::sheet::facts::printed_label;
use crate::sheet::packet::cut_list::TubeCutList;
use crate::stock::{Density, Paper};
use crate::units::Unit;

/// A piece of a job, to be printed.
#[derive(Debug, Clone, Copy)]
pub struct PieceToPrint<'a> {
    /// Its number in the list, from 1.
    pub number: usize,
    /// Its name; may be empty.
    pub label: &'a str,
    /// How many are wanted.
    pub count: u32,
    /// Whether all of them are made; then nothing is printed for it but its line in the contents.
    pub done: bool,
    /// The whole piece; none where only one end is asked for.
    pub draft: Option<&'a PieceDraft>,
    /// Its ends as read by themselves, those that are coped.
    pub ends: [Option<&'a Draft>; 2],
    /// Link that opens it again; may be empty.
    pub link: &'a str,
    /// What is to be said about the saw at each end, each line with its caption.
    pub saws: [&'a [(&'static str, String)]; 2],
}

impl PieceToPrint<'_> {
    /// The template of an end, if it is coped.
    pub(super) fn template(&self, side: Side) -> Option<&Template> {
        match self.draft {
            Some(draft) => draft.piece.end(side).template(),
            None => self.ends[side.index()].map(|end| &end.template),
        }
    }

    pub(super) fn tube(&self) -> Option<&RoundTube> {
        match self.draft {
            Some(draft) => Some(draft.piece.tube()),
            None => {
                let mut sides = Side::BOTH.into_iter();
                let template = sides.find_map(|side| self.template(side))?;
                Some(template.cope().joint().branch())
            }
        }
    }

    /// What it is called: its label, or its number.
    pub(super) fn name(&self) -> String {
        let label = printed_label(self.label);
        if label.is_empty() {
            format!("Piece {}", self.number)
        } else {
            label
        }
    }
}

/// Which parts of a packet are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Parts {
    /// The contents with the list of pieces, the bank card and the cautions.
    pub contents: bool,
    /// The cut lists.
    pub cut_list: bool,
    /// The run list.
    pub run_list: bool,
    /// The templates of the ends.
    pub templates: bool,
    /// The templates for the mains, of ends that ask for them.
    pub landings: bool,
    /// Tables of ordinates at so many divisions.
    pub tables: Option<u32>,
    /// The sheet of each piece.
    pub piece_sheets: bool,
    /// The comparison of each left and right pair.
    pub comparison: bool,
}

impl Parts {
    /// All but the tables.
    pub const USUAL: Self = Self {
        contents: true,
        cut_list: true,
        run_list: true,
        templates: true,
        landings: true,
        tables: None,
        piece_sheets: true,
        comparison: true,
    };
}

/// A job to be printed, and how.
#[derive(Debug, Clone, Copy)]
pub struct JobOrder<'a> {
    /// What the job is called; may be empty.
    pub title: &'a str,
    /// Its pieces.
    pub pieces: &'a [PieceToPrint<'a>],
    /// Left and right: places in `pieces`.
    pub pairs: &'a [[usize; 2]],
    /// Unit of the lengths in words.
    pub unit: Unit,
    /// What the pieces are made of, for their mass.
    pub density: Option<Density>,
    /// What the machines need to hold on to.
    pub clamps: Clamps,
    /// The paper in the printer.
    pub paper: Paper,
    /// The printer's margin, orientation and correction.
    pub printer: &'a Printer,
    /// Date in words; may be empty.
    pub date: &'a str,
    /// Link that opens the job again; may be empty.
    pub link: &'a str,
    /// The cuts of the job and the order to run them in.
    pub run_list: Option<(&'a [Cut], &'a RunList)>,
    /// What comes from which bars, tube by tube.
    pub cut_lists: &'a [TubeCutList<'a>],
    /// What is printed of all this.
    pub parts: Parts,
}

/// Why there is no packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PacketError {
    /// It was told to stop.
    Cancelled,
    /// Nothing is chosen, or there is nothing of what is chosen.
    Nothing,
}

impl PacketError {
    /// The refusal in words.
    #[must_use]
    pub fn sentence(&self) -> String {
        String::from(match self {
            Self::Cancelled => "The packet was not finished: it was told to stop.",
            Self::Nothing => {
                "There is nothing to print: no part of the packet is chosen, or the job has nothing \
                 for the parts that are. Choose the contents at least."
            }
        })
    }
}
