//! A connecting slab proposed for an external frame of a scheme, proven by the whole evaluation.

use super::{rule_set, whole_option};
use crate::connection::{NoSlab, Part, Proposal, Required, TARGET, propose};
use crate::model::Model;
use crate::project::{Measure, Project};
use crate::rules::Ruled;
use crate::study::{ForceBound, OptionKind, OptionResult, Study};

/// Rounds of proposing and evaluating anew: a slab of another weight and stiffness is asked for a
/// little more or less.
const ROUNDS: u32 = 6;

/// What became of a proposal.
#[derive(Clone, Debug, PartialEq)]
pub enum Proposed {
    /// A slab that passes when the scheme is evaluated with it.
    Slab(Proposal),
    /// No slab within sensible limits does.
    None(NoSlab),
}

/// Proposes thickness and bars of the connecting slabs of an external frame, the same at all its
/// floors, for a utilisation of at most [`TARGET`] in a whole evaluation of the scheme; `None`
/// where the scheme has no such frame or its results are withheld.
pub fn propose_slab(project: &Project, scheme: usize, face: &str, study: &Study) -> Ruled<Option<Proposed>> {
    let rules = rule_set(project);
    let kind = OptionKind::Scheme { index: scheme };
    let mut project = project.clone();
    // Forces the slab has been asked for so far, by level: what is proposed passes them all.
    let mut asked: Vec<(u32, f64, f64, bool)> = Vec::new();
    let mut last: Option<Proposal> = None;
    for _ in 0..ROUNDS {
        let Some(option) = whole_option(&project, kind, study) else { return Ok(None) };
        if let Some(proposal) = last {
            let utilisation = worst(&option, face);
            if utilisation <= TARGET {
                return Ok(Some(Proposed::Slab(Proposal { utilisation, ..proposal })));
            }
        }
        for slab in option.slabs.iter().filter(|slab| slab.face == face) {
            let capped = slab.bound != ForceBound::ElasticSpectrum;
            match asked.iter_mut().find(|own| own.0 == slab.level) {
                Some(own) => {
                    *own = (own.0, own.1.max(slab.demand_kn), own.2.max(slab.tension_kn), own.3 && capped);
                }
                None => asked.push((slab.level, slab.demand_kn, slab.tension_kn, capped)),
            }
        }
        let Some(scheme) = project.schemes.get_mut(scheme) else { return Ok(None) };
        let model = Model::new(&project.building, scheme);
        let Some(frame) = model.frames.iter().find(|frame| frame.spec.face == face) else { return Ok(None) };
        let required: Vec<Required<'_>> = asked
            .iter()
            .filter_map(|&(level, force_kn, tension_kn, capped_by_mechanism)| {
                let slab = frame.slabs.get(level as usize - 1)?.as_ref()?;
                Some(Required { slab, force_kn, tension_kn, capped_by_mechanism })
            })
            .collect();
        if required.is_empty() {
            return Ok(None);
        }
        let proposal = match propose(rules, &project.building.materials, frame, &required)? {
            Ok(proposal) => proposal,
            Err(none) => return Ok(Some(Proposed::None(none))),
        };
        for measure in &mut scheme.measures {
            if let Measure::ExternalFrame(own) = measure
                && own.face == face
            {
                *own = proposal.applied(own);
            }
        }
        last = Some(proposal);
    }
    let none = NoSlab { part: Part::OldJoint, utilisation: last.map_or(f64::MAX, |own| own.utilisation) };
    Ok(Some(Proposed::None(none)))
}

/// Largest utilisation of the slabs of a face in what a slab can be made for.
fn worst(option: &OptionResult, face: &str) -> f64 {
    let slabs = option.slabs.iter().filter(|slab| slab.face == face).map(|slab| slab.utilisation);
    let pulls = option.connections.iter().filter(|own| own.line == face);
    slabs.chain(pulls.filter_map(|own| own.check(Part::PulledBars)).map(|own| own.utilisation)).fold(0.0, f64::max)
}
