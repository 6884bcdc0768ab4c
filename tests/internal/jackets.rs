//! Jackets on all, three or one faces, cast round a column that bears load or not.

use crate::connections::{project, with};
use crate::pushover_models::ready;
use serde_json::{Value, json};
use sisterframe_core::connection::{ConnectionKind, Part, Remark, Symbol};
use sisterframe_core::evaluate::study;
use sisterframe_core::finding::Code;
use sisterframe_core::framing::Framing;
use sisterframe_core::line_mode::Hinge;
use sisterframe_core::material::{Bar, ConcreteLaw};
use sisterframe_core::math::pow;
use sisterframe_core::model::{Column, Model};
use sisterframe_core::project::{Direction, Project};
use sisterframe_core::rules::{self, Rules};
use sisterframe_core::screening::{Kind, areas, screening};
use sisterframe_core::section::Sense;
use sisterframe_core::section_shapes::{PerimeterBars, jacket_bars};
use sisterframe_core::sections::{Sections, both_senses};
use sisterframe_core::study::OptionResult;
use sisterframe_core::works::rates::Task;
use sisterframe_core::works::take_off;
use sisterframe_tests::approx::assert_near;

/// A jacket on the inner columns of line A.
fn jacket(changes: &[(&str, Value)]) -> Value {
    let own = json!({"kind": "jacket", "x": ["2", "3"], "y": ["A"], "thickness_mm": 120, "bars": 8, "bar_mm": 20, "hoop_mm": 10,
                     "hoop_spacing_mm": 100, "concrete_mpa": 28, "hoop_embedment_mm": 250});
    with(own, changes)
}

fn on(faces: &str) -> Project {
    project(&json!([jacket(&[("faces", json!(faces))])]))
}

fn model(project: &Project) -> Model {
    Model::new(&project.building, &project.schemes[0])
}

fn inner(model: &Model) -> &Column {
    model.column_on(Direction::X, 0, 1, 1).expect("a column")
}

fn strengthened(project: &Project) -> OptionResult {
    study(project).options[1].clone()
}

const FACES: [(&str, [f64; 4]); 9] = [
    ("all", [120.0; 4]),
    ("not_lower_x", [0.0, 120.0, 120.0, 120.0]),
    ("not_higher_x", [120.0, 0.0, 120.0, 120.0]),
    ("not_lower_y", [120.0, 120.0, 0.0, 120.0]),
    ("not_higher_y", [120.0, 120.0, 120.0, 0.0]),
    ("lower_x", [120.0, 0.0, 0.0, 0.0]),
    ("higher_x", [0.0, 120.0, 0.0, 0.0]),
    ("lower_y", [0.0, 0.0, 120.0, 0.0]),
    ("higher_y", [0.0, 0.0, 0.0, 120.0]),
];

/// All bars stand in the jacket, as far from each other as the faces allow, and mirror images have
/// mirrored bars.
#[test]
fn bars_stand_in_the_jacket() {
    let bars = |count| PerimeterBars {
        count,
        bar: Bar::round(20.0),
        cover_mm: 30.0,
        hoop_diameter_mm: 10.0,
        yield_mpa: 420.0,
    };
    for (faces, added) in FACES {
        for count in [4, 7, 8, 12] {
            let (width, depth) = (400.0, 500.0);
            let Some(placed) = jacket_bars([width, depth], added, &bars(count)) else {
                assert!(faces == "all" && count == 7, "{faces}, {count}");
                continue;
            };
            assert_eq!(placed.len(), count as usize, "{faces}");
            for bar in &placed {
                let in_core = bar.x_mm.abs() < width / 2.0 && bar.y_mm.abs() < depth / 2.0;
                let beyond = bar.x_mm < -width / 2.0 - added[0]
                    || bar.x_mm > width / 2.0 + added[1]
                    || bar.y_mm < -depth / 2.0 - added[2]
                    || bar.y_mm > depth / 2.0 + added[3];
                assert!(!in_core && !beyond, "{faces}, {count}: {bar:?}");
            }
            // Mirrored in x the same bars.
            let mirrored = jacket_bars([width, depth], [added[1], added[0], added[2], added[3]], &bars(count));
            for bar in mirrored.expect("fits") {
                let there = |own: &sisterframe_core::section::PlacedBar| {
                    (own.x_mm + bar.x_mm).abs() < 1e-9 && (own.y_mm - bar.y_mm).abs() < 1e-9
                };
                assert!(placed.iter().any(there), "{faces}, {count}: {bar:?}");
            }
        }
    }
    // Eight on three faces: a corner pair, an end pair, and by length of the arms (500) and the back (540).
    let three = jacket_bars([400.0, 500.0], [120.0, 120.0, 0.0, 120.0], &bars(8)).expect("fits");
    let in_back = three.iter().filter(|bar| bar.y_mm > 250.0 + 120.0 - 51.0).count();
    assert_eq!((in_back, three.len()), (4, 8));
}

/// A section cut into strips: no code in common with the engine but the laws' own figures (DERIVED).
struct Strips {
    /// Width, from, to, law, strain before.
    rects: Vec<(f64, f64, f64, ConcreteLaw, f64)>,
    /// Ordinate, area, yield, law of the concrete round it, strain before.
    bars: Vec<(f64, f64, f64, ConcreteLaw, f64)>,
}

impl Strips {
    fn stress(law: &ConcreteLaw, strain: f64, top: f64) -> f64 {
        match *law {
            // The block reaches down to where the strain has fallen to 1 − β₁ of that at the top.
            ConcreteLaw::Block { strength_mpa, factor, depth_ratio, .. } => {
                if strain >= (1.0 - depth_ratio) * top {
                    factor * strength_mpa
                } else {
                    0.0
                }
            }
            ConcreteLaw::Parabola { strength_mpa, peak_strain, exponent, .. } => {
                let ratio = (strain / peak_strain).clamp(0.0, 1.0);
                strength_mpa * (1.0 - pow(1.0 - ratio, exponent))
            }
        }
    }

    /// Force and moment about y = 0 with the neutral axis at a depth, towards +y compressed.
    fn at(&self, axis: f64) -> (f64, f64) {
        let y_top = self.rects.iter().map(|rect| rect.2).fold(f64::NEG_INFINITY, f64::max);
        let mut top = self.rects.iter().map(|rect| rect.3.ultimate_strain()).fold(f64::INFINITY, f64::min);
        for (_, _, to, law, before) in self.rects.iter().filter(|rect| rect.4 > 0.0) {
            let part = 1.0 - (y_top - to) / axis;
            if part > 0.0 {
                top = top.min((law.ultimate_strain() - before) / part);
            }
        }
        let strain = |y: f64| top * (1.0 - (y_top - y) / axis);
        let (mut force, mut moment) = (0.0, 0.0);
        for (width, from, to, law, before) in &self.rects {
            let count = ((to - from) * 8.0).ceil();
            let step = (to - from) / count;
            for i in 0..count as usize {
                let y = from + (i as f64 + 0.5) * step;
                let stress = Self::stress(law, strain(y) + before, top + before);
                force += stress * width * step;
                moment += stress * width * step * y;
            }
        }
        for (y, area, yield_mpa, law, before) in &self.bars {
            let own = (200_000.0 * (strain(*y) + before)).clamp(-yield_mpa, *yield_mpa);
            let stress = own - Self::stress(law, strain(*y) + before, top + before);
            force += stress * area;
            moment += stress * area * y;
        }
        (force / 1e3, moment / 1e6)
    }

    fn moment_at(&self, axial_kn: f64) -> f64 {
        let (mut low, mut high) = (1.0, 5000.0);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if self.at(middle).0 < axial_kn { low = middle } else { high = middle }
        }
        self.at(0.5 * (low + high)).1
    }
}

fn strips(project: &Project, rules: &'static dyn Rules, added: [f64; 4], mirrored: bool) -> (Strips, f64) {
    let model = model(project);
    let column = inner(&model);
    let materials = &project.building.materials;
    let sections = Sections::new(&model, materials, rules).expect("a set");
    let (old, new) = (sections.old_concrete_mpa(), sections.concrete_mpa(28.0));
    let [law, fresh] = [old, new].map(|mpa| rules.concrete_law(mpa).expect("a law"));
    let relieved = column.jacket.as_ref().is_some_and(|jacket| jacket.relieved);
    let steel = 8.0 * std::f64::consts::PI * 100.0;
    let modulus = rules.concrete_modulus_mpa(old).expect("a modulus");
    let strain = 1000.0 * column.axial_kn / (modulus * (400.0 * 500.0 - steel) + 200_000.0 * steel);
    let before = if relieved { 0.0 } else { strain };
    // Bending along x: the 400 mm are the depth, the 500 mm the width.
    let flip = |y: f64| if mirrored { -y } else { y };
    let [lower, higher] = if mirrored { [added[1], added[0]] } else { [added[0], added[1]] };
    let beside = added[2] + added[3];
    let mut rects = vec![(500.0, -200.0, 200.0, law, before)];
    for (width, from, to) in
        [(beside, -200.0, 200.0), (500.0 + beside, 200.0, 200.0 + higher), (500.0 + beside, -200.0 - lower, -200.0)]
    {
        if width > 0.0 && to > from {
            rects.push((width, from, to, fresh, 0.0));
        }
    }
    let area = std::f64::consts::PI * 100.0;
    let mut bars = Vec::new();
    // Eight in the old column: corners, and one in the middle of each face.
    for (count, y) in [(3.0, -150.0), (2.0, 0.0), (3.0, 150.0)] {
        bars.push((y, count * area, sections.old_steel_mpa(), law, before));
    }
    let jacket = column.jacket.as_ref().expect("a jacket");
    let own = sections.jacket_bars(jacket);
    // Along x as depth: the engine's x is the width here.
    let placed = jacket_bars([500.0, 400.0], [added[2], added[3], added[0], added[1]], &own).expect("they fit");
    bars.extend(placed.iter().map(|bar| (flip(bar.y_mm), bar.area_mm2, bar.yield_mpa, fresh, 0.0)));
    (Strips { rects, bars }, column.axial_kn)
}

/// Moments of the composite section in both senses by both laws, cast under load or not, against
/// strips of an eighth of a millimetre (DERIVED).
#[test]
fn composite_sections_match_strips() {
    for set in [rules::american(), rules::european()] {
        for (faces, added) in FACES {
            for relieved in [false, true] {
                let project = project(&json!([jacket(&[("faces", json!(faces)), ("relieved", json!(relieved))])]));
                let model = model(&project);
                let sections = Sections::new(&model, &project.building.materials, set).expect("a set");
                let column = inner(&model);
                let section = sections.column(column, Direction::X, sections.old_steel_mpa(), 0.0).expect("answered");
                let got = both_senses(section.as_ref(), column.axial_kn, 0.0);
                for (mirrored, moment) in [(false, got[0]), (true, got[1])] {
                    let (own, axial_kn) = strips(&project, set, added, mirrored);
                    let what = format!("{}, {faces}, relieved {relieved}, mirrored {mirrored}", set.key());
                    assert_near(&what, moment, own.moment_at(axial_kn), 4e-3);
                }
            }
        }
    }
}

/// What a column bore before stays on it: its strain is felt, and at a high load the old concrete
/// holds the whole back.
#[test]
fn load_left_on_the_column_is_felt() {
    let of = |relieved: bool| {
        let mut project = project(&json!([jacket(&[("relieved", json!(relieved))])]));
        project.building.materials.concrete_mpa = 10.0;
        project.building.storeys.iter_mut().for_each(|storey| storey.finishes_kpa = 10.0);
        project
    };
    for set in [rules::american(), rules::european()] {
        let squash = |project: &Project| {
            let model = model(project);
            let sections = Sections::new(&model, &project.building.materials, set).expect("a set");
            let section = sections.column(inner(&model), Direction::X, sections.old_steel_mpa(), 0.0);
            let section = section.expect("answered").expect("a section");
            let axial = inner(&model).axial_kn;
            [
                section.strength(axial, Sense::Plus, 0.0).expect("within").moment_knm,
                section.strength(3.0 * axial, Sense::Plus, 0.0).expect("within").moment_knm,
            ]
        };
        let (left, relieved) = (squash(&of(false)), squash(&of(true)));
        assert!(left != relieved && (left[0] / relieved[0] - 1.0).abs() < 0.1, "{left:?} {relieved:?}");
    }
    // The rotation table is asked with the load on the old column alone.
    let capping = |project: &Project| {
        let hinges = ready(project, Some(0), false).expect("it stands").hinges;
        let place = sisterframe_core::place::Place::Column { x: "2".into(), y: "A".into(), storey: 1 };
        let own = hinges[0].iter().find(|it| it.place == place && matches!(it.hinges[0], Hinge::ColumnEnd { .. }));
        let own = own.expect("an end of the column");
        own.senses[0].expect("a strength").capping
    };
    let (on_it, off_it) = (capping(&of(false)), capping(&of(true)));
    assert!(on_it < off_it, "{on_it} {off_it}");
}

/// Hoops that do not close confine nothing, and carry shear as far as they are anchored; where they
/// are not, the jacket is dead weight.
#[test]
fn open_hoops_confine_nothing_and_must_be_anchored() {
    for set in ["american", "european"] {
        let of = |changes: &[(&str, Value)]| {
            let mut file = project(&json!([jacket(changes)])).to_value();
            file["rules"] = json!(set);
            Project::from_value(&file).expect("a project")
        };
        let member = |project: &Project, option: usize| {
            let own = study(project).options[option].clone();
            let place = sisterframe_core::place::Place::Column { x: "2".into(), y: "A".into(), storey: 1 };
            own.directions[0].storeys[0].members.iter().find(|it| it.place == place).cloned().expect("a column")
        };
        let three = of(&[("faces", json!("not_lower_y"))]);
        let loose = of(&[("faces", json!("not_lower_y")), ("hoop_embedment_mm", Value::Null)]);
        let closed = of(&[]);
        let standing = member(&closed, 0);
        let says = |project: &Project, code: Code| strengthened(project).findings.iter().any(|own| own.code == code);
        assert!(says(&loose, Code::JacketUnanchored) && !says(&three, Code::JacketUnanchored));
        assert!(!says(&closed, Code::JacketUnanchored));
        // Loose: strengths as built but for the weight of the jacket.
        let [a, b] = [member(&loose, 1), standing.clone()];
        assert_near("shear strength", a.shear_capacity_kn, b.shear_capacity_kn, 0.03);
        assert_near("bending", a.flexural_kn, b.flexural_kn, 0.06);
        assert!(strengthened(&loose).connections.iter().all(|it| it.kind != ConnectionKind::JacketFace));
        // Anchored: stronger than as built, weaker in shear than closed.
        let [open, all] = [member(&three, 1), member(&closed, 1)];
        assert!(open.flexural_kn > 1.2 * standing.flexural_kn, "{set}");
        assert!(open.shear_capacity_kn > 1.1 * standing.shear_capacity_kn, "{set}");
        assert!(open.shear_capacity_kn < all.shear_capacity_kn, "{set}");
        // Better anchored, stronger in shear, until the hoops yield.
        let short = member(&of(&[("faces", json!("not_lower_y")), ("hoop_embedment_mm", json!(100))]), 1);
        assert!(short.shear_capacity_kn < open.shear_capacity_kn, "{set}");
    }
}

/// Mirrored jackets swap the senses and nothing else.
#[test]
fn mirrored_jackets_swap_the_senses() {
    let moments = |faces: &str| {
        let project = on(faces);
        let model = model(&project);
        let sections = Sections::new(&model, &project.building.materials, rules::american()).expect("a set");
        let column = inner(&model);
        let section = sections.column(column, Direction::X, sections.old_steel_mpa(), 0.0).expect("answered");
        both_senses(section.as_ref(), column.axial_kn, 0.0)
    };
    for (one, other, apart) in [("lower_x", "higher_x", 0.05), ("not_lower_x", "not_higher_x", 0.005)] {
        let ([a, b], [c, d]) = (moments(one), moments(other));
        assert_near("swapped", a, d, 1e-9);
        assert_near("swapped", b, c, 1e-9);
        assert!((a / b - 1.0).abs() > apart, "{one}: both senses alike");
    }
}

/// Stiffness of the composite by the parallel-axis theorem (DERIVED), softened by the factor of the
/// clause (EN 1998-3 A.4.2.2: 1.05 on the yield rotation where the surface is roughened, 1.20 where it
/// is not; MEMORY).
#[test]
fn stiffness_follows_outline_and_surface() {
    let rigidity = |project: &Project| {
        let model = model(project);
        let framing = Framing::new(&model, &project.building.materials, rules::european()).expect("framed");
        let line = framing.lines.iter().find(|line| line.direction == Direction::X && line.line == 0).expect("line A");
        line.frame.column(0, 1).expect("a column").flexural_rigidity_kn_m2
    };
    let modulus = |mpa: f64| {
        let project = on("lower_x");
        let model = model(&project);
        let sections = Sections::new(&model, &project.building.materials, rules::european()).expect("a set");
        rules::european().concrete_modulus_mpa(sections.concrete_mpa(mpa)).expect("a modulus")
    };
    let (old, new) = (modulus(18.0), modulus(28.0));
    let (a, b) = (old * 500.0 * 400.0, new * 500.0 * 120.0);
    let centroid = b * -260.0 / (a + b);
    let about = |area: f64, depth: f64, at: f64| area * (depth * depth / 12.0 + (at - centroid) * (at - centroid));
    let expected = 0.5 * (about(a, 400.0, 0.0) + about(b, 120.0, -260.0)) / 1e9;
    assert_near("one face", rigidity(&on("lower_x")), expected / 1.05, 1e-9);
    let plain = project(&json!([jacket(&[("faces", json!("lower_x")), ("surface", json!("plain"))])]));
    assert_near("not roughened", rigidity(&plain), expected / 1.2, 1e-9);
}

/// A plate beside the force hands over V·H/j with j = I/Q of half of it, 2/3·d·(b + t)/t for one concrete
/// (DERIVED from the shear flow of a rectangle).
#[test]
fn a_plate_beside_the_force_hands_over_half_of_its_depth() {
    let project = project(&json!([jacket(&[("faces", json!("lower_y")), ("concrete_mpa", json!(18))])]));
    let own = strengthened(&project);
    let found = |kind: ConnectionKind| own.connections.iter().filter(move |it| it.kind == kind);
    let along =
        found(ConnectionKind::JacketFace).find(|it| it.figure(Symbol::SkinBeyond) == Some(0.0)).expect("a plate");
    let arm = along.figure(Symbol::InnerArm).expect("an arm");
    assert_near("arm", arm, 2.0 / 3.0 * 0.4 * (500.0 + 120.0) / 120.0, 1e-9);
    assert!(along.remarks.contains(&Remark::PlateBeside) && along.free_body().is_none());
    assert!(along.check(Part::JacketFace).is_some_and(|check| check.demand > 0.0 && check.strength > 0.0));
    // Across y the same jacket has a face across the force.
    let across = found(ConnectionKind::JacketFace).find(|it| it.figure(Symbol::SkinBeyond) == Some(120.0));
    assert!(
        across.is_some_and(|it| it.free_body().is_some_and(|body| body.residual().iter().all(|it| it.abs() < 1e-6)))
    );
}

/// Concrete, faces and rooms of a jacket on the street side: 120 mm on 400 mm, and no room is shut.
#[test]
fn a_jacket_on_the_outer_face_leaves_the_rooms_alone() {
    let works = |faces: &str| {
        let project = on(faces);
        let model = model(&project);
        take_off(&model, &project.building)
    };
    let street = works("lower_y");
    assert_eq!(street.len(), 4, "two columns in two storeys");
    for own in &street {
        assert!(own.rooms.is_empty() && own.cored_rooms.is_empty(), "{:?}", own.place);
        assert_near("concrete", own.quantity(Task::PourJacket), 0.12 * 0.4 * 3.5, 1e-9);
        assert_near("forms", own.quantity(Task::FormJacket), (0.4 + 2.0 * 0.12) * 3.5, 1e-9);
        assert_eq!(own.quantity(Task::CoreSlab), 0.0);
    }
    let inside = works("higher_y");
    assert!(inside.iter().all(|own| !own.rooms.is_empty()));
    for own in works("not_lower_y") {
        assert_near("concrete of three faces", own.quantity(Task::PourJacket), (0.64 * 0.62 - 0.2) * 3.5, 1e-9);
        assert_near("faces roughened", own.quantity(Task::Roughen), (0.4 + 2.0 * 0.5) * 3.5, 1e-9);
        assert_near("forms of three faces", own.quantity(Task::FormJacket), (1.4 + 6.0 * 0.12) * 3.5, 1e-9);
    }
    for own in works("all") {
        assert_near("concrete all round", own.quantity(Task::PourJacket), (0.64 * 0.74 - 0.2) * 3.5, 1e-9);
        assert_near("forms all round", own.quantity(Task::FormJacket), 2.0 * (0.64 + 0.74) * 3.5, 1e-9);
    }
}

/// What cannot be cast is refused with the field named; what is below the usual is told.
#[test]
fn impossible_bars_are_refused_and_unusual_sizes_told() {
    let refused = |changes: &[(&str, Value)]| {
        let mut file = on("all").to_value();
        file["schemes"][0]["measures"] = json!([jacket(changes)]);
        Project::from_value(&file).err().map(|error| error.path)
    };
    let at = |key: &str| Some(format!("schemes[0].measures[0].{key}"));
    assert_eq!(refused(&[]), None);
    assert_eq!(refused(&[("thickness_mm", json!(60)), ("bar_mm", json!(32))]), at("thickness_mm"));
    assert_eq!(refused(&[("bars", json!(10))]), at("bars"));
    assert_eq!(refused(&[("bars", json!(40)), ("bar_mm", json!(36))]), at("bars"));
    assert_eq!(refused(&[("bars", json!(10)), ("faces", json!("not_lower_x"))]), None);
    assert_eq!(refused(&[("bars", json!(14)), ("faces", json!("lower_x"))]), at("bars"));

    let told = |measure: Value| {
        let findings = strengthened(&project(&json!([measure]))).findings;
        findings.into_iter().filter(|own| own.code == Code::BelowUsual).count()
    };
    assert_eq!(told(jacket(&[])), 0);
    // Thickness, hoops every 220 mm, concrete 20 MPa against 18 + 5.
    let poor = jacket(&[("thickness_mm", json!(80)), ("hoop_spacing_mm", json!(220)), ("concrete_mpa", json!(20))]);
    assert_eq!(told(poor), 3);
    let wing = |changes: &[(&str, Value)]| {
        let own = json!({"kind": "wing_wall", "x": ["2"], "y": ["A"], "direction": "x", "length_mm": 600, "thickness_mm": 200,
                         "bar_mm": 10, "bar_spacing_mm": 200, "concrete_mpa": 24});
        with(own, changes)
    };
    assert_eq!(told(wing(&[])), 0);
    assert_eq!(told(wing(&[("length_mm", json!(400)), ("thickness_mm", json!(150))])), 2);
    assert_eq!(told(wing(&[("bar_mm", json!(8)), ("bar_spacing_mm", json!(300))])), 1);
}

/// Fields of a jacket set otherwise.
type Changes<'a> = &'a [(&'a str, Value)];

/// Quick screening counts a jacket where the evaluation does: in shear where its hoops close or are anchored, under
/// gravity where its bars go through the floors of a column relieved before. Areas by hand.
#[test]
fn quick_screening_counts_a_jacket_only_where_it_acts() {
    let cases: [(Changes<'_>, bool, bool); 6] = [
        (&[("faces", json!("not_lower_x")), ("hoop_embedment_mm", Value::Null)], false, false),
        (
            &[("faces", json!("not_lower_x")), ("hoop_embedment_mm", Value::Null), ("relieved", json!(true))],
            false,
            false,
        ),
        (&[("faces", json!("not_lower_x"))], true, false),
        (&[("faces", json!("not_lower_x")), ("relieved", json!(true))], true, true),
        (&[("relieved", json!(true)), ("continuous", json!(false))], true, false),
        (&[("relieved", json!(true))], true, true),
    ];
    for (changes, in_shear, under_gravity) in cases {
        let project = project(&json!([jacket(changes)]));
        let (with_it, mut without) = (model(&project), model(&project));
        without.columns.iter_mut().for_each(|column| column.jacket = None);
        let gross = |column: &Column| column.kind.x_mm * column.kind.y_mm;
        let added = |column: &Column| {
            let [x0, x1, y0, y1] = column.jacket.as_ref().map_or([0.0; 4], |own| own.added_mm());
            (column.kind.x_mm + x0 + x1) * (column.kind.y_mm + y0 + y1) - gross(column)
        };
        let at_base = || with_it.columns.iter().filter(|column| column.storey == 1);
        let skins: f64 = at_base().map(added).sum();
        assert!(skins > 0.0);
        let by_hand = (at_base().map(gross).sum::<f64>() + if in_shear { skins } else { 0.0 }) / 1e6;
        assert_near("area in shear, m²", areas(&with_it, Direction::X, 1).columns_m2, by_hand, 1e-12);
        let option = strengthened(&project);
        let found = |model: &Model, kind: Kind| {
            let [along_x, _] = screening(&project, model, &option);
            along_x.expect("results").check(kind).expect("made").value
        };
        let axial = |column: &Column| {
            let mm2 = gross(column) + if under_gravity { added(column) } else { 0.0 };
            1000.0 * column.axial_kn / mm2 / project.building.materials.concrete_mpa
        };
        let most = with_it.columns.iter().map(axial).fold(0.0, f64::max);
        assert_near("axial stress", found(&with_it, Kind::AxialStress), most, 1e-12);
        let [stress, bare] = [&with_it, &without].map(|model| found(model, Kind::ColumnShear));
        assert_eq!(stress < bare, in_shear, "{changes:?}: {stress} MPa, {bare} without");
        assert!(in_shear || stress == bare, "{changes:?}: {stress} MPa, {bare} without");
    }
}
