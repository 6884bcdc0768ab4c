//! The page's signals and everything that writes them.

use crate::ahead::Foresights;
use crate::bench::{measure_id, refusal_words};
use crate::files::keep;
use crate::renew::Renewal;
use crate::store::{
    Choice, Command, Document, Done, Entered, Entry, List, Origin, RoomEdit, Selection, Shelf, Slot, State, parse,
    starting_value,
};
use crate::view::View;
use leptos::prelude::*;
use serde_json::Value;
use sisterframe_core::evaluate::letter;
use sisterframe_core::measure::describe;
use sisterframe_core::project::{Field, FieldError, Measure, Project, Units};
use sisterframe_core::study::{OptionKind, Study};
use sisterframe_core::units::System;
use sisterframe_core::works::Room;
use std::sync::Arc;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// Something the page tells the user.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Message {
    /// The words; empty for nothing.
    pub words: String,
    /// Whether something was refused or failed: it is then read out at once and stays.
    pub refusal: bool,
}

/// A part of the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bench {
    /// The building as it stands.
    Building,
    /// Schemes and their measures.
    Measures,
    /// The shaking.
    Motion,
    /// Rates and assumptions of the works.
    Works,
}

impl Bench {
    /// The parts that exist.
    pub const ALL: [Self; 4] = [Self::Building, Self::Motion, Self::Measures, Self::Works];

    /// Whether it holds wide tables.
    pub const fn is_broad(self) -> bool {
        matches!(self, Self::Building | Self::Works)
    }

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Building => "Building",
            Self::Measures => "Measures",
            Self::Motion => "Ground motion",
            Self::Works => "Works",
        }
    }
}

/// The page's state; cheap to copy, one for the whole page.
#[derive(Clone, Copy)]
pub struct App {
    /// The project with its history and refused entries.
    pub document: RwSignal<Document>,
    /// The project alone; told only when it is another one.
    pub project: Memo<Arc<Project>>,
    /// The last good results.
    pub study: RwSignal<Arc<Study>>,
    /// What is looked at.
    pub selection: RwSignal<Selection>,
    /// Units numbers are shown in.
    pub system: RwSignal<System>,
    /// The part of the bench that is open.
    pub bench: RwSignal<Option<Bench>>,
    /// The measure the bench was opened for, by scheme and place.
    pub opened: RwSignal<Option<(usize, usize)>>,
    /// Whether the assistant for a new building is open.
    pub assistant: RwSignal<bool>,
    /// Whether the window has room for the bench beside the sheet.
    pub wide: RwSignal<bool>,
    /// Whether all sheets are laid out for the printer.
    pub printing: RwSignal<bool>,
    /// What was last told.
    pub message: RwSignal<Message>,
    /// Earlier projects.
    pub shelf: RwSignal<Shelf>,
    /// What has to be computed, and when.
    pub renewal: Renewal,
    /// What the sliders on the page foresee.
    pub foresights: Foresights,
}

impl App {
    /// The state of the page this component is part of.
    pub fn of_page() -> Self {
        expect_context()
    }

    /// A page with a project and its results.
    pub fn new(state: State, study: Study, shelf: Shelf) -> Self {
        let system = keep::units().unwrap_or(shown_in(state.project.units));
        let selection = Selection { both_sets: keep::both_sets(), ..Selection::of(&state.project) };
        let renewal = Renewal::new(state.project.clone());
        let document = RwSignal::new(Document::new(state));
        // Projects are never changed in place, so another one has another address.
        let project = Memo::new_with_compare(
            move |_| document.with(|document| document.project().clone()),
            |old: Option<&Arc<Project>>, new| match (old, new) {
                (Some(old), Some(new)) => !Arc::ptr_eq(old, new),
                _ => true,
            },
        );
        Self {
            document,
            project,
            study: RwSignal::new(Arc::new(study)),
            selection: RwSignal::new(selection),
            system: RwSignal::new(system),
            bench: RwSignal::new(None),
            opened: RwSignal::new(None),
            assistant: RwSignal::new(false),
            wide: RwSignal::new(true),
            printing: RwSignal::new(false),
            message: RwSignal::new(Message::default()),
            shelf: RwSignal::new(shelf),
            renewal,
            foresights: Foresights::new(),
        }
    }

    /// What sheets get of it: results and the project they belong to, which the document is
    /// ahead of until the next frame.
    pub fn view(self) -> View {
        let shown = self.renewal.evaluated();
        // Fitted to the project shown, so that what is looked at always has a result.
        let selection = Memo::new(move |_| shown.with(|project| self.selection.get().fitted(project)));
        View {
            project: shown.into(),
            study: self.study.into(),
            sheet: Memo::new(move |_| selection.get().sheet).into(),
            option: Memo::new(move |_| selection.get().option).into(),
            direction: Memo::new(move |_| selection.get().direction).into(),
            floor: Memo::new(move |_| selection.get().floor).into(),
            line: Memo::new(move |_| selection.get().line).into(),
            spot: Memo::new(move |_| selection.get().spot).into(),
            joint: Memo::new(move |_| selection.get().joint).into(),
            beside: self.renewal.beside().study().into(),
            both_sets: Memo::new(move |_| selection.get().both_sets).into(),
            room: Memo::new(move |_| selection.get().room).into(),
            system: self.system.into(),
            refused: Memo::new(move |_| self.document.with(|document| document.drafts().len())).into(),
            printing: self.printing.into(),
            choose: Callback::new(move |choice| self.choose(choice)),
            add: Callback::new(move |measure| self.add_at(measure)),
            arrange: Callback::new(move |(room, edit)| self.arrange(room, edit)),
        }
    }

    /// Looks at something else.
    pub fn choose(self, choice: Choice) {
        let project = self.project.get_untracked();
        let next = self.selection.get_untracked().chosen(choice).fitted(&project);
        let before = self.selection.get_untracked();
        if next != before {
            self.selection.set(next);
        }
        if next.both_sets != before.both_sets {
            keep::put_both_sets(next.both_sets);
            self.renewal.follow(self, Duration::ZERO);
        }
    }

    /// Tells the user something that was done.
    pub fn tell(self, words: impl Into<String>) {
        self.message.set(Message { words: words.into(), refusal: false });
    }

    /// Tells the user something that was refused or failed.
    pub fn warn(self, words: impl Into<String>) {
        self.message.set(Message { words: words.into(), refusal: true });
    }

    /// Carries out a command as a step that can be undone, and tells what came of it.
    pub fn apply(self, command: &Command) -> Option<Done> {
        self.renewal.mark_edit();
        let before = self.selection.get_untracked();
        let outcome = self.document.try_update(|document| document.apply(command))?;
        match outcome {
            Ok(done) => {
                let project = self.project.get_untracked();
                let followed = before.scheme().and_then(|scheme| command.moved_scheme(scheme));
                let mut next = before;
                if let Some(index) = done.scheme.or(followed) {
                    next.option = OptionKind::Scheme { index };
                }
                self.selection.set(next.fitted(&project));
                self.renewal.ask(self);
                Some(done)
            }
            Err(error) => {
                self.warn(format!("Not done: {}", in_words(&error, self.system.get_untracked())));
                None
            }
        }
    }

    /// Adds a measure chosen on a drawing to the scheme looked at, or to a new one where what is
    /// looked at has none, and opens the bench at it.
    fn add_at(self, measure: Measure) {
        let project = self.project.get_untracked();
        let looked_at = self.selection.get_untracked().fitted(&project).scheme();
        let words = describe(&measure, &project.building).in_units(self.system.get_untracked());
        let Some(done) = self.apply(&Command::AddAt { scheme: looked_at, measure }) else { return };
        let Some(index) = done.scheme else { return };
        let project = self.project.get_untracked();
        let Some(scheme) = project.schemes.get(index) else { return };
        self.tell(format!("Added to {} {}: {words}. Undo takes it out.", letter(index), scheme.name));
        let place = scheme.measures.len() - 1;
        self.opened.set(Some((index, place)));
        self.bench.set(Some(Bench::Measures));
        // One frame draws the bench, which over the sheet takes the focus; the next gives it on.
        request_animation_frame(move || {
            request_animation_frame(move || {
                let head = document().get_element_by_id(&measure_id(index, place));
                if let Some(head) = head.and_then(|head| head.dyn_into::<HtmlElement>().ok()) {
                    let _ = head.focus();
                }
            });
        });
    }

    /// Changes a room chosen on the plan in one step; gives the reason where that is refused.
    fn arrange(self, room: Room, edit: RoomEdit) -> Option<String> {
        let command = Command::Room { room, edit };
        // Told by the field it was typed in, not by the page.
        let refused = self.document.with_untracked(|document| command.applied(document.state()).err());
        if let Some(error) = refused {
            return Some(refusal_words(&error, self.system.get_untracked()));
        }
        if let Some(done) = self.apply(&command) {
            self.tell(format!("Done: {}. Undo takes it back.", done.words));
        }
        None
    }

    /// Gives a field the value a text stands for.
    pub fn enter_text(self, slot: &Slot, field: &Field, text: &str) -> bool {
        let value = parse(field, text, self.system.get_untracked());
        self.enter(slot, text, value)
    }

    /// Gives a field a value.
    pub fn enter(self, slot: &Slot, text: &str, value: Result<Value, FieldError>) -> bool {
        self.renewal.mark_edit();
        let accepted = self.document.try_update(|document| document.enter(slot, text, value)).unwrap_or(false);
        if accepted {
            self.renewal.ask(self);
        }
        accepted
    }

    /// Gives cells of a table their values in one step, and tells what is refused as a whole.
    pub fn enter_cells(self, list: List, entries: Vec<Entry>) -> Option<Entered> {
        self.renewal.mark_edit();
        match self.document.try_update(|document| document.enter_cells(list, entries))? {
            Ok(entered) => {
                self.renewal.ask(self);
                Some(entered)
            }
            Err(error) => {
                self.warn(format!("Not done: {}", in_words(&error, self.system.get_untracked())));
                None
            }
        }
    }

    /// Shows numbers in another system of units; the project is not touched.
    pub fn show_in(self, system: System) {
        if self.system.get_untracked() != system {
            self.system.set(system);
            keep::put_units(system);
        }
    }

    /// Switches an optional field on or off.
    pub fn switch(self, slot: &Slot, on: bool) {
        let value = if on {
            starting_value(&self.project.get_untracked(), slot, self.system.get_untracked())
        } else {
            Value::Null
        };
        self.enter(slot, "", Ok(value));
    }

    /// Starts a visit to a field, such as a drag.
    pub fn begin_visit(self, slot: &Slot) {
        let visited = self.document.with_untracked(|document| document.visit().is_some_and(|(own, _)| own == slot));
        if !visited {
            self.document.update(|document| document.begin_visit(slot));
        }
    }

    /// Ends the visit, keeping its value.
    pub fn end_visit(self) {
        if self.document.with_untracked(|document| document.visit().is_some()) {
            self.document.update(Document::end_visit);
            self.renewal.ask(self);
        }
    }

    /// Ends the visit, returning to the value before it.
    pub fn cancel_visit(self) {
        if self.document.with_untracked(|document| document.visit().is_some()) {
            self.renewal.mark_edit();
            self.document.update(Document::cancel_visit);
            self.renewal.ask(self);
        }
    }

    /// Takes back the last step.
    pub fn undo(self) {
        self.travel(Document::undo, "Undone: ", "There is nothing to undo.");
    }

    /// Brings back the last step taken back.
    pub fn redo(self) {
        self.travel(Document::redo, "Redone: ", "There is nothing to redo.");
    }

    fn travel(self, step: impl FnOnce(&mut Document) -> Option<String>, did: &str, nothing: &str) {
        self.renewal.mark_edit();
        match self.document.try_update(step).flatten() {
            Some(words) => {
                let project = self.project.get_untracked();
                self.selection.update(|selection| *selection = selection.fitted(&project));
                self.renewal.ask(self);
                self.tell(format!("{did}{words}."));
            }
            None => self.tell(nothing),
        }
    }

    /// Puts the user's own work away before another project takes its place.
    fn put_away(self) {
        let state = self.document.with_untracked(|document| document.state().clone());
        if !state.is_own_work() {
            return;
        }
        let dropped = self.shelf.try_update(|shelf| shelf.put(keep::now_in_words(), state)).unwrap_or_default();
        keep::put_shelf(self);
        if !dropped.is_empty() {
            self.warn(format!("No longer kept in this browser, to make room: {}.", dropped.join(", ")));
        }
    }

    /// Takes another project; undo returns to the one before.
    pub fn take(self, state: State) {
        let Selection { sheet, both_sets, .. } = self.selection.get_untracked();
        let name = state.project.name.clone();
        self.message.set(Message::default());
        self.put_away();
        if self.apply(&Command::Replace(state)).is_some() {
            let project = self.project.get_untracked();
            self.selection.set(Selection { sheet, both_sets, ..Selection::of(&project) });
            if !self.message.get_untracked().refusal {
                self.tell(format!("{name} is open."));
            }
        }
    }

    /// Opens the text of a project file; one that is refused leaves everything as it is.
    pub fn open_text(self, source: &str, text: &str) {
        match Project::from_json(text) {
            Ok(project) => {
                let system = shown_in(project.units);
                self.take(State { project: Arc::new(project), origin: Origin::Own });
                self.show_in(system);
            }
            Err(error) => {
                self.warn(format!(
                    "{source} was not opened, and the project is as it was. {}",
                    in_words(&error, System::Si)
                ));
            }
        }
    }

    /// Takes an earlier project back.
    pub fn take_from_shelf(self, place: usize) {
        if let Some(state) = self.shelf.try_update(|shelf| shelf.take(place)).flatten() {
            self.take(state);
            keep::put_shelf(self);
        }
    }
}

/// The system a project's units are of.
const fn shown_in(units: Units) -> System {
    match units {
        Units::Si => System::Si,
        Units::Us => System::Us,
    }
}

/// A refusal as a sentence.
pub fn in_words(error: &FieldError, system: System) -> String {
    let mut text = error.in_units(system);
    if let Some(first) = text.get(..1) {
        let upper = first.to_uppercase();
        text.replace_range(..1, &upper);
    }
    if text.ends_with('.') { text } else { format!("{text}.") }
}
