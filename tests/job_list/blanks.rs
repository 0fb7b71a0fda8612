//! Blanks by tube, stock as typed, and the cut lists that follow.

use copewright::job::list::{Job, Shown, blanks, demo, read_form, stock_problems};
use copewright::job::{BarTyped, Field, PieceField};
use copewright::piece::Side;
use copewright::units::{Denominator, Length, Unit};

fn of(job: &Job) -> copewright::job::list::Blanks {
    blanks(job, Shown::All, |piece| read_form(piece.form()).ok())
}

#[test]
fn the_demo_job_is_cut_from_what_is_there() {
    for unit in [Unit::Millimetre, Unit::Fraction(Denominator::Sixteenth)] {
        let job = demo(unit);
        let blanks = of(&job);
        assert_eq!(blanks.told, Vec::<String>::new());
        assert_eq!(blanks.groups.len(), 5);
        let counts: usize = blanks
            .groups
            .iter()
            .flat_map(|group| &group.blanks)
            .map(|blank| blank.count)
            .sum();
        assert_eq!(counts, 15);
        for group in &blanks.groups {
            assert!(!group.usual_stock);
            let list = group.cut_list(blanks.loss).unwrap();
            assert!((list.used - group.length()).abs().mm() < 1e-6);
        }
    }
    // 48.3 × 3.2 of EN 10255 weighs 3.57 kg/m in a stockist's table, within its 1 %.
    let blanks = of(&demo(Unit::Millimetre));
    let drawbar = &blanks.groups[1];
    assert!((drawbar.kg_per_metre / 3.57 - 1.0).abs() < 0.01);
    // 2500 to the beam's axis; the long point is √(30.15² − 24.15²) in front of it.
    let long = (30.15_f64.powi(2) - 24.15_f64.powi(2)).sqrt();
    assert!((drawbar.length().mm() - (2500.0 - long)).abs() < 1e-6);
    assert!(
        (drawbar.mass_kg() - drawbar.length().mm() / 1000.0 * drawbar.kg_per_metre).abs() < 1e-9
    );
}

#[test]
fn only_what_is_shown_is_cut() {
    let job = demo(Unit::Millimetre).with_done(1, true);
    let blanks = blanks(&job, Shown::ToDo, |piece| read_form(piece.form()).ok());
    assert_eq!(blanks.groups.len(), 4);
    assert_eq!(blanks.groups[0].pieces, [2]);
}

#[test]
fn without_stock_the_usual_bars_stand_there() {
    let job = demo(Unit::Millimetre).with_at_hand(Default::default());
    let own = of(&job);
    assert!(own.groups.iter().all(|group| group.usual_stock));
    assert_eq!(own.groups[0].stock[0].length, Length::from_mm(6000.0));
    assert_eq!(own.loss.kerf, Length::from_mm(2.5));
    let inch = of(&demo(Unit::Inch).with_at_hand(Default::default()));
    assert_eq!(inch.groups[0].stock[0].length, Length::from_inches(240.0));
}

#[test]
fn what_cannot_be_used_is_said() {
    let job = demo(Unit::Millimetre);
    let mut at_hand = job.at_hand().clone();
    let bar = |outside: &str, length: &str, count: &str| BarTyped {
        outside: outside.into(),
        wall: String::new(),
        length: length.into(),
        count: count.into(),
    };
    at_hand.stock.bars = vec![
        bar("", "3 m", "2"),
        bar("", "long", ""),
        bar("x", "6 m", ""),
        bar("", "5", ""),
        bar("", "6 m", "2.5"),
        bar("60.3", "6 m", "1"),
    ];
    at_hand.stock.kerf = "30".into();
    at_hand.stock.end_trim = "much".into();
    at_hand.material = "gold".into();
    let form = job.pieces()[0]
        .form()
        .clone()
        .with_text(PieceField::Length, "?");
    let end = job.pieces()[1]
        .form()
        .end(Side::A)
        .with_text(Field::Label, "odd");
    let alone = job.pieces()[1]
        .form()
        .clone()
        .with_end(Side::A, end)
        .as_whole(false);
    let job = job
        .with_form(1, form)
        .with_form(2, alone)
        .with_at_hand(at_hand);
    let blanks = of(&job);
    let told = blanks.told.join("\n");
    for part in [
        "“gold” is not one of steel",
        "“axle beam” cannot be made",
        "“odd” is one end alone",
        "Stock 2 is left out",
        "Stock 3 is left out",
        "Stock 4 is left out: a bar of 5 mm is outside",
        "Stock 5 is left out: “2.5” is no number of bars",
        "Saw cut: 30 mm is outside 0 mm to 10 mm; 2.5 mm is taken instead.",
        "End trim: “much”",
    ] {
        assert!(told.contains(part), "{part} is not in:\n{told}");
    }
    assert_eq!(blanks.told.len(), 9);
    // Beside the fields the same is said of the stock alone.
    let of_stock = stock_problems(&job.at_hand().stock, job.unit());
    assert_eq!(of_stock, blanks.told[3..]);
    assert_eq!(blanks.groups[0].stock.len(), 1);
    assert_eq!(blanks.groups[0].stock[0].available, Some(2));
}
