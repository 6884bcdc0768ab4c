//! Linked frames against closed forms and dense solutions (DERIVED).

use sisterframe_core::assembly::{Assembly, Link, Load};
use sisterframe_core::frame_line::{Base, FrameLine, WallPanel};
use sisterframe_core::linear::Square;
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_core::response::LinkedResponse;
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, linked_line, plane, shear_building};

const TOLERANCE: f64 = 1e-6;

/// One existing line and one linked line in a plane that does not turn.
fn pair(existing: Square, added: Square, links: &[f64], masses: [&[f64]; 2]) -> Assembly {
    let heights = vec![3.0; existing.size()];
    let links = links.iter().map(|&k| Link::Spring(k)).collect();
    let mut linked = linked_line(X, 0.0, added, links);
    linked.mass_t = masses[1].to_vec();
    plane(floors(&heights, masses[0]), vec![fixed_line(X, 0.0, existing)], vec![linked])
}

fn push(assembly: &Assembly, force_kn: &[f64]) -> Load {
    let mut load = assembly.no_load();
    for (floor, &force) in load.floors.iter_mut().zip(force_kn) {
        floor.x_kn = force;
    }
    load
}

fn assert_links_balance(linked: &LinkedResponse) {
    assert_all_near("link force by stiffness and by balance", &linked.link_force_kn, &linked.link_balance_kn, 1e-9);
}

/// One storey: u = F/(k_e + k_s), k_s = k_a·k_l/(k_a + k_l), N = k_s·u.
#[test]
fn one_storey_closed_form() {
    let rows = [
        (60e3, 0.007575757576, 272.7272727, 0.00303030303, 227.2727273),
        (1e9, 0.00416694791, 374.9915627, 0.004166572919, 125.0084373),
        (6e3, 0.014035087719, 78.947368421, 0.0008771929825, 421.0526316),
    ];
    for (link, u, force, u_added, existing) in rows {
        let assembly = pair(shear_building(&[30e3]), shear_building(&[90e3]), &[link], [&[0.0], &[0.0]]);
        let response = assembly.factor().expect("stands").solve(&push(&assembly, &[500.0]));
        let linked = &response.linked[0];
        assert_near("u", response.floors[0].x_m, u, TOLERANCE);
        assert_near("N", linked.link_force_kn[0], force, TOLERANCE);
        assert_near("u_a", linked.displacement_m[0], u_added, TOLERANCE);
        assert_near("V existing", response.lines[0].storey_shear_kn[0], existing, TOLERANCE);
        assert_links_balance(linked);
    }
}

fn three_storeys(factor: f64) -> Assembly {
    pair(
        shear_building(&[60e3, 55e3, 50e3]),
        shear_building(&[150e3, 130e3, 110e3]),
        &[120e3 * factor; 3],
        [&[220.0, 220.0, 180.0], &[25.0, 25.0, 18.0]],
    )
}

const THREE_STOREY_PUSH: [f64; 3] = [90.0, 180.0, 270.0];

#[test]
fn three_storeys_with_equal_links() {
    let assembly = three_storeys(1.0);
    let response = assembly.factor().expect("stands").solve(&push(&assembly, &THREE_STOREY_PUSH));
    let linked = &response.linked[0];
    let u: Vec<f64> = response.floors.iter().map(|floor| floor.x_m).collect();
    assert_all_near("u", &u, &[0.002960398862, 0.005741688691, 0.007699529866], TOLERANCE);
    assert_all_near("u_a", &linked.displacement_m, &[0.002415840455, 0.004700679374, 0.006265297022], TOLERANCE);
    assert_all_near("N", &linked.link_force_kn, &[65.34700886, 124.9211181, 172.1079413], TOLERANCE);
    let existing = &response.lines[0].storey_shear_kn;
    assert_all_near("V existing", existing, &[177.6239317, 152.9709406, 97.89205872], TOLERANCE);
    assert_all_near("V added", &linked.storey_shear_kn, &[362.3760683, 297.0290594, 172.1079413], TOLERANCE);
    let shares: Vec<f64> = existing.iter().zip(&linked.storey_shear_kn).map(|(e, a)| a / (e + a)).collect();
    assert_all_near("share", &shares, &[0.6710667931, 0.6600645765, 0.6374368196], TOLERANCE);
    assert_links_balance(linked);
}

#[test]
fn sweep_of_link_stiffness() {
    let rows = [
        (0.01, [0.00815254469, 0.0155803439, 0.02050905952], [9.376275079, 17.9068245, 23.56421903]),
        (0.1, [0.005114260199, 0.009833808987, 0.01306084228], [42.71957135, 81.77648141, 108.6483353]),
        (10.0, [0.002612502097, 0.005080750268, 0.006799138945], [69.00352355, 130.1657845, 184.0805661]),
        (1e4, [0.002571469939, 0.005003938147, 0.006691469676], [69.49755509, 130.590825, 185.6234235]),
        // Far stiffer than any slab: the rigid tie to eight figures, and still both link forces.
        (1e10, [0.002571428571, 0.005003861004, 0.006691361004], [69.49755509, 130.590825, 185.6234235]),
    ];
    for (factor, expected, forces) in rows {
        let assembly = three_storeys(factor);
        let response = assembly.factor().expect("stands").solve(&push(&assembly, &THREE_STOREY_PUSH));
        let u: Vec<f64> = response.floors.iter().map(|floor| floor.x_m).collect();
        assert_all_near("u", &u, &expected, TOLERANCE);
        assert_all_near("N", &response.linked[0].link_force_kn, &forces, if factor > 1e4 { 1e-4 } else { TOLERANCE });
        assert_links_balance(&response.linked[0]);
    }
}

#[test]
fn no_tie_and_a_rigid_tie_are_the_limits() {
    for (link, expected) in [
        (Link::Absent, [0.009, 0.01718181818, 0.02258181818]),
        (Link::Rigid, [0.002571428571, 0.005003861004, 0.006691361004]),
    ] {
        let mut assembly = three_storeys(1.0);
        assembly.linked[0].links = vec![link; 3];
        let response = assembly.factor().expect("stands").solve(&push(&assembly, &THREE_STOREY_PUSH));
        let u: Vec<f64> = response.floors.iter().map(|floor| floor.x_m).collect();
        assert_all_near("u", &u, &expected, TOLERANCE);
    }
}

#[test]
fn coupled_periods_of_linked_frames() {
    let assembly = three_storeys(1.0);
    let modes = assembly.factor().expect("stands").modes().expect("has mass");
    let periods: Vec<f64> = modes.modes.iter().map(|mode| mode.period_s).collect();
    let expected = [0.5002666013, 0.2282052271, 0.1788493556, 0.07320471777, 0.05192644148, 0.04230849656];
    assert_eq!(periods.len(), expected.len());
    for (period, expected) in periods.iter().zip(expected) {
        assert_near("T", *period, expected, TOLERANCE);
    }
    let first = &modes.modes[0];
    let roof = first.floors[2].x_m;
    let shape: Vec<f64> = first.floors.iter().map(|floor| floor.x_m).chain(first.linked[0].iter().copied()).collect();
    let shape: Vec<f64> = shape.iter().map(|value| value / roof).collect();
    let expected = [0.4264614441, 0.800460867, 1.0, 0.344943153, 0.6572427536, 0.8465231978];
    assert_all_near("φ₁", &shape, &expected, TOLERANCE);
    assert_near("mass along x", modes.total_mass_t[0], 688.0, 1e-12);
    let effective: f64 = modes.modes.iter().map(|mode| mode.effective_mass_t(X)).sum();
    assert_near("effective masses together", effective, 688.0, 1e-9);
    assert_eq!(modes.governing(Y), None);
}

/// A cantilever wall on a fixed foot, flexibility f_ij = a²(3b − a)/6EI + a/GA_v.
fn wall(heights: &[f64], flexural: f64, shear: Option<f64>, base: Base) -> Square {
    let mut line = FrameLine::new(&[0.0, 3.0], heights);
    line.walls = (0..heights.len())
        .map(|storey| WallPanel {
            storey,
            first_line: 0,
            last_line: 1,
            axis_m: 1.5,
            flexural_rigidity_kn_m2: flexural,
            shear_rigidity_kn: shear,
            axial_rigidity_kn: None,
            base,
        })
        .collect();
    line.condense().expect("a sound wall").stiffness().clone()
}

#[test]
fn wall_flexibility_closed_form() {
    let heights = [3.6, 3.4, 3.4, 3.4];
    let (flexural, shear) = (16.875e6, 7.8125e6);
    let stiffness = wall(&heights, flexural, Some(shear), Base::FIXED);
    let level = |floor: usize| heights[..=floor].iter().sum::<f64>();
    for j in 0..4 {
        let mut unit = [0.0; 4];
        unit[j] = 1.0;
        let column = sisterframe_tests::frames::displacements(&stiffness, &unit);
        for (i, actual) in column.iter().enumerate() {
            let (a, b) = (level(i).min(level(j)), level(i).max(level(j)));
            let expected = a * a * (3.0 * b - a) / (6.0 * flexural) + a / shear;
            assert_near("flexibility", *actual, expected, 1e-9);
        }
    }
}

/// A shear frame tied to a wall: near the roof the wall pushes the frame, so the link force there
/// nearly vanishes.
#[test]
fn four_storey_frame_tied_to_a_wall() {
    let added = wall(&[3.6, 3.4, 3.4, 3.4], 16.875e6, Some(7.8125e6), Base::FIXED);
    let zero = [0.0; 4];
    let existing = shear_building(&[110e3, 105e3, 100e3, 90e3]);
    let assembly = pair(existing, added, &[400e3, 400e3, 400e3, 200e3], [&zero, &zero]);
    let response = assembly.factor().expect("stands").solve(&push(&assembly, &[100.0, 190.0, 280.0, 330.0]));
    let linked = &response.linked[0];
    let u: Vec<f64> = response.floors.iter().map(|floor| floor.x_m).collect();
    assert_all_near("u", &u, &[0.002296270994, 0.0056871153, 0.009551280353, 0.01303818724], TOLERANCE);
    let expected = [0.001787648887, 0.005136170667, 0.009032767565, 0.01295729535];
    assert_all_near("u_a", &linked.displacement_m, &expected, TOLERANCE);
    assert_all_near("N", &linked.link_force_kn, &[203.4488428, 220.3778531, 207.405115, 16.17837972], TOLERANCE);
    let existing = &response.lines[0].storey_shear_kn;
    assert_all_near("V existing", existing, &[252.5898093, 356.0386521, 386.4165053, 313.8216203], TOLERANCE);
    assert_links_balance(linked);
}

/// A rigid wall on a base spring K_θ, rigidly tied to a two-storey shear frame:
/// θ = Σ F·z / (Σ k·h² + K_θ). With K_θ = 0 the wall only evens the drifts out, and its shear in
/// the upper storey is negative.
#[test]
fn stiff_wall_on_a_base_spring() {
    let rows = [
        (0.0, 0.00151515, [272.727, 227.273], [27.2727, -27.2727], [54.5455, -27.2727]),
        (500e3, 0.00100671, [181.208, 151.007], [118.792, 48.9933], [69.7987, 48.9933]),
    ];
    for (spring, theta, frame, shears, links) in rows {
        let added = wall(&[3.0, 3.0], 1e12, None, Base::rotating(spring));
        let zero = [0.0; 2];
        let mut assembly = pair(shear_building(&[60e3, 50e3]), added, &[0.0; 2], [&zero, &zero]);
        assembly.linked[0].links = vec![Link::Rigid; 2];
        let response = assembly.factor().expect("stands").solve(&push(&assembly, &[100.0, 200.0]));
        let linked = &response.linked[0];
        assert_near("θ", response.floors[0].x_m / 3.0, theta, 1e-5);
        assert_all_near("V frame", &response.lines[0].storey_shear_kn, &frame, 1e-5);
        assert_all_near("V wall", &linked.storey_shear_kn, &shears, 1e-5);
        assert_all_near("N", &linked.link_force_kn, &links, 1e-5);
    }
}

/// One storey, an external frame on one side. The link acts on the diaphragm at the external
/// frame's own ordinate (y = 12 m), and its force leaves out the frame's own inertia (30 kN).
#[test]
fn link_of_a_one_sided_external_frame() {
    let mut floor = floors(&[3.0], &[0.0]);
    (floor[0].x_m, floor[0].y_m) = (10.0, 5.0);
    let mut assembly = Assembly::new(floor);
    let k = shear_building(&[40e3]);
    assembly.lines = vec![
        fixed_line(X, 0.0, k.clone()),
        fixed_line(X, 10.0, k.clone()),
        fixed_line(Y, 0.0, k.clone()),
        fixed_line(Y, 20.0, k),
    ];
    let mut added = linked_line(X, 12.0, shear_building(&[60e3]), vec![Link::Spring(120e3)]);
    added.middle_m = 10.0;
    assembly.linked = vec![added];
    let mut load = push(&assembly, &[600.0]);
    load.linked_kn[0][0] = 30.0;
    let response = assembly.factor().expect("stands").solve(&load);
    let linked = &response.linked[0];
    let shear = |line: usize| response.lines[line].storey_shear_kn[0];
    assert_near("u", response.floors[0].x_m, 5.43632e-3, 1e-5);
    assert_near("θ", response.floors[0].rotation_rad, 1.15566e-4, 1e-5);
    assert_near("u_a", linked.displacement_m[0], 3.25157e-3, 1e-5);
    assert_near("V at y = 0", shear(0), 240.566, 1e-5);
    assert_near("V at y = 10", shear(1), 194.34, 1e-5);
    assert_near("V added", linked.storey_shear_kn[0], 195.094, 1e-5);
    assert_near("N", linked.link_force_kn[0], 165.094, 1e-5);
    assert_near("V at x = 0", shear(2), -46.2264, 1e-5);
    assert_near("V at x = 20", shear(3), 46.2264, 1e-5);
    assert_near("drift of the far face", response.drift_at(0, X, 0.0), shear(0) / 40e3, 1e-12);
    assert_links_balance(linked);
}
