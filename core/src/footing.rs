//! What the ground allows a wall or an added frame: rotation and rocking. Statics only, the same in
//! every rule set.

use crate::rules::source::clause_constants;

clause_constants! { CONSTANTS;
    /// Subgrade modulus over allowable bearing pressure, 1/m: 40 times the ultimate pressure at a
    /// settlement of 25 mm and a safety factor of 3; good to a factor of two either way.
    SUBGRADE_PER_BEARING_PER_M: f64 = 120.0, Memory, "common practice, no clause";
    /// Ultimate over allowable bearing pressure where only the latter is known.
    ULTIMATE_PER_ALLOWABLE: f64 = 3.0, Memory, "ASCE/SEI 41-17 8.4.1, presumptive";
    /// On the ultimate bearing pressure in an earthquake.
    SAFETY: f64 = 0.5, Memory, "common practice, no clause";
    /// Friction of concrete cast on ground.
    SLIDING: f64 = 0.45, Memory, "common practice, no clause";
}

/// A strip or pad under a wall, or under one column of a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Length in the direction of the force, m.
    pub length_m: f64,
    /// Width across it, m.
    pub width_m: f64,
    /// Ultimate bearing pressure, kPa.
    pub ultimate_kpa: f64,
    /// Subgrade modulus, MN/m³.
    pub subgrade_mn_m3: f64,
}

impl Strip {
    /// A footing known by its allowable bearing pressure.
    pub fn from_allowable(length_m: f64, width_m: f64, allowable_kpa: f64) -> Self {
        Self {
            length_m,
            width_m,
            ultimate_kpa: ULTIMATE_PER_ALLOWABLE * allowable_kpa,
            subgrade_mn_m3: SUBGRADE_PER_BEARING_PER_M * allowable_kpa / 1e3,
        }
    }

    /// Rotational stiffness k_s·B·L³/12 of a rigid footing on springs, kNm/rad (DERIVED).
    pub fn rotational_stiffness_knm(&self) -> f64 {
        self.subgrade_mn_m3 * 1e3 * self.width_m * self.length_m * self.length_m * self.length_m / 12.0
    }

    /// Vertical stiffness k_s·B·L, kN/m (DERIVED).
    pub fn vertical_stiffness_kn_m(&self) -> f64 {
        self.subgrade_mn_m3 * 1e3 * self.width_m * self.length_m
    }

    /// Rocking moment (P·L/2)·(1 − q/q_c), q = P/(B·L), kNm (ASCE/SEI 41-17 8.4.2.3; MEMORY: from
    /// memory, verify). Zero in tension and when the ground is full.
    pub fn rocking_moment_knm(&self, axial_kn: f64) -> f64 {
        let pressure = axial_kn / (self.width_m * self.length_m);
        (0.5 * axial_kn * self.length_m * (1.0 - pressure / self.ultimate_kpa)).max(0.0)
    }
}

/// Rocking moment of a wall whose footing is not given: it can only lift what stands on it, and
/// turns about its own edge, P·L/2 (DERIVED; never infinite).
pub fn gravity_only_moment_knm(axial_kn: f64, length_m: f64) -> f64 {
    (0.5 * axial_kn * length_m).max(0.0)
}
