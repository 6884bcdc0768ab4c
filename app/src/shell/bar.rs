//! The bar across the top: mark, name of the project, projects, undo, files, printing.

use crate::bench::Held;
use crate::files::{open, save};
use crate::live::{maybe, on, whether, words};
use crate::shell::projects::Projects;
use crate::state::{App, in_words};
use crate::store::{Root, Slot};
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use sisterframe_core::project::{Field, Project, Record};
use sisterframe_core::units::System;
use wasm_bindgen::JsCast;

const FILE_FIELD: &str = "project-file";

/// Lets the user choose a project file.
pub fn pick_file() {
    let field = document().get_element_by_id(FILE_FIELD);
    if let Some(field) = field.and_then(|field| field.dyn_into::<web_sys::HtmlElement>().ok()) {
        field.click();
    }
}

/// The bar.
#[component]
pub fn Bar() -> impl IntoView {
    let app = App::of_page();
    let undo = Memo::new(move |_| app.document.with(|document| document.undo_words().map(str::to_owned)));
    let redo = Memo::new(move |_| app.document.with(|document| document.redo_words().map(str::to_owned)));
    let title = move |what: Memo<Option<String>>, verb: &'static str| {
        maybe(move || what.get().map(|words| format!("{verb} {words}")))
    };
    let save_words = words(move || {
        let own = app.document.with(|document| document.state().is_own_work());
        if own { "Save" } else { "Save a copy" }.to_owned()
    });
    view! {
        <header class="top">
            <svg class="mark" viewBox="0 0 32 24" aria-hidden="true">
                <path class="mark-existing" d="M3 23V3h11v20M3 13h11"/>
                <path class="mark-link" d="M14 3h5M14 13h5"/>
                <path class="mark-added" d="M19 23V3h10v20M19 13h10"/>
            </svg>
            <span class="name">"Sisterframe"</span>
            <ProjectName/>
            <div class="tools">
                <button type="button" disabled=whether(move || undo.get().is_none()) title=title(undo, "Undo") on:click=on(move |_| app.undo())>
                    "Undo"
                </button>
                <button type="button" disabled=whether(move || redo.get().is_none()) title=title(redo, "Redo") on:click=on(move |_| app.redo())>
                    "Redo"
                </button>
                <span class="tool-gap"></span>
                <Projects/>
                <button type="button" on:click=on(move |_| pick_file())>"Open"</button>
                <FileField/>
                <button type="button" on:click=on(move |_| save::save(app))>{save_words}</button>
                <button type="button" on:click=on(move |_| save::save_as(app))>"Save as …"</button>
                <span class="tool-gap"></span>
                {units(app)}
                <button type="button" on:click=on(move |_| print(app))>"Print"</button>
            </div>
        </header>
    }
    .into_any()
}

/// The switch of the units shown; the project keeps what it holds.
fn units(app: App) -> AnyView {
    let one = |system: System, name: &'static str| {
        let pressed = words(move || (app.system.get() == system).to_string());
        view! {
            <button type="button" aria-pressed=pressed on:click=on(move |_| app.show_in(system))>{name}</button>
        }
        .into_any()
    };
    view! {
        <span class="switch" role="group" aria-label="Units shown">{one(System::Si, "SI")}{one(System::Us, "US")}</span>
    }
    .into_any()
}

/// Prints the sheets once they are all laid out.
fn print(app: App) {
    app.end_visit();
    app.printing.set(true);
    // Effects write the sheets before the next frame, and drawings that wait for one follow in it.
    request_animation_frame(|| {
        request_animation_frame(|| {
            let _ = window().print();
        });
    });
}

/// The file field behind the open button.
#[component]
fn FileField() -> impl IntoView {
    let app = App::of_page();
    let field = NodeRef::<html::Input>::new();
    let chosen = move |_: ev::Event| {
        let Some(field) = field.get() else { return };
        if let Some(file) = field.files().and_then(|files| files.get(0)) {
            open::file(app, file);
        }
        // So that choosing the same file again is a change again.
        field.set_value("");
    };
    view! {
        <input
            node_ref=field
            id=FILE_FIELD
            type="file"
            accept=".json,application/json"
            aria-label="Project file"
            tabindex="-1"
            hidden
            on:change=on(chosen)
        />
    }
    .into_any()
}

/// The project's name, edited where it stands.
#[component]
fn ProjectName() -> impl IntoView {
    let app = App::of_page();
    let Some(field) = Project::FIELDS.iter().find(|field: &&Field| field.key == "name") else {
        return ().into_any();
    };
    let held = Held::new(app, Slot::new(Root::Project, "name"), *field);
    let input = NodeRef::<html::Input>::new();
    let enter = move |_: ev::Event| {
        let Some(input) = input.get() else { return };
        if !app.enter_text(&held.slot(), &held.field, &input.value())
            && let Some(draft) = held.draft.get_untracked()
        {
            app.warn(in_words(&draft.error, app.system.get_untracked()));
        }
    };
    view! {
        <input
            node_ref=input
            class="project-name"
            type="text"
            aria-label="Project name"
            aria-invalid=held.invalid()
            autocomplete="off"
            spellcheck="false"
            prop:value=held.text
            on:change=on(enter)
            on:keydown=on(move |event| held.text_key(app, input, &event))
        />
    }
    .into_any()
}
