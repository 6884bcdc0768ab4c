//! Idealisation of capacity curves, displacement demand and capacity over demand (DERIVED from the
//! formulas named with each; the published four-storey example is in the outside group).

use sisterframe_core::hazard::{GroundMotion, GroundType, Hazard, SpectrumShape};
use sisterframe_core::performance::bilinear::{Line, advancing};
use sisterframe_core::performance::{
    Coefficients, Pushed, equivalent, first_factor, inelastic_displacement, largest_ratio, second_factor,
};
use sisterframe_core::rules;
use sisterframe_tests::approx::assert_near;

const CURVE: [[f64; 2]; 9] = [
    [0.0, 0.0],
    [0.01, 400.0],
    [0.02, 700.0],
    [0.03, 900.0],
    [0.045, 1080.0],
    [0.06, 1170.0],
    [0.09, 1250.0],
    [0.12, 1290.0],
    [0.16, 1300.0],
];

const AMERICAN: Coefficients =
    Coefficients { site: 60.0, first_periods_s: [0.2, 1.0], second: 800.0, second_period_s: 0.7 };

/// d_y = 2·(d_m − E_m/F_y) (EN 1998-1 Annex B.3, MEMORY).
#[test]
fn equal_energy() {
    for (at, force, area, yields) in [
        (0.16, 1300.0, 173.425, 0.05319230769),
        (0.12, 1290.0, 121.625, 0.05143410853),
        (0.06, 1170.0, 47.225, 0.03927350427),
    ] {
        let line = Line(&CURVE);
        assert_near("area", line.area_knm(at), area, 1e-9);
        let found = line.equal_energy(at);
        assert_near("force", found.yield_kn, force, 1e-9);
        assert_near("corner", found.yield_m, yields, 1e-6);
    }
}

/// Secant at 0.6·V_y, equal area (ASCE 41-17 7.4.3.2.4, MEMORY); a curve of two lines comes back.
#[test]
fn secant_at_part_of_yield() {
    for (at, force, yields, stiffness, hardening) in [
        (0.16, 1128.238095, 0.03205238095, 35199.82172, 0.03813767163),
        (0.12, 1055.627706, 0.02963203463, 35624.54346, 0.07280185743),
        (0.06, 845.2380952, 0.02261904762, 37368.42105, 0.2324930475),
    ] {
        let found = Line(&CURVE).secant(at, 0.6);
        assert_near("force", found.yield_kn, force, 1e-6);
        assert_near("corner", found.yield_m, yields, 1e-6);
        assert_near("stiffness", found.stiffness_kn_m(), stiffness, 1e-6);
        assert_near("hardening", found.hardening(), hardening, 1e-6);
    }
    // A curve that stiffens has no corner above the straight line to its end.
    let found = Line(&[[0.0, 0.0], [0.02, 200.0], [0.04, 1000.0]]).secant(0.04, 0.6);
    assert_eq!([found.yield_m, found.yield_kn, found.end_m, found.end_kn], [0.04, 1000.0, 0.04, 1000.0]);
    let found = Line(&[[0.0, 0.0], [0.02, 800.0], [0.10, 1000.0]]).secant(0.1, 0.6);
    assert_near("force", found.yield_kn, 800.0, 1e-9);
    assert_near("corner", found.yield_m, 0.02, 1e-9);
}

/// A path that goes back is left where it turns and taken up where it passes that displacement.
#[test]
fn a_path_that_turns_back() {
    let path = [[0.0, 0.0], [0.005, 250.0], [0.004, 110.0], [0.010, 230.0]];
    let line = advancing(path);
    assert_eq!(line, [[0.0, 0.0], [0.005, 250.0], [0.005, 130.0], [0.010, 230.0]]);
    assert_near("before", Line(&line).force_kn(0.0049), 245.0, 1e-9);
    assert_near("beyond", Line(&line).force_kn(0.0075), 180.0, 1e-9);
    assert_near("area", Line(&line).area_knm(0.010), 0.625 + 0.9, 1e-9);
}

/// Level beyond a corner given by force, end and area.
fn level(force: f64, end: f64, area: f64) -> Vec<[f64; 2]> {
    vec![[0.0, 0.0], [2.0 * (end - area / force), force], [end, force]]
}

fn pushed(curve: Vec<[f64; 2]>, masses: &[f64], shape: &[f64]) -> Pushed {
    Pushed {
        curve,
        masses_t: masses.to_vec(),
        shape: shape.to_vec(),
        period_s: 0.52,
        mass_share: 0.9,
        second_order: 0.0,
    }
}

fn european(rock: f64, ground: GroundType) -> GroundMotion {
    let hazard = Hazard::GroundAcceleration { rock_g: rock / 9.81, ground, shape: SpectrumShape::Type1 };
    GroundMotion { hazard, damping: 0.05, importance: 1.0 }
}

fn american(short_g: f64, one_second_g: f64) -> GroundMotion {
    let hazard = Hazard::TwoOrdinates { short_g, one_second_g, rock_one_second_g: 0.0, long_period_s: 8.0 };
    GroundMotion { hazard, damping: 0.05, importance: 1.0 }
}

/// Annex B on a long and on a stiff building (EN 1998-1, MEMORY).
#[test]
fn equivalent_mass_method() {
    let long = pushed(level(1900.0, 0.18, 257.5), &[310.0, 300.0, 300.0, 240.0], &[0.3, 0.6, 0.84, 1.0]);
    let found = rules::european().displacement_demand(&long, &european(2.45, GroundType::C)).expect("answered");
    assert_near("m*", found.factors[1].1, 765.0, 1e-9);
    assert_near("period", found.period_s, 1.189050602, 1e-6);
    assert_near("ratio", found.strength_ratio, 1.863189856, 1e-6);
    assert_near("roof", found.roof_m, 0.1657258345, 1e-6);
    let stiff = pushed(level(3600.0, 0.012, 31.2), &[220.0, 180.0], &[0.62, 1.0]);
    let found = rules::european().displacement_demand(&stiff, &european(2.0, GroundType::B)).expect("answered");
    assert_near("period", found.period_s, 0.1520901982, 1e-6);
    assert_near("roof", found.roof_m, 0.004204294464, 1e-6);
}

/// Short and yielding: d_e/q·(1 + (q − 1)·T_C/T), at most three times d_e.
#[test]
fn short_yielding_masses_move_further() {
    assert_near("short", inelastic_displacement(0.01, 2.0, 0.3, 0.6), 0.015, 1e-12);
    assert_near("held", inelastic_displacement(0.01, 2.0, 0.05, 0.6), 0.03, 1e-12);
    assert_near("long", inelastic_displacement(0.01, 2.0, 0.7, 0.6), 0.01, 1e-12);
}

/// ASCE 41-17 7.4.3.3 (MEMORY): one pass on the curve above, three storeys, site class D.
#[test]
fn coefficient_method_one_pass() {
    let line = Line(&CURVE).secant(0.12, 0.6);
    let period = 0.52 * (40_000.0 / line.stiffness_kn_m()).sqrt();
    assert_near("period", period, 0.5510089912, 1e-6);
    let masses = [120.0, 120.0, 100.0];
    let [_, roof] = equivalent(&masses, &[0.4, 0.75, 1.0]);
    assert_near("C0", roof, 1.274772362, 1e-6);
    for (acceleration, ratio, first, second, target) in [
        (0.6, 1.706203797, 1.038766932, 1.002053302, 0.06006472185),
        (1.0, 2.843672996, 1.1012081, 1.013994598, 0.107390118),
    ] {
        let found = acceleration * 0.9 * 3335.4 / line.yield_kn;
        assert_near("μ", found, ratio, 1e-6);
        let factors = [first_factor(&AMERICAN, found, period), second_factor(&AMERICAN, found, period)];
        assert_near("C1", factors[0], first, 1e-6);
        assert_near("C2", factors[1], second, 1e-6);
        let turn = period / (2.0 * std::f64::consts::PI);
        assert_near("target", roof * factors[0] * factors[1] * acceleration * 9.81 * turn * turn, target, 1e-6);
    }
}

/// C₁ and C₂ over sites and periods (Eq. 7-29, 7-30).
#[test]
fn factors_by_site_and_period() {
    for (site, period, ratio, first, second) in [
        (130.0, 0.7, 3.0, 1.031397174, 1.010204082),
        (90.0, 0.5, 5.0, 1.177777778, 1.08),
        (60.0, 0.1, 3.0, 1.833333333, 1.5),
        (60.0, 0.3, 3.0, 1.370370370, 1.055555556),
        (60.0, 0.8, 5.0, 1.104166667, 1.0),
        (60.0, 1.2, 5.0, 1.0, 1.0),
        (130.0, 0.1, 0.8, 1.0, 1.0),
    ] {
        let of = Coefficients { site, ..AMERICAN };
        assert_near("C1", first_factor(&of, ratio, period), first, 1e-6);
        assert_near("C2", second_factor(&of, ratio, period), second, 1e-6);
    }
    for (part, largest) in [(0.2, 8.053702906), (0.8, 6.228462184)] {
        let softening = -0.04 + part * (-0.12 + 0.04);
        assert_near("μ max", largest_ratio(0.12 / 0.03, softening, 0.8).expect("softens"), largest, 1e-6);
    }
    assert_eq!(largest_ratio(4.0, 0.0, 0.8), None);
}

/// A motion scaled by capacity over demand asks for just the limit, in either rule set, and any
/// larger one for more.
#[test]
fn the_scaled_motion_reaches_the_limit() {
    let building = pushed(CURVE.to_vec(), &[120.0, 120.0, 100.0], &[0.4, 0.75, 1.0]);
    for limit in [0.008, 0.025, 0.06, 0.12] {
        let scale = rules::american().capacity_scale(&building, &american(0.6, 0.35), limit).expect("answered").scale;
        let asked = |factor: f64| {
            let motion = american(0.6 * factor, 0.35 * factor);
            rules::american().displacement_demand(&building, &motion).expect("answered").roof_m
        };
        assert_near("american", asked(scale), limit, 2e-3);
        assert!(asked(1.1 * scale) > limit);
        let scale =
            rules::european().capacity_scale(&building, &european(2.0, GroundType::C), limit).expect("answered").scale;
        let motion = european(2.0 * scale, GroundType::C);
        let found = rules::european().displacement_demand(&building, &motion).expect("answered").roof_m;
        assert_near("european", found, limit, 2e-3);
    }
}

/// A falling curve limits the strength ratio; the verdict then says so.
#[test]
fn a_curve_that_falls_limits_the_ratio() {
    let mut building = pushed(
        vec![[0.0, 0.0], [0.02, 800.0], [0.05, 820.0], [0.06, 300.0], [0.3, 290.0]],
        &[120.0, 120.0, 100.0],
        &[0.4, 0.75, 1.0],
    );
    building.second_order = -0.02;
    let motion = american(1.5, 0.9);
    let far = rules::american().capacity_scale(&building, &motion, 0.29).expect("answered");
    assert!(far.by_strength, "{far:?}");
    let near = rules::american().capacity_scale(&building, &motion, 0.03).expect("answered");
    assert!(!near.by_strength && near.scale < far.scale, "{near:?} {far:?}");
}
