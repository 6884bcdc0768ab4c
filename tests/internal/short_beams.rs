//! Beams that shear before both their ends bend, for wing walls that leave them short or for want of stirrups, on portals
//! whose columns have no feet to bend: equilibrium alone gives the base shear, V_beam·L/h of each (DERIVED).

use crate::pushover_models::{Ready, ready, ready_by};
use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::failure::Failure;
use sisterframe_core::finding::Code;
use sisterframe_core::place::Place;
use sisterframe_core::project::{Direction, Project, RuleSet};
use sisterframe_core::pushover::{Pattern, Settings};
use sisterframe_core::rules::{self, BeamShear, Hoops, Rules};
use sisterframe_core::sections::Sections;
use sisterframe_tests::approx::assert_near;

const SPAN_M: f64 = 4.0;
const HEIGHT_M: f64 = 3.5;
const COLUMN_M: f64 = 0.6;
const WING_M: f64 = 0.7;

/// Two portals of one bay and one storey on hinges, with bars top and bottom and stirrups at a spacing.
fn portals(bars: [u32; 2], stirrup_spacing_mm: f64, measures: &Value) -> Project {
    let [count, bar_mm] = bars;
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
            "beam_types": [{"name": "G1", "width_mm": 250, "depth_mm": 500, "top_bars": count, "top_bar_mm": bar_mm,
                            "bottom_bars": count, "bottom_bar_mm": bar_mm, "stirrup_mm": 6, "stirrup_spacing_mm": stirrup_spacing_mm}],
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
fn beam_kn(rules: &dyn Rules, project: &Project, ready: &Ready, clear_m: f64) -> [f64; 3] {
    let sections = Sections::new(&ready.model, &project.building.materials, rules).expect("a set");
    let beam = ready.model.beam_at(Direction::X, 0, 1, 1).expect("a beam");
    let [sag, hog] = sections.beam_knm(beam).expect("answered");
    let kind = &beam.kind;
    let depth = 500.0 - kind.cover_mm - 6.0 - kind.top_bar_mm / 2.0;
    let bars = |diameter: f64| core::f64::consts::PI * diameter * diameter / 4.0;
    let strength = rules.beam_shear(&BeamShear {
        width_mm: 250.0,
        effective_depth_mm: depth,
        concrete_mpa: sections.old_concrete_mpa(),
        stirrups: Hoops {
            area_mm2: 2.0 * bars(6.0),
            spacing_mm: kind.stirrup_spacing_mm,
            yield_mpa: sections.steel_mpa(240.0),
            effective_depth_mm: depth,
        },
        tension_ratio: f64::from(kind.top_bars) * bars(kind.top_bar_mm) / (250.0 * depth),
    });
    // Of the six metres to the other portal the floor within 45° lines: a triangle of two metres on the span of four, less
    // what lies over columns and wings; and the web under the slab.
    let reach = (SPAN_M - clear_m) / 2.0;
    let floor = ready.model.floors[0].load_kpa * (SPAN_M * SPAN_M / 4.0 - reach * reach);
    let gravity = (floor + 0.38 * 0.25 * 25.0 * clear_m) / 2.0;
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

/// Strengths of the beams that slip in shear, kN.
fn sheared(ready: &Ready) -> Vec<f64> {
    let found = ready.hinges[0].iter().filter(|it| it.failure == Failure::BeamShear);
    found.map(|it| it.senses[0].expect("a strength").strength).collect()
}

/// Where shear holds, both ends bend and the portal's shear grows as the clear span shrinks; where it does not, the
/// beam gives at what gravity leaves of its strength, and loses it.
#[test]
fn a_portal_beam_between_wings_bends_or_shears_on_its_short_span() {
    let to_base = 2.0 * SPAN_M / HEIGHT_M;
    let [open, short] = [SPAN_M - COLUMN_M, SPAN_M - COLUMN_M - 2.0 * WING_M];
    let close = portals([3, 16], 60.0, &wings());
    let standing = ready(&close, None, false).expect("it stands");
    let [bends, gravity, strength] = beam_kn(rules::american(), &close, &standing, open);
    assert!(bends + gravity < strength);
    assert_near("as built", largest(&push(&standing)), to_base * bends, 0.01 * to_base * bends);

    let winged = ready(&close, Some(0), false).expect("it stands");
    let beam = *winged.framing.lines[0].frame.beam(0, 0).expect("a beam");
    assert_near("rigid to the wing's face", beam.rigid_left_m, COLUMN_M / 2.0 + WING_M, 1e-12);
    assert_near("on both sides", beam.rigid_right_m, COLUMN_M / 2.0 + WING_M, 1e-12);
    let [bends, gravity, strength] = beam_kn(rules::american(), &close, &winged, short);
    assert!(bends + gravity < strength, "{bends} and {gravity} against {strength}");
    assert!(sheared(&winged).is_empty());
    assert_near("bends", largest(&push(&winged)), to_base * bends, 0.01 * to_base * bends);

    let wide = portals([3, 16], 220.0, &wings());
    let winged = ready(&wide, Some(0), false).expect("it stands");
    let [bends, gravity, strength] = beam_kn(rules::american(), &wide, &winged, short);
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

/// Heavy bars and stirrups further apart than the beam is deep: its ends do not come to bend, by either rule set, and the
/// portal gives at what gravity leaves of the beam's shear strength.
#[test]
fn a_beam_with_few_stirrups_shears_without_wings() {
    let mut project = portals([4, 25], 500.0, &json!([]));
    let clear = SPAN_M - COLUMN_M;
    for rules in [rules::american(), rules::european()] {
        let standing = ready_by(rules, &project, None, false).expect("it stands");
        let [bends, gravity, strength] = beam_kn(rules, &project, &standing, clear);
        assert!(bends > strength, "{bends} and {gravity} against {strength}");
        let left = strength - gravity;
        let slips = sheared(&standing);
        assert_eq!(slips.len(), 2, "a beam on either portal");
        assert_near("what gravity leaves", slips[0], left, 1e-9);
        let given = 2.0 * SPAN_M / HEIGHT_M * left;
        assert_near("shears", largest(&push(&standing)), given, 0.01 * given);
    }
    for set in [RuleSet::American, RuleSet::European] {
        project.rules = set;
        let study = study(&project);
        let own = &study.options[0];
        let told = own
            .findings
            .iter()
            .find(|found| found.code == Code::BeamsShear && found.text.to_string().contains("along x"));
        let told = told.expect("a finding").text.to_string();
        assert!(told.contains("2 of 2 beams over storey 1 along x on lines A, B"), "{told}");
        let storey = &own.directions[0].storeys[0];
        assert_eq!(storey.failure, Failure::BeamShear);
        let beam = &own.directions[0].beams[0];
        // The storey's strength of before the curve brings the columns the same.
        let given = 2.0 * SPAN_M / HEIGHT_M * beam.sway_kn().expect("it shears");
        assert_near("storey strength", storey.strength_kn, given, 1e-6 * given);
        let capacity = own.directions[0].capacity.as_ref().expect("a capacity");
        assert_eq!(capacity.limits[0].reached.failure, Failure::BeamShear);
    }
}

/// A storey of bays of six by four metres, beams along x on two lines, across them where given.
fn loaded(across: &[&str]) -> Project {
    let line = |name: &str, at: f64| json!({"name": name, "at_m": at});
    let storey = |height: f64| json!({"height_m": height, "slab_mm": 150, "finishes_kpa": 1.0, "live_kpa": 2.0});
    let project = json!({
        "sisterframe": 1, "name": "Loaded", "ground_motion": {"sxs_g": 0.6, "sx1_g": 0.35},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": [line("1", 0.0), line("2", 6.0), line("3", 12.0)], "y_lines": [line("A", 0.0), line("B", 4.0)],
            "storeys": [storey(3.5), storey(3.0)],
            "materials": {"concrete_mpa": 25, "steel_mpa": 300, "hoop_steel_mpa": 240},
            "column_types": [{"name": "K1", "x_mm": 600, "y_mm": 600, "bars": 12, "bar_mm": 25, "hoop_mm": 10,
                              "hoop_spacing_mm": 150}],
            "beam_types": [{"name": "G1", "width_mm": 300, "depth_mm": 550, "top_bars": 3, "top_bar_mm": 20,
                            "bottom_bars": 3, "bottom_bar_mm": 20, "stirrup_mm": 10, "stirrup_spacing_mm": 150}],
            "columns": [{"column": "K1"}],
            "beams": [{"beam": "G1", "lines": ["A", "B"]}, {"beam": "G1", "lines": across}],
            "masonry": [{"lines": ["A"], "storeys": [2, 2], "bays": [1, 1], "thickness_mm": 100, "sill_mm": 900}],
        },
        "schemes": [],
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

/// Gravity at a beam's ends by hand: trapezoids of 45° lines where beams cross at both ends, halfway to the next line
/// where none do, the heavier end where one does; its web and a sill wall on it as they weigh (common practice, no
/// source).
#[test]
fn gravity_shear_of_a_beam_is_that_of_the_floor_it_carries() {
    let clear = 6.0 - 0.6;
    let web = (0.55 - 0.15) * 0.3 * 25.0 * clear / 2.0;
    let sill = clear * 0.9 * 0.1 * 18.0 / 2.0;
    // Two metres wide but for the corners, what lies over the columns left out.
    let trapezoid = (2.0 * (6.0 - 2.0) - 0.3 * 0.3) / 2.0;
    let strip = 2.0 * clear / 2.0;
    // Rising from the crossing beam over two metres, then level: moments about the near face.
    let rising = |x: f64| x * x * x / 3.0 - 0.15 * x * x;
    let level = |x: f64| x * x - 0.6 * x;
    let heavier = (rising(2.0) - rising(0.3) + level(5.7) - level(2.0)) / clear;
    for (across, bay, floor) in [
        (&["1", "2", "3"][..], 1, trapezoid),
        (&["1", "2", "3"][..], 2, trapezoid),
        (&["1"][..], 2, strip),
        (&["1"][..], 1, heavier),
        (&["1", "2"][..], 2, heavier),
    ] {
        let project = loaded(across);
        let load = 0.15 * 25.0 + 1.0 + project.building.live_share * 2.0;
        let study = study(&project);
        let beam = study.options[0].directions[0].beams.iter().find(
            |beam| matches!(&beam.place, Place::Beam { line, bay: own, storey: 1 } if line == "A" && *own == bay),
        );
        let beam = beam.expect("a beam");
        assert_near("clear", beam.clear_m, clear, 1e-12);
        let expected = load * floor + web + if bay == 1 { sill } else { 0.0 };
        assert_near(&format!("{across:?}, bay {bay}"), beam.gravity_kn, expected, 1e-9);
    }
}
