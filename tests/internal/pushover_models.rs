//! Capacity curves of whole buildings: the demonstration projects with all their schemes.

use sisterframe_core::assembly::{Assembly, Freedoms};
use sisterframe_core::framing::Framing;
use sisterframe_core::hinge::HingeStrength;
use sisterframe_core::member::Strengths;
use sisterframe_core::model::Model;
use sisterframe_core::modes::Modes;
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::pushover::{CapacityCurve, CurveEnd, LimitKind, Pattern, Settings, Setup};
use sisterframe_core::rules::{self, Rules};
use sisterframe_tests::scenarios::demos;

/// A model carried to where it can be pushed.
pub struct Ready {
    pub model: Model,
    pub framing: Framing,
    pub assembly: Assembly,
    pub modes: Modes,
    pub hinges: [Vec<HingeStrength>; 2],
}

/// Prepares a project with one of its schemes, or as it stands; `None` where it does not stand.
pub fn ready(project: &Project, scheme: Option<usize>, p_delta: bool) -> Option<Ready> {
    ready_by(rules::american(), project, scheme, p_delta)
}

/// The same by a rule set.
pub fn ready_by(rules: &dyn Rules, project: &Project, scheme: Option<usize>, p_delta: bool) -> Option<Ready> {
    let nothing = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let model = Model::new(&project.building, scheme.map_or(&nothing, |index| &project.schemes[index]));
    let materials = &project.building.materials;
    let framing = Framing::new(&model, materials, rules).ok()?;
    let mut assembly = framing.assembly(&model);
    let plain = assembly.factor().ok()?;
    let modes = plain.modes().ok()?;
    let hinges = Direction::BOTH.map(|direction| {
        let forces: Vec<f64> = model.floors.iter().map(|floor| floor.weight_kn * floor.level_m).collect();
        let held = Assembly { freedoms: Freedoms::translation(direction), ..assembly.clone() };
        let translated = held.factor().ok()?.solve(&assembly.load_by_mass(direction, &forces));
        let found = Strengths::new(&model, &framing, materials, rules, direction, &translated, &forces).ok()?;
        Some(found.hinges)
    });
    let [x, y] = hinges;
    assembly.p_delta = p_delta;
    Some(Ready { model, framing, assembly, modes, hinges: [x?, y?] })
}

impl Ready {
    pub fn curve(
        &self,
        direction: Direction,
        pattern: Pattern,
        higher: bool,
        settings: Settings,
    ) -> Option<CapacityCurve> {
        let factored = self.assembly.factor().ok()?;
        let setup = Setup {
            model: &self.model,
            framing: &self.framing,
            factored: &factored,
            mode: self.modes.governing(direction)?,
            hinges: &self.hinges[direction.index()],
            direction,
            level: 1,
            knowledge: 1.0,
            settings,
        };
        Some(setup.curve(pattern, higher))
    }
}

#[test]
fn demonstration_curves_balance_and_end() {
    for (name, project) in demos() {
        for scheme in std::iter::once(None).chain((0..project.schemes.len()).map(Some)) {
            let ready = ready(&project, scheme, true).expect("stands");
            for direction in Direction::BOTH {
                for pattern in [Pattern::FirstMode, Pattern::Uniform] {
                    let start = std::time::Instant::now();
                    let curve = ready.curve(direction, pattern, true, Settings::USUAL).expect("a mode");
                    let took = start.elapsed();
                    println!(
                        "{name} {scheme:?} {direction:?} {pattern:?}: peak {:.0} kN at {:.0} mm, {} modes, {} events, {:?}, imbalance {:.1e}, limits {:?}, {took:?}",
                        curve.peak_kn,
                        curve.peak_roof_mm,
                        curve.modes,
                        curve.events.len(),
                        curve.end,
                        curve.imbalance,
                        curve
                            .limits
                            .iter()
                            .take(3)
                            .map(|l| (l.limit, l.storey, l.failure, l.roof_mm.round()))
                            .collect::<Vec<_>>(),
                    );
                    assert!(curve.imbalance <= 1e-9, "{name}: {}", curve.imbalance);
                    assert!(curve.peak_kn > 0.0);
                    assert!(!matches!(curve.end, CurveEnd::Unstable));
                    assert!(
                        matches!(curve.limits.last(), Some(limit) if limit.limit == LimitKind::CurveEnd || limit.position.is_finite())
                    );
                }
            }
        }
    }
}

/// Taking like hinges together moves neither the largest base shear nor the first limit by much from
/// pushing hinge by hinge to the very end. Where strength falls, like hinges may go together or one
/// after the other; both are solutions, and now and then the two part.
#[test]
fn like_hinges_together_change_little() {
    let (mut count, mut parted) = (0, 0);
    for (name, project) in demos() {
        for scheme in std::iter::once(None).chain((0..project.schemes.len()).map(Some)) {
            let ready = ready(&project, scheme, true).expect("stands");
            for direction in Direction::BOTH {
                let curve = |settings| ready.curve(direction, Pattern::FirstMode, true, settings).expect("a mode");
                let (quick, exact) = (curve(Settings::USUAL), curve(Settings::EXACT));
                let peak = quick.peak_kn / exact.peak_kn - 1.0;
                let limit = quick.limits[0].roof_mm / exact.limits[0].roof_mm - 1.0;
                println!(
                    "{name} {scheme:?} {direction:?}: {} modes for {}, peak {:+.1} %, first limit {:+.1} %",
                    quick.modes,
                    exact.modes,
                    100.0 * peak,
                    100.0 * limit
                );
                assert!(peak.abs() < 0.04 && limit.abs() < 0.20, "{name} {scheme:?} {direction:?}: {peak} {limit}");
                count += 1;
                parted += usize::from(limit.abs() > 0.03);
            }
        }
    }
    assert!(10 * parted <= count, "{parted} of {count} first limits moved by more than 3 %");
}
