//! A wall and a frame that resist together, against the continuum solution.

use sisterframe_core::assembly::Link;
use sisterframe_core::frame_line::{Base, FrameLine, StoreySpring, WallPanel};
use sisterframe_core::math;
use sisterframe_core::project::Direction::X;
use sisterframe_tests::approx::assert_all_near;
use sisterframe_tests::frames::{displacements, fixed_line, floors, linked_line, plane, shear_building};

const LOAD: f64 = 30.0;
const HEIGHT: f64 = 24.0;
const WALL: f64 = 8e6;
const FRAME: f64 = 2e5;

/// Displacement at height z of a flexural wall EI and a shear frame GA rigidly linked over the
/// height H, uniform load w, α² = GA/EI:
///
/// y = (wH⁴/EI)/(αH)⁴ · { [(αH sinh αH + 1)/cosh αH](cosh αz − 1) − αH sinh αz + (αH)²[z/H − ½(z/H)²] }
///
/// B. Stafford Smith and A. Coull, *Tall Building Structures*, ch. 11 (MEMORY; the form recalled
/// satisfies the differential equation and its four end conditions).
fn continuum(z: f64) -> f64 {
    let cosh = |x: f64| 0.5 * (math::exp(x) + math::exp(-x));
    let sinh = |x: f64| 0.5 * (math::exp(x) - math::exp(-x));
    let alpha = (FRAME / WALL).sqrt();
    let span = alpha * HEIGHT;
    let ratio = z / HEIGHT;
    let bracket = (span * sinh(span) + 1.0) / cosh(span) * (cosh(alpha * z) - 1.0) - span * sinh(alpha * z)
        + span * span * (ratio - 0.5 * ratio * ratio);
    LOAD / (WALL * alpha * alpha * alpha * alpha) * bracket
}

fn wall(storeys: usize) -> FrameLine {
    let height = HEIGHT / storeys as f64;
    let mut line = FrameLine::new(&[0.0, 4.0], &vec![height; storeys]);
    line.walls = (0..storeys)
        .map(|storey| WallPanel {
            storey,
            first_line: 0,
            last_line: 1,
            axis_m: 2.0,
            flexural_rigidity_kn_m2: WALL,
            shear_rigidity_kn: None,
            axial_rigidity_kn: None,
            base: Base::FIXED,
        })
        .collect();
    line
}

fn forces(storeys: usize) -> Vec<f64> {
    let mut force = vec![LOAD * HEIGHT / storeys as f64; storeys];
    force[storeys - 1] /= 2.0;
    force
}

/// Wall and frame in one line. The error falls with the square of the storey height.
#[test]
fn converges_to_the_continuum() {
    let mut errors = Vec::new();
    for storeys in [8, 16, 32, 64] {
        let height = HEIGHT / storeys as f64;
        let mut line = wall(storeys);
        line.storey_springs =
            (0..storeys).map(|storey| StoreySpring { storey, stiffness_kn_per_m: FRAME / height }).collect();
        let condensed = line.condense().expect("a sound line");
        let u = displacements(condensed.stiffness(), &forces(storeys));
        let exact: Vec<f64> = (1..=storeys).map(|floor| continuum(floor as f64 * height)).collect();
        let worst = u.iter().zip(&exact).map(|(u, exact)| (u - exact).abs()).fold(0.0_f64, f64::max);
        errors.push(worst / exact[storeys - 1]);
    }
    assert!(errors[3] < 2e-4, "{errors:?}");
    for pair in errors.windows(2) {
        assert!((3.8..4.2).contains(&(pair[0] / pair[1])), "{errors:?}");
    }
}

/// The same as an external frame: a wall beside a shear building, tied by rigid links and by stiff
/// ones.
#[test]
fn linked_wall_equals_wall_in_the_line() {
    let storeys = 12;
    let height = HEIGHT / storeys as f64;
    let mut line = wall(storeys);
    line.storey_springs =
        (0..storeys).map(|storey| StoreySpring { storey, stiffness_kn_per_m: FRAME / height }).collect();
    let together = displacements(line.condense().expect("a sound line").stiffness(), &forces(storeys));
    let alone = wall(storeys).condense().expect("a sound wall").stiffness().clone();
    for (link, tolerance) in [(Link::Rigid, 1e-9), (Link::Spring(1e12), 1e-6)] {
        let assembly = plane(
            floors(&vec![height; storeys], &vec![0.0; storeys]),
            vec![fixed_line(X, 0.0, shear_building(&vec![FRAME / height; storeys]))],
            vec![linked_line(X, 0.0, alone.clone(), vec![link; storeys])],
        );
        let mut load = assembly.no_load();
        for (floor, force) in load.floors.iter_mut().zip(forces(storeys)) {
            floor.x_kn = force;
        }
        let response = assembly.factor().expect("stands").solve(&load);
        let u: Vec<f64> = response.floors.iter().map(|floor| floor.x_m).collect();
        assert_all_near("u", &u, &together, tolerance);
    }
}
