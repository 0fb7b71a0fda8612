//! Two windows: on one job neither overwrites the other, with two jobs each keeps its own.

use browser_tests::Page;

use crate::{PAGE, kept, pieces, start, told, wait_until_kept};

fn wait_for_list(page: &Page) {
    page.wait_until("the list is there", |page| page.first(".pieces").is_some());
}

#[test]
fn the_second_of_two_windows_on_one_job_gets_a_copy_and_is_told() {
    PAGE.visit(|page| {
        start(page);
        page.field("Job").type_text("trolley");
        page.button("Same again").click();
        wait_until_kept(page, "trolley", |job| {
            job["pieces"].as_array().unwrap().len() == 2
        });
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
        page.field("Job").type_text("trolley");
        page.button("Same again").click();
        wait_until_kept(page, "trolley", |job| {
            job["pieces"].as_array().unwrap().len() == 2
        });
        let first = page.this_window();
        let second = page.open_window("");
        wait_for_list(page);
        page.field("Angle").type_text("41");
        wait_until_kept(page, "trolley", |job| job["pieces"][1]["angle"] == "41");
        page.turn_to(&first);
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
