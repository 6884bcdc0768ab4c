//! Sharing of lateral force by rigidity and by torsion in one-storey buildings.

use sisterframe_core::assembly::{Assembly, FloorForce, Load};
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_core::response::{Response, torsional_amplification, torsional_ratio};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, shear_building};

/// Walls along Y as (x, rigidity) and along X as (y, rigidity) under a rigid roof.
fn roof(centre: [f64; 2], along_y: &[(f64, f64)], along_x: &[(f64, f64)]) -> Assembly {
    let mut floor = floors(&[1.0], &[0.0]);
    (floor[0].x_m, floor[0].y_m) = (centre[0], centre[1]);
    let mut assembly = Assembly::new(floor);
    let wall =
        |direction, &(ordinate, rigidity): &(f64, f64)| fixed_line(direction, ordinate, shear_building(&[rigidity]));
    assembly.lines = along_y.iter().map(|it| wall(Y, it)).chain(along_x.iter().map(|it| wall(X, it))).collect();
    assembly
}

fn solve(assembly: &Assembly, x: f64, y: f64, moment: f64) -> Response {
    let load = Load { floors: vec![FloorForce { x_kn: x, y_kn: y, moment_kn_m: moment }], linked_kn: Vec::new() };
    assembly.factor().expect("stands").solve(&load)
}

fn shears(response: &Response) -> Vec<f64> {
    response.lines.iter().map(|line| line.storey_shear_kn[0]).collect()
}

/// Centre of stiffness along `direction` of force.
fn centre(assembly: &Assembly, x: f64, y: f64) -> f64 {
    let direction = if x != 0.0 { X } else { Y };
    let load = Load { floors: vec![FloorForce { x_kn: x, y_kn: y, moment_kn_m: 0.0 }], linked_kn: Vec::new() };
    let centre = assembly.stiffness_centre(direction, &load).expect("stands");
    centre.resistance_m[0].expect("resists")
}

/// N. Taly, *Design of Reinforced Masonry Structures*, 2nd ed., Example 7.12, pp. 7.70–7.73 (SEEN).
/// Roof 90 × 60 ft, walls 4.5 (x = 0), 5.5 (x = 90), 4 (y = 0) and 4 (y = 60), V = 100 kip at 45 ft.
///
/// Printed: x_r 49.5, e −4.5, shears 52.36 and 47.64 with the eccentricity increased by 5 %,
/// 45 and 55 with it taken away, ratio 1.14. The printed 11.69 at wall A should be
/// 52.36/4.5 = 11.64, so the ratio is 1.147.
#[test]
fn four_walls_and_five_percent_eccentricity() {
    let assembly = roof([45.0, 30.0], &[(0.0, 4.5), (90.0, 5.5)], &[(0.0, 4.0), (60.0, 4.0)]);
    assert_near("x_r", centre(&assembly, 0.0, 1.0), 49.5, 1e-9);
    assert_near("y_r", centre(&assembly, 1.0, 0.0), 30.0, 1e-9);
    // J is what a pure torque meets: T/θ.
    let turning = solve(&assembly, 0.0, 0.0, 1.0);
    assert_near("J", 1.0 / turning.floors[0].rotation_rad, 27248.0, 1e-3);
    let away = solve(&assembly, 0.0, 100.0, -100.0 * 4.5);
    let towards = solve(&assembly, 0.0, 100.0, 100.0 * 4.5);
    assert_all_near("shears", &shears(&away)[..2], &[52.36, 47.64], 1e-3);
    assert_all_near("shears", &shears(&towards)[..2], &[45.0, 55.0], 1e-3);
    let edges = [0.0, 90.0].map(|x| away.floors[0].at(Y, x));
    assert_near("edge at wall A", edges[0], 52.36 / 4.5, 1e-3);
    assert_near("edge at wall B", edges[1], 8.66, 1e-3);
    let ratio = torsional_ratio(edges).expect("moves");
    assert_near("ratio", ratio, 1.146460537, 1e-6);
    assert_eq!(torsional_amplification(ratio), 1.0);
}

/// Taly, Example 7.13, pp. 7.74–7.75 (first half SEEN: x_r 24, y_r 20, e 6, J 11 840, direct
/// shears 60 and 40; the ±5 % cases DERIVED from them). Roof 60 × 40 ft, walls 6, 4, 4, 4.
#[test]
fn four_walls_with_amplified_eccentricity() {
    let assembly = roof([30.0, 20.0], &[(0.0, 6.0), (60.0, 4.0)], &[(0.0, 4.0), (40.0, 4.0)]);
    assert_near("x_r", centre(&assembly, 0.0, 1.0), 24.0, 1e-9);
    assert_near("y_r", centre(&assembly, 1.0, 0.0), 20.0, 1e-9);
    let at_centre = solve(&assembly, 0.0, 100.0, -100.0 * 6.0);
    assert_all_near("direct shears", &shears(&at_centre), &[60.0, 40.0, 0.0, 0.0], 1e-9);
    assert_near("J", 1.0 / solve(&assembly, 0.0, 0.0, 1.0).floors[0].rotation_rad, 11840.0, 1e-9);

    let rows = [
        (1.0, 1.2180937, 1.030383514, [48.94319529, 51.05680471, 6.142669286, -6.142669286]),
        (-1.0, 1.074875208, 1.0, [56.35135135, 43.64864865, 2.027027027, -2.027027027]),
    ];
    for (sense, ratio, amplification, expected) in rows {
        let first = solve(&assembly, 0.0, 100.0, sense * 100.0 * 3.0);
        let found = torsional_ratio([0.0, 60.0].map(|x| first.floors[0].at(Y, x))).expect("moves");
        assert_near("ratio", found, ratio, 1e-6);
        let amplified = torsional_amplification(found);
        assert_near("A_x", amplified, amplification, 1e-6);
        let design = solve(&assembly, 0.0, 100.0, sense * 100.0 * 3.0 * amplified);
        assert_all_near("shears", &shears(&design), &expected, 1e-6);
    }
}

/// UFC 3-310-03A / TI 809-04, Appendix H, problem H3 (SEEN): base shear 18.1 kip and a further
/// 9.62 kip shared by walls of 18 918 and 5 000 kip/in: 14.3 + 7.61 = 21.91 and 3.78 + 2.01 =
/// 5.79 kip (printed).
#[test]
fn rigidity_sharing_of_the_agency_problem() {
    let mut assembly = roof([0.0, 0.0], &[(0.0, 18918.0), (0.0, 5000.0)], &[]);
    assembly.freedoms.x = false;
    assembly.freedoms.rotation = false;
    let total: Vec<f64> = [18.1, 9.62]
        .iter()
        .map(|&force| shears(&solve(&assembly, 0.0, force, 0.0)))
        .fold(vec![0.0; 2], |sum, part| sum.iter().zip(part).map(|(a, b)| a + b).collect());
    assert_all_near("shears", &total, &[21.91, 5.79], 2e-3);
}

/// UFC 3-310-03A, Appendix H, problem H3, pp. H3-32 ff. (SEEN): walls 7A–7C 5 000 and 8
/// 21 872 kip/in along one direction (10 ft apart), A7–A8 2 448 and C7–C8 1 450 along the other
/// (19.67 ft apart). Printed: centre of rigidity 8.14 and 12.35 ft, Σ R·d² 759 294; torques of
/// 12.70 and 28.52 kip·ft give 0.68, 0.68, 0.30, 0.30 and 1.529, 1.529, 0.673, 0.673 kip.
#[test]
fn torsional_shears_of_the_agency_problem() {
    let along_y = [(0.0, 5000.0), (10.0, 21872.0)];
    let assembly = roof([6.25, 7.98], &along_y, &[(19.67, 2448.0), (0.0, 1450.0)]);
    assert_near("x_r", centre(&assembly, 0.0, 1.0), 8.14, 5e-4);
    assert_near("y_r", centre(&assembly, 1.0, 0.0), 12.35, 5e-4);
    assert_near("Σ R·d²", 1.0 / solve(&assembly, 0.0, 0.0, 1.0).floors[0].rotation_rad, 759294.0, 1e-5);
    for (torque, expected) in [(12.70, [0.68, 0.68, 0.30, 0.30]), (28.52, [1.529, 1.529, 0.673, 0.673])] {
        let found: Vec<f64> = shears(&solve(&assembly, 0.0, 0.0, torque)).iter().map(|it| it.abs()).collect();
        assert_all_near("torsional shears", &found, &expected, 2e-3);
    }
}

/// The same problem, second floor (SEEN): rigidities 68 320, 18 918 and 5 000 kip/in at 0, 18.81
/// and 71.19 ft from the centre of rigidity; a torque of 1 058.0 kip·ft gives 0, 11.8 and 11.8 kip
/// (printed, Σ R·d² 32 033 573).
#[test]
fn torsional_shears_of_the_second_floor() {
    let assembly = roof([0.0, 0.0], &[(18.81, 18918.0), (-71.19, 5000.0)], &[(0.0, 68320.0)]);
    let response = solve(&assembly, 0.0, 0.0, 1058.0);
    assert_near("Σ R·d²", 1058.0 / response.floors[0].rotation_rad, 32033573.0, 1e-3);
    let found: Vec<f64> = shears(&response).iter().map(|it| it.abs()).collect();
    assert_all_near("torsional shears", &found, &[11.8, 11.8, 0.0], 5e-3);
}

/// A. Elghazouli (ed.), *Seismic Design of Buildings to Eurocode 8*, chapter 6, frame example (SEEN in an excerpt): 8372 kN
/// on equal frames, 558 kN each; the outermost is raised by about 1.26 to about 703 kN for the accidental eccentricity of
/// 5 %, which the book takes by the factor 1 + 0.6·x/L_e of EN 1998-1 4.3.3.2.4. Fifteen frames at equal spacings are read
/// from 8372/558. Held by statics the outermost has 1/15 + 0.05·14·7/280: 0.3 % beside the printed figures, rounded to two.
#[test]
fn outermost_of_fifteen_equal_frames() {
    let frames: Vec<(f64, f64)> = (0..15).map(|at| (f64::from(at), 1.0)).collect();
    let assembly = roof([7.0, 0.0], &frames, &[(0.0, 1.0)]);
    let plain = shears(&solve(&assembly, 0.0, 8372.0, 0.0));
    assert_near("each", plain[14], 558.0, 1e-3);
    let turned = shears(&solve(&assembly, 0.0, 8372.0, 8372.0 * 0.05 * 14.0));
    assert_near("raised by", turned[14] / plain[14], 1.26, 3e-3);
    assert_near("outermost", turned[14], 703.0, 3e-3);
}
