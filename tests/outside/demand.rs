//! Lateral forces against published sheets and tables.

use sisterframe_core::hazard::{GroundMotion, Hazard, LateralDesign, LateralForces, LateralSystem};
use sisterframe_core::rules;
use sisterframe_tests::approx::assert_near;

const FOOT: f64 = 0.3048;
const KIP: f64 = 4.448_222;

fn term(forces: &LateralForces, name: &str) -> f64 {
    forces.terms.iter().find(|(own, _)| *own == name).map(|(_, value)| *value).expect("a term of that name")
}

fn single(height_m: f64, weight_kn: f64, [short_g, one_second_g]: [f64; 2], reduction: f64, tl: f64) -> LateralDesign {
    LateralDesign {
        motion: GroundMotion {
            hazard: Hazard::TwoOrdinates { short_g, one_second_g, rock_one_second_g: 0.0, long_period_s: tl },
            damping: 0.05,
            importance: 1.0,
        },
        weights_kn: vec![weight_kn],
        heights_m: vec![height_m],
        system: LateralSystem::Other,
        analysed_period_s: None,
        reduction,
        importance: 1.0,
        short_and_regular: false,
        soft_site_without_study: false,
    }
}

/// Source: N. Taly, Design of Reinforced Masonry Structures, 2nd ed., p. 7.57 (SEEN): 20 ft, Ta
/// 0.19 s, upper bound 0.326 (from 0.19 s), C_s 0.10. 7e-3: 0.0488 in metres stands for 0.02 in feet.
#[test]
fn period_and_coefficient_of_a_textbook() {
    let got = rules::american().lateral_forces(&single(20.0 * FOOT, 100.0, [0.5, 0.31], 5.0, 8.0)).expect("answered");
    assert_near("Ta", got.formula_period_s, 0.19, 7e-3);
    assert_near("12.8-3", term(&got, "12.8-3"), 0.326, 7e-3);
    assert_near("Cs", got.coefficient, 0.10, 1e-12);
    assert_eq!(got.governs, "12.8-2");
}

/// Source: City of Everett, Washington, public permit calculation 2021–2022 (SEEN): 24 ft, S_DS
/// 1.20, S_D1 0.60: Ta 0.22, C_s 0.18 (12.8-2), 0.43 (12.8-3), 0.05 (12.8-5). R = 6.5 is inferred.
/// Printed to two decimals: half of the last place.
#[test]
fn coefficients_of_a_permit_sheet() {
    let got = rules::american().lateral_forces(&single(24.0 * FOOT, 100.0, [1.2, 0.6], 6.5, 6.0)).expect("answered");
    for (value, printed) in [
        (got.formula_period_s, 0.22),
        (term(&got, "12.8-2"), 0.18),
        (term(&got, "12.8-3"), 0.43),
        (term(&got, "12.8-5"), 0.05),
    ] {
        assert!((value - printed).abs() <= 0.005, "{value} against {printed}");
    }
}

/// Source: FEMA 451 (2006) 3.1 / FEMA P-751 (2012) 4.1, twelve-storey building (MEMORY: recalled,
/// the twelve products w·h^k reproduce to 1e-4): T = 2.23 s, k = 1.865, V = 1124.5 kip. Printed to
/// 0.1 kip: 0.06 kip.
#[test]
fn forces_of_a_twelve_storey_building() {
    // Weight kip, height ft, force kip, from the second floor to the roof.
    let rows = [
        (3097.0, 18.0, 6.3),
        (3066.1, 30.5, 16.6),
        (3066.1, 43.0, 31.5),
        (4323.8, 55.5, 71.4),
        (2330.8, 68.0, 56.2),
        (2330.8, 80.5, 77.0),
        (2330.8, 93.0, 100.8),
        (3403.0, 105.5, 186.3),
        (1595.8, 118.0, 107.6),
        (1595.8, 130.5, 129.9),
        (1595.8, 143.0, 154.0),
        (1656.5, 155.5, 186.9),
    ];
    let weights: Vec<f64> = rows.iter().map(|row| row.0 * KIP).collect();
    let heights: Vec<f64> = rows.iter().map(|row| row.1 * FOOT).collect();
    let shares = rules::american().force_shares(&weights, &heights, 2.23).expect("answered");
    for (share, (_, _, printed)) in shares.iter().zip(rows) {
        let force = share * 1124.5;
        assert!((force - printed).abs() <= 0.06, "{force} against {printed}");
    }
}

/// Source: student report on a four-storey concrete building, storey shear table (SEEN, public
/// upload): forces by weight times height, kgf. Both sets give it: k = 1 for short periods, and EN
/// 1998-1 Eq. 4.11. 1e-7: printed to eight figures.
#[test]
fn forces_by_weight_times_height() {
    let weights = [246_325.237, 221_038.616, 221_038.616, 191_738.222];
    let heights = [2.975, 5.575, 8.175, 10.775];
    let printed = [11_600.251, 19_506.733, 28_604.044, 32_703.745];
    for set in rules::all() {
        let shares = set.force_shares(&weights, &heights, 0.4).expect("answered");
        for (share, printed) in shares.iter().zip(printed) {
            assert_near(set.title(), share * 92_414.773, printed, 1e-7);
        }
    }
}
