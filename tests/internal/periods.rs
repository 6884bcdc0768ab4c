//! Natural periods, shapes and effective masses (DERIVED).

use sisterframe_core::assembly::Assembly;
use sisterframe_core::math;
use sisterframe_core::modes::Modes;
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, plane, shear_building};

const GRAVITY: f64 = 9.81;

fn building(mass_t: &[f64], stiffness: &[f64]) -> Assembly {
    let heights = vec![3.0; mass_t.len()];
    plane(floors(&heights, mass_t), vec![fixed_line(X, 0.0, shear_building(stiffness))], Vec::new())
}

fn modes(assembly: &Assembly) -> Modes {
    assembly.factor().expect("stands").modes().expect("has mass")
}

/// Shape of a mode, one at the roof.
fn shape(modes: &Modes, mode: usize) -> Vec<f64> {
    let floors = &modes.modes[mode].floors;
    let roof = floors[floors.len() - 1].x_m;
    floors.iter().map(|floor| floor.x_m / roof).collect()
}

/// Uniform shear building: ω_r = 2√(k/m)·sin((2r−1)π/(2(2n+1))), φ_jr = sin(j(2r−1)π/(2n+1)).
#[test]
fn uniform_shear_buildings() {
    for n in 1..=12 {
        let found = modes(&building(&vec![1.0; n], &vec![1.0; n]));
        assert_eq!(found.modes.len(), n);
        for (r, mode) in found.modes.iter().enumerate() {
            let turn = (2 * r + 1) as f64 * std::f64::consts::PI / (2 * n + 1) as f64;
            let omega = 2.0 * math::sin(turn / 2.0);
            assert_near("T", mode.period_s, 2.0 * std::f64::consts::PI / omega, 1e-9);
            let expected: Vec<f64> = (1..=n).map(|j| math::sin(j as f64 * turn)).collect();
            let roof = expected[n - 1];
            let expected: Vec<f64> = expected.iter().map(|value| value / roof).collect();
            assert_all_near("φ", &shape(&found, r), &expected, 1e-9);
        }
        let effective: f64 = found.modes.iter().map(|mode| mode.effective_mass_t(X)).sum();
        assert_near("effective masses together", effective, n as f64, 1e-12);
    }
}

struct Case {
    mass_t: &'static [f64],
    stiffness: &'static [f64],
    period_s: &'static [f64],
    first_shape: &'static [f64],
    /// Φᵀ M 1 / Φᵀ M Φ of the first mode, one at the roof.
    participation: f64,
    mass_ratio: &'static [f64],
    /// Forces proportional to mass × level, and to mass.
    rayleigh_s: [f64; 2],
}

const CASES: [Case; 4] = [
    Case {
        mass_t: &[180.0, 150.0],
        stiffness: &[95e3, 70e3],
        period_s: &[0.4336921405, 0.1834210792],
        first_shape: &[0.5502306547, 1.0],
        participation: 1.217832664,
        mass_ratio: &[0.9190633188, 0.0809366812],
        rayleigh_s: [0.4336376503, 0.4309220063],
    },
    // A soft first storey.
    Case {
        mass_t: &[310.0, 300.0, 240.0],
        stiffness: &[120e3, 260e3, 240e3],
        period_s: &[0.5925314874, 0.1875105585, 0.1218895914],
        first_shape: &[0.6686068672, 0.8875558492, 1.0],
        participation: 1.160393835,
        mass_ratio: &[0.9740958588, 0.02423604434, 0.001668096894],
        rayleigh_s: [0.590966177, 0.5918480172],
    },
    Case {
        mass_t: &[250.0; 5],
        stiffness: &[200e3; 5],
        period_s: &[0.780467271, 0.2673761659, 0.1696117475, 0.1320316279, 0.1157612161],
        first_shape: &[0.2846296765, 0.5462003495, 0.7635211184, 0.9189859472, 1.0],
        participation: 1.251701699,
        mass_ratio: &[0.8795300014, 0.08717749599, 0.02421559988, 0.007509329665, 0.001567573043],
        rayleigh_s: [0.7799717581, 0.7759161478],
    },
    // A heavy roof on a flexible storey.
    Case {
        mass_t: &[200.0, 200.0, 320.0],
        stiffness: &[180e3, 150e3, 60e3],
        period_s: &[0.6513081926, 0.2508023642, 0.134979842],
        first_shape: &[0.2426175661, 0.5036530214, 1.0],
        participation: 1.226789132,
        mass_ratio: &[0.7995497934, 0.1681064478, 0.03234375879],
        rayleigh_s: [0.6507496678, 0.642350584],
    },
];

#[test]
fn shear_buildings_of_unequal_storeys() {
    for case in CASES {
        let assembly = building(case.mass_t, case.stiffness);
        let found = modes(&assembly);
        let periods: Vec<f64> = found.modes.iter().map(|mode| mode.period_s).collect();
        for (period, expected) in periods.iter().zip(case.period_s) {
            assert_near("T", *period, *expected, 1e-6);
        }
        assert_all_near("φ₁", &shape(&found, 0), case.first_shape, 1e-6);
        let first = &found.modes[0];
        let roof = first.floors[first.floors.len() - 1].x_m;
        assert_near("Γ₁", first.participation[X.index()] * roof, case.participation, 1e-6);
        for (mode, expected) in found.modes.iter().zip(case.mass_ratio) {
            assert_near("mass ratio", mode.effective_mass_t(X) / found.total_mass_t[0], *expected, 1e-6);
        }
        assert_eq!(found.governing(X), Some(first));

        // Rayleigh's quotient of any displaced shape is never longer than the first period.
        let by_level: Vec<f64> = case.mass_t.iter().enumerate().map(|(i, m)| m * (i + 1) as f64).collect();
        for (force, expected) in [by_level, case.mass_t.to_vec()].iter().zip(case.rayleigh_s) {
            let period = rayleigh(&assembly, force, case.mass_t);
            assert_near("Rayleigh", period, expected, 1e-6);
            assert!(period <= periods[0]);
        }
    }
}

fn push(assembly: &Assembly, force_kn: &[f64]) -> Vec<f64> {
    let mut load = assembly.no_load();
    for (floor, &force) in load.floors.iter_mut().zip(force_kn) {
        floor.x_kn = force;
    }
    assembly.factor().expect("stands").solve(&load).floors.iter().map(|floor| floor.x_m).collect()
}

/// T = 2π√(Σ m·u² / Σ F·u).
fn rayleigh(assembly: &Assembly, force_kn: &[f64], mass_t: &[f64]) -> f64 {
    let u = push(assembly, force_kn);
    let kinetic: f64 = mass_t.iter().zip(&u).map(|(m, u)| m * u * u).sum();
    let work: f64 = force_kn.iter().zip(&u).map(|(f, u)| f * u).sum();
    2.0 * std::f64::consts::PI * (kinetic / work).sqrt()
}

/// EN 1998-1:2004 Eq. 4.9 (MEMORY): T₁ = 2√d, d the roof displacement in metres under gravity
/// applied sideways. On the soft-storey case it is 6.6 % above the exact period.
#[test]
fn period_from_the_sideways_gravity_displacement() {
    let case = &CASES[1];
    let assembly = building(case.mass_t, case.stiffness);
    let weights: Vec<f64> = case.mass_t.iter().map(|m| m * GRAVITY).collect();
    let roof = push(&assembly, &weights)[2];
    assert_near("d", roof, 0.09967211538, 1e-6);
    assert_near("2√d", 2.0 * roof.sqrt(), 0.6314178185, 1e-6);
}

/// A floor without mass follows statically and brings no mode.
#[test]
fn massless_floor_follows() {
    let found = modes(&building(&[0.0, 100.0], &[30e3, 60e3]));
    assert_eq!(found.modes.len(), 1);
    // Two springs in series: 20 000 kN/m.
    let expected = 2.0 * std::f64::consts::PI * (100.0_f64 / 20e3).sqrt();
    assert_near("T", found.modes[0].period_s, expected, 1e-12);
    assert_all_near("φ", &shape(&found, 0), &[2.0 / 3.0, 1.0], 1e-12);
    let nothing = building(&[0.0, 0.0], &[30e3, 60e3]);
    assert!(nothing.factor().expect("stands").modes().is_err());
}

/// Across the line, the mass of an external frame moves with the floor and turns it: the mass
/// centre of both together is what counts.
#[test]
fn added_mass_across_the_line_moves_with_the_floor() {
    use sisterframe_core::assembly::Link;
    use sisterframe_core::project::Direction::Y;
    use sisterframe_tests::frames::linked_line;

    let mut level = floors(&[3.0], &[300.0]);
    level[0].gyration_m2 = 30.0;
    let lines = |assembly: &mut Assembly| {
        for ordinate in [-7.0, 7.0] {
            assembly.lines.push(fixed_line(X, ordinate, shear_building(&[50e3])));
            assembly.lines.push(fixed_line(Y, ordinate, shear_building(&[40e3])));
        }
    };
    let mut linked = Assembly::new(level.clone());
    lines(&mut linked);
    let mut added = linked_line(X, 9.0, shear_building(&[1e-6]), vec![Link::Rigid]);
    (added.middle_m, added.gyration_m2, added.mass_t) = (4.0, 5.0, vec![60.0]);
    linked.linked.push(added);

    // The same mass as part of the floor: centre, mass and inertia of both bodies.
    let (m, a) = (300.0, 60.0);
    let (x, y) = (4.0 * a / (m + a), 9.0 * a / (m + a));
    let apart = m * a / (m + a) * (4.0 * 4.0 + 9.0 * 9.0);
    (level[0].x_m, level[0].y_m, level[0].mass_t) = (x, y, m + a);
    level[0].gyration_m2 = (m * 30.0 + a * 5.0 + apart) / (m + a);
    let mut merged = Assembly::new(level);
    lines(&mut merged);
    let periods = |assembly: &Assembly| -> Vec<f64> { modes(assembly).modes.iter().map(|it| it.period_s).collect() };
    assert_all_near("T", &periods(&linked), &periods(&merged), 1e-9);
    assert_eq!(modes(&linked).total_mass_t, [360.0, 360.0]);
}

/// Rayleigh's quotient gives a mode's period for forces in its shape, and never more than the
/// longest; where the plan turns, a push along one direction stirs several modes and lies between.
#[test]
fn periods_of_a_push() {
    let line = |direction, at_m, stiffness: &[f64]| fixed_line(direction, at_m, shear_building(stiffness));
    let lines = vec![
        line(X, 0.0, &[9000.0, 7000.0]),
        line(X, 10.0, &[3000.0, 2000.0]),
        line(Y, 0.0, &[6000.0, 5000.0]),
        line(Y, 12.0, &[6000.0, 5000.0]),
    ];
    let mut storeys = floors(&[3.0, 3.0], &[60.0, 50.0]);
    for floor in &mut storeys {
        floor.x_m = 6.0;
        floor.y_m = 5.0;
        floor.gyration_m2 = 20.0;
    }
    let mut assembly = plane(storeys, lines, Vec::new());
    assembly.freedoms = sisterframe_core::assembly::Freedoms::ALL;
    let factored = assembly.factor().expect("stands");
    let found = factored.modes().expect("has mass");
    for mode in found.modes.iter().take(3) {
        let mut load = assembly.no_load();
        for ((floor, own), force) in assembly.floors.iter().zip(&mode.floors).zip(&mut load.floors) {
            force.x_kn = floor.mass_t * own.x_m;
            force.y_kn = floor.mass_t * own.y_m;
            force.moment_kn_m = floor.mass_t * floor.gyration_m2 * own.rotation_rad;
        }
        assert_near("T of a mode", factored.rayleigh_period_s(&load), mode.period_s, 1e-9);
    }
    let pushed = factored.rayleigh_period_s(&assembly.load_by_mass(X, &[30.0, 50.0]));
    let periods: Vec<f64> = found.modes.iter().map(|mode| mode.period_s).collect();
    assert!(pushed < periods[0] && pushed > 1.05 * periods[2], "{pushed} beside {periods:?}");
}
