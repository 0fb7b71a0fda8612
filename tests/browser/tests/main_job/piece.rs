//! The whole piece: the other end asked for, measured, printed, taken back and kept.

use browser_tests::Page;
use browser_tests::printed::Sheet;
use serde_json::json;

use crate::{PAGE, fact};

/// Whether the buttons that print can be pressed.
fn can_print(page: &Page) -> bool {
    let pressed = page.run(
        "return [...document.querySelectorAll('button.print')].every(button => !button.disabled)",
        Vec::new(),
    );
    pressed == json!(true)
}

/// The template for the main: chosen, typed into, taken back and printed.
#[test]
fn the_template_of_the_main_comes_along() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60");
        assert_eq!(page.print().pages.len(), 1);
        let words = "Print a template for the main too Where the branch lands on it, and the hole \
                     for flow.";
        page.named("input[type=checkbox]", "choice", words).click();
        let end = page.field("Main’s end to joint centre");
        end.type_text("320");
        assert!(
            end.has_focus(),
            "the field was made anew while it was typed into"
        );
        let pdf = page.print();
        assert_eq!(pdf.pages.len(), 2);
        let sheet = Sheet::new(&pdf.pages[1]);
        assert_eq!(sheet.length("Main’s end to mark line"), 290.0);
        page.wait_until("the address holds it", |page| {
            page.url().contains("&end=320&cut=") && page.url().contains("&landing=yes")
        });
        page.button("Undo").click();
        page.button("Undo").click();
        assert_eq!(page.print().pages.len(), 1);
        page.button("Redo").click();
        page.button("Redo").click();
        page.wait_until("the address holds it again", |page| {
            page.url().contains("&end=320&cut=") && page.url().contains("&landing=yes")
        });
        page.reload();
        assert_eq!(page.field("Main’s end to joint centre").value(), "320");
        assert_eq!(page.troubles(), Vec::<String>::new());
    });
}

#[test]
fn a_whole_piece_is_measured_and_kept() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw");
        page.button("Add the other end and the length").click();
        // Alike at both ends: each long point √(24.15² − 21.2²) = 11.566 from its joint centre.
        page.field("Length").type_text("500");
        assert_eq!(
            fact(page, "Overall, long point to long point"),
            "477 − 0.13 mm"
        );
        assert_eq!(fact(page, "Between joint centres"), "500 mm");
        assert_eq!(fact(page, "Heel of end B from heel of end A"), "alike");

        let ends = page.names_of(".ends button");
        assert_eq!(ends.len(), 2, "{ends:?}");
        page.button("End B: on 48.3 mm round tube at 90°").click();
        page.field("Angle").type_text("60");
        page.field("Heel from end A’s heel").type_text("90");
        assert_eq!(
            fact(page, "Heel of end B from heel of end A"),
            "90°, clockwise seen along the tube from end A"
        );
        page.button("End A: on 48.3 mm round tube at 90°").click();
        assert_eq!(page.field("Angle").value(), "90");

        // A wrong length is told beside it, and nothing wrong is printed.
        page.field("Length").type_text("10");
        assert!(!can_print(page));
        page.field("Length").type_text("500");
        assert!(can_print(page));
        let pdf = page.print();
        let titles: Vec<String> = pdf
            .pages
            .iter()
            .map(|page| Sheet::new(page).words())
            .collect();
        assert!(
            titles.iter().any(|title| title.contains("End A")),
            "{titles:?}"
        );
        assert!(
            titles.iter().any(|title| title.contains("End B")),
            "{titles:?}"
        );

        page.wait_until("the address holds the piece", |page| {
            page.url().contains("&piece=yes") && page.url().contains("b-angle=60")
        });
        page.reload();
        assert_eq!(page.field("Length").value(), "500");
        page.button("End B: on 48.3 mm round tube at 60°").click();
        assert_eq!(page.field("Angle").value(), "60");
        page.button("Leave the other end out").click();
        assert_eq!(page.names_of(".ends button").len(), 0);
        // What was typed is there when it is asked for again.
        page.button("Add the other end and the length").click();
        assert_eq!(page.field("Length").value(), "500");
        let bends = page.run(
            "return document.querySelectorAll('.bend').length",
            Vec::new(),
        );
        assert_eq!(bends, json!(0));
        page.button("Add a bend").click();
        page.field("Straight behind it").type_text("200");
        assert!(fact(page, "Bend 1, start from end A of the blank").contains("90° on 130 mm"));
        assert_eq!(page.troubles(), Vec::<String>::new());
    });
}
