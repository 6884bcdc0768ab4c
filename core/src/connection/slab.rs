//! Connecting slabs of external frames at their floors.

use super::floor::{Edge, along, floor_m};
use super::{Check, ConnectionKind, ConnectionResult, Part, Remark, Symbol, written};
use crate::anchorage::{confinement, drillable_mm};
use crate::assembly::Load;
use crate::framing::Framing;
use crate::link::{FrameCap, frame_caps};
use crate::link_slab::{BarRow, BondedSide, FactorChoice, JointCheck, LinkSlab, PeakChoice, SlabCheck, SlabPlace};
use crate::material::Bar;
use crate::model::{Frame, Model, Slab};
use crate::place::Place;
use crate::project::{Direction, ExternalFrame, Materials};
use crate::response::Response;
use crate::rules::{AnchorageLimit, BarAnchorage, Breakout, ConnectionState, Note, Provision, Ruled, Rules, Surface};
use crate::sections::Sections;
use crate::study::{ForceBound, SlabResult};
use crate::verdict::DirectionCapacity;

/// On slab forces at the performance point, since the push is static and of one mode (judgement, no
/// source).
const DYNAMIC: f64 = 1.2;
/// Part of the frame's own inertia that pulls across the joint at the same time as the force along
/// it (common practice for two directions at once, no source).
const ACROSS: f64 = 0.3;

/// What checking the slabs of one direction needs at hand.
pub struct SlabContext<'a> {
    /// The model.
    pub model: &'a Model,
    /// Its frames.
    pub framing: &'a Framing,
    /// Materials of the existing building.
    pub materials: &'a Materials,
    /// Rule set.
    pub rules: &'a dyn Rules,
    /// Direction.
    pub direction: Direction,
    /// Response to the elastic forces.
    pub response: &'a Response,
    /// Responses with accidental eccentricity to either side.
    pub accidental: &'a [Response],
    /// The elastic load.
    pub load: &'a Load,
    /// Elastic force of each level, kN.
    pub forces_kn: &'a [f64],
    /// Spectral acceleration of the mode, g.
    pub acceleration_g: f64,
    /// Plateau of the spectrum, g.
    pub plateau_g: f64,
    /// Capacity curves, once there are any.
    pub capacity: Option<&'a DirectionCapacity>,
}

/// A connecting slab as its check takes it, with no force on it yet.
///
/// Breakout is left out of the clamping: the pull of clamping bars is balanced by pressure on the
/// same interface around them, so no free cone of concrete is torn out of the beam and development
/// length governs. What pulls without such pressure, the frame's own mass and the chord of the
/// moment, is taken off the clamping and checked against breakout on its own.
pub(crate) fn link_slab(materials: &Materials, frame: &Frame, slab: &Slab) -> LinkSlab {
    let spec = &frame.spec;
    let available = drillable_mm(slab.beam_width_mm);
    LinkSlab {
        length_mm: 1000.0 * slab.contact_m,
        thickness_mm: spec.slab_mm,
        existing_contact_mm: contact_mm(frame, slab),
        existing_lever_mm: 1000.0 * frame.lever_m,
        new_lever_mm: spec.beam_width_mm / 2.0,
        existing: BondedSide {
            concrete_mpa: materials.concrete_mpa,
            embedment_mm: spec.embedment_mm.min(available),
            confinement: confinement(Bar::round(spec.across_bar_mm), edge_mm(frame), spec.across_spacing_mm),
            surface: spec.surface.into(),
            edges_mm: None,
        },
        new_concrete_mpa: spec.concrete_mpa,
        // The new beam is cast before the slab: a roughened cold joint with bars that yield.
        new_surface: Surface::Roughened,
        across: BarRow {
            bar: Bar::round(spec.across_bar_mm),
            spacing_mm: spec.across_spacing_mm,
            layers: spec.across_layers,
            yield_mpa: spec.steel_mpa,
        },
        along: BarRow {
            bar: Bar::round(spec.along_bar_mm),
            spacing_mm: spec.along_spacing_mm,
            layers: 2,
            yield_mpa: spec.steel_mpa,
        },
        extra_chord_bars: false,
        force_kn: 0.0,
        tension_kn: 0.0,
        capped_by_mechanism: true,
        factors: FactorChoice::ByClause,
        peak: PeakChoice::ByBehaviour,
        lightweight: 1.0,
    }
}

/// Height of the contact with the old beam's side, mm: the slab's part beside the beam.
fn contact_mm(frame: &Frame, slab: &Slab) -> f64 {
    frame.spec.slab_mm.min(slab.beam_depth_mm - frame.spec.slab_drop_mm).max(0.0)
}

/// From the bars to the free top of the beam, mm: half the slab below its top, or a quarter where
/// they lie in two layers.
fn edge_mm(frame: &Frame) -> f64 {
    let spec = &frame.spec;
    spec.slab_drop_mm + spec.slab_mm / if spec.across_layers > 1 { 4.0 } else { 2.0 }
}

/// Checks every connecting slab of a direction.
pub(crate) fn slabs(context: &SlabContext<'_>) -> Ruled<Vec<(SlabResult, ConnectionResult)>> {
    let sections = Sections::new(context.model, context.materials, context.rules)?;
    let levers = crate::capacity::levers(context.model, context.forces_kn);
    let shears = crate::hazard::storey_shears(context.forces_kn);
    let mut results = Vec::new();
    for (index, frame) in context.model.frames.iter().enumerate() {
        if frame.direction != context.direction {
            continue;
        }
        let caps = frame_caps(&sections, frame, &levers, &shears)?;
        for (level, slab) in frame.slabs.iter().enumerate() {
            if let Some(slab) = slab {
                let force = force(context, &caps, index, level)?;
                results.push(check(context, &force, index, level, slab)?);
            }
        }
    }
    Ok(results)
}

/// The force a slab is checked for, with everything it was chosen from, kN.
struct SlabForce {
    elastic: f64,
    deliverable: f64,
    performance: Option<f64>,
    mechanism: f64,
    floor: f64,
    demand: f64,
    bound: ForceBound,
}

/// The force a slab must pass, never divided by a reduction factor.
///
/// With capacity curves the greatest of
/// - the force at the performance point of each curve, raised for dynamic effects; the largest on
///   the curve where it ends before,
/// - the force when the added frame reaches its mechanism or lifts: with all storeys at their
///   strength, or in the elastic pattern, accidental eccentricity either way, raised until the first
///   storey is (expected strengths, so overstrength is in it),
/// - the frame's share of the least force on the floor.
///
/// Without curves the force under the elastic spectrum, accidental eccentricity included. All but
/// the first at most what the storeys above and below can differ by.
fn force(context: &SlabContext<'_>, caps: &[FrameCap], index: usize, level: usize) -> Ruled<SlabForce> {
    let of = |response: &Response| response.linked[index].link_force_kn[level].abs();
    let all = || core::iter::once(context.response).chain(context.accidental);
    let elastic = all().map(of).fold(0.0, f64::max);
    let sum = |of: fn(&FrameCap) -> f64| of(&caps[level]) + caps.get(level + 1).map_or(0.0, of);
    let (bending, lifting) = (sum(|cap| cap.mechanism_kn), sum(|cap| cap.uplift_kn));
    let deliverable = bending.min(lifting);
    let withheld = if bending <= lifting { ForceBound::FrameMechanism } else { ForceBound::FootingUplift };
    let mut found = SlabForce {
        elastic,
        deliverable,
        performance: None,
        mechanism: 0.0,
        floor: 0.0,
        demand: elastic,
        bound: ForceBound::ElasticSpectrum,
    };
    if let Some(capacity) = context.capacity {
        let mut performance = 0.0_f64;
        for assessed in &capacity.curves {
            let at = |slabs: &[Vec<f64>]| slabs.get(index).and_then(|row| row.get(level)).map_or(0.0, |own| own.abs());
            let curve = &assessed.curve;
            let force = match curve.step_at_roof(assessed.point.roof_mm) {
                Some(step) => at(&curve.state(step).slab_kn),
                None => curve.points.iter().map(|point| at(&point.slab_kn)).fold(0.0, f64::max),
            };
            performance = performance.max(DYNAMIC * force);
        }
        let above = caps.get(level + 1);
        let between = |of: fn(&FrameCap) -> f64| (of(&caps[level]) - above.map_or(0.0, of)).abs();
        // All storeys at their strength; of a frame that lifts first what it has by then.
        let (yields, lifts) = (between(|cap| cap.mechanism_kn), between(|cap| cap.uplift_kn));
        let lifts_first = caps[0].uplift_kn < caps[0].mechanism_kn;
        let mut mechanism =
            if lifts_first { (lifts, ForceBound::FootingUplift) } else { (yields, ForceBound::FrameMechanism) };
        for response in all() {
            let mut scale = (f64::INFINITY, ForceBound::FrameMechanism);
            for (cap, shear) in caps.iter().zip(&response.linked[index].storey_shear_kn) {
                let ways = [(cap.mechanism_kn, ForceBound::FrameMechanism), (cap.uplift_kn, ForceBound::FootingUplift)];
                for (strength, bound) in ways {
                    if *shear != 0.0 && strength / shear.abs() < scale.0 {
                        scale = (strength / shear.abs(), bound);
                    }
                }
            }
            if scale.0.is_finite() && scale.0 * of(response) > mechanism.0 {
                mechanism = (scale.0 * of(response), scale.1);
            }
        }
        let floor = &context.model.floors[level];
        let storey: f64 = context.forces_kn[level..].iter().sum();
        let share =
            if storey > 0.0 { context.response.linked[index].storey_shear_kn[level].abs() / storey } else { 0.0 };
        found.floor = share * context.rules.least_part_force_g(context.plateau_g)? * floor.weight_kn;
        found.performance = Some(performance);
        found.mechanism = mechanism.0;
        (found.demand, found.bound) = mechanism;
        if found.floor > found.demand {
            (found.demand, found.bound) = (found.floor, ForceBound::LeastFloorForce);
        }
    }
    if deliverable < found.demand {
        (found.demand, found.bound) = (deliverable, withheld);
    }
    // What the push brings needs no bound: the frame's strength is in it.
    if let Some(performance) = found.performance.filter(|own| *own > found.demand) {
        (found.demand, found.bound) = (performance, ForceBound::PerformancePoint);
    }
    Ok(found)
}

/// Checks one connecting slab.
fn check(
    context: &SlabContext<'_>,
    force: &SlabForce,
    index: usize,
    level: usize,
    slab: &Slab,
) -> Ruled<(SlabResult, ConnectionResult)> {
    let frame = &context.model.frames[index];
    let own = &context.response.linked[index];
    let own_weight = frame.weight_kn[level];
    let pull = (ACROSS * context.acceleration_g).max(context.rules.least_part_force_g(context.plateau_g)?);
    let tension = pull * own_weight;
    let asked = LinkSlab {
        force_kn: force.demand,
        tension_kn: tension,
        // With a capacity curve the slab is made for the frame's mechanism or more.
        capped_by_mechanism: force.performance.is_some() || force.bound != ForceBound::ElasticSpectrum,
        ..link_slab(context.materials, frame, slab)
    };
    let found = asked.check(context.rules)?;
    let joint = if found.new.utilisation > found.existing.utilisation { &found.new } else { &found.existing };
    let (friction_kn, strip_kn) = (joint.design_kn, found.strip.design_kn);
    let result = SlabResult {
        face: frame.spec.face.clone(),
        along_x: frame.direction == Direction::X,
        level: level as u32 + 1,
        stiffness_kn_m: context.framing.frames[index].link_kn_m[level].unwrap_or(0.0),
        elastic_force_kn: own.link_force_kn[level],
        shear_above_kn: own.storey_shear_kn.get(level + 1).copied().unwrap_or(0.0),
        shear_below_kn: own.storey_shear_kn[level],
        own_inertia_kn: context.load.linked_kn[index][level],
        demand_kn: found.strip.demand_kn,
        bound: force.bound,
        friction_kn,
        friction_capped: joint.strength.notes.has(Note::CapGoverns),
        peak: joint.peak,
        bar_stress_mpa: found.anchorage.stress_mpa,
        anchorage_limited: found.anchorage.limit != AnchorageLimit::Yield,
        strip_kn,
        strip_capped: found.strip.strength.notes.has(Note::CapGoverns),
        strength_kn: (friction_kn / joint.peak).min(strip_kn),
        friction_governs: found.governs != SlabPlace::Strip,
        phi: [joint.factor, found.strip.factor],
        moment_kn_m: found.existing.moment_knm,
        chord_kn: found.existing.chord_kn,
        tension_kn: tension,
        utilisation: found.utilisation.min(f64::MAX),
    };
    let connection = connection(context, frame, slab, force, &asked, &found, &result)?;
    Ok((result, connection))
}

fn connection(
    context: &SlabContext<'_>,
    frame: &Frame,
    slab: &Slab,
    force: &SlabForce,
    asked: &LinkSlab,
    found: &SlabCheck,
    result: &SlabResult,
) -> Ruled<ConnectionResult> {
    let (rules, spec) = (context.rules, &frame.spec);
    let place = Place::Slab { face: spec.face.clone(), level: slab.level };
    let mut of = ConnectionResult {
        bound: force.bound,
        ..ConnectionResult::blank(ConnectionKind::ConnectingSlab, place, result.along_x, &spec.face, slab.level)
    };
    of.bays = [spec.bays.first, spec.bays.last];
    let steel = found.bars * asked.across.bar.area_mm2;
    of.give(&[
        (Symbol::Length, slab.contact_m),
        (Symbol::Gap, spec.gap_m),
        (Symbol::Thickness, spec.slab_mm),
        (Symbol::Contact, asked.existing_contact_mm),
        (Symbol::Drop, spec.slab_drop_mm),
        (Symbol::BeamWidth, slab.beam_width_mm),
        (Symbol::BeamDepth, slab.beam_depth_mm),
        (Symbol::NewBeamWidth, spec.beam_width_mm),
        (Symbol::NewBeamDepth, spec.beam_depth_mm),
        (Symbol::Bar, spec.across_bar_mm),
        (Symbol::Spacing, spec.across_spacing_mm),
        (Symbol::Layers, f64::from(spec.across_layers)),
        (Symbol::Bars, found.bars),
        (Symbol::Steel, steel),
        (Symbol::Embedment, asked.existing.embedment_mm),
        (Symbol::AlongBar, spec.along_bar_mm),
        (Symbol::AlongSpacing, spec.along_spacing_mm),
        (Symbol::Yield, spec.steel_mpa),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
        (Symbol::NewConcrete, spec.concrete_mpa),
        (Symbol::Stiffness, result.stiffness_kn_m),
    ]);
    of.act(&[
        (Symbol::ShearBelow, result.shear_below_kn),
        (Symbol::ShearAbove, result.shear_above_kn),
        (Symbol::OwnInertia, result.own_inertia_kn),
        (Symbol::ElasticForce, force.elastic),
        (Symbol::DeliverableForce, force.deliverable),
    ]);
    if let Some(performance) = force.performance {
        of.act(&[
            (Symbol::PerformanceForce, performance),
            (Symbol::MechanismForce, force.mechanism),
            (Symbol::FloorForce, force.floor),
        ]);
    }
    let settles = settlement(rules, spec, slab)?;
    of.act(&settles);
    of.remark(settles[1].1 > settles[2].1, Remark::SettlementCracks);
    let arm = if found.existing.chord_kn > 0.0 { found.existing.moment_knm / found.existing.chord_kn } else { 0.0 };
    of.act(&[
        (Symbol::Force, force.demand),
        (Symbol::Lever, frame.lever_m),
        (Symbol::Moment, found.existing.moment_knm),
        (Symbol::Arm, arm),
        (Symbol::Chord, found.existing.chord_kn),
        (Symbol::ChordSteel, found.chord_steel_mm2),
        (Symbol::DirectTension, result.tension_kn),
    ]);
    of.checks.push(interface(rules, Part::OldJoint, &found.existing)?.with(&[
        (Symbol::Steel, steel),
        (Symbol::Embedment, asked.existing.embedment_mm),
        (Symbol::Development, found.anchorage.required_mm.min(1e9)),
        (Symbol::BarStress, found.existing.strength.bar_stress_mpa),
    ]));
    let strip = &found.strip;
    of.checks.push(
        Check::new(
            Part::Strip,
            strip.demand_kn,
            strip.strength.strength_kn,
            strip.factor,
            written(rules, Provision::Diaphragm)?,
        )
        .capped(strip.strength.notes.has(Note::CapGoverns))
        .with(&[
            (Symbol::Factor, strip.factor),
            (Symbol::ConcreteShear, strip.strength.concrete_kn),
            (Symbol::SteelShear, strip.strength.steel_kn),
            (Symbol::Cap, strip.strength.cap_kn),
        ])
        .overstrong(found.existing.overstrength),
    );
    let grown = rules.bar_anchorage(&BarAnchorage {
        bar: asked.across.bar,
        yield_mpa: spec.steel_mpa,
        concrete_mpa: spec.concrete_mpa,
        embedment_mm: drillable_mm(spec.beam_width_mm),
        confinement: asked.existing.confinement,
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    })?;
    of.checks.push(interface(rules, Part::NewJoint, &found.new)?.with(&[
        (Symbol::Steel, steel),
        (Symbol::NewDevelopment, grown.required_mm),
        (Symbol::BarStress, found.new.strength.bar_stress_mpa),
    ]));
    of.checks.extend(pulled(rules, slab, asked, found, &mut of.remarks)?);
    of.checks.push(old_slab(context, frame, slab, force.demand, asked.capped_by_mechanism)?);
    of.remark(found.anchorage.limit == AnchorageLimit::TooShort, Remark::AnchorageNone);
    of.remark(found.anchorage.limit == AnchorageLimit::Length, Remark::AnchorageShort);
    of.remark(grown.limit != AnchorageLimit::Yield, Remark::NewAnchorageShort);
    of.remark(found.existing.strength.notes.has(Note::ClampingLost), Remark::ClampingLost);
    of.remark(asked.existing_contact_mm < spec.slab_mm, Remark::SlabDeeperThanBeam);
    of.remark(found.notes.has(Note::PeakFactor), Remark::PeakTaken);
    let of_clause = of.checks.iter().any(|check| check.capped && check.part != Part::PulledBars);
    of.remark(of_clause, Remark::CapBites);
    of.remark(true, Remark::OldBarsUnknown);
    of.remark(true, Remark::SettlementJoint);
    of.remark(true, Remark::SiteTests);
    Ok(of.governed())
}

/// Settlement of new footings against old ones a strip is looked at for, m (common practice, no
/// source).
const SETTLES_M: f64 = 0.005;
/// Bending tensile strength of concrete over √f'c, MPa (ACI 318-19 19.2.3.1; MEMORY: from memory, verify).
const RUPTURE: f64 = 0.62;

/// What a settlement of the new footings does to a strip that is held at both ends, uncracked: the
/// settlement (mm), its moment 6·E·I·Δ/g² and that at which the strip cracks over its length, kNm
/// (DERIVED).
fn settlement(rules: &dyn Rules, spec: &ExternalFrame, slab: &Slab) -> Ruled<[(Symbol, f64); 3]> {
    let (length, thickness) = (slab.contact_m, spec.slab_mm / 1000.0);
    let expected_mpa = rules.expected_factors()?.concrete_mpa(spec.concrete_mpa);
    let rigidity =
        1000.0 * rules.concrete_modulus_mpa(expected_mpa)? * length * thickness * thickness * thickness / 12.0;
    let moment = 6.0 * rigidity * SETTLES_M / (spec.gap_m * spec.gap_m);
    let cracks = 1000.0 * RUPTURE * spec.concrete_mpa.sqrt() * length * thickness * thickness / 6.0;
    Ok([
        (Symbol::SettlementAssumed, 1000.0 * SETTLES_M),
        (Symbol::SettlementMoment, moment),
        (Symbol::CrackingMoment, cracks),
    ])
}

/// A joint in shear friction as a check.
pub(super) fn interface(rules: &dyn Rules, part: Part, joint: &JointCheck) -> Ruled<Check> {
    let strength = &joint.strength;
    let written = written(rules, Provision::Interface)?;
    Ok(Check::new(part, joint.demand_kn, strength.strength_kn, joint.factor, written)
        .capped(strength.friction_kn > strength.cap_kn)
        .with(&[
            (Symbol::Factor, joint.factor),
            (Symbol::Peak, joint.peak),
            (Symbol::Friction, strength.friction),
            (Symbol::Clamping, strength.clamping_kn),
            (Symbol::NetTension, joint.net_tension_kn),
            (Symbol::Cap, strength.cap_kn),
        ])
        .overstrong(joint.overstrength))
}

/// What pulls on the bonded bars without pressure beside them: half of the direct pull and the
/// whole chord on the half of the bars that is tensioned. None where the rule set does not cover it.
pub(super) fn pulled(
    rules: &dyn Rules,
    slab: &Slab,
    asked: &LinkSlab,
    found: &SlabCheck,
    remarks: &mut Vec<Remark>,
) -> Ruled<Option<Check>> {
    let edge = asked.existing_contact_mm / 2.0;
    let anchored = rules.bar_anchorage(&BarAnchorage {
        bar: asked.across.bar,
        yield_mpa: asked.across.yield_mpa,
        concrete_mpa: asked.existing.concrete_mpa,
        embedment_mm: asked.existing.embedment_mm,
        confinement: asked.existing.confinement,
        position_factor: 1.0,
        breakout: Some(Breakout {
            spacing_mm: asked.across.spacing_mm / f64::from(asked.across.layers),
            edge_mm: edge,
            far_edge_mm: (slab.beam_depth_mm - edge).max(edge),
        }),
        lightweight: asked.lightweight,
    })?;
    let Some(of_bar) = anchored.breakout_kn else { return Ok(None) };
    if anchored.notes.has(Note::BreakoutOutOfRange) {
        remarks.push(Remark::BreakoutOutOfRange);
    }
    let state = ConnectionState { capped_by_mechanism: asked.capped_by_mechanism, bars_yield: false };
    let factors = rules.connection_factors(state)?;
    let pull = factors.demand * (asked.tension_kn.max(0.0) / 2.0 + found.existing.chord_kn);
    let check = Check::new(
        Part::PulledBars,
        pull,
        found.bars * of_bar / 2.0,
        factors.breakout,
        written(rules, Provision::Breakout)?,
    );
    Ok(Some(
        check
            .with(&[
                (Symbol::Factor, factors.breakout),
                (Symbol::Bars, found.bars),
                (Symbol::BreakoutOfBar, of_bar),
                (Symbol::DirectTension, asked.tension_kn),
                (Symbol::Chord, found.existing.chord_kn),
            ])
            .overstrong(factors.demand),
    ))
}

/// The old slab where it hands the force to the edge beam over the frame's bays.
fn old_slab(context: &SlabContext<'_>, frame: &Frame, slab: &Slab, force_kn: f64, capped: bool) -> Ruled<Check> {
    let model = context.model;
    along(
        context.rules,
        context.materials,
        &Edge {
            thickness_mm: model.floors[slab.level as usize - 1].slab_mm,
            length_m: floor_m(model, frame.direction, frame.line, slab.level, frame.spec.bays.iter()),
            force_kn,
            capped_by_mechanism: capped,
        },
    )
}
