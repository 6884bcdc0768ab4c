//! Plane frames against direct-stiffness solutions on centre lines.
//!
//! DERIVED: a separate program with three movements per joint, gross sections, no shear
//! deformation. "Rigid" rows hold every floor together and keep columns from shortening.
//! "Axial" rows let columns *and beams* change length, with the load on the left column line and
//! the displacement read there. A floor here never changes length, so our displacement must lie
//! between the two rows.

use sisterframe_core::frame_line::{Base, FrameLine};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{RegularFrame, bending, centre_line_beam, centre_line_column, displacements};

struct Case {
    name: &'static str,
    frame: RegularFrame<'static>,
    force_kn: &'static [f64],
    rigid_m: &'static [f64],
    axial_m: &'static [f64],
    column_shear_kn: &'static [&'static [f64]],
    moment_bottom_kn_m: &'static [&'static [f64]],
    moment_top_kn_m: &'static [&'static [f64]],
    /// Anticlockwise couples on the left and right end of each beam.
    beam_couples_kn_m: &'static [&'static [(f64, f64)]],
}

const TOLERANCE: f64 = 1e-6;

fn cases() -> Vec<Case> {
    vec![
        Case {
            name: "one storey, one bay, fixed",
            frame: RegularFrame {
                heights_m: &[3.5],
                spans_m: &[6.0],
                columns_m: &[(0.4, 0.4)],
                beams_m: &[(0.3, 0.5)],
                modulus_kn_m2: 25e6,
                base: Base::FIXED,
                shortens: false,
            },
            force_kn: &[100.0],
            rigid_m: &[0.004989711383],
            axial_m: &[0.005039897258],
            column_shear_kn: &[&[50.0, 50.0]],
            moment_bottom_kn_m: &[&[101.7811603, 101.7811603]],
            moment_top_kn_m: &[&[73.21883966, 73.21883966]],
            beam_couples_kn_m: &[&[(-73.21883966, -73.21883966)]],
        },
        Case {
            name: "one storey, one bay, pinned",
            frame: RegularFrame {
                heights_m: &[3.5],
                spans_m: &[6.0],
                columns_m: &[(0.4, 0.4)],
                beams_m: &[(0.3, 0.5)],
                modulus_kn_m2: 25e6,
                base: Base::PINNED,
                shortens: false,
            },
            force_kn: &[100.0],
            rigid_m: &[0.021238437],
            axial_m: &[0.02133794282],
            column_shear_kn: &[&[50.0, 50.0]],
            moment_bottom_kn_m: &[&[0.0, 0.0]],
            moment_top_kn_m: &[&[175.0, 175.0]],
            beam_couples_kn_m: &[&[(-175.0, -175.0)]],
        },
        Case {
            name: "two storeys, one bay, pinned",
            frame: RegularFrame {
                heights_m: &[4.0, 3.2],
                spans_m: &[7.0],
                columns_m: &[(0.45, 0.45), (0.4, 0.4)],
                beams_m: &[(0.3, 0.6), (0.3, 0.6)],
                modulus_kn_m2: 27e6,
                base: Base::PINNED,
                shortens: false,
            },
            force_kn: &[60.0, 90.0],
            rigid_m: &[0.0281745236, 0.03599235625],
            axial_m: &[0.02830505081, 0.03622871288],
            column_shear_kn: &[&[75.0, 75.0], &[45.0, 45.0]],
            moment_bottom_kn_m: &[&[0.0, 0.0], &[38.45367412, 38.45367412]],
            moment_top_kn_m: &[&[300.0, 300.0], &[105.5463259, 105.5463259]],
            beam_couples_kn_m: &[&[(-338.4536741, -338.4536741)], &[(-105.5463259, -105.5463259)]],
        },
        Case {
            name: "three storeys, two bays, weak beams",
            frame: RegularFrame {
                heights_m: &[3.3, 3.3, 3.3],
                spans_m: &[5.0, 5.0],
                columns_m: &[(0.4, 0.4), (0.4, 0.4), (0.4, 0.4)],
                beams_m: &[(0.25, 0.4), (0.25, 0.4), (0.25, 0.4)],
                modulus_kn_m2: 24e6,
                base: Base::FIXED,
                shortens: false,
            },
            force_kn: &[40.0, 80.0, 120.0],
            rigid_m: &[0.01067986623, 0.02590004046, 0.03655779504],
            axial_m: &[0.01075594997, 0.02611765139, 0.03694735214],
            column_shear_kn: &[
                &[72.26308026, 95.47383948, 72.26308026],
                &[53.94231978, 92.11536044, 53.94231978],
                &[29.29402563, 61.41194874, 29.29402563],
            ],
            moment_bottom_kn_m: &[
                &[179.9134748, 205.44531, 179.9134748],
                &[81.0949241, 148.617104, 81.0949241],
                &[26.9006185, 78.68884349, 26.9006185],
            ],
            moment_top_kn_m: &[
                &[58.55469005, 109.6183603, 58.55469005],
                &[96.91473118, 155.3635855, 96.91473118],
                &[69.76966608, 123.9705873, 69.76966608],
            ],
            beam_couples_kn_m: &[
                &[(-139.6496141, -129.1177321), (-129.1177321, -139.6496141)],
                &[(-123.8153497, -117.0262145), (-117.0262145, -123.8153497)],
                &[(-69.76966608, -61.98529367), (-61.98529367, -69.76966608)],
            ],
        },
        Case {
            name: "five storeys, four bays, deep beams",
            frame: RegularFrame {
                heights_m: &[3.6, 3.6, 3.6, 3.6, 3.6],
                spans_m: &[4.5, 4.5, 4.5, 4.5],
                columns_m: &[(0.5, 0.5); 5],
                beams_m: &[(0.3, 1.0); 5],
                modulus_kn_m2: 28e6,
                base: Base::FIXED,
                shortens: false,
            },
            force_kn: &[50.0, 100.0, 150.0, 200.0, 250.0],
            rigid_m: &[0.004693374844, 0.009754556048, 0.01410116912, 0.01735517013, 0.01916081534],
            axial_m: &[0.004783119261, 0.01004913401, 0.01466116758, 0.01821371569, 0.02033888991],
            column_shear_kn: &[
                &[137.1644509, 160.3810957, 154.9089067, 160.3810957, 137.1644509],
                &[116.3655813, 158.9881898, 149.2924579, 158.9881898, 116.3655813],
                &[100.4002227, 135.6401412, 127.9192722, 135.6401412, 100.4002227],
                &[75.35776335, 101.6940468, 95.89637965, 101.6940468, 75.35776335],
                &[41.63749804, 56.7185563, 53.28789131, 56.7185563, 41.63749804],
            ],
            moment_bottom_kn_m: &[&[270.222418, 298.0823917, 291.5157649, 298.0823917, 270.222418]],
            moment_top_kn_m: &[&[223.5696053, 279.2895529, 266.1562993, 279.2895529, 223.5696053]],
            beam_couples_kn_m: &[&[
                (-430.4581022, -323.475803),
                (-241.7093507, -266.9251975),
                (-266.9251975, -241.7093507),
                (-323.475803, -430.4581022),
            ]],
        },
    ]
}

#[test]
fn rigid_floors_and_inextensible_columns() {
    for case in cases() {
        let condensed = case.frame.line().condense().expect(case.name);
        let u = displacements(condensed.stiffness(), case.force_kn);
        assert_all_near(case.name, &u, case.rigid_m, TOLERANCE);
        let forces = condensed.recover(&u);
        let lines = case.frame.spans_m.len() + 1;
        for (storey, expected) in case.column_shear_kn.iter().enumerate() {
            let shears: Vec<f64> = (0..lines).map(|line| forces.column(storey, line).shear_kn).collect();
            assert_all_near(case.name, &shears, expected, TOLERANCE);
        }
        for (storey, (bottom, top)) in case.moment_bottom_kn_m.iter().zip(case.moment_top_kn_m).enumerate() {
            // One list, so that a zero moment is judged against the other end's.
            let expected = [*bottom, *top].concat();
            let columns = (0..lines).map(|line| forces.column(storey, line));
            let mut moments: Vec<f64> = columns.clone().map(|column| column.moment_bottom_kn_m).collect();
            moments.extend(columns.map(|column| column.moment_top_kn_m));
            assert_all_near(case.name, &moments, &expected, TOLERANCE);
        }
        for (floor, expected) in case.beam_couples_kn_m.iter().enumerate() {
            for (bay, &(left, right)) in expected.iter().enumerate() {
                let beam = forces.beam(floor, bay);
                assert_near(case.name, -beam.sagging_left_kn_m, left, TOLERANCE);
                assert_near(case.name, beam.sagging_right_kn_m, right, TOLERANCE);
            }
        }
    }
}

#[test]
fn column_shortening_lies_between_the_rigid_and_the_axial_rows() {
    for mut case in cases() {
        case.frame.shortens = true;
        let condensed = case.frame.line().condense().expect(case.name);
        let u = displacements(condensed.stiffness(), case.force_kn);
        for ((u, rigid), axial) in u.iter().zip(case.rigid_m).zip(case.axial_m) {
            assert!(rigid < u && u < axial, "{}: {rigid} < {u} < {axial}", case.name);
        }
        // Beam shortening is the small part: what the floors leave out is under 1 % of the roof.
        let (roof, axial) = (u[u.len() - 1], case.axial_m[u.len() - 1]);
        assert!(axial / roof - 1.0 < 0.01, "{}: {roof} against {axial}", case.name);
    }
}

/// Portal closed forms with ρ = (I_b/L)/(2·I_c/h): fixed 24EI_c/h³·(12ρ+1)/(12ρ+4), pinned
/// 6EI_c/h³·4ρ/(1+4ρ).
///
/// Fixed: Chopra, *Dynamics of Structures*, ch. 1 (MEMORY); pinned: DERIVED by slope-deflection.
#[test]
fn single_portal_closed_forms() {
    let (modulus, height, span) = (25e6, 3.5, 6.0);
    let (column, beam) = (bending(1.0, 0.4, 0.4), bending(1.0, 0.3, 0.5));
    let rho = (beam / span) / (2.0 * column / height);
    let unit = modulus * column / (height * height * height);
    let fixed = 24.0 * unit * (12.0 * rho + 1.0) / (12.0 * rho + 4.0);
    let pinned = 6.0 * unit * 4.0 * rho / (1.0 + 4.0 * rho);
    assert_near("fixed portal", fixed, 20041.23933, 1e-9);
    assert_near("pinned portal", pinned, 4708.444301, 1e-9);
    for (base, expected) in [(Base::FIXED, fixed), (Base::PINNED, pinned)] {
        let frame = RegularFrame {
            heights_m: &[height],
            spans_m: &[span],
            columns_m: &[(0.4, 0.4)],
            beams_m: &[(0.3, 0.5)],
            modulus_kn_m2: modulus,
            base,
            shortens: false,
        };
        let stiffness = frame.line().condense().expect("a sound portal").stiffness().at(0, 0);
        assert_near("portal stiffness", stiffness, expected, TOLERANCE);
    }
}

/// Storey stiffness of the one-bay frame used to show Wilbur's formulas.
///
/// Inputs: "Fórmulas de Wilbur", h 3.5/2.8/2.8/2.8 m, span 5.60 m, E = 202 879.274 kg/cm²
/// (SEEN); storey stiffnesses under 10, 20, 30, 40 kN: DERIVED by direct stiffness.
#[test]
fn four_storey_frame_of_the_wilbur_sheet() {
    let frame = RegularFrame {
        heights_m: &[3.5, 2.8, 2.8, 2.8],
        spans_m: &[5.6],
        columns_m: &[(0.3, 0.5), (0.3, 0.6), (0.3, 0.5), (0.3, 0.45)],
        beams_m: &[(0.3, 0.45), (0.3, 0.5), (0.3, 0.5), (0.3, 0.5)],
        modulus_kn_m2: 19895660.32,
        base: Base::FIXED,
        shortens: false,
    };
    let condensed = frame.line().condense().expect("a sound frame");
    let u = displacements(condensed.stiffness(), &[10.0, 20.0, 30.0, 40.0]);
    let shears = condensed.storey_shears_kn(&u);
    let storey: Vec<f64> =
        (0..4).map(|s| shears[s] / (u[s] - s.checked_sub(1).map_or(0.0, |below| u[below]))).collect();
    assert_all_near("storey stiffness", &storey, &[15419.09369, 14877.18674, 13782.18916, 12270.25889], TOLERANCE);
}

/// Inflection height y₀ and stiffness factor a of the regular frame whose joints of a floor rotate
/// equally, K̄ = 2k_b/k_c, fixed feet.
///
/// DERIVED by slope-deflection. Rounded to the nearest 0.05 the heights are those of the tables
/// that go with the D-value method (MEMORY).
#[test]
fn regular_frame_with_many_equal_bays() {
    // (K̄, y₀ from the lowest storey up)
    let uniform: [(f64, &[f64]); 5] = [
        (0.5, &[0.625]),
        (0.5, &[0.6710526316, 0.3684210526]),
        (0.5, &[0.6978021978, 0.4368131868, 0.2747252747]),
        (0.5, &[0.7135894495, 0.4724770642, 0.3663990826, 0.246559633]),
        (0.5, &[0.7235040689, 0.4925203447, 0.4109621829, 0.3471756821, 0.2388702729]),
    ];
    let triangular: [(f64, &[f64]); 4] = [
        (0.1, &[1.204563582, 0.6970019244, 0.366315601, 0.07348165451]),
        (1.0, &[0.634760927, 0.4925849875, 0.4455014038, 0.3787034321]),
        (5.0, &[0.5305163601, 0.4955635137, 0.4881611914, 0.4720088152]),
        (0.1, &[1.250455861, 0.7507814758, 0.4476339838, 0.2061377372, -0.04959695117]),
    ];
    let rows = uniform.iter().map(|row| (row, false)).chain(triangular.iter().map(|row| (row, true)));
    for (&(ratio, expected), grows) in rows {
        // End columns of half stiffness make every joint of a floor rotate alike in one bay.
        let floors = expected.len();
        let (column, height, span) = (1000.0, 3.0, 6.0);
        let mut end_column = centre_line_column(1.0, 1.0, 1.0, false);
        end_column.flexural_rigidity_kn_m2 = column / 2.0;
        let mut beam = centre_line_beam(1.0, 1.0, 1.0);
        beam.flexural_rigidity_kn_m2 = ratio * column / height * span / 2.0;
        let mut line = FrameLine::new(&[0.0, span], &vec![height; floors]);
        for storey in 0..floors {
            line.set_column(storey, 0, end_column);
            line.set_column(storey, 1, end_column);
            line.set_beam(storey, 0, beam);
        }
        let condensed = line.condense().expect("a sound frame");
        let force: Vec<f64> = (1..=floors).map(|floor| if grows { floor as f64 } else { 1.0 }).collect();
        let u = displacements(condensed.stiffness(), &force);
        let forces = condensed.recover(&u);
        let heights: Vec<f64> = (0..floors)
            .map(|storey| {
                let it = forces.column(storey, 0);
                it.moment_bottom_kn_m / (it.shear_kn * height)
            })
            .collect();
        assert_all_near("inflection heights", &heights, expected, 1e-6);
    }
}
