//! A wall in a storey: the drifts that go with how it fails.

use crate::rules::{Notes, Ruled, Rules, WallDeformation, WallLimits};

/// How a wall fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WallFailure {
    /// Shear of the panel.
    Shear,
    /// Bending at the base.
    Flexure,
    /// Bars round a panel cast into an old frame.
    Perimeter,
    /// The footing rocks.
    Rocking,
}

/// A wall at its strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallAtStrength {
    /// How it fails.
    pub failure: WallFailure,
    /// Storey shear it reaches, kN.
    pub strength_kn: f64,
    /// Storey shear over storey drift while elastic, kN/m.
    pub stiffness_kn_m: f64,
    /// Storey height, m.
    pub storey_height_m: f64,
    /// Web area, thickness times length, mm².
    pub web_mm2: f64,
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Axial force, kN, compression positive.
    pub axial_kn: f64,
    /// Ends confined by hoops.
    pub confined: bool,
    /// Moment over shear at its foot over its length.
    pub shear_span_ratio: f64,
    /// Yield strength of the bars at its edges, MPa.
    pub yield_mpa: f64,
}

/// Shear–drift line of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallDrifts {
    /// Shear at which the stiffness falls, kN.
    pub cracking_kn: f64,
    /// Storey drift at which the strength is reached, m.
    pub full_m: f64,
    /// Storey drift up to which it is kept, m.
    pub limit_m: f64,
    /// Storey drift at which the wall is lost, m.
    pub loss_m: f64,
    /// Remarks.
    pub notes: Notes,
}

impl WallAtStrength {
    /// Drifts by the rule set's limits.
    ///
    /// Shear: elastic to the cracking part of the strength, then straight to the strength at the
    /// clause's drift; kept to its capping drift, which is in all. Bending: yield drift plus the
    /// plastic rotation times the storey height. Bars round the panel: lost at their strength.
    /// Rocking: kept as long as the wall could rotate in bending (no limit of its own known here).
    pub fn drifts(&self, rules: &dyn Rules) -> Ruled<WallDrifts> {
        let stress = 1000.0 * self.axial_kn / (self.web_mm2 * self.concrete_mpa);
        let deformation = rules.wall_limits(&WallLimits {
            shear_controls: self.failure == WallFailure::Shear,
            // Equal steel at both ends.
            compression_term: stress,
            shear_stress: 1000.0 * self.strength_kn / (self.web_mm2 * self.concrete_mpa.sqrt()),
            confined: self.confined,
            axial_ratio: stress,
            shear_span_ratio: self.shear_span_ratio,
            concrete_mpa: self.concrete_mpa,
            yield_mpa: self.yield_mpa,
        })?;
        let elastic = self.strength_kn / self.stiffness_kn_m;
        let height = self.storey_height_m;
        Ok(match deformation {
            WallDeformation::Shear { yielding, capping, loss, cracking, notes, .. } => {
                let full_m = (yielding * height).max(elastic);
                let limit_m = (capping * height).max(full_m);
                let cracking_kn = cracking * self.strength_kn;
                WallDrifts { cracking_kn, full_m, limit_m, loss_m: (loss * height).max(limit_m), notes }
            }
            WallDeformation::Flexure(rotations) => {
                let kept = if self.failure == WallFailure::Perimeter { 0.0 } else { rotations.capping };
                WallDrifts {
                    cracking_kn: self.strength_kn,
                    full_m: elastic,
                    limit_m: elastic + kept * height,
                    loss_m: elastic + rotations.loss.max(kept) * height,
                    notes: rotations.notes,
                }
            }
        })
    }
}
