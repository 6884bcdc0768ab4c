//! External frames: what each can deliver, and what its connecting slabs must carry and can.

use crate::anchorage::confinement;
use crate::assembly::Load;
use crate::footing::{Strip, gravity_only_moment_knm};
use crate::framing::Framing;
use crate::joint::share_knm;
use crate::link_slab::{BarRow, BondedSide, FactorChoice, JointCheck, LinkSlab, PeakChoice, SlabPlace, StripStiffness};
use crate::material::Bar;
use crate::model::{Frame, Model, Slab};
use crate::project::{self, Direction, ExternalFrame, Footing, Materials};
use crate::response::Response;
use crate::rules::{AnchorageLimit, Note, Ruled, Rules, Surface};
use crate::sections::{Sections, frame_axial_kn};
use crate::study::{SlabBound, SlabResult};

/// A footing of the project as the ground sees it.
pub fn ground(footing: &Footing) -> Strip {
    let usual = Strip::from_allowable(footing.length_m, footing.width_m, footing.bearing_kpa);
    Strip { subgrade_mn_m3: footing.subgrade_mn_m3.unwrap_or(usual.subgrade_mn_m3), ..usual }
}

/// The most an external frame can take in a storey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameCap {
    /// By its own bending mechanism, kN.
    pub mechanism_kn: f64,
    /// Before its footings lift, kN.
    pub uplift_kn: f64,
    /// By what the slabs above can bring in, kN.
    pub slabs_kn: f64,
}

/// Caps of an external frame by storey; storeys above it are left out.
///
/// `levers_m` is the height of the resultant of the lateral forces above each storey's foot,
/// `shears_kn` the storey shears of the whole building, whose shape the frame's follow.
pub fn frame_caps(sections: &Sections<'_>, frame: &Frame, levers_m: &[f64], shears_kn: &[f64]) -> Ruled<Vec<FrameCap>> {
    let mechanism = mechanism_kn(sections, frame)?;
    let overturning = overturning_knm(sections, frame)?;
    let mut brought = vec![0.0; frame.storeys as usize + 1];
    for level in (0..frame.storeys as usize).rev() {
        let own = match &frame.slabs[level] {
            Some(slab) => nominal_kn(sections, frame, slab)?,
            None => 0.0,
        };
        brought[level] = brought[level + 1] + own;
    }
    Ok(mechanism
        .into_iter()
        .enumerate()
        .map(|(s, mechanism_kn)| FrameCap {
            mechanism_kn,
            uplift_kn: overturning / levers_m[0] * if shears_kn[0] > 0.0 { shears_kn[s] / shears_kn[0] } else { 1.0 },
            slabs_kn: brought[s],
        })
        .collect())
}

/// Shear of each storey at the bending mechanism of columns and beams, kN: at each joint
/// the columns have no more than the beams, shared as [`crate::joint::share_knm`]
/// says.
fn mechanism_kn(sections: &Sections<'_>, frame: &Frame) -> Ruled<Vec<f64>> {
    let spec = &frame.spec;
    let columns = frame.along_m.len();
    let beam = sections.frame_beam_knm(spec)?;
    let heights: Vec<f64> =
        sections.model.floors.iter().take(frame.storeys as usize).map(|floor| floor.height_m).collect();
    let depth = spec.beam_depth_mm / 1000.0;
    let moments: Vec<f64> =
        (0..heights.len()).map(|s| sections.frame_column_knm(spec, frame_axial_kn(frame, s))).collect::<Ruled<_>>()?;
    // Moment of the beams at a joint's centre: each bay's beam has its strength at both ends.
    let at_joint = |end: usize| {
        let bay = |bay: usize| {
            let clear = frame.along_m[bay + 1] - frame.along_m[bay] - spec.column_along_mm / 1000.0;
            beam * (1.0 + spec.column_along_mm / 1000.0 / clear)
        };
        let before = end.checked_sub(1).map_or(0.0, bay);
        let after = if end + 1 < columns { bay(end) } else { 0.0 };
        before + after
    };
    Ok((0..heights.len())
        .map(|s| {
            let clear = heights[s] - depth;
            let mut shear = 0.0;
            for end in 0..columns {
                let to_centre = heights[s] / clear;
                let limited = |level: usize, own: f64| {
                    // The joint at a level has a column above it unless it is the roof.
                    let other =
                        if level == s { moments.get(level + 1).copied().unwrap_or(0.0) } else { moments[level] };
                    share_knm(at_joint(end), own * to_centre, other * to_centre) / to_centre
                };
                let head = limited(s, moments[s]);
                let foot = match s.checked_sub(1) {
                    Some(below) => limited(below, moments[s]),
                    None => moments[s].min(pad_knm(frame)),
                };
                shear += (head + foot) / clear;
            }
            shear
        })
        .collect())
}

/// Moment at which the pad under one column rocks, kNm; without a footing the load only
/// has the column's own half width to stand on.
pub(crate) fn pad_knm(frame: &Frame) -> f64 {
    let axial = frame_axial_kn(frame, 0);
    match &frame.spec.footing {
        Some(footing) => ground(footing).rocking_moment_knm(axial + pad_kn(footing)),
        None => gravity_only_moment_knm(axial, frame.spec.column_along_mm / 1000.0),
    }
}

/// Weight of a pad, kN.
fn pad_kn(footing: &Footing) -> f64 {
    footing.length_m * footing.width_m * footing.depth_m * crate::model::CONCRETE_KN_M3
}

/// Overturning moment the frame can take before it lifts as a whole about its last column:
/// its weight and its pads' at their distance from there, and the pads' own rocking moments.
pub(crate) fn overturning_knm(sections: &Sections<'_>, frame: &Frame) -> Ruled<f64> {
    let last = frame.along_m[frame.along_m.len() - 1];
    let first = frame.along_m[0];
    let axial = frame_axial_kn(frame, 0) + frame.spec.footing.as_ref().map_or(0.0, pad_kn);
    let towards = |to: f64| frame.along_m.iter().map(|at| axial * (to - at).abs()).sum::<f64>();
    let base = pad_knm(frame).min(sections.frame_column_knm(&frame.spec, frame_axial_kn(frame, 0))?);
    Ok(towards(first).min(towards(last)) + frame.along_m.len() as f64 * base)
}

/// In-plane stiffness of a connecting slab, kN/m; slip at the joint is left out.
pub fn strip_stiffness_kn_m(spec: &ExternalFrame, slab: &Slab, modulus_mpa: f64) -> f64 {
    StripStiffness::usual(slab.contact_m, spec.gap_m, spec.slab_mm / 1000.0, modulus_mpa).stiffness_kn_m()
}

/// What checking the slabs of one direction needs at hand.
pub struct Context<'a> {
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
}

/// A connecting slab as its check takes it, with no force on it yet.
fn link_slab(materials: &Materials, frame: &Frame, slab: &Slab) -> LinkSlab {
    let spec = &frame.spec;
    // The far face of the existing beam needs its cover.
    let available = (slab.beam_width_mm - 40.0).max(0.0);
    LinkSlab {
        length_mm: 1000.0 * slab.contact_m,
        thickness_mm: spec.slab_mm,
        // Contact is inside the existing beam only.
        existing_contact_mm: spec.slab_mm.min(slab.beam_depth_mm),
        existing_lever_mm: 1000.0 * frame.lever_m,
        new_lever_mm: spec.beam_width_mm / 2.0,
        existing: BondedSide {
            concrete_mpa: materials.concrete_mpa,
            embedment_mm: spec.embedment_mm.min(available),
            confinement: confinement(Bar::round(spec.across_bar_mm), slab.beam_depth_mm / 2.0, spec.across_spacing_mm),
            surface: match spec.surface {
                project::Surface::Roughened => Surface::Roughened,
                project::Surface::Plain => Surface::Plain,
            },
            // The pull of clamping bars is balanced by pressure on the same interface, so they
            // need their development length (ACI 318-19 ch. 25) and not a free cone of concrete.
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

/// Nominal strength of a connecting slab without tension across it, the peak of a brittle joint taken
/// off, kN.
fn nominal_kn(sections: &Sections<'_>, frame: &Frame, slab: &Slab) -> Ruled<f64> {
    Ok(slab_strength_kn(sections, frame, slab)?.0)
}

/// The same, and whether it is lost at once when it is reached: by bars too short to yield, by
/// the upper bound on a joint, or in the strip.
pub(crate) fn slab_strength_kn(sections: &Sections<'_>, frame: &Frame, slab: &Slab) -> Ruled<(f64, bool)> {
    let found = link_slab(sections.materials, frame, slab).check(sections.rules)?;
    let joint = |joint: &JointCheck, anchored: bool| {
        (joint.strength.strength_kn / joint.peak, !anchored || joint.strength.friction_kn > joint.strength.cap_kn)
    };
    let anchored = found.anchorage.limit == AnchorageLimit::Yield;
    let places = [joint(&found.existing, anchored), joint(&found.new, true), (found.strip.strength.strength_kn, true)];
    Ok(places.into_iter().fold((f64::INFINITY, true), |least, next| if next.0 < least.0 { next } else { least }))
}

/// Checks every connecting slab of a direction.
pub fn slabs(context: &Context<'_>) -> Ruled<Vec<SlabResult>> {
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
                results.push(check(context, &caps, index, level, slab)?);
            }
        }
    }
    Ok(results)
}

/// Checks one connecting slab.
fn check(context: &Context<'_>, caps: &[FrameCap], index: usize, level: usize, slab: &Slab) -> Ruled<SlabResult> {
    let frame = &context.model.frames[index];
    let own = &context.response.linked[index];
    let elastic = own.link_force_kn[level];
    let largest = context
        .accidental
        .iter()
        .map(|response| response.linked[index].link_force_kn[level].abs())
        .fold(elastic.abs(), f64::max);
    // The most the storeys below and above can differ by, in either sense of each.
    let delivered = |of: fn(&FrameCap) -> f64| of(&caps[level]) + caps.get(level + 1).map_or(0.0, of);
    let mechanism = delivered(|cap| cap.mechanism_kn);
    let uplift = delivered(|cap| cap.uplift_kn);
    let (demand, bound) = [(mechanism, SlabBound::FrameMechanism), (uplift, SlabBound::FootingUplift)]
        .into_iter()
        .fold((largest, SlabBound::ElasticSpectrum), |least, next| if next.0 < least.0 { next } else { least });
    let own_weight = frame.weight_kn[level];
    // The frame's own mass pulls on the slab across the face (30 % at the same time, and not
    // less than a fifth of the plateau: the collector rule for anchorage of heavy parts).
    let tension = (0.3 * context.acceleration_g * own_weight).max(0.2 * context.plateau_g * own_weight);
    let found = LinkSlab {
        force_kn: demand,
        tension_kn: tension,
        capped_by_mechanism: bound != SlabBound::ElasticSpectrum,
        ..link_slab(context.materials, frame, slab)
    }
    .check(context.rules)?;
    let joint = if found.new.utilisation > found.existing.utilisation { &found.new } else { &found.existing };
    let (friction_kn, strip_kn) = (joint.design_kn, found.strip.design_kn);
    let strength_kn = (friction_kn / joint.peak).min(strip_kn);
    Ok(SlabResult {
        face: frame.spec.face.clone(),
        along_x: frame.direction == Direction::X,
        level: level as u32 + 1,
        stiffness_kn_m: context.framing.frames[index].link_kn_m[level].unwrap_or(0.0),
        elastic_force_kn: elastic,
        shear_above_kn: own.storey_shear_kn.get(level + 1).copied().unwrap_or(0.0),
        shear_below_kn: own.storey_shear_kn[level],
        own_inertia_kn: context.load.linked_kn[index][level],
        demand_kn: found.strip.demand_kn,
        bound,
        friction_kn,
        friction_capped: joint.strength.notes.has(Note::CapGoverns),
        peak: joint.peak,
        bar_stress_mpa: found.anchorage.stress_mpa,
        anchorage_limited: found.anchorage.limit != AnchorageLimit::Yield,
        strip_kn,
        strip_capped: found.strip.strength.notes.has(Note::CapGoverns),
        strength_kn,
        friction_governs: found.governs != SlabPlace::Strip,
        phi: [joint.factor, found.strip.factor],
        moment_kn_m: found.existing.moment_knm,
        chord_kn: found.existing.chord_kn,
        tension_kn: tension,
        utilisation: found.utilisation.min(f64::MAX),
    })
}
