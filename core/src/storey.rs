//! Strength of a storey at compatible drift.

/// A vertical member as a spring of its storey: elastic to its strength, level to its limit,
/// nothing beyond.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Secant stiffness, kN/m.
    pub stiffness_kn_m: f64,
    /// Strength, kN.
    pub strength_kn: f64,
    /// Storey drift beyond which it carries nothing, mm.
    pub limit_drift_mm: f64,
}

impl Spring {
    /// What it carries at a drift: V(δ) = min(k·δ, V_u) for δ ≤ δ_u, zero beyond.
    pub fn force_kn(&self, drift_mm: f64) -> f64 {
        // A hair of slack keeps a member alive at its own limit whatever the rounding.
        if drift_mm <= self.limit_drift_mm * (1.0 + 1e-12) {
            (self.stiffness_kn_m * drift_mm / 1000.0).min(self.strength_kn)
        } else {
            0.0
        }
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
/// V = max over δ_j of Σ V_m(δ_j).
///
/// Never the sum of strengths: members that fail early carry nothing when the others have
/// theirs. Ties go to the smaller drift.
///
/// ```
/// use sisterframe_core::storey::{Spring, strength};
/// let ductile = Spring { stiffness_kn_m: 8000.0, strength_kn: 80.0, limit_drift_mm: 60.0 };
/// let captive = Spring { stiffness_kn_m: 60_000.0, strength_kn: 180.0, limit_drift_mm: 3.0 };
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
