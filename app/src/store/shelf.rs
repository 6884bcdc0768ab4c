//! What is kept between visits: the project on the page and earlier projects of one's own.

use super::demos::demos;
use super::document::{Origin, State};
use serde_json::{Value, json};
use sisterframe_core::project::Project;
use std::sync::Arc;

/// The most earlier projects kept.
const MAX_KEPT: usize = 12;
/// The most characters of earlier projects kept in all; a browser gives about five million.
const MAX_CHARS: usize = 1_500_000;

impl State {
    /// Whether the project is the user's own work: opened, saved, or a demo that was changed.
    pub fn is_own_work(&self) -> bool {
        match &self.origin {
            Origin::Own => true,
            Origin::Demo(key) => {
                demos().iter().find(|demo| demo.key == key).is_none_or(|demo| demo.project != self.project)
            }
        }
    }

    /// Text to keep between visits.
    pub fn to_text(&self) -> String {
        let origin = match &self.origin {
            Origin::Own => Value::Null,
            Origin::Demo(key) => json!(key),
        };
        json!({"demo": origin, "project": self.project.to_value()}).to_string()
    }

    /// The state a text was kept from; `None` if it cannot be read.
    pub fn from_text(text: &str) -> Option<Self> {
        let kept: Value = serde_json::from_str(text).ok()?;
        let project = Project::from_value(kept.get("project")?).ok()?;
        let origin = match kept.get("demo").and_then(Value::as_str) {
            Some(key) => Origin::Demo(key.to_owned()),
            None => Origin::Own,
        };
        Some(Self { project: Arc::new(project), origin })
    }
}

/// An earlier project.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// When it was put away, in words.
    pub when: String,
    /// The project and its origin.
    pub state: State,
}

/// Earlier projects, the latest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shelf {
    /// The projects.
    pub kept: Vec<Kept>,
}

impl Shelf {
    /// Puts a project away. Beyond a dozen, or a share of what browsers give, the oldest go;
    /// their names come back, so that nothing is dropped unsaid.
    pub fn put(&mut self, when: String, state: State) -> Vec<String> {
        self.kept.retain(|kept| kept.state.project != state.project);
        self.kept.insert(0, Kept { when, state });
        let mut dropped = Vec::new();
        while self.kept.len() > 1 && (self.kept.len() > MAX_KEPT || self.to_text().len() > MAX_CHARS) {
            dropped.extend(self.kept.pop().map(|kept| kept.state.project.name.clone()));
        }
        dropped
    }

    /// Takes a project back.
    pub fn take(&mut self, place: usize) -> Option<State> {
        (place < self.kept.len()).then(|| self.kept.remove(place).state)
    }

    /// Text to keep between visits.
    pub fn to_text(&self) -> String {
        let items: Vec<Value> =
            self.kept.iter().map(|kept| json!({"when": kept.when, "state": kept.state.to_text()})).collect();
        Value::Array(items).to_string()
    }

    /// The shelf a text was kept from; what cannot be read is left out.
    pub fn from_text(text: &str) -> Self {
        let items: Vec<Value> = serde_json::from_str(text).unwrap_or_default();
        let kept = items.iter().filter_map(|item| {
            let when = item.get("when")?.as_str()?.to_owned();
            Some(Kept { when, state: State::from_text(item.get("state")?.as_str()?)? })
        });
        Self { kept: kept.collect() }
    }
}

/// Name of the file a project is saved in.
pub fn file_name(project: &Project) -> String {
    let mut stem = String::new();
    for c in project.name.chars().flat_map(char::to_lowercase) {
        if c.is_alphanumeric() {
            stem.push(c);
        } else if !stem.is_empty() && !stem.ends_with('-') {
            stem.push('-');
        }
    }
    let stem = stem.trim_matches('-');
    format!("{}.sisterframe.json", if stem.is_empty() { "project" } else { stem })
}
