//! Axial force in columns as frames are pushed over: what their beams bring, times where the columns stand, with the
//! moments at the feet is the overturning moment of the push (DERIVED: equilibrium of the whole frame).

use crate::pushover_models::{Ready, ready, ready_by};
use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::finding::Code;
use sisterframe_core::model::Model;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, Project, RuleSet, Scheme};
use sisterframe_core::pushover::{CurvePoint, Pattern, Settings};
use sisterframe_core::rules::{self, Rules};
use sisterframe_core::sections::{Sections, both_senses};
use sisterframe_core::study::{DirectionResult, Study};
use sisterframe_tests::approx::assert_near;
use sisterframe_tests::dice::Dice;
use sisterframe_tests::scenarios::demo;

/// Frames along x on two lines, alike, with columns much stronger than their beams.
fn frames(spans_m: &[f64], heights_m: &[f64], base: &str, beam: [f64; 2]) -> Project {
    let line = |(name, at): (usize, f64)| json!({"name": format!("{}", name + 1), "at_m": at});
    let mut at = vec![0.0];
    for span in spans_m {
        at.push(at[at.len() - 1] + span);
    }
    let lines: Vec<Value> = at.into_iter().enumerate().map(line).collect();
    let storey = |height: &f64| json!({"height_m": height, "slab_mm": 120, "finishes_kpa": 1.0, "live_kpa": 2.0});
    let storeys: Vec<Value> = heights_m.iter().map(storey).collect();
    let [depth, bar] = beam;
    let project = json!({
        "sisterframe": 1, "name": "Frames", "ground_motion": {"sxs_g": 0.6, "sx1_g": 0.35},
        "building": {
            "occupancy": "office", "year": 1970, "x_lines": lines,
            "y_lines": [{"name": "A", "at_m": 0.0}, {"name": "B", "at_m": 5.0}], "storeys": storeys,
            "materials": {"concrete_mpa": 25, "steel_mpa": 300, "hoop_steel_mpa": 300},
            "column_types": [{"name": "K1", "x_mm": 700, "y_mm": 700, "bars": 28, "bar_mm": 29, "hoop_mm": 13,
                              "hoop_spacing_mm": 80, "hoop_legs_x": 4, "hoop_legs_y": 4, "base": base}],
            "beam_types": [{"name": "G1", "width_mm": 250, "depth_mm": depth, "top_bars": 3, "top_bar_mm": bar,
                            "bottom_bars": 2, "bottom_bar_mm": bar, "stirrup_mm": 10, "stirrup_spacing_mm": 80}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}],
        },
        "schemes": [],
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

fn along_x(study: &Study) -> &DirectionResult {
    &study.options[0].directions[0]
}

/// Of every column of a storey: where along x, m, gravity, and change of axial force in both senses, kN.
fn changes(model: &Model, result: &DirectionResult, storey: usize) -> Vec<(f64, f64, [f64; 2])> {
    let members = result.storeys[storey].members.iter();
    let of = members.filter_map(|member| {
        let Place::Column { x, .. } = &member.place else { return None };
        let line = model.x_lines.iter().find(|line| line.name == *x).expect("its line");
        Some((line.at_m, member.axial_kn, member.overturning_kn.expect("told of a column")))
    });
    of.collect()
}

/// Axial forces times their ordinates, towards higher ones, kNm.
fn by_axial_forces(model: &Model, result: &DirectionResult) -> f64 {
    changes(model, result, 0).iter().map(|(at, _, change)| at * change[0]).sum()
}

/// Moments at the feet under gravity, kNm.
fn at_feet(rules: &dyn Rules, project: &Project, ready: &Ready) -> f64 {
    let sections = Sections::new(&ready.model, &project.building.materials, rules).expect("a set");
    let feet = ready.model.columns.iter().filter(|column| column.storey == 1).map(|column| {
        if column.kind.base == sisterframe_core::project::Base::Pinned {
            return 0.0;
        }
        let bar_mpa = sections.lap_mpa(column).expect("answered").unwrap_or(sections.old_steel_mpa());
        let section = sections.column(column, Direction::X, bar_mpa, 0.0).expect("answered");
        both_senses(section.as_ref(), column.axial_kn, 0.0)[0]
    });
    feet.sum()
}

/// Largest overturning moment of a push towards higher ordinates, kNm.
fn overturns(ready: &Ready) -> f64 {
    let curve = ready.curve(Direction::X, Pattern::FirstMode, true, Settings::USUAL).expect("a curve");
    let moment = |point: &CurvePoint| -> f64 {
        point.shear_kn.iter().zip(&ready.model.floors).map(|(shear, floor)| shear * floor.height_m).sum()
    };
    curve.points.iter().map(moment).fold(0.0, f64::max)
}

/// On hinges and of one bay: the base shear times the height is one beam's shear times the bay.
#[test]
fn a_portal_on_hinges_turns_over_on_its_beams_shear() {
    let project = frames(&[5.0], &[3.5], "pinned", [450.0, 16.0]);
    for (rules, set) in [(rules::american(), RuleSet::American), (rules::european(), RuleSet::European)] {
        let project = Project { rules: set, ..project.clone() };
        let ready = ready_by(rules, &project, None, false).expect("it stands");
        let study = study(&project);
        let result = along_x(&study);
        let beam = &result.beams[0];
        assert!(beam.sway_kn().is_none(), "it bends");
        for (at, gravity, [higher, lower]) in changes(&ready.model, result, 0) {
            let sign = if at > 0.0 { 1.0 } else { -1.0 };
            assert_near("pressed ahead, lifted behind", higher, sign * beam.bends_kn, 1e-9);
            assert_near("and the other way round", lower, -sign * beam.bends_kn, 1e-9);
            let range = result.storeys[0].members[0].axial_range_kn().expect("a range");
            assert_near("least", range[0], gravity - beam.bends_kn, 1e-9);
            assert_near("most", range[1], gravity + beam.bends_kn, 1e-9);
        }
        let pushed = overturns(&ready);
        assert_near("the push", pushed, by_axial_forces(&ready.model, result), 0.01 * pushed);
    }
}

/// A building whose hinges keep their strengths and whose columns do not shear.
fn lasting(mut ready: Ready) -> Ready {
    ready.hinges[0].retain(|hinge| hinge.failure != Failure::Shear);
    for resistance in ready.hinges[0].iter_mut().flat_map(|hinge| hinge.senses.iter_mut().flatten()) {
        (resistance.capping, resistance.loss) = (f64::INFINITY, f64::INFINITY);
    }
    ready
}

/// Regular frames whose hinges last: axial forces and feet carry the whole overturning moment of the mechanism, but for a
/// hair of hardening, and of what has not yielded yet where the push ends.
#[test]
fn random_regular_frames_stand_on_axial_forces_and_feet() {
    let mut dice = Dice::new(71);
    for case in 0..24 {
        let bays = dice.whole(1, 4);
        let storeys = dice.whole(1, 4);
        let span = dice.within(4.0, 7.0);
        let heights = vec![dice.within(2.9, 3.8); storeys];
        let base = if dice.happens(0.5) { "pinned" } else { "fixed" };
        let project = frames(&vec![span; bays], &heights, base, [dice.within(380.0, 500.0), dice.within(12.0, 18.0)]);
        let ready = lasting(ready(&project, None, false).expect("it stands"));
        let study = study(&project);
        let result = along_x(&study);
        for storey in 0..storeys {
            let sum: f64 = changes(&ready.model, result, storey).iter().map(|(_, _, change)| change[0]).sum();
            assert!(sum.abs() < 1e-9, "what is lifted is pressed");
        }
        let pushed = overturns(&ready);
        let held = by_axial_forces(&ready.model, result) + at_feet(rules::american(), &project, &ready);
        assert!(pushed <= 1.01 * held, "{case}, {bays} × {storeys}, {base}: {pushed} over {held}");
        assert!(pushed > 0.97 * held, "{case}, {bays} × {storeys}, {base}: {pushed} of {held}");
    }
}

/// In a demonstration building, where columns and joints may be what gives, the sum is never less than what a push brings.
#[test]
fn axial_forces_bound_what_a_push_of_the_office_brings() {
    let project = demo("office");
    let ready = ready(&project, None, false).expect("it stands");
    let bare = Project { schemes: Vec::new(), ..project.clone() };
    let study = study(&bare);
    let held = by_axial_forces(&ready.model, along_x(&study)) + at_feet(rules::american(), &project, &ready);
    let pushed = overturns(&ready);
    assert!(pushed <= 1.001 * held, "{pushed} over {held}");
    assert!(pushed > 0.5 * held, "{pushed} of {held}");
}

/// A slender bay of many storeys: its columns are told to be pressed and lifted too much, once a storey.
#[test]
fn what_passes_the_limits_is_told_by_the_storey() {
    const STOREYS: usize = 12;
    let mut project = frames(&[2.8], &[3.0; STOREYS], "fixed", [700.0, 29.0]);
    project.building.materials.concrete_mpa = 15.0;
    let kind = &mut project.building.column_types[0];
    (kind.x_mm, kind.y_mm, kind.bars, kind.bar_mm) = (350.0, 350.0, 8, 22.0);
    let none = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(&project.building, &none);
    let study = study(&project);
    let result = along_x(&study);
    let findings = &study.options[0].findings;
    let told = |code| {
        let own = findings.iter().filter(|own| own.code == code && own.text.to_string().contains("along x"));
        own.map(|own| own.place.clone()).collect::<Vec<_>>()
    };
    let kind = &project.building.column_types[0];
    let bars = f64::from(kind.bars) * core::f64::consts::PI * kind.bar_mm * kind.bar_mm / 4.0;
    // 0.80 of P₀ (ACI 318-19 22.4.2.1, MEMORY), with the strengths given; bars in tension with those expected, a quarter more.
    let limit = 0.80 * (0.85 * 15.0 * (350.0 * 350.0 - bars) + 300.0 * bars) / 1000.0;
    let pulls = 1.25 * 300.0 * bars / 1000.0;
    for (code, beyond) in [
        (
            Code::ColumnsPressed,
            &(|gravity: f64, change: f64| gravity <= limit && gravity + change > limit) as &dyn Fn(f64, f64) -> bool,
        ),
        (Code::ColumnsLifted, &|gravity: f64, change: f64| gravity <= limit && change - gravity > pulls),
    ] {
        let storeys: Vec<Place> = (0..STOREYS)
            .filter(|s| {
                changes(&model, result, *s).iter().any(|(_, gravity, change)| beyond(*gravity, change[0].abs()))
            })
            .map(|s| Place::Storey { storey: s as u32 + 1 })
            .collect();
        assert!(!storeys.is_empty() && storeys.len() < STOREYS, "{code:?}: {storeys:?}");
        assert_eq!(told(code), storeys, "{code:?}");
    }
}
