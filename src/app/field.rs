//! A labelled input for one typed field, with its sentence beside it when it is wrong.

use leptos::prelude::*;
use web_sys::Element;

use crate::app::bench::bench;
use crate::app::dom::{El, html};
use crate::job::{Field, MainField, Typed, corner_of_wall};
use crate::stock::{self, Kind};
use crate::units::{Unit, read_length, write_length};

/// One typed field, with a remark under it: what it means, what nothing typed means.
pub fn typed_field(field: Field, remark: &str) -> El {
    let bench = bench();
    let id = field.key();
    let part = |name: &str| [id, name].concat();
    let (problem_id, remark_id, list_id) = (part("-problem"), part("-remark"), part("-list"));
    let problem = Memo::new(move |_| bench.problem(field).unwrap_or_default());
    let wrong = move || !problem.with(String::is_empty);
    let label = html("<label></label>")
        .attr("for", id)
        .text_of(move || bench.typed.with(|typed| typed.name_of(field)));
    let value = Memo::new(move |_| {
        bench
            .typed
            .with(|typed| typed.text(field).unwrap_or_default().to_owned())
    });
    let mut input = html(
        r#"<input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="done">"#,
    )
    .attr("id", id)
    .attr("name", id)
    .attr("aria-describedby", &[problem_id.as_str(), " ", &remark_id].concat())
    .attr_of("inputmode", move || {
        let unit = bench.typed.with(|typed| typed.unit);
        Some(String::from(keyboard(field, unit)))
    })
    .truth_of("aria-invalid", wrong)
    .attr_of("placeholder", move || bench.typed.with(|typed| hint(field, typed)))
    .value_of(move || value.get())
    .on_text("input", move |text| bench.typed_text(field, text))
    .on("blur", move |_| bench.pause());
    let mut list = None;
    if let Some(kind) = suggestions_of(field) {
        input = input.attr("list", &list_id);
        let rows = move || {
            let suggestions = bench
                .typed
                .with(|typed| suggestions(kind, typed))
                .into_iter();
            suggestions.map(|one| vec![one.text, one.note]).collect()
        };
        list = Some(html("<datalist></datalist>").attr("id", &list_id).rows_of(
            "<option></option>",
            fill_option,
            rows,
        ));
    }
    let problem = html(r#"<p class="problem" aria-live="polite"></p>"#)
        .attr("id", &problem_id)
        .text_of(move || problem.get());
    let remark = html(r#"<p class="remark"></p>"#)
        .attr("id", &remark_id)
        .text(remark);
    html(r#"<div class="field"></div>"#)
        .class_of("wrong", wrong)
        .child(label)
        .child(input)
        .children(list)
        .child(problem)
        .child(remark)
}

/// Fills an option with what it puts in the field and what that stands for.
fn fill_option(option: &Element, texts: &[String]) {
    if let [text, note] = texts {
        // Refused only for a name that is none.
        let _ = option.set_attribute("value", text);
        option.set_text_content(Some(note));
    }
}

/// What is offered while typing; walls are those of the branch as typed.
fn suggestions(kind: Kind, typed: &Typed) -> Vec<stock::Suggestion> {
    let branch = typed.text(Field::Branch).unwrap_or_default();
    match (kind, read_length(branch, typed.unit)) {
        (Kind::Wall, Ok(outside)) => stock::wall_suggestions(outside, typed.unit),
        _ => stock::suggestions(kind, typed.unit),
    }
}

/// The table that suggests values for a field.
const fn suggestions_of(field: Field) -> Option<Kind> {
    match field {
        Field::Branch => Some(Kind::BranchDiameter),
        Field::OfMain(_, MainField::Diameter) => Some(Kind::MainDiameter),
        Field::Wall => Some(Kind::Wall),
        _ => None,
    }
}

/// A phone's number pad has no slash for fractions and often no minus.
const fn keyboard(field: Field, unit: Unit) -> &'static str {
    match (field, unit) {
        (Field::Label | Field::Turn, _) | (_, Unit::Inch | Unit::Fraction(_)) => "text",
        (Field::OfMain(_, field), _) if field.is_signed() => "text",
        (_, Unit::Millimetre) => "decimal",
    }
}

/// What stands in an empty field that takes its value from elsewhere.
fn hint(field: Field, typed: &Typed) -> Option<String> {
    match field {
        Field::OfMain(main, MainField::Corner) => {
            corner_of_wall(typed, main).map(|corner| write_length(corner, typed.unit))
        }
        _ => None,
    }
}
