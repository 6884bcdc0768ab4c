//! Closed forms of another practice beside the engine's own strengths.
//!
//! The engine's strengths come from section analysis and a rule set's clauses. The forms here are those of Japanese
//! evaluation practice, where most of the measures of this tool come from; they are short enough to check by hand
//! and independent of either rule set. They are shown beside the engine's strengths and decide nothing.

use crate::material::Bar;
use crate::math::pow;
use crate::model::Column;
use crate::project::Direction;
use crate::rules::Ruled;
use crate::rules::source::clause_constants;
use crate::sections::Sections;

clause_constants! { CONSTANTS;
    /// Coefficient of the concrete's shear, lower bound of the tests.
    SHEAR_LOWER: f64 = 0.053, SeenListed, "Japanese evaluation standard 2001, supplement (Arakawa)";
    /// Coefficient of the concrete's shear, mean of the tests.
    SHEAR_MEAN: f64 = 0.068, SeenListed, "Japanese evaluation standard 2001, supplement (Arakawa)";
    /// Lever of the tension bars over the depth.
    BAR_LEVER: f64 = 0.8, Memory, "Japanese evaluation standard 2001, supplement";
    /// Axial stress over strength up to which the bending form's parabola holds.
    PARABOLA_END: f64 = 0.4, Memory, "Japanese evaluation standard 2001, supplement";
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
    /// The column as built, its bars counted at a stress, with the clear height in which it bends.
    pub fn of(
        sections: Sections<'_>,
        column: &Column,
        direction: Direction,
        bar_mpa: f64,
        clear_height_m: f64,
    ) -> Ruled<Self> {
        let shape = sections.plain(column, direction, bar_mpa)?;
        let (kind, bars) = (&column.kind, shape.bars);
        let legs = match direction {
            Direction::X => kind.hoop_legs_x,
            Direction::Y => kind.hoop_legs_y,
        };
        let hoops_mm2 = f64::from(legs) * Bar::round(kind.hoop_mm).area_mm2;
        Ok(Self {
            width_mm: shape.width_mm,
            depth_mm: shape.depth_mm,
            effective_depth_mm: shape.depth_mm - bars.edge_mm(),
            concrete_mpa: sections.old_concrete_mpa(),
            tension_mm2: f64::from(bars.on_face(shape.width_mm, shape.depth_mm)) * bars.bar.area_mm2,
            bars_mm2: f64::from(bars.count) * bars.bar.area_mm2,
            yield_mpa: bar_mpa,
            hoop_ratio: hoops_mm2 / (shape.width_mm * kind.hoop_spacing_mm),
            hoop_yield_mpa: sections.steel_mpa(sections.materials.hoop_steel_mpa),
            axial_kn: column.axial_kn,
            shear_span_mm: 500.0 * clear_height_m,
        })
    }

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
}
