//! Column jacketing: a reinforced-concrete skin all round.

use super::{count, counted, covers, storeys_in_words};
use crate::model::Model;
use crate::project::{Building, Jacket};

/// Puts the jacket round the columns it names.
pub(super) fn apply(jacket: &Jacket, building: &Building, model: &mut Model) {
    for column in &mut model.columns {
        if covers(building, (&jacket.x, &jacket.y), jacket.storeys, (column.ix, column.iy, column.storey)) {
            column.jacket = Some(jacket.clone());
        }
    }
}

/// The measure in a line.
pub(super) fn describe(jacket: &Jacket, building: &Building) -> String {
    format!(
        "Jacket {}, {} mm, {}",
        counted(count(building, &jacket.x, &jacket.y, jacket.storeys), "column", "columns"),
        jacket.thickness_mm,
        storeys_in_words(building, jacket.storeys)
    )
}
