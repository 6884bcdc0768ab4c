//! Saving the project to a file of the user's.

use crate::files::keep;
use crate::state::App;
use crate::store::{Command, Document, Root, Slot, file_name};
use js_sys::{Function, Promise, Reflect};
use leptos::prelude::*;
use serde_json::json;
use sisterframe_core::project::Units;
use sisterframe_core::units::System;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// Saves the project; a demo is saved as a copy that becomes the user's own project.
pub fn save(app: App) {
    let is_demo = name_copy(app);
    let project = app.project.get_untracked();
    let name = file_name(&project);
    if download(&name, "application/json", &file_text(app)).is_err() {
        app.warn(format!("{name} was not saved: the browser refuses to download it."));
        return;
    }
    saved(app, &name, is_demo);
}

/// Saves the project where the user says, in browsers that ask; elsewhere it is downloaded.
pub fn save_as(app: App) {
    app.end_visit();
    let key = JsValue::from_str("showSaveFilePicker");
    let picker = Reflect::get(&window(), &key).ok().and_then(|picker| picker.dyn_into::<Function>().ok());
    let Some(picker) = picker else { return save(app) };
    let mut copy = (*app.project.get_untracked()).clone();
    if app.document.with_untracked(|document| !document.state().is_own_work()) {
        copy.name = copy_name(&copy.name);
    }
    // The browser asks only while the press of the button is fresh, so it comes first.
    let asked = json!({
        "suggestedName": file_name(&copy),
        "types": [{ "description": "Sisterframe project", "accept": { "application/json": [".json"] } }],
    });
    let options = js_sys::JSON::parse(&asked.to_string()).unwrap_or(JsValue::UNDEFINED);
    let Ok(asking) = picker.call1(&window(), &options) else { return save(app) };
    leptos::task::spawn_local(async move {
        match JsFuture::from(Promise::from(asking)).await {
            Ok(file) => {
                let is_demo = name_copy(app);
                let name = Reflect::get(&file, &JsValue::from_str("name")).ok().and_then(|name| name.as_string());
                let name = name.unwrap_or_else(|| "the file".to_owned());
                match write(&file, &file_text(app)).await {
                    Ok(()) => saved(app, &name, is_demo),
                    Err(_) => app.warn(format!("{name} was not saved: the browser cannot write to it.")),
                }
            }
            // Called off, which is no failure; or not allowed here, where a download is.
            Err(error) if is_named(&error, "AbortError") => app.tell("Nothing was saved."),
            Err(_) => save(app),
        }
    });
}

fn is_named(error: &JsValue, name: &str) -> bool {
    let own = Reflect::get(error, &JsValue::from_str("name")).ok().and_then(|own| own.as_string());
    own.as_deref() == Some(name)
}

/// Writes a text into a file the user chose.
async fn write(file: &JsValue, text: &str) -> Result<(), JsValue> {
    let stream = promised(file, "createWritable", None).await?;
    promised(&stream, "write", Some(text)).await?;
    promised(&stream, "close", None).await?;
    Ok(())
}

/// Calls a method of a value and waits for what it promises.
async fn promised(of: &JsValue, method: &str, argument: Option<&str>) -> Result<JsValue, JsValue> {
    let method: Function = Reflect::get(of, &JsValue::from_str(method))?.dyn_into()?;
    let answer = match argument {
        Some(text) => method.call1(of, &JsValue::from_str(text)),
        None => method.call0(of),
    };
    JsFuture::from(Promise::from(answer?)).await
}

/// The project as it is saved: with the units shown, in which it opens again.
fn file_text(app: App) -> String {
    let mut project = (*app.project.get_untracked()).clone();
    project.units = match app.system.get_untracked() {
        System::Si => Units::Si,
        System::Us => Units::Us,
    };
    project.to_json()
}

fn copy_name(name: &str) -> String {
    format!("{}, copy", name.chars().take(70).collect::<String>())
}

/// Gives a demo the name of a copy before it is saved; says whether it is one.
fn name_copy(app: App) -> bool {
    app.end_visit();
    let is_demo = app.document.with_untracked(|document| !document.state().is_own_work());
    if is_demo {
        let copy = app.project.with_untracked(|project| copy_name(&project.name));
        app.apply(&Command::Set { slot: Slot::new(Root::Project, "name"), value: json!(copy) });
    }
    is_demo
}

/// Tells what was saved, and what is not in the file.
fn saved(app: App, name: &str, is_demo: bool) {
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
