//! Single frame lines: what they leave out, what they refuse, and closed forms of their parts (DERIVED).

use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, FrameLineError, Restraint, StoreySpring, WallPanel};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::displacements;

const COLUMN: Column = Column {
    flexural_rigidity_kn_m2: 40e3,
    shear_rigidity_kn: Some(900e3),
    axial_rigidity_kn: Some(3e6),
    rigid_bottom_m: 0.0,
    rigid_top_m: 0.3,
};
const BEAM: Beam =
    Beam { flexural_rigidity_kn_m2: 60e3, shear_rigidity_kn: Some(1.2e6), rigid_left_m: 0.2, rigid_right_m: 0.2 };

fn wall(storey: usize, first_line: usize, last_line: usize, axis_m: f64) -> WallPanel {
    WallPanel {
        storey,
        first_line,
        last_line,
        axis_m,
        flexural_rigidity_kn_m2: 8e6,
        shear_rigidity_kn: Some(5e6),
        axial_rigidity_kn: Some(12e6),
        base: Base::rotating(2e6),
    }
}

/// Three storeys, three column lines, everything in place.
fn frame() -> FrameLine {
    let mut line = FrameLine::new(&[0.0, 5.0, 9.0], &[3.6, 3.2, 3.2]);
    for storey in 0..3 {
        for column in 0..3 {
            line.set_column(storey, column, COLUMN);
        }
        for bay in 0..2 {
            line.set_beam(storey, bay, BEAM);
        }
    }
    line
}

fn flexible_length() -> f64 {
    3.6 - COLUMN.rigid_top_m
}

/// One column between floors that do not let it turn: 12EI/(L³(1+Φ)); on a hinge below,
/// 1/(L³/3EI + L/GA).
#[test]
fn single_column_with_shear_and_a_rigid_end() {
    let (flexural, shear) = (40e3, 900e3);
    let length = flexible_length();
    let cube = length * length * length;
    for (base, expected) in [
        (Base::FIXED, 1.0 / (cube / (12.0 * flexural) + length / shear)),
        (Base::PINNED, 1.0 / (cube / (3.0 * flexural) + length / shear)),
    ] {
        let mut line = FrameLine::new(&[0.0, 5.0], &[3.6]);
        line.set_column(0, 0, COLUMN);
        // A beam without give to a second column keeps the head from turning; the second column
        // hardly resists.
        let rigid = Beam { flexural_rigidity_kn_m2: 1e13, shear_rigidity_kn: None, ..BEAM };
        line.set_beam(0, 0, rigid);
        let prop = Column { flexural_rigidity_kn_m2: 1e-4, axial_rigidity_kn: None, ..COLUMN };
        line.set_column(0, 1, prop);
        line.set_column(0, 0, Column { axial_rigidity_kn: None, ..COLUMN });
        line.bases.fill(base);
        let condensed = line.condense().expect("sound");
        assert_near("column stiffness", condensed.stiffness().at(0, 0), expected, 1e-6);
    }
}

/// A sill that holds the column to half its height makes it eight times as stiff in bending.
#[test]
fn captive_column_is_stiffer_by_the_cube_of_its_free_height() {
    let slender =
        Column { shear_rigidity_kn: None, axial_rigidity_kn: None, rigid_bottom_m: 0.0, rigid_top_m: 0.0, ..COLUMN };
    let portal = |sill: f64| {
        let mut line = FrameLine::new(&[0.0, 5.0], &[3.6]);
        for column in 0..2 {
            line.set_column(0, column, Column { rigid_bottom_m: sill, ..slender });
        }
        line.set_beam(0, 0, Beam { flexural_rigidity_kn_m2: 1e13, shear_rigidity_kn: None, ..BEAM });
        line.condense().expect("sound").stiffness().at(0, 0)
    };
    assert_near("ratio", portal(1.8) / portal(0.0), 8.0, 1e-6);
}

/// A cantilever wall on a rotational spring: u = H·H/K_θ + H³/3EI + H/GA under a unit force.
#[test]
fn wall_on_a_turning_footing() {
    let mut line = FrameLine::new(&[0.0, 4.0], &[3.0, 3.0]);
    line.walls = vec![wall(0, 0, 1, 1.7), wall(1, 0, 1, 1.7)];
    let condensed = line.condense().expect("sound");
    let u = displacements(condensed.stiffness(), &[0.0, 1.0]);
    let height = 6.0_f64;
    let expected = height * height / 2e6 + height * height * height / (3.0 * 8e6) + height / 5e6;
    assert_near("u", u[1], expected, 1e-9);
    let forces = condensed.recover(&u);
    for (storey, wall) in forces.walls.iter().enumerate() {
        let arm = 3.0 * storey as f64;
        assert_near("V", wall.shear_kn, 1.0, 1e-9);
        assert_near("M at the foot", wall.moment_bottom_kn_m, height - arm, 1e-9);
        assert!((wall.moment_top_kn_m - (height - arm - 3.0)).abs() < 1e-9 * height);
    }
    let foot = &forces.bases[0];
    assert_eq!((forces.bases.len(), foot.first_line, foot.last_line, foot.ordinate_m), (1, 0, 1, 1.7));
    assert_near("M on the footing", foot.moment_kn_m, height, 1e-9);
}

/// Two panels side by side share their head: it moves by u and turns by θ, and turning stretches one
/// axis and presses the other: k = k_uu − k_uθ²/k_θθ with k_uu = 2·12EI/h³, k_uθ = 2·6EI/h²,
/// k_θθ = 2·(4EI/h + d²·EA/h).
#[test]
fn adjacent_panels_share_their_head() {
    let mut line = FrameLine::new(&[0.0, 4.0, 8.0], &[3.0]);
    line.walls = vec![wall(0, 0, 1, 2.0), wall(0, 1, 2, 6.0)];
    for panel in &mut line.walls {
        panel.shear_rigidity_kn = None;
        panel.base = Base::FIXED;
    }
    let (flexural, axial, h, d) = (8e6, 12e6, 3.0, 2.0);
    let sway = 24.0 * flexural / (h * h * h);
    let coupling = 12.0 * flexural / (h * h);
    let turning = 2.0 * (4.0 * flexural / h + d * d * axial / h);
    let condensed = line.condense().expect("sound");
    assert_near("k", condensed.stiffness().at(0, 0), sway - coupling * coupling / turning, 1e-12);
    let forces = condensed.recover(&[0.001]);
    assert_near("equal shears", forces.walls[0].shear_kn, forces.walls[1].shear_kn, 1e-9);
    let turn = 0.001 * coupling / turning;
    assert_near("the leeward panel is pressed", forces.walls[1].compression_kn, d * turn * axial / h, 1e-9);
    assert_near("couple", forces.walls[0].compression_kn, -forces.walls[1].compression_kn, 1e-9);
    assert_eq!(forces.bases.len(), 1);
}

/// A line that ends below the roof: zero rows above, and the rest as if there were no storeys above.
#[test]
fn line_that_ends_below_the_roof() {
    let mut low = frame();
    for column in 0..3 {
        low.set_column(2, column, None);
    }
    for bay in 0..2 {
        low.set_beam(2, bay, None);
    }
    let mut alone = FrameLine::new(&[0.0, 5.0, 9.0], &[3.6, 3.2]);
    for storey in 0..2 {
        for column in 0..3 {
            alone.set_column(storey, column, COLUMN);
        }
        for bay in 0..2 {
            alone.set_beam(storey, bay, BEAM);
        }
    }
    let (low, alone) = (low.condense().expect("sound"), alone.condense().expect("sound"));
    for i in 0..3 {
        assert_eq!(low.stiffness().at(2, i), 0.0);
        for j in 0..2 {
            let expected = if i < 2 { alone.stiffness().at(i, j) } else { 0.0 };
            assert_eq!(low.stiffness().at(i, j), expected);
        }
    }
    let u = [0.002, 0.005, 0.123];
    assert_eq!(low.recover(&u).storey_shear_kn[2], 0.0);
    assert_all_near("shears", &low.storey_shears_kn(&u)[..2], &alone.storey_shears_kn(&u[..2]), 1e-12);
}

/// Joints nothing is attached to take no part, and a line without members at all has no stiffness.
#[test]
fn empty_places_are_left_out() {
    let mut line = FrameLine::new(&[0.0, 5.0, 10.0, 15.0], &[3.0, 3.0]);
    line.bases.fill(Base { rotation: Restraint::Free, vertical: Restraint::Spring(1e5) });
    let nothing = line.condense().expect("sound");
    assert_eq!(nothing.stiffness().row(0), [0.0, 0.0]);
    assert!(nothing.recover(&[0.01, 0.02]).bases.is_empty());
    line.storey_springs.push(StoreySpring { storey: 1, stiffness_kn_per_m: 7e3 });
    let spring = line.condense().expect("sound");
    assert_eq!(spring.stiffness().row(1), [-7e3, 7e3]);
    assert_near("strut", spring.recover(&[0.01, 0.02]).storey_springs_kn[0], 70.0, 1e-12);
    // One portal at the left; the lines at the right stay empty.
    line.set_column(0, 0, COLUMN);
    line.set_column(0, 1, COLUMN);
    line.set_beam(0, 0, BEAM);
    let forces = line.condense().expect("sound").recover(&[0.01, 0.01]);
    assert_eq!(forces.bases.len(), 2);
    assert_eq!(forces.column(0, 3), Default::default());
    assert!(forces.column(0, 0).shear_kn > 0.0);
}

/// A beam between two joints of one wall moves with it and carries nothing.
#[test]
fn beam_inside_a_wall_carries_nothing() {
    let walled = |with_beam: bool| {
        let mut line = frame();
        line.set_column(0, 1, None);
        line.set_column(0, 2, None);
        line.walls = vec![wall(0, 1, 2, 7.0)];
        if !with_beam {
            line.set_beam(0, 1, None);
        }
        line.condense().expect("sound")
    };
    assert_eq!(walled(true).stiffness(), walled(false).stiffness());
    assert_eq!(walled(true).recover(&[0.01, 0.02, 0.03]).beam(0, 1), Default::default());
}

#[test]
fn mechanisms_are_named_and_bad_values_refused() {
    let refused = |change: &dyn Fn(&mut FrameLine)| {
        let mut line = frame();
        change(&mut line);
        line.condense().map(|_| ()).unwrap_err()
    };
    // A column that stands on nothing and carries nothing.
    let hanging = refused(&|line| {
        for storey in 0..2 {
            line.set_column(storey, 2, None);
        }
        for floor in 0..3 {
            line.set_beam(floor, 1, None);
        }
    });
    assert!(matches!(hanging, FrameLineError::Unstable { level: 2 | 3, line: 2 }), "{hanging:?}");
    // A foot that neither the ground nor a beam holds up.
    let sinking = refused(&|line| {
        line.bases[0].vertical = Restraint::Free;
        line.set_beam(0, 0, None);
        line.set_beam(1, 0, None);
        line.set_beam(2, 0, None);
    });
    assert!(matches!(sinking, FrameLineError::Unstable { line: 0, .. }), "{sinking:?}");

    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let column = Column { flexural_rigidity_kn_m2: bad, ..COLUMN };
        let expected = FrameLineError::Column { storey: 1, line: 2 };
        assert_eq!(refused(&|line| line.set_column(1, 2, column)), expected);
        let beam = Beam { shear_rigidity_kn: Some(bad), ..BEAM };
        assert_eq!(refused(&|line| line.set_beam(2, 1, beam)), FrameLineError::Beam { floor: 2, bay: 1 });
    }
    let too_rigid = Column { rigid_bottom_m: 2.0, rigid_top_m: 1.2, ..COLUMN };
    let expected = FrameLineError::Column { storey: 2, line: 0 };
    assert_eq!(refused(&|line| line.set_column(2, 0, too_rigid)), expected);
    let long = Beam { rigid_left_m: 4.0, rigid_right_m: 1.0, ..BEAM };
    assert_eq!(refused(&|line| line.set_beam(0, 0, long)), FrameLineError::Beam { floor: 0, bay: 0 });
    assert_eq!(refused(&|line| line.walls.push(wall(0, 1, 1, 5.0))), FrameLineError::Wall { index: 0 });
    assert_eq!(refused(&|line| line.walls.push(wall(0, 1, 3, 5.0))), FrameLineError::Wall { index: 0 });
    assert_eq!(refused(&|line| line.walls.push(wall(3, 0, 1, 5.0))), FrameLineError::Wall { index: 0 });
    assert_eq!(refused(&|line| line.bases[1] = Base::rotating(-1.0)), FrameLineError::Base { line: 1 });
    let spring = StoreySpring { storey: 3, stiffness_kn_per_m: 1.0 };
    assert_eq!(refused(&|line| line.storey_springs.push(spring)), FrameLineError::StoreySpring { index: 0 });
    assert_eq!(refused(&|line| line.ordinates_m[1] = 0.0), FrameLineError::Geometry);
    assert_eq!(refused(&|line| line.storey_heights_m[1] = 0.0), FrameLineError::Geometry);
    assert_eq!(refused(&|line| line.bases.truncate(2)), FrameLineError::Geometry);
    assert_eq!(FrameLine::new(&[0.0], &[]).condense().map(|_| ()).unwrap_err(), FrameLineError::Geometry);
}
