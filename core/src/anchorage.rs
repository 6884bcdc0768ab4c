//! Bars in existing members: laps, and room for bars bonded in.

use crate::material::Bar;
use crate::rules::{BarAnchorage, Ruled, Rules, Splice};

/// Left undrilled behind a bar bonded into an old member, mm: its cover (common practice, no source).
const FAR_COVER_MM: f64 = 40.0;

/// How deep a bar can be bonded into an old member of this depth, mm.
pub fn drillable_mm(depth_mm: f64) -> f64 {
    (depth_mm - FAR_COVER_MM).max(0.0)
}

/// Confinement term of a bar: the lesser of edge distance and half spacing, both to the centre of
/// the bar, over its diameter; hoops' help is left out. The rule set holds it at its own limit.
pub fn confinement(bar: Bar, edge_mm: f64, spacing_mm: f64) -> f64 {
    edge_mm.min(0.5 * spacing_mm) / bar.diameter_mm
}

/// A lap of longitudinal bars in an existing column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lap {
    /// One bar.
    pub bar: Bar,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// Concrete, MPa.
    pub concrete_mpa: f64,
    /// Lap provided, mm.
    pub provided_mm: f64,
    /// From the face of the column to the bar centre, mm.
    pub edge_mm: f64,
    /// Distance between bar centres, mm.
    pub spacing_mm: f64,
}

/// Stress lapped bars can reach, MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LapStrength {
    /// Length the rule set requires to develop yield, mm.
    pub required_mm: f64,
    /// Stress they can reach, MPa.
    pub stress_mpa: f64,
    /// Less than yield.
    pub short: bool,
}

/// Stress lapped bars can reach.
pub fn lap(rules: &dyn Rules, lap: &Lap) -> Ruled<LapStrength> {
    let anchored = rules.bar_anchorage(&BarAnchorage {
        bar: lap.bar,
        yield_mpa: lap.yield_mpa,
        concrete_mpa: lap.concrete_mpa,
        embedment_mm: lap.provided_mm,
        confinement: confinement(lap.bar, lap.edge_mm, lap.spacing_mm),
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    })?;
    let required_mm = anchored.required_mm;
    let splice = Splice {
        provided_mm: lap.provided_mm,
        required_mm,
        bar_mm: lap.bar.diameter_mm,
        yield_mpa: lap.yield_mpa,
        concrete_mpa: lap.concrete_mpa,
    };
    let stress_mpa = rules.splice_stress_mpa(&splice)?;
    Ok(LapStrength { required_mm, stress_mpa, short: stress_mpa < lap.yield_mpa })
}
