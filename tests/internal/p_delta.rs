//! Second-order effect of gravity, against exact closed forms (DERIVED).

use sisterframe_core::assembly::{Assembly, AssemblyError, Link, Movement};
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, linked_line, plane, shear_building};

const STIFFNESS: [f64; 4] = [42e3, 40e3, 36e3, 30e3];
const HEIGHTS: [f64; 4] = [4.0, 3.4, 3.4, 3.4];
const WEIGHTS: [f64; 4] = [3200.0, 3100.0, 3100.0, 2600.0];
const FORCES: [f64; 4] = [150.0, 280.0, 410.0, 460.0];

fn tower(weight_factor: f64) -> Assembly {
    let mut levels = floors(&HEIGHTS, &[0.0; 4]);
    for (floor, weight) in levels.iter_mut().zip(WEIGHTS) {
        floor.weight_kn = weight * weight_factor;
    }
    let mut assembly = plane(levels, vec![fixed_line(X, 0.0, shear_building(&STIFFNESS))], Vec::new());
    assembly.p_delta = true;
    assembly
}

/// In a shear building K_eff = k − P/h in every storey, so every drift grows by exactly
/// 1/(1 − θ), θ = P/(k·h).
#[test]
fn drift_of_a_shear_building_grows_by_one_over_one_minus_theta() {
    let expected = [0.03333333333, 0.03073899371, 0.0253470437, 0.01573440644];
    for (weight_factor, exact) in [(1.0, Some(expected)), (1.6, None)] {
        let assembly = tower(weight_factor);
        let mut load = assembly.no_load();
        for (floor, force) in load.floors.iter_mut().zip(FORCES) {
            floor.x_kn = force;
        }
        let response = assembly.factor().expect("stands").solve(&load);
        let drifts: Vec<f64> = (0..4).map(|storey| response.drift_at_centre(storey, X)).collect();
        if let Some(exact) = exact {
            assert_all_near("drifts", &drifts, &exact, 1e-6);
        }
        for storey in 0..4 {
            let weight: f64 = WEIGHTS[storey..].iter().sum::<f64>() * weight_factor;
            let shear: f64 = FORCES[storey..].iter().sum();
            let theta = weight / (STIFFNESS[storey] * HEIGHTS[storey]);
            let first_order = shear / STIFFNESS[storey];
            assert_near("drift", drifts[storey], first_order / (1.0 - theta), 1e-12);
            // The frame resists the load and what leans on it.
            let resisted = response.lines[0].storey_shear_kn[storey];
            assert_near("shear", resisted, shear + weight * drifts[storey] / HEIGHTS[storey], 1e-12);
        }
    }
}

/// A floor with gyration r about its centre loses W·r²/h of its stiffness in plan, and a line that
/// leans at d from the centre W·d²/h more.
#[test]
fn twist_loses_stiffness_too() {
    let mut level = floors(&[3.0], &[100.0]);
    level[0].gyration_m2 = 40.0;
    level[0].weight_kn = 4000.0;
    let mut assembly = Assembly::new(level);
    for ordinate in [-6.0, 6.0] {
        for direction in [X, Y] {
            assembly.lines.push(fixed_line(direction, ordinate, shear_building(&[20e3])));
        }
    }
    let turn = |assembly: &Assembly| {
        let mut load = assembly.no_load();
        load.floors[0].moment_kn_m = 1000.0;
        1000.0 / assembly.factor().expect("stands").solve(&load).floors[0].rotation_rad
    };
    let first_order = 4.0 * 20e3 * 36.0;
    assert_near("J", turn(&assembly), first_order, 1e-12);
    assembly.p_delta = true;
    assert_near("J with P-Δ", turn(&assembly), first_order - 4000.0 * 40.0 / 3.0, 1e-12);

    // A frame along x at y = 9, rigidly tied, that leans 600 kN spread over 12 m from x = 2 on.
    let mut added = linked_line(X, 9.0, shear_building(&[5e3]), vec![Link::Rigid]);
    added.middle_m = 8.0;
    added.gyration_m2 = 12.0;
    added.weight_kn = vec![600.0];
    assembly.linked = vec![added];
    // Held against translation, the pure twist is left.
    assembly.freedoms.x = false;
    assembly.freedoms.y = false;
    let expected = first_order + 5e3 * 81.0 - (4000.0 * 40.0 + 600.0 * (81.0 + 64.0 + 12.0)) / 3.0;
    assert_near("J with an added frame", turn(&assembly), expected, 1e-12);
}

/// The link force agrees with the balance of the added frame also when the frame leans.
#[test]
fn link_balance_counts_the_weight_of_the_added_frame() {
    let mut assembly = tower(1.0);
    let mut added = linked_line(X, 0.0, shear_building(&[30e3, 25e3, 22e3, 20e3]), vec![Link::Spring(50e3); 4]);
    added.weight_kn = vec![300.0, 280.0, 260.0, 200.0];
    assembly.linked = vec![added];
    let mut load = assembly.no_load();
    for (floor, force) in load.floors.iter_mut().zip(FORCES) {
        floor.x_kn = force;
    }
    load.linked_kn[0] = vec![10.0, 12.0, 14.0, 16.0];
    let response = assembly.factor().expect("stands").solve(&load);
    let linked = &response.linked[0];
    assert_all_near("link forces", &linked.link_force_kn, &linked.link_balance_kn, 1e-10);
    let slip = response.floors[3].x_m - linked.displacement_m[3];
    assert_near("slip", linked.link_force_kn[3], 50e3 * slip, 1e-9);
}

#[test]
fn gravity_beyond_the_stiffness_is_refused_with_its_place() {
    // Storey 0 buckles first, at k·h/P = 14.
    assert!(tower(13.9).factor().is_ok());
    let failure = tower(14.1).factor().map(|_| ());
    let expected = AssemblyError::Unstable { floor: 0, movement: Movement::Translation(X) };
    assert_eq!(failure, Err(expected));
}
