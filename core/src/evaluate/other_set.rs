//! The same project judged by the other rule set.

use crate::project::{Project, Record};
use crate::rules;
use serde_json::Value;

/// The project with the next complete rule set in place of its own, everything else the same;
/// `None` where there is no other that may be chosen.
///
/// ```
/// use sisterframe_core::{assistant, evaluate};
/// let own = assistant::project(&assistant::Answers::default())?;
/// let other = evaluate::by_other_set(&own).expect("two sets are complete");
/// assert_ne!(other.rules, own.rules);
/// assert_eq!(evaluate::by_other_set(&other), Some(own));
/// # Ok::<(), sisterframe_core::project::FieldError>(())
/// ```
pub fn by_other_set(project: &Project) -> Option<Project> {
    let own = project.rules.key();
    let sets = rules::all();
    let place = sets.iter().position(|set| set.key() == own)?;
    let after = sets.iter().cycle().skip(place + 1).take(sets.len() - 1);
    let other = after.into_iter().find(|set| set.complete())?;
    let mut judged = project.clone();
    judged.set("rules", &Value::from(other.key())).ok()?;
    judged.check().ok()?;
    Some(judged)
}
