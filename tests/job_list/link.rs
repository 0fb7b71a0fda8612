//! A job in a link.

use copewright::job::fit::{FitField, Process};
use copewright::job::list::{
    Job, LINK_MAX, demo, is_job_link, open_job_link, write_hand, write_job_link,
};
use copewright::job::{AtHand, BarTyped, Field, SawTyped, open_form, write_form};
use copewright::piece::Side;
use copewright::units::Unit;
use proptest::prelude::*;

use crate::any::any_form;

/// Links as they were once written. Add to this list, never change a line of it.
const FOR_EVER: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=post&piece=yes&a=coped&b=square&length=500&job=two%20pieces&2-branch=33.7&2-wall=2&2-main=42.4&2-angle=45&2-label=brace%20left&2-piece=no";

/// The same with what is at hand.
const WITH_HAND: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&hand-fit-weld=MIG&hand-fit-main=2&hand-saw-1-name=old%20one&hand-saw-1-diameter=44.5&hand-saw-1-depth=38&hand-saw-2-diameter=48&hand-saw-2-cuts=12&hand-saw-2-life=40&hand-bar-1-length=6000&hand-kerf=2&hand-angle-max=45&hand-material=Aluminium&hand-clearance=2&hand-fit-angle=0.5&hand-seen-heel=1.2";

#[test]
fn what_is_at_hand_travels() {
    assert!(is_job_link(WITH_HAND));
    let opened = open_job_link(WITH_HAND);
    assert_eq!(opened.problems, Vec::<String>::new());
    let own = opened.job.at_hand();
    assert_eq!(own.saws.len(), 2);
    assert_eq!(own.saws[0].name, "old one");
    assert_eq!([&own.saws[0].depth, &own.saws[1].life], ["38", "40"]);
    assert_eq!(own.stock.bars[0].length, "6000");
    assert_eq!(
        [&own.machine.angle_max, &own.material, &own.clearance],
        ["45", "Aluminium", "2"]
    );
    assert_eq!((own.fit.process, own.fit.main), (Process::Mig, 1));
    assert_eq!([&own.fit.angle, &own.fit.seen_heel], ["0.5", "1.2"]);
    // A page that knows no saws opens the joint.
    let plain = WITH_HAND.split("&hand").next().unwrap();
    assert_eq!(open_form(WITH_HAND).form, open_form(plain).form);
    assert!(!is_job_link(plain));
}

#[test]
fn what_cannot_be_used_of_it_is_said() {
    let opened =
        open_job_link("v=1&hand-fit-weld=stick&hand-fit-main=9&hand-saw-999-depth=4&hand-else=1");
    assert_eq!(opened.problems.len(), 2, "{:?}", opened.problems);
    assert!(opened.problems[0].contains("is not one of TIG, MIG"));
    assert_eq!(*opened.job.at_hand(), AtHand::default());
}

#[test]
fn saws_and_bars_of_a_link_move_up_where_numbers_are_missing() {
    let opened = open_job_link(
        "v=1&hand-saw-100-diameter=44&hand-saw-3-depth=38&hand-saw-7-else=1&hand-bar-90-length=6000&hand-bar-99-else=1",
    );
    assert_eq!(opened.problems, Vec::<String>::new());
    let own = opened.job.at_hand();
    assert_eq!(own.saws.len(), 2);
    assert_eq!([&own.saws[0].depth, &own.saws[1].diameter], ["38", "44"]);
    assert_eq!(own.stock.bars.len(), 1);
    assert_eq!(own.stock.bars[0].length, "6000");
}

#[test]
fn old_links_still_mean_what_they_meant() {
    let opened = open_job_link(FOR_EVER);
    assert!(opened.problems.is_empty() && opened.newer.is_none());
    let job = opened.job;
    assert_eq!(job.title(), "two pieces");
    assert_eq!(job.pieces().len(), 2);
    assert_eq!(job.name_at(1), "brace left");
    let end = job.pieces()[1].form().end(Side::A);
    assert_eq!(end.text(Field::ANGLE), Some("45"));
    // A page without jobs opens the first piece.
    assert_eq!(&open_form(FOR_EVER).form, job.pieces()[0].form());
}

#[test]
fn a_link_of_one_piece_is_the_link_it_was() {
    let link = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&offset=0&cut=square&gap=0&turn=0&paper=A4&template=0.1";
    let job = open_job_link(link).job;
    assert_eq!(write_job_link(&job, "https://example.org/#").unwrap(), link);
}

#[test]
fn what_is_too_long_is_said_with_its_numbers() {
    let refused = write_job_link(&demo(Unit::Millimetre), "https://example.org/#").unwrap_err();
    assert!(refused.contains("these 13 pieces"), "{refused}");
    assert!(refused.contains("more than 2000"), "{refused}");
    let job = demo(Unit::Millimetre);
    let mut few = job.clone();
    for piece in &job.pieces()[3..] {
        few = few.without(piece.id());
    }
    let link = write_job_link(&few, "https://example.org/#").unwrap();
    assert!(link.len() <= LINK_MAX);
    assert_eq!(open_job_link(&link).job.pieces().len(), 3);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_job_comes_back_from_its_link(one in any_form(), other in any_form(), title in "\\PC{0,12}") {
        let job = Job::of_form(one).with_added(None, other).0.with_title(title.trim());
        let Ok(link) = write_job_link(&job, "") else { return Ok(()) };
        let opened = open_job_link(&link);
        prop_assert_eq!(&opened.problems, &Vec::<String>::new());
        prop_assert_eq!(opened.job.title(), job.title());
        for (piece, own) in opened.job.pieces().iter().zip(job.pieces()) {
            prop_assert_eq!(write_form(piece.form()), write_form(own.form()));
        }
        prop_assert_eq!(write_job_link(&opened.job, "").unwrap(), link);
    }

    #[test]
    fn what_is_at_hand_comes_back(texts in prop::collection::vec("[ -~°½]{0,6}", 40), saws in 0_usize..4, bars in 0_usize..3, mig: bool, main in 0_usize..6) {
        let mut texts = texts.into_iter().map(|text| text.trim().to_owned());
        let mut next = || texts.next().unwrap_or_default();
        let saws = (0..saws).map(|_| SawTyped {
            name: next(), diameter: String::from("44"), depth: next(), arbor: next(), cuts: next(), life: next(),
        });
        let mut own = AtHand { saws: saws.collect(), ..AtHand::default() };
        own.stock.bars = (0..bars).map(|_| BarTyped {
            outside: next(), wall: next(), length: String::from("6000"), count: next(),
        }).collect();
        own.machine.clamp = next();
        own.material = next();
        use FitField::{Angle, Most, Offset, Printed, SeenHeel, SeenMinus, SeenPlus, SeenToe, Size, Tight, Turn};
        for field in [Size, Angle, Offset, Turn, Printed, Tight, Most, SeenHeel, SeenPlus, SeenToe, SeenMinus] {
            own.fit.set(field, next());
        }
        own.fit.process = if mig { Process::Mig } else { Process::Tig };
        own.fit.main = main;
        let hand = write_hand(&own);
        prop_assert_eq!(hand.is_empty(), own == AtHand::default());
        let opened = open_job_link(&format!("v=1{hand}"));
        prop_assert_eq!(&opened.problems, &Vec::<String>::new());
        prop_assert_eq!(opened.job.at_hand(), &own);
    }

    #[test]
    fn no_link_panics(link in "[a-z0-9&=%#+ -]{0,80}", piece in "\\PC{0,40}") {
        let _ = open_job_link(&link);
        let _ = open_job_link(&format!("v=1&2-angle={piece}&{link}"));
    }
}
