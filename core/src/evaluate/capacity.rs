//! Capacity curves and what they say against the demand.

use super::{Analysis, Case, Depth};
use crate::hinge::HingeStrength;
use crate::project::Objective;
use crate::pushover::{Settings, Setup};
use crate::response::Factored;
use crate::rules::Ruled;
use crate::study::Headline;
use crate::verdict::{Demanded, DirectionCapacity, assess};

/// Place of an objective among the limits of members.
pub(super) const fn level(objective: Objective) -> usize {
    match objective {
        Objective::ImmediateUse => 0,
        Objective::LifeSafety => 1,
        Objective::NearCollapse => 2,
    }
}

impl Analysis<'_> {
    /// Capacity of a direction with the hinges given; `None` where the building does not stand
    /// under its own weight or nothing can be pushed.
    pub(super) fn capacity(
        &self,
        case: &Case<'_>,
        hinges: &[HingeStrength],
        mass_share: f64,
    ) -> Ruled<Option<DirectionCapacity>> {
        let Some(factored) = case.leaning else { return Ok(None) };
        let tried: Option<Vec<HingeStrength>> = match self.depth {
            Depth::Elastic => return Ok(None),
            Depth::Whole => None,
            Depth::Tried(change) => Some(hinges.iter().map(|hinge| change.of(hinge)).collect()),
        };
        let setup = self.setup(case, factored, tried.as_deref().unwrap_or(hinges))?;
        let demanded =
            Demanded { rules: self.rules, motion: case.motion, period_s: setup.period_s(case.factored), mass_share };
        assess(&setup, &demanded)
    }

    /// What is pushed over.
    pub(super) fn setup<'a>(
        &'a self,
        case: &'a Case<'_>,
        leaning: &'a Factored<'a>,
        hinges: &'a [HingeStrength],
    ) -> Ruled<Setup<'a>> {
        Ok(Setup {
            model: &self.model,
            framing: case.framing,
            factored: leaning,
            mode: case.mode,
            hinges,
            direction: case.direction,
            level: level(case.project.ground_motion.objective),
            knowledge: self.rules.knowledge_factor(case.project.building.materials.knowledge)?,
            settings: Settings::USUAL,
        })
    }

    /// The least capacity ÷ demand of both directions; none unless both have one.
    pub(super) fn capacity_to_demand(&self) -> Option<Headline> {
        let mut least: Option<Headline> = None;
        for lateral in &self.directions {
            let capacity = lateral.result.capacity.as_ref()?;
            if least.is_none_or(|own| capacity.ratio < own.ratio) {
                least = Some(Headline {
                    ratio: capacity.ratio,
                    along_x: lateral.result.along_x,
                    storey: capacity.storey(),
                });
            }
        }
        least
    }
}
