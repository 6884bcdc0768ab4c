//! Words, flags and lines of text.

use crate::bench::held::{Held, label};
use crate::live::{on, whether};
use crate::state::App;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use serde_json::{Value, json};

/// From this length on a text gets more than one line.
const LONG_TEXT: f64 = 100.0;

/// One of some words.
pub fn choice(app: App, held: Held, options: &'static [(&'static str, &'static str)]) -> AnyView {
    let choose = move |event: ev::Event| {
        let key = event_target_value(&event);
        app.enter(&held.slot(), &key, Ok(json!(key)));
    };
    let item = |(key, label): &(&'static str, &'static str)| {
        let (key, label) = (*key, *label);
        let selected = whether(move || held.text.get() == key);
        view! { <option value=key prop:selected=selected>{label}</option> }.into_any()
    };
    view! {
        <div class="field">
            <div class="field-line">
                <label for=held.id()>{label(held.field.spec.label)}</label>
                <select
                    id=held.id()
                    aria-invalid=held.invalid()
                    aria-describedby=held.described_by()
                    on:change=on(choose)
                >
                    {options.iter().map(item).collect_view()}
                </select>
            </div>
            {held.refusal()}
        </div>
    }
    .into_any()
}

/// Yes or no.
pub fn flag(app: App, held: Held) -> AnyView {
    let turn = move |event: ev::Event| {
        let on = event_target_checked(&event);
        app.enter(&held.slot(), &on.to_string(), Ok(json!(on)));
    };
    let ticked = whether(move || held.value.get() == Some(Value::Bool(true)));
    view! {
        <div class="field">
            <div class="tick">
                <input
                    id=held.id()
                    type="checkbox"
                    prop:checked=ticked
                    aria-describedby=held.described_by()
                    on:change=on(turn)
                />
                <label for=held.id()>{held.field.spec.label}</label>
            </div>
            {held.refusal()}
        </div>
    }
    .into_any()
}

/// A text.
pub fn text(app: App, held: Held) -> AnyView {
    let field = if held.field.spec.max > LONG_TEXT { long_text(app, held) } else { short_text(app, held) };
    view! {
        <div class="field text">
            <label for=held.id()>{held.field.spec.label}</label>
            {field}
            {held.refusal()}
        </div>
    }
    .into_any()
}

fn short_text(app: App, held: Held) -> AnyView {
    let input = NodeRef::<html::Input>::new();
    view! {
        <input
            node_ref=input
            id=held.id()
            type="text"
            autocomplete="off"
            aria-invalid=held.invalid()
            aria-describedby=held.described_by()
            prop:value=held.text
            on:change=on(move |event: ev::Event| {
                app.enter_text(&held.slot(), &held.field, &event_target_value(&event));
            })
            on:keydown=on(move |event: ev::KeyboardEvent| held.text_key(app, input, &event))
        />
    }
    .into_any()
}

fn long_text(app: App, held: Held) -> AnyView {
    view! {
        <textarea
            id=held.id()
            rows="3"
            aria-invalid=held.invalid()
            aria-describedby=held.described_by()
            prop:value=held.text
            on:change=on(move |event: ev::Event| {
                app.enter_text(&held.slot(), &held.field, &event_target_value(&event));
            })
            on:keydown=on(|event: ev::KeyboardEvent| {
                // Typing has its own undo.
                if event.ctrl_key() || event.meta_key() {
                    event.stop_propagation();
                }
            })
        ></textarea>
    }
    .into_any()
}
