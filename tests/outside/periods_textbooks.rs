//! Natural periods of textbook shear buildings.

use sisterframe_core::project::Direction::X;
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{fixed_line, floors, plane, shear_building};

/// A. K. Chopra, *Dynamics of Structures*, Example 10.4 (MEMORY): m₁ = 2m, m₂ = m, k₁ = 2k,
/// k₂ = k gives ω₁ = √(k/2m) with φ₁ = (½, 1) and ω₂ = √(2k/m) with φ₂ = (−1, 1).
#[test]
fn two_storey_building() {
    let assembly =
        plane(floors(&[3.0, 3.0], &[2.0, 1.0]), vec![fixed_line(X, 0.0, shear_building(&[2.0, 1.0]))], Vec::new());
    let modes = assembly.factor().expect("stands").modes().expect("has mass").modes;
    for (mode, (omega, foot)) in modes.iter().zip([(0.5_f64.sqrt(), 0.5), (2.0_f64.sqrt(), -1.0)]) {
        assert_near("T", mode.period_s, 2.0 * std::f64::consts::PI / omega, 1e-12);
        assert_near("φ", mode.floors[0].x_m / mode.floors[1].x_m, foot, 1e-12);
    }
    // Effective masses 8/9 and 1/9 of the whole, by hand from Γ = φᵀM1/φᵀMφ.
    assert_near("first effective mass", modes[0].effective_mass_t(X), 8.0 / 3.0, 1e-12);
    assert_near("second effective mass", modes[1].effective_mass_t(X), 1.0 / 3.0, 1e-12);
}

/// Chopra, five-storey uniform building of ch. 12–13 (MEMORY): 100 kip per floor, storeys of
/// 31.54 kip/in; T = 2.000, 0.6852, 0.4346, 0.3383, 0.2966 s as printed.
#[test]
fn five_storey_building() {
    let mass = 100.0 / 386.0;
    let assembly =
        plane(floors(&[12.0; 5], &[mass; 5]), vec![fixed_line(X, 0.0, shear_building(&[31.54; 5]))], Vec::new());
    let modes = assembly.factor().expect("stands").modes().expect("has mass");
    let periods: Vec<f64> = modes.modes.iter().map(|mode| mode.period_s).collect();
    assert_all_near("T", &periods, &[2.000, 0.6852, 0.4346, 0.3383, 0.2966], 5e-4);
    for (period, printed) in periods.iter().zip([2.000, 0.6852, 0.4346, 0.3383, 0.2966]) {
        assert_near("T", *period, printed, 1e-3);
    }
}
