//! The project on the page with its history and the entries it refused.

use super::command::Command;
use super::list::List;
use super::rows::{Cell, RowEdit, cell_slot};
use super::slot::{Root, Slot};
use serde_json::Value;
use sisterframe_core::project::{FieldError, Project};
use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

/// The most steps that can be undone.
const MAX_STEPS: usize = 200;
/// The most entries of one block that stay in their cells refused; a block with more is
/// refused as a whole.
const MAX_REFUSED: usize = 60;

/// Where a project came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The user's own.
    Own,
    /// One of the demos, by its key.
    Demo(String),
}

/// A project and where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// The project.
    pub project: Arc<Project>,
    /// Its origin.
    pub origin: Origin,
}

/// An entry that was refused: it stays in its field while the project holds the last
/// accepted value.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The entry as typed or chosen.
    pub text: String,
    /// The value it stands for, if it stands for one.
    pub value: Option<Value>,
    /// Why it was refused.
    pub error: FieldError,
}

/// What a command did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// The scheme to look at now, if the command is about one as a whole.
    pub scheme: Option<usize>,
    /// What was done, in words.
    pub words: String,
}

/// An entry for a cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The row, beyond the end for a new one.
    pub row: usize,
    /// The keys of the column.
    pub keys: String,
    /// The entry as typed or pasted.
    pub text: String,
    /// The value it stands for.
    pub value: Result<Value, FieldError>,
}

/// What became of a block of entries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entered {
    /// How many were accepted.
    pub taken: usize,
    /// How many stay in their cells as drafts.
    pub refused: usize,
    /// Rows put in.
    pub grown: usize,
}

#[derive(Clone, Debug, PartialEq)]
struct Step {
    words: String,
    state: State,
}

/// A visit to one field whose changes make one step: a drag, or keys on a slider.
#[derive(Clone, Debug, PartialEq)]
struct Visit {
    slot: Slot,
    before: State,
    redo: Vec<Step>,
    draft: Option<Draft>,
    stepped: bool,
}

/// The project on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    state: State,
    undo: VecDeque<Step>,
    redo: Vec<Step>,
    visit: Option<Visit>,
    drafts: BTreeMap<Slot, Draft>,
}

impl Document {
    /// A document without history.
    pub fn new(state: State) -> Self {
        Self { state, undo: VecDeque::new(), redo: Vec::new(), visit: None, drafts: BTreeMap::new() }
    }

    /// The project and its origin.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// The project.
    pub fn project(&self) -> &Arc<Project> {
        &self.state.project
    }

    /// What undo would take back, in words.
    pub fn undo_words(&self) -> Option<&str> {
        self.undo.back().map(|step| step.words.as_str())
    }

    /// What redo would bring back, in words.
    pub fn redo_words(&self) -> Option<&str> {
        self.redo.last().map(|step| step.words.as_str())
    }

    /// Entries that were refused.
    pub fn drafts(&self) -> &BTreeMap<Slot, Draft> {
        &self.drafts
    }

    /// Carries out a command as a step of its own.
    ///
    /// # Errors
    /// What the field or the whole project refuses; the document is unchanged then.
    pub fn apply(&mut self, command: &Command) -> Result<Done, FieldError> {
        self.end_visit();
        let next = command.applied(&self.state)?;
        let words = command.words(&self.state.project);
        let done = Done { scheme: command.scheme_after(&next.project), words: words.clone() };
        self.drafts = std::mem::take(&mut self.drafts)
            .into_iter()
            .filter_map(|(slot, draft)| Some((command.moved(&slot)?, draft)))
            .collect();
        match command {
            Command::Set { slot, .. } => self.drop_drafts_of(slot),
            Command::Rows { list, edit: RowEdit::Fill { cells, .. } } => {
                for cell in cells {
                    self.drop_drafts_of(&cell_slot(*list, cell.row, &cell.keys));
                }
            }
            _ => {}
        }
        if next != self.state {
            self.step(words, next);
        }
        Ok(done)
    }

    /// Gives a field a value; one that is refused stays as a draft with the reason.
    /// Returns whether it was accepted.
    pub fn enter(&mut self, slot: &Slot, text: &str, value: Result<Value, FieldError>) -> bool {
        if self.visit.as_ref().is_some_and(|visit| visit.slot != *slot) {
            self.end_visit();
        }
        let kept = value.as_ref().ok().cloned();
        let entered = value.and_then(|value| {
            let command = Command::Set { slot: slot.clone(), value };
            Ok((command.applied(&self.state)?, command.words(&self.state.project)))
        });
        match entered {
            Ok((next, words)) => {
                self.drop_drafts_of(slot);
                let next = self.settled(slot.root, next);
                if next != self.state {
                    match &mut self.visit {
                        Some(visit) if visit.stepped => self.state = next,
                        Some(visit) => {
                            visit.stepped = true;
                            self.step(words, next);
                        }
                        None => self.step(words, next),
                    }
                }
                true
            }
            Err(error) => {
                self.drafts.insert(slot.clone(), Draft { text: text.to_owned(), value: kept, error });
                false
            }
        }
    }

    /// Gives cells of a table their values in one step. Those that are refused stay in their
    /// cells as drafts with the reason; rows beyond the end are put in.
    ///
    /// # Errors
    /// Where more rows are needed than the list may have, or what is refused is none of the
    /// cells: then nothing is done.
    pub fn enter_cells(&mut self, list: List, entries: Vec<Entry>) -> Result<Entered, FieldError> {
        self.end_visit();
        let count = list.count(self.project());
        let grow = entries.iter().map(|entry| entry.row + 1).max().unwrap_or(0).saturating_sub(count);
        let (mut good, mut drafts) = (Vec::new(), Vec::new());
        for entry in entries {
            match entry.value.clone() {
                Ok(_) => good.push(entry),
                Err(error) => drafts.push((entry, error)),
            }
        }
        let (command, next) = loop {
            let value_of = |entry: &Entry| entry.value.clone().unwrap_or(Value::Null);
            let cell = |entry: &Entry| Cell { row: entry.row, keys: entry.keys.clone(), value: value_of(entry) };
            let cells = good.iter().map(cell).collect();
            let command = Command::Rows { list, edit: RowEdit::Fill { grow, cells } };
            match command.applied(&self.state) {
                Ok(next) => break (command, next),
                Err(error) => {
                    let place = good.iter().position(|entry| concerns(list, entry, &error.path));
                    let Some(place) = place.filter(|_| drafts.len() < MAX_REFUSED) else { return Err(error) };
                    let refused = good.remove(place);
                    drafts.push((refused, error));
                }
            }
        };
        let words = command.words(&self.state.project);
        for entry in &good {
            self.drop_drafts_of(&cell_slot(list, entry.row, &entry.keys));
        }
        let entered = Entered { taken: good.len(), refused: drafts.len(), grown: grow };
        let next = self.settled(Root::Row(list, 0), next);
        if next != self.state {
            self.step(words, next);
        }
        for (entry, error) in drafts {
            let slot = cell_slot(list, entry.row, &entry.keys);
            self.drafts.insert(slot, Draft { text: entry.text, value: entry.value.ok(), error });
        }
        Ok(entered)
    }

    /// A state with those entries of a list taken too that were refused only for the sake of
    /// what has changed now, as an ordinate beyond the next line was.
    fn settled(&mut self, root: Root, mut state: State) -> State {
        let Root::Row(list, _) = root else { return state };
        let waiting: Vec<(Slot, Value)> = self
            .drafts
            .iter()
            .filter(|(slot, _)| matches!(slot.root, Root::Row(own, _) if own == list))
            .filter_map(|(slot, draft)| Some((slot.clone(), draft.value.clone()?)))
            .collect();
        for (slot, value) in waiting {
            if let Ok(next) = (Command::Set { slot: slot.clone(), value }).applied(&state) {
                state = next;
                self.drafts.remove(&slot);
            }
        }
        state
    }

    /// Drops the entry of a field and of the fields inside it.
    fn drop_drafts_of(&mut self, slot: &Slot) {
        let inside = format!("{}.", slot.keys);
        self.drafts.retain(|own, _| {
            own.root != slot.root || (own.keys != slot.keys && !own.keys.starts_with(inside.as_str()))
        });
    }

    /// Forgets a refused entry, so that its field shows the accepted value again.
    pub fn forget_draft(&mut self, slot: &Slot) {
        self.drafts.remove(slot);
    }

    /// Starts a visit: changes of the field make one step until it ends.
    pub fn begin_visit(&mut self, slot: &Slot) {
        if self.visit.as_ref().is_some_and(|visit| visit.slot == *slot) {
            return;
        }
        self.end_visit();
        self.visit = Some(Visit {
            slot: slot.clone(),
            before: self.state.clone(),
            redo: self.redo.clone(),
            draft: self.drafts.get(slot).cloned(),
            stepped: false,
        });
    }

    /// The field being visited and the project before.
    pub fn visit(&self) -> Option<(&Slot, &Project)> {
        self.visit.as_ref().map(|visit| (&visit.slot, &*visit.before.project))
    }

    /// Ends a visit and keeps its last value. A visit that ends where it began is no step.
    pub fn end_visit(&mut self) {
        if let Some(visit) = self.visit.take()
            && visit.stepped
            && visit.before == self.state
        {
            self.undo.pop_back();
            self.redo = visit.redo;
        }
    }

    /// Ends a visit and returns to the value before it.
    pub fn cancel_visit(&mut self) {
        let Some(visit) = self.visit.take() else { return };
        if visit.stepped {
            self.undo.pop_back();
            self.redo = visit.redo;
            self.state = visit.before;
        }
        match visit.draft {
            Some(draft) => self.drafts.insert(visit.slot, draft),
            None => self.drafts.remove(&visit.slot),
        };
    }

    /// Takes back the last step; says what it was.
    pub fn undo(&mut self) -> Option<String> {
        self.end_visit();
        let Step { words, state } = self.undo.pop_back()?;
        let now = self.go_to(state);
        self.redo.push(Step { words: words.clone(), state: now });
        Some(words)
    }

    /// Brings back the last step taken back; says what it was.
    pub fn redo(&mut self) -> Option<String> {
        self.end_visit();
        let Step { words, state } = self.redo.pop()?;
        let now = self.go_to(state);
        self.undo.push_back(Step { words: words.clone(), state: now });
        Some(words)
    }

    /// Marks the project as the user's own, as saving it does. Not a step: undoing it would
    /// not take the saved file back.
    pub fn make_own(&mut self) {
        self.end_visit();
        self.state.origin = Origin::Own;
    }

    fn step(&mut self, words: String, next: State) {
        let before = std::mem::replace(&mut self.state, next);
        self.undo.push_back(Step { words, state: before });
        if self.undo.len() > MAX_STEPS {
            self.undo.pop_front();
        }
        self.redo.clear();
    }

    /// Takes a state; entries stay only where the value they were typed over is the same.
    fn go_to(&mut self, state: State) -> State {
        let before = std::mem::replace(&mut self.state, state);
        let (old, new) = (&before.project, &self.state.project);
        let same_schemes = old.schemes.len() == new.schemes.len();
        let same_list = |root: Root| match root {
            Root::Row(list, _) => list.count(old) == list.count(new),
            _ => same_schemes,
        };
        self.drafts
            .retain(|slot, _| same_list(slot.root) && slot.field(new).is_some() && slot.read(old) == slot.read(new));
        before
    }
}

/// Whether a refusal at a path is about an entry: its cell, a part of it, or its row.
fn concerns(list: List, entry: &Entry, path: &str) -> bool {
    let row = format!("{}[{}]", list.path(), entry.row);
    match path.strip_prefix(row.as_str()) {
        Some("") => true,
        Some(rest) => {
            let rest = rest.trim_start_matches('.');
            let after = rest.strip_prefix(entry.keys.as_str());
            after.is_some_and(|after| after.is_empty() || after.starts_with(['.', '[']))
        }
        None => false,
    }
}
