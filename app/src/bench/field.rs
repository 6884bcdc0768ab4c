//! The control of a field, from the kind its table names.

use crate::bench::choices::{choice, flag, text};
use crate::bench::held::Held;
use crate::bench::lines::{line_choice, line_names, span_ends};
use crate::bench::number::number;
use crate::bench::table::table;
use crate::live::{on, part, whether};
use crate::state::App;
use crate::store::{List, Slot, lines_of};
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::project::{Control, Field};

/// Controls of a record's fields.
pub fn fields(app: App, fields: Vec<Field>, slot_of: impl Fn(&'static str) -> Slot) -> AnyView {
    fields.into_iter().map(|field| row(app, slot_of(field.key), field)).collect_view().into_any()
}

/// A field's control; one that may be left out has a box to tick before it.
fn row(app: App, slot: Slot, field: Field) -> AnyView {
    let held = Held::new(app, slot, field);
    if field.optional { optional(app, held) } else { control(app, held) }
}

/// The control itself.
fn control(app: App, held: Held) -> AnyView {
    match held.field.control {
        Control::Number | Control::Whole => number(app, held),
        Control::Text if lines_of(held.field.key).is_some() => line_choice(app, held),
        Control::Text => text(app, held),
        Control::Flag => flag(app, held),
        Control::Choice(options) => choice(app, held, options),
        Control::Span => span_ends(app, held),
        Control::Names => line_names(app, held),
        Control::Record(inner) => record(app, held, inner),
        Control::Part => rows(app, held),
    }
}

/// A field that may be left out.
fn optional(app: App, held: Held) -> AnyView {
    let given = Memo::new(move |_| held.value.get().is_some());
    let given = whether(move || given.get());
    let label = held.field.spec.label;
    // Left out, spans and counts mean the whole building.
    let (name, ticked_means_given) = match held.field.control {
        Control::Span | Control::Whole => (format!("{label}: all"), false),
        _ => (label.to_owned(), true),
    };
    let turn = move |event: ev::Event| app.switch(&held.slot(), event_target_checked(&event) == ticked_means_given);
    let box_id = format!("{}-given", held.id());
    view! {
        <div class="field optional">
            <div class="tick">
                <input
                    id=box_id.clone()
                    type="checkbox"
                    prop:checked=whether(move || given.get() == ticked_means_given)
                    on:change=on(turn)
                />
                <label for=box_id>{name}</label>
            </div>
            {part(move || if given.get() { control(app, held) } else { held.refusal() })}
        </div>
    }
    .into_any()
}

/// A record with fields of its own.
fn record(app: App, held: Held, inner: &'static [Field]) -> AnyView {
    let slot = held.slot();
    view! {
        <fieldset class="record">
            <legend class="read-only-aloud">{held.field.spec.label}</legend>
            {fields(app, inner.to_vec(), |key| slot.within(key))}
        </fieldset>
    }
    .into_any()
}

/// A list: a table where it has one.
fn rows(app: App, held: Held) -> AnyView {
    let slot = held.slot();
    match List::ALL.into_iter().find(|list| list.path() == slot.path()) {
        Some(list) => view! {
            <section class="table-part">
                <h3>{held.field.spec.label}</h3>
                {table(app, list, held.field.spec.label)}
            </section>
        }
        .into_any(),
        None => ().into_any(),
    }
}
