//! Whether a building is worse off in a stage of the works than as it stands.

use super::{Analysis, Depth, rule_set};
use crate::finding::{Code, Finding};
use crate::place::Place;
use crate::project::{Direction, Project, Scheme};
use crate::study::{Headline, OptionResult};
use serde::Serialize;

/// Part by which a strength or capacity ÷ demand may fall before it is called less: rounding and
/// the push's own steps lie below it.
pub const LESS: f64 = 0.005;
/// Rise of the eccentricity, as a share of the plan's width, that is called more.
pub const MORE_ECCENTRIC: f64 = 0.01;

/// Strength of a storey in a stage beside that of the building as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StageStorey {
    /// Whether the direction is x.
    pub along_x: bool,
    /// Number, from 1.
    pub storey: u32,
    /// Storey strength in the stage, kN.
    pub strength_kn: f64,
    /// Storey strength as it stands, kN.
    pub before_kn: f64,
}

impl StageStorey {
    /// Strength in the stage over that before; none where there was none.
    pub fn ratio(&self) -> Option<f64> {
        (self.before_kn > 0.0).then(|| self.strength_kn / self.before_kn)
    }
}

/// A stage beside the building as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StageResult {
    /// Capacity ÷ demand; withheld where a direction has none.
    pub capacity_to_demand: Option<Headline>,
    /// Strength of every storey, along x and then along y; empty where the stage does not stand.
    pub storeys: Vec<StageStorey>,
    /// Distance of the centres of stiffness and mass as a share of the plan's width, for motion
    /// along x and along y: in the stage, and as it stands.
    pub eccentricity: Vec<[f64; 2]>,
    /// What is worse than before, and what keeps the stage from being evaluated.
    pub findings: Vec<Finding>,
}

impl StageResult {
    /// The storey that loses most, or gains least.
    pub fn least(&self) -> Option<StageStorey> {
        let known = self.storeys.iter().filter(|own| own.ratio().is_some());
        known.copied().min_by(|one, other| one.ratio().unwrap_or(0.0).total_cmp(&other.ratio().unwrap_or(0.0)))
    }
}

/// Evaluates a stage, a scheme of its own, beside the building as it stands.
pub fn stage(project: &Project, scheme: &Scheme, standing: &OptionResult) -> StageResult {
    let analysis = Analysis::new(project, Some(scheme), rule_set(project), Depth::Whole);
    let mut result = StageResult {
        capacity_to_demand: analysis.capacity_to_demand(),
        storeys: Vec::new(),
        eccentricity: Vec::new(),
        findings: {
            let fails = |own: &&Finding| matches!(own.code, Code::Unstable | Code::NotInRuleSet);
            analysis.findings.iter().filter(fails).cloned().collect()
        },
    };
    for lateral in &analysis.directions {
        let now = &lateral.result;
        let Some(before) = standing.directions.iter().find(|own| own.along_x == now.along_x) else { continue };
        let direction = if now.along_x { Direction::X } else { Direction::Y };
        result.eccentricity.push([now.eccentricity_share, before.eccentricity_share]);
        if now.eccentricity_share > before.eccentricity_share + MORE_ECCENTRIC {
            let [now, before] = [now, before].map(|own| 100.0 * own.eccentricity_share);
            let detail = format!("{now:.0} % of the plan {}, {before:.0} % as it stands", direction.across().label());
            result.findings.push(Finding::new(Code::StageMoreEccentric, Place::Building, detail));
        }
        for (own, old) in now.storeys.iter().zip(&before.storeys) {
            let storey = StageStorey {
                along_x: now.along_x,
                storey: own.storey,
                strength_kn: own.strength_kn,
                before_kn: old.strength_kn,
            };
            if let Some(ratio) = storey.ratio().filter(|ratio| *ratio < 1.0 - LESS) {
                let detail = format!("storey {} {}, {ratio:.2} of its strength", own.storey, direction.label());
                result.findings.push(Finding::new(Code::StageWeaker, Place::Storey { storey: own.storey }, detail));
            }
            result.storeys.push(storey);
        }
    }
    if let (Some(now), Some(before)) = (result.capacity_to_demand, standing.capacity_to_demand)
        && now.ratio < (1.0 - LESS) * before.ratio
    {
        let detail = format!("{:.2}, {:.2} as it stands", now.ratio, before.ratio);
        result.findings.push(Finding::new(Code::StageBearsLess, Place::Building, detail));
    }
    result
}
