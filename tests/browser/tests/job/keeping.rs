//! The job comes back: after a reload, on the next visit, in the middle of a word.

use browser_tests::Page;
use serde_json::json;

use crate::{PAGE, go_to, here, kept, pieces, revision, show_jobs, start, told, wait_until_kept};

/// A job of two pieces, the second on the bench.
fn trolley(page: &Page) {
    start(page);
    page.field("Job").type_text("trolley");
    page.field("Label").type_text("upright");
    page.button("Same again").click();
    page.field("Angle").type_text("52");
}

#[track_caller]
fn assert_there(page: &Page, when: &str) {
    page.wait_until(&format!("the list is there {when}"), |page| {
        page.first(".pieces").is_some()
    });
    assert_eq!(page.field("Job").value(), "trolley", "{when}");
    assert_eq!(pieces(page), ["1. upright", "2. upright 2"], "{when}");
    assert_eq!(here(page), "2. upright 2", "{when}");
    assert_eq!(page.field("Angle").value(), "52", "{when}");
    assert_eq!(told(page), "", "{when}");
}

#[test]
fn reload_and_return_bring_the_job_back() {
    PAGE.visit(|page| {
        trolley(page);
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "52");
        page.reload();
        assert_there(page, "after a reload");
        page.come_back();
        assert_there(page, "by the bare address");
        go_to(page, "1. upright");
        page.wait_until("the address is the first piece's", |page| {
            page.url().contains("angle=60")
        });
        page.reload();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(here(page), "1. upright");
        assert_eq!(kept(page).len(), 1);
    });
}

#[test]
fn a_reload_in_the_middle_of_anything_loses_nothing() {
    PAGE.visit(|page| {
        // Nothing has been kept yet: a job that is left at once.
        trolley(page);
        page.reload();
        assert_there(page, "left at once");
        page.field("Job").type_text("trolley of ash");
        page.reload();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(page.field("Job").value(), "trolley of ash", "in a title");
        page.field("Angle").type_text("47.5");
        page.reload();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(page.field("Angle").value(), "47.5", "in a number");
        page.button("Same again").click();
        page.come_back();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(pieces(page).len(), 3, "a piece just added");
        assert_eq!(here(page), "3. upright 3");
        assert_eq!(told(page), "");
        wait_until_kept(page, "trolley of ash", |job| {
            job["pieces"].as_array().unwrap().len() == 3
        });
        assert_eq!(kept(page).len(), 1, "one job, not several states of it");
    });
}

#[test]
fn a_shared_link_in_another_window_does_not_replace_the_job() {
    PAGE.visit(|page| {
        trolley(page);
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "52");
        let first = page.this_window();
        let second = page.open_window("v=1&unit=mm&branch=30&wall=2&main=40&angle=75&label=other");
        assert_eq!(page.field("Label").value(), "other");
        assert!(page.first(".pieces").is_none(), "one joint, no list");
        page.field("Angle").type_text("74");
        page.wait_until("the address follows", |page| {
            page.url().contains("angle=74")
        });
        page.turn_to(&first);
        page.reload();
        assert_there(page, "after the link was opened elsewhere");
        page.turn_to(&second);
        page.button("Start a list of pieces").click();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(pieces(page), ["1. other"]);
        show_jobs(page);
        page.button("Open trolley").click();
        page.wait_until("the trolley is on the list", |page| {
            pieces(page) == ["1. upright", "2. upright 2"]
        });
        page.close_window(&first);
    });
}

#[test]
fn several_jobs_are_kept_opened_deleted_and_brought_back() {
    PAGE.visit(|page| {
        trolley(page);
        show_jobs(page);
        page.button("Start another job").click();
        assert_eq!(pieces(page), ["1. piece 1"]);
        assert_eq!(page.field("Job").value(), "");
        assert!(
            !page.button("Undo").is_enabled(),
            "another job begins afresh"
        );
        page.field("Job").type_text("rack");
        page.field("Angle").type_text("33");
        wait_until_kept(page, "rack", |job| job["pieces"][0]["angle"] == "33");
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "52");
        page.button("Open trolley").click();
        page.wait_until("the trolley is open", |page| {
            page.field("Job").value() == "trolley"
        });
        assert_eq!(pieces(page), ["1. upright", "2. upright 2"]);
        page.wait_until("the jobs say where the trolley is", |page| {
            page.says("trolley is on the bench")
        });
        go_to(page, "2. upright 2");
        assert_eq!(page.field("Angle").value(), "52");
        let written = revision(page, "rack").unwrap();
        page.button("Delete rack").click();
        page.wait_until("the rack is deleted", |page| {
            told(page).contains("“rack” is deleted.")
        });
        page.wait_until("the rack is gone", |page| kept(page).len() == 1);
        page.button("Bring it back").click();
        // A window that had it before must not take it for what it knows.
        page.wait_until("the rack is back", |page| {
            revision(page, "rack") == Some(written + 1)
        });
        page.button("Open rack").click();
        page.wait_until("the rack is open", |page| {
            page.field("Job").value() == "rack"
        });
        assert_eq!(page.field("Angle").value(), "33");
        // Where it stood is where the next visit begins.
        page.wait_until("the address follows", |page| {
            page.url().contains("angle=33")
        });
        page.come_back();
        page.wait_until("the list is there", |page| page.first(".pieces").is_some());
        assert_eq!(page.field("Job").value(), "rack");
        assert_eq!(kept(page).len(), 2);
    });
}

#[test]
fn a_job_that_is_written_leaves_the_list_of_jobs_alone() {
    PAGE.visit(|page| {
        trolley(page);
        show_jobs(page);
        page.button("Start another job").click();
        page.field("Job").type_text("rack");
        wait_until_kept(page, "rack", |_| true);
        page.wait_until("both are listed", |page| {
            page.says("rack is on the bench")
                && page.names_of("button").contains(&"Open trolley".to_owned())
        });
        page.run(
            "window.listed = document.querySelector('[aria-label=\"Open trolley\"]')",
            Vec::new(),
        );
        page.field("Angle").type_text("33");
        wait_until_kept(page, "rack", |job| job["pieces"][0]["angle"] == "33");
        page.settle();
        // A finger that goes for it meanwhile finds it where it was.
        assert_eq!(
            page.run("return window.listed.isConnected", Vec::new()),
            json!(true)
        );
    });
}
