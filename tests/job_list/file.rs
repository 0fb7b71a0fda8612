//! The file: everything comes back, the schema holds, and damage loses nothing that is whole.

use copewright::job::fit::FitField;
use copewright::job::list::{Job, open_job, write_job};
use copewright::job::{AtHand, BarTyped, Field, PieceField, PieceForm, SawTyped};
use copewright::piece::Side;
use copewright::units::Unit;
use proptest::prelude::*;
use serde_json::Value;

use crate::any::any_form;

fn forms(job: &Job) -> Vec<(PieceForm, bool)> {
    let pieces = job.pieces().iter();
    pieces
        .map(|piece| (piece.form().clone(), piece.is_done()))
        .collect()
}

/// Any text at all, spaces, quotes and braces among it.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,3}( [0-9]/[0-9]{1,2})?",
        "\\PC{0,9}",
        "[{}\"\\\\:,\n ]{0,8}",
        Just(String::new())
    ]
}

fn any_job() -> impl Strategy<Value = Job> {
    let pieces = prop::collection::vec((any_form(), text(), text(), any::<[bool; 2]>()), 1..5);
    (pieces, prop::collection::vec(text(), 12)).prop_map(|(pieces, texts)| {
        let mut job: Option<Job> = None;
        for (form, label, odd, [done, whole]) in pieces {
            // What was typed half stays half.
            let form = form
                .as_whole(whole)
                .with_text(PieceField::Length, odd.clone());
            let end = form.end(Side::B).with_text(Field::OFFSET, odd);
            let form = form.with_end(Side::B, end);
            let end = form.end(Side::A).with_text(Field::Label, label);
            let form = form.with_end(Side::A, end);
            let (with, id) = match job {
                None => (Job::of_form(form), 1),
                Some(job) => job.with_added(None, form),
            };
            job = Some(with.with_done(id, done));
        }
        let mut texts = texts.iter().cloned().cycle();
        let mut next = || texts.next().unwrap();
        let mut at_hand = AtHand::default();
        at_hand.saws.push(SawTyped {
            name: next(),
            diameter: next(),
            cuts: next(),
            ..SawTyped::default()
        });
        at_hand.machine.clamp = next();
        at_hand.stock.bars.push(BarTyped {
            length: next(),
            ..BarTyped::default()
        });
        at_hand.stock.kerf = next();
        at_hand.material = next();
        for field in FitField::SLIPS.into_iter().chain(FitField::SEEN) {
            at_hand.fit.set(field, next());
        }
        job.unwrap()
            .with_title(next())
            .with_printer(next())
            .with_at_hand(at_hand)
    })
}

fn validator() -> jsonschema::Validator {
    let schema = include_str!("../../docs/job-file.schema.json");
    let schema: Value = serde_json::from_str(schema).unwrap();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::draft202012::new(&schema).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The same job, the same text, nothing to tell, and valid.
    #[test]
    fn what_is_written_comes_back(job in any_job()) {
        let text = write_job(&job);
        let opened = open_job(&text).unwrap();
        prop_assert_eq!(&opened.told, &Vec::<String>::new());
        prop_assert_eq!(forms(&opened.job), forms(&job));
        prop_assert_eq!(opened.job.title(), job.title());
        prop_assert_eq!(opened.job.printer(), job.printer());
        prop_assert_eq!(opened.job.unit(), job.unit());
        prop_assert_eq!(opened.job.paper(), job.paper());
        prop_assert_eq!(opened.job.at_hand(), job.at_hand());
        prop_assert_eq!(write_job(&opened.job), text.clone());
        let value: Value = serde_json::from_str(&text).unwrap();
        let errors: Vec<String> = validator().iter_errors(&value).map(|one| one.to_string()).collect();
        prop_assert_eq!(errors, Vec::<String>::new());
    }
}

#[test]
fn the_schema_refuses_what_is_no_job() {
    let validator = validator();
    let good: Value = serde_json::from_str(&write_job(&Job::usual(Unit::Inch))).unwrap();
    assert!(validator.is_valid(&good));
    for (pointer, wrong) in [
        ("/version", Value::from(2)),
        ("/unit", Value::from("ft")),
        ("/pieces", Value::Array(Vec::new())),
        ("/pieces/0/angle", Value::from(60)),
        ("/pieces/0/kind", Value::from("hexagon")),
        ("/at_hand/stock/kerf", Value::Null),
    ] {
        let mut bad = good.clone();
        *bad.pointer_mut(pointer).unwrap() = wrong;
        assert!(!validator.is_valid(&bad), "{pointer}");
    }
    let mut more = good;
    more["pieces"][0]["angel"] = Value::from("60");
    assert!(!validator.is_valid(&more));
}

fn two() -> Job {
    let labelled = |label: &str| {
        let form = crate::of(
            "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=45&offset=3&piece=yes&length=700&bends=1&bendangle1=90&bendradius1=130&outside1=0&straight1=400&b-kind=plate&b-angle=70",
        );
        let end = form.end(Side::A).with_text(Field::Label, label);
        form.with_end(Side::A, end)
    };
    let job = Job::of_form(labelled("upright")).with_title("trolley");
    job.with_added(None, labelled("brace")).0.with_done(2, true)
}

/// Opens a text that can be mended, and what is told.
fn mended(text: &str) -> (Job, String) {
    let opened = open_job(text).unwrap();
    (opened.job, opened.told.join("\n"))
}

#[test]
fn what_was_edited_is_mended_and_told() {
    let text = write_job(&two());
    let edit = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        mended(&text.replacen(from, to, 1))
    };
    let number = |job: &Job, field| {
        job.pieces()[0]
            .form()
            .end(Side::A)
            .text(field)
            .unwrap()
            .to_owned()
    };

    let (job, told) = edit("\"angle\": \"45\"", "\"angle\": 47.5");
    assert_eq!(number(&job, Field::ANGLE), "47.5");
    assert!(told.contains("Piece 1 (“upright”): “angle”"), "{told}");

    let (job, told) = edit("      \"angle\": \"45\",\n", "");
    assert_eq!(number(&job, Field::ANGLE), "");
    assert!(told.contains("left empty: “angle”"), "{told}");
    assert_eq!(told.lines().count(), 1);

    let (job, told) = edit("\"offset\": \"3\"", "\"offset\": [3]");
    assert_eq!(number(&job, Field::OFFSET), "");
    assert!(told.contains("“offset” is no text."), "{told}");

    let (job, told) = edit("\"length\": \"700\",\n", "");
    assert_eq!(job.pieces()[0].form().text(PieceField::Length), "");
    assert!(told.contains("“length”"), "{told}");

    let (job, told) = edit("\"bends\": \"1\",\n", "");
    assert_eq!(job.pieces()[0].form().bends(), 1);
    assert!(told.contains("“bends” (1 stands there)"), "{told}");

    let (_, told) = edit("\"cut\": \"square\"", "\"cut\": \"laser\"");
    assert!(told.contains("“cut=laser” is not one of"), "{told}");

    let (_, told) = edit("\"offset\": \"3\"", "\"ofset\": \"3\"");
    assert!(told.contains("“ofset” is not known"), "{told}");

    let (job, told) = edit("\"unit\": \"mm\",\n  \"paper\"", "\"paper\"");
    assert_eq!(job.unit(), Unit::Millimetre);
    assert!(told.contains("which a piece says"), "{told}");

    // A piece in another unit keeps its sizes.
    let (job, told) = edit(
        "\"unit\": \"mm\",\n  \"paper\"",
        "\"unit\": \"in\",\n  \"paper\"",
    );
    assert_eq!(number(&job, Field::OFFSET), "3 mm");
    assert!(told.contains("another unit, mm"), "{told}");

    let (_, told) = edit("\"version\": 1", "\"version\": 2");
    assert!(
        told.contains("version 2") && told.contains("Check every number"),
        "{told}"
    );

    let (job, told) = edit("\"pieces\": [", "\"pieces\": [ 5,");
    assert_eq!(job.pieces().len(), 2);
    assert!(told.contains("Piece 1 of the file is no piece"), "{told}");

    let (job, told) = edit("\"kerf\": \"\"", "\"kerf\": 2.5");
    assert_eq!(job.at_hand().stock.kerf, "2.5");
    assert_eq!(told, "");

    // The list under another name, in a file that is whole otherwise.
    let (job, told) = edit("\"pieces\"", "\"piece list\"");
    assert_eq!(forms(&job), forms(&two()));
    assert!(told.contains("not where it belongs"), "{told}");
}

#[test]
fn a_cut_off_file_keeps_what_is_there() {
    let text = write_job(&two());
    let end_of_first = text.find("    },").unwrap();
    let (job, told) = mended(&text[..end_of_first + 5]);
    assert_eq!(forms(&job), forms(&two())[..1]);
    assert!(told.contains("damaged in line"), "{told}");
    assert!(told.contains("at hand"), "{told}");
    // In the middle of the second piece: its first lines are there, the rest is empty.
    let angle = text.rfind("\"angle\"").unwrap();
    let (job, told) = mended(&text[..angle]);
    assert_eq!(forms(&job)[..1], forms(&two())[..1]);
    assert_eq!(job.name_at(1), "brace");
    assert!(
        told.contains("Piece 2 (“brace”): Missing and left empty: “angle”"),
        "{told}"
    );
    // A brace lost: the lines behind it are still a piece.
    let (first, second) = text.split_at(end_of_first + 6);
    let (job, _) = mended(&format!("{first}{}", second.replacen('{', "", 1)));
    assert_eq!(forms(&job), forms(&two()));
}

#[test]
fn what_is_no_job_is_refused() {
    for text in [
        "",
        " \n",
        "{}",
        "[]",
        "null",
        "PK\u{3}\u{4}",
        "{\"pieces\": []}",
        "{\"branch\": ",
    ] {
        let refused = open_job(text).unwrap_err();
        assert!(refused.ends_with("from this page."), "{text}: {refused}");
    }
    let nested = "{\"a\":".repeat(200_000);
    assert!(open_job(&nested).is_err());
    assert!(open_job(&"[".repeat(200_000)).is_err());
    assert!(open_job(&" {".repeat(16_000_000)).is_err());
}

#[test]
fn files_of_version_1_open_for_ever() {
    let opened = open_job(include_str!("../jobs/version-1.json")).unwrap();
    assert_eq!(opened.told, Vec::<String>::new());
    let job = opened.job;
    assert_eq!(job.title(), "launching trolley");
    assert_eq!(job.printer(), "shop laser");
    assert_eq!(job.at_hand().saws[0].diameter, "1 7/8");
    assert_eq!(job.at_hand().stock.bars[0].length, "20'");
    let brace = crate::made(job.pieces()[0].form()).unwrap();
    // Between centres 24 3/8 in, as typed; heel B a quarter turn on.
    assert!((brace.piece.lengths().centres.inches() - 24.375).abs() < 1e-9);
    assert!((brace.piece.turn_between().unwrap().deg() - 90.0).abs() < 1e-9);
    assert!(!job.pieces()[0].is_done() && job.pieces()[1].is_done());
    let handle = crate::made(job.pieces()[1].form()).unwrap();
    assert_eq!(handle.count, 2);
    assert_eq!(handle.piece.line().straight_count(), 2);
}
