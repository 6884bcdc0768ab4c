//! Infill walls: shear walls cast inside bays of the frame.

use super::{counted, storeys_in_words};
use crate::model::{Model, Panel, PanelOrigin};
use crate::phrase::Phrase;
use crate::project::{Building, InfillWall};
use crate::units::Dimension::Millimetres;

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
pub(super) fn describe(infill: &InfillWall, building: &Building) -> Phrase {
    let bays = counted(infill.bays.count() as usize, "bay", "bays");
    Phrase::from(format!("Fill {bays} of line {}, ", infill.line))
        .size(infill.thickness_mm, Millimetres)
        .and(format!(", {}", storeys_in_words(building, infill.storeys)))
        .and(if infill.opening.is_some() { ", with openings" } else { "" })
}
