//! Drift at which a column that has failed in shear loses its axial load.

use crate::math::tan;
use crate::rules::ColumnHinge;
use crate::rules::source::clause_constants;

clause_constants! { CONSTANTS;
    /// Angle of the shear crack to the horizontal, degrees.
    CRACK_ANGLE: f64 = 65.0, Memory, "Elwood and Moehle, Earthquake Spectra 21(1), 2005";
    /// Factor on the drift ratio.
    AXIAL_LOSS: f64 = 0.04, Memory, "Elwood and Moehle, Earthquake Spectra 21(1), 2005";
}

/// Δ_a/L = 0.04·(1 + tan²θ)/(tan θ + P·s/(A_st·f_yt·d_c·tan θ)), from the axial compression and A_st·f_yt·d_c/s, both
/// kN. Made from tests of rectangular columns that yielded before they failed in shear; no compression, no loss:
/// infinite.
pub fn axial_loss_drift(axial_kn: f64, core_kn: f64) -> f64 {
    if axial_kn <= 0.0 {
        return f64::INFINITY;
    }
    if core_kn <= 0.0 {
        return 0.0;
    }
    let slope = tan(CRACK_ANGLE.to_radians());
    AXIAL_LOSS * (1.0 + slope * slope) / (slope + axial_kn / (core_kn * slope))
}

/// The same of a column's end as rule sets are asked about it, a chord rotation in all.
pub fn axial_loss_rotation(hinge: &ColumnHinge) -> f64 {
    let detail = &hinge.detail;
    axial_loss_drift(
        hinge.axial_ratio * hinge.concrete_mpa * detail.gross_area_mm2 / 1e3,
        detail.hoop_area_mm2 * hinge.hoop_yield_mpa * detail.core_mm[1] / detail.hoop_spacing_mm / 1e3,
    )
}
