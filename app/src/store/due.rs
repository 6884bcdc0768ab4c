//! What has to be computed again after a change.

use sisterframe_core::project::Project;

/// Results that are out of date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Due {
    /// None.
    Nothing,
    /// Labour and closed rooms.
    Works,
    /// Those of some schemes, by their places.
    Schemes(Vec<usize>),
    /// All.
    All,
}

/// What has to be computed again between two projects. A result depends on the building,
/// the ground motion, the rules and its own scheme, and on the scheme's place for its letter.
pub fn due(before: &Project, after: &Project) -> Due {
    let alike = before.building == after.building
        && before.ground_motion == after.ground_motion
        && before.rules == after.rules
        && before.name == after.name
        && before.schemes.len() == after.schemes.len();
    if !alike {
        return Due::All;
    }
    let changed = before.schemes.iter().zip(&after.schemes).enumerate();
    let changed: Vec<usize> = changed.filter(|(_, (old, new))| old != new).map(|(index, _)| index).collect();
    let as_worked = before.works == after.works && before.working_times == after.working_times;
    match (changed.is_empty(), as_worked) {
        (true, true) => Due::Nothing,
        (true, false) => Due::Works,
        (false, true) => Due::Schemes(changed),
        (false, false) => Due::All,
    }
}
