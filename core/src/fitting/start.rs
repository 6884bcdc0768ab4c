//! Values a new measure starts with.
//!
//! Sizes are those usually tried first (common practice, no source); whoever adds the measure
//! changes them at once. They are round in SI; [`measure_in`] makes them round in the units shown.

use crate::anchorage::drillable_mm;
use crate::project::{
    Building, Control, Direction, ExternalFrame, Field, Footing, InfillWall, Jacket, JacketFaces, Measure, Names,
    Opening, Release, Sides, Span, Surface, WingWall,
};
use crate::units::System;
use serde_json::{Value, json};

/// Strength of new concrete to start with, MPa.
const CONCRETE_MPA: f64 = 28.0;
/// Yield strength of new bars to start with, MPa.
const STEEL_MPA: f64 = 420.0;
/// Allowable bearing to start with, kPa: firm ground, to be replaced by the site's own.
pub const BEARING_KPA: f64 = 150.0;

/// Horizontal bars of wing walls to start with, mm.
const WING_BAR_MM: f64 = 13.0;
/// Bars round an infill to start with, mm.
const DOWEL_MM: f64 = 16.0;
/// Diameters a bonded bar is drilled in by where the old member is deep enough.
const DIAMETERS_DEEP: f64 = 20.0;

/// A jacket with bars through the floors, all storeys.
pub fn jacket(x: Names, y: Names) -> Jacket {
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
        faces: JacketFaces::All,
        relieved: false,
        surface: Surface::Roughened,
        hoop_embedment_mm: None,
    }
}

/// Wing walls on both sides, all storeys, short enough to keep most of every window, on footings of
/// their own.
pub fn wing_wall(building: &Building, direction: Direction, x: Names, y: Names) -> WingWall {
    let along = match direction {
        Direction::X => &building.x_lines,
        Direction::Y => &building.y_lines,
    };
    let shortest = along.windows(2).map(|pair| pair[1].at_m - pair[0].at_m).fold(f64::INFINITY, f64::min);
    // An eighth of the shortest bay keeps most of the window on both sides.
    let length_mm = ((shortest * 1000.0 / 8.0 / 50.0).round() * 50.0).clamp(200.0, 900.0);
    WingWall {
        x,
        y,
        direction,
        storeys: None,
        sides: Sides::Both,
        length_mm,
        thickness_mm: 200.0,
        bar_mm: WING_BAR_MM,
        bar_spacing_mm: 150.0,
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        edge_embedment_mm: Some(embedment_mm(building, WING_BAR_MM)),
        embedment_mm: 0.0,
        footing: Some(wing_footing(length_mm)),
    }
}

/// A solid infill wall through all storeys on a strip footing of its own.
pub fn infill_wall(building: &Building, line: &str, bays: Span) -> InfillWall {
    InfillWall {
        line: line.to_owned(),
        bays,
        storeys: None,
        thickness_mm: 200.0,
        bar_mm: 13.0,
        bar_spacing_mm: 200.0,
        dowel_mm: DOWEL_MM,
        dowel_spacing_mm: 200.0,
        dowel_embedment_mm: embedment_mm(building, DOWEL_MM),
        concrete_mpa: CONCRETE_MPA,
        steel_mpa: STEEL_MPA,
        opening: None,
        footing: Some(wall_footing(building, line, bays)),
    }
}

/// An external frame over bays of a face, all storeys, on pads.
pub fn external_frame(building: &Building, face: &str, bays: Span) -> ExternalFrame {
    let lowest = building.storeys.iter().map(|storey| storey.height_m).fold(f64::INFINITY, f64::min);
    ExternalFrame {
        face: face.to_owned(),
        bays,
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
        slab_drop_mm: 0.0,
        slab_openings_m: 0.0,
        across_bar_mm: 16.0,
        across_spacing_mm: 150.0,
        across_layers: 1,
        embedment_mm: 200.0,
        along_bar_mm: 13.0,
        along_spacing_mm: 150.0,
        surface: Surface::Roughened,
        footing: Some(pad_footing()),
    }
}

/// Sills cut free of columns with a gap that most storeys do not shut.
pub fn release(x: Names, y: Names) -> Release {
    Release { x, y, storeys: None, gap_mm: 40.0 }
}

/// A pad under a column of an external frame.
pub fn pad_footing() -> Footing {
    footing(2.5, 2.5)
}

/// A pad under a column with wings that reaches half a metre beyond them, for a column half a metre deep.
pub fn wing_footing(length_mm: f64) -> Footing {
    footing(((2.0 * length_mm / 1000.0 + 1.5) * 10.0).round() / 10.0, 1.8)
}

/// A strip under a wall that reaches half a metre beyond its bays.
pub fn wall_footing(building: &Building, line: &str, bays: Span) -> Footing {
    footing(((bays_length_m(building, line, bays) + 1.0) * 10.0).round() / 10.0, 1.5)
}

/// A door in a wall that still leaves a wall in each of its bays.
pub fn opening(building: &Building, line: &str, bays: Span) -> Opening {
    let narrowest = bays
        .iter()
        .map(|bay| bays_length_m(building, line, Span { first: bay, last: bay }))
        .fold(f64::INFINITY, f64::min);
    let width_mm = (300.0 * narrowest / 50.0).floor() * 50.0;
    Opening { width_mm: width_mm.clamp(200.0, 900.0), height_mm: 2000.0 }
}

/// How deep bars are bonded into the old columns and beams, mm: as deep as counts and as the
/// shallowest of them allows. Much less and a rule set counts them for nothing.
pub fn embedment_mm(building: &Building, bar_mm: f64) -> f64 {
    ((DIAMETERS_DEEP * bar_mm).min(deepest_mm(building)) / 10.0).floor().max(6.0) * 10.0
}

/// How deep the shallowest column or beam may be drilled, mm.
fn deepest_mm(building: &Building) -> f64 {
    let columns = building.column_types.iter().flat_map(|own| [own.x_mm, own.y_mm]);
    let shallowest = columns.chain(building.beam_types.iter().map(|own| own.depth_mm)).fold(f64::INFINITY, f64::min);
    drillable_mm(shallowest)
}

/// A measure with its numbers at the round ones of the units shown that come next to them.
#[must_use]
pub fn measure_in(mut measure: Measure, building: &Building, system: System) -> Measure {
    for field in measure.fields() {
        if let Some(value) = measure.get(field.key) {
            // Round numbers lie within the range of their field, so nothing is refused.
            let _ = measure.set(field.key, &value_in(value, field, building, system));
        }
    }
    measure
}

/// A value of a field, or of a record's fields, at the round numbers of the units shown.
pub fn value_in(mut value: Value, field: &Field, building: &Building, system: System) -> Value {
    match (field.control, value.as_f64()) {
        _ if system == System::Si => {}
        (Control::Number, Some(number)) => {
            let near = field.spec.near(number, system);
            let too_deep = field.key.contains("embedment") && near > number && near > deepest_mm(building);
            value = json!(if too_deep { field.spec.below(number, system) } else { near });
        }
        (Control::Record(fields), _) => {
            for inner in fields {
                if let Some(own) = value.get_mut(inner.key) {
                    *own = value_in(own.take(), inner, building, system);
                }
            }
        }
        _ => {}
    }
    value
}

fn footing(length_m: f64, width_m: f64) -> Footing {
    Footing { length_m, width_m, depth_m: 0.6, bearing_kpa: BEARING_KPA, subgrade_mn_m3: None, tied: true }
}

fn bays_length_m(building: &Building, line: &str, bays: Span) -> f64 {
    let along = match building.line(line) {
        Some((Direction::Y, _)) => &building.y_lines,
        _ => &building.x_lines,
    };
    let at = |end: u32| along.get(end as usize).map_or(0.0, |line| line.at_m);
    at(bays.last) - at(bays.first.saturating_sub(1))
}
