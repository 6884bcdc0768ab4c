//! Joints between old and new concrete: EN 1992-1-1 6.2 and 8.4, EN 1998-1 4.4.2.5. Material factors are inside
//! the strengths.

use super::super::source::clause_constants;
use super::super::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, ConnectionFactors, DiaphragmShear, DiaphragmStrength,
    InterfaceCap, InterfaceShear, InterfaceStrength, Note, Notes, Provided, Provision, Surface,
};
use super::{PARTIAL, design_concrete_mpa, nu, tensile_mpa};

clause_constants! { CONSTANTS;
    /// Friction coefficients: indented (taken for cast in one), rough, smooth.
    FRICTION: [f64; 3] = [0.9, 0.7, 0.6], Seen, "EN 1992-1-1 6.2.5(2)";
    /// Cohesion in an earthquake.
    COHESION: f64 = 0.0, Memory, "EN 1992-1-1 6.2.5(5) halves it for dynamic loads; none counted";
    /// Bond stress over the design tensile strength.
    BOND: f64 = 2.25, Memory, "EN 1992-1-1 8.4.2";
    /// Shortest anchorage: diameters and mm.
    SHORTEST: [f64; 2] = [10.0, 100.0], Memory, "EN 1992-1-1 8.4.4(1)";
    /// Lever of a deep strip over its length.
    LEVER: f64 = 0.8, Derived, "internal lever of a deep member";
    /// Concrete without bars: on its tensile strength, peak over mean shear.
    PLAIN: [f64; 2] = [0.8, 1.5], Memory, "EN 1992-1-1 12.3.1, 12.6.3";
    /// Overstrength on the force of a brittle connection.
    CONNECTION_OVERSTRENGTH: f64 = 1.3, Memory, "EN 1998-1 4.4.2.5";
}

/// v_Rdi = c·f_ctd + μ·σ_n + ρ·f_s·μ ≤ 0.5·ν·f_cd with c = 0 (EN 1992-1-1 6.2.5). Tension
/// enters with its sign.
pub(super) fn interface_shear(interface: &InterfaceShear) -> InterfaceStrength {
    let mut notes = Notes::NONE;
    let [indented, rough, smooth] = FRICTION;
    let friction = match interface.surface {
        Surface::Monolithic => indented,
        Surface::Roughened => rough,
        Surface::Plain => smooth,
    };
    let clamping_kn = interface.steel_mm2 * interface.bar_stress_mpa.max(0.0) / 1e3;
    let pressed = clamping_kn + interface.normal_kn;
    notes.add_if(pressed <= 0.0, Note::ClampingLost);
    let tensile = tensile_mpa(interface.concrete_mpa) / PARTIAL[0];
    let friction_kn = COHESION * tensile * interface.area_mm2 / 1e3 + friction * pressed.max(0.0);
    let stress = 0.5 * nu(interface.concrete_mpa) * design_concrete_mpa(interface.concrete_mpa);
    let cap_kn = stress * interface.area_mm2 / 1e3;
    notes.add_if(friction_kn > cap_kn, Note::CapGoverns);
    InterfaceStrength {
        friction,
        bar_stress_mpa: interface.bar_stress_mpa.max(0.0),
        clamping_kn,
        friction_kn,
        cap_kn,
        cap: InterfaceCap::PartOfStrength,
        strength_kn: friction_kn.min(cap_kn),
        notes,
    }
}

/// Truss at 45°: least of ρ·t·z·f_yd and ν·f_cd·z·t/2 with z = 0.8·L (EN 1992-1-1 6.2.3); the
/// lesser of the bars in the two directions counts. Where plain concrete carries more, 0.8·f_ctd over a peak of 1.5
/// (12.6.3), it does so instead, as in old floors of unknown bars.
pub(super) fn diaphragm_shear(strip: &DiaphragmShear) -> DiaphragmStrength {
    let mut notes = Notes::NONE;
    let area = LEVER * strip.length_mm * strip.thickness_mm;
    let ratio_counted = strip.parallel_ratio.min(strip.across_ratio);
    notes.add_if(strip.across_ratio < strip.parallel_ratio, Note::WeakerSteelCounts);
    let steel_kn = ratio_counted * strip.yield_mpa / PARTIAL[1] * area / 1e3;
    let cap_kn = nu(strip.concrete_mpa) * design_concrete_mpa(strip.concrete_mpa) * area / 2.0 / 1e3;
    notes.add_if(steel_kn > cap_kn, Note::CapGoverns);
    let [on_tensile, peak] = PLAIN;
    let plain = on_tensile * tensile_mpa(strip.concrete_mpa) / PARTIAL[0] / peak;
    let concrete_kn = plain * strip.length_mm * strip.thickness_mm / 1e3;
    let strength_kn = steel_kn.max(concrete_kn).min(cap_kn);
    DiaphragmStrength { concrete_kn, steel_kn, ratio_counted, cap_kn, strength_kn, notes }
}

/// l_b = d/4·f_yd/f_bd, f_bd = 2.25·η₂·f_ctd in good bond conditions (EN 1992-1-1 8.4).
pub(super) fn bar_anchorage(anchorage: &BarAnchorage) -> AnchorageStrength {
    let mut notes = Notes::NONE;
    notes.add_if(anchorage.breakout.is_some(), Note::BreakoutNotCovered);
    let tensile = tensile_mpa(anchorage.concrete_mpa) / PARTIAL[0];
    let diameter = anchorage.bar.diameter_mm;
    let size = if diameter > 32.0 { (132.0 - diameter) / 100.0 } else { 1.0 };
    let bond = BOND * size * tensile / anchorage.position_factor;
    let design = anchorage.yield_mpa / PARTIAL[1];
    let required_mm = diameter / 4.0 * design / bond;
    let mut stress_mpa = design;
    let mut limit = AnchorageLimit::Yield;
    if !required_mm.is_finite() || anchorage.embedment_mm < (SHORTEST[0] * diameter).max(SHORTEST[1]) {
        (stress_mpa, limit) = (0.0, AnchorageLimit::TooShort);
        notes.add(Note::AnchorageTooShort);
    } else if anchorage.embedment_mm < required_mm {
        (stress_mpa, limit) = (design * anchorage.embedment_mm / required_mm, AnchorageLimit::Length);
        notes.add(Note::AnchorageGoverns);
    }
    AnchorageStrength { required_mm, stress_mpa, breakout_kn: None, limit, notes }
}

pub(super) fn factors() -> ConnectionFactors {
    ConnectionFactors {
        interface: 1.0,
        diaphragm: 1.0,
        chord: 1.0 / PARTIAL[1],
        demand: CONNECTION_OVERSTRENGTH,
        breakout: 1.0 / PARTIAL[0],
    }
}

pub(super) fn provision(provision: Provision) -> Provided {
    let (formula, clause) = match provision {
        Provision::Interface => ("min(μ·(C − T), V_max)", "EN 1992-1-1 6.2.5 with c = 0, material factors inside"),
        Provision::Diaphragm => {
            ("min(max(V_c, V_s), V_max)", "EN 1992-1-1 6.2.3, z = 0.8·L, cot θ = 1; 12.6.3 (from memory)")
        }
        Provision::Anchorage => ("f_y·l/l_d ≤ f_y", "EN 1992-1-1 8.4, f_y divided by 1.15 (from memory)"),
        Provision::Breakout => ("not checked", "EN 1992-4 is outside this rule set here"),
        Provision::Tension => ("A_s·f_y/1.15", "EN 1992-1-1 2.4.2.4 (from memory)"),
        Provision::Joint => ("γ·√f_e·A_j", "EN 1998-1 5.5.3.3 by EN 1998-3 A.3.4, γ for its axial load (from memory)"),
        Provision::Rocking => ("P·L/2·(1 − q/q_c)", "equilibrium; EN 1998-5 gives no other form (from memory)"),
    };
    Provided { formula, clause }
}
