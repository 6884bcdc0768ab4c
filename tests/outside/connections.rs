//! Interface shear, anchorage and walls against published examples.

use sisterframe_core::material::Bar;
use sisterframe_core::rules::{self, BarAnchorage, InterfaceCap, InterfaceShear, Surface, WallShear};
use sisterframe_tests::approx::assert_near;

const INCH: f64 = 25.4;
const KIP: f64 = 4.448_222;
const PSI: f64 = 0.006_894_757;

fn interface(
    surface: Surface,
    area_mm2: f64,
    steel_mm2: f64,
    bar_stress_mpa: f64,
    concrete_mpa: f64,
) -> InterfaceShear {
    InterfaceShear { area_mm2, steel_mm2, bar_stress_mpa, surface, concrete_mpa, normal_kn: 0.0, lightweight: 1.0 }
}

/// Source: McCormac & Brown, Design of Reinforced Concrete, 9th ed., Example 12.9 (SEEN): column
/// 14 × 14 in on a footing, μ = 0.6, f'c 3000 psi, 65 kip. The book needs 2.41 in² and prints
/// φ·0.2·f'c·A_c = 88.2 kip. 3e-3 (printed to three figures).
#[test]
fn shear_friction_of_a_textbook() {
    let square_inch = INCH * INCH;
    let area = 14.0 * 14.0 * square_inch;
    let asked = interface(Surface::Plain, area, 2.41 * square_inch, 60_000.0 * PSI, 3000.0 * PSI);
    let got = rules::american().interface_shear(&asked).expect("answered");
    assert_near("φVn", 0.75 * got.strength_kn / KIP, 65.0, 3e-3);
    assert_near("φ upper bound", 0.75 * got.cap_kn / KIP, 88.2, 3e-3);
    assert_eq!(got.cap, InterfaceCap::PartOfStrength);
}

/// Source: two published corbel calculation sheets to ACI 318 (SEEN, public hand-outs; arithmetic
/// checks only). 163 kN with 370 mm² at 420 MPa, μ 1.4, φ 0.75; 553 564 N with 1163 mm² at 400 MPa,
/// μ 1.4, φ 0.85, upper bound 952 425 N. 2e-3.
#[test]
fn shear_friction_of_two_corbels() {
    let set = rules::american();
    let first =
        set.interface_shear(&interface(Surface::Monolithic, 1000.0 * 222.0, 370.0, 420.0, 32.0)).expect("answered");
    assert_near("first corbel", 0.75 * first.strength_kn, 163.0, 2e-3);
    let second =
        set.interface_shear(&interface(Surface::Monolithic, 500.0 * 450.0, 1163.0, 400.0, 24.9)).expect("answered");
    assert_near("second corbel", 0.85 * second.strength_kn, 553.564, 2e-3);
    assert_near("its upper bound", 0.85 * second.cap_kn, 952.425, 1e-9);
    // Net tension asks for 326 mm² more at 400 MPa: with both, the shear stays.
    let with_tension = set
        .interface_shear(&InterfaceShear {
            steel_mm2: 1163.0 + 326.0,
            normal_kn: -110.7128 / 0.85,
            ..interface(Surface::Monolithic, 500.0 * 450.0, 0.0, 400.0, 24.9)
        })
        .expect("answered");
    assert_near("with tension", 0.85 * with_tension.strength_kn, 553.564, 2e-3);
}

/// Source: McCormac & Brown, 9th ed., Examples 7.2, 7.3, 7.6 and 12.9 (SEEN; ACI 318-11 Eq. 12-1,
/// the form of 318-19 25.4.2.4 with a grade factor of 1). Printed as whole diameters except the
/// last; the metric constant 1.1 stands for 3/40, 0.65 % apart. 1.2e-2.
#[test]
fn development_lengths_of_a_textbook() {
    // f'c psi, confinement, position factor, bar diameter in, printed l_d/d_b.
    let rows = [
        (3000.0, 1.5, 1.0, 1.0, 55.0),
        (3000.0, 1.867, 1.0, 1.0, 44.0),
        (3500.0, 2.13, 1.5, 1.0, 54.0),
        (3500.0, 1.71, 1.5, 1.0, 67.0),
        (4000.0, 1.99, 1.7, 1.128, 61.0),
        (3000.0, 2.6, 1.0, 0.75, 23.91 * 2.65 / 2.41),
    ];
    for (fc, confinement, position_factor, diameter, printed) in rows {
        let bar = Bar::round(diameter * INCH);
        let anchorage = BarAnchorage {
            bar,
            yield_mpa: 60_000.0 * PSI,
            concrete_mpa: fc * PSI,
            embedment_mm: 300.0,
            confinement,
            position_factor,
            breakout: None,
            lightweight: 1.0,
        };
        let got = rules::american().bar_anchorage(&anchorage).expect("answered");
        assert_near("l_d/d_b", got.required_mm / bar.diameter_mm, printed, 1.2e-2);
    }
}

/// Source: McCormac & Brown, 9th ed., Example 18.3 (SEEN; ACI 318-11 11.9): wall 8 × 120 in, f'c
/// 3000 psi; φ·10·√f'c·h·d with d = 0.8·l_w printed as 315.5 kip. The bound of one pier is the
/// same stress on the whole length. 3e-3: 0.83 stands for 10 in psi, 0.04 % apart.
#[test]
fn largest_wall_shear_of_a_textbook() {
    let wall = WallShear {
        concrete_mpa: 3000.0 * PSI,
        yield_mpa: 60_000.0 * PSI,
        thickness_mm: 8.0 * INCH,
        length_mm: 120.0 * INCH,
        height_mm: 168.0 * INCH,
        shear_span_mm: 112.0 * INCH,
        horizontal_ratio: 0.004_17,
        vertical_ratio: 0.004_17,
        axial_kn: 0.0,
        opening_factor: 1.0,
        lightweight: 1.0,
    };
    let got = rules::american().wall_shear(&wall).expect("answered");
    assert_near("φVn,max", 0.75 * 0.8 * got.pier_cap_kn / KIP, 315.5, 3e-3);
    // The book's steel, sized for φVn = 240 kip by the older formulas, is enough by the newer one.
    assert!(0.75 * got.strength_kn / KIP > 240.0);
}
