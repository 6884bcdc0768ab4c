//! Plastic modes of a frame line: what a hinge or a slip in one of its members does to the rest.
//!
//! A mode is a pattern of stress-free deformation a of members. With the floors at u and the
//! hidden displacements following, the force on mode i is
//!
//! Q_i = G_iᵀu + Σ_j (r_iᵀ·K_rr⁻¹·r_j − a_iᵀ·k·a_j)·γ_j,
//!
//! r = Bᵀ·k·a the nodal forces that hold a unit of the pattern back, G = r_u + Rᵀ·r_r those
//! forces carried to the floors by the condensation (R the hidden displacements per floor
//! displacement). Exact for the members given; nothing is condensed anew. DERIVED.

use crate::condensed_line::CondensedLine;
use crate::frame_mesh::{Element, Member, NONE};
use crate::linear::dot;

/// A place of plastic deformation in a frame line.
///
/// The force that works on it is positive where it resists a drift to the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hinge {
    /// Rotation at an end of a column's flexible length; works with the moment there.
    ColumnEnd {
        /// Storey.
        storey: usize,
        /// Column line.
        line: usize,
        /// At the head, or at the foot.
        top: bool,
    },
    /// Slip across a column; works with its shear.
    ColumnShear {
        /// Storey.
        storey: usize,
        /// Column line.
        line: usize,
    },
    /// Rotation at an end of a beam's flexible length; works with the moment there, sagging at
    /// the left and hogging at the right.
    BeamEnd {
        /// Floor.
        floor: usize,
        /// Bay.
        bay: usize,
        /// At the right end, or at the left.
        right: bool,
    },
    /// Slip across a beam; works with its shear.
    BeamShear {
        /// Floor.
        floor: usize,
        /// Bay.
        bay: usize,
    },
    /// Rotation at the foot of a wall panel; works with the moment there.
    WallFoot {
        /// Its place among the walls.
        index: usize,
    },
    /// Slip across a wall panel; works with its shear.
    WallShear {
        /// Its place among the walls.
        index: usize,
    },
    /// Slip of a storey spring.
    StoreySpring {
        /// Its place among the springs.
        index: usize,
    },
}

impl Hinge {
    /// Whether it lies in the same column, beam, wall or spring of its line as another.
    pub fn is_of_the_member_of(self, other: Self) -> bool {
        let member = |hinge: Self| match hinge {
            Self::ColumnEnd { storey, line, .. } | Self::ColumnShear { storey, line } => (0, storey, line),
            Self::BeamEnd { floor, bay, .. } | Self::BeamShear { floor, bay } => (1, floor, bay),
            Self::WallFoot { index } | Self::WallShear { index } => (2, index, 0),
            Self::StoreySpring { index } => (3, index, 0),
        };
        member(self) == member(other)
    }
}

/// A plastic mode of a frame line: one hinge, or several that deform together.
#[derive(Clone, Debug)]
pub struct LineMode {
    /// Forces on the floors that hold back a unit of it, kN.
    pub floor_forces: Vec<f64>,
    hidden: Vec<(usize, f64)>,
    parts: Vec<Part>,
    /// First and last of its elements and springs.
    span: [usize; 2],
    /// Floor displacements that come free of stress with a unit of it; none for hinges.
    levels_m: Vec<f64>,
    /// Force on it per unit of its own deformation with everything else held, kN/m or kNm/rad.
    pub own_stiffness: f64,
}

#[derive(Clone, Copy, Debug)]
enum Part {
    /// Element, stress-free deformation [w₁, φ₁, w₂, φ₂].
    Element(usize, [f64; 4]),
    /// Spring, slip.
    Spring(usize, f64),
    /// The whole line, free of stress.
    Free,
}

impl LineMode {
    /// Force on it for hidden displacements with the floors held.
    pub fn force_hidden(&self, hidden: &[f64]) -> f64 {
        self.hidden.iter().map(|&(place, value)| value * hidden[place]).sum()
    }

    /// Force on it of a load inside the line with the floors held: by the hidden displacements it
    /// brings, and by the forces on the floors it comes to, which free movements work with.
    pub fn force_held(&self, hidden: &[f64], floor_forces: &[f64]) -> f64 {
        self.force_hidden(hidden) - dot(&self.levels_m, floor_forces)
    }
}

/// Moments at the faces and shear that a deformation [w₁, φ₁, w₂, φ₂] brings.
fn held(element: &Element, a: [f64; 4]) -> ([f64; 2], f64) {
    let moments = element.segment.end_moments_kn_m([a[0], a[2]], [a[1], a[3]]);
    (moments, (moments[0] + moments[1]) / element.segment.length_m)
}

/// Work of one deformation on the forces of another.
fn product(element: &Element, a: [f64; 4], b: [f64; 4]) -> f64 {
    let ([m1, m2], v1) = held(element, b);
    a[0] * v1 + a[1] * m1 - a[2] * v1 + a[3] * m2
}

impl CondensedLine {
    fn element_of(&self, wanted: Hinge) -> Option<usize> {
        self.elements.iter().position(|element| match (element.member, wanted) {
            (Member::Column { storey, line }, Hinge::ColumnEnd { storey: s, line: l, .. })
            | (Member::Column { storey, line }, Hinge::ColumnShear { storey: s, line: l }) => (storey, line) == (s, l),
            (
                Member::Beam { floor, bay },
                Hinge::BeamEnd { floor: f, bay: b, .. } | Hinge::BeamShear { floor: f, bay: b },
            ) => (floor, bay) == (f, b),
            (Member::Wall { index }, Hinge::WallFoot { index: i } | Hinge::WallShear { index: i }) => index == i,
            _ => false,
        })
    }

    fn part(&self, hinge: Hinge, factor: f64) -> Option<Part> {
        if let Hinge::StoreySpring { index } = hinge {
            return self.storey_springs.get(index).map(|_| Part::Spring(index, factor));
        }
        let element = self.element_of(hinge)?;
        let mut a = match hinge {
            Hinge::ColumnEnd { top: false, .. } | Hinge::WallFoot { .. } => [0.0, 1.0, 0.0, 0.0],
            Hinge::ColumnEnd { top: true, .. } => [0.0, 0.0, 0.0, 1.0],
            // A drift to the right carries the head to −w.
            Hinge::ColumnShear { .. } | Hinge::WallShear { .. } => [0.0, 0.0, -1.0, 0.0],
            Hinge::BeamEnd { right: false, .. } => [0.0, -1.0, 0.0, 0.0],
            Hinge::BeamEnd { right: true, .. } => [0.0, 0.0, 0.0, -1.0],
            // A drift to the right turns both ends back as a lift of the right one does.
            Hinge::BeamShear { .. } => [0.0, 0.0, 1.0, 0.0],
            Hinge::StoreySpring { .. } => return None,
        };
        for entry in &mut a {
            *entry *= factor;
        }
        Some(Part::Element(element, a))
    }

    /// The mode of hinges that deform together, each by its factor; `None` where a member is
    /// missing or there is no hinge.
    pub fn mode(&self, hinges: &[(Hinge, f64)]) -> Option<LineMode> {
        let parts: Vec<Part> = hinges.iter().map(|&(hinge, factor)| self.part(hinge, factor)).collect::<Option<_>>()?;
        if parts.is_empty() {
            return None;
        }
        let floors = self.floors();
        let mut floor_forces = vec![0.0; floors];
        let mut hidden: Vec<(usize, f64)> = Vec::new();
        let mut put = |dof: usize, force: f64| {
            if dof == NONE || force == 0.0 {
                return;
            }
            match dof.checked_sub(floors) {
                None => floor_forces[dof] += force,
                Some(place) => match hidden.iter_mut().find(|(own, _)| *own == place) {
                    Some((_, sum)) => *sum += force,
                    None => hidden.push((place, force)),
                },
            }
        };
        let mut own_stiffness = 0.0;
        for part in &parts {
            match *part {
                Part::Element(index, a) => {
                    let element = &self.elements[index];
                    let ([m1, m2], v) = held(element, a);
                    let sign = element.sign();
                    let [o1, o2] = element.offset;
                    let nodal = [sign * v, m1 + o1 * v, -sign * v, m2 - o2 * v];
                    for (dof, force) in element.bending_dofs.into_iter().zip(nodal) {
                        put(dof, force);
                    }
                    own_stiffness += product(element, a, a);
                }
                Part::Spring(index, slip) => {
                    let spring = &self.storey_springs[index];
                    let force = spring.stiffness_kn_per_m * slip;
                    put(spring.storey, force);
                    put(spring.storey.checked_sub(1).unwrap_or(NONE), -force);
                    own_stiffness += force * slip;
                }
                Part::Free => {}
            }
        }
        for (floor, force) in floor_forces.iter_mut().enumerate() {
            let row = &self.response[floor * self.hidden..(floor + 1) * self.hidden];
            *force += hidden.iter().map(|&(place, value)| row[place] * value).sum::<f64>();
        }
        let places = parts.iter().map(|part| match *part {
            Part::Element(place, _) | Part::Spring(place, _) => place,
            Part::Free => 0,
        });
        let span = places.fold([usize::MAX, 0], |[first, last], place| [first.min(place), last.max(place)]);
        Some(LineMode { floor_forces, hidden, parts, span, levels_m: Vec::new(), own_stiffness })
    }

    /// The whole line turning about its base as a rigid body; works with the overturning moment.
    /// `levels_m` are the heights of the floors above the base.
    pub fn turning(&self, levels_m: &[f64]) -> LineMode {
        self.free(levels_m.to_vec())
    }

    /// The whole line sliding on the ground; works with its base shear.
    pub fn sliding(&self) -> LineMode {
        self.free(vec![1.0; self.floors()])
    }

    /// A floor slipping past the line; works with the force the floor hands to it.
    pub fn slipping(&self, floor: usize) -> LineMode {
        let mut shape = vec![0.0; self.floors()];
        if let Some(own) = shape.get_mut(floor) {
            *own = 1.0;
        }
        self.free(shape)
    }

    /// Displacements of the floors that come free of stress.
    fn free(&self, levels_m: Vec<f64>) -> LineMode {
        let floor_forces = self.stiffness.times(&levels_m);
        let own_stiffness = dot(&floor_forces, &levels_m);
        LineMode { floor_forces, hidden: Vec::new(), parts: vec![Part::Free], span: [0, 0], levels_m, own_stiffness }
    }

    /// Hidden displacements per unit of a mode with the floors held.
    pub fn hidden_response(&self, mode: &LineMode) -> Vec<f64> {
        let mut rhs = vec![0.0; self.hidden];
        for &(place, force) in &mode.hidden {
            rhs[place] += force;
        }
        self.factor.solve(&mut rhs);
        rhs
    }

    /// Force on `mode` for a unit of `other` with the floors held; `response` is that of `other`.
    pub fn coupling(&self, mode: &LineMode, other: &LineMode, response: &[f64]) -> f64 {
        let mut force = mode.force_hidden(response);
        // The line is stressed by what its floors move beyond what is free.
        if !other.levels_m.is_empty() {
            force -= dot(&mode.floor_forces, &other.levels_m);
        } else if !mode.levels_m.is_empty() {
            force -= dot(&other.floor_forces, &mode.levels_m);
        }
        if mode.span[0] > other.span[1] || other.span[0] > mode.span[1] {
            return force;
        }
        for one in &mode.parts {
            for two in &other.parts {
                match (*one, *two) {
                    (Part::Element(i, a), Part::Element(j, b)) if i == j => {
                        force -= product(&self.elements[i], a, b);
                    }
                    (Part::Spring(i, a), Part::Spring(j, b)) if i == j => {
                        force -= a * b * self.storey_springs[i].stiffness_kn_per_m;
                    }
                    _ => {}
                }
            }
        }
        force
    }

    /// Force on a mode for floor displacements, everything elastic.
    pub fn mode_force(&self, mode: &LineMode, displacement_m: &[f64]) -> f64 {
        dot(&mode.floor_forces, displacement_m)
    }

    /// A force down on the joint of column line `line` at `floor`: the floor forces it comes to, and
    /// the hidden displacements with the floors held; `None` where no joint stands there.
    pub fn joint_load(&self, floor: usize, line: usize, force_kn: f64) -> Option<(Vec<f64>, Vec<f64>)> {
        let node = self.nodes.iter().find(|node| node.level == floor + 1 && node.first_line == line)?;
        let place = node.vertical.checked_sub(self.floors()).filter(|place| *place < self.hidden)?;
        let floors = (0..self.floors()).map(|f| -force_kn * self.response[f * self.hidden + place]).collect();
        let mut hidden = vec![0.0; self.hidden];
        hidden[place] = -force_kn;
        self.factor.solve(&mut hidden);
        Some((floors, hidden))
    }

    /// Displacements of floors and hidden ones that stress the line, what plastic deformation makes
    /// free of stress inside members not yet taken off.
    fn stressing(&self, displacement_m: &[f64], modes: &[(&LineMode, &[f64], f64)]) -> Vec<f64> {
        let floors = self.floors();
        let mut all = vec![0.0; floors + self.hidden];
        let mut stressing = displacement_m.to_vec();
        for (mode, _, amplitude) in modes {
            for (u, level) in stressing.iter_mut().zip(&mode.levels_m) {
                *u -= level * amplitude;
            }
        }
        for (floor, &u) in stressing.iter().take(floors).enumerate() {
            all[floor] = u;
            let row = &self.response[floor * self.hidden..(floor + 1) * self.hidden];
            for (target, unit) in all[floors..].iter_mut().zip(row) {
                *target += unit * u;
            }
        }
        for (_, response, amplitude) in modes {
            for (target, unit) in all[floors..].iter_mut().zip(*response) {
                *target += unit * amplitude;
            }
        }
        all
    }

    /// Moments at the lower and the upper face of the column or wall a hinge is in, with plastic
    /// deformation as of [`Self::plastic_shears`], kNm; positive where they resist a drift to the right
    /// in double curvature. `None` where there is no such member.
    pub fn plastic_end_moments(
        &self,
        hinge: Hinge,
        displacement_m: &[f64],
        modes: &[(&LineMode, &[f64], f64)],
    ) -> Option<[f64; 2]> {
        let wanted = self.element_of(hinge)?;
        let element = &self.elements[wanted];
        let mut moments = element.end_moments(&self.stressing(displacement_m, modes));
        for (mode, _, amplitude) in modes {
            for part in &mode.parts {
                if let Part::Element(index, a) = *part
                    && index == wanted
                {
                    let taken = held(element, a).0;
                    moments = [moments[0] - taken[0] * amplitude, moments[1] - taken[1] * amplitude];
                }
            }
        }
        Some(moments)
    }

    /// Shears of columns, walls and storey springs with plastic deformation: `modes` with their
    /// hidden responses and amplitudes. In the order columns (storey by storey), walls, springs.
    pub fn plastic_shears(&self, displacement_m: &[f64], modes: &[(&LineMode, &[f64], f64)]) -> LineShears {
        let floors = self.floors();
        let all = self.stressing(displacement_m, modes);
        let walls = self.elements.iter().filter(|element| matches!(element.member, Member::Wall { .. })).count();
        let mut shears = LineShears {
            lines: self.lines,
            columns: vec![0.0; floors * self.lines],
            walls: vec![0.0; walls],
            springs: Vec::with_capacity(self.storey_springs.len()),
        };
        for element in &self.elements {
            if let Some(shear) = shears.of(element.member) {
                let [one, other] = element.end_moments(&all);
                *shear = (one + other) / element.segment.length_m;
            }
        }
        for spring in &self.storey_springs {
            let below = spring.storey.checked_sub(1).map_or(0.0, |floor| all[floor]);
            shears.springs.push(spring.stiffness_kn_per_m * (all[spring.storey] - below));
        }
        // What deforms plastically takes no force.
        for (mode, _, amplitude) in modes {
            for part in &mode.parts {
                match *part {
                    Part::Element(index, a) => {
                        let element = &self.elements[index];
                        if let Some(shear) = shears.of(element.member) {
                            *shear -= held(element, a).1 * amplitude;
                        }
                    }
                    Part::Spring(index, slip) => {
                        shears.springs[index] -= self.storey_springs[index].stiffness_kn_per_m * slip * amplitude;
                    }
                    Part::Free => {}
                }
            }
        }
        shears
    }
}

/// Shears of a line's members, kN, positive where they resist a drift to the right.
#[derive(Clone, Debug, PartialEq)]
pub struct LineShears {
    lines: usize,
    columns: Vec<f64>,
    /// Of the wall panels in the order of the input.
    pub walls: Vec<f64>,
    /// Of the storey springs in the order of the input.
    pub springs: Vec<f64>,
}

impl LineShears {
    /// Of a member that stands upright.
    fn of(&mut self, member: Member) -> Option<&mut f64> {
        match member {
            Member::Column { storey, line } => self.columns.get_mut(storey * self.lines + line),
            Member::Wall { index } => self.walls.get_mut(index),
            Member::Beam { .. } => None,
        }
    }

    /// Shear of the column in `storey` on `line`; zero where there is none.
    pub fn column(&self, storey: usize, line: usize) -> f64 {
        self.columns.get(storey * self.lines + line).copied().unwrap_or(0.0)
    }
}
