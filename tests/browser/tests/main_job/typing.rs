//! Typing numbers: what follows each key, what a wrong number does, and how it is taken back.

use browser_tests::Key;
use browser_tests::printed::length_mm;
use serde_json::json;

use crate::{PAGE, ROUND, assert_same, chord, fact, is_held, sentence, shown};

#[test]
fn every_keystroke_redraws_everything() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=in/16&branch=1+1/2&main=2");
        let branch = page.field("Branch diameter");
        let start = shown(page);
        branch.type_text("1");
        let one = shown(page);
        assert!(one.is_all_new(&start) && !is_held(page));
        branch.press(" ");
        assert_same(&shown(page), &one, "a space");
        for (key, told) in [("5", "“1 5”"), ("/", "“1 5/”")] {
            branch.press(key);
            assert!(is_held(page), "after {key}");
            assert!(sentence(page, "Branch diameter").contains(told));
            assert_eq!(shown(page).unrolled, one.unrolled, "after {key}");
        }
        branch.press("8");
        let fraction = shown(page);
        assert!(fraction.is_all_new(&one) && fraction.is_all_new(&start) && !is_held(page));
        // π · (1 5/8 + 0.004) in = 5.1176 in, the paper being 0.004 in thick.
        assert_eq!(fact(page, ROUND), "5 1/8 − 0.007 in");
        // Every other dimension does as much, with its last digit.
        for (field, text) in [
            ("Main diameter", "2 1/4"),
            ("Angle", "47.5"),
            ("Offset", "-3/16"),
        ] {
            let before = shown(page);
            page.field(field).type_text(text);
            let after = shown(page);
            assert!(!is_held(page), "{field}: {}", sentence(page, field));
            assert_ne!(after.unrolled, before.unrolled, "{field}");
            assert_ne!(after.sheets, before.sheets, "{field}");
            assert_ne!(
                (after.elevation, after.end_view),
                (before.elevation, before.end_view),
                "{field}"
            );
        }
        assert_eq!(fact(page, "Off square"), "42.5°");
        assert!(fact(page, "Offset").contains("3/16"));
    });
}

#[test]
fn unfinished_number_holds_the_last_drawing_and_says_why() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=in/16&branch=1+1/2");
        let good = shown(page);
        let branch = page.field("Branch diameter");
        assert_eq!(branch.attribute("aria-invalid").as_deref(), Some("false"));
        branch.type_text("1 5/");
        assert!(is_held(page));
        assert_eq!(branch.attribute("aria-invalid").as_deref(), Some("true"));
        let told = sentence(page, "Branch diameter");
        assert!(told.contains("1 5/") && told.contains("slash"), "{told}");
        assert!(page.says("they show the last one that worked"));
        let held = shown(page);
        assert_eq!(
            held.elevation.contains("<svg"),
            good.elevation.contains("<svg")
        );
        assert!(held.unrolled.contains("<svg") && held.sheets.contains("<svg"));
        // Another field is no way round it.
        page.field("Angle").type_text("50");
        assert!(is_held(page));
        branch.type_text("1 5/8");
        assert!(!is_held(page));
        assert_eq!(branch.attribute("aria-invalid").as_deref(), Some("false"));
        assert!(!sentence(page, "Branch diameter").contains("slash"));
        assert!(shown(page).is_all_new(&good));
        assert_eq!(fact(page, "Off square"), "40°");
    });
}

#[test]
fn sentence_beside_a_field_can_be_read() {
    PAGE.visit(|page| {
        for (field, key, wrong) in [
            ("Branch diameter", "branch", "1 5/"),
            ("Branch wall", "wall", "90"),
            ("Main diameter", "main", "x"),
            ("Angle", "angle", "3"),
            ("Offset", "offset", "1/"),
            ("Root gap", "gap", "-1"),
            ("Measured circumference", "girth", "40"),
        ] {
            page.open_fragment("v=1");
            page.field(field).type_text(wrong);
            let covered = page.run(
                "const sentence = document.getElementById(arguments[0] + '-problem');
                 sentence.scrollIntoView({ block: 'center' });
                 const lines = document.createRange();
                 lines.selectNodeContents(sentence);
                 return [...lines.getClientRects()].flatMap(({ left, right, top, bottom }) =>
                     [0.02, 0.25, 0.5, 0.75, 0.98].map(part => [left + (right - left) * part,
                                                                 (top + bottom) / 2]))
                     .filter(([x, y]) => document.elementFromPoint(x, y) !== sentence).length",
                vec![json!(key)],
            );
            assert_eq!(covered, 0, "places covered of the sentence of {field}");
            assert!(sentence(page, field).len() > 30, "{field}");
        }
    });
}

#[test]
fn no_field_of_the_sketch_covers_another() {
    PAGE.visit(|page| {
        for link in [
            "v=1",
            "v=1&angle=90",
            "v=1&angle=30&branch=30&main=90",
            "v=1&angle=12&branch=33.7&main=60.3",
            "v=1&unit=in/16&branch=1+5/8&offset=1/4&turn=30",
            "v=1&branch=168.3&main=219.1&wall=7.1&offset=-20&angle=45",
            "v=1&branch=60.3&main=48.3&angle=75&offset=30",
            "v=1&kind=plate&angle=20",
            "v=1&kind=mitre&main=60.3&angle=140",
            "v=1&kind=rectangular&width=100&height=40&roll=30&offset=-12",
            "v=1&kind=bent&clr=90&bend=120&station=40&facing=70",
            "v=1&mains=2&kind=bent&kind2=plate",
        ] {
            page.open_fragment(link);
            let covered = page.run(
                "return [...document.querySelectorAll('.on-line label, .on-line input')]
                     .filter(part => {
                         part.scrollIntoView({ block: 'center' });
                         const { left, right, top, bottom } = part.getBoundingClientRect();
                         return [[left + 2, top + 2], [right - 2, top + 2], [left + 2, bottom - 2],
                                 [right - 2, bottom - 2], [(left + right) / 2, (top + bottom) / 2]]
                             .some(([x, y]) => !part.closest('.on-line')
                                 .contains(document.elementFromPoint(x, y)));
                     }).map(part => part.innerText || part.id)",
                Vec::new(),
            );
            assert_eq!(covered, json!([]), "{link}");
        }
    });
}

#[test]
fn angles_are_refused_and_cautioned_with_a_reason() {
    PAGE.visit(|page| {
        page.open_fragment("v=1");
        page.field("Angle").type_text("4");
        assert!(is_held(page));
        assert!(
            sentence(page, "Angle").contains('5'),
            "{}",
            sentence(page, "Angle")
        );
        page.field("Angle").type_text("20");
        assert!(!is_held(page));
        assert!(
            page.text_of(".cautions").contains("30°"),
            "AWS D1.1's ordinary practice"
        );
        page.field("Angle").type_text("60");
        assert_eq!(page.text_of(".cautions").trim(), "");
    });
}

#[test]
fn changing_the_unit_changes_no_size() {
    PAGE.visit(|page| {
        page.open_fragment(
            "v=1&unit=mm&branch=40&wall=3&main=55&offset=5&gap=.8&template=.2&angle=50",
        );
        let sizes =
            || [ROUND, "Depth of the cut"].map(|name| length_mm(&fact(page, name)).unwrap());
        let before = sizes();
        for unit in [
            "Inches, to 1/16",
            "Decimal inches",
            "Inches, to 1/64",
            "Millimetres",
        ] {
            page.field("Numbers in").choose(unit);
            assert!(!is_held(page), "{unit}");
            for (is, was) in sizes().into_iter().zip(before) {
                // Inches are written to 0.001 in, which is 0.025 mm.
                assert!((is - was).abs() < 0.015, "{unit}: {is} was {was}");
            }
            let written = fact(page, ROUND);
            assert_eq!(
                written.ends_with("mm"),
                unit == "Millimetres",
                "{unit}: {written}"
            );
        }
        // A number typed now is of the unit chosen now.
        page.field("Numbers in").choose("Decimal inches");
        page.field("Branch diameter").type_text("1.5");
        let round = length_mm(&fact(page, ROUND)).unwrap();
        assert!(
            (round - std::f64::consts::PI * 38.3).abs() < 0.015,
            "{round}"
        );
        page.field("Branch diameter").type_text("45 mm");
        let round = length_mm(&fact(page, ROUND)).unwrap();
        assert!(
            (round - std::f64::consts::PI * 45.2).abs() < 0.015,
            "{round}"
        );
    });
}

#[test]
fn changes_are_taken_back_and_brought_again() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&branch=40&main=50&angle=70");
        let start = shown(page);
        let [undo, redo] = ["Undo", "Redo"].map(|name| page.button(name));
        assert!(!undo.is_enabled() && !redo.is_enabled());
        page.field("Branch diameter").type_text("35");
        page.field("Angle").type_text("55");
        let changed = shown(page);

        undo.click();
        assert_eq!(
            page.field("Angle").value(),
            "70",
            "keystrokes in one field are one step"
        );
        assert_eq!(page.field("Branch diameter").value(), "35");
        undo.click();
        assert_eq!(page.field("Branch diameter").value(), "40");
        assert_same(&shown(page), &start, "taken back");
        assert!(!undo.is_enabled());
        redo.click();
        redo.click();
        assert_same(&shown(page), &changed, "brought again");
        assert!(!redo.is_enabled());

        // The same by keys, from within a field.
        let angle = page.field("Angle");
        angle.press(&chord("z"));
        assert_eq!(angle.value(), "70");
        angle.press(&chord("z"));
        assert_same(&shown(page), &start, "taken back");
        angle.press(&chord("y"));
        angle.press(&chord(&format!("{}z", char::from(Key::Shift))));
        assert_same(&shown(page), &changed, "brought again");

        // Choices are changes too, and a wrong number is one that can be taken back.
        page.field("Paper").choose("A3");
        page.field("Numbers in").choose("Decimal inches");
        page.field("Branch diameter").type_text("1/");
        assert!(is_held(page));
        for _ in 0..3 {
            undo.click();
        }
        assert_same(&shown(page), &changed, "brought again");
    });
}
