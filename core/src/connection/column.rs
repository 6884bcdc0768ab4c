//! Wing walls and jackets where they meet the old column.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, written};
use crate::anchorage::confinement;
use crate::framing::depth_along;
use crate::material::Bar;
use crate::math::whole_spaces;
use crate::member::MemberId;
use crate::model::{Column, Wings};
use crate::project::Jacket;
use crate::rules::{
    AnchorageLimit, BarAnchorage, ConnectionState, InterfaceShear, InterfaceStrength, Provision, Ruled, Rules, Surface,
};
use crate::sections::{across, jacket_edge_mm};
use crate::study::ForceBound;

/// The most used edge of wings and face of jackets of every line and storey.
pub(super) fn edges(context: &Context<'_>) -> Ruled<Vec<ConnectionResult>> {
    let model = context.model;
    let mut found: Vec<ConnectionResult> = Vec::new();
    for (index, framed) in context.framing.lines.iter().enumerate() {
        if framed.direction != context.direction {
            continue;
        }
        for s in 0..model.floors.len() {
            let mut worst: [Option<ConnectionResult>; 2] = [None, None];
            for end in 0..model.along(framed.direction).len() {
                let Some(column) = model.column_on(framed.direction, framed.line, end, s as u32 + 1) else { continue };
                let inside = framed.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
                if inside {
                    continue;
                }
                let shear = context.shear_kn(MemberId::Column { line: index, end }, s);
                let line = &model.lines(framed.direction)[framed.line].name;
                let at = At { column, line, elastic_kn: shear };
                let wings = column.wings.as_ref().filter(|wings| wings.spec.direction == framed.direction);
                let next = match (wings, column.jacket.as_ref().filter(|jacket| jacket.continuous)) {
                    (Some(wings), _) => (0, wing(context, &at, wings)?),
                    (None, Some(jacket)) => (1, face(context, &at, jacket)?),
                    (None, None) => continue,
                };
                let known = &mut worst[next.0];
                if known.as_ref().is_none_or(|own| own.utilisation() < next.1.utilisation()) {
                    *known = Some(next.1);
                }
            }
            found.extend(worst.into_iter().flatten());
        }
    }
    Ok(found)
}

/// A column that is more than it was.
struct At<'a> {
    column: &'a Column,
    line: &'a str,
    elastic_kn: f64,
}

impl At<'_> {
    /// The shear looked at: elastic, at most what the column can take; whether bending caps it.
    fn shear(&self, context: &Context<'_>) -> (f64, ForceBound, bool) {
        let place = context.model.column_place(self.column);
        let members = context.strengths.storeys.get(self.column.storey as usize - 1);
        let member = members.and_then(|storey| storey.iter().find(|member| member.place == place));
        let Some(member) = member else { return (self.elastic_kn, ForceBound::ElasticSpectrum, false) };
        let [one, other] = &member.senses;
        let stronger = if other.strength_kn > one.strength_kn { other } else { one };
        if stronger.strength_kn < self.elastic_kn {
            let bends = stronger.flexural_kn <= stronger.shear_kn;
            (stronger.strength_kn, ForceBound::OwnStrength, bends)
        } else {
            (self.elastic_kn, ForceBound::ElasticSpectrum, false)
        }
    }

    fn blank(&self, context: &Context<'_>, kind: ConnectionKind, bound: ForceBound) -> ConnectionResult {
        let place = context.model.column_place(self.column);
        let mut of = context.blank(kind, place, self.line, self.column.storey, [0; 2]);
        of.bound = bound;
        of
    }
}

/// Rectangles across the bending axis of one composite section: modulus over that of the old
/// concrete, width (m), lower and upper edge (m).
type Parts = Vec<(f64, f64, f64, f64)>;

/// What bending of the whole brings to the parts beyond an ordinate.
struct Beyond {
    /// Inner lever arm I/Q, m.
    arm_m: f64,
    /// From the ordinate to the resultant of their bending stress, I_x/Q less the ordinate's own
    /// distance from the centroid, m.
    resultant_m: f64,
}

/// Elastic shear flow V·Q/I and bending stress (uncracked, DERIVED) beyond an ordinate.
fn beyond(parts: &Parts, from: f64) -> Beyond {
    let area = |part: &(f64, f64, f64, f64)| part.0 * part.1 * (part.3 - part.2);
    let whole: f64 = parts.iter().map(area).sum();
    let centroid = parts.iter().map(|part| area(part) * (part.2 + part.3) / 2.0).sum::<f64>() / whole;
    // Of what lies beyond an ordinate: first and second moments about the centroid of the whole.
    let moments = |from: f64| {
        let mut found = [0.0, 0.0];
        for part in parts {
            let low = part.2.max(from);
            if low < part.3 {
                let (depth, arm) = (part.3 - low, (low + part.3) / 2.0 - centroid);
                let own = part.0 * part.1 * depth;
                found[0] += own * arm;
                found[1] += own * (depth * depth / 12.0 + arm * arm);
            }
        }
        found
    };
    let [[_, second], [first, of_second]] = [f64::NEG_INFINITY, from].map(moments);
    if first == 0.0 {
        return Beyond { arm_m: f64::INFINITY, resultant_m: 0.0 };
    }
    Beyond { arm_m: (second / first).abs(), resultant_m: of_second / first - (from - centroid) }
}

/// The upright joint of a wing with its column: shear flow V/j over the clear height against the
/// friction of the wing's horizontal bars.
fn wing(context: &Context<'_>, at: &At<'_>, wings: &Wings) -> Ruled<ConnectionResult> {
    let (model, rules, spec) = (context.model, context.rules, &wings.spec);
    let (force, bound, bends) = at.shear(context);
    let mut of = at.blank(context, ConnectionKind::WingEdge, bound);
    let (depth, width) = across(at.column, context.direction);
    let (depth, width, thickness) = (depth / 1000.0, width / 1000.0, spec.thickness_mm / 1000.0);
    let ratio =
        rules.concrete_modulus_mpa(spec.concrete_mpa)? / rules.concrete_modulus_mpa(context.materials.concrete_mpa)?;
    let (lower, higher) = (wings.lower_mm / 1000.0, wings.higher_mm / 1000.0);
    // Mirrored so that the longer wing lies beyond the joint looked at.
    let [longer, other] = if higher >= lower { [higher, lower] } else { [lower, higher] };
    let parts = vec![
        (1.0, width, -depth / 2.0, depth / 2.0),
        (ratio, thickness, depth / 2.0, depth / 2.0 + longer),
        (ratio, thickness, -depth / 2.0 - other, -depth / 2.0),
    ];
    let Beyond { arm_m: arm, resultant_m } = beyond(&parts, depth / 2.0);
    let height = model.clear_height_m(at.column, context.direction).max(0.0);
    let passed = force * height / arm;
    of.give(&[
        (Symbol::Length, longer),
        (Symbol::OtherWing, other),
        (Symbol::ColumnDepth, depth),
        (Symbol::ColumnWidth, width),
        (Symbol::Height, height),
        (Symbol::Thickness, spec.thickness_mm),
        (Symbol::Bar, spec.bar_mm),
        (Symbol::Spacing, spec.bar_spacing_mm),
        (Symbol::Layers, 2.0),
        (Symbol::Yield, spec.steel_mpa),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
        (Symbol::NewConcrete, spec.concrete_mpa),
    ]);
    of.act(&[
        (Symbol::ElasticForce, at.elastic_kn),
        (Symbol::Shear, force),
        (Symbol::InnerArm, arm),
        (Symbol::ShearFlow, force / arm),
        (Symbol::Resultant, resultant_m),
        (Symbol::ShearBeyond, force * resultant_m / arm),
        (Symbol::Force, passed),
    ]);
    let Some(embedment) = spec.edge_embedment_mm else {
        of.remark(true, Remark::BarsIntoColumnNotGiven);
        return Ok(of);
    };
    let bar = Bar::round(spec.bar_mm);
    let available = depth_along(at.column, context.direction) - 40.0;
    let anchored = rules.bar_anchorage(&BarAnchorage {
        bar,
        yield_mpa: spec.steel_mpa,
        concrete_mpa: context.materials.concrete_mpa,
        embedment_mm: embedment.min(available.max(0.0)),
        confinement: confinement(bar, 500.0 * width - spec.thickness_mm / 2.0 + 40.0, spec.bar_spacing_mm),
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    })?;
    let bars = 2.0 * whole_spaces(1000.0 * height, spec.bar_spacing_mm);
    let strength = rules.interface_shear(&InterfaceShear {
        area_mm2: 1e6 * height * thickness,
        steel_mm2: bars * bar.area_mm2,
        bar_stress_mpa: anchored.stress_mpa,
        surface: Surface::Roughened,
        concrete_mpa: context.materials.concrete_mpa.min(spec.concrete_mpa),
        normal_kn: 0.0,
        lightweight: 1.0,
    })?;
    let yields = anchored.limit == AnchorageLimit::Yield;
    let capped = strength.friction_kn > strength.cap_kn;
    let state = ConnectionState { capped_by_mechanism: bends, bars_yield: yields && !capped };
    of.give(&[
        (Symbol::Embedment, embedment.min(available.max(0.0))),
        (Symbol::Development, anchored.required_mm.min(1e9)),
        (Symbol::Bars, bars),
    ]);
    of.checks.push(friction(rules, Part::SideJoint, passed, &strength, state)?);
    of.remark(!yields, if anchored.stress_mpa > 0.0 { Remark::AnchorageShort } else { Remark::AnchorageNone });
    of.remark(capped, Remark::CapBites);
    of.remark(true, Remark::SiteTests);
    Ok(of.governed())
}

/// The face of a jacket across the bending: shear flow V/j over the clear height against friction,
/// pressed by the hoop legs along the bending, which cross the plane of the face in the jacket's
/// sides. The plane is taken as a roughened joint over its whole width.
fn face(context: &Context<'_>, at: &At<'_>, jacket: &Jacket) -> Ruled<ConnectionResult> {
    let (model, rules) = (context.model, context.rules);
    let (force, bound, bends) = at.shear(context);
    let mut of = at.blank(context, ConnectionKind::JacketFace, bound);
    let (depth, width) = across(at.column, context.direction);
    let (depth, width, thickness) = (depth / 1000.0, width / 1000.0, jacket.thickness_mm / 1000.0);
    let ratio = rules.concrete_modulus_mpa(jacket.concrete_mpa)?
        / rules.concrete_modulus_mpa(context.materials.concrete_mpa)?;
    let (outer, half) = (width + 2.0 * thickness, depth / 2.0);
    let parts = vec![
        (1.0, width, -half, half),
        (ratio, 2.0 * thickness, -half, half),
        (ratio, outer, half, half + thickness),
        (ratio, outer, -half - thickness, -half),
    ];
    let Beyond { arm_m: arm, resultant_m } = beyond(&parts, half);
    let height = model.clear_height_m(at.column, context.direction).max(0.0);
    let passed = force * height / arm;
    let hoop = Bar::round(jacket.hoop_mm);
    let legs = 2.0 * whole_spaces(1000.0 * height, jacket.hoop_spacing_mm);
    of.give(&[
        (Symbol::Height, height),
        (Symbol::Thickness, jacket.thickness_mm),
        (Symbol::Width, outer),
        (Symbol::ColumnDepth, depth),
        (Symbol::ColumnWidth, width),
        (Symbol::Bar, jacket.hoop_mm),
        (Symbol::Spacing, jacket.hoop_spacing_mm),
        (Symbol::Bars, legs),
        (Symbol::UprightBar, jacket.bar_mm),
        (Symbol::UprightBars, f64::from(jacket.bars)),
        (Symbol::BarEdge, jacket_edge_mm(jacket)),
        (Symbol::Yield, jacket.steel_mpa),
        (Symbol::OldConcrete, context.materials.concrete_mpa),
        (Symbol::NewConcrete, jacket.concrete_mpa),
    ]);
    of.act(&[
        (Symbol::ElasticForce, at.elastic_kn),
        (Symbol::Shear, force),
        (Symbol::InnerArm, arm),
        (Symbol::ShearFlow, force / arm),
        (Symbol::Resultant, resultant_m),
        (Symbol::ShearBeyond, force * resultant_m / arm),
        (Symbol::Force, passed),
    ]);
    let strength = rules.interface_shear(&InterfaceShear {
        area_mm2: 1e6 * height * outer,
        steel_mm2: legs * hoop.area_mm2,
        bar_stress_mpa: jacket.steel_mpa,
        surface: Surface::Roughened,
        concrete_mpa: context.materials.concrete_mpa.min(jacket.concrete_mpa),
        normal_kn: 0.0,
        lightweight: 1.0,
    })?;
    let capped = strength.friction_kn > strength.cap_kn;
    let state = ConnectionState { capped_by_mechanism: bends, bars_yield: !capped };
    of.checks.push(friction(rules, Part::JacketFace, passed, &strength, state)?);
    of.remark(capped, Remark::CapBites);
    of.remark(true, Remark::PressedByHoops);
    Ok(of.governed())
}

/// A joint under shear alone as a check.
fn friction(
    rules: &dyn Rules,
    part: Part,
    force_kn: f64,
    strength: &InterfaceStrength,
    state: ConnectionState,
) -> Ruled<Check> {
    let factors = rules.connection_factors(state)?;
    let words = written(rules, Provision::Interface)?;
    Ok(Check::new(part, factors.demand * force_kn, strength.strength_kn, factors.interface, words)
        .capped(strength.friction_kn > strength.cap_kn)
        .with(&[
            (Symbol::Factor, factors.interface),
            (Symbol::Friction, strength.friction),
            (Symbol::Clamping, strength.clamping_kn),
            (Symbol::NetTension, 0.0),
            (Symbol::Cap, strength.cap_kn),
            (Symbol::BarStress, strength.bar_stress_mpa),
        ]))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Parabolic shear stress of a rectangle, found in any text on mechanics of materials:
    /// beyond y₀ = η·d/2 acts 1/2 − 3·η/4 + η³/4 of the shear.
    #[test]
    fn a_rectangle_has_its_parabola_of_shear() {
        let depth = 0.8;
        for eta in [-0.5, 0.0, 0.25, 0.6, 0.9] {
            let own = beyond(&vec![(1.0, 0.3, -depth / 2.0, 0.1), (1.0, 0.3, 0.1, depth / 2.0)], eta * depth / 2.0);
            let part = own.resultant_m / own.arm_m;
            let expected = 0.5 - 0.75 * eta + 0.25 * eta * eta * eta;
            assert!((part - expected).abs() < 1e-12, "{eta}: {part}, {expected}");
        }
        let own = beyond(&vec![(1.0, 0.3, -depth / 2.0, depth / 2.0)], 0.0);
        assert!((own.arm_m - 2.0 / 3.0 * depth).abs() < 1e-12, "{}", own.arm_m);
    }
}
