//! The demo scenarios as they are shipped.

use sisterframe_core::project::Project;

/// Keys and texts.
const FILES: [(&str, &str); 4] = [
    ("school", include_str!("../demo-scenarios/school.json")),
    ("clinic", include_str!("../demo-scenarios/clinic.json")),
    ("office", include_str!("../demo-scenarios/office.json")),
    ("corner", include_str!("../demo-scenarios/corner.json")),
];

/// All of them by their keys.
pub fn demos() -> [(&'static str, Project); 4] {
    FILES.map(|(key, _)| (key, demo(key)))
}

/// One of them.
pub fn demo(key: &str) -> Project {
    let text = FILES.iter().find(|(own, _)| *own == key).map(|(_, text)| *text);
    let Some(text) = text else { panic!("no demo scenario is called {key}") };
    Project::from_json(text).unwrap_or_else(|problem| panic!("{key}: {problem}"))
}
