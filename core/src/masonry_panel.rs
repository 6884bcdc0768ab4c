//! Full-height masonry panels of the model as struts.

use crate::math::pow;
use crate::model::{MasonryPanel, Model};
use crate::project::Direction;
use crate::rules::{self, Ruled, Rules};

/// Storey drift ratio at which a panel in a frame has lost its strength
/// (between the 0.2 % and 0.6 % usual for hollow and solid clay; common practice, no source).
pub const LIMIT_RATIO: f64 = 0.004;

/// A panel as a spring of its storey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strut {
    /// Against storey drift, kN/m.
    pub stiffness_kn_m: f64,
    /// Horizontal strength, kN.
    pub strength_kn: f64,
    /// Height of column its corner leans on, m: the upright width of the strut, w/cos θ.
    pub contact_m: f64,
}

impl Strut {
    /// Shear the strut brings to the end of a column that resists it with the given moments at both
    /// ends of the contact, kN: its horizontal force, at most what bends the column over that short
    /// height (EN 1998-1 5.9(4), ASCE/SEI 41-17 11.4.2.3; MEMORY: from memory, verify).
    pub fn on_column_kn(&self, moment_knm: f64) -> f64 {
        self.strength_kn.min(2.0 * moment_knm / self.contact_m)
    }
}

/// The strut of a panel, with the weaker of its columns; `column_modulus_mpa` is the
/// modulus of the existing concrete.
pub fn strut(model: &Model, panel: &MasonryPanel, column_modulus_mpa: f64, rules: &dyn Rules) -> Ruled<Strut> {
    let [length, height] = model.clear_opening_m(panel.direction, panel.line, panel.bay, panel.storey);
    let inertia = model.bay_columns(panel.direction, panel.line, panel.bay, panel.storey).map_or(0.0, |columns| {
        let inertias = columns.map(|column| {
            let (depth, width) = match panel.direction {
                Direction::X => (column.kind.x_mm, column.kind.y_mm),
                Direction::Y => (column.kind.y_mm, column.kind.x_mm),
            };
            width * pow(depth, 3.0) / 12.0
        });
        inertias[0].min(inertias[1])
    });
    let answer = rules.masonry_strut(&rules::MasonryPanel {
        length_mm: 1000.0 * length,
        height_mm: 1000.0 * height,
        thickness_mm: panel.kind.thickness_mm,
        compressive_mpa: panel.kind.compressive_mpa,
        shear_mpa: panel.kind.shear_mpa,
        column_height_mm: 1000.0 * model.floors[panel.storey as usize - 1].height_m,
        column_inertia_mm4: inertia,
        column_modulus_mpa,
    })?;
    let diagonal = (length * length + height * height).sqrt();
    Ok(Strut {
        stiffness_kn_m: 1000.0 * answer.horizontal_kn_mm,
        strength_kn: answer.strength_kn,
        contact_m: (answer.width_mm / 1000.0 * diagonal / length).min(height),
    })
}
