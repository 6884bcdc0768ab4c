//! The elastic spectrum of a project as points, for charts.

use super::{ground_motion, rule_set};
use crate::material::GRAVITY_M_S2;
use crate::project::Project;
use serde::Serialize;

/// A point of the elastic spectrum.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpectrumPoint {
    /// Period, s.
    pub period_s: f64,
    /// Spectral acceleration, g.
    pub acceleration_g: f64,
    /// Spectral displacement, S_a·(T/2π)², mm.
    pub displacement_mm: f64,
}

/// The project's elastic spectrum by its rule set, from nothing to the longest period in equal
/// steps; it ends early where the spectrum is not given any further.
pub fn elastic_spectrum(project: &Project, longest_s: f64, steps: u32) -> Vec<SpectrumPoint> {
    let (rules, motion) = (rule_set(project), ground_motion(project));
    (0..=steps)
        .map_while(|step| {
            let period_s = longest_s * f64::from(step) / f64::from(steps.max(1));
            let acceleration_g = rules.spectral_acceleration_g(&motion, period_s).ok()?;
            let turn = period_s / (2.0 * core::f64::consts::PI);
            let displacement_mm = 1000.0 * acceleration_g * GRAVITY_M_S2 * turn * turn;
            Some(SpectrumPoint { period_s, acceleration_g, displacement_mm })
        })
        .collect()
}
