//! The method of an equivalent single mass with inelastic spectra.

/// Equivalent mass m* = Σm·φ (t) and transformation factor Γ = m*/Σm·φ².
///
/// Source: EN 1998-1:2004 Annex B, Eq. B.2, B.3 (MEMORY).
pub fn equivalent(masses_t: &[f64], shape: &[f64]) -> [f64; 2] {
    let mass: f64 = masses_t.iter().zip(shape).map(|(m, phi)| m * phi).sum();
    let square: f64 = masses_t.iter().zip(shape).map(|(m, phi)| m * phi * phi).sum();
    [mass, mass / square]
}

/// Displacement of the inelastic single mass from that of the elastic one: equal beyond the corner
/// period or where it stays elastic, d_e/q·(1 + (q − 1)·T_C/T) below it, not above 3·d_e.
///
/// Source: EN 1998-1:2004 Annex B, Eq. B.9 to B.12 (MEMORY).
pub fn inelastic_displacement(elastic_m: f64, ratio: f64, period_s: f64, corner_s: f64) -> f64 {
    if period_s >= corner_s || ratio <= 1.0 {
        return elastic_m;
    }
    (elastic_m / ratio * (1.0 + (ratio - 1.0) * corner_s / period_s)).clamp(elastic_m, 3.0 * elastic_m)
}
