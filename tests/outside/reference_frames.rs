//! Plane frames, a building with an external frame, and a wall in plane stress against a
//! general-purpose finite-element library.
//!
//! DERIVED with PyNiteFEA 3.2.0 by `references/frames.py`, which wrote `references/frames.json`.
//! There, rigid arms and floors are members about a million times stiffer than the rest, so
//! agreement ends near six figures.

use serde::Deserialize;
use sisterframe_core::assembly::{Assembly, Link};
use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, Restraint, WallPanel};
use sisterframe_core::linear::Square;
use sisterframe_core::project::Direction::{X, Y};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::frames::{displacements, fixed_line, floors, linked_line};

const TOLERANCE: f64 = 2e-5;

#[derive(Deserialize)]
struct Reference {
    plane_frames: Vec<PlaneFrame>,
    building: Building,
    wall: Wall,
}

fn reference() -> Reference {
    serde_json::from_str(include_str!("../references/frames.json")).expect("frames.py wrote this")
}

#[derive(Deserialize)]
struct PlaneFrame {
    name: String,
    ordinates_m: Vec<f64>,
    storey_heights_m: Vec<f64>,
    columns: Vec<ColumnRow>,
    beams: Vec<BeamRow>,
    walls: Vec<WallRow>,
    bases: Vec<Foot>,
    force_kn: Vec<f64>,
    displacement_m: Vec<f64>,
}

#[derive(Deserialize)]
struct ColumnRow {
    storey: usize,
    line: usize,
    ei: f64,
    ea: f64,
    rigid_bottom_m: f64,
    rigid_top_m: f64,
    shear_kn: f64,
    bottom_kn_m: f64,
    top_kn_m: f64,
    compression_kn: f64,
}

#[derive(Deserialize)]
struct BeamRow {
    floor: usize,
    bay: usize,
    ei: f64,
    rigid_left_m: f64,
    rigid_right_m: f64,
    /// Absent where a wall covers the bay.
    left_kn_m: Option<f64>,
    right_kn_m: Option<f64>,
}

#[derive(Deserialize)]
struct WallRow {
    storey: usize,
    first_line: usize,
    last_line: usize,
    axis_m: f64,
    ei: f64,
    ea: f64,
    base: Foot,
    shear_kn: f64,
    bottom_kn_m: f64,
    top_kn_m: f64,
    compression_kn: f64,
}

#[derive(Deserialize)]
struct Foot {
    rotation: Held,
    vertical: Held,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Held {
    Spring(f64),
    Word(String),
}

impl Held {
    fn restraint(&self) -> Restraint {
        match self {
            Self::Spring(stiffness) => Restraint::Spring(*stiffness),
            Self::Word(word) if word == "fixed" => Restraint::Fixed,
            Self::Word(_) => Restraint::Free,
        }
    }
}

impl Foot {
    fn base(&self) -> Base {
        Base { rotation: self.rotation.restraint(), vertical: self.vertical.restraint() }
    }
}

impl PlaneFrame {
    fn line(&self) -> FrameLine {
        let mut line = FrameLine::new(&self.ordinates_m, &self.storey_heights_m);
        for it in &self.columns {
            let column = Column {
                flexural_rigidity_kn_m2: it.ei,
                shear_rigidity_kn: None,
                axial_rigidity_kn: Some(it.ea),
                rigid_bottom_m: it.rigid_bottom_m,
                rigid_top_m: it.rigid_top_m,
            };
            line.set_column(it.storey, it.line, column);
        }
        for it in &self.beams {
            let beam = Beam {
                flexural_rigidity_kn_m2: it.ei,
                shear_rigidity_kn: None,
                rigid_left_m: it.rigid_left_m,
                rigid_right_m: it.rigid_right_m,
            };
            line.set_beam(it.floor, it.bay, beam);
        }
        for it in &self.walls {
            line.walls.push(WallPanel {
                storey: it.storey,
                first_line: it.first_line,
                last_line: it.last_line,
                axis_m: it.axis_m,
                flexural_rigidity_kn_m2: it.ei,
                shear_rigidity_kn: None,
                axial_rigidity_kn: Some(it.ea),
                base: it.base.base(),
            });
        }
        line.bases = self.bases.iter().map(Foot::base).collect();
        line
    }
}

#[test]
fn plane_frames_with_walls_springs_and_set_backs() {
    let reference = reference();
    assert_eq!(reference.plane_frames.len(), 4);
    for case in &reference.plane_frames {
        let name = &case.name;
        let condensed = case.line().condense().expect(name);
        let u = displacements(condensed.stiffness(), &case.force_kn);
        assert_all_near(name, &u, &case.displacement_m, TOLERANCE);
        let forces = condensed.recover(&u);
        let base_shear: f64 = case.force_kn.iter().sum();
        let near = |what: &str, actual: f64, expected: f64| {
            let close = (actual - expected).abs() <= TOLERANCE * base_shear.max(expected.abs());
            assert!(close, "{name}, {what}: got {actual}, expected {expected}");
        };
        for it in &case.columns {
            let column = forces.column(it.storey, it.line);
            let what = format!("column of storey {} on line {}", it.storey, it.line);
            near(&what, column.shear_kn, it.shear_kn);
            near(&what, column.moment_bottom_kn_m, it.bottom_kn_m);
            near(&what, column.moment_top_kn_m, it.top_kn_m);
            near(&what, column.compression_kn, it.compression_kn);
        }
        for it in &case.beams {
            let beam = forces.beam(it.floor, it.bay);
            let what = format!("beam of floor {} in bay {}", it.floor, it.bay);
            near(&what, -beam.sagging_left_kn_m, it.left_kn_m.unwrap_or(0.0));
            near(&what, beam.sagging_right_kn_m, it.right_kn_m.unwrap_or(0.0));
        }
        for (wall, it) in forces.walls.iter().zip(&case.walls) {
            let what = format!("wall of storey {} from line {}", it.storey, it.first_line);
            near(&what, wall.shear_kn, it.shear_kn);
            near(&what, wall.moment_bottom_kn_m, it.bottom_kn_m);
            near(&what, -wall.moment_top_kn_m, it.top_kn_m);
            near(&what, wall.compression_kn, it.compression_kn);
        }
    }
}

#[derive(Deserialize)]
struct Building {
    x_m: Vec<f64>,
    y_m: Vec<f64>,
    storey_heights_m: Vec<f64>,
    /// By storey, place along x, place along y.
    column_ei_kn_m2: Vec<Vec<Vec<f64>>>,
    beam_ei_along_x_kn_m2: f64,
    beam_ei_along_y_kn_m2: f64,
    external_y_m: f64,
    external_x_m: Vec<f64>,
    external_column_ei_kn_m2: f64,
    external_beam_ei_kn_m2: f64,
    link_kn_per_m: f64,
    load_point_m: [f64; 2],
    force_x_kn: Vec<f64>,
    force_y_kn: Vec<f64>,
    force_external_kn: Vec<f64>,
    floors: Vec<Motion>,
    external_m: Vec<f64>,
    shear_along_x_kn: Vec<Vec<f64>>,
    shear_along_y_kn: Vec<Vec<f64>>,
    shear_external_kn: Vec<f64>,
    link_kn: Vec<f64>,
}

#[derive(Deserialize)]
struct Motion {
    x_m: f64,
    y_m: f64,
    rotation_rad: f64,
}

/// A line of inextensible columns with one beam size.
fn line(ordinates: &[f64], heights: &[f64], column: impl Fn(usize, usize) -> f64, beam: f64) -> Square {
    let mut line = FrameLine::new(ordinates, heights);
    for storey in 0..heights.len() {
        for j in 0..ordinates.len() {
            let member = Column {
                flexural_rigidity_kn_m2: column(storey, j),
                shear_rigidity_kn: None,
                axial_rigidity_kn: None,
                rigid_bottom_m: 0.0,
                rigid_top_m: 0.0,
            };
            line.set_column(storey, j, member);
        }
        for bay in 0..ordinates.len() - 1 {
            let member =
                Beam { flexural_rigidity_kn_m2: beam, shear_rigidity_kn: None, rigid_left_m: 0.0, rigid_right_m: 0.0 };
            line.set_beam(storey, bay, member);
        }
    }
    line.condense().expect("a sound line").stiffness().clone()
}

/// Solved there as one frame in space. Each tying strip is built into the floor and free to turn
/// at the external frame, 3EI/g³, so its force acts on the external frame's own line.
#[test]
fn building_in_space_with_an_external_frame() {
    let it = reference().building;
    let heights = &it.storey_heights_m;
    let mut levels = floors(heights, &[0.0; 2]);
    for floor in &mut levels {
        [floor.x_m, floor.y_m] = it.load_point_m;
    }
    let mut assembly = Assembly::new(levels);
    for (j, &y) in it.y_m.iter().enumerate() {
        let stiffness = line(&it.x_m, heights, |s, i| it.column_ei_kn_m2[s][i][j], it.beam_ei_along_x_kn_m2);
        assembly.lines.push(fixed_line(X, y, stiffness));
    }
    for (i, &x) in it.x_m.iter().enumerate() {
        let stiffness = line(&it.y_m, heights, |s, j| it.column_ei_kn_m2[s][i][j], it.beam_ei_along_y_kn_m2);
        assembly.lines.push(fixed_line(Y, x, stiffness));
    }
    let external = line(&it.external_x_m, heights, |_, _| it.external_column_ei_kn_m2, it.external_beam_ei_kn_m2);
    assembly.linked.push(linked_line(X, it.external_y_m, external, vec![Link::Spring(it.link_kn_per_m); 2]));

    let mut load = assembly.no_load();
    for (s, floor) in load.floors.iter_mut().enumerate() {
        floor.push(X, it.force_x_kn[s], 0.0);
        floor.push(Y, it.force_y_kn[s], 0.0);
    }
    load.linked_kn[0].clone_from(&it.force_external_kn);
    let response = assembly.factor().expect("stands").solve(&load);

    for (motion, expected) in response.floors.iter().zip(&it.floors) {
        let roof = it.floors[1].x_m;
        assert_near("u_x", motion.x_m, expected.x_m, TOLERANCE);
        assert!((motion.y_m - expected.y_m).abs() < TOLERANCE * roof);
        assert_near("θ", motion.rotation_rad, expected.rotation_rad, TOLERANCE);
    }
    let expected: Vec<&Vec<f64>> = it.shear_along_x_kn.iter().chain(&it.shear_along_y_kn).collect();
    assert_eq!(expected.len(), response.lines.len());
    for (line, expected) in response.lines.iter().zip(expected) {
        for (shear, expected) in line.storey_shear_kn.iter().zip(expected) {
            assert!((shear - expected).abs() < TOLERANCE * 250.0, "{shear} against {expected}");
        }
    }
    let linked = &response.linked[0];
    assert_all_near("external frame", &linked.displacement_m, &it.external_m, TOLERANCE);
    assert_all_near("external frame shear", &linked.storey_shear_kn, &it.shear_external_kn, TOLERANCE);
    assert_all_near("link force", &linked.link_force_kn, &it.link_kn, TOLERANCE);
    assert_all_near("link balance", &linked.link_balance_kn, &it.link_kn, TOLERANCE);
}

#[derive(Deserialize)]
struct Wall {
    modulus_kn_m2: f64,
    poisson: f64,
    thickness_m: f64,
    length_m: f64,
    storey_height_m: f64,
    /// Displacement of floor `j` for 1 kN at floor `i`.
    flexibility_m_per_kn: Vec<Vec<f64>>,
}

/// The wide column with A_s = A/1.2 against a mesh of quadrilaterals. Plane stress is a little
/// stiffer (its foot cannot warp), most of all at the first floor, where the wall is squat.
#[test]
fn cantilever_wall_in_plane_stress() {
    let it = reference().wall;
    let shear_modulus = it.modulus_kn_m2 / (2.0 * (1.0 + it.poisson));
    let area = it.thickness_m * it.length_m;
    let mut line = FrameLine::new(&[0.0, it.length_m], &[it.storey_height_m; 4]);
    line.walls = (0..4)
        .map(|storey| WallPanel {
            storey,
            first_line: 0,
            last_line: 1,
            axis_m: it.length_m / 2.0,
            flexural_rigidity_kn_m2: it.modulus_kn_m2 * area * it.length_m * it.length_m / 12.0,
            shear_rigidity_kn: Some(shear_modulus * area / 1.2),
            axial_rigidity_kn: Some(it.modulus_kn_m2 * area),
            base: Base::FIXED,
        })
        .collect();
    let condensed = line.condense().expect("a sound wall");
    for (i, expected) in it.flexibility_m_per_kn.iter().enumerate() {
        let mut unit = [0.0; 4];
        unit[i] = 1.0;
        for (actual, expected) in displacements(condensed.stiffness(), &unit).iter().zip(expected) {
            let ratio = actual / expected;
            assert!((1.0..1.03).contains(&ratio), "beam over plane stress: {ratio}");
        }
    }
}
