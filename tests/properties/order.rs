//! What more stiffness and more strength may do, and what they may not.

use crate::{seeds, studied};
use sisterframe_core::assembly::{Assembly, Load};
use sisterframe_core::framing::Framing;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Measure, Project, Scheme};
use sisterframe_core::rules;
use sisterframe_core::storey::{Spring, strength};
use sisterframe_tests::dice::Dice;
use sisterframe_tests::projects::each_project;

/// Multiplying every strength of a storey by one factor of 1 or more, drift limits and stiffnesses
/// held, never lowers the storey's strength.
#[test]
fn stronger_members_never_make_a_weaker_storey() {
    let mut dice = Dice::new(7);
    each_project(seeds(), |seed, _| {
        for option in &studied(seed).options {
            for storey in option.directions.iter().flat_map(|direction| &direction.storeys) {
                let springs: Vec<Spring> = storey
                    .members
                    .iter()
                    .filter(|member| member.yield_drift_mm > 0.0 && member.strength_kn > 0.0)
                    .map(|member| {
                        let (strength, full) = (member.strength_kn, member.yield_drift_mm);
                        let mut spring = Spring::bilinear(1000.0 * strength / full, strength, member.limit_drift_mm);
                        if dice.happens(0.3) {
                            // Cracked before, and full at the same drift: stiffer at first.
                            spring.cracking_kn = 0.6 * strength;
                            spring.stiffness_kn_m *= 2.0;
                        }
                        spring
                    })
                    .collect();
                let factor = dice.within(1.0, 3.0);
                let raised: Vec<Spring> = springs
                    .iter()
                    .map(|it| Spring {
                        cracking_kn: factor * it.cracking_kn,
                        strength_kn: factor * it.strength_kn,
                        full_drift_mm: factor * it.full_drift_mm,
                        ..*it
                    })
                    .collect();
                let (before, after) = (strength(&springs).strength_kn, strength(&raised).strength_kn);
                let slack = 1e-12 * before;
                assert!(after >= before - slack, "seed {seed}, {}: {before} × {factor} gives {after}", option.name);
                // Nor does it more than scale, since stiffness caps what strength adds.
                assert!(after <= factor * before + slack, "seed {seed}, {}: {before}, {after}", option.name);
            }
        }
    });
}

/// A scheme of the measures that only add stiffness: external frames and jackets with
/// continuous bars. (An infill wall on a small footing, wings that cut a sill free and columns
/// that are freed may soften a building.)
fn stiffening(project: &Project) -> Scheme {
    let measures = project.schemes.iter().flat_map(|scheme| &scheme.measures).filter(|measure| match measure {
        Measure::ExternalFrame(_) => true,
        Measure::Jacket(jacket) => jacket.continuous,
        _ => false,
    });
    // Of each kind and face only one goes on a building.
    let mut scheme = Scheme { name: "Stiffening".to_owned(), note: String::new(), measures: Vec::new() };
    for measure in measures {
        scheme.measures.push(measure.clone());
        if sisterframe_core::project::combination_problem(&project.building, &scheme).is_some() {
            scheme.measures.pop();
        }
    }
    scheme
}

fn assembly(project: &Project, scheme: &Scheme) -> Option<Assembly> {
    let model = Model::new(&project.building, scheme);
    let framing = Framing::new(&model, &project.building.materials, rules::american()).ok()?;
    Some(framing.assembly(&model))
}

/// Σ F·u over the floors, with linked lines unloaded.
fn compliance(assembly: &Assembly, floors: &Load) -> Option<f64> {
    let mut load = assembly.no_load();
    load.floors.clone_from(&floors.floors);
    let response = assembly.factor().ok()?.solve(&load);
    let floors = load.floors.iter().zip(&response.floors);
    Some(floors.map(|(f, u)| f.x_kn * u.x_m + f.y_kn * u.y_m + f.moment_kn_m * u.rotation_rad).sum())
}

/// Clapeyron's compliance Σ F·u under one load never rises with a measure that only adds
/// stiffness, and never falls when columns are freed.
#[test]
fn adding_stiffness_never_raises_the_compliance() {
    let nothing = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let mut tried = [0, 0];
    each_project(seeds(), |seed, project| {
        let Some(before) = assembly(&project, &nothing) else { return };
        let mut dice = Dice::new(seed);
        let mut load = before.no_load();
        for floor in &mut load.floors {
            floor.push(Direction::X, dice.within(-100.0, 900.0), dice.within(-3.0, 3.0));
            floor.push(Direction::Y, dice.within(-100.0, 900.0), dice.within(-3.0, 3.0));
        }
        let mut compare = |scheme: &Scheme, stiffens: bool| {
            let Some(mut after) = assembly(&project, scheme) else { return };
            // The same load at the same points: the floors keep the centres they had.
            after.floors.clone_from(&before.floors);
            let (Some(was), Some(is)) = (compliance(&before, &load), compliance(&after, &load)) else { return };
            assert!(was > 0.0 && is > 0.0, "seed {seed}: {was}, {is}");
            let holds = if stiffens { is <= was * (1.0 + 1e-9) } else { is >= was * (1.0 - 1e-9) };
            assert!(holds, "seed {seed}: compliance {was} becomes {is} with {:?}", scheme.measures);
            tried[usize::from(stiffens)] += 1;
        };
        let scheme = stiffening(&project);
        if !scheme.measures.is_empty() {
            compare(&scheme, true);
        }
        for scheme in &project.schemes {
            if !scheme.measures.is_empty() && scheme.measures.iter().all(|it| matches!(it, Measure::Release(_))) {
                compare(scheme, false);
            }
        }
    });
    assert!(tried.iter().all(|count| *count as u64 > seeds() / 2), "only {tried:?} were tried");
}
