//! Rule sets: what the codes say, behind one interface.
//!
//! Formulas that are the same everywhere (equilibrium, plane sections) live in the modules of the
//! members; whatever a document prescribes is asked of a [`Rules`]. A set that cannot answer says
//! so with [`NotAvailable`], never with a number. Only a [`Rules::complete`] set may be chosen by
//! a project. Strengths are nominal, at the material strengths handed in; factors come apart.

mod american;
mod connection;
mod european;
mod member;
mod note;
pub(crate) mod source;

pub use connection::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, Breakout, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, InterfaceCap, InterfaceShear, InterfaceStrength, Provided, Provision, Surface,
};
pub use member::{
    BeamControl, BeamHinge, BeamShear, BeamShearStrength, ColumnAxial, ColumnHinge, ColumnShear, ColumnShearStrength,
    Component, EffectiveStiffness, EndDetail, ExpectedFactors, ForceControlled, FrameProportions, Hoops, JacketFactors,
    JointPosition, JointShear, JointStrength, Level, MasonryPanel, MasonryStrut, PlasticRotations, Splice,
    WallDeformation, WallLimits, WallShear, WallShearStrength,
};
pub use note::{Note, Notes};
pub use source::{ClauseConstant, Mark};

use crate::hazard::{
    DriftLimit, GroundMotion, GroundType, LateralDesign, LateralForces, MassShare, PDelta, PDeltaEffect, SpectrumShape,
};
use crate::material::ConcreteLaw;
use crate::performance::{Demand, Pushed, Scale};
use crate::project::Knowledge;

/// A question a rule set cannot answer yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAvailable {
    /// Key of the rule set.
    pub rules: &'static str,
    /// What was asked.
    pub question: &'static str,
}

impl core::fmt::Display for NotAvailable {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} is not available in the {} rule set", self.question, self.rules)
    }
}

impl std::error::Error for NotAvailable {}

/// An answer, or that there is none.
pub type Ruled<T> = Result<T, NotAvailable>;

/// Declares the questions with an answer of "not available" as the default of each, and
/// a function that asks every one of them, so that a test can hold a set to its word.
macro_rules! questions {
    ($( $(#[doc = $doc:literal])* $name:ident($($arg:ident: $kind:ty),*) -> $answer:ty = $words:literal; )*) => {
        /// One set of documents.
        pub trait Rules: Sync + core::fmt::Debug {
            /// Stable key.
            fn key(&self) -> &'static str;

            /// Name on the page.
            fn title(&self) -> &'static str;

            /// The documents with their editions.
            fn documents(&self) -> &'static [&'static str];

            /// Whether every question has an answer, so that a project may choose this set.
            fn complete(&self) -> bool;

            $(
                $(#[doc = $doc])*
                fn $name(&self, $($arg: $kind),*) -> Ruled<$answer> {
                    $( let _ = $arg; )*
                    Err(NotAvailable { rules: self.key(), question: $words })
                }
            )*
        }

        /// Every question a rule set may be asked, in words.
        pub const QUESTIONS: &[&str] = &[ $( $words, )* ];
    };
}

questions! {
    /// Expected over lower-bound strengths, for capacity curves and mechanisms.
    expected_factors() -> ExpectedFactors = "expected strength of materials";

    /// Factor on the deformations accepted for existing members, by how well they are known.
    knowledge_factor(knowledge: Knowledge) -> f64 = "knowledge factor";

    /// Strengths force-controlled actions are checked with, by how well members are known.
    force_controlled(knowledge: Knowledge) -> ForceControlled = "strengths of force-controlled actions";

    /// Most axial compression a column may carry under gravity, kN.
    column_axial_kn(column: &ColumnAxial) -> f64 = "axial limit of columns";

    /// Proportions of a new ductile frame of a concrete and a steel given by their strengths, MPa.
    frame_proportions(concrete_mpa: f64, steel_mpa: f64) -> FrameProportions = "proportions of new frames";

    /// Modulus of elasticity of concrete, MPa, from its expected (mean) strength in MPa.
    concrete_modulus_mpa(expected_mpa: f64) -> f64 = "modulus of concrete";

    /// Stress law of concrete for section strength, at the strength handed in, MPa.
    concrete_law(strength_mpa: f64) -> ConcreteLaw = "stress law of concrete";

    /// Cracked stiffness of a member.
    effective_stiffness(component: Component) -> EffectiveStiffness = "cracked stiffness";

    /// Shear strength of a column.
    column_shear(column: &ColumnShear) -> ColumnShearStrength = "column shear strength";

    /// Plastic rotations of column ends.
    column_rotations(hinge: &ColumnHinge) -> PlasticRotations = "column rotations";

    /// Shear strength of a beam.
    beam_shear(beam: &BeamShear) -> BeamShearStrength = "beam shear strength";

    /// Plastic rotations of beam ends.
    beam_rotations(hinge: &BeamHinge) -> PlasticRotations = "beam rotations";

    /// Shear strength and rotations of a beam–column joint.
    joint_shear(joint: &JointShear) -> JointStrength = "joint shear strength";

    /// Stress a lapped bar can reach, MPa.
    splice_stress_mpa(splice: &Splice) -> f64 = "stress of lapped bars";

    /// Shear strength of a wall.
    wall_shear(wall: &WallShear) -> WallShearStrength = "wall shear strength";

    /// Deformation limits of a wall.
    wall_limits(wall: &WallLimits) -> WallDeformation = "wall deformation limits";

    /// Factors on a jacketed member computed as if cast in one.
    jacket_factors(surface: Surface) -> JacketFactors = "jacket factors";

    /// Masonry panel as a strut.
    masonry_strut(panel: &MasonryPanel) -> MasonryStrut = "masonry panels";

    /// Shear strength of an interface between old and new concrete.
    interface_shear(interface: &InterfaceShear) -> InterfaceStrength = "interface shear strength";

    /// In-plane shear strength of a slab strip.
    diaphragm_shear(strip: &DiaphragmShear) -> DiaphragmStrength = "diaphragm shear strength";

    /// Stress a straight bar can reach.
    bar_anchorage(anchorage: &BarAnchorage) -> AnchorageStrength = "anchorage of bars";

    /// Least force on a floor or a part of the structure over its weight, from the plateau of the
    /// spectrum, g.
    least_part_force_g(plateau_g: f64) -> f64 = "least force on a floor";

    /// How a design strength is written, and where.
    provision(provision: Provision) -> Provided = "words for the working of connections";

    /// Factors on a connection.
    connection_factors(state: ConnectionState) -> ConnectionFactors = "factors on connections";

    /// Spectral acceleration, g.
    spectral_acceleration_g(motion: &GroundMotion, period_s: f64) -> f64 = "elastic spectrum";

    /// Displacement demand on a pushed building.
    displacement_demand(pushed: &Pushed, motion: &GroundMotion) -> Demand = "displacement demand";

    /// Largest factor on the ground motion that keeps the roof within a displacement, m.
    capacity_scale(pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Scale = "capacity over demand";

    /// Whether a uniform pattern of forces is to be pushed beside that of the first mode.
    uniform_pattern() -> bool = "force patterns of a pushover";

    /// How a base shear spreads over the floors; the shares sum to one.
    force_shares(weights_kn: &[f64], heights_m: &[f64], period_s: f64) -> Vec<f64> = "lateral force pattern";

    /// Part of the whole mass counted in the base shear.
    mass_share(share: &MassShare) -> f64 = "effective mass";

    /// Static lateral design with a force reduction, for new parts only.
    lateral_forces(design: &LateralDesign) -> LateralForces = "static lateral design";

    /// Accidental eccentricity over the plan's size across the force.
    accidental_eccentricity() -> f64 = "accidental eccentricity";

    /// Factor on accidental eccentricity from the largest and the mean drift of the two ends.
    torsion_amplification(largest_m: f64, mean_m: f64) -> f64 = "torsional amplification";

    /// The effect of vertical load on drift.
    p_delta(storey: &PDelta) -> PDeltaEffect = "second-order effect";

    /// Limit on the design storey drift over height, for new parts.
    drift_limit(building: &DriftLimit) -> f64 = "drift limit";
}

const SETS: [&dyn Rules; 2] = [&american::American, &european::European];

/// Every rule set.
pub fn all() -> &'static [&'static dyn Rules] {
    &SETS
}

/// The set with a key, complete or not.
pub fn by_key(key: &str) -> Option<&'static dyn Rules> {
    SETS.iter().copied().find(|set| set.key() == key)
}

/// The set taken where a key names none.
pub fn first() -> &'static dyn Rules {
    SETS[0]
}

/// The set a project starts with.
pub fn american() -> &'static dyn Rules {
    SETS[0]
}

/// The second set.
pub fn european() -> &'static dyn Rules {
    SETS[1]
}

/// Plateau, ordinate at one second (g) and start of the last branch (s) of the spectrum of a ground type, for sets that
/// have no ground types of their own.
fn spectrum_by_ground(rock_g: f64, ground: GroundType, shape: SpectrumShape) -> [f64; 3] {
    european::two_ordinates(rock_g, ground, shape)
}

/// The constants a set relies on. Not asked of the set itself: the page, which knows sets by
/// their interface, would have to carry the lists.
pub fn constants(key: &str) -> Vec<ClauseConstant> {
    match by_key(key) {
        Some(set) if set.key() == SETS[0].key() => american::constants(),
        Some(_) => european::constants(),
        None => Vec::new(),
    }
}

/// Every constant that still has to be confirmed against its document: those all sets share, then
/// those of each set.
pub fn memory_constants() -> Vec<ClauseConstant> {
    let open = |c: &ClauseConstant| matches!(c.mark, Mark::Memory | Mark::SeenListed);
    let shared = [
        crate::material::CONSTANTS,
        crate::footing::CONSTANTS,
        crate::link_slab::CONSTANTS,
        crate::axial_loss::CONSTANTS,
        crate::screening::CONSTANTS,
        crate::second_opinion::CONSTANTS,
        crate::measure::minimums::CONSTANTS,
    ]
    .concat();
    let of_eras = crate::eras::constants();
    shared.into_iter().chain(of_eras).chain(SETS.iter().flat_map(|set| constants(set.key()))).filter(open).collect()
}
