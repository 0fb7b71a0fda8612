//! What comes after: a piece made longer, and a finished one that measures wrong.

use browser_tests::Page;

use crate::{PAGE, go_to, pieces, start, texts};

/// A list with a whole piece on it, square at right angles at both ends.
fn rung(page: &Page) {
    start(page);
    page.field("Label").type_text("rung");
    page.field("Angle").type_text("90");
    page.button("Add the other end and the length").click();
    page.field("Length").type_text("500");
}

/// What a table of before and after says of something.
fn row(page: &Page, name: &str) -> Option<[String; 2]> {
    let rows = texts(page, ".after .sides tbody tr");
    let row = rows.iter().find(|row| row.starts_with(name))?;
    let cells: Vec<&str> = row[name.len()..].trim().split('\t').collect();
    let [before, after] = cells.try_into().ok()?;
    Some([before.to_owned(), after.to_owned()])
}

#[test]
fn a_piece_is_made_longer_side_by_side_and_back() {
    PAGE.visit(|page| {
        rung(page);
        page.button("Make it longer or shorter").click();
        let by = page.field("Longer by");
        by.type_text("much");
        assert!(texts(page, "#stretch-problem")[0].contains("much"));
        assert_eq!(row(page, "Between joint centres"), None);
        by.type_text("-600");
        assert_ne!(texts(page, "#stretch-problem")[0], "", "no tube is left");
        by.type_text("25");
        assert_eq!(texts(page, "#stretch-problem"), [""]);
        assert_eq!(
            row(page, "Between joint centres"),
            Some(["500 mm".into(), "525 mm".into()])
        );
        // Long points lie √(24.15² − 21.2²) = 11.566 from the joint centres, at both ends.
        assert_eq!(
            row(page, "Overall, long point to long point"),
            Some(["477 − 0.13 mm".into(), "502 − 0.13 mm".into()])
        );
        // Nothing has changed yet, and leaving it changes nothing.
        assert_eq!(page.field("Length").value(), "500");
        page.button("Leave it as it was").click();
        assert_eq!(by.value(), "");
        assert_eq!(page.field("Length").value(), "500");
        by.type_text("25");
        page.button("Take the new lengths").click();
        assert_eq!(page.field("Length").value(), "525");
        assert_eq!(by.value(), "");
        page.button("Undo").click();
        assert_eq!(page.field("Length").value(), "500");
        page.button("Redo").click();
        assert_eq!(page.field("Length").value(), "525");
        // It is this piece's alone.
        page.button("Undo").click();
        page.button("Same again").click();
        by.type_text("-40");
        page.button("Take the new lengths").click();
        assert_eq!(page.field("Length").value(), "460");
        go_to(page, &pieces(page)[0]);
        assert_eq!(page.field("Length").value(), "500");
    });
}

#[test]
fn a_finished_piece_that_measures_wrong_is_put_into_words() {
    PAGE.visit(|page| {
        rung(page);
        page.button("A finished piece measures wrong").click();
        let said = || texts(page, ".after .notes p").join(" ").trim().to_owned();
        assert_eq!(said(), "Type two of them at least, as the tape reads.");
        // 500 − 2 · 11.566 = 476.87.
        let overall = page.field("Overall, long point to long point");
        overall.type_text("480.9");
        assert_eq!(said(), "Type two of them at least, as the tape reads.");
        let far = page.field("Mark A to the far long point");
        let should_be = texts(page, ".after .field .remark")
            .into_iter()
            .filter_map(|text| {
                text.strip_prefix("Should be ")?
                    .strip_suffix(" mm.")?
                    .parse()
                    .ok()
            })
            .collect::<Vec<f64>>();
        assert_eq!(should_be.len(), 4, "each field says what it should be");
        assert!((should_be[0] - 476.87).abs() < 0.01, "{should_be:?}");
        // Two distances leave open at which end the piece is too long, four do not: end B is 4 mm
        // out.
        let off = [4.0, 4.0, 0.0, 0.0];
        let fields = [
            "Overall, long point to long point",
            "Mark A to the far long point",
            "Mark B to the far long point",
            "Mark to mark",
        ];
        for ((field, should_be), off) in fields.into_iter().zip(&should_be).zip(off) {
            page.field(field)
                .type_text(&format!("{:.2}", should_be + off));
            if field.starts_with("Mark A") {
                assert!(said().contains("4 mm too long"), "{}", said());
                assert!(said().contains("measure a third"), "{}", said());
            }
        }
        let told = said();
        assert!(
            told.contains("4 mm too long") && told.contains("at end B"),
            "{told}"
        );
        far.type_text("five");
        assert!(
            texts(page, ".after .problem")
                .iter()
                .any(|told| told.contains("five"))
        );
        overall.type_text("476.9");
        far.type_text(&format!("{:.2}", should_be[1]));
        assert!(said().contains("as long as it should be"), "{}", said());
    });
}

#[test]
fn the_mass_is_that_of_the_material() {
    PAGE.visit(|page| {
        rung(page);
        let mass = |of: &str| -> f64 {
            let said = |page: &Page| {
                let all = texts(page, ".checks dl > div");
                let own = all.iter().find_map(|fact| fact.strip_prefix("Mass"));
                own.map_or_else(String::new, |own| own.trim().to_owned())
            };
            let kind = format!(" kg in {of}");
            page.wait_until(&format!("it weighs as {of}, not {}", said(page)), |page| {
                said(page).ends_with(&kind)
            });
            said(page).trim_end_matches(&kind).parse().unwrap()
        };
        let steel = mass("steel");
        page.button("Saws and machine at hand").click();
        page.field("Tube is of").choose("aluminium");
        // 7850 and 2700 kg/m³, to the hundredth of a kilogram that is shown.
        let (found, wanted) = (mass("aluminium"), steel * 2700.0 / 7850.0);
        assert!((found - wanted).abs() < 0.008, "{found}, not {wanted}");
        page.button("Undo").click();
        assert!((mass("steel") - steel).abs() < 1e-9);
    });
}
