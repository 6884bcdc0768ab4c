//! Walls and masonry panels: EN 1998-3 Annex A, EN 1996-1-1.

use super::super::member::{
    MasonryPanel, MasonryStrut, PlasticRotations, WallDeformation, WallLimits, WallShear, WallShearStrength,
};
use super::super::source::clause_constants;
use super::super::{Note, Notes};
use super::members::{NOT_DETAILED, RESIDUAL, accepted, plastic_rotation};
use crate::material::STEEL_MODULUS_MPA;

clause_constants! { CONSTANTS;
    /// Shear (A.12), MPa: part of A_c·f_c up to which axial force counts; concrete's factor, least percentage of bars, loss
    /// per L_V/h and the most of it; lever over length.
    WALL_SHEAR: [f64; 6] = [0.55, 0.16, 0.5, 0.16, 5.0, 0.8], Memory, "EN 1998-3 Eq. A.12, A.3.3.1(1)";
    /// Crushing of the web (A.15): factor, on the axial ratio and its most, on the percentage of bars and its least, per
    /// L_V/h and its most.
    WALL_CRUSHING: [f64; 7] = [0.85, 1.8, 0.15, 0.25, 1.75, 0.2, 2.0], Memory, "EN 1998-3 Eq. A.15";
    /// Plastic rotation of walls over that of columns.
    WALL_PLASTIC: f64 = 0.6, Memory, "EN 1998-3 A.3.2.2(2)";
    /// Yield rotation of walls: curvature times length over the yield strain (Priestley's estimate), tension shift over
    /// the length, shear.
    WALL_YIELD: [f64; 3] = [2.0, 0.8, 0.0013], Memory, "EN 1998-3 Eq. A.11b";
    /// Shear-controlled walls: drift ratio at full strength, cracking over strength, drift ratios kept and lost.
    WALL_DRIFT: [f64; 4] = [0.004, 0.6, 0.004, 0.0075], Memory, "borrowed from ASCE 41-17 Table 10-20: EN 1998-3 gives none";
    /// Strut width over its length.
    STRUT: f64 = 0.15, Memory, "common practice with EN 1998-1 4.3.6, which gives none";
    /// Modulus of masonry over its compressive strength.
    MASONRY_MODULUS: f64 = 1000.0, Memory, "EN 1996-1-1 3.7.2";
}

/// V_R with γ_el = 1 (A.12), its upper bound the crushing of the web (A.15). The depth in compression is that of a
/// rectangular wall whose bars are spread along it and yield (DERIVED, equilibrium: x/l = (ν + ω)/(0.8 + 2ω)).
pub(super) fn wall_shear(wall: &WallShear) -> WallShearStrength {
    let mut notes = Notes::NONE;
    let [most_axial, factor, least_percent, per_span, most_span, lever] = WALL_SHEAR;
    let area = wall.thickness_mm * wall.length_mm;
    let (concrete, span) = (wall.concrete_mpa.max(0.0), wall.shear_span_mm);
    let axial = 1e3 * wall.axial_kn;
    notes.add_if(axial < 0.0, Note::NetTension);
    let crushing = (area * concrete).max(f64::MIN_POSITIVE);
    let [force, steel] = [axial.max(0.0) / crushing, wall.vertical_ratio * wall.yield_mpa / concrete.max(1e-9)];
    let compressed = ((force + steel) / (0.8 + 2.0 * steel)).clamp(0.0, 1.0) * wall.length_mm;
    let strut = (wall.length_mm - compressed) / (2.0 * span) * axial.clamp(0.0, most_axial * crushing);
    let slender = span / wall.length_mm;
    let percent = 100.0 * wall.vertical_ratio;
    let shear = factor * percent.max(least_percent) * (1.0 - per_span * slender.min(most_span)).max(0.0);
    let concrete_n = shear * concrete.sqrt() * area;
    let arm = lever * wall.length_mm;
    let steel_n = wall.horizontal_ratio * wall.yield_mpa * wall.thickness_mm * arm;
    let [crush, on_axial, most_force, on_bars, least_bars, per_slender, most_slender] = WALL_CRUSHING;
    let cap = crush
        * (1.0 + on_axial * force.min(most_force))
        * (1.0 + on_bars * percent.max(least_bars))
        * (1.0 - per_slender * slender.min(most_slender))
        * concrete.sqrt()
        * wall.thickness_mm
        * arm;
    let opening = wall.opening_factor.clamp(0.0, 1.0);
    let [formula, cap] = [strut + concrete_n + steel_n, cap].map(|force| opening * force);
    notes.add_if(formula > cap, Note::CapGoverns);
    WallShearStrength {
        strength_kn: formula.min(cap) / 1e3,
        formula_kn: formula / 1e3,
        cap_kn: cap / 1e3,
        pier_cap_kn: cap / 1e3,
        concrete_coefficient: shear,
        ratio_counted: wall.horizontal_ratio,
        notes,
    }
}

/// Bending: the plastic part of A.3 for walls, detailed where the ends are confined. Shear: a drift borrowed from the
/// other documents, with nothing accepted beyond the strength.
pub(super) fn wall_limits(wall: &WallLimits) -> WallDeformation {
    let mut notes = Notes::NONE;
    if wall.shear_controls {
        let [yielding, cracking, capping, loss] = WALL_DRIFT;
        notes.add(Note::Borrowed);
        return WallDeformation::Shear {
            yielding,
            capping,
            loss,
            residual: RESIDUAL,
            cracking,
            accepted: [cracking * yielding, yielding, yielding],
            notes,
        };
    }
    let detailed =
        WALL_PLASTIC * plastic_rotation(wall.axial_ratio, [1.0, 1.0], wall.concrete_mpa, wall.shear_span_ratio, 0.0);
    let plastic = if wall.confined { detailed } else { NOT_DETAILED * detailed };
    // θ_y = φ_y·(L_V + z)/3 + 0.0013, the pull of bars out of the foot left out.
    let [curvature, shift, sheared] = WALL_YIELD;
    let elastic = curvature * wall.yield_mpa / STEEL_MODULUS_MPA * (wall.shear_span_ratio + shift) / 3.0 + sheared;
    let accepted = accepted(plastic, elastic);
    WallDeformation::Flexure(PlasticRotations { capping: plastic, loss: plastic, residual: RESIDUAL, accepted, notes })
}

/// A strut of 0.15 of its length with E = 1000·f_k; sliding along the bed joints.
pub(super) fn masonry_strut(panel: &MasonryPanel) -> MasonryStrut {
    crate::masonry::strut(panel, MASONRY_MODULUS, [STRUT, 0.0])
}
