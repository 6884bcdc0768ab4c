//! Time of pushing the demonstration buildings over: the least of many runs, in milliseconds.

use sisterframe_core::assembly::{Assembly, Freedoms};
use sisterframe_core::framing::Framing;
use sisterframe_core::member::Strengths;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::pushover::{Pattern, Settings, Setup};
use sisterframe_core::rules;
use std::time::Instant;

const RUNS: usize = 30;

fn main() {
    for (name, text) in [
        ("school", include_str!("../../demo-scenarios/school.json")),
        ("clinic", include_str!("../../demo-scenarios/clinic.json")),
        ("office", include_str!("../../demo-scenarios/office.json")),
        ("corner", include_str!("../../demo-scenarios/corner.json")),
    ] {
        let project = Project::from_json(text).expect("a valid demo");
        let nothing = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
        for scheme in std::iter::once(&nothing).chain(&project.schemes) {
            push(name, &project, scheme);
        }
    }
}

fn push(name: &str, project: &Project, scheme: &Scheme) {
    let rules = rules::american();
    let model = Model::new(&project.building, scheme);
    let materials = &project.building.materials;
    let framing = Framing::new(&model, materials, rules).expect("stands");
    let mut assembly = framing.assembly(&model);
    let modes = assembly.factor().expect("stands").modes().expect("masses");
    let forces: Vec<f64> = model.floors.iter().map(|floor| floor.weight_kn * floor.level_m).collect();
    let plain = assembly.clone();
    assembly.p_delta = true;
    let factored = assembly.factor().expect("stands");
    for direction in Direction::BOTH {
        let held = Assembly { freedoms: Freedoms::translation(direction), ..plain.clone() };
        let translated = held.factor().expect("stands").solve(&plain.load_by_mass(direction, &forces));
        let strengths = Strengths::new(&model, &framing, materials, rules, direction, &translated, &forces);
        let hinges = strengths.expect("answered").hinges;
        let setup = Setup {
            model: &model,
            framing: &framing,
            factored: &factored,
            mode: modes.governing(direction).expect("a mode"),
            hinges: &hinges,
            direction,
            level: 1,
            knowledge: 1.0,
            settings: Settings::USUAL,
        };
        let mut least = f64::INFINITY;
        let mut size = (0, 0);
        for _ in 0..RUNS {
            let start = Instant::now();
            let curve = setup.curve(Pattern::FirstMode, true);
            least = least.min(1e3 * start.elapsed().as_secs_f64());
            size = (curve.modes, curve.events.len());
        }
        println!(
            "{name:8} {:32} {}: {least:6.2} ms ({} hinges, {} modes, {} events)",
            scheme.name,
            direction.label(),
            hinges.len(),
            size.0,
            size.1
        );
    }
}
