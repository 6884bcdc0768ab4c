//! The European documents: EN 1998-1:2004, EN 1998-3:2005, EN 1992-1-1:2004, recommended values.
//!
//! Not complete: members of existing buildings (EN 1998-3 Annex A) are still to come, so a
//! project cannot choose this set. Connection strengths carry their material factors inside.

use super::source::clause_constants;
use super::{
    AnchorageLimit, AnchorageStrength, BarAnchorage, Component, ConnectionFactors, ConnectionState, DiaphragmShear,
    DiaphragmStrength, EffectiveStiffness, InterfaceCap, InterfaceShear, InterfaceStrength, JacketFactors,
    NotAvailable, Note, Notes, Ruled, Rules, Surface,
};
use crate::hazard::{
    DriftLimit, GroundMotion, GroundType, Hazard, ImportanceClass, LateralDesign, LateralForces, LateralSystem,
    MassShare, PDelta, PDeltaEffect, PDeltaVerdict, SpectrumShape, height_shares, overturning, storey_shears,
};
use crate::material::{ConcreteLaw, GRAVITY_M_S2};
use crate::math::pow;
use crate::performance::bilinear::Bilinear;
use crate::performance::{Demand, Pushed, Scale, equivalent, inelastic_displacement};
use crate::project::Knowledge;

clause_constants! { CONSTANTS;
    /// Confidence factor CF: limited, normal and full knowledge.
    CONFIDENCE: [f64; 3] = [1.35, 1.2, 1.0], Memory, "EN 1998-3 Table 3.1";
    /// Partial factors of concrete and steel.
    PARTIAL: [f64; 2] = [1.5, 1.15], Memory, "EN 1992-1-1 Table 2.1N, EN 1998-1 5.2.4(3)";
    /// α_cc, recommended; some national annexes have 0.85.
    ALPHA_CC: f64 = 1.0, Memory, "EN 1992-1-1 3.1.6(1)";
    /// Strains of the parabola–rectangle and exponent up to 50 MPa.
    PARABOLA: [f64; 3] = [0.002, 0.0035, 2.0], Memory, "EN 1992-1-1 Table 3.1";
    /// Modulus: E_cm = 22·((f_ck + 8)/10)^0.3 GPa; factor (MPa), added strength, exponent.
    MODULUS: [f64; 3] = [22_000.0, 8.0, 0.3], Memory, "EN 1992-1-1 Table 3.1";
    /// Above 50 MPa: ε_c2 = 2.0 + 0.085·(f − 50)^0.53, ε_cu2 = 2.6 + 35·((90 − f)/100)⁴ (‰), n = 1.4 +
    /// 23.4·((90 − f)/100)⁴.
    PARABOLA_STRONG: [f64; 7] = [2.0, 0.085, 0.53, 2.6, 35.0, 1.4, 23.4], Memory, "EN 1992-1-1 Table 3.1";
    /// Cracked over uncracked stiffness, bending and shear.
    STIFFNESS: f64 = 0.5, Memory, "EN 1998-1 4.3.1(7)";
    /// Friction coefficients: indented (taken for cast in one), rough, smooth.
    FRICTION: [f64; 3] = [0.9, 0.7, 0.6], Seen, "EN 1992-1-1 6.2.5(2)";
    /// Cohesion in an earthquake.
    COHESION: f64 = 0.0, Memory, "EN 1992-1-1 6.2.5(5) halves it for dynamic loads; none counted";
    /// ν = 0.6·(1 − f_ck/250).
    NU: [f64; 2] = [0.6, 250.0], Seen, "EN 1992-1-1 6.2.2(6)";
    /// Bond: 2.25·η₁·η₂·f_ctd, f_ctd from 0.7·0.3·f_ck^⅔.
    BOND: [f64; 3] = [2.25, 0.7, 0.3], Memory, "EN 1992-1-1 8.4.2, Table 3.1";
    /// Shortest anchorage: diameters and mm.
    SHORTEST: [f64; 2] = [10.0, 100.0], Memory, "EN 1992-1-1 8.4.4(1)";
    /// Lever of a deep strip over its length.
    LEVER: f64 = 0.8, Derived, "internal lever of a deep member";
    /// Overstrength on the force of a brittle connection.
    CONNECTION_OVERSTRENGTH: f64 = 1.3, Memory, "EN 1998-1 4.4.2.5";
    /// Jackets: shear, yield rotation on a roughened and on an untreated surface.
    JACKET: [f64; 3] = [0.9, 1.05, 1.2], Memory, "EN 1998-3 A.4.2.2 (A.18–A.20)";
    /// Type 1: S, T_B, T_C, T_D of ground A to E.
    TYPE_1: [[f64; 4]; 5] = [
        [1.0, 0.15, 0.4, 2.0], [1.2, 0.15, 0.5, 2.0], [1.15, 0.2, 0.6, 2.0], [1.35, 0.2, 0.8, 2.0], [1.4, 0.15, 0.5, 2.0],
    ], SeenListed, "EN 1998-1 Table 3.2";
    /// Type 2: S, T_B, T_C, T_D of ground A to E.
    TYPE_2: [[f64; 4]; 5] = [
        [1.0, 0.05, 0.25, 1.2], [1.35, 0.05, 0.25, 1.2], [1.5, 0.1, 0.25, 1.2], [1.8, 0.1, 0.3, 1.2], [1.6, 0.05, 0.25, 1.2],
    ], SeenListed, "EN 1998-1 Table 3.3";
    /// Plateau over a_g·S, and least damping correction.
    PLATEAU: [f64; 2] = [2.5, 0.55], Memory, "EN 1998-1 3.2.2.2, Eq. 3.6";
    /// Least design ordinate over a_g.
    LEAST_DESIGN: f64 = 0.2, Memory, "EN 1998-1 3.2.2.5(4)";
    /// λ for more than two storeys and T₁ ≤ 2·T_C.
    MASS_SHARE: f64 = 0.85, Memory, "EN 1998-1 4.3.3.2.2(1)";
    /// Period by formula: frames and other structures, exponent on height.
    PERIOD: [f64; 3] = [0.075, 0.05, 0.75], Memory, "EN 1998-1 4.3.3.2.2(3)";
    /// Static method up to: times T_C, and s.
    STATIC_LIMIT: [f64; 2] = [4.0, 2.0], Memory, "EN 1998-1 4.3.3.2.1(2)";
    /// Accidental eccentricity over plan size.
    ACCIDENTAL_ECCENTRICITY: f64 = 0.05, Memory, "EN 1998-1 4.3.2(1)";
    /// Second-order effects: neglected, amplified, allowed up to.
    P_DELTA: [f64; 3] = [0.1, 0.2, 0.3], Memory, "EN 1998-1 4.4.2.2";
    /// Drift limits of brittle partitions and of partitions that follow; reduction for ordinary and
    /// for important buildings.
    DRIFT_LIMIT: [f64; 4] = [0.005, 0.01, 0.5, 0.4], Memory, "EN 1998-1 4.4.3.2";
}

/// The European set.
#[derive(Debug)]
pub(super) struct European;

/// Design value of concrete strength, MPa.
fn design_concrete_mpa(characteristic_mpa: f64) -> f64 {
    ALPHA_CC * characteristic_mpa / PARTIAL[0]
}

fn nu(characteristic_mpa: f64) -> f64 {
    NU[0] * (1.0 - characteristic_mpa / NU[1]).max(0.0)
}

/// S, T_B, T_C, T_D.
fn shape(ground: GroundType, shape: SpectrumShape) -> [f64; 4] {
    let table = match shape {
        SpectrumShape::Type1 => &TYPE_1,
        SpectrumShape::Type2 => &TYPE_2,
    };
    table[ground as usize]
}

/// Elastic ordinate over a_g for a damping correction η (EN 1998-1 Eq. 3.2–3.5).
fn elastic([soil, tb, tc, td]: [f64; 4], eta: f64, t: f64) -> f64 {
    let top = PLATEAU[0] * eta;
    soil * if t < tb {
        1.0 + t / tb * (top - 1.0)
    } else if t <= tc {
        top
    } else if t <= td {
        top * tc / t
    } else {
        top * tc * td / (t * t)
    }
}

/// Design ordinate over a_g for a behaviour factor (Eq. 3.13–3.16).
fn reduced([soil, tb, tc, td]: [f64; 4], q: f64, t: f64) -> f64 {
    let top = PLATEAU[0] / q;
    if t < tb {
        soil * (2.0 / 3.0 + t / tb * (top - 2.0 / 3.0))
    } else if t <= tc {
        soil * top
    } else {
        let fall = if t <= td { tc / t } else { tc * td / (t * t) };
        (soil * top * fall).max(LEAST_DESIGN)
    }
}

/// The equivalent single mass of a pushed building with its curve idealised.
struct SingleMass {
    line: Bilinear,
    period_s: f64,
    mass_t: f64,
    /// Γ.
    factor: f64,
}

impl SingleMass {
    /// T* = 2π·√(m*·d_y*/F_y*); Γ falls out of the ratio.
    fn new(pushed: &Pushed, displacement_m: f64) -> Self {
        let [mass_t, factor] = equivalent(&pushed.masses_t, &pushed.shape);
        let line = pushed.line().equal_energy(pushed.idealised_at_m(displacement_m));
        let period_s = 2.0 * core::f64::consts::PI * (mass_t * line.yield_m / line.yield_kn).sqrt();
        Self { line, period_s, mass_t, factor }
    }

    /// q_u = S_e·m*/F_y*.
    fn ratio(&self, acceleration_g: f64) -> f64 {
        acceleration_g * GRAVITY_M_S2 * self.mass_t * self.factor / self.line.yield_kn
    }

    fn elastic_m(&self, acceleration_g: f64) -> f64 {
        let turn = self.period_s / (2.0 * core::f64::consts::PI);
        acceleration_g * GRAVITY_M_S2 * turn * turn
    }
}

impl European {
    /// T_C: of the ground type, or where a pasted spectrum's plateau ends.
    fn corner_s(&self, motion: &GroundMotion) -> Ruled<f64> {
        match &motion.hazard {
            Hazard::GroundAcceleration { ground, shape: kind, .. } => Ok(shape(*ground, *kind)[2]),
            Hazard::Table(points) => {
                let top = points.iter().map(|point| point[1]).fold(0.0, f64::max);
                let velocity = points.iter().map(|[t, a]| t * a).fold(0.0, f64::max);
                if top > 0.0 { Ok(velocity / top) } else { self.unanswered("an empty spectrum table") }
            }
            Hazard::TwoOrdinates { .. } => self.unanswered("a spectrum from two ordinates"),
        }
    }

    fn unanswered<T>(&self, question: &'static str) -> Ruled<T> {
        Err(NotAvailable { rules: self.key(), question })
    }
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
        false
    }

    /// The strength is taken as characteristic.
    /// 1/CF, as mean values divided by it give the capacities of ductile elements (EN 1998-3
    /// 2.2.1(5)P; MEMORY).
    fn knowledge_factor(&self, knowledge: Knowledge) -> Ruled<f64> {
        let [assumed, drawings, tested] = CONFIDENCE;
        Ok(1.0
            / match knowledge {
                Knowledge::Assumed => assumed,
                Knowledge::Drawings => drawings,
                Knowledge::Tested => tested,
            })
    }

    fn concrete_modulus_mpa(&self, strength_mpa: f64) -> Ruled<f64> {
        let [factor, added, exponent] = MODULUS;
        Ok(factor * pow((strength_mpa.max(0.0) + added) / 10.0, exponent))
    }

    /// Parabola–rectangle with the strength handed in as its plateau; above 50 MPa strains and
    /// exponent follow that strength.
    fn concrete_law(&self, strength_mpa: f64) -> Ruled<ConcreteLaw> {
        let [mut peak_strain, mut ultimate_strain, mut exponent] = PARABOLA;
        if strength_mpa > 50.0 {
            let rest = pow((90.0 - strength_mpa.min(90.0)) / 100.0, 4.0);
            let [peak, slope, power, ultimate, ultimate_slope, n, n_slope] = PARABOLA_STRONG;
            peak_strain = (peak + slope * pow(strength_mpa.min(90.0) - 50.0, power)) / 1e3;
            ultimate_strain = (ultimate + ultimate_slope * rest) / 1e3;
            exponent = n + n_slope * rest;
        }
        Ok(ConcreteLaw::Parabola { strength_mpa, peak_strain, ultimate_strain, exponent })
    }

    fn effective_stiffness(&self, _component: Component) -> Ruled<EffectiveStiffness> {
        // Half of the uncracked shear stiffness 0.4·E_c·A_w.
        Ok(EffectiveStiffness { flexure: STIFFNESS, shear: STIFFNESS * 0.4 })
    }

    fn jacket_factors(&self, surface: Surface) -> Ruled<JacketFactors> {
        let [shear, roughened, untreated] = JACKET;
        let treated = !matches!(surface, Surface::Plain);
        let yield_rotation = if treated { roughened } else { untreated };
        Ok(JacketFactors { moment: 1.0, shear, yield_rotation, notes: Notes::NONE })
    }

    /// v_Rdi = c·f_ctd + μ·σ_n + ρ·f_s·μ ≤ 0.5·ν·f_cd with c = 0 (EN 1992-1-1 6.2.5). Tension
    /// enters with its sign.
    fn interface_shear(&self, interface: &InterfaceShear) -> Ruled<InterfaceStrength> {
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
        let tensile = BOND[1] * BOND[2] * pow(interface.concrete_mpa.max(0.0), 2.0 / 3.0) / PARTIAL[0];
        let friction_kn = COHESION * tensile * interface.area_mm2 / 1e3 + friction * pressed.max(0.0);
        let stress = 0.5 * nu(interface.concrete_mpa) * design_concrete_mpa(interface.concrete_mpa);
        let cap_kn = stress * interface.area_mm2 / 1e3;
        notes.add_if(friction_kn > cap_kn, Note::CapGoverns);
        Ok(InterfaceStrength {
            friction,
            bar_stress_mpa: interface.bar_stress_mpa.max(0.0),
            clamping_kn,
            friction_kn,
            cap_kn,
            cap: InterfaceCap::PartOfStrength,
            strength_kn: friction_kn.min(cap_kn),
            notes,
        })
    }

    /// Truss at 45°: least of ρ·t·z·f_yd and ν·f_cd·z·t/2 with z = 0.8·L (EN 1992-1-1 6.2.3); the
    /// lesser of the bars in the two directions counts.
    fn diaphragm_shear(&self, strip: &DiaphragmShear) -> Ruled<DiaphragmStrength> {
        let mut notes = Notes::NONE;
        let area = LEVER * strip.length_mm * strip.thickness_mm;
        let ratio_counted = strip.parallel_ratio.min(strip.across_ratio);
        notes.add_if(strip.across_ratio < strip.parallel_ratio, Note::WeakerSteelCounts);
        let steel_kn = ratio_counted * strip.yield_mpa / PARTIAL[1] * area / 1e3;
        let cap_kn = nu(strip.concrete_mpa) * design_concrete_mpa(strip.concrete_mpa) * area / 2.0 / 1e3;
        notes.add_if(steel_kn > cap_kn, Note::CapGoverns);
        let strength_kn = steel_kn.min(cap_kn);
        Ok(DiaphragmStrength { concrete_kn: 0.0, steel_kn, ratio_counted, cap_kn, strength_kn, notes })
    }

    /// l_b = d/4·f_yd/f_bd, f_bd = 2.25·η₂·f_ctd in good bond conditions (EN 1992-1-1 8.4).
    fn bar_anchorage(&self, anchorage: &BarAnchorage) -> Ruled<AnchorageStrength> {
        let mut notes = Notes::NONE;
        notes.add_if(anchorage.breakout.is_some(), Note::BreakoutNotCovered);
        let tensile = BOND[1] * BOND[2] * pow(anchorage.concrete_mpa.max(0.0), 2.0 / 3.0) / PARTIAL[0];
        let diameter = anchorage.bar.diameter_mm;
        let size = if diameter > 32.0 { (132.0 - diameter) / 100.0 } else { 1.0 };
        let bond = BOND[0] * size * tensile / anchorage.position_factor;
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
        Ok(AnchorageStrength { required_mm, stress_mpa, breakout_kn: None, limit, notes })
    }

    fn connection_factors(&self, _state: ConnectionState) -> Ruled<ConnectionFactors> {
        Ok(ConnectionFactors {
            interface: 1.0,
            diaphragm: 1.0,
            chord: 1.0 / PARTIAL[1],
            demand: CONNECTION_OVERSTRENGTH,
            breakout: 1.0 / PARTIAL[0],
        })
    }

    fn spectral_acceleration_g(&self, motion: &GroundMotion, period_s: f64) -> Ruled<f64> {
        match motion.hazard {
            Hazard::GroundAcceleration { rock_g, ground, shape: kind } => {
                let eta = (10.0 / (5.0 + 100.0 * motion.damping)).sqrt().max(PLATEAU[1]);
                Ok(motion.importance * rock_g * elastic(shape(ground, kind), eta, period_s.max(0.0)))
            }
            Hazard::Table(_) => match motion.tabulated_g(period_s) {
                Some(ordinate) => Ok(ordinate),
                None => self.unanswered("an empty spectrum table"),
            },
            Hazard::TwoOrdinates { .. } => self.unanswered("a spectrum from two ordinates"),
        }
    }

    /// d_t = Γ·d_t* (EN 1998-1 Annex B), repeated with the curve idealised at the answer.
    fn displacement_demand(&self, pushed: &Pushed, motion: &GroundMotion) -> Ruled<Demand> {
        let corner = self.corner_s(motion)?;
        self.spectral_acceleration_g(motion, pushed.period_s)?;
        Ok(pushed.iterate(|at| {
            let it = SingleMass::new(pushed, at);
            let acceleration_g = self.spectral_acceleration_g(motion, it.period_s).unwrap_or(0.0);
            let ratio = it.ratio(acceleration_g);
            let elastic = it.elastic_m(acceleration_g);
            let roof_m = it.factor * inelastic_displacement(elastic, ratio, it.period_s, corner);
            Demand {
                roof_m,
                idealised: it.line,
                period_s: it.period_s,
                acceleration_g,
                strength_ratio: ratio,
                largest_ratio: None,
                factors: vec![("Γ", it.factor), ("m*", it.mass_t)],
                reached: pushed.curve.last().is_some_and(|point| roof_m <= point[0]),
            }
        }))
    }

    /// s = μ_u/q_u where T* ≥ T_C or μ_u ≤ 1, else (1 + (μ_u − 1)·T*/T_C)/q_u, the curve idealised at
    /// the limit (EN 1998-1 Eq. B.9 to B.12 turned round; DERIVED).
    fn capacity_scale(&self, pushed: &Pushed, motion: &GroundMotion, limit_m: f64) -> Ruled<Scale> {
        let corner = self.corner_s(motion)?;
        let it = SingleMass::new(pushed, limit_m);
        let ratio = it.ratio(self.spectral_acceleration_g(motion, it.period_s)?);
        if !(ratio > 0.0 && limit_m > 0.0) {
            return self.unanswered("capacity over demand without shaking or displacement");
        }
        let ductility = limit_m / it.line.yield_m;
        let scale = if it.period_s >= corner || ductility <= 1.0 {
            ductility / ratio
        } else {
            // No more than three times the elastic displacement is asked for.
            ((1.0 + (ductility - 1.0) * it.period_s / corner) / ratio).max(ductility / (3.0 * ratio))
        };
        Ok(Scale { scale, by_strength: false })
    }

    /// Uniform beside modal (EN 1998-1 4.3.3.4.2.2; MEMORY).
    fn uniform_pattern(&self) -> Ruled<bool> {
        Ok(true)
    }

    /// s_i·m_i/Σs_j·m_j with s_i taken as height (EN 1998-1 Eq. 4.11).
    fn force_shares(&self, weights_kn: &[f64], heights_m: &[f64], _period_s: f64) -> Ruled<Vec<f64>> {
        Ok(height_shares(weights_kn, heights_m, 1.0))
    }

    fn mass_share(&self, share: &MassShare) -> Ruled<f64> {
        let counts = share.storeys > 2 && share.period_s <= 2.0 * share.corner_period_s;
        Ok(if counts { MASS_SHARE } else { 1.0 })
    }

    /// Lateral force method (EN 1998-1 4.3.3.2).
    fn lateral_forces(&self, design: &LateralDesign) -> Ruled<LateralForces> {
        let Hazard::GroundAcceleration { rock_g, ground, shape: kind } = design.motion.hazard else {
            return self.unanswered("static lateral design from anything but ground acceleration");
        };
        let shares = height_shares(&design.weights_kn, &design.heights_m, 1.0);
        let (Some(height), false) = (design.heights_m.last().copied(), shares.is_empty()) else {
            return self.unanswered("static lateral design of a building without weight");
        };
        let factor = if design.system == LateralSystem::ConcreteFrame { PERIOD[0] } else { PERIOD[1] };
        let formula_period_s = factor * pow(height, PERIOD[2]);
        let period_s = design.analysed_period_s.unwrap_or(formula_period_s);
        let table = shape(ground, kind);
        let longest_period_s = (STATIC_LIMIT[0] * table[2]).min(STATIC_LIMIT[1]);
        let ordinate = design.importance * rock_g * reduced(table, design.reduction, period_s);
        let mass_share = self.mass_share(&MassShare {
            storeys: design.heights_m.len() as u32,
            system: design.system,
            period_s,
            corner_period_s: table[2],
        })?;
        let coefficient = ordinate * mass_share;
        let base_shear_kn = coefficient * design.weights_kn.iter().sum::<f64>();
        let forces_kn: Vec<f64> = shares.iter().map(|share| share * base_shear_kn).collect();
        let shears_kn = storey_shears(&forces_kn);
        let overturning_knm = overturning(&shears_kn, &design.heights_m);
        Ok(LateralForces {
            formula_period_s,
            longest_period_s,
            period_s,
            terms: vec![("S_d(T₁), g", ordinate), ("λ", mass_share)],
            governs: "4.5",
            coefficient,
            base_shear_kn,
            exponent: 1.0,
            forces_kn,
            shears_kn,
            overturning_knm,
            applicable: period_s <= longest_period_s,
        })
    }

    fn accidental_eccentricity(&self) -> Ruled<f64> {
        Ok(ACCIDENTAL_ECCENTRICITY)
    }

    fn torsion_amplification(&self, _largest_m: f64, _mean_m: f64) -> Ruled<f64> {
        Ok(1.0)
    }

    /// θ = P·q·d_e/(V·h) (EN 1998-1 Eq. 4.28).
    fn p_delta(&self, storey: &PDelta) -> Ruled<PDeltaEffect> {
        let [neglected, amplified, limit] = P_DELTA;
        let theta =
            storey.vertical_kn * storey.displacement_factor * storey.drift_m / (storey.shear_kn * storey.height_m);
        let (verdict, factor) = if theta <= neglected {
            (PDeltaVerdict::Neglect, Some(1.0))
        } else if theta <= amplified {
            (PDeltaVerdict::Amplify, Some(1.0 / (1.0 - theta)))
        } else if theta <= limit {
            (PDeltaVerdict::SecondOrder, None)
        } else {
            (PDeltaVerdict::Unstable, None)
        };
        Ok(PDeltaEffect { theta, limit, factor, verdict })
    }

    fn drift_limit(&self, building: &DriftLimit) -> Ruled<f64> {
        let [brittle, follows, ordinary, important] = DRIFT_LIMIT;
        let drift = if building.tolerant_partitions { follows } else { brittle };
        let reduction = if building.importance == ImportanceClass::Ordinary { ordinary } else { important };
        Ok(drift / reduction)
    }
}
