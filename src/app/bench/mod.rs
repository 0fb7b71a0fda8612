//! What is on the bench: the form with its history, and everything derived from it.

mod change;
mod keep;
mod list;
mod means;
mod rest;

pub use list::OnList;
pub use means::{Means, Taken};
pub use rest::Rest;

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::keep::opened;
use crate::app::browser;
use crate::job::{
    Draft, EndKind, Field, History, Kept, PieceDraft, PieceField, PieceForm, PieceProblem, Printer,
    Problem, Typed, open_form, open_link, read, read_what_can_be, resume_form, write_whole_form,
};
use crate::piece::{Side, Template};
use crate::sheet::Packet;
use crate::units::Angle;

/// Everything that can be changed, and taken back.
#[derive(Clone, PartialEq)]
struct Desk {
    form: PieceForm,
    kept: Kept,
    /// The job that the form is a piece of, where there is one.
    list: Option<OnList>,
}

/// What kind of change it was; keystrokes of one kind in a row are one step back.
#[derive(Clone, Copy, PartialEq)]
enum Step {
    Field(Side, Field),
    Piece(Option<PieceField>),
    Settings,
    /// The job: a text of it typed, or, without one, anything else.
    List(Option<u32>),
}

/// How an end is going to be cut.
#[derive(Clone, PartialEq)]
pub struct Cutting {
    /// The template, with the line of a straight cut before the saw where that is advised.
    pub template: Template,
    /// What its sheet says about the saw, each line with its caption.
    pub saw: Vec<(&'static str, String)>,
}

/// Where the cut of a draft will gap: turns from the heel, each with the band of its gap.
#[derive(Clone, PartialEq)]
pub struct Gaps {
    /// The draft.
    pub of: Arc<Draft>,
    /// Turn and band.
    pub bands: Vec<(Angle, u8)>,
}

/// Sheets that stand in place of those of the piece on the bench.
#[derive(Clone, PartialEq)]
pub struct Instead {
    /// One SVG for each sheet.
    pub pages: Arc<Vec<String>>,
    /// Whether they show the job as it is typed now.
    pub current: bool,
}

/// A piece as it can be made, or why not; nothing where only one end is asked for.
pub type Made = Option<Result<Arc<PieceDraft>, Vec<PieceProblem>>>;

/// Everything that the parts of the page share. Copies are handles to the same signals.
#[derive(Clone, Copy)]
pub struct Bench {
    history: RwSignal<History<Desk, Step>>,
    means: Means,
    /// Whether the page opened with the usual numbers, without a link or an earlier visit.
    fresh: bool,
    /// Whether it opened with a link of a newer version.
    newer: bool,
    /// The main that the sketch shows, counted from 0.
    shown: RwSignal<usize>,
    /// The end that the sketch shows.
    shown_end: RwSignal<Side>,
    /// The other end, as it can be drawn, if there is one to cope.
    other: Memo<Option<Arc<Draft>>>,
    /// Everything typed about the piece.
    pub form: Memo<PieceForm>,
    /// The whole piece.
    pub piece: Memo<Made>,
    /// The form of the end that the sketch shows, as typed.
    pub typed: Memo<Typed>,
    /// What is wrong with it; empty when it can be drawn.
    pub problems: Memo<Vec<Problem>>,
    /// The last form that could be drawn.
    pub draft: Memo<Option<Arc<Draft>>>,
    /// The same when the hands last rested.
    pub rested: RwSignal<Option<Arc<Draft>>>,
    /// Printers, the chosen one and the table that is printed along.
    pub kept: Memo<Kept>,
    /// When the hands rest.
    pub rest: Rest,
    /// The sheets as they will print, or why there are none.
    pub packet: RwSignal<Result<Arc<Packet>, String>>,
    /// How each end is going to be cut.
    pub cutting: RwSignal<[Option<Arc<Cutting>>; 2]>,
    /// Turns at which the cut of a draft will gap, with their bands.
    pub gaps: RwSignal<Option<Gaps>>,
    /// Sheets that stand in place of those of the piece, as SVG.
    pub instead: RwSignal<Option<Instead>>,
    /// Sentences about the visit itself: a damaged store, a newer link.
    pub notices: RwSignal<Vec<String>>,
}

impl Bench {
    /// The bench as the link or the last visit left it; the link goes first. `handed` is everything
    /// that was typed on a page whose place this one takes; it goes before both.
    pub fn open(means: Means, handed: &[String]) -> Self {
        let mut notices = Vec::new();
        let kept = match browser::stored().map(|text| Kept::read(&text)) {
            None => Kept::default(),
            Some(Ok(kept)) => kept,
            Some(Err(sentence)) => {
                browser::set_aside_store();
                notices.push(sentence);
                Kept::default()
            }
        };
        let fragment = browser::fragment();
        let link = handed
            .last()
            .cloned()
            .or_else(|| browser::remembered_form(&fragment))
            .or_else(|| resume_form(&fragment, kept.link.as_deref()));
        let fresh = link.is_none();
        let newer = link
            .as_ref()
            .is_some_and(|link| open_link(link).newer.is_some());
        let (form, told) = link.map_or_else(
            || (PieceForm::usual(browser::usual_unit()), Vec::new()),
            |link| opened(&link),
        );
        notices.extend(told);

        let desk = |form| Desk {
            form,
            kept: kept.clone(),
            list: None,
        };
        let mut before = handed.iter().map(|link| open_form(link).form);
        let mut history = History::new(desk(before.next().unwrap_or_else(|| form.clone())));
        for form in before.chain([form]) {
            history.pause();
            history.change(desk(form), Step::Settings);
        }
        history.pause();
        let history = RwSignal::new(history);
        let form = Memo::new(move |_| history.with(|history| history.now().form.clone()));
        let shown_end = RwSignal::new(Side::A);
        let typed = Memo::new(move |_| form.with(|form| form.end(end_of(form, shown_end.get()))));
        let kept = Memo::new(move |_| history.with(|history| history.now().kept.clone()));
        let reading = Memo::new(move |_| typed.with(read));
        let problems = Memo::new(move |_| {
            reading.with(|reading| reading.as_ref().err().cloned().unwrap_or_default())
        });
        let draft = Memo::new(move |last: Option<&Option<Arc<Draft>>>| {
            reading.with(|reading| match (reading, last) {
                (Ok(draft), _) => Some(Arc::new(draft.clone())),
                (Err(_), Some(Some(last))) if typed.with_untracked(|typed| last.is_of(typed)) => {
                    Some(Arc::clone(last))
                }
                // Nothing like it has been drawn yet, as when a link has a wrong number in it, or
                // when another main was chosen while a number was wrong.
                (Err(_), _) => typed.with_untracked(read_what_can_be).0.map(Arc::new),
            })
        });
        // The other end, if there is one to cope.
        let behind = Memo::new(move |_| {
            form.with(|form| {
                let side = end_of(form, shown_end.get()).other();
                let asked = form.is_whole() && form.kind(side) == EndKind::Coped;
                asked.then(|| form.end(side))
            })
        });
        let other = Memo::new(move |_| {
            let read = behind.with(|behind| behind.as_ref().map(read));
            read.and_then(Result::ok).map(Arc::new)
        });
        let piece = Memo::new(move |_| {
            form.with(|form| {
                let read_piece = means.read_piece.filter(|_| form.is_whole())?;
                Some({
                    let shown = draft.get().filter(|_| problems.with(Vec::is_empty));
                    let mut ends = [shown, other.get()];
                    if end_of(form, shown_end.get()) == Side::B {
                        ends.swap(0, 1);
                    }
                    read_piece(form, [ends[0].as_deref(), ends[1].as_deref()]).map(Arc::new)
                })
            })
        });
        Self {
            history,
            means,
            fresh,
            newer,
            shown: RwSignal::new(0),
            shown_end,
            form,
            piece,
            typed,
            problems,
            draft,
            kept,
            other,
            rested: RwSignal::new(None),
            rest: Rest::new(),
            packet: RwSignal::new(Err(String::from("Nothing to print yet."))),
            cutting: RwSignal::new([const { None }; 2]),
            gaps: RwSignal::new(None),
            instead: RwSignal::new(None),
            notices: RwSignal::new(notices),
        }
    }

    /// Everything typed so far, each state as a link, oldest first, as far back as undo goes.
    pub fn forms(self) -> Vec<String> {
        let written = |desk: &Desk| write_whole_form(&desk.form);
        let forms = |history: &History<Desk, Step>| history.all().map(written).collect();
        let mut forms: Vec<String> = self.history.with_untracked(forms);
        forms.dedup();
        forms
    }

    /// The end that the sketch shows.
    pub fn end(self) -> Side {
        self.form.with(|form| end_of(form, self.shown_end.get()))
    }

    /// Whether there is an end to cope.
    pub fn has_cope(self) -> bool {
        self.form.with(PieceForm::has_cope)
    }

    /// The main that the sketch shows, counted from 0.
    pub fn shown_main(self) -> usize {
        let count = self.typed.with(Typed::mains);
        self.shown.get().min(count - 1)
    }

    /// Whether there is something to take back, and something to bring back.
    pub fn steps(self) -> (bool, bool) {
        self.history
            .with(|history| (history.can_undo(), history.can_redo()))
    }

    /// What is wrong with a field, if anything.
    pub fn problem(self, field: Field) -> Option<String> {
        self.problems.with(|problems| {
            problems
                .iter()
                .find(|problem| problem.field == field)
                .map(|p| p.sentence.clone())
        })
    }

    /// Whether the drawings show what is typed, not the last form that could be drawn.
    pub fn is_current(self) -> bool {
        self.problems.with(Vec::is_empty)
    }

    /// Whether everything that is to be printed can be.
    pub fn is_printable(self) -> bool {
        let instead = self
            .instead
            .with(|instead| instead.as_ref().map(|own| own.current));
        if let Some(current) = instead {
            return current;
        }
        let made = self.piece.with(|piece| !matches!(piece, Some(Err(_))));
        made && self.is_current()
    }

    /// What is wrong with a number of the piece, if anything.
    pub fn problem_of_piece(self, field: PieceField) -> Option<String> {
        self.piece.with(|piece| {
            let problems = piece.as_ref()?.as_ref().err()?;
            let own = problems
                .iter()
                .find(|problem| problem.field == Some(field))?;
            Some(own.sentence.clone())
        })
    }

    /// The chosen printer.
    pub fn printer(self) -> Printer {
        self.kept.with(|kept| kept.printer().clone())
    }
}

/// The end that the sketch shows: an end that is not coped has nothing to sketch.
fn end_of(form: &PieceForm, shown: Side) -> Side {
    let coped = |side| form.kind(side) == EndKind::Coped;
    if !form.is_whole() || (!coped(Side::B) && !coped(Side::A)) {
        Side::A
    } else if coped(shown) {
        shown
    } else {
        shown.other()
    }
}

/// The bench of this page.
pub fn bench() -> Bench {
    // Every component is a child of `App`, which provides it; a bench of its own is a harmless
    // stand-in should that ever change.
    use_context::<Bench>().unwrap_or_else(|| Bench::open(Means::default(), &[]))
}
