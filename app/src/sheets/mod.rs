//! The sheets, and the parts they share.

mod block;
mod both_sets;
mod building;
mod building_html;
mod capacity;
mod capacity_html;
mod connections;
mod connections_html;
mod html;
mod ledger;
mod lifts;
mod load_path;
mod load_path_html;
mod load_path_state;
mod matrix;
mod matrix_html;
mod options;
mod pointing;
mod questions;
mod screening_html;
mod section;
mod section_html;
mod spot;
mod spot_html;
mod stages;
mod walk;
mod works;
mod works_files;
mod works_html;
mod works_labour;
mod works_rooms;
mod works_rooms_html;
mod works_week;

pub(crate) use block::{Block, act, clicked, write};
pub use building::Building;
pub use capacity::Capacity;
pub use connections::Connections;
pub(crate) use html::{Html, NONE, when};
pub use load_path::LoadPath;
pub use options::Options;
pub(crate) use questions::Questions;
pub use works::Works;

use crate::drawing::HATCHES;
use crate::store::Choice;
use leptos::prelude::*;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::study::OptionKind;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{Element, EventTarget};

/// The building with an option's measures; a rebuild and the comparator have none.
fn model_of(project: &Project, kind: OptionKind) -> Model {
    let scheme = match kind {
        OptionKind::Scheme { index } => project.schemes.get(index),
        OptionKind::AsItStands | OptionKind::Rebuild => None,
    };
    match scheme {
        Some(scheme) => Model::new(&project.building, scheme),
        None => {
            let bare = Scheme { name: "As it stands".to_owned(), note: String::new(), measures: Vec::new() };
            Model::new(&project.building, &bare)
        }
    }
}

/// Whether the page is so narrow that drawings need larger letters.
fn is_narrow() -> RwSignal<bool> {
    holds("(max-width: 36rem)")
}

/// Whether a media query holds.
fn holds(query: &str) -> RwSignal<bool> {
    let narrow = RwSignal::new(false);
    let Ok(Some(query)) = window().match_media(query) else { return narrow };
    narrow.set(query.matches());
    let listened = query.clone();
    let changed = Closure::<dyn Fn()>::new(move || {
        let _ = narrow.try_set(listened.matches());
    });
    let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
    let listener = StoredValue::new_local((query, changed));
    on_cleanup(move || {
        listener.try_with_value(|(query, changed)| {
            let _ = query.remove_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
        });
    });
    narrow
}

/// The nearest part around a target that carries an attribute, with its value.
fn attribute(target: Option<EventTarget>, name: &str) -> Option<String> {
    let element = target?.dyn_into::<Element>().ok()?;
    element.closest(&format!("[{name}]")).ok()??.get_attribute(name)
}

/// The hatches every drawing refers to.
fn hatches(html: &mut Html) {
    html.raw("<svg class=\"hatches\" aria-hidden=\"true\">");
    html.raw(HATCHES);
    html.raw("</svg>");
}

/// The paragraph written from the results.
fn reading(html: &mut Html, text: &str) {
    html.raw("<p class=\"reading\"><strong>Reading. </strong>");
    html.words(text);
    html.raw("</p>");
}

/// Buttons that choose the direction looked at.
pub(crate) fn direction_chooser(html: &mut Html, label: &str, within: &str, chosen: Direction) {
    html.open("div", &[("class", "chooser"), ("role", "group"), ("aria-label", label)]);
    for direction in Direction::BOTH {
        let id = format!("{within}-direction-{}", direction.index());
        html.choice(&id, "", &act(Choice::Direction(direction)), direction == chosen, "", direction.label());
    }
    html.close("div");
}
