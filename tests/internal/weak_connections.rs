//! Connections in the capacity curve: strong ones leave it as it is, weak ones cap it at what a free
//! body passes, and the verdict names them.

use crate::connections::{frame, project, with};
use crate::pushover_models::ready;
use serde_json::{Value, json};
use sisterframe_core::connection::{ConnectionKind, Part};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::hinge::{At, HingeStrength};
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::reading;
use sisterframe_core::study::OptionResult;
use sisterframe_core::units::System;
use sisterframe_core::verdict::DirectionCapacity;
use sisterframe_tests::approx::assert_near;

/// Wings of the column's own width and concrete on both sides of the inner columns of line A.
fn wings(changes: &[(&str, Value)]) -> Value {
    let wings = json!({"kind": "wing_wall", "x": ["2", "3"], "y": ["A"], "direction": "x", "length_mm": 600,
                       "thickness_mm": 400, "bar_mm": 13, "bar_spacing_mm": 100, "concrete_mpa": 18,
                       "footing": {"length_m": 8, "width_m": 3, "bearing_kpa": 1000, "tied": true}});
    with(wings, changes)
}

fn infill(changes: &[(&str, Value)]) -> Value {
    let infill = json!({"kind": "infill_wall", "line": "B", "bays": [2, 2], "thickness_mm": 200, "bar_mm": 13,
                        "bar_spacing_mm": 150, "dowel_mm": 16, "dowel_spacing_mm": 100, "dowel_embedment_mm": 300,
                        "concrete_mpa": 28, "footing": {"length_m": 8, "width_m": 2.5, "bearing_kpa": 200}});
    with(infill, changes)
}

/// Columns as deep along x as wings are joined over.
fn square(measures: &Value) -> Project {
    let mut project = project(measures);
    project.building.column_types[0].y_mm = 400.0;
    project
}

fn option(project: &Project) -> OptionResult {
    study(project).options[1].clone()
}

fn along_x(option: &OptionResult) -> &DirectionCapacity {
    option.directions[0].capacity.as_ref().expect("a capacity")
}

fn hinges(project: &Project, failure: Failure) -> Vec<HingeStrength> {
    let ready = ready(project, Some(0), false).expect("it stands");
    ready.hinges[0].iter().filter(|hinge| hinge.failure == failure).cloned().collect()
}

fn strength(hinge: &HingeStrength) -> f64 {
    hinge.senses[0].expect("a strength").strength
}

/// The edge of a wing in balance over the clear height: the joint passes V·H/j, j = I/Q of the
/// rectangle, and μ·A_s·f_y with it.
#[test]
fn a_wing_edge_caps_its_column() {
    let edge = |spacing: f64, embedment: Option<f64>| {
        square(&json!([wings(&[("bar_spacing_mm", json!(spacing)), ("edge_embedment_mm", json!(embedment))])]))
    };
    // Bars too short to yield: what they pass, then the column alone.
    let weak = edge(200.0, Some(200.0));
    let found = hinges(&weak, Failure::WingEdge);
    assert_eq!(found.len(), 4, "two columns in two storeys");
    let own = option(&weak);
    let check = own.connections.iter().find(|it| it.kind == ConnectionKind::WingEdge).expect("an edge");
    let stress = check.check(Part::SideJoint).and_then(|it| it.term(sisterframe_core::connection::Symbol::BarStress));
    let (stress, depth, length): (f64, f64, f64) = (stress.expect("a stress"), 1.6, 0.6);
    assert!(stress < 420.0);
    // 3.0 m clear, bars of 132.7 mm² in two curtains at 200 mm, μ = 1 on a roughened face.
    let joint = 2.0 * 15.0 * 132.732 * stress / 1000.0;
    let arm = depth * depth * depth / 12.0 / (length * (depth - length) / 2.0);
    for hinge in &found {
        assert_near("shear at the joint's strength", strength(hinge), joint * arm / 3.0, 1e-5);
        let after = hinge.senses[0].map_or(0.0, |it| it.residual * it.strength);
        assert!(after > 0.05 * strength(hinge) && after < strength(hinge), "the old column stays: {after}");
    }
    let capacity = along_x(&own);
    let first = &capacity.limits[0].reached;
    assert!(first.failure == Failure::WingEdge && matches!(first.place, Place::Column { .. }), "{first:?}");
    let words = reading::capacity(&own, Direction::X, System::Si);
    assert!(words.contains("the edge of wing walls gives way at column A-"), "{words}");
    // Stronger edges bear more until the members govern; from there on nothing changes.
    let strengths: Vec<f64> = [(250.0, 200.0), (200.0, 200.0), (150.0, 250.0), (80.0, 360.0)]
        .map(|(spacing, embedment)| along_x(&option(&edge(spacing, Some(embedment)))).ratio)
        .into();
    assert!(strengths[..3].windows(2).all(|pair| pair[1] > pair[0]), "{strengths:?}");
    assert_near("nothing is left to gain", strengths[3], strengths[2], 1e-3);
    let (strong, whole) = (option(&edge(80.0, Some(360.0))), option(&edge(80.0, None)));
    assert!(hinges(&edge(80.0, Some(360.0)), Failure::WingEdge).is_empty());
    assert_eq!(along_x(&strong), along_x(&whole));
}

/// A jacket of 100 mm on a column of 400 mm, of its concrete: the section is a square of 600 mm, of
/// which the face cuts off a strip of 100 mm, so j = h³/(6·t·(h − t)); two legs of 8 mm hoops press it.
#[test]
fn the_face_of_a_jacket_caps_its_column() {
    let jacket = |hoop_mm: f64, spacing: f64| {
        let jacket = json!({"kind": "jacket", "x": ["2"], "y": ["A"], "thickness_mm": 100, "bars": 12, "bar_mm": 25,
                            "hoop_mm": hoop_mm, "hoop_spacing_mm": spacing, "concrete_mpa": 18});
        square(&json!([jacket]))
    };
    let arm = 0.6 * 0.6 * 0.6 / (6.0 * 0.1 * 0.5);
    let found = hinges(&jacket(8.0, 150.0), Failure::JacketFace);
    assert_eq!(found.len(), 2, "one in each storey");
    for hinge in &found {
        assert_near("face", strength(hinge), 2.0 * 20.0 * 50.265 * 420.0 / 1000.0 * arm / 3.0, 1e-5);
        assert!(hinge.senses[0].is_some_and(|it| it.capping > 0.0), "hoops yield");
    }
    assert!(hinges(&jacket(12.0, 60.0), Failure::JacketFace).is_empty());
}

/// Old floor of 120 mm along a middle line of 15 m, floor on both sides, its bars not counted:
/// 0.17·√f'c on all of it (ACI 318-19 18.12.9.1, MEMORY). The beams beside the wall collect a third
/// of the force each, with three bars of 19 mm in their weaker layer.
#[test]
fn old_floor_and_collectors_cap_what_a_wall_takes() {
    let edge = 0.17 * f64::sqrt(18.0) * 120.0 * 30_000.0 / 1000.0;
    let pull = 3.0 * std::f64::consts::PI * 19.0 * 19.0 / 4.0 * 300.0 / 1000.0;
    let weak = project(&json!([infill(&[])]));
    let found = hinges(&weak, Failure::Collector);
    assert!(3.0 * pull < edge && found.len() == 2, "{} levels", found.len());
    for hinge in &found {
        assert!(matches!(hinge.at, At::Floor(..)) && matches!(hinge.place, Place::Beam { .. }));
        assert_near("collector", strength(hinge), 3.0 * pull, 1e-12);
    }
    // A wall in every bay needs no collector.
    let found = hinges(&project(&json!([infill(&[("bays", json!([1, 3]))])])), Failure::FloorEdge);
    assert_eq!(found.len(), 2);
    for hinge in &found {
        assert_near("edge", strength(hinge), edge, 1e-12);
        assert!(hinge.senses[0].is_some_and(|it| it.capping == 0.0), "brittle");
    }
    // In one storey the wall has no more than the floor hands to its line.
    let single = |slab_mm: f64| {
        let mut one = project(&json!([infill(&[("bays", json!([1, 3])), ("thickness_mm", json!(400))])]));
        one.building.storeys.truncate(1);
        one.building.storeys[0].slab_mm = slab_mm;
        one.building.storeys[0].finishes_kpa = 18.0;
        one.building.materials.concrete_mpa = 12.0;
        if let sisterframe_core::project::Measure::InfillWall(own) = &mut one.schemes[0].measures[0] {
            own.footing = own.footing.take().map(|footing| sisterframe_core::project::Footing {
                length_m: 30.0,
                width_m: 6.0,
                tied: true,
                ..footing
            });
        }
        one
    };
    let thin = single(60.0);
    let cap = 0.17 * f64::sqrt(12.0) * 60.0 * 30_000.0 / 1000.0;
    let own = option(&thin);
    let points = &along_x(&own).governing().curve.points;
    let wall = points.iter().map(|point| point.class_shear_kn[0][2]).fold(0.0, f64::max);
    assert!(wall < 1.001 * cap && wall > 0.9 * cap, "{wall} of {cap}");
    assert_eq!(along_x(&own).limits[0].reached.failure, Failure::FloorEdge);
    let words = reading::capacity(&own, Direction::X, System::Si);
    assert!(words.contains("the edge of the old floor gives way at line B, level 1"), "{words}");
    let strengths: Vec<f64> = [60.0, 70.0, 80.0].map(|slab| along_x(&option(&single(slab))).strength_kn).into();
    assert!(strengths.windows(2).all(|pair| pair[1] > pair[0]), "{strengths:?}");
}

/// A frame on pads of its own passes no more to the ground than 0.45 of what stands on them, unless
/// they are tied to the old footings.
#[test]
fn a_frame_slides_unless_it_is_tied() {
    let pads = |tied: bool, length: f64| {
        let footing = json!({"length_m": length, "width_m": 2.4, "bearing_kpa": 200, "tied": tied});
        project(&json!([with(frame(), &[("footing", footing)])]))
    };
    let loose = pads(false, 2.6);
    let found = hinges(&loose, Failure::Sliding);
    assert_eq!(found.len(), 1);
    let standing = ready(&loose, Some(0), false).expect("it stands");
    let above: f64 = standing.model.frames[0].weight_kn.iter().sum();
    let own = option(&loose);
    let footing = own.connections.iter().find(|it| it.kind == ConnectionKind::Footing).expect("a footing");
    let sliding = footing.check(Part::Sliding).expect("a check");
    assert_near("the check's own", strength(&found[0]), sliding.strength, 1e-12);
    // Four pads of 2.6 × 2.4 × 0.6 m at 24 kN/m³, and the frame with half of the strip on them.
    let weight = strength(&found[0]) / 0.45;
    assert!(weight > above && weight < 1.3 * (above + 4.0 * 2.6 * 2.4 * 0.6 * 24.0), "{weight} of {above}");
    let base = |option: &OptionResult| {
        let points = &along_x(option).governing().curve.points;
        points.iter().map(|point| point.class_shear_kn[0][2]).fold(0.0, f64::max)
    };
    let most = base(&own);
    assert!(most < 1.01 * strength(&found[0]), "{most} kN through {}", strength(&found[0]));
    assert!(reading::capacity(&own, Direction::X, System::Si).contains("footings slide"));
    let tied = option(&pads(true, 2.6));
    assert!(base(&tied) > 1.2 * most);
    let footing = tied.connections.iter().find(|it| it.kind == ConnectionKind::Footing).expect("a footing");
    assert!(footing.check(Part::Sliding).is_none());
    assert!(along_x(&option(&pads(false, 3.6))).strength_kn > along_x(&own).strength_kn);
}

/// A connecting slab ten times as strong as it need be changes nothing, nor does one twenty times.
#[test]
fn strong_connections_leave_the_curve_as_it_is() {
    let slab = |spacing: f64, slab_mm: f64| {
        let changes = [
            ("across_spacing_mm", json!(spacing)),
            ("across_bar_mm", json!(10)),
            ("embedment_mm", json!(260)),
            ("footing", json!({"length_m": 2.6, "width_m": 2.4, "bearing_kpa": 200, "tied": true})),
        ];
        let mut own = project(&json!([with(frame(), &changes)]));
        own.building.storeys.iter_mut().for_each(|storey| storey.slab_mm = slab_mm);
        own
    };
    let curve = |project: &Project| along_x(&option(project)).governing().curve.clone();
    let (plain, denser) = (curve(&slab(100.0, 150.0)), curve(&slab(80.0, 150.0)));
    let gives = |event: &sisterframe_core::pushover::CurveEvent| ConnectionKind::that_gives(event.failure).is_some();
    assert!(!plain.events.iter().any(gives), "no connection gives");
    assert_near("peak", plain.peak_kn, denser.peak_kn, 1e-9);
    assert_near("at", plain.peak_roof_mm, denser.peak_roof_mm, 1e-9);
}
