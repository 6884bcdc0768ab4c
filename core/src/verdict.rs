//! Capacity over demand: how much stronger the ground motion may be before the first limit.

use crate::performance::bilinear::advancing;
use crate::performance::{Demand, Pushed};
use crate::place::Place;
use crate::pushover::{CapacityCurve, CurvePoint, LimitKind, LimitReached, Pattern, Setup};
use crate::rules::{Ruled, Rules};
use serde::Serialize;

/// The capacity of a direction with its verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DirectionCapacity {
    /// Places of plastic deformation, as the events of the curves number them.
    pub places: Vec<Place>,
    /// Curves pushed, with their performance points.
    pub curves: Vec<Assessed>,
    /// The curve that sets the verdict.
    pub governing: usize,
    /// Largest base shear before gravity support is lost, least of all curves, kN.
    pub strength_kn: f64,
    /// Capacity ÷ demand: the largest factor on the ground motion for which the displacement demand
    /// stays within the first limit.
    pub ratio: f64,
    /// The method's own limit on strength sets the ratio, not the displacement at the limit.
    pub by_strength: bool,
    /// Limits of the governing curve in order, with what the ratio would be if those before were
    /// cured; the first sets the ratio.
    pub limits: Vec<LimitRatio>,
}

impl DirectionCapacity {
    /// The storey of the first limit.
    pub fn storey(&self) -> u32 {
        self.limits.first().map_or(0, |limit| limit.reached.storey)
    }

    /// The curve that sets the verdict, with its performance point.
    pub fn governing(&self) -> &Assessed {
        &self.curves[self.governing]
    }

    /// The state at the performance point; `None` where the curve ends before it.
    pub fn at_demand(&self) -> Option<CurvePoint> {
        let own = self.governing();
        own.curve.step_at_roof(own.point.roof_mm).map(|step| own.curve.state(step))
    }

    /// The state at the first limit.
    pub fn at_first_limit(&self) -> Option<CurvePoint> {
        let curve = &self.governing().curve;
        let first = &self.limits.first()?.reached;
        Some(curve.state(curve.step_at(first.position, first.roof_mm)))
    }
}

/// A limit with the factor on the ground motion that reaches it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitRatio {
    /// Factor on the ground motion.
    pub ratio: f64,
    /// The limit.
    pub reached: LimitReached,
}

/// A curve with its performance point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Assessed {
    /// The curve.
    pub curve: CapacityCurve,
    /// Capacity ÷ demand by this curve alone.
    pub ratio: f64,
    /// Largest base shear before gravity support is lost, kN.
    pub strength_kn: f64,
    /// What the ground motion asks for.
    pub point: PerformancePoint,
}

/// Displacement the ground motion asks for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PerformancePoint {
    /// Roof displacement, mm.
    pub roof_mm: f64,
    /// Base shear on the curve there, kN.
    pub base_shear_kn: f64,
    /// Whether the curve reaches that far within the method's limits.
    pub reached: bool,
    /// Effective period, s.
    pub period_s: f64,
    /// Spectral acceleration at it, g.
    pub acceleration_g: f64,
    /// Corner of the idealised curve: roof displacement (mm) and base shear (kN).
    pub corner: [f64; 2],
    /// End of the idealised curve: roof displacement (mm) and base shear (kN).
    pub end: [f64; 2],
    /// Elastic strength demand over yield strength.
    pub strength_ratio: f64,
    /// Largest such ratio for which the static method stands.
    pub largest_ratio: Option<f64>,
    /// Factors by name, as applied.
    pub factors: Vec<(&'static str, f64)>,
    /// Mass times shape of the equivalent single mass, t, and its transformation factor.
    pub equivalent: [f64; 2],
}

/// Limits shown with their own ratio.
const MOST_LIMITS: usize = 3;

/// What an assessment takes beside the push.
pub struct Demanded<'a> {
    /// Rule set.
    pub rules: &'a dyn Rules,
    /// Ground motion.
    pub motion: &'a crate::hazard::GroundMotion,
    /// Elastic period of the direction, s.
    pub period_s: f64,
    /// Part of the whole mass counted in the base shear.
    pub mass_share: f64,
}

/// Pushes a direction by the rule set's patterns and judges it; `None` where nothing can be pushed.
pub fn assess(setup: &Setup<'_>, demanded: &Demanded<'_>) -> Ruled<Option<DirectionCapacity>> {
    let mut patterns = vec![Pattern::FirstMode];
    if demanded.rules.uniform_pattern()? {
        patterns.push(Pattern::Uniform);
    }
    let both_senses = setup.senses_differ();
    let mut curves: Vec<Assessed> = Vec::new();
    let mut governing: Option<(f64, bool, usize, Vec<LimitRatio>)> = None;
    for pattern in patterns {
        for towards_higher in [true, false] {
            if !towards_higher && !both_senses {
                continue;
            }
            let curve = setup.curve(pattern, towards_higher);
            let Some(pushed) = pushed(setup, demanded, &curve) else { continue };
            let demand = demanded.rules.displacement_demand(&pushed, demanded.motion)?;
            let mut limits: Vec<LimitRatio> = Vec::new();
            let mut strength = false;
            for limit in curve.limits.iter().take(MOST_LIMITS) {
                // What is reached with the first step has no displacement of its own to scale to.
                let limit_m = (limit.roof_mm / 1000.0).max(1e-9);
                let scale = demanded.rules.capacity_scale(&pushed, demanded.motion, limit_m)?;
                if limits.is_empty() {
                    strength = scale.by_strength;
                }
                // A later limit cannot be reached by a weaker motion than an earlier one.
                let ratio = limits.last().map_or(scale.scale, |before| scale.scale.max(before.ratio));
                limits.push(LimitRatio { ratio, reached: limit.clone() });
            }
            let ratio = limits.first().map_or(0.0, |first| first.ratio);
            if governing.as_ref().is_none_or(|(least, ..)| ratio < *least) {
                governing = Some((ratio, strength, curves.len(), limits));
            }
            let strength_kn = strength_kn(&curve);
            curves.push(Assessed { point: point(&pushed, &demand), curve, ratio, strength_kn });
        }
    }
    let strength_kn = curves.iter().map(|own| own.strength_kn).fold(f64::INFINITY, f64::min);
    Ok(governing.map(|(ratio, by_strength, governing, limits)| DirectionCapacity {
        places: setup.hinges.iter().map(|hinge| hinge.place.clone()).collect(),
        curves,
        governing,
        strength_kn,
        ratio,
        by_strength,
        limits,
    }))
}

/// Largest base shear up to where the first column or wall loses gravity support.
fn strength_kn(curve: &CapacityCurve) -> f64 {
    let lost = curve.limits.iter().find(|limit| limit.limit == LimitKind::Support);
    let Some(lost) = lost else { return curve.peak_kn };
    let before = curve.points.iter().filter(|point| point.position <= lost.position);
    before.map(|point| point.base_shear_kn).fold(lost.base_shear_kn, f64::max)
}

fn pushed(setup: &Setup<'_>, demanded: &Demanded<'_>, curve: &CapacityCurve) -> Option<Pushed> {
    let line = advancing(curve.points.iter().map(|point| [point.roof_mm / 1000.0, point.base_shear_kn]));
    let first = line.get(1)?;
    if !(first[0] > 0.0 && first[1] > 0.0) {
        return None;
    }
    // Work of the weights over work of the storey shears in the first, elastic step.
    let elastic = curve.points.get(1)?;
    let weights: Vec<f64> = curve.masses_t.iter().map(|mass| mass * crate::material::GRAVITY_M_S2).collect();
    let (mut leaning, mut resisting) = (0.0, 0.0);
    for (s, floor) in setup.model.floors.iter().enumerate() {
        let drift = elastic.drift_mm[s] / 1000.0;
        leaning += weights[s..].iter().sum::<f64>() * drift * drift / floor.height_m;
        resisting += elastic.shear_kn[s] * drift;
    }
    Some(Pushed {
        curve: line,
        masses_t: curve.masses_t.clone(),
        shape: curve.shape.clone(),
        period_s: demanded.period_s,
        mass_share: demanded.mass_share,
        second_order: if setup.factored.assembly().p_delta && resisting > 0.0 { -leaning / resisting } else { 0.0 },
    })
}

fn point(pushed: &Pushed, demand: &Demand) -> PerformancePoint {
    let line = &demand.idealised;
    PerformancePoint {
        roof_mm: 1000.0 * demand.roof_m,
        base_shear_kn: pushed.line().force_kn(demand.roof_m),
        reached: demand.reached,
        period_s: demand.period_s,
        acceleration_g: demand.acceleration_g,
        corner: [1000.0 * line.yield_m, line.yield_kn],
        end: [1000.0 * line.end_m, line.end_kn],
        strength_ratio: demand.strength_ratio,
        largest_ratio: demand.largest_ratio,
        factors: demand.factors.clone(),
        equivalent: crate::performance::equivalent(&pushed.masses_t, &pushed.shape),
    }
}
