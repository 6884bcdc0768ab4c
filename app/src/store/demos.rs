//! The demo scenarios that come with the page.

use sisterframe_core::project::{FieldError, Project};
use std::sync::{Arc, OnceLock};

/// Keys and files of the demos, in the order of the menu.
const FILES: &[(&str, &str)] = &[
    ("school", include_str!("../../../demo-scenarios/school.json")),
    ("clinic", include_str!("../../../demo-scenarios/clinic.json")),
    ("office", include_str!("../../../demo-scenarios/office.json")),
    ("corner", include_str!("../../../demo-scenarios/corner.json")),
];

/// A demo scenario.
#[derive(Clone, Debug, PartialEq)]
pub struct Demo {
    /// Its key.
    pub key: &'static str,
    /// Its project.
    pub project: Arc<Project>,
}

/// Reads every demo.
///
/// # Errors
/// The first refusal; a test keeps the files valid.
pub fn read_demos() -> Result<Vec<Demo>, FieldError> {
    FILES.iter().map(|(key, text)| Ok(Demo { key, project: Arc::new(Project::from_json(text)?) })).collect()
}

/// The demos, read once.
pub fn demos() -> &'static [Demo] {
    static DEMOS: OnceLock<Vec<Demo>> = OnceLock::new();
    DEMOS.get_or_init(|| read_demos().unwrap_or_default())
}
