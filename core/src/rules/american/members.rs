//! Materials, columns, beams and joints by ASCE/SEI 41-17 chapter 10 and ACI 318-19.

use super::super::source::clause_constants;
use super::super::{
    BeamControl, BeamHinge, BeamShear, BeamShearStrength, ColumnAxial, ColumnHinge, ColumnShear, ColumnShearStrength,
    Component, EffectiveStiffness, ExpectedFactors, ForceControlled, FrameProportions, JointPosition, JointShear,
    JointStrength, Note, Notes, PlasticRotations, Splice,
};
use super::held_root;
use crate::axial_loss::axial_loss_rotation;
use crate::material::ConcreteLaw;
use crate::math::{lerp_clamped, pow};
use crate::project::Knowledge;

clause_constants! { CONSTANTS;
    /// Expected over lower-bound concrete strength.
    EXPECTED_CONCRETE: f64 = 1.5, SeenListed, "ASCE 41-17 Table 10-1";
    /// Expected over lower-bound yield strength of reinforcement.
    EXPECTED_STEEL: f64 = 1.25, SeenListed, "ASCE 41-17 Table 10-1";
    /// Knowledge factor κ: least data, least data with complete drawings and material reports, usual.
    KNOWLEDGE: [f64; 3] = [0.75, 0.9, 1.0], Memory, "ASCE 41-17 Table 6-1";
    /// Part of the squash load a tied column may carry.
    AXIAL_LIMIT: f64 = 0.8, Memory, "ACI 318-19 22.4.2.1";
    /// Σ column moments over Σ beam moments at a joint of a new special frame.
    STRONG_COLUMN: f64 = 1.2, Memory, "ACI 318-19 18.7.3.2";
    /// Least and largest bars of a column over its gross section; the larger value as laps let it be.
    COLUMN_STEEL: [f64; 2] = [0.01, 0.04], Memory, "ACI 318-19 18.7.4.1, 10.6.1.1 (0.06 beside laps: 0.03 to 0.04)";
    /// Least bars of a beam: factor on √f'c/f_y, stress (MPa) over f_y; largest part of the web.
    BEAM_STEEL: [f64; 3] = [0.25, 1.4, 0.025], Memory, "ACI 318-19 9.6.1.2, 18.6.3.1";
    /// Least size of a column over the diameter of beam bars through its joint.
    COLUMN_OVER_BAR: f64 = 20.0, Memory, "ACI 318-19 18.8.2.3(a), Grade 60";
    /// Modulus of normal-weight concrete over √f'c, MPa^½.
    MODULUS: f64 = 4700.0, Memory, "ACI 318-19 19.2.2.1(b)";
    /// Strain of the most compressed fibre.
    ULTIMATE_STRAIN: f64 = 0.003, Seen, "ACI 318-19 22.2.2.1";
    /// Stress of the rectangular block over f'c.
    BLOCK_STRESS: f64 = 0.85, Seen, "ACI 318-19 22.2.2.4.1";
    /// β₁ up to 28 MPa, slope per 7 MPa above, least value from 55 MPa on.
    BETA_ONE: [f64; 3] = [0.85, 0.05, 0.65], Memory, "ACI 318-19 Table 22.2.2.4.3";
    /// Largest √f'c counted, MPa^½.
    ROOT_LIMIT: f64 = 8.3, Memory, "ACI 318-19 22.5.3.1, 25.4.1.4";
    /// Cracked flexural stiffness of beams over E_c·I_g.
    BEAM_STIFFNESS: f64 = 0.3, Memory, "ASCE 41-17 Table 10-5";
    /// Cracked flexural stiffness of columns at axial ratios up to 0.1 and from 0.5 on.
    COLUMN_STIFFNESS: [f64; 2] = [0.3, 0.7], SeenListed, "ASCE 41-17 Table 10-5";
    /// Cracked flexural stiffness of walls. Taken as in the editions of 2006 and 2013; later ones of the material standard
    /// have less.
    WALL_STIFFNESS: f64 = 0.5, Memory, "ASCE 41-17 Table 10-5";
    /// Shear stiffness over E_c·A_w; the uncracked value, kept for walls until they crack.
    SHEAR_STIFFNESS: f64 = 0.4, Memory, "ASCE 41-17 Table 10-5";
    /// Coefficient on √f'c, part of A_g taken as shear area, and limits of M/(V·d).
    COLUMN_SHEAR: [f64; 4] = [0.5, 0.8, 2.0, 4.0], SeenListed, "ASCE 41-17 Eq. 10-3";
    /// Ductilities between which k_nl falls from 1, and the value it falls to.
    COLUMN_SHEAR_DEGRADATION: [f64; 3] = [2.0, 6.0, 0.7], SeenListed, "ASCE 41-17 10.4.2.3.1";
    /// Hoop spacing over depth up to which hoops count in full, and from which they do not count.
    COLUMN_HOOP_SPACING: [f64; 2] = [0.75, 1.0], SeenListed, "ASCE 41-17 10.4.2.3.1";
    /// Coefficients of a: constant, axial ratio, hoop ratio, shear ratio.
    COLUMN_A: [f64; 4] = [0.042, 0.043, 0.63, 0.023], SeenListed, "ASCE 41-17 Table 10-8";
    /// Coefficients of b: numerator, constant below, part of A_g, taken off.
    COLUMN_B: [f64; 4] = [0.5, 5.0, 0.8, 0.01], SeenListed, "ASCE 41-17 Table 10-8";
    /// Coefficients of c: constant, axial ratio.
    COLUMN_C: [f64; 2] = [0.24, 0.4], SeenListed, "ASCE 41-17 Table 10-8";
    /// Least axial ratio, axial ratios between which b falls to zero, least shear ratio.
    COLUMN_RANGE: [f64; 4] = [0.1, 0.5, 0.7, 0.2], SeenListed, "ASCE 41-17 Table 10-8 footnotes";
    /// Hoop ratio: smallest valid, largest counted, largest counted with 90° hooks or a short lap.
    COLUMN_HOOP_RATIO: [f64; 3] = [0.0005, 0.0175, 0.0075], SeenListed, "ASCE 41-17 Table 10-8 footnotes";
    /// Lapped columns: a = ρ_t·f_yt/(8·ρ_l·f_yl) at most 0.025; b = 0.012 − 0.085ν + 12ρ_t at most
    /// 0.06; c = 0.15 + 36ρ_t at most 0.4.
    LAPPED_COLUMN: [f64; 8] = [0.125, 0.025, 0.012, 0.085, 12.0, 0.06, 0.15, 36.0], SeenListed, "ASCE 41-17 Table 10-8";
    /// Largest c of lapped columns.
    LAPPED_COLUMN_C: f64 = 0.4, SeenListed, "ASCE 41-17 Table 10-8";
    /// Accepted rotations: immediate use as part of a and at most; life safety and near collapse
    /// as parts of b.
    COLUMN_ACCEPTED: [f64; 4] = [0.15, 0.005, 0.5, 0.7], SeenListed, "ASCE 41-17 Table 10-8";
    /// Concrete's shear in beams: with least stirrups, without (on ρ_w^⅓), size-effect constant per mm.
    BEAM_SHEAR: [f64; 3] = [0.17, 0.66, 0.004], Memory, "ACI 318-19 Table 22.5.5.1, 22.5.5.1.3";
    /// Least stirrups: on √f'c and at least, MPa.
    BEAM_LEAST_STIRRUPS: [f64; 2] = [0.062, 0.35], Memory, "ACI 318-19 Table 9.6.3.4";
    /// Most stirrups count, on √f'c.
    BEAM_STIRRUP_CAP: f64 = 0.66, Memory, "ACI 318-19 22.5.1.2";
    /// Stirrup spacing over depth beyond which half and beyond which none counts.
    STIRRUP_SPACING: [f64; 2] = [0.5, 1.0], Memory, "ASCE 41-17 10.3.4";
    /// √psi in MPa^½, the unit of the joint coefficients.
    JOINT_UNIT: f64 = 0.083, Derived, "unit conversion";
    /// Joint shear over 0.083·√f'c·A_j with few hoops: interior with and without beams across,
    /// exterior with and without, knee.
    JOINT_FEW_HOOPS: [f64; 5] = [12.0, 10.0, 8.0, 6.0, 4.0], Memory, "ASCE 41-17 Table 10-12";
    /// The same with hoops.
    JOINT_HOOPS: [f64; 5] = [20.0, 15.0, 15.0, 12.0, 8.0], Memory, "ASCE 41-17 Table 10-12";
    /// Hoop ratio that makes the difference.
    JOINT_HOOP_RATIO: f64 = 0.003, Memory, "ASCE 41-17 Table 10-12";
    /// Plastic rotations (a, b, c) of interior joints with and without hoops, other joints with and
    /// without, at low axial load: the least of each row over the shear ratio.
    JOINT_ROTATIONS: [[f64; 3]; 4] = [[0.015, 0.03, 0.2], [0.005, 0.015, 0.2], [0.01, 0.015, 0.2], [0.005, 0.01, 0.2]], Memory, "ASCE 41-17 Table 10-11";
    /// Axial ratio from which other joints without hoops have no plastic rotation.
    JOINT_AXIAL: f64 = 0.4, Memory, "ASCE 41-17 Table 10-11";
    /// Stress of a lapped bar: factor and exponent on provided over required length.
    LAP: [f64; 2] = [1.25, 0.666_666_666_666_666_7], Memory, "ASCE 41-17 Eq. 10-1";
    /// Beam rotations (a, b, c) bending: rows by stirrups (closed and close, not), then steel ratio
    /// (0, 0.5), then shear stress (0.25, 0.50 MPa^½).
    BEAM_FLEXURE: [[f64; 3]; 8] = [
        [0.025, 0.05, 0.2], [0.02, 0.04, 0.2], [0.02, 0.03, 0.2], [0.015, 0.02, 0.2],
        [0.02, 0.03, 0.2], [0.01, 0.015, 0.2], [0.01, 0.015, 0.2], [0.005, 0.01, 0.2],
    ], SeenListed, "ASCE 41-17 Table 10-7 condition i";
    /// Beam rotations (a, b, c): shear with close and wide stirrups, lap with close and wide, embedment.
    BEAM_OTHER: [[f64; 3]; 5] = [
        [0.003, 0.02, 0.2], [0.003, 0.01, 0.2], [0.003, 0.02, 0.0], [0.003, 0.01, 0.0], [0.015, 0.03, 0.2],
    ], Memory, "ASCE 41-17 Table 10-7 conditions ii, iii, iv";
    /// Accepted beam and joint rotations: immediate use as part of a and at most, life safety as part
    /// of b; near collapse is b.
    BEAM_ACCEPTED: [f64; 3] = [0.4, 0.01, 0.5], Memory, "ASCE 41-17 Tables 10-7, 10-11";
}

pub(super) fn expected_factors() -> ExpectedFactors {
    ExpectedFactors { concrete: EXPECTED_CONCRETE, concrete_step_mpa: 0.0, steel: EXPECTED_STEEL }
}

/// κ, on the deformations accepted for existing members (ASCE 41-17 Table 7-6; MEMORY).
pub(super) const fn knowledge_factor(knowledge: Knowledge) -> f64 {
    let [assumed, drawings, tested] = KNOWLEDGE;
    match knowledge {
        Knowledge::Assumed => assumed,
        Knowledge::Drawings => drawings,
        Knowledge::Tested => tested,
    }
}

/// Proportions of a new special moment frame (ACI 318-19 18.6.3.1, 18.7.3.2, 18.7.4.1, 18.8.2.3).
pub(super) fn frame_proportions(concrete_mpa: f64, steel_mpa: f64) -> FrameProportions {
    let [root, stress, most] = BEAM_STEEL;
    let least = (root * concrete_mpa.sqrt()).max(stress) / steel_mpa;
    FrameProportions {
        columns_over_beams: STRONG_COLUMN,
        column_steel: COLUMN_STEEL,
        beam_steel: [least, most],
        column_over_bar: COLUMN_OVER_BAR,
    }
}

/// Lower-bound strengths, times κ (ASCE 41-17 7.5.2.2, 7.5.3.2; MEMORY). The shear of columns is none of these actions:
/// Table 10-8 gives deformations to columns that shear first, with expected strengths.
pub(super) fn force_controlled(knowledge: Knowledge) -> ForceControlled {
    let strength = knowledge_factor(knowledge);
    ForceControlled { concrete_step_mpa: 0.0, concrete: 1.0, steel: 1.0, strength, column_shear: false }
}

/// 0.80·[0.85·f'c·(A_g − A_st) + f_y·A_st], without φ: axial compression is force-controlled (ASCE 41-17 10.4.2.2), so the
/// strengths are those given.
pub(super) fn column_axial_kn(column: &ColumnAxial) -> f64 {
    let concrete = BLOCK_STRESS * column.concrete_mpa * (column.gross_mm2 - column.bars_mm2).max(0.0);
    AXIAL_LIMIT * (concrete + column.steel_mpa * column.bars_mm2) / 1e3
}

/// E_c = 4700·√f'c, MPa.
pub(super) fn concrete_modulus_mpa(strength_mpa: f64) -> f64 {
    MODULUS * strength_mpa.max(0.0).sqrt()
}

/// The rectangular block. Below 17 MPa, outside the table, β₁ stays at its largest value.
pub(super) fn concrete_law(strength_mpa: f64) -> ConcreteLaw {
    let [most, per_seven, least] = BETA_ONE;
    let beta = (most - per_seven * (strength_mpa - 28.0) / 7.0).clamp(least, most);
    ConcreteLaw::Block { strength_mpa, factor: BLOCK_STRESS, depth_ratio: beta, ultimate_strain: ULTIMATE_STRAIN }
}

pub(super) fn effective_stiffness(component: Component) -> EffectiveStiffness {
    let flexure = match component {
        Component::Beam => BEAM_STIFFNESS,
        Component::Column { axial_ratio } => {
            lerp_clamped(axial_ratio, (0.1, COLUMN_STIFFNESS[0]), (0.5, COLUMN_STIFFNESS[1]))
        }
        Component::Wall => WALL_STIFFNESS,
    };
    EffectiveStiffness { flexure, shear: SHEAR_STIFFNESS }
}

/// V = k_nl·[Σα·A_v·f_yt·d/s + λ·0.5√f'c/(M/(V·d))·√(1 + N/(0.5·A_g·√f'c))·0.8·A_g]
/// (ASCE 41-17 Eq. 10-3; MPa, mm, N).
pub(super) fn column_shear(column: &ColumnShear) -> ColumnShearStrength {
    let mut notes = Notes::NONE;
    let [on_root, area_part, least_span, most_span] = COLUMN_SHEAR;
    let span = column.shear_span_mm / column.effective_depth_mm;
    let held = if span.is_nan() { most_span } else { span.clamp(least_span, most_span) };
    notes.add_if(held != span, Note::ShearSpanHeld);

    let mut hoops_n = 0.0;
    let mut counted = [0.0; 2];
    for (hoops, part) in column.hoops.iter().zip(&mut counted) {
        if hoops.area_mm2 <= 0.0 || hoops.spacing_mm <= 0.0 || hoops.effective_depth_mm <= 0.0 {
            continue;
        }
        let [full, none] = COLUMN_HOOP_SPACING;
        *part = lerp_clamped(hoops.spacing_mm / hoops.effective_depth_mm, (full, 1.0), (none, 0.0));
        notes.add_if(*part < 1.0, Note::HoopsTooFarApart);
        hoops_n += *part * hoops.area_mm2 * hoops.yield_mpa * hoops.effective_depth_mm / hoops.spacing_mm;
    }
    let root = column.concrete_mpa.max(0.0).sqrt();
    let gross = column.width_mm * column.depth_mm;
    let compression = column.axial_kn.max(0.0) * 1e3;
    let axial = (1.0 + compression / (on_root * gross * root).max(f64::MIN_POSITIVE)).sqrt();
    let concrete_n = column.lightweight * on_root * root / held * axial * area_part * gross;

    let [start, end, least] = COLUMN_SHEAR_DEGRADATION;
    let degradation = lerp_clamped(column.ductility, (start, 1.0), (end, least));
    let undamaged_kn = (hoops_n + concrete_n) / 1e3;
    ColumnShearStrength {
        strength_kn: degradation * undamaged_kn,
        undamaged_kn,
        concrete_kn: concrete_n / 1e3,
        hoops_kn: hoops_n / 1e3,
        degradation,
        ductility_range: [start, end],
        least_degradation: least,
        hoops_counted: counted,
        notes,
    }
}

/// Plastic rotations of rectangular columns (ASCE 41-17 Table 10-8).
///
/// Axial load is lost at b of the table or, where that is less, at the drift of Elwood and Moehle, though not before
/// lateral strength is: b was fitted to tests, the drift is the friction that hoops and axial load leave on a shear
/// crack, and with few hoops under much load it is the smaller. What is accepted stays as the table has it, parts of b,
/// but no more than that loss.
pub(super) fn column_rotations(hinge: &ColumnHinge) -> PlasticRotations {
    let mut notes = Notes::NONE;
    let [least_axial, falls_from, falls_to, least_shear] = COLUMN_RANGE;
    let axial = hinge.axial_ratio.max(least_axial);
    let [smallest, largest, poorly_anchored] = COLUMN_HOOP_RATIO;
    let most = if hinge.short_splice || !hinge.anchored_hoops { poorly_anchored } else { largest };
    let hoops = hinge.hoop_ratio.min(most);
    if hinge.hoop_ratio > most {
        notes.add(if most < largest && !hinge.anchored_hoops { Note::HooksOpen } else { Note::HoopRatioHeld });
    }
    if hinge.hoop_ratio < smallest || axial >= falls_to {
        // Outside the equations, or no axial support left: nothing plastic is counted.
        notes.add(if axial >= falls_to { Note::ForceControlled } else { Note::HoopRatioTooSmall });
        return PlasticRotations { capping: 0.0, loss: 0.0, residual: 0.0, accepted: [0.0; 3], notes };
    }
    let [immediate, immediate_most, life, collapse] = COLUMN_ACCEPTED;
    if hinge.short_splice {
        let [on_ratio, most_a, b0, b_axial, b_hoops, most_b, c0, c_hoops] = LAPPED_COLUMN;
        let strength_ratio = hoops * hinge.hoop_yield_mpa / (hinge.bar_ratio * hinge.bar_yield_mpa);
        let a = if strength_ratio.is_finite() { (on_ratio * strength_ratio).clamp(0.0, most_a) } else { 0.0 };
        let b = (b0 - b_axial * axial + b_hoops * hoops).min(most_b).max(a);
        let c = (c0 + c_hoops * hoops).min(LAPPED_COLUMN_C);
        return held_up(hinge, [a, b, c], [0.0, life * b, collapse * b], notes);
    }
    let [a0, a_axial, a_hoops, a_shear] = COLUMN_A;
    let a = (a0 - a_axial * axial + a_hoops * hoops - a_shear * hinge.shear_ratio.max(least_shear)).max(0.0);
    let [numerator, below, area_part, off] = COLUMN_B;
    let b_at =
        |axial: f64| numerator / (below + axial / area_part / hoops * hinge.concrete_mpa / hinge.hoop_yield_mpa) - off;
    let b = if axial > falls_from {
        notes.add(Note::AxialRatioHigh);
        b_at(falls_from) * (falls_to - axial) / (falls_to - falls_from)
    } else {
        b_at(axial)
    };
    let b = b.max(a);
    let c = (COLUMN_C[0] - COLUMN_C[1] * axial).max(0.0);
    held_up(hinge, [a, b, c], [(immediate * a).min(immediate_most), life * b, collapse * b], notes)
}

/// a, b, c and what is accepted, as far as the column carries its axial load.
fn held_up(hinge: &ColumnHinge, [a, b, c]: [f64; 3], accepted: [f64; 3], notes: Notes) -> PlasticRotations {
    let held = (axial_loss_rotation(hinge) - hinge.detail.yield_rotation).max(a);
    let loss = b.min(held);
    PlasticRotations { capping: a, loss, residual: c, accepted: accepted.map(|rotation| rotation.min(loss)), notes }
}

/// V_c + V_s (ACI 318-19 22.5), stirrups counted by ASCE 41-17 10.3.4.
pub(super) fn beam_shear(beam: &BeamShear) -> BeamShearStrength {
    let mut notes = Notes::NONE;
    let root = held_root(beam.concrete_mpa);
    notes.add_if(beam.concrete_mpa > ROOT_LIMIT * ROOT_LIMIT, Note::ConcreteAboveRange);
    let area = beam.width_mm * beam.effective_depth_mm;
    let stirrups = beam.stirrups;
    let per_mm = if stirrups.spacing_mm > 0.0 { stirrups.area_mm2 / stirrups.spacing_mm } else { 0.0 };
    let least = (BEAM_LEAST_STIRRUPS[0] * root).max(BEAM_LEAST_STIRRUPS[1]) * beam.width_mm;
    let [with_stirrups, without, size] = BEAM_SHEAR;
    let concrete = if per_mm * stirrups.yield_mpa >= least {
        with_stirrups * root * area
    } else {
        let size_effect = (2.0 / (1.0 + size * beam.effective_depth_mm)).sqrt().min(1.0);
        without * size_effect * pow(beam.tension_ratio.max(0.0), 1.0 / 3.0) * root * area
    };
    let spread = stirrups.spacing_mm / beam.effective_depth_mm;
    let counted = if spread > STIRRUP_SPACING[1] {
        0.0
    } else if spread > STIRRUP_SPACING[0] {
        0.5
    } else {
        1.0
    };
    notes.add_if(counted < 1.0, Note::StirrupsPartlyCounted);
    let steel = (counted * per_mm * stirrups.yield_mpa * beam.effective_depth_mm).min(BEAM_STIRRUP_CAP * root * area);
    BeamShearStrength {
        strength_kn: (concrete + steel) / 1e3,
        concrete_kn: concrete / 1e3,
        stirrups_kn: steel / 1e3,
        notes,
    }
}

fn beam_like([capping, loss, residual]: [f64; 3], notes: Notes) -> PlasticRotations {
    let [immediate, immediate_most, life] = BEAM_ACCEPTED;
    let accepted = [(immediate * capping).min(immediate_most), life * loss, loss];
    PlasticRotations { capping, loss, residual, accepted, notes }
}

/// Plastic rotations of beam ends (ASCE 41-17 Table 10-7), straight between its rows.
pub(super) fn beam_rotations(hinge: &BeamHinge) -> PlasticRotations {
    let close = hinge.spacing_ratio <= 0.5;
    let row = match hinge.control {
        BeamControl::Flexure => {
            let rows = if hinge.confined { &BEAM_FLEXURE[..4] } else { &BEAM_FLEXURE[4..] };
            core::array::from_fn(|i| {
                let shear =
                    |low: usize| lerp_clamped(hinge.shear_stress, (0.25, rows[low][i]), (0.50, rows[low + 1][i]));
                lerp_clamped(hinge.steel_ratio, (0.0, shear(0)), (0.5, shear(2)))
            })
        }
        BeamControl::Shear => BEAM_OTHER[usize::from(!close)],
        BeamControl::Splice => BEAM_OTHER[2 + usize::from(!close)],
        BeamControl::Embedment => BEAM_OTHER[4],
    };
    beam_like(row, Notes::NONE)
}

/// V_j = γ·0.083·λ·√f'c·A_j (ASCE 41-17 Table 10-12).
pub(super) fn joint_shear(joint: &JointShear) -> JointStrength {
    let hoops = joint.hoop_ratio >= JOINT_HOOP_RATIO;
    let table = if hoops { &JOINT_HOOPS } else { &JOINT_FEW_HOOPS };
    let (place, interior) = match joint.position {
        JointPosition::Interior { transverse_beams } => (usize::from(!transverse_beams), true),
        JointPosition::Exterior { transverse_beams } => (2 + usize::from(!transverse_beams), false),
        JointPosition::Knee => (4, false),
    };
    let coefficient = JOINT_UNIT * table[place] * joint.lightweight;
    let mut rotations = beam_like(JOINT_ROTATIONS[2 * usize::from(!interior) + usize::from(!hoops)], Notes::NONE);
    if !interior && !hoops && joint.axial_ratio >= JOINT_AXIAL {
        let mut notes = Notes::NONE;
        notes.add(Note::ForceControlled);
        rotations = beam_like([0.0; 3], notes);
    }
    JointStrength {
        strength_kn: coefficient * joint.concrete_mpa.max(0.0).sqrt() * joint.area_mm2 / 1e3,
        coefficient,
        rotations,
    }
}

/// f_s = 1.25·(l_b/l_d)^⅔·f_y ≤ f_y (ASCE 41-17 Eq. 10-1).
pub(super) fn splice_stress_mpa(splice: &Splice) -> f64 {
    let ratio = splice.provided_mm / splice.required_mm;
    if ratio.is_nan() || ratio <= 0.0 {
        return 0.0;
    }
    (LAP[0] * pow(ratio, LAP[1])).min(1.0) * splice.yield_mpa
}
