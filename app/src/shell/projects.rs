//! The list of projects to start from: demos, and earlier projects of one's own.

use crate::live::{on, part, whether, words};
use crate::state::App;
use crate::store::{Origin, State, demos};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The button and its list.
#[component]
pub fn Projects() -> impl IntoView {
    let open = RwSignal::new(false);
    let root = NodeRef::<html::Div>::new();
    let button = NodeRef::<html::Button>::new();
    let close = Callback::new(move |()| {
        open.set(false);
        if let Some(button) = button.get_untracked() {
            let _ = button.focus();
        }
    });
    let key = move |event: ev::KeyboardEvent| {
        if event.key() == "Escape" && open.get_untracked() {
            event.prevent_default();
            close.run(());
        }
    };
    // Leaving the list by key or pointer closes it.
    let outside = move |target: Option<web_sys::EventTarget>| {
        let target = target.map(|target| target.unchecked_into::<web_sys::Node>());
        root.get_untracked().is_some_and(|root| !root.contains(target.as_ref()))
    };
    let left = move |event: ev::FocusEvent| {
        let next = event.related_target();
        if next.is_some() && outside(next) {
            open.set(false);
        }
    };
    let pressed = window_event_listener(ev::pointerdown, move |event| {
        if open.get_untracked() && outside(event.target()) {
            open.set(false);
        }
    });
    on_cleanup(move || pressed.remove());
    view! {
        <div class="menu" node_ref=root on:keydown=on(key) on:focusout=on(left)>
            <button
                type="button"
                node_ref=button
                aria-expanded=words(move || open.get().to_string())
                aria-controls="projects"
                on:click=on(move |_| open.update(|open| *open = !*open))
            >
                "Projects"
            </button>
            <div id="projects" class="menu-list" hidden=whether(move || !open.get())>
                <h2>"New"</h2>
                <ul>{new_item(close)}</ul>
                <h2>"Demo scenarios"</h2>
                <ul>{demo_items(close)}</ul>
                {part(move || earlier(close))}
                <p class="menu-hint">
                    "To open a project file, drop it anywhere on the page, paste its text, or press Open. \
                    What is on the page now stays in this browser and comes back with Undo."
                </p>
            </div>
        </div>
    }
    .into_any()
}

/// A project of the list.
fn item(name: String, note: String, take: impl Fn() + 'static) -> AnyView {
    view! {
        <li>
            <button type="button" class="menu-item" on:click=on(move |_| take())>
                <span class="menu-name">{name}</span>
                <span class="menu-note">{note}</span>
            </button>
        </li>
    }
    .into_any()
}

/// A building of one's own, from the assistant.
fn new_item(close: Callback<()>) -> AnyView {
    let app = App::of_page();
    item(
        "New building …".to_owned(),
        "Nine answers give a building with the values of its time.".to_owned(),
        move || {
            close.run(());
            app.assistant.set(true);
        },
    )
}

/// The demo scenarios.
fn demo_items(close: Callback<()>) -> AnyView {
    let app = App::of_page();
    let one = |demo: &'static crate::store::Demo| {
        item(demo.project.name.clone(), demo.project.note.clone(), move || {
            app.take(State { project: demo.project.clone(), origin: Origin::Demo(demo.key.to_owned()) });
            close.run(());
        })
    };
    demos().iter().map(one).collect_view().into_any()
}

/// Earlier projects of one's own.
fn earlier(close: Callback<()>) -> AnyView {
    let app = App::of_page();
    let kept: Vec<(String, String)> = app.shelf.with(|shelf| {
        shelf.kept.iter().map(|kept| (kept.state.project.name.clone(), format!("put away {}", kept.when))).collect()
    });
    if kept.is_empty() {
        return ().into_any();
    }
    let one = |(place, (name, note))| {
        item(name, note, move || {
            app.take_from_shelf(place);
            close.run(());
        })
    };
    let items = kept.into_iter().enumerate().map(one).collect_view();
    view! {
        <h2>"Kept in this browser"</h2>
        <ul>{items}</ul>
    }
    .into_any()
}
