//! Areas of columns and walls in a storey, as quick checks take them.

use crate::framing::wall_groups;
use crate::model::{Column, Model};
use crate::project::{Direction, Jacket};

/// What resists a direction in a storey, by area in plan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Areas {
    /// Columns with the jackets that hold on to them, those of external frames included, m².
    pub columns_m2: f64,
    /// Concrete walls in the direction between their columns, openings taken off, and wing walls, m².
    pub walls_m2: f64,
    /// Full panels of masonry in the direction where they are counted, m².
    pub masonry_m2: f64,
    /// Columns, those of external frames included.
    pub columns: u32,
    /// Frame lines along the direction with columns, external frames included.
    pub frames: u32,
}

/// Area of a column that resists shear, mm²: with its jacket where the shear clause counts that, closed or with its hoops
/// anchored in the column.
fn shear_mm2(column: &Column) -> f64 {
    area_mm2(column, Jacket::holds)
}

/// Area of a column that bears its gravity load, mm².
pub(super) fn axial_mm2(column: &Column) -> f64 {
    area_mm2(column, Jacket::bears_gravity)
}

/// Area of a column, mm², with its jacket where that counts.
fn area_mm2(column: &Column, counts: fn(&Jacket) -> bool) -> f64 {
    let jacket = column.jacket.as_ref().filter(|jacket| counts(jacket));
    let [x0, x1, y0, y1] = jacket.map_or([0.0; 4], Jacket::added_mm);
    (column.kind.x_mm + x0 + x1) * (column.kind.y_mm + y0 + y1)
}

/// Areas of a storey, from 1.
pub fn areas(model: &Model, direction: Direction, storey: u32) -> Areas {
    let mut areas = Areas::default();
    let mut lines = vec![false; model.lines(direction).len()];
    for column in model.columns.iter().filter(|column| column.storey == storey) {
        areas.columns_m2 += shear_mm2(column) / 1e6;
        areas.columns += 1;
        let line = match direction {
            Direction::X => column.iy,
            Direction::Y => column.ix,
        };
        lines[line] = true;
        if let Some(wings) = column.wings.as_ref().filter(|wings| wings.spec.direction == direction) {
            areas.walls_m2 += (wings.lower_mm + wings.higher_mm) * wings.spec.thickness_mm / 1e6;
        }
    }
    areas.frames = lines.iter().filter(|there| **there).count() as u32;
    for (along, _, group) in wall_groups(model) {
        if along != direction || group.storey != storey {
            continue;
        }
        for panel in group.panels.iter().map(|place| &model.panels[*place]) {
            let opening = panel.opening.as_ref().map_or(0.0, |opening| opening.width_mm / 1000.0);
            areas.walls_m2 += (model.panel_clear_m(panel)[0] - opening).max(0.0) * panel.thickness_mm / 1000.0;
        }
    }
    for panel in model.masonry.iter().filter(|_| model.masonry_counts) {
        if (panel.direction, panel.storey) == (direction, storey) && panel.kind.sill_mm.is_none() {
            let [length, _] = model.clear_opening_m(direction, panel.line, panel.bay, storey);
            areas.masonry_m2 += length * panel.kind.thickness_mm / 1000.0;
        }
    }
    for frame in model.frames.iter().filter(|frame| frame.direction == direction && storey <= frame.storeys) {
        let count = frame.along_m.len() as u32;
        areas.columns_m2 += f64::from(count) * frame.spec.column_along_mm * frame.spec.column_across_mm / 1e6;
        areas.columns += count;
        areas.frames += 1;
    }
    areas
}
