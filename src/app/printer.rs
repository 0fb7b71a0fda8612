//! The printer in use: its name, margin, which way it lays the drawing, and how true it prints.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, follow, html, options};
use crate::job::{Kept, Orientation, Printer, Ruler};
use crate::units::{Length, Unit, read_length, write_fixed, write_length};

/// Everything kept about the chosen printer.
pub fn printer_fields() -> Vec<El> {
    let bench = bench();
    let choices = move || {
        bench.kept.with(|kept| {
            let printers = kept.printers.iter().enumerate();
            let mut all: Vec<El> = printers
                .map(|(index, printer)| {
                    let option = html("<option></option>")
                        .attr("value", &index.to_string())
                        .text(&shown_name(printer.name()));
                    if index == kept.chosen {
                        option.attr("selected", "")
                    } else {
                        option
                    }
                })
                .collect();
            all.push(html(r#"<option value="new">Another printer …</option>"#));
            all
        })
    };
    let printer = html(r#"<select id="printer"></select>"#)
        .children_of(choices)
        .value_of(move || bench.kept.with(|kept| kept.chosen.to_string()))
        .on_text("change", move |value| {
            bench.settings(|kept| match value.parse() {
                Ok(index) => kept.chosen = index,
                Err(_) => {
                    let name = format!("Printer {}", kept.printers.len() + 1);
                    kept.add_printer(Printer::new(name));
                }
            });
        });
    let name = html(
        r#"<input id="printer-name" type="text" autocomplete="off" maxlength="40" placeholder="shop laser">"#,
    )
    .value_of(move || bench.kept.with(|kept| kept.printer().name().to_owned()))
    .on_text("change", move |name| bench.settings(|kept| kept.name_printer(&name)));
    let orientation = html(
        r#"<select id="orientation"><option value="auto">whichever saves paper</option><option value="upright">upright</option><option value="sideways">sideways</option></select>"#,
    )
    .value_of(move || {
        let code = bench.kept.with(|kept| orientation_code(kept.printer().orientation()));
        String::from(code)
    })
    .on_text("change", move |code| {
        let to = orientation_from(&code);
        bench.settings(|kept| {
            kept.change_printer(|printer| *printer = printer.clone().with_orientation(to));
        });
    });
    vec![
        html(r#"<div class="field"><label for="printer">Printer</label></div>"#).child(printer),
        html(r#"<div class="field"><label for="printer-name">Its name</label></div>"#).child(name),
        margin_field(),
        html(r#"<div class="field"><label for="orientation">Drawing on the sheet</label></div>"#)
            .child(orientation),
        rulers(),
    ]
}

/// The border the printer keeps clear.
fn margin_field() -> El {
    let bench = bench();
    let sentence = RwSignal::new(String::new());
    let unit = move || bench.typed.with(|typed| typed.unit);
    forget_with_settings(sentence);
    let wrong = move || !sentence.with(String::is_empty);
    let take = move |text: String| {
        let read = read_length(&text, unit())
            .map_err(|error| error.to_string())
            .and_then(|margin| {
                bench
                    .printer()
                    .with_margin(margin)
                    .map_err(|error| error.sentence(unit()))
            });
        match read {
            Ok(printer) => {
                sentence.set(String::new());
                bench.settings(|kept| kept.change_printer(|old| *old = printer));
            }
            Err(told) => sentence.set(told),
        }
    };
    let input = html(
        r#"<input id="margin" type="text" autocomplete="off" aria-describedby="margin-problem">"#,
    )
    .truth_of("aria-invalid", wrong)
    .value_of(move || write_length(bench.printer().margin(), unit()))
    .on_text("change", take);
    html(r#"<div class="field"><label for="margin">Printer margin</label></div>"#)
        .class_of("wrong", wrong)
        .child(input)
        .child(
            html(r#"<p class="problem" id="margin-problem" aria-live="polite"></p>"#)
                .text_of(move || sentence.get()),
        )
}

/// What the rulers measured on paper, and the correction that follows.
fn rulers() -> El {
    let bench = bench();
    let unit = move || bench.typed.with(|typed| typed.unit);
    let ruler = RwSignal::new(
        if bench.typed.with_untracked(|typed| typed.unit.is_inch()) {
            Ruler::Inches
        } else {
            Ruler::Millimetres
        },
    );
    let (across, along) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let sentence = RwSignal::new(String::new());
    let apply = move || match corrected(
        &bench.printer(),
        ruler.get(),
        &across.get(),
        &along.get(),
        unit(),
    ) {
        Ok(printer) => {
            bench.settings(|kept| kept.change_printer(|old| *old = printer));
            across.set(String::new());
            along.set(String::new());
            sentence.set(String::from(
                "Corrected. Print again: the rulers must now measure true.",
            ));
        }
        Err(told) => sentence.set(told),
    };
    let state = move || {
        let printer = bench.printer();
        if printer.is_corrected() {
            format!(
                "Sheets are corrected for this printer: across × {}, along × {}. Print again: the rulers \
                 must now measure true. Measure only sheets that carry this correction.",
                write_fixed(printer.across(), 4),
                write_fixed(printer.along(), 4)
            )
        } else {
            String::from("No correction: the sheets are true if the printer is.")
        }
    };
    let which = html(r#"<select id="ruler"></select>"#)
        .children(options(Ruler::ALL.iter().map(|of| (of.name(), of.name()))))
        .value_of(move || ruler.get().name().to_owned())
        .on_text("change", move |name| {
            if let Some(of) = Ruler::ALL.into_iter().find(|ruler| ruler.name() == name) {
                ruler.set(of);
            }
        });
    let measured = |input: &'static str, text: RwSignal<String>| {
        html(input)
            .value_of(move || text.get())
            .attr_of("placeholder", move || {
                Some(write_length(ruler.get().length(), unit()))
            })
            .on_text("input", move |typed| text.set(typed))
    };
    let across = measured(
        r#"<input id="across" data-own-undo="" type="text" autocomplete="off">"#,
        across,
    );
    let along = measured(
        r#"<input id="along" data-own-undo="" type="text" autocomplete="off">"#,
        along,
    );
    let drop_correction = move || {
        html(r#"<button type="button">Drop the correction</button>"#).on_click(move || {
            bench.settings(|kept| kept.change_printer(|p| *p = p.clone().uncorrected()));
            sentence.set(String::new());
        })
    };
    let forget = move || {
        html(r#"<button type="button">Forget this printer</button>"#)
            .on_click(move || bench.settings(Kept::forget_printer))
    };
    let row = html(r#"<div class="row"></div>"#)
        .child(
            html(r#"<div class="field"><label for="ruler">Ruler measured</label></div>"#)
                .child(which),
        )
        .child(
            html(r#"<div class="field"><label for="across">Across the sheet</label></div>"#)
                .child(across),
        )
        .child(
            html(r#"<div class="field"><label for="along">Along the sheet</label></div>"#)
                .child(along),
        )
        .child(html(r#"<button type="button">Correct the sheets</button>"#).on_click(apply))
        .when(move || bench.printer().is_corrected(), drop_correction)
        .when(
            move || bench.kept.with(|kept| kept.printers.len()) > 1,
            forget,
        );
    html(r#"<fieldset class="rulers"><legend>Ruler measures wrong?</legend></fieldset>"#)
        .child(html(r#"<p role="status"></p>"#).text_of(state))
        .child(row)
        .child(
            html(r#"<p class="problem" aria-live="polite"></p>"#).text_of(move || sentence.get()),
        )
}

/// Takes a sentence away when what it was about has changed.
fn forget_with_settings(sentence: RwSignal<String>) {
    let bench = bench();
    follow(move || {
        bench.kept.track();
        sentence.set(String::new());
    });
}

/// The printer with what its rulers measured; a ruler left empty measured true.
fn corrected(
    printer: &Printer,
    ruler: Ruler,
    across: &str,
    along: &str,
    unit: Unit,
) -> Result<Printer, String> {
    let measured = |text: &str| -> Result<Length, String> {
        if text.trim().is_empty() {
            return Ok(ruler.length());
        }
        read_length(text, unit).map_err(|error| error.to_string())
    };
    if across.trim().is_empty() && along.trim().is_empty() {
        return Err(String::from(
            "Type what the two rulers measure on the printed sheet.",
        ));
    }
    printer
        .clone()
        .measured(ruler, measured(across)?, measured(along)?)
        .map_err(|error| error.sentence(unit))
}

fn shown_name(name: &str) -> String {
    if name.trim().is_empty() {
        String::from("unnamed printer")
    } else {
        name.to_owned()
    }
}

const fn orientation_code(orientation: Orientation) -> &'static str {
    match orientation {
        Orientation::Auto => "auto",
        Orientation::Upright => "upright",
        Orientation::Sideways => "sideways",
    }
}

fn orientation_from(code: &str) -> Orientation {
    match code {
        "upright" => Orientation::Upright,
        "sideways" => Orientation::Sideways,
        _ => Orientation::Auto,
    }
}
