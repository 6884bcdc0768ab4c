//! The ground motion's form.

use crate::bench::field::fields;
use crate::live::words;
use crate::state::App;
use crate::store::{Root, Slot};
use leptos::prelude::*;
use sisterframe_core::project::{GroundMotion, Record};

/// Every field of the ground motion.
pub fn motion(app: App) -> AnyView {
    let sentence = words(move || app.study.with(|study| study.ground_motion.clone()));
    view! {
        <section aria-label="Shaking to survive">
            <p class="bench-lead">{sentence}</p>
            {fields(app, GroundMotion::FIELDS.to_vec(), |key| Slot::new(Root::Motion, key))}
        </section>
    }
    .into_any()
}
