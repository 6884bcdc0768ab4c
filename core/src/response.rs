//! Displacements and forces of an assembly under lateral load.

use crate::assembly::{Assembly, AssemblyError, Freedoms, Link, Load};
use crate::condensed_line::storey_shears;
use crate::linear::Factor;
use crate::plan_matrix::{Layout, value};
use crate::project::Direction;

/// An assembly with its stiffness factored once, ready for any number of loads.
#[derive(Clone, Debug)]
pub struct Factored<'a> {
    pub(crate) assembly: &'a Assembly,
    pub(crate) layout: Layout,
    pub(crate) factor: Factor,
}

/// Movement of one diaphragm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FloorMotion {
    /// Centre of mass, x and y, m: the point whose translation is given.
    pub centre_m: [f64; 2],
    /// Along x, m.
    pub x_m: f64,
    /// Along y, m.
    pub y_m: f64,
    /// Anticlockwise seen from above, rad.
    pub rotation_rad: f64,
}

impl FloorMotion {
    /// Displacement along `direction` at a plan ordinate, m: a y for a displacement along x.
    pub fn at(&self, direction: Direction, ordinate_m: f64) -> f64 {
        let [x, y] = self.centre_m;
        match direction {
            Direction::X => self.x_m - self.rotation_rad * (ordinate_m - y),
            Direction::Y => self.y_m + self.rotation_rad * (ordinate_m - x),
        }
    }

    /// Displacement along `direction` at the centre of mass, m.
    pub fn along(&self, direction: Direction) -> f64 {
        match direction {
            Direction::X => self.x_m,
            Direction::Y => self.y_m,
        }
    }
}

/// Displacements and forces of one frame line, lowest floor first.
#[derive(Clone, Debug, PartialEq)]
pub struct LineResponse {
    /// Displacement of each floor along the line, m.
    pub displacement_m: Vec<f64>,
    /// Shear of the line in each storey, kN, positive when it resists a positive displacement.
    pub storey_shear_kn: Vec<f64>,
}

/// Displacements and forces of one linked line, lowest floor first.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkedResponse {
    /// Displacement of each of its floors along the line, m; zero where it has none.
    pub displacement_m: Vec<f64>,
    /// Shear of the line in each storey, kN.
    pub storey_shear_kn: Vec<f64>,
    /// Force of the connecting slab on the line, positive along the line, kN, from the slab's
    /// stiffness: N = k·s. At a rigid link it is the force from equilibrium.
    pub link_force_kn: Vec<f64>,
    /// The same force from the equilibrium of the line's own floor:
    /// N_i = V_a,i − V_a,i+1 − F_a,i, less what its own weight pushes when P-Δ is on.
    pub link_balance_kn: Vec<f64>,
}

/// Answer of an assembly to one load.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// Movement of each diaphragm.
    pub floors: Vec<FloorMotion>,
    /// Lines fixed to the diaphragms, in the order of the assembly.
    pub lines: Vec<LineResponse>,
    /// Linked lines, in the order of the assembly.
    pub linked: Vec<LinkedResponse>,
}

/// Where the resultant of the storey shears lies when the building is pushed without turning.
#[derive(Clone, Debug, PartialEq)]
pub struct StiffnessCentre {
    /// Ordinate of the resisting storey shear, m: a y for a push along x.
    pub resistance_m: Vec<Option<f64>>,
    /// Ordinate of the applied storey shear, m.
    pub load_m: Vec<Option<f64>>,
}

impl StiffnessCentre {
    /// Distance from the resisting to the applied storey shear, m; positive towards larger
    /// ordinates. `None` where either shear is zero.
    pub fn eccentricity_m(&self, storey: usize) -> Option<f64> {
        Some(*self.load_m.get(storey)?.as_ref()? - self.resistance_m.get(storey)?.as_ref()?)
    }
}

impl Factored<'_> {
    /// The assembly this was factored from.
    pub fn assembly(&self) -> &Assembly {
        self.assembly
    }

    /// Solves for one load. Forces and floors missing from the load are zero.
    pub fn solve(&self, load: &Load) -> Response {
        let mut unknowns = self.right_hand_side(load);
        self.factor.solve(&mut unknowns);
        self.response(load, &unknowns)
    }

    pub(crate) fn right_hand_side(&self, load: &Load) -> Vec<f64> {
        let mut rhs = vec![0.0; self.layout.size];
        let mut put = |unknown: usize, force: f64| {
            if let Some(target) = rhs.get_mut(unknown) {
                *target += force;
            }
        };
        for (force, [x, y, rotation]) in load.floors.iter().zip(&self.layout.floors) {
            put(*x, force.x_kn);
            put(*y, force.y_kn);
            put(*rotation, force.moment_kn_m);
        }
        for (k, line) in self.assembly.linked.iter().enumerate() {
            for i in (0..self.assembly.floors.len()).filter(|&i| line.reaches(i)) {
                for (unknown, factor) in self.layout.linked_row(self.assembly, k, i) {
                    put(unknown, factor * linked_load(load, k, i));
                }
            }
        }
        rhs
    }

    fn response(&self, load: &Load, unknowns: &[f64]) -> Response {
        let Self { assembly, layout, .. } = self;
        let count = assembly.floors.len();
        let lines = assembly
            .lines
            .iter()
            .map(|line| {
                let displacement_m: Vec<f64> = (0..count)
                    .map(|i| layout.row(assembly, i, line.direction, line.ordinate_m))
                    .map(|row| value(&row, unknowns))
                    .collect();
                LineResponse { storey_shear_kn: storey_shears(&line.stiffness, &displacement_m), displacement_m }
            })
            .collect();
        let linked = (0..assembly.linked.len()).map(|k| self.linked_response(load, unknowns, k)).collect();
        Response { floors: self.motions(unknowns), lines, linked }
    }

    pub(crate) fn motions(&self, unknowns: &[f64]) -> Vec<FloorMotion> {
        let at = |place: usize| unknowns.get(place).copied().unwrap_or(0.0);
        let places = self.assembly.floors.iter().zip(&self.layout.floors);
        places
            .map(|(floor, &[x, y, rotation])| FloorMotion {
                centre_m: [floor.x_m, floor.y_m],
                x_m: at(x),
                y_m: at(y),
                rotation_rad: at(rotation),
            })
            .collect()
    }

    fn linked_response(&self, load: &Load, unknowns: &[f64], k: usize) -> LinkedResponse {
        let Self { assembly, layout, .. } = self;
        let line = &assembly.linked[k];
        let count = assembly.floors.len();
        let displacement_m: Vec<f64> = (0..count)
            .map(|i| if line.reaches(i) { value(&layout.linked_row(assembly, k, i), unknowns) } else { 0.0 })
            .collect();
        let storey_shear_kn = storey_shears(&line.stiffness, &displacement_m);
        // What the line's own weight pushes through its drifts, storey by storey.
        let pushed: Vec<f64> = (0..count)
            .map(|s| {
                let below = s.checked_sub(1).map_or(0.0, |i| displacement_m[i]);
                let weight: f64 = line.weight_kn[s..].iter().sum();
                let slope = (displacement_m[s] - below) / assembly.floors[s].storey_height_m;
                if assembly.p_delta { weight * slope } else { 0.0 }
            })
            .collect();
        let difference = |of: &[f64], i: usize| of[i] - of.get(i + 1).copied().unwrap_or(0.0);
        let link_balance_kn: Vec<f64> = (0..count)
            .map(|i| {
                if line.reaches(i) {
                    difference(&storey_shear_kn, i) - difference(&pushed, i) - linked_load(load, k, i)
                } else {
                    0.0
                }
            })
            .collect();
        let link_force_kn = line
            .links
            .iter()
            .enumerate()
            .map(|(i, link)| match link {
                Link::Absent => 0.0,
                Link::Spring(stiffness) => stiffness * unknowns.get(layout.slips[k][i]).copied().unwrap_or(0.0),
                Link::Rigid => link_balance_kn[i],
            })
            .collect();
        LinkedResponse { displacement_m, storey_shear_kn, link_force_kn, link_balance_kn }
    }
}

fn linked_load(load: &Load, k: usize, i: usize) -> f64 {
    load.linked_kn.get(k).and_then(|forces| forces.get(i)).copied().unwrap_or(0.0)
}

impl Assembly {
    /// Centre of stiffness of every storey for a load in one direction.
    ///
    /// The building is pushed by the components of `load` along `direction` with every other
    /// movement of the diaphragms held. Per storey, the centre of stiffness is the ordinate of the
    /// resultant of the line shears, Σ V·ordinate / Σ V, linked lines included at their own
    /// ordinate. In a single storey this is Σ k·ordinate / Σ k whatever the load; with several
    /// storeys and full line matrices it depends on the load's pattern. The applied shear's
    /// ordinate comes from the forces at and above the storey, in the same way.
    ///
    /// # Errors
    /// As [`Assembly::factor`].
    pub fn stiffness_centre(&self, direction: Direction, load: &Load) -> Result<StiffnessCentre, AssemblyError> {
        let held = Self { freedoms: Freedoms::translation(direction), ..self.clone() };
        let factored = held.factor()?;
        let response = factored.solve(load);
        let count = self.floors.len();
        let mut resisting = vec![(0.0, 0.0); count];
        let lines = self.lines.iter().zip(&response.lines);
        let linked = self.linked.iter().zip(&response.linked);
        let members = lines
            .map(|(line, it)| (line.direction, line.ordinate_m, &it.storey_shear_kn))
            .chain(linked.map(|(line, it)| (line.direction, line.ordinate_m, &it.storey_shear_kn)));
        for (_, ordinate, shears) in members.filter(|(along, ..)| *along == direction) {
            for (sum, shear) in resisting.iter_mut().zip(shears) {
                sum.0 += shear;
                sum.1 += shear * ordinate;
            }
        }
        let mut applied = vec![(0.0, 0.0); count];
        for (s, sum) in applied.iter_mut().enumerate() {
            for (i, force) in load.floors.iter().enumerate().skip(s).take(count - s) {
                let along = force.along(direction);
                let turning = match direction {
                    Direction::X => -force.moment_kn_m,
                    Direction::Y => force.moment_kn_m,
                };
                sum.0 += along;
                sum.1 += along * self.floors[i].along(direction.across()) + turning;
            }
            for (k, line) in self.linked.iter().enumerate() {
                if line.direction == direction {
                    let force: f64 = (s..count).map(|i| linked_load(load, k, i)).sum();
                    sum.0 += force;
                    sum.1 += force * line.ordinate_m;
                }
            }
        }
        let centres = |sums: &[(f64, f64)]| {
            let size = sums.iter().fold(0.0_f64, |peak, sum| peak.max(sum.0.abs()));
            sums.iter().map(|&(force, moment)| (force.abs() > 1e-9 * size).then(|| moment / force)).collect()
        };
        Ok(StiffnessCentre { resistance_m: centres(&resisting), load_m: centres(&applied) })
    }
}

impl Response {
    /// Drift of `storey` along `direction` at a plan ordinate, m: the difference between the floor
    /// above and the floor below at the same place. Zero where there is no such storey.
    pub fn drift_at(&self, storey: usize, direction: Direction, ordinate_m: f64) -> f64 {
        self.drift(storey, |motion| motion.at(direction, ordinate_m))
    }

    /// Drift of `storey` along `direction` between the centres of mass above and below, m.
    pub fn drift_at_centre(&self, storey: usize, direction: Direction) -> f64 {
        self.drift(storey, |motion| motion.along(direction))
    }

    fn drift(&self, storey: usize, of: impl Fn(&FloorMotion) -> f64) -> f64 {
        let below = storey.checked_sub(1).and_then(|floor| self.floors.get(floor));
        self.floors.get(storey).map_or(0.0, &of) - below.map_or(0.0, &of)
    }
}

/// Largest edge displacement over the mean of the two edges.
///
/// `None` unless the edges move the same way on average.
pub fn torsional_ratio(edge_displacements_m: [f64; 2]) -> Option<f64> {
    let [one, other] = edge_displacements_m.map(f64::abs);
    let mean = 0.5 * (edge_displacements_m[0] + edge_displacements_m[1]).abs();
    (mean > 0.0).then(|| one.max(other) / mean)
}

/// Amplification of accidental eccentricity, A_x = (δ_max / 1.2 δ_avg)² between 1 and 3, from the
/// ratio δ_max/δ_avg found without amplification.
///
/// Source: ASCE 7-16 Eq. 12.8-14 (MEMORY).
pub fn torsional_amplification(ratio: f64) -> f64 {
    (ratio / 1.2 * (ratio / 1.2)).clamp(1.0, 3.0)
}
