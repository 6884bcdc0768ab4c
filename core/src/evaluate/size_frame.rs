//! The sizing aid for external frames: sizes that reach a target, found by evaluating the whole scheme.
//!
//! Sizes grow together along one row of candidates: column, the beam that goes with it, then bars that keep
//! the beams yielding first. They are evaluated from the smallest up until one is good enough, so all smaller ones
//! were seen to fall short; a larger frame may give less, so nothing is read off between two. One frame is sized,
//! with everything else of the scheme as it stands.

use super::frame_sizes::{FrameSizes, Sought};
use super::{Analysis, Depth, rule_set};
use crate::failure::Failure;
use crate::hazard::{DriftLimit, ImportanceClass};
use crate::project::{Direction, Field, FieldError, Path, Project, Spec, Wire};
use crate::pushover::{CurveEnd, LimitReached};
use crate::rules::{FrameProportions, NotAvailable, Ruled, Rules};
use crate::sections::Sections;
use crate::units::{Dimension, System};
use serde_json::json;

/// What a frame is sized for, along the face it stands before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeTarget {
    /// Its part of the base shear under the elastic forces.
    Share,
    /// Largest base shear of the scheme before gravity support is lost, kN.
    Strength,
    /// Capacity ÷ demand of the scheme.
    CapacityToDemand,
}

impl SizeTarget {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::Share, Self::Strength, Self::CapacityToDemand];

    /// The field its value is typed into.
    pub const fn field(self) -> Field {
        let (key, spec) = match self {
            Self::Share => ("share", Spec::number("Share of the base shear", Dimension::Share, 0.01, 0.95, 0.01)),
            Self::Strength => {
                ("strength_kn", Spec::number("Base shear strength", Dimension::Kilonewtons, 1.0, 1e6, 10.0))
            }
            Self::CapacityToDemand => {
                ("capacity_to_demand", Spec::number("Capacity ÷ demand", Dimension::Number, 0.05, 10.0, 0.05))
            }
        };
        Field { key, spec, control: f64::CONTROL, optional: false }
    }

    /// The figure it is about.
    pub const fn of(self, tried: &TriedSizes) -> f64 {
        match self {
            Self::Share => tried.share,
            Self::Strength => tried.strength_kn,
            Self::CapacityToDemand => tried.capacity_to_demand,
        }
    }
}

/// What sizes give when the scheme is evaluated with them, along the frame's face.
#[derive(Clone, Debug, PartialEq)]
pub struct TriedSizes {
    /// The sizes.
    pub sizes: FrameSizes,
    /// The frame's part of the base shear under the elastic forces.
    pub share: f64,
    /// Largest base shear of the scheme before gravity support is lost, kN.
    pub strength_kn: f64,
    /// Capacity ÷ demand of the scheme along the face.
    pub capacity_to_demand: f64,
    /// The lesser of both directions.
    pub of_scheme: f64,
    /// Largest storey drift at the performance point over the storey's height; `None` where the building does not
    /// follow so far.
    pub drift: Option<f64>,
    /// Least Σ column moments over Σ beam moments at the joints below the frame's top; `None` with one storey.
    pub columns_over_beams: Option<f64>,
    /// The most the frame takes in the lowest storey, kN.
    pub frame_kn: f64,
    /// What limits that.
    pub gives: Failure,
    /// Demand ÷ strength of its connecting slabs, the most used.
    pub slab: Option<f64>,
    /// The first limit along the face, with the end of its curve.
    pub limit: Option<(LimitReached, CurveEnd)>,
}

/// Why nothing larger is proposed where a target is not reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizingStop {
    /// No larger frame fits bays and storeys, or the permitted sizes.
    Largest,
    /// Larger frames were tried and give less.
    LargerGivesLess,
}

/// The outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct SizingOutcome {
    /// What was asked for.
    pub target: SizeTarget,
    /// How much of it.
    pub wanted: f64,
    /// The face the frame stands before.
    pub face: String,
    /// Its direction.
    pub direction: Direction,
    /// The sizes as they are; `None` where their verdict is withheld.
    pub now: Option<TriedSizes>,
    /// The proposal, or the best that was found.
    pub best: TriedSizes,
    /// Whether it reaches the target.
    pub reaches: bool,
    /// Whether it keeps the limit on the storey drift.
    pub keeps_drift: bool,
    /// Of a proposal that reaches the target, the next smaller candidate, which falls short; `None` where it is the
    /// smallest.
    pub smaller: Option<TriedSizes>,
    /// Why it does not reach more; `None` where it reaches the target and keeps the drift.
    pub stop: Option<SizingStop>,
    /// Limit on the storey drift over height by the rule set.
    pub drift_limit: f64,
    /// What the rule set asks of the frame.
    pub proportions: FrameProportions,
    /// Diameter of the stirrups, mm.
    pub stirrup_mm: f64,
    /// How many sizes were evaluated.
    pub evaluated: usize,
}

/// A search under way: [`Sizing::step`] evaluates one candidate at a time.
pub struct Sizing {
    project: Project,
    scheme: usize,
    measure: usize,
    face: String,
    direction: Direction,
    target: SizeTarget,
    wanted: f64,
    rules: &'static dyn Rules,
    system: System,
    drift_limit: f64,
    proportions: FrameProportions,
    stirrup_mm: f64,
    row: Vec<FrameSizes>,
    /// What the sizes as they are give, once evaluated.
    now: Option<Option<TriedSizes>>,
    /// What candidates give, from the smallest; none where the verdict is withheld.
    tried: Vec<Option<TriedSizes>>,
}

/// Importance factors from which a building counts as one of many people, and as needed afterwards (ASCE/SEI 7-22
/// Table 1.5-2, EN 1998-1 4.2.5(5); MEMORY).
const IMPORTANCE: [f64; 2] = [1.0, 1.4];

impl Sizing {
    /// A search over the sizes of an external frame, whole numbers of a system of units.
    ///
    /// # Errors
    /// A target out of its range, by the key of its field; a place that holds no external frame; a frame that no
    /// size fits.
    pub fn new(
        project: &Project,
        scheme: usize,
        measure: usize,
        target: SizeTarget,
        wanted: f64,
        system: System,
    ) -> Result<Self, FieldError> {
        let field = target.field();
        f64::read(&json!(wanted), &Path::Key(&Path::Root, field.key), &field.spec)?;
        let path = format!("schemes[{scheme}].measures[{measure}]");
        let refused = |problem: &str| FieldError {
            path: path.clone(),
            value: String::new(),
            problem: problem.into(),
            permitted: crate::phrase::Phrase::default(),
        };
        let rules = rule_set(project);
        let sought = Sought { project, scheme, measure, rules, system };
        let found = sought.spec().and_then(|spec| Some((spec, project.building.line(&spec.face)?.0)));
        let Some((spec, direction)) = found else { return Err(refused("no external frame is there to be sized")) };
        let missing = |missing: NotAvailable| refused(&missing.to_string());
        let proportions = rules.frame_proportions(spec.concrete_mpa, spec.steel_mpa).map_err(missing)?;
        let importance = match project.ground_motion.importance {
            own if own >= IMPORTANCE[1] => ImportanceClass::Essential,
            own if own > IMPORTANCE[0] => ImportanceClass::High,
            _ => ImportanceClass::Ordinary,
        };
        let storeys = project.building.storeys.len() as u32;
        let building = DriftLimit { storeys, importance, tolerant_partitions: false };
        let (row, refusal) = sought.row(&proportions).map_err(missing)?;
        if row.is_empty() {
            return Err(refusal.unwrap_or_else(|| refused("bays and storeys leave no room for a frame of usual sizes")));
        }
        Ok(Self {
            face: spec.face.clone(),
            direction,
            drift_limit: rules.drift_limit(&building).map_err(missing)?,
            tried: Vec::new(),
            project: project.clone(),
            scheme,
            measure,
            target,
            wanted,
            rules,
            system,
            proportions,
            stirrup_mm: spec.hoop_mm,
            row,
            now: None,
        })
    }

    /// Evaluates what is to be known next; the outcome once nothing more is needed.
    ///
    /// # Errors
    /// Where the verdict is withheld whatever the sizes.
    pub fn step(&mut self) -> Option<Result<SizingOutcome, FieldError>> {
        if self.now.is_none() {
            let sizes = self.sought().spec().map(FrameSizes::of);
            self.now = Some(sizes.and_then(|sizes| self.evaluated(sizes)));
            return None;
        }
        match self.next() {
            Some(place) => {
                self.tried.push(self.evaluated(self.row[place]));
                None
            }
            None => Some(self.outcome().ok_or_else(|| FieldError {
                path: format!("schemes[{}]", self.scheme),
                value: String::new(),
                problem: "the verdict of the scheme is withheld, as its findings say".into(),
                permitted: crate::phrase::Phrase::default(),
            })),
        }
    }

    /// How many sizes have been evaluated.
    pub fn done(&self) -> usize {
        self.tried.len()
    }

    /// How many there are.
    pub fn all(&self) -> usize {
        self.row.len()
    }

    fn sought(&self) -> Sought<'_> {
        Sought {
            project: &self.project,
            scheme: self.scheme,
            measure: self.measure,
            rules: self.rules,
            system: self.system,
        }
    }

    fn found(&self, place: usize) -> Option<&TriedSizes> {
        self.tried.get(place)?.as_ref()
    }

    fn reaches(&self, tried: &TriedSizes) -> bool {
        self.target.of(tried) >= self.wanted
    }

    fn keeps_drift(&self, tried: &TriedSizes) -> bool {
        tried.drift.is_some_and(|drift| drift <= self.drift_limit)
    }

    /// Whether a candidate that was evaluated is good enough; with `strict`, in its drift too.
    fn meets(&self, place: usize, strict: bool) -> bool {
        self.found(place).is_some_and(|tried| self.reaches(tried) && (!strict || self.keeps_drift(tried)))
    }

    /// The candidate to evaluate next: the next larger one, until one is good enough.
    fn next(&self) -> Option<usize> {
        let place = self.done();
        let is_found = place.checked_sub(1).is_some_and(|last| self.meets(last, true));
        (!is_found && place < self.row.len()).then_some(place)
    }

    /// The one with the largest figure.
    fn best(&self) -> Option<usize> {
        let all = (0..self.row.len()).filter_map(|place| Some((place, self.target.of(self.found(place)?))));
        all.reduce(|best, next| if next.1 > best.1 { next } else { best }).map(|(place, _)| place)
    }

    fn outcome(&self) -> Option<SizingOutcome> {
        let first = |strict: bool| (0..self.row.len()).find(|place| self.meets(*place, strict));
        let place = first(true).or_else(|| first(false)).or_else(|| self.best())?;
        let best = self.found(place)?.clone();
        let (reaches, keeps_drift) = (self.reaches(&best), self.keeps_drift(&best));
        let larger = (place + 1..self.row.len()).any(|own| self.found(own).is_some());
        let stop = if larger { SizingStop::LargerGivesLess } else { SizingStop::Largest };
        Some(SizingOutcome {
            target: self.target,
            wanted: self.wanted,
            face: self.face.clone(),
            direction: self.direction,
            now: self.now.clone().flatten(),
            smaller: place.checked_sub(1).filter(|_| reaches).and_then(|own| self.found(own)).cloned(),
            stop: (!reaches || !keeps_drift).then_some(stop),
            best,
            reaches,
            keeps_drift,
            drift_limit: self.drift_limit,
            proportions: self.proportions,
            stirrup_mm: self.stirrup_mm,
            evaluated: self.done(),
        })
    }

    /// What sizes give; `None` where they are refused or the verdict is withheld.
    fn evaluated(&self, sizes: FrameSizes) -> Option<TriedSizes> {
        let project = self.sought().applied(&sizes);
        project.check().ok()?;
        let scheme = project.schemes.get(self.scheme)?;
        let analysis = Analysis::new(&project, Some(scheme), self.rules, Depth::Whole);
        let of_scheme = analysis.capacity_to_demand()?.ratio;
        let along_x = self.direction == Direction::X;
        let result = analysis.directions.iter().map(|own| &own.result).find(|result| result.along_x == along_x)?;
        let capacity = result.capacity.as_ref()?;
        let index = self.sought().index();
        let frame = analysis.model.frames.get(index)?;
        // Lines and members of frames come in the order of the model's.
        let before = analysis.model.frames[..index].iter().filter(|own| own.direction == self.direction).count();
        let line = result.lines.iter().filter(|line| line.external).nth(before)?;
        let lowest = result.storeys.first()?;
        let is_frame = |place: &crate::place::Place| matches!(place, crate::place::Place::FrameColumn { .. });
        let member = lowest.members.iter().filter(|own| is_frame(&own.place)).nth(before)?;
        let slabs = analysis.slabs.iter().filter(|slab| slab.face == frame.spec.face);
        let governing = capacity.governing();
        let at_demand = capacity.at_demand().filter(|_| governing.point.reached);
        let drift = at_demand.map(|point| {
            let ratios = point.drift_mm.iter().zip(&analysis.model.floors);
            ratios.map(|(drift, floor)| (drift / (1000.0 * floor.height_m)).abs()).fold(0.0, f64::max)
        });
        let over = |own: &Sections<'_>| crate::link::columns_over_beams(own, frame);
        let sections: Ruled<_> = Sections::new(&analysis.model, &project.building.materials, self.rules);
        Some(TriedSizes {
            sizes,
            share: if lowest.shear_kn > 0.0 { line.shear_kn.first()? / lowest.shear_kn } else { 0.0 },
            strength_kn: capacity.strength_kn,
            capacity_to_demand: capacity.ratio,
            of_scheme,
            drift,
            columns_over_beams: over(&sections.ok()?).ok()?.into_iter().reduce(f64::min),
            frame_kn: member.strength_kn,
            gives: member.failure,
            slab: slabs.map(|slab| slab.utilisation).reduce(f64::max),
            limit: capacity.limits.first().map(|limit| (limit.reached.clone(), governing.curve.end.clone())),
        })
    }
}
