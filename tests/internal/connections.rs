//! Connections of whole schemes: closed forms, what sizes do, and the slab that is proposed.

use serde_json::{Value, json};
use sisterframe_core::connection::{
    ConnectionKind, ConnectionResult, Part, Proposal, Remark, Required, Symbol, TARGET, propose, used, weight_to_add_kn,
};
use sisterframe_core::evaluate::{Proposed, propose_slab, study};
use sisterframe_core::finding::Code;
use sisterframe_core::fitting::start;
use sisterframe_core::footing::Strip;
use sisterframe_core::model::Model;
use sisterframe_core::project::{Direction, Measure, Names, Project, Span};
use sisterframe_core::rules;
use sisterframe_core::study::{ForceBound, OptionResult, Study};
use sisterframe_tests::approx::assert_near;

/// Two storeys on 4 × 3 lines with one scheme.
pub(crate) fn project(measures: &Value) -> Project {
    let lines = |names: &[&str], bay: f64| -> Vec<Value> {
        names.iter().enumerate().map(|(i, name)| json!({"name": name, "at_m": bay * i as f64})).collect()
    };
    let project = json!({
        "sisterframe": 1, "name": "Two storeys", "ground_motion": {"sxs_g": 0.6, "sx1_g": 0.35},
        "building": {
            "occupancy": "office", "year": 1970,
            "x_lines": lines(&["1", "2", "3", "4"], 5.0), "y_lines": lines(&["A", "B", "C"], 6.0),
            "storeys": vec![json!({"height_m": 3.5, "slab_mm": 120, "finishes_kpa": 1.5, "live_kpa": 2.5}); 2],
            "materials": {"concrete_mpa": 18, "steel_mpa": 300, "hoop_steel_mpa": 240},
            "column_types": [{"name": "K1", "x_mm": 400, "y_mm": 500, "bars": 8, "bar_mm": 20, "hoop_mm": 10, "hoop_spacing_mm": 150}],
            "beam_types": [{"name": "G1", "width_mm": 300, "depth_mm": 500, "top_bars": 4, "top_bar_mm": 19,
                            "bottom_bars": 3, "bottom_bar_mm": 19, "stirrup_mm": 10, "stirrup_spacing_mm": 150}],
            "columns": [{"column": "K1"}], "beams": [{"beam": "G1"}],
        },
        "schemes": [{"name": "Scheme", "measures": measures}],
    });
    Project::from_value(&project).unwrap_or_else(|error| panic!("{error}"))
}

pub(crate) fn frame() -> Value {
    json!({"kind": "external_frame", "face": "A", "bays": [1, 3], "gap_m": 0.8, "column_along_mm": 600, "column_across_mm": 500,
           "column_bars": 12, "column_bar_mm": 25, "beam_width_mm": 400, "beam_depth_mm": 600, "beam_bars": 4, "beam_bar_mm": 22,
           "concrete_mpa": 28, "slab_mm": 180, "across_bar_mm": 16, "across_spacing_mm": 200, "embedment_mm": 240,
           "along_bar_mm": 13, "along_spacing_mm": 200, "footing": {"length_m": 2.6, "width_m": 2.4, "bearing_kpa": 200}})
}

pub(crate) fn with(mut measure: Value, changes: &[(&str, Value)]) -> Value {
    for (key, value) in changes {
        measure[key] = value.clone();
    }
    measure
}

fn scheme(study: &Study) -> &OptionResult {
    &study.options[1]
}

fn of_kind(option: &OptionResult, kind: ConnectionKind) -> Vec<&ConnectionResult> {
    option.connections.iter().filter(|own| own.kind == kind).collect()
}

fn figure(of: &ConnectionResult, symbol: Symbol) -> f64 {
    of.figure(symbol).unwrap_or_else(|| panic!("{}: no {symbol:?}", of.place))
}

/// A lower slab bears on the beam as far as the beam goes; openings shorten the joint.
#[test]
fn level_thickness_and_openings_set_the_contact() {
    let contact = |changes: &[(&str, Value)]| {
        let study = study(&project(&json!([with(frame(), changes)])));
        let slabs = of_kind(scheme(&study), ConnectionKind::ConnectingSlab);
        (figure(slabs[0], Symbol::Contact), figure(slabs[0], Symbol::Length), slabs[0].remarks.clone())
    };
    let (height, length, remarks) = contact(&[]);
    // Three bays of 5 m between columns 0.4 m deep.
    assert_eq!((height, length), (180.0, 3.0 * 4.6));
    assert!(!remarks.contains(&Remark::SlabDeeperThanBeam));
    let (height, length, remarks) = contact(&[("slab_drop_mm", json!(400)), ("slab_openings_m", json!(2.6))]);
    assert_near("height", height, 100.0, 1e-12);
    assert_near("length", length, 11.2, 1e-12);
    assert!(remarks.contains(&Remark::SlabDeeperThanBeam));
    // Nothing of the face left: no slab, and the frame stands alone.
    let none = study(&project(&json!([with(frame(), &[("slab_openings_m", json!(20))])])));
    assert!(of_kind(scheme(&none), ConnectionKind::ConnectingSlab).is_empty());
    let refused = json!([with(frame(), &[("slab_drop_mm", json!(430))])]);
    let file = serde_json::from_str::<Value>(&project(&json!([frame()])).to_json()).expect("a file");
    let mut file = file;
    file["schemes"][0]["measures"] = refused;
    let error = Project::from_value(&file).expect_err("refused").to_string();
    assert!(error.contains("slab_drop_mm"), "{error}");
}

/// An edge embedded deep enough is ductile, a short one brittle, a stub none; the force does not
/// depend on it while the slab holds.
#[test]
fn anchorage_tells_how_a_slab_fails() {
    let joint = |embedment: u32, bar: u32| {
        let change = [("embedment_mm", json!(embedment)), ("across_bar_mm", json!(bar))];
        let study = study(&project(&json!([with(frame(), &change)])));
        let slab = of_kind(scheme(&study), ConnectionKind::ConnectingSlab)[0].clone();
        let check = slab.check(Part::OldJoint).cloned().unwrap_or_else(|| panic!("no joint"));
        (check, slab.remarks)
    };
    let (check, remarks) = joint(240, 16);
    assert!(remarks.contains(&Remark::AnchorageShort) && remarks.contains(&Remark::PeakTaken));
    assert_eq!((check.factor, check.term(Symbol::Peak)), (0.60, Some(1.5)));
    let (check, remarks) = joint(120, 16);
    assert!(remarks.contains(&Remark::AnchorageNone));
    assert_eq!((check.strength, check.utilisation), (0.0, f64::MAX));
    // D10 develops in 300 mm; the beam leaves 260.
    let (check, _) = joint(300, 10);
    assert_eq!(check.term(Symbol::Embedment), Some(260.0));
}

/// Bars round an infill reach no deeper than the shallowest old member: columns of 400 mm leave 360.
#[test]
fn bars_round_an_infill_end_in_the_old_members() {
    let round = |embedment: u32| {
        let wall = json!({"kind": "infill_wall", "line": "A", "bays": [2, 2], "thickness_mm": 200, "bar_mm": 13,
                          "bar_spacing_mm": 200, "dowel_mm": 19, "dowel_spacing_mm": 200,
                          "dowel_embedment_mm": embedment, "concrete_mpa": 28});
        let study = study(&project(&json!([wall])));
        let bars = of_kind(scheme(&study), ConnectionKind::Perimeter)[0];
        let joint = bars.check(Part::TopJoint).unwrap_or_else(|| panic!("no joint"));
        (figure(bars, Symbol::Embedment), joint.term(Symbol::BarStress).expect("a stress"))
    };
    let (deepest, most) = round(360);
    assert_eq!(round(500), (deepest, most));
    assert_eq!(deepest, 360.0);
    let (less, weaker) = round(300);
    assert_eq!(less, 300.0);
    assert_near("stress", weaker, most * 300.0 / 360.0, 1e-9);
}

/// What a measure starts with is bonded deep enough to count, in every demo.
#[test]
fn bars_of_a_new_measure_count() {
    for (project, ..) in demo_frames() {
        let building = project.building.clone();
        let free = |line: &str, bay| building.walls.iter().all(|wall| wall.line != line || wall.bay != bay);
        let line = building.y_lines.iter().map(|line| line.name.as_str()).find(|line| free(line, 1)).expect("a bay");
        let mut tried = project.clone();
        tried.schemes.truncate(1);
        let span = Span { first: 1, last: 1 };
        let wing = start::wing_wall(&building, Direction::Y, Names::default(), Names(vec![line.to_owned()]));
        for measure in [Measure::InfillWall(start::infill_wall(&building, line, span)), Measure::WingWall(wing)] {
            tried.schemes[0].measures = vec![measure];
            tried.check().expect("fits");
            let study = study(&tried);
            for own in &scheme(&study).connections {
                assert!(!own.remarks.contains(&Remark::AnchorageNone), "{}: {}", project.name, own.place);
            }
        }
    }
}

/// With wings as wide as the column and of its concrete the section is a rectangle of depth h:
/// I/Q at the joint is b·h³/12 over b·l·(h − l)/2.
#[test]
fn shear_flow_of_a_wing_that_is_a_rectangle() {
    let wing = json!({"kind": "wing_wall", "x": ["2"], "y": ["A"], "direction": "x", "length_mm": 600, "thickness_mm": 400,
                      "bar_mm": 13, "bar_spacing_mm": 150, "concrete_mpa": 18, "edge_embedment_mm": 200});
    let mut project = project(&json!([wing]));
    project.building.column_types[0].y_mm = 400.0;
    let results = study(&project);
    let edges = of_kind(scheme(&results), ConnectionKind::WingEdge);
    assert_eq!(edges.len(), 2, "one for each storey");
    let (depth, length): (f64, f64) = (1.6, 0.6);
    let arm = depth * depth * depth / 12.0 / (length * (depth - length) / 2.0);
    assert_near("inner arm", figure(edges[0], Symbol::InnerArm), arm, 1e-12);
    // 3.0 m clear: two curtains of twenty bars.
    assert_near("bars", figure(edges[0], Symbol::Bars), 40.0, 1e-12);
    let Measure::WingWall(own) = &mut project.schemes[0].measures[0] else { panic!("a wing wall") };
    own.edge_embedment_mm = None;
    let results = study(&project);
    let edges = of_kind(scheme(&results), ConnectionKind::WingEdge);
    assert!(edges[0].utilisation().is_none() && edges[0].remarks.contains(&Remark::BarsIntoColumnNotGiven));
    let old = of_kind(scheme(&results), ConnectionKind::Footing);
    assert!(old.iter().any(|own| own.remarks.contains(&Remark::OldFootingNotGiven)));
}

/// A frame over the middle bay of three: the floor brings a third of its force at either side, and
/// the beams there collect it.
#[test]
fn a_frame_over_one_bay_of_three_collects_two_thirds() {
    let study = study(&project(&json!([with(frame(), &[("bays", json!([2, 2]))])])));
    let option = scheme(&study);
    let collectors = of_kind(option, ConnectionKind::Collector);
    assert_eq!(collectors.len(), 2);
    for own in collectors {
        assert_near("collected", figure(own, Symbol::CollectorForce), figure(own, Symbol::Force) / 3.0, 1e-12);
        // Three D19 at the bottom, the weaker layer.
        let steel = 3.0 * core::f64::consts::PI * 19.0 * 19.0 / 4.0;
        assert_near("steel", figure(own, Symbol::Steel), steel, 1e-12);
        let check = own.governing().unwrap_or_else(|| panic!("no check"));
        assert_near("strength", check.design, 0.9 * steel * 300.0 / 1e3, 1e-12);
    }
    // Over all three there is nothing to collect.
    let whole = sisterframe_core::evaluate::study(&project(&json!([frame()])));
    assert!(of_kind(scheme(&whole), ConnectionKind::Collector).is_empty());
}

/// Without a footing only gravity holds, and bearing is withheld; weight added to a strip makes it
/// rock at the moment asked for, unless the ground gives way first.
#[test]
fn what_holds_a_footing_down() {
    let study = study(&project(&json!([with(frame(), &[("footing", Value::Null)])])));
    let bare = of_kind(scheme(&study), ConnectionKind::Footing)[0].clone();
    assert!(bare.remarks.contains(&Remark::FootingNotGiven) && bare.check(Part::Bearing).is_none());
    let given = sisterframe_core::evaluate::study(&project(&json!([frame()])));
    let pad = of_kind(scheme(&given), ConnectionKind::Footing)[0];
    let sizes = [Symbol::FootingLength, Symbol::Width, Symbol::FootingDepth].map(|symbol| figure(pad, symbol));
    assert_eq!(sizes, [2.6, 2.4, 0.6]);
    let strip = Strip { length_m: 6.0, width_m: 2.0, ultimate_kpa: 600.0, subgrade_mn_m3: 24.0 };
    for moment in [2000.0, 3500.0, 5000.0] {
        let more = weight_to_add_kn(&strip, 600.0, moment).expect("there is one");
        assert_near("rocks at", strip.rocking_moment_knm(600.0 + more), moment, 1e-9);
    }
    // The most such a strip carries is B·L²·q_c/8 = 5400 kNm.
    assert_eq!(weight_to_add_kn(&strip, 600.0, 5401.0), None);
    assert_eq!(weight_to_add_kn(&strip, 3000.0, 1000.0), Some(0.0));
}

/// Before there are capacity curves the force is elastic; with them never less than the performance
/// point asks for.
#[test]
fn the_force_of_a_slab_follows_what_is_known() {
    let project = project(&json!([frame()]));
    let (first, whole) = (sisterframe_core::evaluate::outline(&project), study(&project));
    for (early, late) in scheme(&first).slabs.iter().zip(&scheme(&whole).slabs) {
        assert!(matches!(
            early.bound,
            ForceBound::ElasticSpectrum | ForceBound::FrameMechanism | ForceBound::FootingUplift
        ));
        assert_ne!(late.bound, ForceBound::ElasticSpectrum);
    }
    for slab in of_kind(scheme(&whole), ConnectionKind::ConnectingSlab) {
        assert!(figure(slab, Symbol::Force) >= figure(slab, Symbol::PerformanceForce));
    }
}

/// What is asked for too much is said, once for each kind.
#[test]
fn a_connection_that_is_short_is_a_finding() {
    let study = study(&project(&json!([with(
        frame(),
        &[("bays", json!([2, 2])), ("column_along_mm", json!(1200)), ("beam_depth_mm", json!(1200))]
    )])));
    let option = scheme(&study);
    let short = option
        .connections
        .iter()
        .filter(|own| own.kind == ConnectionKind::Collector && own.utilisation().is_some_and(|used| used > 1.0));
    let said = option.findings.iter().filter(|own| own.code == Code::ConnectionShort).count();
    assert_eq!(said, usize::from(short.count() > 0));
}

fn demo_frames() -> Vec<(Project, usize, String)> {
    let demos = [
        include_str!("../../demo-scenarios/school.json"),
        include_str!("../../demo-scenarios/clinic.json"),
        include_str!("../../demo-scenarios/office.json"),
        include_str!("../../demo-scenarios/corner.json"),
    ];
    let mut found = Vec::new();
    for text in demos {
        let project = Project::from_json(text).unwrap_or_else(|error| panic!("{error}"));
        for (index, scheme) in project.schemes.iter().enumerate() {
            for measure in &scheme.measures {
                if let Measure::ExternalFrame(frame) = measure {
                    found.push((project.clone(), index, frame.face.clone()));
                }
            }
        }
    }
    found
}

/// A proposal put into the scheme passes when all is evaluated anew; with the bars one step wider
/// apart it does not, unless they are as wide apart as is tried.
#[test]
fn a_proposed_slab_passes_and_one_step_less_does_not() {
    let mut tight = 0;
    for (project, index, face) in demo_frames() {
        let study = study(&project);
        let proposed = propose_slab(&project, index, &face, &study).expect("answered").expect("there is a frame");
        let Proposed::Slab(proposal) = proposed else { panic!("no slab for {face}: {proposed:?}") };
        let mut with = project.clone();
        for measure in &mut with.schemes[index].measures {
            if let Measure::ExternalFrame(own) = measure
                && own.face == face
            {
                *own = proposal.applied(own);
            }
        }
        assert_eq!(with.check(), Ok(()));
        let whole = sisterframe_core::evaluate::study(&with);
        let slabs = whole.options[index + 1].slabs.iter().filter(|slab| slab.face == face);
        let most = slabs.clone().map(|slab| slab.utilisation).fold(0.0, f64::max);
        assert!(most <= TARGET, "{face}: {most}");

        // The forces it was made for, one step less.
        let materials = &project.building.materials;
        let model = Model::new(&with.building, &with.schemes[index]);
        let frame = model.frames.iter().find(|own| own.spec.face == face).expect("the frame");
        let required: Vec<Required<'_>> = slabs
            .map(|slab| Required {
                slab: frame.slabs[slab.level as usize - 1].as_ref().expect("a slab"),
                force_kn: slab.demand_kn,
                tension_kn: slab.tension_kn,
                capped_by_mechanism: true,
            })
            .collect();
        let set = rules::american();
        let again = propose(set, materials, frame, &required).expect("answered").expect("one passes");
        assert!(used(set, materials, frame, &required, &again).expect("answered").utilisation <= TARGET);
        if again.across_spacing_mm < 300.0 {
            let wider = Proposal { across_spacing_mm: again.across_spacing_mm + 10.0, ..again };
            let worse = used(set, materials, frame, &required, &wider).expect("answered").utilisation;
            assert!(worse > TARGET, "{face}: {worse} with bars at {}", wider.across_spacing_mm);
            tight += 1;
        }
        // Ten times the force is more than any sensible slab passes, and the part is named.
        let tenfold: Vec<Required<'_>> =
            required.iter().map(|own| Required { force_kn: 10.0 * own.force_kn, ..*own }).collect();
        let none = propose(set, materials, frame, &tenfold).expect("answered").expect_err("too much");
        assert!(none.utilisation > TARGET && none.part != Part::Bearing, "{none:?}");
    }
    assert!(tight > 2, "{tight} proposals are not at the widest spacing");
}

/// Two walls along x, 12 m apart, hold a floor of 15 m by 12 m: w·L²/8 = F·L/8, its chords 0.9·15 m
/// apart, three bars of 19 mm in the weaker layer of the beams at its ends. The sag is that of a
/// simple beam in bending, a quarter of t·B³/12, and shear, B·t/1.2.
#[test]
fn a_floor_spans_between_its_walls() {
    let wall = |line: &str| {
        json!({"kind": "infill_wall", "line": line, "bays": [2, 2], "thickness_mm": 200, "bar_mm": 13, "bar_spacing_mm": 150,
               "dowel_mm": 16, "dowel_spacing_mm": 100, "dowel_embedment_mm": 300, "concrete_mpa": 28})
    };
    let study = study(&project(&json!([wall("A"), wall("C")])));
    let option = scheme(&study);
    let spans = of_kind(option, ConnectionKind::FloorSpan);
    assert_eq!(spans.len(), 2, "one for each floor");
    let along = &option.directions[0];
    let peak = along
        .capacity
        .as_ref()
        .map_or(0.0, |own| own.curves.iter().map(|assessed| assessed.curve.peak_kn).fold(0.0, f64::max));
    for span in spans {
        let floor = &along.storeys[span.storey as usize - 1];
        let force = floor.floor_force_kn * (peak / along.base_shear_kn).min(1.0);
        assert_near("force", figure(span, Symbol::Force), force, 1e-9);
        let chord = force * 12.0 / 8.0 / (0.9 * 15.0);
        let check = span.check(Part::ChordBars).expect("a check");
        assert_near("chord", check.demand, chord, 1e-9);
        assert_near("bars", check.strength, 3.0 * std::f64::consts::PI * 19.0 * 19.0 / 4.0 * 0.3, 1e-9);
        let modulus = 4700.0 * f64::sqrt(1.5 * 18.0) * 1000.0;
        let load = floor.floor_force_kn / 12.0;
        let bends =
            5.0 * load * 12.0 * 12.0 * 12.0 * 12.0 / (384.0 * modulus * 0.25 * 0.12 * 15.0 * 15.0 * 15.0 / 12.0);
        let shears = load * 12.0 * 12.0 / (8.0 * 0.4 * modulus * 0.12 * 15.0 / 1.2);
        assert_near("sag", figure(span, Symbol::FloorSag), 1000.0 * (bends + shears), 1e-9);
        let ratio = 1000.0 * (bends + shears) / floor.drift_mm;
        assert_near("flexibility", figure(span, Symbol::Flexibility), ratio, 1e-6);
        assert_eq!(span.remarks.contains(&Remark::FloorNotRigid), ratio > 0.5 && ratio <= 2.0, "{ratio}");
        assert_eq!(span.remarks.contains(&Remark::FloorFlexible), ratio > 2.0, "{ratio}");
    }
    // One wall leaves nothing to span between.
    let one = sisterframe_core::evaluate::study(&project(&json!([wall("B")])));
    assert!(of_kind(scheme(&one), ConnectionKind::FloorSpan).is_empty());
}

/// Interior joint of an edge line, a beam across on one side only: 10·0.083·√f'c on 400 mm by 500 mm
/// (ASCE/SEI 41-17 10.4.2.3.2, MEMORY), the same with and without the jacket, which only lets more in.
#[test]
fn a_jacket_leaves_the_joint_as_it_was() {
    let joint = |thickness: f64| {
        let jacket = json!({"kind": "jacket", "x": ["2"], "y": ["A"], "thickness_mm": thickness, "bars": 8, "bar_mm": 20,
                            "hoop_mm": 10, "hoop_spacing_mm": 100, "concrete_mpa": 28});
        let study = study(&project(&json!([jacket])));
        let joints = of_kind(scheme(&study), ConnectionKind::Joint);
        let along_x = joints.iter().find(|own| own.along_x && own.storey == 1).expect("a joint");
        (*along_x).clone()
    };
    let (thin, thick) = (joint(80.0), joint(200.0));
    let concrete = figure(&thin, Symbol::ExpectedConcrete);
    assert!(concrete >= 18.0);
    let strength = 10.0 * 0.083 * concrete.sqrt() * 400.0 * 500.0 / 1000.0;
    for own in [&thin, &thick] {
        let check = own.check(Part::Joint).expect("a check");
        assert_near("strength", check.strength, strength, 1e-9);
        let moment = figure(own, Symbol::BeamMoments).min(figure(own, Symbol::ColumnMoments));
        assert_near("demand", check.demand, moment / 0.4 - moment / 3.5, 1e-9);
        assert!(own.remarks.contains(&Remark::JointAsBuilt));
    }
    assert!(figure(&thick, Symbol::ColumnMoments) > figure(&thin, Symbol::ColumnMoments));
    assert!(thick.utilisation() >= thin.utilisation());
}

/// Ends of a fixed beam that settle against each other, 6·E·I·Δ/g² (any handbook of beams); the strip
/// of 180 mm and 28 MPa over 0.8 m cracks long before 5 mm.
#[test]
fn a_settling_footing_cracks_the_strip() {
    let study = study(&project(&json!([frame()])));
    let slab = of_kind(scheme(&study), ConnectionKind::ConnectingSlab)[0];
    let inertia = 13.8 * 0.18 * 0.18 * 0.18 / 12.0;
    // E_c of the expected strength (ASCE 41-17 Table 10-1), as the frames have it.
    let moment = 6.0 * 4700.0 * f64::sqrt(1.5 * 28.0) * 1000.0 * inertia * 0.005 / 0.64;
    assert_near("moment", figure(slab, Symbol::SettlementMoment), moment, 1e-9);
    let cracks = 0.62 * f64::sqrt(28.0) * 1000.0 * 13.8 * 0.18 * 0.18 / 6.0;
    assert_near("cracks", figure(slab, Symbol::CrackingMoment), cracks, 1e-9);
    assert!(slab.remarks.contains(&Remark::SettlementCracks));
}
