//! The connecting slab of an external frame: in-plane stiffness, and what it carries at a floor.
//!
//! Three places are compared: the joint with the existing beam, the strip itself, and the joint
//! with the new beam. The existing side has post-installed bars that may be too short.

use crate::material::Bar;
use crate::math::whole_spaces;
use crate::rules::source::clause_constants;
use crate::rules::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, Breakout, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, InterfaceShear, InterfaceStrength, Note, Notes, Ruled, Rules, Surface,
};

/// In-plane stiffness of a strip held against rotation at both edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripStiffness {
    /// Contact length, m.
    pub length_m: f64,
    /// Clear width between the beams, m.
    pub gap_m: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Modulus of the concrete, MPa.
    pub modulus_mpa: f64,
    /// Form factor of shear (1.2).
    pub shear_form: f64,
    /// Shear over elastic modulus (0.4).
    pub shear_modulus: f64,
    /// Part of the second moment of area that counts (0.35, cracked).
    pub inertia: f64,
    /// Stiffness of slip at the interface, kN/m; none for a joint taken as rigid. No source: a
    /// slip of half to one millimetre at yield of the bars is a judgement.
    pub slip_kn_m: Option<f64>,
}

impl StripStiffness {
    /// With the usual factors and no slip.
    pub fn usual(length_m: f64, gap_m: f64, thickness_m: f64, modulus_mpa: f64) -> Self {
        Self {
            length_m,
            gap_m,
            thickness_m,
            modulus_mpa,
            shear_form: STIFFNESS[0],
            shear_modulus: STIFFNESS[1],
            inertia: STIFFNESS[2],
            slip_kn_m: None,
        }
    }

    /// k = 1/[1.2·g/(0.4·E·L·t) + g³/(12·E·k_I·t·L³/12) + 1/k_slip], kN/m (DERIVED: a beam of depth
    /// L and span g, held against rotation at both ends, in series with the slip).
    pub fn stiffness_kn_m(&self) -> f64 {
        let (modulus, area) = (self.modulus_mpa * 1e3, self.length_m * self.thickness_m);
        let shear = self.shear_form * self.gap_m / (self.shear_modulus * modulus * area);
        let inertia = self.inertia * area * self.length_m * self.length_m / 12.0;
        let bending = self.gap_m * self.gap_m * self.gap_m / (12.0 * modulus * inertia);
        1.0 / (shear + bending + self.slip_kn_m.map_or(0.0, |slip| 1.0 / slip))
    }
}

/// Bars at a spacing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarRow {
    /// One bar.
    pub bar: Bar,
    /// Spacing, mm.
    pub spacing_mm: f64,
    /// Layers.
    pub layers: u32,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
}

impl BarRow {
    /// Whole bars in a length, all layers.
    pub fn count(&self, length_mm: f64) -> f64 {
        // A hair of slack so that a spacing that divides the length exactly is not lost to rounding.
        whole_spaces(length_mm, self.spacing_mm).max(0.0) * f64::from(self.layers)
    }

    /// Steel over concrete for a slab thickness.
    pub fn ratio(&self, thickness_mm: f64) -> f64 {
        f64::from(self.layers) * self.bar.area_mm2 / (self.spacing_mm * thickness_mm)
    }
}

/// The existing side, where the bars are bonded in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BondedSide {
    /// Concrete, MPa.
    pub concrete_mpa: f64,
    /// Embedment available, mm.
    pub embedment_mm: f64,
    /// Confinement term of the bars.
    pub confinement: f64,
    /// Surface.
    pub surface: Surface,
    /// Distances to the edges of the beam's side, mm, where breakout is to be checked.
    pub edges_mm: Option<[f64; 2]>,
}

/// Strength reduction: by the clause, or given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FactorChoice {
    /// As the rule set says for how the frame and the bars behave.
    ByClause,
    /// The user's.
    Given {
        /// On interface shear.
        interface: f64,
        /// On diaphragm shear.
        diaphragm: f64,
    },
}

/// Peak over mean shear along a joint: by how it fails, or given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PeakChoice {
    /// 1 where the bars yield before anything brittle and shear can even out, else 1.5.
    ByBehaviour,
    /// The user's.
    Given(f64),
}

clause_constants! { CONSTANTS;
    /// Peak over mean shear along a joint that cannot yield: parabolic distribution.
    BRITTLE_PEAK: f64 = 1.5, Derived, "shear of a deep elastic strip";
    /// Lever arm of a strip bent in its plane, over its length.
    LEVER: f64 = 0.8, Memory, "common practice for deep members, no clause";
    /// Form factor of shear, shear over elastic modulus, part of the second moment that counts.
    STIFFNESS: [f64; 3] = [1.2, 0.4, 0.35], Memory, "rectangle; G = 0.4·E; ACI 318-19 Table 6.6.3.1.1(a) for cracked walls";
}

/// A connecting slab at one floor and the force on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinkSlab {
    /// Contact length with the existing beam, mm.
    pub length_mm: f64,
    /// Thickness of the strip, mm.
    pub thickness_mm: f64,
    /// Height of the contact on the existing side, inside the beam's stirrups, mm.
    pub existing_contact_mm: f64,
    /// From the frame's axis to the existing joint, mm.
    pub existing_lever_mm: f64,
    /// From the frame's axis to the new joint, mm.
    pub new_lever_mm: f64,
    /// Existing side.
    pub existing: BondedSide,
    /// Concrete of slab and new beam, MPa.
    pub new_concrete_mpa: f64,
    /// Joint with the new beam.
    pub new_surface: Surface,
    /// Bars across the joints.
    pub across: BarRow,
    /// Bars along the face, parallel to the force.
    pub along: BarRow,
    /// Chord bars for bending in plane are extra to the bars across.
    pub extra_chord_bars: bool,
    /// Force, kN.
    pub force_kn: f64,
    /// Tension across the joint at the same time, kN.
    pub tension_kn: f64,
    /// The force cannot exceed what the frame's bending mechanism delivers.
    pub capped_by_mechanism: bool,
    /// Strength reduction.
    pub factors: FactorChoice,
    /// Peak shear.
    pub peak: PeakChoice,
    /// 1 for normal-weight concrete, 0.75 for lightweight.
    pub lightweight: f64,
}

/// Where a connecting slab is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlabPlace {
    /// Joint with the existing beam.
    ExistingJoint,
    /// The strip.
    Strip,
    /// Joint with the new beam.
    NewJoint,
}

/// One joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointCheck {
    /// In-plane moment, kNm.
    pub moment_knm: f64,
    /// Chord tension of that moment, kN.
    pub chord_kn: f64,
    /// Net tension taken off the clamping, kN.
    pub net_tension_kn: f64,
    /// Strength.
    pub strength: InterfaceStrength,
    /// Reduction.
    pub factor: f64,
    /// Peak shear over mean.
    pub peak: f64,
    /// Factor on the force and on the pull.
    pub overstrength: f64,
    /// Design strength φ·V_n, kN.
    pub design_kn: f64,
    /// Force against it, peak and overstrength included, kN.
    pub demand_kn: f64,
    /// `demand_kn` over `design_kn`; infinite when nothing is left.
    pub utilisation: f64,
}

/// The strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripCheck {
    /// Strength.
    pub strength: DiaphragmStrength,
    /// Reduction.
    pub factor: f64,
    /// Design strength φ·V_n, kN.
    pub design_kn: f64,
    /// Force against it, overstrength included, kN.
    pub demand_kn: f64,
    /// `demand_kn` over `design_kn`.
    pub utilisation: f64,
}

/// A connecting slab checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlabCheck {
    /// Bars across, all layers.
    pub bars: f64,
    /// Their stress on the existing side.
    pub anchorage: AnchorageStrength,
    /// Joint with the existing beam.
    pub existing: JointCheck,
    /// The strip.
    pub strip: StripCheck,
    /// Joint with the new beam.
    pub new: JointCheck,
    /// Chord steel the moment at the existing joint asks for, mm².
    pub chord_steel_mm2: f64,
    /// Where it is weakest.
    pub governs: SlabPlace,
    /// Utilisation there.
    pub utilisation: f64,
    /// The force at which the first of the three would be fully used, kN; tension as given.
    pub capacity_kn: f64,
    /// It fails without warning: bars that do not yield, or an upper bound.
    pub brittle: bool,
    /// Remarks.
    pub notes: Notes,
}

impl LinkSlab {
    /// Checks the slab.
    ///
    /// M = N·lever with no moment at the frame's own axis (equilibrium: a frame in one plane has no
    /// stiffness in plan), T = M/(0.8·L), taken off the clamping unless the chord has bars of its
    /// own; uniform shear N/L, or its peak where nothing yields.
    pub fn check(&self, rules: &dyn Rules) -> Ruled<SlabCheck> {
        let bars = self.across.count(self.length_mm);
        let anchorage = rules.bar_anchorage(&BarAnchorage {
            bar: self.across.bar,
            yield_mpa: self.across.yield_mpa,
            concrete_mpa: self.existing.concrete_mpa,
            embedment_mm: self.existing.embedment_mm,
            confinement: self.existing.confinement,
            position_factor: 1.0,
            breakout: self.existing.edges_mm.map(|[edge_mm, far_edge_mm]| Breakout {
                spacing_mm: self.across.spacing_mm,
                edge_mm: edge_mm.min(far_edge_mm),
                far_edge_mm: edge_mm.max(far_edge_mm),
            }),
            lightweight: self.lightweight,
        })?;
        let plain = rules
            .connection_factors(ConnectionState { capped_by_mechanism: self.capped_by_mechanism, bars_yield: true })?;

        // Existing joint: weaker concrete, bars as far as they are anchored.
        let old_side = Side {
            lever_mm: self.existing_lever_mm,
            area_mm2: self.existing_contact_mm * self.length_mm,
            concrete_mpa: self.existing.concrete_mpa.min(self.new_concrete_mpa),
            surface: self.existing.surface,
            stress_mpa: anchorage.stress_mpa,
            anchored: anchorage.limit == AnchorageLimit::Yield,
        };
        let new_side = Side {
            lever_mm: self.new_lever_mm,
            area_mm2: self.thickness_mm * self.length_mm,
            concrete_mpa: self.new_concrete_mpa,
            surface: self.new_surface,
            stress_mpa: self.across.yield_mpa,
            anchored: true,
        };
        let (existing, existing_capacity) = self.joint(rules, plain.demand, bars, &old_side)?;
        let (new, new_capacity) = self.joint(rules, plain.demand, bars, &new_side)?;

        let strength = rules.diaphragm_shear(&DiaphragmShear {
            concrete_mpa: self.new_concrete_mpa,
            thickness_mm: self.thickness_mm,
            length_mm: self.length_mm,
            parallel_ratio: self.along.ratio(self.thickness_mm),
            across_ratio: self.across.ratio(self.thickness_mm),
            yield_mpa: self.along.yield_mpa.min(self.across.yield_mpa),
            lightweight: self.lightweight,
        })?;
        let factor = match self.factors {
            FactorChoice::ByClause => plain.diaphragm,
            FactorChoice::Given { diaphragm, .. } => diaphragm,
        };
        let (design_kn, demand_kn) = (factor * strength.strength_kn, plain.demand * self.force_kn.abs());
        let strip = StripCheck { strength, factor, design_kn, demand_kn, utilisation: ratio(demand_kn, design_kn) };

        let capacity = existing_capacity.min(new_capacity).min(design_kn / plain.demand);
        let mut worst = (SlabPlace::ExistingJoint, existing.utilisation);
        for other in [(SlabPlace::Strip, strip.utilisation), (SlabPlace::NewJoint, new.utilisation)] {
            if other.1 > worst.1 {
                worst = other;
            }
        }
        let mut notes = anchorage.notes;
        for more in [existing.strength.notes, new.strength.notes, strip.strength.notes] {
            notes.merge(more);
        }
        notes.add_if(existing.peak > 1.0 || new.peak > 1.0, Note::PeakFactor);
        let capped = |s: &InterfaceStrength| s.friction_kn > s.cap_kn;
        let brittle = match worst.0 {
            SlabPlace::ExistingJoint => !old_side.anchored || capped(&existing.strength),
            SlabPlace::NewJoint => capped(&new.strength),
            SlabPlace::Strip => true,
        };
        Ok(SlabCheck {
            bars,
            anchorage,
            existing,
            strip,
            new,
            chord_steel_mm2: plain.demand * existing.chord_kn * 1e3 / (plain.chord * self.across.yield_mpa),
            governs: worst.0,
            utilisation: worst.1,
            capacity_kn: capacity.max(0.0),
            brittle,
            notes,
        })
    }

    /// A joint, and the force at which it would be fully used, kN.
    fn joint(&self, rules: &dyn Rules, overstrength: f64, bars: f64, side: &Side) -> Ruled<(JointCheck, f64)> {
        let force = self.force_kn.abs();
        // Tension per kN of force, m/m.
        let chord_per_force = side.lever_mm.max(0.0) / (LEVER * self.length_mm);
        let chord_kn = force * chord_per_force;
        let taken = if self.extra_chord_bars { 0.0 } else { chord_per_force };
        let net_tension_kn = overstrength * (self.tension_kn.max(0.0) + force * taken);
        let strength = rules.interface_shear(&InterfaceShear {
            area_mm2: side.area_mm2,
            steel_mm2: bars * self.across.bar.area_mm2,
            bar_stress_mpa: side.stress_mpa,
            surface: side.surface,
            concrete_mpa: side.concrete_mpa,
            normal_kn: -net_tension_kn,
            lightweight: self.lightweight,
        })?;
        let bars_yield = side.anchored && strength.friction_kn <= strength.cap_kn;
        let clause: ConnectionFactors =
            rules.connection_factors(ConnectionState { capped_by_mechanism: self.capped_by_mechanism, bars_yield })?;
        let factor = match self.factors {
            FactorChoice::ByClause => clause.interface,
            FactorChoice::Given { interface, .. } => interface,
        };
        let peak = match self.peak {
            PeakChoice::Given(peak) => peak,
            PeakChoice::ByBehaviour => {
                if bars_yield {
                    1.0
                } else {
                    BRITTLE_PEAK
                }
            }
        };
        let design_kn = factor * strength.strength_kn;
        let demand_kn = overstrength * peak * force;
        // φ·μ·(C − γ·(T + c·N)) = γ·p·N solved for N, and not above the bound.
        let per_force = overstrength * peak;
        let clamp = strength.clamping_kn - overstrength * self.tension_kn.max(0.0);
        let by_friction =
            factor * strength.friction * clamp / (per_force + factor * strength.friction * overstrength * taken);
        let capacity = by_friction.min(factor * strength.cap_kn / per_force);
        let check = JointCheck {
            moment_knm: force * side.lever_mm / 1e3,
            chord_kn,
            net_tension_kn,
            strength,
            factor,
            peak,
            overstrength,
            design_kn,
            demand_kn,
            utilisation: ratio(demand_kn, design_kn),
        };
        Ok((check, capacity))
    }
}

/// One side of the slab.
struct Side {
    lever_mm: f64,
    area_mm2: f64,
    concrete_mpa: f64,
    surface: Surface,
    stress_mpa: f64,
    anchored: bool,
}

fn ratio(demand: f64, design: f64) -> f64 {
    if demand == 0.0 {
        0.0
    } else if design > 0.0 {
        demand / design
    } else {
        f64::INFINITY
    }
}
