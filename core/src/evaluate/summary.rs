//! What the directions give together: the figures an option is compared by.

use super::{Analysis, Depth, Standing, letter};
use crate::order;
use crate::project::Project;
use crate::study::{Added, DirectionResult, FirstLost, Headline, OptionKind, OptionResult, Weakest};
use crate::works;

impl Analysis<'_> {
    pub(super) fn option(&self, project: &Project, kind: OptionKind, standing: &Standing<'_>) -> OptionResult {
        let (letter, name, measures) = match kind {
            OptionKind::Scheme { index } => {
                let scheme = &project.schemes[index];
                let described =
                    scheme.measures.iter().map(|measure| crate::measure::describe(measure, &project.building));
                (letter(index), scheme.name.clone(), described.collect())
            }
            _ => (String::new(), "As it stands".to_owned(), Vec::new()),
        };
        let own = self.directions.iter().map(|lateral| &lateral.result);
        let strength_gain = match (weakest_per_weight(own), weakest_per_weight(standing.directions.iter().copied())) {
            (Some(own), Some(before)) if before.ratio > 0.0 => {
                Some(Headline { ratio: own.ratio / before.ratio, ..own })
            }
            _ => None,
        };
        let weaker = self
            .directions
            .iter()
            .map(|lateral| &lateral.result)
            .map(|result| (result.strength_kn / result.base_shear_kn, result))
            .min_by(|one, other| one.0.total_cmp(&other.0));
        let strength_to_demand =
            weaker.map(|(ratio, result)| Headline { ratio, along_x: result.along_x, storey: result.strength_storey });
        let weakest = weaker.map(|(_, result)| {
            let storey = &result.storeys[result.strength_storey as usize - 1];
            Weakest {
                along_x: result.along_x,
                storey: storey.storey,
                failure: storey.failure,
                first: storey
                    .members
                    .iter()
                    .filter(|member| member.strength_kn > 0.0)
                    .min_by(|one, other| one.limit_drift_mm.total_cmp(&other.limit_drift_mm))
                    .map(|member| FirstLost { place: member.place.clone(), failure: member.failure }),
            }
        });
        let weight = standing.weight_kn;
        let materials = works::materials(&self.model);
        let works = self.scheme.map(|scheme| works::evaluate(&self.model, project, scheme)).unwrap_or_default();
        let mut findings = self.findings.clone();
        findings.extend(self.comparative_findings(standing));
        if self.scheme.is_some() {
            findings.extend(works::ways_out(&self.model, &project.building));
        }
        order::sort_by_key(&mut findings, |finding| std::cmp::Reverse(finding.severity));
        findings.dedup();
        OptionResult {
            kind,
            letter,
            name,
            measures,
            pending: self.depth == Depth::Elastic,
            directions: self.directions.iter().map(|lateral| lateral.result.clone()).collect(),
            strength_gain,
            strength_to_demand,
            ductility_needed: strength_to_demand
                .filter(|headline| headline.ratio > 0.0)
                .map(|headline| (1.0 / headline.ratio).max(1.0)),
            capacity_to_demand: self.capacity_to_demand(),
            weakest,
            added: Added {
                weight_kn: self.model.added_kn,
                weight_share: if weight > 0.0 { self.model.added_kn / weight } else { 0.0 },
                concrete_m3: materials.concrete_m3,
                steel_t: materials.steel_t,
            },
            works: Some(works),
            programme: None,
            programme_pending: self.scheme.is_some_and(|scheme| !scheme.measures.is_empty()),
            slabs: self.slabs.clone(),
            connections: self.connections.clone(),
            findings,
        }
    }
}

/// The lowest base-shear strength per weight over directions; none unless all have one.
///
/// Strength is the largest base shear of the capacity curves before gravity support is lost.
fn weakest_per_weight<'a>(directions: impl Iterator<Item = &'a DirectionResult>) -> Option<Headline> {
    let mut least: Option<Headline> = None;
    for result in directions {
        let capacity = result.capacity.as_ref()?;
        let ratio = capacity.strength_kn / result.weight_kn;
        if least.is_none_or(|own| ratio < own.ratio) {
            least = Some(Headline { ratio, along_x: result.along_x, storey: capacity.storey() });
        }
    }
    least
}
