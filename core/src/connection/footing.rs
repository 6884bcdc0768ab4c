//! Footings of external frames and of new walls, and old ones under wings.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, statics, written};
use crate::capacity::WallJoints;
use crate::footing::{SAFETY, SLIDING, Strip};
use crate::link::{
    FrameCap, frame_caps, ground, overturning_knm, pad_kn, pad_knm, sliding_kn, wall_friction_kn, wing_friction_kn,
};
use crate::member::MemberId;
use crate::model::Frame;
use crate::place::{Class, Place};
use crate::project::Footing;
use crate::rules::{Provided, Provision, Ruled};
use crate::sections::{Sections, both_senses, frame_axial_kn};
use crate::study::ForceBound;
use crate::wing_foot::wing_foot;

/// Every footing of a direction that new work stands on.
pub(super) fn footings(context: &Context<'_>) -> Ruled<Vec<ConnectionResult>> {
    let model = context.model;
    let mut found = Vec::new();
    let frames = model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == context.direction);
    for (index, frame) in frames {
        found.push(under_frame(context, index, frame)?);
    }
    for wall in &context.strengths.joints {
        let group = &context.framing.lines[wall.line].walls[wall.index];
        if group.storey == 1 {
            found.push(under_wall(context, wall)?);
        }
    }
    for (index, framed) in context.framing.lines.iter().enumerate() {
        if framed.direction == context.direction {
            found.extend(under_wings(context, index)?);
        }
    }
    Ok(found)
}

/// Largest pressure of a rigid footing under an eccentric load and the length in contact (strip on
/// ground that takes no tension: q = P/(B·L)·(1 + 6·e/L) up to e = L/6, beyond 2·P/(3·B·(L/2 − e));
/// DERIVED); none where the load lies beyond its edge.
pub fn pressure_kpa(strip: &Strip, axial_kn: f64, moment_knm: f64) -> Option<[f64; 2]> {
    if axial_kn <= 0.0 {
        return None;
    }
    let (length, width) = (strip.length_m, strip.width_m);
    let eccentricity = moment_knm.abs() / axial_kn;
    let left = length / 2.0 - eccentricity;
    if eccentricity <= length / 6.0 {
        Some([axial_kn / (width * length) * (1.0 + 6.0 * eccentricity / length), length])
    } else if left > 0.0 {
        Some([2.0 * axial_kn / (3.0 * width * left), 3.0 * left])
    } else {
        None
    }
}

/// Weight that, added to what stands on a strip, makes it rock at a moment only: P from
/// P·L/2·(1 − P/(B·L·q_c)) = M; none where no weight does.
pub fn weight_to_add_kn(strip: &Strip, axial_kn: f64, moment_knm: f64) -> Option<f64> {
    let full = strip.width_m * strip.length_m * strip.ultimate_kpa;
    let inside = 1.0 - 8.0 * moment_knm / (strip.length_m * full);
    (inside >= 0.0).then(|| (full / 2.0 * (1.0 - inside.sqrt()) - axial_kn).max(0.0))
}

/// Words of checks on the ground.
const BEARING: Provided =
    Provided { formula: "q_c/2", clause: "a safety of two in an earthquake; common practice, no source" };
const SLIDES: Provided =
    Provided { formula: "μ·P", clause: "friction of concrete on ground; common practice, no source" };

/// The pads of an external frame: overturning as a whole, the pad at the compressed end, sliding.
fn under_frame(context: &Context<'_>, index: usize, frame: &Frame) -> Ruled<ConnectionResult> {
    let model = context.model;
    let sections = Sections::new(model, context.materials, context.rules)?;
    let face = &frame.spec.face;
    let place = Place::Footing { line: face.clone() };
    let bays = [frame.spec.bays.first, frame.spec.bays.last];
    let mut of = context.blank(ConnectionKind::Footing, place, face, 1, bays);
    // What the frame brings down, elastic or at its mechanism in the elastic pattern.
    let shears = |s: usize| -> f64 {
        context.responses().map(|response| response.linked[index].storey_shear_kn[s].abs()).fold(0.0, f64::max)
    };
    let elastic = context.overturning_knm(|s| if s < frame.storeys as usize { shears(s) } else { 0.0 });
    let floors = &model.floors;
    let levels = vec![floors.last().map_or(0.0, |floor| floor.level_m); floors.len()];
    let all: Vec<f64> = (0..floors.len()).map(|s| if s < frame.storeys as usize { shears(s) } else { 0.0 }).collect();
    let caps = frame_caps(&sections, frame, &levels, &all)?;
    let bending = |cap: &FrameCap, shear: f64| if shear > 0.0 { cap.mechanism_kn / shear } else { f64::INFINITY };
    let scale = caps.iter().zip(&all).map(|(cap, shear)| bending(cap, *shear)).fold(f64::INFINITY, f64::min);
    let part = scale.min(1.0);
    of.bound = if scale < 1.0 { ForceBound::FrameMechanism } else { ForceBound::ElasticSpectrum };
    let overturning = part * elastic;
    let base = part * shears(0);
    let columns = frame.along_m.len() as f64;
    let span = frame.along_m[frame.along_m.len() - 1] - frame.along_m[0];
    let above = frame_axial_kn(frame, 0);
    let own = frame.spec.footing.as_ref().map_or(0.0, pad_kn);
    let each = above + own;
    let righting = overturning_knm(&sections, frame)?;
    let held = overturning.min(righting);
    let pad = pad_knm(frame).min(sections.frame_column_knm(&frame.spec, above)?);
    let couple = ((held - columns * pad) / span).max(0.0);
    of.give(&[(Symbol::Span, span), (Symbol::Gravity, columns * each)]);
    of.act(&[
        (Symbol::Overturning, overturning),
        (Symbol::PadMoment, pad),
        (Symbol::Couple, couple),
        (Symbol::Compression, each + couple),
        (Symbol::Uplift, each - couple),
        (Symbol::Sliding, base),
    ]);
    let lacking = (overturning - righting).max(0.0);
    of.checks.push(Check::new(Part::Overturning, overturning, righting, 1.0, statics("Σ P·x + n·M_p")).with(&[
        (Symbol::Gravity, columns * each),
        (Symbol::Span, span),
        (Symbol::PadMoment, pad),
    ]));
    if lacking > 0.0 {
        of.act(&[(Symbol::HoldDown, lacking / span), (Symbol::AddedWeight, 2.0 * lacking / span)]);
        of.remark(true, Remark::Lifts);
    }
    of.remark(each < couple, Remark::PadPulled);
    match &frame.spec.footing {
        Some(footing) => {
            let under = [each + couple, pad.min(held / columns)];
            on_ground(&mut of, footing, under);
            slides(&mut of, sliding_kn(frame), columns * each, base);
            beside_old(context, &mut of, frame, footing);
        }
        None => of.remark(true, Remark::FootingNotGiven),
    }
    of.remark(true, Remark::SettlementJoint);
    Ok(of.governed())
}

/// Bearing under the most loaded pad or strip.
fn on_ground(of: &mut ConnectionResult, footing: &Footing, [axial, moment]: [f64; 2]) {
    let strip = ground(footing);
    of.give(&[
        (Symbol::FootingLength, footing.length_m),
        (Symbol::Width, footing.width_m),
        (Symbol::FootingDepth, footing.depth_m),
        (Symbol::Ultimate, strip.ultimate_kpa),
        (Symbol::Settlement, 1000.0 * axial / strip.vertical_stiffness_kn_m()),
    ]);
    let pressure = pressure_kpa(&strip, axial, moment);
    let contact = pressure.map_or(0.0, |own| own[1]);
    of.checks.push(
        Check::new(
            Part::Bearing,
            pressure.map_or(strip.ultimate_kpa, |own| own[0]),
            if pressure.is_some() { strip.ultimate_kpa } else { 0.0 },
            SAFETY,
            BEARING,
        )
        .with(&[
            (Symbol::Compression, axial),
            (Symbol::PadMoment, moment),
            (Symbol::Eccentricity, if axial > 0.0 { moment / axial } else { 0.0 }),
            (Symbol::Contacted, contact),
            (Symbol::Ultimate, strip.ultimate_kpa),
        ]),
    );
}

/// Sliding of the whole, held by friction or tied.
fn slides(of: &mut ConnectionResult, friction_kn: Option<f64>, weight: f64, base: f64) {
    match friction_kn {
        Some(friction) => {
            let sliding = Check::new(Part::Sliding, base, friction, 1.0, SLIDES)
                .with(&[(Symbol::SlidingFriction, SLIDING), (Symbol::Gravity, weight)]);
            of.remark(sliding.utilisation > 1.0, Remark::SlidesAlone);
            of.checks.push(sliding);
        }
        None => {
            of.act(&[(Symbol::TieForce, (base - SLIDING * weight.max(0.0)).max(0.0))]);
            of.remark(true, Remark::Tied);
        }
    }
}

/// How near the new pads come to the old columns.
fn beside_old(context: &Context<'_>, of: &mut ConnectionResult, frame: &Frame, footing: &Footing) {
    let model = context.model;
    let line = model.lines(frame.direction)[frame.line].at_m;
    let old: f64 = frame
        .spec
        .bays
        .iter()
        .flat_map(|bay| [bay as usize - 1, bay as usize])
        .filter_map(|end| model.column_on(frame.direction, frame.line, end, 1))
        .map(|column| crate::framing::depth_along(column, frame.direction.across()) / 2000.0)
        .fold(0.0, f64::max);
    let clearance = (frame.ordinate_m - line).abs() - footing.width_m / 2.0 - old;
    of.give(&[(Symbol::Clearance, clearance)]);
    of.remark(true, Remark::OldFootingNear);
    of.remark(clearance <= 0.0, Remark::StandsOnOldFooting);
}

/// The most used foot of the columns with wings of a line.
///
/// Demand: the column's elastic shear over its clear height, as if its head were free, at most its
/// bending strength at the foot.
fn under_wings(context: &Context<'_>, index: usize) -> Ruled<Option<ConnectionResult>> {
    let (model, framed) = (context.model, &context.framing.lines[index]);
    let direction = framed.direction;
    let sections = Sections::new(model, context.materials, context.rules)?;
    let name = &model.lines(direction)[framed.line].name;
    let mut worst: Option<ConnectionResult> = None;
    for end in 0..model.along(direction).len() {
        let Some(column) = model.column_on(direction, framed.line, end, 1) else { continue };
        let Some(wings) = &column.wings else { continue };
        let Some(foot) = wing_foot(&sections, direction, column)? else { continue };
        let shear = context.shear_kn(MemberId::Column { line: index, end }, 0).abs();
        let elastic = shear * model.clear_height_m(column, direction);
        let steel = if wings.spec.embedment_mm > 0.0 { sections.steel_mpa(wings.spec.steel_mpa) } else { 0.0 };
        let section = sections.column(column, direction, sections.old_steel_mpa(), steel)?;
        let own = both_senses(section.as_ref(), column.axial_kn, 0.0);
        let most = foot.most_knm();
        let pressed = usize::from(own[1].min(elastic) * most[0] > own[0].min(elastic) * most[1]);
        let place = model.column_place(column);
        let mut of = context.blank(ConnectionKind::Footing, place, name, 1, [0; 2]);
        let moment = own[pressed].min(elastic);
        of.bound = if own[pressed] < elastic { ForceBound::OwnStrength } else { ForceBound::ElasticSpectrum };
        let weight = column.axial_kn;
        of.give(&[(Symbol::Gravity, weight), (Symbol::OldFoot, foot.bare_knm[pressed])]);
        // The shear that goes with that moment.
        let brought = moment / model.clear_height_m(column, direction);
        of.act(&[(Symbol::Overturning, moment), (Symbol::Righting, most[pressed]), (Symbol::Sliding, brought)]);
        let from_ground = foot.rocks_knm[pressed] > foot.bare_knm[pressed];
        let reach = column.reach_mm(direction)[1 - pressed] / 1000.0;
        let check = |provided| Check::new(Part::Overturning, moment, most[pressed], 1.0, provided);
        of.checks.push(match (&wings.spec.footing, from_ground) {
            (Some(footing), true) => {
                let strip = ground(footing);
                check(written(context.rules, Provision::Rocking)?).with(&[
                    (Symbol::Gravity, weight),
                    (Symbol::FootingLength, strip.length_m),
                    (Symbol::Pressure, weight / (strip.width_m * strip.length_m)),
                    (Symbol::Ultimate, strip.ultimate_kpa),
                ])
            }
            (None, true) => {
                check(statics("P·L/2")).with(&[(Symbol::Gravity, weight), (Symbol::FootingLength, 2.0 * reach)])
            }
            (_, false) => check(statics("M_c")).with(&[(Symbol::OldFoot, foot.bare_knm[pressed])]),
        });
        of.remark(moment > most[pressed], Remark::Lifts);
        match &wings.spec.footing {
            Some(footing) => {
                let all = weight + pad_kn(footing);
                on_ground(&mut of, footing, [all, moment.min(foot.rocks_knm[pressed])]);
                slides(&mut of, wing_friction_kn(column, direction), all, brought);
            }
            None => of.remark(true, Remark::FootingNotGiven),
        }
        of.remark(true, Remark::OldFootingNotGiven);
        let of = of.governed();
        if worst.as_ref().is_none_or(|known| known.utilisation() < of.utilisation()) {
            worst = Some(of);
        }
    }
    Ok(worst)
}

/// The footing of a wall with new panels.
fn under_wall(context: &Context<'_>, wall: &WallJoints) -> Ruled<ConnectionResult> {
    let model = context.model;
    let framed = &context.framing.lines[wall.line];
    let group = &framed.walls[wall.index];
    let name = &model.lines(framed.direction)[framed.line].name;
    let place = Place::Footing { line: name.clone() };
    let mut of = context.blank(ConnectionKind::Footing, place, name, 1, [group.first_bay, group.last_bay]);
    // Walls of the stack over the same bays.
    let shear = |s: usize| -> f64 {
        let stack = framed.walls.iter().enumerate().filter(|(_, other)| {
            other.storey as usize == s + 1 && other.first_bay <= group.last_bay && group.first_bay <= other.last_bay
        });
        stack.map(|(index, _)| context.shear_kn(MemberId::Wall { line: wall.line, wall: index }, s)).sum()
    };
    let elastic = context.overturning_knm(shear);
    let (moment, base) = if wall.moment_knm < elastic {
        of.bound = ForceBound::OwnStrength;
        (wall.moment_knm, shear(0).min(wall.otherwise_kn))
    } else {
        (elastic, shear(0))
    };
    let weight = group.axial_kn;
    let length: f64 = (group.first_bay..=group.last_bay).map(|bay| model.bay_length_m(framed.direction, bay)).sum();
    of.give(&[(Symbol::Gravity, weight), (Symbol::Span, length)]);
    of.act(&[(Symbol::Overturning, moment), (Symbol::Righting, wall.rocks_knm), (Symbol::Sliding, base)]);
    let overturning = match &group.footing {
        Some(footing) => {
            let strip = ground(footing);
            Check::new(Part::Overturning, moment, wall.rocks_knm, 1.0, written(context.rules, Provision::Rocking)?)
                .with(&[
                    (Symbol::Gravity, weight),
                    (Symbol::FootingLength, strip.length_m),
                    (Symbol::Pressure, weight / (strip.width_m * strip.length_m)),
                    (Symbol::Ultimate, strip.ultimate_kpa),
                ])
        }
        None => Check::new(Part::Overturning, moment, wall.rocks_knm, 1.0, statics("P·L/2"))
            .with(&[(Symbol::Gravity, weight), (Symbol::FootingLength, length)]),
    };
    of.checks.push(overturning);
    let lifts = moment > wall.rocks_knm;
    of.remark(lifts, Remark::Lifts);
    match &group.footing {
        Some(footing) => {
            let strip = ground(footing);
            if lifts {
                match weight_to_add_kn(&strip, weight, moment) {
                    Some(more) => {
                        of.act(&[(Symbol::HoldDown, (moment - wall.rocks_knm) / length), (Symbol::AddedWeight, more)])
                    }
                    None => of.remark(true, Remark::NoWeightWillDo),
                }
            }
            let all = weight + pad_kn(footing);
            let under = [all, moment.min(wall.rocks_knm)];
            on_ground(&mut of, footing, under);
            slides(&mut of, wall_friction_kn(group), all, base);
        }
        None => {
            of.act(&[(Symbol::HoldDown, (moment - wall.rocks_knm).max(0.0) / length)]);
            of.remark(true, Remark::FootingNotGiven);
            of.remark(group.class == Class::New, Remark::OldFootingNotGiven);
        }
    }
    Ok(of.governed())
}
