//! What is at hand, as typed: saws, the machine, the material, stock.

use leptos::prelude::*;

use crate::app::bench::{Bench, bench};
use crate::app::dom::{El, html, options};
use crate::app::workshop::kit::OwnKit;
use crate::app::workshop::list::change;
use crate::job::saw::{SawField, ToolField, ToolProblem, offered_saws, read_clearance, read_tools};
use crate::job::{AtHand, SawTyped};
use crate::stock::{MATERIALS, Material};

/// What the job has at hand.
pub fn at_hand() -> Memo<AtHand> {
    let bench = bench();
    Memo::new(move |_| {
        bench
            .list()
            .map(|list| list.job.at_hand().clone())
            .unwrap_or_default()
    })
}

/// What the tube of the job is made of, for masses.
#[derive(Clone, Copy)]
pub struct OfWhat(Memo<&'static Material>);

impl OfWhat {
    /// That of the job on the bench.
    pub fn of(bench: Bench) -> Self {
        let own = at_hand();
        Self(Memo::new(move |_| {
            let unit = bench.typed.with(|typed| typed.unit);
            own.with(|own| read_tools(own, unit).0.material)
        }))
    }

    /// That of the page; steel where there is none.
    pub fn here() -> impl Fn() -> &'static Material + Copy {
        let own = use_context::<Self>();
        move || own.map_or(&MATERIALS[0], |own| own.0.get())
    }
}

/// Changes what is at hand; changes with the same `step` in a row are one step back.
pub fn change_at_hand(bench: Bench, step: Option<u32>, by: impl FnOnce(&mut AtHand)) {
    change(bench, step, |job, at| {
        let mut own = job.at_hand().clone();
        by(&mut own);
        (job.with_at_hand(own), at)
    });
}

/// The list of saws, the machine's limits and the material.
pub fn tools() -> El {
    let bench = bench();
    let own = at_hand();
    let problems = Memo::new(move |_| {
        let unit = bench.typed.with(|typed| typed.unit);
        own.with(|own| {
            let mut problems = read_tools(own, unit).1;
            problems.extend(read_clearance(&own.clearance, unit).err());
            problems
        })
    });
    let saws = move || (0..own.with(|own| own.saws.len())).collect::<Vec<usize>>();
    let add = html(r#"<button type="button">Add a saw</button>"#)
        .on_click(move || change_at_hand(bench, None, |own| own.saws.push(SawTyped::default())));
    let unit = Memo::new(move |_| bench.typed.with(|typed| typed.unit));
    let sizes = move || {
        let sizes = offered_saws(unit.get()).into_iter();
        sizes
            .map(|saw| html("<option></option>").attr("value", &saw.diameter))
            .collect()
    };
    let machine = html(r#"<div class="numbers"></div>"#).children([
        number(
            Text {
                id: String::from("angle-max"),
                name: "Largest angle off square",
                remark: "What the machine can be set to. Empty: no limit.",
                field: Some(ToolField::AngleMax),
                step: 10_001,
            },
            own,
            problems,
            |own| &mut own.machine.angle_max,
        ),
        number(
            Text {
                id: String::from("clamp"),
                name: "Clamp needs",
                remark: "Straight tube for the machine to hold.",
                field: Some(ToolField::Clamp),
                step: 10_002,
            },
            own,
            problems,
            |own| &mut own.machine.clamp,
        ),
        number(
            Text {
                id: String::from("behind"),
                name: "Room behind the clamp",
                remark: "For the rest of the tube. Empty: no limit.",
                field: Some(ToolField::Behind),
                step: 10_003,
            },
            own,
            problems,
            |own| &mut own.machine.behind,
        ),
        number(
            Text {
                id: String::from("clearance"),
                name: "Pre-cut stays clear by",
                remark: "Along the tube. Empty: 3 mm, .118 in.",
                field: Some(ToolField::Clearance),
                step: 10_004,
            },
            own,
            problems,
            |own| &mut own.clearance,
        ),
    ]);
    let material = html(r#"<select id="material"></select>"#)
        .children(options(
            MATERIALS
                .iter()
                .map(|material| (material.name, material.name)),
        ))
        .value_of(move || {
            own.with(|own| {
                let typed = own.material.trim();
                let known = MATERIALS.iter().find(|one| one.name == typed);
                known.map_or(MATERIALS[0].name, |one| one.name).to_owned()
            })
        })
        .on_text("change", move |name| {
            change_at_hand(bench, None, |own| own.material = name);
        });
    let machine = machine.child(
        html(r#"<div class="field"><label for="material">Tube is of</label></div>"#)
            .child(material),
    );
    let saws_panel = html(
        r#"<details class="after" id="saws"><summary>Saws and machine at hand</summary></details>"#,
    );
    let saws_panel = match use_context::<OwnKit>() {
        Some(kit) => saws_panel.child(kit.whose(bench)),
        None => saws_panel,
    };
    saws_panel
        .child(html(r#"<datalist id="saw-sizes"></datalist>"#).children_of(sizes))
        .child(html("<div></div>").keyed_of(saws, move |at| saw(at, own, problems)))
        .child(html(r#"<div class="row"></div>"#).child(add))
        .child(machine)
}

/// Opens the list of saws and goes to it.
pub fn show() {
    if let Some(saws) = document().get_element_by_id("saws") {
        // Refused only for a name that is none.
        let _ = saws.set_attribute("open", "");
        saws.scroll_into_view();
    }
}

/// A text about what is at hand.
pub struct Text {
    pub id: String,
    pub name: &'static str,
    pub remark: &'static str,
    /// What its problems are told of; none where they are told together.
    pub field: Option<ToolField>,
    /// Tells its changes from those of other texts.
    pub step: u32,
}

fn saw(at: usize, own: Memo<AtHand>, problems: Memo<Vec<ToolProblem>>) -> El {
    const NAMES: [(&str, &str); 6] = [
        ("Name", "As you call it; may be empty."),
        ("Diameter over the teeth", "Measured."),
        ("Depth", "From the teeth to the inside of its back."),
        ("Arbor", "Diameter of arbor or pilot. Empty: not minded."),
        ("Cuts so far", ""),
        ("Cuts it lasts", "Empty: not known."),
    ];
    type Get = fn(&mut SawTyped) -> &mut String;
    const TEXTS: [Get; 6] = [
        |saw| &mut saw.name,
        |saw| &mut saw.diameter,
        |saw| &mut saw.depth,
        |saw| &mut saw.arbor,
        |saw| &mut saw.cuts,
        |saw| &mut saw.life,
    ];
    const FIELDS: [SawField; 6] = [
        SawField::Diameter,
        SawField::Diameter,
        SawField::Depth,
        SawField::Arbor,
        SawField::Cuts,
        SawField::Life,
    ];
    let bench = bench();
    let mut fields = html(r#"<div class="numbers"></div>"#);
    for (index, (name, remark)) in NAMES.into_iter().enumerate() {
        let text = Text {
            id: format!("saw-{at}-{index}"),
            name,
            remark,
            // Any name will do: nothing is ever wrong with it.
            field: (index > 0).then_some(ToolField::Saw(at, FIELDS[index])),
            #[allow(clippy::cast_possible_truncation, reason = "few saws")]
            step: 100 + (at * 6 + index) as u32,
        };
        let get = TEXTS[index];
        let field = number(text, own, problems, move |own| {
            // The row goes with its saw; a text of one that has gone has nowhere to go.
            if own.saws.len() <= at {
                own.saws.resize(at + 1, SawTyped::default());
            }
            get(&mut own.saws[at])
        });
        fields = fields.child(field);
    }
    let away = html(r#"<button type="button"></button>"#)
        .text(&format!("Take saw {} away", at + 1))
        .on_click(move || {
            change_at_hand(bench, None, |own| {
                if at < own.saws.len() {
                    own.saws.remove(at);
                }
            });
        });
    html(r#"<div class="saw"></div>"#)
        .child(html("<h3></h3>").text(&format!("Saw {}", at + 1)))
        .child(fields)
        .child(away)
}

/// A field with its sentence when it is wrong.
pub fn number(
    text: Text,
    own: Memo<AtHand>,
    problems: Memo<Vec<ToolProblem>>,
    part: impl Fn(&mut AtHand) -> &mut String + Copy + Send + Sync + 'static,
) -> El {
    let Text {
        id,
        name,
        remark,
        field,
        step,
    } = text;
    let problem = move || {
        problems.with(|problems| {
            let own = problems.iter().find(|problem| Some(problem.field) == field);
            own.map_or_else(String::new, |problem| problem.sentence.clone())
        })
    };
    let bench = bench();
    let value = Memo::new(move |_| part(&mut own.get()).clone());
    let mut input =
        html(r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false">"#)
            .attr("id", &id)
            .truth_of("aria-invalid", move || !problem().is_empty())
            .value_of(move || value.get())
            .on_text("input", move |text| {
                change_at_hand(bench, Some(step), |own| *part(own) = text);
            })
            .on("blur", move |_| bench.pause());
    if matches!(field, Some(ToolField::Saw(_, SawField::Diameter))) {
        input = input.attr("list", "saw-sizes");
    }
    html(r#"<div class="field"></div>"#)
        .class_of("wrong", move || !problem().is_empty())
        .child(html("<label></label>").attr("for", &id).text(name))
        .child(input)
        .child(html(r#"<p class="problem" aria-live="polite"></p>"#).text_of(problem))
        .child(html(r#"<p class="remark"></p>"#).text(remark))
}
