//! A field of the bench and what it holds.

use crate::live::{maybe, part, words};
use crate::state::App;
use crate::store::{Draft, Slot, glanced};
use leptos::ev::KeyboardEvent;
use leptos::html;
use leptos::prelude::*;
use serde_json::Value;
use sisterframe_core::project::{Field, FieldError};
use sisterframe_core::units::System;

/// A field with the value the project holds for it, and the entry it refused.
#[derive(Clone, Copy)]
pub struct Held {
    slot: StoredValue<Slot>,
    /// Its description.
    pub field: Field,
    /// The value the project holds; `None` if it is left out.
    pub value: Memo<Option<Value>>,
    /// The entry that was refused.
    pub draft: Memo<Option<Draft>>,
    /// The value before the visit that is going on.
    pub was: Memo<Option<Value>>,
    /// The text its field shows: the refused entry, or the value in the units shown.
    pub text: Signal<String>,
}

impl Held {
    /// A field of the project on the page.
    pub fn new(app: App, slot: Slot, field: Field) -> Self {
        let slot = StoredValue::new(slot);
        let value = Memo::new(move |_| app.project.with(|project| slot.with_value(|slot| slot.read(project))));
        let draft = Memo::new(move |_| {
            app.document.with(|document| slot.with_value(|slot| document.drafts().get(slot).cloned()))
        });
        let was = Memo::new(move |_| {
            app.document.with(|document| {
                let (own, before) = document.visit()?;
                slot.with_value(|slot| if own == slot { slot.read(before) } else { None })
            })
        });
        let text = words(move || match draft.get() {
            Some(draft) => draft.text,
            None => glanced(&value.get().unwrap_or(Value::Null), field.spec.dimension, app.system.get()),
        });
        Self { slot, field, value, draft, was, text }
    }

    /// Its address.
    pub fn slot(self) -> Slot {
        self.slot.get_value()
    }

    /// An identifier in the page, from its path.
    pub fn id(self) -> String {
        self.slot.with_value(Slot::path).replace(['.', '[', ']'], "-")
    }

    /// What `aria-invalid` says.
    pub fn invalid(self) -> Signal<Option<String>> {
        maybe(move || self.draft.get().is_some().then(|| "true".to_owned()))
    }

    /// What `aria-describedby` says.
    pub fn described_by(self) -> Signal<Option<String>> {
        maybe(move || self.draft.get().is_some().then(|| self.error_id()))
    }

    fn error_id(self) -> String {
        format!("{}-error", self.id())
    }

    /// The refusal in words, under the field.
    pub fn refusal(self) -> AnyView {
        let app = App::of_page();
        part(move || {
            let Some(draft) = self.draft.get() else { return ().into_any() };
            let words = refusal_words(&draft.error, app.system.get());
            view! { <p class="error" role="alert" id=self.error_id()>{words}</p> }.into_any()
        })
    }

    /// Whether the field's text is typed and not yet entered.
    pub fn is_typed(self, input: NodeRef<html::Input>) -> bool {
        input.get_untracked().is_some_and(|input| input.value() != self.text.get_untracked())
    }

    /// Keys of a field of text: Enter enters, Escape returns to the value held, and undo
    /// belongs to the typing while there is any.
    pub fn text_key(self, app: App, input: NodeRef<html::Input>, event: &KeyboardEvent) {
        let typed = self.is_typed(input);
        match event.key().as_str() {
            "Enter" => {
                if let Some(input) = input.get_untracked() {
                    // Leaving and coming back is how a browser is told to enter what was typed.
                    let _ = input.blur();
                    let _ = input.focus();
                }
            }
            "Escape" if typed || self.draft.get_untracked().is_some() => {
                event.prevent_default();
                app.document.update(|document| document.forget_draft(&self.slot()));
                if let Some(input) = input.get_untracked() {
                    input.set_value(&self.text.get_untracked());
                }
            }
            "z" | "Z" if typed && (event.ctrl_key() || event.meta_key()) => event.stop_propagation(),
            _ => {}
        }
    }
}

/// Why an entry was refused, with what is permitted in the units shown.
pub fn refusal_words(error: &FieldError, system: System) -> String {
    let permitted = match error.permitted.in_units(system).as_str() {
        "" => String::new(),
        own if own.ends_with('…') => format!(" Permitted: {own}"),
        own => format!(" Permitted: {own}."),
    };
    format!("{}.{permitted}", capitalised(&error.problem.in_units(system)))
}

/// With a capital letter.
pub fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A label of the table of fields, with what follows an underscore set as an index.
pub fn label(text: &'static str) -> AnyView {
    let word = |word: &'static str| match word.split_once('_') {
        Some((symbol, index)) => view! { {symbol}<sub>{index}</sub>" " }.into_any(),
        None => format!("{word} ").into_any(),
    };
    text.split(' ').map(word).collect_view().into_any()
}
