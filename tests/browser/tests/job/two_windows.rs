//! Two windows: on one job neither overwrites the other, with two jobs each keeps its own.

use browser_tests::Page;

use crate::{PAGE, kept, pieces, show_jobs, start, told, wait_until_kept};

fn wait_for_list(page: &Page) {
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}

/// Makes a job of two pieces of the one on the bench, the second on it, and waits until it is kept.
fn two_pieces(page: &Page, title: &str) {
    page.field("Job").type_text(title);
    page.button("Same again").click();
    wait_until_kept(page, title, |job| {
        job["pieces"].as_array().unwrap().len() == 2
    });
}

#[test]
fn the_second_of_two_windows_on_one_job_gets_a_copy_and_is_told() {
    PAGE.visit(|page| {
        start(page);
        two_pieces(page, "trolley");
        let first = page.this_window();
        let second = page.open_window("");
        wait_for_list(page);
        assert_eq!(pieces(page).len(), 2);
        page.field("Angle").type_text("41");
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "41");
        assert_eq!(told(page), "", "the first one to write owns the job");

        page.turn_to(&first);
        page.field("Angle").type_text("77");
        page.wait_until("the other window is told", |page| {
            told(page).contains("second copy")
        });
        assert_eq!(page.field("Job").value(), "trolley, second copy");
        assert_eq!(page.field("Angle").value(), "77");
        wait_until_kept(page, "trolley, second copy", |job| {
            job["pieces"][1]["angle"] == "77"
        });
        // From here on each has its own.
        page.field("Angle").type_text("78");
        wait_until_kept(page, "trolley, second copy", |job| {
            job["pieces"][1]["angle"] == "78"
        });
        page.turn_to(&second);
        page.field("Offset").type_text("3");
        wait_until_kept(page, "trolley", |job| {
            job["pieces"][1]["angle"] == "41" && job["pieces"][1]["offset"] == "3"
        });
        assert_eq!(told(page), "");
        assert_eq!(kept(page).len(), 2);

        // A reload brings each its own.
        page.reload();
        wait_for_list(page);
        assert_eq!(page.field("Job").value(), "trolley");
        assert_eq!(page.field("Angle").value(), "41");
        page.turn_to(&first);
        page.reload();
        wait_for_list(page);
        assert_eq!(page.field("Job").value(), "trolley, second copy");
        assert_eq!(page.field("Angle").value(), "78");
        page.close_window(&second);
    });
}

#[test]
fn a_window_left_in_the_middle_of_a_word_does_not_overwrite_the_other() {
    PAGE.visit(|page| {
        start(page);
        two_pieces(page, "trolley");
        let first = page.this_window();
        let second = page.open_window("");
        wait_for_list(page);
        page.field("Angle").type_text("41");
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "41");
        page.turn_to(&first);
        // Left before the hands have rested, however slow the machine.
        page.run("window.setTimeout = () => 0", Vec::new());
        page.field("Angle").type_text("77");
        page.reload();
        wait_for_list(page);
        page.wait_until("both states are kept", |page| kept(page).len() == 2);
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "41");
        wait_until_kept(page, "trolley, second copy", |job| {
            job["pieces"][1]["angle"] == "77"
        });
        page.wait_until("the page says so", |page| {
            told(page).contains("second copy")
        });
        assert_eq!(page.field("Job").value(), "trolley, second copy");
        page.close_window(&second);
    });
}

#[test]
fn the_next_visit_begins_with_the_job_of_the_window_that_was_typed_in_last() {
    PAGE.visit(|page| {
        start(page);
        two_pieces(page, "trolley");
        let first = page.this_window();
        let second = page.open_window("");
        wait_for_list(page);
        show_jobs(page);
        page.button("Start another job").click();
        two_pieces(page, "rack");
        page.settle();
        // The last word is noted at once, and nothing comes after it when the hands have rested.
        page.run("window.setTimeout = () => 0", Vec::new());
        page.field("Angle").type_text("33");
        // The first window hears of it, and has nothing to say to it.
        page.turn_to(&first);
        page.settle();
        page.turn_to(&second);
        let third = page.open_window("");
        wait_for_list(page);
        assert_eq!(page.field("Job").value(), "rack");
        assert_eq!(page.field("Angle").value(), "33");
        assert_eq!(pieces(page).len(), 2);
        page.close_window(&second);
        page.turn_to(&first);
        page.close_window(&third);
    });
}

#[test]
fn a_job_opens_as_another_window_has_left_it() {
    PAGE.visit(|page| {
        start(page);
        two_pieces(page, "trolley");
        show_jobs(page);
        page.button("Start another job").click();
        page.field("Job").type_text("rack");
        wait_until_kept(page, "rack", |_| true);
        page.wait_until("the trolley is on the list of jobs", |page| {
            page.names_of("button").contains(&"Open trolley".to_owned())
        });
        let first = page.this_window();
        let second = page.open_window("");
        wait_for_list(page);
        show_jobs(page);
        page.button("Open trolley").click();
        page.wait_until("the trolley is open", |page| pieces(page).len() == 2);
        page.field("Angle").type_text("41");
        wait_until_kept(page, "trolley", |job| {
            let pieces = job["pieces"].as_array().unwrap();
            pieces.iter().any(|piece| piece["angle"] == "41")
        });
        // The first window has listed it as it was before.
        page.turn_to(&first);
        page.button("Open trolley").click();
        page.wait_until("the trolley is open", |page| pieces(page).len() == 2);
        assert_eq!(page.field("Angle").value(), "41");
        page.field("Angle").type_text("42");
        wait_until_kept(page, "trolley", |job| {
            let pieces = job["pieces"].as_array().unwrap();
            pieces.iter().any(|piece| piece["angle"] == "42")
        });
        assert_eq!(told(page), "", "no second copy");
        page.close_window(&second);
    });
}
