//! A condensed frame line: its lateral stiffness, and the member forces behind any displacements.

use crate::frame_line::StoreySpring;
use crate::frame_mesh::{Element, Member, Node};
use crate::linear::{BandedFactor, Square, dot};

/// A frame line reduced to one lateral displacement per floor, with what is needed to recover its
/// member forces.
#[derive(Clone, Debug)]
pub struct CondensedLine {
    pub(crate) lines: usize,
    pub(crate) stiffness: Square,
    /// One row per floor: hidden displacements for a unit displacement of that floor alone.
    pub(crate) response: Vec<f64>,
    pub(crate) hidden: usize,
    /// Factors of the stiffness of the hidden displacements.
    pub(crate) factor: BandedFactor,
    pub(crate) nodes: Vec<Node>,
    pub(crate) elements: Vec<Element>,
    pub(crate) storey_springs: Vec<StoreySpring>,
}

/// Forces at the two faces of a column.
///
/// V·L = M_bottom + M_top with L the flexible length: both moments are positive when the storey
/// drifts to the right and the column bends in double curvature.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ColumnForces {
    /// Shear, positive when it resists drift to the right, kN.
    pub shear_kn: f64,
    /// Couple on the lower face, anticlockwise, kN·m.
    pub moment_bottom_kn_m: f64,
    /// Couple on the upper face, anticlockwise, kN·m.
    pub moment_top_kn_m: f64,
    /// Axial force added by the lateral load, compression positive, kN.
    pub compression_kn: f64,
}

/// Forces at the two faces of a beam.
///
/// Drift to the right makes the left face sag and the right face hog.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BeamForces {
    /// Bending moment at the left face, sagging positive, kN·m.
    pub sagging_left_kn_m: f64,
    /// Bending moment at the right face, sagging positive, kN·m.
    pub sagging_right_kn_m: f64,
    /// Shear, positive when it acts upward on the left face, kN: (M_right − M_left)/L.
    pub shear_kn: f64,
}

/// Forces in one wall panel.
///
/// Bending moments carry the sign of a cantilever pushed to the right: V·h = M_bottom − M_top.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WallForces {
    /// Shear, positive when it resists drift to the right, kN.
    pub shear_kn: f64,
    /// Bending moment at the foot of the panel, kN·m.
    pub moment_bottom_kn_m: f64,
    /// Bending moment at the head of the panel, kN·m.
    pub moment_top_kn_m: f64,
    /// Axial force added by the lateral load, compression positive, kN.
    pub compression_kn: f64,
}

/// What a column foot, or the feet that a wall joins, put on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BaseForces {
    /// First column line standing there.
    pub first_line: usize,
    /// Last column line standing there.
    pub last_line: usize,
    /// Ordinate the moment is taken about, m.
    pub ordinate_m: f64,
    /// Horizontal force on the ground, positive to the right, kN.
    pub shear_kn: f64,
    /// Vertical force on the ground added by the lateral load, downward positive, kN.
    pub compression_kn: f64,
    /// Overturning moment on the ground, clockwise (with a push to the right), kN·m.
    pub moment_kn_m: f64,
}

/// Member forces of a frame line.
///
/// Columns and beams are stored storey by storey and looked up by place; walls and storey springs
/// stand in the order they were given.
#[derive(Clone, Debug, PartialEq)]
pub struct LineForces {
    lines: usize,
    columns: Vec<ColumnForces>,
    beams: Vec<BeamForces>,
    /// Wall panels, in the order of the input.
    pub walls: Vec<WallForces>,
    /// Shear of each storey spring, in the order of the input, kN.
    pub storey_springs_kn: Vec<f64>,
    /// Feet, from left to right; those that carry nothing are left out.
    pub bases: Vec<BaseForces>,
    /// Shear of columns, walls and springs together in each storey, kN.
    pub storey_shear_kn: Vec<f64>,
}

impl LineForces {
    /// Forces of the column in `storey` on `line`; zero where there is none.
    pub fn column(&self, storey: usize, line: usize) -> ColumnForces {
        self.columns.get(storey * self.lines + line).copied().unwrap_or_default()
    }

    /// Forces of the beam at `floor` in `bay`; zero where there is none, or where it lies between
    /// two joints of one wall.
    pub fn beam(&self, floor: usize, bay: usize) -> BeamForces {
        self.beams.get(floor * (self.lines.max(1) - 1) + bay).copied().unwrap_or_default()
    }
}

impl CondensedLine {
    /// Lateral stiffness, kN/m, floor by floor from the lowest; rows of floors the line does not
    /// reach are zero.
    pub fn stiffness(&self) -> &Square {
        &self.stiffness
    }

    /// Number of floors.
    pub fn floors(&self) -> usize {
        self.stiffness.size()
    }

    /// Member forces for lateral floor displacements (m, positive to the right, lowest first).
    ///
    /// Floors missing from `displacement_m` stay where they are.
    pub fn recover(&self, displacement_m: &[f64]) -> LineForces {
        let floors = self.floors();
        let mut all = vec![0.0; floors + self.hidden];
        for (floor, &u) in displacement_m.iter().take(floors).enumerate() {
            all[floor] = u;
            let row = &self.response[floor * self.hidden..(floor + 1) * self.hidden];
            for (target, unit) in all[floors..].iter_mut().zip(row) {
                *target += unit * u;
            }
        }
        let walls = self.elements.iter().filter(|element| matches!(element.member, Member::Wall { .. })).count();
        let mut forces = LineForces {
            lines: self.lines,
            columns: vec![ColumnForces::default(); floors * self.lines],
            beams: vec![BeamForces::default(); floors * self.lines.saturating_sub(1)],
            walls: vec![WallForces::default(); walls],
            storey_springs_kn: Vec::with_capacity(self.storey_springs.len()),
            bases: Vec::new(),
            storey_shear_kn: vec![0.0; floors],
        };
        let mut feet = vec![[0.0; 3]; self.nodes.len()];
        for element in &self.elements {
            let [one, other] = element.end_moments(&all);
            let shear = (one + other) / element.segment.length_m;
            let compression = element.compression(&all);
            match element.member {
                Member::Column { storey, line } => {
                    forces.storey_shear_kn[storey] += shear;
                    forces.columns[storey * self.lines + line] = ColumnForces {
                        shear_kn: shear,
                        moment_bottom_kn_m: one,
                        moment_top_kn_m: other,
                        compression_kn: compression,
                    };
                }
                Member::Beam { floor, bay } => {
                    forces.beams[floor * (self.lines - 1) + bay] = BeamForces {
                        // An anticlockwise couple hogs the left face and sags the right one.
                        sagging_left_kn_m: -one,
                        sagging_right_kn_m: other,
                        shear_kn: shear,
                    };
                }
                Member::Wall { index } => {
                    forces.storey_shear_kn[self.storey_of(element)] += shear;
                    forces.walls[index] = WallForces {
                        shear_kn: shear,
                        moment_bottom_kn_m: one,
                        moment_top_kn_m: -other,
                        compression_kn: compression,
                    };
                }
            }
            if !matches!(element.member, Member::Beam { .. }) {
                let [h, v, m] = &mut feet[element.nodes[0]];
                *h += shear;
                *v += compression;
                // The member axis may stand beside the node, and its face above it.
                *m += one + shear * element.offset[0] + compression * element.arm[0];
            }
        }
        for spring in &self.storey_springs {
            let below = spring.storey.checked_sub(1).map_or(0.0, |floor| all[floor]);
            let shear = spring.stiffness_kn_per_m * (all[spring.storey] - below);
            forces.storey_shear_kn[spring.storey] += shear;
            forces.storey_springs_kn.push(shear);
        }
        let stands = |node: &(&Node, &[f64; 3])| node.0.level == 0 && node.0.is_used();
        forces.bases = self
            .nodes
            .iter()
            .zip(&feet)
            .filter(stands)
            .map(|(node, &[shear_kn, compression_kn, moment_kn_m])| BaseForces {
                first_line: node.first_line,
                last_line: node.last_line,
                ordinate_m: node.ordinate_m,
                shear_kn,
                compression_kn,
                moment_kn_m,
            })
            .collect();
        forces
    }

    /// Storey shears that balance the floor forces K·u, summed from the top, kN.
    ///
    /// Equal to [`LineForces::storey_shear_kn`] within rounding.
    pub fn storey_shears_kn(&self, displacement_m: &[f64]) -> Vec<f64> {
        storey_shears(&self.stiffness, displacement_m)
    }

    fn storey_of(&self, element: &Element) -> usize {
        self.nodes[element.nodes[0]].level
    }
}

/// Storey shears from the floor forces K·u of a lateral stiffness matrix, lowest storey first, kN.
pub fn storey_shears(stiffness: &Square, displacement_m: &[f64]) -> Vec<f64> {
    let mut shears: Vec<f64> = (0..stiffness.size()).map(|floor| dot(stiffness.row(floor), displacement_m)).collect();
    for storey in (1..shears.len()).rev() {
        shears[storey - 1] += shears[storey];
    }
    shears
}
