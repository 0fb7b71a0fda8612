//! A labelled input for one typed field, with its sentence beside it when it is wrong.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::job::{Field, Typed};
use crate::stock::{self, Kind};
use crate::units::{Unit, read_length};

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
    let problem = Memo::new(move |_| bench.problem(field));
    let wrong = move || problem.with(Option::is_some);
    let kind = suggestions_of(field);
    let described = format!("{id}-problem {id}-remark");
    let value = Memo::new(move |_| {
        bench
            .typed
            .with(|typed| typed.text(field).unwrap_or_default().to_owned())
    });
    view! {
        <div class="field" class:wrong=wrong>
            <label for=id>{field.name()}</label>
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
        Field::Main => Some(Kind::MainDiameter),
        Field::Wall => Some(Kind::Wall),
        _ => None,
    }
}

/// A phone's number pad has no slash for fractions and often no minus.
const fn keyboard(field: Field, unit: Unit) -> &'static str {
    match (field, unit) {
        (Field::Label | Field::Offset | Field::Turn, _) | (_, Unit::Inch | Unit::Fraction(_)) => {
            "text"
        }
        (_, Unit::Millimetre) => "decimal",
    }
}
