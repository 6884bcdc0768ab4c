//! What the browser keeps between visits: the last good project and earlier ones.
//!
//! A page opened from disk shares this storage with every other such page, so keys carry a
//! prefix; the browser may refuse to store, which is told once and never stops the work.

use crate::state::App;
use crate::store::{Origin, Shelf, State, demos};
use js_sys::{Date, Reflect};
use leptos::prelude::*;
use serde_json::{Value, json};
use sisterframe_core::project::{Day, Project};
use sisterframe_core::units::System;
use sisterframe_core::works::calendar;
use std::sync::{Arc, Mutex};
use std::time::Duration;
use wasm_bindgen::JsValue;

const PROJECT: &str = "sisterframe.project";
const SHELF: &str = "sisterframe.shelf";
/// The tab that last found another with the same project, with its name.
const TABS: &str = "sisterframe.tabs";
const UNITS: &str = "sisterframe.units";
/// Present while verdicts of both rule sets are shown.
const BOTH_SETS: &str = "sisterframe.both-sets";
/// Present while a kept project is being computed for the first time, and after a later evaluation
/// that stopped the page (set by the script around the module): the next visit then leaves the
/// project alone.
const OPENING: &str = "sisterframe.opening";
/// How long after the last change the project is kept.
const PAUSE: Duration = Duration::from_millis(400);

/// What was found from an earlier visit.
pub struct Found {
    /// The project to start with.
    pub state: State,
    /// Earlier projects.
    pub shelf: Shelf,
    /// What has to be told about it.
    pub words: Option<String>,
}

fn storage() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

fn read(key: &str) -> Option<String> {
    storage()?.get_item(key).ok().flatten()
}

fn first_demo() -> Option<State> {
    let demo = demos().first()?;
    Some(State { project: demo.project.clone(), origin: Origin::Demo(demo.key.to_owned()) })
}

/// What the browser kept, or the first demo.
pub fn found() -> Option<Found> {
    let mut shelf = read(SHELF).map(|text| Shelf::from_text(&text)).unwrap_or_default();
    let text = read(PROJECT);
    with_tab(|tab| tab.known.clone_from(&text));
    let kept = text.as_deref().and_then(kept_state);
    let stopped = read(OPENING).is_some();
    let unreadable = text.is_some() && kept.is_none();
    let (state, words) = match kept {
        Some(state) if stopped => {
            let words = format!(
                "Computing {} stopped the page when it was last opened. It is listed under Projects and was not opened again.",
                state.project.name
            );
            shelf.put(now_in_words(), state);
            (first_demo()?, Some(words))
        }
        Some(state) => (state, None),
        None => (
            first_demo()?,
            unreadable.then(|| "The project this browser kept cannot be read by this version of the page.".to_owned()),
        ),
    };
    Some(Found { state, shelf, words })
}

fn kept_state(text: &str) -> Option<State> {
    let kept: Value = serde_json::from_str(text).ok()?;
    State::from_text(kept.get("state")?.as_str()?)
}

fn kept_tab(text: &str) -> Option<String> {
    let kept: Value = serde_json::from_str(text).ok()?;
    Some(kept.get("tab")?.as_str()?.to_owned())
}

/// The units last chosen in this browser.
pub fn units() -> Option<System> {
    match read(UNITS)?.as_str() {
        "us" => Some(System::Us),
        "si" => Some(System::Si),
        _ => None,
    }
}

/// Keeps the units chosen; a browser that refuses asks for nothing to be saved.
pub fn put_units(system: System) {
    if let Some(storage) = storage() {
        let _ = storage.set_item(UNITS, if system == System::Us { "us" } else { "si" });
    }
}

/// Whether verdicts of both rule sets were last shown in this browser.
pub fn both_sets() -> bool {
    read(BOTH_SETS).is_some()
}

/// Keeps whether they are.
pub fn put_both_sets(both: bool) {
    if let Some(storage) = storage() {
        let _ = if both { storage.set_item(BOTH_SETS, "1") } else { storage.remove_item(BOTH_SETS) };
    }
}

/// Runs the first evaluation under a mark that is left behind if it never ends.
pub fn guarded<T>(first: impl FnOnce() -> T) -> T {
    if let Some(storage) = storage() {
        let _ = storage.set_item(OPENING, "1");
    }
    let result = first();
    if let Some(storage) = storage() {
        let _ = storage.remove_item(OPENING);
    }
    result
}

/// Runs a later evaluation. Closing the tab in the middle of it is nothing unusual, so no mark is set
/// beforehand; the script around the module sets it should the module stop meanwhile.
pub fn watched<T>(later: impl FnOnce() -> T) -> T {
    let tell = |computing: bool| {
        if let Ok(tool) = Reflect::get(&window(), &JsValue::from_str("sisterframe")) {
            let _ = Reflect::set(&tool, &JsValue::from_str("computing"), &JsValue::from_bool(computing));
        }
    };
    tell(true);
    let result = later();
    tell(false);
    result
}

/// What this tab wrote and what it knows of other tabs that write to the same place.
#[derive(Default)]
struct Tab {
    name: String,
    /// The text of the project last read or written here.
    known: Option<String>,
    /// Tabs that wrote between, each with its project last put on the shelf.
    others: Vec<(String, Arc<Project>)>,
    kept: Option<(Arc<Project>, Origin)>,
    /// Projects of which was told that another tab has them open.
    warned: Vec<String>,
    refused: bool,
    pending: bool,
}

static TAB: Mutex<Option<Tab>> = Mutex::new(None);

fn with_tab<T>(act: impl FnOnce(&mut Tab) -> T) -> Option<T> {
    let mut tab = TAB.lock().ok()?;
    let fresh = || Tab { name: format!("{:.0}-{:.0}", Date::now(), js_sys::Math::random() * 1e9), ..Tab::default() };
    Some(act(tab.get_or_insert_with(fresh)))
}

/// Keeps the last good project once edits pause.
pub fn soon(app: App) {
    if with_tab(|tab| std::mem::replace(&mut tab.pending, true)) == Some(false) {
        set_timeout(move || project(app), PAUSE);
    }
}

/// Keeps the last good project now: the one whose evaluation came to its end.
pub fn project(app: App) {
    let state = State {
        project: app.renewal.evaluated().get_untracked(),
        origin: app.document.with_untracked(|document| document.state().origin.clone()),
    };
    let unchanged = with_tab(|tab| {
        tab.pending = false;
        tab.kept
            .as_ref()
            .is_some_and(|(project, origin)| Arc::ptr_eq(project, &state.project) && *origin == state.origin)
    });
    if unchanged != Some(false) {
        return;
    }
    hand_to_rescue(&state.project);
    make_way(app);
    let text = with_tab(|tab| {
        let text = json!({"tab": tab.name, "state": state.to_text()}).to_string();
        tab.kept = Some((state.project.clone(), state.origin.clone()));
        tab.known = Some(text.clone());
        text
    });
    write(app, PROJECT, &text.unwrap_or_default());
}

/// Puts what another tab kept on the shelf before this one's takes its place; of each tab
/// the latest only.
fn make_way(app: App) {
    let Some(text) = read(PROJECT) else { return };
    if with_tab(|tab| tab.known.as_ref() == Some(&text)) != Some(false) {
        return;
    }
    let (Some(other), Some(state)) = (kept_tab(&text), kept_state(&text)) else { return };
    if !state.is_own_work() {
        return;
    }
    let earlier = with_tab(|tab| {
        let place = tab.others.iter().position(|(name, _)| *name == other);
        let earlier = place.map(|place| tab.others.remove(place).1);
        tab.others.push((other, state.project.clone()));
        earlier
    });
    app.shelf.update(|shelf| {
        shelf.kept.retain(|kept| Some(&kept.state.project) != earlier.iter().flatten().next());
        shelf.put(now_in_words(), state);
    });
    put_shelf(app);
}

/// Hears of other tabs that keep a project in the same place.
pub fn listen(app: App) {
    let heard = window_event_listener_untyped("storage", move |_| hear(app));
    on_cleanup(move || heard.remove());
}

/// Warns once of a project that another tab has open, and lets it know of this one.
fn hear(app: App) {
    let Some(own) = with_tab(|tab| tab.name.clone()) else { return };
    let name = app.project.with_untracked(|project| project.name.clone());
    let project = read(PROJECT).and_then(|text| Some((kept_tab(&text)?, kept_state(&text)?.project.name.clone())));
    let found = read(TABS).and_then(|text| {
        let (tab, name) = text.split_once('\n')?;
        Some((tab.to_owned(), name.to_owned()))
    });
    for (tab, other) in [project, found].into_iter().flatten() {
        if tab == own || other != name || with_tab(|tab| tab.warned.contains(&other)) != Some(false) {
            continue;
        }
        with_tab(|tab| tab.warned.push(name.clone()));
        if let Some(storage) = storage() {
            let _ = storage.set_item(TABS, &format!("{own}\n{name}"));
        }
        app.warn(format!(
            "{name} is open in another tab too. The two are not joined: the tab changed last is found at the next \
             visit, and the other's project is listed under Projects. Save to files to be sure of both."
        ));
    }
}

/// Keeps the earlier projects now.
pub fn put_shelf(app: App) {
    let text = app.shelf.with_untracked(Shelf::to_text);
    write(app, SHELF, &text);
}

fn write(app: App, key: &str, text: &str) {
    let written = storage().is_some_and(|storage| storage.set_item(key, text).is_ok());
    let newly_refused = with_tab(|tab| !written && !std::mem::replace(&mut tab.refused, !written)) == Some(true);
    if newly_refused {
        app.warn("This browser refuses to keep the project between visits: its storage is full or switched off. Save the project to a file before closing the page.");
    }
}

/// Leaves the project's file text where the page's start script finds it if a calculation
/// ever stops: the module is not to be asked for anything then.
fn hand_to_rescue(project: &Project) {
    if let Ok(tool) = Reflect::get(&window(), &JsValue::from_str("sisterframe")) {
        let file = |key: &str, text: &str| Reflect::set(&tool, &JsValue::from_str(key), &JsValue::from_str(text));
        let _ = file("lastGood", &project.to_json());
        let _ = file("lastGoodName", &crate::store::file_name(project));
    }
}

/// The day by the browser's clock, as in 2031-05-07.
pub fn today() -> String {
    let now = Date::new_0();
    format!("{}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// The next first of January by the browser's clock.
pub fn next_new_year() -> Day {
    let year = Date::new_0().get_full_year() + 1;
    // A clock beyond the calendar gives its first year.
    Day::parse(&format!("{year}-01-01")).or(Day::parse("2001-01-01")).unwrap_or(Day(calendar::Date::MIN))
}

/// Day and time by the browser's clock.
pub fn now_in_words() -> String {
    let now = Date::new_0();
    format!("{} {:02}:{:02}", today(), now.get_hours(), now.get_minutes())
}
