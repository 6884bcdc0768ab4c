//! Displacement a building must reach under the ground motion, and how much stronger the motion
//! may be before a limit is reached.

pub mod bilinear;
mod coefficient;
mod n2;

pub use coefficient::{Coefficients, first_factor, largest_ratio, second_factor};
pub use n2::{equivalent, inelastic_displacement};

use bilinear::{Bilinear, Line};

/// A pushed building with its equivalent single mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Pushed {
    /// Roof displacement (m) and base shear (kN) from the origin, displacement not falling.
    pub curve: Vec<[f64; 2]>,
    /// Masses of the floors, t.
    pub masses_t: Vec<f64>,
    /// Displacements of the floors, one at the roof.
    pub shape: Vec<f64>,
    /// Elastic period, s.
    pub period_s: f64,
    /// Part of the whole mass counted in the base shear.
    pub mass_share: f64,
    /// Second-order slope of the curve over its first stiffness, not above zero.
    pub second_order: f64,
}

/// Displacement demand.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Roof displacement, m.
    pub roof_m: f64,
    /// The curve as idealised.
    pub idealised: Bilinear,
    /// Effective period, s.
    pub period_s: f64,
    /// Spectral acceleration at it, g.
    pub acceleration_g: f64,
    /// Elastic strength demand over yield strength.
    pub strength_ratio: f64,
    /// Largest ratio for which the static method stands; none where nothing softens.
    pub largest_ratio: Option<f64>,
    /// Factors in the order they are applied, by name.
    pub factors: Vec<(&'static str, f64)>,
    /// Whether the demand is on the curve and within the method's own limit.
    pub reached: bool,
}

/// How much the ground motion may be scaled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// The factor.
    pub scale: f64,
    /// The method's own limit on strength sets it, not the displacement.
    pub by_strength: bool,
}

impl Pushed {
    /// The curve.
    pub fn line(&self) -> Line<'_> {
        Line(&self.curve)
    }

    /// Displacement at which the curve is idealised for a displacement of interest: not beyond
    /// its peak.
    pub fn idealised_at_m(&self, displacement_m: f64) -> f64 {
        let last = self.curve.last().map_or(0.0, |point| point[0]);
        let at = displacement_m.min(last);
        self.line().peak(at)[0].min(at)
    }

    /// Weight, kN.
    pub fn weight_kn(&self) -> f64 {
        crate::material::GRAVITY_M_S2 * self.masses_t.iter().sum::<f64>()
    }

    /// Repeats `demand` with the curve idealised at its own answer until that no longer moves.
    pub(crate) fn iterate(&self, demand: impl Fn(f64) -> Demand) -> Demand {
        let last = self.curve.last().map_or(0.0, |point| point[0]);
        let mut found = demand(last);
        for _ in 0..30 {
            let next = demand(found.roof_m);
            let still = (next.roof_m - found.roof_m).abs() <= 1e-9 * next.roof_m.abs();
            found = next;
            if still {
                break;
            }
        }
        found
    }
}
