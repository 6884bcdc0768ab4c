//! Masonry panels in frames: the equivalent strut, and what a partial panel does to columns.

use crate::math::{atan, cos, pow, sin};
use crate::rules::{MasonryPanel, MasonryStrut};

/// Equivalent strut of a panel.
///
/// λ₁ = [E_m·t·sin 2θ/(4·E·I·h)]^¼, width = factor·(λ₁·h_col)^exponent·diagonal,
/// k = width·t·E_m/diagonal; across the storey k·cos²θ. Strength: bed-joint sliding v·t·l.
/// `modulus_ratio` is E_m over the compressive strength. Mainstone's form; the constants are the
/// rule set's.
pub fn strut(panel: &MasonryPanel, modulus_ratio: f64, [factor, exponent]: [f64; 2]) -> MasonryStrut {
    let modulus = modulus_ratio * panel.compressive_mpa;
    let theta = atan(panel.height_mm / panel.length_mm);
    let diagonal = (panel.height_mm * panel.height_mm + panel.length_mm * panel.length_mm).sqrt();
    let column = 4.0 * panel.column_modulus_mpa * panel.column_inertia_mm4 * panel.height_mm;
    let relative_stiffness_per_mm = pow(modulus * panel.thickness_mm * sin(2.0 * theta) / column, 0.25);
    let width_mm = factor * pow(relative_stiffness_per_mm * panel.column_height_mm, exponent) * diagonal;
    let axial_kn_mm = width_mm * panel.thickness_mm * modulus / diagonal / 1e3;
    MasonryStrut {
        relative_stiffness_per_mm,
        width_mm,
        axial_kn_mm,
        horizontal_kn_mm: axial_kn_mm * cos(theta) * cos(theta),
        strength_kn: panel.shear_mpa * panel.thickness_mm * panel.length_mm / 1e3,
    }
}
