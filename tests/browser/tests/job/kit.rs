//! The user's saws, kept apart from any job.

use browser_tests::Page;

use crate::{PAGE, example, show_jobs, texts};

pub const JOINT: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=70&cut=saw";

/// The saws opened in the workshop.
fn saws_of(page: &Page, link: &str) -> Vec<String> {
    page.open_fragment(link);
    ask_for_saws(page);
    saws(page)
}

fn ask_for_saws(page: &Page) {
    page.wait_until("the page is there", |page| {
        page.first("#saws, #more-head").is_some()
    });
    if page.first("#saws").is_none() {
        page.button("Set up the saw, predict the fit").click();
    }
    page.wait_until("the saws are there", |page| page.first("#saws").is_some());
    page.run("document.querySelector('#saws').open = true", Vec::new());
}

/// The diameters on the list.
pub fn saws(page: &Page) -> Vec<String> {
    let all = page.run(
        "return [...document.querySelectorAll('#saws .saw')]
             .map(saw => saw.querySelector('input[list]').value)",
        Vec::new(),
    );
    serde_json::from_value(all).unwrap()
}

fn whose(page: &Page) -> String {
    texts(page, "#whose-saws p").join(" ")
}

/// Types a saw on a page that has none.
fn have_a_saw(page: &Page, diameter: &str) {
    assert_eq!(saws_of(page, JOINT), [""; 0]);
    page.button("Add a saw").click();
    page.field("Diameter over the teeth").type_text(diameter);
    assert_eq!(
        whose(page),
        "Kept in this browser: every new job begins with these."
    );
}

#[test]
fn saws_are_there_for_the_next_joint_and_the_next_job() {
    PAGE.visit(|page| {
        have_a_saw(page, "48");
        assert_eq!(saws_of(page, "v=1&branch=33.7&main=60.3&angle=50"), ["48"]);
        // Lent to a single joint they are no reason to make a job of it.
        assert!(page.first(".pieces").is_none());
        // A step back in this job is one in the kit.
        page.field("Diameter over the teeth").type_text("48.3");
        page.button("Undo").click();
        assert_eq!(saws(page), ["48"]);
        assert_eq!(
            saws_of(page, "v=1&unit=in&branch=1.5&main=2&angle=50"),
            ["48 mm"]
        );
        assert_eq!(
            whose(page),
            "Kept in this browser: every new job begins with these."
        );
    });
}

#[test]
fn a_job_with_saws_of_its_own_keeps_them_and_yours() {
    PAGE.visit(|page| {
        have_a_saw(page, "48");
        let theirs = format!("{JOINT}&hand-saw-1-diameter=51");
        assert_eq!(saws_of(page, &theirs), ["51"]);
        assert!(
            whose(page).starts_with("These belong to this job. Yours are kept"),
            "{}",
            whose(page)
        );
        // What is changed in it stays in it.
        page.field("Diameter over the teeth").type_text("52");
        page.button("Use mine in this job").click();
        assert_eq!(saws(page), ["48"]);
        page.button("Undo").click();
        assert_eq!(saws(page), ["52"]);
        page.button("Keep these as mine").click();
        page.wait_until("they are kept", |page| {
            whose(page).starts_with("Kept in this browser")
        });
        page.button("Keep the former ones instead").click();
        page.wait_until("the former ones are kept", |page| {
            whose(page).starts_with("These belong to this job")
        });
        page.button("Keep these as mine").click();
        show_jobs(page);
        page.button("Start another job").click();
        page.wait_until("another job has them", |page| {
            saws(page) == ["52"] && whose(page).starts_with("Kept in this browser")
        });
    });
}

#[test]
fn the_example_has_saws_of_its_own() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        page.run("document.querySelector('#saws').open = true", Vec::new());
        assert!(saws(page).len() > 1);
        assert!(
            whose(page).ends_with("None are kept as yours yet."),
            "{}",
            whose(page)
        );
        page.run(
            "document.querySelectorAll('#saws .saw button')[0].click()",
            Vec::new(),
        );
        assert_eq!(saws_of(page, JOINT), [""; 0]);
    });
}
