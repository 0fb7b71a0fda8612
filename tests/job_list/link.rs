//! A job in a link.

use copewright::job::list::{Job, LINK_MAX, demo, open_job_link, write_job_link};
use copewright::job::{Field, open_form, write_form};
use copewright::piece::Side;
use copewright::units::Unit;
use proptest::prelude::*;

use crate::any::any_form;

/// Links as they were once written. Add to this list, never change a line of it.
const FOR_EVER: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=post&piece=yes&a=coped&b=square&length=500&job=two%20pieces&2-branch=33.7&2-wall=2&2-main=42.4&2-angle=45&2-label=brace%20left&2-piece=no";

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
    fn no_link_panics(link in "[a-z0-9&=%#+ -]{0,80}", piece in "\\PC{0,40}") {
        let _ = open_job_link(&link);
        let _ = open_job_link(&format!("v=1&2-angle={piece}&{link}"));
    }
}
