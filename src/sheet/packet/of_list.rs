//! A job as it is typed, made into a packet: its pieces read, its cuts and bars planned, its left
//! and right pairs found.

use std::sync::Arc;

use crate::job::list::{Job, JobPiece, PieceReading, Readings, Shown, blanks, mirrored_form};
use crate::job::saw::{
    EndPlan, PRE_CUT_CLEARANCE, plan_end, plan_ends, planned_cuts, pre_cut_on_paper,
    read_clearance, read_tools, saw_on_sheet,
};
use crate::job::shop::{Cut, CutList, CutListError, run_list};
use crate::job::{Draft, Field, PieceDraft, PieceForm, Printer, write_form};
use crate::piece::{Clamps, Side};
use crate::sheet::Packet;
use crate::sheet::packet::lay_out_job_with_codes;
use crate::sheet::packet::{JobOrder, PacketError, Parts, PieceToPrint, TubeCutList};
use crate::units::{Length, write_length, write_small};

/// A job with everything typed, to be printed.
#[derive(Debug, Clone, Copy)]
pub struct JobSheets<'a> {
    /// The job.
    pub job: &'a Job,
    /// The printer's margin, orientation and correction.
    pub printer: &'a Printer,
    /// Date in words; may be empty.
    pub date: &'a str,
    /// Address that fragments are put behind, the `#` included; empty for no links.
    pub address: &'a str,
    /// What is printed.
    pub parts: Parts,
}

/// Lays out a job as it is typed. `readings` keeps what has been read from one time to the next.
/// Pieces that cannot be made are left out, and the notes say why.
///
/// `progress` is told how many of how many steps are done, and stops the work by answering no.
///
/// # Errors
/// Being stopped, and a packet of no sheets.
pub fn lay_out_list(
    sheets: &JobSheets,
    readings: &mut Readings,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Packet, PacketError> {
    lay_out_list_with_codes(sheets, "", readings, progress)
}

/// The same with codes that open the pieces by the address of a page, where there is room on their
/// sheets; without an address there are none.
///
/// # Errors
/// As [`lay_out_list`].
pub fn lay_out_list_with_codes(
    sheets: &JobSheets,
    address: &str,
    readings: &mut Readings,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Packet, PacketError> {
    let job = sheets.job;
    let mut notes = Vec::new();
    let mut read: Vec<Arc<PieceReading>> = Vec::new();
    let count = job.pieces().len();
    // Reading is the first half of the work, laying out the second.
    let mut step = |done: usize, of: usize| progress(done, of);
    for (place, piece) in job.pieces().iter().enumerate() {
        if !step(place, 2 * count) {
            return Err(PacketError::Cancelled);
        }
        let reading = readings.read(piece);
        if let Some(problem) = reading.problems.first() {
            let name = job.name_at(place);
            notes.push(format!("“{name}” is left out. {problem}"));
        }
        read.push(reading);
    }
    let planned: Vec<Planned> = job
        .pieces()
        .iter()
        .zip(&read)
        .map(|(piece, reading)| Planned::of(job, piece, reading))
        .collect();
    let links: Vec<String> = job
        .pieces()
        .iter()
        .map(|piece| link(sheets.address, piece.form()))
        .collect();
    let pieces: Vec<PieceToPrint> = job
        .pieces()
        .iter()
        .zip(read.iter().zip(&planned))
        .zip(&links)
        .enumerate()
        .filter(|(_, ((_, (reading, _)), _))| reading.problems.is_empty())
        .map(|(place, ((piece, (_, planned)), link))| PieceToPrint {
            number: place + 1,
            label: piece.label(),
            count: planned.count(),
            done: piece.is_done(),
            draft: planned.piece.as_ref(),
            ends: planned.ends.each_ref().map(Option::as_ref),
            link,
            saws: planned.saws.each_ref().map(Vec::as_slice),
        })
        .collect();
    let places: Vec<usize> = pieces.iter().map(|piece| piece.number - 1).collect();
    let pairs = pairs(job, &places);
    let cuts = cuts(job, &planned);
    let run = run_list(&cuts)
        .map_err(|error| notes.push(error.sentence()))
        .ok()
        .filter(|_| !cuts.is_empty());

    let blanks = blanks(job, Shown::ToDo, |piece: &JobPiece| {
        let place = job.place_of(piece.id())?;
        read.get(place)?.piece.clone()
    });
    notes.extend(blanks.told.iter().cloned());
    let lists: Vec<Result<CutList, CutListError>> = blanks
        .groups
        .iter()
        .map(|group| group.cut_list(blanks.loss))
        .collect();
    let tubes: Vec<String> = blanks
        .groups
        .iter()
        .map(|group| tube_in_words(group.outside, group.wall, job))
        .collect();
    let mut cut_lists = Vec::new();
    for ((group, tube), list) in blanks.groups.iter().zip(&tubes).zip(&lists) {
        match list {
            Ok(list) => cut_lists.push(TubeCutList {
                tube,
                kg_per_metre: group.kg_per_metre,
                blanks: &group.blanks,
                stock: &group.stock,
                loss: blanks.loss,
                list,
            }),
            Err(error) => notes.push(format!("{tube}: {}", error.sentence(job.unit()))),
        }
    }
    let own_link = crate::job::list::write_pieces_link(job, sheets.address)
        .ok()
        .filter(|_| !sheets.address.is_empty());
    let own_link = own_link.map_or_else(String::new, |link| [sheets.address, &link].concat());
    let order = JobOrder {
        title: job.title(),
        pieces: &pieces,
        pairs: &pairs,
        unit: job.unit(),
        density: Some(blanks.material.density),
        clamps: Clamps::default(),
        paper: job.paper(),
        printer: sheets.printer,
        date: sheets.date,
        link: &own_link,
        run_list: run.as_ref().map(|run| (&cuts[..], run)),
        cut_lists: &cut_lists,
        parts: sheets.parts,
    };
    let mut packet =
        lay_out_job_with_codes(&order, address, &mut |done, of| step(of + done, 2 * of))?;
    packet.notes.splice(0..0, notes);
    Ok(packet)
}

fn link(address: &str, form: &PieceForm) -> String {
    if address.is_empty() {
        return String::new();
    }
    [address, &write_form(form)].concat()
}

fn tube_in_words(outside: Length, wall: Length, job: &Job) -> String {
    let unit = job.unit();
    format!(
        "{} × {} tube",
        write_length(outside, unit),
        write_small(wall, unit)
    )
}

/// What is to be said about the saw at each end, each line with its caption.
pub type Saws = [Vec<(&'static str, String)>; 2];

/// A piece as it was read, with the straight cuts that its saws advise on its templates, and what
/// is to be said about those saws.
#[must_use]
pub fn with_saws(job: &Job, piece: &JobPiece, reading: &PieceReading) -> (PieceReading, Saws) {
    let Planned {
        piece, ends, saws, ..
    } = Planned::of(job, piece, reading);
    let reading = PieceReading {
        ends,
        piece,
        problems: reading.problems.clone(),
    };
    (reading, saws)
}

/// A piece with its ends planned, their pre-cuts on their templates.
struct Planned {
    piece: Option<PieceDraft>,
    ends: [Option<Draft>; 2],
    plans: [Option<EndPlan>; 2],
    saws: Saws,
}

impl Planned {
    fn of(job: &Job, piece: &JobPiece, reading: &PieceReading) -> Self {
        let mut planned = Self {
            piece: reading.piece.clone(),
            ends: reading.ends.clone(),
            plans: [None, None],
            saws: Default::default(),
        };
        // Of a piece that is made nothing is printed but its line in the contents.
        if piece.is_done() || !reading.problems.is_empty() {
            return planned;
        }
        let own = job.at_hand();
        let (tools, _) = read_tools(own, job.unit());
        let clearance = read_clearance(&own.clearance, job.unit()).unwrap_or(PRE_CUT_CLEARANCE);
        if let Some(draft) = planned.piece.take() {
            planned.plans = plan_ends(&draft, &tools, clearance);
            let lines = Side::BOTH.map(|side| {
                let plan = planned.plans[side.index()].as_ref();
                let template = draft.piece.end(side).template();
                plan.zip(template)
                    .map_or_else(Vec::new, |(plan, template)| {
                        pre_cut_on_paper(template, plan)
                    })
            });
            for side in Side::BOTH {
                let plan = planned.plans[side.index()].as_ref();
                if let Some((plan, template)) = plan.zip(draft.piece.end(side).template()) {
                    planned.saws[side.index()] = saw_on_sheet(plan, template);
                }
            }
            let piece = draft.piece.clone().with_pre_cuts(lines);
            for side in Side::BOTH {
                if let (Some(end), Some(template)) =
                    (&mut planned.ends[side.index()], piece.end(side).template())
                {
                    end.template = template.clone();
                }
            }
            planned.piece = Some(PieceDraft { piece, ..draft });
        } else if let Some(end) = &mut planned.ends[0] {
            let plan = plan_end(&end.template, Side::A, None, end.unit, &tools, clearance);
            let line = pre_cut_on_paper(&end.template, &plan);
            planned.saws[0] = saw_on_sheet(&plan, &end.template);
            end.template = end.template.clone().with_pre_cut(line);
            planned.plans[0] = Some(plan);
        }
        planned
    }

    fn count(&self) -> u32 {
        self.piece.as_ref().map_or(1, |draft| draft.count)
    }
}

/// The cuts of the pieces that are to be made.
fn cuts(job: &Job, planned: &[Planned]) -> Vec<Cut> {
    let all = planned.iter().enumerate();
    all.flat_map(|(place, own)| planned_cuts(&job.name_at(place), &own.plans, own.count()))
        .collect()
}

/// Left and right: pieces that are each other's mirror form and not alike, by their places among
/// those that are printed.
fn pairs(job: &Job, places: &[usize]) -> Vec<[usize; 2]> {
    let unnamed = |form: PieceForm| {
        let end = form.end(Side::A).with_text(Field::Label, "");
        form.with_end(Side::A, end)
    };
    let forms: Vec<PieceForm> = places
        .iter()
        .filter_map(|place| job.pieces().get(*place))
        .map(|piece| unnamed(piece.form().clone()))
        .collect();
    let mut pairs: Vec<[usize; 2]> = Vec::new();
    for (left, form) in forms.iter().enumerate() {
        if !form.is_whole() || pairs.iter().any(|pair| pair.contains(&left)) {
            continue;
        }
        let partner = mirrored_form(form);
        let found = (left + 1..forms.len()).find(|right| {
            forms[*right] == partner && !pairs.iter().any(|pair| pair.contains(right))
        });
        if let Some(right) = found.filter(|_| partner != *form) {
            pairs.push([left, right]);
        }
    }
    pairs
}
