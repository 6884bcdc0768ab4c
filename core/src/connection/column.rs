//! Wing walls and jackets where they meet the old column.

use super::{ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, friction};
use crate::anchorage::{confinement, drillable_mm};
use crate::framing::depth_along;
use crate::material::Bar;
use crate::math::whole_spaces;
use crate::member::MemberId;
use crate::model::{Column, Model, Wings};
use crate::project::{ColumnType, Direction, Jacket, Materials};
use crate::rules::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, ConnectionState, InterfaceShear, InterfaceStrength, Ruled, Rules,
    Surface,
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
                let found = added_joint(model, context.materials, context.rules, framed.direction, column)?;
                let Some(joint) = found else { continue };
                let next = joined(context, &at, &joint)?;
                let known = &mut worst[usize::from(joint.kind == ConnectionKind::JacketFace)];
                if known.as_ref().is_none_or(|own| own.utilisation() < next.utilisation()) {
                    *known = Some(next);
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

/// The joint of a column with what was added to it.
pub(crate) struct AddedJoint {
    /// Edge of wings or face of a jacket.
    pub kind: ConnectionKind,
    part: Part,
    beyond: Beyond,
    height_m: f64,
    given: Vec<(Symbol, f64)>,
    /// None where the bars across it are not given.
    strength: Option<InterfaceStrength>,
    /// How the bars across it are anchored in the old column, where they are bonded into it.
    anchored: Option<AnchorageStrength>,
}

impl AddedJoint {
    /// Shear of the column at which the joint has its nominal strength, V = F·j/H (from F = V·H/j), kN;
    /// none where its bars are not given.
    pub fn shear_kn(&self) -> Option<f64> {
        let strength = self.strength.as_ref()?.strength_kn;
        Some(if self.height_m > 0.0 { strength * self.beyond.arm_m / self.height_m } else { f64::INFINITY })
    }

    /// Whether its bars yield before anything brittle.
    pub fn yields(&self) -> bool {
        let developed = self.anchored.as_ref().is_none_or(|own| own.limit == AnchorageLimit::Yield);
        developed && self.strength.as_ref().is_some_and(|own| own.friction_kn <= own.cap_kn)
    }
}

/// The joint of a column with wings along a direction, or with a jacket whose bars go through the
/// floors; none where there is neither.
pub(crate) fn added_joint(
    model: &Model,
    materials: &Materials,
    rules: &dyn Rules,
    direction: Direction,
    column: &Column,
) -> Ruled<Option<AddedJoint>> {
    let old = Old { model, materials, rules, direction, column };
    let wings = column.wings.as_ref().filter(|wings| wings.spec.direction == direction);
    match (wings, column.jacket.as_ref().filter(|jacket| jacket.acts())) {
        (Some(wings), _) => Ok(Some(old.wing(wings)?)),
        (None, Some(jacket)) => Ok(Some(old.face(jacket)?)),
        (None, None) => Ok(None),
    }
}

/// The column something was added to.
struct Old<'a> {
    model: &'a Model,
    materials: &'a Materials,
    rules: &'a dyn Rules,
    direction: Direction,
    column: &'a Column,
}

impl Old<'_> {
    /// Depth and width, m.
    fn size_m(&self) -> [f64; 2] {
        let (depth, width) = across(self.column, self.direction);
        [depth / 1000.0, width / 1000.0]
    }

    fn clear_m(&self) -> f64 {
        self.model.clear_height_m(self.column, self.direction).max(0.0)
    }

    /// Modulus of new concrete over that of the old.
    fn ratio(&self, concrete_mpa: f64) -> Ruled<f64> {
        let factors = self.rules.expected_factors()?;
        let modulus = |concrete| self.rules.concrete_modulus_mpa(factors.concrete_mpa(concrete));
        Ok(modulus(concrete_mpa)? / modulus(self.materials.concrete_mpa)?)
    }

    fn joint(
        &self,
        surface: Surface,
        area_m2: f64,
        [steel_mm2, bar_stress_mpa]: [f64; 2],
        new_mpa: f64,
    ) -> Ruled<InterfaceStrength> {
        self.rules.interface_shear(&InterfaceShear {
            area_mm2: 1e6 * area_m2,
            steel_mm2,
            bar_stress_mpa,
            surface,
            concrete_mpa: self.materials.concrete_mpa.min(new_mpa),
            normal_kn: 0.0,
            lightweight: 1.0,
        })
    }

    /// The upright joint of a wing: friction of the wing's horizontal bars.
    fn wing(&self, wings: &Wings) -> Ruled<AddedJoint> {
        let spec = &wings.spec;
        let ([depth, width], thickness) = (self.size_m(), spec.thickness_mm / 1000.0);
        let ratio = self.ratio(spec.concrete_mpa)?;
        let (lower, higher) = (wings.lower_mm / 1000.0, wings.higher_mm / 1000.0);
        // Mirrored so that the longer wing lies beyond the joint looked at.
        let [longer, other] = if higher >= lower { [higher, lower] } else { [lower, higher] };
        let parts = vec![
            (1.0, width, -depth / 2.0, depth / 2.0),
            (ratio, thickness, depth / 2.0, depth / 2.0 + longer),
            (ratio, thickness, -depth / 2.0 - other, -depth / 2.0),
        ];
        let height_m = self.clear_m();
        let mut found = AddedJoint {
            kind: ConnectionKind::WingEdge,
            part: Part::SideJoint,
            beyond: beyond(&parts, depth / 2.0),
            height_m,
            given: vec![
                (Symbol::Length, longer),
                (Symbol::OtherWing, other),
                (Symbol::ColumnDepth, depth),
                (Symbol::ColumnWidth, width),
                (Symbol::Height, height_m),
                (Symbol::Thickness, spec.thickness_mm),
                (Symbol::Bar, spec.bar_mm),
                (Symbol::Spacing, spec.bar_spacing_mm),
                (Symbol::Layers, 2.0),
                (Symbol::Yield, spec.steel_mpa),
                (Symbol::OldConcrete, self.materials.concrete_mpa),
                (Symbol::NewConcrete, spec.concrete_mpa),
            ],
            strength: None,
            anchored: None,
        };
        let Some(embedment) = spec.edge_embedment_mm else { return Ok(found) };
        let bar = Bar::round(spec.bar_mm);
        let available = drillable_mm(depth_along(self.column, self.direction));
        let anchored = self.rules.bar_anchorage(&BarAnchorage {
            bar,
            yield_mpa: spec.steel_mpa,
            concrete_mpa: self.materials.concrete_mpa,
            embedment_mm: embedment.min(available),
            confinement: confinement(bar, 500.0 * width - spec.thickness_mm / 2.0 + 40.0, spec.bar_spacing_mm),
            position_factor: 1.0,
            breakout: None,
            lightweight: 1.0,
        })?;
        let bars = 2.0 * whole_spaces(1000.0 * height_m, spec.bar_spacing_mm);
        let steel = [bars * bar.area_mm2, anchored.stress_mpa];
        found.strength = Some(self.joint(Surface::Roughened, height_m * thickness, steel, spec.concrete_mpa)?);
        found.given.extend([
            (Symbol::Embedment, embedment.min(available)),
            (Symbol::Development, anchored.required_mm.min(1e9)),
            (Symbol::Bars, bars),
        ]);
        found.anchored = Some(anchored);
        Ok(found)
    }

    /// The face of a jacket across the bending: friction pressed by the hoop legs along the bending,
    /// which cross the plane of the face in the jacket's sides. The plane is taken as one joint over
    /// its whole width, of the surface the old column is given. Where hoops do not close, each has two
    /// bars bonded into the column.
    ///
    /// A jacket on one face beside the force has no face across it. There the half of its depth that
    /// bending pulls hands its force over the half of the face behind it, pressed by one bar a hoop.
    fn face(&self, jacket: &Jacket) -> Ruled<AddedJoint> {
        let [depth, width] = self.size_m();
        let ratio = self.ratio(jacket.concrete_mpa)?;
        let skin = jacket.skin(self.direction);
        let (along, across) = (skin.along.map(|mm| mm / 1000.0), skin.across.map(|mm| mm / 1000.0));
        // Mirrored so that the face looked at has a jacket.
        let [before, beyond_it] = if along[1] > 0.0 { along } else { [along[1], along[0]] };
        let (beside, half) = (across[0] + across[1], depth / 2.0);
        let outer = width + beside;
        let mut parts = vec![(1.0, width, -half, half)];
        if beside > 0.0 {
            // In two halves, so that what lies beyond mid-depth can be told.
            parts.extend([(ratio, beside, -half, 0.0), (ratio, beside, 0.0, half)]);
        }
        if before > 0.0 {
            parts.push((ratio, outer, -half - before, -half));
        }
        let height_m = self.clear_m();
        let spaces = whole_spaces(1000.0 * height_m, jacket.hoop_spacing_mm);
        let plate = beyond_it == 0.0;
        let (beyond, joint_m, legs) = if plate {
            (of_plate(&parts, ratio * beside, half), half, spaces)
        } else {
            parts.push((ratio, outer, half, half + beyond_it));
            (beyond(&parts, half), outer, 2.0 * spaces)
        };
        let steel_mm2 = legs * Bar::round(jacket.hoop_mm).area_mm2;
        let anchored = if jacket.closed() {
            None
        } else {
            hoop_anchorage(self.rules, self.materials, &self.column.kind, jacket, jacket.steel_mpa)?
        };
        let stress = anchored.as_ref().map_or(jacket.steel_mpa, |own| own.stress_mpa);
        let mut given = vec![
            (Symbol::Height, height_m),
            (Symbol::Thickness, jacket.thickness_mm),
            (Symbol::Width, joint_m),
            (Symbol::ColumnDepth, depth),
            (Symbol::ColumnWidth, width),
            (Symbol::Bar, jacket.hoop_mm),
            (Symbol::Spacing, jacket.hoop_spacing_mm),
            (Symbol::Bars, legs),
            (Symbol::UprightBar, jacket.bar_mm),
            (Symbol::UprightBars, f64::from(jacket.bars)),
            (Symbol::BarEdge, jacket_edge_mm(jacket)),
            (Symbol::Yield, jacket.steel_mpa),
            (Symbol::OldConcrete, self.materials.concrete_mpa),
            (Symbol::NewConcrete, jacket.concrete_mpa),
        ];
        if let Some(own) = &anchored {
            given.extend([
                (Symbol::SkinBeyond, 1000.0 * beyond_it),
                (Symbol::SkinBefore, 1000.0 * before),
                (Symbol::SkinLower, skin.across[0]),
                (Symbol::SkinHigher, skin.across[1]),
                (Symbol::Embedment, hoop_embedment_mm(&self.column.kind, jacket)),
                (Symbol::Development, own.required_mm.min(1e9)),
            ]);
        }
        let steel = [steel_mm2, stress];
        Ok(AddedJoint {
            kind: ConnectionKind::JacketFace,
            part: Part::JacketFace,
            beyond,
            height_m,
            given,
            strength: Some(self.joint(jacket.surface.into(), height_m * joint_m, steel, jacket.concrete_mpa)?),
            anchored,
        })
    }
}

/// Half of a plate of some width (times its modulus over that of the old concrete) beside a column
/// of a half depth: what bending of the whole brings to it.
fn of_plate(parts: &Parts, width: f64, half: f64) -> Beyond {
    let cube = |y: f64| y * y * y;
    let second: f64 = parts.iter().map(|part| part.0 * part.1 * (cube(part.3) - cube(part.2)) / 3.0).sum();
    let first = width * half * half / 2.0;
    Beyond { arm_m: second / first, resultant_m: 2.0 / 3.0 * half }
}

/// Embedment of a jacket's hoops as far as the smaller size of the column holds it, mm.
fn hoop_embedment_mm(kind: &ColumnType, jacket: &Jacket) -> f64 {
    jacket.hoop_embedment_mm.unwrap_or(0.0).min(drillable_mm(kind.x_mm.min(kind.y_mm)))
}

/// From an edge of the old column to the middle of a bar that anchors a hoop, mm (judgement, no
/// source: the bars must pass between the old ones).
const ANCHOR_EDGE_MM: f64 = 60.0;

/// How bars bonded into the old column anchor the hoops of a jacket that does not close; none where
/// they are not given.
pub(crate) fn hoop_anchorage(
    rules: &dyn Rules,
    materials: &Materials,
    kind: &ColumnType,
    jacket: &Jacket,
    yield_mpa: f64,
) -> Ruled<Option<AnchorageStrength>> {
    if jacket.hoop_embedment_mm.is_none() {
        return Ok(None);
    }
    let bar = Bar::round(jacket.hoop_mm);
    let asked = BarAnchorage {
        bar,
        yield_mpa,
        concrete_mpa: materials.concrete_mpa,
        embedment_mm: hoop_embedment_mm(kind, jacket),
        confinement: confinement(bar, ANCHOR_EDGE_MM, jacket.hoop_spacing_mm),
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    };
    rules.bar_anchorage(&asked).map(Some)
}

/// The joint with what acts on it: shear flow V/j over the clear height.
fn joined(context: &Context<'_>, at: &At<'_>, joint: &AddedJoint) -> Ruled<ConnectionResult> {
    let (force, bound, bends) = at.shear(context);
    let mut of = at.blank(context, joint.kind, bound);
    let Beyond { arm_m: arm, resultant_m } = joint.beyond;
    let passed = force * joint.height_m / arm;
    of.give(&joint.given);
    of.act(&[
        (Symbol::ElasticForce, at.elastic_kn),
        (Symbol::Shear, force),
        (Symbol::InnerArm, arm),
        (Symbol::ShearFlow, force / arm),
        (Symbol::Resultant, resultant_m),
        (Symbol::ShearBeyond, force * resultant_m / arm),
        (Symbol::Force, passed),
    ]);
    let Some(strength) = &joint.strength else {
        of.remark(true, Remark::BarsIntoColumnNotGiven);
        return Ok(of);
    };
    let state = ConnectionState { capped_by_mechanism: bends, bars_yield: joint.yields() };
    of.checks.push(friction(context.rules, joint.part, passed, strength, state)?);
    match &joint.anchored {
        Some(anchored) => {
            let jacket = joint.kind == ConnectionKind::JacketFace;
            of.remark(jacket, Remark::HoopsAnchored);
            of.remark(jacket && of.figure(Symbol::SkinBeyond) == Some(0.0), Remark::PlateBeside);
            let short = if anchored.stress_mpa > 0.0 { Remark::AnchorageShort } else { Remark::AnchorageNone };
            of.remark(anchored.limit != AnchorageLimit::Yield, short);
            of.remark(true, Remark::SiteTests);
        }
        None => of.remark(true, Remark::PressedByHoops),
    }
    of.remark(strength.friction_kn > strength.cap_kn, Remark::CapBites);
    Ok(of.governed())
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
