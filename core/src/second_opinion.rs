//! Closed forms of another practice beside the engine's own strengths.
//!
//! The engine's strengths come from section analysis and a rule set's clauses. The forms here are those of Japanese
//! evaluation practice, where most of the measures of this tool come from; they are short enough to check by hand
//! and independent of either rule set. They are shown beside the engine's strengths and decide nothing.

use crate::math::pow;
use crate::rules::source::clause_constants;

clause_constants! { CONSTANTS;
    /// Coefficient of the concrete's shear, lower bound of the tests.
    SHEAR_LOWER: f64 = 0.053, SeenListed, "Japanese evaluation standard 2001, supplement (Arakawa)";
    /// Coefficient of the concrete's shear, mean of the tests.
    SHEAR_MEAN: f64 = 0.068, SeenListed, "Japanese evaluation standard 2001, supplement (Arakawa)";
    /// Lever of the tension bars over the depth.
    BAR_LEVER: f64 = 0.8, Memory, "Japanese evaluation standard 2001, supplement";
    /// Axial stress over strength up to which the bending form's parabola holds.
    PARABOLA_END: f64 = 0.4, Memory, "Japanese evaluation standard 2001, supplement";
    /// Lever of the tension bars of a winged column to the far face of the column, over its depth.
    WING_LEVER: f64 = 0.9, Memory, "Japanese evaluation standard 2001, supplement 1";
}

/// A rectangular column bending and sheared along its depth, as the forms see it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnForm {
    /// Width across the force, mm.
    pub width_mm: f64,
    /// Depth along the force, mm.
    pub depth_mm: f64,
    /// Effective depth, mm.
    pub effective_depth_mm: f64,
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Bars of the face in tension, mm².
    pub tension_mm2: f64,
    /// All bars, mm².
    pub bars_mm2: f64,
    /// Yield strength of the bars, MPa.
    pub yield_mpa: f64,
    /// Hoop legs along the force over width times spacing.
    pub hoop_ratio: f64,
    /// Yield strength of the hoops, MPa.
    pub hoop_yield_mpa: f64,
    /// Axial force, kN, compression positive.
    pub axial_kn: f64,
    /// Moment over shear, half the clear height as a rule, mm.
    pub shear_span_mm: f64,
}

impl ColumnForm {
    /// Concrete's strength on the whole section, N.
    fn squash_n(&self) -> f64 {
        self.width_mm * self.depth_mm * self.concrete_mpa
    }

    /// Bending strength, kNm: M = 0.8·a_t·σ_y·D + 0.5·N·D·(1 − N/(b·D·F_c)) up to 0.4·b·D·F_c; beyond, on a straight
    /// line to no moment at b·D·F_c + a_g·σ_y; in tension 0.8·a_t·σ_y·D + 0.4·N·D. No moment outside that range.
    pub fn moment_knm(&self) -> f64 {
        let depth_m = self.depth_mm / 1000.0;
        let squash_kn = self.squash_n() / 1000.0;
        let bars = BAR_LEVER * self.tension_mm2 * self.yield_mpa / 1000.0 * depth_m;
        let all_kn = self.bars_mm2 * self.yield_mpa / 1000.0;
        let (axial, end) = (self.axial_kn, PARABOLA_END * squash_kn);
        let parabola = |axial: f64| bars + 0.5 * axial * depth_m * (1.0 - axial / squash_kn);
        let moment = if axial < 0.0 {
            bars + 0.5 * BAR_LEVER * axial * depth_m
        } else if axial <= end {
            parabola(axial)
        } else {
            parabola(end) * (squash_kn + all_kn - axial) / (squash_kn + all_kn - end)
        };
        if axial < -all_kn { 0.0 } else { moment.max(0.0) }
    }

    /// Shear strength, kN: lower bound and mean of the tests.
    ///
    /// Q = [k·p_t^0.23·(18 + F_c)/(M/(Q·d) + 0.12) + 0.85·√(p_w·σ_wy) + 0.1·N/(b·D)]·b·0.8·D, p_t in %,
    /// 1 ≤ M/(Q·d) ≤ 3, p_w ≤ 1.2 %, 0 ≤ N/(b·D) ≤ 8 MPa.
    pub fn shear_kn(&self) -> [f64; 2] {
        let tension_percent = 100.0 * self.tension_mm2 / (self.width_mm * self.depth_mm);
        let span = (self.shear_span_mm / self.effective_depth_mm).clamp(1.0, 3.0);
        let axial_mpa = (1000.0 * self.axial_kn / (self.width_mm * self.depth_mm)).clamp(0.0, 8.0);
        let hoops = 0.85 * (self.hoop_ratio.min(0.012) * self.hoop_yield_mpa).sqrt();
        let concrete = pow(tension_percent, 0.23) * (18.0 + self.concrete_mpa) / (span + 0.12);
        [SHEAR_LOWER, SHEAR_MEAN].map(|coefficient| {
            (coefficient * concrete + hoops + 0.1 * axial_mpa) * self.width_mm * 0.8 * self.depth_mm / 1000.0
        })
    }

    /// Bending strength with a wing of the given length and thickness on both sides, kNm: bars of the column alone;
    /// `None` where the compressed block would leave the wing or the axial force is no compression.
    ///
    /// M = (0.9 + β)·a_t·σ_y·D + 0.5·N·D·[1 + 2β − N/(α·b·D·F_c)·(1 + a_t·σ_y/N)²], α = t/b, β = wing over D.
    pub fn winged_moment_knm(&self, wing_mm: f64, thickness_mm: f64) -> Option<f64> {
        let tension_n = self.tension_mm2 * self.yield_mpa;
        let axial_n = 1000.0 * self.axial_kn;
        let force_n = axial_n + tension_n;
        let block_mm = force_n / (thickness_mm * self.concrete_mpa);
        (axial_n > 0.0 && block_mm <= wing_mm).then(|| {
            let to_tip_mm = WING_LEVER * self.depth_mm + wing_mm;
            let moment = tension_n * to_tip_mm + axial_n * (0.5 * self.depth_mm + wing_mm) - 0.5 * force_n * block_mm;
            moment / 1e6
        })
    }
}

/// Bending strength of a wall between two columns, kNm: M = a_t·σ_y·l_w + 0.5·Σ(a_w·σ_wy)·l_w + 0.5·N·l_w, from the
/// yield force of all bars of the column in tension, that of the wall's vertical bars that are anchored and the
/// compression, kN, and the distance between the columns' centres, mm. Memory of the same standard.
pub fn wall_moment_knm(column_bars_kn: f64, wall_bars_kn: f64, axial_kn: f64, length_mm: f64) -> f64 {
    (column_bars_kn + 0.5 * wall_bars_kn + 0.5 * axial_kn) * length_mm / 1000.0
}
