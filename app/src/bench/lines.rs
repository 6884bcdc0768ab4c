//! Grid lines by name, and spans of bays and storeys: what they offer is what the building has.

use crate::bench::held::Held;
use crate::live::{on, part, whether};
use crate::state::App;
use crate::store::{Lines, Slot, lines_of};
use leptos::ev;
use leptos::prelude::*;
use serde_json::{Value, json};
use sisterframe_core::project::{Direction, FieldError, Project};

/// The names a field offers in this building.
fn offered(app: App, held: Held) -> Memo<Vec<String>> {
    let lines = lines_of(held.field.key).unwrap_or(Lines::All);
    Memo::new(move |_| app.project.with(|project| lines.names(project)))
}

/// One grid line.
pub fn line_choice(app: App, held: Held) -> AnyView {
    let names = offered(app, held);
    let choose = move |event: ev::Event| {
        let name = event_target_value(&event);
        app.enter(&held.slot(), &name, Ok(json!(name)));
    };
    let options = move || {
        let chosen = held.text.get();
        let item = |name: String| option(name.clone(), name == chosen);
        names.get().into_iter().map(item).collect_view().into_any()
    };
    view! {
        <div class="field">
            <div class="field-line">
                <label for=held.id()>{held.field.spec.label}</label>
                <select
                    id=held.id()
                    aria-invalid=held.invalid()
                    aria-describedby=held.described_by()
                    on:change=on(choose)
                >
                    {part(options)}
                </select>
            </div>
            {held.refusal()}
        </div>
    }
    .into_any()
}

/// An item of a list of choices.
fn option(name: String, selected: bool) -> AnyView {
    let value = name.clone();
    view! { <option value=value selected=selected>{name}</option> }.into_any()
}

/// Some grid lines by name, or all.
pub fn line_names(app: App, held: Held) -> AnyView {
    let names = offered(app, held);
    let ticked = Memo::new(move |_| -> Vec<String> {
        if held.draft.get().is_some() {
            return Vec::new();
        }
        let list = held.value.get().and_then(|value| value.as_array().cloned()).unwrap_or_default();
        list.iter().filter_map(|name| name.as_str().map(str::to_owned)).collect()
    });
    // An empty list stands for all lines.
    let all = Memo::new(move |_| held.draft.get().is_none() && ticked.with(Vec::is_empty));
    let turn_all = move |all: bool| {
        let list = if all { Vec::new() } else { names.get_untracked() };
        app.enter(&held.slot(), "", Ok(json!(list)));
    };
    let turn = move |name: &str, on: bool| {
        let chosen = ticked.get_untracked();
        let keep = |own: &String| if own == name { on } else { chosen.contains(own) };
        let list: Vec<String> = names.get_untracked().into_iter().filter(keep).collect();
        let value = if list.is_empty() {
            Err(FieldError {
                path: held.slot().path(),
                value: String::new(),
                problem: "no line is ticked".into(),
                permitted: "at least one line, or all".into(),
            })
        } else {
            Ok(json!(list))
        };
        app.enter(&held.slot(), "", value);
    };
    let boxes = move || {
        if all.get() {
            return ().into_any();
        }
        let one = |(place, name): (usize, String)| {
            let own = name.clone();
            let is_ticked = whether(move || ticked.with(|ticked| ticked.contains(&own)));
            let own = name.clone();
            tick(format!("{}-{place}", held.id()), name, is_ticked, move |on| turn(&own, on))
        };
        names.get().into_iter().enumerate().map(one).collect_view().into_any()
    };
    view! {
        <fieldset class="field lines" aria-describedby=held.described_by()>
            <legend>{held.field.spec.label}</legend>
            {tick(format!("{}-all", held.id()), "all".to_owned(), whether(move || all.get()), turn_all)}
            {part(boxes)}
            {held.refusal()}
        </fieldset>
    }
    .into_any()
}

/// A box to tick with its name.
pub fn tick(id: String, name: String, is_ticked: Signal<bool>, turn: impl Fn(bool) + 'static) -> AnyView {
    view! {
        <span class="line-tick">
            <input
                id=id.clone()
                type="checkbox"
                prop:checked=is_ticked
                on:change=on(move |event: ev::Event| turn(event_target_checked(&event)))
            />
            <label for=id>{name}</label>
        </span>
    }
    .into_any()
}

/// The most a span may reach to in this building.
fn most(project: &Project, slot: &Slot, value: f64) -> u32 {
    let building = &project.building;
    let count = match slot.keys.as_str() {
        "storeys" => building.storeys.len() as u32,
        "bays" => {
            let name = ["line", "face"].iter().find_map(|key| Slot::new(slot.root, *key).read(project));
            let line = name.as_ref().and_then(Value::as_str).and_then(|name| building.line(name));
            let longest = building.bays(Direction::X).max(building.bays(Direction::Y));
            line.map_or(longest, |(direction, _)| building.bays(direction))
        }
        _ => value as u32,
    };
    count.max(1)
}

/// A first and a last.
pub fn span_ends(app: App, held: Held) -> AnyView {
    let spec = held.field.spec;
    let slot = StoredValue::new(held.slot());
    let most = Memo::new(move |_| app.project.with(|project| slot.with_value(|slot| most(project, slot, spec.max))));
    let ends = Memo::new(move |_| {
        let drafted = held.draft.get().and_then(|draft| serde_json::from_str::<Value>(&draft.text).ok());
        let span = drafted.or_else(|| held.value.get()).unwrap_or(Value::Null);
        let end = |place: usize| span.get(place).and_then(Value::as_u64).unwrap_or(1) as u32;
        [end(0), end(1)]
    });
    // Moving one end past the other takes the other along.
    let move_end = move |place: usize, to: u32| {
        let [first, last] = ends.get_untracked();
        let span = if place == 0 { [to, last.max(to)] } else { [first.min(to), to] };
        app.enter(&held.slot(), &json!(span).to_string(), Ok(json!(span)));
    };
    let end = move |place: usize| {
        let options = move || {
            let own = ends.get()[place];
            let item = |number: u32| option(number.to_string(), number == own);
            (1..=most.get().max(own)).map(item).collect_view().into_any()
        };
        let name = format!("{}, {}", spec.label, if place == 0 { "first" } else { "last" });
        let moved = move |event: ev::Event| {
            if let Ok(to) = event_target_value(&event).parse() {
                move_end(place, to);
            }
        };
        view! {
            <select
                aria-label=name
                aria-invalid=held.invalid()
                aria-describedby=held.described_by()
                on:change=on(moved)
            >
                {part(options)}
            </select>
        }
        .into_any()
    };
    let name = if held.field.optional { "from, to" } else { spec.label };
    view! {
        <div class="field">
            <div class="field-line" role="group" aria-label=spec.label>
                <span class="label">{name}</span>
                <span class="entry">{end(0)}<span aria-hidden="true">"–"</span>{end(1)}</span>
            </div>
            {held.refusal()}
        </div>
    }
    .into_any()
}
