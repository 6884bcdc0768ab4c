//! Columns against their beams, their gravity load and the shear they are checked with.

use crate::pushover_models::ready_by;
use serde_json::json;
use sisterframe_core::evaluate::study;
use sisterframe_core::finding::Code;
use sisterframe_core::hinge::HingeStrength;
use sisterframe_core::line_mode::Hinge;
use sisterframe_core::project::{Knowledge, Project, RuleSet};
use sisterframe_core::rules::{self, ColumnAxial};
use sisterframe_core::study::{Failure, MemberResult, OptionResult};
use sisterframe_tests::approx::assert_near;

const KIP: f64 = 4.448_222;
const INCH: f64 = 25.4;
const KSI: f64 = 6.894_757;

/// Source: McCormac & Brown, Design of Reinforced Concrete, 9th ed., Ex. 10.2 (SEEN): P_0 1482 kip of a column 14 × 24 in
/// with six square inches of bars, f'c 4, f_y 60 ksi; 0.80 of it by ACI 318-19 22.4.2.1 (MEMORY). European: 400 mm
/// square, eight bars of 20 mm, C20, 400 MPa: 20/1.5·(160 000 − 2513) + 400/1.15·2513 (DERIVED).
#[test]
fn axial_limits() {
    let ask = |set: &dyn rules::Rules, column| set.column_axial_kn(&column).expect("answered");
    let textbook = ColumnAxial {
        gross_mm2: 14.0 * 24.0 * INCH * INCH,
        bars_mm2: 6.0 * INCH * INCH,
        concrete_mpa: 4.0 * KSI,
        steel_mpa: 60.0 * KSI,
    };
    assert_near("0.8 P0", ask(rules::american(), textbook) / KIP, 0.8 * 1482.0, 1e-4);
    let old = ColumnAxial { gross_mm2: 160_000.0, bars_mm2: 2513.27, concrete_mpa: 20.0, steel_mpa: 400.0 };
    assert_near("N_Rd", ask(rules::european(), old), 2974.0, 1e-4);
}

/// ASCE 41-17 7.5.3.2 and EN 1998-3 2.2.1(5)P, A.3.3.1(1) (MEMORY): given strengths times κ 0.90; (20 + 8)/(1.2·1.5),
/// 1.15·300/(1.2·1.15), over 1.15·1.2 as the bending that brings the shear counts at 1.2 times its mean.
#[test]
fn strengths_of_force_controlled_actions() {
    let american = rules::american().force_controlled(Knowledge::Drawings).expect("answered");
    assert_eq!((american.concrete, american.steel, american.strength), (1.0, 1.0, 0.9));
    assert!(!american.column_shear);
    let european = rules::european().force_controlled(Knowledge::Drawings).expect("answered");
    assert_near("f_c", european.concrete * (20.0 + european.concrete_step_mpa), 28.0 / 1.8, 1e-12);
    assert_near("f_yw", european.steel * 300.0, 250.0, 1e-12);
    assert_near("on V_R", european.strength, 1.0 / 1.38, 1e-12);
    assert!(european.column_shear);
}

/// Three storeys, two bays each way; beams with so many bars of a diameter, the same on top and below.
fn frame(bars: u32, bar_mm: f64, column_mm: f64, rules: &str) -> Project {
    let lines = |names: [&str; 3]| {
        let at = |(i, name): (usize, &str)| json!({"name": name, "at_m": 5.0 * i as f64});
        names.into_iter().enumerate().map(at).collect::<Vec<_>>()
    };
    let project = json!({
        "sisterframe": 1, "name": "Frame", "rules": rules, "ground_motion": {"sxs_g": 0.5, "sx1_g": 0.3},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": lines(["1", "2", "3"]), "y_lines": lines(["A", "B", "C"]),
            "storeys": vec![json!({"height_m": 3.2, "slab_mm": 120, "finishes_kpa": 1.5, "live_kpa": 2.5}); 3],
            "materials": {"concrete_mpa": 28, "steel_mpa": 300, "hoop_steel_mpa": 300},
            "column_types": [{"name": "K1", "x_mm": column_mm, "y_mm": column_mm, "bars": 8, "bar_mm": 10, "hoop_mm": 10,
                              "hoop_spacing_mm": 100}],
            "beam_types": [{"name": "G1", "width_mm": 300, "depth_mm": 500, "top_bars": bars, "top_bar_mm": bar_mm,
                            "bottom_bars": bars, "bottom_bar_mm": bar_mm, "stirrup_mm": 10, "stirrup_spacing_mm": 100}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}],
        },
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

fn as_it_stands(project: &Project) -> OptionResult {
    study(project).options.swap_remove(0)
}

fn middle(option: &OptionResult, storey: usize) -> &MemberResult {
    let members = &option.directions[0].storeys[storey - 1].members;
    members.iter().find(|own| own.place.to_string().starts_with("column B-2")).expect("a column there")
}

fn says(option: &OptionResult, code: Code) -> bool {
    option.findings.iter().any(|finding| finding.code == code)
}

/// DERIVED, equilibrium. Where beams are weak, the middle column of the middle storey shears with V·h = ΣM_b; where they
/// are strong, the same columns shear with V·h₀ = 2·M_c. The ratio at the joint over storey 1 is that of the two.
#[test]
fn columns_against_beams_at_a_joint() {
    for set in ["american", "european"] {
        let (weak, strong) = (as_it_stands(&frame(2, 12.0, 400.0, set)), as_it_stands(&frame(5, 16.0, 400.0, set)));
        let height = 3.2;
        let beams = middle(&weak, 2).flexural_kn * height;
        let columns = [1, 2].map(|storey| middle(&strong, storey).flexural_kn * height / 2.0).iter().sum::<f64>();
        let got = middle(&weak, 1).joint_ratio.expect("beams frame in");
        assert_near("ΣM_c/ΣM_b", got, columns / beams, 1e-9);
        assert!(got > 1.0 && !says(&weak, Code::ColumnsFirst), "{got}");
        let other = middle(&strong, 1).joint_ratio.expect("beams frame in");
        assert!(other < 1.0 && says(&strong, Code::ColumnsFirst), "{other}");
        let sway = strong.directions[0].storeys[0].sway.expect("beams frame in");
        assert_eq!(sway.joints, 9);
        assert!(sway.ratio < 1.0 && sway.columns_first > 0);
        let named = |storey: &str| {
            let mut all = strong.findings.iter().filter(|finding| finding.code == Code::ColumnsFirst);
            all.any(|finding| finding.detail.to_string().contains(storey))
        };
        assert!(named("storey 1") && !named("storey 3"), "columns may yield first at the roof");
    }
}

/// Columns of 150 mm under three floors carry more than either set lets them; those of 400 mm do not.
#[test]
fn overloaded_columns_are_named() {
    for set in ["american", "european"] {
        for (column_mm, overloaded) in [(150.0, true), (400.0, false)] {
            let mut project = frame(3, 16.0, column_mm, set);
            project.building.materials.concrete_mpa = 10.0;
            assert_eq!(says(&as_it_stands(&project), Code::ColumnOverloaded), overloaded, "{set}, {column_mm}");
        }
    }
}

/// Shear is checked with less than the curve counts on; a column between the two is doubtful, one far from both is not.
#[test]
fn doubtful_shear_is_named() {
    for rules in [RuleSet::American, RuleSet::European] {
        let mut project = frame(6, 16.0, 400.0, "american");
        project.rules = rules;
        let of = |project: &Project| as_it_stands(project);
        let well = of(&project);
        let member = middle(&well, 1);
        let checked = member.checked_shear_kn.expect("a column");
        assert!(checked < member.shear_capacity_kn);
        let mut seen = (false, false);
        project.building.materials.concrete_mpa = 14.0;
        project.building.column_types[0].hoop_mm = 6.0;
        project.building.column_types[0].hoop_spacing_mm = 400.0;
        for bar_mm in [8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0] {
            project.building.column_types[0].bar_mm = bar_mm;
            let option = of(&project);
            let storey = option.directions[0].strength_storey as usize;
            let members = &option.directions[0].storeys[storey - 1].members;
            let doubtful = members.iter().any(|own| {
                own.failure != Failure::Shear && own.checked_shear_kn.is_some_and(|shear| shear < own.flexural_kn)
            });
            let along_x = option
                .findings
                .iter()
                .any(|finding| finding.code == Code::ShearDoubtful && finding.detail.to_string().contains("along x"));
            assert_eq!(along_x, doubtful, "{rules:?} {bar_mm}");
            seen = (seen.0 | doubtful, seen.1 | !doubtful);
        }
        assert!(seen.0, "{rules:?}: none was doubtful");
    }
}

/// Shear of columns is brittle in the European set (EN 1998-3 2.2.1(6)P, MEMORY): nothing is accepted beyond it, at no level,
/// and bending that turns to shear is accepted to there at most; Table 10-8 of the American set has rotations for both.
#[test]
fn what_is_accepted_beyond_shear() {
    let school = Project::from_json(include_str!("../../demo-scenarios/school.json")).expect("a valid demo");
    let shears = |set: &dyn rules::Rules| {
        let ready = ready_by(set, &school, None, true).expect("it stands");
        let slips = |hinge: &&HingeStrength| matches!(hinge.hinges[0], Hinge::ColumnShear { .. });
        let all: Vec<HingeStrength> = ready.hinges.iter().flatten().filter(slips).cloned().collect();
        let turning = ready.hinges.iter().flatten().filter(|hinge| hinge.failure == Failure::FlexureShear);
        let ends: Vec<HingeStrength> = turning.cloned().collect();
        (all, ends)
    };
    let (american, _) = shears(rules::american());
    let (european, turning) = shears(rules::european());
    assert!(!american.is_empty() && !european.is_empty());
    let accepted = |all: &[HingeStrength]| {
        all.iter().flat_map(|hinge| hinge.senses).flatten().map(|own| own.accepted[2]).fold(0.0, f64::max)
    };
    assert!(accepted(&american) > 0.0);
    assert_eq!(accepted(&european), 0.0);
    for own in turning.iter().flat_map(|hinge| hinge.senses).flatten() {
        assert!(own.accepted.iter().all(|rotation| *rotation <= own.capping));
    }
}
