//! Concrete stress laws and reinforcing bars, as numbers a section can use.
//!
//! Which law and which factored strength apply is a matter for the rule set; here are only
//! the shapes. Stresses in MPa, lengths in mm, strains positive in compression.

use crate::math::pow;
use crate::rules::source::clause_constants;

clause_constants! { CONSTANTS;
    /// Modulus of elasticity of reinforcing steel, MPa.
    STEEL_MODULUS_MPA: f64 = 200_000.0, Memory, "ACI 318-19 20.2.2.2, EN 1992-1-1 3.2.7(4)";
}

/// Standard acceleration of gravity used to turn weight into mass, m/s².
pub const GRAVITY_M_S2: f64 = 9.81;

/// How concrete in compression answers to strain. Tension is neglected in every law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ConcreteLaw {
    /// Uniform stress `factor · strength` over the depth `depth_ratio · c` from the most
    /// compressed fibre (the rectangular block; ACI 318-19 22.2.2.4).
    Block {
        /// Compressive strength of the concrete, MPa.
        strength_mpa: f64,
        /// Block stress over strength (0.85).
        factor: f64,
        /// Block depth over neutral-axis depth (β₁).
        depth_ratio: f64,
        /// Strain of the most compressed fibre at the strength of the section.
        ultimate_strain: f64,
    },
    /// σ = f·[1 − (1 − ε/ε_peak)ⁿ] up to ε_peak, then constant up to the ultimate strain
    /// (parabola–rectangle; EN 1992-1-1 3.1.7).
    Parabola {
        /// Stress of the plateau, MPa, all factors included.
        strength_mpa: f64,
        /// Strain where the plateau begins.
        peak_strain: f64,
        /// Strain of the most compressed fibre at the strength of the section.
        ultimate_strain: f64,
        /// Exponent n of the rising branch.
        exponent: f64,
    },
}

/// Linear strain over a section, measured from its most compressed fibre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrainLine {
    /// Strain of the most compressed fibre, compression positive.
    pub top: f64,
    /// Loss of compressive strain per mm of depth; zero when the whole section is at one strain.
    pub curvature_per_mm: f64,
}

impl StrainLine {
    /// Strain at a depth below the most compressed fibre.
    pub fn at(self, depth_mm: f64) -> f64 {
        self.top - self.curvature_per_mm * depth_mm
    }

    /// Depth of the neutral axis; infinite when the whole section is at one strain.
    pub fn neutral_axis_mm(self) -> f64 {
        if self.curvature_per_mm > 0.0 { self.top / self.curvature_per_mm } else { f64::INFINITY }
    }
}

/// Three-point Gauss–Legendre abscissae and weights on [0, 1]; exact for the moment of a parabola.
const GAUSS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_3, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];

impl ConcreteLaw {
    /// Strain of the most compressed fibre at the strength of the section.
    pub fn ultimate_strain(&self) -> f64 {
        match *self {
            Self::Block { ultimate_strain, .. } | Self::Parabola { ultimate_strain, .. } => ultimate_strain,
        }
    }

    /// Strain a section squeezed evenly over its whole depth reaches: the ultimate strain for the
    /// block, the strain at the start of the plateau for the parabola (EN 1992-1-1 6.1(5)).
    pub fn uniform_strain(&self) -> f64 {
        match *self {
            Self::Block { ultimate_strain, .. } => ultimate_strain,
            Self::Parabola { peak_strain, .. } => peak_strain,
        }
    }

    /// Stress at a depth, MPa.
    pub fn stress_mpa(&self, strain: StrainLine, depth_mm: f64) -> f64 {
        match *self {
            Self::Block { strength_mpa, factor, depth_ratio, .. } => {
                if depth_mm <= depth_ratio * strain.neutral_axis_mm() { factor * strength_mpa } else { 0.0 }
            }
            Self::Parabola { strength_mpa, peak_strain, exponent, .. } => {
                let ratio = strain.at(depth_mm) / peak_strain;
                if ratio <= 0.0 {
                    0.0
                } else if ratio >= 1.0 {
                    strength_mpa
                } else if exponent == 2.0 {
                    strength_mpa * ratio * (2.0 - ratio)
                } else {
                    strength_mpa * (1.0 - pow(1.0 - ratio, exponent))
                }
            }
        }
    }

    /// Force and its first moment about the most compressed fibre for a strip 1 mm wide between
    /// two depths: (N/mm, N). Exact for the block and for n = 2; within 2e-4 of the force for the
    /// smaller exponents of high-strength concrete.
    pub fn resultant(&self, strain: StrainLine, from_mm: f64, to_mm: f64) -> (f64, f64) {
        match *self {
            Self::Block { strength_mpa, factor, depth_ratio, .. } => {
                let to = to_mm.min(depth_ratio * strain.neutral_axis_mm());
                if to <= from_mm {
                    return (0.0, 0.0);
                }
                let force = factor * strength_mpa * (to - from_mm);
                (force, force * 0.5 * (from_mm + to))
            }
            Self::Parabola { strength_mpa, peak_strain, .. } => {
                let to = to_mm.min(strain.neutral_axis_mm());
                if to <= from_mm {
                    return (0.0, 0.0);
                }
                // End of the plateau, held inside the strip.
                let plateau = if strain.curvature_per_mm > 0.0 {
                    ((strain.top - peak_strain) / strain.curvature_per_mm).clamp(from_mm, to)
                } else if strain.top >= peak_strain {
                    to
                } else {
                    from_mm
                };
                let mut force = strength_mpa * (plateau - from_mm);
                let mut moment = force * 0.5 * (from_mm + plateau);
                let length = to - plateau;
                if length > 0.0 {
                    for (at, weight) in GAUSS {
                        let depth = plateau + at * length;
                        let part = weight * length * self.stress_mpa(strain, depth);
                        force += part;
                        moment += part * depth;
                    }
                }
                (force, moment)
            }
        }
    }
}

/// A reinforcing bar by its nominal diameter and the area counted for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Nominal diameter, mm.
    pub diameter_mm: f64,
    /// Cross-section area, mm².
    pub area_mm2: f64,
}

impl Bar {
    /// A bar whose area is that of its nominal circle.
    pub fn round(diameter_mm: f64) -> Self {
        Self { diameter_mm, area_mm2: core::f64::consts::PI * diameter_mm * diameter_mm / 4.0 }
    }
}

/// Stress of elastic, perfectly plastic steel, MPa; compression positive.
pub fn steel_stress_mpa(strain: f64, yield_mpa: f64) -> f64 {
    (STEEL_MODULUS_MPA * strain).clamp(-yield_mpa, yield_mpa)
}
