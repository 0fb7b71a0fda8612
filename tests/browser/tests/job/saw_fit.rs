//! Saws at hand, what is made of them, and how the cut will fit.

use browser_tests::{Device, Page};
use serde_json::json;

use crate::{PAGE, texts};

/// A joint square on, for which closed forms are known.
const SQUARE_ON: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw";

/// The workshop with this joint, the saws opened.
fn start(page: &Page, link: &str) {
    page.open_fragment(link);
    page.button("Set up the saw, predict the fit").click();
    page.wait_until("the saws are there", |page| {
        page.first("#saws[open]").is_some()
    });
}

/// Opens a part of the prediction, once nothing above it grows any more and moves it away from
/// under the pointer.
fn unfold(page: &Page, name: &str) {
    page.wait_until("saw and fit are told", |page| {
        let told = texts(page, ".fit .verdict").concat();
        !told.is_empty() && page.first("[aria-labelledby=saw-head] dl > div").is_some()
    });
    page.button(name).click();
    page.wait_until(&format!("“{name}” is open"), |page| {
        let open = texts(page, ".fit details[open] > summary");
        open.iter().any(|summary| summary.contains(name))
    });
}

/// What a list with remarks says of something: the value, and what is remarked.
fn said(page: &Page, list: &str, of: &str) -> Option<[String; 2]> {
    let rows = page.run(
        "return [...document.querySelectorAll(`${arguments[0]} dl.remarked > div`)]
             .map(row => [...row.children].map(part => part.textContent))",
        vec![json!(list)],
    );
    let rows: Vec<[String; 3]> = serde_json::from_value(rows).unwrap();
    let row = rows.into_iter().find(|[name, ..]| name == of)?;
    let [_, value, remark] = row;
    Some([value, remark])
}

fn saw(page: &Page, of: &str) -> String {
    let said = said(page, "[aria-labelledby=saw-head]", of);
    said.map_or_else(String::new, |[value, _]| value)
}

fn fit(page: &Page, of: &str) -> String {
    said(page, ".fit", of).map_or_else(String::new, |[value, _]| value)
}

#[track_caller]
fn wait_for(page: &Page, of: &str, value: &str, read: fn(&Page, &str) -> String) {
    page.wait_until(
        &format!("{of} is {value}, not {}", read(page, of)),
        |page| read(page, of) == value,
    );
}

/// The millimetres at the start of a text.
fn mm(text: &str) -> f64 {
    text.split(' ')
        .next()
        .unwrap_or_default()
        .parse()
        .unwrap_or(f64::NAN)
}

#[test]
fn a_saw_at_hand_is_chosen_set_and_printed() {
    PAGE.visit(|page| {
        start(page, SQUARE_ON);
        page.button("Add a saw").click();
        page.field("Name").type_text("bench saw");
        page.field("Diameter over the teeth").type_text("48.3");
        page.field("Depth").type_text("44");
        wait_for(page, "Saw", "bench saw, 48.3 mm", saw);
        assert_eq!(saw(page, "Cut it with"), "hole saw, the blank as it is");
        // Square on, a saw goes through one outside diameter from first touch to clear.
        assert_eq!(saw(page, "Saw travels, first touch to clear"), "42.4 mm");
        assert_eq!(saw(page, "Off square"), "0°");
        assert_eq!(saw(page, "bench saw"), "best here");
        // On the sheet too, at once when it is printed.
        let sheet = crate::printing::all_words(&page.print());
        for part in ["bench saw, 48.3 mm: hole saw", "42.4 mm; the saw has 44 mm"] {
            assert!(sheet.contains(part), "{part}: {sheet}");
        }
        // What is no number is said, and what was chosen stays.
        page.field("Depth").type_text("deep");
        page.wait_until("it is said", |page| page.says("deep"));
        assert!(
            texts(page, "#saws .problem")
                .iter()
                .any(|told| told.contains("deep")),
            "{:?}",
            texts(page, "#saws .problem")
        );
        // Too shallow even for bites.
        page.field("Depth").type_text("12");
        wait_for(page, "Cut it with", "grinder, to the line", saw);
        assert_eq!(saw(page, "bench saw"), "not here");
        page.field("Depth").type_text("60");
        // Lean it over: a straight cut first, dashed on the template.
        page.field("Angle").type_text("35");
        wait_for(
            page,
            "Cut it with",
            "hole saw, after a straight pre-cut",
            saw,
        );
        page.rest();
        page.wait_until("the pre-cut is drawn", |page| {
            page.run(
                "return !!document.querySelector('.page .pre-cut')",
                Vec::new(),
            ) == json!(true)
        });
        assert!(page.says("the teeth meet the wall on one side first and grab"));
        page.field("Angle").type_text("15");
        wait_for(page, "Cut it with", "grinder, to the line", saw);
        assert!(page.says("A cutting disc that is twisted in its cut bursts"));
        // All of it is kept, and can be taken back.
        page.reload();
        page.wait_until("the saw is there again", |page| {
            page.first("#saws").is_some()
        });
        page.wait_until("the saw is judged again", |page| {
            saw(page, "bench saw") == "not here"
        });
    });
}

#[test]
fn a_saw_of_another_diameter_gaps_as_it_must() {
    PAGE.visit(|page| {
        start(page, SQUARE_ON);
        unfold(page, "What if something is off");
        page.wait_until("a saw of the main's diameter leaves none", |page| {
            mm(&fit(page, "Widest gap")).abs() < 1e-9
        });
        page.field("Cut for a diameter of").type_text("44");
        // Square on, a saddle of radius r touches at the sides, half a branch b beside the axis, and
        // stands off the main of radius R at heel and toe by
        // (r − √(r² − b²)) − (R − √(R² − b²)).
        let (r, big, b) = (22.0_f64, 24.15_f64, 21.2_f64);
        let depth = |r: f64| r - (r * r - b * b).sqrt();
        let gap = depth(r) - depth(big);
        page.wait_until("the gap is there", |page| {
            mm(&fit(page, "Widest gap")) > 1.0
        });
        for at in ["Gap at the heel, turn 0°", "Gap at the toe, turn 180°"] {
            let found = mm(&fit(page, at));
            assert!((found - gap).abs() < 0.006, "{at}: {found}, not {gap}");
        }
        assert!(
            page.says("As cut it gaps too wide"),
            "{:?}",
            texts(page, ".verdict")
        );
        // Wider limits let it pass.
        page.field("Can be filled up to").type_text("4");
        page.wait_until("it can be welded", |page| {
            texts(page, ".verdict")
                .iter()
                .any(|said| said.starts_with("It can be welded"))
        });
        // A strip under the unrolled cope, and what is typed stays in words.
        assert!(page.first(".fit .drawing svg").is_some());
        page.field("Cut for a diameter of").type_text("x");
        page.wait_until("it is said", |page| {
            texts(page, ".fit .problem")
                .iter()
                .any(|told| told.contains('x'))
        });
        page.button("Undo").click();
        page.wait_until("taken back", |page| {
            page.field("Cut for a diameter of").value() != "x"
        });
    });
}

#[test]
fn a_gap_seen_is_explained() {
    PAGE.visit(|page| {
        start(
            page,
            "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw",
        );
        unfold(page, "Cut already, and it gaps");
        // What an angle of 2° too small leaves open, asked of the page itself.
        unfold(page, "What if something is off");
        page.field("Angle cut too large by").type_text("-2");
        page.wait_until("the gap is there", |page| {
            mm(&fit(page, "Gap at the heel, turn 0°")) > 0.5
        });
        let open = [
            "Gap at the heel, turn 0°",
            "Gap at the side, turn 90°",
            "Gap at the toe, turn 180°",
            "Gap at the side, turn 270°",
        ]
        .map(|at| mm(&fit(page, at)).to_string());
        page.field("Angle cut too large by").type_text("0");
        for (field, gap) in [
            "Gap seen at the heel",
            "Gap seen at the side, 90° line",
            "Gap seen at the toe",
            "Gap seen at the side, 270° line",
        ]
        .into_iter()
        .zip(&open)
        {
            page.field(field).type_text(gap);
        }
        // The gaps arrive one by one, and are explained when all are there.
        let found = |said: &str| -> f64 {
            let told = said.split_once("the angle, cut ");
            let number = told.and_then(|(_, rest)| rest.split_once("° too small"));
            number.map_or(f64::NAN, |(number, _)| number.parse().unwrap_or(f64::NAN))
        };
        page.wait_until("the angle planted is found", |page| {
            (found(&texts(page, ".fit .notes").join(" ")) - 2.0).abs() < 0.05
        });
        let explained = texts(page, ".fit .notes").join(" ");
        assert!(page.says("Grind most"), "{explained}");
    });
}

#[test]
fn what_is_at_hand_travels_in_the_link() {
    PAGE.visit(|page| {
        start(page, SQUARE_ON);
        page.button("Add a saw").click();
        page.field("Diameter over the teeth").type_text("48");
        page.field("Depth").type_text("50");
        page.run(
            "navigator.clipboard.writeText = text => { window.copied = text; return Promise.resolve() }",
            Vec::new(),
        );
        page.button("Copy link").click();
        let copied = page.run("return window.copied ?? ''", Vec::new());
        let copied = copied.as_str().unwrap().to_owned();
        let (_, fragment) = copied.split_once('#').unwrap();
        assert!(fragment.ends_with("&hand-saw-1-diameter=48&hand-saw-1-depth=50"), "{fragment}");
        page.come_back();
        page.open_fragment(fragment);
        page.wait_until("the workshop is there", |page| page.first("#saws").is_some());
        wait_for(page, "Off square", "0°", saw);
        assert!(saw(page, "Saw").ends_with("48 mm"), "{}", saw(page, "Saw"));
        // The address holds the joint alone; the saws are kept with the job.
        page.wait_until("the address is the joint's", |page| !page.url().contains("hand-"));
        page.reload();
        page.wait_until("the saws are kept", |page| saw(page, "Saw").ends_with("48 mm"));
    });
}

#[test]
fn saws_and_fit_are_no_wider_than_a_telephone() {
    let page = Page::open_on(Device::PHONE);
    page.open_fragment(&format!(
        "{SQUARE_ON}&hand-saw-1-diameter=44&hand-saw-1-depth=30"
    ));
    page.wait_until("the saw is judged", |page| {
        !saw(page, "Cut it with").is_empty()
    });
    page.run(
        "document.querySelectorAll('details').forEach(part => { part.open = true })",
        Vec::new(),
    );
    let over = page.run(
        "return [...document.querySelectorAll('main *')].filter(part => part.checkVisibility()
             && !part.closest('.scroll, svg, canvas, .view3d, .list')
             && part.getBoundingClientRect().right > innerWidth + 1)
             .map(part => part.outerHTML.slice(0, 80))",
        Vec::new(),
    );
    assert_eq!(over, json!([]));
}
