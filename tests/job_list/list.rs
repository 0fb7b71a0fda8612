//! The list: what each operation changes, and what it leaves alone.

use std::sync::Arc;

use copewright::job::list::{Job, Shown};
use copewright::job::{AtHand, Field, History, PieceField, PieceForm};
use copewright::piece::Side;
use copewright::stock::Paper;
use copewright::units::{Denominator, Unit};

use crate::{made, of};

fn labelled(label: &str) -> PieceForm {
    let form = PieceForm::usual(Unit::Millimetre).as_whole(true);
    let end = form.end(Side::A).with_text(Field::Label, label);
    form.with_end(Side::A, end)
}

fn job(labels: &[&str]) -> Job {
    let mut job = Job::of_form(labelled(labels[0]));
    for label in &labels[1..] {
        job = job.with_added(None, labelled(label)).0;
    }
    job
}

fn names(job: &Job) -> Vec<String> {
    (0..job.pieces().len())
        .map(|place| job.name_at(place))
        .collect()
}

#[test]
fn pieces_are_called_by_label_or_place() {
    let job = job(&["drawbar", " ", "brace"]);
    assert_eq!(names(&job), ["drawbar", "piece 2", "brace"]);
    assert_eq!(job.name_of(2), "piece 2");
    assert_eq!(job.moved_to(2, 0).name_of(2), "piece 1");
}

#[test]
fn pieces_are_moved_copied_and_taken_out() {
    let job = job(&["a", "b", "c", "d"]);
    let ids: Vec<u32> = job.pieces().iter().map(|piece| piece.id()).collect();
    assert_eq!(ids, [1, 2, 3, 4]);
    assert_eq!(names(&job.clone().moved_to(4, 1)), ["a", "d", "b", "c"]);
    assert_eq!(names(&job.clone().moved_to(1, 99)), ["b", "c", "d", "a"]);
    assert_eq!(names(&job.clone().moved_up(1, Shown::All)), names(&job));
    assert_eq!(
        names(&job.clone().moved_up(3, Shown::All)),
        ["a", "c", "b", "d"]
    );
    assert_eq!(
        names(&job.clone().moved_down(3, Shown::All)),
        ["a", "b", "d", "c"]
    );
    assert_eq!(names(&job.clone().moved_down(4, Shown::All)), names(&job));
    assert_eq!(names(&job.clone().without(2)), ["a", "c", "d"]);
    let (copied, id) = job.clone().with_duplicate(2);
    assert_eq!(names(&copied), ["a", "b", "b 2", "c", "d"]);
    assert_eq!(copied.place_of(id), Some(2));
    assert_eq!(id, 5);
    // An id that is gone does nothing.
    let gone = copied.clone().without(5);
    assert_eq!(gone.clone().moved_up(5, Shown::All), gone);
    assert_eq!(gone.clone().with_duplicate(5).0, gone);
    assert_eq!(gone.clone().with_done(5, true), gone);
    // And never comes back to another piece.
    assert_eq!(gone.with_duplicate(1).1, 6);
}

#[test]
fn the_last_piece_leaves_the_usual_one() {
    let job = job(&["a"]).without(1);
    assert_eq!(job.pieces().len(), 1);
    assert_eq!(job.pieces()[0].form(), &PieceForm::usual(Unit::Millimetre));
}

#[test]
fn done_and_to_do_are_told_apart() {
    let job = job(&["a", "b", "c", "d"])
        .with_done(2, true)
        .with_done(3, true);
    let shown = |which| -> Vec<usize> { job.shown(which).map(|(place, _)| place).collect() };
    assert_eq!(shown(Shown::All), [0, 1, 2, 3]);
    assert_eq!(shown(Shown::ToDo), [0, 3]);
    assert_eq!(shown(Shown::Done), [1, 2]);
    // Up among those shown is up past those that are not.
    let up = job.clone().moved_up(4, Shown::ToDo);
    assert_eq!(names(&up), ["d", "a", "b", "c"]);
    let down = job.clone().moved_down(1, Shown::ToDo);
    assert_eq!(names(&down), ["b", "c", "d", "a"]);
    // A copy is still to be made.
    let (copied, id) = job.with_duplicate(2);
    assert!(!copied.piece(id).unwrap().is_done());
}

#[test]
fn typing_in_one_piece_copies_no_other() {
    let mut job = job(&["a"]);
    for _ in 1..500 {
        job = job.with_duplicate(1).0;
    }
    let form = job.piece(7).unwrap().form().clone();
    let changed = job
        .clone()
        .with_form(7, form.with_text(PieceField::Length, "777"));
    let same = |(one, other): &(&Arc<_>, &Arc<_>)| Arc::ptr_eq(*one, *other);
    let kept = job
        .pieces()
        .iter()
        .zip(changed.pieces())
        .filter(same)
        .count();
    assert_eq!(kept, 499);
    assert_ne!(job, changed);
}

#[test]
fn undo_is_a_history_of_jobs() {
    let start = job(&["a", "b"]);
    let mut history = History::new(start.clone());
    history.change(start.clone().without(1), "delete");
    history.change(history.now().clone().with_title("trolley"), "title");
    assert!(history.undo() && history.undo());
    assert_eq!(history.now(), &start);
    assert!(history.redo() && history.redo());
    assert_eq!(history.now().title(), "trolley");
}

#[test]
fn a_unit_goes_to_all_pieces_and_to_what_is_at_hand() {
    let mut at_hand = AtHand::default();
    at_hand.stock.kerf = "2.5".into();
    at_hand.stock.bars.resize_with(1, Default::default);
    at_hand.stock.bars[0].length = "6 m".into();
    at_hand.stock.bars[0].count = "4".into();
    at_hand.saws.resize_with(1, Default::default);
    at_hand.saws[0].diameter = "48".into();
    at_hand.saws[0].life = "60".into();
    at_hand.machine.angle_max = "50".into();
    at_hand.machine.clamp = "80".into();
    let job = job(&["a", "b"]).with_at_hand(at_hand);
    let before = made(job.pieces()[1].form()).unwrap();
    let inch = job.clone().in_unit(Unit::Fraction(Denominator::Sixteenth));
    let after = made(inch.pieces()[1].form()).unwrap();
    let apart = before.piece.lengths().blank - after.piece.lengths().blank;
    assert!(apart.abs().mm() < 1e-9);
    let now = inch.at_hand();
    assert_eq!(now.stock.kerf, "2.5 mm");
    assert_eq!(now.stock.bars[0].length, "6 m");
    assert_eq!(now.stock.bars[0].count, "4");
    assert_eq!(now.saws[0].diameter, "48 mm");
    assert_eq!(now.saws[0].life, "60");
    assert_eq!(now.machine.angle_max, "50");
    assert_eq!(now.machine.clamp, "80 mm");

    // Chosen in the form of one piece, it goes to all as well; so does the paper.
    let form = job.pieces()[0].form().clone().in_unit(Unit::Inch);
    let mut end = form.end(Side::A);
    end.paper = Paper::Tabloid;
    let job = job.with_form(1, form.with_end(Side::A, end));
    assert_eq!(job.unit(), Unit::Inch);
    assert_eq!(job.paper(), Paper::Tabloid);
    for piece in job.pieces() {
        for side in Side::BOTH {
            let end = piece.form().end(side);
            assert_eq!((end.unit, end.paper), (Unit::Inch, Paper::Tabloid));
        }
    }
    // And what is added takes the job's.
    let (job, id) = job.with_added(None, of("v=1&unit=mm&branch=30&paper=A4"));
    let end = job.piece(id).unwrap().form().end(Side::A);
    assert_eq!((end.unit, end.paper), (Unit::Inch, Paper::Tabloid));
    assert_eq!(end.text(Field::Branch), Some("30 mm"));
}
