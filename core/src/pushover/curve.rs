//! The capacity curve of a model in one direction, pattern and sense.

use super::building::{BuildingSystem, State};
use super::members::{Grouping, MemberMode, member_modes, senses_differ};
use super::solver::{Change, End, Limits, Path, Point, push};
use crate::assembly::{Assembly, Load};
use crate::condensed_line::CondensedLine;
use crate::failure::Failure;
use crate::framing::Framing;
use crate::hinge::HingeStrength;
use crate::model::Model;
use crate::modes::Mode;
use crate::order;
use crate::place::{Class, Place};
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
    /// more than 160 modes (judgement: where nothing is judged any more, and what costs no second
    /// decimal).
    pub const USUAL: Self =
        Self { limit_drift: 0.05, least_left: 0.45, grouping: Grouping { alike: 0.002, most: 160 } };
    /// To the very end, hinge by hinge.
    pub const EXACT: Self = Self { limit_drift: 0.05, least_left: 0.0, grouping: Grouping { alike: 0.0, most: 0 } };
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
    /// A column, wall or brittle connecting slab has the deformation its objective accepts.
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
    /// Joints cracking.
    pub joints: Vec<u32>,
    /// Walls turning at a foot, rocking included.
    pub wall_feet: Vec<u32>,
    /// Walls sliding.
    pub wall_shears: Vec<u32>,
    /// Connecting slabs slipping.
    pub slabs: Vec<u32>,
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

/// Points kept of a curve, at most: those that change it least go first.
const MOST_POINTS: usize = 32;
/// A mode whose roof moves less than this part of its largest floor, or whose pattern sums to less
/// than this part of the mass, is not one to scale to the roof (judgement, no source).
const LEAST_ROOF: f64 = 0.2;

impl Setup<'_> {
    /// Pushes the model.
    pub fn curve(&self, pattern: Pattern, towards_higher: bool) -> CapacityCurve {
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
        self.read(&system, &path, &modes, sense, pattern, shape, masses)
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
            if pattern == Pattern::Uniform {
                return (self.load(assembly, sense, &|_| 1.0, &|_, _| 1.0).0, shape, masses);
            }
            let (load, sum) = self.load(assembly, sense, &|i| shape[i], &|k, i| moved(k, i) / roof);
            if sum > LEAST_ROOF * masses.iter().sum::<f64>() {
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

    #[expect(clippy::too_many_arguments, reason = "a path and what it was made from")]
    fn read(
        &self,
        system: &BuildingSystem<'_>,
        path: &Path,
        modes: &[MemberMode],
        sense: f64,
        pattern: Pattern,
        shape: Vec<f64>,
        masses_t: Vec<f64>,
    ) -> CapacityCurve {
        let roofs: Vec<f64> = path
            .points
            .iter()
            .map(|point| {
                let floors = system.motions(point);
                floors.last().map_or(0.0, |floor| 1000.0 * sense * floor.along(self.direction))
            })
            .collect();
        let peak =
            (0..roofs.len()).fold(0, |most, k| if path.points[k].load > path.points[most].load { k } else { most });
        let history = History::new(path, modes.len());
        let events = self.events(path, &history, modes, &roofs);
        let limits = self.limits(path, &history, modes, &roofs, peak, &events);
        let at = limits.first().map_or(f64::INFINITY, |limit| limit.position);
        let known = path.points.iter().position(|point| point.accumulated >= at).unwrap_or(path.points.len() - 1);
        let mechanism = self.mechanism(&path.points[known], &system.state(&path.points[known]), modes, sense);
        // Balance is seen at the points kept: the forces of every point come from its totals.
        let mut imbalance = path.residual;
        let mut points = Vec::with_capacity(MOST_POINTS);
        // The elastic step ends at the first point, and the first limit is read between its neighbours.
        let staying = [peak, 1, known.saturating_sub(1), known];
        for k in thinned(&path.points, &roofs, &staying) {
            let (point, state) = (&path.points[k], system.state(&path.points[k]));
            imbalance = imbalance.max(system.imbalance(point, &state, self.direction));
            points.push(self.point(system, point, &state, roofs[k], sense));
        }
        let end = match path.end {
            End::LimitDrift { .. } => CurveEnd::LimitDrift,
            End::LeastLeft => CurveEnd::MostLost,
            End::ZeroLoad => CurveEnd::ZeroLoad,
            End::SuddenLoss { mode } => {
                let hinge = &self.hinges[modes[mode].hinges[0]];
                CurveEnd::SuddenLoss { place: hinge.place.clone(), failure: hinge.failure }
            }
        };
        CapacityCurve {
            along_x: self.direction == Direction::X,
            pattern,
            towards_higher: sense > 0.0,
            points,
            events,
            end,
            peak_kn: path.points[peak].load,
            peak_roof_mm: roofs[peak],
            limits,
            mechanism,
            shape,
            masses_t,
            imbalance,
            modes: modes.len() as u32,
        }
    }

    fn events(&self, path: &Path, history: &History, modes: &[MemberMode], roofs: &[f64]) -> Vec<CurveEvent> {
        let mut events = Vec::new();
        let mut yielded = vec![false; 2 * modes.len()];
        for event in &path.events {
            let mode = &modes[event.mode];
            let pieces = &mode.envelopes[event.sense].pieces;
            let loses = |piece: usize| pieces.get(piece).is_some_and(|piece| piece.slope < 0.0);
            let side = 2 * event.mode + event.sense;
            let what = match event.change {
                Change::Yields(piece) if !yielded[side] => {
                    yielded[side] = true;
                    if loses(piece) { What::LosesStrength } else { What::Yields }
                }
                Change::Reaches(piece) if loses(piece) => What::LosesStrength,
                _ => continue,
            };
            let hinge = &self.hinges[mode.hinges[0]];
            events.push(CurveEvent {
                what,
                failure: hinge.failure,
                place: hinge.place.clone(),
                places: numbers(mode),
                storey: hinge.storey,
                base_shear_kn: path.points[event.point].load,
                roof_mm: roofs[event.point],
                position: path.points[event.point].accumulated,
            });
        }
        for (index, mode) in modes.iter().enumerate() {
            let hinge = &self.hinges[mode.hinges[0]];
            for (sense, resistance) in hinge.senses.iter().enumerate() {
                let Some(loss) = resistance.map(|it| it.loss).filter(|loss| loss.is_finite() && hinge.vertical) else {
                    continue;
                };
                let Some((k, part)) = history.passes(index, sense, loss) else { continue };
                let between = |values: &dyn Fn(usize) -> f64| values(k) + part * (values(k + 1) - values(k));
                events.push(CurveEvent {
                    what: What::LosesSupport,
                    failure: hinge.failure,
                    place: hinge.place.clone(),
                    places: numbers(mode),
                    storey: hinge.storey,
                    base_shear_kn: between(&|k| path.points[k].load),
                    roof_mm: between(&|k| roofs[k]),
                    position: between(&|k| path.points[k].accumulated),
                });
            }
        }
        order::sort_by(&mut events, |one, other| one.position.total_cmp(&other.position));
        events
    }

    /// Limits in order; of members of one storey that fail the same way only the first.
    fn limits(
        &self,
        path: &Path,
        history: &History,
        modes: &[MemberMode],
        roofs: &[f64],
        peak: usize,
        events: &[CurveEvent],
    ) -> Vec<LimitReached> {
        let mut found: Vec<LimitReached> = Vec::new();
        let furthest: Vec<f64> = roofs
            .iter()
            .scan(0.0_f64, |most, &roof| {
                *most = most.max(roof);
                Some(*most)
            })
            .collect();
        let mut add = |limit, place: Place, storey, failure, (k, part): (usize, f64)| {
            let next = (k + 1).min(roofs.len() - 1);
            let between = |values: &dyn Fn(usize) -> f64| values(k) + part * (values(next) - values(k));
            found.push(LimitReached {
                limit,
                place,
                storey,
                failure,
                roof_mm: between(&|k| roofs[k]).max(furthest[k]),
                base_shear_kn: between(&|k| path.points[k].load),
                position: between(&|k| path.points[k].accumulated),
            });
        };
        for (index, mode) in modes.iter().enumerate() {
            let hinge = &self.hinges[mode.hinges[0]];
            if !hinge.vertical {
                continue;
            }
            for (side, resistance) in hinge.senses.iter().enumerate() {
                let Some(resistance) = resistance else { continue };
                let known = if hinge.class == Class::New { 1.0 } else { self.knowledge };
                let mut accepted = known * resistance.accepted[self.level];
                // A drift limit in all counts from rest, the plastic part from the elastic one.
                if resistance.onset[1] > 0.0 {
                    accepted = (accepted - resistance.strength / own_stiffness(mode)).max(0.0);
                }
                let kind = if resistance.loss < accepted { LimitKind::Support } else { LimitKind::Member };
                if let Some(at) = history.passes(index, side, accepted.min(resistance.loss)) {
                    add(kind, hinge.place.clone(), hinge.storey, hinge.failure, at);
                }
            }
        }
        // What the whole building's limits come from: the most members that had lost strength by then.
        let behind = |position: f64| {
            let losing = events.iter().filter(|event| event.what == What::LosesStrength && event.position <= position);
            let most = losing.max_by_key(|event| event.places.len());
            most.or_else(|| events.iter().rfind(|event| event.position <= position))
                .map_or((Place::Building, 0, Failure::Flexure), |event| {
                    (event.place.clone(), event.storey, event.failure)
                })
        };
        let most = path.points[peak].load;
        let fallen = (peak..path.points.len().saturating_sub(1)).find(|&k| path.points[k + 1].load < 0.8 * most);
        if let Some(k) = fallen {
            let (from, to) = (path.points[k].load, path.points[k + 1].load);
            let (place, storey, failure) = behind(path.points[k].accumulated);
            add(LimitKind::StrengthLoss, place, storey, failure, (k, (from - 0.8 * most) / (from - to)));
        }
        let last = path.points.len() - 1;
        let (place, storey, failure) = behind(path.points[last].accumulated);
        add(LimitKind::CurveEnd, place, storey, failure, (last, 0.0));
        order::sort_by(&mut found, |one, other| one.position.total_cmp(&other.position));
        let mut kept: Vec<LimitReached> = Vec::new();
        for limit in found {
            let key = |it: &LimitReached| (it.limit, it.storey, it.failure);
            if !kept.iter().any(|own| key(own) == key(&limit)) {
                kept.push(limit);
            }
        }
        kept
    }

    fn point(&self, system: &BuildingSystem<'_>, point: &Point, state: &State, roof_mm: f64, sense: f64) -> CurvePoint {
        let count = self.model.floors.len();
        let mut shear = vec![0.0; count];
        let mut class = vec![[0.0; 3]; count];
        let place = |class: Class| Class::ALL.iter().position(|own| *own == class).unwrap_or(0);
        let mut add = |s: usize, own: Class, value: f64| {
            shear[s] += sense * value;
            class[s][place(own)] += sense * value;
        };
        for (index, line) in self.framing.lines.iter().enumerate().filter(|(_, line)| line.direction == self.direction)
        {
            let shears = system.member_shears(index, point, state);
            for s in 0..count {
                for end in 0..self.model.along(self.direction).len() {
                    let inside = line.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
                    let column = self.model.column_on(self.direction, line.line, end, s as u32 + 1);
                    if let (Some(column), false) = (column, inside) {
                        add(s, column.class(), shears.column(s, end));
                    }
                }
            }
            for (wall, value) in line.walls.iter().zip(&shears.walls) {
                add(wall.storey as usize - 1, wall.class, *value);
            }
            for (&panel, value) in line.masonry.iter().zip(&shears.springs) {
                add(self.model.masonry[panel].storey as usize - 1, Class::AsBuilt, *value);
            }
        }
        for (k, frame) in self.model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == self.direction) {
            let own = &state.storey_shear_kn[self.framing.lines.len() + k];
            for (s, value) in own.iter().enumerate().take(frame.storeys as usize) {
                add(s, Class::New, *value);
            }
        }
        CurvePoint {
            base_shear_kn: point.load,
            roof_mm,
            position: point.accumulated,
            shear_kn: shear,
            drift_mm: drifts(state, self.direction, sense),
            class_shear_kn: class,
            slab_kn: state.slab_kn.iter().map(|row| row.iter().map(|force| sense * force).collect()).collect(),
        }
    }

    fn mechanism(&self, point: &Point, state: &State, modes: &[MemberMode], sense: f64) -> Mechanism {
        let count = self.model.floors.len();
        let drift = drifts(state, self.direction, sense);
        let roof: f64 = drift.iter().sum();
        let mut found = Mechanism {
            drift_share: drift.iter().map(|own| if roof == 0.0 { 0.0 } else { own / roof }).collect(),
            column_heads: vec![[0; 2]; count],
            column_feet: vec![[0; 2]; count],
            column_shears: vec![0; count],
            beam_ends: vec![[0; 2]; count],
            joints: vec![0; count],
            wall_feet: vec![0; count],
            wall_shears: vec![0; count],
            slabs: vec![0; count],
        };
        let mut moved = vec![false; modes.len()];
        for &(mode, amplitude) in &point.plastic {
            moved[mode] = amplitude != 0.0;
        }
        for (mode, moved) in modes.iter().zip(moved) {
            for &index in &mode.hinges {
                let hinge = &self.hinges[index];
                let s = hinge.storey as usize - 1;
                let yields = u32::from(moved);
                use crate::line_mode::Hinge::{BeamEnd, ColumnEnd, ColumnShear, WallFoot, WallShear};
                match (hinge.failure, hinge.hinges.first()) {
                    (Failure::Joint, _) => found.joints[s] += yields,
                    (_, Some(ColumnEnd { top, .. })) => {
                        let ends = if *top { &mut found.column_heads[s] } else { &mut found.column_feet[s] };
                        ends[0] += yields;
                        ends[1] += 1;
                    }
                    (_, Some(ColumnShear { .. })) => found.column_shears[s] += yields,
                    (_, Some(BeamEnd { .. })) => {
                        found.beam_ends[s][0] += yields;
                        found.beam_ends[s][1] += 1;
                    }
                    (_, Some(WallFoot { .. })) => found.wall_feet[s] += yields,
                    (_, Some(WallShear { .. })) => found.wall_shears[s] += yields,
                    (Failure::Slab, _) => found.slabs[s] += yields,
                    _ => {}
                }
            }
        }
        found
    }
}

fn numbers(mode: &MemberMode) -> Vec<u32> {
    mode.hinges.iter().map(|&hinge| hinge as u32).collect()
}

fn own_stiffness(mode: &MemberMode) -> f64 {
    match &mode.mode {
        super::PlasticMode::Members(parts) => {
            parts.iter().map(|(_, own)| own.own_stiffness).sum::<f64>() / mode.hinges.len() as f64
        }
        super::PlasticMode::Slab { .. } => f64::INFINITY,
    }
}

fn drifts(state: &State, direction: Direction, sense: f64) -> Vec<f64> {
    let mut below = 0.0;
    state
        .floors
        .iter()
        .map(|floor| {
            let own = 1000.0 * sense * floor.along(direction);
            let drift = own - below;
            below = own;
            drift
        })
        .collect()
}

/// Plastic deformation of every mode, point by point where it has any.
struct History(Vec<Vec<(usize, f64)>>);

impl History {
    fn new(path: &Path, modes: usize) -> Self {
        let mut history = vec![Vec::new(); modes];
        for (k, point) in path.points.iter().enumerate() {
            for &(mode, amplitude) in &point.plastic {
                history[mode].push((k, amplitude));
            }
        }
        Self(history)
    }

    /// Where the deformation of a mode in a sense passes a limit for the first time: the point
    /// before and the part of the way to the next.
    fn passes(&self, mode: usize, sense: usize, limit: f64) -> Option<(usize, f64)> {
        let sign = if sense == 0 { 1.0 } else { -1.0 };
        let mut before = (0, 0.0);
        for &(k, amplitude) in &self.0[mode] {
            let now = sign * amplitude;
            // A mode that is not listed at a point is at rest there.
            let last = if k == before.0 + 1 { before.1 } else { 0.0 };
            if now > limit || (now == limit && limit > 0.0) {
                let part = if now > last { ((limit - last) / (now - last)).max(0.0) } else { 1.0 };
                return Some((k - 1, part));
            }
            before = (k, now);
        }
        None
    }
}

/// The points that shape a curve, at most [`MOST_POINTS`]: the ones whose loss moves it least are
/// left out one after the other; the ends and those named stay.
fn thinned(points: &[Point], roofs: &[f64], staying: &[usize]) -> Vec<usize> {
    let load = points.iter().fold(f64::MIN_POSITIVE, |most, point| most.max(point.load));
    let width = roofs.iter().fold(f64::MIN_POSITIVE, |most, roof| most.max(roof.abs()));
    let at = |k: usize| (roofs[k] / width, points[k].load / load);
    let mut kept: Vec<usize> = (0..points.len()).collect();
    // Twice the area of the triangle a point makes with its neighbours; infinite where it stays.
    let area = |kept: &[usize], i: usize| {
        if i == 0 || i + 1 >= kept.len() || staying.contains(&kept[i]) {
            return f64::INFINITY;
        }
        let ((x0, y0), (x1, y1), (x2, y2)) = (at(kept[i - 1]), at(kept[i]), at(kept[i + 1]));
        ((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)).abs()
    };
    let mut areas: Vec<f64> = (0..kept.len()).map(|i| area(&kept, i)).collect();
    while kept.len() > MOST_POINTS {
        let least = (0..areas.len()).fold(0, |least, i| if areas[i] < areas[least] { i } else { least });
        if areas[least].is_infinite() {
            break;
        }
        kept.remove(least);
        areas.remove(least);
        for i in [least - 1, least] {
            areas[i] = area(&kept, i);
        }
    }
    kept
}
