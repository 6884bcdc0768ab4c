//! What the page offers to scripts: `window.sisterframe.evaluate(project)`.

use js_sys::{Error, JSON, Object, Reflect};
use leptos::prelude::window;
use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;

/// Puts the object on the window.
pub fn offer() {
    let tool = Object::new();
    let function = Closure::<dyn Fn(JsValue) -> Result<JsValue, JsValue>>::new(evaluate).into_js_value();
    let _ = Reflect::set(&tool, &JsValue::from_str("evaluate"), &function);
    let _ = Reflect::set(&window(), &JsValue::from_str("sisterframe"), &tool);
}

/// Evaluates a project given as an object or as the text of its file; gives the study.
///
/// # Errors
/// A JavaScript `Error` that says which field is refused, why, and what is permitted.
fn evaluate(project: JsValue) -> Result<JsValue, JsValue> {
    let refused = |words: String| JsValue::from(Error::new(&words));
    // Through text both ways: the page has a reader and a writer of JSON already.
    let text = match project.as_string() {
        Some(text) => text,
        None => JSON::stringify(&project)
            .ok()
            .and_then(|text| JsValue::from(text).as_string())
            .ok_or_else(|| refused("project file: not a plain object".to_owned()))?,
    };
    let project = Project::from_json(&text).map_err(|error| refused(error.to_string()))?;
    let study = serde_json::to_string(&evaluate::study(&project)).map_err(|error| refused(error.to_string()))?;
    JSON::parse(&study)
}
