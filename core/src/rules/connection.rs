//! What a rule set is asked about joints between old and new concrete, and what it answers.

use super::note::Notes;
use crate::material::Bar;
use crate::project;

/// Surface of the concrete that was there first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// Cast in one.
    Monolithic,
    /// Hardened, clean, roughened to about 6 mm.
    Roughened,
    /// Hardened and clean, not roughened.
    Plain,
}

impl From<project::Surface> for Surface {
    fn from(surface: project::Surface) -> Self {
        match surface {
            project::Surface::Roughened => Self::Roughened,
            project::Surface::Plain => Self::Plain,
        }
    }
}

/// Shear strength of an interface is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InterfaceShear {
    /// Contact area, mm².
    pub area_mm2: f64,
    /// Bars crossing at a right angle, mm².
    pub steel_mm2: f64,
    /// Stress those bars can develop on both sides, MPa.
    pub bar_stress_mpa: f64,
    /// Surface.
    pub surface: Surface,
    /// The weaker of the two concretes: specified strength (American) or characteristic (European), MPa.
    pub concrete_mpa: f64,
    /// Net force across the interface, kN: compression that is always there positive, tension negative.
    pub normal_kn: f64,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// Which upper bound of an interface is the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InterfaceCap {
    /// A part of the concrete strength.
    PartOfStrength,
    /// A constant plus a part of the concrete strength.
    StepOfStrength,
    /// A constant stress.
    Constant,
}

/// Shear strength of an interface, before any strength reduction factor (American) or with
/// material factors inside (European).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InterfaceStrength {
    /// Friction coefficient.
    pub friction: f64,
    /// Bar stress counted, MPa.
    pub bar_stress_mpa: f64,
    /// Clamping by the bars alone, kN.
    pub clamping_kn: f64,
    /// By friction, after the normal force, kN.
    pub friction_kn: f64,
    /// Upper bound, kN.
    pub cap_kn: f64,
    /// Which bound.
    pub cap: InterfaceCap,
    /// The lesser, kN.
    pub strength_kn: f64,
    /// Remarks.
    pub notes: Notes,
}

/// In-plane shear strength of a slab strip is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiaphragmShear {
    /// Concrete strength of the strip, MPa.
    pub concrete_mpa: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Length in the direction of the force, mm.
    pub length_mm: f64,
    /// Steel ratio parallel to the force.
    pub parallel_ratio: f64,
    /// Steel ratio across it.
    pub across_ratio: f64,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// In-plane shear strength of a slab strip, kN.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiaphragmStrength {
    /// Concrete's part.
    pub concrete_kn: f64,
    /// Steel's part.
    pub steel_kn: f64,
    /// Steel ratio counted.
    pub ratio_counted: f64,
    /// Upper bound.
    pub cap_kn: f64,
    /// The lesser of sum and bound.
    pub strength_kn: f64,
    /// Remarks.
    pub notes: Notes,
}

/// The stress a straight bar can reach is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarAnchorage {
    /// The bar.
    pub bar: Bar,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// Concrete it is anchored in: specified (American) or characteristic (European), MPa.
    pub concrete_mpa: f64,
    /// Length available, mm.
    pub embedment_mm: f64,
    /// (Cover or half spacing + hoops' help) over bar diameter; held at its limit by the rule set.
    pub confinement: f64,
    /// Factor for position and coating, 1 for bottom and uncoated bars.
    pub position_factor: f64,
    /// Where a cone may break out; none for a bar lapped with others that carry the force on.
    pub breakout: Option<Breakout>,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// The surroundings of a row of bars bonded into a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breakout {
    /// Spacing along the row, mm.
    pub spacing_mm: f64,
    /// From the row to the nearer edge of the face, mm.
    pub edge_mm: f64,
    /// From the row to the other edge, mm.
    pub far_edge_mm: f64,
}

/// What limits the stress of an anchored bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnchorageLimit {
    /// It yields.
    Yield,
    /// Its length.
    Length,
    /// A cone of concrete.
    Breakout,
    /// It is too short to count.
    TooShort,
}

/// Stress a straight bar can reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnchorageStrength {
    /// Length that would develop the yield strength (American) or its design value (European), mm.
    pub required_mm: f64,
    /// Stress it can reach, MPa.
    pub stress_mpa: f64,
    /// Breakout strength of one bar in the row, kN, where checked.
    pub breakout_kn: Option<f64>,
    /// What limits it.
    pub limit: AnchorageLimit,
    /// Remarks.
    pub notes: Notes,
}

/// What the factors on a connection depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ConnectionState {
    /// The force cannot exceed what a bending mechanism of the added frame or wall delivers.
    pub capped_by_mechanism: bool,
    /// The bars crossing the interface yield before anything brittle.
    pub bars_yield: bool,
}

/// Factors on a connection.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConnectionFactors {
    /// On interface shear.
    pub interface: f64,
    /// On diaphragm shear.
    pub diaphragm: f64,
    /// On chord steel.
    pub chord: f64,
    /// On the force.
    pub demand: f64,
    /// On the pull of bonded bars where concrete breaks out.
    pub breakout: f64,
}

/// What a working cites a document for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Provision {
    /// Shear of an interface between old and new concrete, by its bars.
    Interface,
    /// In-plane shear of a slab.
    Diaphragm,
    /// Stress a bonded bar reaches.
    Anchorage,
    /// Concrete breaking out round bonded bars that are pulled.
    Breakout,
    /// Steel in tension: chords, collectors.
    Tension,
    /// Rocking of a footing.
    Rocking,
    /// Shear in a beam–column joint.
    Joint,
}

impl Provision {
    /// Every one.
    pub const ALL: [Self; 7] =
        [Self::Interface, Self::Diaphragm, Self::Anchorage, Self::Breakout, Self::Tension, Self::Rocking, Self::Joint];
}

/// How a document writes a design strength, and where. The formula is in the symbols of
/// [`crate::connection::Symbol`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Provided {
    /// Design strength.
    pub formula: &'static str,
    /// Document and clause with how sure that is.
    pub clause: &'static str,
}
