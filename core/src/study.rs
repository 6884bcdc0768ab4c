//! What an evaluation gives: plain numbers and findings, ready to show or export.
//!
//! Keys carry their unit. `None` means the value is withheld or does not apply; the
//! findings say why.

pub use crate::capacity::{BeamShear, Sway};
pub use crate::column::{Backbone, Corner};
pub use crate::failure::{Failure, Way};

use crate::capacity::axial_range_kn;
use crate::connection::ConnectionResult;
use crate::finding::Finding;
use crate::model::Floor;
use crate::phrase::Phrase;
use crate::place::{Class, Place};
use crate::verdict::DirectionCapacity;
use crate::works::cost::{Carbon, Cost};
use crate::works::programme::Figures;
use serde::Serialize;

/// The results of a whole project.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Study {
    /// Name of the project.
    pub project: String,
    /// Title of the rule set with its editions.
    pub rules: String,
    /// What the shaking is, in a sentence.
    pub ground_motion: String,
    /// Seismic weight of the building as it stands, kN.
    pub weight_kn: f64,
    /// Floor area of all floors, m².
    pub floor_area_m2: f64,
    /// Storeys of the building as it stands, from the ground up.
    pub storeys: Vec<StoreyFacts>,
    /// The building as it stands, then each scheme in order, then rebuilding.
    pub options: Vec<OptionResult>,
    /// The cautions that go with every figure.
    pub cautions: Vec<String>,
}

/// A storey of the building as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoreyFacts {
    /// Number, from 1.
    pub storey: u32,
    /// Floor to floor, m.
    pub height_m: f64,
    /// Level of the floor on top, m.
    pub level_m: f64,
    /// Floor area on top, m².
    pub area_m2: f64,
    /// Seismic weight of the floor on top, kN.
    pub weight_kn: f64,
}

impl StoreyFacts {
    /// Those of floors from the ground up.
    pub fn of(floors: &[Floor]) -> Vec<Self> {
        let facts = |(floor, storey): (&Floor, u32)| Self {
            storey,
            height_m: floor.height_m,
            level_m: floor.level_m,
            area_m2: floor.area_m2,
            weight_kn: floor.weight_kn,
        };
        floors.iter().zip(1..).map(facts).collect()
    }
}

/// Which column of the comparison a result belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OptionKind {
    /// The building as it stands.
    AsItStands,
    /// A scheme of the project.
    Scheme {
        /// Its place in the project's list.
        index: usize,
    },
    /// Demolish and rebuild.
    Rebuild,
}

/// The results of one option.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OptionResult {
    /// Which option.
    pub kind: OptionKind,
    /// Letter of a scheme; empty for the comparators.
    pub letter: String,
    /// Name.
    pub name: String,
    /// What is done, one line a measure.
    pub measures: Vec<Phrase>,
    /// Whether the capacity curves and what rests on them are still to come; what stands in their
    /// place is nothing, or of an earlier state. Never in a whole evaluation.
    #[serde(skip)]
    pub pending: bool,
    /// Lateral results along x and along y; empty for rebuilding or if withheld.
    pub directions: Vec<DirectionResult>,
    /// Base-shear strength per weight against the building as it stands.
    pub strength_gain: Option<Headline>,
    /// Strength ÷ elastic demand in the weaker direction.
    pub strength_to_demand: Option<Headline>,
    /// The ductility it would need: the inverse of the above, at least 1.
    pub ductility_needed: Option<f64>,
    /// Capacity ÷ demand: the largest factor on the ground motion for which the displacement demand
    /// stays within the first limit of the objective, in the direction where it is least.
    pub capacity_to_demand: Option<Headline>,
    /// The weakest storey and how it fails.
    pub weakest: Option<Weakest>,
    /// Added weight.
    pub added: Added,
    /// Work and disruption.
    pub works: Option<WorksResult>,
    /// What the programme of works comes to; `None` until it is drawn up, and where nothing is done.
    pub programme: Option<Programmed>,
    /// Whether the programme is still to be drawn up; what stands in its place is of before.
    pub programme_pending: bool,
    /// Connecting slabs, by face and level.
    pub slabs: Vec<SlabResult>,
    /// Connections and footings with their working.
    pub connections: Vec<ConnectionResult>,
    /// What to watch for, the gravest first.
    pub findings: Vec<Finding>,
}

impl OptionResult {
    /// Takes over the programme of an earlier state until its own comes.
    pub fn keep_programme(&mut self, earlier: &Self) {
        if self.programme_pending && self.programme.is_none() {
            self.programme.clone_from(&earlier.programme);
        }
    }

    /// Takes over capacity curves and what rests on them from an earlier state until its own come.
    pub fn keep_capacity(&mut self, earlier: &Self) {
        if !self.pending || self.directions.len() != earlier.directions.len() {
            return;
        }
        for (own, old) in self.directions.iter_mut().zip(&earlier.directions) {
            own.capacity.clone_from(&old.capacity);
        }
        self.capacity_to_demand = earlier.capacity_to_demand;
        self.strength_gain = earlier.strength_gain;
    }
}

/// A ratio with the direction and storey that set it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Headline {
    /// The ratio.
    pub ratio: f64,
    /// Whether the direction is x.
    pub along_x: bool,
    /// The storey.
    pub storey: u32,
}

/// The weakest storey of an option.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Weakest {
    /// Whether the direction is x.
    pub along_x: bool,
    /// The storey.
    pub storey: u32,
    /// How the members that carry most of it fail.
    pub failure: Failure,
    /// The first member lost there.
    pub first: Option<FirstLost>,
}

/// The member of a storey that is lost at the least drift.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FirstLost {
    /// Where.
    pub place: Place,
    /// How it fails by itself, which need not be as most of the storey does.
    pub failure: Failure,
}

/// Results in one direction.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DirectionResult {
    /// Whether the direction is x.
    pub along_x: bool,
    /// Period of the governing mode, s.
    pub period_s: f64,
    /// Its effective mass as a share of the whole.
    pub effective_mass: f64,
    /// Spectral acceleration at that period, g.
    pub acceleration_g: f64,
    /// Seismic weight of the option, kN.
    pub weight_kn: f64,
    /// Elastic base shear, kN.
    pub base_shear_kn: f64,
    /// Base-shear strength: the base shear at which the first storey reaches its strength, kN.
    pub strength_kn: f64,
    /// The storey that sets it.
    pub strength_storey: u32,
    /// Distance from centre of stiffness to centre of mass across the direction, m, positive
    /// where the mass lies at the larger ordinate; the largest of all floors.
    pub eccentricity_m: f64,
    /// The same as a share of the plan's width across the direction.
    pub eccentricity_share: f64,
    /// Capacity against demand by pushing the building over; withheld where nothing can be pushed.
    pub capacity: Option<DirectionCapacity>,
    /// Base shear over roof displacement: of the frames, and of storey springs as of a hand
    /// calculation, kN/m.
    pub roof_stiffness_kn_m: [f64; 2],
    /// Storeys from the ground up.
    pub storeys: Vec<StoreyResult>,
    /// Frame lines and external frames.
    pub lines: Vec<LineResult>,
    /// Beams as built with both ends at their bending strengths, those over and under walls apart.
    pub beams: Vec<BeamShear>,
}

/// A storey in one direction, under the elastic demand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoreyResult {
    /// Number, from 1.
    pub storey: u32,
    /// Lateral force on the floor on top, of the building and the added frames, kN.
    pub floor_force_kn: f64,
    /// Storey shear, kN.
    pub shear_kn: f64,
    /// Storey shear by class: as built, strengthened, new, kN.
    pub class_shear_kn: [f64; 3],
    /// Storey drift at the centre of mass, mm.
    pub drift_mm: f64,
    /// The same over the storey height.
    pub drift_ratio: f64,
    /// Storey shear ÷ drift, kN/m; may be negative where a wall pushes back.
    pub stiffness_kn_m: f64,
    /// Storey strength at compatible drift, kN.
    pub strength_kn: f64,
    /// Drift at which it is reached, mm.
    pub strength_drift_mm: f64,
    /// Strength ÷ elastic demand.
    pub ratio: f64,
    /// How the members that carry most of it fail.
    pub failure: Failure,
    /// Members lost before the storey's strength is reached.
    pub lost: Vec<Place>,
    /// Stability coefficient P·Δ/(V·h) under the elastic demand.
    pub p_delta: f64,
    /// Distance across the direction from the centre of stiffness of the floor on top to its centre
    /// of mass, m, positive where the mass lies at the larger ordinate; withheld where the centre of
    /// stiffness is not defined.
    pub eccentricity_m: Option<f64>,
    /// Columns against beams at the joints of the floor on top; none where no beams frame in.
    pub sway: Option<Sway>,
    /// Movement of the floor on top.
    pub floor: FloorMove,
    /// Members with their share and strength.
    pub members: Vec<MemberResult>,
}

/// Movement of a floor under the elastic demand in one direction.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct FloorMove {
    /// Seismic weight that moves with it, connected frames left out, kN.
    pub weight_kn: f64,
    /// Centre of mass, x and y, m.
    pub centre_m: [f64; 2],
    /// Displacement of the centre along x and along y, mm.
    pub moved_mm: [f64; 2],
    /// Rotation, anticlockwise seen from above, mrad.
    pub turned_mrad: f64,
}

impl StoreyResult {
    /// Shear of a class ÷ storey shear; may be negative.
    pub fn share(&self, class: Class) -> f64 {
        let index = Class::ALL.iter().position(|own| *own == class).unwrap_or(0);
        if self.shear_kn == 0.0 { 0.0 } else { self.class_shear_kn[index] / self.shear_kn }
    }
}

/// A vertical member in a storey and direction.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MemberResult {
    /// Where.
    pub place: Place,
    /// Its class.
    pub class: Class,
    /// The line it is on.
    pub line: String,
    /// Gravity axial load, kN.
    pub axial_kn: f64,
    /// Clear height, m.
    pub clear_height_m: f64,
    /// Shear under the elastic demand, kN.
    pub shear_kn: f64,
    /// Shear strength of the member as it governs, kN.
    pub strength_kn: f64,
    /// Shear at its bending mechanism, kN.
    pub flexural_kn: f64,
    /// Shear capacity, kN.
    pub shear_capacity_kn: f64,
    /// How it fails.
    pub failure: Failure,
    /// Storey drift at which it reaches its strength, mm.
    pub yield_drift_mm: f64,
    /// Storey drift at which it is lost, mm.
    pub limit_drift_mm: f64,
    /// Of a column, its whole line of shear over storey drift, in the weaker sense.
    pub backbone: Option<Backbone>,
    /// Of a column, its shear strength as it is checked where shear is force-controlled, kN.
    pub checked_shear_kn: Option<f64>,
    /// What it would fail at in each way that is computed, in its weaker sense.
    pub ways: Vec<Way>,
    /// Of a column, moments of the columns over those of the beams at the joint on top, in the worse sense; none without
    /// beams. Of an external frame, at its joint on top that has most beams.
    pub joint_ratio: Option<f64>,
    /// Of a column, what the beams above bring it in axial force as its frame sways towards higher and towards lower
    /// ordinates, at most, kN, compression positive.
    pub overturning_kn: Option<[f64; 2]>,
}

impl MemberResult {
    /// Least and most axial force of a column with gravity and what the beams bring, kN, compression positive.
    pub fn axial_range_kn(&self) -> Option<[f64; 2]> {
        Some(axial_range_kn(self.axial_kn, self.overturning_kn?))
    }
}

/// A frame line under the elastic demand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineResult {
    /// Its name: a grid line, or the face an external frame stands in front of.
    pub name: String,
    /// Whether it is an external frame.
    pub external: bool,
    /// Its ordinate across the direction, m.
    pub ordinate_m: f64,
    /// Storey shears from the ground up, kN.
    pub shear_kn: Vec<f64>,
    /// Storey shears with the accidental eccentricity that raises them most, kN.
    pub shear_with_accidental_kn: Vec<f64>,
    /// Storey drifts at the line, mm.
    pub drift_mm: Vec<f64>,
}

/// What sets the force a connection is checked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ForceBound {
    /// The elastic spectrum, nothing divided.
    ElasticSpectrum,
    /// The most the added frame can take before its own mechanism.
    FrameMechanism,
    /// The most the added frame can take before its footings lift.
    FootingUplift,
    /// The performance point, raised for dynamic effects.
    PerformancePoint,
    /// The share of the least force on the floor.
    LeastFloorForce,
    /// The most the member itself can take.
    OwnStrength,
}

impl ForceBound {
    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::ElasticSpectrum => "elastic spectrum",
            Self::FrameMechanism => "bending mechanism of the added frame",
            Self::FootingUplift => "uplift of the added frame's footings",
            Self::PerformancePoint => "performance point",
            Self::LeastFloorForce => "least force on the floor",
            Self::OwnStrength => "strength of the member itself",
        }
    }
}

/// The connecting slab of a face at a level.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SlabResult {
    /// The face.
    pub face: String,
    /// Whether the face runs along x.
    pub along_x: bool,
    /// The level, from 1.
    pub level: u32,
    /// In-plane stiffness, kN/m.
    pub stiffness_kn_m: f64,
    /// Force under the elastic pattern, signed, kN.
    pub elastic_force_kn: f64,
    /// Shear of the added frame in the storey above the level, kN.
    pub shear_above_kn: f64,
    /// Shear of the added frame in the storey below the level, kN.
    pub shear_below_kn: f64,
    /// Lateral force on the added frame's own mass at the level, kN.
    pub own_inertia_kn: f64,
    /// The force it is checked for, kN.
    pub demand_kn: f64,
    /// What sets that force.
    pub bound: ForceBound,
    /// Design strength in shear friction at the weaker interface, kN.
    pub friction_kn: f64,
    /// Whether the upper bound on the interface bites.
    pub friction_capped: bool,
    /// Largest over mean shear along the interface: 1 where its bars yield and even it out.
    pub peak: f64,
    /// Stress the bars across the joint develop, MPa.
    pub bar_stress_mpa: f64,
    /// Whether their embedment limits that stress.
    pub anchorage_limited: bool,
    /// Design strength of the strip in shear, kN.
    pub strip_kn: f64,
    /// Whether its upper bound bites.
    pub strip_capped: bool,
    /// The lesser of shear friction over its peak and the strip, kN.
    pub strength_kn: f64,
    /// Whether shear friction is the lesser.
    pub friction_governs: bool,
    /// Strength reduction factors: shear friction, strip.
    pub phi: [f64; 2],
    /// In-plane moment at the existing beam, kNm.
    pub moment_kn_m: f64,
    /// Chord tension from it, kN.
    pub chord_kn: f64,
    /// Direct tension, kN.
    pub tension_kn: f64,
    /// Demand ÷ strength.
    pub utilisation: f64,
}

/// Low, middle and high value of an estimate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Band {
    /// With fast work.
    pub low: f64,
    /// With usual work.
    pub mid: f64,
    /// With slow work.
    pub high: f64,
}

/// What a scheme adds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Added {
    /// Weight, kN.
    pub weight_kn: f64,
    /// Weight as a share of the seismic weight as it stands.
    pub weight_share: f64,
    /// New concrete with footings, m³.
    pub concrete_m3: f64,
    /// New reinforcement, t.
    pub steel_t: f64,
}

/// What a programme of works comes to at each pace.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Programmed {
    /// At fast, usual and slow pace.
    pub paces: [Figures; 3],
    /// Groups of rooms that fit no break, by pace.
    pub spilled: [u32; 3],
}

impl Programmed {
    /// At the usual pace.
    pub const fn usual(&self) -> &Figures {
        &self.paces[1]
    }

    /// At slow pace.
    pub const fn slow(&self) -> &Figures {
        &self.paces[2]
    }
}

/// Work and disruption of an option.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct WorksResult {
    /// Labour, man-days.
    pub man_days: Band,
    /// For how long the whole site is closed, where it is; what a scheme shuts is for its programme.
    pub closed: Option<SiteClosed>,
    /// Activities with their quantities.
    pub activities: Vec<ActivityResult>,
    /// Cost index.
    pub cost: Cost,
    /// Carbon.
    pub carbon: Carbon,
}

/// A site that is closed from emptying the building to moving into the new one, in the words of a
/// programme.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SiteClosed {
    /// Rooms of the building, all out of use.
    pub rooms: u32,
    /// Calendar weeks.
    pub weeks: Band,
    /// Rooms × days they are out of use on which the building would be in use.
    pub room_days_in_use: Band,
}

/// An activity of the works.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ActivityResult {
    /// Its code in the table of rates.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Quantity in its unit.
    pub quantity: f64,
    /// As much of it as is done in rooms, where the hours of work and what they ask for slow it.
    pub inside: f64,
    /// The unit.
    pub unit: String,
    /// Labour, man-days.
    pub man_days: Band,
    /// Where the rate comes from.
    pub mark: String,
}
