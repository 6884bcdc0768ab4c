//! Beams that wing walls leave short, on portals whose columns have no feet to bend: equilibrium alone gives the
//! base shear, V_beam·L/h of each (DERIVED).

use crate::pushover_models::{Ready, ready};
use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::finding::Code;
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::pushover::{Pattern, Settings};
use sisterframe_core::rules::{self, BeamShear, Hoops};
use sisterframe_core::sections::Sections;
use sisterframe_tests::approx::assert_near;

const SPAN_M: f64 = 4.0;
const HEIGHT_M: f64 = 3.5;
const COLUMN_M: f64 = 0.6;
const WING_M: f64 = 0.7;

/// Two portals of one bay and one storey on hinges, with stirrups at a spacing.
fn portals(stirrup_spacing_mm: f64, measures: &Value) -> Project {
    let line = |name: &str, at: f64| json!({"name": name, "at_m": at});
    let project = json!({
        "sisterframe": 1, "name": "Portals", "ground_motion": {"sxs_g": 0.6, "sx1_g": 0.35},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": [line("1", 0.0), line("2", SPAN_M)], "y_lines": [line("A", 0.0), line("B", 6.0)],
            "storeys": [{"height_m": HEIGHT_M, "slab_mm": 120, "finishes_kpa": 1.0, "live_kpa": 1.0}],
            "materials": {"concrete_mpa": 25, "steel_mpa": 300, "hoop_steel_mpa": 240},
            "column_types": [{"name": "K1", "x_mm": 1000.0 * COLUMN_M, "y_mm": 600, "bars": 20, "bar_mm": 32, "hoop_mm": 13,
                              "hoop_spacing_mm": 80, "base": "pinned"}],
            "beam_types": [{"name": "G1", "width_mm": 250, "depth_mm": 500, "top_bars": 3, "top_bar_mm": 16,
                            "bottom_bars": 3, "bottom_bar_mm": 16, "stirrup_mm": 6, "stirrup_spacing_mm": stirrup_spacing_mm}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}],
        },
        "schemes": [{"name": "Scheme", "measures": measures}],
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

fn wings() -> Value {
    json!([{"kind": "wing_wall", "direction": "x", "length_mm": 1000.0 * WING_M, "thickness_mm": 250, "bar_mm": 16,
            "bar_spacing_mm": 100, "concrete_mpa": 30, "edge_embedment_mm": 560, "embedment_mm": 800}])
}

/// Shear with both ends at their strengths, with what gravity brings, and the strength, kN.
fn beam_kn(project: &Project, ready: &Ready, clear_m: f64) -> [f64; 3] {
    let american = rules::american();
    let sections = Sections::new(&ready.model, &project.building.materials, american).expect("a set");
    let beam = ready.model.beam_at(Direction::X, 0, 1, 1).expect("a beam");
    let [sag, hog] = sections.beam_knm(beam).expect("answered");
    let kind = &beam.kind;
    let depth = 500.0 - kind.cover_mm - 6.0 - 8.0;
    let bars = |diameter: f64| core::f64::consts::PI * diameter * diameter / 4.0;
    let strength = american.beam_shear(&BeamShear {
        width_mm: 250.0,
        effective_depth_mm: depth,
        concrete_mpa: sections.old_concrete_mpa(),
        stirrups: Hoops {
            area_mm2: 2.0 * bars(6.0),
            spacing_mm: kind.stirrup_spacing_mm,
            yield_mpa: sections.steel_mpa(240.0),
            effective_depth_mm: depth,
        },
        tension_ratio: 3.0 * bars(16.0) / (250.0 * depth),
    });
    // Of the six metres to the other portal half is its own, of which half goes to the beams across.
    let gravity = ready.model.floors[0].load_kpa * 1.5 * clear_m / 2.0;
    [(sag + hog) / clear_m, gravity, strength.expect("answered").strength_kn]
}

/// Base shears along the curve.
fn push(ready: &Ready) -> Vec<f64> {
    let curve = ready.curve(Direction::X, Pattern::FirstMode, true, Settings::USUAL).expect("a curve");
    curve.points.iter().map(|point| point.base_shear_kn).collect()
}

fn largest(points: &[f64]) -> f64 {
    points.iter().copied().fold(0.0, f64::max)
}

/// Where shear holds, both ends bend and the portal's shear grows as the clear span shrinks; where it does not, the
/// beam gives at what gravity leaves of its strength, and loses it.
#[test]
fn a_portal_beam_between_wings_bends_or_shears_on_its_short_span() {
    let to_base = 2.0 * SPAN_M / HEIGHT_M;
    let [open, short] = [SPAN_M - COLUMN_M, SPAN_M - COLUMN_M - 2.0 * WING_M];
    let sheared = |ready: &Ready| {
        let found = ready.hinges[0].iter().filter(|it| it.failure == Failure::BeamShear);
        found.map(|it| it.senses[0].expect("a strength").strength).collect::<Vec<_>>()
    };

    let close = portals(60.0, &wings());
    let standing = ready(&close, None, false).expect("it stands");
    let [bends, gravity, strength] = beam_kn(&close, &standing, open);
    assert!(bends + gravity < strength);
    assert_near("as built", largest(&push(&standing)), to_base * bends, 0.01 * to_base * bends);

    let winged = ready(&close, Some(0), false).expect("it stands");
    let beam = *winged.framing.lines[0].frame.beam(0, 0).expect("a beam");
    assert_near("rigid to the wing's face", beam.rigid_left_m, COLUMN_M / 2.0 + WING_M, 1e-12);
    assert_near("on both sides", beam.rigid_right_m, COLUMN_M / 2.0 + WING_M, 1e-12);
    let [bends, gravity, strength] = beam_kn(&close, &winged, short);
    assert!(bends + gravity < strength, "{bends} and {gravity} against {strength}");
    assert!(sheared(&winged).is_empty());
    assert_near("bends", largest(&push(&winged)), to_base * bends, 0.01 * to_base * bends);

    let wide = portals(220.0, &wings());
    let winged = ready(&wide, Some(0), false).expect("it stands");
    let [bends, gravity, strength] = beam_kn(&wide, &winged, short);
    assert!(bends + gravity > strength);
    let left = strength - gravity;
    assert_eq!(sheared(&winged).len(), 2, "a beam on either portal");
    assert_near("what gravity leaves", sheared(&winged)[0], left, 1e-9);
    let points = push(&winged);
    assert_near("shears", largest(&points), to_base * left, 0.01 * to_base * left);
    assert!(points.last().is_some_and(|last| *last < 0.6 * largest(&points)), "it keeps its strength: {points:?}");

    // Told, and the first limit; the same beam without wings is left as it was.
    let study = study(&wide);
    assert!(study.options[1].findings.iter().any(|own| own.code == Code::BeamShearAfterWing));
    assert!(sheared(&ready(&wide, None, false).expect("it stands")).is_empty());
    let capacity = study.options[1].directions[0].capacity.as_ref().expect("a capacity");
    assert_eq!(capacity.limits[0].reached.failure, Failure::BeamShear);
}
