//! What is on the bench: the form with its history, and everything derived from it.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::browser;
use crate::app::dom::follow;
use crate::job::{
    Draft, Field, History, Kept, Printer, Problem, Typed, open_link, read, read_what_can_be,
    resume, write_link, write_whole,
};
use crate::sheet::{Order, Packet, lay_out, lay_out_landing, lay_out_table};
use crate::units::Unit;

/// Everything that can be changed, and taken back.
#[derive(Clone, PartialEq)]
struct Desk {
    typed: Typed,
    kept: Kept,
}

/// What kind of change it was; keystrokes of one kind in a row are one step back.
#[derive(Clone, Copy, PartialEq)]
enum Step {
    Field(Field),
    Settings,
}

/// Everything that the parts of the page share. Copies are handles to the same signals.
#[derive(Clone, Copy)]
pub struct Bench {
    history: RwSignal<History<Desk, Step>>,
    /// Whether the page opened with the usual numbers, without a link or an earlier visit.
    fresh: bool,
    /// Whether it opened with a link of a newer version.
    newer: bool,
    /// The main that the sketch shows, counted from 0.
    shown: RwSignal<usize>,
    /// The form as typed.
    pub typed: Memo<Typed>,
    /// What is wrong with it; empty when it can be drawn.
    pub problems: Memo<Vec<Problem>>,
    /// The last form that could be drawn.
    pub draft: Memo<Option<Arc<Draft>>>,
    /// Printers, the chosen one and the table that is printed along.
    pub kept: Memo<Kept>,
    /// The sheets as they will print, or why there are none.
    pub packet: Memo<Result<Arc<Packet>, String>>,
    /// Sentences about the visit itself: a damaged store, a newer link.
    pub notices: RwSignal<Vec<String>>,
}

impl Bench {
    /// The bench as the link or the last visit left it; the link goes first.
    pub fn open() -> Self {
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
        let link = resume(&fragment, kept.link.as_deref());
        let fresh = link.is_none();
        let newer = link
            .as_ref()
            .is_some_and(|link| open_link(link).newer.is_some());
        let (typed, told) = link.map_or_else(
            || (Typed::usual(browser::usual_unit()), Vec::new()),
            |link| opened(&link),
        );
        notices.extend(told);

        let history = RwSignal::new(History::new(Desk { typed, kept }));
        let typed = Memo::new(move |_| history.with(|history| history.now().typed.clone()));
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
        let printer = Memo::new(move |_| kept.with(|kept| kept.printer().clone()));
        let divisions = Memo::new(move |_| kept.with(|kept| kept.table));
        let packet = Memo::new(move |_| {
            let Some(draft) = draft.get() else {
                return Err(String::from("Nothing to print yet."));
            };
            let link = browser::page_address(&write_link(&typed.get()));
            printer.with(|printer| {
                let order = Order {
                    template: &draft.template,
                    unit: draft.unit,
                    label: &draft.label,
                    link: &link,
                    date: &browser::today(),
                    paper: draft.paper,
                    printer,
                };
                let mut packet = lay_out(&order).map_err(|error| error.sentence())?;
                for (number, landing) in draft.landings.iter().enumerate() {
                    match landing {
                        Ok(landing) => match lay_out_landing(&order, landing) {
                            Ok(more) => packet.pages.extend(more.pages),
                            Err(error) => packet.notes.push(error.sentence()),
                        },
                        Err(why) => packet.notes.push(why.sentence(number + 1)),
                    }
                }
                if let Some(divisions) = divisions.get() {
                    packet.pages.extend(lay_out_table(&order, divisions).pages);
                }
                Ok(Arc::new(packet))
            })
        });
        Self {
            history,
            fresh,
            newer,
            shown: RwSignal::new(0),
            typed,
            problems,
            draft,
            kept,
            packet,
            notices: RwSignal::new(notices),
        }
    }

    /// Keeps the address, the title and the store in step with the form.
    pub fn keep(self) {
        // A link of a newer version stays in the address until something is changed or its
        // warning is dismissed: a reload must warn again.
        let newer = StoredValue::new(self.newer.then(|| self.typed.get_untracked()));
        let address = move || {
            let link = self.typed.with_untracked(write_link);
            let warned = !self.notices.with_untracked(Vec::is_empty);
            let untouched = newer.with_value(|at_first| {
                let now = |typed: &Typed| self.typed.with_untracked(|now| now == typed);
                at_first.as_ref().is_some_and(now)
            });
            if !(warned && untouched) {
                newer.set_value(None);
                browser::set_fragment(&link);
            }
        };
        // Browsers slow a page down that changes its address at every keystroke, so the address
        // follows when the hands rest, and at the latest when the page is left. The store follows
        // at once: a page that is closed in the middle of a word has lost nothing.
        let rest = browser::after_rest(address);
        follow(move || {
            self.typed.track();
            self.notices.track();
            rest();
        });
        browser::on_leaving(address);
        let told_unkept = StoredValue::new(false);
        follow(move || {
            let mut kept = self.kept.get();
            kept.link = Some(self.typed.with(write_whole));
            if !browser::store(&kept.write()) && !told_unkept.get_value() {
                told_unkept.set_value(true);
                self.notices.update(|notices| {
                    notices.push(String::from(
                        "This browser keeps nothing between visits (its store is full or blocked). \
                         Copy the link to keep this joint; printers have to be measured again.",
                    ));
                });
            }
        });
        // Another window has kept something: its printers are this window's too, or the last one
        // to write would lose the other's.
        browser::on_store_change(move |text| {
            if let Ok(theirs) = Kept::read(&text) {
                self.history.update(|history| {
                    history.amend(|desk| {
                        let mut theirs = theirs.clone();
                        theirs.link.clone_from(&desk.kept.link);
                        desk.kept = theirs;
                    });
                });
            }
        });
        browser::on_fragment_change(move || {
            let fragment = browser::fragment();
            if !fragment.is_empty() && fragment != self.typed.with_untracked(write_link) {
                let (typed, told) = opened(&fragment);
                self.notices.set(told);
                self.pause();
                self.change(Field::Unit, |_| typed);
                self.pause();
            }
        });
        browser::on_undo_keys(move |redo| if redo { self.redo() } else { self.undo() });
    }

    /// Takes a keystroke in a field.
    pub fn typed_text(self, field: Field, text: String) {
        self.change(field, |typed| typed.with_text(field, text));
    }

    /// Changes the form; changes of one field in a row are one step back.
    pub fn change(self, field: Field, by: impl FnOnce(Typed) -> Typed) {
        self.history.update(|history| {
            let Desk { typed, kept } = history.now().clone();
            history.change(
                Desk {
                    typed: by(typed),
                    kept,
                },
                Step::Field(field),
            );
        });
    }

    /// Changes what is kept about printers and prints; each change is a step of its own.
    pub fn settings(self, by: impl FnOnce(&mut Kept)) {
        self.history.update(|history| {
            let mut desk = history.now().clone();
            by(&mut desk.kept);
            history.pause();
            history.change(desk, Step::Settings);
            history.pause();
        });
    }

    /// Changes what bare numbers mean.
    pub fn set_unit(self, unit: Unit) {
        self.change(Field::Unit, |typed| {
            // Nobody has seen a link or typed a number yet: the new unit's usual ones may come.
            let untouched = self.fresh && typed == Typed::usual(typed.unit);
            if untouched {
                Typed::usual(unit)
            } else {
                typed.in_unit(unit)
            }
        });
        self.pause();
    }

    /// Ends a row of keystrokes.
    pub fn pause(self) {
        self.history.update_untracked(History::pause);
    }

    /// One step back.
    pub fn undo(self) {
        self.step(History::undo);
    }

    /// One step forward again.
    pub fn redo(self) {
        self.step(History::redo);
    }

    /// A step through the history; the sketch shows the main that it changed.
    fn step(self, by: impl FnOnce(&mut History<Desk, Step>) -> bool) {
        let before = self.typed.get_untracked();
        self.history.update(|history| {
            by(history);
        });
        if let Some(main) = self
            .typed
            .with_untracked(|typed| typed.main_changed(&before))
        {
            self.shown.set(main);
        }
    }

    /// The main that the sketch shows, counted from 0.
    pub fn shown_main(self) -> usize {
        let count = self.typed.with(Typed::mains);
        self.shown.get().min(count - 1)
    }

    /// Shows another main in the sketch.
    pub fn show_main(self, main: usize) {
        self.shown.set(main);
    }

    /// Puts the branch on one more main, and shows it.
    pub fn add_main(self) {
        self.pause();
        self.change(Field::Mains, Typed::with_another_main);
        self.pause();
        self.show_main(self.typed.with_untracked(Typed::mains) - 1);
    }

    /// Takes a main away.
    pub fn take_main_away(self, main: usize) {
        self.pause();
        self.change(Field::Mains, |typed| typed.without_main(main));
        self.pause();
        self.show_main(main.saturating_sub(1));
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

    /// The chosen printer.
    pub fn printer(self) -> Printer {
        self.kept.with(|kept| kept.printer().clone())
    }
}

/// A link read, with what is to be said about it.
fn opened(link: &str) -> (Typed, Vec<String>) {
    let opened = open_link(link);
    let choices = opened
        .problems
        .iter()
        .map(|problem| format!("{} The usual one is used instead.", problem.sentence));
    let numbers = read(&opened.typed).err().unwrap_or_default();
    let numbers = numbers.iter().map(|problem| {
        format!(
            "{} ({} in the link) cannot be used: {}",
            opened.typed.name_of(problem.field),
            problem.field.key(),
            problem.sentence
        )
    });
    let told = opened
        .newer
        .iter()
        .cloned()
        .chain(choices)
        .chain(numbers)
        .collect();
    (opened.typed, told)
}

/// The bench of this page.
pub fn bench() -> Bench {
    // Every component is a child of `App`, which provides it; a bench of its own is a harmless
    // stand-in should that ever change.
    use_context::<Bench>().unwrap_or_else(Bench::open)
}
