//! Torsion of a rigid floor on springs, against the closed form and a dense solution (DERIVED).

use sisterframe_core::assembly::{Assembly, Freedoms};
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_core::response::{Response, torsional_amplification, torsional_ratio};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, shear_building};

const TOLERANCE: f64 = 1e-6;
const FORCE_KN: f64 = 1500.0;

/// Plan 24 × 12 m with the mass in its middle: five lines along y, two along x.
fn plan(last_line_kn_per_m: f64) -> Assembly {
    let mut floor = floors(&[3.5], &[380.0]);
    (floor[0].x_m, floor[0].y_m) = (12.0, 6.0);
    floor[0].gyration_m2 = (24.0 * 24.0 + 12.0 * 12.0) / 12.0;
    let mut assembly = Assembly::new(floor);
    for (x, k) in [(0.0, 45e3), (6.0, 30e3), (12.0, 30e3), (18.0, 30e3), (24.0, last_line_kn_per_m)] {
        assembly.lines.push(fixed_line(Y, x, shear_building(&[k])));
    }
    for y in [0.0, 12.0] {
        assembly.lines.push(fixed_line(X, y, shear_building(&[60e3])));
    }
    assembly
}

fn push(assembly: &Assembly, eccentricity_m: f64) -> Response {
    let mut load = assembly.no_load();
    load.floors[0].push(Y, FORCE_KN, eccentricity_m);
    assembly.factor().expect("stands").solve(&load)
}

fn shears(response: &Response) -> Vec<f64> {
    response.lines.iter().map(|line| line.storey_shear_kn[0]).collect()
}

fn edges(response: &Response) -> [f64; 2] {
    [0.0, 24.0].map(|x| response.floors[0].at(Y, x))
}

struct Accidental {
    sense: f64,
    edges_m: [f64; 2],
    ratio: f64,
    amplification: f64,
    shears_kn: [f64; 7],
}

fn check(assembly: &Assembly, rows: [Accidental; 2]) {
    for row in rows {
        let first = push(assembly, row.sense * 0.05 * 24.0);
        assert_all_near("edges", &edges(&first), &row.edges_m, TOLERANCE);
        let ratio = torsional_ratio(edges(&first)).expect("moves");
        assert_near("ratio", ratio, row.ratio, TOLERANCE);
        let amplification = torsional_amplification(ratio);
        assert_near("A_x", amplification, row.amplification, TOLERANCE);
        let design = push(assembly, row.sense * 0.05 * 24.0 * amplification);
        assert_all_near("shears", &shears(&design), &row.shears_kn, TOLERANCE);
    }
}

#[test]
fn symmetric_plan_turns_by_accident_only() {
    let assembly = plan(45e3);
    let straight = push(&assembly, 0.0);
    assert_all_near("shears", &shears(&straight), &[375.0, 250.0, 250.0, 250.0, 375.0, 0.0, 0.0], TOLERANCE);
    let edges_m = [0.007222222222, 0.009444444444];
    let third = 100.0 / 3.0;
    check(
        &assembly,
        [
            Accidental {
                sense: 1.0,
                edges_m,
                ratio: 1.133333333,
                amplification: 1.0,
                shears_kn: [325.0, 250.0 - third / 2.0, 250.0, 250.0 + third / 2.0, 425.0, third, -third],
            },
            Accidental {
                sense: -1.0,
                edges_m: [edges_m[1], edges_m[0]],
                ratio: 1.133333333,
                amplification: 1.0,
                shears_kn: [425.0, 250.0 + third / 2.0, 250.0, 250.0 - third / 2.0, 325.0, -third, third],
            },
        ],
    );
}

/// The trap of a frame on one face: the far line takes more shear than before (375 kN) although
/// the building is much stiffer.
#[test]
fn stiff_line_on_one_side() {
    let assembly = plan(185e3);
    let mut load = assembly.no_load();
    load.floors[0].y_kn = FORCE_KN;
    let centre = assembly.stiffness_centre(Y, &load).expect("stands");
    assert_near("x_r", centre.resistance_m[0].expect("resists"), 17.25, 1e-12);
    assert_near("e", centre.eccentricity_m(0).expect("both"), 12.0 - 17.25, 1e-12);
    let straight = push(&assembly, 0.0);
    assert_near("θ", straight.floors[0].rotation_rad, -0.0002558479532, TOLERANCE);
    let expected = [409.5394737, 226.9736842, 180.9210526, 134.8684211, 547.6973684, -92.10526316, 92.10526316];
    assert_all_near("shears", &shears(&straight), &expected, TOLERANCE);

    let mut held = assembly.clone();
    held.freedoms = Freedoms::translation(Y);
    let direct = [210.9375, 140.625, 140.625, 140.625, 867.1875, 0.0, 0.0];
    assert_all_near("shears without turning", &shears(&push(&held, 0.0)), &direct, TOLERANCE);

    check(
        &assembly,
        [
            Accidental {
                sense: 1.0,
                edges_m: [0.008092105263, 0.003355263158],
                ratio: 1.413793103,
                amplification: 1.388063152,
                shears_kn: [346.5287122, 199.5777009, 168.1362604, 136.6948199, 649.0625065, -62.882881, 62.882881],
            },
            Accidental {
                sense: -1.0,
                edges_m: [0.01010964912, 0.002565789474],
                ratio: 1.595155709,
                amplification: 1.767028984,
                shears_kn: [489.7532894, 261.8492563, 197.1963196, 132.5433829, 418.6577518, -129.3058733, 129.3058733],
            },
        ],
    );
}

#[test]
fn coupled_periods_in_plan() {
    let assembly = plan(185e3);
    let modes = assembly.factor().expect("stands").modes().expect("has mass");
    let periods: Vec<f64> = modes.modes.iter().map(|mode| mode.period_s).collect();
    assert_all_near("T", &periods, &[0.3535745877, 0.2645032746, 0.1399840675], TOLERANCE);
    // Along x nothing couples: 2π√(m/k).
    let alone = 2.0 * std::f64::consts::PI * (380.0_f64 / 120e3).sqrt();
    assert_near("T along x", modes.governing(X).expect("moves").period_s, alone, 1e-12);
    assert_near("mass ratio along x", modes.governing_mass_ratio(X).expect("moves"), 1.0, 1e-12);
}

/// A building equally stiff and heavy along both axes keeps its two translations apart.
#[test]
fn equal_periods_do_not_mix() {
    let mut floor = floors(&[3.0, 3.0], &[100.0, 100.0]);
    for floor in &mut floor {
        floor.gyration_m2 = 10.0;
    }
    let mut assembly = Assembly::new(floor);
    for ordinate in [-5.0, 5.0] {
        for direction in [X, Y] {
            assembly.lines.push(fixed_line(direction, ordinate, shear_building(&[40e3, 30e3])));
        }
    }
    let modes = assembly.factor().expect("stands").modes().expect("has mass");
    for mode in &modes.modes {
        let [x, y] = [X, Y].map(|direction| mode.effective_mass_t(direction));
        assert!(x == 0.0 || y == 0.0, "one direction at a time: {x} and {y}");
    }
    let [x, y] = [X, Y].map(|direction| modes.governing(direction).expect("moves"));
    assert_eq!(x.period_s, y.period_s);
    assert!(modes.governing_mass_ratio(X).expect("moves") > 0.8);
}
