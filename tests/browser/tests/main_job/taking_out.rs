//! Taking it to the shop: on paper, or as a table to mark by hand.

use browser_tests::printed::{Sheet, length_mm};

use crate::{PAGE, fact};

#[test]
fn table_of_heights_is_shown_and_saved() {
    PAGE.visit(|page| {
        page.open_fragment(
            "v=1&branch=42.4&wall=2.6&main=60.3&angle=45&offset=8&cut=saw&label=brace 7",
        );
        page.button("No printer near? Mark by hand").click();
        let rows = || {
            let rows = page.run(
                "return [...document.querySelectorAll('.ordinates tbody tr')]
                     .map(row => [...row.cells].map(cell => cell.innerText))",
                Vec::new(),
            );
            serde_json::from_value::<Vec<Vec<String>>>(rows).unwrap()
        };
        for divisions in [8, 16, 32] {
            page.field("Divisions").choose(&divisions.to_string());
            assert_eq!(rows().len(), divisions);
        }
        page.button("Save as CSV").click();
        let csv = page.saved("cope-brace-7.csv");
        let mut lines = csv.lines();
        assert_eq!(
            lines.next(),
            Some("turn_deg,around_mm,from_centre_mm,from_mark_mm")
        );
        let saved: Vec<Vec<f64>> = lines
            .map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
            .collect();
        assert_eq!(saved.len(), 32);
        let to_centre = length_mm(&fact(page, "Mark line to joint centre")).unwrap();
        let around = std::f64::consts::PI * 42.5;
        for (i, (saved, shown)) in saved.iter().zip(rows()).enumerate() {
            // A generator of the branch at turn t and the circle that the main is in a plane
            // square to it: s sin 45° = ρ cos t cos 45° + sqrt(R² − (ρ sin t − e)²).
            let turn = (i as f64 * 11.25).to_radians();
            let half = std::f64::consts::FRAC_1_SQRT_2;
            let (rho, radius, offset) = (21.2, 30.15, 8.0);
            let side: f64 = rho * turn.sin() - offset;
            let height = (rho * turn.cos() * half + (radius * radius - side * side).sqrt()) / half;
            for (got, wanted, close) in [
                (saved[0], turn.to_degrees(), 1e-6),
                (saved[1], around * turn / std::f64::consts::TAU, 1e-4),
                (saved[2], height, 1e-4),
                (saved[3], to_centre - height, 0.006),
            ] {
                assert!((got - wanted).abs() < close, "row {i}: {got}, not {wanted}");
            }
            let numbers: Vec<f64> = shown
                .iter()
                .map(|cell| {
                    cell.trim_end_matches('°')
                        .replace('−', "-")
                        .parse()
                        .unwrap()
                })
                .collect();
            for (shown, saved) in [
                (numbers[1], saved[1]),
                (numbers[2], saved[3]),
                (numbers[3], saved[2]),
            ] {
                assert!(
                    (shown - saved).abs() < 0.0051,
                    "row {i}: {shown} shown, {saved} saved"
                );
            }
        }
    });
}

#[test]
fn two_numbers_changed_and_one_tap_on_print() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=in/16&paper=Letter");
        page.field("Branch diameter").type_text("1 1/4");
        page.field("Angle").type_text("37.5");
        page.run(
            "window.print = () => { window.dialogs = (window.dialogs ?? 0) + 1 }",
            Vec::new(),
        );
        page.first(".masthead button.print").unwrap().click();
        let dialogs = || page.run("return window.dialogs ?? 0", Vec::new());
        page.wait_until("the dialog opens", |_| dialogs() != 0);
        let pdf = page.print();
        assert_eq!(dialogs(), 1, "it opened once");
        assert_eq!(pdf.pages.len(), 1);
        let sheet = Sheet::new(&pdf.pages[0]);
        assert_eq!(sheet.fact("Included angle").as_deref(), Some("37.5°"));
        assert!((sheet.length("Branch, the tube to cut") - 31.75).abs() < 1e-9);
        let round = std::f64::consts::PI * (31.75 + 0.1016);
        assert!((sheet.length("Once round, edge to edge") - round).abs() < 0.013);
        let told = fact(page, "Mark line to joint centre");
        assert_eq!(sheet.fact("Mark line to joint centre"), Some(told));
    });
}
