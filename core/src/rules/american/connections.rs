//! Joints between old and new concrete: ACI 318-19 22.9, 18.12, 25.4, 17.6 and 21.2.

use super::super::source::clause_constants;
use super::super::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, Breakout, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, InterfaceCap, InterfaceShear, InterfaceStrength, Note, Notes, Provided, Provision, Surface,
};
use super::held_root;
use crate::math::pow;

clause_constants! { CONSTANTS;
    /// Friction coefficients: cast in one, roughened to 6 mm, not roughened.
    FRICTION: [f64; 3] = [1.4, 1.0, 0.6], Seen, "ACI 318-19 Table 22.9.4.2";
    /// Largest yield strength counted in shear friction and in diaphragm shear, MPa.
    FRICTION_YIELD: f64 = 420.0, Seen, "ACI 318-19 20.2.2.4, 22.9.1.3";
    /// Upper bounds, cast in one or roughened: part of f'c; constant plus part of f'c; constant (MPa).
    CAP_ROUGH: [f64; 4] = [0.2, 3.3, 0.08, 11.0], Seen, "ACI 318-19 Table 22.9.4.4";
    /// Upper bounds, not roughened: part of f'c; constant (MPa).
    CAP_PLAIN: [f64; 2] = [0.2, 5.5], Seen, "ACI 318-19 Table 22.9.4.4";
    /// Diaphragm shear: concrete and upper bound on √f'c, MPa^½.
    DIAPHRAGM: [f64; 2] = [0.17, 0.66], SeenListed, "ACI 318-19 18.12.9.1, 18.12.9.2";
    /// Development length: divisor on λ√f'c, largest confinement term, shortest length (mm).
    DEVELOPMENT: [f64; 3] = [1.1, 2.5, 300.0], Seen, "ACI 318-19 25.4.2.4, 25.4.2.1";
    /// Factor for small bars, and the largest diameter it holds for (No. 19), mm.
    SMALL_BARS: [f64; 2] = [0.8, 19.5], Seen, "ACI 318-19 Table 25.4.2.5";
    /// Grade factor above 420 MPa and above 550 MPa.
    GRADE: [f64; 2] = [1.15, 1.3], Memory, "ACI 318-19 Table 25.4.2.5";
    /// Shortest embedment that counts, in diameters.
    SHORTEST: f64 = 12.0, Memory, "common practice for bonded bars without a qualified system, no clause";
    /// Breakout: coefficient of post-installed bars in cracked concrete; exponent on embedment.
    BREAKOUT: [f64; 2] = [7.0, 1.5], Memory, "ACI 318-19 17.6.2.2.1";
    /// Breakout near an edge: 0.7 + 0.3·edge/(1.5·embedment).
    BREAKOUT_EDGE: [f64; 2] = [0.7, 0.3], Memory, "ACI 318-19 17.6.2.4.1";
    /// On breakout in an earthquake.
    BREAKOUT_EARTHQUAKE: f64 = 0.75, Memory, "ACI 318-19 17.10.5.4";
    /// Weakest concrete the anchoring provisions are made for, MPa.
    BREAKOUT_CONCRETE: f64 = 17.0, Memory, "ACI 318-19 17.3.1, Table 17.6.5.2.5";
    /// φ in shear where the force is capped by a bending mechanism, and where it is not.
    PHI_SHEAR: [f64; 2] = [0.75, 0.60], Memory, "ACI 318-19 Table 21.2.1, 21.2.4";
    /// φ of chord steel in tension.
    PHI_CHORD: f64 = 0.9, Memory, "ACI 318-19 Table 21.2.1";
    /// φ where concrete breaks out round bonded bars.
    PHI_BREAKOUT: f64 = 0.65, Memory, "ACI 318-19 Table 17.5.3(b)";
    /// Least force on a floor over its weight, in parts of the plateau of the spectrum.
    LEAST_PART: f64 = 0.2, Memory, "ASCE 7-16 12.10.1.1, 12.11.2.1";
}

/// V_n = μ·(A_vf·f_s + N) ≤ cap·A_c (ACI 318-19 22.9.4; MPa, mm, N). Net tension is taken off
/// the clamping, which is the same as adding bars for it (22.9.4.6).
pub(super) fn interface_shear(interface: &InterfaceShear) -> InterfaceStrength {
    let mut notes = Notes::NONE;
    let [monolithic, roughened, plain] = FRICTION;
    let friction = interface.lightweight
        * match interface.surface {
            Surface::Monolithic => monolithic,
            Surface::Roughened => roughened,
            Surface::Plain => plain,
        };
    let bar_stress_mpa = interface.bar_stress_mpa.clamp(0.0, FRICTION_YIELD);
    let clamping_kn = interface.steel_mm2 * bar_stress_mpa / 1e3;
    let pressed = clamping_kn + interface.normal_kn;
    notes.add_if(pressed <= 0.0, Note::ClampingLost);
    let friction_kn = friction * pressed.max(0.0);

    let strength = interface.concrete_mpa;
    let (stress, cap) = match interface.surface {
        Surface::Monolithic | Surface::Roughened => {
            let [part, step, slope, constant] = CAP_ROUGH;
            least([
                (part * strength, InterfaceCap::PartOfStrength),
                (step + slope * strength, InterfaceCap::StepOfStrength),
                (constant, InterfaceCap::Constant),
            ])
        }
        Surface::Plain => {
            let [part, constant] = CAP_PLAIN;
            least([
                (part * strength, InterfaceCap::PartOfStrength),
                (constant, InterfaceCap::Constant),
                (constant, InterfaceCap::Constant),
            ])
        }
    };
    let cap_kn = stress * interface.area_mm2 / 1e3;
    notes.add_if(friction_kn > cap_kn, Note::CapGoverns);
    InterfaceStrength {
        friction,
        bar_stress_mpa,
        clamping_kn,
        friction_kn,
        cap_kn,
        cap,
        strength_kn: friction_kn.min(cap_kn),
        notes,
    }
}

fn least(bounds: [(f64, InterfaceCap); 3]) -> (f64, InterfaceCap) {
    bounds.into_iter().reduce(|a, b| if b.0 < a.0 { b } else { a }).unwrap_or(bounds[0])
}

/// V_n = A_cv·(0.17·λ·√f'c + ρ·f_y) ≤ 0.66·√f'c·A_cv (ACI 318-19 18.12.9).
///
/// The clause counts the bars parallel to the force. A strip long beside its width is a squat
/// panel whose diagonal field needs bars both ways, so the lesser ratio counts (DERIVED:
/// equilibrium of the panel; compare 18.10.4.3 for walls).
pub(super) fn diaphragm_shear(strip: &DiaphragmShear) -> DiaphragmStrength {
    let mut notes = Notes::NONE;
    let area = strip.thickness_mm * strip.length_mm;
    let root = held_root(strip.concrete_mpa);
    let ratio_counted = strip.parallel_ratio.min(strip.across_ratio);
    notes.add_if(strip.across_ratio < strip.parallel_ratio, Note::WeakerSteelCounts);
    let concrete_kn = DIAPHRAGM[0] * strip.lightweight * root * area / 1e3;
    let steel_kn = ratio_counted * strip.yield_mpa.min(FRICTION_YIELD) * area / 1e3;
    let cap_kn = DIAPHRAGM[1] * root * area / 1e3;
    notes.add_if(concrete_kn + steel_kn > cap_kn, Note::CapGoverns);
    DiaphragmStrength {
        concrete_kn,
        steel_kn,
        ratio_counted,
        cap_kn,
        strength_kn: (concrete_kn + steel_kn).min(cap_kn),
        notes,
    }
}

/// l_d = f_y/(1.1·λ·√f'c)·ψ/((c_b + K_tr)/d_b)·d_b ≥ 300 mm (ACI 318-19 25.4.2.4).
pub(super) fn development_length_mm(anchorage: &BarAnchorage) -> f64 {
    let [divisor, most, shortest] = DEVELOPMENT;
    let size = if anchorage.bar.diameter_mm <= SMALL_BARS[1] { SMALL_BARS[0] } else { 1.0 };
    let grade = if anchorage.yield_mpa > 550.0 {
        GRADE[1]
    } else if anchorage.yield_mpa > 420.0 {
        GRADE[0]
    } else {
        1.0
    };
    let per_diameter = anchorage.yield_mpa / (divisor * anchorage.lightweight * held_root(anchorage.concrete_mpa))
        * anchorage.position_factor
        * size
        * grade
        / anchorage.confinement.min(most);
    (per_diameter * anchorage.bar.diameter_mm).max(shortest)
}

/// Stress in proportion to the length there is, at most that at breakout of the row, none below
/// twelve diameters.
pub(super) fn bar_anchorage(anchorage: &BarAnchorage) -> AnchorageStrength {
    let mut notes = Notes::NONE;
    let required_mm = development_length_mm(anchorage);
    let mut strength = AnchorageStrength {
        required_mm,
        stress_mpa: anchorage.yield_mpa,
        breakout_kn: None,
        limit: AnchorageLimit::Yield,
        notes,
    };
    // Also refuses a confinement or strength of zero, for which no length is enough.
    if !required_mm.is_finite() || anchorage.embedment_mm < SHORTEST * anchorage.bar.diameter_mm {
        notes.add(Note::AnchorageTooShort);
        return AnchorageStrength { stress_mpa: 0.0, limit: AnchorageLimit::TooShort, notes, ..strength };
    }
    if anchorage.embedment_mm < required_mm {
        strength.stress_mpa = anchorage.yield_mpa * anchorage.embedment_mm / required_mm;
        strength.limit = AnchorageLimit::Length;
        notes.add(Note::AnchorageGoverns);
    }
    if let Some(breakout) = anchorage.breakout {
        let force = breakout_kn(anchorage, breakout);
        strength.breakout_kn = Some(force);
        notes.add_if(anchorage.concrete_mpa < BREAKOUT_CONCRETE, Note::BreakoutOutOfRange);
        let stress = force * 1e3 / anchorage.bar.area_mm2;
        if stress < strength.stress_mpa {
            strength.stress_mpa = stress;
            strength.limit = AnchorageLimit::Breakout;
            notes.add(Note::BreakoutGoverns);
        }
    }
    AnchorageStrength { notes, ..strength }
}

/// 0.75·ψ_ed·(A_Nc/A_Nco)·7·√f'c·h_ef^1.5 for one bar of a long row (ACI 318-19 17.6.2, 17.10.5.4;
/// cracked concrete, no φ).
fn breakout_kn(anchorage: &BarAnchorage, breakout: Breakout) -> f64 {
    let depth = anchorage.embedment_mm;
    let reach = 1.5 * depth;
    let across = breakout.edge_mm.min(reach) + breakout.far_edge_mm.min(reach);
    let share = breakout.spacing_mm.min(2.0 * reach) * across / (4.0 * reach * reach);
    let nearest = breakout.edge_mm.min(breakout.far_edge_mm);
    let edge = if nearest < reach { BREAKOUT_EDGE[0] + BREAKOUT_EDGE[1] * nearest / reach } else { 1.0 };
    let single = BREAKOUT[0] * anchorage.lightweight * anchorage.concrete_mpa.max(0.0).sqrt() * pow(depth, BREAKOUT[1]);
    BREAKOUT_EARTHQUAKE * edge * share * single / 1e3
}

/// φ 0.75 where a bending mechanism caps the force, else 0.60 (21.2.4); bars that do not yield
/// leave the interface brittle, so 0.60 as well.
pub(super) fn factors(state: ConnectionState) -> ConnectionFactors {
    let [ductile, brittle] = PHI_SHEAR;
    let pick = |good: bool| if good { ductile } else { brittle };
    ConnectionFactors {
        interface: pick(state.capped_by_mechanism && state.bars_yield),
        diaphragm: pick(state.capped_by_mechanism),
        chord: PHI_CHORD,
        demand: 1.0,
        breakout: PHI_BREAKOUT,
    }
}

/// 0.2·S_DS, importance inside the plateau.
pub(super) fn least_part_force_g(plateau_g: f64) -> f64 {
    LEAST_PART * plateau_g
}

pub(super) fn provision(provision: Provision) -> Provided {
    let (formula, clause) = match provision {
        Provision::Interface => ("φ·min(μ·(C − T), V_max)", "ACI 318-19 22.9.4, 22.9.4.6, 21.2.4"),
        Provision::Diaphragm => ("φ·min(V_c + V_s, V_max)", "ACI 318-19 18.12.9, 21.2.4 (from listings)"),
        Provision::Anchorage => ("f_y·l/l_d ≤ f_y", "ACI 318-19 25.4.2.4"),
        Provision::Breakout => ("φ·n·N_cb/2", "ACI 318-19 17.6.2, 17.10.5.4 (from memory)"),
        Provision::Tension => ("φ·A_s·f_y", "ACI 318-19 21.2.1 (from memory)"),
        Provision::Joint => ("γ·√f_e·A_j", "ASCE/SEI 41-17 10.4.2.3.2, no reduction in an assessment (from memory)"),
        Provision::Rocking => ("P·L/2·(1 − q/q_c)", "ASCE/SEI 41-17 8.4.2.3 (from memory)"),
    };
    Provided { formula, clause }
}
