//! Nodes, numbering and elements of one frame line.

use crate::frame_line::{Base, FrameLine, Restraint};
use crate::order;
use crate::timoshenko::Segment;

/// No degree of freedom: held, or not there.
pub(crate) const NONE: usize = usize::MAX;

/// Axial stiffness of a member called axially rigid, as a multiple of the stiffest sway stiffness
/// among columns and beams: rigid to seven figures or more, and far enough from the sixteen of the
/// arithmetic to leave the forces eight.
const AXIALLY_RIGID: f64 = 1e7;

/// A joint, or the joints that ride together on a wall's axis at one level.
///
/// Degrees of freedom below the number of floors are lateral floor displacements, those above
/// are hidden (condensed out).
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) level: usize,
    pub(crate) first_line: usize,
    pub(crate) last_line: usize,
    pub(crate) ordinate_m: f64,
    pub(crate) lateral: usize,
    pub(crate) vertical: usize,
    pub(crate) rotation: usize,
    used: bool,
    holds_vertical: bool,
    holds_rotation: bool,
}

/// Which member an element stands for.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Member {
    Column { storey: usize, line: usize },
    Beam { floor: usize, bay: usize },
    Wall { index: usize },
}

/// A flexible segment between two nodes, with arms.
#[derive(Clone, Debug)]
pub(crate) struct Element {
    pub(crate) member: Member,
    pub(crate) segment: Segment,
    pub(crate) nodes: [usize; 2],
    /// Transverse (vertical for a beam, lateral otherwise) and rotation at each end.
    pub(crate) bending_dofs: [usize; 4],
    /// w = sign·t + offset·θ at each face.
    sign: f64,
    /// Distance from node to face along the member, m.
    pub(crate) offset: [f64; 2],
    /// Vertical and rotation at each end.
    pub(crate) axial_dofs: [usize; 4],
    /// Horizontal distance from node to member axis at each end, m.
    pub(crate) arm: [f64; 2],
    /// EA/L, kN/m; zero for beams.
    pub(crate) axial_stiffness: f64,
}

impl Element {
    /// Of the transverse movement in w = sign·t + offset·θ.
    pub(crate) fn sign(&self) -> f64 {
        self.sign
    }

    pub(crate) fn bending_stiffness(&self) -> [[f64; 4]; 4] {
        self.segment.stiffness_with_arms(self.sign, self.offset)
    }

    pub(crate) fn axial_matrix(&self) -> [[f64; 4]; 4] {
        let row = [-1.0, -self.arm[0], 1.0, self.arm[1]];
        row.map(|one| row.map(|other| self.axial_stiffness * one * other))
    }

    /// Couples on the two faces, kN·m anticlockwise.
    pub(crate) fn end_moments(&self, displacement: &[f64]) -> [f64; 2] {
        let [t1, r1, t2, r2] = self.bending_dofs.map(|dof| value(displacement, dof));
        let face = |t: f64, r: f64, end: usize| self.sign * t + self.offset[end] * r;
        self.segment.end_moments_kn_m([face(t1, r1, 0), face(t2, r2, 1)], [r1, r2])
    }

    /// Shortening force, kN, compression positive.
    pub(crate) fn compression(&self, displacement: &[f64]) -> f64 {
        let [v1, r1, v2, r2] = self.axial_dofs.map(|dof| value(displacement, dof));
        self.axial_stiffness * ((v1 - v2) + (self.arm[0] * r1 - self.arm[1] * r2))
    }
}

fn value(displacement: &[f64], dof: usize) -> f64 {
    displacement.get(dof).copied().unwrap_or(0.0)
}

/// Springs under one wall foot or column foot.
pub(crate) struct BaseSpring {
    node: usize,
    arm: f64,
    vertical: f64,
    rotation: f64,
    dofs: [usize; 4],
}

impl BaseSpring {
    pub(crate) fn dofs(&self) -> [usize; 4] {
        self.dofs
    }

    pub(crate) fn matrix(&self) -> [[f64; 4]; 4] {
        let coupled = self.vertical * self.arm;
        let turning = coupled * self.arm + self.rotation;
        [[self.vertical, coupled, 0.0, 0.0], [coupled, turning, 0.0, 0.0], [0.0; 4], [0.0; 4]]
    }
}

pub(crate) struct Mesh {
    pub(crate) nodes: Vec<Node>,
    pub(crate) elements: Vec<Element>,
    pub(crate) base_springs: Vec<BaseSpring>,
    /// Number of hidden degrees of freedom.
    pub(crate) hidden: usize,
    /// Half band width of the hidden part.
    pub(crate) half_width: usize,
}

impl Mesh {
    /// Builds the mesh of a line whose values have been checked.
    pub(crate) fn new(line: &FrameLine) -> Self {
        let (mut nodes, node_at) = nodes(line);
        let mut elements = elements(line, &nodes, &node_at);
        for element in &elements {
            for end in element.nodes {
                nodes[end].used = true;
            }
        }
        let stiffest = |walls: bool| {
            elements
                .iter()
                .filter(|element| walls == matches!(element.member, Member::Wall { .. }))
                .map(|element| element.segment.sway_stiffness_kn_per_m())
                .fold(0.0, f64::max)
        };
        let slender = stiffest(false);
        let rigid = AXIALLY_RIGID * if slender > 0.0 { slender } else { stiffest(true) };
        for element in &mut elements {
            element.axial_stiffness = element.axial_stiffness.min(rigid);
        }
        let mut base_springs = supports(line, &mut nodes, &node_at, rigid);
        let (hidden, half_width) = number(line, &mut nodes, &elements);
        for element in &mut elements {
            let [one, other] = element.nodes.map(|end| &nodes[end]);
            let beam = matches!(element.member, Member::Beam { .. });
            let transverse = |node: &Node| if beam { node.vertical } else { node.lateral };
            element.bending_dofs = [transverse(one), one.rotation, transverse(other), other.rotation];
            element.axial_dofs = [one.vertical, one.rotation, other.vertical, other.rotation];
        }
        for spring in &mut base_springs {
            let node = &nodes[spring.node];
            spring.dofs = [node.vertical, node.rotation, NONE, NONE];
        }
        Self { nodes, elements, base_springs, hidden, half_width }
    }
}

/// Nodes level by level from the base, and the node of every joint.
fn nodes(line: &FrameLine) -> (Vec<Node>, Vec<usize>) {
    let lines = line.lines();
    let levels = line.floors() + 1;
    let mut joined = vec![false; levels * lines];
    let mut axis = vec![None; levels * lines];
    for wall in &line.walls {
        for level in [wall.storey, wall.storey + 1] {
            joined[level * lines + wall.first_line..level * lines + wall.last_line].fill(true);
            axis[level * lines + wall.first_line].get_or_insert(wall.axis_m);
        }
    }
    let mut nodes: Vec<Node> = Vec::with_capacity(levels * lines);
    let mut node_at = Vec::with_capacity(levels * lines);
    for level in 0..levels {
        for column in 0..lines {
            let place = level * lines + column;
            if column > 0 && joined[place - 1] {
                if let Some(node) = nodes.last_mut() {
                    node.last_line = column;
                }
            } else {
                nodes.push(Node {
                    level,
                    first_line: column,
                    last_line: column,
                    ordinate_m: axis[place].unwrap_or(line.ordinates_m[column]),
                    lateral: level.checked_sub(1).unwrap_or(NONE),
                    vertical: NONE,
                    rotation: NONE,
                    used: false,
                    holds_vertical: false,
                    holds_rotation: false,
                });
            }
            node_at.push(nodes.len() - 1);
        }
    }
    (nodes, node_at)
}

/// Elements of all members, except beams buried between two joints of one wall.
///
/// The axial stiffness of a rigid member is infinite here and cut down once the line is known.
fn elements(line: &FrameLine, nodes: &[Node], node_at: &[usize]) -> Vec<Element> {
    let lines = line.lines();
    let mut elements = Vec::new();
    let upright = |member, storey: usize, column: usize, x: f64, rigid: [f64; 2], rigidities| {
        let (flexural, shear, axial): (f64, Option<f64>, Option<f64>) = rigidities;
        let length = line.storey_heights_m[storey] - rigid[0] - rigid[1];
        let ends = [storey, storey + 1].map(|level| node_at[level * lines + column]);
        Element {
            member,
            segment: Segment::new(length, flexural, shear),
            nodes: ends,
            bending_dofs: [NONE; 4],
            // Anticlockwise rotation carries a point above the node to the left: w = −u.
            sign: -1.0,
            offset: [rigid[0], -rigid[1]],
            axial_dofs: [NONE; 4],
            arm: ends.map(|end| x - nodes[end].ordinate_m),
            axial_stiffness: axial.map_or(f64::INFINITY, |axial| axial / length),
        }
    };
    for storey in 0..line.floors() {
        for column in 0..lines {
            if let Some(it) = line.column(storey, column) {
                elements.push(upright(
                    Member::Column { storey, line: column },
                    storey,
                    column,
                    line.ordinates_m[column],
                    [it.rigid_bottom_m, it.rigid_top_m],
                    (it.flexural_rigidity_kn_m2, it.shear_rigidity_kn, it.axial_rigidity_kn),
                ));
            }
        }
        for bay in 0..lines.saturating_sub(1) {
            let level = (storey + 1) * lines;
            let ends = [node_at[level + bay], node_at[level + bay + 1]];
            if let Some(it) = line.beam(storey, bay).filter(|_| ends[0] != ends[1]) {
                let left = line.ordinates_m[bay] + it.rigid_left_m;
                let right = line.ordinates_m[bay + 1] - it.rigid_right_m;
                elements.push(Element {
                    member: Member::Beam { floor: storey, bay },
                    segment: Segment::new(right - left, it.flexural_rigidity_kn_m2, it.shear_rigidity_kn),
                    nodes: ends,
                    bending_dofs: [NONE; 4],
                    sign: 1.0,
                    offset: [left - nodes[ends[0]].ordinate_m, right - nodes[ends[1]].ordinate_m],
                    axial_dofs: [NONE; 4],
                    arm: [0.0; 2],
                    axial_stiffness: 0.0,
                });
            }
        }
    }
    for (index, it) in line.walls.iter().enumerate() {
        elements.push(upright(
            Member::Wall { index },
            it.storey,
            it.first_line,
            it.axis_m,
            [0.0; 2],
            (it.flexural_rigidity_kn_m2, it.shear_rigidity_kn, it.axial_rigidity_kn),
        ));
    }
    elements
}

/// Marks what the feet hold and returns their springs.
fn supports(line: &FrameLine, nodes: &mut [Node], node_at: &[usize], rigid: f64) -> Vec<BaseSpring> {
    let mut feet: Vec<(usize, f64, Base)> = Vec::new();
    for wall in line.walls.iter().filter(|wall| wall.storey == 0) {
        feet.push((node_at[wall.first_line], wall.axis_m, wall.base));
    }
    for (column, base) in line.bases.iter().enumerate() {
        let node = node_at[column];
        if nodes[node].first_line == nodes[node].last_line {
            feet.push((node, line.ordinates_m[column], *base));
        }
    }
    for &(node, _, base) in &feet {
        nodes[node].holds_rotation |= base.rotation == Restraint::Fixed;
    }
    for &(node, x, base) in &feet {
        let on_node = x == nodes[node].ordinate_m || nodes[node].holds_rotation;
        nodes[node].holds_vertical |= base.vertical == Restraint::Fixed && on_node;
    }
    let stiffness = |restraint, fixed| match restraint {
        Restraint::Fixed => fixed,
        Restraint::Free => 0.0,
        Restraint::Spring(stiffness) => stiffness,
    };
    feet.iter()
        .map(|&(node, x, base)| BaseSpring {
            node,
            arm: x - nodes[node].ordinate_m,
            // A fixed foot beside the node's own axis, under a node that may rotate.
            vertical: stiffness(base.vertical, rigid),
            rotation: stiffness(base.rotation, 0.0),
            dofs: [NONE; 4],
        })
        .collect()
}

/// Numbers the hidden degrees of freedom floor by floor or line by line, whichever is narrower.
fn number(line: &FrameLine, nodes: &mut [Node], elements: &[Element]) -> (usize, usize) {
    let mut by_line: Vec<usize> = (0..nodes.len()).collect();
    order::sort_by_key(&mut by_line, |&node| (nodes[node].first_line, nodes[node].level));
    let by_floor: Vec<usize> = (0..nodes.len()).collect();
    let width = |order: &[usize]| {
        let mut first = vec![0; nodes.len()];
        let mut count = 0;
        for &node in order {
            first[node] = count;
            count += nodes[node].hidden();
        }
        let reach = elements.iter().map(|element| {
            let ends = element.nodes;
            let low = first[ends[0]].min(first[ends[1]]);
            let high = ends.map(|end| first[end] + nodes[end].hidden());
            high[0].max(high[1]).saturating_sub(low + 1)
        });
        (count, reach.max().unwrap_or(0))
    };
    let ((count, narrow), order) = [by_floor, by_line]
        .into_iter()
        .map(|order| (width(&order), order))
        .min_by_key(|(measured, _)| measured.1)
        .unwrap_or_default();
    let mut next = line.floors();
    for node in order {
        let node = &mut nodes[node];
        if node.used && !node.holds_vertical {
            node.vertical = next;
            next += 1;
        }
        if node.used && !node.holds_rotation {
            node.rotation = next;
            next += 1;
        }
    }
    (count, narrow)
}

impl Node {
    fn hidden(&self) -> usize {
        usize::from(self.used) * (usize::from(!self.holds_vertical) + usize::from(!self.holds_rotation))
    }

    pub(crate) fn is_used(&self) -> bool {
        self.used
    }
}
