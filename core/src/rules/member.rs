//! What a rule set is asked about members, and what it answers.

use super::note::Notes;

/// A member whose cracked stiffness is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Component {
    /// A beam.
    Beam,
    /// A column.
    Column {
        /// Gravity compression over gross area times expected concrete strength.
        axial_ratio: f64,
    },
    /// A wall, cracked.
    Wall,
}

/// Cracked stiffness as parts of the uncracked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffectiveStiffness {
    /// Part of E_c·I_g.
    pub flexure: f64,
    /// Shear stiffness over E_c·A_w.
    pub shear: f64,
}

/// Expected over lower-bound (or specified) strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedFactors {
    /// Concrete compressive strength.
    pub concrete: f64,
    /// Added to it, MPa.
    pub concrete_step_mpa: f64,
    /// Yield strength of reinforcement.
    pub steel: f64,
}

impl ExpectedFactors {
    /// Expected strength of concrete given at its lower bound, MPa.
    pub fn concrete_mpa(&self, lower_bound_mpa: f64) -> f64 {
        self.concrete * lower_bound_mpa + self.concrete_step_mpa
    }
}

/// What a new frame has to keep to so that its beams yield before its columns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameProportions {
    /// Least sum of column moments over that of beam moments at a joint.
    pub columns_over_beams: f64,
    /// Least and largest area of a column's bars over the gross section.
    pub column_steel: [f64; 2],
    /// Least and largest area of a beam's bars in tension over its web.
    pub beam_steel: [f64; 2],
    /// Least size of a column over the diameter of the beam bars that pass through its joint.
    pub column_over_bar: f64,
}

/// Strengths a force-controlled action is checked with, from those given (lower-bound, or specified).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceControlled {
    /// Added to the concrete strength given, MPa, before its factor.
    pub concrete_step_mpa: f64,
    /// On concrete strength.
    pub concrete: f64,
    /// On yield strength.
    pub steel: f64,
    /// On the strength computed with these, all that the demand side asks included.
    pub strength: f64,
    /// Whether the shear of columns is such an action, so that nothing is accepted beyond its strength.
    pub column_shear: bool,
}

/// Limit of the axial compression of a column is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnAxial {
    /// Gross area, mm².
    pub gross_mm2: f64,
    /// Area of the longitudinal bars, mm².
    pub bars_mm2: f64,
    /// Concrete strength as given, MPa.
    pub concrete_mpa: f64,
    /// Yield strength of the bars as given, MPa.
    pub steel_mpa: f64,
}

/// One set of hoops or stirrups crossing a shear crack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hoops {
    /// Area of the legs parallel to the force, mm².
    pub area_mm2: f64,
    /// Spacing along the member, mm.
    pub spacing_mm: f64,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// Effective depth of the part they enclose, mm.
    pub effective_depth_mm: f64,
}

impl Hoops {
    /// No hoops.
    pub const NONE: Self = Self { area_mm2: 0.0, spacing_mm: 1.0, yield_mpa: 0.0, effective_depth_mm: 1.0 };
}

/// Shear strength of a column is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnShear {
    /// Width across the force, mm.
    pub width_mm: f64,
    /// Depth along the force, mm.
    pub depth_mm: f64,
    /// Effective depth, mm.
    pub effective_depth_mm: f64,
    /// Between the outer bars, mm.
    pub lever_mm: f64,
    /// Depth of the compression zone at the axial force, mm.
    pub compression_mm: f64,
    /// Longitudinal steel over gross area.
    pub bar_ratio: f64,
    /// Concrete strength, MPa; for a jacketed column the mean weighted by area.
    pub concrete_mpa: f64,
    /// Hoops of the column and, where there is one, of its jacket.
    pub hoops: [Hoops; 2],
    /// Axial force, kN, compression positive.
    pub axial_kn: f64,
    /// Largest moment over shear, M/V, mm.
    pub shear_span_mm: f64,
    /// Displacement over yield displacement.
    pub ductility: f64,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// Shear strength of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnShearStrength {
    /// At the ductility asked for, kN.
    pub strength_kn: f64,
    /// At low ductility, kN.
    pub undamaged_kn: f64,
    /// Concrete's part at low ductility, kN.
    pub concrete_kn: f64,
    /// Hoops' part at low ductility, kN.
    pub hoops_kn: f64,
    /// `strength_kn` over `undamaged_kn`.
    pub degradation: f64,
    /// Ductility at which the strength begins to fall, and at which it has fallen to its least.
    pub ductility_range: [f64; 2],
    /// Least `degradation`.
    pub least_degradation: f64,
    /// Part of each set of hoops that counts.
    pub hoops_counted: [f64; 2],
    /// Remarks.
    pub notes: Notes,
}

impl ColumnShearStrength {
    /// Ductility at which the falling strength meets a shear, if it does at all.
    pub fn ductility_at(&self, shear_kn: f64) -> Option<f64> {
        let left = shear_kn / self.undamaged_kn;
        if left.is_nan() || left > 1.0 {
            return Some(0.0);
        }
        if left <= self.least_degradation {
            return None;
        }
        let [start, end] = self.ductility_range;
        Some(start + (end - start) * (1.0 - left) / (1.0 - self.least_degradation))
    }
}

/// Plastic rotations of a column's ends are asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnHinge {
    /// Axial compression over gross area times expected concrete strength.
    pub axial_ratio: f64,
    /// Hoop area over width times spacing.
    pub hoop_ratio: f64,
    /// Longitudinal steel over gross area.
    pub bar_ratio: f64,
    /// Shear at flexural yielding over shear strength at low ductility.
    pub shear_ratio: f64,
    /// Expected concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Expected yield strength of hoops, MPa.
    pub hoop_yield_mpa: f64,
    /// Expected yield strength of bars, MPa.
    pub bar_yield_mpa: f64,
    /// The bars are lapped or anchored too short in the hinge.
    pub short_splice: bool,
    /// Hoops are anchored in the core (135° hooks).
    pub anchored_hoops: bool,
    /// What formulas for chord rotation ask besides.
    pub detail: EndDetail,
}

/// Geometry and bars of a column's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndDetail {
    /// Depth along the force, mm.
    pub depth_mm: f64,
    /// Gross area, mm².
    pub gross_area_mm2: f64,
    /// Largest moment over shear, M/V, mm.
    pub shear_span_mm: f64,
    /// Diameter of the longitudinal bars, mm.
    pub bar_mm: f64,
    /// Bars in tension and along the sides over gross area.
    pub tension_ratio: f64,
    /// Bars of the compressed face over gross area.
    pub compression_ratio: f64,
    /// Hoop legs parallel to the force, mm².
    pub hoop_area_mm2: f64,
    /// Hoop spacing, mm.
    pub hoop_spacing_mm: f64,
    /// Core between the centre lines of the hoops, across and along the force, mm.
    pub core_mm: [f64; 2],
    /// Sum of the squares of the distances between bars held by hoops, round the core, mm².
    pub restrained_mm2: f64,
    /// Length of the lap in the hinge, mm; none without a lap.
    pub lap_mm: Option<f64>,
    /// Chord rotation at yield.
    pub yield_rotation: f64,
}

/// How well a building must come through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// It stays usable.
    ImmediateUse,
    /// People get out unharmed.
    LifeSafety,
    /// It stands.
    NearCollapse,
}

/// Plastic rotations, radians, beyond yield.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlasticRotations {
    /// Where lateral strength begins to be lost (a).
    pub capping: f64,
    /// Where axial support is lost (b).
    pub loss: f64,
    /// What is left of the strength between the two (c).
    pub residual: f64,
    /// Accepted for immediate use, life safety and near collapse.
    pub accepted: [f64; 3],
    /// Remarks.
    pub notes: Notes,
}

impl PlasticRotations {
    /// Rotation accepted for a level.
    pub fn accepted_for(&self, level: Level) -> f64 {
        self.accepted[level as usize]
    }
}

/// How a beam's hinge is limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeamControl {
    /// Bending.
    Flexure,
    /// Shear.
    Shear,
    /// Laps or cut-off bars along the span.
    Splice,
    /// Bars too short in the joint.
    Embedment,
}

/// Plastic rotations of a beam end are asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamHinge {
    /// What limits it.
    pub control: BeamControl,
    /// (Tension − compression steel ratio) over the balanced ratio.
    pub steel_ratio: f64,
    /// Stirrups closed, at d/3 or closer, and carrying at least 3/4 of the shear.
    pub confined: bool,
    /// Shear over b_w·d·√f'c, MPa^½.
    pub shear_stress: f64,
    /// Stirrup spacing over effective depth.
    pub spacing_ratio: f64,
    /// Compression over tension steel.
    pub compression_to_tension: f64,
    /// Moment over shear over the beam's depth.
    pub span_ratio: f64,
    /// Expected concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Expected yield strength of bars, MPa.
    pub yield_mpa: f64,
}

/// Shear strength of a beam is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamShear {
    /// Web width, mm.
    pub width_mm: f64,
    /// Effective depth, mm.
    pub effective_depth_mm: f64,
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Stirrups.
    pub stirrups: Hoops,
    /// Tension steel over b_w·d.
    pub tension_ratio: f64,
}

/// Shear strength of a beam, kN.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamShearStrength {
    /// In all.
    pub strength_kn: f64,
    /// Concrete's part.
    pub concrete_kn: f64,
    /// Stirrups' part.
    pub stirrups_kn: f64,
    /// Remarks.
    pub notes: Notes,
}

/// Where a beam–column joint is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointPosition {
    /// Beams on both sides in the direction.
    Interior {
        /// Beams across as well.
        transverse_beams: bool,
    },
    /// A beam on one side.
    Exterior {
        /// Beams across as well.
        transverse_beams: bool,
    },
    /// A beam on one side and no column above.
    Knee,
}

/// Shear strength of a joint is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointShear {
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Effective joint area, mm².
    pub area_mm2: f64,
    /// Where it is.
    pub position: JointPosition,
    /// Volumetric ratio of hoops inside the joint.
    pub hoop_ratio: f64,
    /// Their yield strength, MPa.
    pub hoop_yield_mpa: f64,
    /// Axial compression over gross area times expected strength.
    pub axial_ratio: f64,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// Shear strength of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointStrength {
    /// kN.
    pub strength_kn: f64,
    /// Strength over √f'c·area, MPa^½.
    pub coefficient: f64,
    /// Its plastic rotations.
    pub rotations: PlasticRotations,
}

/// Stress a lapped bar can reach is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Splice {
    /// Lap provided, mm.
    pub provided_mm: f64,
    /// Development length the rule set requires, mm.
    pub required_mm: f64,
    /// Diameter of the bar, mm.
    pub bar_mm: f64,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
}

/// Shear strength of a wall is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallShear {
    /// Concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Yield strength of the horizontal bars, MPa.
    pub yield_mpa: f64,
    /// Thickness of the web, mm.
    pub thickness_mm: f64,
    /// Length, columns at its ends included, mm.
    pub length_mm: f64,
    /// Height of the whole wall, or of the pier, mm.
    pub height_mm: f64,
    /// Moment over shear at the section, mm.
    pub shear_span_mm: f64,
    /// Horizontal steel ratio.
    pub horizontal_ratio: f64,
    /// Vertical steel ratio.
    pub vertical_ratio: f64,
    /// Axial force, kN, compression positive.
    pub axial_kn: f64,
    /// What an opening leaves of the strength; 1 without one.
    pub opening_factor: f64,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// Shear strength of a wall, kN.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallShearStrength {
    /// The least of formula and upper bound, after the opening.
    pub strength_kn: f64,
    /// By formula.
    pub formula_kn: f64,
    /// Upper bound for all piers of a line together.
    pub cap_kn: f64,
    /// Upper bound for a single pier.
    pub pier_cap_kn: f64,
    /// Concrete's coefficient on √f'c, MPa^½.
    pub concrete_coefficient: f64,
    /// Steel ratio counted.
    pub ratio_counted: f64,
    /// Remarks.
    pub notes: Notes,
}

/// Deformation limits of a wall are asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallLimits {
    /// Shear reaches its strength before bending.
    pub shear_controls: bool,
    /// ((A_s − A_s')·f_y + P) over t·l·f'c.
    pub compression_term: f64,
    /// Shear over t·l·√f'c, MPa^½.
    pub shear_stress: f64,
    /// Ends confined by hoops.
    pub confined: bool,
    /// P over gross area times concrete strength.
    pub axial_ratio: f64,
    /// Moment over shear over the wall's length.
    pub shear_span_ratio: f64,
    /// Expected concrete strength, MPa.
    pub concrete_mpa: f64,
    /// Expected yield strength of the bars at its edges, MPa.
    pub yield_mpa: f64,
}

/// Deformation limits of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WallDeformation {
    /// Bending: plastic rotations at the base.
    Flexure(PlasticRotations),
    /// Shear: storey drift ratios in all, not beyond yield.
    Shear {
        /// Drift ratio where the full shear strength is reached (g).
        yielding: f64,
        /// Where it begins to be lost (d).
        capping: f64,
        /// Where the wall is lost (e).
        loss: f64,
        /// What is left between the two (c).
        residual: f64,
        /// Part of the strength at which it cracks (f).
        cracking: f64,
        /// Accepted for immediate use, life safety and near collapse.
        accepted: [f64; 3],
        /// Remarks.
        notes: Notes,
    },
}

/// Factors on a member enlarged by a jacket and computed as if cast in one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JacketFactors {
    /// On the moment strength.
    pub moment: f64,
    /// On the shear strength.
    pub shear: f64,
    /// On the yield rotation.
    pub yield_rotation: f64,
    /// Remarks.
    pub notes: Notes,
}

/// A masonry panel in a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MasonryPanel {
    /// Length between columns, mm.
    pub length_mm: f64,
    /// Height of the panel, mm.
    pub height_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Compressive strength, MPa.
    pub compressive_mpa: f64,
    /// Bed-joint shear strength, MPa.
    pub shear_mpa: f64,
    /// Height of the columns between beam centre lines, mm.
    pub column_height_mm: f64,
    /// Second moment of area of one column, mm⁴.
    pub column_inertia_mm4: f64,
    /// Modulus of the columns, MPa.
    pub column_modulus_mpa: f64,
}

/// A masonry panel as a strut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MasonryStrut {
    /// Relative stiffness λ₁, 1/mm.
    pub relative_stiffness_per_mm: f64,
    /// Width of the strut, mm.
    pub width_mm: f64,
    /// Along the strut, kN/mm.
    pub axial_kn_mm: f64,
    /// Against storey drift, kN/mm.
    pub horizontal_kn_mm: f64,
    /// Horizontal strength by sliding, kN.
    pub strength_kn: f64,
}
