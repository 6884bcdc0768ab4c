//! External frames: what each can deliver, and what its connecting slabs can carry.

use crate::connection::link_slab;
use crate::footing::{SLIDING, Strip, gravity_only_moment_knm};
use crate::framing::WallGroup;
use crate::joint::share_knm;
use crate::link_slab::{JointCheck, StripStiffness};
use crate::model::{Column, Frame, Slab};
use crate::place::Class;
use crate::project::{Direction, ExternalFrame, Footing};
use crate::rules::{AnchorageLimit, Ruled};
use crate::sections::{Sections, frame_axial_kn};

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

/// Moments of an external frame's columns over those of its beams at the joint that has most beams, floor by floor below
/// its top.
pub fn columns_over_beams(sections: &Sections<'_>, frame: &Frame) -> Ruled<Vec<f64>> {
    let spec = &frame.spec;
    let beam = sections.frame_beam_knm(spec)?;
    let depth_m = spec.beam_depth_mm / 1000.0;
    let floors = sections.model.floors.iter().take(frame.storeys as usize);
    let columns: Vec<f64> = floors
        .enumerate()
        .map(|(s, floor)| {
            let own = sections.frame_column_knm(spec, frame_axial_kn(frame, s))?;
            Ok(own * floor.height_m / (floor.height_m - depth_m))
        })
        .collect::<Ruled<_>>()?;
    let column_m = spec.column_along_mm / 1000.0;
    let bays = frame.along_m.windows(2).map(|pair| pair[1] - pair[0]);
    let bays: Vec<f64> = bays.map(|bay_m| beam * (1.0 + column_m / (bay_m - column_m))).collect();
    let at = |end: usize| end.checked_sub(1).map_or(0.0, |bay| bays[bay]) + bays.get(end).copied().unwrap_or(0.0);
    let most = (0..frame.along_m.len()).map(at).fold(0.0, f64::max);
    Ok(columns.windows(2).map(|pair| (pair[0] + pair[1]) / most).collect())
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
pub(crate) fn pad_kn(footing: &Footing) -> f64 {
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

/// Friction that keeps a footing from sliding under a load, kN; none where it is tied to the old
/// footings, which then hold it.
fn friction_kn(footing: &Footing, axial_kn: f64) -> Option<f64> {
    (!footing.tied).then(|| SLIDING * axial_kn.max(0.0))
}

/// The same of a wall in the lowest storey on a footing of its own; none of one that continues an
/// old wall, which has been held so far.
pub(crate) fn wall_friction_kn(wall: &WallGroup) -> Option<f64> {
    let footing = wall.footing.as_ref().filter(|_| wall.storey == 1 && wall.class == Class::New)?;
    friction_kn(footing, wall.axial_kn + pad_kn(footing))
}

/// The same of the footing under a column with wings along a direction.
pub(crate) fn wing_friction_kn(column: &Column, direction: Direction) -> Option<f64> {
    let wings = column.wings.as_ref().filter(|wings| column.storey == 1 && wings.spec.direction == direction)?;
    let footing = wings.spec.footing.as_ref()?;
    friction_kn(footing, column.axial_kn + pad_kn(footing))
}

/// Base shear at which an external frame slides on its pads, kN; none where they are not given or tied.
pub(crate) fn sliding_kn(frame: &Frame) -> Option<f64> {
    let footing = frame.spec.footing.as_ref()?;
    friction_kn(footing, frame.along_m.len() as f64 * (frame_axial_kn(frame, 0) + pad_kn(footing)))
}

/// In-plane stiffness of a connecting slab, kN/m; slip at the joint is left out.
pub fn strip_stiffness_kn_m(spec: &ExternalFrame, slab: &Slab, modulus_mpa: f64) -> f64 {
    StripStiffness::usual(slab.contact_m, spec.gap_m, spec.slab_mm / 1000.0, modulus_mpa).stiffness_kn_m()
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
