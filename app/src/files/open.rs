//! Opening a project file: by the picker, dropped on the page, or pasted as text.

use crate::state::App;
use leptos::ev;
use leptos::prelude::*;
use sisterframe_core::project::MAX_CHARS;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;

/// Reads a file of the user's and opens it.
pub fn file(app: App, file: web_sys::File) {
    let name = file.name();
    // A character takes up to four bytes.
    if file.size() > 4.0 * MAX_CHARS as f64 {
        app.warn(format!("{name} was not opened, and the project is as it was. The file is too large for a project."));
        return;
    }
    leptos::task::spawn_local(async move {
        match JsFuture::from(file.text()).await {
            Ok(text) => app.open_text(&name, &text.as_string().unwrap_or_default()),
            Err(_) => {
                app.warn(format!("{name} was not opened, and the project is as it was. The browser cannot read it."))
            }
        }
    });
}

/// Whether a key or text goes to a field that takes text.
pub fn is_text_field(target: Option<web_sys::EventTarget>) -> bool {
    let Some(element) = target.and_then(|target| target.dyn_into::<web_sys::Element>().ok()) else { return false };
    match element.tag_name().as_str() {
        "TEXTAREA" | "SELECT" => true,
        "INPUT" => !matches!(element.get_attribute("type").as_deref(), Some("range" | "checkbox" | "radio" | "file")),
        _ => false,
    }
}

/// Takes files dropped anywhere and project text pasted outside fields.
pub fn listen(app: App) {
    let holds_files = |event: &ev::DragEvent| {
        event
            .data_transfer()
            .is_some_and(|data| data.types().iter().any(|kind| kind.as_string().as_deref() == Some("Files")))
    };
    let dragover = window_event_listener(ev::dragover, move |event| {
        if holds_files(&event) {
            event.prevent_default();
        }
    });
    let drop = window_event_listener(ev::drop, move |event| {
        if !holds_files(&event) {
            return;
        }
        event.prevent_default();
        let first = event.data_transfer().and_then(|data| data.files()).and_then(|files| files.get(0));
        if let Some(dropped) = first {
            file(app, dropped);
        }
    });
    let paste = window_event_listener(ev::paste, move |event| {
        if is_text_field(event.target()) {
            return;
        }
        let Some(data) = event.clipboard_data() else { return };
        if let Some(pasted) = data.files().and_then(|files| files.get(0)) {
            event.prevent_default();
            file(app, pasted);
        } else if let Ok(text) = data.get_data("text/plain")
            && !text.trim().is_empty()
        {
            event.prevent_default();
            app.open_text("The pasted text", &text);
        }
    });
    on_cleanup(move || {
        dragover.remove();
        drop.remove();
        paste.remove();
    });
}
