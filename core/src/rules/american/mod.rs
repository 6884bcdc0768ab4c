//! The American documents: ASCE/SEI 41-17, ACI 318-19 (SI), ASCE/SEI 7-16.

mod connections;
mod demand;
mod members;
mod performance;
mod walls;

use super::member::{
    BeamHinge, BeamShear, BeamShearStrength, ColumnAxial, ColumnHinge, ColumnShear, ColumnShearStrength, Component,
    EffectiveStiffness, ExpectedFactors, ForceControlled, FrameProportions, JacketFactors, JointShear, JointStrength,
    MasonryPanel, MasonryStrut, PlasticRotations, Splice, WallDeformation, WallLimits, WallShear, WallShearStrength,
};
use super::{
    AnchorageStrength, BarAnchorage, ClauseConstant, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, InterfaceShear, InterfaceStrength, Provided, Provision, Ruled, Rules, Surface,
};
use crate::hazard::{DriftLimit, GroundMotion, LateralDesign, LateralForces, MassShare, PDelta, PDeltaEffect};
use crate::material::ConcreteLaw;
use crate::performance::{Demand, Pushed, Scale};
use crate::project::Knowledge;

/// The American set.
#[derive(Debug)]
pub(super) struct American;

/// Root of the concrete strength where a clause holds it.
fn held_root(strength_mpa: f64) -> f64 {
    strength_mpa.max(0.0).sqrt().min(members::ROOT_LIMIT)
}

/// The constants this set relies on.
pub fn constants() -> Vec<ClauseConstant> {
    [members::CONSTANTS, walls::CONSTANTS, connections::CONSTANTS, demand::CONSTANTS, performance::CONSTANTS].concat()
}

impl Rules for American {
    fn key(&self) -> &'static str {
        "american"
    }

    fn title(&self) -> &'static str {
        "American"
    }

    fn documents(&self) -> &'static [&'static str] {
        &["ASCE/SEI 41-17", "ACI 318-19", "ASCE/SEI 7-16"]
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
        Ok(walls::jacket_factors(surface))
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
        Ok(connections::least_part_force_g(plateau_g))
    }

    fn provision(&self, provision: Provision) -> Ruled<Provided> {
        Ok(connections::provision(provision))
    }

    fn connection_factors(&self, state: ConnectionState) -> Ruled<ConnectionFactors> {
        Ok(connections::factors(state))
    }

    fn spectral_acceleration_g(&self, motion: &GroundMotion, period_s: f64) -> Ruled<f64> {
        demand::spectral_acceleration_g(motion, period_s).ok_or(super::NotAvailable {
            rules: self.key(),
            question: "a spectrum from ground acceleration and ground type",
        })
    }

    fn displacement_demand(&self, pushed: &Pushed, motion: &GroundMotion) -> Ruled<Demand> {
        performance::demand(pushed, motion)
            .ok_or(super::NotAvailable { rules: self.key(), question: "displacement demand from this spectrum" })
    }

    fn capacity_scale(&self, pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Ruled<Scale> {
        performance::scale(pushed, motion, limit_m).ok_or(super::NotAvailable {
            rules: self.key(),
            question: "capacity over demand without shaking or displacement",
        })
    }

    /// One pattern, of the first mode (ASCE 41-17 7.4.3.2.3; MEMORY).
    fn uniform_pattern(&self) -> Ruled<bool> {
        Ok(false)
    }

    fn force_shares(&self, weights_kn: &[f64], heights_m: &[f64], period_s: f64) -> Ruled<Vec<f64>> {
        Ok(crate::hazard::height_shares(weights_kn, heights_m, demand::height_exponent(period_s)))
    }

    fn mass_share(&self, share: &MassShare) -> Ruled<f64> {
        Ok(demand::mass_share(share))
    }

    fn lateral_forces(&self, design: &LateralDesign) -> Ruled<LateralForces> {
        demand::lateral_forces(design).ok_or(super::NotAvailable {
            rules: self.key(),
            question: "static lateral design from anything but two spectral ordinates",
        })
    }

    fn accidental_eccentricity(&self) -> Ruled<f64> {
        Ok(demand::ACCIDENTAL_ECCENTRICITY)
    }

    fn torsion_amplification(&self, largest_m: f64, mean_m: f64) -> Ruled<f64> {
        Ok(demand::torsion_amplification(largest_m, mean_m))
    }

    fn p_delta(&self, storey: &PDelta) -> Ruled<PDeltaEffect> {
        Ok(demand::p_delta(storey))
    }

    fn drift_limit(&self, building: &DriftLimit) -> Ruled<f64> {
        Ok(demand::drift_limit(building))
    }
}
