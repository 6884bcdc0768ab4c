//! Strength of a storey at compatible drift.

/// A vertical member as a spring of its storey: elastic to its strength, or to the part of it at
/// which it cracks and straight on from there, level to its limit, nothing beyond.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Secant stiffness while elastic, kN/m.
    pub stiffness_kn_m: f64,
    /// Shear at which the stiffness falls, kN; the strength itself where it does not.
    pub cracking_kn: f64,
    /// Strength, kN.
    pub strength_kn: f64,
    /// Storey drift at which the strength is reached, mm.
    pub full_drift_mm: f64,
    /// Storey drift beyond which it carries nothing, mm.
    pub limit_drift_mm: f64,
}

impl Spring {
    /// Elastic to its strength.
    pub fn bilinear(stiffness_kn_m: f64, strength_kn: f64, limit_drift_mm: f64) -> Self {
        let full_drift_mm = 1000.0 * strength_kn / stiffness_kn_m;
        Self { stiffness_kn_m, cracking_kn: strength_kn, strength_kn, full_drift_mm, limit_drift_mm }
    }

    /// What it carries at a drift, kN.
    pub fn force_kn(&self, drift_mm: f64) -> f64 {
        // A hair of slack keeps a member alive at its own limit whatever the rounding.
        if drift_mm > self.limit_drift_mm * (1.0 + 1e-12) {
            return 0.0;
        }
        let elastic = self.stiffness_kn_m * drift_mm / 1000.0;
        if elastic <= self.cracking_kn.min(self.strength_kn) {
            return elastic;
        }
        let cracked_mm = 1000.0 * self.cracking_kn / self.stiffness_kn_m;
        if drift_mm >= self.full_drift_mm || self.full_drift_mm <= cracked_mm {
            return self.strength_kn;
        }
        let part = (drift_mm - cracked_mm) / (self.full_drift_mm - cracked_mm);
        self.cracking_kn + (self.strength_kn - self.cracking_kn) * part
    }
}

/// Strength of a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct StoreyStrength {
    /// kN.
    pub strength_kn: f64,
    /// Drift at which it is reached, mm.
    pub drift_mm: f64,
    /// Members lost before that drift, by place in the list.
    pub lost: Vec<usize>,
}

/// The largest sum the members reach together, over the drifts at which one of them is lost:
/// V = max over δ_j of Σ V_m(δ_j); between two such drifts no member loses shear.
///
/// Never the sum of strengths: members that fail early carry nothing when the others have
/// theirs. Ties go to the smaller drift.
///
/// ```
/// use sisterframe_core::storey::{Spring, strength};
/// let ductile = Spring::bilinear(8000.0, 80.0, 60.0);
/// let captive = Spring::bilinear(60_000.0, 180.0, 3.0);
/// let storey = strength(&[ductile, ductile, captive, captive]);
/// assert!((storey.strength_kn - 408.0).abs() < 1e-9);
/// assert_eq!(storey.drift_mm, 3.0);
/// ```
pub fn strength(members: &[Spring]) -> StoreyStrength {
    let sum = |drift: f64| members.iter().map(|member| member.force_kn(drift)).sum::<f64>();
    let mut best = (0.0, 0.0);
    for member in members.iter().filter(|member| member.strength_kn > 0.0) {
        let drift = member.limit_drift_mm;
        let strength = sum(drift);
        if strength > best.0 || (strength == best.0 && drift < best.1) {
            best = (strength, drift);
        }
    }
    let (strength_kn, drift_mm) = best;
    let lost = members
        .iter()
        .enumerate()
        .filter(|(_, member)| member.strength_kn > 0.0 && member.force_kn(drift_mm) == 0.0 && drift_mm > 0.0)
        .map(|(index, _)| index)
        .collect();
    StoreyStrength { strength_kn, drift_mm, lost }
}
