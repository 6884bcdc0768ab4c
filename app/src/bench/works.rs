//! What the works are reckoned with: working times, rooms of the project's own, rates of every
//! activity, and assumptions.

use crate::bench::field::fields;
use crate::bench::held::Held;
use crate::bench::number::number;
use crate::bench::table::table;
use crate::files::keep;
use crate::live::{on, part, part_while, whether, words};
use crate::state::App;
use crate::store::{Command, List, Root, Slot, shown};
use leptos::ev;
use leptos::prelude::*;
use serde_json::{Value, json};
use sisterframe_core::project::{Control, Field, OwnWorks, Record, Wire, WorkingTimes};
use sisterframe_core::study::Band;
use sisterframe_core::units::Dimension;
use sisterframe_core::works::Basis;
use sisterframe_core::works::calendar::in_words;
use sisterframe_core::works::presets::{PRESETS, Preset};
use sisterframe_core::works::programme::{GIVING_BACK, WorkingHours};
use sisterframe_core::works::rates::{Mark, WAITS};

/// Working times, rooms, rates, assumptions, and the way back to the table.
pub fn works(app: App) -> AnyView {
    view! {
        {times(app)}
        {rooms(app)}
        {reckoned_with(app)}
    }
    .into_any()
}

/// When works may be done: assumed from the use until the user sets it, from a preset on.
fn times(app: App) -> AnyView {
    let set = Memo::new(move |_| app.project.with(|project| project.working_times.is_some()));
    let told = words(move || {
        if set.get() {
            return "The programme goes by these dates.".to_owned();
        }
        let use_of = app.project.with(|project| project.building.occupancy);
        format!(
            "Assumed from the use: {}, from {} on. Set them to have your own dates.",
            Preset::usual(use_of).label,
            in_words(keep::next_new_year().0)
        )
    });
    let chosen = RwSignal::new(None::<&'static str>);
    let key = Memo::new(move |_| {
        let usual = || app.project.with(|project| Preset::usual(project.building.occupancy).key);
        chosen.get().unwrap_or_else(usual)
    });
    let slot = || Slot::new(Root::Project, "working_times");
    let start = move |_| {
        let Some(preset) = Preset::of(key.get_untracked()) else { return };
        let first = app.project.with_untracked(|project| project.working_times.as_ref().map(|own| own.start));
        let value = preset.times(first.unwrap_or_else(keep::next_new_year)).write().unwrap_or(Value::Null);
        if app.apply(&Command::Set { slot: slot(), value }).is_some() {
            app.tell("Done: working times are set. Undo brings back what was there.");
        }
    };
    let back = move |_| {
        if app.apply(&Command::Set { slot: slot(), value: Value::Null }).is_some() {
            app.tell("Done: working times are assumed from the use again. Undo brings yours back.");
        }
    };
    let choose = move |event: ev::Event| {
        let wanted = event_target_value(&event);
        chosen.set(PRESETS.iter().find(|preset| preset.key == wanted).map(|preset| preset.key));
    };
    let item = |preset: &'static Preset| {
        let selected = whether(move || key.get() == preset.key);
        view! { <option value=preset.key prop:selected=selected>{preset.label}</option> }.into_any()
    };
    let own = move || {
        let of = |key: &'static str| Slot::new(Root::Project, format!("working_times.{key}"));
        fields(app, WorkingTimes::FIELDS.to_vec(), of)
    };
    view! {
        <section class="table-part" aria-label="Working times">
            <h3>"Working times"</h3>
            <p class="bench-lead">{told}</p>
            <div class="field text">
                <label for="times-preset">"Start from"</label>
                <select id="times-preset" on:change=on(choose)>{PRESETS.iter().map(item).collect_view()}</select>
            </div>
            <div class="tool-row">
                <button type="button" on:click=on(start)>"Set these working times"</button>
                <button type="button" disabled=whether(move || !set.get()) on:click=on(back)>"Assume them again"</button>
            </div>
            {part_while(whether(move || set.get()), own)}
        </section>
    }
    .into_any()
}

/// Rooms that are not those of the grid.
fn rooms(app: App) -> AnyView {
    let told = words(move || match app.project.with(|project| project.building.rooms.own.len()) {
        0 => "All rooms are those of the grid.".to_owned(),
        1 => "One room is your own; the others are those of the grid.".to_owned(),
        count => format!("{count} rooms are your own; the others are those of the grid."),
    });
    let none = whether(move || app.project.with(|project| project.building.rooms.own.is_empty()));
    let back = move |_| {
        let slot = Slot::new(Root::Building, "rooms.own");
        if app.apply(&Command::Set { slot, value: Value::Null }).is_some() {
            app.tell("Done: all rooms are those of the grid again. Undo brings yours back.");
        }
    };
    view! {
        <section class="table-part" aria-label="Rooms">
            <h3>"Rooms"</h3>
            <p class="bench-lead">
                "Whole rooms are shut. A room of your own is a rectangle of bays in one storey with a name, a kind, the zone it is shut with and its days and hours of use, such as 8-15:30; without hours it has those usual for its kind. Loud work counts in hours of use. Corridors and stairs stay open. Rooms can be chosen, named and merged on the plan of the Works sheet too. "
                {told}
            </p>
            <div class="tool-row">
                <button type="button" disabled=none on:click=on(back)>"All back to the grid"</button>
            </div>
            {table(app, List::Rooms, "Rooms")}
        </section>
    }
    .into_any()
}

/// Rates and assumptions.
fn reckoned_with(app: App) -> AnyView {
    let own = Memo::new(move |_| app.project.with(|project| Basis::of(project).own_figures()));
    let told = words(move || match own.get() {
        0 => "All figures are those of the table.".to_owned(),
        1 => "One figure is your own.".to_owned(),
        count => format!("{count} figures are your own."),
    });
    let back = move |_| {
        let slot = Slot::new(Root::Project, "works");
        if app.apply(&Command::Set { slot, value: Value::Null }).is_some() {
            app.tell("Done: all rates and assumptions are the table's again. Undo brings yours back.");
        }
    };
    let assumptions = OwnWorks::FIELDS.iter().filter(|field| field.control != Control::Part);
    view! {
        <section class="table-part" aria-label="What the works are reckoned with">
            <p class="bench-lead">
                "Man-days and closed rooms follow from these figures. They are for feasibility only and differ from place to place: put your own in where you know better. "
                {told}
            </p>
            <div class="tool-row">
                <button type="button" disabled=whether(move || own.get() == 0) on:click=on(back)>
                    "All back to the table"
                </button>
            </div>
            <h3>"Rates"</h3>
            <p class="bench-lead">
                "Units a crew does in a working day of eight hours. Slow suits an occupied, cramped block, fast an empty one with repeated bays. An emptied cell takes the value of the table."
            </p>
            {table(app, List::Rates, "Rates")}
            <h3>"Assumptions"</h3>
            {assumptions.map(|field| assumption(app, *field)).collect_view()}
            <h3>"Waits and hours"</h3>
            <p class="bench-lead">
                "Fixed figures of the programme, for fast, usual and slow work. Waits go by working days, so a weekend makes them longer than concrete asks for; moist curing, props and the delivery of windows hold nothing up here and are yours to plan."
            </p>
            <ul class="bench-lead">{fixed()}</ul>
        </section>
    }
    .into_any()
}

/// Waits, and what hours other than the day do to work inside, each with where it comes from.
fn fixed() -> AnyView {
    let three = |band: Band| format!("{}, {}, {}", band.low, band.mid, band.high);
    let waits = WAITS.iter().map(|own| {
        let note = if own.note.is_empty() { String::new() } else { format!(": {}", own.note) };
        format!("{}: {} days ({}{note})", own.name, three(own.days), own.mark.label())
    });
    let hours = [
        ("evenings and nights", WorkingHours::Evenings.rate_factor()),
        ("behind screens beside patients", WorkingHours::Contained.rate_factor()),
        ("where rooms are given back after each shift, besides", GIVING_BACK),
    ];
    let hours = hours.into_iter().map(|(name, factor)| {
        format!("Rates inside, {name}: {} of those by day ({})", three(factor), Mark::CommonPractice.label())
    });
    waits.chain(hours).map(|text| view! { <li>{text}</li> }).collect_view().into_any()
}

/// An assumption with where it comes from.
fn assumption(app: App, field: Field) -> AnyView {
    let held = Held::new(app, Slot::new(Root::Works, field.key), field);
    let table = Basis::TABLE.assumption(field.key).unwrap_or_default();
    let is_own = Memo::new(move |_| held.value.get().and_then(|value| value.as_f64()) != Some(table));
    let note = move || {
        if !is_own.get() {
            return view! { <p class="field-note">{Mark::CommonPractice.label()}</p> }.into_any();
        }
        let system = app.system.get();
        let value = shown(&json!(table), field.spec.dimension, system);
        let unit = match field.spec.dimension {
            Dimension::Share => "\u{a0}%",
            _ => "",
        };
        let back = move |_| drop(app.apply(&Command::Set { slot: held.slot(), value: Value::Null }));
        view! {
            <p class="field-note">
                {format!("{}; table: {value}{unit} ", Mark::Own.label())}
                <button
                    type="button"
                    class="quiet"
                    aria-label=format!("Back to the table: {}", field.spec.label)
                    on:click=on(back)
                >
                    "Back to the table"
                </button>
            </p>
        }
        .into_any()
    };
    view! { <div class="assumption">{number(app, held)} {part(note)}</div> }.into_any()
}
