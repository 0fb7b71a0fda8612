//! From the page of one joint to the workshop that takes its place, and a link that is put in the
//! address of the open page.

use browser_tests::Page;
use serde_json::json;

use crate::kit::{JOINT, saws};
use crate::{PAGE, kept, pieces, show_jobs, start, told};

/// Puts a link in the address of the open page.
fn put_in_address(page: &Page, link: &str) {
    page.run("location.hash = arguments[0]", vec![json!(link)]);
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
