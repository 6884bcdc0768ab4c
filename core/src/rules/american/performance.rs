//! Target displacement: ASCE/SEI 41-17 7.4.3.

use super::super::source::clause_constants;
use crate::hazard::GroundMotion;
use crate::performance::bilinear::Bilinear;
use crate::performance::{Coefficients, Demand, Pushed, Scale, equivalent, first_factor, largest_ratio, second_factor};

clause_constants! { CONSTANTS;
    /// Part of the yield force at which the first line crosses the curve.
    SECANT_PART: f64 = 0.6, Memory, "ASCE 41-17 7.4.3.2.4";
    /// C₁: a of site class D and softer, the largest effect; B 130, C 90.
    SITE: f64 = 60.0, Memory, "ASCE 41-17 7.4.3.3.2, Eq. 7-29";
    /// C₁: periods between which it depends on the period, s.
    FIRST_PERIODS: [f64; 2] = [0.2, 1.0], Memory, "ASCE 41-17 7.4.3.3.2";
    /// C₂: divisor and period from which it is one, s.
    SECOND: [f64; 2] = [800.0, 0.7], Memory, "ASCE 41-17 7.4.3.3.2, Eq. 7-30";
    /// Part of the falling slope that counts beside second-order effects, away from faults.
    FALLING_PART: f64 = 0.2, Memory, "ASCE 41-17 Eq. 7-32, 7-33";
    /// Part of the yield force to which the falling line is drawn.
    FALLEN_PART: f64 = 0.6, Memory, "ASCE 41-17 Fig. 7-3";
}

const COEFFICIENTS: Coefficients =
    Coefficients { site: SITE, first_periods_s: FIRST_PERIODS, second: SECOND[0], second_period_s: SECOND[1] };

struct Idealised {
    line: Bilinear,
    period_s: f64,
    acceleration_g: f64,
    /// μ_strength = S_a·C_m/(V_y/W).
    ratio: f64,
    largest: Option<f64>,
    /// C₀·S_a·T²/4π²·g, m.
    elastic_m: f64,
    roof_factor: f64,
}

fn idealised(pushed: &Pushed, motion: &GroundMotion, displacement_m: f64) -> Option<Idealised> {
    let at = pushed.idealised_at_m(displacement_m);
    let line = pushed.line().secant(at, SECANT_PART);
    let first = pushed.curve.get(1).map_or(0.0, |point| point[1] / point[0]);
    // T_e = T_i·√(K_i/K_e).
    let period_s = pushed.period_s * (first / line.stiffness_kn_m()).max(1.0).sqrt();
    let acceleration_g = super::demand::spectral_acceleration_g(motion, period_s)?;
    let weight = pushed.weight_kn();
    let [_, roof_factor] = equivalent(&pushed.masses_t, &pushed.shape);
    let turn = period_s / (2.0 * core::f64::consts::PI);
    Some(Idealised {
        ratio: acceleration_g * pushed.mass_share * weight / line.yield_kn,
        largest: largest_ratio(line.end_m / line.yield_m, softening(pushed, &line), period_s),
        elastic_m: roof_factor * acceleration_g * crate::material::GRAVITY_M_S2 * turn * turn,
        line,
        period_s,
        acceleration_g,
        roof_factor,
    })
}

/// α_e = α_PΔ + λ·(α₂ − α_PΔ): the falling slope beyond the idealised end to where the curve has
/// fallen to 0.6·V_y or ends, over the first stiffness.
fn softening(pushed: &Pushed, line: &Bilinear) -> f64 {
    let fallen = pushed
        .curve
        .iter()
        .find(|point| point[0] > line.end_m && point[1] <= FALLEN_PART * line.yield_kn)
        .or_else(|| pushed.curve.last())
        .filter(|point| point[0] > line.end_m && point[1] < line.end_kn);
    let Some(&[d, v]) = fallen else { return pushed.second_order };
    let slope = (v - line.end_kn) / (d - line.end_m) / line.stiffness_kn_m();
    let second_order = pushed.second_order.max(slope);
    second_order + FALLING_PART * (slope - second_order)
}

impl Idealised {
    fn displacement_m(&self, scale: f64) -> f64 {
        let ratio = scale * self.ratio;
        let factors =
            first_factor(&COEFFICIENTS, ratio, self.period_s) * second_factor(&COEFFICIENTS, ratio, self.period_s);
        factors * scale * self.elastic_m
    }
}

/// δ_t = C₀·C₁·C₂·S_a·T_e²/4π²·g, C₀ = Γ₁·φ_roof (Eq. 7-28), repeated with the curve idealised at
/// the answer.
pub(super) fn demand(pushed: &Pushed, motion: &GroundMotion) -> Option<Demand> {
    idealised(pushed, motion, f64::INFINITY)?;
    Some(pushed.iterate(|at| match idealised(pushed, motion, at) {
        Some(it) => {
            let roof_m = it.displacement_m(1.0);
            let last = pushed.curve.last().map_or(0.0, |point| point[0]);
            Demand {
                roof_m,
                idealised: it.line,
                period_s: it.period_s,
                acceleration_g: it.acceleration_g,
                strength_ratio: it.ratio,
                largest_ratio: it.largest,
                factors: vec![
                    ("C0", it.roof_factor),
                    ("C1", first_factor(&COEFFICIENTS, it.ratio, it.period_s)),
                    ("C2", second_factor(&COEFFICIENTS, it.ratio, it.period_s)),
                ],
                reached: roof_m <= last && it.largest.is_none_or(|largest| it.ratio <= largest),
            }
        }
        None => Demand {
            roof_m: 0.0,
            idealised: pushed.line().secant(at, SECANT_PART),
            period_s: pushed.period_s,
            acceleration_g: 0.0,
            strength_ratio: 0.0,
            largest_ratio: None,
            factors: Vec::new(),
            reached: false,
        },
    }))
}

/// Largest scale of the motion for which the demand stays within `limit_m`, the curve idealised
/// at that limit, and μ_strength within μ_max. The demand grows with the scale, so halving finds it.
pub(super) fn scale(pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Option<Scale> {
    let it = idealised(pushed, motion, limit_m)?;
    if it.elastic_m <= 0.0 || limit_m <= 0.0 {
        return None;
    }
    let (mut low, mut high) = (0.0, limit_m / it.elastic_m);
    // Both factors are one or more, so no larger scale can hold.
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high || it.displacement_m(high) <= limit_m {
            break;
        }
        if it.displacement_m(middle) > limit_m {
            high = middle;
        } else {
            low = middle;
        }
    }
    let by_displacement = if it.displacement_m(high) <= limit_m { high } else { low };
    let by_strength = it.largest.map_or(f64::INFINITY, |largest| largest / it.ratio);
    Some(if by_strength < by_displacement {
        Scale { scale: by_strength, by_strength: true }
    } else {
        Scale { scale: by_displacement, by_strength: false }
    })
}
