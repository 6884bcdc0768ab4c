//! The sheets, and the parts they share.

mod ledger;
mod load_path;
mod matrix;
mod options;

pub use load_path::LoadPath;
pub use options::Options;

use crate::drawing::{Drawing, HATCHES};
use crate::view::View;
use leptos::ev::MouseEvent;
use leptos::prelude::*;
use sisterframe_core::glossary::Figure;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::study::OptionKind;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;

/// Pixels the drawings count to a root em, so that they grow with the reader's text.
const PX_PER_REM: f64 = 16.0;

fn rem(px: f64) -> String {
    format!("{:.3}rem", px / PX_PER_REM)
}

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
fn is_narrow() -> Signal<bool> {
    let narrow = RwSignal::new(false);
    let Ok(Some(query)) = window().match_media("(max-width: 36rem)") else { return narrow.into() };
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
    narrow.into()
}

/// The hatches every drawing refers to; once a sheet.
#[component]
fn Hatches() -> impl IntoView {
    view! { <svg class="hatches" aria-hidden="true" inner_html=HATCHES></svg> }
}

/// A drawing with its words, at its own size.
fn picture(drawing: &Drawing, class: &'static str) -> impl IntoView + use<> {
    view! {
        <svg
            class=class
            role="img"
            aria-label=drawing.words.clone()
            viewBox=format!("0 0 {} {}", drawing.width, drawing.height)
            style:width=rem(drawing.width)
            style:height=rem(drawing.height)
            inner_html=drawing.markup()
        ></svg>
    }
}

/// A small bar whose figure stands beside it.
fn bar(drawing: &Drawing) -> impl IntoView + use<> {
    view! {
        <svg
            class="picture bar"
            aria-hidden="true"
            viewBox=format!("0 0 {} {}", drawing.width, drawing.height)
            style:width=rem(drawing.width)
            style:height=rem(drawing.height)
            inner_html=drawing.markup()
        ></svg>
    }
}

/// Asks where a figure comes from: a button that opens a note beside it.
#[component]
pub(crate) fn Ask(
    /// The figure.
    figure: Figure,
    /// The part of the page it stands in, for a name of its own.
    within: &'static str,
) -> impl IntoView {
    let entry = figure.entry();
    let id = format!("about-{within}-{figure:?}");
    let left = RwSignal::new("0".to_owned());
    let top = RwSignal::new("auto".to_owned());
    let bottom = RwSignal::new("auto".to_owned());
    let place = move |event: MouseEvent| {
        let button = event.current_target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
        let Some(button) = button else { return };
        let rect = button.get_bounding_client_rect();
        let size = |value: Result<wasm_bindgen::JsValue, wasm_bindgen::JsValue>| {
            value.ok().and_then(|value| value.as_f64()).unwrap_or(0.0)
        };
        left.set(format!("{}px", rect.left()));
        // Below the button while there is room for it, else above.
        let height = size(window().inner_height());
        if rect.bottom() < height * 0.55 {
            top.set(format!("{}px", rect.bottom() + 6.0));
            bottom.set("auto".to_owned());
        } else {
            top.set("auto".to_owned());
            bottom.set(format!("{}px", height - rect.top() + 6.0));
        }
    };
    view! {
        <button
            type="button"
            class="ask"
            popovertarget=id.clone()
            aria-label=format!("About {}", entry.title.to_lowercase())
            on:click=place
        >
            "?"
        </button>
        <div
            id=id
            class="about"
            popover="auto"
            style:--about-left=move || left.get()
            style:top=move || top.get()
            style:bottom=move || bottom.get()
        >
            <p class="about-title">{entry.title}</p>
            <p>{entry.meaning}</p>
            <p>{entry.method}</p>
            <p class="about-source">{entry.source}</p>
        </div>
    }
}

/// The paragraph written from the results.
#[component]
fn Reading(
    /// What it says.
    #[prop(into)]
    text: Signal<String>,
) -> impl IntoView {
    view! {
        <p class="reading">
            <strong>"Reading. "</strong>
            {move || text.get()}
        </p>
    }
}

/// Chooses the direction looked at.
#[component]
pub(crate) fn DirectionChooser(
    /// What it chooses, for those who do not see where it stands.
    of: &'static str,
) -> impl IntoView {
    let view = View::of_page();
    let button = move |direction: Direction| {
        view! {
            <button
                type="button"
                aria-pressed=move || (view.direction.get() == direction).to_string()
                on:click=move |_| view.choose_direction(direction)
            >
                {direction.label()}
            </button>
        }
    };
    view! { <div class="chooser" role="group" aria-label=of>{Direction::BOTH.map(button).collect_view()}</div> }
}
