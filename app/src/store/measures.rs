//! Where a new measure goes, and values that optional fields start with.
//!
//! Sizes come from [`sisterframe_core::fitting::start`]; places are the first the building and
//! the scheme's other measures leave free.

use super::command::kind_label;
use super::slot::{Root, Slot, measure};
use serde_json::{Value, json};
use sisterframe_core::fitting::{faces, panels, start, usual_bays};
use sisterframe_core::phrase::Phrase;
use sisterframe_core::project::{
    Building, Control, Direction, Field, FieldError, GridLine, Measure, Names, Project, Span, Wire,
};
use sisterframe_core::units::System;

/// A measure of a kind that fits the building and goes with the scheme's other measures, in round numbers of the
/// units shown.
///
/// # Errors
/// In words, where the scheme or the building leaves no place for it.
pub fn new_measure(project: &Project, scheme: usize, kind: &str, system: System) -> Result<Measure, FieldError> {
    let mut last = None;
    for candidate in candidates(&project.building, kind) {
        let candidate = start::measure_in(candidate, &project.building, system);
        let mut trial = project.clone();
        let Some(own) = trial.schemes.get_mut(scheme) else { break };
        own.measures.push(candidate.clone());
        match trial.check() {
            Ok(()) => return Ok(candidate),
            Err(error) => last = Some(error),
        }
    }
    let (problem, permitted) = match last {
        Some(error) => {
            let mut problem = Phrase::from(format!("no place is left for {}: ", kind_label(kind).to_lowercase()));
            problem.extend([error.problem]);
            (problem, error.permitted)
        }
        None => ("there is no such measure or scheme".into(), Phrase::default()),
    };
    Err(FieldError { path: Root::Scheme(scheme).path(), value: kind.to_owned(), problem, permitted })
}

/// Measures of a kind at every place worth trying, the best place first.
fn candidates(building: &Building, kind: &str) -> Vec<Measure> {
    match kind {
        "jacket" => column_sets(building).map(|(x, y)| Measure::Jacket(start::jacket(x, y))).collect(),
        "wing_wall" => Direction::BOTH
            .into_iter()
            .flat_map(|direction| column_sets(building).map(move |(x, y)| (direction, x, y)))
            .map(|(direction, x, y)| Measure::WingWall(start::wing_wall(building, direction, x, y)))
            .collect(),
        "infill_wall" => panels(building)
            .into_iter()
            .map(|(line, bay)| Measure::InfillWall(start::infill_wall(building, &line, Span { first: bay, last: bay })))
            .collect(),
        "external_frame" => faces(building)
            .into_iter()
            .map(|(face, direction)| {
                Measure::ExternalFrame(start::external_frame(
                    building,
                    &face.name,
                    usual_bays(building.bays(direction)),
                ))
            })
            .collect(),
        "release" => column_sets(building).map(|(x, y)| Measure::Release(start::release(x, y))).collect(),
        _ => Vec::new(),
    }
}

fn names<'a>(lines: impl IntoIterator<Item = &'a GridLine>) -> Names {
    Names(lines.into_iter().map(|line| line.name.clone()).collect())
}

/// Sets of columns: all, each line across y, each line across x, each column.
fn column_sets(building: &Building) -> impl Iterator<Item = (Names, Names)> + '_ {
    let all = std::iter::once((Names::default(), Names::default()));
    let rows = building.y_lines.iter().map(|line| (Names::default(), names([line])));
    let files = building.x_lines.iter().map(|line| (names([line]), Names::default()));
    let single = building.y_lines.iter().flat_map(|y| building.x_lines.iter().map(move |x| (names([x]), names([y]))));
    all.chain(rows).chain(files).chain(single)
}

/// The value an optional field starts with when it is switched on, in round numbers of the units shown.
pub fn starting_value(project: &Project, slot: &Slot, system: System) -> Value {
    let Some(field) = slot.field(project) else { return Value::Null };
    start::value_in(usual_value(project, slot, &field), &field, &project.building, system)
}

fn usual_value(project: &Project, slot: &Slot, field: &Field) -> Value {
    let building = &project.building;
    let owner = match slot.root {
        Root::Measure(scheme, place) => measure(project, scheme, place),
        _ => None,
    };
    let record = |record: Option<Value>| record.unwrap_or_else(|| midway(field));
    match (slot.keys.as_str(), owner) {
        ("footing", Some(Measure::InfillWall(wall))) => {
            record(start::wall_footing(building, &wall.line, wall.bays).write())
        }
        ("footing", Some(Measure::WingWall(wing))) => record(start::wing_footing(wing.length_mm).write()),
        ("footing", Some(_)) => record(start::pad_footing().write()),
        ("opening", Some(Measure::InfillWall(wall))) => record(start::opening(building, &wall.line, wall.bays).write()),
        ("hoop_embedment_mm", Some(Measure::Jacket(jacket))) => json!(start::embedment_mm(building, jacket.hoop_mm)),
        ("edge_embedment_mm", Some(Measure::WingWall(wing))) => json!(start::embedment_mm(building, wing.bar_mm)),
        ("footing.subgrade_mn_m3", _) => {
            // The value the file format takes where it is left out: 120 times the bearing.
            let bearing = Slot::new(slot.root, "footing.bearing_kpa").read(project);
            json!(bearing.and_then(|value| value.as_f64()).unwrap_or(start::BEARING_KPA) * 0.12)
        }
        ("storeys", _) => {
            let all = building.all_storeys();
            match field.control {
                Control::Span => json!([all.first, all.last]),
                _ => json!(all.last),
            }
        }
        _ => midway(field),
    }
}

/// The record a row of the building's walls starts with where it had none.
pub fn starting_record(project: &Project, key: &str, row: &Value) -> Value {
    let building = &project.building;
    let line = row.get("line").and_then(Value::as_str).unwrap_or_default();
    let bay = row.get("bay").and_then(Value::as_u64).unwrap_or(1) as u32;
    let bays = Span { first: bay.max(1), last: bay.max(1) };
    let record = if key == "opening" {
        start::opening(building, line, bays).write()
    } else {
        start::wall_footing(building, line, bays).write()
    };
    record.unwrap_or(Value::Null)
}

/// The middle of a field's range, for a field that nothing better is known of.
fn midway(field: &Field) -> Value {
    let spec = &field.spec;
    if let Some(default) = spec.default.and_then(|text| serde_json::from_str(text).ok()) {
        return default;
    }
    match field.control {
        Control::Number | Control::Whole => json!(super::entry::stop(field, (spec.min + spec.max) / 2.0, System::Si)),
        Control::Flag => json!(false),
        Control::Choice(options) => json!(options.first().map_or("", |(key, _)| *key)),
        Control::Span => json!([spec.min, spec.min]),
        Control::Record(fields) => Value::Object(
            fields.iter().filter(|inner| !inner.optional).map(|inner| (inner.key.to_owned(), midway(inner))).collect(),
        ),
        Control::Text => json!(""),
        Control::Names | Control::Part => json!([]),
    }
}
