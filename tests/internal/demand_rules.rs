//! Demand rules against closed forms worked out apart from the code (DERIVED).

use sisterframe_core::hazard::{
    DriftLimit, GroundMotion, GroundType, Hazard, ImportanceClass, LateralDesign, LateralForces, LateralSystem,
    MassShare, PDelta, PDeltaVerdict, SpectrumShape,
};
use sisterframe_core::material::GRAVITY_M_S2;
use sisterframe_core::rules;
use sisterframe_tests::approx::{assert_all_near, assert_near};

fn two_ordinates(short_g: f64, one_second_g: f64, rock_one_second_g: f64, long_period_s: f64) -> GroundMotion {
    let hazard = Hazard::TwoOrdinates { short_g, one_second_g, rock_one_second_g, long_period_s };
    GroundMotion { hazard, damping: 0.05, importance: 1.0 }
}

fn design(motion: GroundMotion, weights: &[f64], heights: &[f64], reduction: f64) -> LateralDesign {
    LateralDesign {
        motion,
        weights_kn: weights.to_vec(),
        heights_m: heights.to_vec(),
        system: LateralSystem::ConcreteFrame,
        analysed_period_s: None,
        reduction,
        importance: 1.0,
        short_and_regular: false,
        soft_site_without_study: false,
    }
}

fn american(design: &LateralDesign) -> LateralForces {
    rules::american().lateral_forces(design).expect("answered")
}

/// ASCE 7-16 12.8, plateau: three-storey frame, period by analysis below C_u·T_a. 1e-6.
#[test]
fn static_design_on_the_plateau() {
    let mut asked = design(two_ordinates(1.0, 0.6, 0.6, 8.0), &[2400.0, 2400.0, 1800.0], &[3.5, 6.8, 10.1], 8.0);
    asked.analysed_period_s = Some(0.45);
    let got = american(&asked);
    assert_near("Ta", got.formula_period_s, 0.373_486_710_4, 1e-6);
    assert_near("Cu Ta", got.longest_period_s, 0.522_881_394_5, 1e-6);
    assert_near("T", got.period_s, 0.45, 1e-12);
    let terms: Vec<f64> = got.terms.iter().map(|(_, value)| *value).collect();
    assert_all_near("terms", &terms, &[0.125, 0.166_666_666_7, 0.044, 0.0375], 1e-6);
    assert_eq!(got.governs, "12.8-2");
    assert_near("V", got.base_shear_kn, 825.0, 1e-6);
    assert_near("k", got.exponent, 1.0, 1e-12);
    assert_all_near("F", &got.forces_kn, &[161.538_461_5, 313.846_153_8, 349.615_384_6], 1e-6);
    assert_all_near("Vx", &got.shears_kn, &[825.0, 663.461_538_5, 349.615_384_6], 1e-6);
    assert_all_near("M", &got.overturning_knm, &[6_230.653_846, 3_343.153_846, 1_153.730_769], 1e-6);
}

/// ASCE 7-16 12.8-5: low seismicity, the least coefficient governs; analysis period cut. 1e-6.
#[test]
fn static_design_at_the_least_coefficient() {
    let mut asked = design(two_ordinates(0.2, 0.01, 0.015, 4.0), &[1500.0, 1200.0], &[3.2, 6.4], 3.0);
    asked.analysed_period_s = Some(0.9);
    let got = american(&asked);
    assert_near("T", got.period_s, 0.421_111_221_8, 1e-6);
    assert_eq!(got.governs, "12.8-5");
    assert_near("Cs", got.coefficient, 0.01, 1e-12);
    assert_all_near("F", &got.forces_kn, &[10.384_615_38, 16.615_384_62], 1e-6);
    assert_all_near("M", &got.overturning_knm, &[139.569_230_8, 53.169_230_77], 1e-6);
}

/// ASCE 7-16 12.8-4 with an artificially short T_L: five storeys, walls. 1e-6.
#[test]
fn static_design_beyond_the_long_period() {
    let mut asked = design(two_ordinates(0.5, 0.3, 0.2, 0.4), &[2500.0; 5], &[3.0, 6.0, 9.0, 12.0, 15.0], 5.0);
    asked.system = LateralSystem::ConcreteWall;
    asked.analysed_period_s = Some(0.55);
    let got = american(&asked);
    assert_near("Ta", got.formula_period_s, 0.371_953_171_6, 1e-6);
    assert_near("T", got.period_s, 0.520_734_440_3, 1e-6);
    assert_eq!(got.governs, "12.8-4");
    assert_near("Cs", got.coefficient, 0.088_507_207_35, 1e-6);
    assert_near("k", got.exponent, 1.010_367_22, 1e-6);
    let forces = [72.829_528, 146.709_533_2, 220.991_297_2, 295.535_172_6, 370.274_560_9];
    assert_all_near("F", &got.forces_kn, &forces, 1e-6);
    assert_near("M at the base", got.overturning_knm[0], 12_188.207_94, 1e-6);
}

/// ASCE 7-16 12.8-3: six storeys, importance 1.25; inputs of a published example
/// (engineeringexamples.net, 2017, SEEN), outputs worked out apart. 1e-6.
#[test]
fn static_design_on_the_falling_branch() {
    let heights: Vec<f64> = (1..=6).map(|i| 3.6576 * f64::from(i)).collect();
    let mut asked = design(two_ordinates(1.0, 0.4, 0.6, 8.0), &[7_117.154_584; 6], &heights, 8.0);
    asked.importance = 1.25;
    let got = american(&asked);
    assert_near("T", got.period_s, 0.750_928_573_4, 1e-6);
    let terms: Vec<f64> = got.terms.iter().map(|(_, value)| *value).collect();
    assert_all_near("terms", &terms, &[0.156_25, 0.083_230_286_09, 0.055, 0.046_875], 1e-6);
    assert_eq!(got.governs, "12.8-3");
    assert_near("V", got.base_shear_kn, 3_554.176_873, 1e-6);
    let forces = [142.074_935_6, 309.967_369, 489.215_716_1, 676.261_224_3, 869.327_153_6, 1_067.330_475];
    assert_all_near("F", &got.forces_kn, &forces, 1e-6);
}

/// The remaining branches of 12.8: floor near faults, short regular buildings, soft sites.
#[test]
fn static_design_in_special_cases() {
    // 12.8-6: S1 = 0.8 g, long period: 0.5·0.8/8 = 0.05 over 0.4/(2·8) and 0.044.
    let mut asked = design(two_ordinates(1.0, 0.4, 0.8, 8.0), &[1000.0; 10], &[4.0; 10], 8.0);
    asked.heights_m = (1..=10).map(|i| 4.0 * f64::from(i)).collect();
    asked.analysed_period_s = Some(5.0);
    let got = american(&asked);
    assert_eq!(got.governs, "12.8-6");
    assert_near("Cs", got.coefficient, 0.05, 1e-12);
    // 12.8.1.3: S_DS 1.2 counts as 1.0; S_DS 1.6 counts as 0.7·1.6 = 1.12.
    for (short, counted) in [(0.9, 0.9), (1.2, 1.0), (1.6, 1.12)] {
        let mut asked = design(two_ordinates(short, 2.0, 0.4, 8.0), &[1000.0; 2], &[3.0, 6.0], 5.0);
        asked.short_and_regular = true;
        assert_near("short and regular", american(&asked).coefficient, counted / 5.0, 1e-12);
    }
    // 11.4.8: T_s = 0.5; plateau to 0.75 s, then 1.5 times the falling branch, which meets it there.
    for (period, expected) in [(0.6, 0.2), (0.75, 0.2), (1.0, 0.15)] {
        let mut asked = design(two_ordinates(1.0, 0.5, 0.4, 8.0), &[1000.0; 4], &[5.0, 10.0, 15.0, 20.0], 5.0);
        asked.analysed_period_s = Some(period);
        asked.heights_m = vec![10.0, 20.0, 30.0, 40.0];
        asked.soft_site_without_study = true;
        assert_near("soft site", american(&asked).coefficient, expected, 1e-12);
    }
}

/// ASCE 41-17 general spectrum, 5 %: 0.4·S_XS at zero, straight to 0.2·T_S, S_XS, S_X1/T,
/// S_X1·T_L/T². Damping of 20 % lowers the plateau by (5.6 − ln 5)/(5.6 − ln 20).
#[test]
fn general_spectrum() {
    let set = rules::american();
    let motion = two_ordinates(0.9, 0.45, 0.3, 4.0);
    let at = |motion: &GroundMotion, t: f64| set.spectral_acceleration_g(motion, t).expect("answered");
    for (period, expected) in
        [(0.0, 0.36), (0.05, 0.63), (0.1, 0.9), (0.5, 0.9), (1.0, 0.45), (4.0, 0.1125), (8.0, 0.028_125)]
    {
        assert_near("Sa", at(&motion, period), expected, 1e-12);
    }
    let damped = GroundMotion { damping: 0.2, ..motion.clone() };
    assert_near("20 %", at(&damped, 0.3), 0.9 * 2.604_267_726 / 3.990_562_088, 1e-9);
    assert_near("zero period is not damped", at(&damped, 0.0), 0.36, 1e-12);
    let important = GroundMotion { importance: 1.25, ..motion };
    assert_near("importance", at(&important, 1.0), 0.5625, 1e-12);
    let table = GroundMotion {
        hazard: Hazard::Table(vec![[0.0, 0.4], [0.2, 1.0], [0.5, 1.0], [2.0, 0.25]]),
        damping: 0.05,
        importance: 1.0,
    };
    for (period, expected) in [(0.0, 0.4), (0.1, 0.7), (0.3, 1.0), (1.25, 0.625), (3.0, 0.25)] {
        assert_near("table", at(&table, period), expected, 1e-12);
        let european = rules::european().spectral_acceleration_g(&table, period).expect("answered");
        assert_near("table, European", european, expected, 1e-12);
    }
}

fn ground(rock_m_s2: f64, ground: GroundType, shape: SpectrumShape) -> GroundMotion {
    let hazard = Hazard::GroundAcceleration { rock_g: rock_m_s2 / GRAVITY_M_S2, ground, shape };
    GroundMotion { hazard, damping: 0.05, importance: 1.0 }
}

fn european(design: &LateralDesign) -> LateralForces {
    rules::european().lateral_forces(design).expect("answered")
}

/// EN 1998-1 3.2.2.2 and 3.2.2.5, written out apart from the code. 1e-6.
#[test]
fn european_spectra() {
    let rows = include_str!("../references/european_spectra.csv").lines().filter(|line| !line.starts_with('#')).skip(1);
    let mut count = 0;
    for row in rows {
        let cells: Vec<&str> = row.split(';').collect();
        let kind = match cells[0] {
            "A" => GroundType::A,
            "B" => GroundType::B,
            "C" => GroundType::C,
            "D" => GroundType::D,
            "E" => GroundType::E,
            other => panic!("ground {other}"),
        };
        let shape = if cells[1] == "1" { SpectrumShape::Type1 } else { SpectrumShape::Type2 };
        let [period, elastic, reduced] = [2, 3, 4].map(|at: usize| cells[at].parse::<f64>().expect("a number"));
        let motion = ground(2.0, kind, shape);
        let got = rules::european().spectral_acceleration_g(&motion, period).expect("answered");
        assert_near(row, got * GRAVITY_M_S2, elastic, 1e-6);
        let mut asked = design(motion, &[100.0, 100.0], &[3.0, 6.0], 3.0);
        asked.analysed_period_s = Some(period);
        assert_near(row, european(&asked).terms[0].1 * GRAVITY_M_S2, reduced, 1e-6);
        count += 1;
    }
    assert_eq!(count, 9 * 18);
}

/// EN 1998-1 Eq. 3.6: η of 2 … 30 % damping. 1e-6.
#[test]
fn european_damping() {
    let expected = [
        (2.0, 1.195_228_609),
        (3.0, 1.118_033_989),
        (5.0, 1.0),
        (7.0, 0.912_870_929_2),
        (10.0, 0.816_496_580_9),
        (15.0, core::f64::consts::FRAC_1_SQRT_2),
        (20.0, 0.632_455_532),
        (28.06, 0.55),
        (30.0, 0.55),
    ];
    for (percent, eta) in expected {
        let motion = GroundMotion { damping: percent / 100.0, ..ground(2.0, GroundType::A, SpectrumShape::Type1) };
        let got = rules::european().spectral_acceleration_g(&motion, 0.3).expect("answered");
        assert_near("η", got * GRAVITY_M_S2 / 5.0, eta, 1e-6);
    }
}

/// EN 1998-1 4.3.3.2: three buildings worked out apart. 1e-6.
#[test]
fn european_lateral_forces() {
    let weights = |masses: &[f64]| masses.iter().map(|m| m * GRAVITY_M_S2).collect::<Vec<_>>();
    let school = design(
        ground(2.4525, GroundType::C, SpectrumShape::Type1),
        &weights(&[310.0, 300.0, 300.0, 240.0]),
        &[3.6, 7.0, 10.4, 13.8],
        3.0,
    );
    let got = european(&school);
    assert_near("T1", got.period_s, 0.536_995_415_7, 1e-6);
    assert!(got.applicable);
    assert_near("Sd", got.terms[0].1 * GRAVITY_M_S2, 2.350_312_5, 1e-9);
    assert_near("λ", got.terms[1].1, 0.85, 1e-12);
    assert_all_near("Vi", &got.shears_kn, &[2_297.430_469, 2_031.682_915, 1_531.620_312, 788.670_160_9], 1e-6);
    assert_near("Fb", got.base_shear_kn, 2_297.430_469, 1e-6);
    assert_all_near("Fi", &got.forces_kn, &[265.747_554_2, 500.062_602, 742.950_151_6, 788.670_160_9], 1e-6);
    let two_storeys =
        design(ground(1.6, GroundType::B, SpectrumShape::Type1), &weights(&[200.0, 160.0]), &[3.2, 6.2], 1.5);
    let got = european(&two_storeys);
    assert_near("T1 of two storeys", got.period_s, 0.294_682_964_7, 1e-6);
    assert_near("Fb of two storeys", got.base_shear_kn, 1152.0, 1e-6);
    assert_all_near("Fi of two storeys", &got.forces_kn, &[451.764_705_9, 700.235_294_1], 1e-6);
    let mut flexible = design(
        ground(0.8, GroundType::A, SpectrumShape::Type2),
        &weights(&[150.0, 150.0, 120.0]),
        &[3.0, 6.0, 9.0],
        1.5,
    );
    flexible.analysed_period_s = Some(0.55);
    let got = european(&flexible);
    assert_near("limit of T1", got.longest_period_s, 1.0, 1e-12);
    assert_near("Fb beyond 2 TC", got.base_shear_kn, 254.545_454_5, 1e-6);
    assert_all_near("Fi beyond 2 TC", &got.forces_kn, &[47.138_047_14, 94.276_094_28, 113.131_313_1], 1e-6);
    assert_all_near("Vi beyond 2 TC", &got.shears_kn, &[254.545_454_5, 207.407_407_4, 113.131_313_1], 1e-6);
    flexible.analysed_period_s = Some(1.2);
    assert!(!european(&flexible).applicable);
}

/// ASCE 7-16 12.8-16/17 and EN 1998-1 4.4.2.2 on one four-storey frame. 1e-6.
#[test]
fn second_order_effects() {
    // Vertical load, shear, height, drift of each storey; θ American; θ European with q = 3.
    let rows = [
        (12_000.0, 1300.0, 4.0, 0.030_952_381, 0.071_428_571, 0.214_285_71, PDeltaVerdict::SecondOrder),
        (8800.0, 1150.0, 3.4, 0.028_75, 0.064_705_882, 0.194_117_65, PDeltaVerdict::Amplify),
        (5700.0, 870.0, 3.4, 0.024_166_667, 0.046_568_627, 0.139_705_88, PDeltaVerdict::Amplify),
        (2600.0, 460.0, 3.4, 0.015_333_333, 0.025_490_196, 0.076_470_588, PDeltaVerdict::Neglect),
    ];
    for (vertical_kn, shear_kn, height_m, drift_m, american, european, verdict) in rows {
        let storey = PDelta { vertical_kn, drift_m, shear_kn, height_m, displacement_factor: 5.5, demand_ratio: 1.0 };
        let got = rules::american().p_delta(&storey).expect("answered");
        assert_near("θ", got.theta, american, 1e-6);
        assert_near("limit", got.limit, 0.090_909_09, 1e-6);
        let got = rules::european().p_delta(&PDelta { displacement_factor: 3.0, ..storey }).expect("answered");
        assert_near("θ, European", got.theta, european, 1e-6);
        assert_eq!(got.verdict, verdict);
    }
    let storey = PDelta {
        vertical_kn: 8800.0 * 1.6,
        drift_m: 0.028_75,
        shear_kn: 1150.0,
        height_m: 3.4,
        displacement_factor: 2.5,
        demand_ratio: 1.0,
    };
    let got = rules::american().p_delta(&storey).expect("answered");
    assert_near("θ", got.theta, 0.103_529_4, 1e-6);
    assert_near("factor", got.factor.expect("amplified"), 1.0 / (1.0 - 0.103_529_411_8), 1e-6);
    let heavy = rules::american().p_delta(&PDelta { vertical_kn: 40_000.0, ..storey }).expect("answered");
    assert_eq!((heavy.verdict, heavy.factor), (PDeltaVerdict::Unstable, None));
}

#[test]
fn torsion_mass_and_drift() {
    let set = rules::american();
    assert_near("no amplification", set.torsion_amplification(0.012, 0.010).expect("answered"), 1.0, 1e-12);
    assert_near("Ax", set.torsion_amplification(0.018, 0.010).expect("answered"), 2.25, 1e-12);
    assert_near("Ax at most 3", set.torsion_amplification(0.05, 0.010).expect("answered"), 3.0, 1e-12);
    assert_near("no drift", set.torsion_amplification(0.0, 0.0).expect("answered"), 1.0, 1e-12);
    for set in rules::all() {
        assert_near("eccentricity", set.accidental_eccentricity().expect("answered"), 0.05, 1e-12);
    }
    let share = |storeys, system, period_s| {
        set.mass_share(&MassShare { storeys, system, period_s, corner_period_s: 0.5 }).expect("answered")
    };
    assert_near("two storeys", share(2, LateralSystem::ConcreteWall, 0.3), 1.0, 1e-12);
    assert_near("frame", share(3, LateralSystem::ConcreteFrame, 0.6), 0.9, 1e-12);
    assert_near("wall", share(3, LateralSystem::ConcreteWall, 0.6), 0.8, 1e-12);
    assert_near("long period", share(6, LateralSystem::ConcreteFrame, 1.1), 1.0, 1e-12);
    let limit = |storeys, importance, tolerant_partitions| {
        set.drift_limit(&DriftLimit { storeys, importance, tolerant_partitions }).expect("answered")
    };
    assert_near("low", limit(4, ImportanceClass::Ordinary, true), 0.025, 1e-12);
    assert_near("hospital", limit(3, ImportanceClass::Essential, false), 0.010, 1e-12);
}

/// Both sets read either form of the ground motion: the same plateau and branches beyond it, whatever it is given by
/// (DERIVED: 2.5·a_g·S to T_C, then T_C/T, then T_C·T_D/T²; EN 1998-1 Table 3.2, ground C: S 1.15, T_C 0.6, T_D 2.0).
#[test]
fn either_form_of_the_ground_motion() {
    let motion = |hazard| GroundMotion { hazard, damping: 0.05, importance: 1.2 };
    let by_ground =
        motion(Hazard::GroundAcceleration { rock_g: 0.25, ground: GroundType::C, shape: SpectrumShape::Type1 });
    let plateau = 1.2 * 2.5 * 1.15 * 0.25;
    let by_two = motion(Hazard::TwoOrdinates {
        short_g: 0.718_75,
        one_second_g: 0.6 * 0.718_75,
        rock_one_second_g: 0.0,
        long_period_s: 2.0,
    });
    for set in rules::all() {
        let at = |motion: &GroundMotion, period| set.spectral_acceleration_g(motion, period).expect("answered");
        for (period, part) in [(0.3, 1.0), (0.6, 1.0), (1.0, 0.6), (1.5, 0.4), (3.0, 0.6 * 2.0 / 9.0)] {
            assert_near(set.title(), at(&by_ground, period), part * plateau, 1e-9);
            assert_near(set.title(), at(&by_two, period), part * plateau, 1e-9);
        }
        assert_near("at rest", at(&by_two, 0.0), 0.4 * plateau, 1e-9);
    }
}
