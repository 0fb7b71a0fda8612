//! The form of a piece: what is typed comes back from its link, old links are one end, and what
//! cannot be made is told beside its number.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use copewright::job::{
    BendField, Draft, EndKind, Field, MainField, Measured, PieceDraft, PieceField, PieceForm,
    PieceProblem, open_form, read, read_piece, resume_form, shorten_form, write_form,
    write_whole_form,
};
use copewright::piece::Side;
use copewright::units::{Angle, Unit};
use proptest::prelude::*;

fn made(form: &PieceForm) -> Result<PieceDraft, Vec<PieceProblem>> {
    let drafts: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
    read_piece(form, [drafts[0].as_ref(), drafts[1].as_ref()])
}

fn of(link: &str) -> PieceForm {
    let opened = open_form(link);
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    opened.form
}

/// Links as they were once written, with what they must still mean: overall and blank in mm, the
/// turn between the heels in degrees. Add to this list, never change a line of it.
const FOR_EVER: &[(&str, f64, f64, f64)] = &[
    (
        // At 90° the long points stand √(24.15² − 21.2²) from the joint centres.
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw&piece=yes&a=coped&b=coped&measured=centres&count=2&length=500&b-main=48.3&b-angle=90&b-cut=saw&b-turn=90",
        500.0 - 2.0 * 11.566_438_521,
        500.0 - 2.0 * 11.566_438_521,
        90.0,
    ),
    (
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=90&turn=30&piece=yes&a=square&b=asitis&measured=blank&length=700&gripb=50",
        650.0,
        700.0,
        0.0,
    ),
    (
        "v=1&unit=in&branch=1&wall=.065&piece=yes&a=square&b=square&measured=centres&straights=vertices&bends=1&length=20&bendangle1=90&bendradius1=3&outside1=180&straight1=10",
        // 17 + 3 π / 2 + 7 in
        (24.0 + 1.5 * std::f64::consts::PI) * 25.4,
        (24.0 + 1.5 * std::f64::consts::PI) * 25.4,
        0.0,
    ),
];

/// Links as codes have them on paper, with the whole ones they must open as. Add to this list, never
/// change a line of it.
const ON_PAPER: &[(&str, &str)] = &[
    (
        "v=1&unit=mm&branch=33.7&wall=2.6&main=48.3&angle=60&cut=saw&turn=180&label=handle&paper=A4&piece=yes&b=square&straights=vertices&bends=1&length=400&bendangle1=60&bendradius1=120&outside1=0&straight1=260",
        "v=1&unit=mm&branch=33.7&wall=2.6&main=48.3&angle=60&offset=0&cut=saw&gap=0&turn=180&label=handle&paper=A4&template=0.1&piece=yes&a=coped&b=square&measured=centres&straights=vertices&bends=1&count=1&length=400&bendangle1=60&bendradius1=120&outside1=0&straight1=260",
    ),
    (
        "v=1&unit=in/16&branch=1&wall=.065&main=2&angle=60&label=stay&paper=Letter&piece=yes&length=15.304&b-kind=bent&b-main=1%201/4&b-clr=4%201/2&b-bend=60&b-station=0&b-facing=0&b-angle=90",
        "v=1&unit=in/16&branch=1&wall=.065&main=2&angle=60&offset=0&cut=square&gap=0&turn=0&label=stay&paper=Letter&template=.004&piece=yes&a=coped&b=coped&measured=centres&count=1&length=15.304&b-kind=bent&b-main=1%201/4&b-clr=4%201/2&b-bend=60&b-station=0&b-facing=0&b-angle=90&b-offset=0&b-cut=square&b-gap=0&b-turn=0",
    ),
    (
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=brace%207&paper=A4",
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&offset=0&cut=square&gap=0&turn=0&label=brace%207&paper=A4&template=0.1",
    ),
];

#[test]
fn codes_on_paper_open_what_they_opened() {
    for (short, whole) in ON_PAPER {
        assert_eq!(open_form(short), open_form(whole), "{short}");
        assert_eq!(shorten_form(whole), *short);
        assert_eq!(write_form(&open_form(short).form), *whole);
    }
    // What is not the usual is never left out, whatever it looks like.
    for link in [
        "v=1&unit=in&branch=1&wall=.065&main=2&angle=60&cut=saw&template=0.1&piece=yes&a=square&b=square&measured=blank&count=2&length=20",
        "v=2&offset=0",
        "offset=",
        "",
    ] {
        assert_eq!(open_form(&shorten_form(link)), open_form(link), "{link}");
    }
}

#[test]
fn links_of_pieces_still_mean_what_they_meant() {
    for (link, overall, blank, between) in FOR_EVER {
        let draft = made(&of(link)).expect(link);
        let lengths = draft.piece.lengths();
        assert!(
            (lengths.overall.mm() - overall).abs() < 1e-5,
            "{link}: {lengths:?}"
        );
        assert!(
            (lengths.blank.mm() - blank).abs() < 1e-5,
            "{link}: {lengths:?}"
        );
        let turn = draft.piece.turn_between().map_or(0.0, Angle::deg);
        assert!((turn - between).abs() < 1e-9, "{link}: {turn}");
    }
}

#[test]
fn a_link_without_a_piece_is_one_end() {
    let link = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&offset=0&cut=square&gap=0&turn=0&paper=A4&template=0.1";
    let form = of(link);
    assert!(!form.is_whole());
    assert_eq!(write_form(&form), link);
    // The other end is there once it is asked for, and begins as the first one.
    let whole = form.as_whole(true);
    assert_eq!(whole.end(Side::B).text(Field::ANGLE), Some("60"));
    assert!(made(&whole).is_ok());
}

#[test]
fn the_other_end_has_its_own_mains_and_the_same_tube() {
    let form = PieceForm::usual(Unit::Millimetre).as_whole(true);
    let b = form.end(Side::B).with_text(Field::ANGLE, "45");
    let b = b
        .with_text(Field::Branch, "33.7")
        .with_text(Field::Label, "upright");
    let form = form.with_end(Side::B, b);
    let a = form.end(Side::A);
    assert_eq!(a.text(Field::ANGLE), Some("60"));
    assert_eq!(a.text(Field::Branch), Some("33.7"));
    assert_eq!(a.text(Field::Label), Some("upright"));
    assert_eq!(
        form.end(Side::B).name_of(Field::Turn),
        "Heel from end A’s heel"
    );
    assert_eq!(a.name_of(Field::Turn), "Heel from zero line");
}

/// End B's turn is typed from end A's heel, sighted from end A; its template counts the other way.
#[test]
fn the_turn_of_end_b_is_counted_from_the_heel_of_end_a() {
    let form = of(
        "v=1&unit=mm&branch=40&wall=2&main=50&angle=60&turn=30&piece=yes&a=coped&b=coped&length=500&b-main=50&b-angle=60&b-turn=90",
    );
    let draft = made(&form).unwrap();
    assert!((draft.piece.turn_between().unwrap().deg() - 90.0).abs() < 1e-9);
    let heel = read(&form.end(Side::B)).unwrap().template.heel_turn();
    assert!((heel.deg() - 240.0).abs() < 1e-9, "{heel:?}");
}

#[test]
fn refusals_stand_beside_their_number() {
    let field = |link: &str| made(&of(link)).unwrap_err()[0].field;
    let base = "v=1&unit=mm&branch=40&wall=2&main=50&angle=60&piece=yes&b-main=50";
    assert_eq!(
        field(&format!("{base}&length=20")),
        Some(PieceField::Length)
    );
    assert_eq!(field(&format!("{base}&length=x")), Some(PieceField::Length));
    assert_eq!(
        field(&format!("{base}&length=500&count=0")),
        Some(PieceField::Count)
    );
    assert_eq!(
        field(&format!("{base}&length=500&count=2.5")),
        Some(PieceField::Count)
    );
    assert_eq!(
        field(&format!("{base}&length=500&gripa=-1")),
        Some(PieceField::Grip(Side::A))
    );
    let bent = |what: &str| format!("{base}&length=300&bends=1&straight1=300&{what}");
    let at = |field| Some(PieceField::Bend(0, field));
    assert_eq!(
        field(&bent("bendangle1=90&bendradius1=10")),
        at(BendField::Radius)
    );
    assert_eq!(
        field(&bent("bendangle1=270&bendradius1=100")),
        at(BendField::Angle)
    );
    assert_eq!(
        field(&format!(
            "{base}&length=300&bends=1&straight1=5&bendangle1=90&bendradius1=100"
        )),
        at(BendField::Straight)
    );
    assert_eq!(
        field(&format!(
            "{base}&length=50&straights=vertices&bends=1&straight1=300&bendangle1=90&bendradius1=100"
        )),
        Some(PieceField::Length)
    );
    // A wrong number of an end is told there; the piece says which end.
    let wrong = made(&of(&format!("{base}&length=500&b-angle=x"))).unwrap_err();
    assert_eq!(wrong[0].field, None);
    assert!(wrong[0].sentence.contains("end B"), "{wrong:?}");
    // An end that is not coped asks for nothing of its mains.
    assert!(made(&of(&format!("{base}&length=500&b=square&b-angle=x"))).is_ok());
}

#[test]
fn choices_not_on_their_lists_are_told() {
    let opened =
        open_form("v=1&piece=perhaps&a=round&measured=elbow&straights=no&bends=99&b-kind=hexagon");
    assert_eq!(opened.problems.len(), 6, "{:?}", opened.problems);
}

#[test]
fn another_unit_changes_no_size() {
    let form = of(
        "v=1&unit=mm&branch=40&wall=2&main=50&angle=60&piece=yes&length=500&gripa=30&bends=1&straight1=300&bendangle1=90&bendradius1=120&b-main=60.3&b-offset=4",
    );
    let before = made(&form).unwrap().piece.lengths();
    let inch = form.in_unit(Unit::Inch);
    let after = made(&inch).unwrap().piece.lengths();
    assert!((before.blank - after.blank).abs().mm() < 1e-9);
    assert_eq!(inch.end(Side::B).text(Field::MAIN), Some("60.3 mm"));
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,3}( [0-9]/[0-9]{1,2})?",
        "[ -~°½&=+%#]{0,12}",
        Just(String::new())
    ]
}

fn form() -> impl Strategy<Value = PieceForm> {
    let texts = prop::collection::vec(text(), 24);
    let choices = (
        0..3_usize,
        0..3_usize,
        0..3_usize,
        0..4_usize,
        any::<[bool; 3]>(),
    );
    (texts, choices).prop_map(
        |(texts, (a, b, measured, bends, [whole, vertices, metric]))| {
            let unit = if metric { Unit::Millimetre } else { Unit::Inch };
            let mut form = PieceForm::usual(unit)
                .as_whole(whole)
                .with_kind(Side::A, EndKind::ALL[a])
                .with_kind(Side::B, EndKind::ALL[b])
                .with_measured(Measured::ALL[measured])
                .to_vertices(vertices)
                .with_bends(bends);
            // An empty text is not written, and the usual one stands for it, as for a joint alone.
            let some = |text: String| {
                if text.trim().is_empty() {
                    "7".into()
                } else {
                    text
                }
            };
            let mut texts = texts.into_iter().map(|text| some(text).trim().to_owned());
            for field in PieceField::all(bends) {
                form = form.with_text(field, texts.next().unwrap());
            }
            let mut end = form.end(Side::B);
            for field in [
                Field::OFFSET,
                Field::Turn,
                Field::OfMain(0, MainField::Corner),
            ] {
                end = end.with_text(field, texts.next().unwrap());
            }
            form.with_end(Side::B, end)
        },
    )
}

proptest! {
    /// Whatever was typed is there again, the unseen too, and nothing that is typed panics.
    #[test]
    fn what_is_typed_comes_back(form in form()) {
        let kept = write_whole_form(&form);
        let again = open_form(&kept);
        for field in PieceField::all(form.bends()) {
            prop_assert_eq!(again.form.text(field), form.text(field));
        }
        prop_assert_eq!(again.form.is_whole(), form.is_whole());
        prop_assert_eq!(again.form.measured(), form.measured());
        prop_assert_eq!(again.form.bends(), form.bends());
        for side in Side::BOTH {
            prop_assert_eq!(again.form.kind(side), form.kind(side));
        }
        prop_assert_eq!(write_whole_form(&again.form), kept.clone());
        let link = write_form(&form);
        prop_assert_eq!(write_form(&open_form(&link).form), link.clone());
        let short = shorten_form(&link);
        prop_assert!(short.len() <= link.len());
        prop_assert_eq!(open_form(&short), open_form(&link));
        prop_assert_eq!(resume_form(&link, Some(&kept)), Some(kept));
        let _ = made(&form);
    }
}
