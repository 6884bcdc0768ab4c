//! The building in plan: rigid diaphragms, the frame lines fixed to them, and added frame lines
//! tied on through connecting slabs.
//!
//! Each floor has three movements about its centre of mass: u_x, u_y and the rotation θ,
//! anticlockwise seen from above. A frame line along X at ordinate y moves by
//! δ = u_x − θ·(y − y_cm); one along Y at ordinate x by δ = u_y + θ·(x − x_cm).
//!
//! A linked line stands outside the plan with floor movements u_a of its own. Its connecting
//! slab resists the slip s = δ − u_a, with δ taken at the ordinate of the *frame line itself*:
//! a strip that meets the frame without in-plane moment brings the force to the diaphragm on the
//! frame's own line, not on the face (DERIVED, equilibrium of the strip).
//! The unknown kept per floor is the slip, not u_a, so that a stiff tie loses no figures and a
//! rigid one is simply left out.
//!
//! Floors and storeys are counted from zero; storey `s` ends at floor `s`.
//! Units: kN, m, rad, t (kN·s²/m).

use crate::linear::Square;
use crate::plan_matrix::Layout;
use crate::project::Direction;
use crate::response::Factored;

/// A floor: rigid in its plane, with the mass and weight that move with it.
///
/// Mass and weight of linked lines are not included here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// Height of the storey below, m.
    pub storey_height_m: f64,
    /// Centre of mass, x, m.
    pub x_m: f64,
    /// Centre of mass, y, m.
    pub y_m: f64,
    /// Mass, t.
    pub mass_t: f64,
    /// Square of the radius of gyration of mass and weight about their centre, m²: I₀ = m·r²;
    /// for a uniform a × b plan r² = (a² + b²)/12.
    pub gyration_m2: f64,
    /// Vertical load that leans on the frame at this floor, kN; read only for P-Δ.
    pub weight_kn: f64,
}

/// A frame line fixed to the diaphragms.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Direction the line resists in.
    pub direction: Direction,
    /// y of a line along X, x of a line along Y, m.
    pub ordinate_m: f64,
    /// Lateral stiffness, one row per floor of the building, kN/m. Rows of floors the line does
    /// not reach are zero.
    pub stiffness: Square,
}

/// How a linked line is tied to the diaphragm at one floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Link {
    /// No connecting slab.
    Absent,
    /// A connecting slab of this stiffness along the line, kN/m.
    Spring(f64),
    /// No slip at all.
    Rigid,
}

/// A frame line of its own beside the building, tied to the diaphragms through connecting slabs.
///
/// Its mass moves on its own along the line, and with the diaphragm across it.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkedLine {
    /// Direction the line resists in.
    pub direction: Direction,
    /// Ordinate of the frame line itself, never of the face it stands before, m.
    pub ordinate_m: f64,
    /// Middle of the line along its own direction, m: x of a line along X. Where its mass and
    /// weight act across the line.
    pub middle_m: f64,
    /// Square of the radius of gyration of its mass and weight along the line, m²; length²/12
    /// when uniform.
    pub gyration_m2: f64,
    /// How many floors the line has, from the lowest up.
    pub floors: usize,
    /// Lateral stiffness, one row per floor of the building, kN/m; zero above the line's own top.
    pub stiffness: Square,
    /// Tie at each floor of the building.
    pub links: Vec<Link>,
    /// Mass of the line's own floors, t.
    pub mass_t: Vec<f64>,
    /// Vertical load of the line's own floors, kN; read only for P-Δ.
    pub weight_kn: Vec<f64>,
}

/// Movements the diaphragms are allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Freedoms {
    /// Translation along x.
    pub x: bool,
    /// Translation along y.
    pub y: bool,
    /// Rotation in plan.
    pub rotation: bool,
}

impl Freedoms {
    /// Everything free.
    pub const ALL: Self = Self { x: true, y: true, rotation: true };

    /// Pure translation in one direction.
    pub fn translation(direction: Direction) -> Self {
        Self { x: direction == Direction::X, y: direction == Direction::Y, rotation: false }
    }
}

/// A building as an assembly of lateral stiffnesses.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Floors from the lowest up.
    pub floors: Vec<Floor>,
    /// Lines fixed to the diaphragms.
    pub lines: Vec<Line>,
    /// Lines tied on through connecting slabs.
    pub linked: Vec<LinkedLine>,
    /// Movements the diaphragms are allowed.
    pub freedoms: Freedoms,
    /// Whether the weights act through the drifts (linear P-Δ).
    pub p_delta: bool,
}

/// Why an assembly could not be solved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AssemblyError {
    /// A floor whose height, place, mass or weight is out of range.
    Floor {
        /// The floor.
        floor: usize,
    },
    /// A line whose ordinate or stiffness is not a number, or not one row per floor.
    Line {
        /// Its place in [`Assembly::lines`].
        line: usize,
    },
    /// A linked line whose values are out of range or not one per floor, or which has a link or a
    /// mass at a floor it does not reach.
    Linked {
        /// Its place in [`Assembly::linked`].
        linked: usize,
    },
    /// A storey that can move without resistance, or that P-Δ overturns.
    Unstable {
        /// The floor on top of the storey that gives way most.
        floor: usize,
        /// The movement.
        movement: Movement,
    },
}

/// One movement of one floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Movement {
    /// Translation of the diaphragm.
    Translation(Direction),
    /// Rotation of the diaphragm in plan.
    Rotation,
    /// Movement of a linked line, by its place in [`Assembly::linked`].
    Linked(usize),
}

/// Forces on one floor at its centre of mass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FloorForce {
    /// Along x, kN.
    pub x_kn: f64,
    /// Along y, kN.
    pub y_kn: f64,
    /// Moment in plan, anticlockwise, kN·m. A force F_y that acts e to the right of the centre of
    /// mass brings F_y·e; a force F_x that acts e above it −F_x·e.
    pub moment_kn_m: f64,
}

/// A lateral load on the building.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Load {
    /// On the diaphragms, lowest first.
    pub floors: Vec<FloorForce>,
    /// On each linked line's own floors, along the line, kN.
    pub linked_kn: Vec<Vec<f64>>,
}

impl Assembly {
    /// An assembly without lines, free to move in every way, P-Δ off.
    pub fn new(floors: Vec<Floor>) -> Self {
        Self { floors, lines: Vec::new(), linked: Vec::new(), freedoms: Freedoms::ALL, p_delta: false }
    }

    /// A load of zeros, shaped for this assembly.
    pub fn no_load(&self) -> Load {
        Load {
            floors: vec![FloorForce::default(); self.floors.len()],
            linked_kn: vec![vec![0.0; self.floors.len()]; self.linked.len()],
        }
    }

    /// One force per floor along `direction` (kN), spread over the masses of that floor: the
    /// diaphragm's at its centre of mass, a linked line's on its own floor where it runs along
    /// the force, and through the diaphragm at the line's middle where it runs across.
    ///
    /// A floor without mass takes its force at the diaphragm.
    pub fn load_by_mass(&self, direction: Direction, force_kn: &[f64]) -> Load {
        let mut load = self.no_load();
        for (i, (floor, &force)) in self.floors.iter().zip(force_kn).enumerate() {
            let added = |line: &LinkedLine| line.mass_t.get(i).copied().unwrap_or(0.0);
            let total = floor.mass_t + self.linked.iter().map(added).sum::<f64>();
            let target = &mut load.floors[i];
            if total <= 0.0 {
                target.push(direction, force, 0.0);
                continue;
            }
            target.push(direction, force * floor.mass_t / total, 0.0);
            for (k, line) in self.linked.iter().enumerate() {
                let share = force * added(line) / total;
                if line.direction == direction {
                    load.linked_kn[k][i] = share;
                } else {
                    target.push(direction, share, line.middle_m - floor.along(direction.across()));
                }
            }
        }
        load
    }

    /// Assembles the stiffness and factors it.
    ///
    /// # Errors
    /// A value out of range, or a movement without resistance; see [`AssemblyError`].
    pub fn factor(&self) -> Result<Factored<'_>, AssemblyError> {
        self.check()?;
        let layout = Layout::new(self);
        let stiffness = layout.stiffness(self);
        let factor = stiffness.factor().map_err(|failure| layout.weakest(self, &stiffness, failure.row))?;
        Ok(Factored { assembly: self, layout, factor })
    }

    fn check(&self) -> Result<(), AssemblyError> {
        let count = self.floors.len();
        let not_negative = |value: f64| value >= 0.0 && value.is_finite();
        for (i, floor) in self.floors.iter().enumerate() {
            let sound = floor.storey_height_m > 0.0
                && floor.storey_height_m.is_finite()
                && floor.x_m.is_finite()
                && floor.y_m.is_finite()
                && not_negative(floor.mass_t)
                && not_negative(floor.gyration_m2)
                && not_negative(floor.weight_kn);
            if !sound {
                return Err(AssemblyError::Floor { floor: i });
            }
        }
        let fits = |stiffness: &Square| stiffness.size() == count && stiffness.is_finite();
        for (k, line) in self.lines.iter().enumerate() {
            if !line.ordinate_m.is_finite() || !fits(&line.stiffness) {
                return Err(AssemblyError::Line { line: k });
            }
        }
        for (k, line) in self.linked.iter().enumerate() {
            let shaped = line.ordinate_m.is_finite()
                && line.middle_m.is_finite()
                && not_negative(line.gyration_m2)
                && fits(&line.stiffness)
                && line.floors <= count
                && line.links.len() == count
                && line.mass_t.len() == count
                && line.weight_kn.len() == count;
            let sound = |i: usize| {
                let tied = match line.links[i] {
                    Link::Absent => false,
                    Link::Spring(stiffness) if !not_negative(stiffness) => return false,
                    Link::Spring(_) | Link::Rigid => true,
                };
                not_negative(line.mass_t[i])
                    && not_negative(line.weight_kn[i])
                    && (line.reaches(i) || !tied && line.mass_t[i] == 0.0 && line.weight_kn[i] == 0.0)
            };
            if !shaped || !(0..count).all(sound) {
                return Err(AssemblyError::Linked { linked: k });
            }
        }
        Ok(())
    }
}

impl Floor {
    /// Coordinate of the centre of mass along `direction`, m.
    pub fn along(&self, direction: Direction) -> f64 {
        match direction {
            Direction::X => self.x_m,
            Direction::Y => self.y_m,
        }
    }

    /// Displacement along `direction` at a line's `ordinate_m` per unit of rotation, m.
    pub(crate) fn arm(&self, direction: Direction, ordinate_m: f64) -> f64 {
        match direction {
            Direction::X => self.y_m - ordinate_m,
            Direction::Y => ordinate_m - self.x_m,
        }
    }
}

impl FloorForce {
    /// Adds a force along `direction` that acts `offset_m` from the centre of mass, measured
    /// across the force (a y for a force along x).
    pub fn push(&mut self, direction: Direction, force_kn: f64, offset_m: f64) {
        match direction {
            Direction::X => {
                self.x_kn += force_kn;
                self.moment_kn_m -= force_kn * offset_m;
            }
            Direction::Y => {
                self.y_kn += force_kn;
                self.moment_kn_m += force_kn * offset_m;
            }
        }
    }

    /// The force along `direction`, kN.
    pub fn along(&self, direction: Direction) -> f64 {
        match direction {
            Direction::X => self.x_kn,
            Direction::Y => self.y_kn,
        }
    }
}

impl LinkedLine {
    /// Whether the line has a floor `i` of its own.
    pub(crate) fn reaches(&self, i: usize) -> bool {
        i < self.floors
    }
}
