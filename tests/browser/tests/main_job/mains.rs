//! What the branch sits on: every kind chosen, typed, taken back, kept and opened by its link.

use browser_tests::{Element, Page};
use serde_json::{Value, json};

use crate::{PAGE, fact, sentence, shown};

fn kind<'a>(page: &'a Page, name: &str) -> Element<'a> {
    page.named("input[type=radio]", "choice", name)
}

fn fragment(page: &Page) -> String {
    page.url()
        .split_once('#')
        .map(|(_, fragment)| fragment.to_owned())
        .unwrap_or_default()
}

/// Names of the fields that the sketch has now.
fn fields(page: &Page) -> Value {
    page.run(
        "return [...document.querySelectorAll('.sketch .field label')]
             .map(label => label.innerText).sort()",
        Vec::new(),
    )
}

/// A kind: its name, its fields, one of them with a number, and what its link then holds.
const KINDS: [(&str, &[&str], &str, &str, &str); 5] = [
    (
        "Flat plate",
        &["Angle", "Branch diameter", "Branch wall"],
        "Angle",
        "40",
        "kind=plate&angle=40",
    ),
    (
        "Mitre",
        &[
            "Angle between",
            "Branch diameter",
            "Branch wall",
            "Other tube",
        ],
        "Angle between",
        "100",
        "kind=mitre&main=48.3&angle=100",
    ),
    (
        "Square or rectangular tube",
        &[
            "Angle",
            "Branch diameter",
            "Branch wall",
            "Corner radius",
            "Height",
            "Main wall",
            "Offset",
            "Section turned",
            "Width",
        ],
        "Width",
        "60",
        "kind=rectangular&width=60&height=50",
    ),
    (
        "Bent tube",
        &[
            "Angle",
            "Bend angle",
            "Bend turned",
            "Branch diameter",
            "Branch wall",
            "Centre-line radius",
            "From mid-bend",
            "Main diameter",
            "Offset",
        ],
        "Centre-line radius",
        "120",
        "kind=bent&main=48.3&clr=120",
    ),
    (
        "Round tube",
        &[
            "Angle",
            "Branch diameter",
            "Branch wall",
            "Main diameter",
            "Offset",
        ],
        "Main diameter",
        "60.3",
        "main=60.3&angle=60",
    ),
];

#[test]
fn each_kind_is_chosen_typed_taken_back_kept_and_opened() {
    PAGE.visit(|page| {
        for (name, its_fields, field, text, link) in KINDS {
            let other = if name == "Round tube" {
                "kind=plate"
            } else {
                ""
            };
            page.open_fragment(&format!("v=1&unit=mm&{other}"));
            let start = shown(page);
            kind(page, name).click();
            let chosen = shown(page);
            assert!(chosen.elevation != start.elevation, "{name}");
            assert!(chosen.sheets != start.sheets, "{name}");
            assert!(chosen.unrolled != start.unrolled, "{name}");
            assert_eq!(fields(page), json!(its_fields), "{name}");
            let usual = page.field(field).value();
            page.field(field).type_text(text);
            let typed = shown(page);
            assert!(typed.sheets != chosen.sheets, "{name}");
            assert_eq!(sentence(page, field), "", "{name}");
            page.wait_until("the address holds it", |page| fragment(page).contains(link));
            let whole = fragment(page);

            page.button("Undo").click();
            assert_eq!(page.field(field).value(), usual, "{name}");
            page.button("Undo").click();
            assert!(!kind(page, name).is_chosen(), "{name}");
            assert_eq!(shown(page), start, "{name} taken back");
            page.button("Redo").click();
            page.button("Redo").click();
            assert!(kind(page, name).is_chosen(), "{name}");
            assert_eq!(shown(page).sheets, typed.sheets, "{name} brought again");

            page.wait_until("the address follows", |page| fragment(page) == whole);
            page.reload();
            assert_eq!(page.field(field).value(), text, "{name} after a reload");
            assert!(kind(page, name).is_chosen(), "{name}");
            page.open_fragment("v=1");
            page.open_fragment(&whole);
            assert!(kind(page, name).is_chosen(), "{name} by link");
            assert_eq!(page.field(field).value(), text, "{name} by link");
            assert_eq!(page.troubles(), Vec::<String>::new(), "{name}");
        }
    });
}

#[test]
fn numbers_that_are_not_seen_stay() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm&branch=40&main=55&offset=4");
        kind(page, "Square or rectangular tube").click();
        page.field("Width").type_text("70");
        kind(page, "Flat plate").click();
        page.wait_until("the address follows", |page| {
            fragment(page).contains("kind=plate") && !fragment(page).contains("width")
        });
        page.reload();
        kind(page, "Square or rectangular tube").click();
        assert_eq!(page.field("Width").value(), "70");
        assert_eq!(page.field("Offset").value(), "4");
        kind(page, "Round tube").click();
        assert_eq!(page.field("Main diameter").value(), "55");
    });
}

#[test]
fn mains_are_added_shown_and_taken_away() {
    PAGE.visit(|page| {
        page.open_fragment("v=1&unit=mm");
        let start = shown(page);
        assert_eq!(
            page.run(
                "return document.querySelectorAll('.which').length",
                Vec::new()
            ),
            json!(0),
            "one main needs no list"
        );
        page.button("Add another main").click();
        assert_eq!(page.field("Turn from main 1").value(), "180");
        assert!(shown(page).sheets != start.sheets);
        assert!(fact(page, "Main 2").contains("48.3 mm round tube at 30°"));
        let first = page.button("Main 1: round tube");
        let second = page.button("Main 2: round tube");
        assert_eq!(second.attribute("aria-pressed").as_deref(), Some("true"));
        kind(page, "Flat plate").click();
        page.field("Angle").type_text("2");
        assert!(sentence(page, "Angle").starts_with("Main 2: "));
        first.click();
        assert_eq!(page.field("Angle").value(), "60");
        // A wrong number that is not in sight is told where it is.
        let wrong = page.button("Main 2: flat plate, a number is wrong");
        page.button("Undo").click();
        assert_eq!(wrong.text(), "Main 2: flat plate");
        assert_eq!(
            page.field("Angle").value(),
            "30",
            "the main that changed is shown"
        );
        page.button("Take main 2 away").click();
        assert_eq!(shown(page), start);
        page.button("Undo").click();
        assert!(page.says("Main 2: flat plate"));
        for _ in 2..6 {
            page.button("Add another main").click();
        }
        assert!(!page.says("Add another main"), "six are the most");
        page.wait_until("the address follows", |page| {
            fragment(page).contains("mains=6")
        });
        let link = fragment(page);
        page.open_fragment("v=1");
        page.open_fragment(&link);
        assert!(page.says("Main 6: round tube"));
        page.button("Main 2: flat plate").click();
        assert!(kind(page, "Flat plate").is_chosen());
        assert_eq!(page.troubles(), Vec::<String>::new());
    });
}
