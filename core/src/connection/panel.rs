//! Bars round infill walls.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, friction};
use crate::capacity::{Perimeter, WallJoints};
use crate::member::MemberId;
use crate::rules::{ConnectionState, Provided, Ruled};
use crate::study::ForceBound;

/// What a wall and the columns at its ends pass together.
const PASSED: &str = "φ·(min(μ·(C − T), V_max) + V_col + V_old)";

/// The perimeter of every wall with new panels, storey by storey.
pub(super) fn perimeters(context: &Context<'_>) -> Ruled<Vec<ConnectionResult>> {
    let joints = context.strengths.joints.iter();
    joints
        .filter_map(|wall| Some((wall, wall.perimeter.as_ref()?)))
        .map(|(wall, own)| perimeter(context, wall, own))
        .collect()
}

/// A wall passes its shear over the joint under the beam and with the columns at its ends, each by
/// its strength; the panel turns the couple of its part over the clear height into shear along the
/// columns: V_p·H = V_h·L (moment equilibrium of the panel).
fn perimeter(context: &Context<'_>, wall: &WallJoints, own: &Perimeter) -> Ruled<ConnectionResult> {
    let model = context.model;
    let framed = &context.framing.lines[wall.line];
    let group = &framed.walls[wall.index];
    let elastic = context.shear_kn(MemberId::Wall { line: wall.line, wall: wall.index }, group.storey as usize - 1);
    let otherwise = wall.otherwise_kn;
    let (force, bound) =
        if otherwise < elastic { (otherwise, ForceBound::OwnStrength) } else { (elastic, ForceBound::ElasticSpectrum) };
    let place = model.panel_place(framed.direction, framed.line, group.first_bay, group.storey);
    let line = &model.lines(framed.direction)[framed.line].name;
    let bays = [group.first_bay, group.last_bay];
    let mut of = context.blank(ConnectionKind::Perimeter, place, line, group.storey, bays);
    of.bound = bound;
    let Perimeter { spec, top, side, .. } = own;
    of.give(&[
        (Symbol::Length, own.length_m),
        (Symbol::Height, own.height_m),
        (Symbol::Thickness, spec.thickness_mm),
        (Symbol::Bar, spec.dowel_mm),
        (Symbol::Spacing, spec.dowel_spacing_mm),
        (Symbol::Bars, own.bars),
        (Symbol::Embedment, own.embedment_mm),
        (Symbol::Yield, spec.steel_mpa),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
        (Symbol::NewConcrete, spec.concrete_mpa),
    ]);
    let passed = own.strength_kn();
    let through = if passed > 0.0 { force * top.strength_kn / passed } else { force };
    let upright = through * own.height_m / own.length_m;
    of.act(&[
        (Symbol::ElasticForce, elastic),
        (Symbol::OwnStrength, otherwise),
        (Symbol::Shear, force),
        (Symbol::PanelShear, through),
        (Symbol::UprightShear, upright),
    ]);
    let state = ConnectionState {
        capped_by_mechanism: bound == ForceBound::OwnStrength && wall.bends,
        bars_yield: own.anchored && top.friction_kn <= top.cap_kn,
    };
    let over = friction(context.rules, Part::TopJoint, force, top, state)?;
    let words = Provided { formula: PASSED, clause: over.source };
    let passing = Check::new(Part::TopJoint, over.demand, passed, over.factor, words).capped(over.capped);
    of.checks.push(Check { terms: over.terms, ..passing }.with(&[
        (Symbol::ColumnShear, own.columns_kn),
        (Symbol::OldPanels, own.old_panels_kn),
        (Symbol::Development, own.required_mm.min(1e9)),
    ]));
    of.checks.push(friction(context.rules, Part::SideJoint, upright, side, state)?);
    of.remark(!own.anchored, if top.bar_stress_mpa > 0.0 { Remark::AnchorageShort } else { Remark::AnchorageNone });
    let capped = of.checks.iter().any(|check| check.capped);
    of.remark(capped, Remark::CapBites);
    of.remark(true, Remark::LowerJointPressed);
    of.remark(true, Remark::SiteTests);
    Ok(of.governed())
}
