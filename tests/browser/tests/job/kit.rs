//! The user's saws, kept apart from any job.

use browser_tests::Page;
use serde_json::json;

use crate::{PAGE, example, kept, pieces, show_jobs, start, texts, told};

const JOINT: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=70&cut=saw";

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
fn saws(page: &Page) -> Vec<String> {
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

/// Puts a link in the address of the open page.
fn put_in_address(page: &Page, link: &str) {
    page.run("location.hash = arguments[0]", vec![json!(link)]);
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

#[test]
fn a_link_put_in_the_address_of_the_open_page_opens_its_job() {
    PAGE.visit(|page| {
        page.open_fragment(JOINT);
        page.field("Angle").type_text("71.5");
        let job = format!("{JOINT}&job=trolley&2-branch=33.7&2-main=48.3&2-angle=50&hand-saw-1-diameter=51");
        put_in_address(page, &job);
        page.wait_until("the job is on the list", |page| pieces(page).len() == 2);
        assert_eq!(saws(page), ["51"]);
        // What was on the bench is kept.
        page.wait_until("what was typed is kept", |page| {
            kept(page).iter().any(|(_, job)| job["pieces"][0]["angle"] == "71.5")
        });
        let other = format!("{JOINT}&job=gate&2-branch=42.4&2-main=48.3&2-angle=60&3-branch=42.4&3-main=48.3&3-angle=45");
        put_in_address(page, &other);
        page.wait_until("the other job is on the list", |page| pieces(page).len() == 3);
        assert_eq!(told(page), "");
        page.wait_until("all are kept", |page| kept(page).len() == 3);
    });
}

#[test]
fn a_link_stays_in_the_address_until_the_page_that_opens_it_has_come() {
    PAGE.visit(|page| {
        page.open_fragment(JOINT);
        page.field("Angle").type_text("71.5");
        // The script of the workshop comes when it is let go.
        page.run(
            "const append = document.head.appendChild;
             document.head.appendChild = script => {
                 window.release = () => append.call(document.head, script);
             };",
            Vec::new(),
        );
        let job = format!("{JOINT}&job=trolley&2-branch=33.7&2-main=48.3&2-angle=50");
        put_in_address(page, &job);
        // Typed meanwhile, and long enough for the address to follow.
        page.field("Angle").type_text("72.5");
        let address = page.run(
            "return new Promise(done => setTimeout(() => done(location.hash), 1000))",
            Vec::new(),
        );
        assert_eq!(address, json!(format!("#{job}")));
        page.run("window.release()", Vec::new());
        page.wait_until("the job is on the list", |page| pieces(page).len() == 2);
        page.wait_until("what was typed is kept", |page| {
            kept(page)
                .iter()
                .any(|(_, job)| job["pieces"][0]["angle"] == "72.5")
        });
        // Open, it is written over as anything typed is.
        page.wait_until("the address follows", |page| {
            let now = page.run("return location.hash", Vec::new());
            now != json!(format!("#{job}"))
        });
    });
}

#[test]
fn the_page_of_one_joint_is_gone_when_the_workshop_has_come() {
    PAGE.visit(|page| {
        page.open_fragment(JOINT);
        page.field("Angle").type_text("71");
        page.wait_until("the address follows", |page| {
            page.url().contains("angle=71")
        });
        page.button("Start a list of pieces").click();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        // It would take a step back too, and the address after it.
        page.run(
            "dispatchEvent(new KeyboardEvent('keydown', { key: 'z', ctrlKey: true }))",
            Vec::new(),
        );
        page.wait_until("it is a step back", |page| {
            page.field("Angle").value() == "70" && page.url().contains("angle=70")
        });
        page.settle();
        page.field("Angle").type_text("75");
        page.wait_until("the address follows", |page| {
            page.url().contains("angle=75")
        });
        page.reload();
        assert_eq!(page.field("Angle").value(), "75");
    });
}

#[test]
fn a_joint_on_the_bench_is_kept_when_a_job_takes_its_place() {
    PAGE.visit(|page| {
        start(page);
        page.field("Angle").type_text("63.5");
        show_jobs(page);
        page.button("See an example in millimetres").click();
        page.wait_until("the joint is kept", |page| {
            kept(page)
                .iter()
                .any(|(_, job)| job["pieces"][0]["angle"] == "63.5")
        });
    });
}
