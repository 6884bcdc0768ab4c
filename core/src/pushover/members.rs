//! Plastic modes of a model: hinges with their envelopes, like ones of a storey taken together.

use super::building::PlasticMode;
use super::envelope::{Envelope, LEAST_HARDENING, Piece};
use crate::framing::Framing;
use crate::hinge::{At, HingeStrength, Resistance};
use crate::line_mode::{Hinge, LineMode};
use crate::model::Model;
use crate::order;
use crate::response::Response;
use core::cmp::Ordering;

/// Steepest loss of strength, as a part of the elastic stiffness of the hinge.
const STEEPEST_LOSS: f64 = 0.3;
/// Least part of a strength that stays, so that a member that is gone can still be turned back.
const LEAST_LEFT: f64 = 0.01;

/// A plastic mode with the hinges it stands for.
#[derive(Clone, Debug)]
pub struct MemberMode {
    /// The hinges, by place in the list it was made from; alike in strength and limits.
    pub hinges: Vec<usize>,
    /// The mode.
    pub mode: PlasticMode,
    /// Its envelopes.
    pub envelopes: [Envelope; 2],
}

/// How hinges are taken together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grouping {
    /// Part of their strength by which forces may differ in hinges of a line that deform together.
    pub alike: f64,
    /// Modes from which on that part is doubled, so that a large building does not take for ever.
    pub most: usize,
    /// A hinge of a framed line, by its place among the lines, whose whole member stays apart.
    pub apart: Option<(usize, Hinge)>,
}

/// The largest part of their strength by which forces of hinges that deform together may differ.
const MOST_ALIKE: f64 = 0.05;
/// Forces that differ by less are the same to rounding.
const SAME: f64 = 1e-9;

/// Plastic modes of all hinges of a model in a direction.
///
/// Hinges of one storey and line with the same strengths and limits whose elastic forces under
/// `response`, raised to where the first hinge yields, differ by no more than `alike` of their
/// strength deform together as one mode; so do those of different lines that carry the same to
/// rounding. Together they have the strength of all and one deformation: once what stands beside them
/// yields differently, as at the two ends of a frame, one carries more than its own strength and
/// another less by as much, while their sum is right. So shears of storeys change by little even at
/// zero, moments of one member by up to a tenth; who asks for those keeps it apart. More than zero
/// trades the order of yielding for speed besides.
pub fn member_modes(
    model: &Model,
    framing: &Framing,
    hinges: &[HingeStrength],
    response: &Response,
    grouping: Grouping,
) -> Vec<MemberMode> {
    let singles: Vec<Single> =
        hinges.iter().enumerate().filter_map(|(index, hinge)| single(model, framing, index, hinge, response)).collect();
    let kinds = kinds(hinges, &singles);
    let mut alike = grouping.alike;
    let apart = |hinge: &HingeStrength| {
        grouping.apart.is_some_and(|(line, own)| {
            hinge.at == At::Line(line) && hinge.hinges.iter().any(|hinge| hinge.is_of_the_member_of(own))
        })
    };
    let apart: Vec<bool> = singles.iter().map(|single| apart(&hinges[single.index])).collect();
    let mut groups = grouped(hinges, &singles, &kinds, &apart, alike);
    while groups.len() > grouping.most && alike > 0.0 && alike < MOST_ALIKE {
        alike = (2.0 * alike).min(MOST_ALIKE);
        groups = grouped(hinges, &singles, &kinds, &apart, alike);
    }
    groups.iter().map(|group| together(framing, hinges, &singles, group)).collect()
}

/// A number for each single, the same for hinges of one kind with the same figures.
fn kinds(hinges: &[HingeStrength], singles: &[Single]) -> Vec<usize> {
    let mut first: Vec<usize> = Vec::new();
    singles
        .iter()
        .map(|single| {
            let own = &hinges[single.index];
            first.iter().position(|&index| same(&hinges[index], own)).unwrap_or_else(|| {
                first.push(single.index);
                first.len() - 1
            })
        })
        .collect()
}

/// Singles that deform together, in the order of their first; those apart each by itself.
fn grouped(
    hinges: &[HingeStrength],
    singles: &[Single],
    kinds: &[usize],
    apart: &[bool],
    alike: f64,
) -> Vec<Vec<usize>> {
    let first_yield = singles.iter().fold(f64::MIN_POSITIVE, |most, single| most.max(single.utilisation.abs()));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut of_kind: Vec<Vec<usize>> = vec![Vec::new(); kinds.len()];
    for (place, (single, &kind)) in singles.iter().zip(kinds).enumerate() {
        if apart[place] {
            groups.push(vec![place]);
            continue;
        }
        let found = of_kind[kind].iter().find(|&&group| {
            let first = &singles[groups[group][0]];
            let part = if hinges[first.index].at == hinges[single.index].at { alike.max(SAME) } else { SAME };
            (first.utilisation - single.utilisation).abs() <= part * first_yield
        });
        // What is not framed moves on its own.
        let framed = matches!(hinges[single.index].at, At::Line(_) | At::Frame(_));
        match found {
            Some(&group) if framed => groups[group].push(place),
            _ => {
                of_kind[kind].push(groups.len());
                groups.push(vec![place]);
            }
        }
    }
    groups
}

/// The mode of singles that deform together.
fn together(framing: &Framing, hinges: &[HingeStrength], singles: &[Single], group: &[usize]) -> MemberMode {
    let first = &singles[group[0]];
    let count = group.len() as f64;
    let mut envelopes = hinges[first.index]
        .senses
        .map(|sense| sense.map_or_else(Envelope::elastic, |it| envelope(&it, first.mode.own(framing))));
    for envelope in &mut envelopes {
        envelope.yield_force *= count;
        for piece in &mut envelope.pieces {
            piece.slope *= count;
        }
    }
    let mode = if group.len() == 1 {
        first.mode.0.clone()
    } else {
        // Part by part: the hinges of one line together.
        let mut parts: Vec<(At, Vec<(Hinge, f64)>)> = Vec::new();
        for one in group {
            let hinge = &hinges[singles[*one].index];
            let more = hinge.hinges.iter().map(|hinge| (*hinge, 1.0));
            match parts.iter_mut().find(|(at, _)| *at == hinge.at) {
                Some((_, all)) => all.extend(more),
                None => parts.push((hinge.at, more.collect())),
            }
        }
        PlasticMode::Members(parts.iter().filter_map(|(at, all)| line_mode(framing, *at, all)).collect())
    };
    MemberMode { hinges: group.iter().map(|one| singles[*one].index).collect(), mode, envelopes }
}

/// Whether hinges whose senses differ are without a mirrored counterpart under `response`.
pub(super) fn senses_differ(model: &Model, framing: &Framing, hinges: &[HingeStrength], response: &Response) -> bool {
    let uneven = hinges.iter().enumerate().filter(|(_, hinge)| hinge.senses[0] != hinge.senses[1]);
    let uneven: Vec<Single> =
        uneven.filter_map(|(index, hinge)| single(model, framing, index, hinge, response)).collect();
    let largest = uneven.iter().fold(f64::MIN_POSITIVE, |most, single| most.max(single.force.abs()));
    let figures = |it: Option<Resistance>| {
        it.map_or([-1.0; 6], |it| [it.strength, it.onset[0], it.onset[1], it.capping, it.loss, it.residual])
    };
    // Forces to six figures, so that rounding makes no difference.
    let seen = |order: [usize; 2]| {
        let mut rows: Vec<[f64; 14]> = uneven
            .iter()
            .map(|single| {
                let hinge = &hinges[single.index];
                let mut row = [0.0; 14];
                row[0] = f64::from(hinge.storey);
                row[1] = (1e6 * single.force / largest).round();
                row[2..8].copy_from_slice(&figures(hinge.senses[order[0]]));
                row[8..].copy_from_slice(&figures(hinge.senses[order[1]]));
                row
            })
            .collect();
        order::sort_by(&mut rows, |one, other| {
            one.iter().zip(other).map(|(a, b)| a.total_cmp(b)).find(|order| order.is_ne()).unwrap_or(Ordering::Equal)
        });
        rows
    };
    let near = |a: f64, b: f64| a == b || (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
    let same = |one: &[f64; 14], other: &[f64; 14]| one.iter().zip(other).all(|(&a, &b)| near(a, b));
    seen([0, 1]).iter().zip(&seen([1, 0])).any(|(one, other)| !same(one, other))
}

struct Single {
    index: usize,
    mode: Mode,
    /// Elastic force, signed.
    force: f64,
    /// Elastic force over strength, signed.
    utilisation: f64,
}

#[derive(Clone)]
struct Mode(PlasticMode);

impl Mode {
    fn own(&self, framing: &Framing) -> f64 {
        match &self.0 {
            PlasticMode::Members(parts) => parts.iter().map(|(_, own)| own.own_stiffness).sum(),
            PlasticMode::Slab { linked, floor } => framing.frames[*linked].link_kn_m[*floor].unwrap_or(1.0),
        }
    }
}

/// Line among fixed and linked ones, and the mode of hinges in it.
fn line_mode(framing: &Framing, at: At, hinges: &[(Hinge, f64)]) -> Option<(usize, LineMode)> {
    match at {
        At::Line(line) => Some((line, framing.lines[line].condensed.mode(hinges)?)),
        At::Frame(frame) => Some((framing.lines.len() + frame, framing.frames[frame].condensed.mode(hinges)?)),
        At::Rocking(_) | At::Sliding(_) | At::Floor(..) | At::Slab(..) => None,
    }
}

fn single(
    model: &Model,
    framing: &Framing,
    index: usize,
    hinge: &HingeStrength,
    response: &Response,
) -> Option<Single> {
    let all: Vec<(Hinge, f64)> = hinge.hinges.iter().map(|hinge| (*hinge, 1.0)).collect();
    let (mode, force) = match hinge.at {
        At::Line(line) => {
            let (at, mode) = line_mode(framing, hinge.at, &all)?;
            let force = framing.lines[line].condensed.mode_force(&mode, &response.lines[line].displacement_m);
            (PlasticMode::Members(vec![(at, mode)]), force)
        }
        At::Frame(frame) => {
            let (at, mode) = line_mode(framing, hinge.at, &all)?;
            let force = framing.frames[frame].condensed.mode_force(&mode, &response.linked[frame].displacement_m);
            (PlasticMode::Members(vec![(at, mode)]), force)
        }
        At::Rocking(frame) => {
            let levels: Vec<f64> =
                model.floors.iter().take(model.frames[frame].storeys as usize).map(|floor| floor.level_m).collect();
            let mode = framing.frames[frame].condensed.turning(&levels);
            (PlasticMode::Members(vec![(framing.lines.len() + frame, mode)]), 0.0)
        }
        At::Sliding(frame) => {
            let mode = framing.frames[frame].condensed.sliding();
            (PlasticMode::Members(vec![(framing.lines.len() + frame, mode)]), 0.0)
        }
        At::Floor(line, floor) => {
            let mode = framing.lines[line].condensed.slipping(floor);
            (PlasticMode::Members(vec![(line, mode)]), 0.0)
        }
        At::Slab(linked, floor) => {
            framing.frames[linked].link_kn_m[floor]?;
            (PlasticMode::Slab { linked, floor }, 0.0)
        }
    };
    let strength = hinge.senses.iter().flatten().map(|it| it.strength).fold(0.0, f64::max);
    let mode = Mode(mode);
    // A hinge where nothing can bend.
    if let PlasticMode::Members(parts) = &mode.0
        && parts.iter().any(|(_, own)| own.own_stiffness <= 0.0)
    {
        return None;
    }
    Some(Single { index, mode, force, utilisation: if strength > 0.0 { force / strength } else { 0.0 } })
}

/// Hinges of one kind at one height with the same line of resistance: where support is lost does not shape it.
fn same(one: &HingeStrength, other: &HingeStrength) -> bool {
    let kind = |hinge: &HingeStrength| {
        hinge.hinges.first().map(|hinge| match hinge {
            Hinge::ColumnEnd { top, .. } => (0, *top),
            Hinge::ColumnShear { .. } => (1, false),
            Hinge::BeamEnd { right, .. } => (2, *right),
            Hinge::WallFoot { .. } => (3, false),
            Hinge::WallShear { .. } => (4, false),
            Hinge::StoreySpring { .. } => (5, false),
            Hinge::BeamShear { .. } => (6, false),
        })
    };
    let near = |a: f64, b: f64| a == b || (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
    let alike = |a: &Option<Resistance>, b: &Option<Resistance>| match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => {
            let pairs = [
                (a.strength, b.strength),
                (a.onset[0], b.onset[0]),
                (a.onset[1], b.onset[1]),
                (a.capping, b.capping),
                (a.residual, b.residual),
            ];
            pairs.iter().all(|&(a, b)| near(a, b))
        }
        _ => false,
    };
    let places = |at: At| matches!(at, At::Line(_) | At::Frame(_));
    places(one.at)
        && places(other.at)
        && one.storey == other.storey
        && one.failure == other.failure
        && one.class == other.class
        && kind(one) == kind(other)
        && one.hinges.len() == other.hinges.len()
        && one.senses.iter().zip(&other.senses).all(|(a, b)| alike(a, b))
}

/// Envelope of a resistance on a hinge of an elastic stiffness: onset, strength, what is kept
/// until capping, a loss no steeper than [`STEEPEST_LOSS`], the residual.
fn envelope(it: &Resistance, stiffness: f64) -> Envelope {
    let level = LEAST_HARDENING * stiffness;
    // A member that carries nothing still needs a sign to be overcome.
    let least = 1e-6 * stiffness;
    let strength = it.strength.max(least);
    let mut pieces = Vec::new();
    let mut done = 0.0;
    let mut force = strength;
    let mut onset = strength;
    // What the member has deformed elastically by then is not plastic.
    let elastic = strength / stiffness;
    let plastic = it.onset[1] - elastic;
    if it.onset[0] < strength && plastic > 0.0 {
        onset = it.onset[0].max(least);
        pieces.push(Piece { length: plastic, slope: ((strength - onset) / plastic).max(level) });
        done = plastic;
    }
    let kept = if it.onset[1] > 0.0 { (it.capping - elastic).max(done) } else { it.capping };
    if kept.is_infinite() {
        pieces.push(Piece { length: f64::INFINITY, slope: level });
        return Envelope { yield_force: onset, pieces };
    }
    if kept > done {
        pieces.push(Piece { length: kept - done, slope: level });
        force += level * (kept - done);
    }
    let lost = force - strength * it.residual.max(LEAST_LEFT);
    if lost > 0.0 {
        let length = it.drop.max(lost / (STEEPEST_LOSS * stiffness));
        pieces.push(Piece { length, slope: -lost / length });
    }
    pieces.push(Piece { length: f64::INFINITY, slope: level });
    Envelope { yield_force: onset, pieces }
}
