//! What would lift the verdict: each trial is what the changed project itself would give.

use serde_json::json;
use sisterframe_core::evaluate::{Trial, study, trials, tried};
use sisterframe_core::project::Knowledge;
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::System;
use sisterframe_tests::scenarios::demo;

#[test]
fn a_dimension_tried_is_the_scheme_with_that_dimension() {
    for (name, project) in ["clinic", "office"].map(|key| (key, demo(key))) {
        let index = project.schemes.len() - 1;
        let option = OptionKind::Scheme { index };
        let mut dimensions = 0_u32;
        let mut seen = Vec::new();
        for trial in trials(&project, option, System::Si) {
            let mut changed = project.clone();
            let measures = &mut changed.schemes[index].measures;
            match &trial {
                Trial::Dimension { measure, key, from, to } => {
                    let own = measures[*measure].get(key).and_then(|value| value.as_f64());
                    assert_eq!(own, Some(*from), "{name}: {key}");
                    measures[*measure].set(key, &json!(to)).expect("within its range");
                    dimensions += 1;
                    // A few stand for all: each is a whole study.
                    if !dimensions.is_multiple_of(5) {
                        continue;
                    }
                }
                Trial::Without { measure } => {
                    measures.remove(*measure);
                }
                Trial::Stronger { .. } | Trial::Tougher { .. } => continue,
            }
            let expected = study(&changed).options[index + 1].capacity_to_demand;
            assert_eq!(tried(&project, option, &trial), expected, "{name}: {trial:?}");
            seen.push(expected.map(|headline| headline.ratio.to_bits()));
        }
        assert!(dimensions > 5, "{name}: {dimensions} dimensions");
        seen.sort_unstable();
        seen.dedup();
        assert!(seen.len() > 1, "{name}: no dimension makes a difference");
    }
}

#[test]
fn in_inches_dimensions_tried_are_stops_of_their_sliders() {
    let mut dimensions = 0_u32;
    for project in ["clinic", "office"].map(demo) {
        for (index, scheme) in project.schemes.iter().enumerate() {
            for trial in trials(&project, OptionKind::Scheme { index }, System::Us) {
                let Trial::Dimension { measure, key, from, to } = trial else { continue };
                let field = scheme.measures[measure].fields().iter().find(|field| field.key == key);
                let spec = field.expect("a field of the measure").spec;
                assert!(spec.stops(System::Us).iter().any(|stop| (stop - to).abs() < 1e-6), "{key}: {from} to {to}");
                assert!((spec.min..=spec.max).contains(&to) && to != from, "{key}: {from} to {to}");
                dimensions += 1;
            }
        }
    }
    assert!(dimensions > 20, "{dimensions} dimensions");
}

#[test]
fn storeys_are_tried_one_by_one() {
    for (name, project) in ["clinic", "office"].map(|key| (key, demo(key))) {
        let storeys = project.building.storeys.len();
        let all = trials(&project, OptionKind::AsItStands, System::Si);
        assert_eq!(all.len(), 2 * storeys, "{name}");
        let now = study(&project).options[0].capacity_to_demand.expect("a verdict").ratio;
        let ratios: Vec<f64> =
            all.iter().map(|trial| tried(&project, OptionKind::AsItStands, trial).expect("a verdict").ratio).collect();
        // Deforming further is never worse; the storey that decides is better for one of the two.
        assert!(ratios[storeys..].iter().all(|ratio| *ratio >= now * (1.0 - 1e-9)), "{name}: {ratios:?}, now {now}");
        assert!(ratios.iter().any(|ratio| *ratio > 1.02 * now), "{name}: {ratios:?}, now {now}");
        assert!(trials(&project, OptionKind::Rebuild, System::Us).is_empty());
        assert!(trials(&project, OptionKind::Scheme { index: 99 }, System::Si).is_empty());
    }
}

/// A building known less well is never judged better (ASCE 41-17 Table 6-1, MEMORY).
#[test]
fn knowing_less_never_helps() {
    for (name, project) in ["clinic", "office"].map(|key| (key, demo(key))) {
        let ratios = [Knowledge::Assumed, Knowledge::Drawings, Knowledge::Tested].map(|knowledge| {
            let mut own = project.clone();
            own.building.materials.knowledge = knowledge;
            study(&own).options.iter().filter_map(|option| Some(option.capacity_to_demand?.ratio)).collect::<Vec<_>>()
        });
        for pair in ratios.windows(2) {
            for (less, more) in pair[0].iter().zip(&pair[1]) {
                assert!(less <= &(more * (1.0 + 1e-9)), "{name}: {less} {more}");
            }
        }
        assert!(ratios[0] != ratios[2], "{name}: it makes no difference");
    }
}
