//! The short assistant: nine answers, and a complete building to go on from.
//!
//! The form is written as markup and read when it is sent: what is typed into it belongs to
//! nothing yet.

use crate::bench::held::capitalised;
use crate::live::listen;
use crate::sheets::{Html, NONE, when};
use crate::state::{App, Bench};
use crate::store::{Origin, State, parse, shown};
use leptos::html;
use leptos::prelude::*;
use serde_json::json;
use sisterframe_core::assistant::{Answers, QUESTIONS, project, spans};
use sisterframe_core::eras::PRACTICES;
use sisterframe_core::project::{Control, Field, FieldError, Occupancy, Practice, Project};
use sisterframe_core::units::{Dimension, System};
use std::sync::Arc;
use wasm_bindgen::JsCast;
use web_sys::{HtmlDialogElement, HtmlElement, HtmlInputElement};

/// Texts of the answers in the order of the questions.
type Texts = Vec<String>;

/// Runs of one span as people write them: `2 × 4.5 + 6`.
fn in_runs(spans: &[f64], system: System) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut rest = spans;
    while let Some(first) = rest.first() {
        let count = rest.iter().take_while(|span| *span == first).count();
        let length = shown(&json!(first), Dimension::Metres, system);
        words.push(if count == 1 { length } else { format!("{count} × {length}") });
        rest = &rest[count..];
    }
    words.join(" + ")
}

/// What the form starts with.
fn starting(system: System) -> Texts {
    let own = Answers::usual(system);
    let text = |field: &Field| match field.key {
        "name" => own.name.clone(),
        "occupancy" => own.occupancy.key().to_owned(),
        "year" => own.year.to_string(),
        "practice" => own.practice.key().to_owned(),
        "storeys" => own.storeys.to_string(),
        "height_m" => shown(&json!(own.height_m), field.spec.dimension, system),
        "spans_x" => in_runs(&own.spans_x_m, system),
        "spans_y" => in_runs(&own.spans_y_m, system),
        _ => own.sills.to_string(),
    };
    QUESTIONS.iter().map(text).collect()
}

/// The project that texts describe.
fn described(texts: &Texts, system: System) -> Result<Project, FieldError> {
    let mut answers = Answers { sills: texts.last().is_some_and(|own| own == "true"), ..Answers::usual(system) };
    for (field, text) in QUESTIONS.iter().zip(texts) {
        let at = |error: FieldError| FieldError { path: field.key.to_owned(), ..error };
        match field.key {
            "name" => answers.name.clone_from(text),
            "spans_x" => answers.spans_x_m = spans(text, system).map_err(at)?,
            "spans_y" => answers.spans_y_m = spans(text, system).map_err(at)?,
            "occupancy" => {
                let all = [Occupancy::School, Occupancy::Clinic, Occupancy::Office, Occupancy::Other];
                answers.occupancy = all.into_iter().find(|own| own.key() == text).unwrap_or(Occupancy::Other);
            }
            "practice" => {
                answers.practice = PRACTICES.into_iter().find(|own| own.key() == text).unwrap_or(Practice::Other);
            }
            "year" | "storeys" | "height_m" => {
                let number = parse(field, text, system)?.as_f64().unwrap_or(0.0);
                // Parts of storeys and years are refused with the range.
                let whole = if number.fract() == 0.0 && number >= 0.0 { number as u32 } else { 0 };
                match field.key {
                    "year" => answers.year = whole,
                    "storeys" => answers.storeys = whole,
                    _ => answers.height_m = number,
                }
            }
            _ => {}
        }
    }
    project(&answers)
}

/// The questions with their answers, and what was refused.
fn form(texts: &Texts, refused: Option<&FieldError>, system: System) -> String {
    let mut html = Html::default();
    html.leaf("h2", &[("id", "assistant-title")], "New building");
    html.leaf(
        "p",
        &[("class", "bench-lead")],
        "Nine answers give a complete building with the values of its time. Each value is an assumption until \
         you replace it on the bench.",
    );
    for (field, text) in QUESTIONS.iter().zip(texts) {
        let id = format!("answer-{}", field.key);
        let error_id = format!("{id}-error");
        let error = refused.filter(|error| error.path == field.key);
        html.open("div", &[("class", "field answer")]);
        html.open("div", &[("class", "field-line")]);
        html.leaf("label", &[("for", &id)], field.spec.label);
        html.open("span", &[("class", "entry")]);
        match field.control {
            Control::Choice(options) => {
                html.open("select", &[("id", &id)]);
                for (key, name) in options {
                    html.leaf("option", &[("value", key), when(key == text, "selected", "")], name);
                }
                html.close("select");
            }
            Control::Flag => {
                html.open("input", &[("id", &id), ("type", "checkbox"), when(text == "true", "checked", "")]);
            }
            _ => html.open(
                "input",
                &[
                    ("id", &id),
                    ("type", "text"),
                    ("autocomplete", "off"),
                    ("value", text),
                    when(error.is_some(), "aria-invalid", "true"),
                    if error.is_some() { ("aria-describedby", error_id.as_str()) } else { NONE },
                ],
            ),
        }
        let dimension = if field.key.starts_with("spans") { Dimension::Metres } else { field.spec.dimension };
        html.leaf("span", &[("class", "unit"), ("aria-hidden", "true")], dimension.unit(system).symbol);
        html.close("span");
        html.close("div");
        if let Some(error) = error {
            let problem = capitalised(&error.problem.in_units(system));
            let words = format!("{problem}. Permitted: {}.", error.permitted.in_units(system));
            html.leaf("p", &[("class", "error"), ("role", "alert"), ("id", &error_id)], &words);
        }
        html.close("div");
    }
    html.leaf(
        "p",
        &[("class", "field-note")],
        "Spans in order along the axis: 6 × 4.5, or 7.2 + 2.7 + 7.2. A unit may follow a number.",
    );
    html.open("div", &[("class", "tool-row")]);
    html.leaf("button", &[("type", "submit"), ("class", "main")], "Make the building");
    html.leaf("button", &[("type", "reset")], "Cancel");
    html.close("div");
    html.finish()
}

/// What the form holds.
fn held() -> Texts {
    let text = |field: &Field| {
        let input = document().get_element_by_id(&format!("answer-{}", field.key));
        let Some(input) = input.and_then(|input| input.dyn_into::<HtmlElement>().ok()) else { return String::new() };
        match (field.control, input.dyn_ref::<HtmlInputElement>()) {
            (Control::Flag, Some(input)) => input.checked().to_string(),
            _ => crate::live::value_of(&input),
        }
    };
    QUESTIONS.iter().map(text).collect()
}

/// The assistant, over the page until it is answered or put away.
#[component]
pub fn Assistant() -> impl IntoView {
    let app = App::of_page();
    let place = NodeRef::<html::Div>::new();
    let part = move |selector: &str| place.get_untracked()?.query_selector(selector).ok().flatten();
    let dialog = move || part("dialog").and_then(|dialog| dialog.dyn_into::<HtmlDialogElement>().ok());
    Effect::new(move |_| {
        if let Some(place) = place.get() {
            place.set_inner_html(
                "<dialog class=\"assistant\" aria-labelledby=\"assistant-title\"><form></form></dialog>",
            );
            // Closing does not bubble.
            let Some(dialog) = dialog() else { return };
            listen(&dialog, &["submit", "reset", "close"], move |event| {
                event.prevent_default();
                if event.type_() == "submit" {
                    take(app, part("form"));
                } else {
                    app.assistant.set(false);
                }
            });
        }
    });
    Effect::new(move |_| {
        let wanted = app.assistant.get();
        let (Some(dialog), Some(own)) = (dialog(), part("form")) else { return };
        if wanted {
            let system = app.system.get_untracked();
            own.set_inner_html(&form(&starting(system), None, system));
            let _ = dialog.show_modal();
            // The name is typed over, not added to.
            if let Some(name) = part("input").and_then(|name| name.dyn_into::<HtmlInputElement>().ok()) {
                name.select();
            }
        } else {
            dialog.close();
            own.set_inner_html("");
        }
    });
    view! { <div node_ref=place></div> }.into_any()
}

/// Gives the keyboard to the first element that fits.
fn focus(selector: &str) {
    let found = document().query_selector(selector).ok().flatten();
    if let Some(element) = found.and_then(|found| found.dyn_into::<HtmlElement>().ok()) {
        let _ = element.focus();
    }
}

/// Makes the building, or tells what is refused.
fn take(app: App, own: Option<web_sys::Element>) {
    let system = app.system.get_untracked();
    let texts = held();
    match described(&texts, system) {
        Ok(project) => {
            app.assistant.set(false);
            app.take(State { project: Arc::new(project), origin: Origin::Own });
            app.bench.set(Some(Bench::Building));
            // Over the sheet the bench takes the focus itself; beside it the work goes on there too.
            if app.wide.get_untracked() {
                request_animation_frame(|| focus("#bench section button"));
            }
        }
        Err(error) => {
            if let Some(own) = own {
                own.set_inner_html(&form(&texts, Some(&error), system));
            }
            focus(&format!("#answer-{}", error.path));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_form_starts_with_describes_a_building_in_either_system() {
        for system in [System::Si, System::Us] {
            let texts = starting(system);
            let made = described(&texts, system).expect("valid");
            let (long_m, side_mm, spans) =
                if system == System::Si { (27.0, 50.0, "7 + 2.5") } else { (27.432, 50.8, "23 + 8") };
            assert!((made.building.x_lines[6].at_m - long_m).abs() < 1e-3, "{texts:?}");
            assert_eq!(texts[7], spans);
            let steps = made.building.column_types[0].x_mm / side_mm;
            assert!((steps - steps.round()).abs() < 1e-9, "columns in whole steps of {side_mm} mm: {steps}");
            assert_eq!(made.building.masonry.len(), 1);
        }
    }

    #[test]
    fn a_refused_answer_is_named_with_its_range_in_the_units_shown() {
        let mut texts = starting(System::Us);
        texts[5] = "40".to_owned();
        let error = described(&texts, System::Us).expect_err("too high");
        assert!(form(&texts, Some(&error), System::Us).contains("Permitted: 7.875 to 16.4 ft."));
        texts[5] = "12".to_owned();
        texts[4] = "2.5".to_owned();
        assert_eq!(described(&texts, System::Us).expect_err("half a storey").path, "storeys");
    }
}
