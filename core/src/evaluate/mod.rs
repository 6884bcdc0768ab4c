//! The whole evaluation: a checked project in, a study out.
//!
//! Model → frames → plan assembly → periods → elastic demand → forces → member strengths →
//! storey strengths → capacity curves → verdict → connections → works. Nothing here panics or fails: what cannot
//! be computed is withheld and said in a finding.

mod acting;
mod capacity;
mod direction;
mod foresight;
mod frame_sizes;
mod other_set;
mod propose;
mod size_frame;
mod spectrum;
mod stages;
mod summary;
mod trial;
mod watch;

pub use acting::{Upright, end_moments};
pub use foresight::{Dial, Foreseen, Foresight, PassLine, Passing};
pub use frame_sizes::FrameSizes;
pub use other_set::by_other_set;
pub use propose::{Proposed, propose_slab};
pub use size_frame::{SizeTarget, Sizing, SizingOutcome, SizingStop, TriedSizes};
pub use spectrum::{SpectrumPoint, elastic_spectrum};
pub use stages::{LESS, MORE_ECCENTRIC, StageResult, StageStorey, stage};
pub use trial::{Change, Trial, trials, tried};

use crate::assembly::Assembly;
use crate::connection::ConnectionResult;
use crate::finding::{CAUTIONS, Code, Finding};
use crate::frame_line::FrameLineError;
use crate::framing::{Framing, Unframed};
use crate::hazard;
use crate::member::{self, Strengths};
use crate::model::Model;
use crate::modes::Mode;
use crate::place::Place;
use crate::project::{Direction, Project, Scheme, WorkingTimes};
use crate::response::Factored;
use crate::rules::{self, Ruled, Rules};
use crate::study::{Added, DirectionResult, OptionKind, OptionResult, Programmed, SlabResult, StoreyFacts, Study};
use crate::works::{self, Basis};

/// How far an evaluation goes.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Depth {
    /// Elastic forces and strengths; capacity curves are left for later.
    Elastic,
    /// With capacity curves.
    Whole,
    /// The same with a storey changed.
    Tried(Change),
}

/// Evaluates a whole project.
pub fn study(project: &Project) -> Study {
    study_to(project, Depth::Whole)
}

/// Evaluates a project without its capacity curves, which cost most: every option is pending until
/// [`whole_option`] has given it its own.
pub fn outline(project: &Project) -> Study {
    study_to(project, Depth::Elastic)
}

fn study_to(project: &Project, depth: Depth) -> Study {
    let rules = rule_set(project);
    let standing = Analysis::new(project, None, rules, depth);
    let floors = &standing.model.floors;
    let beside = standing.as_standing();
    let mut options = vec![standing.option(project, OptionKind::AsItStands, &beside)];
    options.extend((0..project.schemes.len()).filter_map(|index| scheme_option(project, index, &beside, depth)));
    options.push(rebuild(project, floors.iter().map(|floor| floor.area_m2).sum()));
    Study {
        project: project.name.clone(),
        rules: rules.title().to_owned(),
        ground_motion: spectrum_in_words(project),
        weight_kn: beside.weight_kn,
        floor_area_m2: floors.iter().map(|floor| floor.area_m2).sum(),
        storeys: StoreyFacts::of(floors),
        options,
        cautions: cautions(project),
    }
}

/// The cautions that go with every figure of a project.
fn cautions(project: &Project) -> Vec<String> {
    let motion = &project.ground_motion;
    let own = match Basis::of(project).own_figures() {
        0 => None,
        1 => Some("One rate or assumption of the works is the project's own.".to_owned()),
        count => Some(format!("{count} rates and assumptions of the works are the project's own.")),
    };
    CAUTIONS
        .iter()
        .map(|caution| (*caution).to_owned())
        .chain((!motion.note.is_empty()).then(|| format!("Ground motion as given: {}.", motion.note)))
        .chain(own)
        .collect()
}

/// Renews what rests on the rates and assumptions of the works: labour, closed rooms, and the caution
/// that names what is the project's own. Nothing else of a study does.
pub fn renew_works(project: &Project, study: &mut Study) {
    study.cautions = cautions(project);
    for option in &mut study.options {
        match option.kind {
            OptionKind::AsItStands => {}
            OptionKind::Scheme { index } => {
                if let Some(scheme) = project.schemes.get(index) {
                    let model = Model::new(&project.building, scheme);
                    option.works = Some(works::evaluate(&model, project, scheme));
                    option.programme_pending = !scheme.measures.is_empty();
                }
            }
            OptionKind::Rebuild => option.works = Some(works::rebuild(project, study.floor_area_m2)),
        }
    }
}

/// What the programme of a scheme comes to in given working times; `None` where there is no such scheme or nothing is
/// done. Apart from the rest, since it may cost as much as everything else together.
pub fn programmed(project: &Project, index: usize, times: &WorkingTimes) -> Option<Programmed> {
    let all = works::programme::of_scheme(project, project.schemes.get(index)?, times);
    let spilled = <[u32; 3]>::try_from(all.iter().map(|own| own.spilled.len() as u32).collect::<Vec<_>>()).ok()?;
    let paces = <[_; 3]>::try_from(all.into_iter().map(|own| own.figures).collect::<Vec<_>>()).ok()?;
    Some(Programmed { paces, spilled })
}

/// Evaluates one scheme of a project; `None` if there is no such scheme.
pub fn option(project: &Project, index: usize) -> Option<OptionResult> {
    let standing = Analysis::new(project, None, rule_set(project), Depth::Whole);
    scheme_option(project, index, &standing.as_standing(), Depth::Whole)
}

/// Evaluates one option beside a study of the same building, ground motion and rule set, whose
/// results for the building as it stands are taken as they are; `None` if there is no such option.
/// A scheme's strength gain is withheld while the building as it stands is pending.
pub fn whole_option(project: &Project, kind: OptionKind, study: &Study) -> Option<OptionResult> {
    beside(project, kind, study, Depth::Whole)
}

/// The same without its capacity curves: what a drag of a slider shows first.
pub fn outline_option(project: &Project, kind: OptionKind, study: &Study) -> Option<OptionResult> {
    beside(project, kind, study, Depth::Elastic)
}

fn beside(project: &Project, kind: OptionKind, study: &Study, depth: Depth) -> Option<OptionResult> {
    match kind {
        OptionKind::AsItStands => {
            let standing = Analysis::new(project, None, rule_set(project), depth);
            Some(standing.option(project, kind, &standing.as_standing()))
        }
        OptionKind::Scheme { index } => {
            let standing = study.options.iter().find(|option| option.kind == OptionKind::AsItStands)?;
            let beside = Standing { weight_kn: study.weight_kn, directions: standing.directions.iter().collect() };
            scheme_option(project, index, &beside, depth)
        }
        OptionKind::Rebuild => study.options.iter().find(|option| option.kind == kind).cloned(),
    }
}

/// The scheme of an option; `None` for the building as it stands, and an outer `None` where there is no
/// such scheme or nothing of the building is left.
fn scheme_of(project: &Project, kind: OptionKind) -> Option<Option<&Scheme>> {
    match kind {
        OptionKind::AsItStands => Some(None),
        OptionKind::Scheme { index } => project.schemes.get(index).map(Some),
        OptionKind::Rebuild => None,
    }
}

fn scheme_option(project: &Project, index: usize, standing: &Standing, depth: Depth) -> Option<OptionResult> {
    let scheme = project.schemes.get(index)?;
    let analysis = Analysis::new(project, Some(scheme), rule_set(project), depth);
    Some(analysis.option(project, OptionKind::Scheme { index }, standing))
}

/// What a scheme is compared with: the building as it stands.
struct Standing<'a> {
    /// Its seismic weight, kN.
    weight_kn: f64,
    directions: Vec<&'a DirectionResult>,
}

/// The rule set of a project; only complete ones pass its check.
fn rule_set(project: &Project) -> &'static dyn Rules {
    rules::by_key(project.rules.key()).unwrap_or_else(rules::first)
}

/// The project's ground motion as rule sets take it.
fn ground_motion(project: &Project) -> hazard::GroundMotion {
    let motion = &project.ground_motion;
    let hazard = match &motion.by_ground {
        _ if !motion.table.is_empty() => {
            hazard::Hazard::Table(motion.table.iter().map(|point| [point.period_s, point.acceleration_g]).collect())
        }
        Some(own) => hazard::Hazard::GroundAcceleration { rock_g: own.rock_g, ground: own.ground, shape: own.shape },
        None => hazard::Hazard::TwoOrdinates {
            short_g: motion.sxs_g,
            one_second_g: motion.sx1_g,
            rock_one_second_g: 0.0,
            long_period_s: motion.tl_s,
        },
    };
    hazard::GroundMotion { hazard, damping: motion.damping, importance: motion.importance }
}

/// The shaking in a sentence.
fn spectrum_in_words(project: &Project) -> String {
    let motion = &project.ground_motion;
    let objective = motion.objective.label();
    if !motion.table.is_empty() {
        return format!("Spectrum as pasted, {} points; {objective}", motion.table.len());
    }
    let importance =
        if motion.importance == 1.0 { String::new() } else { format!(", importance factor {}", motion.importance) };
    match &motion.by_ground {
        Some(own) => format!(
            "{} g on rock, ground type {}, spectrum {}{importance}; {objective}",
            own.rock_g,
            own.ground.label(),
            own.shape.label()
        ),
        None => format!("Plateau {} g, {} g at one second{importance}; {objective}", motion.sxs_g, motion.sx1_g),
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
        measures: vec!["Demolish and build new".into()],
        pending: false,
        directions: Vec::new(),
        strength_gain: None,
        strength_to_demand: None,
        ductility_needed: None,
        capacity_to_demand: None,
        weakest: None,
        added: Added::default(),
        works: Some(works::rebuild(project, floor_area_m2)),
        programme: None,
        programme_pending: false,
        slabs: Vec::new(),
        connections: Vec::new(),
        findings: vec![Finding::new(Code::RebuildByCode, Place::Building, "")],
    }
}

/// One option carried through the mechanics.
struct Analysis<'p> {
    scheme: Option<&'p Scheme>,
    model: Model,
    rules: &'static dyn Rules,
    depth: Depth,
    directions: Vec<Lateral>,
    slabs: Vec<SlabResult>,
    connections: Vec<ConnectionResult>,
    findings: Vec<Finding>,
}

/// What one direction gives.
struct Lateral {
    result: DirectionResult,
    /// Strengths of members by storey.
    strengths: Strengths,
}

/// What one direction gives, with its connections.
struct Found {
    lateral: Lateral,
    slabs: Vec<SlabResult>,
    connections: Vec<ConnectionResult>,
}

impl<'p> Analysis<'p> {
    fn new(project: &'p Project, scheme: Option<&'p Scheme>, rules: &'static dyn Rules, depth: Depth) -> Self {
        let nothing = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
        let model = Model::new(&project.building, scheme.unwrap_or(&nothing));
        let mut analysis = Self {
            scheme,
            model,
            rules,
            depth,
            directions: Vec::new(),
            slabs: Vec::new(),
            connections: Vec::new(),
            findings: Vec::new(),
        };
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
            analysis.connections.clear();
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
        // The same with what its weight adds to the overturning when it leans.
        let leaning = Assembly { p_delta: true, ..assembly.clone() };
        let leaning = leaning.factor().ok();
        if leaning.is_none() {
            self.findings.push(unstable("under its own weight it does not come back from a small sway"));
        }
        let motion = ground_motion(project);
        let mut directions = Vec::new();
        let (mut slabs, mut connections) = (Vec::new(), Vec::new());
        for direction in Direction::BOTH {
            let found = match (modes.governing(direction), modes.governing_mass_ratio(direction)) {
                (Some(mode), Some(mass)) => self.direction(
                    &Case {
                        project,
                        framing,
                        assembly: &assembly,
                        factored: &factored,
                        leaning: leaning.as_ref(),
                        motion: &motion,
                        direction,
                        mode,
                    },
                    mass,
                )?,
                _ => None,
            };
            let Some(Found { lateral, slabs: own, connections: joints }) = found else {
                self.findings.push(unstable(&format!("no resistance {}", direction.label())));
                return Ok(());
            };
            directions.push(lateral);
            slabs.extend(own);
            connections.extend(joints);
        }
        self.directions = directions;
        self.slabs = slabs;
        self.connections = connections;
        Ok(())
    }

    /// As what others are compared with.
    fn as_standing(&self) -> Standing<'_> {
        Standing {
            weight_kn: self.model.floors.iter().map(|floor| floor.weight_kn).sum(),
            directions: self.directions.iter().map(|lateral| &lateral.result).collect(),
        }
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
}

/// What evaluating one direction needs at hand.
struct Case<'a> {
    project: &'a Project,
    framing: &'a Framing,
    assembly: &'a Assembly,
    factored: &'a Factored<'a>,
    /// With second-order effects; none where the building does not stand with them.
    leaning: Option<&'a Factored<'a>>,
    motion: &'a hazard::GroundMotion,
    direction: Direction,
    /// Governing mode of the direction.
    mode: &'a Mode,
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
