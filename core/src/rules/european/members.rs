//! Members of existing buildings: EN 1998-3 Annex A, EN 1992-1-1, EN 1998-1 5.5.

use super::super::member::{
    BeamControl, BeamHinge, BeamShear, BeamShearStrength, ColumnAxial, ColumnHinge, ColumnShear, ColumnShearStrength,
    Component, EffectiveStiffness, EndDetail, ExpectedFactors, ForceControlled, FrameProportions, JointPosition,
    JointShear, JointStrength, PlasticRotations, Splice,
};
use super::super::source::clause_constants;
use super::super::{JacketFactors, Note, Notes, Surface};
use super::{PARTIAL, TENSILE, nu};
use crate::axial_loss::axial_loss_rotation;
use crate::material::{ConcreteLaw, STEEL_MODULUS_MPA};
use crate::math::{exp, ln, pow};
use crate::project::Knowledge;

clause_constants! { CONSTANTS;
    /// Confidence factor CF: limited, normal and full knowledge.
    CONFIDENCE: [f64; 3] = [1.35, 1.2, 1.0], Memory, "EN 1998-3 Table 3.1";
    /// γ_el of the shear of primary members.
    GAMMA_SHEAR: f64 = 1.15, Memory, "EN 1998-3 A.3.3.1(1)";
    /// Σ column moments over Σ beam moments at a joint of a new frame.
    STRONG_COLUMN: f64 = 1.3, Memory, "EN 1998-1 4.4.2.3(4)";
    /// Least and largest bars of a column over its gross section.
    COLUMN_STEEL: [f64; 2] = [0.01, 0.04], Memory, "EN 1998-1 5.4.3.2.2(1)";
    /// Bars of a beam: least as a factor on f_ctm/f_yk, largest part of the web.
    BEAM_STEEL: [f64; 2] = [0.5, 0.04], Memory, "EN 1998-1 5.4.3.1.2(5), EN 1992-1-1 9.2.1.1(3)";
    /// Beam bars through a joint: factor on f_ctm/f_yd, that with as many bars in compression, γ_s.
    JOINT_BAR: [f64; 3] = [7.5, 1.5, 1.15], Memory, "EN 1998-1 Eq. 5.50a (medium ductility, ν_d = 0, ρ′ = ρ_max), EN 1992-1-1 Table 2.1N";
    /// Strains of the parabola–rectangle and exponent up to 50 MPa.
    PARABOLA: [f64; 3] = [0.002, 0.0035, 2.0], Memory, "EN 1992-1-1 Table 3.1";
    /// Modulus: E_cm = 22·(f_cm/10)^0.3 GPa; factor (MPa), exponent.
    MODULUS: [f64; 2] = [22_000.0, 0.3], Memory, "EN 1992-1-1 Table 3.1";
    /// Above 50 MPa: ε_c2 = 2.0 + 0.085·(f − 50)^0.53, ε_cu2 = 2.6 + 35·((90 − f)/100)⁴ (‰), n = 1.4 +
    /// 23.4·((90 − f)/100)⁴.
    PARABOLA_STRONG: [f64; 7] = [2.0, 0.085, 0.53, 2.6, 35.0, 1.4, 23.4], Memory, "EN 1992-1-1 Table 3.1";
    /// Cracked over uncracked stiffness, bending and shear.
    STIFFNESS: f64 = 0.5, Memory, "EN 1998-1 4.3.1(7)";
    /// Jackets: shear, yield rotation on a roughened and on an untreated surface.
    JACKET: [f64; 3] = [0.9, 1.05, 1.2], Memory, "EN 1998-3 A.4.2.2 (A.18–A.20)";
    /// Mean over characteristic strength: what is added to concrete (MPa), and the factor on bars.
    EXPECTED: [f64; 2] = [8.0, 1.15], Memory, "EN 1992-1-1 Table 3.1 for concrete; for bars common practice, no clause";
    /// Shear (A.12), MPa: part of A_c·f_c up to which axial force counts; loss per unit of plastic ductility and the most
    /// of it; concrete's factor, least percentage of bars, loss per L_V/h and the most of it.
    COLUMN_SHEAR: [f64; 7] = [0.55, 0.05, 5.0, 0.16, 0.5, 0.16, 5.0], Memory, "EN 1998-3 Eq. A.12";
    /// Crushing of short columns (A.16): factor, loss per unit of plastic ductility, on the axial ratio, on the percentage
    /// of bars, strongest concrete counted (MPa), L_V/h up to which it is asked.
    SHORT_COLUMN: [f64; 6] = [0.571_428_571_428_571_4, 0.02, 1.35, 0.45, 40.0, 2.0], Memory, "EN 1998-3 Eq. A.16";
    /// Plastic chord rotation (A.3): factor, base of the axial ratio, least ω, power of ω'/ω, power of f_c, most L_V/h, its
    /// power, base of confinement.
    PLASTIC: [f64; 8] = [0.0145, 0.25, 0.01, 0.3, 0.2, 9.0, 0.35, 25.0], Memory, "EN 1998-3 Eq. A.3 as corrected";
    /// On it where nothing was detailed for earthquakes.
    NOT_DETAILED: f64 = 0.8, Memory, "EN 1998-3 A.3.2.2(3)";
    /// γ_el of primary members on the plastic part.
    GAMMA_PLASTIC: f64 = 1.8, Memory, "EN 1998-3 A.3.2.2(2)";
    /// Part of the ultimate rotation at significant damage.
    SIGNIFICANT: f64 = 0.75, Memory, "EN 1998-3 A.3.2.3";
    /// Lap that develops the rotation: d_b·f_y/[(1.05 + 14.5·α_l·ρ_sx·f_yw/f_c)·√f_c].
    LAP_ROTATION: [f64; 2] = [1.05, 14.5], Memory, "EN 1998-3 Eq. A.6";
    /// Lap that develops yield: 0.3·d_b·f_y/√f_c.
    LAP_YIELD: f64 = 0.3, Memory, "EN 1998-3 A.3.2.2(4)";
    /// What is left of a column's strength beyond its ultimate rotation.
    RESIDUAL: f64 = 0.2, Memory, "judgement, no clause";
    /// Yield curvature of a beam times its depth over the yield strain.
    BEAM_CURVATURE: f64 = 1.7, Memory, "Priestley's estimate for T and rectangular beams, no clause";
    /// Yield rotation (A.10b): shear slip, and its growth with h/L_V; bar slip d_b·f_y/(8·√f_c). First prints have 0.0013 in
    /// other forms of the shear term; the corrected one is taken.
    YIELD: [f64; 3] = [0.0014, 1.5, 8.0], Memory, "EN 1998-3 Eq. A.10b";
    /// Shear of beams without enough stirrups: 0.18·k·(100·ρ_l·f_c)^⅓, k = 1 + √(200/d) at most 2, ρ_l at most 0.02.
    BEAM_CONCRETE: [f64; 4] = [0.18, 200.0, 2.0, 0.02], Memory, "EN 1992-1-1 6.2.2, γ apart";
    /// Lever arm over d, and largest cot θ.
    BEAM_TRUSS: [f64; 2] = [0.9, 2.5], Memory, "EN 1992-1-1 6.2.3";
    /// Joint strut: part of the concrete strength, its fall with strength; exterior joints' share.
    JOINT_STRUT: [f64; 3] = [0.6, 250.0, 0.8], Memory, "EN 1998-1 5.5.3.3(2)";
    /// Rotation of a joint, and of a beam end limited by anything but bending, beyond its strength: kept, lost.
    JOINT_ROTATION: [f64; 2] = [0.005, 0.01], Memory, "borrowed from ASCE 41-17 Table 10-11: EN 1998-3 gives none";
}

/// f_cm = f_ck + 8 MPa; f_ym = 1.15·f_yk.
pub(super) fn expected_factors() -> ExpectedFactors {
    ExpectedFactors { concrete: 1.0, concrete_step_mpa: EXPECTED[0], steel: EXPECTED[1] }
}

/// 1/CF, as mean values divided by it give the capacities of ductile elements (EN 1998-3
/// 2.2.1(5)P; MEMORY).
pub(super) fn knowledge_factor(knowledge: Knowledge) -> f64 {
    let [assumed, drawings, tested] = CONFIDENCE;
    1.0 / match knowledge {
        Knowledge::Assumed => assumed,
        Knowledge::Drawings => drawings,
        Knowledge::Tested => tested,
    }
}

/// Proportions of a new frame of medium ductility (EN 1998-1 4.4.2.3, 5.4.3).
pub(super) fn frame_proportions(concrete_mpa: f64, steel_mpa: f64) -> FrameProportions {
    let [factor, most] = BEAM_STEEL;
    let tensile_mpa = TENSILE[1] * pow(concrete_mpa, 2.0 / 3.0);
    let [bond, compressed, gamma] = JOINT_BAR;
    FrameProportions {
        columns_over_beams: STRONG_COLUMN,
        column_steel: COLUMN_STEEL,
        beam_steel: [factor * tensile_mpa / steel_mpa, most],
        column_over_bar: compressed * steel_mpa / (gamma * bond * tensile_mpa),
    }
}

/// Mean strengths over CF·γ_m, with γ_el, against what ductile parts bring at CF times theirs (EN 1998-3 2.2.1(5)P, (6)P,
/// A.3.3.1(1); MEMORY). Shear is brittle, so nothing is accepted beyond it.
pub(super) fn force_controlled(knowledge: Knowledge) -> ForceControlled {
    let [on_concrete, on_steel] = PARTIAL;
    let over_cf = knowledge_factor(knowledge);
    ForceControlled {
        concrete_step_mpa: EXPECTED[0],
        concrete: over_cf / on_concrete,
        steel: EXPECTED[1] * over_cf / on_steel,
        strength: over_cf / GAMMA_SHEAR,
        column_shear: true,
    }
}

/// f_ck/γ_c·(A_g − A_s) + f_yk/γ_s·A_s, a column under gravity being a persistent situation (EN 1992-1-1 2.4.2.4, 6.1).
pub(super) fn column_axial_kn(column: &ColumnAxial) -> f64 {
    let [on_concrete, on_steel] = PARTIAL;
    let concrete = column.concrete_mpa / on_concrete * (column.gross_mm2 - column.bars_mm2).max(0.0);
    (concrete + column.steel_mpa / on_steel * column.bars_mm2) / 1e3
}

/// E_cm of the mean strength, which is f_ck + 8 MPa already: nothing is added here.
pub(super) fn concrete_modulus_mpa(mean_mpa: f64) -> f64 {
    let [factor, exponent] = MODULUS;
    factor * pow(mean_mpa.max(0.0) / 10.0, exponent)
}

/// Parabola–rectangle with the strength handed in as its plateau; above 50 MPa strains and
/// exponent follow that strength.
pub(super) fn concrete_law(strength_mpa: f64) -> ConcreteLaw {
    let [mut peak_strain, mut ultimate_strain, mut exponent] = PARABOLA;
    if strength_mpa > 50.0 {
        let rest = pow((90.0 - strength_mpa.min(90.0)) / 100.0, 4.0);
        let [peak, slope, power, ultimate, ultimate_slope, n, n_slope] = PARABOLA_STRONG;
        peak_strain = (peak + slope * pow(strength_mpa.min(90.0) - 50.0, power)) / 1e3;
        ultimate_strain = (ultimate + ultimate_slope * rest) / 1e3;
        exponent = n + n_slope * rest;
    }
    ConcreteLaw::Parabola { strength_mpa, peak_strain, ultimate_strain, exponent }
}

/// Half of the uncracked stiffness, in shear of 0.4·E_c·A_w, whatever the axial load: the clause's simple value. The secant
/// to the yield rotation of Annex A, mostly a half to a quarter of it, would make buildings softer and is not taken.
pub(super) fn effective_stiffness(_component: Component) -> EffectiveStiffness {
    EffectiveStiffness { flexure: STIFFNESS, shear: STIFFNESS * 0.4 }
}

pub(super) fn jacket_factors(surface: Surface) -> JacketFactors {
    let [shear, roughened, untreated] = JACKET;
    let treated = !matches!(surface, Surface::Plain);
    let yield_rotation = if treated { roughened } else { untreated };
    JacketFactors { moment: 1.0, shear, yield_rotation, notes: Notes::NONE }
}

/// The parts of A.12 that do and do not wear with ductility, kN.
fn shear_parts(column: &ColumnShear) -> [f64; 2] {
    let [most_axial, _, _, factor, least_percent, per_span, most_span] = COLUMN_SHEAR;
    let area = column.width_mm * column.effective_depth_mm;
    let span = column.shear_span_mm;
    let pressed = (1e3 * column.axial_kn).max(0.0).min(most_axial * area * column.concrete_mpa);
    let strut = ((column.depth_mm - column.compression_mm) / (2.0 * span)).max(0.0) * pressed;
    let concrete = factor
        * (100.0 * column.bar_ratio).max(least_percent)
        * (1.0 - per_span * (span / column.depth_mm).min(most_span))
        * column.concrete_mpa.max(0.0).sqrt()
        * area;
    [strut / 1e3, concrete.max(0.0) / 1e3]
}

/// V_R with γ_el = 1 (EN 1998-3 Eq. A.12; MPa, mm, N), held at that of the diagonal strut in columns of L_V/h up to
/// 2 (A.16). Hoops act over the lever between the outer bars.
pub(super) fn column_shear(column: &ColumnShear) -> ColumnShearStrength {
    let mut notes = Notes::NONE;
    let [_, wear, most_wear, ..] = COLUMN_SHEAR;
    let [strut_kn, concrete_kn] = shear_parts(column);
    let mut counted = [0.0; 2];
    let mut hoops_kn = 0.0;
    for (hoops, part) in column.hoops.iter().zip(&mut counted) {
        if hoops.area_mm2 > 0.0 && hoops.spacing_mm > 0.0 && hoops.effective_depth_mm > 0.0 {
            *part = 1.0;
            let lever = column.lever_mm * (hoops.effective_depth_mm / column.effective_depth_mm).min(1.0);
            hoops_kn += hoops.area_mm2 * hoops.yield_mpa * lever / hoops.spacing_mm / 1e3;
        }
    }
    let slender = column.shear_span_mm / column.depth_mm;
    let at = |ductility: f64| {
        let plastic = (ductility - 1.0).clamp(0.0, most_wear);
        let bends = strut_kn + (1.0 - wear * plastic) * (concrete_kn + hoops_kn);
        if slender <= SHORT_COLUMN[5] { bends.min(diagonal_kn(column, plastic)) } else { bends }
    };
    let end = 1.0 + most_wear;
    let undamaged_kn = at(1.0);
    let strength_kn = at(column.ductility);
    notes.add_if(undamaged_kn < strut_kn + concrete_kn + hoops_kn, Note::CapGoverns);
    ColumnShearStrength {
        strength_kn,
        undamaged_kn,
        concrete_kn: strut_kn + concrete_kn,
        hoops_kn,
        degradation: strength_kn / undamaged_kn,
        ductility_range: [1.0, end],
        least_degradation: at(end) / undamaged_kn,
        hoops_counted: counted,
        notes,
    }
}

/// A.16, γ_el = 1, kN; A_c is b_w·d as in A.12.
fn diagonal_kn(column: &ColumnShear, plastic: f64) -> f64 {
    let [factor, wear, on_axial, on_bars, most, _] = SHORT_COLUMN;
    // sin 2δ of tan δ = h/(2·L_V).
    let slope = column.depth_mm / (2.0 * column.shear_span_mm);
    let twice = 2.0 * slope / (1.0 + slope * slope);
    let axial = 1e3 * column.axial_kn.max(0.0) / (column.width_mm * column.effective_depth_mm * column.concrete_mpa);
    factor
        * (1.0 - wear * plastic)
        * (1.0 + on_axial * axial)
        * (1.0 + on_bars * 100.0 * column.bar_ratio)
        * column.concrete_mpa.clamp(0.0, most).sqrt()
        * column.width_mm
        * column.lever_mm
        * twice
        / 1e3
}

/// α of EN 1998-1 5.4.3.2.2 for rectangular hoops: 0 where they are not anchored in the core.
fn confinement(detail: &EndDetail, anchored: bool) -> f64 {
    let [b, h] = detail.core_mm;
    if !anchored || b <= 0.0 || h <= 0.0 {
        return 0.0;
    }
    let along = |core: f64| (1.0 - detail.hoop_spacing_mm / (2.0 * core)).max(0.0);
    along(b) * along(h) * (1.0 - detail.restrained_mm2 / (6.0 * b * h)).max(0.0)
}

/// θ_um^pl with γ_el = 1 of a member detailed for earthquakes (Eq. A.3): axial ratio, tension over compression steel
/// as ω'/ω, concrete, L_V/h, α·ρ_sx·f_yw/f_c.
pub(super) fn plastic_rotation(
    axial_ratio: f64,
    [tension, compression]: [f64; 2],
    concrete_mpa: f64,
    span: f64,
    confined: f64,
) -> f64 {
    let [factor, axial_base, least, on_steel, on_concrete, most_span, on_span, confined_base] = PLASTIC;
    factor
        * pow(axial_base, axial_ratio.max(0.0))
        * pow(compression.max(least) / tension.max(least), on_steel)
        * pow(concrete_mpa.max(0.0), on_concrete)
        * pow(span.clamp(0.0, most_span), on_span)
        * exp(ln(confined_base) * confined)
}

/// Nothing plastic for limited damage; 0.75 of the ultimate rotation, and all of it, less what is elastic.
pub(super) fn accepted(plastic: f64, elastic: f64) -> [f64; 3] {
    let ultimate = elastic + plastic / GAMMA_PLASTIC;
    [0.0, (SIGNIFICANT * ultimate - elastic).max(0.0), plastic / GAMMA_PLASTIC]
}

/// Plastic rotations of columns (EN 1998-3 A.3.2.2) with ribbed bars (the factors for smooth ones are not taken), as not
/// detailed for earthquakes unless their hoops are anchored in the core. Support is lost at the drift of Elwood and Moehle,
/// which no clause gives.
pub(super) fn column_rotations(hinge: &ColumnHinge) -> PlasticRotations {
    let mut notes = Notes::NONE;
    let detail = &hinge.detail;
    let confined =
        confinement(detail, hinge.anchored_hoops) * hinge.hoop_ratio * hinge.hoop_yield_mpa / hinge.concrete_mpa;
    let mechanical = hinge.bar_yield_mpa / hinge.concrete_mpa;
    let steel = [detail.tension_ratio, detail.compression_ratio].map(|ratio| ratio * mechanical);
    // Where bars are lapped both count in compression.
    let steel = if detail.lap_mm.is_some() { [steel[0], 2.0 * steel[1]] } else { steel };
    let span = detail.shear_span_mm / detail.depth_mm;
    let mut plastic = plastic_rotation(hinge.axial_ratio, steel, hinge.concrete_mpa, span, confined);
    if !hinge.anchored_hoops {
        plastic *= NOT_DETAILED;
        notes.add(Note::HooksOpen);
    }
    if let Some(lap) = detail.lap_mm {
        let [constant, on_hoops] = LAP_ROTATION;
        let needed = detail.bar_mm * hinge.bar_yield_mpa
            / ((constant + on_hoops * confined) * hinge.concrete_mpa.max(0.0).sqrt());
        if lap < needed {
            plastic *= lap / needed;
            notes.add(Note::AnchorageGoverns);
        }
    }
    notes.add(Note::Borrowed);
    PlasticRotations {
        capping: plastic,
        loss: (axial_loss_rotation(hinge) - detail.yield_rotation).max(plastic),
        residual: RESIDUAL,
        accepted: accepted(plastic, detail.yield_rotation),
        notes,
    }
}

/// V_c without the least stirrups, else the truss of least cot θ that its struts bear (EN 1992-1-1 6.2.2, 6.2.3),
/// without partial factors.
pub(super) fn beam_shear(beam: &BeamShear) -> BeamShearStrength {
    let [factor, size, most_size, most_ratio] = BEAM_CONCRETE;
    let k = (1.0 + (size / beam.effective_depth_mm).sqrt()).min(most_size);
    let ratio = beam.tension_ratio.clamp(0.0, most_ratio);
    let area = beam.width_mm * beam.effective_depth_mm;
    let concrete_kn = factor * k * pow(100.0 * ratio * beam.concrete_mpa.max(0.0), 1.0 / 3.0) * area / 1e3;
    let stirrups = beam.stirrups;
    let per_mm = if stirrups.spacing_mm > 0.0 { stirrups.area_mm2 / stirrups.spacing_mm } else { 0.0 };
    let [lever, most] = BEAM_TRUSS;
    let arm = lever * beam.effective_depth_mm;
    let pull = per_mm * stirrups.yield_mpa;
    let strut = nu(beam.concrete_mpa) * beam.concrete_mpa * beam.width_mm;
    // Where stirrups and struts give out together: cot²θ = ν·f_c·b/(A_sw/s·f_yw) − 1.
    let cot = if pull > 0.0 { (strut / pull - 1.0).max(0.0).sqrt().min(most) } else { 0.0 };
    let by_stirrups = pull * arm * cot.max(1.0) / 1e3;
    let crushing = strut * arm * cot.max(1.0) / (1.0 + cot.max(1.0) * cot.max(1.0)) / 1e3;
    let mut notes = Notes::NONE;
    let truss = by_stirrups.min(crushing);
    notes.add_if(crushing < by_stirrups, Note::CapGoverns);
    let (concrete_kn, stirrups_kn) = if truss > concrete_kn { (0.0, truss) } else { (concrete_kn, 0.0) };
    BeamShearStrength { strength_kn: concrete_kn + stirrups_kn, concrete_kn, stirrups_kn, notes }
}

/// Plastic rotations of beam ends: A.3 with no axial force; borrowed in shear, at laps cut short and at bars too short
/// in the joint, which the clause has no rotation for.
pub(super) fn beam_rotations(hinge: &BeamHinge) -> PlasticRotations {
    let mut notes = Notes::NONE;
    if hinge.control != BeamControl::Flexure {
        notes.add(Note::Borrowed);
        return borrowed(notes);
    }
    let steel = [1.0, hinge.compression_to_tension];
    let detailed = plastic_rotation(0.0, steel, hinge.concrete_mpa, hinge.span_ratio, 0.0);
    let plastic = if hinge.confined { detailed } else { NOT_DETAILED * detailed };
    let [slip, grows, _] = YIELD;
    let strain = hinge.yield_mpa / STEEL_MODULUS_MPA;
    let elastic = BEAM_CURVATURE * strain * hinge.span_ratio / 3.0 + slip * (1.0 + grows / hinge.span_ratio);
    PlasticRotations {
        capping: plastic,
        loss: plastic,
        residual: RESIDUAL,
        accepted: accepted(plastic, elastic),
        notes,
    }
}

/// Rotations of ends that fail before they bend.
fn borrowed(notes: Notes) -> PlasticRotations {
    let [capping, loss] = JOINT_ROTATION;
    let accepted = [0.0, SIGNIFICANT * capping, capping];
    PlasticRotations { capping, loss, residual: RESIDUAL, accepted, notes }
}

/// The lesser of the diagonal strut (EN 1998-1 Eq. 5.33) and, with the hoops there are, of its cracking (Eq. 5.35
/// turned round), without partial factors.
pub(super) fn joint_shear(joint: &JointShear) -> JointStrength {
    let [part, falls, exterior] = JOINT_STRUT;
    let concrete = joint.concrete_mpa.max(0.0);
    let eta = part * (1.0 - concrete / falls).max(0.0);
    let axial = joint.axial_ratio.max(0.0);
    let place = if matches!(joint.position, JointPosition::Interior { .. }) { 1.0 } else { exterior };
    let strut = if eta > 0.0 { place * eta * concrete * (1.0 - axial / eta).max(0.0).sqrt() } else { 0.0 };
    let tensile = TENSILE[1] * pow(concrete, 2.0 / 3.0);
    let cracks = ((tensile + joint.hoop_ratio * joint.hoop_yield_mpa) * (tensile + axial * concrete)).sqrt();
    let stress = strut.min(cracks);
    let mut notes = Notes::NONE;
    notes.add(Note::Borrowed);
    JointStrength {
        strength_kn: stress * joint.area_mm2 / 1e3,
        coefficient: if concrete > 0.0 { stress / concrete.sqrt() } else { 0.0 },
        rotations: borrowed(notes),
    }
}

/// f_y·l/l_oy ≤ f_y with l_oy = 0.3·d_b·f_y/√f_c.
pub(super) fn splice_stress_mpa(splice: &Splice) -> f64 {
    let needed = LAP_YIELD * splice.bar_mm * splice.yield_mpa / splice.concrete_mpa.max(0.0).sqrt();
    let ratio = splice.provided_mm / needed;
    if ratio.is_nan() || ratio <= 0.0 { 0.0 } else { ratio.min(1.0) * splice.yield_mpa }
}
