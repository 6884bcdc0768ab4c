//! Connections between old and new, and the footings: what each must carry, what it can, and how
//! both figures come about.

mod column;
mod diaphragm;
mod floor;
mod footing;
mod free_body;
mod node;
mod panel;
mod propose;
mod slab;
mod symbol;

pub(crate) use column::{added_joint, hoop_anchorage};
pub(crate) use floor::{Handed, handed_to_frame, handed_to_walls};
pub use footing::{pressure_kpa, weight_to_add_kn};
pub use free_body::{Acting, FreeBody, least_pressure_kpa};
pub use propose::{NoSlab, Proposal, Required, TARGET, propose, used};
pub(crate) use slab::{SlabContext, link_slab, slabs};
pub use symbol::Symbol;

use crate::failure::Failure;
use crate::framing::Framing;
use crate::member::{MemberId, Strengths, in_order};
use crate::model::Model;
use crate::place::Place;
use crate::project::{Direction, Materials};
use crate::response::Response;
use crate::rules::{ConnectionState, InterfaceStrength, Provided, Provision, Ruled, Rules};
use crate::study::ForceBound;
use crate::units::Dimension;
use crate::verdict::DirectionCapacity;
use serde::Serialize;

/// What is connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ConnectionKind {
    /// Connecting slab of an external frame at a floor.
    ConnectingSlab,
    /// Bars round an infill wall in a storey.
    Perimeter,
    /// Joint of wing walls with their column.
    WingEdge,
    /// Face between a jacket and the old column.
    JacketFace,
    /// Edge beam that collects the force of the floor.
    Collector,
    /// Old floor where it hands its force to a line.
    FloorEdge,
    /// Beam–column joint over a strengthened column.
    Joint,
    /// Old floor bending in its plane between stiff lines.
    FloorSpan,
    /// Footing of a wall or an external frame.
    Footing,
}

impl ConnectionKind {
    /// Every kind.
    pub const ALL: [Self; 9] = [
        Self::ConnectingSlab,
        Self::Perimeter,
        Self::WingEdge,
        Self::JacketFace,
        Self::Collector,
        Self::FloorEdge,
        Self::Joint,
        Self::FloorSpan,
        Self::Footing,
    ];

    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::ConnectingSlab => "connecting slab",
            Self::Perimeter => "bars round the infill",
            Self::WingEdge => "edge of wing walls",
            Self::JacketFace => "face of jackets",
            Self::Collector => "collector beam",
            Self::FloorEdge => "edge of the old floor",
            Self::Joint => "beam–column joint",
            Self::FloorSpan => "floor between stiff lines",
            Self::Footing => "footing",
        }
    }

    /// The connection that gives in a failure, if one does.
    pub const fn that_gives(failure: Failure) -> Option<Self> {
        match failure {
            Failure::Perimeter => Some(Self::Perimeter),
            Failure::Slab => Some(Self::ConnectingSlab),
            Failure::WingEdge => Some(Self::WingEdge),
            Failure::JacketFace => Some(Self::JacketFace),
            Failure::FloorEdge => Some(Self::FloorEdge),
            Failure::Collector => Some(Self::Collector),
            Failure::Sliding => Some(Self::Footing),
            _ => None,
        }
    }
}

/// The part of a connection a strength belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Joint with the existing beam.
    OldJoint,
    /// The strip between the beams.
    Strip,
    /// Joint with the new beam.
    NewJoint,
    /// Bonded bars pulled out of the existing beam.
    PulledBars,
    /// Existing slab along its edge beam.
    OldSlab,
    /// Horizontal joint under the beam.
    TopJoint,
    /// Upright joints with the columns.
    SideJoint,
    /// Face of a jacket.
    JacketFace,
    /// Bars of the edge beam.
    BeamBars,
    /// Shear in a beam–column joint.
    Joint,
    /// Bars at the edges of a floor that bends in its plane.
    ChordBars,
    /// Overturning of the whole.
    Overturning,
    /// Pressure on the ground.
    Bearing,
    /// Sliding on the ground.
    Sliding,
}

impl Part {
    /// Every part.
    pub const ALL: [Self; 14] = [
        Self::OldJoint,
        Self::Strip,
        Self::NewJoint,
        Self::PulledBars,
        Self::OldSlab,
        Self::TopJoint,
        Self::SideJoint,
        Self::JacketFace,
        Self::BeamBars,
        Self::Joint,
        Self::ChordBars,
        Self::Overturning,
        Self::Bearing,
        Self::Sliding,
    ];

    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::OldJoint => "joint with the old beam",
            Self::Strip => "strip in shear",
            Self::NewJoint => "joint with the new beam",
            Self::PulledBars => "pull on the bonded bars",
            Self::OldSlab => "old slab along the line",
            Self::TopJoint => "joint under the beam",
            Self::SideJoint => "joints with the columns",
            Self::JacketFace => "face of the jacket",
            Self::BeamBars => "bars of the edge beam",
            Self::Joint => "shear in the joint",
            Self::ChordBars => "bars of the beams at its edges",
            Self::Overturning => "overturning",
            Self::Bearing => "bearing",
            Self::Sliding => "sliding",
        }
    }

    /// What its demand and strength are measured in.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Overturning => Dimension::KilonewtonMetres,
            Self::Bearing => Dimension::Kilopascals,
            _ => Dimension::Kilonewtons,
        }
    }
}

/// A figure with its symbol, in the unit of [`Symbol::dimension`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Quantity {
    /// Symbol.
    pub symbol: Symbol,
    /// Value.
    pub value: f64,
}

/// One strength considered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Check {
    /// Where.
    pub part: Part,
    /// What acts, in the unit of [`Part::dimension`].
    pub demand: f64,
    /// Nominal strength.
    pub strength: f64,
    /// Strength reduction φ.
    pub factor: f64,
    /// φ·strength, what the demand is set against.
    pub design: f64,
    /// `demand` over `design`; the largest number where nothing is left.
    pub utilisation: f64,
    /// The upper bound of the clause, not the bars or the concrete, sets the strength.
    pub capped: bool,
    /// How the design strength is written.
    pub formula: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// What goes into it.
    pub terms: Vec<Quantity>,
}

impl Check {
    /// A check with nothing of its working yet.
    pub(crate) fn new(part: Part, demand: f64, strength: f64, factor: f64, written: Provided) -> Self {
        let design = factor * strength;
        let utilisation = if demand == 0.0 {
            0.0
        } else if design > 0.0 {
            (demand / design).min(f64::MAX)
        } else {
            f64::MAX
        };
        Self {
            part,
            demand,
            strength,
            factor,
            design,
            utilisation,
            capped: false,
            formula: written.formula,
            source: written.clause,
            terms: Vec::new(),
        }
    }

    fn with(mut self, terms: &[(Symbol, f64)]) -> Self {
        self.terms.extend(quantities(terms));
        self
    }

    /// Tells the overstrength inside the demand, where there is any.
    fn overstrong(self, factor: f64) -> Self {
        if factor == 1.0 { self } else { self.with(&[(Symbol::Overstrength, factor)]) }
    }

    const fn capped(mut self, capped: bool) -> Self {
        self.capped = capped;
        self
    }

    /// The value of a term.
    pub fn term(&self, symbol: Symbol) -> Option<f64> {
        value(&self.terms, symbol)
    }
}

fn quantities(terms: &[(Symbol, f64)]) -> impl Iterator<Item = Quantity> {
    terms.iter().map(|&(symbol, value)| Quantity { symbol, value })
}

fn value(of: &[Quantity], symbol: Symbol) -> Option<f64> {
    of.iter().find(|own| own.symbol == symbol).map(|own| own.value)
}

/// Declares the remarks once.
macro_rules! remarks {
    ($( $variant:ident = $words:literal; )*) => {
        /// What is to be said of a connection besides its figures.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Remark { $( #[doc = $words] $variant, )* }

        impl Remark {
            /// Every remark.
            pub const ALL: &'static [Self] = &[ $( Self::$variant, )* ];

            /// In a sentence.
            pub const fn words(self) -> &'static str {
                match self { $( Self::$variant => $words, )* }
            }
        }
    };
}

remarks! {
    AnchorageShort = "The bonded bars are too short to yield, so the joint is brittle: smaller bars closer together, bars drilled through the beam, or a deeper seat would help.";
    AnchorageNone = "The bonded bars are too short to count at all.";
    CapBites = "An upper bound of the clause, set by the weaker concrete, governs: more bars would not help.";
    PeakTaken = "Nothing can yield along the joint, so its peak shear is taken instead of the mean.";
    ClampingLost = "Pull takes away all the clamping; the joint carries no shear.";
    BreakoutOutOfRange = "The old concrete is weaker than the breakout formula is made for: its figure is only an upper bound.";
    NewAnchorageShort = "The new beam is too narrow to develop the bars straight: hook them round its outer bars.";
    SlabDeeperThanBeam = "The slab reaches below the old beam; only the part beside the beam is in contact.";
    JointAsBuilt = "The joint is left as built: a jacket does not strengthen it, wings above and below it only lengthen it. The capacity curve lets it crack.";
    FloorNotRigid = "The floor sags by more than half the storey's drift: it is not rigid, and the shares of lines hold only roughly.";
    FloorFlexible = "The floor sags by more than twice the storey's drift: it hands over by area, not by stiffness, and the shares of lines do not hold.";
    FramesBetweenLeftOut = "Frames between the stiff lines are left out, as if they held nothing.";
    NoChord = "No beam carries on along both edges of the floor, so nothing is counted as its chord.";
    SettlementCracks = "Where the new footings settle by as much as assumed the strip cracks.";
    SettlementJoint = "New footings settle against old: cast the strip last, or detail it for the movement.";
    SiteTests = "Locate the old bars before drilling; the system, installer, inspection and pull tests on site need approval.";
    OldBarsUnknown = "Bars of the old slab along its edge are not given and not counted.";
    HalfTheBars = "One layer of the edge beam's bars is counted, the other left to gravity and sway.";
    NoEdgeBeam = "No beam carries on along the line, so nothing collects the force there.";
    BarsIntoColumnNotGiven = "The embedment of the wing's bars in the column is not given, so their strength is withheld and the capacity curve takes wing and column as one.";
    PressedByHoops = "The jacket's hoops press it to the old column, whose surface is taken as roughened on purpose.";
    HoopsAnchored = "The jacket's hoops do not close; bars bonded into the old column anchor them and press the jacket to it.";
    PlateBeside = "The jacket lies beside the force: checked is what half its depth hands to the column where bending is greatest.";
    LowerJointPressed = "The joint on the lower beam has the same bars and the wall's weight on it, so the upper one governs.";
    FootingNotGiven = "No footing is given: only the weight that stands there holds it down, and bearing is withheld.";
    OldFootingNotGiven = "The old footing under it is not given; check it for the new forces.";
    Lifts = "It lifts before the member above has its strength: the capacity curve counts on that rocking.";
    PadPulled = "The frame pulls its end pad up with more than the pad bears: overturning and the capacity curve take the frame as one piece and let no single pad lift. Tie it down, make it heavier or join the pads.";
    NoWeightWillDo = "The ground gives way before any added weight would hold it down: a larger footing or piles are needed.";
    SlidesAlone = "Friction alone does not hold it, and the capacity curve lets it slide: tie it to the old footings or bear it against the ground.";
    Tied = "Tied to the old footings: check the ties and the old footings for what friction leaves to them.";
    StandsOnOldFooting = "The new footing reaches the face of the old column and would meet its footing: join them or move the frame out.";
    OldFootingNear = "The size of the old footing is not given; the clearance is to the face of the old column.";
}

/// A bay of a line along which a floor hands over its force.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stretch {
    /// Bay, from 1.
    pub bay: u32,
    /// Length, m.
    pub length_m: f64,
    /// Whether there is floor towards lower and towards higher ordinates.
    pub floor_beside: [bool; 2],
    /// Whether it takes the force.
    pub takes: bool,
    /// What the floor brings along it, kN.
    pub brought_kn: f64,
    /// What a wall or an external frame takes out along it, kN.
    pub taken_kn: f64,
    /// Force along the line at its two ends, all brought before less all taken, kN.
    pub axial_kn: [f64; 2],
}

/// A connection with its demand, strengths and working.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ConnectionResult {
    /// What is connected.
    pub kind: ConnectionKind,
    /// Where in the building.
    pub place: Place,
    /// Direction of the force.
    pub along_x: bool,
    /// Grid line, or face of an external frame.
    pub line: String,
    /// Storey, or level of the floor on top of it, from 1.
    pub storey: u32,
    /// First and last bay along the line.
    pub bays: [u32; 2],
    /// What sets the force.
    pub bound: ForceBound,
    /// Sizes, bars and concretes.
    pub given: Vec<Quantity>,
    /// What acts, and how it comes about.
    pub acting: Vec<Quantity>,
    /// The line bay by bay, of collectors and edges of floors.
    pub stretches: Vec<Stretch>,
    /// Strengths considered; none where they are withheld, the remarks say why.
    pub checks: Vec<Check>,
    /// The check that governs.
    pub governing: Option<usize>,
    /// What is to be said besides.
    pub remarks: Vec<Remark>,
}

impl ConnectionResult {
    /// A connection of which nothing is known yet.
    fn blank(kind: ConnectionKind, place: Place, along_x: bool, line: &str, storey: u32) -> Self {
        Self {
            kind,
            place,
            along_x,
            line: line.to_owned(),
            storey,
            bays: [0; 2],
            bound: ForceBound::ElasticSpectrum,
            given: Vec::new(),
            acting: Vec::new(),
            stretches: Vec::new(),
            checks: Vec::new(),
            governing: None,
            remarks: Vec::new(),
        }
    }

    /// The check that governs.
    pub fn governing(&self) -> Option<&Check> {
        self.checks.get(self.governing?)
    }

    /// Largest utilisation; none where it is withheld.
    pub fn utilisation(&self) -> Option<f64> {
        self.governing().map(|check| check.utilisation)
    }

    /// A figure of it.
    pub fn figure(&self, symbol: Symbol) -> Option<f64> {
        value(&self.given, symbol).or_else(|| value(&self.acting, symbol))
    }

    /// The check of a part.
    pub fn check(&self, part: Part) -> Option<&Check> {
        self.checks.iter().find(|check| check.part == part)
    }

    fn give(&mut self, terms: &[(Symbol, f64)]) {
        self.given.extend(quantities(terms));
    }

    fn act(&mut self, terms: &[(Symbol, f64)]) {
        self.acting.extend(quantities(terms));
    }

    fn remark(&mut self, holds: bool, remark: Remark) {
        if holds && !self.remarks.contains(&remark) {
            self.remarks.push(remark);
        }
    }

    /// Names the check that governs.
    fn governed(mut self) -> Self {
        let mut worst: Option<(usize, f64)> = None;
        for (index, check) in self.checks.iter().enumerate() {
            if worst.is_none_or(|(_, most)| check.utilisation > most) {
                worst = Some((index, check.utilisation));
            }
        }
        self.governing = worst.map(|(index, _)| index);
        self
    }
}

/// Connections in the order they are listed: the most used first, those withheld last.
pub fn listed(connections: &[ConnectionResult]) -> Vec<&ConnectionResult> {
    let mut all: Vec<&ConnectionResult> = connections.iter().collect();
    crate::order::sort_by(&mut all, |one, other| {
        let of = |own: &ConnectionResult| own.utilisation().unwrap_or(-1.0);
        of(other).total_cmp(&of(one))
    });
    all
}

/// Words of statics that no document is needed for.
const fn statics(formula: &'static str) -> Provided {
    Provided { formula, clause: "equilibrium" }
}

fn written(rules: &dyn Rules, provision: Provision) -> Ruled<Provided> {
    rules.provision(provision)
}

/// A joint under shear alone as a check.
fn friction(
    rules: &dyn Rules,
    part: Part,
    force_kn: f64,
    strength: &InterfaceStrength,
    state: ConnectionState,
) -> Ruled<Check> {
    let factors = rules.connection_factors(state)?;
    let words = written(rules, Provision::Interface)?;
    Ok(Check::new(part, factors.demand * force_kn, strength.strength_kn, factors.interface, words)
        .capped(strength.friction_kn > strength.cap_kn)
        .with(&[
            (Symbol::Factor, factors.interface),
            (Symbol::Friction, strength.friction),
            (Symbol::Clamping, strength.clamping_kn),
            (Symbol::NetTension, 0.0),
            (Symbol::Cap, strength.cap_kn),
            (Symbol::BarStress, strength.bar_stress_mpa),
        ]))
}

/// What connections of one direction are evaluated from.
pub(crate) struct Context<'a> {
    model: &'a Model,
    framing: &'a Framing,
    materials: &'a Materials,
    rules: &'a dyn Rules,
    direction: Direction,
    strengths: &'a Strengths,
    response: &'a Response,
    accidental: &'a [Response],
    forces_kn: &'a [f64],
    capacity: Option<&'a DirectionCapacity>,
    /// Largest shear of each member by storey, accidental eccentricity included, kN.
    members: Vec<Vec<(MemberId, f64)>>,
}

impl<'a> Context<'a> {
    /// Of the same direction as its slabs.
    pub(crate) fn new(slabs: &SlabContext<'a>, strengths: &'a Strengths) -> Self {
        let SlabContext {
            model, framing, materials, rules, direction, response, accidental, forces_kn, capacity, ..
        } = *slabs;
        let mut members: Vec<Vec<(MemberId, f64)>> = Vec::new();
        for response in core::iter::once(response).chain(accidental) {
            for (s, storey) in in_order(model, framing, direction, response).into_iter().enumerate() {
                match members.get_mut(s) {
                    Some(known) => {
                        for (own, carried) in known.iter_mut().zip(storey) {
                            own.1 = own.1.max(carried.shear_kn.abs());
                        }
                    }
                    None => members.push(storey.iter().map(|own| (own.member, own.shear_kn.abs())).collect()),
                }
            }
        }
        Self {
            model,
            framing,
            materials,
            rules,
            direction,
            strengths,
            response,
            accidental,
            forces_kn,
            capacity,
            members,
        }
    }

    fn responses(&self) -> impl Iterator<Item = &Response> {
        core::iter::once(self.response).chain(self.accidental)
    }

    /// Elastic shear of a member in a storey from zero, accidental eccentricity included, kN.
    fn shear_kn(&self, member: MemberId, s: usize) -> f64 {
        let storey = self.members.get(s).map(Vec::as_slice).unwrap_or_default();
        storey.iter().find(|(own, _)| *own == member).map_or(0.0, |own| own.1)
    }

    /// Elastic overturning moment at the foot of members over all storeys, kNm.
    fn overturning_knm(&self, shear_kn: impl Fn(usize) -> f64) -> f64 {
        self.model.floors.iter().enumerate().map(|(s, floor)| floor.height_m * shear_kn(s)).sum()
    }

    fn blank(&self, kind: ConnectionKind, place: Place, line: &str, storey: u32, bays: [u32; 2]) -> ConnectionResult {
        ConnectionResult { bays, ..ConnectionResult::blank(kind, place, self.direction == Direction::X, line, storey) }
    }
}

/// Every connection of a direction but its connecting slabs, which are handed in.
pub(crate) fn connections(context: &Context<'_>, slabs: Vec<ConnectionResult>) -> Ruled<Vec<ConnectionResult>> {
    let mut all = panel::perimeters(context)?;
    all.extend(column::edges(context)?);
    all.extend(floor::lines(context, &slabs)?);
    all.extend(node::joints(context)?);
    all.extend(diaphragm::spans(context)?);
    all.extend(footing::footings(context)?);
    let mut found = slabs;
    found.extend(all);
    Ok(found)
}
