//! The factors of the coefficient method.

use crate::math::{ln, pow};

/// Constants of the method, as a rule set gives them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Site factor a in C₁.
    pub site: f64,
    /// Period below which C₁ no longer grows, and from which it is one, s.
    pub first_periods_s: [f64; 2],
    /// Divisor in C₂.
    pub second: f64,
    /// Period from which C₂ is one, s.
    pub second_period_s: f64,
}

/// C₁ = 1 + (μ − 1)/(a·T²).
pub fn first_factor(of: &Coefficients, ratio: f64, period_s: f64) -> f64 {
    let [least, most] = of.first_periods_s;
    if period_s > most || ratio <= 1.0 {
        return 1.0;
    }
    let period = period_s.max(least);
    1.0 + (ratio - 1.0) / (of.site * period * period)
}

/// C₂ = 1 + ((μ − 1)/T)²/800.
pub fn second_factor(of: &Coefficients, ratio: f64, period_s: f64) -> f64 {
    if period_s > of.second_period_s || ratio <= 1.0 {
        return 1.0;
    }
    let term = (ratio - 1.0) / period_s;
    1.0 + term * term / of.second
}

/// μ_max = Δ_d/Δ_y + |α_e|^(−h)/4, h = 1 + 0.15·ln T; none where nothing softens.
pub fn largest_ratio(end_over_yield: f64, softening: f64, period_s: f64) -> Option<f64> {
    (softening < 0.0).then(|| {
        let exponent = 1.0 + 0.15 * ln(period_s);
        end_over_yield + pow(-softening, -exponent) / 4.0
    })
}
