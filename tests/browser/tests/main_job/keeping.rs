//! Coming back: a reload, the next visit, a link, and what is damaged or wrong in them.

use std::time::Duration;

use browser_tests::Page;
use browser_tests::printed::Sheet;
use serde_json::{Value, json};

use crate::{PAGE, assert_same, chord, fact, is_held, sentence, shown};

const FIELDS: [&str; 12] = [
    "Label",
    "Numbers in",
    "Branch diameter",
    "Branch wall",
    "Main diameter",
    "Angle",
    "Offset",
    "Root gap",
    "Heel from zero line",
    "Measured circumference",
    "Paper thickness",
    "Paper",
];

/// Opens a joint at 50°, and waits until the address is the page's own.
fn open_at_50(page: &Page) {
    page.open_fragment("v=1&unit=mm&angle=50");
    page.wait_until("the address is the page's own", |page| {
        page.url().contains("paper=A4")
    });
}

#[test]
fn a_reload_in_the_middle_of_a_word_loses_nothing() {
    PAGE.visit(|page| {
        open_at_50(page);
        page.field("Angle").type_text("47.5");
        // Before the address has followed.
        page.reload();
        assert_eq!(page.field("Angle").value(), "47.5");
        // A link put in by hand goes first all the same.
        page.open_fragment("v=1&unit=mm&angle=33");
        assert_eq!(page.field("Angle").value(), "33");
    });
}

#[test]
fn a_reload_that_takes_its_time_loses_nothing() {
    PAGE.visit(|page| {
        open_at_50(page);
        // What is kept for working without a network would answer at once.
        page.run_async(
            "const done = arguments[0];
             navigator.serviceWorker.getRegistrations()
                 .then(all => Promise.all(all.map(one => one.unregister())))
                 .then(() => done(0))",
            Vec::new(),
        );
        page.field("Angle").type_text("47.5");
        // The address follows while the reload of the former one is under way.
        page.site().answer_late(Duration::from_millis(600));
        page.reload();
        page.site().answer_late(Duration::ZERO);
        assert_eq!(page.field("Angle").value(), "47.5");
    });
}

fn form(page: &Page) -> Vec<String> {
    let mut form: Vec<String> = FIELDS.map(|name| page.field(name).value()).to_vec();
    form.push(
        page.run(
            "return document.querySelector('[name=cut]:checked').closest('label').innerText",
            Vec::new(),
        )
        .to_string(),
    );
    form
}

/// Fills every field with something unusual.
fn fill_in(page: &Page) {
    page.open_fragment("v=1&unit=mm");
    for (field, text) in [
        ("Label", "drawbar, left “A” 50 %"),
        ("Branch diameter", "1 1/2\""),
        ("Branch wall", "2,9"),
        ("Main diameter", "6 cm"),
        ("Angle", "52.25"),
        ("Offset", "-4.5"),
        ("Root gap", "1"),
        ("Heel from zero line", "-30"),
        ("Measured circumference", "120.2"),
        ("Paper thickness", ".15"),
    ] {
        page.field(field).type_text(text);
    }
    page.field("Paper").choose("A3");
    page.run(
        "document.querySelectorAll('[name=cut]')[2].click()",
        Vec::new(),
    );
    assert!(!is_held(page));
}

#[test]
fn reload_and_return_keep_everything() {
    PAGE.visit(|page| {
        fill_in(page);
        let (filled, drawn) = (form(page), shown(page));
        page.reload();
        assert_eq!(form(page), filled);
        assert_same(&shown(page), &drawn, "reloaded");
        page.come_back();
        assert_eq!(form(page), filled, "by the bare address");
        assert_same(&shown(page), &drawn, "come back");
        // An unfinished number is kept as it was left.
        page.field("Offset").type_text("3/");
        page.come_back();
        assert_eq!(page.field("Offset").value(), "3/");
        assert!(is_held(page));
        assert!(sentence(page, "Offset").contains("3/"));
    });
}

#[test]
fn link_holds_everything() {
    PAGE.visit(|page| {
        fill_in(page);
        let (filled, drawn) = (form(page), shown(page));
        page.button("Copy link").click();
        page.wait_until("the page says that the link is copied", |page| {
            page.says("Link copied")
        });
        let gap = page.field("Root gap");
        gap.press(&chord("a"));
        gap.press(&chord("v"));
        let link = gap.value();
        page.button("Undo").click();
        let fragment = link.split_once('#').unwrap().1.to_owned();
        assert!(
            fragment.starts_with("v=1&unit=mm&branch=1%201/2%22"),
            "{fragment}"
        );
        page.wait_until("the address holds the same", |page| page.url() == link);

        page.open_fragment("v=1");
        assert_ne!(form(page), filled);
        page.open_fragment(&fragment);
        assert_eq!(form(page), filled);
        assert_same(&shown(page), &drawn, "come back");
        assert_eq!(page.text_of(".notices").trim(), "");
    });
}

#[test]
fn wrong_keys_of_a_link_are_named_and_the_rest_is_used() {
    PAGE.visit(|page| {
        page.open_fragment(
            "v=1&unit=furlong&branch=thick&angle=41&cut=laser&paper=A9&colour=red&offset=4.5",
        );
        let told = page.text_of(".notices");
        for wrong in ["unit=furlong", "cut=laser", "paper=A9"] {
            assert!(told.contains(wrong), "{wrong}: {told}");
        }
        assert!(
            !told.contains("colour"),
            "unknown keys are left alone: {told}"
        );
        assert_eq!(page.field("Angle").value(), "41");
        assert_eq!(page.field("Offset").value(), "4.5");
        assert_eq!(fact(page, "Off square"), "49°");
        // A number that is none stays where it can be mended.
        assert_eq!(page.field("Branch diameter").value(), "thick");
        assert!(sentence(page, "Branch diameter").contains("thick"));
        assert!(is_held(page));
        page.field("Branch diameter").type_text("40");
        assert!(!is_held(page));
        page.button("Understood").click();
        assert_eq!(page.text_of(".notices").trim(), "");

        page.open_fragment("v=7&angle=41");
        assert!(page.text_of(".notices").contains("version 7"));
        assert_eq!(page.field("Angle").value(), "41");
    });
}

#[test]
fn damaged_store_is_told_and_set_aside() {
    PAGE.visit(|page| {
        for damage in [
            "garbage",
            "",
            "{\"version\":1,\"printers\":7}",
            "{\"version\":9}",
        ] {
            let damaged = page.run(
                "localStorage.setItem('copewright', arguments[0]);
                 Storage.prototype.setItem = () => {};
                 return localStorage.getItem('copewright')",
                vec![json!(damage)],
            );
            assert_eq!(damaged, damage);
            page.come_back();
            assert!(page.text_of(".notices").contains("set aside"), "{damage}");
            assert!(!is_held(page), "{damage}");
            page.field("Angle").type_text("44");
            assert_eq!(fact(page, "Off square"), "46°");
            assert!(
                page.run("return Object.values(localStorage)", Vec::new())
                    .as_array()
                    .unwrap()
                    .contains(&Value::from(damage)),
                "{damage} is kept aside"
            );
            // The next visit is as if nothing had been.
            page.come_back();
            assert_eq!(page.text_of(".notices").trim(), "", "{damage}");
            assert_eq!(page.field("Angle").value(), "44");
        }
    });
}

#[test]
fn label_is_words_and_nothing_else() {
    PAGE.visit(|page| {
        let label =
            r#"</text><script>taken=1</script>"'&amp;<img src=x onerror="taken=2"> 100 % #"#;
        page.open_fragment("v=1");
        page.field("Label").type_text(label);
        let check = |how: &str| {
            page.rest();
            assert_eq!(page.field("Label").value(), label, "{how}");
            let taken = page.run(
                "return [window.taken, document.querySelectorAll('.sheets script, img').length]",
                Vec::new(),
            );
            assert_eq!(taken, json!([null, 0]), "{how}");
            let pdf = page.print();
            let words = Sheet::new(&pdf.pages[0]).words();
            assert!(words.contains("<script>taken=1</script>"), "{how}: {words}");
        };
        check("typed");
        page.come_back();
        check("kept");
        page.wait_until("the address follows", |page| {
            page.url().contains("%3Cscript")
        });
        let url = page.url();
        page.open_fragment("v=1");
        page.open_fragment(url.split_once('#').unwrap().1);
        check("opened by link");
    });
}

#[test]
fn warning_of_a_newer_link_stays_until_it_is_heeded() {
    PAGE.visit(|page| {
        let warned = |page: &Page| page.text_of(".notices").contains("version 2");
        page.open_fragment("v=2&angle=50");
        assert!(warned(page));
        page.reload();
        assert!(warned(page), "a reload warns again");
        page.field("Offset").type_text("3");
        page.wait_until("the address follows the change", |page| {
            page.url().contains("v=1&")
        });
        page.reload();
        assert!(!warned(page));
        assert_eq!(page.field("Angle").value(), "50");
        page.open_fragment("v=2&angle=40");
        page.button("Understood").click();
        page.wait_until("the address is this version's", |page| {
            page.url().contains("v=1&")
        });
        page.reload();
        assert!(!warned(page));
        assert_eq!(page.field("Angle").value(), "40");
    });
}
