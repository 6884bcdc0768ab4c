//! The form of the ground motion and of the rules it is answered by.

use crate::bench::field::fields;
use crate::live::{part_while, whether, words};
use crate::state::App;
use crate::store::{Root, Slot};
use leptos::prelude::*;
use sisterframe_core::project::{GroundMotion, Project, Record};

/// Fields that go unused where the motion is given by ground acceleration and type.
const ORDINATES: [&str; 3] = ["sxs_g", "sx1_g", "tl_s"];

/// The rule set and every field of the ground motion.
pub fn motion(app: App) -> AnyView {
    let sentence = words(move || app.study.with(|study| study.ground_motion.clone()));
    let rules = Project::FIELDS.iter().filter(|field| field.key == "rules").copied().collect();
    let of_motion = move |wanted: fn(&'static str) -> bool| {
        let fields_of = GroundMotion::FIELDS.iter().filter(|field| wanted(field.key)).copied().collect();
        fields(app, fields_of, |key| Slot::new(Root::Motion, key))
    };
    let two_ordinates = whether(move || app.project.with(|project| project.ground_motion.by_ground.is_none()));
    view! {
        <section aria-label="Shaking to survive">
            <p class="bench-lead">{sentence}</p>
            {fields(app, rules, |key| Slot::new(Root::Project, key))}
            {of_motion(|key| key == "note")}
            {part_while(two_ordinates, move || of_motion(|key| ORDINATES.contains(&key)))}
            {of_motion(|key| key != "note" && !ORDINATES.contains(&key))}
        </section>
    }
    .into_any()
}
