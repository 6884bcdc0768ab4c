//! Parts of the page that follow the state, with the types of their closures forgotten.
//!
//! The view macro compiles its machinery anew for the type of every closure it is given.
//! Through these few functions all of them have the same types, which keeps the file small;
//! use them for every attribute, text, part and event handler that would be a closure.

use leptos::prelude::*;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};

/// A text that follows the state.
pub fn words(read: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    Signal::derive(read)
}

/// An attribute that follows the state and may be left out.
pub fn maybe(read: impl Fn() -> Option<String> + Send + Sync + 'static) -> Signal<Option<String>> {
    Signal::derive(read)
}

/// A condition that follows the state.
pub fn whether(read: impl Fn() -> bool + Send + Sync + 'static) -> Signal<bool> {
    Signal::derive(read)
}

/// A part of the page made anew whenever the state it reads changes.
pub fn part(make: impl FnMut() -> AnyView + Send + 'static) -> AnyView {
    let make: Box<dyn FnMut() -> AnyView + Send> = Box::new(make);
    make.into_any()
}

/// A part of the page that is there while it is wanted.
pub fn part_while(wanted: Signal<bool>, make: impl Fn() -> AnyView + Send + Sync + 'static) -> AnyView {
    let wanted = Memo::new(move |_| wanted.get());
    part(move || if wanted.get() { make() } else { ().into_any() })
}

/// What is done on an event.
pub fn on<E: 'static>(act: impl FnMut(E) + 'static) -> Box<dyn FnMut(E)> {
    Box::new(act)
}

/// Hears events of some kinds on an element whose content is written as markup: one listener
/// for all, since a handler of its own type for each would cost the page kilobytes.
pub fn listen(element: &web_sys::Element, kinds: &[&str], act: impl Fn(web_sys::Event) + 'static) {
    // Not FnMut: what it does may make the next event happen at once.
    let act: Box<dyn Fn(web_sys::Event)> = Box::new(act);
    let listener = Closure::wrap(act).into_js_value();
    for kind in kinds {
        let _ = element.add_event_listener_with_callback(kind, listener.unchecked_ref());
    }
}

/// What a field in written markup holds.
pub fn value_of(field: &JsValue) -> String {
    js_sys::Reflect::get(field, &JsValue::from_str("value"))
        .ok()
        .and_then(|value| value.as_string())
        .unwrap_or_default()
}
