//! The project on the page with its history and the entries it refused.

use super::command::Command;
use super::slot::Slot;
use serde_json::Value;
use sisterframe_core::project::{FieldError, Project};
use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

/// The most steps that can be undone.
const MAX_STEPS: usize = 200;

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
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The entry as typed or chosen.
    pub text: String,
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
        if let Command::Set { slot, .. } = command {
            self.drop_drafts_of(slot);
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
        let command = |value| Command::Set { slot: slot.clone(), value };
        let entered = value.and_then(|value| {
            let command = command(value);
            Ok((command.applied(&self.state)?, command.words(&self.state.project)))
        });
        match entered {
            Ok((next, words)) => {
                self.drop_drafts_of(slot);
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
                self.drafts.insert(slot.clone(), Draft { text: text.to_owned(), error });
                false
            }
        }
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
        let same_lists = before.project.schemes.len() == self.state.project.schemes.len();
        let (old, new) = (&before.project, &self.state.project);
        self.drafts.retain(|slot, _| same_lists && slot.field(new).is_some() && slot.read(old) == slot.read(new));
        before
    }
}
