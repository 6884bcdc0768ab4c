//! Infill walls: shear walls cast inside bays of the frame.

use super::{counted, storeys_in_words};
use crate::model::{Model, Panel, PanelOrigin};
use crate::project::{Building, InfillWall};

/// Fills the bays it names; masonry there is taken out.
pub(super) fn apply(infill: &InfillWall, building: &Building, model: &mut Model) {
    let Some((direction, line)) = building.line(&infill.line) else { return };
    let storeys = infill.storeys.unwrap_or_else(|| building.all_storeys());
    for storey in storeys.iter() {
        for bay in infill.bays.iter() {
            model.masonry.retain(|panel| {
                (panel.direction, panel.line, panel.bay, panel.storey) != (direction, line, bay, storey)
            });
            model.panels.push(Panel {
                direction,
                line,
                bay,
                storey,
                thickness_mm: infill.thickness_mm,
                opening: infill.opening.clone(),
                footing: infill.footing.clone(),
                origin: PanelOrigin::Infill(infill.clone()),
            });
        }
    }
}

/// The measure in a line.
pub(super) fn describe(infill: &InfillWall, building: &Building) -> String {
    format!(
        "Fill {} of line {}, {} mm, {}{}",
        counted(infill.bays.count() as usize, "bay", "bays"),
        infill.line,
        infill.thickness_mm,
        storeys_in_words(building, infill.storeys),
        if infill.opening.is_some() { ", with openings" } else { "" }
    )
}
