//! Saving the project to a file of the user's.

use crate::files::keep;
use crate::state::App;
use crate::store::{Command, Document, Root, Slot, file_name};
use leptos::prelude::*;
use serde_json::json;
use wasm_bindgen::{JsCast, JsValue};

/// Saves the project; a demo is saved as a copy that becomes the user's own project.
pub fn save(app: App) {
    app.end_visit();
    let is_demo = app.document.with_untracked(|document| !document.state().is_own_work());
    if is_demo {
        let name = app.project.with_untracked(|project| project.name.clone());
        let copy: String = format!("{}, copy", name.chars().take(70).collect::<String>());
        app.apply(&Command::Set { slot: Slot::new(Root::Project, "name"), value: json!(copy) });
    }
    let project = app.project.get_untracked();
    let name = file_name(&project);
    if download(&name, "application/json", &project.to_json()).is_err() {
        app.warn(format!("{name} was not saved: the browser refuses to download it."));
        return;
    }
    app.document.update(Document::make_own);
    keep::soon(app);
    let drafts = app.document.with_untracked(|document| document.drafts().len());
    let made = if is_demo { " It is a copy of the demo and now your own project." } else { "" };
    match drafts {
        0 => app.tell(format!("Saved as {name}.{made}")),
        count => app.warn(format!(
            "Saved as {name}.{made} The file holds the last accepted values, not the {} the bench refused.",
            if count == 1 { "entry".to_owned() } else { format!("{count} entries") }
        )),
    }
}

/// Gives the user a text as a file.
///
/// # Errors
/// What the browser refuses.
pub fn download(name: &str, kind: &str, text: &str) -> Result<(), JsValue> {
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let options = web_sys::BlobPropertyBag::new();
    options.set_type(kind);
    let blob = web_sys::Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let address = web_sys::Url::create_object_url_with_blob(&blob)?;
    let link: web_sys::HtmlElement = document().create_element("a")?.dyn_into()?;
    link.set_attribute("href", &address)?;
    link.set_attribute("download", name)?;
    link.click();
    // Some browsers read the blob only after the click was handled.
    set_timeout(
        move || {
            let _ = web_sys::Url::revoke_object_url(&address);
        },
        std::time::Duration::from_secs(60),
    );
    Ok(())
}
