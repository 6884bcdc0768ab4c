//! Quick screening: published checks on areas, weights and shapes that take minutes by hand, and what
//! they say together.
//!
//! Area of a jacket counts where the evaluation proper counts it: in shear where its hoops close or are anchored in the
//! column, under gravity where its bars go through the floors and the column was relieved before it was cast.
//!
//! A first sieve beside the evaluation proper, never in its place: it knows nothing of bars, laps or
//! footings. Every limit is a published one, the same whatever rule set the project follows; how the
//! checks are summed up is this tool's own (judgement, no source):
//!
//! - likely inadequate where average shear stress is above its limit and both area indices lie in the
//!   range of severe damage, or where a storey is extremely weak;
//! - likely adequate where every check that could be made is met;
//! - needs evaluation in between.

mod areas;
mod formulas;

pub use areas::{Areas, areas};
pub use formulas::*;

use crate::model::Model;
use crate::place::Place;
use crate::project::{Direction, Objective, Project};
use crate::study::{DirectionResult, MemberResult, OptionResult, StoreyResult};

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Average shear stress in columns, with no walls in the storey.
    ColumnShear,
    /// Average shear stress in concrete walls.
    WallShear,
    /// Wall and column areas over floor area.
    PriorityIndex,
    /// Wall area and nominal stress on the map of damaged and sound buildings.
    WallAreaMap,
    /// Axial stress under gravity, on what bears it.
    AxialStress,
    /// Strength of a storey against the one above.
    WeakStorey,
    /// Stiffness of a storey against the one above.
    SoftStorey,
    /// Weight of a floor against its neighbours.
    HeavyFloor,
    /// Drift of one side of the plan against the mean.
    Turning,
    /// Columns held short by sills.
    CaptiveColumns,
    /// Joints where beams are stronger than columns.
    StrongBeams,
}

/// How a check comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Within its limit.
    Met,
    /// Beyond it, within what the same source still distinguishes.
    Between,
    /// Beyond it.
    NotMet,
    /// It cannot be made.
    Withheld,
}

/// A check in one direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What.
    pub kind: Kind,
    /// How it comes out.
    pub outcome: Outcome,
    /// The figure: MPa, a part of one, a ratio or a count.
    pub value: f64,
    /// A second figure of the same check: the nominal stress of the map, MPa, or how many were counted.
    pub second: f64,
    /// Its limit, in the unit of the figure.
    pub limit: f64,
    /// The storey that sets it, from 1; 0 where it is of the whole building.
    pub storey: u32,
}

/// What the checks say together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// Every check that could be made is met.
    LikelyAdequate,
    /// Some are not.
    NeedsEvaluation,
    /// Stress and areas, or an extremely weak storey, speak against it.
    LikelyInadequate,
}

/// The screening of an option in one direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Screening {
    /// The direction.
    pub direction: Direction,
    /// The checks in a fixed order.
    pub checks: Vec<Check>,
    /// What they say together.
    pub says: Says,
    /// The checks that decide it, in their order.
    pub because: Vec<Kind>,
}

impl Screening {
    /// A check; all but one of the two on average shear are always there.
    pub fn check(&self, kind: Kind) -> Option<&Check> {
        self.checks.iter().find(|check| check.kind == kind)
    }
}

/// Screens an option in both directions. The model is that of the option; `None` in a direction
/// without results.
pub fn screening(project: &Project, model: &Model, option: &OptionResult) -> [Option<Screening>; 2] {
    Direction::BOTH.map(|direction| {
        let result = option.directions.iter().find(|own| own.along_x == (direction == Direction::X))?;
        Some(one(project, model, direction, result))
    })
}

fn one(project: &Project, model: &Model, direction: Direction, result: &DirectionResult) -> Screening {
    let mut checks = vec![average_shear(project, model, direction, result)];
    checks.extend(area_indices(model, direction));
    checks.push(axial(project, model));
    checks.push(weak(result));
    checks.push(soft(result));
    checks.push(heavy(model));
    checks.push(turning(result));
    checks.push(captive(model, direction));
    checks.push(strong_beams(result));
    let (says, because) = sum_up(&checks);
    Screening { direction, checks, says, because }
}

/// What checks say together, and which of them decide it.
pub fn sum_up(checks: &[Check]) -> (Says, Vec<Kind>) {
    let fails = |kinds: &[Kind]| {
        checks.iter().filter(|check| kinds.contains(&check.kind) && check.outcome == Outcome::NotMet).count()
    };
    let stressed = fails(&[Kind::ColumnShear, Kind::WallShear]) > 0;
    let little = fails(&[Kind::PriorityIndex, Kind::WallAreaMap]) == 2;
    let very_weak = checks.iter().any(|check| check.kind == Kind::WeakStorey && check.value < VERY_WEAK_STOREY);
    let open = |check: &&Check| matches!(check.outcome, Outcome::NotMet | Outcome::Between);
    if stressed && little || very_weak {
        let decides = |kind: Kind| match kind {
            Kind::ColumnShear | Kind::WallShear | Kind::PriorityIndex | Kind::WallAreaMap => stressed && little,
            Kind::WeakStorey => very_weak,
            _ => false,
        };
        let because = checks.iter().filter(open).map(|check| check.kind).filter(|kind| decides(*kind)).collect();
        return (Says::LikelyInadequate, because);
    }
    let because: Vec<Kind> = checks.iter().filter(open).map(|check| check.kind).collect();
    (if because.is_empty() { Says::LikelyAdequate } else { Says::NeedsEvaluation }, because)
}

const fn objective(project: &Project) -> usize {
    match project.ground_motion.objective {
        Objective::ImmediateUse => 0,
        Objective::LifeSafety => 1,
        Objective::NearCollapse => 2,
    }
}

/// The storey where walls, or where there are none columns, are stressed most under the elastic shear.
fn average_shear(project: &Project, model: &Model, direction: Direction, result: &DirectionResult) -> Check {
    let limit = shear_stress_limit_mpa(project.building.materials.concrete_mpa);
    let level = objective(project);
    let mut worst: Option<Check> = None;
    for storey in &result.storeys {
        let areas = areas(model, direction, storey.storey);
        let walls = wall_stress_mpa(storey.shear_kn, areas.walls_m2, WALL_FACTORS[level]);
        let (kind, stress) = match walls {
            Some(stress) => (Kind::WallShear, Some(stress)),
            None => {
                let factor = COLUMN_FACTORS[level];
                let (columns, frames) = (areas.columns, areas.frames);
                (Kind::ColumnShear, column_stress_mpa(storey.shear_kn, areas.columns_m2, columns, frames, factor))
            }
        };
        let outcome = match stress {
            Some(stress) if stress <= limit => Outcome::Met,
            Some(_) => Outcome::NotMet,
            None => Outcome::Withheld,
        };
        let value = stress.unwrap_or(0.0);
        if worst.as_ref().is_none_or(|own| value > own.value) {
            worst = Some(Check { kind, outcome, value, second: 0.0, limit, storey: storey.storey });
        }
    }
    worst.unwrap_or(Check {
        kind: Kind::ColumnShear,
        outcome: Outcome::Withheld,
        value: 0.0,
        second: 0.0,
        limit,
        storey: 0,
    })
}

fn area_indices(model: &Model, direction: Direction) -> [Check; 2] {
    let base = areas(model, direction, 1);
    let floors: f64 = model.floors.iter().map(|floor| floor.area_m2).sum();
    let [.., priority] = priority_index(base.walls_m2, base.masonry_m2, base.columns_m2, floors);
    let index = Check {
        kind: Kind::PriorityIndex,
        outcome: match priority {
            _ if floors <= 0.0 => Outcome::Withheld,
            low if low < LOW_PRIORITY_INDEX => Outcome::NotMet,
            middle if middle < HIGH_PRIORITY_INDEX => Outcome::Between,
            _ => Outcome::Met,
        },
        value: priority,
        second: 0.0,
        limit: HIGH_PRIORITY_INDEX,
        storey: 0,
    };
    let [share, stress] = wall_area_map(base.walls_m2, base.columns_m2, floors);
    let stands = share >= SAFE_WALL_AREA || stress <= SAFE_NOMINAL_STRESS_MPA;
    let map = Check {
        kind: Kind::WallAreaMap,
        outcome: match stands {
            _ if floors <= 0.0 => Outcome::Withheld,
            true => Outcome::Met,
            false => Outcome::NotMet,
        },
        value: share,
        second: stress,
        limit: SAFE_WALL_AREA,
        storey: 0,
    };
    [index, map]
}

/// A check on the largest of some figures by storey.
fn largest(kind: Kind, limit: f64, values: impl Iterator<Item = (u32, f64)>) -> Check {
    let (storey, value) = values.fold((0, 0.0), |most, next| if next.1 > most.1 { next } else { most });
    let outcome = if value <= limit { Outcome::Met } else { Outcome::NotMet };
    Check { kind, outcome, value, second: 0.0, limit, storey }
}

fn axial(project: &Project, model: &Model) -> Check {
    let concrete = project.building.materials.concrete_mpa;
    let ratio =
        |column: &crate::model::Column| (column.storey, 1000.0 * column.axial_kn / areas::axial_mm2(column) / concrete);
    largest(Kind::AxialStress, MOST_AXIAL_RATIO, model.columns.iter().map(ratio))
}

/// The least ratio of storeys to the one above; met where there is only one.
fn least(kind: Kind, limit: f64, values: impl Iterator<Item = (u32, f64, bool)>) -> Check {
    let mut found = Check { kind, outcome: Outcome::Met, value: 1.0, second: 0.0, limit, storey: 0 };
    for (storey, value, exempt) in values {
        let outcome = if value >= limit || exempt { Outcome::Met } else { Outcome::NotMet };
        let graver = outcome == Outcome::NotMet && found.outcome == Outcome::Met;
        if found.storey == 0 || graver || (outcome == found.outcome && value < found.value) {
            found = Check { outcome, value, storey, ..found };
        }
    }
    found
}

fn pairs(result: &DirectionResult) -> impl Iterator<Item = (&StoreyResult, &StoreyResult)> {
    result.storeys.windows(2).map(|pair| (&pair[0], &pair[1]))
}

fn weak(result: &DirectionResult) -> Check {
    let of = pairs(result).filter(|(_, above)| above.strength_kn > 0.0);
    least(
        Kind::WeakStorey,
        WEAK_STOREY,
        of.map(|(own, above)| (own.storey, own.strength_kn / above.strength_kn, false)),
    )
}

/// Stiffness of a storey over that of the one above, and whether its drift exempts it from being soft. `None` where a wall
/// pushes back: there is no stiffness to compare.
fn stiffness_ratio(own: &StoreyResult, above: &StoreyResult) -> Option<(f64, bool)> {
    let exempt = own.drift_ratio <= SOFT_DRIFT * above.drift_ratio;
    (own.stiffness_kn_m > 0.0 && above.stiffness_kn_m > 0.0)
        .then(|| (own.stiffness_kn_m / above.stiffness_kn_m, exempt))
}

/// Whether a storey is soft beside the one above (ASCE/SEI 7-16 Table 12.3-2, type 1a, and 12.3.2.2, MEMORY).
pub fn is_soft(own: &StoreyResult, above: &StoreyResult) -> bool {
    stiffness_ratio(own, above).is_some_and(|(ratio, exempt)| ratio < SOFT_STOREY && !exempt)
}

fn soft(result: &DirectionResult) -> Check {
    let of = pairs(result)
        .filter_map(|(own, above)| stiffness_ratio(own, above).map(|(ratio, exempt)| (own.storey, ratio, exempt)));
    least(Kind::SoftStorey, SOFT_STOREY, of)
}

/// Weight of each floor over that of its lighter neighbour; a lighter roof is none.
fn heavy(model: &Model) -> Check {
    let weight = |place: usize| model.floors.get(place).map(|floor| floor.weight_kn).filter(|weight| *weight > 0.0);
    let roof = model.floors.len().saturating_sub(1);
    let ratio = |place: usize| {
        let own = weight(place).unwrap_or(0.0);
        let below = place.checked_sub(1).and_then(weight);
        let above = weight(place + 1).filter(|_| place + 1 < roof);
        let lighter = [below, above].into_iter().flatten().fold(f64::INFINITY, f64::min);
        (place as u32 + 1, own / lighter)
    };
    largest(Kind::HeavyFloor, HEAVY_FLOOR, (0..model.floors.len()).map(ratio))
}

/// Drift of the line that moves most over the mean of the outer lines, without accidental eccentricity.
fn turning(result: &DirectionResult) -> Check {
    let lines: Vec<_> = result.lines.iter().filter(|line| !line.external).collect();
    let ratio = |storey: &StoreyResult| {
        let at = storey.storey as usize - 1;
        let ends = [lines.first(), lines.last()].map(|line| line.and_then(|line| line.drift_mm.get(at)).copied());
        let (Some(one), Some(other)) = (ends[0], ends[1]) else { return (storey.storey, 1.0) };
        let mean = (one + other).abs() / 2.0;
        (storey.storey, if mean > 0.0 { one.abs().max(other.abs()) / mean } else { 1.0 })
    };
    largest(Kind::Turning, TURNING, result.storeys.iter().map(ratio))
}

fn captive(model: &Model, direction: Direction) -> Check {
    let index = direction.index();
    let held = model.columns.iter().filter(|column| column.sill_m[index] > 0.0);
    let count = held.clone().count();
    Check {
        kind: Kind::CaptiveColumns,
        outcome: if count == 0 { Outcome::Met } else { Outcome::NotMet },
        value: count as f64,
        second: model.columns.len() as f64,
        limit: 0.0,
        storey: held.map(|column| column.storey).min().unwrap_or(0),
    }
}

/// Joints below the roof at which the columns carry less than they should of the moments of the beams.
fn strong_beams(result: &DirectionResult) -> Check {
    let below_roof = result.storeys.iter().rev().skip(1);
    // Frames before the building are detailed anew.
    let of_grid = |member: &&MemberResult| !matches!(member.place, Place::FrameColumn { .. });
    let members = below_roof.flat_map(|storey| storey.members.iter().filter(of_grid));
    let ratios: Vec<f64> = members.filter_map(|member| member.joint_ratio).collect();
    let short = ratios.iter().filter(|ratio| **ratio < STRONG_COLUMNS).count();
    Check {
        kind: Kind::StrongBeams,
        outcome: if short == 0 { Outcome::Met } else { Outcome::NotMet },
        value: short as f64,
        second: ratios.len() as f64,
        limit: STRONG_COLUMNS,
        storey: 0,
    }
}
