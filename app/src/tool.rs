//! What the page offers to scripts: `window.sisterframe.evaluate(project)`.

use js_sys::{Error, Object, Reflect};
use leptos::prelude::window;
use serde::Serialize;
use serde_json::Value;
use sisterframe_core::evaluate;
use sisterframe_core::project::Project;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};

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
    let project = match project.as_string() {
        Some(text) => Project::from_json(&text),
        None => {
            let value: Value = serde_wasm_bindgen::from_value(project.unchecked_into())
                .map_err(|error| refused(format!("project file: not a plain object: {error}")))?;
            Project::from_value(&value)
        }
    }
    .map_err(|error| refused(error.to_string()))?;
    evaluate::study(&project)
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .map_err(|error| refused(error.to_string()))
}
