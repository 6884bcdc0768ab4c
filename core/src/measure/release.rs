//! Release of captive columns: the sill wall is cut free of the columns beside it.

use super::{count, counted, covers, storeys_in_words};
use crate::model::Model;
use crate::phrase::Phrase;
use crate::project::{Building, Direction, Release};
use crate::units::Dimension::Millimetres;

/// Frees the columns it names from the sills that hold them.
pub(super) fn apply(release: &Release, building: &Building, model: &mut Model) {
    for column in &mut model.columns {
        if covers(building, (&release.x, &release.y), release.storeys, (column.ix, column.iy, column.storey)) {
            for direction in Direction::BOTH {
                let index = direction.index();
                if column.sill_m[index] > 0.0 {
                    column.sill_m[index] = 0.0;
                    column.gap_mm[index] = Some(release.gap_mm);
                }
            }
        }
    }
}

/// The measure in a line.
pub(super) fn describe(release: &Release, building: &Building) -> Phrase {
    let columns = counted(count(building, &release.x, &release.y, release.storeys), "column", "columns");
    Phrase::from(format!("Cut sills free of {columns}, "))
        .size(release.gap_mm, Millimetres)
        .and(format!(" gap, {}", storeys_in_words(building, release.storeys)))
}
