//! Files of a job, made away from the page: sheets as PDF, templates for drawing programs and
//! cutters, tables, solids, and everything in one archive.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::app::packet::{Wanted, packet};
use crate::app::workshop::of_piece::OfPiece;
use crate::app::workshop::worker::Request;
use crate::app::workshop::{code, piece_sheet};
use crate::job::list::{Job, JobPiece, PieceReading, Readings, write_job};
use crate::job::saw::read_tools;
use crate::job::{FileNames, write_form};
use crate::piece::Side;
use crate::sheet::Drawing;
use crate::sheet::packet::{JobSheets, lay_out_list_with_codes, with_saws};
use crate::stock::Density;
use crate::write::{NotFinite, PdfAbout, PdfDay, pdf, pdf_letters_lost, zip};

/// Which file is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Wish {
    /// The sheets of the piece on the bench.
    PieceSheets,
    /// The sheets of the whole job.
    JobSheets,
    /// Something of an end, 0 or 1, of the piece on the bench.
    OfEnd(usize, Kind),
    /// The template for a main, counted from 0, of an end.
    OfMain(usize, usize, Kind),
    /// Everything of the job.
    Archive,
}

/// What something is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// The template for drawing programs.
    Svg,
    /// The template for cutters.
    Dxf,
    /// The table of heights.
    Csv,
    /// The cut end as a solid.
    End,
    /// The marking sleeve as a solid.
    Sleeve,
}

impl Kind {
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Dxf => "dxf",
            Self::Csv => "csv",
            Self::End | Self::Sleeve => "stl",
        }
    }

    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Svg => "image/svg+xml",
            Self::Dxf => "image/vnd.dxf",
            Self::Csv => "text/csv",
            Self::End | Self::Sleeve => "model/stl",
        }
    }
}

/// A file that was made.
pub struct Made {
    pub name: String,
    pub kind: &'static str,
    pub bytes: Vec<u8>,
    /// What is to be known of it; may be empty.
    pub note: String,
}

const PDF: &str = "application/pdf";

/// Makes a file, or says why there is none.
pub fn make(
    request: &Request,
    job: &Job,
    wish: Wish,
    readings: &mut Readings,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Made, String> {
    let mut making = Making {
        request,
        job,
        names: FileNames::new(),
    };
    match wish {
        Wish::JobSheets => {
            let (pages, note) = making.packet(readings, progress)?;
            let name = making.names.name(&[job.title(), "packet"], "pdf");
            let bytes = making.pdf(&pages, job.title())?;
            Ok(Made {
                name,
                kind: PDF,
                bytes,
                note,
            })
        }
        Wish::Archive => making.archive(readings, progress),
        Wish::PieceSheets => {
            let (place, piece, reading) = making.on_bench(readings)?;
            let pages = making.piece_pages(&piece, &reading)?;
            let label = job.name_at(place);
            Ok(Made {
                name: making.names.name(&[job.title(), &label], "pdf"),
                kind: PDF,
                bytes: making.pdf(&pages, &label)?,
                note: lost(&pages),
            })
        }
        Wish::OfEnd(end, kind) => {
            let (place, piece, reading) = making.on_bench(readings)?;
            let own = OfPiece::new(request, job, place, &piece, &reading);
            own.of_end(&mut making.names, side(end)?, kind)
        }
        Wish::OfMain(end, main, kind) => {
            let (place, piece, reading) = making.on_bench(readings)?;
            let own = OfPiece::new(request, job, place, &piece, &reading);
            own.of_main(&mut making.names, side(end)?, main, kind)
        }
    }
}

fn side(end: usize) -> Result<Side, String> {
    let side = Side::BOTH.get(end).copied();
    side.ok_or_else(|| String::from("A piece has two ends."))
}

pub fn refused(error: NotFinite) -> String {
    format!("The file was not made: {error}. Save the job as a file and load the page again.")
}

struct Making<'a> {
    request: &'a Request,
    job: &'a Job,
    names: FileNames,
}

impl Making<'_> {
    /// Of what the job's tube is made.
    fn density(&self) -> Density {
        let (tools, _) = read_tools(self.job.at_hand(), self.job.unit());
        tools.material.density
    }

    /// The piece on the bench, its place and its reading without a fault.
    fn on_bench(
        &self,
        readings: &mut Readings,
    ) -> Result<(usize, Arc<JobPiece>, Arc<PieceReading>), String> {
        let at = self.request.at;
        let (Some(place), Some(piece)) = (self.job.place_of(at), self.job.piece(at)) else {
            return Err(String::from("The piece is no longer on the list."));
        };
        let reading = readings.read(piece);
        match reading.problems.first() {
            Some(problem) => Err(format!("There is no file of this piece yet. {problem}")),
            None => Ok((place, Arc::clone(piece), reading)),
        }
    }

    /// What the sheets show of the piece on the bench.
    fn piece_pages(
        &self,
        piece: &JobPiece,
        reading: &PieceReading,
    ) -> Result<Vec<Drawing>, String> {
        let form = piece.form();
        let (reading, saws) = &with_saws(self.job, piece, reading);
        let link = [&self.request.address, &*write_form(form)].concat();
        let wanted = Wanted {
            ends: reading.ends.each_ref().map(Option::as_ref),
            whole: form.is_whole(),
            link: &link,
            date: &self.request.date,
            paper: self.job.paper(),
            printer: &self.request.printer,
            saws: saws.each_ref().map(Vec::as_slice),
            divisions: self.request.parts.tables,
        };
        let mut sheets = packet(&wanted)?;
        if let Some(draft) = &reading.piece {
            sheets
                .pages
                .splice(0..0, piece_sheet(draft, &wanted, self.density()).pages);
        }
        code::on_piece(&mut sheets, &wanted, &self.request.code_address);
        Ok(sheets.pages)
    }

    /// The sheets of the job, and what is to be known of them.
    fn packet(
        &self,
        readings: &mut Readings,
        progress: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Result<(Vec<Drawing>, String), String> {
        let order = JobSheets {
            job: self.job,
            printer: &self.request.printer,
            date: &self.request.date,
            address: &self.request.address,
            parts: self.request.parts,
        };
        let address = &self.request.code_address;
        let packet = lay_out_list_with_codes(&order, address, readings, progress)
            .map_err(|error| error.sentence())?;
        let mut notes = packet.notes;
        notes.push(lost(&packet.pages));
        Ok((packet.pages, notes.join(" ").trim().to_owned()))
    }

    fn pdf(&self, pages: &[Drawing], label: &str) -> Result<Vec<u8>, String> {
        let title = if self.job.title().is_empty() {
            "Templates"
        } else {
            self.job.title()
        };
        let about = PdfAbout {
            title,
            label,
            made: day(&self.request.date),
        };
        pdf(pages, self.job.paper(), &about).map_err(refused)
    }

    /// Job file, packet, and of each end everything there is.
    fn archive(
        mut self,
        readings: &mut Readings,
        progress: &mut dyn FnMut(usize, usize) -> bool,
    ) -> Result<Made, String> {
        let job = self.job;
        let pieces = job.pieces().len();
        let name = self.names.name(&[job.title(), "job"], "json");
        let mut all: Vec<(String, Vec<u8>)> = vec![(name, write_job(job).into())];
        let mut steps = 0;
        let (pages, note) = self.packet(readings, &mut |done, of| {
            steps = of;
            progress(done, of + pieces)
        })?;
        let mut notes = vec![note];
        let name = self.names.name(&[job.title(), "packet"], "pdf");
        all.push((name, self.pdf(&pages, job.title())?));
        for (place, piece) in job.pieces().iter().enumerate() {
            progress(steps + place, steps + pieces);
            let reading = readings.read(piece);
            if !reading.problems.is_empty() {
                // The packet's notes say so.
                continue;
            }
            let mut names = std::mem::take(&mut self.names);
            let own = OfPiece::new(self.request, job, place, piece, &reading);
            let mut take = |made: Result<Made, String>| match made {
                Ok(made) => all.push((made.name, made.bytes)),
                Err(why) => notes.push(format!("{}: {why}", own.name)),
            };
            for side in Side::BOTH {
                if own.template(side).is_none() {
                    continue;
                }
                for kind in [Kind::Svg, Kind::Dxf, Kind::Csv, Kind::Sleeve] {
                    take(own.of_end(&mut names, side, kind));
                }
                for main in 0..own.mains(side) {
                    for kind in [Kind::Svg, Kind::Dxf] {
                        take(own.of_main(&mut names, side, main, kind));
                    }
                }
            }
            self.names = names;
        }
        let files = all.iter().map(|(name, bytes)| (&**name, &**bytes));
        let bytes = zip(files).map_err(|error| error.to_string())?;
        Ok(Made {
            name: self.names.name(&[job.title(), "everything"], "zip"),
            kind: "application/zip",
            bytes,
            note: notes.join(" ").trim().to_owned(),
        })
    }
}

/// What is to be said of letters that a PDF does not have; empty where it has all.
fn lost(pages: &[Drawing]) -> String {
    let lost = pdf_letters_lost(pages);
    if lost.is_empty() {
        return lost;
    }
    format!(
        "The PDF shows question marks for letters that its faces do not have: {lost}. The print from \
         the browser has them; or spell the label with others."
    )
}

/// The day of a date such as 2026-08-31.
fn day(date: &str) -> Option<PdfDay> {
    let mut parts = date.split('-');
    Some(PdfDay {
        year: parts.next()?.parse().ok()?,
        month: parts.next()?.parse().ok()?,
        day: parts.next()?.parse().ok()?,
    })
}
