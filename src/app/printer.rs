//! The printer in use: its name, margin, which way it lays the drawing, and how true it prints.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::job::{Orientation, Printer, Ruler};
use crate::units::{Length, Unit, read_length, write_fixed, write_length};

/// Everything kept about the chosen printer.
#[component]
pub fn PrinterPanel() -> impl IntoView {
    let bench = bench();
    let printer = Memo::new(move |_| bench.printer());
    let replace = move |by: Box<dyn FnOnce(Printer) -> Printer>| {
        bench.settings(|kept| kept.change_printer(|printer| *printer = by(printer.clone())));
    };
    let names = Memo::new(move |_| {
        bench.kept.with(|kept| {
            kept.printers
                .iter()
                .map(|printer| printer.name().to_owned())
                .collect::<Vec<_>>()
        })
    });
    let orientation = move || orientation_code(printer.with(Printer::orientation));
    view! {
        <div class="field">
            <label for="printer">"Printer"</label>
            <select
                id="printer"
                prop:value=move || bench.kept.with(|kept| kept.chosen.to_string())
                on:change:target=move |event| {
                    let value = event.target().value();
                    bench.settings(|kept| match value.parse() {
                        Ok(index) => kept.chosen = index,
                        Err(_) => {
                            let name = format!("Printer {}", kept.printers.len() + 1);
                            kept.add_printer(Printer::new(name));
                        }
                    });
                }
            >
                {move || {
                    let chosen = bench.kept.with(|kept| kept.chosen);
                    names.get().into_iter().enumerate().map(|(index, name)| view! {
                        <option value=index.to_string() selected={index == chosen}>{shown_name(&name)}</option>
                    }).collect_view()
                }}
                <option value="new">"Another printer …"</option>
            </select>
        </div>
        <div class="field">
            <label for="printer-name">"Its name"</label>
            <input
                id="printer-name"
                type="text"
                autocomplete="off"
                maxlength="40"
                placeholder="shop laser"
                prop:value=move || printer.with(|printer| printer.name().to_owned())
                on:change:target=move |event| {
                    let name = event.target().value();
                    bench.settings(|kept| kept.name_printer(&name));
                }
            />
        </div>
        <MarginField/>
        <div class="field">
            <label for="orientation">"Drawing on the sheet"</label>
            <select
                id="orientation"
                prop:value=orientation
                on:change:target=move |event| {
                    let to = orientation_from(&event.target().value());
                    replace(Box::new(move |printer| printer.with_orientation(to)));
                }
            >
                <option value="auto">"whichever saves paper"</option>
                <option value="upright">"upright"</option>
                <option value="sideways">"sideways"</option>
            </select>
        </div>
        <Rulers/>
    }
}

/// The border the printer keeps clear.
#[component]
fn MarginField() -> impl IntoView {
    let bench = bench();
    let sentence = RwSignal::new(None::<String>);
    let unit = move || bench.typed.with(|typed| typed.unit);
    forget_with_settings(sentence);
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
                sentence.set(None);
                bench.settings(|kept| kept.change_printer(|old| *old = printer));
            }
            Err(told) => sentence.set(Some(told)),
        }
    };
    view! {
        <div class="field" class:wrong=move || sentence.with(Option::is_some)>
            <label for="margin">"Printer margin"</label>
            <input
                id="margin"
                type="text"
                autocomplete="off"
                aria-describedby="margin-problem"
                aria-invalid=move || sentence.with(Option::is_some).to_string()
                prop:value=move || write_length(bench.printer().margin(), unit())
                on:change:target=move |event| take(event.target().value())
            />
            <p class="problem" id="margin-problem" aria-live="polite">{move || sentence.get()}</p>
        </div>
    }
}

/// What the rulers measured on paper, and the correction that follows.
#[component]
fn Rulers() -> impl IntoView {
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
    let sentence = RwSignal::new(None::<String>);
    let apply = move |_| match corrected(
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
            sentence.set(Some(String::from(
                "Corrected. Print again: the rulers must now measure true.",
            )));
        }
        Err(told) => sentence.set(Some(told)),
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
    view! {
        <fieldset class="rulers">
            <legend>"Ruler measures wrong?"</legend>
            <p role="status">{state}</p>
            <div class="row">
                <div class="field">
                    <label for="ruler">"Ruler measured"</label>
                    <select
                        id="ruler"
                        prop:value=move || ruler.get().name()
                        on:change:target=move |event| {
                            let name = event.target().value();
                            if let Some(of) = Ruler::ALL.into_iter().find(|ruler| ruler.name() == name) {
                                ruler.set(of);
                            }
                        }
                    >
                        {Ruler::ALL.into_iter().map(|of| view! {
                            <option value=of.name() selected={of == ruler.get_untracked()}>{of.name()}</option>
                        }).collect_view()}
                    </select>
                </div>
                <div class="field">
                    <label for="across">"Across the sheet"</label>
                    <input id="across" data-own-undo="" type="text" autocomplete="off" prop:value=across
                        placeholder=move || write_length(ruler.get().length(), unit())
                        on:input:target=move |event| across.set(event.target().value())/>
                </div>
                <div class="field">
                    <label for="along">"Along the sheet"</label>
                    <input id="along" data-own-undo="" type="text" autocomplete="off" prop:value=along
                        placeholder=move || write_length(ruler.get().length(), unit())
                        on:input:target=move |event| along.set(event.target().value())/>
                </div>
                <button type="button" on:click=apply>"Correct the sheets"</button>
                {move || bench.printer().is_corrected().then(|| view! {
                    <button type="button" on:click=move |_| {
                        bench.settings(|kept| kept.change_printer(|p| *p = p.clone().uncorrected()));
                        sentence.set(None);
                    }>"Drop the correction"</button>
                }.into_any())}
                {move || (bench.kept.with(|kept| kept.printers.len()) > 1).then(|| view! {
                    <button type="button" on:click=move |_| {
                        bench.settings(crate::job::Kept::forget_printer);
                    }>"Forget this printer"</button>
                }.into_any())}
            </div>
            <p class="problem" aria-live="polite">{move || sentence.get()}</p>
        </fieldset>
    }
}

/// Takes a sentence away when what it was about has changed.
fn forget_with_settings(sentence: RwSignal<Option<String>>) {
    let bench = bench();
    Effect::new(move |_| {
        bench.kept.track();
        sentence.set(None);
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
