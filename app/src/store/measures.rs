//! Values a new measure starts with.
//!
//! Sizes are those usually tried first (common practice, no source); places are the first
//! the building and the scheme's other measures leave free. The user changes them at once.

use super::command::kind_label;
use super::slot::{Root, Slot, measure};
use serde_json::{Value, json};
use sisterframe_core::order;
use sisterframe_core::project::{
    Building, Control, Direction, ExternalFrame, Field, FieldError, Footing, GridLine, InfillWall, Jacket, Measure,
    Names, Opening, Project, Release, Sides, Span, Surface, WingWall, Wire,
};

/// Strength of new concrete to start with, MPa.
const CONCRETE_MPA: f64 = 28.0;
/// Yield strength of new bars to start with, MPa.
const STEEL_MPA: f64 = 420.0;
/// Allowable bearing to start with, kPa: firm ground, to be replaced by the site's own.
const BEARING_KPA: f64 = 150.0;

/// A measure of a kind that fits the building and goes with the scheme's other measures.
///
/// # Errors
/// In words, where the scheme or the building leaves no place for it.
pub fn new_measure(project: &Project, scheme: usize, kind: &str) -> Result<Measure, FieldError> {
    let mut last = None;
    for candidate in candidates(&project.building, kind) {
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
            (format!("no place is left for {}: {}", kind_label(kind).to_lowercase(), error.problem), error.permitted)
        }
        None => ("there is no such measure or scheme".to_owned(), String::new()),
    };
    Err(FieldError { path: Root::Scheme(scheme).path(), value: kind.to_owned(), problem, permitted })
}

/// Measures of a kind at every place worth trying, the best place first.
fn candidates(building: &Building, kind: &str) -> Vec<Measure> {
    match kind {
        "jacket" => column_sets(building).map(|(x, y)| Measure::Jacket(jacket(x, y))).collect(),
        "wing_wall" => Direction::BOTH
            .into_iter()
            .flat_map(|direction| column_sets(building).map(move |(x, y)| (direction, x, y)))
            .map(|(direction, x, y)| Measure::WingWall(wing_wall(building, direction, x, y)))
            .collect(),
        "infill_wall" => panels(building)
            .into_iter()
            .map(|(line, bay)| Measure::InfillWall(infill_wall(building, &line, bay)))
            .collect(),
        "external_frame" => faces(building)
            .into_iter()
            .map(|(face, direction)| Measure::ExternalFrame(external_frame(building, face, direction)))
            .collect(),
        "release" => column_sets(building)
            .map(|(x, y)| Measure::Release(Release { x, y, storeys: None, gap_mm: 40.0 }))
            .collect(),
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

/// Bays of a line from the middle out, counted from 1.
fn from_middle(bays: u32) -> Vec<u32> {
    let mut order: Vec<u32> = (1..=bays).collect();
    order::sort_by_key(&mut order, |bay| (2 * bay).abs_diff(bays + 1));
    order
}

/// Bays to fill: the middle ones first, of the inner lines and then the outer.
fn panels(building: &Building) -> Vec<(String, u32)> {
    let mut lines: Vec<(bool, &GridLine, u32)> = Vec::new();
    for (own, direction) in [(&building.y_lines, Direction::X), (&building.x_lines, Direction::Y)] {
        let last = own.len() - 1;
        lines.extend(
            own.iter().enumerate().map(|(place, line)| (place == 0 || place == last, line, building.bays(direction))),
        );
    }
    order::sort_by_key(&mut lines, |(outer, _, _)| *outer);
    let most = lines.iter().map(|(_, _, bays)| *bays).max().unwrap_or(0) as usize;
    let ordered = |rank: usize| {
        lines.iter().filter_map(move |(_, line, bays)| Some((line.name.clone(), *from_middle(*bays).get(rank)?)))
    };
    (0..most).flat_map(ordered).collect()
}

/// Outer lines with the direction they run in, the longer faces first.
fn faces(building: &Building) -> Vec<(&GridLine, Direction)> {
    let length = |lines: &[GridLine]| lines[lines.len() - 1].at_m - lines[0].at_m;
    let along_x = [building.y_lines.first(), building.y_lines.last()].map(|line| line.map(|line| (line, Direction::X)));
    let along_y = [building.x_lines.first(), building.x_lines.last()].map(|line| line.map(|line| (line, Direction::Y)));
    let mut all =
        if length(&building.x_lines) >= length(&building.y_lines) { [along_x, along_y] } else { [along_y, along_x] }
            .concat();
    all.dedup();
    all.into_iter().flatten().collect()
}

fn jacket(x: Names, y: Names) -> Jacket {
    Jacket {
        x,
        y,
        storeys: None,
        thickness_mm: 100.0,
        bars: 12,
        bar_mm: 19.0,
        hoop_mm: 12.0,
        hoop_spacing_mm: 100.0,
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        continuous: true,
    }
}

fn wing_wall(building: &Building, direction: Direction, x: Names, y: Names) -> WingWall {
    let along = match direction {
        Direction::X => &building.x_lines,
        Direction::Y => &building.y_lines,
    };
    let shortest = along.windows(2).map(|pair| pair[1].at_m - pair[0].at_m).fold(f64::INFINITY, f64::min);
    // An eighth of the shortest bay keeps most of the window on both sides.
    let length_mm = (shortest * 1000.0 / 8.0 / 50.0).round() * 50.0;
    WingWall {
        x,
        y,
        direction,
        storeys: None,
        sides: Sides::Both,
        length_mm: length_mm.clamp(200.0, 900.0),
        thickness_mm: 200.0,
        bar_mm: 13.0,
        bar_spacing_mm: 150.0,
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        embedment_mm: 0.0,
    }
}

fn infill_wall(building: &Building, line: &str, bay: u32) -> InfillWall {
    let mut wall = InfillWall {
        line: line.to_owned(),
        bays: Span { first: bay, last: bay },
        storeys: None,
        thickness_mm: 200.0,
        bar_mm: 13.0,
        bar_spacing_mm: 200.0,
        dowel_mm: 16.0,
        dowel_spacing_mm: 200.0,
        dowel_embedment_mm: 160.0,
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        opening: None,
        footing: None,
    };
    wall.footing = Some(wall_footing(building, &wall));
    wall
}

fn external_frame(building: &Building, face: &GridLine, direction: Direction) -> ExternalFrame {
    let bays = building.bays(direction);
    // The end bays stay free for stairs and ways in where there are enough others.
    let span = if bays >= 5 { Span { first: 2, last: bays - 1 } } else { Span { first: 1, last: bays } };
    let lowest = building.storeys.iter().map(|storey| storey.height_m).fold(f64::INFINITY, f64::min);
    ExternalFrame {
        face: face.name.clone(),
        bays: span,
        storeys: None,
        gap_m: 0.6,
        column_along_mm: 600.0,
        column_across_mm: 600.0,
        column_bars: 12,
        column_bar_mm: 25.0,
        hoop_mm: 12.0,
        hoop_spacing_mm: 100.0,
        beam_width_mm: 400.0,
        beam_depth_mm: ((500.0 * lowest / 25.0).floor() * 25.0).min(700.0),
        beam_bars: 4,
        beam_bar_mm: 25.0,
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        slab_mm: 200.0,
        across_bar_mm: 16.0,
        across_spacing_mm: 150.0,
        across_layers: 1,
        embedment_mm: 200.0,
        along_bar_mm: 13.0,
        along_spacing_mm: 150.0,
        surface: Surface::Roughened,
        footing: Some(footing(2.5, 2.5)),
    }
}

fn footing(length_m: f64, width_m: f64) -> Footing {
    Footing { length_m, width_m, depth_m: 0.6, bearing_kpa: BEARING_KPA, subgrade_mn_m3: None }
}

/// A strip under a wall that reaches half a metre beyond its bays.
fn wall_footing(building: &Building, wall: &InfillWall) -> Footing {
    footing(((bays_length_m(building, &wall.line, wall.bays) + 1.0) * 10.0).round() / 10.0, 1.5)
}

fn bays_length_m(building: &Building, line: &str, bays: Span) -> f64 {
    let along = match building.line(line) {
        Some((Direction::Y, _)) => &building.y_lines,
        _ => &building.x_lines,
    };
    let at = |end: u32| along.get(end as usize).map_or(0.0, |line| line.at_m);
    at(bays.last) - at(bays.first - 1)
}

/// The value an optional field starts with when it is switched on.
pub fn starting_value(project: &Project, slot: &Slot) -> Value {
    let Some(field) = slot.field(project) else { return Value::Null };
    let building = &project.building;
    let owner = match slot.root {
        Root::Measure(scheme, place) => measure(project, scheme, place),
        _ => None,
    };
    let record = |record: Option<Value>| record.unwrap_or_else(|| midway(&field));
    match (slot.keys.as_str(), owner) {
        ("footing", Some(Measure::InfillWall(wall))) => record(wall_footing(building, wall).write()),
        ("footing", Some(_)) => record(footing(2.5, 2.5).write()),
        ("opening", Some(Measure::InfillWall(wall))) => {
            let narrowest = wall
                .bays
                .iter()
                .map(|bay| bays_length_m(building, &wall.line, Span { first: bay, last: bay }))
                .fold(f64::INFINITY, f64::min);
            let width_mm = (300.0 * narrowest / 50.0).floor() * 50.0;
            record(Opening { width_mm: width_mm.clamp(200.0, 900.0), height_mm: 2000.0 }.write())
        }
        ("footing.subgrade_mn_m3", _) => {
            // The value the file format takes where it is left out: 120 times the bearing.
            let bearing = Slot::new(slot.root, "footing.bearing_kpa").read(project);
            json!(bearing.and_then(|value| value.as_f64()).unwrap_or(BEARING_KPA) * 0.12)
        }
        ("storeys", _) => {
            let all = building.all_storeys();
            match field.control {
                Control::Span => json!([all.first, all.last]),
                _ => json!(all.last),
            }
        }
        _ => midway(&field),
    }
}

/// The record a row of the building's walls starts with where it had none.
pub fn starting_record(project: &Project, key: &str, row: &Value) -> Value {
    let building = &project.building;
    let line = row.get("line").and_then(Value::as_str).unwrap_or_default();
    let bay = row.get("bay").and_then(Value::as_u64).unwrap_or(1) as u32;
    let length_m = bays_length_m(building, line, Span { first: bay.max(1), last: bay.max(1) });
    let record = if key == "opening" {
        let width_mm = (300.0 * length_m / 50.0).floor() * 50.0;
        Opening { width_mm: width_mm.clamp(200.0, 900.0), height_mm: 2000.0 }.write()
    } else {
        footing(((length_m + 1.0) * 10.0).round() / 10.0, 1.5).write()
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
        Control::Number | Control::Whole => json!(super::entry::stop(field, (spec.min + spec.max) / 2.0)),
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
