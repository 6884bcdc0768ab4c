//! The interface of rule sets: a third set fits, a complete one answers everything, an incomplete
//! one says what it lacks.

use sisterframe_core::hazard::{
    DriftLimit, GroundMotion, GroundType, Hazard, ImportanceClass, LateralDesign, LateralSystem, MassShare, PDelta,
    SpectrumShape,
};
use sisterframe_core::material::{Bar, ConcreteLaw};
use sisterframe_core::performance::Pushed;
use sisterframe_core::project::Knowledge;
use sisterframe_core::rules::{
    self, BarAnchorage, BeamControl, BeamHinge, BeamShear, ColumnAxial, ColumnHinge, ColumnShear, Component,
    ConnectionState, DiaphragmShear, Hoops, InterfaceShear, JointPosition, JointShear, Mark, MasonryPanel,
    NotAvailable, Note, Notes, Provision, QUESTIONS, Ruled, Rules, Splice, Surface, WallLimits, WallShear,
};
use sisterframe_tests::members::COLUMN_END;

/// A set that knows one thing.
#[derive(Debug)]
struct Third;

impl Rules for Third {
    fn key(&self) -> &'static str {
        "third"
    }
    fn title(&self) -> &'static str {
        "Third"
    }
    fn documents(&self) -> &'static [&'static str] {
        &[]
    }
    fn complete(&self) -> bool {
        false
    }
    fn concrete_law(&self, strength_mpa: f64) -> Ruled<ConcreteLaw> {
        Ok(ConcreteLaw::Block { strength_mpa, factor: 1.0, depth_ratio: 0.8, ultimate_strain: 0.0035 })
    }
}

fn hoops() -> Hoops {
    Hoops { area_mm2: 142.0, spacing_mm: 150.0, yield_mpa: 300.0, effective_depth_mm: 340.0 }
}

/// Asks every question; the words of those that have no answer.
fn unanswered(set: &dyn Rules, hazard: Hazard) -> Vec<&'static str> {
    let motion = GroundMotion { hazard, damping: 0.05, importance: 1.0 };
    let bar = Bar::round(16.0);
    let column = ColumnShear {
        width_mm: 400.0,
        depth_mm: 400.0,
        effective_depth_mm: 340.0,
        lever_mm: 280.0,
        compression_mm: 110.0,
        bar_ratio: 0.0143,
        concrete_mpa: 20.0,
        hoops: [hoops(), Hoops::NONE],
        axial_kn: 480.0,
        shear_span_mm: 1200.0,
        ductility: 0.0,
        lightweight: 1.0,
    };
    let axial = ColumnAxial { gross_mm2: 160_000.0, bars_mm2: 2300.0, concrete_mpa: 20.0, steel_mpa: 330.0 };
    let hinge = ColumnHinge {
        axial_ratio: 0.2,
        hoop_ratio: 0.002,
        bar_ratio: 0.015,
        shear_ratio: 0.6,
        concrete_mpa: 20.0,
        hoop_yield_mpa: 300.0,
        bar_yield_mpa: 330.0,
        short_splice: false,
        anchored_hoops: false,
        detail: COLUMN_END,
    };
    let beam = BeamShear {
        width_mm: 300.0,
        effective_depth_mm: 440.0,
        concrete_mpa: 20.0,
        stirrups: hoops(),
        tension_ratio: 0.01,
    };
    let beam_hinge = BeamHinge {
        control: BeamControl::Flexure,
        steel_ratio: 0.2,
        confined: false,
        shear_stress: 0.3,
        spacing_ratio: 0.4,
        compression_to_tension: 0.5,
        span_ratio: 5.0,
        concrete_mpa: 20.0,
        yield_mpa: 330.0,
    };
    let joint = JointShear {
        concrete_mpa: 20.0,
        area_mm2: 160_000.0,
        position: JointPosition::Knee,
        hoop_ratio: 0.0,
        hoop_yield_mpa: 300.0,
        axial_ratio: 0.1,
        lightweight: 1.0,
    };
    let wall = WallShear {
        concrete_mpa: 21.0,
        yield_mpa: 420.0,
        thickness_mm: 200.0,
        length_mm: 4000.0,
        height_mm: 3000.0,
        shear_span_mm: 2000.0,
        horizontal_ratio: 0.0025,
        vertical_ratio: 0.0025,
        axial_kn: 0.0,
        opening_factor: 1.0,
        lightweight: 1.0,
    };
    let limits = WallLimits {
        shear_controls: true,
        compression_term: 0.03,
        shear_stress: 0.3,
        confined: false,
        axial_ratio: 0.05,
        shear_span_ratio: 1.5,
        concrete_mpa: 21.0,
        yield_mpa: 400.0,
    };
    let panel = MasonryPanel {
        length_mm: 4600.0,
        height_mm: 2600.0,
        thickness_mm: 120.0,
        compressive_mpa: 4.1,
        shear_mpa: 0.25,
        column_height_mm: 3000.0,
        column_inertia_mm4: 2.1e9,
        column_modulus_mpa: 21_500.0,
    };
    let interface = InterfaceShear {
        area_mm2: 1e6,
        steel_mm2: 6000.0,
        bar_stress_mpa: 420.0,
        surface: Surface::Roughened,
        concrete_mpa: 21.0,
        normal_kn: 0.0,
        lightweight: 1.0,
    };
    let strip = DiaphragmShear {
        concrete_mpa: 21.0,
        thickness_mm: 180.0,
        length_mm: 6000.0,
        parallel_ratio: 0.0025,
        across_ratio: 0.0025,
        yield_mpa: 420.0,
        lightweight: 1.0,
    };
    let anchorage = BarAnchorage {
        bar,
        yield_mpa: 420.0,
        concrete_mpa: 21.0,
        embedment_mm: 250.0,
        confinement: 2.5,
        position_factor: 1.0,
        breakout: None,
        lightweight: 1.0,
    };
    let (weights_kn, heights_m) = (vec![1000.0, 900.0], vec![3.5, 6.8]);
    let design = LateralDesign {
        motion: motion.clone(),
        weights_kn: weights_kn.clone(),
        heights_m: heights_m.clone(),
        system: LateralSystem::ConcreteFrame,
        analysed_period_s: None,
        reduction: 3.0,
        importance: 1.0,
        short_and_regular: false,
        soft_site_without_study: false,
    };
    let share = MassShare { storeys: 2, system: LateralSystem::ConcreteFrame, period_s: 0.4, corner_period_s: 0.5 };
    let storey = PDelta {
        vertical_kn: 1900.0,
        drift_m: 0.01,
        shear_kn: 500.0,
        height_m: 3.5,
        displacement_factor: 3.0,
        demand_ratio: 1.0,
    };
    let drift = DriftLimit { storeys: 2, importance: ImportanceClass::High, tolerant_partitions: false };
    let splice = Splice { provided_mm: 400.0, required_mm: 800.0, bar_mm: 19.0, yield_mpa: 330.0, concrete_mpa: 20.0 };
    let state = ConnectionState { capped_by_mechanism: true, bars_yield: true };
    let pushed = Pushed {
        curve: vec![[0.0, 0.0], [0.02, 400.0], [0.1, 450.0]],
        masses_t: vec![100.0, 80.0],
        shape: vec![0.5, 1.0],
        period_s: 0.5,
        mass_share: 1.0,
        second_order: 0.0,
    };
    let answers: Vec<Option<NotAvailable>> = vec![
        set.expected_factors().err(),
        set.knowledge_factor(Knowledge::Drawings).err(),
        set.force_controlled(Knowledge::Drawings).err(),
        set.column_axial_kn(&axial).err(),
        set.frame_proportions(28.0, 420.0).err(),
        set.concrete_modulus_mpa(20.0).err(),
        set.concrete_law(20.0).err(),
        set.effective_stiffness(Component::Column { axial_ratio: 0.2 }).err(),
        set.column_shear(&column).err(),
        set.column_rotations(&hinge).err(),
        set.beam_shear(&beam).err(),
        set.beam_rotations(&beam_hinge).err(),
        set.joint_shear(&joint).err(),
        set.splice_stress_mpa(&splice).err(),
        set.wall_shear(&wall).err(),
        set.wall_limits(&limits).err(),
        set.jacket_factors(Surface::Roughened).err(),
        set.masonry_strut(&panel).err(),
        set.interface_shear(&interface).err(),
        set.diaphragm_shear(&strip).err(),
        set.bar_anchorage(&anchorage).err(),
        set.least_part_force_g(1.0).err(),
        set.provision(Provision::Interface).err(),
        set.connection_factors(state).err(),
        set.spectral_acceleration_g(&motion, 0.4).err(),
        set.displacement_demand(&pushed, &motion).err(),
        set.capacity_scale(&pushed, &motion, 0.1).err(),
        set.uniform_pattern().err(),
        set.force_shares(&weights_kn, &heights_m, 0.4).err(),
        set.mass_share(&share).err(),
        set.lateral_forces(&design).err(),
        set.accidental_eccentricity().err(),
        set.torsion_amplification(0.02, 0.015).err(),
        set.p_delta(&storey).err(),
        set.drift_limit(&drift).err(),
    ];
    assert_eq!(answers.len(), QUESTIONS.len(), "a question is missing from this test");
    answers.into_iter().flatten().map(|answer| answer.question).collect()
}

fn two_ordinates() -> Hazard {
    Hazard::TwoOrdinates { short_g: 1.0, one_second_g: 0.5, rock_one_second_g: 0.4, long_period_s: 8.0 }
}

fn ground() -> Hazard {
    Hazard::GroundAcceleration { rock_g: 0.25, ground: GroundType::C, shape: SpectrumShape::Type1 }
}

#[test]
fn a_complete_set_answers_every_question() {
    for set in rules::all().iter().filter(|set| set.complete()) {
        assert_eq!(unanswered(*set, two_ordinates()), Vec::<&str>::new(), "{}", set.title());
    }
    assert!(rules::american().complete() && rules::european().complete());
}

#[test]
fn an_incomplete_set_says_what_it_lacks() {
    let missing = unanswered(&Third, ground());
    assert!(!Third.complete());
    assert!(missing.contains(&"column shear strength") && !missing.contains(&"stress law of concrete"), "{missing:?}");
    assert_eq!(unanswered(rules::european(), ground()), Vec::<&str>::new());
    assert_eq!(unanswered(rules::american(), ground()), Vec::<&str>::new());
}

#[test]
fn a_third_set_fits() {
    let third: &dyn Rules = &Third;
    assert_eq!(unanswered(third, two_ordinates()).len(), QUESTIONS.len() - 1);
    assert!(third.concrete_law(20.0).is_ok());
    let said = third.concrete_modulus_mpa(20.0).expect_err("no answer").to_string();
    assert_eq!(said, "modulus of concrete is not available in the third rule set");
}

#[test]
fn sets_are_found_by_key() {
    for set in rules::all() {
        assert_eq!(rules::by_key(set.key()).map(Rules::title), Some(set.title()));
        assert!(!set.documents().is_empty());
    }
    assert!(rules::by_key("third").is_none());
}

#[test]
fn constants_to_confirm_are_listed() {
    let open = rules::memory_constants();
    assert!(open.len() > 40, "{}", open.len());
    for constant in &open {
        assert!(matches!(constant.mark, Mark::Memory | Mark::SeenListed));
        assert!(!constant.clause.is_empty() && !constant.value.is_empty(), "{constant:?}");
    }
    assert!(open.iter().any(|c| c.key == "MODULUS" && c.value == "4700.0" && c.clause.contains("19.2.2.1")));
    for set in rules::all() {
        let mut keys: Vec<&str> = rules::constants(set.key()).iter().map(|c| c.key).collect();
        let count = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), count, "{} has a key twice", set.title());
    }
}

#[test]
fn notes_are_a_set() {
    let mut notes = Notes::NONE;
    notes.add(Note::CapGoverns);
    notes.add_if(false, Note::NetTension);
    assert_eq!(notes.iter().collect::<Vec<_>>(), [Note::CapGoverns]);
    assert!(Note::ALL.len() <= 32, "a set of notes is 32 bits");
    let mut other = Notes::NONE;
    other.add(Note::NetTension);
    notes.merge(other);
    assert!(notes.has(Note::NetTension) && notes.has(Note::CapGoverns));
    let mut codes: Vec<&str> = Note::ALL.iter().map(|n| n.code()).collect();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), Note::ALL.len());
}
