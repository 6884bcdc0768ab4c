//! Sizes of an external frame proposed for a target, as part of its form. They are sought while the page
//! stays free, one evaluation a task; an edit stops the search.

use crate::bench::held::refusal_words;
use crate::files::keep;
use crate::live::{listen, value_of};
use crate::sheets::{Html, clicked, when, write};
use crate::state::App;
use crate::store::{Command, glanced, parse};
use crate::view::View;
use leptos::html;
use leptos::prelude::*;
use serde_json::json;
use sisterframe_core::evaluate::{FrameSizes, SizeTarget, Sizing, SizingOutcome};
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::{ExternalFrame, FieldError, Measure, Project, Record};
use sisterframe_core::reading::{sizing, sizing_rows};
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::System;
use std::sync::Arc;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlElement};

/// How far a search is.
enum Stage {
    Idle,
    /// Being evaluated.
    Running(Box<Sizing>),
    /// Stopped or out of date, with the reason.
    Told(&'static str),
    Found(Box<SizingOutcome>),
}

/// What the form holds.
struct Held {
    target: SizeTarget,
    text: String,
    /// Units of the text.
    system: System,
    refused: Option<FieldError>,
    stage: Stage,
    /// The project all that belongs to.
    project: Arc<Project>,
}

/// The aid for one frame; cheap to copy. Its form is written as markup whenever what it holds changes: signals
/// and components of its own would cost the page kilobytes.
#[derive(Clone, Copy)]
pub struct Aid {
    app: App,
    scheme: usize,
    measure: usize,
    held: StoredValue<Held>,
    place: NodeRef<html::Div>,
}

impl Aid {
    /// Nothing sought yet.
    pub fn new(app: App, scheme: usize, measure: usize) -> Self {
        let held = Held {
            target: SizeTarget::Share,
            text: String::new(),
            system: System::Si,
            refused: None,
            stage: Stage::Idle,
            project: app.project.get_untracked(),
        };
        let own = Self { app, scheme, measure, held: StoredValue::new(held), place: NodeRef::new() };
        own.start_with(SizeTarget::Share);
        own
    }

    /// Asks for another kind of target, with a value to start from.
    fn start_with(self, target: SizeTarget) {
        let value = match target {
            SizeTarget::Share => 0.4,
            SizeTarget::CapacityToDemand => 1.0,
            // A tenth more than it has.
            SizeTarget::Strength => (1.1 * self.strength_kn().unwrap_or(1000.0) / 100.0).ceil() * 100.0,
        };
        let system = self.app.system.get_untracked();
        self.held.update_value(|held| {
            held.target = target;
            held.text = glanced(&json!(value), target.field().spec.dimension, system);
            held.system = system;
            held.refused = None;
        });
    }

    /// Base shear strength of the scheme along the face.
    fn strength_kn(self) -> Option<f64> {
        let project = self.app.project.get_untracked();
        let (direction, _) = project.building.line(&frame(&project, self.scheme, self.measure)?.face)?;
        self.app.study.with_untracked(|study| {
            let kind = OptionKind::Scheme { index: self.scheme };
            let option = study.options.iter().find(|option| option.kind == kind)?;
            Some(option.directions.get(direction.index())?.capacity.as_ref()?.strength_kn)
        })
    }

    fn id(self, part: &str) -> String {
        format!("aid-{}-{}-{part}", self.scheme, self.measure)
    }

    /// Begins a search.
    fn propose(self) {
        let project = self.app.project.get_untracked();
        self.held.update_value(|held| {
            let sought = parse(&held.target.field(), &held.text, held.system).and_then(|value| {
                let wanted = value.as_f64().unwrap_or(f64::NAN);
                Sizing::new(&project, self.scheme, self.measure, held.target, wanted, held.system)
            });
            (held.stage, held.refused) = match sought {
                Ok(search) => (Stage::Running(Box::new(search)), None),
                Err(error) => (Stage::Idle, Some(error)),
            };
            held.project = project;
        });
        self.draw();
        self.go_on();
    }

    fn go_on(self) {
        set_timeout(move || self.step(), Duration::ZERO);
    }

    /// Evaluates one candidate and makes room for the page before the next.
    fn step(self) {
        // The form may be gone, or the search stopped.
        let is_running = self.held.try_update_value(|held| {
            let Stage::Running(search) = &mut held.stage else { return false };
            match keep::watched(|| search.step()) {
                None => return true,
                Some(Ok(found)) => {
                    self.app.tell(if found.reaches { "Sizes are proposed." } else { "No sizes reach the target." });
                    held.stage = Stage::Found(Box::new(found));
                }
                Some(Err(error)) => (held.stage, held.refused) = (Stage::Idle, Some(error)),
            }
            false
        });
        match is_running {
            Some(true) => self.go_on(),
            Some(false) => {}
            None => return,
        }
        self.draw();
    }

    /// Gives the frame the sizes proposed, in one step.
    fn take(self) {
        let sizes = self.held.try_update_value(|held| match std::mem::replace(&mut held.stage, Stage::Idle) {
            Stage::Found(found) => Some(found.best.sizes),
            _ => None,
        });
        let Some(Some(sizes)) = sizes else { return };
        let command = Command::Size { scheme: self.scheme, measure: self.measure, sizes };
        if self.app.apply(&command).is_some() {
            self.app.tell("The proposed sizes are in use. Undo takes them back.");
        }
        let button = document().get_element_by_id(&self.id("propose"));
        if let Some(button) = button.and_then(|button| button.dyn_into::<HtmlElement>().ok()) {
            let _ = button.focus();
        }
        self.draw();
    }

    /// The form, folded away at first.
    pub fn form(self) -> AnyView {
        let view = View::of_page();
        Effect::new(move |is_heard: Option<bool>| {
            self.app.project.track();
            self.app.system.track();
            let Some(place) = self.place.get() else { return false };
            if is_heard != Some(true) {
                listen(&place, &["submit", "input", "click"], move |event| self.hear(view, &event));
            }
            self.draw();
            true
        });
        view! { <div node_ref=self.place></div> }.into_any()
    }

    fn hear(self, view: View, event: &Event) {
        let Some(part) = event.target().and_then(|target| target.dyn_into::<HtmlElement>().ok()) else { return };
        match event.type_().as_str() {
            "submit" => {
                event.prevent_default();
                self.propose();
            }
            "click" if part.id() == self.id("take") => self.take(),
            "click" => clicked(view, &part),
            _ if part.id() == self.id("value") => self.held.update_value(|held| held.text = value_of(&part)),
            _ => {
                let key = value_of(&part);
                if let Some(target) = SizeTarget::ALL.into_iter().find(|own| own.field().key == key) {
                    self.start_with(target);
                    self.draw();
                }
            }
        }
    }

    /// Writes the form anew where it stands; what was found belongs to one state of the project, and what is typed
    /// keeps its meaning when the units change.
    fn draw(self) {
        let (project, system) = (self.app.project.get_untracked(), self.app.system.get_untracked());
        let html = self.held.try_update_value(|held| {
            if !Arc::ptr_eq(&held.project, &project) {
                held.stage = match held.stage {
                    Stage::Running(_) => Stage::Told("Stopped by an edit. Propose again."),
                    Stage::Found(_) => Stage::Told("The project has changed since sizes were proposed. Propose again."),
                    Stage::Idle | Stage::Told(_) => Stage::Idle,
                };
                held.project = project;
            }
            if held.system != system {
                let field = held.target.field();
                if let Ok(value) = parse(&field, &held.text, held.system) {
                    held.text = glanced(&value, field.spec.dimension, system);
                }
                held.system = system;
                if matches!(held.stage, Stage::Running(_) | Stage::Found(_)) {
                    held.stage =
                        Stage::Told("The units have changed, and sizes are whole numbers of them. Propose again.");
                }
            }
            self.markup(held)
        });
        if let (Some(place), Some(html)) = (self.place.get_untracked(), html) {
            write(&place, &html);
        }
    }

    fn markup(self, held: &Held) -> String {
        let system = held.system;
        let mut html = Html::shown_in(system);
        let [value, error] = ["value", "error"].map(|part| self.id(part));
        // A mark stands for what the ids begin with.
        html.raw(&HEAD.replace('$', &self.id("")));
        html.ask(Figure::FrameSizes, &value);
        html.raw(&CHOICE.replace('$', &self.id("")));
        for own in SizeTarget::ALL {
            let field = own.field();
            html.leaf("option", &[("value", field.key), when(own == held.target, "selected", "")], field.spec.label);
        }
        html.raw("</select><span class=\"entry\">");
        let spec = held.target.field().spec;
        let is_refused = held.refused.is_some();
        html.open(
            "input",
            &[
                ("id", &value),
                ("type", "text"),
                ("inputmode", "decimal"),
                ("autocomplete", "off"),
                ("aria-label", spec.label),
                ("value", &held.text),
                when(is_refused, "aria-invalid", "true"),
                when(is_refused, "aria-describedby", &error),
            ],
        );
        html.leaf("span", &[("class", "unit")], spec.dimension.unit(system).symbol);
        html.raw("</span></div>");
        if let Some(refused) = &held.refused {
            html.leaf("p", &[("class", "error"), ("role", "alert"), ("id", &error)], &refusal_words(refused, system));
        }
        html.raw(&FOOT.replace('$', &self.id("")));
        let words = match &held.stage {
            Stage::Idle => String::new(),
            Stage::Told(words) => (*words).to_owned(),
            Stage::Running(search) => {
                format!("Evaluating the scheme: {} of up to {} sizes.", search.done(), search.all())
            }
            Stage::Found(found) => sizing(found, system),
        };
        html.leaf("p", &[], &words);
        if let (Stage::Found(found), Some(now)) = (&held.stage, frame(&held.project, self.scheme, self.measure)) {
            table(&mut html, found, now, system);
            html.raw(&TAKE.replace('$', &self.id("")));
        }
        html.finish()
    }
}

const HEAD: &str = "<details class=\"details aid\" id=\"$fold\"><summary id=\"$head\">Propose sizes for a target</summary>\
                    <form><div class=\"field number\"><label for=\"$target\">Along the face, at least</label>";
const CHOICE: &str = "<div class=\"field-line\"><select id=\"$target\">";
const FOOT: &str = "</div><button id=\"$propose\">Propose sizes</button></form>";
const TAKE: &str = "<button type=\"button\" id=\"$take\">Use these sizes</button>";

/// The external frame at a place.
fn frame(project: &Project, scheme: usize, measure: usize) -> Option<&ExternalFrame> {
    match project.schemes.get(scheme)?.measures.get(measure)? {
        Measure::ExternalFrame(own) => Some(own),
        _ => None,
    }
}

/// Sizes and figures, each as it is and as proposed.
fn table(html: &mut Html, found: &SizingOutcome, now: &ExternalFrame, system: System) {
    html.raw(
        "<table class=\"grid\"><thead><tr><th scope=\"col\">Size, and what it gives\
         <th scope=\"col\">Now<th scope=\"col\">Proposed<th scope=\"col\">Permitted or asked for</thead><tbody>",
    );
    let mut row = |label: &str, cells: [&str; 3]| {
        html.raw("<tr>");
        html.leaf("th", &[("scope", "row")], label);
        for cell in cells {
            html.leaf("td", &[], cell);
        }
    };
    let proposed = found.best.sizes.applied(now);
    for field in ExternalFrame::FIELDS.iter().filter(|field| FrameSizes::KEYS.contains(&field.key)) {
        let dimension = field.spec.dimension;
        let [now, proposed] =
            [now, &proposed].map(|own| glanced(&own.get(field.key).unwrap_or_default(), dimension, system));
        let unit = dimension.unit(system).symbol;
        let label = if unit.is_empty() { field.spec.label.to_owned() } else { format!("{}, {unit}", field.spec.label) };
        row(&label, [&now, &proposed, &field.spec.range().in_units(system)]);
    }
    for own in sizing_rows(found, system) {
        row(&own.label, [&own.now, &own.proposed, &own.asked]);
    }
    html.raw("</tbody></table>");
}
