//! The whole job on paper, true to size, without the parts that are not wanted.

use browser_tests::Page;
use browser_tests::pdf::{Bounds, Pdf};
use browser_tests::printed::Sheet;
use copewright::job::Printer;
use copewright::job::list::{Job, Readings, demo};
use copewright::sheet::packet::{JobSheets, Parts, lay_out_list_with_codes};
use copewright::sheet::{Drawing, Item, Layer, Pen};
use copewright::units::{Denominator, Unit};
use serde_json::json;

use crate::{PAGE, example, go_to, pieces, start, texts};

/// What a line on paper may be off, mm.
const TRUE: f64 = 0.02;

/// Chooses what is printed.
#[track_caller]
pub fn choose(page: &Page, what: &str) {
    let chosen = page.run(
        "const choice = [...document.querySelectorAll('[name=what-to-print]')]
             .find(choice => choice.closest('label').innerText.startsWith(arguments[0]));
         choice?.click();
         return choice?.checked ?? false",
        vec![json!(what)],
    );
    assert_eq!(chosen, json!(true), "{what} cannot be chosen");
}

pub fn sheets(page: &Page) -> usize {
    page.rest();
    texts(page, ".sheets .page").len()
}

fn can_print(page: &Page) -> bool {
    page.rest();
    can_print_now(page)
}

fn can_print_now(page: &Page) -> bool {
    let enabled = page.run(
        "return [...document.querySelectorAll('button.print')].every(button => !button.disabled)",
        Vec::new(),
    );
    enabled == json!(true)
}

/// Waits until the sheets show the job as it is.
pub fn wait_for_sheets(page: &Page) {
    page.wait_until("the sheets are laid out", |page| {
        can_print(page) && sheets(page) > 0
    });
}

pub fn all_words(pdf: &Pdf) -> String {
    let words = pdf.pages.iter().flat_map(|page| &page.texts);
    words
        .map(|text| text.words.as_str())
        .collect::<Vec<_>>()
        .join(" ")
}

/// The packet of a job, laid out here.
fn packet(job: &Job, address: &str, parts: Parts) -> Vec<Drawing> {
    let order = JobSheets {
        job,
        printer: &Printer::default(),
        date: "2026-01-01",
        address,
        parts,
    };
    lay_out_list_with_codes(&order, address, &mut Readings::default(), &mut |_, _| true)
        .unwrap()
        .pages
}

/// Every cut line, landing and hole is on the paper where it was laid out, in mm. Returns how many
/// there are.
#[track_caller]
fn assert_as_laid_out(pdf: &Pdf, pages: &[Drawing]) -> usize {
    let mut count = 0;
    for (number, (printed, laid_out)) in pdf.pages.iter().zip(pages).enumerate() {
        for (layer, pen) in [
            (Layer::Cut, Pen::CUT),
            (Layer::Landing, Pen::LANDING),
            (Layer::Hole, Pen::HOLE),
        ] {
            let wanted = laid_out.items.iter().filter_map(|item| match item {
                Item::Stroke {
                    layer: own,
                    pen: with,
                    points,
                    filled: false,
                    ..
                } if *own == layer && *with == pen => {
                    let points: Vec<[f64; 2]> = points.iter().map(|p| [p.x, p.y]).collect();
                    Some(Bounds::around(&points))
                }
                _ => None,
            });
            let wanted: Vec<Bounds> = wanted.collect();
            let found: Vec<Bounds> = printed
                .strokes_of_width(pen.width)
                .map(|line| line.bounds())
                .collect();
            for bounds in &wanted {
                let off = |found: &Bounds| {
                    let corners = [0, 1].into_iter().flat_map(|axis| {
                        [
                            (found.min[axis] - bounds.min[axis]).abs(),
                            (found.max[axis] - bounds.max[axis]).abs(),
                        ]
                    });
                    corners.fold(0.0, f64::max)
                };
                let least = found.iter().map(off).fold(f64::INFINITY, f64::min);
                assert!(
                    least < TRUE,
                    "sheet {}, {layer:?}: a line is {least} mm off",
                    number + 1
                );
            }
            assert!(found.len() >= wanted.len(), "sheet {}", number + 1);
            count += wanted.len();
        }
    }
    count
}

#[test]
fn the_whole_job_is_printed_true_to_size() {
    PAGE.visit(|page| {
        let sixteenths = Unit::Fraction(Denominator::Sixteenth);
        for (name, unit, saw, length) in [
            ("millimetres", Unit::Millimetre, "Hole saw 48 mm", 100.0),
            ("inches", sixteenths, "Hole saw 2\"", 101.6),
        ] {
            example(page, name);
            choose(page, "The whole job");
            wait_for_sheets(page);
            let pdf = page.print();
            let address = format!("{}#", page.url().split('#').next().unwrap());
            let laid_out = packet(&demo(unit), &address, Parts::USUAL);
            assert_eq!(sheets(page), laid_out.len(), "{name}: sheets on the page");
            assert_eq!(pdf.pages.len(), laid_out.len(), "{name}: sheets printed");
            for (number, sheet) in pdf.pages.iter().enumerate() {
                let rulers = Sheet::new(sheet).rulers();
                let own = rulers
                    .iter()
                    .find(|ruler| (ruler.length_mm() - length).abs() < 0.5);
                let own = own.unwrap_or_else(|| panic!("{name}, sheet {}: no ruler", number + 1));
                assert!((own.length_mm() - length).abs() < TRUE, "{name}: {own:?}");
            }
            let lines = assert_as_laid_out(&pdf, &laid_out);
            assert!(lines >= 20, "{name}: {lines} templates");
            let words = all_words(&pdf);
            for word in [
                saw,
                "off square",
                "end at the saw",
                "launching trolley",
                "brace, left",
            ] {
                assert!(words.contains(word), "{name}: no “{word}”");
            }
        }
    });
}

#[test]
fn parts_are_left_out_and_the_piece_alone_can_be_printed_again() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        go_to(page, &pieces(page)[1]);
        // The straight pre-cut is found when the hands rest.
        let pre_cut = "return !!document.querySelector('.page .pre-cut')";
        page.wait_until("the pre-cut is drawn", |page| {
            page.run(pre_cut, Vec::new()) == json!(true)
        });
        let alone = sheets(page);
        let words_alone = all_words(&page.print());
        choose(page, "The whole job");
        wait_for_sheets(page);
        let all = sheets(page);
        assert!(all > alone);
        // A part at a time.
        let mut before = all;
        for part in [
            "Templates",
            "Templates for the mains",
            "Sheet of each piece",
        ] {
            page.field(part).click();
            page.wait_until(&format!("the sheets come without {part}"), |page| {
                can_print(page) && (sheets(page) < before || part == "Templates for the mains")
            });
            before = sheets(page);
        }
        let words = all_words(&page.print());
        assert!(
            words.contains("Hole saw 48 mm") && words.contains("Cut list"),
            "{words}"
        );
        page.field("Run list").click();
        page.wait_until("the run list is gone", |page| {
            can_print(page) && sheets(page) < before
        });
        assert!(!all_words(&page.print()).contains("end at the saw"));
        for part in [
            "Contents and bank card",
            "Cut list",
            "Left and right compared",
        ] {
            page.field(part).click();
        }
        page.wait_until("the page says that nothing is left", |page| {
            texts(page, ".paper .notes p")
                .iter()
                .any(|note| !note.is_empty())
        });
        assert!(!can_print(page), "nothing to print");

        choose(page, "This piece");
        page.wait_until("the piece's sheets are back", |page| sheets(page) == alone);
        page.wait_until("the pre-cut is drawn again", |page| {
            page.run(pre_cut, Vec::new()) == json!(true)
        });
        assert!(can_print(page));
        assert_eq!(all_words(&page.print()), words_alone);
    });
}

#[test]
fn laying_out_can_be_stopped_and_follows_what_is_typed() {
    PAGE.visit(|page| {
        example(page, "millimetres");
        go_to(page, &pieces(page)[1]);
        assert!(can_print(page));
        let alone = sheets(page);
        // Stopped as soon as it has begun.
        page.run(
            "new MutationObserver((_, observer) => {
                 const stop = [...document.querySelectorAll('button')]
                     .find(button => button.innerText === 'Stop');
                 if (stop) { window.stopped = true; observer.disconnect(); stop.click(); }
             }).observe(document.body, { childList: true, subtree: true })",
            Vec::new(),
        );
        choose(page, "The whole job");
        page.wait_until("it is stopped", |page| {
            page.run("return window.stopped ?? false", Vec::new()) == json!(true)
        });
        page.wait_until("the piece alone is printed", |page| {
            can_print(page) && sheets(page) == alone
        });
        assert_eq!(texts(page, "[role=status] button"), [""; 0]);

        // And again, to the end; what is typed meanwhile is on the sheets that can be printed.
        choose(page, "The whole job");
        wait_for_sheets(page);
        page.field("Label").type_text("bar to draw by");
        assert!(!can_print_now(page), "sheets of before");
        wait_for_sheets(page);
        assert!(all_words(&page.print()).contains("bar to draw by"));
    });
}

#[test]
fn one_wrong_piece_is_left_out_by_name() {
    PAGE.visit(|page| {
        start(page);
        page.field("Label").type_text("upright");
        page.button("Same again").click();
        page.field("Branch diameter").type_text("thick");
        choose(page, "The whole job");
        wait_for_sheets(page);
        let told = texts(page, ".paper .notes p").join(" ");
        assert!(told.contains("“upright 2” is left out"), "{told}");
        go_to(page, "1. upright");
        assert!(can_print(page), "looking at another piece changes no sheet");
        assert!(all_words(&page.print()).contains("upright"));
    });
}
