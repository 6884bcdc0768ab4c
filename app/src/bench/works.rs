//! What the works are reckoned with: rates of every activity, and assumptions.

use crate::bench::held::Held;
use crate::bench::number::number;
use crate::bench::table::table;
use crate::live::{on, part, whether, words};
use crate::state::App;
use crate::store::{Command, List, Root, Slot, shown};
use leptos::prelude::*;
use serde_json::{Value, json};
use sisterframe_core::project::{Control, Field, OwnWorks, Record};
use sisterframe_core::units::Dimension;
use sisterframe_core::works::Basis;
use sisterframe_core::works::rates::Mark;

/// Rates, assumptions, and the way back to the table.
pub fn works(app: App) -> AnyView {
    let own = Memo::new(move |_| app.project.with(|project| Basis::of(project).own_figures()));
    let told = words(move || match own.get() {
        0 => "All figures are those of the table.".to_owned(),
        1 => "One figure is your own.".to_owned(),
        count => format!("{count} figures are your own."),
    });
    let back = move |_| {
        let slot = Slot::new(Root::Project, "works");
        if app.apply(&Command::Set { slot, value: Value::Null }).is_some() {
            app.tell("Done: all rates and assumptions are the table's again. Undo brings yours back.");
        }
    };
    let assumptions = OwnWorks::FIELDS.iter().filter(|field| field.control != Control::Part);
    view! {
        <section class="table-part" aria-label="What the works are reckoned with">
            <p class="bench-lead">
                "Man-days and closed rooms follow from these figures. They are for feasibility only and differ from place to place: put your own in where you know better. "
                {told}
            </p>
            <div class="tool-row">
                <button type="button" disabled=whether(move || own.get() == 0) on:click=on(back)>
                    "All back to the table"
                </button>
            </div>
            <h3>"Rates"</h3>
            <p class="bench-lead">
                "Units a crew does in a working day of eight hours. Slow suits an occupied, cramped block, fast an empty one with repeated bays. An emptied cell takes the value of the table."
            </p>
            {table(app, List::Rates, "Rates")}
            <h3>"Assumptions"</h3>
            {assumptions.map(|field| assumption(app, *field)).collect_view()}
        </section>
    }
    .into_any()
}

/// An assumption with where it comes from.
fn assumption(app: App, field: Field) -> AnyView {
    let held = Held::new(app, Slot::new(Root::Works, field.key), field);
    let table = Basis::TABLE.assumption(field.key).unwrap_or_default();
    let is_own = Memo::new(move |_| held.value.get().and_then(|value| value.as_f64()) != Some(table));
    let note = move || {
        if !is_own.get() {
            return view! { <p class="field-note">{Mark::CommonPractice.label()}</p> }.into_any();
        }
        let system = app.system.get();
        let value = shown(&json!(table), field.spec.dimension, system);
        let unit = match field.spec.dimension {
            Dimension::Share => "\u{a0}%",
            _ => "",
        };
        let back = move |_| drop(app.apply(&Command::Set { slot: held.slot(), value: Value::Null }));
        view! {
            <p class="field-note">
                {format!("{}; table: {value}{unit} ", Mark::Own.label())}
                <button
                    type="button"
                    class="quiet"
                    aria-label=format!("Back to the table: {}", field.spec.label)
                    on:click=on(back)
                >
                    "Back to the table"
                </button>
            </p>
        }
        .into_any()
    };
    view! { <div class="assumption">{number(app, held)} {part(note)}</div> }.into_any()
}
