//! The whole evaluation: a checked project in, a study out.
//!
//! Model → frames → plan assembly → periods → elastic demand → forces → member strengths →
//! storey strengths → connecting slabs → works. Nothing here panics or fails: what cannot
//! be computed is withheld and said in a finding.

use crate::assembly::{Assembly, FloorForce, Freedoms, Load};
use crate::finding::{CAUTIONS, Code, Finding};
use crate::frame_line::FrameLineError;
use crate::framing::{Framing, Unframed};
use crate::hazard::{self, LateralSystem, MassShare};
use crate::link;
use crate::member::{self, Strengths};
use crate::model::Model;
use crate::place::{Class, Place};
use crate::project::{Direction, Project, Scheme};
use crate::response::{Factored, Response};
use crate::rules::{self, Ruled, Rules};
use crate::storey::{self, Spring};
use crate::study::{
    Added, DirectionResult, Failure, Headline, LineResult, MemberResult, OptionKind, OptionResult, SlabResult,
    StoreyFacts, StoreyResult, Study, Weakest,
};
use crate::units::grouped;
use crate::works;

/// A storey is soft where its drift ratio exceeds this many times that of the storey above
/// (ASCE 7-16 Table 12.3-2 exception, MEMORY).
const SOFT_STOREY_DRIFT_RATIO: f64 = 1.3;
/// A storey is weak where its strength is below this part of that of the storey above
/// (ASCE 7-16 Table 12.3-2 type 5a, MEMORY).
const WEAK_STOREY_RATIO: f64 = 0.8;

/// Evaluates a whole project.
pub fn study(project: &Project) -> Study {
    let rules = rule_set(project);
    let standing = Analysis::new(project, None, rules);
    let floors = &standing.model.floors;
    let mut options = vec![standing.option(project, OptionKind::AsItStands, &standing)];
    options.extend((0..project.schemes.len()).filter_map(|index| scheme_option(project, index, &standing)));
    options.push(rebuild(project, floors.iter().map(|floor| floor.area_m2).sum()));
    let motion = &project.ground_motion;
    Study {
        project: project.name.clone(),
        rules: rules.title().to_owned(),
        ground_motion: spectrum_in_words(project),
        weight_kn: floors.iter().map(|floor| floor.weight_kn).sum(),
        floor_area_m2: floors.iter().map(|floor| floor.area_m2).sum(),
        storeys: floors
            .iter()
            .zip(1..)
            .map(|(floor, storey)| StoreyFacts {
                storey,
                height_m: floor.height_m,
                level_m: floor.level_m,
                area_m2: floor.area_m2,
                weight_kn: floor.weight_kn,
            })
            .collect(),
        options,
        cautions: CAUTIONS
            .iter()
            .map(|caution| (*caution).to_owned())
            .chain((!motion.note.is_empty()).then(|| format!("Ground motion as given: {}.", motion.note)))
            .collect(),
    }
}

/// Evaluates one scheme of a project; `None` if there is no such scheme.
pub fn option(project: &Project, index: usize) -> Option<OptionResult> {
    let standing = Analysis::new(project, None, rule_set(project));
    scheme_option(project, index, &standing)
}

fn scheme_option(project: &Project, index: usize, standing: &Analysis) -> Option<OptionResult> {
    let scheme = project.schemes.get(index)?;
    let analysis = Analysis::new(project, Some(scheme), rule_set(project));
    Some(analysis.option(project, OptionKind::Scheme { index }, standing))
}

/// The rule set of a project; only complete ones pass its check.
fn rule_set(project: &Project) -> &'static dyn Rules {
    rules::by_key(project.rules.key()).unwrap_or_else(rules::first)
}

/// The project's ground motion as rule sets take it.
fn ground_motion(project: &Project) -> hazard::GroundMotion {
    let motion = &project.ground_motion;
    let hazard = if motion.table.is_empty() {
        hazard::Hazard::TwoOrdinates {
            short_g: motion.sxs_g,
            one_second_g: motion.sx1_g,
            rock_one_second_g: 0.0,
            long_period_s: motion.tl_s,
        }
    } else {
        hazard::Hazard::Table(motion.table.iter().map(|point| [point.period_s, point.acceleration_g]).collect())
    };
    hazard::GroundMotion { hazard, damping: motion.damping, importance: motion.importance }
}

/// The shaking in a sentence.
fn spectrum_in_words(project: &Project) -> String {
    let motion = &project.ground_motion;
    let objective = motion.objective.label();
    if motion.table.is_empty() {
        let importance =
            if motion.importance == 1.0 { String::new() } else { format!(", importance factor {}", motion.importance) };
        format!("Plateau {} g, {} g at one second{importance}; {objective}", motion.sxs_g, motion.sx1_g)
    } else {
        format!("Spectrum as pasted, {} points; {objective}", motion.table.len())
    }
}

/// Letter of a scheme in the order of the project.
pub fn letter(index: usize) -> String {
    let letters = u8::try_from(index % 26).unwrap_or(0);
    let letter = char::from(b'A' + letters);
    if index < 26 { letter.to_string() } else { format!("{letter}{}", index / 26 + 1) }
}

fn rebuild(project: &Project, floor_area_m2: f64) -> OptionResult {
    OptionResult {
        kind: OptionKind::Rebuild,
        letter: String::new(),
        name: "Rebuild".to_owned(),
        measures: vec!["Demolish and build new".to_owned()],
        directions: Vec::new(),
        strength_gain: None,
        strength_to_demand: None,
        ductility_needed: None,
        weakest: None,
        added: Added::default(),
        works: Some(works::rebuild(&project.building, floor_area_m2)),
        slabs: Vec::new(),
        findings: vec![Finding::new(Code::RebuildByCode, Place::Building, "")],
    }
}

/// One option carried through the mechanics.
struct Analysis<'p> {
    scheme: Option<&'p Scheme>,
    model: Model,
    rules: &'static dyn Rules,
    directions: Vec<Lateral>,
    slabs: Vec<SlabResult>,
    findings: Vec<Finding>,
}

/// What one direction gives.
struct Lateral {
    result: DirectionResult,
    /// Strengths of members by storey.
    strengths: Strengths,
}

impl<'p> Analysis<'p> {
    fn new(project: &'p Project, scheme: Option<&'p Scheme>, rules: &'static dyn Rules) -> Self {
        let nothing = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
        let model = Model::new(&project.building, scheme.unwrap_or(&nothing));
        let mut analysis =
            Self { scheme, model, rules, directions: Vec::new(), slabs: Vec::new(), findings: Vec::new() };
        analysis.findings = member::findings(&analysis.model, &project.building);
        let trouble = match Framing::new(&analysis.model, &project.building.materials, rules) {
            Ok(framing) => analysis.run(project, &framing).err(),
            Err(Unframed::Line { line, error }) => {
                let detail = format!("line {line}, {}", in_words(error));
                analysis.findings.push(Finding::new(Code::Unstable, Place::Building, detail));
                None
            }
            Err(Unframed::Rules(missing)) => Some(missing),
        };
        if let Some(missing) = trouble {
            analysis.directions.clear();
            analysis.slabs.clear();
            analysis.findings.push(Finding::new(Code::NotInRuleSet, Place::Building, missing.to_string()));
        }
        analysis
    }

    fn run(&mut self, project: &Project, framing: &Framing) -> Ruled<()> {
        let unstable = |detail: &str| Finding::new(Code::Unstable, Place::Building, detail);
        let assembly = framing.assembly(&self.model);
        let Ok(factored) = assembly.factor() else {
            self.findings.push(unstable("the building can move without resistance"));
            return Ok(());
        };
        let Ok(modes) = factored.modes() else {
            self.findings.push(unstable("no mass can move"));
            return Ok(());
        };
        let motion = ground_motion(project);
        let mut directions = Vec::new();
        let mut slabs = Vec::new();
        for direction in Direction::BOTH {
            let case = Case { project, framing, assembly: &assembly, factored: &factored, motion: &motion, direction };
            let found = match (modes.governing(direction), modes.governing_mass_ratio(direction)) {
                (Some(mode), Some(mass)) => self.direction(&case, mode.period_s, mass)?,
                _ => None,
            };
            let Some((lateral, own)) = found else {
                self.findings.push(unstable(&format!("no resistance {}", direction.label())));
                return Ok(());
            };
            directions.push(lateral);
            slabs.extend(own);
        }
        self.directions = directions;
        self.slabs = slabs;
        Ok(())
    }

    /// Weight that moves at each level with the added frames', kN.
    fn level_weights(&self) -> Vec<f64> {
        self.model
            .floors
            .iter()
            .enumerate()
            .map(|(level, floor)| {
                let frames: f64 = self.model.frames.iter().filter_map(|frame| frame.weight_kn.get(level)).sum();
                floor.weight_kn + frames
            })
            .collect()
    }

    fn direction(&self, case: &Case<'_>, period_s: f64, mass: f64) -> Ruled<Option<(Lateral, Vec<SlabResult>)>> {
        let direction = case.direction;
        let weights = self.level_weights();
        let levels: Vec<f64> = self.model.floors.iter().map(|floor| floor.level_m).collect();
        let weight: f64 = weights.iter().sum();
        let acceleration = self.rules.spectral_acceleration_g(case.motion, period_s)?;
        let has_walls = case.framing.lines.iter().any(|line| line.direction == direction && !line.walls.is_empty());
        let mass_share = self.rules.mass_share(&MassShare {
            storeys: levels.len() as u32,
            system: if has_walls { LateralSystem::ConcreteWall } else { LateralSystem::ConcreteFrame },
            period_s,
            corner_period_s: 0.0,
        })?;
        let base_shear = acceleration * weight * mass_share;
        let shares = self.rules.force_shares(&weights, &levels, period_s)?;
        let forces: Vec<f64> = shares.iter().map(|share| share * base_shear).collect();
        let storey_shear: Vec<f64> = (0..forces.len()).map(|s| forces[s..].iter().sum()).collect();

        let load = case.assembly.load_by_mass(direction, &forces);
        let response = case.factored.solve(&load);
        let accidental = self.accidental(case, &load, &forces)?;
        let held = Assembly { freedoms: Freedoms::translation(direction), ..case.assembly.clone() };
        let Ok(translated) = held.factor().map(|factored| factored.solve(&load)) else { return Ok(None) };
        let Ok(centre) = case.assembly.stiffness_centre(direction, &load) else { return Ok(None) };

        let strengths = Strengths::new(
            &self.model,
            case.framing,
            &case.project.building.materials,
            self.rules,
            direction,
            &translated,
            &forces,
        )?;
        let slabs = link::slabs(&link::Context {
            model: &self.model,
            framing: case.framing,
            materials: &case.project.building.materials,
            rules: self.rules,
            direction,
            response: &response,
            accidental: &accidental,
            load: &load,
            forces_kn: &forces,
            acceleration_g: acceleration,
            plateau_g: self.rules.spectral_acceleration_g(case.motion, 0.0)?.max(acceleration),
        })?;

        let members = member_shears(&self.model, case.framing, direction, &response);
        let mut storeys = Vec::new();
        for s in 0..levels.len() {
            let drift = response.drift_at_centre(s, direction);
            let height = self.model.floors[s].height_m;
            let strength = self.storey_strength(&strengths, s);
            let mut class_shear = [0.0; 3];
            for (class, shear) in &members[s] {
                class_shear[Class::ALL.iter().position(|own| own == class).unwrap_or(0)] += shear;
            }
            let above: f64 = weights[s..].iter().sum();
            storeys.push(StoreyResult {
                storey: s as u32 + 1,
                floor_force_kn: forces[s],
                shear_kn: storey_shear[s],
                class_shear_kn: class_shear,
                drift_mm: 1000.0 * drift,
                drift_ratio: drift / height,
                stiffness_kn_m: if drift == 0.0 { 0.0 } else { storey_shear[s] / drift },
                strength_kn: strength.strength_kn,
                strength_drift_mm: strength.drift_mm,
                ratio: if storey_shear[s] > 0.0 { strength.strength_kn / storey_shear[s] } else { f64::MAX },
                failure: strength.failure,
                lost: strength.lost,
                p_delta: if storey_shear[s] > 0.0 { above * drift / (storey_shear[s] * height) } else { 0.0 },
                members: strengths.storeys[s]
                    .iter()
                    .zip(&members[s])
                    .map(|(member, (_, shear))| {
                        let weaker = member.weaker();
                        MemberResult {
                            place: member.place.clone(),
                            class: member.class,
                            line: member.line.clone(),
                            axial_kn: member.axial_kn,
                            clear_height_m: member.clear_height_m,
                            shear_kn: *shear,
                            strength_kn: weaker.strength_kn,
                            flexural_kn: weaker.flexural_kn,
                            shear_capacity_kn: weaker.shear_kn,
                            failure: weaker.failure,
                            yield_drift_mm: weaker.yield_drift_mm,
                            limit_drift_mm: weaker.limit_drift_mm,
                        }
                    })
                    .collect(),
            });
        }
        let (index, ratio) = storeys
            .iter()
            .enumerate()
            .map(|(index, storey)| (index, storey.ratio))
            .fold((0, f64::INFINITY), |least, next| if next.1 < least.1 { next } else { least });
        let eccentricity = (0..levels.len())
            .filter_map(|s| centre.eccentricity_m(s))
            .fold(0.0_f64, |most, next| if next.abs() > most.abs() { next } else { most });
        let across = self.model.floors.iter().map(|floor| floor.bounds.across(direction)).fold(0.0, f64::max);
        let result = DirectionResult {
            along_x: direction == Direction::X,
            period_s,
            effective_mass: mass,
            acceleration_g: acceleration,
            weight_kn: weight,
            base_shear_kn: base_shear,
            strength_kn: ratio * base_shear,
            strength_storey: index as u32 + 1,
            eccentricity_m: eccentricity,
            eccentricity_share: if across > 0.0 { eccentricity.abs() / across } else { 0.0 },
            storeys,
            lines: self.line_results(case, &response, &accidental),
        };
        Ok(Some((Lateral { result, strengths }, slabs)))
    }

    /// Responses with the accidental eccentricity to either side, amplified where the plan
    /// turns too much.
    fn accidental(&self, case: &Case<'_>, load: &Load, forces: &[f64]) -> Ruled<Vec<Response>> {
        let direction = case.direction;
        let share = self.rules.accidental_eccentricity()?;
        let shifted = |sense: f64, amplification: &[f64]| {
            let mut load = load.clone();
            for (s, floor) in self.model.floors.iter().enumerate() {
                let offset = sense * share * floor.bounds.across(direction) * amplification[s];
                let mut turned = FloorForce::default();
                turned.push(direction, forces[s], offset);
                load.floors[s].moment_kn_m += turned.moment_kn_m;
            }
            case.factored.solve(&load)
        };
        let mut responses = Vec::new();
        for sense in [-1.0, 1.0] {
            let plain = shifted(sense, &vec![1.0; forces.len()]);
            let mut amplification = Vec::new();
            for (s, floor) in self.model.floors.iter().enumerate() {
                let edges = match direction {
                    Direction::X => [floor.bounds.y0, floor.bounds.y1],
                    Direction::Y => [floor.bounds.x0, floor.bounds.x1],
                };
                let [one, other] = edges.map(|edge| plain.floors[s].at(direction, edge));
                let mean = (one + other).abs() / 2.0;
                amplification.push(self.rules.torsion_amplification(one.abs().max(other.abs()), mean)?);
            }
            let amplified = amplification.iter().any(|factor| *factor != 1.0);
            responses.push(if amplified { shifted(sense, &amplification) } else { plain });
        }
        Ok(responses)
    }

    fn line_results(&self, case: &Case<'_>, response: &Response, accidental: &[Response]) -> Vec<LineResult> {
        let direction = case.direction;
        let storeys = self.model.floors.len();
        let mut lines = Vec::new();
        let largest = |shears: &dyn Fn(&Response) -> Vec<f64>| {
            let mut most = shears(response);
            for other in accidental {
                for (own, next) in most.iter_mut().zip(shears(other)) {
                    if next.abs() > own.abs() {
                        *own = next;
                    }
                }
            }
            most
        };
        for (index, line) in case.framing.lines.iter().enumerate().filter(|(_, line)| line.direction == direction) {
            let grid = &self.model.lines(direction)[line.line];
            lines.push(LineResult {
                name: grid.name.clone(),
                external: false,
                ordinate_m: grid.at_m,
                shear_kn: response.lines[index].storey_shear_kn.clone(),
                shear_with_accidental_kn: largest(&|response| response.lines[index].storey_shear_kn.clone()),
                drift_mm: (0..storeys).map(|s| 1000.0 * response.drift_at(s, direction, grid.at_m)).collect(),
            });
        }
        for (index, frame) in self.model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == direction) {
            let own = &response.linked[index];
            let mut below = 0.0;
            lines.push(LineResult {
                name: frame.name(),
                external: true,
                ordinate_m: frame.ordinate_m,
                shear_kn: own.storey_shear_kn.clone(),
                shear_with_accidental_kn: largest(&|response| response.linked[index].storey_shear_kn.clone()),
                drift_mm: own
                    .displacement_m
                    .iter()
                    .enumerate()
                    .map(|(level, displacement)| {
                        let drift = if level < frame.storeys as usize { displacement - below } else { 0.0 };
                        below = *displacement;
                        1000.0 * drift
                    })
                    .collect(),
            });
        }
        lines
    }

    /// Strength of a storey at compatible drift, in the weaker sense.
    fn storey_strength(&self, strengths: &Strengths, s: usize) -> StoreyStrength {
        let members = &strengths.storeys[s];
        let mut weaker: Option<StoreyStrength> = None;
        for sense in 0..2 {
            let springs: Vec<Spring> = members.iter().map(|member| member.spring(sense)).collect();
            let strength = storey::strength(&springs);
            // The way of failing that carries most of the strength names the storey's.
            let mut by_failure: Vec<(Failure, f64)> = Vec::new();
            for (index, member) in members.iter().enumerate() {
                let failure = member.senses[sense].failure;
                let carried = springs[index].force_kn(strength.drift_mm);
                match by_failure.iter_mut().find(|(own, _)| *own == failure) {
                    Some((_, sum)) => *sum += carried,
                    None => by_failure.push((failure, carried)),
                }
            }
            let failure = by_failure
                .iter()
                .fold((Failure::Flexure, f64::NEG_INFINITY), |most, next| if next.1 > most.1 { *next } else { most })
                .0;
            let lost = strength.lost.iter().map(|index| members[*index].place.clone()).collect();
            let next = StoreyStrength { strength_kn: strength.strength_kn, drift_mm: strength.drift_mm, failure, lost };
            if weaker.as_ref().is_none_or(|own| next.strength_kn < own.strength_kn) {
                weaker = Some(next);
            }
        }
        weaker.unwrap_or(StoreyStrength {
            strength_kn: 0.0,
            drift_mm: 0.0,
            failure: Failure::Flexure,
            lost: Vec::new(),
        })
    }

    /// The lowest base-shear strength per weight over both directions.
    fn weakest_per_weight(&self) -> Option<(f64, Headline)> {
        self.directions
            .iter()
            .map(|lateral| &lateral.result)
            .map(|result| (result.strength_kn / result.weight_kn, result))
            .min_by(|one, other| one.0.total_cmp(&other.0))
            .map(|(ratio, result)| (ratio, Headline { ratio, along_x: result.along_x, storey: result.strength_storey }))
    }

    fn option(&self, project: &Project, kind: OptionKind, standing: &Self) -> OptionResult {
        let (letter, name, measures) = match kind {
            OptionKind::Scheme { index } => {
                let scheme = &project.schemes[index];
                let described =
                    scheme.measures.iter().map(|measure| crate::measure::describe(measure, &project.building));
                (letter(index), scheme.name.clone(), described.collect())
            }
            _ => (String::new(), "As it stands".to_owned(), Vec::new()),
        };
        let strength_gain = match (self.weakest_per_weight(), standing.weakest_per_weight()) {
            (Some((own, headline)), Some((before, _))) if before > 0.0 => {
                Some(Headline { ratio: own / before, ..headline })
            }
            _ => None,
        };
        let weaker = self
            .directions
            .iter()
            .map(|lateral| &lateral.result)
            .map(|result| (result.strength_kn / result.base_shear_kn, result))
            .min_by(|one, other| one.0.total_cmp(&other.0));
        let strength_to_demand =
            weaker.map(|(ratio, result)| Headline { ratio, along_x: result.along_x, storey: result.strength_storey });
        let weakest = weaker.map(|(_, result)| {
            let storey = &result.storeys[result.strength_storey as usize - 1];
            Weakest {
                along_x: result.along_x,
                storey: storey.storey,
                failure: storey.failure,
                first: storey
                    .members
                    .iter()
                    .filter(|member| member.strength_kn > 0.0)
                    .min_by(|one, other| one.limit_drift_mm.total_cmp(&other.limit_drift_mm))
                    .map(|member| member.place.clone()),
            }
        });
        let weight: f64 = standing.model.floors.iter().map(|floor| floor.weight_kn).sum();
        let materials = works::materials(&self.model);
        let works =
            self.scheme.map(|scheme| works::evaluate(&self.model, &project.building, scheme)).unwrap_or_default();
        let mut findings = self.findings.clone();
        findings.extend(self.comparative_findings(standing));
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
        findings.dedup();
        OptionResult {
            kind,
            letter,
            name,
            measures,
            directions: self.directions.iter().map(|lateral| lateral.result.clone()).collect(),
            strength_gain,
            strength_to_demand,
            ductility_needed: strength_to_demand
                .filter(|headline| headline.ratio > 0.0)
                .map(|headline| (1.0 / headline.ratio).max(1.0)),
            weakest,
            added: Added {
                weight_kn: self.model.added_kn,
                weight_share: if weight > 0.0 { self.model.added_kn / weight } else { 0.0 },
                concrete_m3: materials.concrete_m3,
                steel_t: materials.steel_t,
            },
            works: Some(works),
            slabs: self.slabs.clone(),
            findings,
        }
    }

    /// Findings that need the results, or the building as it stands beside them.
    fn comparative_findings(&self, standing: &Self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let storey_place = |storey: u32| Place::Storey { storey };
        for lateral in &self.directions {
            let result = &lateral.result;
            let direction = if result.along_x { Direction::X } else { Direction::Y };
            if result.eccentricity_share > 0.1 {
                let detail = format!("{:.0} % {}", 100.0 * result.eccentricity_share, direction.across().label());
                findings.push(Finding::new(Code::Eccentric, Place::Building, detail));
            }
            if result.period_s > 1.0 {
                findings.push(Finding::new(Code::LongPeriod, Place::Building, ""));
            }
            for pair in result.storeys.windows(2) {
                let (below, above) = (&pair[0], &pair[1]);
                let drifts = [below.drift_ratio, above.drift_ratio];
                if drifts[1] > 0.0 && drifts[0] > SOFT_STOREY_DRIFT_RATIO * drifts[1] {
                    let detail = format!("storey {} {}", below.storey, direction.label());
                    findings.push(Finding::new(Code::SoftStorey, storey_place(below.storey), detail));
                }
                if below.strength_kn < WEAK_STOREY_RATIO * above.strength_kn {
                    let detail = format!("storey {} {}", below.storey, direction.label());
                    findings.push(Finding::new(Code::WeakStorey, storey_place(below.storey), detail));
                }
            }
            let before = standing.directions.iter().find(|other| other.result.along_x == result.along_x);
            if before.is_some_and(|before| result.strength_storey > before.result.strength_storey) {
                let detail = format!("{} {}", result.strength_storey, direction.label());
                findings.push(Finding::new(Code::WeakStoreyMoved, storey_place(result.strength_storey), detail));
            }
            findings.extend(self.far_side(lateral, standing));
            findings.extend(failures(result, direction));
            findings.extend(self.closing_gap(result, direction));
            findings.extend_from_slice(lateral.strengths.findings());
        }
        for slab in &self.slabs {
            let place = Place::Slab { face: slab.face.clone(), level: slab.level };
            let detail = format!("face {}, level {}", slab.face, slab.level);
            if slab.utilisation > 1.0 {
                findings.push(Finding::new(Code::SlabShort, place.clone(), &detail));
            }
        }
        for frame in &self.model.frames {
            let short = self.slabs.iter().filter(|slab| slab.face == frame.spec.face && slab.anchorage_limited);
            if let Some(least) = short.min_by(|one, other| one.bar_stress_mpa.total_cmp(&other.bar_stress_mpa)) {
                let place = Place::Slab { face: least.face.clone(), level: least.level };
                let detail = format!("face {}, {:.0} MPa", least.face, least.bar_stress_mpa);
                findings.push(Finding::new(Code::AnchorageGoverns, place, detail));
            }
        }
        let weight: f64 = standing.model.floors.iter().map(|floor| floor.weight_kn).sum();
        let share = self.model.added_kn / weight;
        let detail = format!("{:.1} %", 100.0 * share);
        if share > 0.10 {
            findings.push(Finding::new(Code::HeavierByTen, Place::Building, detail));
        } else if share > 0.05 {
            findings.push(Finding::new(Code::HeavierByFive, Place::Building, detail));
        }
        findings
    }

    /// The gap beside a freed column that closes before its storey has its strength.
    fn closing_gap(&self, result: &DirectionResult, direction: Direction) -> Option<Finding> {
        self.model.columns.iter().find_map(|column| {
            let gap_mm = column.gap_mm[direction.index()]?;
            let storey = &result.storeys[column.storey as usize - 1];
            let height = self.model.floors[column.storey as usize - 1].height_m;
            let moved = storey.strength_drift_mm * self.model.sill_beside_m(column, direction) / height;
            (moved > gap_mm).then(|| {
                let place = self.model.column_place(column);
                let detail = format!("{place} {}, {moved:.0} mm at the sill", direction.label());
                Finding::new(Code::GapCloses, place, detail)
            })
        })
    }

    /// The line that, without being strengthened, carries more shear than before by the most.
    fn far_side(&self, lateral: &Lateral, standing: &Self) -> Option<Finding> {
        let result = &lateral.result;
        let before = standing.directions.iter().find(|other| other.result.along_x == result.along_x)?;
        let mut worst: Option<(f64, String, String)> = None;
        for line in result.lines.iter().filter(|line| !line.external) {
            let Some(old) = before.result.lines.iter().find(|other| other.name == line.name) else { continue };
            let strengthened = lateral.strengths.storeys[0]
                .iter()
                .any(|member| member.line == line.name && member.class != Class::AsBuilt);
            for (storey, (now, was)) in (1..).zip(line.shear_kn.iter().zip(&old.shear_kn)) {
                let (now, was) = (now.abs(), was.abs());
                let counts = was > 0.05 * before.result.storeys[storey - 1].shear_kn && now > 1.05 * was;
                // A line that was itself strengthened is meant to carry more.
                if !strengthened && counts && worst.as_ref().is_none_or(|(rise, ..)| now / was > *rise) {
                    worst = Some((
                        now / was,
                        line.name.clone(),
                        format!(
                            "{} in storey {storey} ({} kN, was {} kN)",
                            line.name,
                            grouped(now, 0),
                            grouped(was, 0)
                        ),
                    ));
                }
            }
        }
        worst.map(|(_, line, detail)| Finding::new(Code::FarSideWorse, Place::Line { line }, detail))
    }
}

/// What evaluating one direction needs at hand.
struct Case<'a> {
    project: &'a Project,
    framing: &'a Framing,
    assembly: &'a Assembly,
    factored: &'a Factored<'a>,
    motion: &'a hazard::GroundMotion,
    direction: Direction,
}

struct StoreyStrength {
    strength_kn: f64,
    drift_mm: f64,
    failure: Failure,
    lost: Vec<Place>,
}

/// Shear of every member by storey under a response, in the order of [`Strengths`].
fn member_shears(
    model: &Model,
    framing: &Framing,
    direction: Direction,
    response: &Response,
) -> Vec<Vec<(Class, f64)>> {
    member::in_order(model, framing, direction, response)
        .into_iter()
        .map(|storey| storey.into_iter().map(|carried| (carried.class, carried.shear_kn)).collect())
        .collect()
}

/// Ways of failing of columns that deserve a word, counted over the storey that is weakest.
fn failures(result: &DirectionResult, direction: Direction) -> Vec<Finding> {
    let storey = &result.storeys[result.strength_storey as usize - 1];
    let columns: Vec<&MemberResult> =
        storey.members.iter().filter(|member| matches!(member.place, Place::Column { .. })).collect();
    [
        (Failure::Shear, Code::ColumnShearGoverned),
        (Failure::Joint, Code::JointGoverns),
        (Failure::Splice, Code::SpliceGoverns),
        (Failure::Beam, Code::WeakBeams),
    ]
    .into_iter()
    .filter_map(|(failure, code)| {
        let count = columns.iter().filter(|member| member.failure == failure).count();
        let detail = format!("{count} of {} columns in storey {} {}", columns.len(), storey.storey, direction.label());
        (count > 0).then(|| Finding::new(code, Place::Storey { storey: storey.storey }, detail))
    })
    .collect()
}

/// A frame's trouble in words.
fn in_words(error: FrameLineError) -> &'static str {
    match error {
        FrameLineError::Geometry => "its geometry makes no frame",
        FrameLineError::Column { .. } => "a column has no flexible length",
        FrameLineError::Beam { .. } => "a beam has no flexible length",
        FrameLineError::Wall { .. } => "a wall has no stiffness",
        FrameLineError::Base { .. } => "a base is out of range",
        FrameLineError::StoreySpring { .. } => "a masonry panel is out of range",
        FrameLineError::Unstable { .. } => "a joint is held by nothing",
    }
}
