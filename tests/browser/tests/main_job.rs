//! The main job, as a person does it: type numbers, see everything follow, take things back,
//! come back later, hand the link on, mark by hand, print.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::printed::{Sheet, length_mm};
use browser_tests::{Device, Key, Page, SharedPage};
use serde_json::{Value, json};

static PAGE: SharedPage = SharedPage::new(Device::DESKTOP);

/// Everything that is drawn or computed from the numbers, as the page holds it now.
#[derive(PartialEq)]
struct Shown {
    elevation: String,
    end_view: String,
    unrolled: String,
    facts: String,
    sheets: String,
}

fn shown(page: &Page) -> Shown {
    let parts = page.run(
        "return ['.elevation .drawing', '.end-view .drawing', '.unrolled .drawing', '.checks dl',
                 '.sheets'].map(part => document.querySelector(part).innerHTML
                     .replaceAll(/<!--.*?-->/g, ''))",
        Vec::new(),
    );
    let part = |i: usize| parts[i].as_str().unwrap().to_owned();
    Shown {
        elevation: part(0),
        end_view: part(1),
        unrolled: part(2),
        facts: part(3),
        sheets: part(4),
    }
}

impl std::fmt::Debug for Shown {
    /// Only what tells one from another: the drawings are long.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.facts)
    }
}

impl Shown {
    /// Nothing is as it was.
    fn is_all_new(&self, before: &Self) -> bool {
        self.elevation != before.elevation
            && self.end_view != before.end_view
            && self.unrolled != before.unrolled
            && self.facts != before.facts
            && self.sheets != before.sheets
    }
}

/// The same in every part.
#[track_caller]
fn assert_same(is: &Shown, was: &Shown, when: &str) {
    for (part, is, was) in [
        ("elevation", &is.elevation, &was.elevation),
        ("end view", &is.end_view, &was.end_view),
        ("unrolled cope", &is.unrolled, &was.unrolled),
        ("facts", &is.facts, &was.facts),
        ("sheets", &is.sheets, &was.sheets),
    ] {
        if is != was {
            let same = is
                .bytes()
                .zip(was.bytes())
                .take_while(|(a, b)| a == b)
                .count();
            let from = (0..=same)
                .rev()
                .find(|i| is.is_char_boundary(*i) && same - i >= 20);
            let excerpt =
                |text: &str| -> String { text[from.unwrap_or(0)..].chars().take(120).collect() };
            panic!("{when}, {part}: …{}… was …{}…", excerpt(is), excerpt(was));
        }
    }
}

/// What "Mark and check" says of something.
#[track_caller]
fn fact(page: &Page, name: &str) -> String {
    let value = page.run(
        "return [...document.querySelectorAll('.checks dt')]
             .find(dt => dt.innerText === arguments[0])?.nextElementSibling.innerText",
        vec![json!(name)],
    );
    let value = value.as_str();
    value
        .unwrap_or_else(|| panic!("no fact \"{name}\""))
        .to_owned()
}

const ROUND: &str = "Paper goes once round, edge to edge";

/// Whether the drawings are held back: dimmed, every one of them, and nothing can be printed.
fn is_held(page: &Page) -> bool {
    let state = page.run(
        "const dim = [...document.querySelectorAll('.sketch-view, .unrolled, .checks, .sheets')]
             .map(part => part.classList.contains('stale')
                 && (getComputedStyle(part.querySelector('.drawing, dl, .page')).opacity < 0.6
                     || getComputedStyle(part.querySelector('dd')).fontWeight < 600));
         const print = [...document.querySelectorAll('button')]
             .filter(button => button.innerText === 'Print').map(button => button.disabled);
         return [...dim, ...print]",
        Vec::new(),
    );
    let state: Vec<bool> = state
        .as_array()
        .unwrap()
        .iter()
        .map(|part| part == &json!(true))
        .collect();
    assert_eq!(
        state.len(),
        7,
        "two views, cope, facts, sheets, two buttons"
    );
    assert!(
        state.iter().all(|part| *part == state[0]),
        "some held, some not: {state:?}"
    );
    state[0]
}

/// The sentence that a screen reader gives with a field.
#[track_caller]
fn sentence(page: &Page, field: &str) -> String {
    let ids = page.field(field).attribute("aria-describedby").unwrap();
    let said = page.run(
        "return arguments[0].split(' ').map(id => document.getElementById(id).innerText).join(' ')",
        vec![json!(ids)],
    );
    said.as_str().unwrap().trim().to_owned()
}

fn chord(keys: &str) -> String {
    format!(
        "{}{keys}{}",
        char::from(Key::Control),
        char::from(Key::Null)
    )
}

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
        ] {
            page.open_fragment(link);
            let covered = page.run(
                "return [...document.querySelectorAll('.on-line label, .on-line input')]
                     .filter(part => {
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

#[test]
fn changing_the_unit_changes_no_size() {
    PAGE.visit(|page| {
        page.open_fragment(
            "v=1&unit=mm&branch=40&wall=3&main=55&offset=5&gap=.8&template=.2&angle=50",
        );
        let sizes =
            || [ROUND, "Deepest to shallowest"].map(|name| length_mm(&fact(page, name)).unwrap());
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
        let fragment = link.split_once('#').expect("a fragment").1.to_owned();
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
fn label_is_words_and_nothing_else() {
    PAGE.visit(|page| {
        let label =
            r#"</text><script>taken=1</script>"'&amp;<img src=x onerror="taken=2"> 100 % #"#;
        page.open_fragment("v=1");
        page.field("Label").type_text(label);
        let check = |how: &str| {
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
        assert_eq!(page.run("return window.dialogs", Vec::new()), 1);
        let pdf = page.print();
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
