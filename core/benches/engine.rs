//! What evaluating costs. Run with `cargo bench -p sisterframe-core`.
//!
//! The sizes are those of a building of four storeys on 5 × 9 lines, and of the demos.

#![expect(missing_docs, reason = "the macros of the bench make functions of their own")]

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::{Value, json};
use sisterframe_core::assembly::{Assembly, Freedoms};
use sisterframe_core::evaluate::{outline_option, propose_slab, study, whole_option};
use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine};
use sisterframe_core::framing::Framing;
use sisterframe_core::hazard::{GroundMotion, Hazard};
use sisterframe_core::hinge::HingeStrength;
use sisterframe_core::material::{Bar, ConcreteLaw};
use sisterframe_core::member::Strengths;
use sisterframe_core::model::Model;
use sisterframe_core::modes::Modes;
use sisterframe_core::project::{Direction, Project, Scheme};
use sisterframe_core::pushover::{Pattern, Settings, Setup};
use sisterframe_core::response::Factored;
use sisterframe_core::rules;
use sisterframe_core::section::Sense;
use sisterframe_core::section_shapes::{ColumnShape, PerimeterBars};
use sisterframe_core::study::OptionKind;
use sisterframe_core::verdict::{Demanded, assess};
use std::hint::black_box;

const DEMOS: [(&str, &str); 4] = [
    ("clinic", include_str!("../../demo-scenarios/clinic.json")),
    ("corner", include_str!("../../demo-scenarios/corner.json")),
    ("office", include_str!("../../demo-scenarios/office.json")),
    ("school", include_str!("../../demo-scenarios/school.json")),
];

/// Four storeys on 5 × 9 lines with one scheme of each family.
fn building() -> Project {
    let lines = |names: &[&str], bay: f64| -> Vec<Value> {
        names.iter().enumerate().map(|(i, name)| json!({"name": name, "at_m": bay * i as f64})).collect()
    };
    let storey = |height: f64| json!({"height_m": height, "slab_mm": 130, "finishes_kpa": 1.5, "live_kpa": 2.5});
    let file = json!({
        "sisterframe": 1,
        "name": "Four storeys on 5 × 9 lines",
        "ground_motion": {"sxs_g": 0.5, "sx1_g": 0.3},
        "building": {
            "occupancy": "school",
            "year": 1968,
            "x_lines": lines(&["1", "2", "3", "4", "5", "6", "7", "8", "9"], 5.0),
            "y_lines": lines(&["A", "B", "C", "D", "E"], 6.0),
            "storeys": [storey(3.8), storey(3.4), storey(3.4), storey(3.4)],
            "materials": {"concrete_mpa": 16, "steel_mpa": 300, "hoop_steel_mpa": 240},
            "column_types": [
                {"name": "K1", "x_mm": 450, "y_mm": 450, "bars": 8, "bar_mm": 20, "hoop_mm": 9, "hoop_spacing_mm": 250, "lap_mm": 600},
                {"name": "K2", "x_mm": 400, "y_mm": 450, "bars": 10, "bar_mm": 18, "hoop_mm": 9, "hoop_spacing_mm": 250},
            ],
            "beam_types": [{
                "name": "G1", "width_mm": 300, "depth_mm": 600, "top_bars": 4, "top_bar_mm": 22, "bottom_bars": 3,
                "bottom_bar_mm": 22, "stirrup_mm": 9, "stirrup_spacing_mm": 200,
            }],
            "columns": [{"column": "K1"}, {"column": "K2", "y": ["B", "D"]}],
            "beams": [{"beam": "G1"}],
            "walls": [{"line": "1", "bay": 2, "storeys": [1, 4], "thickness_mm": 150, "bar_mm": 10, "bar_spacing_mm": 200, "curtains": 1}],
            "masonry": [
                {"lines": ["A", "E"], "thickness_mm": 200, "sill_mm": 1000},
                {"lines": ["9"], "thickness_mm": 200},
            ],
        },
        "schemes": [
            {"name": "jackets", "measures": [{
                "kind": "jacket", "thickness_mm": 100, "bars": 12, "bar_mm": 19, "hoop_mm": 12, "hoop_spacing_mm": 100, "concrete_mpa": 28,
            }]},
            {"name": "wings", "measures": [{
                "kind": "wing_wall", "y": ["A", "E"], "x": ["2", "4", "6", "8"], "direction": "x", "length_mm": 900, "thickness_mm": 200,
                "bar_mm": 13, "bar_spacing_mm": 150, "concrete_mpa": 28,
            }]},
            {"name": "infill", "measures": [
                {"kind": "infill_wall", "line": "B", "bays": [2, 3], "thickness_mm": 200, "bar_mm": 13, "bar_spacing_mm": 200,
                 "dowel_mm": 16, "dowel_spacing_mm": 200, "dowel_embedment_mm": 200, "concrete_mpa": 28,
                 "footing": {"length_m": 12, "width_m": 2, "bearing_kpa": 200}},
                {"kind": "infill_wall", "line": "D", "bays": [6, 7], "thickness_mm": 200, "bar_mm": 13, "bar_spacing_mm": 200,
                 "dowel_mm": 16, "dowel_spacing_mm": 200, "dowel_embedment_mm": 200, "concrete_mpa": 28,
                 "footing": {"length_m": 12, "width_m": 2, "bearing_kpa": 200}},
            ]},
            {"name": "frames", "measures": [frame("A"), frame("E")]},
        ],
    });
    Project::from_value(&file).expect("the benchmark's building is valid")
}

fn frame(face: &str) -> Value {
    json!({
        "kind": "external_frame", "face": face, "bays": [1, 8], "gap_m": 0.8, "column_along_mm": 700, "column_across_mm": 500,
        "column_bars": 16, "column_bar_mm": 25, "beam_width_mm": 400, "beam_depth_mm": 700, "beam_bars": 5, "beam_bar_mm": 22,
        "concrete_mpa": 30, "slab_mm": 150, "across_bar_mm": 16, "across_spacing_mm": 200, "embedment_mm": 220,
        "along_bar_mm": 13, "along_spacing_mm": 150, "footing": {"length_m": 2.6, "width_m": 2.6, "bearing_kpa": 200},
    })
}

/// A scheme with its verdict: what a drag of a slider waits for.
fn schemes(bench: &mut Criterion) {
    let project = building();
    let mut group = bench.benchmark_group("scheme with its verdict, 4 storeys, 5 × 9 lines");
    let beside = study(&project);
    for (index, scheme) in project.schemes.iter().enumerate() {
        group.bench_function(&scheme.name, |bench| {
            bench.iter(|| whole_option(black_box(&project), OptionKind::Scheme { index }, &beside))
        });
    }
    group.finish();
}

/// What frames hang on by: every scheme with its connections and without its curves, and the slab that
/// would do on a face.
fn connections(bench: &mut Criterion) {
    let project = building();
    let beside = study(&project);
    let mut group = bench.benchmark_group("connections, 4 storeys, 5 × 9 lines");
    for (index, scheme) in project.schemes.iter().enumerate() {
        group.bench_function(&scheme.name, |bench| {
            bench.iter(|| outline_option(black_box(&project), OptionKind::Scheme { index }, &beside))
        });
    }
    let frames = project.schemes.len() - 1;
    group.bench_function("a slab that would do", |bench| {
        bench.iter(|| propose_slab(black_box(&project), frames, "A", &beside))
    });
    group.finish();
}

/// Whole studies: the building as it stands, every scheme, rebuilding.
fn studies(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("study");
    for (name, text) in DEMOS {
        let project = Project::from_json(text).expect("the demo is valid");
        group.bench_function(name, |bench| bench.iter(|| study(black_box(&project))));
    }
    group.finish();
}

fn section(bench: &mut Criterion) {
    let column = ColumnShape {
        width_mm: 450.0,
        depth_mm: 450.0,
        concrete: ConcreteLaw::Block { strength_mpa: 24.0, factor: 0.85, depth_ratio: 0.85, ultimate_strain: 0.003 },
        bars: PerimeterBars {
            count: 12,
            bar: Bar::round(20.0),
            cover_mm: 30.0,
            hoop_diameter_mm: 10.0,
            yield_mpa: 375.0,
        },
    };
    let section = column.section().expect("the bars fit");
    bench.bench_function("section, moment at an axial force", |bench| {
        bench.iter(|| section.strength(black_box(800.0), Sense::Plus, 0.0));
    });
}

/// A frame line of nine columns and four storeys.
fn line(bench: &mut Criterion) {
    let ordinates: Vec<f64> = (0..9).map(|i| 5.0 * f64::from(i)).collect();
    let mut line = FrameLine::new(&ordinates, &[3.8, 3.4, 3.4, 3.4]);
    line.bases = vec![Base::FIXED; 9];
    for storey in 0..4 {
        for end in 0..9 {
            line.set_column(
                storey,
                end,
                Column {
                    flexural_rigidity_kn_m2: 30_000.0,
                    shear_rigidity_kn: Some(1.6e6),
                    axial_rigidity_kn: Some(4e6),
                    rigid_bottom_m: 0.3,
                    rigid_top_m: 0.3,
                },
            );
        }
        for bay in 0..8 {
            line.set_beam(
                storey,
                bay,
                Beam {
                    flexural_rigidity_kn_m2: 60_000.0,
                    shear_rigidity_kn: Some(1.5e6),
                    rigid_left_m: 0.225,
                    rigid_right_m: 0.225,
                },
            );
        }
    }
    bench.bench_function("frame line, condense", |bench| {
        bench.iter(|| black_box(&line).condense().expect("the frame stands"));
    });
}

/// The parts of an evaluation.
fn parts(bench: &mut Criterion) {
    let project = building();
    let scheme: &Scheme = &project.schemes[3];
    let mut group = bench.benchmark_group("parts, frames");
    group.bench_function("model", |bench| bench.iter(|| Model::new(black_box(&project.building), scheme)));
    let model = Model::new(&project.building, scheme);
    let materials = &project.building.materials;
    let framing = || Framing::new(&model, materials, rules::american()).expect("the frames stand");
    group.bench_function("framing", |bench| bench.iter(framing));
    let assembly = framing().assembly(&model);
    group.bench_function("factor and modes", |bench| {
        bench.iter(|| black_box(&assembly).factor().expect("the building stands").modes().expect("it has mass"));
    });
    group.finish();
}

/// A scheme carried to where it can be pushed over.
struct Ready {
    model: Model,
    framing: Framing,
    assembly: Assembly,
    modes: Modes,
    hinges: [Vec<HingeStrength>; 2],
}

impl Ready {
    fn new(project: &Project, scheme: &Scheme) -> Self {
        let rules = rules::american();
        let materials = &project.building.materials;
        let model = Model::new(&project.building, scheme);
        let framing = Framing::new(&model, materials, rules).expect("the frames stand");
        let mut assembly = framing.assembly(&model);
        let modes = assembly.factor().expect("the building stands").modes().expect("it has mass");
        let forces: Vec<f64> = model.floors.iter().map(|floor| floor.weight_kn * floor.level_m).collect();
        let hinges = Direction::BOTH.map(|direction| {
            let held = Assembly { freedoms: Freedoms::translation(direction), ..assembly.clone() };
            let translated = held.factor().expect("it stands").solve(&assembly.load_by_mass(direction, &forces));
            let strengths = Strengths::new(&model, &framing, materials, rules, direction, &translated, &forces);
            strengths.expect("the rule set answers").hinges
        });
        assembly.p_delta = true;
        Self { model, framing, assembly, modes, hinges }
    }

    fn setup<'b>(&'b self, factored: &'b Factored<'b>, direction: Direction) -> Setup<'b> {
        Setup {
            model: &self.model,
            framing: &self.framing,
            factored,
            mode: self.modes.governing(direction).expect("a mode"),
            hinges: &self.hinges[direction.index()],
            direction,
            level: 1,
            knowledge: 1.0,
            settings: Settings::USUAL,
        }
    }

    fn period_s(&self, direction: Direction) -> f64 {
        self.modes.governing(direction).expect("a mode").period_s
    }

    /// The verdict of both directions.
    fn verdict(&self) -> f64 {
        let hazard =
            Hazard::TwoOrdinates { short_g: 0.5, one_second_g: 0.3, rock_one_second_g: 0.0, long_period_s: 8.0 };
        let motion = GroundMotion { hazard, damping: 0.05, importance: 1.0 };
        let factored = self.assembly.factor().expect("it stands");
        let ratios = Direction::BOTH.map(|direction| {
            let demanded = Demanded {
                rules: rules::american(),
                motion: &motion,
                period_s: self.period_s(direction),
                mass_share: 1.0,
            };
            let capacity = assess(&self.setup(&factored, direction), &demanded).expect("the rule set answers");
            capacity.map_or(0.0, |capacity| capacity.ratio)
        });
        ratios[0].min(ratios[1])
    }
}

const NOTHING: Scheme = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };

/// One push along x, and the verdict of both directions: the benchmark's building
/// with every scheme, then each demo's stiffest and softest option.
fn pushes(bench: &mut Criterion) {
    let large = building();
    let demos = DEMOS.map(|(name, text)| (name, Project::from_json(text).expect("the demo is valid")));
    let mut all: Vec<(String, Ready)> = vec![("large, as it stands".to_owned(), Ready::new(&large, &NOTHING))];
    all.extend(large.schemes.iter().map(|scheme| (format!("large, {}", scheme.name), Ready::new(&large, scheme))));
    for (name, project) in &demos {
        let mut options: Vec<(String, Ready)> = std::iter::once(&NOTHING)
            .chain(&project.schemes)
            .map(|scheme| (format!("{name}, {}", scheme.name.to_lowercase()), Ready::new(project, scheme)))
            .collect();
        options.sort_by(|one, other| one.1.period_s(Direction::X).total_cmp(&other.1.period_s(Direction::X)));
        all.extend(options.pop());
        all.extend((!options.is_empty()).then(|| options.swap_remove(0)));
    }
    let mut group = bench.benchmark_group("one push");
    for (name, ready) in &all {
        let factored = ready.assembly.factor().expect("it stands");
        let setup = ready.setup(&factored, Direction::X);
        group.bench_function(name, |bench| bench.iter(|| setup.curve(black_box(Pattern::FirstMode), true)));
    }
    group.finish();
    let mut group = bench.benchmark_group("verdict, both directions");
    for (name, ready) in &all {
        group.bench_function(name, |bench| bench.iter(|| black_box(ready).verdict()));
    }
    group.finish();
}

criterion_group!(benches, schemes, connections, studies, section, line, parts, pushes);
criterion_main!(benches);
