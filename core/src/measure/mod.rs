//! Retrofit measures: what each does to the members of a building.
//!
//! A measure is one file here, one line in the project's list of measures and one line in
//! each dispatch below.

mod external_frame;
mod infill_wall;
mod jacket;
pub mod minimums;
mod release;
mod wing_wall;

use crate::model::Model;
use crate::phrase::Phrase;
use crate::project::{Building, Measure, Names, Span};

/// Applies a measure to a model.
pub fn apply(measure: &Measure, building: &Building, model: &mut Model) {
    match measure {
        Measure::Jacket(jacket) => jacket::apply(jacket, building, model),
        Measure::WingWall(wing) => wing_wall::apply(wing, building, model),
        Measure::InfillWall(infill) => infill_wall::apply(infill, building, model),
        Measure::ExternalFrame(frame) => external_frame::apply(frame, building, model),
        Measure::Release(release) => release::apply(release, building, model),
    }
}

/// Says in a line what a measure does.
pub fn describe(measure: &Measure, building: &Building) -> Phrase {
    match measure {
        Measure::Jacket(jacket) => jacket::describe(jacket, building),
        Measure::WingWall(wing) => wing_wall::describe(wing, building),
        Measure::InfillWall(infill) => infill_wall::describe(infill, building),
        Measure::ExternalFrame(frame) => external_frame::describe(frame, building),
        Measure::Release(release) => release::describe(release, building),
    }
}

/// Whether a set of columns covers one.
pub(crate) fn covers(
    building: &Building,
    (x, y): (&Names, &Names),
    storeys: Option<Span>,
    (ix, iy, storey): (usize, usize, u32),
) -> bool {
    x.covers(&building.x_lines[ix].name)
        && y.covers(&building.y_lines[iy].name)
        && storeys.is_none_or(|span| span.contains(storey))
}

/// How many column places in plan a set covers.
fn count(building: &Building, x: &Names, y: &Names, storeys: Option<Span>) -> usize {
    let storeys = storeys.unwrap_or_else(|| building.all_storeys());
    let on = |x: &str, y: &str| storeys.iter().any(|storey| building.column_at(x, y, storey).is_some());
    building
        .x_lines
        .iter()
        .filter(|line| x.covers(&line.name))
        .map(|column| {
            building.y_lines.iter().filter(|line| y.covers(&line.name) && on(&column.name, &line.name)).count()
        })
        .sum()
}

/// A count with its noun.
fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Storeys in words.
fn storeys_in_words(building: &Building, storeys: Option<Span>) -> String {
    match storeys {
        Some(span) if span != building.all_storeys() => {
            format!("storey{} {span}", if span.count() == 1 { "" } else { "s" })
        }
        _ => "all storeys".to_owned(),
    }
}
