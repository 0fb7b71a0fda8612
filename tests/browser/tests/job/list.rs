//! The list itself: pieces added, doubled, mirrored, moved, deleted, ticked, and all of it undone.

use browser_tests::Page;
use serde_json::json;

use crate::{PAGE, go_to, here, pieces, start, texts};

fn filters(page: &Page) -> Vec<String> {
    texts(page, ".which[aria-label='Pieces shown'] button")
}

/// A list with a brace that leans to one side, and its partner.
fn braces(page: &Page) {
    start(page);
    page.field("Label").type_text("brace");
    page.field("Offset").type_text("-7.3");
    page.field("Heel from zero line").type_text("20");
    page.button("Add its mirror partner").click();
}

#[test]
fn a_partner_is_the_mirror_image_and_both_say_which_they_are() {
    PAGE.visit(|page| {
        braces(page);
        assert_eq!(pieces(page), ["1. brace, left", "2. brace, right"]);
        assert_eq!(here(page), "2. brace, right");
        assert_eq!(page.field("Offset").value(), "7.3");
        assert_eq!(page.field("Heel from zero line").value(), "-20");
        go_to(page, "1. brace, left");
        assert_eq!(page.field("Label").value(), "brace, left");
        assert_eq!(page.field("Offset").value(), "-7.3");
        assert_eq!(page.field("Heel from zero line").value(), "20");
        // One step takes both the partner and the new name back.
        page.button("Undo").click();
        assert_eq!(pieces(page), ["1. brace"]);
    });
}

#[test]
fn pieces_are_added_doubled_moved_and_deleted_and_each_can_be_undone() {
    PAGE.visit(|page| {
        start(page);
        page.field("Label").type_text("upright");
        page.field("Angle").type_text("71");
        let mut states = vec![pieces(page)];
        for (button, list, at) in [
            (
                "Same again",
                vec!["1. upright", "2. upright 2"],
                "2. upright 2",
            ),
            (
                "Add a piece",
                vec!["1. upright", "2. upright 2", "3. piece 3"],
                "3. piece 3",
            ),
            (
                "Move up",
                vec!["1. upright", "2. piece 2", "3. upright 2"],
                "2. piece 2",
            ),
            (
                "Move up",
                vec!["1. piece 1", "2. upright", "3. upright 2"],
                "1. piece 1",
            ),
            (
                "Move down",
                vec!["1. upright", "2. piece 2", "3. upright 2"],
                "2. piece 2",
            ),
            ("Delete", vec!["1. upright", "2. upright 2"], "2. upright 2"),
            ("Delete", vec!["1. upright"], "1. upright"),
        ] {
            page.button(button).click();
            assert_eq!(pieces(page), list, "{button}");
            assert_eq!(here(page), at, "{button}");
            states.push(pieces(page));
        }
        assert_eq!(page.field("Angle").value(), "71");
        // The last one of all leaves the usual one.
        page.button("Delete").click();
        assert_eq!(pieces(page), ["1. piece 1"]);
        for state in states.iter().rev() {
            page.button("Undo").click();
            assert_eq!(&pieces(page), state);
        }
        for state in &states[1..] {
            page.button("Redo").click();
            assert_eq!(&pieces(page), state);
        }
    });
}

#[test]
fn what_is_done_is_ticked_and_can_be_hidden() {
    PAGE.visit(|page| {
        braces(page);
        page.button("Same again").click();
        assert_eq!(
            pieces(page),
            ["1. brace, left", "2. brace, right", "3. brace, right 2"]
        );
        page.field("brace, right is done").click();
        assert_eq!(filters(page), ["all (3)", "to do (2)", "done (1)"]);
        page.button("to do (2)").click();
        assert_eq!(pieces(page), ["1. brace, left", "3. brace, right 2"]);
        // Past what is hidden.
        go_to(page, "3. brace, right 2");
        page.button("Move up").click();
        assert_eq!(pieces(page), ["1. brace, right 2", "2. brace, left"]);
        page.button("done (1)").click();
        assert_eq!(pieces(page), ["3. brace, right"]);
        page.field("brace, right is done").click();
        assert_eq!(pieces(page), [""; 0]);
        assert!(page.says("No piece of this kind."));
        page.button("Undo").click();
        assert!(page.field("brace, right is done").is_chosen());
        page.button("all (3)").click();
        assert_eq!(pieces(page).len(), 3);
    });
}

#[test]
fn every_piece_keeps_its_own_numbers_and_undo_goes_to_the_one_it_changes() {
    PAGE.visit(|page| {
        start(page);
        page.field("Label").type_text("stay");
        page.field("Angle").type_text("48");
        page.button("Same again").click();
        page.field("Angle").type_text("52");
        let sheets = |page: &Page| {
            page.rest();
            page.run(
                "return document.querySelector('.sheets').innerText",
                Vec::new(),
            )
        };
        let second = sheets(page);
        go_to(page, "1. stay");
        assert_eq!(page.field("Angle").value(), "48");
        assert_ne!(sheets(page), second, "the sheets are the other piece's");
        go_to(page, "2. stay 2");
        assert_eq!(page.field("Angle").value(), "52");
        assert_eq!(sheets(page), second);

        go_to(page, "1. stay");
        page.button("Undo").click();
        assert_eq!(here(page), "2. stay 2");
        assert_eq!(page.field("Angle").value(), "48");
        go_to(page, "1. stay");
        page.button("Redo").click();
        assert_eq!(here(page), "2. stay 2");
        assert_eq!(page.field("Angle").value(), "52");
        // Redone after it was made on one piece, while the other was looked at.
        go_to(page, "1. stay");
        page.button("Undo").click();
        page.button("Redo").click();
        assert_eq!(here(page), "2. stay 2");
        go_to(page, "1. stay");
        assert_eq!(page.field("Angle").value(), "48");
    });
}

#[test]
fn numbers_of_the_whole_job_are_of_one_unit() {
    PAGE.visit(|page| {
        braces(page);
        page.field("Numbers in").choose("Inches, to 1/16");
        go_to(page, "1. brace, left");
        assert_eq!(page.field("Numbers in").value(), "in/16");
        let shown = page.run(
            "return document.querySelector('.list .piece span').innerText",
            Vec::new(),
        );
        assert_ne!(shown, json!("42.4 × 2.6, one end"));
        page.button("Undo").click();
        assert_eq!(page.field("Numbers in").value(), "mm");
    });
}
