//! The European documents: EN 1998-1:2004, EN 1998-3:2005, EN 1992-1-1:2004, recommended values.
//!
//! Strengths of connections carry their material factors inside; those of members are at the strengths handed in.

mod connections;
mod demand;
mod members;
mod walls;

pub(super) use demand::two_ordinates;

use super::member::{
    BeamHinge, BeamShear, BeamShearStrength, ColumnAxial, ColumnHinge, ColumnShear, ColumnShearStrength, Component,
    EffectiveStiffness, ExpectedFactors, ForceControlled, FrameProportions, JacketFactors, JointShear, JointStrength,
    MasonryPanel, MasonryStrut, PlasticRotations, Splice, WallDeformation, WallLimits, WallShear, WallShearStrength,
};
use super::source::clause_constants;
use super::{
    AnchorageStrength, BarAnchorage, ClauseConstant, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, InterfaceShear, InterfaceStrength, Provided, Provision, Ruled, Rules, Surface,
};
use crate::hazard::{DriftLimit, GroundMotion, LateralDesign, LateralForces, MassShare, PDelta, PDeltaEffect};
use crate::material::ConcreteLaw;
use crate::math::pow;
use crate::performance::{Demand, Pushed, Scale};
use crate::project::Knowledge;

clause_constants! { CONSTANTS;
    /// Partial factors of concrete and steel.
    PARTIAL: [f64; 2] = [1.5, 1.15], Memory, "EN 1992-1-1 Table 2.1N, EN 1998-1 5.2.4(3)";
    /// α_cc, recommended; some national annexes have 0.85.
    ALPHA_CC: f64 = 1.0, Memory, "EN 1992-1-1 3.1.6(1)";
    /// ν = 0.6·(1 − f_ck/250).
    NU: [f64; 2] = [0.6, 250.0], Seen, "EN 1992-1-1 6.2.2(6)";
    /// Tensile strength: its lower fractile over the mean, mean over f_ck^⅔.
    TENSILE: [f64; 2] = [0.7, 0.3], Memory, "EN 1992-1-1 Table 3.1";
}

/// The European set.
#[derive(Debug)]
pub(super) struct European;

/// Design value of concrete strength, MPa.
fn design_concrete_mpa(characteristic_mpa: f64) -> f64 {
    ALPHA_CC * characteristic_mpa / PARTIAL[0]
}

/// What is left of concrete struts crossed by cracks.
fn nu(characteristic_mpa: f64) -> f64 {
    NU[0] * (1.0 - characteristic_mpa / NU[1]).max(0.0)
}

/// f_ctk,0.05, MPa.
fn tensile_mpa(characteristic_mpa: f64) -> f64 {
    TENSILE[0] * TENSILE[1] * pow(characteristic_mpa.max(0.0), 2.0 / 3.0)
}

/// The constants this set relies on.
pub fn constants() -> Vec<ClauseConstant> {
    [CONSTANTS, members::CONSTANTS, walls::CONSTANTS, connections::CONSTANTS, demand::CONSTANTS].concat()
}

impl Rules for European {
    fn key(&self) -> &'static str {
        "european"
    }

    fn title(&self) -> &'static str {
        "European"
    }

    fn documents(&self) -> &'static [&'static str] {
        &["EN 1998-1:2004", "EN 1998-3:2005", "EN 1992-1-1:2004"]
    }

    fn complete(&self) -> bool {
        true
    }

    fn expected_factors(&self) -> Ruled<ExpectedFactors> {
        Ok(members::expected_factors())
    }

    fn knowledge_factor(&self, knowledge: Knowledge) -> Ruled<f64> {
        Ok(members::knowledge_factor(knowledge))
    }

    fn force_controlled(&self, knowledge: Knowledge) -> Ruled<ForceControlled> {
        Ok(members::force_controlled(knowledge))
    }

    fn column_axial_kn(&self, column: &ColumnAxial) -> Ruled<f64> {
        Ok(members::column_axial_kn(column))
    }

    fn frame_proportions(&self, concrete_mpa: f64, steel_mpa: f64) -> Ruled<FrameProportions> {
        Ok(members::frame_proportions(concrete_mpa, steel_mpa))
    }

    fn concrete_modulus_mpa(&self, strength_mpa: f64) -> Ruled<f64> {
        Ok(members::concrete_modulus_mpa(strength_mpa))
    }

    fn concrete_law(&self, strength_mpa: f64) -> Ruled<ConcreteLaw> {
        Ok(members::concrete_law(strength_mpa))
    }

    fn effective_stiffness(&self, component: Component) -> Ruled<EffectiveStiffness> {
        Ok(members::effective_stiffness(component))
    }

    fn column_shear(&self, column: &ColumnShear) -> Ruled<ColumnShearStrength> {
        Ok(members::column_shear(column))
    }

    fn column_rotations(&self, hinge: &ColumnHinge) -> Ruled<PlasticRotations> {
        Ok(members::column_rotations(hinge))
    }

    fn beam_shear(&self, beam: &BeamShear) -> Ruled<BeamShearStrength> {
        Ok(members::beam_shear(beam))
    }

    fn beam_rotations(&self, hinge: &BeamHinge) -> Ruled<PlasticRotations> {
        Ok(members::beam_rotations(hinge))
    }

    fn joint_shear(&self, joint: &JointShear) -> Ruled<JointStrength> {
        Ok(members::joint_shear(joint))
    }

    fn splice_stress_mpa(&self, splice: &Splice) -> Ruled<f64> {
        Ok(members::splice_stress_mpa(splice))
    }

    fn wall_shear(&self, wall: &WallShear) -> Ruled<WallShearStrength> {
        Ok(walls::wall_shear(wall))
    }

    fn wall_limits(&self, wall: &WallLimits) -> Ruled<WallDeformation> {
        Ok(walls::wall_limits(wall))
    }

    fn jacket_factors(&self, surface: Surface) -> Ruled<JacketFactors> {
        Ok(members::jacket_factors(surface))
    }

    fn masonry_strut(&self, panel: &MasonryPanel) -> Ruled<MasonryStrut> {
        Ok(walls::masonry_strut(panel))
    }

    fn interface_shear(&self, interface: &InterfaceShear) -> Ruled<InterfaceStrength> {
        Ok(connections::interface_shear(interface))
    }

    fn diaphragm_shear(&self, strip: &DiaphragmShear) -> Ruled<DiaphragmStrength> {
        Ok(connections::diaphragm_shear(strip))
    }

    fn bar_anchorage(&self, anchorage: &BarAnchorage) -> Ruled<AnchorageStrength> {
        Ok(connections::bar_anchorage(anchorage))
    }

    fn least_part_force_g(&self, plateau_g: f64) -> Ruled<f64> {
        Ok(demand::least_part_force_g(plateau_g))
    }

    fn provision(&self, provision: Provision) -> Ruled<Provided> {
        Ok(connections::provision(provision))
    }

    fn connection_factors(&self, _state: ConnectionState) -> Ruled<ConnectionFactors> {
        Ok(connections::factors())
    }

    fn spectral_acceleration_g(&self, motion: &GroundMotion, period_s: f64) -> Ruled<f64> {
        demand::spectral_acceleration_g(motion, period_s)
            .ok_or(super::NotAvailable { rules: self.key(), question: "an empty spectrum" })
    }

    fn displacement_demand(&self, pushed: &Pushed, motion: &GroundMotion) -> Ruled<Demand> {
        demand::demand(pushed, motion)
            .ok_or(super::NotAvailable { rules: self.key(), question: "displacement demand without a spectrum" })
    }

    fn capacity_scale(&self, pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Ruled<Scale> {
        demand::scale(pushed, motion, limit_m).ok_or(super::NotAvailable {
            rules: self.key(),
            question: "capacity over demand without shaking or displacement",
        })
    }

    /// Uniform beside modal (EN 1998-1 4.3.3.4.2.2; MEMORY).
    fn uniform_pattern(&self) -> Ruled<bool> {
        Ok(true)
    }

    /// s_i·m_i/Σs_j·m_j with s_i taken as height (EN 1998-1 Eq. 4.11).
    fn force_shares(&self, weights_kn: &[f64], heights_m: &[f64], _period_s: f64) -> Ruled<Vec<f64>> {
        Ok(crate::hazard::height_shares(weights_kn, heights_m, 1.0))
    }

    fn mass_share(&self, share: &MassShare) -> Ruled<f64> {
        Ok(demand::mass_share(share))
    }

    fn lateral_forces(&self, design: &LateralDesign) -> Ruled<LateralForces> {
        demand::lateral_forces(design).ok_or(super::NotAvailable {
            rules: self.key(),
            question: "static lateral design from a table, or of a building without weight",
        })
    }

    fn accidental_eccentricity(&self) -> Ruled<f64> {
        Ok(demand::ACCIDENTAL_ECCENTRICITY)
    }

    fn torsion_amplification(&self, _largest_m: f64, _mean_m: f64) -> Ruled<f64> {
        Ok(1.0)
    }

    fn p_delta(&self, storey: &PDelta) -> Ruled<PDeltaEffect> {
        Ok(demand::p_delta(storey))
    }

    fn drift_limit(&self, building: &DriftLimit) -> Ruled<f64> {
        Ok(demand::drift_limit(building))
    }
}
