//! What would lift capacity ÷ demand: small changes tried one at a time on the whole evaluation.

use super::{Analysis, Depth, rule_set};
use crate::hinge::{HingeStrength, Resistance};
use crate::project::{Control, Field, Measure, Project, Scheme};
use crate::study::{Headline, OptionKind};
use crate::units::System;
use serde::Serialize;
use serde_json::{Value, json};

/// Part by which strengths, deformation capacities and dimensions are raised or lowered.
pub const PART: f64 = 0.1;

/// A change of a storey's members that leaves their stiffness as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The storey, from 1; beams and slabs belong to the one below them.
    pub storey: u32,
    /// Factor on all strengths.
    pub strength: f64,
    /// Factor on all plastic deformations.
    pub deformation: f64,
}

impl Change {
    /// The hinge as changed.
    pub(super) fn of(&self, hinge: &HingeStrength) -> HingeStrength {
        if hinge.storey != self.storey {
            return hinge.clone();
        }
        let raised = |it: Resistance| Resistance {
            strength: it.strength * self.strength,
            onset: [it.onset[0] * self.strength, it.onset[1] * self.deformation],
            capping: it.capping * self.deformation,
            loss: it.loss * self.deformation,
            residual: it.residual,
            drop: it.drop,
            accepted: it.accepted.map(|accepted| accepted * self.deformation),
        };
        HingeStrength { senses: hinge.senses.map(|sense| sense.map(raised)), ..hinge.clone() }
    }
}

/// One thing to try.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Trial {
    /// All members of a storey a tenth stronger.
    Stronger {
        /// The storey, from 1.
        storey: u32,
    },
    /// All members of a storey able to deform a tenth further.
    Tougher {
        /// The storey, from 1.
        storey: u32,
    },
    /// A dimension of a measure about a tenth larger or smaller, at least by its step; round in the units shown.
    Dimension {
        /// The measure, by its place in the scheme.
        measure: usize,
        /// The field's key.
        key: &'static str,
        /// What it is now, as the file holds it.
        from: f64,
        /// What is tried.
        to: f64,
    },
    /// The scheme without one of its measures.
    Without {
        /// The measure, by its place in the scheme.
        measure: usize,
    },
}

/// Everything to try on an option: storeys, then what the sliders of its measures hold, then leaving
/// measures out. Dimensions are round in a system of units. Nothing for a rebuild.
pub fn trials(project: &Project, option: OptionKind, system: System) -> Vec<Trial> {
    let scheme = match option {
        OptionKind::AsItStands => None,
        OptionKind::Scheme { index } => match project.schemes.get(index) {
            Some(scheme) => Some(scheme),
            None => return Vec::new(),
        },
        OptionKind::Rebuild => return Vec::new(),
    };
    let storeys = 1..=project.building.storeys.len() as u32;
    let mut all: Vec<Trial> = storeys.clone().map(|storey| Trial::Stronger { storey }).collect();
    all.extend(storeys.map(|storey| Trial::Tougher { storey }));
    let measures: &[Measure] = scheme.map_or(&[], |scheme| &scheme.measures);
    for (measure, own) in measures.iter().enumerate() {
        for field in own.fields().iter().filter(|field| field.spec.slider) {
            let Some(from) = own.get(field.key).as_ref().and_then(Value::as_f64) else { continue };
            let dimension = |to| Trial::Dimension { measure, key: field.key, from, to };
            all.extend(steps(field, from, system).into_iter().map(dimension));
        }
    }
    if measures.len() > 1 {
        all.extend((0..measures.len()).map(|measure| Trial::Without { measure }));
    }
    all
}

/// About a tenth up and down, in whole steps and within the permitted range. Where another system than the file's is
/// shown, the stops of the slider next to that.
fn steps(field: &Field, from: f64, system: System) -> Vec<f64> {
    let spec = &field.spec;
    if !matches!(field.control, Control::Number | Control::Whole) {
        return Vec::new();
    }
    let by = ((PART * from / spec.step).round() * spec.step).max(spec.step);
    // Steps of a hundredth must not gather rounding.
    let tidy = |value: f64| (value * 1e6).round() / 1e6;
    let stop = |way: i32| {
        let about = tidy(from + f64::from(way) * by);
        if system == System::Si {
            return about;
        }
        let near = spec.near(about, system);
        let beyond = f64::from(way) * (near - from) > 0.0;
        if beyond { near } else { spec.moved(from, way, system) }
    };
    let fits = |to: f64, way: i32| (spec.min..=spec.max).contains(&to) && f64::from(way) * (to - from) > 0.0;
    [1, -1].into_iter().map(|way| (stop(way), way)).filter(|(to, way)| fits(*to, *way)).map(|(to, _)| to).collect()
}

/// Capacity ÷ demand with the change tried; `None` where it cannot be made (a combination that is
/// refused) or the verdict is withheld.
pub fn tried(project: &Project, option: OptionKind, trial: &Trial) -> Option<Headline> {
    let mut changed: Option<Project> = None;
    let mut depth = Depth::Whole;
    let index = match option {
        OptionKind::Scheme { index } => Some(index),
        OptionKind::AsItStands => None,
        OptionKind::Rebuild => return None,
    };
    match trial {
        Trial::Stronger { storey } => {
            depth = Depth::Tried(Change { storey: *storey, strength: 1.0 + PART, deformation: 1.0 });
        }
        Trial::Tougher { storey } => {
            depth = Depth::Tried(Change { storey: *storey, strength: 1.0, deformation: 1.0 + PART });
        }
        Trial::Dimension { measure, key, to, .. } => {
            let mut own = project.clone();
            own.schemes.get_mut(index?)?.measures.get_mut(*measure)?.set(key, &json!(to)).ok()?;
            own.check().ok()?;
            changed = Some(own);
        }
        Trial::Without { measure } => {
            let mut own = project.clone();
            let measures = &mut own.schemes.get_mut(index?)?.measures;
            if *measure >= measures.len() {
                return None;
            }
            measures.remove(*measure);
            own.check().ok()?;
            changed = Some(own);
        }
    }
    let project = changed.as_ref().unwrap_or(project);
    let scheme: Option<&Scheme> = match index {
        Some(index) => Some(project.schemes.get(index)?),
        None => None,
    };
    Analysis::new(project, scheme, rule_set(project), depth).capacity_to_demand()
}
