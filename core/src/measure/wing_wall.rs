//! Wing walls: thin walls beside a column, acting with it as one section.

use super::{count, counted, covers, storeys_in_words};
use crate::model::{Model, Wings, wing_lengths};
use crate::phrase::Phrase;
use crate::project::{Building, Direction, Sides, WingWall};
use crate::units::Dimension::Millimetres;

/// Adds the wings to the columns it names, where a bay lies on that side; a sill wall
/// there is cut back and no longer holds the column.
pub(super) fn apply(wing: &WingWall, building: &Building, model: &mut Model) {
    let bay = |model: &Model, line: usize, end: usize, storey: u32, higher: bool| {
        let other = if higher { Some(end + 1) } else { end.checked_sub(1) };
        other.is_some_and(|other| {
            let bay = end.max(other) as u32;
            model.column_on(wing.direction, line, other, storey).is_some()
                && model.panel_at(wing.direction, line, bay, storey).is_none()
        })
    };
    let lengths: Vec<[f64; 2]> = model
        .columns
        .iter()
        .map(|column| {
            if !covers(building, (&wing.x, &wing.y), wing.storeys, (column.ix, column.iy, column.storey)) {
                return [0.0; 2];
            }
            let (line, end) = match wing.direction {
                Direction::X => (column.iy, column.ix),
                Direction::Y => (column.ix, column.iy),
            };
            wing_lengths(wing, bay(model, line, end, column.storey, false), bay(model, line, end, column.storey, true))
        })
        .collect();
    for (column, [lower, higher]) in model.columns.iter_mut().zip(lengths) {
        if lower + higher > 0.0 {
            column.wings = Some(Wings { spec: wing.clone(), lower_mm: lower, higher_mm: higher });
            column.sill_m[wing.direction.index()] = 0.0;
        }
    }
}

/// The measure in a line.
pub(super) fn describe(wing: &WingWall, building: &Building) -> Phrase {
    let sides = match wing.sides {
        Sides::Both => "both sides",
        Sides::Higher | Sides::Lower => "one side",
    };
    let columns = counted(count(building, &wing.x, &wing.y, wing.storeys), "column", "columns");
    Phrase::from(format!("Wing walls {}, ", wing.direction.label()))
        .bare(wing.length_mm, Millimetres)
        .and(" × ")
        .size(wing.thickness_mm, Millimetres)
        .and(format!(" on {sides} of {columns}, {}", storeys_in_words(building, wing.storeys)))
}
