//! Everything that changes a project.

use super::document::State;
use super::list::List;
use super::measures::new_measure;
use super::room_edit::RoomEdit;
use super::rows::{Cell, RowEdit};
use super::slot::{Root, Slot, measure};
use serde_json::{Value, json};
use sisterframe_core::eras;
use sisterframe_core::evaluate::FrameSizes;
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{Feature, FieldError, Measure, Practice, Project, Record, Scheme};
use sisterframe_core::units::System;
use sisterframe_core::works::Room;
use std::sync::Arc;

/// A change of the project that can be undone.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Gives a value.
    Set {
        /// Which.
        slot: Slot,
        /// The value as the file holds it; null leaves an optional one out.
        value: Value,
    },
    /// Adds an empty scheme.
    AddScheme,
    /// Adds a copy of a scheme after it.
    DuplicateScheme {
        /// Its place.
        scheme: usize,
    },
    /// Takes a scheme away.
    DeleteScheme {
        /// Its place.
        scheme: usize,
    },
    /// Moves a scheme to another place.
    MoveScheme {
        /// Its place.
        from: usize,
        /// Its place afterwards.
        to: usize,
    },
    /// Adds a measure with values that fit the building.
    AddMeasure {
        /// The scheme.
        scheme: usize,
        /// Key of the measure's kind.
        kind: String,
        /// Units its values are round numbers of.
        system: System,
    },
    /// Adds a measure as it is, to a scheme or to a new one.
    AddAt {
        /// The scheme; none for a new one.
        scheme: Option<usize>,
        /// The measure.
        measure: Measure,
    },
    /// Gives an external frame the sizes proposed for it.
    Size {
        /// The scheme.
        scheme: usize,
        /// The frame's place in it.
        measure: usize,
        /// The sizes.
        sizes: FrameSizes,
    },
    /// Takes a measure away.
    RemoveMeasure {
        /// The scheme.
        scheme: usize,
        /// The measure's place in it.
        measure: usize,
    },
    /// Changes the rows of a list.
    Rows {
        /// Which list.
        list: List,
        /// What is done.
        edit: RowEdit,
    },
    /// Changes a room chosen on the plan.
    Room {
        /// Which.
        room: Room,
        /// What is done.
        edit: RoomEdit,
    },
    /// Takes features as they are typical of a time, and notes them as assumed.
    TakeTypical {
        /// Which.
        features: Vec<Feature>,
        /// By which practice.
        practice: Practice,
        /// Typical of which year.
        year: u32,
        /// Units whose round numbers are taken.
        system: System,
    },
    /// Takes another project.
    Replace(State),
}

impl Command {
    /// What it does, for the names of undo and redo.
    pub fn words(&self, project: &Project) -> String {
        let name = |scheme: usize| project.schemes.get(scheme).map_or("", |scheme| scheme.name.as_str());
        match self {
            Self::Set { slot, .. } => {
                let label = slot.field(project).map_or(String::new(), |field| field.spec.label.to_lowercase());
                match slot.root {
                    Root::Project | Root::Motion | Root::Building | Root::Works => label,
                    Root::Row(list, row) => format!("{label} of {} {}", list.row_word(), row + 1),
                    Root::Scheme(scheme) | Root::Measure(scheme, _) => format!("{label} of {}", name(scheme)),
                }
            }
            Self::AddScheme => "new scheme".to_owned(),
            Self::DuplicateScheme { scheme } => format!("copy of {}", name(*scheme)),
            Self::DeleteScheme { scheme } => format!("deleting {}", name(*scheme)),
            Self::MoveScheme { from, .. } => format!("moving {}", name(*from)),
            Self::AddMeasure { scheme, kind, .. } => {
                format!("{} in {}", kind_label(kind).to_lowercase(), name(*scheme))
            }
            Self::AddAt { scheme, measure } => {
                let into = scheme.map_or("a new scheme", name);
                format!("{} in {into}", measure.label().to_lowercase())
            }
            Self::Size { scheme, .. } => format!("proposed sizes in {}", name(*scheme)),
            Self::RemoveMeasure { scheme, measure: place } => {
                let label = measure(project, *scheme, *place).map_or("", Measure::label).to_lowercase();
                format!("taking {label} out of {}", name(*scheme))
            }
            Self::Rows { list, edit } => edit.words(*list),
            Self::Room { room, edit } => edit.words(project, *room),
            Self::TakeTypical { features, practice, year, .. } => {
                let what = match features.as_slice() {
                    [one] => one.label().to_lowercase(),
                    more => format!("{} values", more.len()),
                };
                format!("{what} typical of {}", eras::time_and_place(*practice, eras::era(*practice, *year)))
            }
            Self::Replace(state) => format!("opening {}", state.project.name),
        }
    }

    /// The state after it; the one given is left as it is.
    ///
    /// # Errors
    /// What the field or the whole project refuses.
    pub fn applied(&self, state: &State) -> Result<State, FieldError> {
        if let Self::Replace(next) = self {
            next.project.check()?;
            return Ok(next.clone());
        }
        let mut project = (*state.project).clone();
        match self {
            Self::Set { slot: Slot { root: Root::Row(list, row), keys }, value } => {
                let cell = Cell { row: *row, keys: keys.clone(), value: value.clone() };
                RowEdit::Fill { grow: 0, cells: vec![cell] }.carry_out(&mut project, *list)?;
            }
            Self::Rows { list, edit } => edit.carry_out(&mut project, *list)?,
            Self::Set { slot, value } => {
                slot.write(&mut project, value)?;
                if let Root::Measure(scheme, place) = slot.root {
                    hold_bays(&mut project, scheme, place, &slot.keys)?;
                }
            }
            Self::AddScheme => {
                project.schemes.push(new_scheme(&project));
            }
            Self::DuplicateScheme { scheme } => {
                let mut copy = scheme_at(&project, *scheme)?.clone();
                copy.name = free_name(&project, &copy.name);
                project.schemes.insert(scheme + 1, copy);
            }
            Self::DeleteScheme { scheme } => {
                scheme_at(&project, *scheme)?;
                project.schemes.remove(*scheme);
            }
            Self::MoveScheme { from, to } => {
                scheme_at(&project, *from)?;
                scheme_at(&project, *to)?;
                let moved = project.schemes.remove(*from);
                project.schemes.insert(*to, moved);
            }
            Self::AddMeasure { scheme, kind, system } => {
                let added = new_measure(&project, *scheme, kind, *system)?;
                if let Some(scheme) = project.schemes.get_mut(*scheme) {
                    scheme.measures.push(added);
                }
            }
            Self::AddAt { scheme, measure } => {
                let place = match scheme {
                    Some(place) => {
                        scheme_at(&project, *place)?;
                        *place
                    }
                    None => {
                        project.schemes.push(new_scheme(&project));
                        project.schemes.len() - 1
                    }
                };
                project.schemes[place].measures.push(measure.clone());
            }
            Self::Size { scheme, measure, sizes } => {
                let own = project.schemes.get_mut(*scheme).and_then(|own| own.measures.get_mut(*measure));
                let Some(Measure::ExternalFrame(own)) = own else { return Err(gone("external frame")) };
                *own = sizes.applied(own);
            }
            Self::RemoveMeasure { scheme, measure: place } => {
                measure(&project, *scheme, *place).ok_or_else(|| gone("measure"))?;
                project.schemes[*scheme].measures.remove(*place);
            }
            Self::Room { room, edit } => edit.carry_out(&mut project, *room)?,
            Self::TakeTypical { features, practice, year, system } => {
                for feature in features {
                    eras::take(&mut project.building, *feature, *practice, *year, *system);
                }
            }
            Self::Replace(_) => {}
        }
        if let Self::Set { slot, .. } = self
            && slot.root == Root::Building
        {
            // A value typed is the user's own, even where it is the one assumed.
            project.building.assumed.retain(|own| !own.feature.keys().contains(&last_key(slot)));
        }
        if project.building != state.project.building {
            eras::forget_replaced(&mut project.building);
        }
        let adds = matches!(self, Self::AddMeasure { .. } | Self::AddAt { .. });
        if adds || matches!(self, Self::AddScheme | Self::DuplicateScheme { .. }) {
            within_counts(&project)?;
        }
        project.check()?;
        Ok(State { project: Arc::new(project), origin: state.origin.clone() })
    }

    /// Where a value's address moves to, or `None` if the value goes.
    pub fn moved(&self, slot: &Slot) -> Option<Slot> {
        let root = match (self, slot.root) {
            (Self::Replace(_), _) => return None,
            // All works set at once leave no entry typed over them.
            (Self::Set { slot, .. }, Root::Works | Root::Row(List::Rates, _))
                if slot.root == Root::Project && slot.keys == "works" =>
            {
                return None;
            }
            // So do proposed sizes.
            (Self::Size { scheme, measure, .. }, Root::Measure(own, place))
                if (*scheme, *measure) == (own, place) && FrameSizes::KEYS.contains(&slot.keys.as_str()) =>
            {
                return None;
            }
            // So do rooms changed on the plan, or all given back.
            (Self::Room { .. }, Root::Row(List::Rooms, _)) => return None,
            (Self::Set { slot: own, .. }, Root::Row(List::Rooms, _)) if own.path() == List::Rooms.path() => {
                return None;
            }
            // So do working times.
            (Self::Set { slot: own, .. }, Root::Project | Root::Row(List::Breaks, _))
                if own.root == Root::Project
                    && own.keys == "working_times"
                    && (slot.root != Root::Project || slot.keys.starts_with("working_times")) =>
            {
                return None;
            }
            // Nor do values taken as typical.
            (Self::TakeTypical { features, .. }, Root::Building | Root::Row(..))
                if features.iter().any(|own| own.keys().contains(&last_key(slot))) =>
            {
                return None;
            }
            (_, Root::Project | Root::Motion | Root::Building | Root::Works) => slot.root,
            (Self::Rows { list, edit }, Root::Row(own, row)) if *list == own => Root::Row(own, edit.moved(row)?),
            (_, Root::Row(..)) => slot.root,
            (_, Root::Scheme(own)) => Root::Scheme(self.moved_scheme(own)?),
            (Self::RemoveMeasure { scheme, measure }, Root::Measure(own, place)) if *scheme == own => {
                Root::Measure(own, if place == *measure { return None } else { place - usize::from(place > *measure) })
            }
            (_, Root::Measure(own, place)) => Root::Measure(self.moved_scheme(own)?, place),
        };
        Some(Slot { root, keys: slot.keys.clone() })
    }

    /// Where a scheme moves to, or `None` if it goes.
    pub fn moved_scheme(&self, own: usize) -> Option<usize> {
        match self {
            Self::DuplicateScheme { scheme } => Some(own + usize::from(own > *scheme)),
            Self::DeleteScheme { scheme } if *scheme == own => None,
            Self::DeleteScheme { scheme } => Some(own - usize::from(own > *scheme)),
            Self::MoveScheme { from, to } if *from == own => Some(*to),
            Self::MoveScheme { from, to } => {
                let without = own - usize::from(own > *from);
                Some(without + usize::from(without >= *to))
            }
            Self::Replace(_) => None,
            _ => Some(own),
        }
    }

    /// The scheme to look at afterwards, if the command is about one as a whole.
    pub fn scheme_after(&self, project: &Project) -> Option<usize> {
        match self {
            Self::AddScheme | Self::AddAt { scheme: None, .. } => project.schemes.len().checked_sub(1),
            Self::AddAt { scheme, .. } => *scheme,
            Self::DuplicateScheme { scheme } => Some(scheme + 1),
            Self::MoveScheme { to, .. } => Some(*to),
            _ => None,
        }
    }
}

/// The key of the field itself.
fn last_key(slot: &Slot) -> &str {
    slot.keys.rsplit('.').next().unwrap_or_default()
}

/// Name of a kind of measure on the page.
pub fn kind_label(kind: &str) -> &'static str {
    Measure::KINDS.iter().find(|(key, _)| *key == kind).map_or("", |(_, label)| label)
}

fn gone(what: &str) -> FieldError {
    FieldError {
        path: "schemes".to_owned(),
        value: String::new(),
        problem: format!("there is no such {what}").into(),
        permitted: Phrase::default(),
    }
}

fn scheme_at(project: &Project, scheme: usize) -> Result<&Scheme, FieldError> {
    project.schemes.get(scheme).ok_or_else(|| gone("scheme"))
}

/// A scheme without measures, under a name of its own.
fn new_scheme(project: &Project) -> Scheme {
    Scheme { name: free_name(project, "Scheme"), note: String::new(), measures: Vec::new() }
}

/// A name like `wanted` that no scheme has.
fn free_name(project: &Project, wanted: &str) -> String {
    let taken = |name: &str| project.schemes.iter().any(|scheme| scheme.name == name);
    // A copy of “Frame 2” is “Frame 3”, not “Frame 2 2”.
    let stem = wanted.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let stem: String = if stem.is_empty() { wanted } else { stem }.chars().take(70).collect();
    (1..).map(|n| format!("{stem} {n}")).find(|name| !taken(name)).unwrap_or(stem)
}

/// Lists that a command lengthens stay within the format's bounds; the field's own check
/// says so in the file's words.
fn within_counts(project: &Project) -> Result<(), FieldError> {
    let schemes = project.get("schemes").unwrap_or(json!([]));
    project.clone().set("schemes", &schemes)
}

/// Where a measure moves to a line with fewer bays, its bays are held to that line's.
fn hold_bays(project: &mut Project, scheme: usize, place: usize, keys: &str) -> Result<(), FieldError> {
    let Some(own) = measure(project, scheme, place) else { return Ok(()) };
    if !matches!(keys, "line" | "face") {
        return Ok(());
    }
    let line = own.get(keys).and_then(|name| name.as_str().map(str::to_owned)).unwrap_or_default();
    let Some((direction, _)) = project.building.line(&line) else { return Ok(()) };
    let most = project.building.bays(direction);
    let Some([first, last]) = own.get("bays").and_then(|span| {
        let end = |n: usize| span.get(n).and_then(Value::as_u64);
        Some([end(0)?, end(1)?])
    }) else {
        return Ok(());
    };
    if last <= u64::from(most) {
        return Ok(());
    }
    let slot = Slot::new(Root::Measure(scheme, place), "bays");
    slot.write(project, &json!([first.min(u64::from(most)), most]))
}
