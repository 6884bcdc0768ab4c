//! The published quick checks as formulas, each with the figures it is judged by.

use crate::rules::source::clause_constants;

clause_constants! { CONSTANTS;
    /// Average shear stress of columns or walls below which it is low, MPa (100 psi).
    LEAST_SHEAR_STRESS_MPA: f64 = 0.69, Memory, "ASCE/SEI 41-17 4.4.3 and checklists of chapter 17, shear stress check";
    /// The same over the root of the concrete strength in MPa (2 in psi).
    SHEAR_STRESS_BY_ROOT: f64 = 0.166, Memory, "ASCE/SEI 41-17 4.4.3 and checklists of chapter 17, shear stress check";
    /// Factor on the shear of columns for immediate use, life safety and near collapse.
    COLUMN_FACTORS: [f64; 3] = [1.3, 2.0, 2.0], Memory, "ASCE/SEI 41-13 4.5.3.2 and 41-17 4.4.3.2";
    /// Factor on the shear of concrete walls for immediate use, life safety and near collapse.
    WALL_FACTORS: [f64; 3] = [1.5, 3.0, 4.5], Memory, "ASCE/SEI 41-17 Table 4-8";
    /// Axial stress of columns under gravity over the concrete strength.
    MOST_AXIAL_RATIO: f64 = 0.10, Memory, "ASCE/SEI 41-17 checklists of chapter 17, axial stress check";
    /// Priority index below which severe damage was concentrated.
    LOW_PRIORITY_INDEX: f64 = 0.0025, Memory, "Hassan and Sozen, ACI Structural Journal 94 (1), 1997";
    /// Priority index of the outer line of the same plot.
    HIGH_PRIORITY_INDEX: f64 = 0.0050, Memory, "Hassan and Sozen, ACI Structural Journal 94 (1), 1997";
    /// Wall area over floor area from which buildings stood (30 cm²/m²).
    SAFE_WALL_AREA: f64 = 0.0030, Memory, "Shiga, Shibata and Takahashi, Proc. Architectural Institute of Japan, 1968";
    /// Nominal average shear stress up to which buildings stood, MPa (12 kgf/cm²).
    SAFE_NOMINAL_STRESS_MPA: f64 = 1.176_798, Memory, "Shiga, Shibata and Takahashi, Proc. Architectural Institute of Japan, 1968";
    /// Nominal weight of floors in that map, kPa (1000 kgf/m²).
    NOMINAL_WEIGHT_KPA: f64 = 9.806_65, Memory, "Shiga, Shibata and Takahashi, Proc. Architectural Institute of Japan, 1968";
    /// A storey is weak below this part of the strength of the one above.
    WEAK_STOREY: f64 = 0.80, Memory, "ASCE/SEI 7-16 Table 12.3-2, type 5a";
    /// A storey is extremely weak below this part of it.
    VERY_WEAK_STOREY: f64 = 0.65, Memory, "ASCE/SEI 7-16 Table 12.3-2, type 5b";
    /// A storey is soft below this part of the stiffness of the one above.
    SOFT_STOREY: f64 = 0.70, Memory, "ASCE/SEI 7-16 Table 12.3-2, type 1a";
    /// Unless its drift ratio is at most this many times that of the storey above.
    SOFT_DRIFT: f64 = 1.30, Memory, "ASCE/SEI 7-16 12.3.2.2, exception 1";
    /// A floor is heavy beyond this many times the weight of a floor beside it.
    HEAVY_FLOOR: f64 = 1.50, Memory, "ASCE/SEI 7-16 Table 12.3-2, type 2";
    /// A plan turns too much where the drift of one side exceeds this many times the mean of both.
    TURNING: f64 = 1.20, Memory, "ASCE/SEI 7-16 Table 12.3-1, type 1a";
    /// Columns at a joint should carry this many times the moments of its beams.
    STRONG_COLUMNS: f64 = 1.20, Memory, "ASCE/SEI 41-17 A.3.1.4 and ACI 318-19 18.7.3.2";
}

/// Limit on average shear stress, MPa, by the strength of concrete as given, MPa: max(0.69, 0.166·√f′c).
pub fn shear_stress_limit_mpa(concrete_mpa: f64) -> f64 {
    LEAST_SHEAR_STRESS_MPA.max(SHEAR_STRESS_BY_ROOT * concrete_mpa.sqrt())
}

/// Average shear stress in the columns of a storey, MPa: (1/M_s)·(n_c/(n_c − n_f))·(V/A_c), V in kN, the
/// area in m², n_c columns in n_f frames. `None` where a frame has one column only.
///
/// Source: ASCE/SEI 41-17 Eq. (4-7) (MEMORY).
pub fn column_stress_mpa(shear_kn: f64, area_m2: f64, columns: u32, frames: u32, factor: f64) -> Option<f64> {
    let left = columns.checked_sub(frames).filter(|left| *left > 0)?;
    let spread = f64::from(columns) / f64::from(left);
    (area_m2 > 0.0).then(|| spread * shear_kn / area_m2 / factor / 1e3)
}

/// Average shear stress in the walls of a storey, MPa: (1/M_s)·(V/A_w). `None` without walls.
///
/// Source: ASCE/SEI 41-17 Eq. (4-8) (MEMORY).
pub fn wall_stress_mpa(shear_kn: f64, area_m2: f64, factor: f64) -> Option<f64> {
    (area_m2 > 0.0).then(|| shear_kn / area_m2 / factor / 1e3)
}

/// Wall index, column index and their sum, the priority index, as parts of one: (A_cw + A_mw/10)/A_ft
/// and A_c/(2·A_ft), areas at the base and floor area above it in m².
///
/// Source: Hassan and Sozen, ACI Structural Journal 94 (1), 1997 (MEMORY).
pub fn priority_index(walls_m2: f64, masonry_m2: f64, columns_m2: f64, floors_m2: f64) -> [f64; 3] {
    let wall = (walls_m2 + masonry_m2 / 10.0) / floors_m2;
    let column = 0.5 * columns_m2 / floors_m2;
    [wall, column, wall + column]
}

/// Wall area over floor area, and the nominal average shear stress, MPa, of the wall-area map: a weight of
/// 1000 kgf/m² of floor over the areas of walls and columns, m².
///
/// Source: Shiga, Shibata and Takahashi, Proc. Architectural Institute of Japan, 1968 (MEMORY).
pub fn wall_area_map(walls_m2: f64, columns_m2: f64, floors_m2: f64) -> [f64; 2] {
    let area = walls_m2 + columns_m2;
    let stress = if area > 0.0 { NOMINAL_WEIGHT_KPA * floors_m2 / area / 1e3 } else { f64::INFINITY };
    [walls_m2 / floors_m2, stress]
}
