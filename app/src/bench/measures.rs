//! The measures of the scheme looked at.

use crate::bench::field::fields;
use crate::bench::foresight::foresight_about;
use crate::bench::outcome::scheme_outcome;
use crate::bench::schemes::scheme_list;
use crate::bench::size_frame::Aid;
use crate::live::{on, part, part_while, words};
use crate::sheets::Block;
use crate::state::App;
use crate::store::{Command, Root, Slot};
use leptos::prelude::*;
use sisterframe_core::measure::describe;
use sisterframe_core::project::{Control, Field, Measure, Record, Scheme};

/// Schemes, and the form of the one looked at.
pub fn measures(app: App) -> AnyView {
    let chosen = Memo::new(move |_| app.project.with(|project| app.selection.get().fitted(project).scheme()));
    let form = move || match chosen.get() {
        Some(scheme) => scheme_form(app, scheme),
        None => view! {
            <p class="bench-lead">
                "The building as it stands and the rebuild have no measures. Choose a scheme above, or add one."
            </p>
        }
        .into_any(),
    };
    view! {
        {scheme_list(app, chosen)}
        {part(form)}
    }
    .into_any()
}

/// Name, remark and measures of a scheme.
fn scheme_form(app: App, scheme: usize) -> AnyView {
    let own: Vec<Field> = Scheme::FIELDS.iter().filter(|field| field.control != Control::Part).copied().collect();
    // A form is made anew only where a measure of another kind takes its place.
    let kinds = Memo::new(move |_| -> Vec<(usize, &'static str)> {
        app.project.with(|project| {
            let measures = project.schemes.get(scheme).map_or(&[][..], |scheme| &scheme.measures);
            measures.iter().map(Measure::kind).enumerate().collect()
        })
    });
    view! {
        <section aria-label="Scheme looked at">
            {fields(app, own, |key| Slot::new(Root::Scheme(scheme), key))}
            {scheme_outcome(app, scheme)}
            <h3>"Measures"</h3>
            <For each=move || kinds.get() key=|own| *own let((place, kind))>
                {measure_form(app, scheme, place, kind)}
            </For>
            {add_measure(app, scheme)}
        </section>
    }
    .into_any()
}

/// Whether a field says where the measure is or is one of its sliders; the others are details.
fn is_main(field: &Field) -> bool {
    field.spec.slider
        || matches!(field.control, Control::Names | Control::Span | Control::Text)
        || matches!(field.key, "storeys" | "direction" | "faces")
}

/// Id of the head of a measure's form.
pub fn measure_id(scheme: usize, place: usize) -> String {
    format!("measure-{scheme}-{place}")
}

/// The form of a measure.
fn measure_form(app: App, scheme: usize, place: usize, kind: &'static str) -> AnyView {
    let root = Root::Measure(scheme, place);
    // The one the bench was opened for, or else the first.
    let count = app.project.with_untracked(|project| project.schemes.get(scheme).map_or(0, |own| own.measures.len()));
    let opened = app.opened.get_untracked().filter(|(own, place)| *own == scheme && *place < count);
    let wanted = opened.map_or(0, |(_, place)| place);
    let open = RwSignal::new(place == wanted);
    let label = Measure::KINDS.iter().find(|(key, _)| *key == kind).map_or("", |(_, label)| *label);
    let described = words(move || {
        app.project.with(|project| {
            let own = project.schemes.get(scheme).and_then(|scheme| scheme.measures.get(place));
            own.map_or_else(String::new, |own| describe(own, &project.building).in_units(app.system.get()))
        })
    });
    // Apart from the form, so that folding it away loses nothing.
    let aid = (kind == "external_frame").then(|| Aid::new(app, scheme, place));
    let form = move || {
        let about = Memo::new(move |_| foresight_about(scheme, place));
        let (main, details): (Vec<Field>, Vec<Field>) =
            app.project.with_untracked(|project| root.fields(project)).iter().partition(|field| is_main(field));
        let details = if details.is_empty() {
            ().into_any()
        } else {
            view! {
                <details class="details" on:toggle=on(move |_| app.foresights.wake(app))>
                    <summary>"Details"</summary>
                    {fields(app, details, |key| Slot::new(root, key))}
                </details>
            }
            .into_any()
        };
        view! {
            <div class="measure-form">
                <Block html=about class="foresight-about"/>
                {aid.map(Aid::form)}
                {fields(app, main, |key| Slot::new(root, key))}
                {details}
            </div>
        }
        .into_any()
    };
    let remove = move |_| drop(app.apply(&Command::RemoveMeasure { scheme, measure: place }));
    view! {
        <section class="bench-measure" aria-label=label>
            <div class="measure-head">
                <button
                    type="button"
                    class="measure-title"
                    id=measure_id(scheme, place)
                    aria-expanded=words(move || open.get().to_string())
                    on:click=on(move |_| open.update(|open| *open = !*open))
                >
                    <span class="measure-kind">{label}</span>
                    <span class="measure-words">{described}</span>
                </button>
                <button type="button" class="quiet" aria-label=format!("Take out: {label}") on:click=on(remove)>
                    "Take out"
                </button>
            </div>
            {part_while(open.into(), form)}
        </section>
    }
    .into_any()
}

/// One button for each kind of measure.
fn add_measure(app: App, scheme: usize) -> AnyView {
    let button = |(kind, label): &(&'static str, &'static str)| {
        let (kind, label) = (*kind, *label);
        let add = move |_| {
            let system = app.system.get_untracked();
            drop(app.apply(&Command::AddMeasure { scheme, kind: kind.to_owned(), system }));
        };
        view! { <button type="button" on:click=on(add)>{label}</button> }.into_any()
    };
    view! {
        <div class="add-measure" role="group" aria-labelledby="add-measure">
            <p id="add-measure" class="label">"Add a measure"</p>
            <div class="tool-row">{Measure::KINDS.iter().map(button).collect_view()}</div>
        </div>
    }
    .into_any()
}
