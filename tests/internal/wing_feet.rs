//! Feet of columns with wing walls: what ground and gravity let them bear.

use crate::connections::{project, with};
use crate::pushover_models::ready;
use serde_json::{Value, json};
use sisterframe_core::connection::{ConnectionKind, Part, Symbol};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::finding::Code;
use sisterframe_core::framing::Framing;
use sisterframe_core::model::Model;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::rules;
use sisterframe_core::sections::{Sections, both_senses};
use sisterframe_core::wing_foot::wing_foot;
use sisterframe_core::works::rates::Task;
use sisterframe_core::works::take_off;
use sisterframe_tests::approx::assert_near;

fn wings(changes: &[(&str, Value)]) -> Project {
    let own = json!({"kind": "wing_wall", "x": ["2"], "y": ["A"], "direction": "x", "length_mm": 900, "thickness_mm": 200,
                     "bar_mm": 13, "bar_spacing_mm": 150, "concrete_mpa": 28, "edge_embedment_mm": 360, "embedment_mm": 400});
    project(&json!([with(own, changes)]))
}

fn strip() -> Value {
    json!({"length_m": 4.0, "width_m": 2.0, "bearing_kpa": 200})
}

/// Without a footing the load turns about the tip of the wing that is pressed, N·(h/2 + L_w); with one it
/// rocks at N·L/2·(1 − q/q_c) (ASCE/SEI 41-17 8.4.2.3; MEMORY), q_c three times the allowable bearing.
/// Never less than the old column brings down as built.
#[test]
fn feet_bear_what_gravity_holds_down() {
    let foot = |project: &Project| {
        let model = Model::new(&project.building, &project.schemes[0]);
        let sections = Sections::new(&model, &project.building.materials, rules::american()).expect("a set");
        let column = model.column_on(Direction::X, 0, 1, 1).expect("a column");
        let old = sections.plain(column, Direction::X, sections.old_steel_mpa()).expect("answered").section();
        let old = both_senses(old.as_ref(), column.axial_kn, 0.0);
        (wing_foot(&sections, Direction::X, column).expect("answered").expect("a foot"), column.axial_kn, old)
    };
    let (both, axial, old) = foot(&wings(&[]));
    assert_near("about the tip", both.rocks_knm[0], axial * 1.1, 1e-9);
    assert_near("either way", both.rocks_knm[1], axial * 1.1, 1e-9);
    assert_near("the old column", both.bare_knm[0], old[0], 1e-9);
    // One wing, towards higher ordinates: pressed on it going up, on the column's own edge going down.
    let (one, axial, _) = foot(&wings(&[("sides", json!("higher"))]));
    assert_near("on the wing", one.rocks_knm[0], axial * 1.1, 1e-9);
    assert_near("on the column", one.rocks_knm[1], axial * 0.2, 1e-9);
    assert!(one.most_knm()[1] == one.bare_knm[1], "as built at least");
    let (pad, axial, _) = foot(&wings(&[("footing", strip())]));
    let rocks = axial * 2.0 * (1.0 - axial / 8.0 / 600.0);
    assert_near("on the pad", pad.rocks_knm[0], rocks, 1e-9);
}

/// Strengths of what fails in a way along x, towards higher ordinates.
fn strengths(project: &Project, failure: Failure) -> Vec<f64> {
    let hinges = ready(project, Some(0), false).expect("it stands").hinges;
    let failing = hinges[0].iter().filter(|it| it.failure == failure);
    failing.map(|it| it.senses[0].expect("one").strength).collect()
}

/// Where bending and edges would pass more, a footing that is not tied slips at its friction, or at what
/// the old column has by itself where that is more; a tied one does not.
#[test]
fn footings_that_are_not_tied_slide() {
    let on =
        |footing: Value| wings(&[("footing", footing), ("embedment_mm", json!(800)), ("thickness_mm", json!(400))]);
    let wide = json!({"length_m": 8.0, "width_m": 1.0, "depth_m": 0.4, "bearing_kpa": 1000});
    let slides = strengths(&on(wide.clone()), Failure::Sliding);
    let loose = on(wide.clone());
    let model = Model::new(&loose.building, &loose.schemes[0]);
    let axial = model.column_on(Direction::X, 0, 1, 1).expect("a column").axial_kn;
    assert_eq!(slides.len(), 1);
    assert_near("friction", slides[0], 0.45 * (axial + 25.0 * 8.0 * 0.4), 1e-9);
    assert!(strengths(&on(with(wide, &[("tied", json!(true))])), Failure::Sliding).is_empty());
}

/// The curve, the check and the findings agree; a footing given turns on its ground.
#[test]
fn rocking_feet_are_in_the_curve_and_told() {
    let loose = wings(&[]);
    let rocking = strengths(&loose, Failure::Rocking);
    assert_eq!(rocking.len(), 1, "the foot of one column");
    let option = &study(&loose).options[1];
    let says = |code: Code| option.findings.iter().any(|own| own.code == code);
    assert!(says(Code::FootingNotGiven) && says(Code::FootingUplift));
    // Once a line, whatever the number of its columns.
    let all = study(&wings(&[("x", json!([]))]));
    let told = |code: Code| all.options[1].findings.iter().filter(|own| own.code == code).count();
    assert_eq!((told(Code::FootingNotGiven), told(Code::FootingUplift)), (1, 1));
    let of = option.connections.iter().find(|it| it.kind == ConnectionKind::Footing).expect("a footing");
    assert_eq!(of.place, Place::Column { x: "2".to_owned(), y: "A".to_owned(), storey: 1 }, "the one with wings");
    let check = of.check(Part::Overturning).expect("overturning");
    assert_near("the same moment", check.strength, rocking[0], 1e-9);
    assert!(check.term(Symbol::FootingLength).is_some_and(|length| (length - 2.2).abs() < 1e-9));

    let padded = wings(&[("footing", strip())]);
    let model = Model::new(&padded.building, &padded.schemes[0]);
    let framing = Framing::new(&model, &padded.building.materials, rules::american()).expect("framed");
    let line = framing.lines.iter().find(|line| line.direction == Direction::X && line.line == 0).expect("line A");
    // k_s·B·L³/12 with k_s = 120·200 kN/m³ (common practice).
    let expected = sisterframe_core::frame_line::Restraint::Spring(24_000.0 * 2.0 * 64.0 / 12.0);
    assert_eq!(line.frame.bases[1].rotation, expected);
    let padded_study = study(&padded);
    let of = padded_study.options[1].connections.iter().find(|it| it.kind == ConnectionKind::Footing);
    let of = of.expect("a footing");
    assert!(of.check(Part::Bearing).is_some());
    // Not tied, it slides by friction on the load and its own weight: 0.45·(N + 25·4·2·0.6).
    let axial = model.column_on(Direction::X, 0, 1, 1).expect("a column").axial_kn;
    let friction = 0.45 * (axial + 25.0 * 4.0 * 2.0 * 0.6);
    assert_near("friction", of.check(Part::Sliding).expect("sliding").strength, friction, 1e-9);
    assert!(!padded_study.options[1].findings.iter().any(|own| own.code == Code::FootingNotGiven));

    let works = take_off(&model, &padded.building);
    let cast: f64 = works.iter().map(|own| own.quantity(Task::CastFooting)).sum();
    assert_near("footing", cast, 4.0 * 2.0 * 0.6, 1e-9);
}
