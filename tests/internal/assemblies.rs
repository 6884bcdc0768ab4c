//! What an assembly refuses, how it spreads loads over masses, and where its stiffness is centred.

use sisterframe_core::assembly::{Assembly, AssemblyError, Link, Movement};
use sisterframe_core::linear::Square;
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, linked_line, shear_building};

/// Two storeys, lines both ways.
fn building() -> Assembly {
    let mut levels = floors(&[3.5, 3.0], &[200.0, 150.0]);
    for floor in &mut levels {
        (floor.x_m, floor.y_m, floor.gyration_m2) = (8.0, 5.0, 40.0);
    }
    let mut assembly = Assembly::new(levels);
    for y in [0.0, 10.0] {
        assembly.lines.push(fixed_line(X, y, shear_building(&[50e3, 40e3])));
    }
    for x in [0.0, 16.0] {
        assembly.lines.push(fixed_line(Y, x, shear_building(&[45e3, 30e3])));
    }
    let mut added = linked_line(X, 12.0, shear_building(&[70e3, 60e3]), vec![Link::Spring(2e5); 2]);
    (added.middle_m, added.mass_t) = (6.0, vec![25.0, 20.0]);
    assembly.linked.push(added);
    assembly
}

#[test]
fn movements_without_resistance_are_named() {
    let unstable = |change: &dyn Fn(&mut Assembly)| {
        let mut assembly = building();
        change(&mut assembly);
        match assembly.factor().map(|_| ()) {
            Err(AssemblyError::Unstable { floor, movement }) => (floor, movement),
            other => panic!("stands: {other:?}"),
        }
    };
    assert_eq!(unstable(&|it| it.lines.truncate(2)).1, Movement::Translation(Y));
    let (floor, movement) = unstable(&|it| {
        for line in &mut it.lines[2..] {
            line.stiffness = Square::from_rows(&[vec![45e3, 0.0], vec![0.0, 0.0]]).expect("square");
        }
    });
    assert_eq!((floor, movement), (1, Movement::Translation(Y)));
    // All lines through one point along y, none along x that could hold a twist.
    let turning = unstable(&|it| {
        it.linked.clear();
        it.lines.drain(..2);
        it.lines.iter_mut().for_each(|line| line.ordinate_m = 8.0);
        it.freedoms.x = false;
    });
    assert_eq!(turning.1, Movement::Rotation);
    let loose = unstable(&|it| {
        it.linked[0].stiffness = Square::zero(2);
        it.linked[0].links[1] = Link::Absent;
    });
    assert_eq!(loose, (1, Movement::Linked(0)));
    // Held movements need no resistance.
    let mut held = building();
    held.lines.truncate(2);
    held.freedoms.y = false;
    assert!(held.factor().is_ok());
}

#[test]
fn bad_values_are_refused_with_their_place() {
    let refused = |change: &dyn Fn(&mut Assembly)| {
        let mut assembly = building();
        change(&mut assembly);
        assembly.factor().map(|_| ()).unwrap_err()
    };
    let floor = AssemblyError::Floor { floor: 1 };
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refused(&|it| it.floors[1].mass_t = bad), floor);
        assert_eq!(refused(&|it| it.floors[1].storey_height_m = bad), floor);
        assert_eq!(refused(&|it| it.linked[0].links[0] = Link::Spring(bad)), AssemblyError::Linked { linked: 0 });
    }
    let line = AssemblyError::Line { line: 2 };
    assert_eq!(refused(&|it| it.lines[2].ordinate_m = f64::NAN), line);
    assert_eq!(refused(&|it| it.lines[2].stiffness = Square::zero(3)), line);
    // A linked line with a mass or a link above its own top.
    assert_eq!(refused(&|it| it.linked[0].floors = 1), AssemblyError::Linked { linked: 0 });
    assert_eq!(refused(&|it| it.linked[0].mass_t = vec![25.0]), AssemblyError::Linked { linked: 0 });
}

#[test]
fn floor_forces_spread_over_the_masses() {
    let assembly = building();
    let along = assembly.load_by_mass(X, &[225.0, 170.0]);
    assert_all_near("on the frame", &along.linked_kn[0], &[25.0, 20.0], 1e-12);
    assert_near("on the floor", along.floors[0].x_kn, 200.0, 1e-12);
    assert_eq!(along.floors[0].moment_kn_m, 0.0);
    // Across, the frame's mass rides on the floor at x = 6, two metres left of the centre.
    let across = assembly.load_by_mass(Y, &[225.0, 170.0]);
    assert_eq!(across.linked_kn[0], [0.0, 0.0]);
    assert_near("on the floor", across.floors[0].y_kn, 225.0, 1e-12);
    assert_near("moment", across.floors[0].moment_kn_m, 25.0 * (6.0 - 8.0), 1e-12);
    // The load by mass is the inertia of a uniform acceleration: its base shear per unit is the
    // mass, and its static answer satisfies the modes' own sum.
    let modes = assembly.factor().expect("stands").modes().expect("has mass");
    assert_eq!(modes.total_mass_t, [395.0, 395.0]);
}

/// With one storey the centre of stiffness is Σ k·y/Σ k with the linked line counted in series
/// with its slab, wherever the load acts; with full matrices it follows the load's pattern.
#[test]
fn centre_of_stiffness_counts_linked_lines() {
    let mut assembly = Assembly::new(floors(&[3.0], &[100.0]));
    for (y, k) in [(-4.0, 30e3), (4.0, 50e3)] {
        assembly.lines.push(fixed_line(X, y, shear_building(&[k])));
    }
    assembly.linked.push(linked_line(X, 6.0, shear_building(&[80e3]), vec![Link::Spring(120e3)]));
    let mut load = assembly.no_load();
    load.floors[0].push(X, 100.0, 0.7);
    let centre = assembly.stiffness_centre(X, &load).expect("stands");
    let series = 80e3 * 120e3 / 200e3;
    let expected = (-4.0 * 30e3 + 4.0 * 50e3 + 6.0 * series) / (80e3 + series);
    assert_near("centre", centre.resistance_m[0].expect("resists"), expected, 1e-12);
    assert_near("load", centre.load_m[0].expect("loaded"), 0.7, 1e-12);
    assert_near("e", centre.eccentricity_m(0).expect("both"), 0.7 - expected, 1e-12);
    // Nothing is pushed along y, so nothing has a centre there.
    assert_eq!(
        assembly.stiffness_centre(Y, &load),
        Err(AssemblyError::Unstable { floor: 0, movement: Movement::Translation(Y) })
    );
    // A load straight through the centre of stiffness turns nothing.
    assembly.lines.push(fixed_line(Y, 0.0, shear_building(&[10e3])));
    let mut through = assembly.no_load();
    through.floors[0].push(X, 100.0, expected);
    let response = assembly.factor().expect("stands").solve(&through);
    assert!(response.floors[0].rotation_rad.abs() < 1e-15);
}
