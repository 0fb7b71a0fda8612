//! Files of a whole job handed on: as one PDF, end by end, by the system's own way, or stopped.

use std::io::Cursor;
use std::process::Command;

use browser_tests::pdf::Pdf;
use browser_tests::{Device, Page, codes_on_sheet};
use serde_json::{Value, json};

use crate::printing::{choose, sheets, wait_for_sheets};
use crate::{PAGE, example, kept, pieces, texts, wait_until_kept};

const PIECE: &str = "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60&label=brace 7";

/// What a program says of a document, which it must read without complaint.
fn told(program: &str, before: &[&str], pdf: &[u8]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheets.pdf");
    std::fs::write(&path, pdf).unwrap();
    let output = Command::new(program).args(before).arg(&path).output();
    let output = output.unwrap_or_else(|error| panic!("{program}: {error}"));
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        output.status.success() && complaint.is_empty(),
        "{program}: {complaint}"
    );
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn words_of(pdf: &Pdf, sheet: usize) -> String {
    let texts = pdf.pages[sheet].texts.iter();
    texts
        .map(|text| text.words.as_str())
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn the_whole_job_is_one_clean_pdf_whose_codes_open_its_pieces() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        choose(page, "The whole job");
        wait_for_sheets(page);
        let shown = sheets(page);
        page.button("Save as a file").click_when_settled();
        page.button("PDF of the sheets").click_when_settled();
        let name = "cope-launching-trolley-packet.pdf";
        let bytes = page.saved_bytes(name);
        let checked = told("qpdf", &["--check"], &bytes);
        assert!(
            checked.contains("No syntax or stream encoding errors found"),
            "{checked}"
        );
        let info = told("pdfinfo", &[], &bytes);
        let pages = info.lines().find_map(|line| line.strip_prefix("Pages:"));
        assert_eq!(pages.unwrap().trim(), shown.to_string());

        let pdf = Pdf::read(&bytes).unwrap();
        assert_eq!(pdf.pages.len(), shown);
        let printed = page.print_pdf();
        let mut link = String::new();
        let mut templates = 0;
        let mut piece_sheets = 0;
        for sheet in 0..shown {
            let words = words_of(&pdf, sheet);
            piece_sheets += usize::from(words.contains("Make ") && words.contains(" overall, "));
            if !words.contains("Templates of the ends") {
                continue;
            }
            templates += 1;
            // A caption names each piece: one code for every piece that has one.
            let on_it =
                (1..=13).filter(|number| words.contains(&format!("Piece {number} of 13: ")));
            let on_it: Vec<usize> = on_it.collect();
            assert!(!on_it.is_empty());
            for document in [&bytes, &printed] {
                let codes = codes_on_sheet(document, sheet, on_it.len());
                assert_eq!(codes.len(), on_it.len(), "sheet {}: {codes:?}", sheet + 1);
                assert!(codes.iter().all(|code| code.contains("#v=1&")), "{codes:?}");
                link.clone_from(&codes[0]);
            }
        }
        assert!(templates >= 7, "{templates} sheets of templates");
        assert!(piece_sheets >= 13, "{piece_sheets} sheets of pieces");

        // What a code says opens its piece.
        let fragment = link.split_once('#').unwrap().1;
        let label = fragment
            .split('&')
            .find_map(|part| part.strip_prefix("label="));
        let label = label
            .unwrap()
            .replace("%20", " ")
            .replace("%2C", ",")
            .replace('+', " ");
        page.open_fragment(fragment);
        assert_eq!(page.field("Label").value(), label);
    });
}

#[test]
fn both_ends_of_a_piece_have_their_own_files() {
    PAGE.visit(|page| {
        page.open_fragment(PIECE);
        page.button("Add the other end and the length")
            .click_when_settled();
        page.field("Length").type_text("640");
        page.button("Save as a file").click_when_settled();
        let mut tops = Vec::new();
        for end in ["end A", "end B"] {
            let file = end.replace(' ', "-");
            for (button, more, ending) in [
                ("SVG", "", "svg"),
                ("DXF", "", "dxf"),
                ("Heights as CSV", "", "csv"),
                ("Cut end as STL", "-cut-end", "stl"),
                ("Marking sleeve as STL", "-sleeve", "stl"),
            ] {
                page.button(&format!("{button}, {end}"))
                    .click_when_settled();
                let name = format!("cope-brace-7-{file}{more}.{ending}");
                let bytes = page.saved_bytes(&name);
                page.wait_until("the page says so", |page| {
                    page.says(&format!("{name} is saved."))
                });
                match ending {
                    "svg" => assert!(String::from_utf8(bytes).unwrap().contains("cut-line")),
                    "dxf" => {
                        dxf::Drawing::load(&mut Cursor::new(bytes)).unwrap();
                    }
                    "csv" => tops.push(String::from_utf8(bytes).unwrap()),
                    _ => assert!(
                        !stl_io::read_stl(&mut Cursor::new(bytes))
                            .unwrap()
                            .faces
                            .is_empty()
                    ),
                }
            }
        }
        // The ends are alike as they come; once one differs, so does its table alone.
        assert_eq!(tops[0], tops[1]);
        page.button("End B: on 48.3 mm round tube at 60°")
            .click_when_settled();
        page.field("Angle").type_text("45");
        page.button("Heights as CSV, end A").click_when_settled();
        let a = page.saved("cope-brace-7-end-A.csv");
        page.button("Heights as CSV, end B").click_when_settled();
        page.wait_until("the other table", |page| {
            page.says("cope-brace-7-end-B.csv is saved.")
        });
        let b = page.saved("cope-brace-7-end-B.csv");
        assert_eq!(a, tops[0]);
        assert_ne!(b, tops[1]);
    });
}

/// Stands in for the system's way of handing files on.
fn stub_sharing(page: &Page, answer: &str) {
    page.run(
        "window.shared = [];
         navigator.canShare = data => data.files?.every(file => file instanceof File) ?? false;
         navigator.share = async data => {
             for (const file of data.files)
                 shared.push([file.name, file.type, file.size,
                     String.fromCharCode(...new Uint8Array(await file.slice(0, 4).arrayBuffer()))]);
             if (arguments_of_answer) throw new DOMException('no', arguments_of_answer);
         };
         const arguments_of_answer = arguments[0]",
        vec![json!(answer)],
    );
}

fn shared(page: &Page) -> Vec<Value> {
    let shared = page.run("return window.shared", Vec::new());
    shared.as_array().cloned().unwrap_or_default()
}

#[test]
fn a_file_is_shared_under_its_name_and_stays_saved_when_that_is_refused() {
    PAGE.visit(|page| {
        page.open_fragment(PIECE);
        page.button("Save as a file").click_when_settled();
        stub_sharing(page, "");
        for (button, name, kind, start) in [
            (
                "PDF of the sheets",
                "cope-brace-7.pdf",
                "application/pdf",
                "%PDF",
            ),
            (
                "Everything of the job in one archive",
                "cope-everything.zip",
                "application/zip",
                "PK\u{3}\u{4}",
            ),
        ] {
            let before = shared(page).len();
            page.button(button).click_when_settled();
            let bytes = page.saved_bytes(name);
            page.button(&format!("Share {name} …")).click_when_settled();
            page.wait_until("it is handed on", |page| shared(page).len() > before);
            assert_eq!(
                shared(page)[before],
                json!([name, kind, bytes.len(), start])
            );
        }
        // Thinking better of it is no fault, and the file is in the folder of saved files anyway.
        stub_sharing(page, "AbortError");
        page.button("DXF").click_when_settled();
        let bytes = page.saved_bytes("cope-brace-7.dxf");
        page.button("Share cope-brace-7.dxf …").click_when_settled();
        page.wait_until("it is refused", |page| !shared(page).is_empty());
        assert!(page.says("cope-brace-7.dxf is saved."));
        assert!(!page.says("was not handed on"));
        assert!(!bytes.is_empty());
        // Whatever else the system refuses is said, once, beside what there is instead.
        stub_sharing(page, "NotAllowedError");
        for count in 1..=2 {
            page.button("Share cope-brace-7.dxf …").click_when_settled();
            page.wait_until("it is refused", |page| shared(page).len() == count);
        }
        page.wait_until("the refusal is said", |page| {
            page.says("cope-brace-7.dxf was not handed on: the system refused it.")
        });
        let told = texts(page, ".files .notes p");
        assert_eq!(told.len(), 2, "{told:?}");
        // Where nothing can be handed on, there is nothing to press, and the file is saved.
        page.run("navigator.canShare = () => false", Vec::new());
        page.button("SVG").click_when_settled();
        assert!(!page.saved_bytes("cope-brace-7.svg").is_empty());
        page.wait_until("it is saved", |page| {
            page.says("cope-brace-7.svg is saved.")
        });
        let buttons = texts(page, ".files button");
        assert!(
            !buttons.iter().any(|name| name.starts_with("Share")),
            "{buttons:?}"
        );
    });
}

#[test]
fn a_long_file_can_be_stopped_and_made_again() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        let title = "launching trolley";
        wait_until_kept(page, title, |_| true);
        let before = kept(page);
        page.button("Save as a file").click_when_settled();
        page.run(
            "window.seen = [];
             new MutationObserver((_, observer) => {
                 const progress = document.querySelector('.files .row[role=status]');
                 if (!progress) return;
                 seen.push(progress.querySelector('span').innerText);
                 if (/\\d+ of \\d+/.test(seen.at(-1))) {
                     observer.disconnect();
                     progress.querySelector('button').click();
                 }
             }).observe(document.body, { childList: true, subtree: true, characterData: true })",
            Vec::new(),
        );
        page.button("Everything of the job in one archive")
            .click_when_settled();
        page.wait_until("it is under way, and stopped", |page| {
            let seen = page.run("return window.seen.at(-1) ?? ''", Vec::new());
            seen.as_str().is_some_and(|seen| seen.contains(" of "))
        });
        page.wait_until("nothing is under way", |page| {
            page.first(".files .row[role=status]").is_none()
        });
        assert_eq!(texts(page, ".files .notes p"), [""; 0], "no file came");
        assert_eq!(pieces(page).len(), 13);
        assert_eq!(kept(page), before, "the job is as it was");
        // And again, to the end.
        page.button("Everything of the job in one archive")
            .click_when_settled();
        let bytes = page.saved_bytes("cope-launching-trolley-everything.zip");
        let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        assert!(archive.by_name("cope-launching-trolley-job.json").is_ok());
        let mut names: Vec<String> = archive.file_names().map(str::to_owned).collect();
        let count = names.len();
        names.sort();
        names.dedup();
        assert!(count > 40 && names.len() == count, "{names:?}");
    });
}

#[test]
fn where_prints_are_doubtful_a_pdf_is_offered_instead() {
    let page = Page::open_on(Device::PHONE);
    page.open_fragment(PIECE);
    let offer = "Save a PDF instead";
    assert!(!page.names_of("button").iter().any(|name| name == offer));
    // What browsers of telephones call themselves; the workshop asks anew when it comes.
    page.run(
        "Object.defineProperty(navigator, 'userAgent', { value: 'Mozilla/5.0 (Android 14; Mobile)' })",
        Vec::new(),
    );
    page.button("Add the other end and the length")
        .click_when_settled();
    page.field("Length").type_text("640");
    page.wait_until("the page doubts", |page| {
        page.says("Phones and tablets often print at a wrong size.")
    });
    page.button(offer).click_when_settled();
    page.wait_until("the menu is there", |page| {
        page.first("#files[open]").is_some()
    });
    assert!(page.button("PDF of the sheets").has_focus());
    page.button("PDF of the sheets").click_when_settled();
    let bytes = page.saved_bytes("cope-brace-7.pdf");
    assert_eq!(Pdf::read(&bytes).unwrap().pages.len(), sheets(&page));
    assert_eq!(page.troubles(), [""; 0]);
}
