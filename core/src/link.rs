//! External frames: what each can deliver, and what its connecting slabs must carry and can.

use crate::assembly::Load;
use crate::capacity::joint_share_knm;
use crate::framing::Framing;
use crate::material::Bar;
use crate::model::{Frame, Model, Slab};
use crate::project::{self, Direction, ExternalFrame, Footing, Materials};
use crate::response::Response;
use crate::rules::{
    AnchorageLimit, BarAnchorage, ConnectionState, DiaphragmShear, InterfaceShear, Ruled, Rules, Surface,
};
use crate::sections::{Sections, frame_axial_kn};
use crate::study::{SlabBound, SlabResult};

/// Ultimate over allowable bearing pressure (common practice, no source).
const BEARING_RESERVE: f64 = 3.0;

/// Moment at which a footing rocks under a vertical load, M = N·L/2·(1 − q/q_c), kNm, with
/// q_c three times the allowable bearing (ASCE 41-17 8.4.2.3, MEMORY).
///
/// ```
/// use sisterframe_core::{link::rocking_knm, project::Footing};
/// let footing = Footing { length_m: 3.0, width_m: 2.0, depth_m: 0.6, bearing_kpa: 200.0, subgrade_mn_m3: None };
/// assert!((rocking_knm(&footing, 800.0) - 933.33).abs() < 0.01);
/// ```
pub fn rocking_knm(footing: &Footing, axial_kn: f64) -> f64 {
    let pressure = axial_kn / (footing.length_m * footing.width_m);
    let capacity = BEARING_RESERVE * footing.bearing_kpa;
    (axial_kn * footing.length_m / 2.0 * (1.0 - pressure / capacity)).max(0.0)
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
/// the columns have no more than the beams, shared as [`crate::capacity::joint_share_knm`]
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
                    joint_share_knm(at_joint(end), own * to_centre, other * to_centre) / to_centre
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
fn pad_knm(frame: &Frame) -> f64 {
    let axial = frame_axial_kn(frame, 0);
    match &frame.spec.footing {
        Some(footing) => rocking_knm(footing, axial + pad_kn(footing)),
        None => axial * frame.spec.column_along_mm / 2000.0,
    }
}

/// Weight of a pad, kN.
fn pad_kn(footing: &Footing) -> f64 {
    footing.length_m * footing.width_m * footing.depth_m * crate::model::CONCRETE_KN_M3
}

/// Overturning moment the frame can take before it lifts as a whole about its last column:
/// its weight and its pads' at their distance from there, and the pads' own rocking moments.
fn overturning_knm(sections: &Sections<'_>, frame: &Frame) -> Ruled<f64> {
    let last = frame.along_m[frame.along_m.len() - 1];
    let first = frame.along_m[0];
    let axial = frame_axial_kn(frame, 0) + frame.spec.footing.as_ref().map_or(0.0, pad_kn);
    let towards = |to: f64| frame.along_m.iter().map(|at| axial * (to - at).abs()).sum::<f64>();
    let base = pad_knm(frame).min(sections.frame_column_knm(&frame.spec, frame_axial_kn(frame, 0))?);
    Ok(towards(first).min(towards(last)) + frame.along_m.len() as f64 * base)
}

/// In-plane stiffness of a strip held against rotation at both edges, kN/m:
/// k = 1/[1.2·g/(0.4·E·L·t) + g³/(12·E·0.35·t·L³/12)] (DERIVED, fixed–fixed strip).
pub fn strip_stiffness_kn_m(spec: &ExternalFrame, slab: &Slab, modulus_mpa: f64) -> f64 {
    let modulus = 1000.0 * modulus_mpa;
    let (gap, length, thickness) = (spec.gap_m, slab.contact_m, spec.slab_mm / 1000.0);
    let shear = 1.2 * gap / (0.4 * modulus * length * thickness);
    let inertia = 0.35 * thickness * length * length * length / 12.0;
    let bending = gap * gap * gap / (12.0 * modulus * inertia);
    1.0 / (shear + bending)
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

/// A connecting slab as the clauses take it.
struct Strip<'a> {
    sections: &'a Sections<'a>,
    frame: &'a Frame,
    slab: &'a Slab,
}

/// Both strengths of a strip.
struct StripStrength {
    /// Stress the bars across the joint develop, MPa.
    bar_stress_mpa: f64,
    /// Whether they yield.
    bars_yield: bool,
    friction_kn: f64,
    friction_capped: bool,
    strip_kn: f64,
    strip_capped: bool,
}

impl Strip<'_> {
    fn rules(&self) -> &dyn Rules {
        self.sections.rules
    }

    /// Steel crossing the interface, mm².
    fn across_mm2(&self) -> f64 {
        let spec = &self.frame.spec;
        let rows = (1000.0 * self.slab.contact_m / spec.across_spacing_mm).floor();
        f64::from(spec.across_layers) * rows * Bar::round(spec.across_bar_mm).area_mm2
    }

    /// Nominal strengths with a net tension across the interface, kN.
    fn strengths(&self, tension_kn: f64) -> Ruled<StripStrength> {
        let spec = &self.frame.spec;
        let old = self.sections.materials.concrete_mpa;
        // The far face of the existing beam needs its cover.
        let available = (self.slab.beam_width_mm - 40.0).max(0.0);
        // The pull of clamping bars is balanced by pressure on the same interface, so they
        // need their development length (ACI 318-19 ch. 25) and not a free cone of concrete.
        let anchorage = self.rules().bar_anchorage(&BarAnchorage {
            bar: Bar::round(spec.across_bar_mm),
            yield_mpa: spec.steel_mpa,
            concrete_mpa: old,
            embedment_mm: spec.embedment_mm.min(available),
            confinement: 0.5 * spec.across_spacing_mm / spec.across_bar_mm,
            position_factor: 1.0,
            breakout: None,
            lightweight: 1.0,
        })?;
        // Contact is inside the existing beam only.
        let height = spec.slab_mm.min(self.slab.beam_depth_mm);
        let interface = |concrete_mpa: f64, surface: Surface, bar_stress_mpa: f64| {
            self.rules().interface_shear(&InterfaceShear {
                area_mm2: 1000.0 * self.slab.contact_m * height,
                steel_mm2: self.across_mm2(),
                bar_stress_mpa,
                surface,
                concrete_mpa,
                normal_kn: -tension_kn,
                lightweight: 1.0,
            })
        };
        let surface = match spec.surface {
            project::Surface::Roughened => Surface::Roughened,
            project::Surface::Plain => Surface::Plain,
        };
        let existing = interface(old.min(spec.concrete_mpa), surface, anchorage.stress_mpa)?;
        // The new beam is cast before the slab: a roughened cold joint with bars that yield.
        let new = interface(spec.concrete_mpa, Surface::Roughened, spec.steel_mpa)?;
        let weaker = if new.strength_kn < existing.strength_kn { new } else { existing };
        let along = 2.0 * Bar::round(spec.along_bar_mm).area_mm2 / (spec.along_spacing_mm * spec.slab_mm);
        let across = self.across_mm2() / (1000.0 * self.slab.contact_m * spec.slab_mm);
        let strip = self.rules().diaphragm_shear(&DiaphragmShear {
            concrete_mpa: spec.concrete_mpa,
            thickness_mm: spec.slab_mm,
            length_mm: 1000.0 * self.slab.contact_m,
            parallel_ratio: along,
            across_ratio: across,
            yield_mpa: spec.steel_mpa,
            lightweight: 1.0,
        })?;
        Ok(StripStrength {
            bar_stress_mpa: anchorage.stress_mpa,
            bars_yield: anchorage.limit == AnchorageLimit::Yield,
            friction_kn: weaker.strength_kn,
            friction_capped: weaker.friction_kn > weaker.cap_kn,
            strip_kn: strip.strength_kn,
            strip_capped: strip.concrete_kn + strip.steel_kn > strip.cap_kn,
        })
    }
}

/// Nominal strength of a connecting slab without tension across it, kN.
fn nominal_kn(sections: &Sections<'_>, frame: &Frame, slab: &Slab) -> Ruled<f64> {
    let strengths = Strip { sections, frame, slab }.strengths(0.0)?;
    Ok(strengths.friction_kn.min(strengths.strip_kn))
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
                results.push(check(context, &sections, &caps, index, level, slab)?);
            }
        }
    }
    Ok(results)
}

/// Checks one connecting slab.
fn check(
    context: &Context<'_>,
    sections: &Sections<'_>,
    caps: &[FrameCap],
    index: usize,
    level: usize,
    slab: &Slab,
) -> Ruled<SlabResult> {
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
    let moment = demand * frame.lever_m;
    let chord = moment / (0.8 * slab.contact_m);
    let strengths = Strip { sections, frame, slab }.strengths(tension + chord)?;
    let factors = context.rules.connection_factors(ConnectionState {
        capped_by_mechanism: bound != SlabBound::ElasticSpectrum,
        bars_yield: strengths.bars_yield,
    })?;
    let friction_kn = factors.interface * strengths.friction_kn;
    let strip_kn = factors.diaphragm * strengths.strip_kn;
    let strength_kn = friction_kn.min(strip_kn);
    let demand = factors.demand * demand;
    Ok(SlabResult {
        face: frame.spec.face.clone(),
        along_x: frame.direction == Direction::X,
        level: level as u32 + 1,
        stiffness_kn_m: context.framing.frames[index].link_kn_m[level].unwrap_or(0.0),
        elastic_force_kn: elastic,
        shear_above_kn: own.storey_shear_kn.get(level + 1).copied().unwrap_or(0.0),
        shear_below_kn: own.storey_shear_kn[level],
        own_inertia_kn: context.load.linked_kn[index][level],
        demand_kn: demand,
        bound,
        friction_kn,
        friction_capped: strengths.friction_capped,
        bar_stress_mpa: strengths.bar_stress_mpa,
        anchorage_limited: !strengths.bars_yield,
        strip_kn,
        strip_capped: strengths.strip_capped,
        strength_kn,
        friction_governs: friction_kn <= strip_kn,
        phi: [factors.interface, factors.diaphragm],
        moment_kn_m: moment,
        chord_kn: chord,
        tension_kn: tension,
        utilisation: if strength_kn > 0.0 { demand / strength_kn } else { f64::MAX },
    })
}
