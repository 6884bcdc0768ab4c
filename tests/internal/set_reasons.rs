//! Why two rule sets judge an option differently: the words against figures put in by hand.

use sisterframe_core::evaluate::{by_other_set, study};
use sisterframe_core::reading::{Judged, sets_differ};
use sisterframe_core::study::{OptionKind, OptionResult};
use sisterframe_core::verdict::DirectionCapacity;
use sisterframe_tests::scenarios::demo;

fn standing(key: &str) -> OptionResult {
    study(&demo(key)).options.into_iter().find(|own| own.kind == OptionKind::AsItStands).expect("it is always there")
}

/// The direction an option's verdict is about.
fn judged(option: &mut OptionResult) -> &mut DirectionCapacity {
    let along_x = option.capacity_to_demand.expect("a verdict").along_x;
    let mut directions = option.directions.iter_mut();
    directions.find(|own| own.along_x == along_x).and_then(|own| own.capacity.as_mut()).expect("a capacity")
}

/// What is said of an option beside itself with what is accepted, what is asked for and the verdict changed.
fn said(own: &OptionResult, accepted: f64, asked: f64, ratio: f64) -> String {
    let mut other = own.clone();
    let capacity = judged(&mut other);
    capacity.limits[0].reached.roof_mm *= accepted;
    let governing = capacity.governing;
    capacity.curves[governing].point.roof_mm *= asked;
    other.capacity_to_demand.as_mut().expect("a verdict").ratio = ratio;
    sets_differ(Judged { rules: "first", option: own }, Judged { rules: "second", option: &other })
        .expect("two verdicts")
}

#[test]
fn what_differs_most_is_named_with_its_size_and_sense() {
    let mut own = standing("clinic");
    own.capacity_to_demand.as_mut().expect("a verdict").ratio = 0.9;
    assert_eq!(
        said(&own, 1.25, 0.9, 0.95),
        "Both say the same: a limit exceeded. What differs most is acceptance: the roof displacement at the first limit, \
         that is what the set accepts of members, is 25\u{a0}% larger by the second set; the displacement the ground motion \
         asks for is 10\u{a0}% smaller."
    );
    assert_eq!(
        said(&own, 1.01, 0.5, 1.2),
        "A limit exceeded by the first set, within limits by the second set: settle which set the authority accepts before \
         choosing. What differs most is the demand: the displacement the ground motion asks for is 50\u{a0}% smaller by the \
         second set; the roof displacement at the first limit, that is what the set accepts of members, is about the same \
         by the second set."
    );
    assert_eq!(
        said(&own, 0.99, 1.01, 0.9),
        "Both say the same: a limit exceeded. Neither what is asked for nor what is accepted differs noticeably."
    );
}

#[test]
fn another_weaker_direction_is_said_and_nothing_where_a_verdict_is_missing() {
    let own = standing("clinic");
    let mut other = own.clone();
    let headline = other.capacity_to_demand.as_mut().expect("a verdict");
    headline.along_x = !headline.along_x;
    let asked = |other: &OptionResult| {
        sets_differ(Judged { rules: "first", option: &own }, Judged { rules: "second", option: other })
    };
    assert!(asked(&other).expect("two verdicts").contains("do not even name the same weaker direction"));
    other.capacity_to_demand = None;
    assert_eq!(asked(&other), None);
}

/// Both sets on every option of two demos: the words say which verdicts there are.
#[test]
fn verdicts_of_both_sets_are_told_as_they_are() {
    for key in ["clinic", "corner"] {
        let project = demo(key);
        let there = by_other_set(&project).expect("there is another set");
        let (own, other) = (study(&project), study(&there));
        for (one, two) in own.options.iter().zip(&other.options) {
            let words =
                sets_differ(Judged { rules: &own.rules, option: one }, Judged { rules: &other.rules, option: two });
            let (Some(first), Some(second)) = (one.capacity_to_demand, two.capacity_to_demand) else {
                assert_eq!(words, None, "{key}, {}", one.name);
                continue;
            };
            let words = words.expect("two verdicts");
            let alike = (first.ratio >= 1.0) == (second.ratio >= 1.0);
            assert_eq!(words.starts_with("Both say the same"), alike, "{key}, {}: {words}", one.name);
        }
    }
}
