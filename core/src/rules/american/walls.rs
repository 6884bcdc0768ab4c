//! Walls, jackets and masonry panels: ACI 318-19 18.10, ASCE/SEI 41-17 chapters 10 and 11.

use super::super::source::clause_constants;
use super::super::{
    JacketFactors, MasonryPanel, MasonryStrut, Note, Notes, PlasticRotations, Surface, WallDeformation, WallLimits,
    WallShear, WallShearStrength,
};
use super::held_root;
use crate::math::lerp_clamped;

clause_constants! { CONSTANTS;
    /// α_c for height over length up to 1.5 and from 2.0 on, MPa^½.
    WALL_CONCRETE: [f64; 2] = [0.25, 0.17], Memory, "ACI 318-19 18.10.4.1";
    /// Net tension: α_c = 0.17·(1 + 0.29·N/A_g), N/A_g negative, MPa.
    WALL_TENSION: f64 = 0.29, Memory, "ACI 318-19 11.5.4.4";
    /// Upper bounds on √f'c: all piers of a line together, one pier.
    WALL_CAPS: [f64; 2] = [0.66, 0.83], Seen, "ACI 318-19 18.10.4.4";
    /// Height over length up to which vertical steel must not be less than horizontal.
    WALL_SQUAT: f64 = 2.0, Memory, "ACI 318-19 18.10.4.3";
    /// Shear-controlled walls: drift ratio at full strength (g) and part of strength at cracking (f).
    WALL_YIELD: [f64; 2] = [0.004, 0.6], SeenListed, "ASCE 41-17 Table 10-20";
    /// Compression term up to 0.05: d, e, c, accepted; above 0.05: d, e, c, accepted.
    WALL_SHEAR_LIMITS: [[f64; 6]; 2] = [
        [0.01, 0.02, 0.2, 0.004, 0.015, 0.02], [0.0075, 0.01, 0.0, 0.004, 0.0075, 0.01],
    ], SeenListed, "ASCE 41-17 Table 10-20";
    /// Axial ratio from which a shear-controlled wall has no plastic deformation.
    WALL_FORCE_CONTROLLED: f64 = 0.15, SeenListed, "ASCE 41-17 10.7.1.1";
    /// Bending-controlled walls: a, b, c, accepted; rows by confinement (yes, no), then compression
    /// term (0.10, 0.25), then shear stress (0.33, 0.50 MPa^½).
    WALL_FLEXURE: [[f64; 6]; 8] = [
        [0.015, 0.02, 0.75, 0.005, 0.015, 0.02], [0.01, 0.015, 0.4, 0.004, 0.01, 0.015],
        [0.009, 0.012, 0.6, 0.003, 0.009, 0.012], [0.005, 0.01, 0.3, 0.0015, 0.005, 0.01],
        [0.008, 0.015, 0.6, 0.002, 0.008, 0.015], [0.006, 0.01, 0.3, 0.002, 0.006, 0.01],
        [0.003, 0.005, 0.25, 0.001, 0.003, 0.005], [0.002, 0.004, 0.2, 0.001, 0.002, 0.004],
    ], SeenListed, "ASCE 41-17 Table 10-19";
    /// Jackets: shear, yield rotation on a roughened and on an untreated surface.
    JACKET: [f64; 3] = [0.9, 1.05, 1.2], Memory, "EN 1998-3:2005 A.4.2.2, borrowed: ASCE 41-17 has none";
    /// Moment of a jacketed member whose surface was left as it was.
    JACKET_MOMENT_UNTREATED: f64 = 0.9, Memory, "judgement, no clause";
    /// Modulus of clay masonry over its compressive strength.
    MASONRY_MODULUS: f64 = 550.0, Memory, "ASCE 41-17 11.2.3.4";
    /// Strut width: factor and exponent.
    STRUT: [f64; 2] = [0.175, -0.4], Memory, "ASCE 41-17 11.4.2";
}

/// V_n = (α_c·λ·√f'c + ρ·f_y)·A_cv ≤ 0.66·√f'c·A_cv (ACI 318-19 18.10.4; MPa, mm, N).
pub(super) fn wall_shear(wall: &WallShear) -> WallShearStrength {
    let mut notes = Notes::NONE;
    let area = wall.thickness_mm * wall.length_mm;
    let aspect = wall.height_mm / wall.length_mm;
    let root = held_root(wall.concrete_mpa);
    let [squat, slender] = WALL_CONCRETE;
    let mut coefficient = lerp_clamped(aspect, (1.5, squat), (2.0, slender));
    if wall.axial_kn < 0.0 {
        let stress = wall.axial_kn * 1e3 / area;
        coefficient = coefficient.min((slender * (1.0 + WALL_TENSION * stress)).max(0.0));
        notes.add(Note::NetTension);
    }
    // An existing wall need not have the vertical bars the clause asks of a squat one; its panel
    // then holds no more than they balance.
    let ratio =
        if aspect <= WALL_SQUAT { wall.horizontal_ratio.min(wall.vertical_ratio) } else { wall.horizontal_ratio };
    notes.add_if(ratio < wall.horizontal_ratio, Note::WeakerSteelCounts);
    let opening = wall.opening_factor.clamp(0.0, 1.0);
    let formula = opening * (coefficient * wall.lightweight * root + ratio * wall.yield_mpa) * area;
    let [cap, pier] = WALL_CAPS.map(|on_root| opening * on_root * root * area);
    notes.add_if(formula > cap, Note::CapGoverns);
    WallShearStrength {
        strength_kn: formula.min(cap) / 1e3,
        formula_kn: formula / 1e3,
        cap_kn: cap / 1e3,
        pier_cap_kn: pier / 1e3,
        concrete_coefficient: coefficient,
        ratio_counted: ratio,
        notes,
    }
}

/// Limits of walls (ASCE 41-17 Tables 10-19 and 10-20), straight between the rows of the first.
pub(super) fn wall_limits(wall: &WallLimits) -> WallDeformation {
    let mut notes = Notes::NONE;
    if wall.shear_controls {
        let row = WALL_SHEAR_LIMITS[usize::from(wall.compression_term > 0.05)];
        let [mut capping, mut loss, mut residual, immediate, life, collapse] = row;
        let [yielding, cracking] = WALL_YIELD;
        let mut accepted = [immediate, life, collapse];
        if wall.axial_ratio > WALL_FORCE_CONTROLLED {
            notes.add(Note::ForceControlled);
            (capping, loss, residual) = (yielding, yielding, 0.0);
            accepted = accepted.map(|limit| limit.min(yielding));
        }
        return WallDeformation::Shear { yielding, capping, loss, residual, cracking, accepted, notes };
    }
    let rows = if wall.confined { &WALL_FLEXURE[..4] } else { &WALL_FLEXURE[4..] };
    let [capping, loss, residual, immediate, life, collapse]: [f64; 6] = core::array::from_fn(|i| {
        let shear = |low: usize| lerp_clamped(wall.shear_stress, (0.33, rows[low][i]), (0.50, rows[low + 1][i]));
        lerp_clamped(wall.compression_term, (0.10, shear(0)), (0.25, shear(2)))
    });
    WallDeformation::Flexure(PlasticRotations { capping, loss, residual, accepted: [immediate, life, collapse], notes })
}

pub(super) fn jacket_factors(surface: Surface) -> JacketFactors {
    let [shear, roughened, untreated] = JACKET;
    let treated = !matches!(surface, Surface::Plain);
    let mut notes = Notes::NONE;
    notes.add(Note::Borrowed);
    JacketFactors {
        moment: if treated { 1.0 } else { JACKET_MOMENT_UNTREATED },
        shear,
        yield_rotation: if treated { roughened } else { untreated },
        notes,
    }
}

/// a = 0.175·(λ₁·h_col)^−0.4·r, λ₁ = [E_m·t·sin 2θ/(4·E·I·h)]^¼, k = a·t·E_m/r; sliding strength
/// v·t·l (ASCE 41-17 11.4.2).
pub(super) fn masonry_strut(panel: &MasonryPanel) -> MasonryStrut {
    crate::masonry::strut(panel, MASONRY_MODULUS, STRUT)
}
