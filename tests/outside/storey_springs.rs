//! Storey springs of hand calculations.

use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, Restraint};
use sisterframe_core::storey_springs::{d_value_kn_m, roof_stiffness_kn_m, storey_kn_m};
use sisterframe_tests::approx::assert_near;

fn member(rigidity: f64) -> Column {
    Column {
        flexural_rigidity_kn_m2: rigidity,
        shear_rigidity_kn: None,
        axial_rigidity_kn: None,
        rigid_bottom_m: 0.0,
        rigid_top_m: 0.0,
    }
}

fn beam(rigidity: f64) -> Beam {
    Beam { flexural_rigidity_kn_m2: rigidity, shear_rigidity_kn: None, rigid_left_m: 0.0, rigid_right_m: 0.0 }
}

/// Course hand-out on the D-value method (SEEN in a public hand-out): column 0.30 × 0.30 m, 3 m
/// high, a beam 0.30 × 0.50 m of 5 m above and one below, E = 15·√210 t/cm²: K̄ = 2.778,
/// a = 0.581, D = 3.791 t/cm.
#[test]
fn column_of_a_hand_out() {
    let modulus_kn_m2 = 15.0 * 210.0_f64.sqrt() * 9.806_65 * 1e4;
    let square = |width: f64, depth: f64| width * depth * depth * depth / 12.0;
    let mut frame = FrameLine::new(&[0.0, 5.0, 10.0], &[3.0, 3.0]);
    for storey in 0..2 {
        for line in 0..3 {
            frame.set_column(storey, line, member(modulus_kn_m2 * square(0.3, 0.3)));
        }
        for bay in 0..2 {
            frame.set_beam(storey, bay, beam(modulus_kn_m2 * square(0.3, 0.5)));
        }
    }
    let found = d_value_kn_m(&frame, 1, 0).expect("a column");
    assert_near("D", found / (9.806_65 * 100.0), 3.791, 2e-4);
    assert!(d_value_kn_m(&frame, 1, 7).is_none());
}

/// A portal with pinned feet: the D-value is exact, k = (6·E·I/h³)·4ρ/(1 + 4ρ), ρ = (I_b/L)/(2·I_c/h)
/// (DERIVED, slope deflection); with fixed feet it is known to be a good quarter low.
#[test]
fn portals() {
    let (column, girder, height, span) = (20_000.0, 45_000.0, 3.6, 6.0);
    let mut frame = FrameLine::new(&[0.0, span], &[height]);
    for line in 0..2 {
        frame.set_column(0, line, member(column));
    }
    frame.set_beam(0, 0, beam(girder));
    frame.bases = vec![Base { rotation: Restraint::Free, vertical: Restraint::Fixed }; 2];
    let ratio = (girder / span) / (2.0 * column / height);
    let cube = height * height * height;
    let exact = 6.0 * column / cube * 4.0 * ratio / (1.0 + 4.0 * ratio);
    assert_near("pinned", storey_kn_m(&frame, 0), exact, 1e-12);
    frame.bases = vec![Base::FIXED; 2];
    let exact = 24.0 * column / cube * (12.0 * ratio + 1.0) / (12.0 * ratio + 4.0);
    let error = storey_kn_m(&frame, 0) / exact - 1.0;
    assert!((-0.31..-0.15).contains(&error), "{error}");
}

/// Springs one above the other (statics).
#[test]
fn springs_in_a_row() {
    assert_near("equal shears", roof_stiffness_kn_m(&[3000.0, 6000.0], &[1.0, 1.0]), 2000.0, 1e-12);
    assert_near(
        "falling shears",
        roof_stiffness_kn_m(&[3000.0, 6000.0], &[1.0, 0.5]),
        1.0 / (1.0 / 3000.0 + 0.5 / 6000.0),
        1e-12,
    );
}
