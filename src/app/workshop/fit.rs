//! How the end that the sketch shows will fit: gaps all round for what may be off, what each error
//! costs, where a welder gets in badly; and what went wrong with a cut that is there.

use std::sync::Arc;

use leptos::prelude::*;

use crate::app::bench::{Gaps, bench};
use crate::app::browser;
use crate::app::dom::{El, fill_cells, fill_text, follow, html, options};
use crate::app::sketch::picture;
use crate::app::workshop::hand::{at_hand, change_at_hand};
use crate::app::workshop::saw::Plans;
use crate::job::fit::{
    FitFact, FitField, FitProblem, FitTyped, Process, fit_report, fit_what_ifs, found_wrong,
    read_fit_in_part,
};
use crate::job::{Draft, Typed};
use crate::sheet::fit_strip;
use crate::units::{Angle, Length, write_bare, write_length};

/// Everything said and drawn about the fit.
#[derive(Clone, PartialEq, Default)]
struct Predicted {
    problems: Vec<FitProblem>,
    verdict: String,
    gaps: Vec<FitFact>,
    costs: Vec<FitFact>,
    access: Vec<FitFact>,
    drawing: String,
}

/// What takes longer, asked after a rest.
#[derive(Clone, PartialEq, Default)]
struct Later {
    what_ifs: Vec<FitFact>,
    /// The explanation, gaps compared, what to grind.
    found: Option<(String, Vec<FitFact>, Vec<FitFact>)>,
}

/// The prediction under the sketch.
pub fn fit() -> El {
    let bench = bench();
    let own = at_hand();
    let typed = Memo::new(move |_| own.with(|own| own.fit.clone()));
    let Some(Plans { saw, .. }) = use_context::<Plans>() else {
        return html("<div></div>");
    };
    let predicted = RwSignal::new(Predicted::default());
    let later = RwSignal::new(Later::default());
    // All of it takes too long for a keystroke, and is asked when the hands rest.
    let rest = browser::after_rest(move || {
        let Some(draft) = bench.draft.get_untracked() else {
            return;
        };
        let typed = with_saw(typed.get_untracked(), saw.get_untracked(), &draft);
        let (said, bands) = predict(&typed, &draft);
        predicted.set(said);
        bench.gaps.set(bands.map(|bands| Gaps {
            of: Arc::clone(&draft),
            bands,
        }));
        // What was found for other numbers does not stay beside one that cannot be used.
        let asked = read_fit_in_part(&typed, &draft).0;
        later.set(asked.map_or_else(Later::default, |asked| {
            let found = found_wrong(&draft, &asked).map(|found| {
                let said = [found.sentence.as_str(), " ", &found.advice].concat();
                (said, found.compared, found.grind)
            });
            let what_ifs = fit_what_ifs(&draft, &asked);
            Later { what_ifs, found }
        }));
    });
    follow(move || {
        bench.draft.track();
        typed.track();
        saw.track();
        rest();
    });
    let said = move || predicted.with(|predicted| predicted.verdict.clone());
    let drawing = move || predicted.with(|predicted| predicted.drawing.clone());
    let part = move |of: fn(&Predicted) -> &[FitFact]| {
        move || predicted.with(|predicted| rows(of(predicted)))
    };
    let process = html(r#"<select id="process"></select>"#)
        .children(options(
            Process::ALL
                .iter()
                .map(|process| (process.name(), process.name())),
        ))
        .value_of(move || typed.with(|typed| typed.process.name().to_owned()))
        .on_text("change", move |name| {
            let process = Process::ALL.into_iter().find(|one| one.name() == name);
            if let Some(process) = process {
                change_at_hand(bench, None, |own| own.fit.process = process);
            }
        });
    let process =
        html(r#"<div class="field"><label for="process">Welded by</label></div>"#).child(process);
    let field = move |field: FitField| number(field, typed, predicted);
    let saw_remark = move || {
        let draft = bench.draft.get();
        match (saw.get(), draft) {
            (Some(saw), Some(draft)) if typed.with(|typed| typed.size.trim().is_empty()) => {
                let saw = write_length(saw, draft.unit);
                format!("Reckoned with the saw at hand, {saw} over its teeth.")
            }
            _ => String::new(),
        }
    };
    let what_if =
        html(r#"<details class="after"><summary>What if something is off</summary></details>"#)
            .child(
                html(r#"<div class="numbers"></div>"#)
                    .child(process)
                    .children(FitField::LIMITS.map(field))
                    .children_of(which_main(typed))
                    .children(FitField::SLIPS.map(field)),
            )
            .child(html("<h3>What each error costs here</h3>"))
            .child(list(part(|predicted| &predicted.costs)))
            .child(html("<h3>Other cuts and angles</h3>"))
            .child(list(move || later.with(|later| rows(&later.what_ifs))));
    let access =
        html(r#"<details class="after"><summary>Getting in with the torch</summary></details>"#)
            .child(list(part(|predicted| &predicted.access)));
    html(r#"<section class="checks fit" aria-labelledby="fit-head"><h2 id="fit-head">How it will fit</h2></section>"#)
        .class_of("stale", move || !bench.is_current())
        .child(html(r#"<p class="verdict" role="status"></p>"#).text_of(said))
        .child(html(r#"<p class="remark"></p>"#).text_of(saw_remark))
        .child(html(r#"<div class="drawing"></div>"#).markup_of(drawing))
        .child(list(part(|predicted| &predicted.gaps)))
        .child(what_if)
        .child(access)
        .child(seen(typed, predicted, later))
}

/// The choice of the main that something is off at, where there are several.
fn which_main(typed: Memo<FitTyped>) -> impl Fn() -> Vec<El> {
    let bench = bench();
    let count = Memo::new(move |_| bench.typed.with(Typed::mains));
    move || {
        let numbers = (1..=count.get()).map(|number| number.to_string());
        let names: Vec<String> = numbers.collect();
        let several = names.len() > 1;
        let select = several.then(|| {
            html(r#"<select id="fit-main"></select>"#)
                .children(options(names.iter().map(|name| (&**name, &**name))))
                .value_of(move || {
                    let main = typed.with(|typed| typed.main);
                    (main.min(count.get().saturating_sub(1)) + 1).to_string()
                })
                .on_text("change", move |number| {
                    if let Ok(number) = number.parse::<usize>() {
                        change_at_hand(bench, None, |own| own.fit.main = number.saturating_sub(1));
                    }
                })
        });
        let label = r#"<label for="fit-main">Something is off at main</label>"#;
        let field = |select| {
            html(r#"<div class="field"></div>"#)
                .child(html(label))
                .child(select)
        };
        select.map(field).into_iter().collect()
    }
}

/// The gaps seen after the cut, and what explains them.
fn seen(typed: Memo<FitTyped>, predicted: RwSignal<Predicted>, later: RwSignal<Later>) -> El {
    let explained = move || {
        let said = later.with(|later| later.found.as_ref().map(|(said, _, _)| said.clone()));
        let said = said.unwrap_or_else(|| {
            String::from("Push the end home and measure the gap at heel, sides and toe.")
        });
        vec![vec![said]]
    };
    let compared = move || {
        later.with(|later| {
            let found = later.found.as_ref();
            found.map_or_else(Vec::new, |(_, compared, _)| rows(compared))
        })
    };
    let grind = move || {
        later.with(|later| {
            let found = later.found.as_ref();
            found.map_or_else(Vec::new, |(_, _, grind)| rows(grind))
        })
    };
    html(r#"<details class="after"><summary>Cut already, and it gaps</summary></details>"#)
        .child(
            html(r#"<div class="numbers even"></div>"#)
                .children(FitField::SEEN.map(|field| number(field, typed, predicted))),
        )
        .child(
            html(r#"<div class="notes" role="status"></div>"#)
                .rows_of("<p></p>", fill_text, explained),
        )
        .child(list(compared))
        .child(list(grind))
}

/// The question as typed; where no diameter is, that of the saw at hand is asked.
fn with_saw(mut typed: FitTyped, saw: Option<Length>, draft: &Draft) -> FitTyped {
    if let Some(saw) = saw.filter(|_| typed.size.trim().is_empty()) {
        typed.set(FitField::Size, write_bare(saw, draft.unit));
    }
    typed
}

/// The prediction, and the bands of the gaps where there is one.
fn predict(typed: &FitTyped, draft: &Draft) -> (Predicted, Option<Vec<(Angle, u8)>>) {
    let refused = |problems: Vec<FitProblem>| {
        let waits = problems.first().map(|problem| {
            let field = problem.field.label(draft);
            format!("No prediction yet. {field}: {}", problem.sentence)
        });
        let said = Predicted {
            problems,
            verdict: waits.unwrap_or_default(),
            ..Predicted::default()
        };
        (said, None)
    };
    let (asked, problems) = match read_fit_in_part(typed, draft) {
        (Some(asked), problems) => (asked, problems),
        (None, problems) => return refused(problems),
    };
    match fit_report(draft, &asked) {
        Ok(report) => {
            let bands = report.fit.bands(&asked.limits).into_iter();
            let bands = bands
                .filter_map(|(turn, gap)| Some((turn, gap?.1)))
                .collect();
            let said = Predicted {
                problems,
                drawing: picture(
                    &fit_strip(&draft.template, &report.fit, &asked.limits, draft.unit),
                    "The gap over the turn, under the cope unrolled",
                ),
                verdict: report.verdict,
                gaps: report.gaps,
                costs: report.costs,
                access: report.access,
            };
            (said, Some(bands))
        }
        Err(problem) => refused(vec![problem]),
    }
}

fn rows(facts: &[FitFact]) -> Vec<Vec<String>> {
    let row = |fact: &FitFact| vec![fact.name.clone(), fact.value.clone(), fact.remark.clone()];
    facts.iter().map(row).collect()
}

fn list(rows: impl Fn() -> Vec<Vec<String>> + 'static) -> El {
    html(r#"<dl class="remarked"></dl>"#).rows_of(
        r#"<div><dt></dt><dd></dd><dd class="remark"></dd></div>"#,
        fill_cells,
        rows,
    )
}

/// A field of the question.
fn number(field: FitField, typed: Memo<FitTyped>, predicted: RwSignal<Predicted>) -> El {
    let bench = bench();
    let id = format!("fit-{}", field as u8);
    let problem = move || {
        predicted.with(|predicted| {
            let own = predicted
                .problems
                .iter()
                .find(|problem| problem.field == field);
            own.map_or_else(String::new, |problem| problem.sentence.clone())
        })
    };
    let name = move || {
        bench.draft.with(|draft| {
            draft
                .as_ref()
                .map_or_else(String::new, |draft| field.label(draft))
        })
    };
    let value = Memo::new(move |_| typed.with(|typed| typed.text(field).to_owned()));
    let input =
        html(r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false">"#)
            .attr("id", &id)
            .truth_of("aria-invalid", move || !problem().is_empty())
            .value_of(move || value.get())
            .on_text("input", move |text| {
                change_at_hand(bench, Some(20_000 + field as u32), |own| {
                    own.fit.set(field, text)
                });
            })
            .on("blur", move |_| bench.pause());
    let remark = move || {
        let main = typed.with(|typed| typed.main);
        bench.draft.with(|draft| {
            let said = draft.as_ref().and_then(|draft| field.remark(draft, main));
            said.unwrap_or_default().to_owned()
        })
    };
    let remark =
        (field == FitField::Angle).then(|| html(r#"<p class="remark"></p>"#).text_of(remark));
    html(r#"<div class="field"></div>"#)
        .class_of("wrong", move || !problem().is_empty())
        .child(html("<label></label>").attr("for", &id).text_of(name))
        .child(input)
        .children(remark)
        .child(html(r#"<p class="problem" aria-live="polite"></p>"#).text_of(problem))
}
