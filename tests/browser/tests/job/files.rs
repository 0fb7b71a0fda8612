//! Jobs as files: saved and opened again the same; what is wrong with a file is told, and nothing
//! that was on the page is lost by it.

use std::io::Write;

use browser_tests::Page;
use serde_json::Value;

use crate::{PAGE, example, here, kept, pieces, show_jobs, start, told, wait_until_kept};

const FILE: &str = "launching-trolley.json";

/// Opens a file with this text under this name.
fn open(page: &Page, name: &str, text: &str) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    let mut file = std::fs::File::create(&path).unwrap();
    file.write_all(text.as_bytes()).unwrap();
    drop(file);
    page.run(
        "document.querySelectorAll('.notices button').forEach(button => button.click())",
        Vec::new(),
    );
    page.field("Open a job file").press(path.to_str().unwrap());
    page.wait_until(&format!("the page says something of {name}"), |page| {
        told(page).contains(name)
    });
}

fn save(page: &Page) -> String {
    page.button("Save the job as a file").click();
    page.saved(FILE)
}

#[test]
fn a_job_saved_and_opened_again_is_the_same() {
    PAGE.visit(|page| {
        for unit in ["millimetres", "inches"] {
            example(page, unit);
            let saved = save(page);
            let list = pieces(page);
            start(page);
            show_jobs(page);
            open(page, "from the shop.json", &saved);
            assert!(told(page).contains("“launching trolley” is opened from"));
            assert_eq!(told(page).lines().count(), 1, "{}", told(page));
            assert_eq!(pieces(page), list);
            // The first with something to sketch: the axle beam is cut square.
            assert_eq!(here(page), list[1]);
            assert_eq!(save(page), saved, "{unit}");
        }
    });
}

#[test]
fn what_is_wrong_with_a_file_is_told_and_replaces_nothing() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        page.field("Job").type_text("launching trolley");
        let saved = save(page);
        let list = pieces(page);
        // No job at all: the page stays as it is.
        for (name, text, word) in [
            ("empty.json", "", "empty"),
            (
                "letter.json",
                "Dear all, the trolley is late.",
                "no piece of a job",
            ),
            (
                "foreign.json",
                "{\"shapes\":[{\"kind\":\"circle\"}]}",
                "no piece of a job",
            ),
            ("picture.json", "\u{1}\u{2}PNG\u{0}", "no piece of a job"),
        ] {
            open(page, name, text);
            assert!(told(page).contains(word), "{name}: {}", told(page));
            assert_eq!(pieces(page), list, "{name}");
        }
        // What can be read of the others is a job of its own.
        let mut value: Value = serde_json::from_str(&saved).unwrap();
        value["version"] = Value::from(9);
        let newer = value.to_string();
        value["version"] = Value::from(1);
        value["pieces"][4]["angle"] = Value::from(vec![1]);
        let damaged = value.to_string();
        let half = &saved[..saved.len() / 2];
        for (name, text, words, count) in [
            (
                "newer.json",
                newer.as_str(),
                ["version 9", "Check every number"],
                13,
            ),
            ("damaged.json", damaged.as_str(), ["angle", ""], 13),
            (
                "half.json",
                half,
                ["damaged in line", "check every piece"],
                0,
            ),
        ] {
            show_jobs(page);
            open(page, name, text);
            for word in words {
                assert!(told(page).contains(word), "{name}: {}", told(page));
            }
            let read = pieces(page);
            assert_eq!(read[..4], list[..4], "{name}");
            assert!(count == 0 || read.len() == count, "{name}: {read:?}");
            wait_until_kept(page, "launching trolley", |job| {
                serde_json::from_str::<Value>(&saved).unwrap() == *job
            });
        }
        page.wait_until("each is kept beside the others", |page| {
            kept(page).len() == 4
        });
    });
}
