//! The old floor bending in its plane between the lines that hold it.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, written};
use crate::connection::floor::one_layer_mm2;
use crate::place::{Class, Place};
use crate::project::Direction;
use crate::rules::{ConnectionState, Provision, Ruled};
use crate::study::ForceBound;

/// Lever arm of the chords over the depth of the floor (common practice, no source).
const LEVER: f64 = 0.9;
/// Flexural stiffness left of the gross one (judgement, no source).
const CRACKED: f64 = 0.25;
/// Shear modulus over Young's.
const SHEAR: f64 = 0.4;
/// Deflection of the floor over the storey's drift from which on it is not rigid, and from which on
/// its force goes by areas and not by stiffness (ASCE/SEI 41-17 7.2.9.1, its limits for rigid and flexible
/// diaphragms; MEMORY: from memory, verify).
const NOT_RIGID: [f64; 2] = [0.5, 2.0];

/// The widest span of each floor between lines with walls or external frames, where any of them is
/// new: w·L²/8 against the beams at its two edges. Frames between are left out, as if they held nothing.
pub(super) fn spans(context: &Context<'_>) -> Ruled<Vec<ConnectionResult>> {
    let mut found = Vec::new();
    for level in 1..=context.model.floors.len() as u32 {
        let mut worst: Option<ConnectionResult> = None;
        let stiff = stiff_lines(context, level);
        for pair in stiff.windows(2) {
            if pair[0].new || pair[1].new {
                let next = span(context, level, [pair[0].at, pair[1].at])?;
                if worst.as_ref().is_none_or(|own| own.utilisation() < next.utilisation()) {
                    worst = Some(next);
                }
            }
        }
        found.extend(worst);
    }
    Ok(found)
}

struct Stiff {
    at: usize,
    new: bool,
}

/// Lines with a wall under a level, or an external frame in front of them, by their places on the grid.
fn stiff_lines(context: &Context<'_>, level: u32) -> Vec<Stiff> {
    let model = context.model;
    let mut found = Vec::new();
    for at in 0..model.lines(context.direction).len() {
        let framed = || {
            let lines = context.framing.lines.iter();
            lines.filter(|line| line.direction == context.direction && line.line == at)
        };
        let walls = || framed().flat_map(|line| &line.walls).filter(|wall| wall.storey == level);
        let frame = model.frames.iter().any(|frame| {
            frame.direction == context.direction
                && frame.line == at
                && frame.slabs.get(level as usize - 1).is_some_and(Option::is_some)
        });
        if frame || walls().next().is_some() {
            found.push(Stiff { at, new: frame || walls().any(|wall| wall.class != Class::AsBuilt) });
        }
    }
    found
}

fn span(context: &Context<'_>, level: u32, [from, to]: [usize; 2]) -> Ruled<ConnectionResult> {
    let (model, direction) = (context.model, context.direction);
    let (floor, lines) = (&model.floors[level as usize - 1], model.lines(direction));
    let name = format!("{}–{}", lines[from].name, lines[to].name);
    let mut of = context.blank(ConnectionKind::FloorSpan, Place::Storey { storey: level }, &name, level, [0; 2]);
    let across = direction.across();
    let (width, depth) = (floor.bounds.across(direction), floor.bounds.across(across));
    let length = lines[to].at_m - lines[from].at_m;
    // The whole floor's force, at most what the push can bring.
    let elastic = context.forces_kn[level as usize - 1];
    let base: f64 = context.forces_kn.iter().sum();
    let most = context
        .capacity
        .map_or(f64::INFINITY, |own| own.curves.iter().map(|assessed| assessed.curve.peak_kn).fold(0.0, f64::max));
    let force = if most < base { elastic * most / base } else { elastic };
    of.bound = if most < base { ForceBound::OwnStrength } else { ForceBound::ElasticSpectrum };
    let load = if width > 0.0 { force / width } else { 0.0 };
    let moment = load * length * length / 8.0;
    let lever = LEVER * depth;
    let chord = if lever > 0.0 { moment / lever } else { 0.0 };
    let thickness = floor.slab_mm / 1000.0;
    let expected_mpa = context.rules.expected_factors()?.concrete_mpa(context.materials.concrete_mpa);
    let modulus = 1000.0 * context.rules.concrete_modulus_mpa(expected_mpa)?;
    let inertia = CRACKED * thickness * depth * depth * depth / 12.0;
    let area = thickness * depth / 1.2;
    let sags = 5.0 * load * length * length * length * length / (384.0 * modulus * inertia)
        + load * length * length / (8.0 * SHEAR * modulus * area);
    let drift = context.response.drift_at_centre(level as usize - 1, direction).abs();
    let elastic_sag = if force > 0.0 { sags * elastic / force } else { 0.0 };
    let flexibility = if drift > 0.0 { elastic_sag / drift } else { 0.0 };
    of.give(&[
        (Symbol::FloorSpan, length),
        (Symbol::FloorDepth, depth),
        (Symbol::Thickness, floor.slab_mm),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
    ]);
    of.act(&[
        (Symbol::ElasticForce, elastic),
        (Symbol::Force, force),
        (Symbol::FloorLoad, load),
        (Symbol::Moment, moment),
        (Symbol::FloorLever, lever),
        (Symbol::Chord, chord),
        (Symbol::FloorSag, 1000.0 * elastic_sag),
        (Symbol::Drift, 1000.0 * drift),
        (Symbol::Flexibility, flexibility),
    ]);
    of.remark(flexibility > NOT_RIGID[0] && flexibility <= NOT_RIGID[1], Remark::FloorNotRigid);
    of.remark(flexibility > NOT_RIGID[1], Remark::FloorFlexible);
    of.remark(true, Remark::FramesBetweenLeftOut);
    let Some(steel_mm2) = chord_mm2(context, across, level, [from, to]) else {
        of.remark(true, Remark::NoChord);
        return Ok(of);
    };
    let state = ConnectionState { capped_by_mechanism: most < base, bars_yield: true };
    let factors = context.rules.connection_factors(state)?;
    of.give(&[(Symbol::Steel, steel_mm2), (Symbol::Yield, context.materials.steel_mpa)]);
    let words = written(context.rules, Provision::Tension)?;
    let strength = steel_mm2 * context.materials.steel_mpa / 1e3;
    of.checks.push(Check::new(Part::ChordBars, factors.demand * chord, strength, factors.chord, words).with(&[
        (Symbol::Factor, factors.chord),
        (Symbol::Steel, steel_mm2),
        (Symbol::Yield, context.materials.steel_mpa),
    ]));
    of.remark(true, Remark::HalfTheBars);
    Ok(of.governed())
}

/// The weaker layer of the weakest beam at the two edges of the floor along a span, mm²; none where a
/// beam is missing.
fn chord_mm2(context: &Context<'_>, across: Direction, level: u32, [from, to]: [usize; 2]) -> Option<f64> {
    let model = context.model;
    let last = model.lines(across).len() - 1;
    let mut least = f64::INFINITY;
    for edge in [0, last] {
        for bay in from as u32 + 1..=to as u32 {
            least = least.min(one_layer_mm2(model.beam_at(across, edge, bay, level)?));
        }
    }
    least.is_finite().then_some(least)
}
