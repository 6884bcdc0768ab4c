//! What a measure would bring, by evaluating the project with it.

use super::{Spot, scheme_of};
use crate::evaluate::{outline_option, whole_option};
use crate::project::{Measure, Project};
use crate::study::{DirectionResult, OptionKind, OptionResult, Study};

/// A storey's strength as it is and as it would be, along x and along y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// The storey: the one pointed at, or for a line the one that is weakest against the elastic
    /// demand as things are.
    pub storey: [u32; 2],
    /// Storey strength as it is, kN.
    pub now_kn: [f64; 2],
    /// Storey strength with the measure, kN.
    pub then_kn: [f64; 2],
    /// Storey strength ÷ elastic demand as it is and with the measure.
    pub to_demand: [[f64; 2]; 2],
}

/// Capacity ÷ demand with a measure, along x and along y; `None` where it is withheld.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacity(pub [Option<f64>; 2]);

/// The project with nothing but the option's scheme and the measure in it.
pub fn changed(project: &Project, option: OptionKind, measure: &Measure) -> Project {
    let mut scheme = scheme_of(project, option);
    scheme.measures.push(measure.clone());
    Project { schemes: vec![scheme], ..project.clone() }
}

/// What an option is without the measure: a rebuild is taken for the building as it stands.
fn before(study: &Study, option: OptionKind) -> Option<&OptionResult> {
    let kind = if option == OptionKind::Rebuild { OptionKind::AsItStands } else { option };
    study.options.iter().find(|own| own.kind == kind)
}

fn along(option: &OptionResult, along_x: bool) -> Option<&DirectionResult> {
    option.directions.iter().find(|own| own.along_x == along_x)
}

/// Storey strengths with and without a measure; `None` where either is withheld. `study` is that of
/// the project.
pub fn gain(project: &Project, option: OptionKind, spot: Spot, measure: &Measure, study: &Study) -> Option<Gain> {
    let now = before(study, option)?;
    let then = outline_option(&changed(project, option, measure), OptionKind::Scheme { index: 0 }, study)?;
    let mut gain = Gain { storey: [0; 2], now_kn: [0.0; 2], then_kn: [0.0; 2], to_demand: [[0.0; 2]; 2] };
    for (index, along_x) in [true, false].into_iter().enumerate() {
        let (now, then) = (along(now, along_x)?, along(&then, along_x)?);
        let storey = spot.storey().unwrap_or(now.strength_storey);
        let at = storey as usize - 1;
        let (own, next) = (now.storeys.get(at)?, then.storeys.get(at)?);
        gain.storey[index] = storey;
        gain.now_kn[index] = own.strength_kn;
        gain.then_kn[index] = next.strength_kn;
        gain.to_demand[index] = [own.ratio, next.ratio];
    }
    Some(gain)
}

/// Capacity ÷ demand with a measure, from its capacity curves.
pub fn capacity(project: &Project, option: OptionKind, measure: &Measure, study: &Study) -> Option<Capacity> {
    let then = whole_option(&changed(project, option, measure), OptionKind::Scheme { index: 0 }, study)?;
    Some(Capacity([true, false].map(|along_x| Some(along(&then, along_x)?.capacity.as_ref()?.ratio))))
}
