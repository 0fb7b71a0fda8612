//! The user's kit, kept apart from any job.

use copewright::job::list::{Job, Kit, demo};
use copewright::job::{AtHand, SawTyped};
use copewright::units::{Denominator, Unit};

const INCH: Unit = Unit::Fraction(Denominator::Sixteenth);

fn saw(diameter: &str) -> SawTyped {
    SawTyped {
        diameter: String::from(diameter),
        ..SawTyped::default()
    }
}

fn job(unit: Unit, saws: &[&str]) -> Job {
    let saws = saws.iter().map(|diameter| saw(diameter)).collect();
    Job::usual(unit).with_at_hand(AtHand {
        saws,
        ..AtHand::default()
    })
}

#[test]
fn a_kit_is_kept_and_given_to_a_job_that_keeps_its_stock() {
    let example = demo(Unit::Millimetre);
    let kit = Kit::of(&example);
    assert!(!kit.is_empty() && kit.is_same(&Kit::of(&example)));
    let (read, told) = Kit::read(&kit.write()).unwrap();
    assert_eq!((&read, told.as_slice()), (&kit, [].as_slice()));

    let mut own = AtHand {
        material: String::from("aluminium"),
        ..AtHand::default()
    };
    own.stock.kerf = String::from("2");
    let given = kit.given_to(Job::usual(Unit::Millimetre).with_at_hand(own.clone()));
    assert_eq!(given.at_hand().saws, example.at_hand().saws);
    assert_eq!(given.at_hand().machine, example.at_hand().machine);
    assert_eq!(given.at_hand().stock, own.stock);
    assert_eq!(given.at_hand().material, own.material);
    assert_eq!(given.at_hand().fit, own.fit);
}

#[test]
fn a_kit_says_the_same_in_either_unit() {
    let kit = Kit::of(&job(Unit::Millimetre, &["44.5"]));
    let inches = kit.given_to(Job::usual(INCH));
    assert_eq!(inches.at_hand().saws[0].diameter, "44.5 mm");
    assert!(kit.is_same(&Kit::of(&inches)));
    // There and back: the unit stays written behind the number.
    let back = inches.in_unit(Unit::Millimetre);
    assert!(kit.is_same(&Kit::of(&back)));
    assert!(!kit.is_same(&Kit::of(&job(INCH, &["44.5"]))));
    assert!(!kit.is_same(&Kit::of(&job(Unit::Millimetre, &["44.6"]))));
}

#[test]
fn a_saw_of_which_nothing_is_typed_is_no_difference() {
    let kit = Kit::of(&job(Unit::Millimetre, &["44.5"]));
    assert!(kit.is_same(&Kit::of(&job(Unit::Millimetre, &["", "44.5", ""]))));
    assert!(Kit::of(&job(Unit::Millimetre, &["", ""])).is_empty());
    assert!(!kit.is_empty());
}

#[test]
fn a_job_with_nothing_else_at_hand_is_told_from_one_with_more() {
    let kit = Kit::of(&job(Unit::Millimetre, &["44.5"]));
    let lent = kit.given_to(Job::usual(Unit::Millimetre));
    assert!(kit.is_all_of(&lent) && kit.is_all_of(&lent.clone().in_unit(INCH)));
    assert!(kit.is_all_of(&Job::usual(Unit::Millimetre)));
    assert!(!kit.is_all_of(&job(Unit::Millimetre, &["51"])));
    let mut more = lent.at_hand().clone();
    more.fit.angle = String::from("1");
    assert!(!kit.is_all_of(&lent.with_at_hand(more)));
}

#[test]
fn what_is_no_kit_is_refused_and_what_is_newer_told() {
    let sentence = Kit::read("{").unwrap_err();
    assert!(sentence.ends_with('.'), "{sentence}");
    let kit = Kit::of(&job(INCH, &["1 3/4"]));
    let newer = kit.write().replace("\"version\": 1", "\"version\": 99");
    let (read, told) = Kit::read(&newer).unwrap();
    assert!(read.is_same(&kit) && !told.is_empty());
}

#[test]
fn another_job_begins_without_what_was_seen_at_an_end() {
    let mut own = demo(Unit::Millimetre).at_hand().clone();
    own.fit.seen_heel = String::from("1");
    own.fit.angle = String::from("0.5");
    own.fit.tight = String::from("0.3");
    let next = own.for_another_job();
    assert_eq!(
        (next.fit.seen_heel.as_str(), next.fit.angle.as_str()),
        ("", "")
    );
    assert_eq!(next.fit.tight, "0.3");
    assert_eq!((&next.saws, &next.stock), (&own.saws, &own.stock));
}
