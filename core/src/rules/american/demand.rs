//! Spectrum, forces and drift: ASCE/SEI 41-17 chapters 2 and 7, ASCE/SEI 7-16 chapter 12.

use super::super::source::clause_constants;
use crate::hazard::{
    DriftLimit, GroundMotion, Hazard, ImportanceClass, LateralDesign, LateralForces, LateralSystem, MassShare, PDelta,
    PDeltaEffect, PDeltaVerdict, height_shares, overturning, storey_shears,
};
use crate::math::{lerp_clamped, ln, pow};

clause_constants! { CONSTANTS;
    /// Damping: B₁ = 4/(5.6 − ln 100β); the numerator is set so that 5 % gives exactly one.
    DAMPING: f64 = 5.6, Memory, "ASCE 41-17 2.4.1.7.1";
    /// Spectrum at zero period over the plateau, and start of the plateau over its end.
    SPECTRUM_START: [f64; 2] = [0.4, 0.2], Memory, "ASCE 41-17 2.4.1.7.1";
    /// Effective mass of concrete frames and of walls of three storeys and more; period beyond which it is 1, s.
    MASS_SHARE: [f64; 3] = [0.9, 0.8, 1.0], Memory, "ASCE 41-17 Table 7-4";
    /// Periods (s) between which the exponent on height goes from 1 to 2.
    HEIGHT_EXPONENT: [f64; 2] = [0.5, 2.5], SeenListed, "ASCE 7-16 12.8.3, ASCE 41-17 7.4.1.3.2";
    /// Period by formula, concrete frames: C_t (height in m) and exponent.
    PERIOD_FRAME: [f64; 2] = [0.0466, 0.9], SeenListed, "ASCE 7-16 Table 12.8-2";
    /// Period by formula, other structures.
    PERIOD_OTHER: [f64; 2] = [0.0488, 0.75], SeenListed, "ASCE 7-16 Table 12.8-2";
    /// Longest period over the formula's, by S_D1 (g).
    PERIOD_LIMIT: [[f64; 2]; 5] = [[0.1, 1.7], [0.15, 1.6], [0.2, 1.5], [0.3, 1.4], [0.4, 1.4]], Memory, "ASCE 7-16 Table 12.8-1";
    /// Least coefficient: on S_DS·I_e, and in any case.
    LEAST_COEFFICIENT: [f64; 2] = [0.044, 0.01], SeenListed, "ASCE 7-16 Eq. 12.8-5";
    /// Least coefficient near faults: on S_1/(R/I_e), from this S_1 (g) on.
    LEAST_NEAR_FAULT: [f64; 2] = [0.5, 0.6], SeenListed, "ASCE 7-16 Eq. 12.8-6";
    /// Short regular buildings: S_DS counted, and least part of S_DS.
    SHORT_REGULAR: [f64; 2] = [1.0, 0.7], Memory, "ASCE 7-16 12.8.1.3";
    /// Soft sites without a study of their own: on the falling branch, and on its start.
    SOFT_SITE: f64 = 1.5, SeenListed, "ASCE 7-16 11.4.8 exception 2";
    /// Accidental eccentricity over plan size.
    ACCIDENTAL_ECCENTRICITY: f64 = 0.05, Memory, "ASCE 7-16 12.8.4.2, ASCE 41-17 7.2.3.2.1";
    /// Drift ratio of torsion that is not amplified, and largest amplification.
    TORSION: [f64; 2] = [1.2, 3.0], Memory, "ASCE 7-16 12.8.4.3";
    /// Second-order effects: neglected up to, numerator of the limit, never above.
    P_DELTA: [f64; 3] = [0.1, 0.5, 0.25], Memory, "ASCE 7-16 12.8.7";
    /// Drift limits of ordinary, high and essential buildings: up to four storeys with partitions
    /// that follow; others.
    DRIFT_LIMIT: [[f64; 3]; 2] = [[0.025, 0.02, 0.015], [0.02, 0.015, 0.01]], Memory, "ASCE 7-16 Table 12.12-1";
}

/// S_XS, S_X1 (g) and T_L (s); a spectrum by ground type is read as its plateau and the branches beyond it. `None` for a
/// table.
fn ordinates(hazard: &Hazard) -> Option<[f64; 3]> {
    match *hazard {
        Hazard::TwoOrdinates { short_g, one_second_g, long_period_s, .. } => {
            Some([short_g, one_second_g, long_period_s])
        }
        Hazard::GroundAcceleration { rock_g, ground, shape } => {
            Some(super::super::spectrum_by_ground(rock_g, ground, shape))
        }
        Hazard::Table(_) => None,
    }
}

/// The general spectrum with damping: S_XS·[(5/B₁ − 2)·T/T_S + 0.4] up to T₀ = 0.2·T_S, S_XS/B₁
/// up to T_S = S_X1/S_XS, S_X1/(B₁·T) up to T_L, S_X1·T_L/(B₁·T²) beyond. `None` for an empty table.
pub(super) fn spectral_acceleration_g(motion: &GroundMotion, period_s: f64) -> Option<f64> {
    let Some([short_g, one_second_g, long_period_s]) = ordinates(&motion.hazard) else {
        return motion.tabulated_g(period_s);
    };
    let damping = (DAMPING - ln(5.0)) / (DAMPING - ln((100.0 * motion.damping).clamp(0.1, 100.0)));
    let corner = one_second_g / short_g;
    let t = period_s.max(0.0);
    let [start, rise] = SPECTRUM_START;
    let ordinate = if t < rise * corner {
        // The clause prints 5/B₁ − 2: the straight line from 0.4 to 1/B₁.
        short_g * ((1.0 / damping - start) / rise * t / corner + start)
    } else if t <= corner {
        short_g / damping
    } else if t <= long_period_s {
        one_second_g / (damping * t)
    } else {
        one_second_g * long_period_s / (damping * t * t)
    };
    Some(ordinate * motion.importance)
}

/// k: 1 up to 0.5 s, 2 from 2.5 s, straight between.
pub(super) fn height_exponent(period_s: f64) -> f64 {
    lerp_clamped(period_s, (HEIGHT_EXPONENT[0], 1.0), (HEIGHT_EXPONENT[1], 2.0))
}

/// C_m.
pub(super) fn mass_share(share: &MassShare) -> f64 {
    let [frame, wall, long] = MASS_SHARE;
    if share.storeys < 3 || share.period_s > long {
        return 1.0;
    }
    match share.system {
        LateralSystem::ConcreteFrame => frame,
        LateralSystem::ConcreteWall => wall,
        LateralSystem::Other => 1.0,
    }
}

fn longest_over_formula(one_second_g: f64) -> f64 {
    let mut factor = PERIOD_LIMIT[0][1];
    for pair in PERIOD_LIMIT.windows(2) {
        if one_second_g > pair[0][0] {
            factor = lerp_clamped(one_second_g, (pair[0][0], pair[0][1]), (pair[1][0], pair[1][1]));
        }
    }
    factor
}

/// Equivalent lateral force procedure (ASCE 7-16 12.8). `None` for a table, or when there is no weight or height.
pub(super) fn lateral_forces(design: &LateralDesign) -> Option<LateralForces> {
    let [short_g, one_second_g, long_period_s] = ordinates(&design.motion.hazard)?;
    let rock_one_second_g = match design.motion.hazard {
        Hazard::TwoOrdinates { rock_one_second_g, .. } => rock_one_second_g,
        _ => 0.0,
    };
    let height = design.heights_m.last().copied()?;
    let [factor, exponent] = match design.system {
        LateralSystem::ConcreteFrame => PERIOD_FRAME,
        LateralSystem::ConcreteWall | LateralSystem::Other => PERIOD_OTHER,
    };
    let formula_period_s = factor * pow(height, exponent);
    let longest_period_s = longest_over_formula(one_second_g) * formula_period_s;
    let period_s = design.analysed_period_s.map_or(formula_period_s, |t| t.min(longest_period_s));

    let reduced = design.reduction / design.importance;
    let plateau_g = if design.short_and_regular && short_g > SHORT_REGULAR[0] {
        SHORT_REGULAR[0].max(SHORT_REGULAR[1] * short_g)
    } else {
        short_g
    };
    let plateau = plateau_g / reduced;
    let soft = if design.soft_site_without_study { SOFT_SITE } else { 1.0 };
    let (falling_name, falling) = if period_s <= long_period_s {
        ("12.8-3", soft * one_second_g / (period_s * reduced))
    } else {
        ("12.8-4", soft * one_second_g * long_period_s / (period_s * period_s * reduced))
    };
    let floor = (LEAST_COEFFICIENT[0] * short_g * design.importance).max(LEAST_COEFFICIENT[1]);
    let near_fault =
        if rock_one_second_g >= LEAST_NEAR_FAULT[1] { LEAST_NEAR_FAULT[0] * rock_one_second_g / reduced } else { 0.0 };
    // On a soft site the plateau runs on to 1.5·T_S and the falling branch is raised.
    let on_plateau = if soft > 1.0 { period_s <= soft * one_second_g / short_g } else { plateau <= falling };
    let (mut governs, mut coefficient) = if on_plateau { ("12.8-2", plateau) } else { (falling_name, falling) };
    for (name, least) in [("12.8-5", floor), ("12.8-6", near_fault)] {
        if least > coefficient {
            (governs, coefficient) = (name, least);
        }
    }
    let weight: f64 = design.weights_kn.iter().sum();
    let base_shear_kn = coefficient * weight;
    let exponent = height_exponent(period_s);
    let shares = height_shares(&design.weights_kn, &design.heights_m, exponent);
    if shares.is_empty() {
        return None;
    }
    let forces_kn: Vec<f64> = shares.iter().map(|share| share * base_shear_kn).collect();
    let shears_kn = storey_shears(&forces_kn);
    let overturning_knm = overturning(&shears_kn, &design.heights_m);
    Some(LateralForces {
        formula_period_s,
        longest_period_s,
        period_s,
        terms: vec![("12.8-2", plateau), (falling_name, falling), ("12.8-5", floor), ("12.8-6", near_fault)],
        governs,
        coefficient,
        base_shear_kn,
        exponent,
        forces_kn,
        shears_kn,
        overturning_knm,
        applicable: true,
    })
}

/// A_x = (δ_max/(1.2·δ_avg))², between 1 and 3 (ASCE 7-16 Eq. 12.8-14).
pub(super) fn torsion_amplification(largest_m: f64, mean_m: f64) -> f64 {
    let ratio = largest_m.abs() / (TORSION[0] * mean_m.abs());
    if ratio.is_nan() { 1.0 } else { (ratio * ratio).clamp(1.0, TORSION[1]) }
}

/// θ = P·Δ_e/(V·h) (12.8-16 with Δ = C_d·Δ_e/I_e), limit 0.5/(β·C_d) ≤ 0.25 (12.8-17).
pub(super) fn p_delta(storey: &PDelta) -> PDeltaEffect {
    let [neglected, numerator, most] = P_DELTA;
    let theta = storey.vertical_kn * storey.drift_m / (storey.shear_kn * storey.height_m);
    let limit = (numerator / (storey.demand_ratio * storey.displacement_factor)).min(most);
    let (verdict, factor) = if theta <= neglected {
        (PDeltaVerdict::Neglect, Some(1.0))
    } else if theta <= limit {
        (PDeltaVerdict::Amplify, Some(1.0 / (1.0 - theta)))
    } else {
        (PDeltaVerdict::Unstable, None)
    };
    PDeltaEffect { theta, limit, factor, verdict }
}

pub(super) fn drift_limit(building: &DriftLimit) -> f64 {
    let row = DRIFT_LIMIT[usize::from(!(building.storeys <= 4 && building.tolerant_partitions))];
    row[match building.importance {
        ImportanceClass::Ordinary => 0,
        ImportanceClass::High => 1,
        ImportanceClass::Essential => 2,
    }]
}
