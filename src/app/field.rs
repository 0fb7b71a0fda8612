//! A labelled input for one typed field, with its sentence beside it when it is wrong.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::job::{Field, MainField, Typed, corner_of_wall};
use crate::stock::{self, Kind};
use crate::units::{Unit, read_length, write_length};

/// One typed field.
#[component]
pub fn TypedField(
    /// Which field.
    field: Field,
    /// A remark under it: what it means, what nothing typed means.
    #[prop(optional)]
    remark: &'static str,
) -> impl IntoView {
    let bench = bench();
    let id = field.key();
    let name = move || bench.typed.with(|typed| typed.name_of(field));
    let problem = Memo::new(move |_| bench.problem(field));
    let wrong = move || problem.with(Option::is_some);
    let kind = suggestions_of(field);
    let described = format!("{id}-problem {id}-remark");
    let value = Memo::new(move |_| {
        bench
            .typed
            .with(|typed| typed.text(field).unwrap_or_default().to_owned())
    });
    let hint = move || bench.typed.with(|typed| hint(field, typed));
    view! {
        <div class="field" class:wrong=wrong>
            <label for=id>{name}</label>
            <input
                id=id
                name=id
                type="text"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                enterkeyhint="done"
                inputmode=move || keyboard(field, bench.typed.with(|typed| typed.unit))
                list=kind.map(|_| format!("{id}-list"))
                aria-describedby=described
                aria-invalid=move || wrong().to_string()
                placeholder=hint
                prop:value=value
                on:input:target=move |event| bench.typed_text(field, event.target().value())
                on:blur=move |_| bench.pause()
            />
            {kind.map(|kind| view! {
                <datalist id=format!("{id}-list")>
                    {move || {
                        bench
                            .typed
                            .with(|typed| suggestions(kind, typed))
                            .into_iter()
                            .map(|suggestion| view! {
                                <option value=suggestion.text>{suggestion.note}</option>
                            })
                            .collect_view()
                    }}
                </datalist>
            })}
            <p class="problem" id=format!("{id}-problem") aria-live="polite">
                {move || problem.get()}
            </p>
            <p class="remark" id=format!("{id}-remark")>{remark}</p>
        </div>
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
