//! Addresses of single values in a project.

use super::list::List;
use serde_json::{Value, json};
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{
    Building, Control, Field, FieldError, GroundMotion, Measure, OwnWorks, Project, Record, Scheme,
};
use sisterframe_core::works::Basis;

/// The record a value belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Root {
    /// The project itself.
    Project,
    /// The ground motion.
    Motion,
    /// The building.
    Building,
    /// What the works are reckoned with.
    Works,
    /// A row of one of the project's lists, by its place.
    Row(List, usize),
    /// A scheme, by its place.
    Scheme(usize),
    /// A measure, by its scheme's place and its own.
    Measure(usize, usize),
}

impl Root {
    /// The scheme it belongs to.
    pub const fn scheme(self) -> Option<usize> {
        match self {
            Self::Project | Self::Motion | Self::Building | Self::Works | Self::Row(..) => None,
            Self::Scheme(scheme) | Self::Measure(scheme, _) => Some(scheme),
        }
    }

    /// The record's table of fields.
    pub fn fields(self, project: &Project) -> &'static [Field] {
        match self {
            Self::Project => Project::FIELDS,
            Self::Motion => GroundMotion::FIELDS,
            Self::Building => Building::FIELDS,
            Self::Works => OwnWorks::FIELDS,
            Self::Row(list, place) if place < list.count(project) => list.fields(),
            Self::Row(..) => &[],
            Self::Scheme(_) => Scheme::FIELDS,
            Self::Measure(scheme, place) => measure(project, scheme, place).map_or(&[], Measure::fields),
        }
    }

    /// Where the record stands in the file.
    pub fn path(self) -> String {
        match self {
            Self::Project => String::new(),
            Self::Motion => "ground_motion".to_owned(),
            Self::Building => "building".to_owned(),
            Self::Works => "works".to_owned(),
            Self::Row(list, place) => format!("{}[{place}]", list.path()),
            Self::Scheme(scheme) => format!("schemes[{scheme}]"),
            Self::Measure(scheme, place) => format!("schemes[{scheme}].measures[{place}]"),
        }
    }
}

/// A measure of a project, if it is there.
pub fn measure(project: &Project, scheme: usize, place: usize) -> Option<&Measure> {
    project.schemes.get(scheme)?.measures.get(place)
}

/// A single value: its record and the keys that lead to it, as in `footing.length_m`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Slot {
    /// The record.
    pub root: Root,
    /// The keys, joined by dots.
    pub keys: String,
}

impl Slot {
    /// The value `keys` lead to in a record.
    pub fn new(root: Root, keys: impl Into<String>) -> Self {
        Self { root, keys: keys.into() }
    }

    /// The value a key leads to from here.
    pub fn within(&self, key: &str) -> Self {
        Self { root: self.root, keys: format!("{}.{key}", self.keys) }
    }

    /// Its description in the table of fields.
    pub fn field(&self, project: &Project) -> Option<Field> {
        let mut fields = self.root.fields(project);
        let mut found = None;
        for key in self.keys.split('.') {
            let field = *fields.iter().find(|field| field.key == key)?;
            found = Some(field);
            fields = match field.control {
                Control::Record(inner) => inner,
                _ => &[],
            };
        }
        found
    }

    /// Its value as the file holds it; `None` if it is left out or does not exist.
    pub fn read(&self, project: &Project) -> Option<Value> {
        let (head, rest) = self.keys.split_once('.').unwrap_or((&self.keys, ""));
        let value = match self.root {
            Root::Project => project.get(head),
            Root::Motion => project.ground_motion.get(head),
            Root::Building => project.building.get(head),
            Root::Works => Basis::of(project).assumption(head).map(|value| json!(value)),
            Root::Row(list, place) => list.rows(project).get(place)?.get(head).cloned(),
            Root::Scheme(scheme) => project.schemes.get(scheme)?.get(head),
            Root::Measure(scheme, place) => measure(project, scheme, place)?.get(head),
        };
        rest.split('.').filter(|key| !key.is_empty()).try_fold(value?, |value, key| value.get(key).cloned())
    }

    /// Replaces its value after checking the field alone; the project is unchanged on error.
    ///
    /// # Errors
    /// The refusal of the field, with its path in the whole file.
    pub fn write(&self, project: &mut Project, value: &Value) -> Result<(), FieldError> {
        let (head, rest) = self.keys.split_once('.').unwrap_or((&self.keys, ""));
        let value = if rest.is_empty() {
            value.clone()
        } else {
            let mut record = Self::new(self.root, head).read(project).unwrap_or(Value::Null);
            place_within(&mut record, rest, value);
            record
        };
        let gone = || FieldError {
            path: self.root.path(),
            value: String::new(),
            problem: "it is no longer part of the project".into(),
            permitted: Phrase::default(),
        };
        let written = match self.root {
            Root::Project => project.set(head, &value),
            Root::Motion => project.ground_motion.set(head, &value),
            Root::Building => project.building.set(head, &value),
            Root::Works => write_assumption(project, head, &value),
            Root::Row(list, place) => {
                let mut rows = list.rows(project);
                place_within(rows.get_mut(place).ok_or_else(gone)?, head, &value);
                return list.write(project, rows);
            }
            Root::Scheme(scheme) => project.schemes.get_mut(scheme).ok_or_else(gone)?.set(head, &value),
            Root::Measure(scheme, place) => project
                .schemes
                .get_mut(scheme)
                .and_then(|scheme| scheme.measures.get_mut(place))
                .ok_or_else(gone)?
                .set(head, &value),
        };
        written.map_err(|error| FieldError { path: join(&self.root.path(), &error.path), ..error })
    }

    /// Its path in the whole file.
    pub fn path(&self) -> String {
        join(&self.root.path(), &self.keys)
    }
}

/// Takes an assumption of the works; one that is as in the table is left out.
fn write_assumption(project: &mut Project, key: &str, value: &Value) -> Result<(), FieldError> {
    let mut own = project.works.clone().unwrap_or(OwnWorks::table());
    let is_table = value.as_f64().is_some_and(|number| Basis::TABLE.assumption(key) == Some(number));
    own.set(key, if is_table { &Value::Null } else { value })?;
    project.works = own.held();
    Ok(())
}

fn join(head: &str, tail: &str) -> String {
    if head.is_empty() { tail.to_owned() } else { format!("{head}.{tail}") }
}

/// Puts a value at dotted keys inside an object; a left-out value takes its key away.
pub(super) fn place_within(record: &mut Value, keys: &str, value: &Value) {
    let Some(object) = record.as_object_mut() else { return };
    match keys.split_once('.') {
        Some((head, rest)) => {
            if let Some(inner) = object.get_mut(head) {
                place_within(inner, rest, value);
            }
        }
        None if value.is_null() => {
            object.remove(keys);
        }
        None => {
            object.insert(keys.to_owned(), value.clone());
        }
    }
}
