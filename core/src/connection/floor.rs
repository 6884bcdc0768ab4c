//! The old floor where it hands its force to a line, and the beams that collect it.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Stretch, Symbol, written};
use crate::failure::Failure;
use crate::framing::FramedLine;
use crate::material::Bar;
use crate::model::{Beam, Frame, Model};
use crate::place::{Class, Place};
use crate::project::{Direction, Materials};
use crate::rules::{ConnectionState, DiaphragmShear, DiaphragmStrength, Note, Provision, Ruled, Rules};
use crate::sections::Sections;
use crate::study::ForceBound;

/// A floor along a line.
pub(super) struct Edge {
    /// Thickness of the old slab, mm.
    pub thickness_mm: f64,
    /// Length along which it meets the line, each side counted, m.
    pub length_m: f64,
    /// Force it hands over, kN.
    pub force_kn: f64,
    /// Whether a bending mechanism caps that force.
    pub capped_by_mechanism: bool,
}

impl Edge {
    /// Its strength. Its bars there are not given and not counted.
    fn strength(&self, rules: &dyn Rules, materials: &Materials) -> Ruled<DiaphragmStrength> {
        rules.diaphragm_shear(&DiaphragmShear {
            concrete_mpa: materials.concrete_mpa,
            thickness_mm: self.thickness_mm,
            length_mm: 1000.0 * self.length_m,
            parallel_ratio: 0.0,
            across_ratio: 0.0,
            yield_mpa: materials.steel_mpa,
            lightweight: 1.0,
        })
    }
}

/// The old slab in shear along a line.
pub(super) fn along(rules: &dyn Rules, materials: &Materials, edge: &Edge) -> Ruled<Check> {
    let strength = edge.strength(rules, materials)?;
    let factors = rules
        .connection_factors(ConnectionState { capped_by_mechanism: edge.capped_by_mechanism, bars_yield: false })?;
    let demand = factors.demand * edge.force_kn.abs();
    let written = written(rules, Provision::Diaphragm)?;
    Ok(Check::new(Part::OldSlab, demand, strength.strength_kn, factors.diaphragm, written)
        .capped(strength.notes.has(Note::CapGoverns))
        .with(&[
            (Symbol::Factor, factors.diaphragm),
            (Symbol::Thickness, edge.thickness_mm),
            (Symbol::LineLength, edge.length_m),
            (Symbol::ConcreteShear, strength.concrete_kn),
            (Symbol::SteelShear, strength.steel_kn),
            (Symbol::Cap, strength.cap_kn),
        ]))
}

/// Whether a bay of a line carries floor towards lower and towards higher ordinates.
fn floors_beside(model: &Model, direction: Direction, line: usize, bay: u32, storey: u32) -> [bool; 2] {
    let Some(cells) = model.cells.get(storey as usize - 1) else { return [false; 2] };
    let bay = bay as usize - 1;
    let has_floor = |strip: usize| {
        let (row, column) = match direction {
            Direction::X => (strip, bay),
            Direction::Y => (bay, strip),
        };
        cells.get(row).and_then(|cells| cells.get(column)).copied().unwrap_or(false)
    };
    [line.checked_sub(1).is_some_and(has_floor), has_floor(line)]
}

/// Length of floor along bays of a line at a level, each side counted, m.
pub(super) fn floor_m(
    model: &Model,
    direction: Direction,
    line: usize,
    level: u32,
    bays: impl Iterator<Item = u32>,
) -> f64 {
    bays.map(|bay| {
        let sides: f64 = floors_beside(model, direction, line, bay, level).map(f64::from).iter().sum();
        sides * model.bay_length_m(direction, bay)
    })
    .sum()
}

/// A line that takes the force of a floor in some of its bays.
struct Taken<'a> {
    direction: Direction,
    line: usize,
    level: u32,
    /// Whether a bay takes the force.
    takes: &'a dyn Fn(u32) -> bool,
}

impl Taken<'_> {
    fn bays(&self, model: &Model) -> core::ops::RangeInclusive<u32> {
        1..=model.along(self.direction).len() as u32 - 1
    }

    /// Length of floor along the line, each side counted, m.
    fn floor_m(&self, model: &Model) -> f64 {
        floor_m(model, self.direction, self.line, self.level, self.bays(model))
    }

    /// The bays of the line with what comes in and goes out in each, where any take it: the floor
    /// hands over along all its length, the bays that take it do so evenly along theirs
    /// (equilibrium).
    fn stretches(&self, model: &Model, force_kn: f64) -> Vec<Stretch> {
        let floor = self.floor_m(model);
        let taking: f64 =
            self.bays(model).filter(|bay| (self.takes)(*bay)).map(|bay| model.bay_length_m(self.direction, bay)).sum();
        if floor <= 0.0 || taking <= 0.0 {
            return Vec::new();
        }
        let mut axial = 0.0;
        let stretch = |bay: u32| {
            let length_m = model.bay_length_m(self.direction, bay);
            let floor_beside = floors_beside(model, self.direction, self.line, bay, self.level);
            let takes = (self.takes)(bay);
            let brought = floor_beside.map(f64::from).iter().sum::<f64>() * length_m / floor;
            let taken = if takes { length_m / taking } else { 0.0 };
            let before = axial;
            axial += brought - taken;
            Stretch {
                bay,
                length_m,
                floor_beside,
                takes,
                brought_kn: force_kn * brought,
                taken_kn: force_kn * taken,
                axial_kn: [force_kn * before, force_kn * axial],
            }
        };
        self.bays(model).map(stretch).collect()
    }
}

/// Largest force in the beams over the force handed over, with the bay it is in, if any beam has to
/// carry one.
fn collected(stretches: &[Stretch], force_kn: f64) -> Option<(f64, u32)> {
    let mut most: Option<(f64, u32)> = None;
    for own in stretches.iter().filter(|own| !own.takes) {
        let force = own.axial_kn.map(f64::abs).into_iter().fold(0.0, f64::max);
        // Rounding leaves a hair of force beyond the last bay.
        if force > 1e-9 * force_kn && most.is_none_or(|(largest, _)| force > largest) {
            most = Some((force, own.bay));
        }
    }
    most
}

/// What a line must pass at a level.
struct LineForce<'a> {
    name: &'a str,
    bays: [u32; 2],
    force_kn: f64,
    bound: ForceBound,
}

/// Edges of the old floor along lines with new walls, and collectors of those and of external frames.
pub(super) fn lines(context: &Context<'_>, slabs: &[ConnectionResult]) -> Ruled<Vec<ConnectionResult>> {
    let model = context.model;
    let mut found = Vec::new();
    for slab in slabs {
        let Some(frame) =
            model.frames.iter().find(|frame| frame.direction == context.direction && frame.spec.face == slab.line)
        else {
            continue;
        };
        let takes = |bay: u32| frame.spec.bays.contains(bay);
        let taken = Taken { direction: context.direction, line: frame.line, level: slab.storey, takes: &takes };
        let force = LineForce {
            name: &slab.line,
            bays: slab.bays,
            force_kn: slab.figure(Symbol::Force).unwrap_or(0.0),
            bound: slab.bound,
        };
        found.extend(collector(context, &taken, &force)?);
    }
    for (index, line) in context.framing.lines.iter().enumerate() {
        if line.direction != context.direction || line.walls.iter().all(|wall| wall.class == Class::AsBuilt) {
            continue;
        }
        let name = &model.lines(line.direction)[line.line].name;
        for level in 1..=model.floors.len() as u32 {
            let Some(bays) = walled(line, level) else { continue };
            let takes = |bay: u32| has_wall(line, level, bay);
            let taken = Taken { direction: line.direction, line: line.line, level, takes: &takes };
            let (force_kn, bound) = line_force(context, index, name, level as usize - 1);
            let force = LineForce { name, bays, force_kn, bound };
            found.extend(collector(context, &taken, &force)?);
            let length_m = taken.floor_m(model);
            if length_m > 0.0 {
                found.push(edge(context, &taken, &force, length_m)?);
            }
        }
    }
    Ok(found)
}

/// First and last bay of a line with a wall in the storey under a level.
fn walled(line: &FramedLine, level: u32) -> Option<[u32; 2]> {
    let of_storey = || line.walls.iter().filter(|wall| wall.storey == level);
    Some([of_storey().map(|wall| wall.first_bay).min()?, of_storey().map(|wall| wall.last_bay).max()?])
}

fn has_wall(line: &FramedLine, level: u32, bay: u32) -> bool {
    line.walls.iter().any(|wall| wall.storey == level && wall.first_bay <= bay && bay <= wall.last_bay)
}

/// The most an old floor can hand on at a level, and what gives then.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Handed {
    /// Force handed on, kN.
    pub strength_kn: f64,
    /// What gives.
    pub failure: Failure,
    /// Where.
    pub place: Place,
    /// Whether the strength is lost at once.
    pub brittle: bool,
}

/// What a floor can hand to a line with new walls: the lesser of its edge and its collector, in nominal
/// strengths. None where the line has no new walls at all, no wall takes anything there, or neither
/// strength is known.
pub(crate) fn handed_to_walls(sections: &Sections<'_>, line: &FramedLine, level: u32) -> Ruled<Option<Handed>> {
    if line.walls.iter().all(|wall| wall.class == Class::AsBuilt) || walled(line, level).is_none() {
        return Ok(None);
    }
    let takes = |bay: u32| has_wall(line, level, bay);
    let taken = Taken { direction: line.direction, line: line.line, level, takes: &takes };
    handed(sections, &taken, taken.floor_m(sections.model))
}

/// The same to an external frame, whose slab takes the force over its own bays.
pub(crate) fn handed_to_frame(sections: &Sections<'_>, frame: &Frame, level: u32) -> Ruled<Option<Handed>> {
    let takes = |bay: u32| frame.spec.bays.contains(bay);
    let taken = Taken { direction: frame.direction, line: frame.line, level, takes: &takes };
    let length_m = floor_m(sections.model, frame.direction, frame.line, level, frame.spec.bays.iter());
    handed(sections, &taken, length_m)
}

fn handed(sections: &Sections<'_>, taken: &Taken<'_>, length_m: f64) -> Ruled<Option<Handed>> {
    let (model, materials) = (sections.model, sections.materials);
    let name = &model.lines(taken.direction)[taken.line].name;
    let mut least: Option<Handed> = None;
    if length_m > 0.0 {
        let thickness_mm = model.floors[taken.level as usize - 1].slab_mm;
        let edge = Edge { thickness_mm, length_m, force_kn: 0.0, capped_by_mechanism: false };
        least = Some(Handed {
            strength_kn: edge.strength(sections.rules, materials)?.strength_kn,
            failure: Failure::FloorEdge,
            place: Place::Line { line: name.clone() },
            brittle: true,
        });
    }
    // The largest pull in the beams for a unit handed over.
    if let Some((part, bay)) = collected(&taken.stretches(model, 1.0), 1.0)
        && let Some(beam) = model.beam_at(taken.direction, taken.line, bay, taken.level)
    {
        let strength_kn = one_layer_mm2(beam) * materials.steel_mpa / 1e3 / part;
        if least.as_ref().is_none_or(|own| strength_kn < own.strength_kn) {
            let place = Place::Beam { line: name.clone(), bay, storey: taken.level };
            least = Some(Handed { strength_kn, failure: Failure::Collector, place, brittle: false });
        }
    }
    Ok(least)
}

/// What a floor hands to a line: the change of its elastic storey shear, accidental eccentricity
/// included, at most what its members can differ by.
fn line_force(context: &Context<'_>, index: usize, name: &str, level: usize) -> (f64, ForceBound) {
    let elastic = context
        .responses()
        .map(|response| {
            let shears = &response.lines[index].storey_shear_kn;
            (shears[level] - shears.get(level + 1).copied().unwrap_or(0.0)).abs()
        })
        .fold(0.0, f64::max);
    let strength = |storey: usize| -> f64 {
        let members = context.strengths.storeys.get(storey).map(Vec::as_slice).unwrap_or_default();
        members.iter().filter(|member| member.line == name).map(|member| member.weaker().strength_kn).sum()
    };
    let most = strength(level) + strength(level + 1);
    if most < elastic { (most, ForceBound::OwnStrength) } else { (elastic, ForceBound::ElasticSpectrum) }
}

fn edge(context: &Context<'_>, taken: &Taken<'_>, force: &LineForce<'_>, length_m: f64) -> Ruled<ConnectionResult> {
    let thickness_mm = context.model.floors[taken.level as usize - 1].slab_mm;
    let place = Place::Line { line: force.name.to_owned() };
    let mut of = context.blank(ConnectionKind::FloorEdge, place, force.name, taken.level, force.bays);
    of.bound = force.bound;
    of.stretches = taken.stretches(context.model, force.force_kn);
    of.give(&[
        (Symbol::Thickness, thickness_mm),
        (Symbol::LineLength, length_m),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
    ]);
    of.act(&[(Symbol::Force, force.force_kn), (Symbol::ShearFlow, force.force_kn / length_m)]);
    of.checks.push(along(
        context.rules,
        context.materials,
        &Edge {
            thickness_mm,
            length_m,
            force_kn: force.force_kn,
            capped_by_mechanism: force.bound != ForceBound::ElasticSpectrum,
        },
    )?);
    of.remark(true, Remark::OldBarsUnknown);
    Ok(of.governed())
}

/// The edge beam as collector, where any of it has to collect.
fn collector(context: &Context<'_>, taken: &Taken<'_>, force: &LineForce<'_>) -> Ruled<Option<ConnectionResult>> {
    let model = context.model;
    let stretches = taken.stretches(model, force.force_kn);
    let Some((pull, bay)) = collected(&stretches, force.force_kn) else { return Ok(None) };
    let beam = model.beam_at(taken.direction, taken.line, bay, taken.level);
    let place = Place::Beam { line: force.name.to_owned(), bay, storey: taken.level };
    let mut of = context.blank(ConnectionKind::Collector, place, force.name, taken.level, [bay; 2]);
    of.bound = force.bound;
    of.stretches = stretches;
    of.act(&[
        (Symbol::Force, force.force_kn),
        (Symbol::LineLength, taken.floor_m(model)),
        (Symbol::CollectorForce, pull),
    ]);
    let Some(beam) = beam else {
        of.remark(true, Remark::NoEdgeBeam);
        return Ok(Some(of));
    };
    let steel_mm2 = one_layer_mm2(beam);
    let state = ConnectionState { capped_by_mechanism: force.bound != ForceBound::ElasticSpectrum, bars_yield: true };
    let factors = context.rules.connection_factors(state)?;
    of.give(&[
        (Symbol::BeamWidth, beam.kind.width_mm),
        (Symbol::BeamDepth, beam.kind.depth_mm),
        (Symbol::Steel, steel_mm2),
        (Symbol::Yield, context.materials.steel_mpa),
    ]);
    let strength = steel_mm2 * context.materials.steel_mpa / 1e3;
    let written = written(context.rules, Provision::Tension)?;
    of.checks.push(Check::new(Part::BeamBars, factors.demand * pull, strength, factors.chord, written).with(&[
        (Symbol::Factor, factors.chord),
        (Symbol::Steel, steel_mm2),
        (Symbol::Yield, context.materials.steel_mpa),
    ]));
    of.remark(true, Remark::HalfTheBars);
    Ok(Some(of.governed()))
}

/// Steel of the weaker layer of a beam, mm²: the other is left to bending (judgement, no source).
pub(super) fn one_layer_mm2(beam: &Beam) -> f64 {
    let kind = &beam.kind;
    let layer = |count: u32, diameter: f64| f64::from(count) * Bar::round(diameter).area_mm2;
    layer(kind.top_bars, kind.top_bar_mm).min(layer(kind.bottom_bars, kind.bottom_bar_mm))
}
