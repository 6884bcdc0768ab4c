//! The capacity curve of a model in one direction, pattern and sense.

use super::building::BuildingSystem;
use super::members::{Grouping, MemberMode, member_modes, senses_differ};
use super::solver::{Limits, Path, push};
use crate::assembly::{Assembly, Load};
use crate::condensed_line::CondensedLine;
use crate::failure::Failure;
use crate::framing::Framing;
use crate::hinge::HingeStrength;
use crate::model::Model;
use crate::modes::Mode;
use crate::place::Place;
use crate::project::Direction;
use crate::response::Factored;
use serde::Serialize;

/// How the lateral forces spread over the floors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// Mass times the shape of the governing mode.
    FirstMode,
    /// Mass alone.
    Uniform,
}

/// What a push takes beside the model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Storey drift over height at which the push stops.
    pub limit_drift: f64,
    /// Part of the largest base shear at which it stops, having fallen that far.
    pub least_left: f64,
    /// How hinges are taken together.
    pub grouping: Grouping,
}

impl Settings {
    /// Stops at 5 % drift or where less than 45 % of the strength is left; hinges of a line within
    /// a fifth of a per cent of their strength of each other deform together, more in buildings of
    /// more than 180 modes (judgement: where nothing is judged any more, and what costs no second
    /// decimal).
    pub const USUAL: Self =
        Self { limit_drift: 0.05, least_left: 0.45, grouping: Grouping { alike: 0.002, most: 180, apart: None } };
    /// To the very end; only hinges that carry the same to rounding deform together.
    pub const EXACT: Self =
        Self { limit_drift: 0.05, least_left: 0.0, grouping: Grouping { alike: 0.0, most: 0, apart: None } };
}

/// Why a curve ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum CurveEnd {
    /// The drift limit of the push.
    LimitDrift,
    /// Less than half of the strength is left.
    MostLost,
    /// Nothing is left.
    ZeroLoad,
    /// A member is lost at once: no static path goes on.
    SuddenLoss {
        /// The member.
        place: Place,
        /// How it fails.
        failure: Failure,
    },
    /// The building does not stand under its weight at all.
    Unstable,
}

/// What happens to a member.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    /// Begins to yield, slip or crack.
    Yields,
    /// Begins to lose strength.
    LosesStrength,
    /// Gravity support is lost.
    LosesSupport,
}

/// An event on the curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurveEvent {
    /// What happens.
    pub what: What,
    /// How the member fails.
    pub failure: Failure,
    /// Where; the first of those it happens to together.
    pub place: Place,
    /// All places it happens to together, by their number in [`crate::verdict::DirectionCapacity::places`].
    pub places: Vec<u32>,
    /// Storey, from 1.
    pub storey: u32,
    /// Base shear, kN.
    pub base_shear_kn: f64,
    /// Roof displacement, mm.
    pub roof_mm: f64,
    /// Plastic deformation of the building so far: the place on the curve, growing from event to
    /// event even where roof and load go back.
    pub position: f64,
}

/// A point of the curve.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Base shear, kN.
    pub base_shear_kn: f64,
    /// Displacement of the roof at its centre of mass, mm.
    pub roof_mm: f64,
    /// Place on the curve, as of the events.
    pub position: f64,
    /// Storey shear carried by the members, kN.
    pub shear_kn: Vec<f64>,
    /// Storey drift at the centre of mass, mm.
    pub drift_mm: Vec<f64>,
    /// Storey shear by class: as built, strengthened, new, kN.
    pub class_shear_kn: Vec<[f64; 3]>,
    /// Force in each connecting slab, by external frame and level, kN.
    pub slab_kn: Vec<Vec<f64>>,
}

/// A limit of a member's deformation, reached on the curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitReached {
    /// What limits.
    pub limit: LimitKind,
    /// Where.
    pub place: Place,
    /// Storey, from 1.
    pub storey: u32,
    /// How that member fails.
    pub failure: Failure,
    /// Largest roof displacement up to there, mm.
    pub roof_mm: f64,
    /// Base shear there, kN.
    pub base_shear_kn: f64,
    /// Place on the curve.
    pub position: f64,
}

/// What limits the deformation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// A column, a wall, a beam that shears or a brittle connection has the deformation its objective accepts.
    Member,
    /// A column or wall loses gravity support.
    Support,
    /// The base shear has fallen by a fifth from its peak.
    StrengthLoss,
    /// The curve ends.
    CurveEnd,
}

/// A capacity curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CapacityCurve {
    /// Whether the direction is x.
    pub along_x: bool,
    /// How the forces spread.
    pub pattern: Pattern,
    /// Whether the push goes towards higher ordinates.
    pub towards_higher: bool,
    /// From rest to the end.
    pub points: Vec<CurvePoint>,
    /// In order.
    pub events: Vec<CurveEvent>,
    /// Why it ends.
    pub end: CurveEnd,
    /// Largest base shear, kN.
    pub peak_kn: f64,
    /// Roof displacement there, mm.
    pub peak_roof_mm: f64,
    /// What limits the deformation, in order, for the objective asked for.
    pub limits: Vec<LimitReached>,
    /// Mechanism at the first limit, or at the end.
    pub mechanism: Mechanism,
    /// Shape of the pattern's displacement, one at the roof, with the masses it moves, t.
    pub shape: Vec<f64>,
    /// Masses of the floors with the added frames', t.
    pub masses_t: Vec<f64>,
    /// Largest imbalance met, as a part of the shears.
    pub imbalance: f64,
    /// Number of plastic modes.
    pub modes: u32,
}

/// Where plastic deformation has gathered.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Mechanism {
    /// By storey, from the ground up: part of the roof displacement that is drift of that storey.
    pub drift_share: Vec<f64>,
    /// By storey: columns yielding at head, at foot, slipping, and how many ends and columns there are.
    pub column_heads: Vec<[u32; 2]>,
    /// Feet yielding, and all.
    pub column_feet: Vec<[u32; 2]>,
    /// Columns slipping in shear.
    pub column_shears: Vec<u32>,
    /// Beam ends yielding, and all.
    pub beam_ends: Vec<[u32; 2]>,
    /// Beams slipping in shear.
    pub beam_shears: Vec<u32>,
    /// Joints cracking.
    pub joints: Vec<u32>,
    /// Walls turning at a foot, rocking included.
    pub wall_feet: Vec<u32>,
    /// Walls sliding.
    pub wall_shears: Vec<u32>,
    /// Connecting slabs slipping.
    pub slabs: Vec<u32>,
    /// Edges of wing walls and faces of jackets slipping.
    pub added: Vec<u32>,
    /// Lines along which the old floor shears or its collector yields.
    pub floor_edges: Vec<u32>,
    /// Walls and external frames sliding on the ground.
    pub sliding: u32,
}

/// What a curve is made from.
pub struct Setup<'a> {
    /// The model.
    pub model: &'a Model,
    /// Its frames.
    pub framing: &'a Framing,
    /// The assembly with second-order effects as wanted, factored.
    pub factored: &'a Factored<'a>,
    /// Governing mode of the direction.
    pub mode: &'a Mode,
    /// Places of plastic deformation in the direction.
    pub hinges: &'a [HingeStrength],
    /// The direction.
    pub direction: Direction,
    /// Objective whose limits are read: 0 immediate use, 1 life safety, 2 near collapse.
    pub level: usize,
    /// Factor on the deformations accepted for existing members, strengthened ones included.
    pub knowledge: f64,
    /// Settings.
    pub settings: Settings,
}

/// A push that came to its end.
pub(super) struct Run<'a, 'b> {
    pub(super) system: &'a BuildingSystem<'b>,
    pub(super) path: &'a Path,
    pub(super) modes: &'a [MemberMode],
    /// +1 towards higher ordinates, −1 towards lower.
    pub(super) sense: f64,
    shape: &'a [f64],
    masses_t: &'a [f64],
}

/// A mode whose roof moves less than this part of its largest floor, or whose pattern sums to less
/// than this part of the mass, is not one to scale to the roof (judgement, no source).
const LEAST_ROOF: f64 = 0.2;

impl Setup<'_> {
    /// Pushes the model.
    pub fn curve(&self, pattern: Pattern, towards_higher: bool) -> CapacityCurve {
        self.pushed(pattern, towards_higher, |run| {
            let shape = run.shape.to_vec();
            self.read(run.system, run.path, run.modes, run.sense, pattern, shape, run.masses_t.to_vec())
        })
    }

    /// Pushes the model and hands what came of it to `read`.
    pub(super) fn pushed<T>(&self, pattern: Pattern, towards_higher: bool, read: impl FnOnce(&Run<'_, '_>) -> T) -> T {
        let assembly = self.factored.assembly();
        let sense = if towards_higher { 1.0 } else { -1.0 };
        let (load, shape, masses) = self.pattern(assembly, pattern, sense);
        let response = self.factored.solve(&load);
        let modes = member_modes(self.model, self.framing, self.hinges, &response, self.settings.grouping);
        let envelopes: Vec<_> = modes.iter().map(|mode| mode.envelopes.clone()).collect();
        let lines: Vec<&CondensedLine> = self.framing.lines.iter().map(|line| &line.condensed).collect();
        let linked: Vec<&CondensedLine> = self.framing.frames.iter().map(|frame| &frame.condensed).collect();
        let plastic = modes.iter().map(|mode| mode.mode.clone()).collect();
        let mut system = BuildingSystem::new(self.factored, lines, linked, &load, self.direction, plastic);
        let watched = super::solver::System::watched(&system);
        let path = push(
            &mut system,
            &envelopes,
            &Limits { watched: vec![self.settings.limit_drift; watched], least_left: self.settings.least_left },
        );
        read(&Run { system: &system, path: &path, modes: &modes, sense, shape: &shape, masses_t: &masses })
    }

    /// Period of the direction, s: Rayleigh's under the pattern of the first mode; `plain` is the
    /// assembly without second-order effects.
    ///
    /// It is the period of the governing mode where the plan does not turn. Where it does, no single
    /// mode is the response to forces along one direction, and the period of one would not belong
    /// to the stiffness of the push (judgement).
    pub fn period_s(&self, plain: &Factored<'_>) -> f64 {
        plain.rayleigh_period_s(&self.pattern(plain.assembly(), Pattern::FirstMode, 1.0).0)
    }

    /// Whether pushing one way and the other differ: not where the building is its own mirror image,
    /// so that every hinge has a counterpart with the same elastic force and the strengths of its
    /// two senses exchanged.
    pub fn senses_differ(&self) -> bool {
        let (load, ..) = self.pattern(self.factored.assembly(), Pattern::FirstMode, 1.0);
        let response = self.factored.solve(&load);
        senses_differ(self.model, self.framing, self.hinges, &response)
    }

    /// Forces that sum to 1 kN, with the shape and masses of the equivalent single mass.
    ///
    /// A mode that hardly moves the roof (a local one, or one that twists about it), or pushes as
    /// much one way as the other, cannot be scaled to the roof: its forces are uniform and its shape
    /// a straight line.
    fn pattern(&self, assembly: &Assembly, pattern: Pattern, sense: f64) -> (Load, Vec<f64>, Vec<f64>) {
        let along = self.direction;
        let floors: Vec<f64> = self.mode.floors.iter().map(|floor| floor.along(along)).collect();
        let roof = floors.last().copied().unwrap_or(0.0);
        let most = floors.iter().fold(0.0_f64, |most, own| most.max(own.abs()));
        let linked_mass = |i: usize| assembly.linked.iter().filter_map(move |line| line.mass_t.get(i)).sum::<f64>();
        let masses: Vec<f64> =
            assembly.floors.iter().enumerate().map(|(i, floor)| floor.mass_t + linked_mass(i)).collect();
        let moved = |k: usize, i: usize| self.mode.linked.get(k).and_then(|own| own.get(i)).copied().unwrap_or(0.0);
        if roof.abs() >= LEAST_ROOF * most && roof != 0.0 {
            let shape: Vec<f64> = floors.iter().map(|own| own / roof).collect();
            let (load, sum) = self.load(assembly, sense, &|i| shape[i], &|k, i| moved(k, i) / roof);
            if sum > LEAST_ROOF * masses.iter().sum::<f64>() {
                let load = match pattern {
                    Pattern::FirstMode => load,
                    Pattern::Uniform => self.load(assembly, sense, &|_| 1.0, &|_, _| 1.0).0,
                };
                return (load, shape, masses);
            }
        }
        let height = self.model.floors.last().map_or(1.0, |floor| floor.level_m);
        let straight = self.model.floors.iter().map(|floor| floor.level_m / height).collect();
        (self.load(assembly, sense, &|_| 1.0, &|_, _| 1.0).0, straight, masses)
    }

    /// Masses times the accelerations of floors and of linked lines, scaled to 1 kN in all, with
    /// the sum they had.
    fn load(
        &self,
        assembly: &Assembly,
        sense: f64,
        of_floor: &dyn Fn(usize) -> f64,
        of_linked: &dyn Fn(usize, usize) -> f64,
    ) -> (Load, f64) {
        let along = self.direction;
        let mut load = assembly.no_load();
        let mut sum = 0.0;
        for (i, floor) in assembly.floors.iter().enumerate() {
            load.floors[i].push(along, sense * floor.mass_t * of_floor(i), 0.0);
            sum += floor.mass_t * of_floor(i);
        }
        for (k, line) in assembly.linked.iter().enumerate() {
            for (i, mass) in line.mass_t.iter().enumerate() {
                if line.direction == along {
                    load.linked_kn[k][i] = sense * mass * of_linked(k, i);
                    sum += mass * of_linked(k, i);
                } else {
                    let offset = line.middle_m - assembly.floors[i].along(along.across());
                    load.floors[i].push(along, sense * mass * of_floor(i), offset);
                    sum += mass * of_floor(i);
                }
            }
        }
        if sum != 0.0 {
            for floor in &mut load.floors {
                floor.x_kn /= sum;
                floor.y_kn /= sum;
                floor.moment_kn_m /= sum;
            }
            for force in load.linked_kn.iter_mut().flatten() {
                *force /= sum;
            }
        }
        (load, sum)
    }
}
