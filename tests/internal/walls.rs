//! Walls of a building: their edge columns, their openings, their footings.

use serde_json::{Value, json};
use sisterframe_core::evaluate::study;
use sisterframe_core::finding::Code;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Project, Scheme};
use sisterframe_core::study::{Failure, MemberResult, OptionResult};
use sisterframe_tests::approx::assert_near;

/// Three storeys, three bays each way, a wall in the middle bay of lines A and D.
fn walled(wall: &Value, lap_mm: Option<f64>, column_mm: f64) -> Project {
    let lines = |names: [&str; 4]| {
        let at = |(i, name): (usize, &str)| json!({"name": name, "at_m": 5.0 * i as f64});
        names.into_iter().enumerate().map(at).collect::<Vec<_>>()
    };
    let mut walls = vec![wall.clone(), wall.clone()];
    for (own, line) in walls.iter_mut().zip(["A", "D"]) {
        own["line"] = line.into();
        own["bay"] = 2.into();
        own["storeys"] = json!([1, 3]);
    }
    let project = json!({
        "sisterframe": 1, "name": "Walls", "ground_motion": {"sxs_g": 0.5, "sx1_g": 0.3},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": lines(["1", "2", "3", "4"]), "y_lines": lines(["A", "B", "C", "D"]),
            "storeys": vec![json!({"height_m": 3.2, "slab_mm": 120, "finishes_kpa": 1.5, "live_kpa": 2.5}); 3],
            "materials": {"concrete_mpa": 20, "steel_mpa": 300, "hoop_steel_mpa": 300},
            "column_types": [{"name": "K1", "x_mm": column_mm, "y_mm": column_mm, "bars": 8, "bar_mm": 22, "hoop_mm": 10,
                              "hoop_spacing_mm": 150, "lap_mm": lap_mm}],
            "beam_types": [{"name": "G1", "width_mm": 300, "depth_mm": 500, "top_bars": 4, "top_bar_mm": 16,
                            "bottom_bars": 3, "bottom_bar_mm": 16, "stirrup_mm": 10, "stirrup_spacing_mm": 150}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}], "walls": walls,
        },
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

/// On a raft long enough for the wall to bend before it rocks.
fn plain() -> Value {
    json!({"thickness_mm": 250, "bar_mm": 8, "bar_spacing_mm": 250, "curtains": 1,
           "footing": {"length_m": 30, "width_m": 3, "bearing_kpa": 400}})
}

fn opened(width_mm: f64, height_mm: f64) -> Value {
    let mut wall = plain();
    wall["opening"] = json!({"width_mm": width_mm, "height_mm": height_mm});
    wall
}

fn as_it_stands(project: &Project) -> OptionResult {
    study(project).options.swap_remove(0)
}

fn foot(option: &OptionResult) -> &MemberResult {
    let members = &option.directions[0].storeys[0].members;
    members.iter().find(|own| own.place.to_string().starts_with("panel on line A")).expect("a wall there")
}

fn says(option: &OptionResult, code: Code, words: &str) -> bool {
    option.findings.iter().any(|finding| finding.code == code && finding.detail.to_string().contains(words))
}

/// The bars of an edge column pull as far as their lap lets them, and it is said.
#[test]
fn short_laps_at_the_edges_weaken_a_wall() {
    let whole = as_it_stands(&walled(&plain(), None, 400.0));
    let lapped = as_it_stands(&walled(&plain(), Some(300.0), 400.0));
    let long = as_it_stands(&walled(&plain(), Some(3000.0), 400.0));
    let strength = |option: &OptionResult| foot(option).flexural_kn;
    assert!(strength(&lapped) < 0.95 * strength(&whole), "{} beside {}", strength(&lapped), strength(&whole));
    assert_eq!(strength(&long), strength(&whole));
    assert!(says(&lapped, Code::SpliceGoverns, "edges of the wall on line A"));
    assert!(!says(&whole, Code::SpliceGoverns, "edges") && !says(&long, Code::SpliceGoverns, "edges"));
}

/// DERIVED, equilibrium: the edge is pressed by its gravity load and the wall's moment over the length between its edges.
#[test]
fn a_pressed_edge_column_is_named() {
    let stout = as_it_stands(&walled(&plain(), None, 500.0));
    assert!(!says(&stout, Code::EdgeColumnPressed, "line A"), "{:?}", foot(&stout));
    let slight = as_it_stands(&walled(&plain(), None, 200.0));
    assert!(says(&slight, Code::EdgeColumnPressed, "line A"), "{:?}", foot(&slight));
    assert!(!says(&slight, Code::EdgeColumnPressed, "storey 2"), "the foot stands for the stack");
}

/// A door in every storey of a bay is told; a hole in one is not; a gap up to the beam makes two walls and is refused.
#[test]
fn openings_of_walls() {
    let doors = as_it_stands(&walled(&opened(900.0, 2100.0), None, 400.0));
    assert!(says(&doors, Code::StackedOpenings, "line A, bay 2, storeys 1–3"));
    assert!(!says(&doors, Code::OpeningTooLarge, ""));
    let whole = as_it_stands(&walled(&plain(), None, 400.0));
    assert!(!says(&whole, Code::StackedOpenings, ""));
    // ξ² = 900·2100/(5000·3200); 1 − max(ξ, 900/5000) of the strength of the panel.
    let left = 1.0 - (0.9_f64 * 2.1 / (5.0 * 3.2)).sqrt();
    let [with, without] = [&doors, &whole].map(|option| foot(option).shear_capacity_kn);
    assert_near("shear beside a door", with / without, left, 1e-9);
    // ξ alone would let a gap of 400 mm up to the beam (2.7 m) pass.
    let gap = walled(&opened(400.0, 2650.0), None, 400.0);
    let found = as_it_stands(&gap);
    assert!(says(&found, Code::OpeningTooLarge, "line A"));
    let members = &found.directions[0].storeys[0].members;
    assert!(!members.iter().any(|own| matches!(own.failure, Failure::WallShear | Failure::WallFlexure)));
    let none = Scheme { name: "none".to_owned(), note: String::new(), measures: Vec::new() };
    let model = Model::new(&gap.building, &none);
    assert!((model.panel_clear_m(&model.panels[0])[1] - 2.7).abs() < 1e-9);
}

/// A wall rocks on a small footing, at the least where none is given, and never carries more than its section.
#[test]
fn footings_limit_walls() {
    let of = |footing: Value| {
        let mut wall = plain();
        wall["footing"] = footing;
        as_it_stands(&walled(&wall, None, 400.0))
    };
    let small = of(json!({"length_m": 6, "width_m": 1, "bearing_kpa": 200}));
    let large = of(json!({"length_m": 30, "width_m": 3, "bearing_kpa": 400}));
    let none = of(Value::Null);
    assert_eq!(foot(&small).failure, Failure::Rocking);
    assert!(says(&small, Code::FootingUplift, "line A") && !says(&large, Code::FootingUplift, "line A"));
    assert!(says(&none, Code::FootingNotGiven, "line A"));
    assert!(foot(&small).strength_kn < foot(&large).strength_kn);
    assert!(foot(&none).strength_kn <= foot(&large).strength_kn);
}
