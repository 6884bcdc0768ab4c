//! Values typical of the building's time, to start from and to replace.

use crate::bench::field::fields;
use crate::live::{on, words};
use crate::sheets::{Block, Html};
use crate::state::App;
use crate::store::{Command, Root, Slot};
use leptos::ev;
use leptos::prelude::*;
use serde_json::Value;
use sisterframe_core::eras::{
    FEATURES, assumed, assumed_in_words, cells, era, eras, is_typical, time_and_place, typical, typical_before_rounding,
};
use sisterframe_core::project::{Building, Feature, Field, Practice, Record};
use sisterframe_core::units::System;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// What to know of plain bars.
const PLAIN: &str = " Plain bars slip; the strengths and deformations here are those of deformed ones, so look into laps and anchorage.";

/// The practice and year of the building, and the year looked at for them.
type Time = (usize, usize);

/// Practice and era, and what was usual then beside what the building has.
pub fn typical_of_its_time(app: App, practice: Vec<Field>) -> AnyView {
    // The building's own year until another era is chosen; another practice or year ends that.
    let chosen = RwSignal::new((0, 0));
    let html = Memo::new(move |_| {
        app.project.with(|project| markup(&project.building, year(&project.building, chosen.get()), app.system.get()))
    });
    let clicked = move |event: ev::MouseEvent| {
        let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        let Some(button) = target.and_then(|target| target.closest("[data-take]").ok().flatten()) else { return };
        let wanted = button.get_attribute("data-take").unwrap_or_default();
        let project = app.project.get_untracked();
        match wanted.parse() {
            Ok(year) => chosen.set((stamp(&project.building), year)),
            Err(_) => act(app, &project.building, year(&project.building, chosen.get_untracked()), &wanted),
        }
    };
    view! {
        {fields(app, practice, |key| Slot::new(Root::Building, key))}
        <div on:click=on(clicked)><Block html=html class="eras"/></div>
    }
    .into_any()
}

/// What an era was chosen for.
fn stamp(building: &Building) -> usize {
    building.year as usize * 10 + building.practice as usize
}

/// The year looked at: the building's own, or that of an era chosen for it.
fn year(building: &Building, (of, year): Time) -> u32 {
    if of == stamp(building) { year as u32 } else { building.year }
}

/// How many values stand assumed, for the heading.
pub fn assumed_count(app: App) -> Signal<String> {
    words(move || match app.project.with(|project| assumed(&project.building, System::Si).len()) {
        0 => String::new(),
        count => format!("{count} assumed"),
    })
}

/// Takes what a button names, or drops the note of what is known now.
fn act(app: App, building: &Building, year: u32, wanted: &str) {
    let feature_of = |key: &str| FEATURES.into_iter().find(|feature| feature.key() == key);
    if let Some(known) = wanted.strip_prefix("known-").and_then(feature_of) {
        let mut value = building.get("assumed").unwrap_or_default();
        if let Value::Array(all) = &mut value {
            all.retain(|own| own["feature"] != known.key());
        }
        if app.apply(&Command::Set { slot: Slot::new(Root::Building, "assumed"), value }).is_some() {
            app.tell(format!("{} counts as known. Undo takes it back.", known.label()));
        }
        return;
    }
    let practice = building.practice;
    let features = feature_of(wanted).map_or_else(|| to_take(building, year), |feature| vec![feature]);
    if let Some(done) =
        app.apply(&Command::TakeTypical { features, practice, year, system: app.system.get_untracked() })
    {
        app.tell(format!("Taken and noted as assumed: {}. Undo brings back what was there.", done.words));
    }
}

/// Features the building has otherwise than was typical.
fn to_take(building: &Building, year: u32) -> Vec<Feature> {
    let mut all = FEATURES.to_vec();
    all.retain(|own| !cells(building, *own).is_empty() && !is_typical(building, *own, building.practice, year));
    all
}

/// The share of the bars of columns and what is typical of it, where they differ.
fn column_bars(building: &Building, year: u32, system: System) -> Option<[String; 2]> {
    let own = Feature::ColumnBars;
    let here = cells(building, own);
    let shown = |pick: fn(f64, f64) -> f64| here.iter().map(|cell| cell.shown).reduce(pick);
    let (low, high) = (shown(f64::min)?, shown(f64::max)?);
    let usual = typical_before_rounding(building, own, building.practice, year, [low, high], system)?;
    Some([own.range_words(low, high, system), usual])
}

/// The features with what was usual then and what can be done about it.
fn markup(building: &Building, year: u32, system: System) -> String {
    let mut html = Html::default();
    let practice: Practice = building.practice;
    let looked_at = era(practice, year);
    let open = to_take(building, year);
    let noted = assumed(building, system);
    html.raw("<div class=\"chooser\" role=\"group\" aria-label=\"Time\">");
    for own in eras(practice) {
        // The building's own year where it lies in the era.
        let year = if era(practice, building.year) == own { building.year } else { own.first };
        let pressed = if own == looked_at { "true" } else { "false" };
        let id = format!("era-{}", own.first);
        let attributes = [("type", "button"), ("id", &id), ("data-take", &year.to_string()), ("aria-pressed", pressed)];
        html.leaf("button", &attributes, &own.name());
    }
    html.close("div");
    let more = if looked_at.bars.starts_with("deformed") { "" } else { PLAIN };
    html.leaf("p", &[("class", "field-note")], &format!("Usual then: {}.{more}", looked_at.bars));
    let when = time_and_place(practice, looked_at);
    if open.is_empty() {
        let rounded = column_bars(building, year, system);
        let rounded = rounded.map_or_else(String::new, |[now, usual]| {
            format!(" Bars of columns give {now} instead of {usual}: they are whole bars of usual sizes.")
        });
        html.leaf("p", &[("id", "era-all"), ("tabindex", "-1")], &format!("All is as typical of {when}.{rounded}"));
    } else {
        let label = format!("Take all {} that differ", open.len());
        html.leaf("button", &[("type", "button"), ("id", "era-all"), ("data-take", "all")], &label);
    }
    html.open("ul", &[("aria-label", &format!("Typical of {when}"))]);
    for feature in FEATURES {
        let here = cells(building, feature);
        let shown = |pick: fn(f64, f64) -> f64| here.iter().map(|cell| cell.shown).reduce(pick);
        let (Some(low), Some(high)) = (shown(f64::min), shown(f64::max)) else { continue };
        let usual = typical(feature, practice, year, building.occupancy).in_units(feature, system);
        let (key, label) = (feature.key(), feature.label());
        let (take, known) = (format!("era-{key}"), format!("known-{key}"));
        let differs = open.contains(&feature);
        html.raw("<li>");
        html.leaf("strong", &[], label);
        html.raw("<span>");
        html.words(&format!("now {}; typical ", feature.range_words(low, high, system)));
        html.leaf("b", &[], &feature.words(usual.value, system));
        if usual.low < usual.high {
            html.words(&format!(", usually {}", feature.range_words(usual.low, usual.high, system)));
        }
        html.raw("</span>");
        let colon = if usual.source.is_empty() { "" } else { ": " };
        html.note(&format!("{}{colon}{}", usual.mark.label(), usual.source));
        html.raw("<span class=\"era-do\">");
        let mut button = |id: &str, class: &str, word: &str, act: &str| {
            let name = format!("{word}: {}", label.to_lowercase());
            let attributes =
                [("type", "button"), ("id", id), ("class", class), ("data-take", act), ("aria-label", &name)];
            html.leaf("button", &attributes, word);
        };
        let standing = noted.iter().any(|own| own.feature == feature);
        if differs {
            button(&take, "", "Take", key);
        }
        if standing {
            button(&known, "quiet", "Known", &known);
        }
        // What was pressed is gone; its place takes the focus.
        match (differs, standing) {
            (true, _) => {}
            (false, true) => html.leaf("span", &[("id", &take), ("tabindex", "-1")], "assumed"),
            (false, false) => {
                let rounded = feature == Feature::ColumnBars && column_bars(building, year, system).is_some();
                let word = if rounded { "in whole bars" } else { "as typical" };
                html.leaf("span", &[("id", &known), ("tabindex", "-1")], word);
            }
        }
        html.raw("</span></li>");
    }
    html.close("ul");
    for sentence in assumed_in_words(building, system) {
        html.leaf("p", &[("class", "field-note")], &sentence);
    }
    html.finish()
}
