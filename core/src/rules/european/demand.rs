//! Spectrum, forces, drift and displacement demand: EN 1998-1 chapters 3 and 4, Annex B.

use super::super::source::clause_constants;
use crate::hazard::{
    DriftLimit, GroundMotion, GroundType, Hazard, ImportanceClass, LateralDesign, LateralForces, LateralSystem,
    MassShare, PDelta, PDeltaEffect, PDeltaVerdict, SpectrumShape, height_shares, overturning, storey_shears,
};
use crate::material::GRAVITY_M_S2;
use crate::math::pow;
use crate::performance::bilinear::Bilinear;
use crate::performance::{Demand, Pushed, Scale, equivalent, inelastic_displacement};

clause_constants! { CONSTANTS;
    /// Type 1: S, T_B, T_C, T_D of ground A to E.
    TYPE_1: [[f64; 4]; 5] = [
        [1.0, 0.15, 0.4, 2.0], [1.2, 0.15, 0.5, 2.0], [1.15, 0.2, 0.6, 2.0], [1.35, 0.2, 0.8, 2.0], [1.4, 0.15, 0.5, 2.0],
    ], SeenListed, "EN 1998-1 Table 3.2";
    /// Type 2: S, T_B, T_C, T_D of ground A to E.
    TYPE_2: [[f64; 4]; 5] = [
        [1.0, 0.05, 0.25, 1.2], [1.35, 0.05, 0.25, 1.2], [1.5, 0.1, 0.25, 1.2], [1.8, 0.1, 0.3, 1.2], [1.6, 0.05, 0.25, 1.2],
    ], SeenListed, "EN 1998-1 Table 3.3";
    /// Plateau over a_g·S, and least damping correction.
    PLATEAU: [f64; 2] = [2.5, 0.55], Memory, "EN 1998-1 3.2.2.2, Eq. 3.6";
    /// Least design ordinate over a_g.
    LEAST_DESIGN: f64 = 0.2, Memory, "EN 1998-1 3.2.2.5(4)";
    /// λ for more than two storeys and T₁ ≤ 2·T_C.
    MASS_SHARE: f64 = 0.85, Memory, "EN 1998-1 4.3.3.2.2(1)";
    /// Period by formula: frames and other structures, exponent on height.
    PERIOD: [f64; 3] = [0.075, 0.05, 0.75], Memory, "EN 1998-1 4.3.3.2.2(3)";
    /// Static method up to: times T_C, and s.
    STATIC_LIMIT: [f64; 2] = [4.0, 2.0], Memory, "EN 1998-1 4.3.3.2.1(2)";
    /// Accidental eccentricity over plan size.
    ACCIDENTAL_ECCENTRICITY: f64 = 0.05, Memory, "EN 1998-1 4.3.2(1)";
    /// Start of the plateau over its end where two ordinates are given.
    RISE: f64 = 0.2, Derived, "the American general spectrum, ASCE 41-17 2.4.1.7.1, as the European tables have 0.2 to 0.3";
    /// Second-order effects: neglected, amplified, allowed up to.
    P_DELTA: [f64; 3] = [0.1, 0.2, 0.3], Memory, "EN 1998-1 4.4.2.2";
    /// Least acceleration of a part over a_g·S, and the factor its behaviour divides it by.
    PART: [f64; 2] = [1.0, 2.0], Memory, "EN 1998-1 4.3.5.2, Table 4.4";
    /// Drift limits of brittle partitions and of partitions that follow; reduction for ordinary and
    /// for important buildings.
    DRIFT_LIMIT: [f64; 4] = [0.005, 0.01, 0.5, 0.4], Memory, "EN 1998-1 4.4.3.2";
}

/// S, T_B, T_C, T_D.
fn shape(ground: GroundType, shape: SpectrumShape) -> [f64; 4] {
    let table = match shape {
        SpectrumShape::Type1 => &TYPE_1,
        SpectrumShape::Type2 => &TYPE_2,
    };
    table[ground as usize]
}

/// Acceleration the spectrum is anchored to, g, and S, T_B, T_C, T_D. Two ordinates are read as a plateau and
/// its end, soil inside. `None` for a table.
fn anchored(hazard: &Hazard) -> Option<(f64, [f64; 4])> {
    match *hazard {
        Hazard::GroundAcceleration { rock_g, ground, shape: kind } => Some((rock_g, shape(ground, kind))),
        Hazard::TwoOrdinates { short_g, one_second_g, long_period_s, .. } if short_g > 0.0 => {
            let corner = one_second_g / short_g;
            Some((short_g / PLATEAU[0], [1.0, RISE * corner, corner, long_period_s.max(corner)]))
        }
        Hazard::TwoOrdinates { .. } | Hazard::Table(_) => None,
    }
}

/// Plateau, ordinate at one second (g) and start of the last branch (s) of a spectrum by ground type.
pub(in super::super) fn two_ordinates(rock_g: f64, ground: GroundType, kind: SpectrumShape) -> [f64; 3] {
    let [soil, _, corner, last] = shape(ground, kind);
    let plateau_g = PLATEAU[0] * soil * rock_g;
    [plateau_g, plateau_g * corner, last]
}

/// S_e(T), g; from a table as it is. `None` where there is no spectrum.
pub(super) fn spectral_acceleration_g(motion: &GroundMotion, period_s: f64) -> Option<f64> {
    let Some((acceleration_g, table)) = anchored(&motion.hazard) else { return motion.tabulated_g(period_s) };
    let eta = (10.0 / (5.0 + 100.0 * motion.damping)).sqrt().max(PLATEAU[1]);
    Some(motion.importance * acceleration_g * elastic(table, eta, period_s.max(0.0)))
}

/// T_C: of the spectrum, or where a pasted one's plateau ends.
fn corner_s(motion: &GroundMotion) -> Option<f64> {
    let Hazard::Table(points) = &motion.hazard else { return anchored(&motion.hazard).map(|(_, table)| table[2]) };
    let top = points.iter().map(|point| point[1]).fold(0.0, f64::max);
    let velocity = points.iter().map(|[t, a]| t * a).fold(0.0, f64::max);
    (top > 0.0).then(|| velocity / top)
}

/// Elastic ordinate over a_g for a damping correction η (EN 1998-1 Eq. 3.2–3.5).
fn elastic([soil, tb, tc, td]: [f64; 4], eta: f64, t: f64) -> f64 {
    let top = PLATEAU[0] * eta;
    soil * if t < tb {
        1.0 + t / tb * (top - 1.0)
    } else if t <= tc {
        top
    } else if t <= td {
        top * tc / t
    } else {
        top * tc * td / (t * t)
    }
}

/// Design ordinate over a_g for a behaviour factor (Eq. 3.13–3.16).
fn reduced([soil, tb, tc, td]: [f64; 4], q: f64, t: f64) -> f64 {
    let top = PLATEAU[0] / q;
    if t < tb {
        soil * (2.0 / 3.0 + t / tb * (top - 2.0 / 3.0))
    } else if t <= tc {
        soil * top
    } else {
        let fall = if t <= td { tc / t } else { tc * td / (t * t) };
        (soil * top * fall).max(LEAST_DESIGN)
    }
}

/// The equivalent single mass of a pushed building with its curve idealised.
struct SingleMass {
    line: Bilinear,
    period_s: f64,
    mass_t: f64,
    /// Γ.
    factor: f64,
}

impl SingleMass {
    /// T* = 2π·√(m*·d_y*/F_y*); Γ falls out of the ratio.
    fn new(pushed: &Pushed, displacement_m: f64) -> Self {
        let [mass_t, factor] = equivalent(&pushed.masses_t, &pushed.shape);
        let line = pushed.line().equal_energy(pushed.idealised_at_m(displacement_m));
        let period_s = 2.0 * core::f64::consts::PI * (mass_t * line.yield_m / line.yield_kn).sqrt();
        Self { line, period_s, mass_t, factor }
    }

    /// q_u = S_e·m*/F_y*.
    fn ratio(&self, acceleration_g: f64) -> f64 {
        acceleration_g * GRAVITY_M_S2 * self.mass_t * self.factor / self.line.yield_kn
    }

    fn elastic_m(&self, acceleration_g: f64) -> f64 {
        let turn = self.period_s / (2.0 * core::f64::consts::PI);
        acceleration_g * GRAVITY_M_S2 * turn * turn
    }
}

/// d_t = Γ·d_t* (EN 1998-1 Annex B), repeated with the curve idealised at the answer.
pub(super) fn demand(pushed: &Pushed, motion: &GroundMotion) -> Option<Demand> {
    let corner = corner_s(motion)?;
    spectral_acceleration_g(motion, pushed.period_s)?;
    Some(pushed.iterate(|at| {
        let it = SingleMass::new(pushed, at);
        let acceleration_g = spectral_acceleration_g(motion, it.period_s).unwrap_or(0.0);
        let ratio = it.ratio(acceleration_g);
        let elastic = it.elastic_m(acceleration_g);
        let roof_m = it.factor * inelastic_displacement(elastic, ratio, it.period_s, corner);
        Demand {
            roof_m,
            idealised: it.line,
            period_s: it.period_s,
            acceleration_g,
            strength_ratio: ratio,
            largest_ratio: None,
            factors: vec![("Γ", it.factor), ("m*", it.mass_t)],
            reached: pushed.curve.last().is_some_and(|point| roof_m <= point[0]),
        }
    }))
}

/// s = μ_u/q_u where T* ≥ T_C or μ_u ≤ 1, else (1 + (μ_u − 1)·T*/T_C)/q_u, the curve idealised at
/// the limit (EN 1998-1 Eq. B.9 to B.12 turned round; DERIVED). `None` without shaking or displacement.
pub(super) fn scale(pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Option<Scale> {
    let corner = corner_s(motion)?;
    let it = SingleMass::new(pushed, limit_m);
    let ratio = it.ratio(spectral_acceleration_g(motion, it.period_s)?);
    if !(ratio > 0.0 && limit_m > 0.0) {
        return None;
    }
    let ductility = limit_m / it.line.yield_m;
    let scale = if it.period_s >= corner || ductility <= 1.0 {
        ductility / ratio
    } else {
        // No more than three times the elastic displacement is asked for.
        ((1.0 + (ductility - 1.0) * it.period_s / corner) / ratio).max(ductility / (3.0 * ratio))
    };
    Some(Scale { scale, by_strength: false })
}

/// λ.
pub(super) fn mass_share(share: &MassShare) -> f64 {
    let counts = share.storeys > 2 && share.period_s <= 2.0 * share.corner_period_s;
    if counts { MASS_SHARE } else { 1.0 }
}

/// Least acceleration of a part, from the plateau 2.5·a_g·S, g.
pub(super) fn least_part_force_g(plateau_g: f64) -> f64 {
    PART[0] / PART[1] * plateau_g / PLATEAU[0]
}

/// Lateral force method (EN 1998-1 4.3.3.2). `None` for a table, or without weight or height.
pub(super) fn lateral_forces(design: &LateralDesign) -> Option<LateralForces> {
    let (acceleration_g, table) = anchored(&design.motion.hazard)?;
    let shares = height_shares(&design.weights_kn, &design.heights_m, 1.0);
    let height = design.heights_m.last().copied().filter(|_| !shares.is_empty())?;
    let factor = if design.system == LateralSystem::ConcreteFrame { PERIOD[0] } else { PERIOD[1] };
    let formula_period_s = factor * pow(height, PERIOD[2]);
    let period_s = design.analysed_period_s.unwrap_or(formula_period_s);
    let longest_period_s = (STATIC_LIMIT[0] * table[2]).min(STATIC_LIMIT[1]);
    let ordinate = design.importance * acceleration_g * reduced(table, design.reduction, period_s);
    let mass_share = mass_share(&MassShare {
        storeys: design.heights_m.len() as u32,
        system: design.system,
        period_s,
        corner_period_s: table[2],
    });
    let coefficient = ordinate * mass_share;
    let base_shear_kn = coefficient * design.weights_kn.iter().sum::<f64>();
    let forces_kn: Vec<f64> = shares.iter().map(|share| share * base_shear_kn).collect();
    let shears_kn = storey_shears(&forces_kn);
    let overturning_knm = overturning(&shears_kn, &design.heights_m);
    Some(LateralForces {
        formula_period_s,
        longest_period_s,
        period_s,
        terms: vec![("S_d(T₁), g", ordinate), ("λ", mass_share)],
        governs: "4.5",
        coefficient,
        base_shear_kn,
        exponent: 1.0,
        forces_kn,
        shears_kn,
        overturning_knm,
        applicable: period_s <= longest_period_s,
    })
}

/// θ = P·q·d_e/(V·h) (EN 1998-1 Eq. 4.28).
pub(super) fn p_delta(storey: &PDelta) -> PDeltaEffect {
    let [neglected, amplified, limit] = P_DELTA;
    let theta = storey.vertical_kn * storey.displacement_factor * storey.drift_m / (storey.shear_kn * storey.height_m);
    let (verdict, factor) = if theta <= neglected {
        (PDeltaVerdict::Neglect, Some(1.0))
    } else if theta <= amplified {
        (PDeltaVerdict::Amplify, Some(1.0 / (1.0 - theta)))
    } else if theta <= limit {
        (PDeltaVerdict::SecondOrder, None)
    } else {
        (PDeltaVerdict::Unstable, None)
    };
    PDeltaEffect { theta, limit, factor, verdict }
}

pub(super) fn drift_limit(building: &DriftLimit) -> f64 {
    let [brittle, follows, ordinary, important] = DRIFT_LIMIT;
    let drift = if building.tolerant_partitions { follows } else { brittle };
    let reduction = if building.importance == ImportanceClass::Ordinary { ordinary } else { important };
    drift / reduction
}
