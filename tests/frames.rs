//! Short ways to write frames and buildings down.

use sisterframe_core::assembly::{Assembly, Floor, Line, Link, LinkedLine};
use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine, StoreySpring};
use sisterframe_core::linear::Square;
use sisterframe_core::project::Direction;

/// EI of a gross rectangle, kN·m².
pub fn bending(modulus_kn_m2: f64, width_m: f64, depth_m: f64) -> f64 {
    modulus_kn_m2 * width_m * depth_m * depth_m * depth_m / 12.0
}

/// A column on centre lines, gross section, no shear deformation.
pub fn centre_line_column(modulus_kn_m2: f64, width_m: f64, depth_m: f64, shortens: bool) -> Column {
    Column {
        flexural_rigidity_kn_m2: bending(modulus_kn_m2, width_m, depth_m),
        shear_rigidity_kn: None,
        axial_rigidity_kn: shortens.then_some(modulus_kn_m2 * width_m * depth_m),
        rigid_bottom_m: 0.0,
        rigid_top_m: 0.0,
    }
}

/// A beam on centre lines, gross section, no shear deformation.
pub fn centre_line_beam(modulus_kn_m2: f64, width_m: f64, depth_m: f64) -> Beam {
    Beam {
        flexural_rigidity_kn_m2: bending(modulus_kn_m2, width_m, depth_m),
        shear_rigidity_kn: None,
        rigid_left_m: 0.0,
        rigid_right_m: 0.0,
    }
}

/// A regular frame on centre lines: one square column size and one beam size per storey.
pub struct RegularFrame<'a> {
    /// Storey heights, m.
    pub heights_m: &'a [f64],
    /// Bay spans, m.
    pub spans_m: &'a [f64],
    /// Column width and depth of each storey, m.
    pub columns_m: &'a [(f64, f64)],
    /// Beam width and depth of each floor, m.
    pub beams_m: &'a [(f64, f64)],
    /// Young's modulus, kN/m².
    pub modulus_kn_m2: f64,
    /// All feet.
    pub base: Base,
    /// Whether columns shorten.
    pub shortens: bool,
}

impl RegularFrame<'_> {
    /// The frame line.
    pub fn line(&self) -> FrameLine {
        let mut ordinates = vec![0.0];
        for span in self.spans_m {
            ordinates.push(ordinates[ordinates.len() - 1] + span);
        }
        let mut line = FrameLine::new(&ordinates, self.heights_m);
        line.bases.fill(self.base);
        for (storey, (&column, &beam)) in self.columns_m.iter().zip(self.beams_m).enumerate() {
            for column_line in 0..ordinates.len() {
                let member = centre_line_column(self.modulus_kn_m2, column.0, column.1, self.shortens);
                line.set_column(storey, column_line, member);
            }
            for bay in 0..self.spans_m.len() {
                line.set_beam(storey, bay, centre_line_beam(self.modulus_kn_m2, beam.0, beam.1));
            }
        }
        line
    }
}

/// Lateral stiffness of a building whose floors move sideways only: one spring per storey.
pub fn shear_building(storeys_kn_per_m: &[f64]) -> Square {
    let heights = vec![3.0; storeys_kn_per_m.len()];
    let mut line = FrameLine::new(&[0.0], &heights);
    line.storey_springs = storeys_kn_per_m
        .iter()
        .enumerate()
        .map(|(storey, &stiffness_kn_per_m)| StoreySpring { storey, stiffness_kn_per_m })
        .collect();
    line.condense().expect("springs are sound").stiffness().clone()
}

/// Displacements of one line alone under lateral floor forces, m.
pub fn displacements(stiffness: &Square, force_kn: &[f64]) -> Vec<f64> {
    let mut solved = force_kn.to_vec();
    stiffness.factor().expect("the line stands by itself").solve(&mut solved);
    solved
}

/// Floors one above the other with their centre of mass at the origin.
pub fn floors(heights_m: &[f64], mass_t: &[f64]) -> Vec<Floor> {
    heights_m
        .iter()
        .zip(mass_t)
        .map(|(&storey_height_m, &mass_t)| Floor {
            storey_height_m,
            x_m: 0.0,
            y_m: 0.0,
            mass_t,
            gyration_m2: 0.0,
            weight_kn: 0.0,
        })
        .collect()
}

/// A line fixed to the diaphragms.
pub fn fixed_line(direction: Direction, ordinate_m: f64, stiffness: Square) -> Line {
    Line { direction, ordinate_m, stiffness }
}

/// A linked line with no mass or weight, standing at the middle of the plan.
pub fn linked_line(direction: Direction, ordinate_m: f64, stiffness: Square, links: Vec<Link>) -> LinkedLine {
    let floors = stiffness.size();
    LinkedLine {
        direction,
        ordinate_m,
        middle_m: 0.0,
        gyration_m2: 0.0,
        floors,
        stiffness,
        links,
        mass_t: vec![0.0; floors],
        weight_kn: vec![0.0; floors],
    }
}

/// Lines that act in one direction on floors that cannot turn.
pub fn plane(floors: Vec<Floor>, lines: Vec<Line>, linked: Vec<LinkedLine>) -> Assembly {
    use sisterframe_core::assembly::Freedoms;
    Assembly { floors, lines, linked, freedoms: Freedoms::translation(Direction::X), p_delta: false }
}
