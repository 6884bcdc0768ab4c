//! Beam–column joints: what a joint lets its beams bring to the columns.

/// Effective width of a joint, mm: the column's, or less where the beam is narrow,
/// min(b_c, b_b + h_c) for a beam on the column's axis (ASCE/SEI 41-17 10.4.2.3.2, ACI 318-19
/// 15.4.2.4; MEMORY: from memory, verify).
pub fn effective_width_mm(column_width_mm: f64, column_depth_mm: f64, beam_width_mm: f64) -> f64 {
    column_width_mm.min(beam_width_mm + column_depth_mm)
}

/// The shear a joint can carry, as moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointCapacity {
    /// Shear strength of the joint, kN.
    pub strength_kn: f64,
    /// Lever arm of the beams, m.
    pub lever_m: f64,
    /// Height between the points of inflection of the columns, m.
    pub column_height_m: f64,
}

impl JointCapacity {
    /// Largest sum of beam moments: ΣM/jd − ΣM/h ≤ V_j, so ΣM ≤ V_j/(1/jd − 1/h), kNm (DERIVED:
    /// equilibrium of the joint, with column shear ΣM/h). Infinite where the beams are as deep as
    /// the columns are high.
    pub fn beam_moments_knm(&self) -> f64 {
        let net = 1.0 / self.lever_m - 1.0 / self.column_height_m;
        if net > 0.0 { self.strength_kn / net } else { f64::INFINITY }
    }
}

/// What gives first at a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NodeLimit {
    /// The beams, in bending.
    Beams,
    /// The beams, one of them in shear.
    BeamShear,
    /// The joint.
    Joint,
}

/// A column's part of what beams and joint pass: half, all it can if that is less, and what the
/// other column leaves if the other can do less, kNm (practice for intermediate storeys in Japanese
/// evaluation of existing buildings; MEMORY: from memory, verify).
///
/// ```
/// use sisterframe_core::joint::share_knm;
/// assert_eq!(share_knm(240.0, 180.0, 200.0), 120.0);
/// assert_eq!(share_knm(240.0, 180.0, 80.0), 160.0);
/// assert_eq!(share_knm(240.0, 90.0, 200.0), 90.0);
/// ```
pub fn share_knm(limit_knm: f64, own_knm: f64, other_knm: f64) -> f64 {
    let half = limit_knm / 2.0;
    own_knm.min(half.max(limit_knm - other_knm)).max(0.0)
}
