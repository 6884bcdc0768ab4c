//! Foresight over a slider: every value is what the changed project itself gives, and a crossing is a
//! stop that passes beside one that does not.

use serde_json::json;
use sisterframe_core::evaluate::{Dial, Foreseen, Foresight, PassLine, option};
use sisterframe_core::project::{Control, Measure, Opening, Project, Spec};
use sisterframe_core::study::SlabResult;
use sisterframe_core::units::Dimension;
use sisterframe_core::units::System;
use sisterframe_tests::scenarios::demo;
use std::collections::BTreeMap;

/// Every slider of a project's measures, those of records in them included.
fn dials(project: &Project) -> Vec<(Dial, Spec)> {
    let mut all = Vec::new();
    for (scheme, own) in project.schemes.iter().enumerate() {
        for (measure, own) in own.measures.iter().enumerate() {
            let mut add = |keys: String, spec: Spec| all.push((Dial { scheme, measure, keys }, spec));
            for field in own.fields() {
                match field.control {
                    Control::Record(inner) if own.get(field.key).is_some() => inner
                        .iter()
                        .filter(|inner| inner.spec.slider)
                        .for_each(|inner| add(format!("{}.{}", field.key, inner.key), inner.spec)),
                    Control::Number | Control::Whole if field.spec.slider => add(field.key.to_owned(), field.spec),
                    _ => {}
                }
            }
        }
    }
    all
}

/// The project with another value, made without the engine's own setter.
fn with(project: &Project, dial: &Dial, value: f64) -> Option<Project> {
    let mut file = project.to_value();
    let mut at = &mut file["schemes"][dial.scheme]["measures"][dial.measure];
    for key in dial.keys.split('.') {
        at = &mut at[key];
    }
    *at = json!(value);
    Project::from_value(&file).ok()
}

/// All that is foreseen of a slider.
fn whole(project: &Project, dial: &Dial, spec: &Spec) -> Foresight {
    let mut foresight = Foresight::new(spec, System::Si);
    let mut count = 0;
    while let Some(value) = foresight.next() {
        foresight.put(value, dial.foreseen(project, value).expect("the field is there"));
        count += 1;
        assert!(count < 60, "{dial:?} asks for too much");
    }
    foresight
}

fn slab_ratio(project: &Project, dial: &Dial, slabs: &[SlabResult]) -> Option<f64> {
    let Measure::ExternalFrame(frame) = &project.schemes[dial.scheme].measures[dial.measure] else { return None };
    slabs.iter().filter(|slab| slab.face == frame.face).map(|slab| 1.0 / slab.utilisation).reduce(f64::min)
}

#[test]
fn what_is_foreseen_is_what_the_changed_project_gives_and_crossings_are_exact() {
    let mut seen: BTreeMap<&str, u32> = BTreeMap::new();
    let mut count = |what: &'static str| *seen.entry(what).or_default() += 1;
    for (name, project) in ["clinic", "office", "corner"].map(|key| (key, demo(key))) {
        // A fifth of the sliders stands for all; each takes a dozen evaluations.
        for (dial, spec) in dials(&project).into_iter().step_by(5) {
            let foresight = whole(&project, &dial, &spec);
            assert!(foresight.tried().count() >= 5.min(1 + ((spec.max - spec.min) / spec.step) as usize));
            for (value, foreseen) in foresight.tried().step_by(3) {
                let changed = with(&project, &dial, value);
                let expected = changed.map(|own| (option(&own, dial.scheme).expect("the scheme"), own));
                match (foreseen, expected) {
                    (Foreseen::Refused(_), None) => count("refused"),
                    (Foreseen::Withheld, Some((result, _))) => assert_eq!(result.capacity_to_demand, None),
                    (Foreseen::Given { capacity, slab }, Some((result, own))) => {
                        assert_eq!(Some(*capacity), result.capacity_to_demand, "{name} {dial:?} {value}");
                        let expected = slab_ratio(&own, &dial, &result.slabs);
                        assert_eq!(slab.is_some(), expected.is_some());
                        if let (Some(slab), Some(expected)) = (slab, expected) {
                            assert!(
                                (slab - expected).abs() <= 1e-12 * slab.max(1e-9),
                                "{name} {dial:?}: {slab} {expected}"
                            );
                        }
                        count("given");
                    }
                    other => panic!("{name} {dial:?} at {value}: {other:?}"),
                }
            }
            for line in [PassLine::Capacity, PassLine::Slab] {
                let Some(passing) = foresight.passing(line) else {
                    assert_eq!(line, PassLine::Slab, "{name} {dial:?}");
                    continue;
                };
                let passes = |value: f64| {
                    let foreseen = dial.foreseen(&project, value).expect("the field is there");
                    foreseen.ratio(line).map(|ratio| ratio >= 1.0)
                };
                let beside = |value: f64, by: f64| ((value + by) / spec.step).round() * spec.step;
                for [first, last] in &passing.runs {
                    assert_eq!((passes(*first), passes(*last)), (Some(true), Some(true)), "{name} {dial:?}");
                    if *first > passing.first {
                        assert_eq!(passes(beside(*first, -spec.step)), Some(false), "{name} {dial:?} {passing:?}");
                        count("crossed upwards");
                    }
                    if *last < passing.last {
                        assert_eq!(passes(beside(*last, spec.step)), Some(false), "{name} {dial:?} {passing:?}");
                        count("crossed downwards");
                    }
                }
                match passing.runs.as_slice() {
                    [] => count("nowhere"),
                    [[first, last]] if *first == passing.first && *last == passing.last => count("everywhere"),
                    _ => {}
                }
            }
        }
    }
    for what in ["given", "crossed upwards", "crossed downwards", "nowhere", "everywhere"] {
        assert!(seen.get(what).is_some_and(|count| *count > 0), "none {what}: {seen:?}");
    }
}

#[test]
fn what_does_not_go_with_the_building_is_a_gap_with_its_reason() {
    let mut project = demo("clinic");
    let (scheme, measure) = project
        .schemes
        .iter()
        .enumerate()
        .find_map(|(scheme, own)| {
            Some((scheme, own.measures.iter().position(|it| matches!(it, Measure::InfillWall(_)))?))
        })
        .expect("a scheme with an infill wall");
    let Measure::InfillWall(wall) = &mut project.schemes[scheme].measures[measure] else { unreachable!() };
    wall.opening = Some(Opening { width_mm: 900.0, height_mm: 2000.0 });
    let dial = Dial { scheme, measure, keys: "opening.width_mm".to_owned() };
    let spec = dials(&project).into_iter().find(|(own, _)| *own == dial).expect("it is a slider").1;
    let foresight = whole(&project, &dial, &spec);
    let refused = foresight.refused();
    let [([first, last], reason)] = refused.as_slice() else { panic!("one gap: {refused:?}") };
    assert_eq!(*last, spec.max);
    assert!(with(&project, &dial, *first).is_none() && with(&project, &dial, first - spec.step).is_some());
    assert!(reason.path.contains("opening") && !reason.problem.is_empty(), "{reason:?}");
}

#[test]
fn only_what_matters_makes_foresight_old() {
    let project = demo("clinic");
    let (dial, spec) = dials(&project).remove(0);
    let own = with(&project, &dial, spec.max).expect("it can be made");
    assert!(dial.is_alike(&project, &own), "the value itself");
    let mut own = project.clone();
    own.schemes[dial.scheme].name.push('!');
    own.schemes[1].measures.clear();
    assert!(dial.is_alike(&project, &own), "names and other schemes");
    let mut own = project.clone();
    own.ground_motion.sxs_g += 0.05;
    assert!(!dial.is_alike(&project, &own), "the shaking");
    let mut own = project.clone();
    own.building.storeys[0].height_m += 0.1;
    assert!(!dial.is_alike(&project, &own), "the building");
    let other = dials(&project).into_iter().find(|(other, _)| other.scheme == dial.scheme && *other != dial);
    let (other, spec) = other.expect("another slider");
    let own = with(&project, &other, spec.max).or_else(|| with(&project, &other, spec.min)).expect("it can be made");
    assert!(!dial.is_alike(&project, &own), "another dimension of the scheme");
    assert!(!Dial { scheme: 99, ..dial }.is_alike(&project, &project), "a scheme that is not there");
}

#[test]
fn the_stops_tried_are_those_of_the_slider() {
    // Invented verdicts: the search alone is under test.
    let given = |ratio: f64| Foreseen::Given {
        capacity: sisterframe_core::study::Headline { ratio, along_x: true, storey: 1 },
        slab: None,
    };
    let spec = Spec::number("Size", Dimension::Millimetres, 60.0, 300.0, 10.0);
    for crossing in [60.0, 61.0, 139.0, 140.0, 295.0, 300.0, 301.0] {
        let mut foresight = Foresight::new(&spec, System::Si);
        assert_eq!(foresight.passing(PassLine::Capacity), None, "nothing is known yet");
        while let Some(value) = foresight.next() {
            assert!(value % spec.step == 0.0 && (spec.min..=spec.max).contains(&value));
            foresight.put(value, given(if value >= crossing { 1.0 } else { 0.9 }));
        }
        let expected = (crossing / 10.0_f64).ceil() * 10.0;
        let runs = foresight.passing(PassLine::Capacity).expect("all is known").runs;
        assert_eq!(runs, if expected <= 300.0 { vec![[expected, 300.0]] } else { vec![] });
        assert!(foresight.tried().count() <= 5 + 5, "halving takes few steps");
    }
    // Ends that are no multiples of the step are stops all the same.
    let odd = Spec::number("Size", Dimension::Metres, 0.02, 0.31, 0.05);
    let mut foresight = Foresight::new(&odd, System::Si);
    let mut seen = Vec::new();
    while let Some(value) = foresight.next() {
        seen.push(value);
        foresight.put(value, given(if value >= 0.16 { 2.0 } else { 0.1 }));
    }
    assert!(seen.contains(&0.02) && seen.contains(&0.31) && seen.contains(&0.2), "{seen:?}");
    assert_eq!(foresight.passing(PassLine::Capacity).expect("known").runs, [[0.2, 0.31]]);
    assert_eq!(foresight.passing(PassLine::Slab), None, "no slab, no label");
}
