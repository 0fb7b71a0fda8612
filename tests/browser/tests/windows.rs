//! Two windows of the page side by side, as somebody has them who compares two joints.
#![allow(clippy::panic, reason = "tests fail by panicking")]

use browser_tests::Page;

const CORRECTED: &str = "across × 1.0101, along × 0.9901";

#[track_caller]
fn assert_calibrated(page: &Page, window: &str) {
    page.wait_until(&format!("{window} has the calibration"), |page| {
        page.field("Its name").value() == "shop laser" && page.says(CORRECTED)
    });
}

#[test]
fn a_calibration_in_one_window_is_the_other_windows_too() {
    let page = Page::open();
    page.open_fragment("v=1&branch=42.4&angle=60");
    let first = page.this_window();
    let second = page.open_window("v=1&branch=48.3&angle=45");
    assert_eq!(page.field("Branch diameter").value(), "48.3");
    assert!(page.says("No correction"));

    page.turn_to(&first);
    page.field("Its name").type_text("shop laser");
    // 100 / 99 and 100 / 101.
    page.field("Across the sheet").type_text("99");
    page.field("Along the sheet").type_text("101");
    page.button("Correct the sheets").click();
    assert_calibrated(&page, "the first window");

    page.turn_to(&second);
    assert_calibrated(&page, "the second window");
    page.field("Branch diameter").type_text("50.8");
    page.wait_until("the second window keeps what was typed", |page| {
        page.url().contains("branch=50.8")
    });
    // What the first window did is not the second's to take back.
    page.field("Main diameter").type_text("63.5");
    page.button("Undo").click();
    page.wait_until("the main is as it was", |page| {
        page.field("Main diameter").value() != "63.5"
    });
    assert_calibrated(&page, "the second window after a step back");

    page.turn_to(&first);
    page.reload();
    assert_calibrated(&page, "the first window after a reload");
    assert_eq!(page.field("Branch diameter").value(), "42.4");

    page.turn_to(&second);
    page.reload();
    assert_calibrated(&page, "the second window after a reload");
    assert_eq!(page.field("Branch diameter").value(), "50.8");
    assert_eq!(page.troubles(), [""; 0]);
}
