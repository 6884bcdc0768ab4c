//! A number: typed, stepped by keys, or dragged where its table offers a slider.

use crate::bench::foresight::foresight;
use crate::bench::held::{Held, label};
use crate::bench::outcome::{outcomes, slider_outcome};
use crate::live::{maybe, on, part, words};
use crate::state::App;
use crate::store::{digits, glanced, shown, stop};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use serde_json::{Value, json};
use sisterframe_core::units::show;

/// Steps of the large step, taken with Shift.
const LARGE: i32 = 5;

/// The field with its slider, if it has one.
pub fn number(app: App, held: Held) -> AnyView {
    let spec = held.field.spec;
    let id = held.id();
    let unit = words(move || spec.dimension.unit(app.system.get()).symbol.to_owned());
    let in_unit = words(move || match unit.get().as_str() {
        "" => String::new(),
        unit => format!("in {unit}"),
    });
    let was = words(move || match (held.was.get(), held.value.get()) {
        (Some(was), Some(now)) if was != now => {
            format!("was {}", glanced(&was, spec.dimension, app.system.get()))
        }
        _ => String::new(),
    });
    view! {
        <div class="field number">
            <div class="field-line">
                <label for=id>{label(spec.label)}<span class="read-only-aloud">{in_unit}</span></label>
                <span class="entry">
                    <span class="was">{was}</span>
                    {entry(app, held)}
                    <span class="unit" aria-hidden="true">{unit}</span>
                </span>
            </div>
            {if spec.slider { slider(app, held) } else { ().into_any() }}
            {held.refusal()}
        </div>
    }
    .into_any()
}

/// The number as text.
fn entry(app: App, held: Held) -> AnyView {
    let input = NodeRef::<html::Input>::new();
    let enter = move |_: ev::Event| {
        if let Some(field) = input.get_untracked()
            && held.is_typed(input)
        {
            app.enter_text(&held.slot(), &held.field, &field.value());
        }
    };
    let key = move |event: ev::KeyboardEvent| {
        if matches!(event.key().as_str(), "ArrowUp" | "ArrowDown") && !held.is_typed(input) {
            event.prevent_default();
            step(app, held, &event);
        } else {
            held.text_key(app, input, &event);
        }
    };
    view! {
        <input
            node_ref=input
            id=held.id()
            type="text"
            inputmode="decimal"
            autocomplete="off"
            aria-invalid=held.invalid()
            aria-describedby=held.described_by()
            prop:value=held.text
            on:change=on(enter)
            on:keydown=on(key)
            on:blur=on(move |_| app.end_visit())
        />
    }
    .into_any()
}

/// The number a key leads to from the one held.
fn stepped(app: App, held: Held, event: &ev::KeyboardEvent) -> Option<f64> {
    let spec = held.field.spec;
    let now = held.value.get_untracked()?.as_f64()?;
    let steps = if event.shift_key() { LARGE } else { 1 };
    let moved = |steps| Some(spec.moved(now, steps, app.system.get_untracked()));
    match event.key().as_str() {
        "ArrowUp" | "ArrowRight" => moved(steps),
        "ArrowDown" | "ArrowLeft" => moved(-steps),
        "Home" => Some(spec.min),
        "End" => Some(spec.max),
        _ => None,
    }
}

/// Takes the number a key leads to; keys on one field make one step until it is left.
fn step(app: App, held: Held, event: &ev::KeyboardEvent) -> bool {
    let Some(next) = stepped(app, held, event) else { return false };
    app.begin_visit(&held.slot());
    give(app, held, next);
    true
}

/// Gives the number nearest to `wanted` that the slider stops at.
fn give(app: App, held: Held, wanted: f64) -> f64 {
    let system = app.system.get_untracked();
    let value = stop(&held.field, wanted, system);
    let text = shown(&json!(value), held.field.spec.dimension, system);
    app.enter(&held.slot(), &text, Ok(json!(value)));
    value
}

/// The slider, with a tick at the value before the drag.
fn slider(app: App, held: Held) -> AnyView {
    let spec = held.field.spec;
    let input = NodeRef::<html::Input>::new();
    let number = |value: Option<Value>| value.and_then(|value| value.as_f64());
    let at = words(move || {
        let factor = spec.dimension.unit(app.system.get()).factor;
        let drafted = held
            .draft
            .get()
            .and_then(|draft| sisterframe_core::units::plain_number(&draft.text))
            .map(|shown| shown / factor);
        digits(drafted.or_else(|| number(held.value.get())).unwrap_or(spec.min))
    });
    let spoken = maybe(move || number(held.value.get()).map(|value| show(value, spec.dimension, app.system.get())));
    let tick = move || match (number(held.was.get()), number(held.value.get())) {
        (Some(was), Some(now)) if was != now => {
            let place = format!("{:.2}%", 100.0 * (was - spec.min) / (spec.max - spec.min));
            view! {
                <span class="was-track" aria-hidden="true"><span class="was-tick" style:left=place></span></span>
            }
            .into_any()
        }
        _ => ().into_any(),
    };
    let dragged = move |_: ev::Event| {
        let Some(input) = input.get_untracked() else { return };
        app.begin_visit(&held.slot());
        let value = give(app, held, input.value_as_number());
        input.set_value(&digits(value));
    };
    let key = move |event: ev::KeyboardEvent| {
        if event.ctrl_key() || event.meta_key() || event.alt_key() {
            return;
        }
        match event.key().as_str() {
            "Escape" if held.was.get_untracked().is_some() => {
                app.cancel_visit();
                event.prevent_default();
            }
            "Enter" => app.end_visit(),
            _ if step(app, held, &event) => event.prevent_default(),
            _ => {}
        }
    };
    let outcomes = outcomes(app, held);
    view! {
        <div class="slider">
            <input
                node_ref=input
                type="range"
                min=digits(spec.min)
                max=digits(spec.max)
                step="any"
                aria-label=spec.label
                aria-valuetext=spoken
                aria-invalid=held.invalid()
                prop:value=at
                on:input=on(dragged)
                on:change=on(move |_| app.end_visit())
                on:keydown=on(key)
                on:blur=on(move |_| app.end_visit())
            />
            {part(tick)}
            {foresight(app, held, outcomes)}
            {slider_outcome(outcomes)}
        </div>
    }
    .into_any()
}
