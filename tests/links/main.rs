//! Share links: what is typed comes back, old links open for ever, nothing in one is fatal.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod mains;

use std::f64::consts::PI;

use copewright::cope::CutMethod;
use copewright::job::{
    Field, MainField, MainKind, Typed, open_link, read, read_what_can_be, write_link, write_whole,
};
use copewright::stock::Paper;
use copewright::units::{Angle, Unit, read_length};
use proptest::prelude::*;

/// Links as they were once written, with what they must still mean: branch, wall, main (mm), angle,
/// offset (mm), cut, developed width (mm). Add to this list, never change a line of it.
const FOR_EVER: &[(&str, [f64; 6], CutMethod)] = &[
    (
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&offset=0&cut=square&gap=0&turn=0&paper=A4&template=0.1",
        [42.4, 2.6, 48.3, 60.0, 0.0, PI * 42.5],
        CutMethod::Square,
    ),
    (
        "v=1&unit=in/16&branch=1%201/2&wall=.065&main=1%203/4&angle=45&offset=1/8&cut=saw&label=brace%20left&paper=Letter&template=.004",
        [38.1, 1.651, 44.45, 45.0, 3.175, PI * (38.1 + 0.1016)],
        CutMethod::Saw,
    ),
    (
        "v=1&unit=in&branch=1+1/2&wall=.095&main=48,3+mm&angle=62.5&offset=-5+mm&cut=bore&girth=4.75&turn=90&paper=legal",
        [38.1, 2.413, 48.3, 62.5, -5.0, 120.65],
        CutMethod::Bore,
    ),
    (
        "#v=1&branch=30",
        [30.0, 2.6, 48.3, 60.0, 0.0, PI * 30.1],
        CutMethod::Square,
    ),
];

#[test]
fn old_links_still_mean_what_they_meant() {
    for (link, [branch, wall, main, angle, offset, width], cut) in FOR_EVER {
        let opened = open_link(link);
        assert!(
            opened.problems.is_empty() && opened.newer.is_none(),
            "{link}: {opened:?}"
        );
        let draft = read(&opened.typed).expect(link);
        let joint = draft.template.cope().joint();
        let is = [
            joint.branch().outside().mm(),
            joint.branch().wall().mm(),
            joint.main().half_breadth().mm() * 2.0,
            joint.main().angle().deg(),
            joint.main().offset().mm(),
            draft.template.wrap().width().mm(),
        ];
        for (is, was) in is.iter().zip([branch, wall, main, angle, offset, width]) {
            assert!((is - was).abs() < 1e-9, "{link}: {is} was {was}");
        }
        assert_eq!(draft.template.cope().method(), *cut, "{link}");
    }
}

#[test]
fn a_link_asks_for_the_template_of_the_main() {
    let link = "v=1&unit=mm&branch=42.4&main=48.3&angle=60&end=320&landing=yes";
    let draft = read(&open_link(link).typed).unwrap();
    let landing = draft.landings[0].as_ref().unwrap();
    // The toe lands (21.2 − 24.15 cos 60°) / sin 60° = 10.5 before the joint centre; 12 of margin
    // before that the mark stands at a whole centimetre from the end.
    assert!((landing.mark_from_end().unwrap().mm() - 290.0).abs() < 1e-9);
    assert!((landing.mark().mm() + 30.0).abs() < 1e-9);
    assert!(write_link(&open_link(link).typed).contains("&end=320&cut=square"));
    assert!(write_link(&open_link(link).typed).contains("&landing=yes"));

    // Not asked for, the end is neither read nor written, but stays in the browser.
    let unasked = open_link("v=1&end=far&landing=no");
    assert!(unasked.problems.is_empty());
    assert!(read(&unasked.typed).unwrap().landings.is_empty());
    assert!(!write_link(&unasked.typed).contains("end="));
    assert!(write_whole(&unasked.typed).contains("end=far"));

    let beyond = read(&open_link("v=1&end=-5&landing=yes").typed).unwrap_err();
    assert_eq!(beyond[0].field, Field::OfMain(0, MainField::End));
    assert_eq!(
        open_link("v=1&landing=maybe").problems[0].field,
        Field::Landing
    );
    let two = read(&open_link("v=1&landing=yes&mains=2&kind=bent").typed).unwrap();
    assert!(two.landings[0].is_err() && two.landings[1].is_ok());
}

#[test]
fn a_plain_joint_has_a_short_link() {
    let plain = write_link(&Typed::usual(Unit::Millimetre));
    assert_eq!(
        plain,
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&offset=0&cut=square&gap=0&turn=0&paper=A4&template=0.1"
    );
}

#[test]
fn wrong_choices_are_named_and_the_rest_is_used() {
    let opened =
        open_link("v=1&unit=furlong&cut=chew&paper=B5&branch=50&colour=red&main=2x&angle=");
    let named: Vec<&str> = opened
        .problems
        .iter()
        .map(|problem| problem.field.key())
        .collect();
    assert_eq!(named, ["unit", "cut", "paper"]);
    assert!(
        opened.problems[1]
            .sentence
            .contains("“cut=chew” is not one of saw, square, bore")
    );
    assert_eq!(opened.typed.text(Field::Branch), Some("50"));
    assert_eq!(
        opened.typed.text(Field::MAIN),
        Some("2x"),
        "what was typed is not lost"
    );
    assert_eq!(opened.typed.text(Field::ANGLE), Some("60"));
    let (draft, problems) = read_what_can_be(&opened.typed);
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].field, Field::MAIN);
    let joint = draft.unwrap().template.cope().joint().clone();
    assert!((joint.branch().outside().mm() - 50.0).abs() < 1e-9);
    assert!(
        (joint.main().half_breadth().mm() - 24.15).abs() < 1e-9,
        "the usual main stands in"
    );
}

#[test]
fn a_newer_link_says_so() {
    let opened = open_link("v=2&branch=50&shape=square");
    assert!(opened.newer.unwrap().contains("version 2"));
    assert_eq!(opened.typed.text(Field::Branch), Some("50"));
}

#[test]
fn every_problem_is_told_at_once() {
    let typed = Typed::usual(Unit::Millimetre)
        .with_text(Field::Branch, "")
        .with_text(Field::MAIN, "10 5/")
        .with_text(Field::ANGLE, "120")
        .with_text(Field::Girth, "xx");
    let problems = read(&typed).unwrap_err();
    let fields: Vec<Field> = problems.iter().map(|problem| problem.field).collect();
    assert_eq!(
        fields,
        [Field::Branch, Field::MAIN, Field::ANGLE, Field::Girth]
    );
    let angle = read(&typed.with_text(Field::MAIN, "48.3")).unwrap_err();
    assert!(
        angle
            .iter()
            .any(|p| p.field == Field::ANGLE && p.sentence.contains("type 60°")),
        "{angle:?}"
    );
}

#[test]
fn another_unit_keeps_the_meaning_of_every_number() {
    let typed = Typed::usual(Unit::Millimetre)
        .with_text(Field::Branch, "50")
        .with_text(Field::MAIN, "2 in")
        .with_text(Field::OFFSET, "-3,5");
    let inches = typed.clone().in_unit(Unit::Inch);
    assert_eq!(inches.text(Field::Branch), Some("50 mm"));
    assert_eq!(inches.text(Field::MAIN), Some("2 in"));
    assert_eq!(inches.text(Field::OFFSET), Some("-3,5 mm"));
    let (before, after) = (
        read(&typed).unwrap(),
        read(&inches.with_text(Field::Wall, "2.6 mm")).unwrap(),
    );
    assert_eq!(
        before.template.cope().joint(),
        after.template.cope().joint()
    );
    // Not even the usual numbers change: they may be the user's own.
    let usual = Typed::usual(Unit::Millimetre);
    let (before, after) = (
        read(&usual).unwrap(),
        read(&usual.in_unit(Unit::Inch)).unwrap(),
    );
    assert_eq!(before.template.cope(), after.template.cope());
    assert_eq!(before.paper, after.paper);
    for text in ["10—5/8", "1‑3/4", "1∕2", "1 63/64 − 0.004"] {
        let typed = Typed::usual(Unit::Inch).with_text(Field::MAIN, text);
        let size =
            |typed: &Typed| read_length(typed.text(Field::MAIN).unwrap(), typed.unit).unwrap();
        assert_eq!(
            size(&typed),
            size(&typed.clone().in_unit(Unit::Millimetre)),
            "{text}"
        );
    }
}

#[test]
fn the_turn_moves_the_heel_and_nothing_else() {
    let at = |turn: &str| {
        let typed = Typed::usual(Unit::Millimetre).with_text(Field::Turn, turn);
        read(&typed).unwrap().template
    };
    let (plain, turned) = (at("0"), at("-90"));
    assert!((turned.heel().turn.deg() - 270.0).abs() < 1e-9);
    assert_eq!(plain.mark_to_long(), turned.mark_to_long());
    let moved = turned.station(Angle::from_deg(300.0)).point.above_mark;
    assert!(
        (plain.station(Angle::from_deg(30.0)).point.above_mark - moved)
            .abs()
            .mm()
            < 1e-9
    );
}

#[test]
fn impossible_joints_say_what_would_work() {
    let told = |field: Field, text: &str| {
        let typed = Typed::usual(Unit::Millimetre).with_text(field, text);
        let problems = read(&typed).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        assert_eq!(problems[0].field, field, "{problems:?}");
        problems[0].sentence.clone()
    };
    assert!(told(Field::Wall, "21.2").contains("under 21.2 mm"));
    assert!(told(Field::Wall, "0").contains("at least 0.05 mm"));
    assert!(told(Field::Branch, "5000").contains("2000 mm"));
    assert!(told(Field::MAIN, "-4").contains("outside 3 mm to 2000 mm"));
    assert!(told(Field::ANGLE, "4.9").contains("smallest angle computed is 5°"));
    assert!(told(Field::ANGLE, "180").contains("cannot be right"));
    assert!(told(Field::OFFSET, "46").contains("0.65 mm to spare"));
    assert!(told(Field::OFFSET, "46").contains("under 45.35 mm"));
    assert!(told(Field::Gap, "-1").contains("Type 0"));
    assert!(told(Field::Girth, "42.4").contains("133.2 mm round"));
    assert!(told(Field::Template, "5").contains("Type 0 to 3 mm"));
    assert!(told(Field::Turn, "400").contains("40° is the same place"));
}

proptest! {
    #[test]
    fn what_is_typed_comes_back(texts in proptest::collection::vec("[ -~½″°–é]{0,12}", 94), kinds in proptest::collection::vec(0_usize..5, 1..=6), paper in 0_usize..5, cut in 0_usize..3, unit in 0_usize..5) {
        let mut typed = Typed::usual(Unit::ALL[unit]);
        typed.paper = Paper::ALL[paper];
        typed = typed.with_mains(kinds.len());
        for (main, kind) in kinds.into_iter().enumerate() {
            typed = typed.with_kind(main, MainKind::ALL[kind]);
        }
        typed.cut = CutMethod::ALL[cut];
        let fields = Field::all().filter(|field| typed.text(*field).is_some()).collect::<Vec<_>>();
        for (field, text) in fields.into_iter().zip(&texts) {
            // A field left empty is left out and opens as the usual number.
            let text = if text.trim().is_empty() { "7" } else { text.trim() };
            typed = typed.with_text(field, text);
        }
        let link = write_link(&typed);
        prop_assert!(link.is_ascii() && !link.contains(' '));
        let opened = open_link(&link).typed;
        for field in Field::all().filter(|field| typed.uses(*field)) {
            prop_assert_eq!(opened.text(field), typed.text(field), "{:?}", field);
        }
        prop_assert_eq!(opened.kinds(), typed.kinds());
        let whole = write_whole(&typed);
        prop_assert!(whole.is_ascii() && !whole.contains(' '));
        prop_assert_eq!(open_link(&whole).typed, typed);
    }

    #[test]
    fn no_fragment_is_fatal(fragment in "\\PC{0,80}") {
        let opened = open_link(&fragment);
        let (draft, _) = read_what_can_be(&opened.typed);
        prop_assert!(draft.is_some());
    }

    #[test]
    fn no_text_in_any_field_is_fatal(field in 0_usize..99, kinds in proptest::collection::vec(0_usize..5, 1..=6), text in "[-0-9 ./,'\"°a-z½]{0,10}") {
        let mut typed = Typed::usual(Unit::Inch).with_mains(kinds.len());
        for (main, kind) in kinds.into_iter().enumerate() {
            typed = typed.with_kind(main, MainKind::ALL[kind]);
        }
        let typed = typed.with_text(Field::all().nth(field).unwrap(), text);
        let (draft, problems) = read_what_can_be(&typed);
        prop_assert!(draft.is_some());
        for problem in problems {
            prop_assert!(problem.sentence.len() > 20);
        }
    }
}
