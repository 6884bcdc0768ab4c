//! Column jacketing: a reinforced-concrete skin all round or on some faces.

use super::{count, counted, covers, storeys_in_words};
use crate::model::Model;
use crate::phrase::Phrase;
use crate::project::{Building, Jacket};
use crate::units::Dimension::Millimetres;

/// Puts the jacket round the columns it names.
pub(super) fn apply(jacket: &Jacket, building: &Building, model: &mut Model) {
    for column in &mut model.columns {
        if covers(building, (&jacket.x, &jacket.y), jacket.storeys, (column.ix, column.iy, column.storey)) {
            column.jacket = Some(jacket.clone());
        }
    }
}

/// The measure in a line.
pub(super) fn describe(jacket: &Jacket, building: &Building) -> Phrase {
    let columns = counted(count(building, &jacket.x, &jacket.y, jacket.storeys), "column", "columns");
    Phrase::from(format!("Jacket {columns}, "))
        .size(jacket.thickness_mm, Millimetres)
        .and(match jacket.face_count() {
            1 => " on one face",
            3 => " on three faces",
            _ => "",
        })
        .and(format!(", {}", storeys_in_words(building, jacket.storeys)))
}
