//! Release of captive columns: the sill wall is cut free of the columns beside it.

use super::{count, counted, covers, storeys_in_words};
use crate::model::Model;
use crate::project::{Building, Direction, Release};

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
pub(super) fn describe(release: &Release, building: &Building) -> String {
    format!(
        "Cut sills free of {}, {} mm gap, {}",
        counted(count(building, &release.x, &release.y, release.storeys), "column", "columns"),
        release.gap_mm,
        storeys_in_words(building, release.storeys)
    )
}
