//! A job: pieces with what they share, as one value. Every change makes another value, so that
//! undo is a [`crate::job::History`] of them; pieces that a change leaves alone are not copied.

mod blanks;
mod demo;
mod file;
mod hand_link;
mod kit;
mod label;
mod line;
mod link;
mod mirror;
mod number;
mod piece;
mod reading;
mod stretch;

use std::sync::Arc;

use crate::job::typed::is_bare;
use crate::job::{AtHand, Field, PieceForm};
use crate::piece::Side;
use crate::stock::Paper;
use crate::units::Unit;

pub use blanks::{Blanks, TubeGroup, USUAL_STOCK_SOURCE, blanks, read_form, stock_problems};
pub use demo::demo;
pub use file::{OpenedJob, job_file_name, open_job, write_job};
pub use hand_link::write_hand;
pub use kit::Kit;
pub use line::piece_line;
pub use link::{
    LINK_MAX, OpenedJobLink, is_job_link, open_job_link, write_job_link, write_pieces_link,
};
pub use mirror::mirrored_form;
pub use piece::{JobPiece, Shown};
pub use reading::{PieceReading, Readings};
pub use stretch::{StraightProblem, stretched_form};

/// Pieces with their stock, saws and paper. There is always at least one piece, and all of them
/// have the job's unit and paper.
#[derive(Debug, Clone)]
pub struct Job {
    title: String,
    unit: Unit,
    paper: Paper,
    printer: String,
    pieces: Vec<Arc<JobPiece>>,
    at_hand: Arc<AtHand>,
    /// The id of the next piece.
    next: u32,
}

impl PartialEq for Job {
    fn eq(&self, other: &Self) -> bool {
        let same = |(one, other): (&Arc<JobPiece>, &Arc<JobPiece>)| {
            // Most often it is the same piece in memory.
            Arc::ptr_eq(one, other) || one == other
        };
        self.title == other.title
            && self.unit == other.unit
            && self.paper == other.paper
            && self.printer == other.printer
            && self.pieces.len() == other.pieces.len()
            && self.pieces.iter().zip(&other.pieces).all(same)
            && (Arc::ptr_eq(&self.at_hand, &other.at_hand) || self.at_hand == other.at_hand)
            && self.next == other.next
    }
}

impl Job {
    /// A job of one piece, with its unit and paper.
    #[must_use]
    pub fn of_form(form: PieceForm) -> Self {
        let end = form.end(Side::A);
        Self {
            title: String::new(),
            unit: end.unit,
            paper: end.paper,
            printer: String::new(),
            pieces: vec![Arc::new(JobPiece::new(1, form))],
            at_hand: Arc::new(AtHand::default()),
            next: 2,
        }
    }

    /// A job of pieces, each with whether it is done; `None` without any.
    fn of_pieces(unit: Unit, paper: Paper, pieces: Vec<(PieceForm, bool)>) -> Option<Self> {
        let mut pieces = pieces.into_iter();
        let (first, done) = pieces.next()?;
        let first = on_paper(first.in_unit(unit), paper);
        let mut job = Self::of_form(first).with_done(1, done);
        for (form, done) in pieces {
            let (more, id) = job.with_added(None, form);
            job = more.with_done(id, done);
        }
        Some(job)
    }

    /// A job of the usual piece in a unit.
    #[must_use]
    pub fn usual(unit: Unit) -> Self {
        Self::of_form(PieceForm::usual(unit))
    }

    /// What the job is called; may be empty.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The same job under another title.
    #[must_use]
    pub fn with_title(mut self, title: impl Into<String>) -> Self {
        self.title = title.into();
        self
    }

    /// What a bare number means in every piece.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// The same job in another unit; no size changes.
    #[must_use]
    pub fn in_unit(mut self, unit: Unit) -> Self {
        if unit == self.unit {
            return self;
        }
        let changed = at_hand_in_unit(&self.at_hand, self.unit, unit);
        self.at_hand = Arc::new(changed);
        self.unit = unit;
        for piece in &mut self.pieces {
            let form = piece.form().clone().in_unit(unit);
            *piece = Arc::new(JobPiece::clone(piece).with_form(form));
        }
        self
    }

    /// The paper that everything is printed on.
    #[must_use]
    pub const fn paper(&self) -> Paper {
        self.paper
    }

    /// The same job on another paper.
    #[must_use]
    pub fn with_paper(mut self, paper: Paper) -> Self {
        if paper == self.paper {
            return self;
        }
        self.paper = paper;
        for piece in &mut self.pieces {
            let form = on_paper(piece.form().clone(), paper);
            *piece = Arc::new(JobPiece::clone(piece).with_form(form));
        }
        self
    }

    /// Name of the printer it was last printed on; empty where none was named.
    #[must_use]
    pub fn printer(&self) -> &str {
        &self.printer
    }

    /// The same job with a printer named.
    #[must_use]
    pub fn with_printer(mut self, name: impl Into<String>) -> Self {
        self.printer = name.into();
        self
    }

    /// Saws, machine, stock and material, as typed.
    #[must_use]
    pub fn at_hand(&self) -> &AtHand {
        &self.at_hand
    }

    /// The same job with other things at hand.
    #[must_use]
    pub fn with_at_hand(mut self, at_hand: AtHand) -> Self {
        self.at_hand = Arc::new(at_hand);
        self
    }

    /// The pieces in their order; at least one.
    #[must_use]
    pub fn pieces(&self) -> &[Arc<JobPiece>] {
        &self.pieces
    }

    /// The piece of an id.
    #[must_use]
    pub fn piece(&self, id: u32) -> Option<&Arc<JobPiece>> {
        self.pieces.iter().find(|piece| piece.id() == id)
    }

    /// Place of a piece on the list, counted from 0.
    #[must_use]
    pub fn place_of(&self, id: u32) -> Option<usize> {
        self.pieces.iter().position(|piece| piece.id() == id)
    }

    /// Name of the piece at a place, counted from 0: its label, or `piece 3`.
    #[must_use]
    pub fn name_at(&self, place: usize) -> String {
        let label = self.pieces.get(place).map_or("", |piece| piece.label());
        if label.is_empty() {
            format!("piece {}", place + 1)
        } else {
            label.to_owned()
        }
    }

    /// Name of the piece of an id, as [`Self::name_at`]; empty for one that is not there.
    #[must_use]
    pub fn name_of(&self, id: u32) -> String {
        let place = self.place_of(id);
        place.map_or_else(String::new, |place| self.name_at(place))
    }

    /// The pieces to be shown with their places, counted from 0.
    pub fn shown(&self, which: Shown) -> impl Iterator<Item = (usize, &Arc<JobPiece>)> {
        let all = self.pieces.iter().enumerate();
        all.filter(move |(_, piece)| which.holds(piece))
    }

    /// The same job with the form of a piece changed. A unit or a paper that the form has and the
    /// job has not goes to every other piece: they share it.
    #[must_use]
    pub fn with_form(self, id: u32, form: PieceForm) -> Self {
        let end = form.end(Side::A);
        let mut job = self.in_unit(end.unit).with_paper(end.paper);
        job.change(id, |piece| piece.with_form(form));
        job
    }

    /// The same job with a piece marked done or to do.
    #[must_use]
    pub fn with_done(mut self, id: u32, done: bool) -> Self {
        self.change(id, |piece| piece.with_done(done));
        self
    }

    fn change(&mut self, id: u32, by: impl FnOnce(JobPiece) -> JobPiece) {
        if let Some(piece) = self.pieces.iter_mut().find(|piece| piece.id() == id) {
            *piece = Arc::new(by(JobPiece::clone(piece)));
        }
    }

    /// The same job with one more piece, in the job's unit and on its paper, and the id of that.
    /// It goes behind the piece of the id `after`, or to the end.
    #[must_use]
    pub fn with_added(mut self, after: Option<u32>, form: PieceForm) -> (Self, u32) {
        let id = self.next;
        self.next = self.next.saturating_add(1);
        let form = on_paper(form.in_unit(self.unit), self.paper);
        let place = after.and_then(|after| self.place_of(after));
        let place = place.map_or(self.pieces.len(), |place| place + 1);
        self.pieces.insert(place, Arc::new(JobPiece::new(id, form)));
        (self, id)
    }

    /// The same job with a piece a second time behind itself, still to do, and the id of the new
    /// one. A label gets the next free number: two pieces of one name could not be told apart.
    #[must_use]
    pub fn with_duplicate(self, id: u32) -> (Self, u32) {
        let Some(piece) = self.piece(id) else {
            return (self, id);
        };
        let label = label::next(piece.label(), |label| self.has_label(label));
        let form = with_label(piece.form().clone(), &label);
        self.with_added(Some(id), form)
    }

    /// The same job with the left or right partner of a piece behind it, still to do, and the id
    /// of the partner. Labels say which is which: a side that is named in the label (`brace,
    /// left`) becomes the other one; where none is, the piece becomes the left one and its partner
    /// the right one.
    #[must_use]
    pub fn with_partner(mut self, id: u32) -> (Self, u32) {
        let Some((place, piece)) = self.place_of(id).zip(self.piece(id).cloned()) else {
            return (self, id);
        };
        let [own, other] = label::pair(&self.name_at(place));
        let form = with_label(mirrored_form(piece.form()), &other);
        if own != piece.label() && other != piece.label() {
            self.change(id, |piece| {
                let named = with_label(piece.form().clone(), &own);
                piece.with_form(named)
            });
        }
        self.with_added(Some(id), form)
    }

    fn has_label(&self, label: &str) -> bool {
        self.pieces.iter().any(|piece| piece.label() == label)
    }

    /// The same job without a piece. Without the last one it has the usual one.
    #[must_use]
    pub fn without(mut self, id: u32) -> Self {
        self.pieces.retain(|piece| piece.id() != id);
        if self.pieces.is_empty() {
            let form = PieceForm::usual(self.unit);
            return self.with_added(None, form).0;
        }
        self
    }

    /// The same job with a piece at another place, counted from 0; the last one at most.
    #[must_use]
    pub fn moved_to(mut self, id: u32, place: usize) -> Self {
        if let Some(from) = self.place_of(id) {
            let piece = self.pieces.remove(from);
            self.pieces.insert(place.min(self.pieces.len()), piece);
        }
        self
    }

    /// The same job with a piece before the one that is shown before it.
    #[must_use]
    pub fn moved_up(self, id: u32, shown: Shown) -> Self {
        let own = self.place_of(id).unwrap_or_default();
        let places = self.shown(shown).map(|(place, _)| place);
        let before = places.take_while(|place| *place < own).last();
        self.moved_to(id, before.unwrap_or(own))
    }

    /// The same job with a piece behind the one that is shown behind it.
    #[must_use]
    pub fn moved_down(self, id: u32, shown: Shown) -> Self {
        let own = self.place_of(id).unwrap_or_default();
        let behind = self
            .shown(shown)
            .map(|(place, _)| place)
            .find(|place| *place > own);
        self.moved_to(id, behind.unwrap_or(own))
    }
}

/// The same form on another paper.
fn on_paper(form: PieceForm, paper: Paper) -> PieceForm {
    let mut end = form.end(Side::A);
    end.paper = paper;
    form.with_end(Side::A, end)
}

/// The same form under another label.
fn with_label(form: PieceForm, label: &str) -> PieceForm {
    let end = form.end(Side::A);
    form.with_end(Side::A, end.with_text(Field::Label, label))
}

/// What is at hand in another unit: a bare length gets the old unit written behind it.
fn at_hand_in_unit(at_hand: &AtHand, from: Unit, to: Unit) -> AtHand {
    let mut changed = at_hand.clone();
    if from.is_inch() == to.is_inch() {
        return changed;
    }
    let mark = if from.is_inch() { "in" } else { "mm" };
    let (machine, stock) = (&mut changed.machine, &mut changed.stock);
    let of_saws = changed
        .saws
        .iter_mut()
        .flat_map(|saw| [&mut saw.diameter, &mut saw.depth, &mut saw.arbor]);
    let of_bars = stock
        .bars
        .iter_mut()
        .flat_map(|bar| [&mut bar.outside, &mut bar.wall, &mut bar.length]);
    let fit = &mut changed.fit;
    let of_fit = [
        &mut fit.size,
        &mut fit.offset,
        &mut fit.tight,
        &mut fit.most,
        &mut fit.seen_heel,
        &mut fit.seen_plus,
        &mut fit.seen_toe,
        &mut fit.seen_minus,
    ];
    let others = [
        &mut machine.clamp,
        &mut machine.behind,
        &mut stock.kerf,
        &mut stock.end_trim,
        &mut changed.clearance,
    ];
    for text in of_saws.chain(of_bars).chain(others).chain(of_fit) {
        let typed = text.trim();
        if is_bare(typed) {
            *text = format!("{typed} {mark}");
        }
    }
    changed
}
