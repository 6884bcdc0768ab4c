//! Quick checks against worked figures of the published forms.

use sisterframe_core::evaluate;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Measure, Project, Scheme};
use sisterframe_core::screening::{
    Check, HIGH_PRIORITY_INDEX, Kind, LOW_PRIORITY_INDEX, Outcome, SAFE_WALL_AREA, Says, areas, column_stress_mpa,
    priority_index, screening, shear_stress_limit_mpa, sum_up, wall_area_map, wall_stress_mpa,
};
use sisterframe_tests::approx::assert_near;

/// Source: ASCE/SEI 41-17 Eq. (4-7) and (4-8) with the limit of max(100 psi, 2·√f′c) (MEMORY), worked by
/// hand (DERIVED): 1500 kN on twelve columns of 400 × 400 mm in four frames, M_s = 2, f′c 20 MPa; 3000 kN
/// on 1.6 m² of wall, M_s = 4.5.
#[test]
fn average_shear_stress() {
    let stress = column_stress_mpa(1500.0, 12.0 * 0.16, 12, 4, 2.0).expect("columns enough");
    assert_near("columns", stress, 0.58594, 1e-5);
    let psi: f64 = 0.006_894_757;
    let exact = 2.0 * (20.0 / psi).sqrt() * psi;
    assert_near("2 root f'c in psi", exact, 0.74265, 1e-4);
    assert_near("limit", shear_stress_limit_mpa(20.0), exact, 1e-3);
    assert_near("least limit", shear_stress_limit_mpa(10.0), 100.0 * psi, 1e-3);
    assert_near("walls", wall_stress_mpa(3000.0, 1.6, 4.5).expect("walls"), 0.41667, 1e-5);
    assert!(column_stress_mpa(1500.0, 1.0, 4, 4, 2.0).is_none() && wall_stress_mpa(1.0, 0.0, 1.5).is_none());
}

/// Source: Hassan and Sozen, ACI Structural Journal 94 (1), 1997: indices and the lines of 0.25 and 0.50 %
/// (MEMORY); figures worked by hand (DERIVED).
#[test]
fn wall_and_column_indices() {
    let [wall, column, priority] = priority_index(1.6, 3.2, 3.84, 1440.0);
    assert_near("wall index, %", 100.0 * wall, 0.13333, 1e-4);
    assert_near("column index, %", 100.0 * column, 0.13333, 1e-4);
    assert_near("priority index, %", 100.0 * priority, 0.26667, 1e-4);
    assert!(LOW_PRIORITY_INDEX < priority && priority < HIGH_PRIORITY_INDEX);
}

/// Source: Shiga, Shibata and Takahashi 1968: 30 cm²/m² and 12 kgf/cm² at 1000 kgf/m² of floor (MEMORY);
/// 1.6 m² of wall and 3.84 m² of columns under 1440 m² worked by hand (DERIVED).
#[test]
fn wall_area_and_nominal_stress() {
    let [share, stress] = wall_area_map(1.6, 3.84, 1440.0);
    assert_near("cm² per m²", 1e4 * share, 11.111, 1e-4);
    assert_near("W/(A_w + A_c), MPa", stress, 2.596, 1e-3);
    assert_near("in kgf/cm²", stress / 0.0980665, 1440.0 * 1000.0 / 54_400.0, 1e-6);
    assert!(share < SAFE_WALL_AREA);
}

fn demo() -> Project {
    Project::from_json(include_str!("../../demo-scenarios/school.json")).expect("a valid demo")
}

/// Areas by hand from the file of the school, and the shear of its lowest storey over them.
#[test]
fn areas_of_a_building_are_those_of_its_file() {
    let project = demo();
    let study = evaluate::outline(&project);
    let bare = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(&project.building, &bare);
    let by_hand: f64 = model
        .columns
        .iter()
        .filter(|column| column.storey == 1)
        .map(|column| column.kind.x_mm * column.kind.y_mm / 1e6)
        .sum();
    let [x, _] = Direction::BOTH.map(|direction| areas(&model, direction, 1));
    assert_near("columns", x.columns_m2, by_hand, 1e-12);
    assert_eq!(x.frames as usize, project.building.y_lines.len());
    let [along_x, along_y] = screening(&project, &model, &study.options[0]);
    let (along_x, along_y) = (along_x.expect("results"), along_y.expect("results"));
    assert!(along_x.check(Kind::CaptiveColumns).expect("made").value > 0.0, "its sills hold columns along x");
    assert_eq!(along_y.check(Kind::CaptiveColumns).expect("made").outcome, Outcome::Met);
    assert_eq!(along_x.says, Says::LikelyInadequate, "{along_x:?}");
    // Infill walls raise both area indices of their direction.
    let walls =
        project.schemes.iter().position(|own| own.measures.iter().any(|it| matches!(it, Measure::InfillWall(_))));
    let index = walls.expect("a scheme with walls");
    let filled = Model::new(&project.building, &project.schemes[index]);
    let [after, _] = screening(&project, &filled, &study.options[index + 1]);
    let after = after.expect("results");
    for kind in [Kind::PriorityIndex, Kind::WallAreaMap] {
        let of = |own: &sisterframe_core::screening::Screening| own.check(kind).expect("made").value;
        assert!(of(&after) > of(&along_x), "{kind:?}");
    }
    assert!(after.check(Kind::WallShear).is_some() && after.check(Kind::ColumnShear).is_none());
}

/// The summing up is this tool's own: each word is reached, and by what is named.
#[test]
fn every_verdict_is_reached() {
    let check = |kind, outcome, value| Check { kind, outcome, value, second: 0.0, limit: 1.0, storey: 1 };
    let stress = check(Kind::ColumnShear, Outcome::NotMet, 2.0);
    let index = check(Kind::PriorityIndex, Outcome::NotMet, 0.001);
    let map = check(Kind::WallAreaMap, Outcome::NotMet, 0.001);
    let fine = check(Kind::WeakStorey, Outcome::Met, 1.0);
    let withheld = check(Kind::SoftStorey, Outcome::Withheld, 0.0);
    assert_eq!(sum_up(&[fine.clone(), withheld]), (Says::LikelyAdequate, vec![]));
    assert_eq!(sum_up(&[stress.clone(), fine.clone()]), (Says::NeedsEvaluation, vec![Kind::ColumnShear]));
    let (says, because) = sum_up(&[stress, index.clone(), map.clone(), fine]);
    assert_eq!(says, Says::LikelyInadequate);
    assert_eq!(because, [Kind::ColumnShear, Kind::PriorityIndex, Kind::WallAreaMap]);
    assert_eq!(sum_up(&[index, map]).0, Says::NeedsEvaluation);
    let weak = check(Kind::WeakStorey, Outcome::NotMet, 0.6);
    assert_eq!(sum_up(&[weak]), (Says::LikelyInadequate, vec![Kind::WeakStorey]));
}
