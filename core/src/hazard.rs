//! Ground motion and lateral forces: the questions a rule set answers.

pub use crate::project::{GroundType, SpectrumShape};

/// Elastic spectrum of the site, whatever form it is given in.
#[derive(Clone, Debug, PartialEq)]
pub enum Hazard {
    /// Two ordinates, 5 % damped, with site effects.
    TwoOrdinates {
        /// At short periods, g (S_XS or S_DS).
        short_g: f64,
        /// At one second, g (S_X1 or S_D1).
        one_second_g: f64,
        /// At one second on rock, g (S_1); zero where not known.
        rock_one_second_g: f64,
        /// Long-period transition, s.
        long_period_s: f64,
    },
    /// Ground acceleration and ground type.
    GroundAcceleration {
        /// On rock, g (a_gR).
        rock_g: f64,
        /// Ground type.
        ground: GroundType,
        /// Shape.
        shape: SpectrumShape,
    },
    /// Pairs of period (s) and acceleration (g) by increasing period; straight between them and
    /// flat outside. Damping is in the figures.
    Table(Vec<[f64; 2]>),
}

/// Spectrum with what acts on it.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundMotion {
    /// The spectrum.
    pub hazard: Hazard,
    /// Damping ratio.
    pub damping: f64,
    /// Importance factor on the ordinates.
    pub importance: f64,
}

impl GroundMotion {
    /// Ordinate of a tabulated spectrum, g; `None` for the other forms or an empty table.
    pub fn tabulated_g(&self, period_s: f64) -> Option<f64> {
        let Hazard::Table(points) = &self.hazard else { return None };
        let next = points.iter().position(|[t, _]| *t >= period_s);
        let value = match next {
            Some(0) => points[0][1],
            Some(i) => {
                let ([t0, a0], [t1, a1]) = (points[i - 1], points[i]);
                a0 + (a1 - a0) * (period_s - t0) / (t1 - t0)
            }
            None => points.last()?[1],
        };
        Some(value * self.importance)
    }
}

/// What carries lateral force, as far as period and mass formulas ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LateralSystem {
    /// Concrete frames.
    ConcreteFrame,
    /// Concrete walls.
    ConcreteWall,
    /// Anything else.
    Other,
}

/// Part of the whole mass that the first mode moves is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassShare {
    /// Storeys.
    pub storeys: u32,
    /// What carries lateral force.
    pub system: LateralSystem,
    /// Period, s.
    pub period_s: f64,
    /// Corner period of the spectrum, s; used by the European set only.
    pub corner_period_s: f64,
}

/// A static lateral design with a force reduction is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct LateralDesign {
    /// Ground motion; its importance factor is left out of account (see `importance`).
    pub motion: GroundMotion,
    /// Floor weights from the ground up, kN.
    pub weights_kn: Vec<f64>,
    /// Heights of those floors above the base, m.
    pub heights_m: Vec<f64>,
    /// What carries lateral force.
    pub system: LateralSystem,
    /// Period by analysis, s, if there is one.
    pub analysed_period_s: Option<f64>,
    /// Force reduction R (American) or behaviour factor q (European).
    pub reduction: f64,
    /// Importance factor I_e (American) or γ_I (European).
    pub importance: f64,
    /// Regular, at most five storeys, T ≤ 0.5 s and firm ground: the plateau may be limited.
    pub short_and_regular: bool,
    /// Site of class D with strong long-period motion and no study of its own.
    pub soft_site_without_study: bool,
}

/// A static lateral design.
#[derive(Clone, Debug, PartialEq)]
pub struct LateralForces {
    /// Period by formula, s.
    pub formula_period_s: f64,
    /// Longest period allowed, s.
    pub longest_period_s: f64,
    /// Period used, s.
    pub period_s: f64,
    /// Every term that took part, by its equation.
    pub terms: Vec<(&'static str, f64)>,
    /// The equation that governs.
    pub governs: &'static str,
    /// Base shear over weight.
    pub coefficient: f64,
    /// kN.
    pub base_shear_kn: f64,
    /// Exponent on height.
    pub exponent: f64,
    /// Forces on the floors, kN.
    pub forces_kn: Vec<f64>,
    /// Storey shears, kN.
    pub shears_kn: Vec<f64>,
    /// Overturning at the foot of each storey, kNm.
    pub overturning_knm: Vec<f64>,
    /// The static method may be used.
    pub applicable: bool,
}

/// Storey shears from floor forces, bottom up.
pub fn storey_shears(forces: &[f64]) -> Vec<f64> {
    let mut shears = forces.to_vec();
    for i in (0..shears.len().saturating_sub(1)).rev() {
        shears[i] += shears[i + 1];
    }
    shears
}

/// Overturning at the foot of each storey from storey shears and floor heights, bottom up.
pub fn overturning(shears: &[f64], heights_m: &[f64]) -> Vec<f64> {
    let mut moments = vec![0.0; shears.len()];
    for i in (0..shears.len()).rev() {
        let below = if i == 0 { 0.0 } else { heights_m[i - 1] };
        let above = moments.get(i + 1).copied().unwrap_or(0.0);
        moments[i] = above + shears[i] * (heights_m[i] - below);
    }
    moments
}

/// Shares w·h^k/Σw·h^k; empty where the sum is not positive.
pub fn height_shares(weights: &[f64], heights_m: &[f64], exponent: f64) -> Vec<f64> {
    let raw: Vec<f64> =
        weights.iter().zip(heights_m).map(|(w, h)| w * crate::math::pow(h.max(0.0), exponent)).collect();
    let sum: f64 = raw.iter().sum();
    if sum > 0.0 { raw.iter().map(|v| v / sum).collect() } else { Vec::new() }
}

/// The effect of vertical load on drift is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PDelta {
    /// Vertical load at and above the storey, kN.
    pub vertical_kn: f64,
    /// Elastic drift under `shear_kn`, m.
    pub drift_m: f64,
    /// Storey shear, kN.
    pub shear_kn: f64,
    /// Storey height, m.
    pub height_m: f64,
    /// Design over elastic displacement: C_d (American), q (European).
    pub displacement_factor: f64,
    /// Storey shear demand over capacity; 1 is always allowed.
    pub demand_ratio: f64,
}

/// What to do about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PDeltaVerdict {
    /// Nothing.
    Neglect,
    /// Multiply drifts and forces.
    Amplify,
    /// Analyse with second-order effects.
    SecondOrder,
    /// Not allowed.
    Unstable,
}

/// The effect of vertical load on drift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PDeltaEffect {
    /// Stability coefficient.
    pub theta: f64,
    /// Its limit.
    pub limit: f64,
    /// Factor on drifts and forces where one applies.
    pub factor: Option<f64>,
    /// What to do.
    pub verdict: PDeltaVerdict,
}

/// A limit on storey drift is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriftLimit {
    /// Storeys.
    pub storeys: u32,
    /// Importance of the building.
    pub importance: ImportanceClass,
    /// Partitions and cladding are made to follow the drift.
    pub tolerant_partitions: bool,
}

/// Importance of a building.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ImportanceClass {
    /// Ordinary.
    Ordinary,
    /// Many people: schools, halls.
    High,
    /// Needed after an earthquake: hospitals, fire stations.
    Essential,
}
